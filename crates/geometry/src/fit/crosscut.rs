//! The crosscut list of the inside piece.

use super::Fit;
use crate::Leg;

/// Which side of a mark is kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Keep {
    /// The wood toward the top; the blade runs on the side of the foot.
    TowardTop,
    /// The wood toward the foot; the blade runs on the side of the top.
    TowardFoot,
}

/// A crosscut: a mark squared round the inside piece.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mark {
    /// Measured once, from the finished top, mm.
    pub from_top_mm: f64,
    /// Which side of it is kept.
    pub keep: Keep,
    /// Where the blade runs, mm from the top: beside the mark, inside the thrown-away length.
    pub blade_mm: [f64; 2],
}

/// A length of the inside piece after crosscutting.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InsidePart {
    /// Its number along the piece, from 1 at the top.
    pub number: usize,
    /// From where to where, mm from the finished top; spare length counted.
    pub span_mm: [f64; 2],
    /// Whether it is glued in; otherwise it is thrown away.
    pub kept: bool,
}

/// How the inside piece is crosscut.
#[derive(Clone, Debug, PartialEq)]
pub struct Crosscut {
    /// The cuts, in order from the top.
    pub marks: Vec<Mark>,
    /// What they part, in order from the top.
    pub parts: Vec<InsidePart>,
    /// Places in the list of notches where both cuts take the whole thrown-away length: it goes in one wide pass.
    pub too_short_for_two_cuts: Vec<usize>,
}

/// Lengths closer than this are one, mm.
const SAME_MM: f64 = 1e-9;

impl Fit {
    /// The crosscut list for a leg.
    pub fn crosscut(&self, leg: &Leg) -> Crosscut {
        let (start, end) = (-leg.spare_top_mm, leg.length_mm + leg.spare_foot_mm);
        let kerf = self.crosscut_kerf.mm();
        let (mut marks, mut parts): (Vec<Mark>, Vec<InsidePart>) = (Vec::new(), Vec::new());
        let mut too_short = Vec::new();
        let mut add = |span_mm: [f64; 2], kept: bool| {
            if span_mm[1] - span_mm[0] > SAME_MM {
                parts.push(InsidePart { number: parts.len() + 1, span_mm, kept });
            }
        };
        let mut from = start;
        for (place, notch) in self.notches.iter().enumerate() {
            let [upper, lower] = notch.span_mm();
            // Above a notch at the very top there is only spare length: it goes with the notch.
            let thrown_from = if upper <= SAME_MM { start } else { upper };
            if thrown_from > from + SAME_MM {
                add([from, thrown_from], true);
            }
            let mut cuts = 1;
            if thrown_from > start + SAME_MM {
                cuts = 2;
                marks.push(Mark { from_top_mm: upper, keep: Keep::TowardTop, blade_mm: [upper, upper + kerf] });
            }
            marks.push(Mark { from_top_mm: lower, keep: Keep::TowardFoot, blade_mm: [lower - kerf, lower] });
            if f64::from(cuts) * kerf > lower - thrown_from + SAME_MM {
                too_short.push(place);
            }
            add([thrown_from, lower], false);
            from = lower;
        }
        add([from, end], true);
        Crosscut { marks, parts, too_short_for_two_cuts: too_short }
    }
}

impl Crosscut {
    /// What is glued in, without the spare length, mm: the kept parts between the finished top and the finished foot.
    pub fn kept_mm(&self, leg: &Leg) -> Vec<[f64; 2]> {
        self.parts
            .iter()
            .filter(|part| part.kept)
            .map(|part| [part.span_mm[0].max(0.0), part.span_mm[1].min(leg.length_mm)])
            .filter(|span| span[1] > span[0])
            .collect()
    }
}

//! How much wood is glued to wood.

use super::Fit;
use crate::Leg;

/// What is glued when a leg is put together, mm².
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GlueAreas {
    /// Piece 1 to piece 2, and piece 3 to piece 4: the two halves.
    pub halves_mm2: [f64; 2],
    /// The two halves to one another.
    pub together_mm2: f64,
}

/// Even parts of each stretch between the ends of notches, for Simpson's rule.
const PARTS: usize = 128;

impl Fit {
    /// The glue faces of a leg over its finished length: without notches, and without the pipe's chamfers.
    pub fn glue_areas(&self, leg: &Leg) -> GlueAreas {
        let chamfer = self.chamfer_mm();
        let mut ends: Vec<f64> = self.notches.iter().flat_map(|notch| notch.span_mm()).collect();
        ends.extend([0.0, leg.length_mm]);
        ends.retain(|s| (0.0..=leg.length_mm).contains(s));
        ends.sort_by(f64::total_cmp);
        let mut areas = GlueAreas { halves_mm2: [0.0; 2], together_mm2: 0.0 };
        for stretch in ends.windows(2) {
            let (from, to) = (stretch[0], stretch[1]);
            let out = self.notch_at(f64::midpoint(from, to)).map(|_| self.inside);
            // The height of each of the four walls, and the pieces on either side of it.
            let walls = |s: f64| {
                let (a, b) = (leg.a(s), leg.b(s));
                [(b, [1, 2]), (leg.depth_mm - b, [3, 4]), (a, [1, 4]), (leg.width_mm - a, [2, 3])].map(
                    |(high, pieces)| {
                        let there = out.is_none_or(|out| !pieces.contains(&out.number()));
                        if there { (high - chamfer).max(0.0) } else { 0.0 }
                    },
                )
            };
            let step = (to - from) / PARTS as f64;
            for i in 0..=PARTS {
                let weight = if i == 0 || i == PARTS {
                    1.0
                } else if i % 2 == 1 {
                    4.0
                } else {
                    2.0
                };
                let [one, three, near, far] = walls(from + step * i as f64).map(|high| high * weight * step / 3.0);
                areas.halves_mm2[0] += one;
                areas.halves_mm2[1] += three;
                areas.together_mm2 += near + far;
            }
        }
        areas
    }
}

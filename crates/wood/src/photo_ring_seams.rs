//! Timber's rings at the seams, by photos of its faces.
//!
//! As with rings that are known (`ring_seams`), what is compared is the place within a ring, whole rings left out, and a line
//! jumps by a share of a ring: measured so it is the same across the seam, along it or square to the line. `photo_rings` tells
//! that place for both edges.
//! - *The lines meet* where the two places differ by no more than [`SeamLimits::ring_share`]. Where lines cannot be made out
//!   on either face nothing jumps, and the stretch counts in no answer about lines; how long it is, is told.
//! - It is *the same wood* where colours, averaged over some millimetres so that rings count little, differ by no more than
//!   half as much again as [`SeamLimits::differ_colour`]: sapwood beside heartwood, a stain. Early and late wood of a broad
//!   flat-sawn ring differ by about the limit.
//! - *The pattern carries on* where no line jumps and it is the same wood. Which way lines run on beyond the faces is not seen.
//!
//! Rings are taken to count the same way across both faces, as they do in sound stock: the pith lies to the same side.

use std::f64::consts::TAU;

use cornerwise_geometry::BlankPoint;

use crate::answer::{Finding, Tally};
use crate::compare::{Joint, SeamLimits};
use crate::error;
use crate::figure::PhotoFigure;
use crate::photo_edges::known_on_both;
use crate::photo_rings::{RingMark, bell, follow};
use crate::reading::{Jump, PairReading, RatingLimits, colour_difference};

/// Places within a ring are averaged over so many mm along (standard deviation): a jump does not change faster.
const ALONG_MM: f64 = 5.0;

/// The size of the patch whose colour stands for an edge, and of the one that stands for its wood, mm.
const PATCH_MM: f64 = 1.0;
const WOOD_MM: f64 = 12.0;

/// Woods differ where such patches do by more than so many times the limit.
const WOODS: f64 = 1.5;

/// A stretch of seam.
struct Stretch {
    from_mm: f64,
    to_mm: f64,
    /// How far lines jump, where they are seen.
    jump: Option<Jump>,
    /// By how much the colours at the edges differ, and those of the wood about them.
    colours: f64,
    woods: f64,
}

/// Both edges, as far as both faces were photographed.
pub(crate) struct RingEdges {
    length_mm: f64,
    edges: [Vec<RingMark>; 2],
    stretches: Vec<Stretch>,
}

impl RingEdges {
    pub fn new(joint: &Joint, figure: &PhotoFigure) -> RingEdges {
        let length_mm = joint.length_mm();
        let Some(known) = known_on_both(joint, figure) else {
            return RingEdges { length_mm, edges: [Vec::new(), Vec::new()], stretches: Vec::new() };
        };
        let [one, other] = joint.cut.seam_faces();
        let edges =
            [(one, 0.0), (other, joint.apart_mm)].map(|(face, apart)| follow(joint, figure, face, apart, known));
        let stretches = stretches(joint, figure, &edges, known);
        RingEdges { length_mm, edges, stretches }
    }

    /// Compares them.
    pub fn compare(&self, limits: &SeamLimits) -> Tally {
        let ring_share = error::held(limits.ring_share, 0.0, 0.5);
        let (all, length) = (&self.stretches, self.length_mm);
        let [begin, end] = all.first().zip(all.last()).map_or([length; 2], |(first, last)| [first.from_mm, last.to_mm]);
        let mut tally = Tally::default();
        tally.add_unknown(0.0, begin, limits.most_places);
        for &Stretch { from_mm, to_mm, jump, woods, .. } in all {
            let same_wood = woods <= WOODS * limits.differ_colour;
            let lines_meet = jump.and_then(|jump| jump.ring_share).is_none_or(|share| share <= ring_share);
            let finding = Finding { lines_meet, same_wood, carries_on: lines_meet && same_wood, rings: false };
            if jump.is_some() {
                tally.add(from_mm, to_mm, finding, limits.most_places);
            } else {
                tally.add_unseen(from_mm, to_mm, finding, limits.most_places);
            }
        }
        tally.add_unknown(end, length, limits.most_places);
        tally
    }

    /// How they look together: as of rings that are known; where lines are not seen, by the colours alone.
    pub fn read(&self, limits: &RatingLimits) -> PairReading {
        let mut reading = PairReading::default();
        for &Stretch { from_mm, to_mm, jump, colours, .. } in &self.stretches {
            let share = jump.and_then(|jump| jump.ring_share).unwrap_or(0.0);
            reading.add(from_mm, to_mm, limits.of_rings(share, colours));
            reading.jumps.extend(jump);
            reading.colours.push([colours, 0.5 * (from_mm + to_mm)]);
        }
        reading
    }

    /// Where the darkest place of a ring arrives at each edge, mm from the top.
    pub fn arrivals(&self) -> [Vec<f64>; 2] {
        self.edges.each_ref().map(|edge| edge.windows(2).filter_map(crossed).collect())
    }
}

fn stretches(joint: &Joint, figure: &PhotoFigure, [one, other]: &[Vec<RingMark>; 2], known: [f64; 2]) -> Vec<Stretch> {
    let (faces, aparts) = (joint.cut.seam_faces(), [0.0, joint.apart_mm]);
    let count = one.len();
    let step_mm = (known[1] - known[0]) / count as f64;
    let reach = (2.0 * ALONG_MM / step_mm).round() as usize;
    let jump = |row: usize| {
        let (mut re, mut im) = (0.0, 0.0);
        for near in row.saturating_sub(reach)..(row + reach + 1).min(count) {
            let (p, q) = (&one[near], &other[near]);
            if p.seen && q.seen {
                let weight = bell((p.s_mm - one[row].s_mm) / ALONG_MM);
                let (sin, cos) = (TAU * (p.turn - q.turn)).sin_cos();
                (re, im) = (re + weight * cos, im + weight * sin);
            }
        }
        let share = (im.atan2(re) / TAU).abs();
        let mm = share * 0.5 * (one[row].spacing_mm + other[row].spacing_mm);
        Jump { mm, ring_share: Some(share), at_mm: one[row].s_mm }
    };
    let colour = |side: usize, s: f64, patch_mm: f64| {
        let p: BlankPoint = joint.point(aparts[side], joint.offset(s), s);
        let across = figure.across(faces[side], p);
        figure.photographed(faces[side], s, across, [patch_mm; 2]).unwrap_or_default()
    };
    (0..count)
        .map(|row| {
            let s = one[row].s_mm;
            let seen = one[row].seen && other[row].seen;
            let [colours, woods] = [PATCH_MM, WOOD_MM].map(|mm| colour_difference(colour(0, s, mm), colour(1, s, mm)));
            let at = |row: usize| if row == count { known[1] } else { known[0] + row as f64 * step_mm };
            Stretch { from_mm: at(row), to_mm: at(row + 1), jump: seen.then(|| jump(row)), colours, woods }
        })
        .collect()
}

/// Where the darkest place of a ring is crossed from one level to the next.
fn crossed(pair: &[RingMark]) -> Option<f64> {
    let (p, q) = (pair[0], pair[1]);
    // From half a ring to half a ring, and no farther than half a ring from level to level.
    let from = p.turn - 0.5 - (p.turn - 0.5).round();
    let to = from + (q.turn - p.turn) - (q.turn - p.turn).round();
    let crosses = p.seen && q.seen && (from < 0.0) != (to < 0.0);
    crosses.then(|| p.s_mm + (q.s_mm - p.s_mm) * from / (from - to))
}

//! Growth rings at the seams.
//!
//! Rings are not compared line by line: on flat-sawn stretches a whole side may show one ring, and no line arrives at all.
//! What the eye compares is the place within a ring, early wood against early wood. So at every level the two points of
//! the seam are looked up among the rings:
//! - *The lines meet* where the two places differ by less than a share of a ring, whole rings left out: a ring line may
//!   meet that of another year.
//! - It is *the same wood* where both are heartwood or both sapwood; the edge between the two is taken at its middle.
//! - *The pattern carries on* where the lines meet in the same wood and run on in nearly one direction. Mirrored rings (a pith in the
//!   middle of the blank) meet everywhere, but where they slope they come together in a V, which is no uninterrupted
//!   pattern.

use cornerwise_geometry::BlankPoint;
use kurbo::{CubicBez, ParamCurve, ParamCurveDeriv};

use crate::answer::{Finding, Tally};
use crate::compare::{Joint, SeamLimits};
use crate::error;
use crate::rings::Rings;

/// Places where an answer changes are found to this, mm along the leg.
const PLACE_MM: f64 = 1e-6;

/// Samples are at most this far apart, mm: rings drift and lines bend over tens of millimetres.
const FARTHEST_STEP_MM: f64 = 0.5;

/// One level of a seam.
#[derive(Clone, Copy)]
struct Sample {
    s_mm: f64,
    offset_mm: f64,
    slope: f64,
}

/// A short part of a saw line, to be looked at in `steps` steps.
struct Part {
    curve: CubicBez,
    steps: usize,
}

impl Part {
    fn at(&self, t: f64) -> Sample {
        let p = self.curve.eval(t);
        let d = self.curve.deriv().eval(t);
        let slope = if d.x > 0.0 { d.y / d.x } else { 0.0 };
        Sample { s_mm: p.x, offset_mm: p.y, slope: if slope.is_finite() { slope } else { 0.0 } }
    }
}

/// The saw line in parts short enough that between two samples the phase of a ring changes by less than `change` rings.
///
/// A part's slope is at most that of the steepest leg of its control polygon, because its s never runs back; the rings'
/// own steepness is known. So the bound is sure, not sampled: what can be overlooked is a stretch in which an answer
/// changes and changes back by less than `change` rings.
fn parts<'a>(joint: &'a Joint, rings: &'a Rings, change: f64) -> impl Iterator<Item = Part> + 'a {
    joint.pieces.iter().flat_map(move |piece| {
        let count = (piece.p3.x - piece.p0.x).ceil().clamp(1.0, 20_000.0) as usize;
        (0..count).map(move |i| {
            let curve = piece.subsegment(i as f64 / count as f64..(i + 1) as f64 / count as f64);
            let polygon = [curve.p0, curve.p1, curve.p2, curve.p3];
            let steepest = polygon.windows(2).fold(0.0, |most: f64, leg| {
                let run = leg[1] - leg[0];
                // A leg of no length has no slope; f64::max drops NaN.
                most.max((run.y / run.x).abs().min(1e3))
            });
            let length = curve.p3.x - curve.p0.x;
            let steps = (length * rings.steepest_phase(steepest) / change).max(length / FARTHEST_STEP_MM);
            Part { curve, steps: steps.ceil().clamp(1.0, 100_000.0) as usize }
        })
    })
}

/// The levels at which a ring line arrives at the seam from the curve `apart` across, mm from the top.
pub(crate) fn edges(joint: &Joint, rings: &Rings, apart: f64) -> Vec<f64> {
    let ring = |sample: Sample| rings.ring(rings.even(joint.point(apart, sample.offset_mm, sample.s_mm))).ring;
    let mut edges = Vec::new();
    // A quarter of a ring at most: no ring is stepped over.
    for part in parts(joint, rings, 0.25) {
        walk(&part, ring, |_, to, _, last| {
            if !last {
                edges.push(to);
            }
        });
    }
    edges
}

/// Compares the two curves of a joint.
///
/// Sapwood begins `sapwood_mm` from the pith, if any of it is sapwood.
pub(crate) fn compare(joint: &Joint, rings: &Rings, sapwood_mm: Option<f64>, limits: &SeamLimits) -> Tally {
    // From half a ring on everything meets.
    let ring_share = error::held(limits.ring_share, 0.0, 0.5);
    let finding = |sample: Sample| {
        let finding = look(joint, rings, sample, ring_share, limits.kink_deg);
        let same_wood = sapwood_mm.is_none_or(|from_mm| {
            let [left, right] = ends(joint, sample).map(|p| rings.out_mm(p) < from_mm);
            left == right
        });
        Finding { same_wood, carries_on: finding.carries_on && same_wood, ..finding }
    };
    let mut tally = Tally::default();
    // Both sides change, so each gets an eighth of the narrower of the two answers' widths.
    let change = (0.125 * ring_share.min(0.5 - ring_share)).max(0.005);
    for part in parts(joint, rings, change) {
        walk(&part, finding, |from, to, finding, _| tally.add(from, to, finding, limits.most_places));
    }
    tally
}

/// The two points of the blank that meet at a level.
fn ends(joint: &Joint, sample: Sample) -> [BlankPoint; 2] {
    [0.0, joint.apart_mm].map(|apart| joint.point(apart, sample.offset_mm, sample.s_mm))
}

fn look(joint: &Joint, rings: &Rings, sample: Sample, ring_share: f64, kink_deg: f64) -> Finding {
    let ends = ends(joint, sample);
    let [left, right] = ends.map(|p| rings.ring(rings.even(p)).phase());
    let apart = left - right;
    let lines_meet = (apart - apart.round()).abs() <= ring_share;
    // How fast rings go by across the side and along it, both per mm on the sawn surface: the ring line runs square to it.
    let stretch = sample.slope.hypot(1.0);
    let [(ax, az), (bx, bz)] = ends.map(|p| {
        let [x, y, s] = rings.gradient(p);
        let [across, offset] = joint.across_and_offset(x, y);
        (across, (offset * sample.slope + s) / stretch)
    });
    let kink = (ax * bz - az * bx).abs().atan2((ax * bx + az * bz).abs()).to_degrees();
    Finding { lines_meet, same_wood: true, carries_on: lines_meet && kink <= kink_deg, rings: true }
}

/// Steps through a part and reports each stretch over which `state` is one and the same: where it begins and ends, mm,
/// the state, and whether the part ends there. Changes between two samples are found by halving.
fn walk<S: Copy + PartialEq>(part: &Part, state: impl Fn(Sample) -> S, mut stretch: impl FnMut(f64, f64, S, bool)) {
    let (mut from, mut now) = (part.curve.p0.x, state(part.at(0.0)));
    let mut t0 = 0.0;
    for step in 1..=part.steps {
        let t1 = step as f64 / part.steps as f64;
        let end = state(part.at(t1));
        // More than one change in a step is rare: two questions can change their answers close together.
        for _ in 0..8 {
            if now == end {
                break;
            }
            let (mut lo, mut hi) = (t0, t1);
            while part.at(hi).s_mm - part.at(lo).s_mm > PLACE_MM && hi - lo > 1e-15 {
                let mid = 0.5 * (lo + hi);
                if state(part.at(mid)) == now { lo = mid } else { hi = mid }
            }
            let at = part.at(hi).s_mm;
            stretch(from, at, now, false);
            (from, now, t0) = (at, state(part.at(hi)), hi);
        }
        t0 = t1;
    }
    stretch(from, part.curve.p3.x, now, true);
}

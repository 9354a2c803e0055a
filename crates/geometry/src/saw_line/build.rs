//! From points to cubics, with everything that can be wrong with points.

use kurbo::{CubicBez, ParamCurve};

use super::cubic::{Rates, difference, rates, trimmed};
use super::{MAX_POINTS, MAX_SLOPE, MIN_GAP_MM, SawLineError};
use crate::polynomial::{horner, product, unit_roots};
use crate::{Point, PointId};

/// The farthest that any number of a line may be from zero, mm; well beyond every blank.
const FARTHEST_MM: f64 = 20_000.0;

/// The shortest reach of a handle as a share of the distance to the next point. Keeps ds/dt positive, so that slope and
/// curvature stay finite.
const LEAST_REACH_SHARE: f64 = 1e-3;

pub(super) fn check(points: &[Point]) -> Result<(), SawLineError> {
    if points.len() < 2 {
        return Err(SawLineError::TooFew(points.len()));
    }
    if points.len() > MAX_POINTS {
        return Err(SawLineError::TooMany(points.len()));
    }
    let mut sharp: Option<PointId> = None;
    let mut before: Option<f64> = None;
    for point in points {
        let unsound = |what| SawLineError::NotSound { point: point.id, what };
        let at_mm = point.from_top.mm();
        // A range holds no NaN.
        if !(-FARTHEST_MM..=FARTHEST_MM).contains(&at_mm) {
            return Err(unsound("the distance from the top"));
        }
        if !(-FARTHEST_MM..=FARTHEST_MM).contains(&point.offset.mm()) {
            return Err(unsound("the offset"));
        }
        if !point.kind.is_finite() {
            return Err(unsound("a handle"));
        }
        if let Some(before_mm) = before.filter(|before_mm| at_mm - before_mm < MIN_GAP_MM * (1.0 - 1e-9)) {
            return Err(SawLineError::RunsBack { point: point.id, at_mm, before_mm });
        }
        before = Some(at_mm);
        if point.kind.is_sharp()
            && let Some(first) = sharp.replace(point.id)
        {
            return Err(SawLineError::TwoSharp { first, second: point.id });
        }
    }
    let mut ids: Vec<PointId> = points.iter().map(|point| point.id).collect();
    ids.sort_unstable();
    match ids.windows(2).find(|pair| pair[0] == pair[1]) {
        Some(pair) => Err(SawLineError::SameId(pair[0])),
        None => Ok(()),
    }
}

/// The cubic between two points, its handles shortened to a monotone control polygon.
pub(crate) fn between(from: &Point, to: &Point) -> CubicBez {
    let (s0, s3) = (from.from_top.mm(), to.from_top.mm());
    let gap = s3 - s0;
    let ((slope0, reach0), (slope3, reach3)) = (from.kind.after(), to.kind.before());
    let least = LEAST_REACH_SHARE * gap;
    let (mut reach0, mut reach3) = (reach0.clamp(least, gap), reach3.clamp(least, gap));
    if reach0 + reach3 > gap {
        let share = gap / (reach0 + reach3);
        (reach0, reach3) = (reach0 * share, reach3 * share);
    }
    CubicBez::new(
        (s0, from.offset.mm()),
        (s0 + reach0, from.offset.mm() + slope0 * reach0),
        (s3 - reach3, to.offset.mm() - slope3 * reach3),
        (s3, to.offset.mm()),
    )
}

pub(super) fn check_steepness(segment: &CubicBez, ends: &[Point]) -> Result<(), SawLineError> {
    let Rates { ds, dc, dds, ddc } = rates(segment);
    let mut candidates = unit_roots(&trimmed(difference(&product(&ds, &ddc), &product(&dc, &dds))));
    candidates.extend([0.0, 1.0]);
    for t in candidates {
        let slope = (horner(&dc, t) / horner(&ds, t)).abs();
        if !(0.0..=MAX_SLOPE * (1.0 + 1e-9)).contains(&slope) {
            let point = if t < 0.5 { &ends[0] } else { &ends[1] };
            return Err(SawLineError::TooSteep { point: point.id, s_mm: segment.eval(t).x, slope });
        }
    }
    Ok(())
}

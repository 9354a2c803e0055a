//! Every tool against the line itself, before and after.

mod battens;
mod bending;
mod distance;
mod exact;
mod fairer;
mod fitted;
mod refused;
mod simplified;

use crate::{Point, PointId, PointKind, SawLine, Shape, ShapeKind};
use proptest::prelude::*;
use proptest::sample::select;

const LENGTH: f64 = 700.0;
const ACROSS: f64 = 50.0;

fn solved(points: &[Point]) -> SawLine {
    SawLine::from_points(points, LENGTH).expect("a saw line")
}

/// A starting shape's points on the face of these tests.
fn shape(kind: ShapeKind) -> Vec<Point> {
    Shape::start(kind, LENGTH, ACROSS).points(LENGTH, ACROSS)
}

/// Points of a line that a saw could follow: two to eleven, at most one of them sharp, ids not in order; some begin and
/// end beside the leg's ends.
fn points() -> BoxedStrategy<Vec<Point>> {
    let one = (0.2..1.0, -0.1..1.1, -0.3..0.3, 0.02..0.9, 0.02..0.9, -0.3..0.3);
    let drawn = (prop::collection::vec(one, 2..12), any::<Option<u8>>()).prop_map(|(raw, sharp)| {
        let whole: f64 = raw.iter().map(|one| one.0).sum();
        let sharp = sharp.map(|at| usize::from(at) % raw.len());
        let mut at = -0.05 * LENGTH;
        let mut points = Vec::new();
        for (place, (gap, offset, slope, before, after, slope_after)) in raw.into_iter().enumerate() {
            let (gap, offset): (f64, f64) = (gap, offset);
            let step = gap / whole * 1.1 * LENGTH;
            at += step;
            let (before_mm, after_mm) = (before * step, after * step);
            let kind = if sharp == Some(place) {
                PointKind::Sharp { slope_before: slope, before_mm, slope_after, after_mm }
            } else {
                PointKind::Smooth { slope, before_mm, after_mm }
            };
            let id = PointId((place as u32 * 7) % 61 + 1);
            points.push(Point { id, from_top: at.into(), offset: (offset * ACROSS).into(), kind, tied: false });
        }
        points
    });
    prop_oneof![3 => drawn, 1 => select(ShapeKind::ALL.to_vec()).prop_map(shape)]
        .prop_filter("too steep for a saw", |points| SawLine::from_points(points, LENGTH).is_ok())
        .boxed()
}

/// The greatest distance found at many places, by nothing but the lines' own offsets.
fn sampled_distance(one: &SawLine, other: &SawLine) -> f64 {
    (0..=7000).map(|i| f64::from(i) * 0.1).map(|s| (one.offset(s) - other.offset(s)).abs()).fold(0.0, f64::max)
}

/// The numbers of the points, for comparing.
fn numbers(points: &[Point]) -> Vec<[f64; 6]> {
    let of = |point: &Point| {
        let ((slope_before, before), (slope_after, after)) = (point.kind.before(), point.kind.after());
        [point.from_top.mm(), point.offset.mm(), slope_before, before, slope_after, after]
    };
    points.iter().map(of).collect()
}

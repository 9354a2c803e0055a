//! A line made fairer bends less and stays where it is, within the tolerance.

use super::{LENGTH, points, sampled_distance, shape, solved};
use crate::line_tools::{Fairer, bending_per_mm, fairer};
use crate::{Point, PointKind, ShapeKind};
use proptest::prelude::*;

const TOLERANCES: [f64; 4] = [1.0, 0.3, 0.1, 0.03];

fn done(points: &[Point], tolerance_mm: f64) -> Fairer {
    fairer(points, LENGTH, tolerance_mm).expect("a line made fairer")
}

/// The waves with one point out of place by `off_mm` and its slope wrong by `slope_off`.
fn kinked(place: usize, off_mm: f64, slope_off: f64) -> Vec<Point> {
    let mut points = shape(ShapeKind::Waves);
    let point = &mut points[place];
    point.offset = (point.offset.mm() + off_mm).into();
    let ((slope, before), (_, after)) = (point.kind.before(), point.kind.after());
    point.kind = PointKind::Smooth { slope: slope + slope_off, before_mm: before, after_mm: after };
    points
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn it_keeps_within_every_tolerance_and_never_bends_more(points in points()) {
        let was = solved(&points);
        for tolerance in TOLERANCES {
            let now = done(&points, tolerance);
            let line = solved(&now.points);
            let sampled = sampled_distance(&was, &line);
            prop_assert!(sampled <= now.moved_mm && now.moved_mm <= tolerance, "{sampled} {} {tolerance}", now.moved_mm);
            prop_assert!(now.bending_after <= now.bending_before);
            prop_assert!((bending_per_mm(&line, 1e-9) - now.bending_after).abs() <= 1e-8 * now.bending_after + 1e-14);
            let last = points.len() - 1;
            for (place, (was, is)) in points.iter().zip(&now.points).enumerate() {
                prop_assert_eq!((was.id, &was.from_top), (is.id, &is.from_top));
                if place == 0 || place == last || was.kind.is_sharp() {
                    prop_assert_eq!(&was.offset, &is.offset);
                    prop_assert_eq!(was.kind.before().0, is.kind.before().0);
                    prop_assert_eq!(was.kind.after().0, is.kind.after().0);
                }
            }
        }
    }
}

#[test]
fn a_kink_within_the_tolerance_goes_away() {
    let fair = bending_per_mm(&solved(&shape(ShapeKind::Waves)), 1e-9);
    for (place, off_mm, slope_off) in [(7, -0.8, 0.0), (3, 0.0, 0.06), (7, -0.6, 0.04), (5, 0.0, -0.06)] {
        let kinked = kinked(place, off_mm, slope_off);
        let now = done(&kinked, 1.0);
        let (before, after) = (now.bending_before / fair, now.bending_after / fair);
        assert!(before > 1.1, "point {place} is out of place: {before}");
        assert!(after < 0.85, "point {place} is in place again: {after}");
    }
}

#[test]
fn more_room_bends_less() {
    let kinked = kinked(7, -0.8, 0.03);
    let bending = TOLERANCES.map(|tolerance| done(&kinked, tolerance).bending_after);
    for pair in bending.windows(2) {
        assert!(pair[0] < pair[1], "{bending:?}");
    }
}

#[test]
fn the_same_line_gives_the_same_answer_and_a_straight_one_stays() {
    let kinked = kinked(3, 0.5, 0.05);
    assert_eq!(done(&kinked, 0.3), done(&kinked, 0.3));
    let straight = shape(ShapeKind::Straight);
    let now = done(&straight, 1.0);
    assert_eq!((now.points, now.moved_mm), (straight, 0.0));
}

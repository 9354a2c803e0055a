//! The tools that are exact: the new line is the old one, seen through the tool, at every place.

use super::{ACROSS, LENGTH, numbers, points, shape, solved};
use crate::line_tools::{end_for_end, mirrored_across, shifted, stretched, swing_scaled, with_point};
use crate::{Length, Point, PointKind, SawLine, ShapeKind, Unit};
use proptest::prelude::*;

/// Rounding of offsets.
const ROUNDING: f64 = 1e-12;

/// Rounding of offsets where places along the leg were rounded before: a unit in their last place, times the slope.
const ROUNDING_ALONG: f64 = 3e-12;

/// Places all over the leg, off every joint.
fn places() -> impl Iterator<Item = f64> {
    (0..=700).map(|i| f64::from(i) * 0.9973 + 0.0131)
}

/// The greatest difference of two ways to find an offset, over the finished length.
fn greatest(wanted: impl Fn(f64) -> f64, found: impl Fn(f64) -> f64) -> f64 {
    places().map(|s| (wanted(s) - found(s)).abs()).fold(0.0, f64::max)
}

fn close(one: &[Point], other: &[Point]) -> bool {
    let ids = |points: &[Point]| points.iter().map(|point| point.id).collect::<Vec<_>>();
    let near = |a: &[f64; 6], b: &[f64; 6]| a.iter().zip(b).all(|(a, b)| (a - b).abs() <= 1e-12 * (1.0 + a.abs()));
    ids(one) == ids(other) && numbers(one).iter().zip(&numbers(other)).all(|(a, b)| near(a, b))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn mirrored_is_the_width_less_the_offset_and_twice_is_the_line(points in points()) {
        let mirrored = mirrored_across(&points, ACROSS).expect("mirrored");
        let (was, now) = (solved(&points), solved(&mirrored));
        prop_assert!(greatest(|s| ACROSS - was.offset(s), |s| now.offset(s)) < ROUNDING);
        prop_assert!(close(&points, &mirrored_across(&mirrored, ACROSS).expect("mirrored again")));
    }

    #[test]
    fn end_for_end_is_the_line_from_the_other_end_and_twice_is_the_line(points in points()) {
        let other = end_for_end(&points, LENGTH).expect("turned");
        let (was, now) = (solved(&points), solved(&other));
        prop_assert!(greatest(|s| was.offset(LENGTH - s), |s| now.offset(s)) < ROUNDING_ALONG);
        for s in places() {
            prop_assert!((was.at(s).slope + now.at_after(LENGTH - s).slope).abs() < 1e-9, "{s}");
        }
        if let Some(sharp) = was.sharp_point() {
            prop_assert!((now.sharp_point().expect("still sharp") - (LENGTH - sharp)).abs() < 1e-9);
        }
        prop_assert!(close(&points, &end_for_end(&other, LENGTH).expect("turned again")));
    }

    #[test]
    fn shifted_is_the_line_farther_down(points in points(), by in -300.0..300.0) {
        // How a line is carried on beyond a sharp point at its end depends on whether the leg ends before it.
        prop_assume!(!points[0].kind.is_sharp() && !points[points.len() - 1].kind.is_sharp());
        let moved = shifted(&points, by).expect("shifted");
        let (was, now) = (solved(&points), solved(&moved));
        prop_assert!(greatest(|s| was.offset(s - by), |s| now.offset(s)) < 1e-9);
        prop_assert!(close(&points, &shifted(&moved, -by).expect("shifted back")));
    }

    #[test]
    fn a_scaled_swing_is_so_many_times_as_far_from_the_middle(
        points in points(),
        factor in prop_oneof![0.2..2.0, 0.02..20.0],
        about in -10.0..60.0,
    ) {
        let steepest = |line: &SawLine| {
            let slopes = (-5000..78_000).map(|i| f64::from(i) * 0.01).map(|s| line.at(s).slope.abs());
            slopes.fold(0.0, f64::max)
        };
        match swing_scaled(&points, factor, about) {
            Ok(scaled) => {
                let (was, now) = (solved(&points), solved(&scaled));
                let miss = greatest(|s| about + factor * (was.offset(s) - about), |s| now.offset(s));
                prop_assert!(miss < 1e-11 * (1.0 + factor), "{miss}");
            }
            Err(error) => {
                let steepest = steepest(&solved(&points)) * factor;
                prop_assert!(steepest > crate::MAX_SLOPE * 0.95, "{error}: {steepest}");
            }
        }
    }

    #[test]
    fn stretched_is_the_line_with_every_distance_from_the_top_in_proportion(
        points in points(),
        to in prop_oneof![500.0..1000.0, Just(LENGTH)],
    ) {
        let factor = to / LENGTH;
        let Ok(longer) = stretched(&points, LENGTH, to, None) else {
            prop_assert!(to < LENGTH, "a longer line is never too steep");
            return Ok(());
        };
        let (was, now) = (solved(&points), SawLine::from_points(&longer, to).expect("a saw line"));
        prop_assert!(greatest(|s| was.offset(s), |s| now.offset(s * factor)) < ROUNDING_ALONG);
        prop_assert!(close(&points, &stretched(&longer, to, LENGTH, None).expect("stretched back")));
    }

    #[test]
    fn the_kept_top_stays_as_it_is_and_no_break_comes_into_the_line(
        points in points(),
        to in 600.0..1000.0,
        keep in 20.0..500.0,
    ) {
        let Ok(longer) = stretched(&points, LENGTH, to, Some(keep)) else { return Ok(()) };
        let (was, now) = (solved(&points), SawLine::from_points(&longer, to).expect("a saw line"));
        let factor = (to - keep) / (LENGTH - keep);
        prop_assert!(longer.len() == points.len() + 1 || points.iter().any(|point| point.from_top.mm() == keep));
        for s in places().filter(|s| *s < keep) {
            prop_assert!((was.offset(s) - now.offset(s)).abs() < 1e-10, "{s}");
        }
        // From the next point on, the rest is a plain stretch.
        let next = longer.iter().map(|point| point.from_top.mm()).find(|at| *at > keep + 1e-6).unwrap_or(keep);
        for s in places().filter(|s| *s >= next && *s <= to) {
            let from = keep + (s - keep) / factor;
            prop_assert!((was.offset(from) - now.offset(s)).abs() < 1e-9 || from > points[points.len() - 1].from_top.mm());
        }
        if was.sharp_point().is_none() {
            prop_assert!((now.at(keep).slope - now.at_after(keep).slope).abs() < 1e-9);
        }
    }

    #[test]
    fn a_point_more_leaves_the_line_as_it_is(points in points(), s in -15.0..715.0) {
        if let Ok(more) = with_point(&points, LENGTH, s, 0.5) {
            let (was, now) = (solved(&points), solved(&more));
            prop_assert_eq!(more.len(), points.len() + 1);
            prop_assert!(greatest(|s| was.offset(s), |s| now.offset(s)) < 1e-10);
        }
    }
}

#[test]
fn in_binary_fractions_twice_is_the_same_to_the_last_bit() {
    let points = [
        Point::smooth(3, 0.0, 12.5, 0.25, 8.0, 16.0),
        Point {
            kind: PointKind::Sharp { slope_before: 0.5, before_mm: 32.0, slope_after: -0.125, after_mm: 64.0 },
            ..Point::smooth(1, 200.0, 37.25, 0.0, 0.0, 0.0)
        },
        Point::smooth(2, 640.0, 20.0, 0.0, 100.0, 50.0),
    ];
    assert_eq!(mirrored_across(&mirrored_across(&points, 50.0).unwrap(), 50.0).unwrap(), points);
    assert_eq!(end_for_end(&end_for_end(&points, 700.0).unwrap(), 700.0).unwrap(), points);
    let turned = end_for_end(&points, 700.0).unwrap();
    assert_eq!(turned.iter().map(|point| point.id.0).collect::<Vec<_>>(), [2, 1, 3]);
    let sharp = PointKind::Sharp { slope_before: 0.125, before_mm: 64.0, slope_after: -0.5, after_mm: 32.0 };
    assert_eq!((turned[1].from_top.mm(), turned[1].kind), (500.0, sharp));
}

#[test]
fn a_post_is_kept_and_the_rest_is_a_plain_stretch_from_its_sharp_point_on() {
    let points = shape(ShapeKind::PostAndKnee);
    let post = solved(&points).sharp_point().expect("a sharp point");
    let longer = stretched(&points, LENGTH, 900.0, Some(post)).expect("stretched");
    let (was, now) = (solved(&points), SawLine::from_points(&longer, 900.0).expect("a saw line"));
    assert_eq!((longer.len(), now.sharp_point()), (points.len(), Some(post)));
    let factor = (900.0 - post) / (LENGTH - post);
    for i in 0..=900 {
        let s = f64::from(i);
        let from = if s <= post { s } else { post + (s - post) / factor };
        assert!((was.offset(from) - now.offset(s)).abs() < 1e-11, "{s}");
    }
}

#[test]
fn what_was_typed_stays_where_the_number_stays() {
    let typed = |text: &str| Length::parse(text, Unit::Inch).expect("a length");
    let mut points = shape(ShapeKind::Cyma);
    (points[1].from_top, points[1].offset) = (typed("6 1/2"), typed("1 1/4"));
    let texts = |points: &[Point]| {
        let point = points.iter().find(|point| point.id == crate::PointId(2)).expect("the point");
        (point.from_top.typed().is_some(), point.offset.typed().is_some())
    };
    assert_eq!(texts(&mirrored_across(&points, ACROSS).unwrap()), (true, false));
    assert_eq!(texts(&end_for_end(&points, LENGTH).unwrap()), (false, true));
    assert_eq!(texts(&shifted(&points, 5.0).unwrap()), (false, true));
    assert_eq!(texts(&swing_scaled(&points, 1.5, 25.0).unwrap()), (true, false));
    assert_eq!(texts(&swing_scaled(&points, 1.5, typed("1 1/4").mm()).unwrap()), (true, true));
    assert_eq!(texts(&stretched(&points, LENGTH, 800.0, None).unwrap()), (false, true));
    assert_eq!(texts(&stretched(&points, LENGTH, 800.0, Some(300.0)).unwrap()), (true, true));
    for same in [
        shifted(&points, 0.0),
        swing_scaled(&points, 1.0, 17.3),
        stretched(&points, LENGTH, LENGTH, None),
        stretched(&points, LENGTH, LENGTH, Some(100.0)),
    ] {
        assert_eq!(same.unwrap(), points);
    }
}

//! How far two lines are apart.

use super::{LENGTH, points, sampled_distance, shape, solved};
use crate::line_tools::{greatest_distance, shifted, with_point};
use crate::{Point, SawLine, ShapeKind};
use approx::assert_relative_eq;
use proptest::prelude::*;

proptest! {
    #![proptest_config(ProptestConfig::with_cases(100))]

    #[test]
    fn no_place_is_farther_apart_and_the_place_named_is_as_far(one in points(), other in points()) {
        let (one, other) = (solved(&one), solved(&other));
        let sampled = sampled_distance(&one, &other);
        for accuracy in [1.0, 0.1, 1e-3, 1e-6, 1e-9] {
            let found = greatest_distance(&one, &other, accuracy);
            prop_assert!(sampled <= found.mm + accuracy + 1e-10, "{sampled} {found:?}");
            prop_assert!((0.0..=LENGTH).contains(&found.s_mm));
            let there = (one.offset(found.s_mm) - other.offset(found.s_mm)).abs();
            prop_assert!((there - found.mm).abs() < 1e-9, "{there} {found:?}");
        }
        let exactly = greatest_distance(&one, &other, 1e-9).mm;
        prop_assert!(exactly >= sampled - 1e-9);
    }

    #[test]
    fn a_line_is_nowhere_away_from_itself_however_it_is_divided(points in points(), s in 1.0..699.0) {
        let line = solved(&points);
        prop_assert_eq!(greatest_distance(&line, &line, 1e-6).mm, 0.0);
        if let Ok(more) = with_point(&points, LENGTH, s, 0.5) {
            prop_assert!(greatest_distance(&line, &solved(&more), 1e-9).mm < 1e-10);
        }
    }
}

/// A parabola s² / 2p and its chord over h are farthest apart in the middle, by h² / 8p.
#[test]
fn a_parabola_is_as_far_from_its_chord_as_it_should_be() {
    let (p, h) = (500.0, 700.0);
    let third = h / 3.0;
    let end = h * h / (2.0 * p);
    let curve = [Point::smooth(1, 0.0, 0.0, 0.0, third, third), Point::smooth(2, h, end, h / p, third, third)];
    let chord = [Point::smooth(1, 0.0, 0.0, end / h, third, 50.0), Point::smooth(2, h, end, end / h, 90.0, third)];
    for accuracy in [1e-2, 1e-4, 1e-6, 1e-9] {
        let found = greatest_distance(&solved(&curve), &solved(&chord), accuracy);
        assert!(found.mm <= h * h / (8.0 * p) + 1e-10 && found.mm >= h * h / (8.0 * p) - accuracy - 1e-10, "{found:?}");
    }
    assert_relative_eq!(greatest_distance(&solved(&curve), &solved(&chord), 1e-9).s_mm, h / 2.0, epsilon = 1e-2);
}

#[test]
fn lines_side_by_side_are_their_distance_apart_and_legs_of_two_lengths_are_compared_as_far_as_both_go() {
    let points = shape(ShapeKind::Waves);
    let beside: Vec<Point> =
        points.iter().map(|point| Point { offset: (point.offset.mm() + 0.25).into(), ..point.clone() }).collect();
    assert_relative_eq!(greatest_distance(&solved(&points), &solved(&beside), 1e-9).mm, 0.25, epsilon = 1e-12);
    let long = SawLine::from_points(&points, 900.0).expect("a line");
    assert_eq!(greatest_distance(&solved(&points), &long, 1e-6).mm, 0.0);
    let moved = solved(&shifted(&points, 10.0).expect("shifted"));
    assert!(greatest_distance(&solved(&points), &moved, 1e-6).mm > 1.0);
}

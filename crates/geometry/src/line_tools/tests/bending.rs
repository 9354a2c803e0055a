//! How much a line bends, against lines whose bending is known in closed form.

use super::{LENGTH, points, shape};
use crate::line_tools::{bending_per_mm, end_for_end, mirrored_across, stretched};
use crate::{Point, SawLine, ShapeKind};
use approx::assert_relative_eq;
use proptest::prelude::*;

/// An arc of `radius` from -`half` to +`half` radians, in `pieces` cubics, each with handles (4/3) tan(angle / 4) of the
/// radius: the usual cubic that meets an arc at its ends and its middle.
fn arc(radius: f64, half: f64, pieces: u32) -> SawLine {
    let angle = 2.0 * half / f64::from(pieces);
    let handle = 4.0 / 3.0 * (angle / 4.0).tan() * radius;
    let start = radius * half.sin();
    let points: Vec<Point> = (0..=pieces)
        .map(|i| {
            let at = -half + f64::from(i) * angle;
            let reach = handle * at.cos();
            Point::smooth(i + 1, start + radius * at.sin(), 600.0 - radius * at.cos(), at.tan(), reach, reach)
        })
        .collect();
    SawLine::from_points(&points, 2.0 * start).expect("an arc")
}

#[test]
fn an_arc_bends_by_its_length_over_the_square_of_its_radius() {
    for (radius, half) in [(300.0, 0.6), (500.0, 0.5), (1000.0, 0.3)] {
        let wanted = 2.0 * half * radius / (radius * radius);
        let miss = |pieces| (bending_per_mm(&arc(radius, half, pieces), 1e-10) / wanted - 1.0).abs();
        let misses = [2, 4, 8].map(miss);
        assert!(misses[2] < 1e-7, "{misses:?}");
        // The curvature of such a cubic is within the fourth power of its angle of the arc's.
        assert!(misses[1] < misses[0] / 12.0 && misses[2] < misses[1] / 12.0, "{misses:?}");
    }
}

/// offset = s² / 2p. With u = s / p the integral of offset''² / (1 + offset'²)^2.5 ds is 1/p times that of
/// (1 + u²)^-2.5 du; u = tan φ makes it cos³ φ dφ, whose integral is sin φ - sin³ φ / 3.
#[test]
fn a_parabola_bends_as_its_closed_form_says_to_every_accuracy() {
    for (p, length) in [(200.0, 700.0), (1000.0, 700.0), (50.0, 150.0)] {
        let third = length / 3.0;
        let end = length * length / (2.0 * p);
        let points =
            [Point::smooth(1, 0.0, 0.0, 0.0, third, third), Point::smooth(2, length, end, length / p, third, third)];
        let line = SawLine::from_points(&points, length).expect("a parabola");
        let sine = f64::sin((length / p).atan());
        let wanted = (sine - sine.powi(3) / 3.0) / p;
        for accuracy in [1e-3, 1e-5, 1e-7, 1e-9, 1e-10] {
            assert_relative_eq!(bending_per_mm(&line, accuracy), wanted, max_relative = accuracy);
        }
    }
}

#[test]
fn a_straight_line_does_not_bend_and_neither_does_a_sharp_point() {
    let third = LENGTH / 3.0;
    let slanted = [Point::smooth(1, 0.0, 3.7, 0.05, third, 13.0), Point::smooth(2, LENGTH, 38.7, 0.05, 300.0, third)];
    let bending = bending_per_mm(&SawLine::from_points(&slanted, LENGTH).expect("a line"), 1e-10);
    assert!(bending < 1e-25, "{bending}");
    let post = shape(ShapeKind::PostAndKnee);
    let kept = SawLine::from_points(&post[..2], LENGTH).expect("the post alone");
    assert!(bending_per_mm(&kept, 1e-10) < 1e-25);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn a_line_bends_as_much_from_either_end_and_to_either_side(points in points()) {
        let bending = |points: &[Point]| bending_per_mm(&SawLine::from_points(points, LENGTH).expect("a line"), 1e-9);
        let as_drawn = bending(&points);
        for other in [mirrored_across(&points, 50.0), end_for_end(&points, LENGTH)] {
            prop_assert!((bending(&other.expect("a line")) - as_drawn).abs() <= 1e-8 * as_drawn + 1e-14);
        }
    }

    /// By the trapezium rule on curvature itself, at places that crowd toward the points, where a short handle bends
    /// the line quickly: with s = from + gap (3 u² - 2 u³), ds = 6 gap u (1 - u) du, which is 0 at both ends.
    #[test]
    fn bending_is_the_integral_of_the_square_of_curvature(points in points()) {
        let line = SawLine::from_points(&points, LENGTH).expect("a line");
        let mut ends = vec![0.0];
        ends.extend(points.iter().map(|point| point.from_top.mm()).filter(|at| (1e-6..LENGTH).contains(at)));
        ends.push(LENGTH);
        let at = |at: crate::LineAt| at.curvature * at.curvature * (1.0 + at.slope * at.slope).sqrt();
        let mut sum = 0.0;
        for pair in ends.windows(2) {
            let gap = pair[1] - pair[0];
            let part = |u: f64| at(line.at(pair[0] + gap * u * u * (3.0 - 2.0 * u))) * 6.0 * gap * u * (1.0 - u);
            sum += (1..20_000).map(|i| part(f64::from(i) / 20_000.0)).sum::<f64>() / 20_000.0;
        }
        let bending = bending_per_mm(&line, 1e-9);
        prop_assert!((bending - sum).abs() <= 1e-4 * sum + 1e-12, "{bending} for {sum}");
    }
}

#[test]
fn a_longer_leg_bends_less() {
    let points = shape(ShapeKind::Cyma);
    let longer = stretched(&points, LENGTH, 1000.0, None).expect("stretched");
    let [short, long] = [(&points, LENGTH), (&longer, 1000.0)]
        .map(|(points, length)| bending_per_mm(&SawLine::from_points(points, length).expect("a line"), 1e-9));
    assert!(long < short / 2.0, "{long} {short}");
}

//! Battens laid along lines, and battens stretched, by what comes of them.

use super::{ACROSS, LENGTH, shape, solved};
use crate::line_tools::{LineToolError, batten_along, batten_stretched, simplified};
use crate::{BATTEN_ACCURACY_MM, Batten, Holds, Line, Pin, Point, SawLine, ShapeKind};
use kurbo::ParamCurve;
use proptest::prelude::*;

fn line_of(batten: &Batten, length_mm: f64) -> SawLine {
    Line::Batten(batten.clone()).solve(length_mm, ACROSS).expect("a batten lies there")
}

/// The greatest distance across the blank of the cubics of one line from another, looked at `each` places of every cubic
/// by nothing but the cubics themselves.
fn measured(fitted: &SawLine, from: &SawLine, each: u32) -> f64 {
    let mut most = 0.0_f64;
    for cubic in fitted.finished_segments() {
        for i in 0..=each {
            let at = cubic.eval(f64::from(i) / f64::from(each));
            most = most.max((at.y - from.offset(at.x)).abs());
        }
    }
    most
}

const TOLERANCES: [f64; 6] = [0.02, 0.05, 0.1, 0.3, 1.0, 2.5];

#[test]
fn a_batten_along_any_shape_keeps_what_it_promises_measured_on_the_batten_as_it_lies() {
    for kind in [ShapeKind::Straight, ShapeKind::Cyma, ShapeKind::Arch, ShapeKind::Waves] {
        let points = shape(kind);
        let line = solved(&points);
        let mut last = usize::MAX;
        for tolerance in TOLERANCES {
            let batten = batten_along(&points, LENGTH, tolerance).expect("laid");
            let off = measured(&line_of(&batten, LENGTH), &line, 400);
            assert!(off <= tolerance, "{} within {tolerance}: {off}", kind.name());
            let pins = &batten.pins;
            assert!(pins.len() <= last, "{}: a wider tolerance never wants more pins", kind.name());
            last = pins.len();
            // Every pin stands on the line, the first and the last at its ends.
            for pin in pins {
                let s = pin.from_top.mm();
                assert!((line.offset(s) - pin.offset.mm()).abs() < 1e-9, "{} at {s}", kind.name());
            }
            let ends = [&pins[0], &pins[pins.len() - 1]].map(|pin| pin.from_top.mm());
            assert_eq!(ends, [points[0].from_top.mm(), points[points.len() - 1].from_top.mm()]);
            assert!(pins[1..pins.len() - 1].iter().all(|pin| pin.holds == Holds::Position));
        }
        if kind == ShapeKind::Straight {
            assert_eq!(last, 2, "a straight line wants two pins");
        }
    }
}

#[test]
fn a_batten_becomes_points_and_a_batten_again_within_the_tolerances_together() {
    for kind in [ShapeKind::Cyma, ShapeKind::Arch, ShapeKind::Waves] {
        let batten = batten_along(&shape(kind), LENGTH, 0.3).expect("laid");
        let laid = line_of(&batten, LENGTH);
        let cubics = batten.solve().expect("solved");
        let mut last = usize::MAX;
        for tolerance in TOLERANCES {
            let points = simplified(&cubics, tolerance).expect("points");
            let drawn = solved(&points);
            let off = measured(&drawn, &laid, 400);
            assert!(off <= tolerance, "{} within {tolerance}: {off}", kind.name());
            assert!(points.len() <= last && points.len() <= cubics.len());
            last = points.len();
            let again = batten_along(&points, LENGTH, tolerance).expect("laid again");
            let off = measured(&line_of(&again, LENGTH), &laid, 400);
            assert!(off <= 2.0 * tolerance, "{} there and back within {tolerance}: {off}", kind.name());
        }
    }
}

#[test]
fn what_no_batten_follows_is_refused_with_the_reason() {
    let sharp = shape(ShapeKind::PostAndKnee);
    assert!(matches!(batten_along(&sharp, LENGTH, 0.5), Err(LineToolError::SharpPoint { .. })));
    let cyma = shape(ShapeKind::Cyma);
    for bad in [f64::NAN, f64::INFINITY, 0.0, -1.0, 1e-3, 1e9] {
        assert!(batten_along(&cyma, LENGTH, bad).is_err(), "{bad}");
    }
    assert!(matches!(batten_along(&cyma[..1], LENGTH, 0.5), Err(LineToolError::Line(_))));
    // A line that trembles more often than a batten has pins.
    let tremble: Vec<Point> = (0..140)
        .map(|i| Point::smooth(i + 1, f64::from(i) * 5.0, 25.0 + if i % 2 == 0 { 2.0 } else { -2.0 }, 0.0, 2.0, 2.0))
        .collect();
    let error = batten_along(&tremble, LENGTH, 0.1).expect_err("too many pins");
    assert!(matches!(error, LineToolError::ManyPins { .. }), "{error}");
}

fn pins(places: &[[f64; 2]]) -> Batten {
    Batten { pins: (1..).zip(places).map(|(id, [s, offset])| Pin::new(id, *s, *offset)).collect() }
}

fn four() -> Batten {
    let mut batten = pins(&[[0.0, 20.0], [180.0, 33.0], [460.0, 17.0], [700.0, 26.0]]);
    batten.pins[2].holds = Holds::Direction { slope: -0.05 };
    batten
}

#[test]
fn stretched_as_a_whole_pins_go_along_in_proportion_and_slopes_by_the_inverse() {
    let stretched = batten_stretched(&four(), 700.0, 910.0, None).expect("stretched");
    for (was, is) in four().pins.iter().zip(&stretched.pins) {
        assert!((is.from_top.mm() - 1.3 * was.from_top.mm()).abs() < 1e-9);
        assert_eq!((was.id, &was.offset), (is.id, &is.offset));
        assert_eq!(
            is.holds.slope().map(|slope| (slope * 1.3 * 1e9).round()),
            was.holds.slope().map(|s| (s * 1e9).round())
        );
    }
    let same = batten_stretched(&four(), 700.0, 700.0, None).expect("the same");
    assert_eq!(same, four());
    // A straight strip stays straight, by its closed form.
    let straight = pins(&[[0.0, 20.0], [300.0, 26.0], [700.0, 34.0]]);
    let line = line_of(&batten_stretched(&straight, 700.0, 350.0, None).expect("stretched"), 350.0);
    for s in [0.0, 60.0, 175.0, 350.0] {
        assert!((line.offset(s) - (20.0 + 0.04 * s)).abs() < 1e-9);
    }
}

#[test]
fn below_a_kept_top_only_what_lies_lower_is_stretched() {
    let was = line_of(&four(), 700.0);
    for (keep, to) in [(100.0, 900.0), (300.0, 620.0), (500.0, 760.0)] {
        let stretched = batten_stretched(&four(), 700.0, to, Some(keep)).expect("stretched");
        let now = line_of(&stretched, to);
        let worst = (0..=1000)
            .map(|i| keep * f64::from(i) / 1000.0)
            .map(|s| (now.offset(s) - was.offset(s)).abs())
            .fold(0.0, f64::max);
        assert!(worst < 3.0 * BATTEN_ACCURACY_MM, "kept {keep} to {to}: {worst}");
        let pin = stretched.pins.iter().find(|pin| pin.from_top.mm() == keep).expect("a pin holds it there");
        assert!(matches!(pin.holds, Holds::Direction { .. }));
        let mut ids: Vec<u32> = stretched.pins.iter().map(|pin| pin.id.0).collect();
        ids.sort_unstable();
        ids.dedup();
        assert_eq!(ids.len(), stretched.pins.len(), "no two pins have one name");
        for pin in four().pins.iter().filter(|pin| pin.from_top.mm() > keep) {
            let moved = stretched.pins.iter().find(|other| other.id == pin.id).expect("it is still there");
            let wanted = keep + (pin.from_top.mm() - keep) * (to - keep) / (700.0 - keep);
            assert!((moved.from_top.mm() - wanted).abs() < 1e-9);
        }
    }
    // A pin that stands there already holds its direction from then on.
    let at_pin = batten_stretched(&four(), 700.0, 800.0, Some(180.0)).expect("stretched");
    assert_eq!(at_pin.pins.len(), 4);
    assert!(matches!(at_pin.pins[1].holds, Holds::Direction { .. }));
    // The same length leaves everything as it is, the pins too.
    assert_eq!(batten_stretched(&four(), 700.0, 700.0, Some(180.0)), Ok(four()));
}

#[test]
fn a_stretch_that_cannot_be_is_refused() {
    let beside = batten_stretched(&four(), 700.0, 800.0, Some(180.2));
    assert!(matches!(beside, Err(LineToolError::NoRoom { .. })), "{beside:?}");
    for keep in [700.0, 900.0, 0.0, -5.0, f64::NAN] {
        assert!(batten_stretched(&four(), 700.0, 800.0, Some(keep)).is_err(), "{keep}");
    }
    for length in [0.0, -700.0, f64::NAN, f64::INFINITY] {
        assert!(batten_stretched(&four(), length, 700.0, None).is_err() || length == 700.0);
        assert!(batten_stretched(&four(), 700.0, length, None).is_err(), "{length}");
    }
    // Squeezed until pins touch, or until no strip would follow.
    assert!(batten_stretched(&four(), 700.0, 1.0, None).is_err());
    let steep = pins(&[[0.0, 0.0], [200.0, 45.0], [400.0, 5.0], [700.0, 45.0]]);
    assert!(batten_stretched(&steep, 700.0, 70.0, None).is_err());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn any_line_without_a_sharp_point_is_followed_within_the_tolerance_or_told_why_not(
        points in super::points(),
        tolerance in 0.05..2.0_f64,
    ) {
        match batten_along(&points, LENGTH, tolerance) {
            Ok(batten) => {
                let off = measured(&line_of(&batten, LENGTH), &solved(&points), 60);
                prop_assert!(off <= tolerance, "{off} of {tolerance}");
            }
            Err(LineToolError::SharpPoint { .. }) => prop_assert!(solved(&points).sharp_point().is_some()),
            Err(LineToolError::ManyPins { .. }) => {}
            Err(other) => prop_assert!(false, "{other}"),
        }
    }
}

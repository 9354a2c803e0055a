//! What a tool does not take: a typed error, and nothing that panics.

use super::{LENGTH, shape};
use crate::line_tools::{
    LineToolError, end_for_end, fairer, mirrored_across, shifted, simplified, stretched, swing_scaled, with_point,
};
use crate::{Point, PointId, SawLine, SawLineError, ShapeKind};
use proptest::prelude::*;
use proptest::sample::select;

type Done = Result<Vec<Point>, LineToolError>;

/// Every tool, with one number of it given.
fn every(points: &[Point], x: f64) -> Vec<(&'static str, Done)> {
    vec![
        ("mirror", mirrored_across(points, x)),
        ("end for end", end_for_end(points, x)),
        ("shift", shifted(points, x)),
        ("swing", swing_scaled(points, x, 25.0)),
        ("swing about", swing_scaled(points, 0.5, x)),
        ("stretch from", stretched(points, x, 700.0, None)),
        ("stretch to", stretched(points, 700.0, x, None)),
        ("keep", stretched(points, 700.0, 800.0, Some(x))),
        ("fairer", fairer(points, 700.0, x).map(|fairer| fairer.points)),
        ("fairer on", fairer(points, x, 0.1).map(|fairer| fairer.points)),
        ("simplified", simplified(points, x)),
        ("point", with_point(points, 700.0, x, 0.5)),
    ]
}

#[test]
fn numbers_that_are_not_sound_are_refused_by_every_tool() {
    let points = shape(ShapeKind::PostAndKnee);
    for x in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e300, -1e300, 1e6] {
        for (tool, done) in every(&points, x) {
            assert!(matches!(done, Err(LineToolError::OutOfRange { .. })), "{tool} of {x}: {done:?}");
        }
    }
    for x in [0.0, -1.0] {
        for (tool, done) in every(&points, x) {
            let takes = ["mirror", "end for end", "shift", "swing about", "fairer on", "point"];
            assert!(done.is_err() || takes.contains(&tool), "{tool} of {x}");
        }
    }
}

#[test]
fn what_is_too_steep_names_the_point() {
    let points = shape(ShapeKind::Cyma);
    let steep = swing_scaled(&points, 50.0, 25.0);
    assert!(
        matches!(steep, Err(LineToolError::Line(SawLineError::TooSteep { slope, .. })) if slope > 4.0),
        "{steep:?}"
    );
    assert!(steep.is_err_and(|error| error.to_string().contains("too steep near point")));
    let short = stretched(&points, LENGTH, 15.0, None);
    assert!(matches!(short, Err(LineToolError::Line(SawLineError::TooSteep { .. }))), "{short:?}");
}

#[test]
fn a_kept_part_beside_a_point_is_told_where_that_is() {
    let points = shape(ShapeKind::PostAndKnee);
    let near = stretched(&points, LENGTH, 800.0, Some(154.05));
    assert_eq!(near, Err(LineToolError::NoRoom { s_mm: 154.05, near_mm: 154.0 }));
    assert!(stretched(&points, LENGTH, 800.0, Some(700.0)).is_err());
    assert!(stretched(&points, LENGTH, 300.0, Some(300.0)).is_err());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    /// Points that nobody drew: whatever they are, a tool gives a saw line or an error.
    #[test]
    fn whatever_comes_in_a_saw_line_or_an_error_goes_out(
        raw in prop::collection::vec((odd(), odd(), odd(), odd(), odd(), 0..5_u32), 0..6),
        x in odd(),
    ) {
        let points: Vec<Point> = raw
            .into_iter()
            .map(|(s, offset, slope, before, after, id)| Point { id: PointId(id), ..Point::smooth(0, s, offset, slope, before, after) })
            .collect();
        for (tool, done) in every(&points, x) {
            if let Ok(points) = done {
                prop_assert!(SawLine::from_points(&points, LENGTH).is_ok(), "{tool} of {x}");
            }
        }
    }
}

fn odd() -> BoxedStrategy<f64> {
    prop_oneof![
        6 => 0.0..700.0_f64,
        3 => -0.5..0.5_f64,
        1 => select(vec![f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 0.0, -0.0, f64::MAX, f64::MIN_POSITIVE, 2e4, -2e4]),
    ]
    .boxed()
}

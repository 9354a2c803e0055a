//! Fewer points, the same line within the tolerance.

use super::{LENGTH, points, sampled_distance, shape, solved};
use crate::line_tools::{greatest_distance, simplified, with_point};
use crate::{Point, PointId, ShapeKind};
use proptest::prelude::*;

const TOLERANCES: [f64; 4] = [1.0, 0.3, 0.1, 0.03];

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn it_keeps_within_every_tolerance_and_keeps_what_it_must(points in points()) {
        let was = solved(&points);
        for tolerance in TOLERANCES {
            let fewer = simplified(&points, tolerance).expect("fewer points");
            let now = solved(&fewer);
            let measured = greatest_distance(&was, &now, 1e-7).mm;
            prop_assert!(measured <= tolerance && sampled_distance(&was, &now) <= tolerance, "{measured} {tolerance}");
            prop_assert!(fewer.len() <= points.len());
            prop_assert_eq!(fewer[0].id, points[0].id);
            prop_assert_eq!(fewer[fewer.len() - 1].id, points[points.len() - 1].id);
            prop_assert_eq!(now.sharp_point(), was.sharp_point());
            // What is left is in its old order, in its old place, with its old slope.
            let mut old = points.iter();
            for point in &fewer {
                let same = old.find(|old| old.id == point.id);
                prop_assert!(same.is_some_and(|old| (&old.from_top, &old.offset) == (&point.from_top, &point.offset)));
                prop_assert!(same.is_some_and(|old| old.kind.before().0 == point.kind.before().0));
            }
        }
    }

    #[test]
    fn points_that_were_added_without_need_go_again(
        points in points(),
        places in prop::collection::vec(1.0..699.0, 1..12),
    ) {
        let mut more = points.clone();
        for s in places {
            let between = points[0].from_top.mm() < s && s < points[points.len() - 1].from_top.mm();
            if let Ok(one_more) = with_point(&more, LENGTH, s, 5.0)
                && between
            {
                more = one_more;
            }
        }
        let fewer = simplified(&more, 0.03).expect("fewer points");
        prop_assert!(fewer.len() <= points.len(), "{} of {} with {} to begin with", fewer.len(), more.len(), points.len());
    }
}

#[test]
fn a_handle_shorter_than_a_hundredth_of_the_gap_comes_back() {
    let plain = vec![Point::smooth(1, 136.7, 0.0, 0.0, 3.434, 3.434), Point::smooth(8, 735.0, 0.0, 0.167, 498.0, 12.0)];
    let more = with_point(&plain, LENGTH, 537.5, 5.0).expect("a point");
    let fewer = simplified(&more, 0.03).expect("fewer points");
    assert_eq!((more.len(), fewer.len()), (3, 2));
}

#[test]
fn starting_shapes_have_hardly_a_point_too_many() {
    for kind in ShapeKind::ALL {
        let points = shape(kind);
        let fewer = simplified(&points, 0.001).expect("fewer points");
        assert_eq!(fewer.len(), points.len(), "{}", kind.name());
    }
    let straight = with_point(&shape(ShapeKind::Straight), LENGTH, 300.0, 0.5).expect("a point");
    let fewer = simplified(&straight, 0.001).expect("fewer points");
    assert_eq!(fewer.iter().map(|point| point.id).collect::<Vec<_>>(), [PointId(1), PointId(2)]);
}

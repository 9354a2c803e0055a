//! Handles that are tied or free.

use crate::line_edits::Drawn;
use crate::{Edit, Handle};
use cornerwise_geometry::{Cut, Point, PointId};

fn drawn(points: &[Point]) -> Drawn<'_> {
    Drawn { cut: Cut::First, points: points.into(), length_mm: 700.0, across_mm: 50.0 }
}

fn three() -> Vec<Point> {
    vec![
        Point::smooth(1, 0.0, 20.0, 0.0, 100.0, 60.0),
        Point::smooth(2, 300.0, 35.0, 0.05, 80.0, 120.0),
        Point::smooth(3, 700.0, 20.0, 0.0, 90.0, 110.0),
    ]
}

fn reaches(point: &Point) -> [f64; 2] {
    [point.kind.before().1, point.kind.after().1]
}

#[test]
fn tied_handles_reach_as_far_and_move_together() {
    let tied = drawn(&three()).tied(PointId(2), true).expect("tied");
    assert!(tied[1].tied);
    assert_eq!(reaches(&tied[1]), [100.0, 100.0], "halfway between their reaches");
    assert_eq!((&tied[0], &tied[2]), (&three()[0], &three()[2]));
    for (handle, slope, reach, expected) in [
        (Handle::After, 0.1, 150.0, 150.0),
        (Handle::Before, -0.02, 40.0, 40.0),
        // Toward the foot there would be room, toward the top there is not.
        (Handle::After, 0.0, 390.0, 300.0),
    ] {
        let moved = drawn(&tied).handle_moved(PointId(2), handle, slope, reach, true).expect("moved");
        assert_eq!(reaches(&moved[1]), [expected, expected]);
        assert_eq!((moved[1].kind.before().0, moved[1].tied), (slope, true));
    }
    // Freed while it is moved, one of them moves alone and they are free from then on.
    let freed = drawn(&tied).handle_moved(PointId(2), Handle::After, 0.05, 150.0, false).expect("moved");
    assert_eq!((reaches(&freed[1]), freed[1].tied), ([100.0, 150.0], false));
    // And the other way about.
    let together = drawn(&three()).handle_moved(PointId(2), Handle::After, 0.05, 90.0, true).expect("moved");
    assert_eq!((reaches(&together[1]), together[1].tied), ([90.0, 90.0], true));
    let free = drawn(&tied).tied(PointId(2), false).expect("freed");
    assert_eq!((reaches(&free[1]), free[1].tied), ([100.0, 100.0], false), "freeing moves nothing");
}

#[test]
fn at_an_end_of_the_line_and_at_a_sharp_point_too() {
    let at_top = drawn(&three()).tied(PointId(1), true).expect("tied");
    assert_eq!(reaches(&at_top[0]), [60.0, 60.0], "the one that is seen stays");
    let at_foot = drawn(&three()).tied(PointId(3), true).expect("tied");
    assert_eq!(reaches(&at_foot[2]), [90.0, 90.0]);
    let sharp = drawn(&at_top).made(PointId(2), true).expect("sharp");
    let moved = drawn(&sharp).handle_moved(PointId(2), Handle::After, 0.3, 70.0, true).expect("moved");
    assert_eq!(reaches(&moved[1]), [70.0, 70.0]);
    assert_eq!((moved[1].kind.before().0, moved[1].kind.after().0), (0.05, 0.3), "each keeps its own direction");
}

#[test]
fn a_file_says_so_only_where_they_are_tied() {
    let mut project = crate::Project::new();
    let (design, cut) = (project.designs[0].id, Cut::First);
    project = project.apply(&Edit::ShapeToPoints { design, cut }).expect("points");
    let point = project.designs[0].points(cut)[1].id;
    let tied = project.apply(&Edit::TieHandles { design, cut, point, tied: true }).expect("tied");
    assert!(tied.designs[0].points(cut)[1].tied);
    let free = tied.apply(&Edit::TieHandles { design, cut, point, tied: false }).expect("freed");
    assert!(!free.designs[0].points(cut)[1].tied);
}

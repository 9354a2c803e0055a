//! Edits of several points at once.

use super::any;
use crate::{Design, DesignId, EDIT_GAP_MM, Edit, EditError, PointPlace, Project};
use cornerwise_geometry::{Cut, Length, Line, Point, PointId, Unit};
use proptest::prelude::*;
use std::sync::Arc;

const DESIGN: DesignId = DesignId(1);

/// Five level points on the first cut, 100 mm apart, and three on the second.
fn project() -> Project {
    let mut project = Project::new();
    let mut design = Design::clone(&project.designs[0]);
    design.first =
        Line::Points((1..=5).map(|i| Point::smooth(i, f64::from(i) * 100.0, 25.0, 0.0, 30.0, 30.0)).collect());
    design.second =
        Line::Points((1..=3).map(|i| Point::smooth(i, f64::from(i) * 150.0, 20.0, 0.0, 30.0, 30.0)).collect());
    project.designs[0] = Arc::new(design);
    project.check().expect("sound");
    project
}

/// Points moved by so much along and across.
fn moved(project: &Project, points: &[(Cut, u32)], along: f64, across: f64) -> Edit {
    let place = |(cut, id): &(Cut, u32)| {
        let point = project.designs[0].points(*cut).into_iter().find(|p| p.id == PointId(*id)).expect("a point");
        PointPlace {
            cut: *cut,
            point: point.id,
            from_top: (point.from_top.mm() + along).into(),
            offset: (point.offset.mm() + across).into(),
        }
    };
    Edit::MovePoints { design: DESIGN, points: points.iter().map(place).collect() }
}

fn at(project: &Project, cut: Cut) -> Vec<[f64; 2]> {
    project.designs[0].points(cut).iter().map(|point| [point.from_top.mm(), point.offset.mm()]).collect()
}

#[test]
fn several_points_move_together_on_both_cuts() {
    let before = project();
    let edit = moved(&before, &[(Cut::First, 2), (Cut::First, 3), (Cut::Second, 2)], 20.0, -4.0);
    let after = before.apply(&edit).expect("moved");
    assert_eq!(at(&after, Cut::First), [[100.0, 25.0], [220.0, 21.0], [320.0, 21.0], [400.0, 25.0], [500.0, 25.0]]);
    assert_eq!(at(&after, Cut::Second), [[150.0, 20.0], [320.0, 16.0], [450.0, 20.0]]);
    assert_eq!(edit.label(&before), "Move 3 points");
    assert_eq!(
        moved(&before, &[(Cut::First, 2), (Cut::First, 3)], 0.0, 0.0).label(&before),
        "Move 2 points of the first cut"
    );
}

#[test]
fn when_one_is_stopped_all_are_and_they_slide_on_across() {
    let before = project();
    // Point 3 of the first cut meets point 4; point 2 of the second has room left.
    let edit = moved(&before, &[(Cut::First, 2), (Cut::First, 3), (Cut::Second, 2)], 140.0, 0.0);
    let after = before.apply(&edit).expect("moved");
    let by = 100.0 - EDIT_GAP_MM;
    let (first, second) = (at(&after, Cut::First), at(&after, Cut::Second));
    for (is, was) in [(first[1], 200.0), (first[2], 300.0), (second[1], 300.0)] {
        assert!((is[0] - was - by).abs() < 1e-9, "{is:?}");
    }
    // All of a line, past the end of the leg.
    let all: Vec<_> = (1..=5).map(|id| (Cut::First, id)).collect();
    let after = before.apply(&moved(&before, &all, 900.0, 5.0)).expect("moved");
    let expected = [300.0, 400.0, 500.0, 600.0, 700.0].map(|s| [s, 30.0]);
    assert_eq!(at(&after, Cut::First), expected);
    let after = before.apply(&moved(&before, &all, -900.0, -900.0)).expect("moved");
    assert_eq!(at(&after, Cut::First)[0], [0.0, -50.0], "one blank's width to the side, and no farther");
}

#[test]
fn what_stays_keeps_the_text_it_was_typed_as() {
    let mut before = project();
    let mut design = Design::clone(&before.designs[0]);
    let Line::Points(points) = &mut design.first else { panic!("points") };
    points[1].from_top = Length::parse("7 7/8\"", Unit::Mm).expect("a length");
    before.designs[0] = Arc::new(design);
    let Edit::MovePoints { design, mut points } = moved(&before, &[(Cut::First, 2), (Cut::First, 3)], 0.0, 3.0) else {
        panic!("several")
    };
    points[0].from_top = before.designs[0].points(Cut::First)[1].from_top.clone();
    let after = before.apply(&Edit::MovePoints { design, points }).expect("moved");
    assert_eq!(after.designs[0].points(Cut::First)[1].from_top.typed(), Some("7 7/8\""));
}

#[test]
fn several_points_are_deleted_in_one_step_or_not_at_all() {
    let before = project();
    let gone = |points: &[(Cut, u32)]| Edit::DeletePoints {
        design: DESIGN,
        points: points.iter().map(|(cut, id)| (*cut, PointId(*id))).collect(),
    };
    let edit = gone(&[(Cut::First, 4), (Cut::First, 2), (Cut::Second, 2)]);
    let after = before.apply(&edit).expect("deleted");
    let ids = |cut| after.designs[0].points(cut).iter().map(|point| point.id.0).collect::<Vec<_>>();
    assert_eq!((ids(Cut::First), ids(Cut::Second)), (vec![1, 3, 5], vec![1, 3]));
    assert_eq!(edit.label(&before), "Delete 3 points");
    let too_many = gone(&[(Cut::First, 2), (Cut::Second, 1), (Cut::Second, 2)]);
    assert_eq!(before.apply(&too_many), Err(EditError::TooFewPoints { cut: Cut::Second }));
    let not_there = gone(&[(Cut::First, 2), (Cut::First, 9)]);
    assert!(matches!(before.apply(&not_there), Err(EditError::NoSuchPoint { .. })));
}

#[test]
fn points_of_a_live_shape_that_are_moved_end_it() {
    let before = Project::new();
    let edit = moved(&before, &[(Cut::First, 2), (Cut::First, 3)], 5.0, 0.0);
    assert_eq!(edit.label(&before), "Move 2 points of the first cut, now points");
    let after = before.apply(&edit).expect("moved");
    assert!(matches!(after.designs[0].first, Line::Points(_)));
    assert_eq!(after.designs[0].second, before.designs[0].second);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn wherever_they_are_put_they_keep_their_order_and_their_distances(
        first in any::points(700.0, 50.0),
        second in any::points(700.0, 50.0),
        which in prop::collection::vec(any::<bool>(), 16),
        along in -900.0..900.0_f64,
        across in -200.0..200.0_f64,
    ) {
        let mut before = Project::new();
        let mut design = Design::clone(&before.designs[0]);
        (design.first, design.second) = (Line::Points(first), Line::Points(second));
        before.designs[0] = Arc::new(design);
        prop_assume!(before.check().is_ok());
        let chosen: Vec<(Cut, u32)> = Cut::ALL
            .into_iter()
            .flat_map(|cut| before.designs[0].points(cut).into_iter().map(move |point| (cut, point.id.0)))
            .zip(&which)
            .filter_map(|(one, yes)| yes.then_some(one))
            .collect();
        let after = before.apply(&moved(&before, &chosen, along, across)).expect("as far as they can");
        prop_assert_eq!(after.check(), Ok(()));
        let mut by: Option<[f64; 2]> = None;
        for cut in Cut::ALL {
            for (was, is) in before.designs[0].points(cut).iter().zip(after.designs[0].points(cut)) {
                prop_assert_eq!(was.id, is.id, "in order");
                let moved = [is.from_top.mm() - was.from_top.mm(), is.offset.mm() - was.offset.mm()];
                if chosen.contains(&(cut, was.id.0)) {
                    let all = *by.get_or_insert(moved);
                    prop_assert!((0..2).all(|i| (moved[i] - all[i]).abs() < 1e-9), "{:?} {:?}", moved, all);
                } else {
                    prop_assert_eq!(moved, [0.0, 0.0]);
                }
            }
        }
    }
}

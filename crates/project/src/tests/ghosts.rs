//! Ghosts: a shape kept to compare with.

use crate::{BlankSize, DesignId, Edit, EditError, Fault, Ghost, History, Place, Project};
use cornerwise_geometry::{Cut, Line, Point, Shape, ShapeKind};
use std::sync::Arc;

const DESIGN: DesignId = DesignId(1);

#[test]
fn a_ghost_keeps_the_shape_it_was_pinned_in_and_swaps_with_the_present_one() {
    let first = Project::new();
    let mut history = History::new(first.clone());
    let shape = Shape::start(ShapeKind::Arch, 700.0, 50.0);
    for edit in [
        Edit::PinGhost { design: DESIGN },
        Edit::SetShape { design: DESIGN, cut: Cut::First, shape: shape.clone() },
        Edit::SetBlankSize { design: DESIGN, size: BlankSize::Length, value: 650.0.into() },
    ] {
        history.apply(&edit).expect("done");
    }
    let drawn = history.current().designs[0].clone();
    assert_eq!(drawn.ghost.as_deref(), Some(&Ghost::of(&first.designs[0])));
    assert_eq!(drawn.ghost.as_ref().expect("a ghost").leg(), first.designs[0].leg());
    history.apply(&Edit::SwapGhost { design: DESIGN }).expect("swapped");
    assert_eq!(history.undo_label(), Some("Swap with the ghost"));
    let swapped = history.current().designs[0].clone();
    assert_eq!(Ghost::of(&swapped), Ghost::of(&first.designs[0]));
    assert_eq!(swapped.ghost.as_deref(), Some(&Ghost::of(&drawn)));
    assert_eq!(swapped.wood, drawn.wood);
    history.apply(&Edit::SwapGhost { design: DESIGN }).expect("swapped back");
    assert_eq!(history.current().designs[0], drawn, "twice is not at all");
    history.apply(&Edit::DropGhost { design: DESIGN }).expect("dropped");
    assert_eq!(history.current().designs[0].ghost, None);
    assert_eq!(history.apply(&Edit::SwapGhost { design: DESIGN }), Err(EditError::NoGhost));
    assert_eq!(history.apply(&Edit::DropGhost { design: DESIGN }), Err(EditError::NoGhost));
    while history.undo() {}
    assert_eq!(**history.current(), first);
}

#[test]
fn a_ghost_that_is_no_leg_is_named_and_its_points_are_numbered() {
    let mut project = Project::new().apply(&Edit::PinGhost { design: DESIGN }).expect("pinned");
    let mut ghost = Ghost::of(&project.designs[0]);
    ghost.second =
        Line::Points(vec![Point::smooth(0, 0.0, 20.0, 0.0, 9.0, 9.0), Point::smooth(0, 9.0, 20.0, 0.0, 9.0, 9.0)]);
    Arc::make_mut(&mut project.designs[0]).ghost = Some(Arc::new(ghost.clone()));
    project.number();
    assert_eq!(project.check(), Ok(()));
    ghost.second =
        Line::Points(vec![Point::smooth(1, 9.0, 20.0, 0.0, 9.0, 9.0), Point::smooth(2, 0.0, 20.0, 0.0, 9.0, 9.0)]);
    Arc::make_mut(&mut project.designs[0]).ghost = Some(Arc::new(ghost));
    let error = project.check().expect_err("it runs back");
    assert_eq!(error.place, Place::Ghost { design: 1, cut: Some(Cut::Second), point: Some(2) });
    assert!(matches!(error.fault, Fault::RunsBack { .. }));
    assert!(error.to_string().starts_with("design 1, ghost, second cut, point 2: "), "{error}");
}

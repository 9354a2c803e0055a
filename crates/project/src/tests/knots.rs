//! Knots marked, moved and taken off; blanks laid on the table another way; finishes and limits.

use cornerwise_geometry::{Blank, Face};
use cornerwise_wood::{Finish, Knot, WoodLimits};

use crate::{DesignId, Edit, EditError, History, Project, Turn};

const A: DesignId = DesignId(1);

fn knot() -> Knot {
    Knot::new(Face::One, 200.0.into(), 15.0.into(), 20.0.into())
}

#[test]
fn a_knot_is_marked_moved_deleted_and_each_is_undone() {
    let mut history = History::new(Project::new());
    let before = Project::clone(history.current());
    history.apply(&Edit::AddKnot { design: A, knot: knot() }).unwrap();
    assert_eq!(history.undo_label(), Some("Mark a knot"));
    let moved = Knot { from_top: 300.0.into(), ..knot() };
    history.apply(&Edit::SetKnot { design: A, index: 0, knot: moved.clone() }).unwrap();
    assert_eq!(history.current().designs[0].knots, [moved]);
    history.apply(&Edit::DeleteKnot { design: A, index: 0 }).unwrap();
    assert!(history.current().designs[0].knots.is_empty());
    for _ in 0..3 {
        history.undo();
    }
    assert_eq!(**history.current(), before);
}

#[test]
fn what_cannot_be_is_refused_and_says_why() {
    let project = Project::new();
    let error = |edit: Edit| project.apply(&edit).unwrap_err().to_string();
    assert_eq!(error(Edit::DeleteKnot { design: A, index: 0 }), "there is no knot 1: the blank has 0");
    let bad = Knot { size: 0.0.into(), ..knot() };
    assert_eq!(
        error(Edit::AddKnot { design: A, knot: bad }),
        "design 1, knot 1: the knot's size is 0 mm: it must be 0.5 mm to 300 mm"
    );
    let limits = WoodLimits { good_jump: 0.4, ..WoodLimits::default() };
    assert!(error(Edit::SetWoodLimits { limits: Box::new(limits) }).starts_with("limits of seams and faces: "));
    let blank = Blank { depth: 40.0.into(), ..Blank::square(50.0, 700.0) };
    let flat = project.apply(&Edit::SetBlank { design: A, blank }).unwrap();
    let turn = Edit::TurnBlank { design: A, turn: Turn::Quarter };
    assert_eq!(flat.apply(&turn), Err(EditError::NotSquare));
    assert!(flat.apply(&Edit::TurnBlank { design: A, turn: Turn::Half }).is_ok());
}

/// Twice half round, twice end for end and four quarters bring the blank back; the lines never move.
#[test]
fn a_blank_that_is_turned_back_is_as_it_was() {
    let marked = Project::new().apply(&Edit::AddKnot { design: A, knot: knot() }).unwrap();
    for (turn, times) in [(Turn::Quarter, 4), (Turn::Half, 2), (Turn::EndForEnd, 2)] {
        let edit = Edit::TurnBlank { design: A, turn };
        let once = marked.apply(&edit).unwrap();
        assert_eq!(
            (&once.designs[0].first, &once.designs[0].blank),
            (&marked.designs[0].first, &marked.designs[0].blank)
        );
        assert_ne!(once.designs[0].knots, marked.designs[0].knots);
        let back = (0..times).fold(marked.clone(), |project, _| project.apply(&edit).unwrap());
        assert_eq!(back.designs[0].knots, marked.designs[0].knots, "{turn:?}");
        assert_eq!(back.designs[0].wood, marked.designs[0].wood, "{turn:?}");
    }
}

#[test]
fn finish_and_limits_are_kept_only_where_they_are_not_the_usual_ones() {
    let project = Project::new();
    let oiled = project.apply(&Edit::SetFinish { design: A, finish: Finish::Oiled }).unwrap();
    assert_eq!(oiled.designs[0].finish, Finish::Oiled);
    assert!(!oiled.designs[0].looks_like(&project.designs[0]));
    let limits = WoodLimits { meet_mm: 0.5, ..WoodLimits::default() };
    let wide = project.apply(&Edit::SetWoodLimits { limits: Box::new(limits) }).unwrap();
    assert_eq!(wide.wood_limits.seams().meet_mm, 0.5);
}

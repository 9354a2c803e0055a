//! Knots marked, moved and taken off; blanks laid on the table another way; finishes and limits.

use cornerwise_geometry::{Blank, Face};
use cornerwise_wood::{Finish, Knot, OwnWood, Species, SpeciesRow, WoodLimits};

use crate::{DesignId, Edit, EditError, History, Project, Turn, WoodPart};

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

fn bog_oak() -> SpeciesRow {
    SpeciesRow { name: "bog oak".to_owned(), early: [70, 62, 54], late: [44, 38, 34], ..Species::Oak.row().clone() }
}

#[test]
fn an_own_wood_is_added_used_changed_with_all_that_is_of_it_and_kept_while_used() {
    let project = Project::new().apply(&Edit::AddOwnWood { row: Box::new(bog_oak()) }).unwrap();
    let own = *project.woods().last().unwrap();
    let part = WoodPart::Species(own);
    let used = project.apply(&Edit::SetWoodPart { design: A, part }).unwrap();
    assert_eq!(used.designs[0].wood.species(), [own]);
    // Its weight is that of its row.
    let heavier = SpeciesRow { name: "black oak".to_owned(), specific_gravity: 0.9, ..bog_oak() };
    let changed = used.apply(&Edit::SetOwnWood { index: 0, row: Box::new(heavier.clone()) }).unwrap();
    assert_eq!(changed.designs[0].wood.species()[0].row(), &heavier);
    let refused = changed.apply(&Edit::DeleteOwnWood { index: 0 }).unwrap_err();
    assert_eq!(refused.to_string(), "black oak is still used by leg A: give that another wood first");
    let free = changed.apply(&Edit::SetWoodPart { design: A, part: WoodPart::Species(Species::Ash) }).unwrap();
    assert!(free.apply(&Edit::DeleteOwnWood { index: 0 }).unwrap().own_woods.is_empty());
}

#[test]
fn a_bad_row_is_named_with_its_row_and_field() {
    let project = Project::new();
    let says = |row: SpeciesRow| project.apply(&Edit::AddOwnWood { row: Box::new(row) }).unwrap_err().to_string();
    assert_eq!(says(SpeciesRow { rays: 2.0, ..bog_oak() }), "own wood 1: rays is 2: it must be 0 to 1");
    assert!(says(SpeciesRow { stiffness_mpa: f64::NAN, ..bog_oak() }).contains("stiffness_mpa"));
    assert!(says(SpeciesRow { name: "oak".to_owned(), ..bog_oak() }).contains("another wood of the name \"oak\""));
    let mut unknown = project.clone();
    let wood = unknown.designs[0].wood.with_species(&|_| Species::Own(OwnWood::named("elm")));
    std::sync::Arc::make_mut(&mut unknown.designs[0]).wood = wood;
    assert_eq!(
        unknown.check().unwrap_err().to_string(),
        "design 1, wood: it is of \"elm\", and the project's own woods have none of that name"
    );
}

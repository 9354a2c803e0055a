//! The history: steps, gestures, the saved mark.

use crate::{BlankSize, DesignId, Edit, EditError, History, Project};
use cornerwise_geometry::{Cut, Units};
use std::sync::Arc;

fn width(mm: f64) -> Edit {
    Edit::SetBlankSize { design: DesignId(1), size: BlankSize::Width, value: mm.into() }
}

fn shown(history: &History) -> f64 {
    history.current().designs[0].blank.width.mm()
}

#[test]
fn steps_are_taken_back_and_made_again_by_name() {
    let mut history = History::new(Project::new());
    assert_eq!((history.undo_label(), history.redo_label()), (None, None));
    assert!(!history.undo() && !history.redo());
    assert_eq!(history.apply(&width(60.0)), Ok(true));
    assert_eq!(history.apply(&Edit::RenameProject { name: "Bench".to_owned() }), Ok(true));
    assert_eq!(history.undo_label(), Some("Rename the project"));
    assert!(history.undo());
    assert_eq!(history.redo_label(), Some("Rename the project"));
    assert_eq!(history.undo_label(), Some("Change the width of the blank"));
    assert!(history.undo());
    assert_eq!(**history.current(), Project::new());
    assert!(history.redo() && history.redo() && !history.redo());
    assert_eq!(history.current().name, "Bench");
}

#[test]
fn a_new_step_forgets_what_was_taken_back() {
    let mut history = History::new(Project::new());
    history.apply(&width(60.0)).expect("an edit");
    assert!(history.undo());
    history.apply(&width(70.0)).expect("an edit");
    assert_eq!(history.redo_label(), None);
    assert_eq!(shown(&history), 70.0);
}

#[test]
fn an_edit_that_changes_nothing_or_is_not_possible_adds_no_step() {
    let mut history = History::new(Project::new());
    let revision = history.revision();
    assert_eq!(history.apply(&Edit::SetUnits { units: Units::Millimetres }), Ok(false));
    assert_eq!(history.apply(&Edit::DeleteDesign { design: DesignId(1) }), Err(EditError::LastDesign));
    assert!(history.apply(&width(f64::NAN)).is_err());
    assert_eq!((history.undo_label(), history.revision(), history.is_dirty()), (None, revision, false));
}

#[test]
fn a_gesture_is_one_step_whatever_it_showed_on_the_way() {
    let mut history = History::new(Project::new());
    history.begin_drag();
    for mm in [51.0, 58.0, 64.0] {
        history.replace_drag(&width(mm)).expect("an edit");
        assert_eq!(shown(&history), mm);
        assert!(history.is_dirty() && history.is_dragging());
    }
    assert!(history.replace_drag(&width(9e9)).is_err());
    assert_eq!(shown(&history), 64.0, "what cannot be is not shown");
    assert!(history.commit_drag());
    assert_eq!(history.undo_label(), Some("Change the width of the blank"));
    assert!(history.undo());
    assert_eq!(**history.current(), Project::new());
    assert!(!history.undo());
    assert!(history.redo());
    assert_eq!(shown(&history), 64.0);
}

#[test]
fn a_dropped_gesture_leaves_no_trace_not_even_in_what_can_be_redone() {
    let mut history = History::new(Project::new());
    history.apply(&width(60.0)).expect("an edit");
    assert!(history.undo());
    history.begin_drag();
    history.replace_drag(&width(80.0)).expect("an edit");
    history.drop_drag();
    assert_eq!(shown(&history), 50.0);
    assert_eq!(history.redo_label(), Some("Change the width of the blank"));
    history.begin_drag();
    history.replace_drag(&width(80.0)).expect("an edit");
    assert!(!history.redo(), "not in the middle of a gesture");
    assert!(history.undo(), "undo in the middle of a gesture drops it");
    assert_eq!((shown(&history), history.is_dragging()), (50.0, false));
}

#[test]
fn a_gesture_that_ends_where_it_began_adds_no_step() {
    let mut history = History::new(Project::new());
    history.begin_drag();
    history.replace_drag(&width(80.0)).expect("an edit");
    history.replace_drag(&width(50.0)).expect("an edit");
    assert!(!history.commit_drag());
    assert_eq!(history.undo_label(), None);
}

#[test]
fn an_edit_in_the_middle_of_a_gesture_keeps_both() {
    let mut history = History::new(Project::new());
    history.begin_drag();
    history.replace_drag(&width(80.0)).expect("an edit");
    history.apply(&Edit::RenameProject { name: "Bench".to_owned() }).expect("an edit");
    assert_eq!((shown(&history), history.current().name.as_str()), (80.0, "Bench"));
    assert!(history.undo() && history.undo() && !history.undo());
}

#[test]
fn the_saved_mark_follows_the_project_and_not_the_step() {
    let mut history = History::new(Project::new());
    assert!(!history.is_dirty());
    history.apply(&width(60.0)).expect("an edit");
    assert!(history.is_dirty());
    let saving = Arc::clone(history.current());
    history.apply(&width(61.0)).expect("an edit");
    history.mark_saved(saving);
    assert!(history.is_dirty(), "a change made while saving is not saved");
    assert!(history.undo());
    assert!(!history.is_dirty());
    history.apply(&width(61.0)).expect("an edit");
    history.apply(&width(60.0)).expect("an edit");
    assert!(!history.is_dirty(), "back to what is saved, by another way");
}

#[test]
fn the_history_is_bounded_and_shares_what_did_not_change() {
    let mut history = History::new(Project::new());
    history.apply(&Edit::AddDesign).expect("an edit");
    let kept = Arc::clone(&history.current().designs[1]);
    for step in 0..700 {
        history.apply(&width(30.0 + f64::from(step) * 0.1)).expect("an edit");
    }
    let mut back = 0;
    while history.undo() {
        back += 1;
    }
    assert_eq!(back, 500);
    assert!(Arc::ptr_eq(&kept, &history.current().designs[1]));
}

#[test]
fn a_step_names_the_leg_only_where_there_are_several() {
    let mut history = History::new(Project::new());
    history.apply(&Edit::CopyCut { design: DesignId(1), from: Cut::Second }).expect("an edit");
    history.apply(&Edit::AddDesign).expect("an edit");
    assert_eq!(history.undo_label(), Some("Add a leg"));
    history.apply(&Edit::ShapeToPoints { design: DesignId(2), cut: Cut::First }).expect("an edit");
    assert_eq!(history.undo_label(), Some("Turn the first cut into points, leg B"));
}

#[test]
fn a_project_that_no_file_holds_is_dirty_until_it_is_saved() {
    let mut history = History::new(Project::new());
    assert!(!history.is_dirty());
    history.mark_unsaved();
    assert!(history.is_dirty());
    let now = Arc::clone(history.current());
    history.mark_saved(now);
    assert!(!history.is_dirty());
}

#[test]
fn any_step_is_gone_to_at_once_and_what_was_taken_back_is_still_there() {
    let mut history = History::new(Project::new());
    let mut all = vec![Arc::clone(history.current())];
    for letter in ['K', 'L', 'M'] {
        history.apply(&Edit::SetLetter { design: DesignId(1), letter }).expect("a letter");
        all.push(Arc::clone(history.current()));
    }
    let names: Vec<_> = history.changes().collect();
    assert_eq!(names, [(1, "Letter K"), (2, "Letter L"), (3, "Letter M")]);
    for step in [0, 3, 1, 2] {
        assert!(history.go_to(step) && !history.go_to(step));
        assert_eq!((history.step(), history.current()), (step, &all[step]));
        assert_eq!(history.changes().len(), 3);
    }
    assert!(!history.go_to(4));
    history.apply(&Edit::SetLetter { design: DesignId(1), letter: 'Z' }).expect("a letter");
    assert_eq!(history.changes().last(), Some((3, "Letter Z")), "a new change takes the place of what was taken back");
}

#[test]
fn a_gesture_under_way_is_kept_when_the_maker_goes_to_a_step() {
    let mut history = History::new(Project::new());
    history.replace_drag(&Edit::SetLetter { design: DesignId(1), letter: 'K' }).expect("a letter");
    assert!(history.go_to(0));
    assert!(history.redo());
    assert_eq!(history.current().designs[0].letter, 'K');
}

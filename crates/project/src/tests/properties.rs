//! Random edits, gestures, undo and redo: the project stays sound, and undoing all the way is exact.

use super::any;
use super::any_edit::{Deed, How, deed, edit};
use crate::History;
use proptest::prelude::*;

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn undoing_all_the_way_is_exact_and_every_project_on_the_way_is_sound(
        first in any::project(),
        deeds in prop::collection::vec(deed(), 1..60),
    ) {
        prop_assert_eq!(first.check(), Ok(()));
        let mut history = History::new(first.clone());
        for deed in &deeds {
            let before = history.current().clone();
            let edit = edit(history.at_rest(), deed);
            let done = match deed.how {
                How::Step => history.apply(&edit).map(|_| ()),
                How::Drag => history.replace_drag(&edit),
                How::Commit => { history.commit_drag(); Ok(()) }
                How::Drop => { history.drop_drag(); Ok(()) }
                How::Undo => { history.undo(); Ok(()) }
                How::Redo => { history.redo(); Ok(()) }
            };
            if done.is_err() {
                prop_assert_eq!(&before, history.current(), "an edit that fails changes nothing");
            }
            prop_assert_eq!(history.current().check(), Ok(()));
        }
        history.commit_drag();
        let last = history.current().clone();
        let mut back = 0;
        while history.undo() { back += 1; }
        prop_assert_eq!(&first, &**history.current());
        prop_assert!(!history.is_dirty());
        for _ in 0..back { prop_assert!(history.redo()); }
        // Redoing as far as we came back reaches the last project.
        prop_assert_eq!(&last, history.current());
    }

    #[test]
    fn the_same_edit_twice_is_the_same_as_once_for_everything_a_drag_does(
        first in any::project(),
        deed in deed(),
    ) {
        let mut drags: Deed = deed;
        drags.what %= 8;
        let edit = edit(&first, &drags);
        if let Ok(once) = first.apply(&edit) {
            let twice = first.apply(&edit);
            prop_assert_eq!(twice.as_ref(), Ok(&once), "the same from the same start");
            let label = edit.label(&first);
            prop_assert!(label.starts_with("Move "), "{}", label);
        }
    }
}

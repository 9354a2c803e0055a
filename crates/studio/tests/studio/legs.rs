//! The list of legs: choose, duplicate, rename, letter, order, delete.

use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;

use crate::bench::{Bench, points, studio, text};

fn letters(bench: &Bench) -> String {
    bench.state().project().designs.iter().map(|design| design.letter).collect()
}

fn shown(bench: &Bench) -> Option<char> {
    bench.state().view().shown(bench.state().project()).map(|design| design.letter)
}

#[test]
fn legs_are_chosen_by_their_pictures_and_put_in_order() {
    let mut bench = studio(points());
    let first = text(bench.state().project());
    bench.get_by_label_contains("legs of the project").click();
    bench.run();
    for _ in 0..2 {
        bench.get_by_label("Duplicate").click();
        bench.run();
    }
    assert_eq!((letters(&bench).as_str(), shown(&bench)), ("ABC", Some('C')));
    bench.get_by_label("leg A, New leg").click();
    bench.run();
    assert_eq!(shown(&bench), Some('A'));
    bench.get_by_label("Move leg down the list").click();
    bench.run();
    assert_eq!((letters(&bench).as_str(), shown(&bench)), ("BAC", Some('A')), "the leg that was moved is still shown");
    bench.get_by_label("Move leg up the list").click();
    bench.run();
    bench.get_by_label("Delete").click();
    bench.run();
    assert_eq!((letters(&bench).as_str(), shown(&bench)), ("BC", Some('B')), "the next one is shown");
    for _ in 0..5 {
        bench.key_press_modifiers(Modifiers::COMMAND, Key::Z);
        bench.run();
    }
    assert_eq!(first, text(bench.state().project()));
}

#[test]
fn legs_are_reached_by_keys_alone() {
    let mut bench = studio(points());
    for (key, now) in [(Key::D, 'B'), (Key::L, 'C'), (Key::PageUp, 'B'), (Key::PageUp, 'A'), (Key::PageUp, 'C')] {
        bench.key_press_modifiers(Modifiers::COMMAND, key);
        bench.run();
        assert_eq!(shown(&bench), Some(now), "{key:?}");
    }
    bench.key_press_modifiers(Modifiers::COMMAND, Key::PageDown);
    bench.run();
    assert_eq!(shown(&bench), Some('A'));
    assert_eq!(bench.state().history().changes().len(), 2, "to look at another leg is no change");
}

//! The list of changes.

use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;

use crate::bench::{drag, middle, points, press, release, studio, text};

#[test]
fn a_click_in_the_history_goes_to_that_step_and_restores_its_exact_bytes() {
    let mut bench = studio(points());
    assert!(bench.query_by_label_contains("step 0").is_none());
    let mut files = vec![text(bench.state().project())];
    // A drag is one step, however many frames it takes.
    let at = middle(&bench, "first cut, point 2");
    press(&mut bench, at);
    drag(&mut bench, at, egui::vec2(30.0, -20.0), 6, |_| {});
    release(&mut bench, at + egui::vec2(30.0, -20.0));
    bench.run();
    files.push(text(bench.state().project()));
    bench.key_press_modifiers(Modifiers::COMMAND, Key::D);
    bench.run();
    files.push(text(bench.state().project()));
    bench.get_by_label("Layers").click();
    bench.run();
    files.push(text(bench.state().project()));
    bench.get_by_label("history").click();
    bench.run();
    assert!(bench.query_by_label("step 1: Move point 2 of the first cut").is_some());
    assert!(bench.query_by_label("step 2: Duplicate").is_some());
    assert!(bench.query_by_label("step 3: Make the blank of layers, leg B, now").is_some());
    for step in [1, 0, 3, 2] {
        bench.get_by_label_contains(&format!("step {step}: ")).click();
        bench.run();
        assert_eq!(files[step], text(bench.state().project()), "step {step}");
        assert!(bench.query_by_label_contains(&format!("step {step}: ")).is_some(), "the list stays open");
    }
    assert!(bench.query_by_label("step 3: Make the blank of layers, leg B, taken back").is_some());
    assert_eq!(bench.state().history().undo_label(), Some("Duplicate"));
}

#[test]
fn looking_is_not_in_the_history() {
    let mut bench = studio(points());
    for key in [Key::F5, Key::T, Key::Plus, Key::F4, Key::F1, Key::W] {
        bench.key_press(key);
        bench.run();
    }
    bench.get_by_label("first cut, point 2").click();
    bench.run();
    assert_eq!(bench.state().history().changes().len(), 0);
}

#[test]
fn the_history_opens_by_key_once_there_is_one() {
    let mut bench = studio(points());
    bench.key_press_modifiers(Modifiers::COMMAND, Key::H);
    bench.run();
    assert!(bench.query_by_label_contains("step 0").is_none());
    bench.get_by_label("Layers").click();
    bench.run();
    bench.key_press_modifiers(Modifiers::COMMAND, Key::H);
    bench.run();
    // The step that is shown has the keys: Shift and Tab go to the one above it, Enter goes there.
    bench.key_press_modifiers(Modifiers::SHIFT, Key::Tab);
    bench.run();
    bench.key_press(Key::Enter);
    bench.run();
    assert_eq!(bench.state().history().step(), 0);
}

#[test]
fn a_long_name_does_not_hide_that_the_project_is_not_saved() {
    let name = "A stand for newspapers, magazines and all that is read in the evening, the third try of it".to_owned();
    let mut bench = studio(cornerwise_project::Project { name, ..points() });
    bench.run();
    assert!(bench.query_by_label_contains("not saved").is_none());
    bench.key_press_modifiers(Modifiers::COMMAND, Key::D);
    bench.run();
    // All of it is left of the first button beside it, and it is as wide as its words are.
    let (told, beside) = (bench.get_by_label(", not saved").rect(), bench.get_by_label("find").rect());
    assert!(told.right() <= beside.left() && told.width() > 50.0, "{told:?} {beside:?}");
}

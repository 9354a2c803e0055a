//! Figures typed as makers think them: arithmetic, both units, wrong entries.

use cornerwise_geometry::{Cut, Finest, Units};
use cornerwise_project::{Edit, Project};
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;

use crate::bench::{Bench, points, studio, text};

/// Replaces what stands in a field and presses Enter.
pub fn type_into(bench: &mut Bench, label: &str, typed: &str) {
    bench.get_by_label(label).click();
    bench.run();
    bench.key_press_modifiers(Modifiers::COMMAND, Key::A);
    bench.run();
    bench.get_by_label(label).type_text(typed);
    bench.run();
    bench.key_press(Key::Enter);
    bench.run();
}

pub fn shown(bench: &Bench, label: &str) -> Option<String> {
    bench.get_by_label(label).value()
}

/// Undo gives back the project as it was, byte for byte.
pub fn undone(bench: &mut Bench, before: &str) {
    bench.get_by_label("Undo").click();
    bench.run();
    assert_eq!(before, text(bench.state().project()));
}

#[test]
fn a_length_is_reckoned_from_the_blank_and_keeps_its_text_as_long_as_it_is_true() {
    let mut bench = studio(points());
    let before = text(bench.state().project());
    type_into(&mut bench, "blank, depth", "W - 1/4\"");
    let depth = bench.state().project().designs[0].blank.depth.clone();
    assert_eq!((depth.mm(), depth.typed()), (43.65, Some("W - 1/4\"")));
    assert_eq!(shown(&bench, "blank, depth").as_deref(), Some("W - 1/4\""));
    undone(&mut bench, &before);
    bench.get_by_label("Redo").click();
    bench.run();
    // The blank gets wider: the depth stays what it is, and says no longer what it was.
    type_into(&mut bench, "blank, width", "W + 10");
    let blank = bench.state().project().designs[0].blank.clone();
    assert_eq!((blank.width.mm(), blank.width.typed(), blank.depth.mm()), (60.0, None, 43.65));
    assert_eq!(shown(&bench, "blank, depth").as_deref(), Some("43.65 mm"));
    // And again when it is true again.
    type_into(&mut bench, "blank, width", "50");
    assert_eq!(shown(&bench, "blank, depth").as_deref(), Some("W - 1/4\""));
}

#[test]
fn a_bare_number_in_arithmetic_is_in_the_projects_units() {
    let inches = points().apply(&Edit::SetUnits { units: Units::Inches(Finest::Sixteenth) }).unwrap();
    let mut bench = studio(inches);
    type_into(&mut bench, "blank, length", "2*(W + 10)");
    let length = bench.state().project().designs[0].blank.length.clone();
    // 2 (50 mm + 10 * 25.4 mm)
    assert_eq!((length.mm(), length.typed()), (608.0, Some("2*(W + 10\")")));
    bench.get_by_label("first cut, point 2").click();
    bench.run();
    type_into(&mut bench, "first cut, point 2, offset", "W/2 - 1/8");
    let point = bench.state().project().designs[0].points(Cut::First)[1].clone();
    assert_eq!((point.offset.mm(), point.offset.typed()), (21.825, Some("W/2 - 1/8\"")));
}

#[test]
fn a_wrong_sum_says_what_is_wrong_and_changes_nothing() {
    let mut bench = studio(Project::new());
    let before = text(bench.state().project());
    for (typed, says) in [
        ("W*D", "an area"),
        ("W/(D - W)", "nothing can be divided by 0"),
        ("(W", "never closed"),
        ("W - 2-3/4", "type 2 3/4 or (2) - 3/4"),
        ("Q/2", "\"Q/2\" is not part of a length"),
    ] {
        type_into(&mut bench, "blank, width", typed);
        assert_eq!(before, text(bench.state().project()), "{typed}");
        assert!(bench.query_by_label_contains(says).is_some(), "{typed}");
    }
    type_into(&mut bench, "first cut, turn", "1/2");
    assert!(text(bench.state().project()).contains("turn: 0.5,"));
}

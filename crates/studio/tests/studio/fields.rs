//! Typing into fields.

use cornerwise_export::files;
use cornerwise_geometry::{Cut, Finest, Units};
use cornerwise_project::{Edit, Project};
use cornerwise_studio::view::Place;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;

use crate::bench::{Bench, points, studio};

/// Replaces what stands in a field and presses Enter.
fn type_into(bench: &mut Bench, label: &str, text: &str) {
    only_type(bench, label, text);
    bench.key_press(Key::Enter);
    bench.run();
}

/// Replaces what stands in a field and stays in it.
fn only_type(bench: &mut Bench, label: &str, text: &str) {
    bench.get_by_label(label).click();
    bench.run();
    bench.key_press_modifiers(Modifiers::COMMAND, Key::A);
    bench.run();
    bench.get_by_label(label).type_text(text);
    bench.run();
}

fn width(bench: &Bench) -> f64 {
    bench.state().project().designs[0].blank.width.mm()
}

#[test]
fn what_is_being_typed_is_saved_too() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("leg.ron");
    files::save(&Project::new(), &path).unwrap();
    let mut bench = studio(points());
    bench.input_mut().dropped_files.push(std::sync::Arc::new(crate::files::Dropped(path.clone())));
    bench.run();
    only_type(&mut bench, "blank, width", "61");
    assert_eq!(width(&bench), 50.0);
    bench.key_press_modifiers(Modifiers::COMMAND, Key::S);
    bench.run();
    assert_eq!((width(&bench), files::load(&path).unwrap().designs[0].blank.width.mm()), (61.0, 61.0));
    assert!(!bench.state().history().is_dirty());
    // A wrong entry is not passed over: nothing is saved, and why is said.
    let before = std::fs::read(&path).unwrap();
    only_type(&mut bench, "blank, width", "banana");
    bench.key_press_modifiers(Modifiers::COMMAND, Key::S);
    bench.run();
    assert!(bench.state().notice().is_some_and(|notice| notice.wrong && notice.words.contains("banana")));
    assert_eq!(before, std::fs::read(&path).unwrap());
    bench.key_press(Key::Escape);
    bench.run();
    bench.key_press_modifiers(Modifiers::COMMAND, Key::Q);
    bench.run();
    assert!(bench.state().has_left(), "what was put back with Escape holds nothing up");
}

#[test]
fn leaving_asks_about_what_is_being_typed() {
    let mut bench = studio(Project::new());
    only_type(&mut bench, "blank, width", "61");
    bench.key_press_modifiers(Modifiers::COMMAND, Key::Q);
    bench.run();
    assert!(!bench.state().has_left() && bench.query_by_label("Don't save").is_some());
    assert_eq!(width(&bench), 61.0);
}

#[test]
fn going_to_the_paper_takes_what_is_being_typed() {
    for by_key in [true, false] {
        let mut bench = studio(Project::new());
        only_type(&mut bench, "blank, width", "61");
        if by_key {
            bench.key_press(Key::F4);
        } else {
            bench.get_by_label("Paper").click();
        }
        bench.run();
        assert_eq!((width(&bench), bench.state().view().place), (61.0, Place::Paper));
    }
}

#[test]
fn a_wrong_entry_in_a_field_that_is_gone_holds_nothing_up() {
    let mut bench = studio(points());
    bench.get_by_label("first cut, point 2").click();
    bench.run();
    only_type(&mut bench, "first cut, point 2, from top", "banana");
    bench.get_by_label("first cut, point 3").click();
    bench.run();
    bench.key_press(Key::F4);
    bench.run();
    assert_eq!(bench.state().view().place, Place::Paper);
}

#[test]
fn a_length_is_typed_as_makers_write_it_and_kept_as_it_was_typed() {
    let mut bench = studio(Project::new());
    type_into(&mut bench, "blank, width", "2 3/4\"");
    let width = bench.state().project().designs[0].blank.width.clone();
    assert_eq!((width.mm(), width.typed()), (69.85, Some("2 3/4\"")));
    assert_eq!(bench.get_by_label("blank, width").value().as_deref(), Some("2 3/4\""));
    assert_eq!(bench.state().history().undo_label(), Some("Change the width of the blank"));
}

#[test]
fn a_bare_number_is_taken_in_the_projects_units() {
    let inches = Project::new().apply(&Edit::SetUnits { units: Units::Inches(Finest::Sixteenth) }).unwrap();
    let mut bench = studio(inches);
    type_into(&mut bench, "blank, depth", "3");
    assert_eq!(bench.state().project().designs[0].blank.depth.mm(), 76.2);
}

#[test]
fn a_wrong_entry_says_what_is_wrong_and_changes_nothing() {
    let mut bench = studio(Project::new());
    let before = bench.state().project().clone();
    for (text, says) in [("2 3/x", "x"), ("0", "3 mm to 1000 mm"), ("banana", "banana")] {
        type_into(&mut bench, "blank, width", text);
        assert_eq!(before, *bench.state().project(), "{text}");
        let said = bench.get_by_label_contains("Not taken").rect();
        assert!(said.width() > 20.0);
        assert!(bench.query_by_label_contains(says).is_some(), "{text}");
    }
    // Escape puts back what was there.
    bench.get_by_label("blank, width").click();
    bench.run();
    bench.key_press(Key::Escape);
    bench.run();
    assert!(bench.query_by_label_contains("Not taken").is_none());
    assert_eq!(bench.get_by_label("blank, width").value().as_deref(), Some("50 mm"));
}

#[test]
fn parameters_of_a_live_shape_are_fields() {
    let mut bench = studio(Project::new());
    let before = bench.state().project().clone();
    type_into(&mut bench, "first cut, swing", "30");
    let after = bench.state().project().clone();
    assert_ne!(before.designs[0].first, after.designs[0].first);
    assert_eq!(before.designs[0].second, after.designs[0].second);
    type_into(&mut bench, "first cut, turn", "2");
    assert_eq!(after, *bench.state().project());
    assert!(bench.query_by_label_contains("Turn is 0.1 to 0.9").is_some());
}

#[test]
fn the_chosen_points_figures_are_fields() {
    let mut bench = studio(points());
    bench.get_by_label("first cut, point 2").click();
    bench.run();
    type_into(&mut bench, "first cut, point 2, from top", "200");
    let point = bench.state().project().designs[0].points(Cut::First)[1].clone();
    assert_eq!(point.from_top.mm(), 200.0);
}

#[test]
fn units_change_what_is_shown_and_not_what_is() {
    let mut bench = studio(Project::new());
    let before = bench.state().project().designs.clone();
    bench.get_by_label("units").click();
    bench.run();
    bench.get_by_label("inches, 1/16").click();
    bench.run();
    assert_eq!(bench.get_by_label("blank, width").value().as_deref(), Some("1 15/16\""));
    assert_eq!(before, bench.state().project().designs);
}

#[test]
fn wood_is_chosen_and_seams_answer() {
    let mut bench = studio(Project::new());
    bench.get_by_label("Layers").click();
    bench.run();
    assert!(matches!(bench.state().project().designs[0].wood, cornerwise_wood::Wood::Layers(_)));
    bench.key_press(Key::F5);
    bench.run();
    for row in ["lines meet: 100 %;", "same wood: 100 %;", "pattern carries on: 100 %;"] {
        let told = bench.query_by_label_contains(row);
        assert!(told.is_some(), "{row} standing layers with half a layer at either face hide the seams");
    }
    bench.key_press(Key::F5);
    bench.run();
    type_into(&mut bench, "layers, lean", "20");
    bench.key_press(Key::F5);
    bench.run();
    assert!(bench.query_by_label_contains("lines meet: 100 %;").is_none(), "sloping ones do not");
}

#[test]
fn a_leg_and_the_project_are_renamed_in_the_menu_that_stays_open() {
    let mut bench = studio(Project::new());
    bench.get_by_label_contains("legs of the project").click();
    bench.run();
    type_into(&mut bench, "leg, name", "Corner leg");
    type_into(&mut bench, "project, name", "Reading room");
    assert_eq!(bench.state().project().designs[0].name, "Corner leg");
    assert_eq!(bench.state().project().name, "Reading room");
}

#[test]
fn a_look_at_layers_costs_no_figure_of_the_timber() {
    let mut bench = studio(Project::new());
    type_into(&mut bench, "timber, ring width", "4.5");
    let before = bench.state().project().designs[0].wood.clone();
    for kind in ["Layers", "Timber"] {
        bench.get_by_label(kind).click();
        bench.run();
    }
    assert_eq!(before, bench.state().project().designs[0].wood);
}

#[test]
fn a_drawn_line_is_taken_along_when_the_leg_gets_longer() {
    let mut bench = studio(points());
    let before = bench.state().project().designs[0].clone();
    type_into(&mut bench, "blank, length", "1400");
    let after = bench.state().project().designs[0].clone();
    assert_eq!(after.blank.length.mm(), 1400.0);
    for (was, is) in before.points(Cut::First).iter().zip(after.points(Cut::First)) {
        assert_eq!(is.from_top.mm(), 2.0 * was.from_top.mm());
        assert_eq!(is.offset.mm(), was.offset.mm());
    }
}

#[test]
fn a_line_is_mirrored_across_and_undone_in_one_step() {
    let mut bench = studio(points());
    let before = bench.state().project().clone();
    bench.get_by_label("first cut, whole line").click();
    bench.run();
    bench.get_by_label("Mirror across").click();
    bench.run();
    assert_eq!(before, *bench.state().project(), "it is shown on the face first");
    bench.get_by_label("first cut, whole line, apply").click();
    bench.run();
    let now = bench.state().project().designs[0].points(Cut::First);
    for (was, is) in before.designs[0].points(Cut::First).iter().zip(now) {
        assert!((is.offset.mm() - (50.0 - was.offset.mm())).abs() < 1e-9);
    }
    assert_eq!(bench.state().history().undo_label(), Some("Mirror the first cut across"));
    bench.get_by_label("Undo").click();
    bench.run();
    assert_eq!(before, *bench.state().project());
}

/// What was refused is the last thing that was done: undo takes back that, and only then what was done before it.
#[test]
fn undo_after_a_refused_entry_puts_the_field_back_first_and_then_undoes() {
    let mut bench = studio(Project::new());
    type_into(&mut bench, "blank, width", "60");
    type_into(&mut bench, "blank, width", "banana");
    assert!(bench.query_by_label_contains("Not taken").is_some());
    bench.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    bench.run();
    assert!(bench.query_by_label_contains("Not taken").is_none() && bench.state().notice().is_none());
    assert_eq!(bench.get_by_label("blank, width").value().as_deref(), Some("60 mm"));
    assert_eq!(width(&bench), 60.0);
    bench.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    bench.run();
    assert_eq!(width(&bench), 50.0);
    // The same by its button, straight from the typing.
    bench.key_press_modifiers(Modifiers::COMMAND, Key::Y);
    bench.run();
    only_type(&mut bench, "blank, width", "banana");
    bench.get_by_label("Undo").click();
    bench.run();
    assert_eq!((width(&bench), bench.get_by_label("blank, width").value().as_deref()), (60.0, Some("60 mm")));
    bench.get_by_label("Undo").click();
    bench.run();
    assert_eq!(width(&bench), 50.0);
}

/// Enter takes the keys from the field, so Esc comes from elsewhere: it is about what was refused all the same, and closes
/// nothing.
#[test]
fn esc_after_a_refused_entry_puts_the_field_back_and_closes_no_panel() {
    let mut bench = studio(Project::new());
    bench.key_press_modifiers(Modifiers::SHIFT, Key::K);
    bench.run();
    type_into(&mut bench, "blank, width", "banana");
    bench.key_press(Key::Escape);
    bench.run();
    assert!(bench.query_by_label_contains("Not taken").is_none());
    assert!(bench.query_by_label("mark a knot on face 1").is_some());
    bench.key_press(Key::Escape);
    bench.run();
    assert!(bench.query_by_label("mark a knot on face 1").is_none());
    // A list as well as a length.
    bench.key_press(Key::F4);
    bench.run();
    bench.get_by_label("Gauge of level sections").click();
    bench.run();
    let field = "paper, heights of the gauge from the top";
    for key in [(Modifiers::NONE, Key::Escape), (Modifiers::COMMAND, Key::Z)] {
        type_into(&mut bench, field, "tall");
        assert!(bench.query_by_label_contains("Not taken").is_some());
        bench.key_press_modifiers(key.0, key.1);
        bench.run();
        assert!(bench.query_by_label_contains("Not taken").is_none());
        assert_eq!(bench.get_by_label(field).value().as_deref(), Some(""));
        assert!(bench.query_by_label(field).is_some(), "the gauge is still wanted");
    }
}

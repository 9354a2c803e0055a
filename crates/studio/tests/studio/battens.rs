//! Battens and links: every gesture, and back to the exact bytes.

use cornerwise_geometry::{Cut, Holds, Line, Link, Pin};
use cornerwise_project::{DesignId, Edit, Project};
use egui::{Key, Modifiers, PointerButton, vec2};
use egui_kittest::kittest::Queryable;

use crate::bench::{Bench, double_click, drag, middle, points, press, release, studio, text};
use crate::typing::{type_into, undone};

/// A new project whose first cut is a batten.
fn batten() -> Project {
    let (design, cut, tolerance) = (DesignId(1), Cut::First, 0.5.into());
    Project::new().apply(&Edit::MakeBatten { design, cut, tolerance }).unwrap()
}

fn pins(bench: &Bench) -> Vec<Pin> {
    let Line::Batten(batten) = bench.state().project().designs[0].line(Cut::First) else { return Vec::new() };
    batten.pins.clone()
}

fn click(bench: &mut Bench, label: &str) {
    bench.get_by_label(label).click();
    bench.run();
}

/// Opens the menu of what is at a place.
fn menu(bench: &mut Bench, label: &str) {
    let at = middle(bench, label);
    bench.hover_at(at);
    for pressed in [true, false] {
        let (button, modifiers) = (PointerButton::Secondary, Modifiers::NONE);
        bench.event(egui::Event::PointerButton { pos: at, button, pressed, modifiers });
        bench.step();
    }
    bench.run();
}

#[test]
fn a_pin_is_dragged_with_and_without_a_snap_and_the_batten_stays_one() {
    for held_off in [false, true] {
        let mut bench = studio(batten());
        let before = text(bench.state().project());
        let was = pins(&bench);
        let at = middle(&bench, "first cut, pin 2");
        let px_per_mm = bench.state().faces_on_screen().unwrap().px_per_mm;
        // Three points beside the centre line of the face.
        let by = vec2(14.0, ((25.0 - was[1].offset.mm()) * px_per_mm) as f32 + 3.0);
        press(&mut bench, at);
        if held_off {
            bench.event(egui::Event::ModifiersChanged(Modifiers::ALT));
        }
        drag(&mut bench, at, by, 4, |_| {});
        assert!(bench.state().history().is_dragging());
        let now = pins(&bench);
        assert_eq!(now[1].offset.mm() == 25.0, !held_off, "{:?}", now[1]);
        release(&mut bench, at + by);
        bench.run();
        let now = pins(&bench);
        assert_eq!(now.len(), was.len());
        for (was, is) in was.iter().zip(&now).filter(|(was, _)| was.id != now[1].id) {
            assert_eq!(was, is, "only the held pin moves; the strip follows");
        }
        assert_eq!(bench.state().history().undo_label(), Some("Move pin 2 of the first cut"));
        bench.event(egui::Event::ModifiersChanged(Modifiers::NONE));
        undone(&mut bench, &before);
    }
}

#[test]
fn a_pin_is_nudged_typed_and_refused_in_both_units() {
    for (units, step, typed, mm) in [
        (None, 1.0, "W/2 + 3", 28.0),
        (
            Some(cornerwise_geometry::Units::Inches(cornerwise_geometry::Finest::Sixteenth)),
            25.4 / 16.0,
            "1 1/8",
            28.575,
        ),
    ] {
        let mut project = batten();
        if let Some(units) = units {
            project = project.apply(&Edit::SetUnits { units }).unwrap();
        }
        let mut bench = studio(project);
        let before = text(bench.state().project());
        let was = pins(&bench)[1].offset.mm();
        click(&mut bench, "first cut, pin 2");
        bench.key_press(Key::ArrowDown);
        bench.run();
        assert!((pins(&bench)[1].offset.mm() - was - step).abs() < 1e-9);
        undone(&mut bench, &before);
        type_into(&mut bench, "first cut, pin 2, offset", typed);
        assert!((pins(&bench)[1].offset.mm() - mm).abs() < 1e-9, "{:?}", pins(&bench)[1]);
        assert!(pins(&bench)[1].offset.typed().is_some(), "what was typed is kept");
        undone(&mut bench, &before);
        type_into(&mut bench, "first cut, pin 2, from top", "L");
        assert_eq!(before, text(bench.state().project()));
        let unit = if units.is_some() { "\" from the top" } else { " mm from the top" };
        assert!(bench.query_by_label_contains(unit).is_some(), "the refusal speaks in the project's units");
    }
}

#[test]
fn a_pin_is_added_by_a_double_click_and_deleted_by_key_and_by_menu() {
    let mut bench = studio(batten());
    let before = text(bench.state().project());
    let was = pins(&bench);
    let s = f64::midpoint(was[0].from_top.mm(), was[1].from_top.mm());
    let offset = bench.state().project().designs[0].leg().unwrap().a(s);
    let at = bench.state().faces_on_screen().unwrap().pos(Cut::First, s, offset);
    double_click(&mut bench, at);
    assert_eq!(pins(&bench).len(), was.len() + 1);
    assert_eq!(bench.state().history().undo_label(), Some("Add a pin to the first cut"));
    let leg = bench.state().project().designs[0].leg().unwrap();
    assert!((leg.a(s) - offset).abs() < 2e-3, "put against the strip where it lies, it moves nothing");
    // The new pin is the chosen one.
    bench.key_press(Key::Delete);
    bench.run();
    assert_eq!(pins(&bench), was);
    for _ in 0..2 {
        bench.key_press_modifiers(Modifiers::COMMAND, Key::Z);
        bench.run();
    }
    assert_eq!(before, text(bench.state().project()));
    menu(&mut bench, "first cut, pin 2");
    click(&mut bench, "Delete pin");
    assert_eq!(pins(&bench).len(), was.len() - 1);
    undone(&mut bench, &before);
}

#[test]
fn a_pin_holds_its_direction_and_is_turned_by_its_handle_and_by_a_typed_slope() {
    let mut bench = studio(batten());
    let before = text(bench.state().project());
    click(&mut bench, "first cut, pin 2");
    click(&mut bench, "Hold direction");
    let Holds::Direction { slope } = pins(&bench)[1].holds else { panic!("held") };
    let leg = bench.state().project().designs[0].leg().unwrap();
    let at = leg.first.at(pins(&bench)[1].from_top.mm());
    assert!((at.slope - slope).abs() < 1e-6, "the direction that it has now");
    let held = text(bench.state().project());
    let handle = middle(&bench, "first cut, pin 2, handle toward the foot");
    press(&mut bench, handle);
    drag(&mut bench, handle, vec2(0.0, 15.0), 4, |_| {});
    release(&mut bench, handle + vec2(0.0, 15.0));
    bench.run();
    let Holds::Direction { slope: turned } = pins(&bench)[1].holds else { panic!("held") };
    assert!(turned > slope);
    undone(&mut bench, &held);
    type_into(&mut bench, "first cut, pin 2, slope", "1:20");
    assert_eq!(pins(&bench)[1].holds, Holds::Direction { slope: 0.05 });
    undone(&mut bench, &held);
    click(&mut bench, "Hold direction");
    assert_eq!(pins(&bench)[1].holds, Holds::Position);
    bench.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    bench.run();
    undone(&mut bench, &before);
}

#[test]
fn a_line_becomes_a_batten_and_points_again_within_what_is_said() {
    let mut bench = studio(points());
    let before = text(bench.state().project());
    let line = |bench: &Bench| bench.state().project().designs[0].leg().unwrap().first.clone();
    let was = line(&bench);
    click(&mut bench, "first cut, shape");
    click(&mut bench, "batten");
    let laid = line(&bench);
    assert!(pins(&bench).len() < 12);
    click(&mut bench, "first cut, shape");
    click(&mut bench, "points");
    assert!(matches!(bench.state().project().designs[0].line(Cut::First), Line::Points(_)));
    let drawn = line(&bench);
    for s in (0..=7000).map(|i| f64::from(i) * 0.1) {
        assert!((laid.offset(s) - was.offset(s)).abs() <= 0.5, "at {s}");
        assert!((drawn.offset(s) - laid.offset(s)).abs() <= 0.05, "at {s}");
    }
    bench.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    bench.run();
    undone(&mut bench, &before);
}

#[test]
fn pins_are_typed_in_the_table_and_held_and_let_go_there() {
    let mut bench = studio(batten());
    let before = text(bench.state().project());
    click(&mut bench, "first cut, table of points");
    type_into(&mut bench, "table, first cut, pin 2, offset", "W/2");
    assert_eq!(pins(&bench)[1].offset.mm(), 25.0);
    assert!(bench.get_by_label("table, first cut, pin 3, offset").is_focused());
    undone(&mut bench, &before);
    assert!(bench.query_by_label("table, first cut, pin 2, slope").is_none(), "a free pin has no slope of its own");
    click(&mut bench, "table, first cut, pin 2, free");
    let held = text(bench.state().project());
    type_into(&mut bench, "table, first cut, pin 2, slope", "3°");
    assert_eq!(pins(&bench)[1].holds, Holds::Direction { slope: 3_f64.to_radians().tan() });
    undone(&mut bench, &held);
    click(&mut bench, "table, first cut, pin 2, held");
    assert_eq!(pins(&bench)[1].holds, Holds::Position);
    bench.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    bench.run();
    undone(&mut bench, &before);
    let count = pins(&bench).len();
    click(&mut bench, "table, first cut, pin 2");
    click(&mut bench, "table, first cut, add a pin");
    assert_eq!(pins(&bench).len(), count + 1);
    undone(&mut bench, &before);
    click(&mut bench, "table, first cut, pin 2");
    click(&mut bench, "table, first cut, delete the chosen pin");
    assert_eq!(pins(&bench).len(), count - 1);
    undone(&mut bench, &before);
}

#[test]
fn the_second_cut_is_linked_follows_and_is_broken_by_hand_by_choice_and_by_a_typed_figure() {
    let mut bench = studio(points());
    let before = text(bench.state().project());
    click(&mut bench, "second cut, link");
    click(&mut bench, "mirror of face 1");
    assert_eq!(bench.state().project().designs[0].second, Line::Linked(Link::Mirrored));
    let linked = text(bench.state().project());
    let follows = |bench: &Bench| {
        let leg = bench.state().project().designs[0].leg().unwrap();
        (0..=70).map(|i| f64::from(i) * 10.0).all(|s| (leg.a(s) + leg.b(s) - 50.0).abs() < 1e-9)
    };
    assert!(follows(&bench));
    // What moves on face 1 moves on face 2 in the same frame, as its mirror.
    let at = middle(&bench, "first cut, point 2");
    press(&mut bench, at);
    drag(&mut bench, at, vec2(20.0, -14.0), 4, |bench| assert!(follows(bench)));
    release(&mut bench, at + vec2(20.0, -14.0));
    bench.run();
    undone(&mut bench, &linked);
    // A point of the second cut moved by hand breaks the link, as one step that says so.
    let at = middle(&bench, "second cut, point 2");
    press(&mut bench, at);
    drag(&mut bench, at, vec2(20.0, 10.0), 4, |_| {});
    release(&mut bench, at + vec2(20.0, 10.0));
    bench.run();
    assert!(matches!(bench.state().project().designs[0].second, Line::Points(_)));
    assert!(bench.state().history().undo_label().is_some_and(|label| label.ends_with("no longer linked")));
    undone(&mut bench, &linked);
    // So does a figure typed in its table.
    click(&mut bench, "second cut, table of points");
    assert!(bench.query_by_label_contains("What is typed here breaks the link").is_some());
    type_into(&mut bench, "table, second cut, point 2, offset", "20");
    assert!(matches!(bench.state().project().designs[0].second, Line::Points(_)));
    assert!(bench.state().history().undo_label().is_some_and(|label| label.ends_with("no longer linked")));
    undone(&mut bench, &linked);
    click(&mut bench, "second cut, link");
    click(&mut bench, "a line of its own");
    assert!(matches!(bench.state().project().designs[0].second, Line::Points(_)));
    assert!(follows(&bench), "broken, the line stays as it is");
    undone(&mut bench, &linked);
    undone(&mut bench, &before);
}

#[test]
fn a_shifted_link_takes_its_shift_in_the_project_s_units() {
    let mut bench = studio(points());
    click(&mut bench, "second cut, link");
    click(&mut bench, "face 1 shifted along");
    let linked = text(bench.state().project());
    type_into(&mut bench, "second cut, shift along", "1 1/4\"");
    let leg = bench.state().project().designs[0].leg().unwrap();
    assert!((leg.b(331.75) - leg.a(300.0)).abs() < 1e-9);
    undone(&mut bench, &linked);
}

//! Snaps, and handles tied or free, by hand.

use cornerwise_geometry::Cut;
use cornerwise_project::{DesignId, Edit, Project};
use egui::{Event, Key, Modifiers, Pos2, Vec2, vec2};
use egui_kittest::kittest::Queryable;

use crate::bench::{Bench, drag, middle, points, press, release, studio, text};

/// Point 2 of the first cut: distance from the top and offset, mm.
fn place(bench: &Bench) -> [f64; 2] {
    let point = bench.state().project().designs[0].points(Cut::First)[1].clone();
    [point.from_top.mm(), point.offset.mm()]
}

/// Moves the pressed pointer with keys held from now on.
fn moved(bench: &mut Bench, to: Pos2, modifiers: Modifiers) {
    bench.event(Event::ModifiersChanged(modifiers));
    bench.hover_at(to);
    bench.step();
}

/// All words on screen.
fn words(bench: &Bench) -> String {
    let shapes = bench.output().shapes.iter();
    let texts = shapes.filter_map(|shape| match &shape.shape {
        egui::Shape::Text(text) => Some(text.galley.text().to_owned()),
        _ => None,
    });
    texts.collect::<Vec<_>>().join("\n")
}

/// Where a place on the face of the first cut lies on screen.
fn at(bench: &Bench, s: f64, offset: f64) -> Pos2 {
    bench.state().faces_on_screen().unwrap().pos(Cut::First, s, offset)
}

#[test]
fn a_dragged_point_is_caught_and_says_by_what_and_alt_holds_it_off_and_undo_is_exact() {
    let mut bench = studio(points());
    let file = text(bench.state().project());
    let start = middle(&bench, "first cut, point 2");
    let target = at(&bench, 250.0, 25.0);
    press(&mut bench, start);
    // Three points beside the centre line of the face.
    let beside = target + vec2(0.0, 3.0);
    drag(&mut bench, start, beside - start, 4, |_| {});
    assert_eq!(place(&bench)[1], 25.0, "exactly on it");
    let said = words(&bench);
    assert!(said.contains("centre line") && said.contains("Alt holds it off"), "{said}");
    moved(&mut bench, beside, Modifiers::ALT);
    let free = place(&bench)[1];
    assert!((free - 25.0).abs() > 0.1 && (free - 25.0).abs() < 3.0, "{free}");
    assert!(!words(&bench).contains("centre line"));
    moved(&mut bench, beside, Modifiers::NONE);
    assert_eq!(place(&bench)[1], 25.0);
    release(&mut bench, beside);
    bench.run();
    assert_eq!(place(&bench)[1], 25.0);
    assert!(!words(&bench).contains("Alt holds it off"));
    bench.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    bench.run();
    assert_eq!(file, text(bench.state().project()));
}

#[test]
fn out_of_a_snap_and_back_to_where_it_began_is_exactly_where_it_began() {
    // An offset that no figure on screen has, near the centre line.
    let design = DesignId(1);
    let project = points();
    let point = project.designs[0].points(Cut::First)[1].id;
    let odd = Edit::PlacePoint {
        design,
        cut: Cut::First,
        point,
        from_top: (200.0 / 3.0 + 100.0).into(),
        offset: (24.0 + 2.0 / 3.0).into(),
    };
    let mut bench = studio(project.apply(&odd).unwrap());
    let (file, before) = (text(bench.state().project()), place(&bench));
    let start = middle(&bench, "first cut, point 2") + vec2(4.0, 3.0);
    press(&mut bench, start);
    let mut seen = Vec::new();
    for by in [vec2(30.0, 2.0), vec2(-40.0, -25.0), vec2(3.0, 90.0), vec2(0.0, 0.0)] {
        for share in [0.3, 0.7, 1.0] {
            moved(&mut bench, start + by * share, Modifiers::NONE);
        }
        moved(&mut bench, start + by, Modifiers::NONE);
        seen.push(place(&bench));
    }
    assert_eq!(seen[0][1], 25.0, "caught by the centre line");
    assert_eq!(place(&bench), before, "to the last bit");
    release(&mut bench, start);
    bench.run();
    assert_eq!(file, text(bench.state().project()));
    assert_eq!(bench.state().history().undo_label(), None, "nothing was changed, so there is nothing to undo");
}

#[test]
fn the_grid_is_in_the_menu_with_its_step_and_the_keys_turn_it_on_and_off() {
    let mut bench = studio(points());
    bench.get_by_label("snaps menu").click();
    bench.run();
    bench.get_by_label_contains("Snap to grid").click();
    bench.run();
    assert!(bench.state().view().snaps.grid);
    bench.get_by_label("snaps, grid step").click();
    bench.run();
    bench.key_press_modifiers(Modifiers::COMMAND, Key::A);
    bench.get_by_label("snaps, grid step").type_text("7 mm");
    bench.key_press(Key::Enter);
    bench.run();
    assert_eq!(bench.state().view().snaps.step.mm(), 7.0);
    bench.key_press(Key::Escape);
    bench.run();
    let file = text(bench.state().project());
    let start = middle(&bench, "first cut, point 2");
    let (from, to) = (start, at(&bench, 253.0, 36.0));
    press(&mut bench, from);
    drag(&mut bench, from, to - from, 4, |_| {});
    release(&mut bench, to);
    bench.run();
    assert_eq!(place(&bench), [252.0, 35.0]);
    bench.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    bench.run();
    assert_eq!(file, text(bench.state().project()));
    bench.key_press_modifiers(Modifiers::SHIFT, Key::S);
    bench.run();
    assert!(!bench.state().view().snaps.grid);
    bench.key_press(Key::S);
    bench.run();
    assert!(!bench.state().view().snaps.on);
    let target = at(&bench, 250.0, 25.0) + vec2(0.0, 3.0);
    let start = middle(&bench, "first cut, point 2");
    press(&mut bench, start);
    drag(&mut bench, start, target - start, 4, |_| {});
    release(&mut bench, target);
    bench.run();
    assert!(place(&bench)[1] != 25.0, "nothing catches");
}

#[test]
fn several_points_are_caught_by_the_one_that_is_held_and_not_by_one_another() {
    let mut bench = studio(points());
    let before: Vec<f64> =
        bench.state().project().designs[0].points(Cut::First).iter().map(|p| p.offset.mm()).collect();
    bench.get_by_label("first cut, point 2").click();
    bench.run();
    bench.key_press_modifiers(Modifiers::COMMAND, Key::A);
    bench.run();
    let start = middle(&bench, "first cut, point 2");
    let target = start + (at(&bench, 0.0, 25.0) - at(&bench, 0.0, before[1])) + vec2(0.0, 4.0);
    press(&mut bench, start);
    drag(&mut bench, start, target - start, 4, |_| {});
    release(&mut bench, target);
    bench.run();
    let after: Vec<f64> = bench.state().project().designs[0].points(Cut::First).iter().map(|p| p.offset.mm()).collect();
    assert_eq!(after[1], 25.0);
    for (was, is) in before.iter().zip(&after) {
        assert!((is - was - (25.0 - before[1])).abs() < 1e-9, "{before:?} {after:?}");
    }
}

fn reaches(bench: &Bench) -> [f64; 2] {
    let kind = bench.state().project().designs[0].points(Cut::First)[2].kind;
    [kind.before().1, kind.after().1]
}

/// Drags the handle toward the foot of point 3 with keys held.
fn drag_handle(bench: &mut Bench, by: Vec2, modifiers: Modifiers) {
    let at = middle(bench, "first cut, point 3, handle toward the foot");
    press(bench, at);
    for share in [0.4, 0.8, 1.0] {
        moved(bench, at + by * share, modifiers);
    }
    release(bench, at + by);
    bench.event(Event::ModifiersChanged(Modifiers::NONE));
    bench.run();
}

#[test]
fn handles_are_tied_by_a_key_or_while_one_is_dragged_and_freed_the_same_ways() {
    let mut bench = studio(points());
    let file = text(bench.state().project());
    bench.get_by_label("first cut, point 3").click();
    bench.run();
    bench.key_press(Key::H);
    bench.run();
    assert_eq!(bench.state().history().undo_label(), Some("Tie the handles of point 3 of the first cut"));
    let tied = reaches(&bench);
    assert_eq!(tied[0], tied[1]);
    drag_handle(&mut bench, vec2(-25.0, 10.0), Modifiers::NONE);
    let together = reaches(&bench);
    assert!(together[0] < tied[0] - 10.0, "{together:?}");
    assert_eq!(together[0], together[1], "moved together");
    // With Ctrl held, alone; and free from then on.
    drag_handle(&mut bench, vec2(20.0, 0.0), Modifiers::COMMAND);
    let alone = reaches(&bench);
    assert_eq!(alone[0], together[0]);
    assert!(alone[1] > together[1] + 10.0, "{alone:?}");
    assert!(!bench.state().project().designs[0].points(Cut::First)[2].tied);
    // And with Ctrl held again, together.
    drag_handle(&mut bench, vec2(-15.0, 0.0), Modifiers::COMMAND);
    let again = reaches(&bench);
    assert_eq!(again[0], again[1]);
    assert!(bench.state().project().designs[0].points(Cut::First)[2].tied);
    for _ in 0..4 {
        bench.key_press_modifiers(Modifiers::COMMAND, Key::Z);
        bench.run();
    }
    assert_eq!(file, text(bench.state().project()));
}

#[test]
fn a_handle_is_caught_along_the_grain() {
    let mut bench = studio(points());
    bench.get_by_label("first cut, point 3").click();
    bench.run();
    let point = middle(&bench, "first cut, point 3");
    let at = middle(&bench, "first cut, point 3, handle toward the foot");
    press(&mut bench, at);
    let target = Pos2::new(at.x, point.y + 4.0);
    drag(&mut bench, at, target - at, 4, |_| {});
    assert!(words(&bench).contains("along the grain"));
    release(&mut bench, target);
    bench.run();
    assert_eq!(bench.state().project().designs[0].points(Cut::First)[2].kind.after().0, 0.0);
}

#[test]
fn a_project_in_inches_has_a_grid_in_inches() {
    let units = cornerwise_geometry::Units::Inches(cornerwise_geometry::Finest::Sixteenth);
    let project: Project = points().apply(&Edit::SetUnits { units }).unwrap();
    let bench = studio(project);
    assert_eq!(bench.state().view().snaps.step.mm(), 6.35);
}

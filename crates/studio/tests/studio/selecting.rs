//! Choosing several points, moving, nudging and deleting them.

use cornerwise_geometry::{Cut, MM_PER_INCH};
use cornerwise_project::{DesignId, Edit, Project};
use egui::{Key, Modifiers, PointerButton, Pos2, Vec2, vec2};
use egui_kittest::kittest::Queryable;

use crate::bench::{Bench, drag, middle, points, press, release, studio, text};

/// Where the points of a cut are, mm.
fn places(bench: &Bench, cut: Cut) -> Vec<[f64; 2]> {
    let design = &bench.state().project().designs[0];
    design.points(cut).iter().map(|point| [point.from_top.mm(), point.offset.mm()]).collect()
}

/// How far each point of a cut has moved, mm.
fn moves(before: &[[f64; 2]], bench: &Bench, cut: Cut) -> Vec<[f64; 2]> {
    before.iter().zip(places(bench, cut)).map(|(was, is)| [is[0] - was[0], is[1] - was[1]]).collect()
}

fn both() -> Project {
    points().apply(&Edit::ShapeToPoints { design: DesignId(1), cut: Cut::Second }).unwrap()
}

/// Draws a box with the hand.
fn boxed(bench: &mut Bench, from: Pos2, to: Pos2) {
    press(bench, from);
    drag(bench, from, to - from, 4, |_| {});
    release(bench, to);
    bench.run();
}

fn click(bench: &mut Bench, at: Pos2, modifiers: Modifiers) {
    bench.hover_at(at);
    for pressed in [true, false] {
        let event = egui::Event::PointerButton { pos: at, button: PointerButton::Primary, pressed, modifiers };
        bench.event_modifiers(event, modifiers);
        bench.step();
    }
    bench.run();
}

fn undo(bench: &mut Bench) {
    bench.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    bench.run();
}

#[test]
fn a_box_chooses_what_is_in_it_and_dragging_one_moves_all_and_undo_restores_the_exact_project() {
    let mut bench = studio(both());
    let file = text(bench.state().project());
    let (first, second) = (places(&bench, Cut::First), places(&bench, Cut::Second));
    let (two, three) = (middle(&bench, "first cut, point 2"), middle(&bench, "first cut, point 3"));
    let low = two.y.max(three.y);
    boxed(&mut bench, egui::pos2(two.x - 20.0, two.y.min(three.y) - 20.0), egui::pos2(three.x + 20.0, low + 20.0));
    assert_eq!(bench.state().view().chosen.len(), 2);
    assert!(bench.state().view().chosen.one().is_none(), "fields show the figures of one point only");
    assert_eq!(file, text(bench.state().project()), "choosing is no edit");
    press(&mut bench, two);
    drag(&mut bench, two, vec2(25.0, -14.0), 5, |_| {});
    release(&mut bench, two + vec2(25.0, -14.0));
    bench.run();
    let moved = moves(&first, &bench, Cut::First);
    assert!(moved[1][0] > 10.0 && moved[1][1] < -1.0, "{moved:?}");
    for i in 0..2 {
        assert!((moved[1][i] - moved[2][i]).abs() < 1e-9, "{moved:?}");
    }
    assert_eq!((moved[0], moved[3]), ([0.0; 2], [0.0; 2]));
    assert_eq!(second, places(&bench, Cut::Second));
    assert_eq!(bench.state().history().undo_label(), Some("Move 2 points of the first cut"));
    undo(&mut bench);
    assert_eq!(file, text(bench.state().project()));
    assert!(!bench.state().history().is_dirty());
    assert_eq!(bench.state().view().chosen.len(), 2, "they stay chosen");
}

#[test]
fn a_box_over_both_faces_takes_points_of_both_and_escape_gives_the_old_choice_back() {
    let mut bench = studio(both());
    let canvas = bench.get_by_label("faces 1 and 2").rect();
    let (from, to) = (canvas.left_top() + vec2(3.0, 30.0), canvas.right_bottom() - vec2(3.0, 40.0));
    bench.get_by_label("first cut, point 2").click();
    bench.run();
    press(&mut bench, from);
    drag(&mut bench, from, to - from, 4, |_| {});
    let all = places(&bench, Cut::First).len() + places(&bench, Cut::Second).len();
    assert_eq!(bench.state().view().chosen.len(), all, "it shows what it takes while it is drawn");
    bench.key_press(Key::Escape);
    bench.step();
    assert_eq!(bench.state().view().chosen.len(), 1);
    drag(&mut bench, to, vec2(-30.0, 0.0), 2, |_| {});
    release(&mut bench, to - vec2(30.0, 0.0));
    bench.run();
    assert_eq!(bench.state().view().chosen.len(), 1, "the hand is still down and nothing follows it");
    bench.key_press(Key::Escape);
    bench.run();
    assert!(bench.state().view().chosen.is_empty());
}

#[test]
fn shift_and_control_clicks_add_and_take_away() {
    let mut bench = studio(both());
    bench.get_by_label("first cut, point 2").click();
    bench.run();
    for (name, modifiers, count) in [
        ("second cut, point 2", Modifiers::SHIFT, 2),
        ("first cut, point 4", Modifiers::COMMAND, 3),
        ("first cut, point 2", Modifiers::COMMAND, 2),
        ("first cut, point 2", Modifiers::SHIFT, 3),
        ("first cut, point 3", Modifiers::NONE, 1),
    ] {
        let at = middle(&bench, name);
        click(&mut bench, at, modifiers);
        assert_eq!(bench.state().view().chosen.len(), count, "{name}");
    }
    // A box adds too, when it is begun with Shift held.
    let at = middle(&bench, "first cut, point 2");
    bench.hover_at(at - vec2(25.0, 25.0));
    bench.step();
    bench.event_modifiers(
        egui::Event::PointerButton {
            pos: at - vec2(25.0, 25.0),
            button: PointerButton::Primary,
            pressed: true,
            modifiers: Modifiers::SHIFT,
        },
        Modifiers::SHIFT,
    );
    bench.step();
    for by in [5.0, 30.0, 50.0] {
        bench.event_modifiers(egui::Event::PointerMoved(at + Vec2::splat(by - 25.0)), Modifiers::SHIFT);
        bench.step();
    }
    release(&mut bench, at + vec2(25.0, 25.0));
    bench.run();
    assert_eq!(bench.state().view().chosen.len(), 2);
}

#[test]
fn all_points_of_a_cut_then_of_both_and_they_are_deleted_in_one_step_or_told_why_not() {
    let mut bench = studio(both());
    let file = text(bench.state().project());
    let (first, second) = (places(&bench, Cut::First).len(), places(&bench, Cut::Second).len());
    bench.get_by_label("first cut, point 2").click();
    bench.run();
    for count in [first, first + second] {
        bench.key_press_modifiers(Modifiers::COMMAND, Key::A);
        bench.run();
        assert_eq!(bench.state().view().chosen.len(), count);
    }
    bench.key_press(Key::Delete);
    bench.run();
    assert_eq!(file, text(bench.state().project()));
    let words = bench.state().notice().map(|notice| notice.words.clone()).unwrap_or_default();
    assert!(words.contains("two points left"), "{words}");
    bench.key_press(Key::Escape);
    bench.run();
    for name in ["first cut, point 2", "second cut, point 3"] {
        let at = middle(&bench, name);
        click(&mut bench, at, Modifiers::COMMAND);
    }
    bench.key_press(Key::Delete);
    bench.run();
    assert_eq!((places(&bench, Cut::First).len(), places(&bench, Cut::Second).len()), (first - 1, second - 1));
    assert!(bench.state().view().chosen.is_empty() && bench.state().notice().is_none());
    undo(&mut bench);
    assert_eq!(file, text(bench.state().project()));
}

#[test]
fn several_points_are_nudged_coarsely_and_finely_in_the_project_s_units() {
    for (units, coarse, fine) in [
        (cornerwise_geometry::Units::Millimetres, 1.0, 0.1),
        (
            cornerwise_geometry::Units::Inches(cornerwise_geometry::Finest::Sixteenth),
            MM_PER_INCH / 16.0,
            MM_PER_INCH / 64.0,
        ),
    ] {
        let mut bench = studio(both().apply(&Edit::SetUnits { units }).unwrap());
        let file = text(bench.state().project());
        let (first, second) = (places(&bench, Cut::First), places(&bench, Cut::Second));
        for name in ["first cut, point 2", "second cut, point 3"] {
            let at = middle(&bench, name);
            click(&mut bench, at, Modifiers::COMMAND);
        }
        bench.key_press(Key::ArrowDown);
        bench.run();
        bench.key_press_modifiers(Modifiers::SHIFT, Key::ArrowRight);
        bench.run();
        for (before, cut, moved) in [(&first, Cut::First, 1), (&second, Cut::Second, 2)] {
            for (i, by) in moves(before, &bench, cut).into_iter().enumerate() {
                let expected = if i == moved { [fine, coarse] } else { [0.0, 0.0] };
                assert!((0..2).all(|k| (by[k] - expected[k]).abs() < 1e-9), "{cut} {i}: {by:?}");
            }
        }
        // While a key is held it is one step.
        for _ in 0..3 {
            bench.key_down(Key::ArrowLeft);
            bench.step();
        }
        bench.key_up(Key::ArrowLeft);
        bench.run();
        assert!(!bench.state().history().is_dragging());
        let by = moves(&first, &bench, Cut::First)[1];
        assert!((by[0] - (fine - 3.0 * coarse)).abs() < 1e-9, "{by:?}");
        for _ in 0..3 {
            undo(&mut bench);
        }
        assert_eq!(file, text(bench.state().project()));
        assert_eq!(bench.state().history().undo_label(), None);
    }
}

#[test]
fn arrow_keys_on_the_faces_move_chosen_points_and_without_any_the_cursor() {
    let mut bench = studio(both());
    let first = places(&bench, Cut::First);
    let (two, three) = (middle(&bench, "first cut, point 2"), middle(&bench, "first cut, point 3"));
    let low = two.y.max(three.y);
    boxed(&mut bench, egui::pos2(two.x - 20.0, two.y.min(three.y) - 20.0), egui::pos2(three.x + 20.0, low + 20.0));
    let cursor = bench.state().view().cursor_mm;
    bench.key_press(Key::ArrowUp);
    bench.run();
    let by = moves(&first, &bench, Cut::First);
    assert!((by[1][1] + 1.0).abs() < 1e-9 && (by[2][1] + 1.0).abs() < 1e-9 && by[3] == [0.0, 0.0], "{by:?}");
    assert_eq!(bench.state().view().cursor_mm, cursor);
    bench.key_press(Key::Escape);
    bench.run();
    bench.key_press(Key::ArrowRight);
    bench.run();
    assert!((bench.state().view().cursor_mm - cursor - 1.0).abs() < 1e-9);
}

#[test]
fn undo_in_the_middle_of_a_drag_drops_the_drag_and_the_hand_with_it() {
    let mut bench = studio(points());
    let file = text(bench.state().project());
    let at = middle(&bench, "first cut, point 2");
    press(&mut bench, at);
    drag(&mut bench, at, vec2(30.0, 20.0), 3, |_| {});
    bench.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    bench.step();
    assert_eq!(file, text(bench.state().project()));
    drag(&mut bench, at + vec2(30.0, 20.0), vec2(20.0, 0.0), 3, |_| {});
    release(&mut bench, at + vec2(50.0, 20.0));
    bench.run();
    assert_eq!(file, text(bench.state().project()));
    assert!(!bench.state().history().is_dirty() && !bench.state().history().is_dragging());
}

//! Drawing the leg instead of the cut: dragging the finished leg's outlines.

use cornerwise_geometry::Cut;
use cornerwise_project::{DesignId, Edit, Project};
use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::Queryable;

use crate::bench::{Bench, double_click, drag, middle, points, press, release, studio, text};

fn both() -> Project {
    points().apply(&Edit::ShapeToPoints { design: DesignId(1), cut: Cut::Second }).unwrap()
}

/// A studio with the sides unfolded.
fn with_sides() -> Bench {
    let mut bench = studio(both());
    bench.state_mut().view_mut().snaps.on = false;
    bench.key_press(Key::F5);
    bench.run();
    bench
}

fn offset(bench: &Bench, cut: Cut) -> f64 {
    bench.state().project().designs[0].points(cut)[1].offset.mm()
}

fn undo(bench: &mut Bench) {
    bench.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    bench.run();
}

#[test]
fn an_outline_of_a_side_is_dragged_and_the_saw_line_follows_as_its_mirror() {
    // Side, edge, the cut that gives it its outline, and whether its offset grows downward there.
    for (side, edge, cut, grows_down) in [
        (1, "upper", Cut::First, false),
        (2, "lower", Cut::Second, false),
        (3, "lower", Cut::First, true),
        (4, "upper", Cut::Second, true),
    ] {
        let mut bench = with_sides();
        let file = text(bench.state().project());
        let (before, other) = (offset(&bench, cut), bench.state().project().designs[0].points(cut)[2].clone());
        let name = format!("{cut}, point 2, side {side}, {edge} edge");
        let on_face = middle(&bench, &format!("{cut}, point 2"));
        let start = middle(&bench, &name) + vec2(3.0, -2.0);
        press(&mut bench, start);
        let by = vec2(10.0, 14.0);
        for share in [0.5, 1.0] {
            bench.hover_at(start + by * share);
            bench.step();
            // The hand keeps what it holds, where it holds it, and the face follows in the same frame.
            assert!((middle(&bench, &name) - (start - vec2(3.0, -2.0) + by * share)).length() < 0.8, "{name}");
            let face = middle(&bench, &format!("{cut}, point 2"));
            assert_eq!(face.y > on_face.y, grows_down, "{name}");
        }
        assert!((offset(&bench, cut) - before).abs() > 1.0);
        assert_eq!(offset(&bench, cut) > before, grows_down, "{name}");
        release(&mut bench, start + by);
        bench.run();
        assert_eq!(bench.state().project().designs[0].points(cut)[2], other);
        let label = format!("Move point 2 of the {cut}");
        assert_eq!(bench.state().history().undo_label(), Some(label.as_str()));
        undo(&mut bench);
        assert_eq!(file, text(bench.state().project()));
    }
}

#[test]
fn escape_drops_a_drag_on_a_side_and_arrow_keys_follow_the_screen() {
    let mut bench = with_sides();
    let file = text(bench.state().project());
    let name = "first cut, point 2, side 1, upper edge";
    let start = middle(&bench, name);
    press(&mut bench, start);
    drag(&mut bench, start, vec2(12.0, 20.0), 3, |_| {});
    assert!(bench.state().history().is_dragging());
    bench.key_press(Key::Escape);
    bench.step();
    release(&mut bench, start + vec2(12.0, 20.0));
    bench.run();
    assert_eq!(file, text(bench.state().project()));
    let before = offset(&bench, Cut::First);
    bench.get_by_label(name).click();
    bench.run();
    bench.key_press(Key::ArrowDown);
    bench.run();
    assert!((offset(&bench, Cut::First) - (before - 1.0)).abs() < 1e-9, "down on side 1 is toward arris 1 on face 1");
    undo(&mut bench);
    assert_eq!(file, text(bench.state().project()));
}

#[test]
fn a_snap_on_a_side_is_the_snap_of_the_line() {
    let mut bench = with_sides();
    bench.state_mut().view_mut().snaps.on = true;
    let name = "first cut, point 2, side 3, lower edge";
    let start = middle(&bench, name);
    // On the outline, the seam is where the line would be on arris 1: half the leg away is the centre line.
    let lies = |bench: &Bench, number: usize| {
        let design = &bench.state().project().designs[0];
        let point = design.points(Cut::First)[number - 1].clone();
        (point.offset.mm(), middle(bench, &format!("first cut, point {number}, side 3, lower edge")).y)
    };
    let ((mm_2, y_2), (mm_3, y_3)) = (lies(&bench, 2), lies(&bench, 4));
    let px_per_mm = f64::from(y_3 - y_2) / (mm_3 - mm_2);
    let target = vec2(20.0, ((25.0 - mm_2) * px_per_mm) as f32 + 3.0);
    press(&mut bench, start);
    drag(&mut bench, start, target, 5, |_| {});
    release(&mut bench, start + target);
    bench.run();
    assert_eq!(offset(&bench, Cut::First), 25.0);
}

#[test]
fn the_upright_leg_seen_square_on_is_drawn_by_its_silhouette() {
    let mut bench = studio(both());
    bench.state_mut().view_mut().snaps.on = false;
    assert!(bench.query_by_label_contains("upright leg, left edge").is_none(), "at an angle, an edge is of both cuts");
    bench.state_mut().view_mut().turn_deg = 350.0;
    // Square to side 1, the outline is the mirror of the first cut; a quarter round, of the second.
    for (cut, other) in [(Cut::First, Cut::Second), (Cut::Second, Cut::First)] {
        bench.key_press(Key::Q);
        bench.run();
        let file = text(bench.state().project());
        let absent = format!("{other}, point 2, upright leg, left edge");
        assert!(bench.query_by_label(&absent).is_none());
        let before = (offset(&bench, cut), bench.state().project().designs[0].line(other).clone());
        let name = format!("{cut}, point 2, upright leg, left edge");
        let start = middle(&bench, &name);
        press(&mut bench, start);
        let by = vec2(-9.0, 16.0);
        for share in [0.5, 1.0] {
            bench.hover_at(start + by * share);
            bench.step();
            assert!((middle(&bench, &name) - (start + by * share)).length() < 0.8, "{name} stays in the hand");
        }
        release(&mut bench, start + by);
        bench.run();
        let moved = offset(&bench, cut) - before.0;
        assert!(moved.abs() > 2.0, "{moved}");
        assert_eq!(*bench.state().project().designs[0].line(other), before.1);
        assert_eq!(bench.state().view().turn_deg % 90.0, 0.0, "the leg did not turn");
        // What the silhouette did, the section of the finished leg did too: it fills -a to W - a.
        let leg = bench.state().project().designs[0].leg().unwrap();
        let s = bench.state().project().designs[0].points(cut)[1].from_top.mm();
        assert!((leg.line(cut).offset(s) - offset(&bench, cut)).abs() < 1e-9);
        undo(&mut bench);
        assert_eq!(file, text(bench.state().project()));
    }
    // Opened, there is no finished leg to draw.
    bench.state_mut().view_mut().opening = 0.5;
    bench.run();
    assert!(bench.query_by_label_contains("upright leg, left edge").is_none());
}

#[test]
fn a_leg_turned_nearly_square_to_a_side_settles_square_to_it() {
    let mut bench = studio(both());
    (bench.state_mut().view_mut().turn_deg, bench.state_mut().view_mut().tilt_deg) = (96.0, 4.0);
    bench.run();
    let at = middle(&bench, "upright leg");
    press(&mut bench, at);
    drag(&mut bench, at, vec2(-14.0, -8.0), 4, |_| {});
    release(&mut bench, at + vec2(-14.0, -8.0));
    bench.run();
    assert_eq!((bench.state().view().turn_deg, bench.state().view().tilt_deg), (90.0, 0.0));
}

#[test]
fn a_double_click_on_an_outline_adds_a_point_there() {
    let mut bench = with_sides();
    let count = bench.state().project().designs[0].points(Cut::First).len();
    let two = middle(&bench, "first cut, point 2, side 1, upper edge");
    let three = middle(&bench, "first cut, point 3, side 1, upper edge");
    // On a cyma the line runs close to straight a third of the way along.
    let at = two + (three - two) * 0.5;
    double_click(&mut bench, at);
    assert_eq!(bench.state().project().designs[0].points(Cut::First).len(), count + 1);
}

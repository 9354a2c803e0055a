//! Dragging points and handles.

use cornerwise_export::report::report;
use cornerwise_geometry::{Cut, Line, PointKind};
use egui::{Key, vec2};
use egui_kittest::kittest::Queryable;

use crate::bench::{Bench, drag, middle, points, press, release, rest, studio, text};

fn first_points(bench: &Bench) -> Vec<cornerwise_geometry::Point> {
    let design = &bench.state().project().designs[0];
    design.points(Cut::First)
}

#[test]
fn a_dragged_point_changes_the_leg_and_the_report_and_undo_restores_the_exact_project() {
    let mut bench = studio(points());
    let before = bench.state().project().clone();
    let (file, figures) = (text(&before), report(&before, 9).unwrap());
    let at = middle(&bench, "first cut, point 2");
    press(&mut bench, at);
    drag(&mut bench, at, vec2(30.0, -20.0), 6, |_| {});
    release(&mut bench, at + vec2(30.0, -20.0));
    bench.run();
    let after = bench.state().project().clone();
    assert_ne!(before, after);
    let changed = report(&after, 9).unwrap();
    assert_ne!(figures.designs[0].centre_of_mass_mm, changed.designs[0].centre_of_mass_mm);
    assert_eq!(figures.designs[0].volume_mm3, changed.designs[0].volume_mm3, "sawing takes nothing away");
    assert_eq!(bench.state().history().undo_label(), Some("Move point 2 of the first cut"));
    bench.get_by_label("Undo").click();
    bench.run();
    assert_eq!(before, *bench.state().project());
    assert_eq!(file, text(bench.state().project()));
    bench.get_by_label("Redo").click();
    bench.run();
    assert_eq!(after, *bench.state().project());
}

/// What is drawn in each view, and where the view is.
fn drawn_by_view(bench: &Bench) -> [(&'static str, Vec<egui::Shape>); 6] {
    let [faces, sides, along, leg] = ["faces 1 and 2", "sides 1 to 4", "graphs along the leg", "upright leg"]
        .map(|name| bench.get_by_label(name).rect());
    let section = egui::Rect::from_min_max(leg.right_top(), bench.ctx.content_rect().max);
    let head = egui::Rect::from_min_max(egui::pos2(0.0, faces.top()), faces.left_bottom());
    let views =
        [("faces", faces), ("head", head), ("sides", sides), ("along", along), ("leg", leg), ("section", section)];
    views.map(|(name, rect)| {
        let shapes = bench.output().shapes.iter();
        let inside = shapes.filter(|shape| {
            rect.expand(1.0).contains_rect(shape.shape.visual_bounding_rect().intersect(shape.clip_rect))
        });
        (name, inside.map(|shape| shape.shape.clone()).collect())
    })
}

#[test]
fn every_view_shows_what_the_hand_has_just_done_in_the_same_frame() {
    let mut bench = studio(points());
    // Caught, a point would stay where it is for some of the hand's moves.
    bench.state_mut().view_mut().snaps.on = false;
    for key in [Key::F5, Key::F6] {
        bench.key_press(key);
        bench.run();
    }
    // Sharp paint that only comes during the drag would be no work of the hand's.
    rest(&mut bench);
    let at = middle(&bench, "first cut, point 2");
    // The cursor stands above the point, and stays there: only the project changes what is drawn.
    press(&mut bench, at);
    drag(&mut bench, at, vec2(0.0, -12.0), 2, |_| {});
    bench.run_steps(2);
    for by in [-20.0, -24.0, 9.0] {
        let (before, revision) = (drawn_by_view(&bench), bench.state().history().revision());
        bench.hover_at(at + vec2(0.0, by));
        bench.step();
        let at_once = drawn_by_view(&bench);
        assert_ne!(revision, bench.state().history().revision());
        for ((name, before), (_, at_once)) in before.iter().zip(&at_once) {
            assert!(before != at_once, "{name} does not follow");
        }
        // A view that lagged would only now show what the hand did.
        bench.step();
        assert_eq!(bench.state().history().revision(), revision + 1);
        for ((name, at_once), (_, later)) in at_once.iter().zip(drawn_by_view(&bench)) {
            assert!(*at_once == later, "{name} lags");
        }
    }
    assert!(bench.state().history().is_dragging());
    release(&mut bench, at);
    assert!(!bench.state().history().is_dragging());
}

#[test]
fn a_point_cannot_be_deleted_while_the_hand_holds_it() {
    let mut bench = studio(points());
    let count = first_points(&bench).len();
    let at = middle(&bench, "first cut, point 2");
    press(&mut bench, at);
    drag(&mut bench, at, vec2(30.0, -20.0), 3, |_| {});
    for key in [Key::Delete, Key::K] {
        bench.key_press(key);
        bench.step();
    }
    assert_eq!(first_points(&bench).len(), count);
    assert!(bench.state().notice().is_none());
    drag(&mut bench, at + vec2(30.0, -20.0), vec2(10.0, 0.0), 2, |_| {});
    release(&mut bench, at + vec2(40.0, -20.0));
    bench.run();
    assert!(!bench.state().history().is_dragging());
    assert!(!first_points(&bench)[1].kind.is_sharp());
    // At rest it can, and the studio goes on.
    bench.key_press(Key::Delete);
    bench.run();
    assert_eq!(first_points(&bench).len(), count - 1);
    let other = middle(&bench, "first cut, point 2");
    press(&mut bench, other);
    drag(&mut bench, other, vec2(12.0, 0.0), 3, |_| {});
    release(&mut bench, other + vec2(12.0, 0.0));
    bench.run();
    assert!(bench.state().notice().is_none() && !bench.state().history().is_dragging());
}

#[test]
fn a_point_taken_beside_its_middle_does_not_jump_and_does_not_drift() {
    let mut bench = studio(points());
    let at = middle(&bench, "first cut, point 2");
    let taken = at + vec2(4.0, 3.0);
    let before = first_points(&bench)[1].clone();
    press(&mut bench, taken);
    // A long way round, through the limits of the face, and back to where it was taken.
    for by in [vec2(40.0, -60.0), vec2(-3000.0, 900.0), vec2(200.0, 200.0)] {
        drag(&mut bench, taken, by, 3, |_| {});
    }
    bench.hover_at(taken);
    bench.step();
    release(&mut bench, taken);
    bench.run();
    let after = first_points(&bench)[1].clone();
    assert!(
        (after.from_top.mm() - before.from_top.mm()).abs() < 0.06,
        "{} {}",
        after.from_top.mm(),
        before.from_top.mm()
    );
    assert!((after.offset.mm() - before.offset.mm()).abs() < 0.06, "{} {}", after.offset.mm(), before.offset.mm());
    let now = middle(&bench, "first cut, point 2");
    assert!((now - at).length() < 0.6);
}

#[test]
fn escape_drops_a_drag() {
    for project in [points(), cornerwise_project::Project::new()] {
        let mut bench = studio(project);
        let (before, file) = (bench.state().project().clone(), text(bench.state().project()));
        let at = middle(&bench, "first cut, point 2");
        press(&mut bench, at);
        drag(&mut bench, at, vec2(30.0, 30.0), 4, |_| {});
        assert_ne!(before, *bench.state().project());
        bench.key_press(Key::Escape);
        bench.step();
        assert_eq!(before, *bench.state().project());
        // The hand is still down and moves on: nothing follows it any more.
        drag(&mut bench, at + vec2(30.0, 30.0), vec2(20.0, 0.0), 2, |_| {});
        release(&mut bench, at + vec2(50.0, 30.0));
        bench.run();
        assert_eq!(file, text(bench.state().project()));
        assert!(!bench.state().history().is_dirty());
    }
}

#[test]
fn a_live_shape_turns_into_points_when_one_of_its_points_is_dragged() {
    let mut bench = studio(cornerwise_project::Project::new());
    let before = bench.state().project().clone();
    assert!(matches!(before.designs[0].first, Line::Shape(_)));
    let at = middle(&bench, "first cut, point 2");
    press(&mut bench, at);
    drag(&mut bench, at, vec2(0.0, 25.0), 4, |_| {});
    release(&mut bench, at + vec2(0.0, 25.0));
    bench.run();
    assert!(matches!(bench.state().project().designs[0].first, Line::Points(_)));
    assert_eq!(bench.state().project().designs[0].second, before.designs[0].second, "the other cut stays live");
    assert_eq!(bench.state().history().undo_label(), Some("Move point 2 of the first cut, now points"));
    bench.key_press_modifiers(egui::Modifiers::COMMAND, Key::Z);
    bench.run();
    assert_eq!(bench.state().history().undo_label(), None, "one step");
    assert_eq!(before, *bench.state().project());
}

#[test]
fn a_handle_bends_the_line_and_the_other_one_keeps_in_line() {
    let mut bench = studio(points());
    bench.get_by_label("first cut, point 3").click();
    bench.run();
    let at = middle(&bench, "first cut, point 3, handle toward the foot");
    press(&mut bench, at);
    drag(&mut bench, at, vec2(10.0, 40.0), 4, |_| {});
    release(&mut bench, at + vec2(10.0, 40.0));
    bench.run();
    let point = first_points(&bench)[2].clone();
    assert!(matches!(point.kind, PointKind::Smooth { .. }));
    assert_eq!(bench.state().history().undo_label(), Some("Move a handle of point 3 of the first cut"));
    let now = middle(&bench, "first cut, point 3, handle toward the foot");
    assert!((now - (at + vec2(10.0, 40.0))).length() < 1.0, "the handle is where the hand left it");
}

#[test]
fn figures_stand_beside_the_pointer_while_a_point_is_dragged_and_no_longer() {
    let mut bench = studio(points());
    let at = middle(&bench, "first cut, point 2");
    press(&mut bench, at);
    drag(&mut bench, at, vec2(30.0, -20.0), 3, |_| {});
    let shapes = |bench: &Bench| {
        let mut words = Vec::new();
        for shape in &bench.output().shapes {
            if let egui::Shape::Text(text) = &shape.shape {
                words.push(text.galley.text().to_owned());
            }
        }
        words.into_iter().any(|words| words.contains("from top\noffset") && words.contains("slope"))
    };
    assert!(shapes(&bench));
    release(&mut bench, at + vec2(30.0, -20.0));
    bench.run();
    assert!(!shapes(&bench));
}

#[test]
fn the_window_comes_to_rest_and_stays_there() {
    let mut bench = studio(points());
    let at = middle(&bench, "first cut, point 2");
    press(&mut bench, at);
    drag(&mut bench, at, vec2(30.0, -20.0), 3, |_| {});
    release(&mut bench, at + vec2(30.0, -20.0));
    bench.run();
    // A little later the coarse paint has become sharp; from then on nothing asks for another frame.
    rest(&mut bench);
}

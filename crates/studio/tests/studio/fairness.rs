//! The comb, the marks and the ghost.

use cornerwise_geometry::Cut;
use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::Queryable;

use crate::bench::{Bench, drag, middle, points, press, release, studio, text};

/// How many lines are drawn on the faces.
fn strokes(bench: &Bench) -> usize {
    let faces = bench.get_by_label("faces 1 and 2").rect();
    let on_faces = |shape: &&egui::epaint::ClippedShape| faces.contains_rect(shape.clip_rect);
    bench.output().shapes.iter().filter(on_faces).count()
}

fn says(bench: &Bench, words: &str) -> bool {
    let text = |shape: &egui::Shape| match shape {
        egui::Shape::Text(text) => text.galley.text().contains(words),
        _ => false,
    };
    bench.output().shapes.iter().any(|shape| text(&shape.shape))
}

#[test]
fn comb_tightest_bend_and_marks_come_and_go_by_key_and_change_nothing_of_the_project() {
    let mut bench = studio(points());
    let before = text(bench.state().project());
    let plain = strokes(&bench);
    for (key, sign) in [(Key::C, "of quill is a radius"), (Key::B, "tightest bend, radius"), (Key::M, "crest ")] {
        assert!(!says(&bench, sign), "{sign}");
        bench.key_press(key);
        bench.run();
        assert!(says(&bench, sign) && strokes(&bench) > plain, "{sign}");
        bench.key_press(key);
        bench.run();
        assert!(!says(&bench, sign), "{sign}");
        assert_eq!(strokes(&bench), plain);
    }
    assert_eq!(before, text(bench.state().project()));
    assert!(!bench.state().history().is_dirty());
}

#[test]
fn marks_stand_where_geometry_says_and_can_be_found_by_name() {
    let mut bench = studio(points());
    bench.key_press(Key::M);
    bench.key_press(Key::B);
    bench.run();
    let leg = bench.state().project().designs[0].leg().unwrap();
    let units = bench.state().project().units;
    let crest = leg.first.crests()[0];
    let node = middle(&bench, &format!("first cut, crest, {} from top", units.show_with_unit(crest)));
    let faces = *bench.state().faces_on_screen().unwrap();
    assert!((node - faces.pos(Cut::First, crest, leg.a(crest))).length() < 1.0);
    let bend = leg.second.tightest().unwrap();
    let [radius, at] = [bend.radius_mm, bend.s_mm].map(|mm| units.show_with_unit(mm));
    bench.get_by_label(&format!("second cut, tightest bend, radius {radius}, {at} from top"));
}

#[test]
fn quills_are_made_longer_and_shorter_and_go_back_to_their_own_scale() {
    let mut bench = studio(points());
    bench.key_press(Key::C);
    bench.run();
    let leg = bench.state().project().designs[0].leg().unwrap();
    let by_itself = bench.state().view().fairness.scale(&leg);
    bench.get_by_label("fairness menu").click();
    bench.run();
    bench.get_by_label("Longer").click();
    bench.run();
    assert!(bench.state().view().fairness.scale(&leg) > 1.4 * by_itself);
    bench.get_by_label("Shorter").click();
    bench.run();
    bench.get_by_label("By itself").click();
    bench.run();
    assert_eq!(bench.state().view().fairness.scale_mm2, None);
}

#[test]
fn a_ghost_is_pinned_compared_swapped_and_dropped_and_every_step_is_undone_exactly() {
    let mut bench = studio(points());
    for key in [Key::F5, Key::F6] {
        bench.key_press(key);
        bench.run();
    }
    let mut files = vec![text(bench.state().project())];
    bench.key_press(Key::G);
    bench.run();
    assert!(says(&bench, "ghost: the same lines"));
    files.push(text(bench.state().project()));
    let before = bench.state().project().designs[0].points(Cut::First);
    let at = middle(&bench, "first cut, point 2");
    press(&mut bench, at);
    drag(&mut bench, at, vec2(0.0, -18.0), 3, |_| {});
    release(&mut bench, at - vec2(0.0, 18.0));
    bench.run();
    assert!(says(&bench, "ghost: at most "));
    files.push(text(bench.state().project()));
    bench.key_press_modifiers(Modifiers::SHIFT, Key::G);
    bench.run();
    assert_eq!(bench.state().project().designs[0].points(Cut::First), before);
    assert!(says(&bench, "ghost: at most "));
    files.push(text(bench.state().project()));
    bench.get_by_label("ghost menu").click();
    bench.run();
    bench.get_by_label("Drop ghost").click();
    bench.run();
    assert!(bench.state().project().designs[0].ghost.is_none() && !says(&bench, "ghost: "));
    while let Some(file) = files.pop() {
        bench.key_press_modifiers(Modifiers::COMMAND, Key::Z);
        bench.run();
        assert_eq!(file, text(bench.state().project()));
        if files.is_empty() {
            break;
        }
    }
    assert!(!bench.state().history().is_dirty());
}

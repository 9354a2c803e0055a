//! Points, cursor and commands by keys.

use cornerwise_geometry::Cut;
use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::Queryable;

use crate::bench::{Bench, double_click, middle, points, studio};

fn point_count(bench: &Bench) -> usize {
    let design = &bench.state().project().designs[0];
    design.points(Cut::First).len()
}

#[test]
fn a_double_click_on_the_line_adds_a_point_and_delete_takes_it_away() {
    let mut bench = studio(points());
    let before = point_count(&bench);
    let leg = bench.state().project().designs[0].leg().unwrap();
    let (from, to) = (middle(&bench, "first cut, point 2"), middle(&bench, "first cut, point 3"));
    // Halfway between the two along the leg, and on the line.
    let all = bench.state().project().designs[0].line(Cut::First).points(700.0, 50.0);
    let s = (all[1].from_top.mm() + all[2].from_top.mm()) / 2.0;
    let across = f64::from(to.y - from.y) / (all[2].offset.mm() - all[1].offset.mm());
    let y = f64::from(from.y) + (leg.first.offset(s) - all[1].offset.mm()) * across;
    double_click(&mut bench, egui::pos2((from.x + to.x) / 2.0, y as f32));
    assert_eq!(point_count(&bench), before + 1);
    let same = bench.state().project().designs[0].leg().unwrap();
    for i in 0..=70 {
        let s = f64::from(i) * 10.0;
        assert!((same.first.offset(s) - leg.first.offset(s)).abs() < 1e-9, "adding a point does not change the line");
    }
    bench.key_press(Key::Delete);
    bench.run();
    assert_eq!(point_count(&bench), before);
}

#[test]
fn arrow_keys_nudge_the_chosen_point_finely_with_shift() {
    let mut bench = studio(points());
    bench.get_by_label("first cut, point 2").click();
    bench.run();
    let at = |bench: &Bench| {
        let design = &bench.state().project().designs[0];
        let point = design.line(Cut::First).points(700.0, 50.0)[1].clone();
        [point.from_top.mm(), point.offset.mm()]
    };
    let before = at(&bench);
    bench.key_press(Key::ArrowRight);
    bench.run();
    bench.key_press(Key::ArrowDown);
    bench.run();
    bench.key_press_modifiers(Modifiers::SHIFT, Key::ArrowUp);
    bench.run();
    let after = at(&bench);
    assert!(
        (after[0] - before[0] - 1.0).abs() < 1e-9 && (after[1] - before[1] - 0.9).abs() < 1e-9,
        "{before:?} {after:?}"
    );
    assert!(!bench.state().history().is_dragging());
    for _ in 0..3 {
        bench.key_press_modifiers(Modifiers::COMMAND, Key::Z);
        bench.run();
    }
    assert_eq!(before, at(&bench));
}

#[test]
fn the_cursor_follows_the_pointer_and_the_arrow_keys() {
    let mut bench = studio(points());
    let canvas = bench.get_by_label("faces 1 and 2").rect();
    bench.hover_at(canvas.center());
    bench.run();
    let there = bench.state().view().cursor_mm;
    assert!((there - 350.0).abs() < 3.0, "{there}");
    bench.hover_at(canvas.center() + vec2(100.0, 0.0));
    bench.run();
    assert!(bench.state().view().cursor_mm > there + 50.0);
    bench.get_by_label("faces 1 and 2").focus();
    bench.run();
    bench.run();
    let before = bench.state().view().cursor_mm;
    bench.key_press(Key::ArrowLeft);
    bench.run();
    assert!((bench.state().view().cursor_mm - before + 1.0).abs() < 1e-9);
}

#[test]
fn a_point_is_made_sharp_and_a_second_one_is_refused_in_words() {
    let mut bench = studio(points());
    bench.get_by_label("first cut, point 2").click();
    bench.run();
    bench.key_press(Key::K);
    bench.run();
    let sharp = |bench: &Bench| {
        let design = &bench.state().project().designs[0];
        design.line(Cut::First).points(700.0, 50.0).iter().filter(|point| point.kind.is_sharp()).count()
    };
    assert_eq!(sharp(&bench), 1);
    bench.get_by_label("first cut, point 4").click();
    bench.run();
    bench.key_press(Key::K);
    bench.run();
    assert_eq!(sharp(&bench), 1);
    let notice = bench.state().notice().map(|notice| notice.words.clone()).unwrap_or_default();
    assert!(notice.contains("sharp point already"), "{notice}");
    bench.get_by_label("OK").click();
    bench.run();
    assert!(bench.state().notice().is_none());
}

#[test]
fn true_shape_is_one_key() {
    let mut bench = studio(points());
    assert!(bench.query_by_label_contains("across ×").is_some());
    bench.key_press(Key::T);
    bench.run();
    assert!(bench.query_by_label("true shape").is_some());
}

#[test]
fn keys_for_a_command_do_nothing_while_text_is_typed() {
    let mut bench = studio(points());
    bench.get_by_label("blank, width").click();
    bench.run();
    bench.key_press(Key::T);
    bench.key_press(Key::Delete);
    bench.run();
    assert!(bench.query_by_label_contains("across ×").is_some());
    assert!(!bench.state().history().is_dirty());
}

#[test]
fn the_leg_turns_by_drag_and_opens_by_its_slider() {
    let mut bench = studio(points());
    let (turn, tilt) = (bench.state().view().turn_deg, bench.state().view().tilt_deg);
    let at = middle(&bench, "upright leg");
    crate::bench::press(&mut bench, at);
    crate::bench::drag(&mut bench, at, vec2(40.0, 20.0), 4, |_| {});
    crate::bench::release(&mut bench, at + vec2(40.0, 20.0));
    bench.run();
    assert!(bench.state().view().turn_deg > turn && bench.state().view().tilt_deg > tilt);
    let revision = bench.state().history().revision();
    let slider = bench.get_by_label("from the blank to the finished leg").rect();
    let left = slider.left_center() + vec2(2.0, 0.0);
    crate::bench::press(&mut bench, left);
    crate::bench::release(&mut bench, left);
    bench.run();
    assert!(bench.state().view().opening < 0.05);
    assert_eq!(bench.state().history().revision(), revision, "a view is not the project");
}

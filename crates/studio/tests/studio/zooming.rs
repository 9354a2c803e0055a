//! Zoom, true size and scrolling: what is looked at is no edit.

use cornerwise_geometry::Cut;
use cornerwise_project::Project;
use cornerwise_studio::across::Across;
use cornerwise_studio::commands::Command;
use cornerwise_studio::ruler::{Axis, Ruler};
use cornerwise_studio::view::{Chosen, Place};
use cornerwise_studio::views::measure::CARD_MM;
use cornerwise_studio::views::one_page::PageZoom;
use egui::{Event, Key, Modifiers, MouseWheelSource, MouseWheelUnit, TouchPhase, Vec2, vec2};
use egui_kittest::kittest::Queryable;

use crate::bench::{Bench, middle, points, studio, text};
use crate::typing::type_into;

fn axis(bench: &Bench) -> Axis {
    bench.state().faces_on_screen().unwrap().axis
}

fn press(bench: &mut Bench, key: Key) {
    bench.key_press(key);
    bench.run();
}

fn wheel(bench: &mut Bench, delta: Vec2, modifiers: Modifiers) {
    let unit = MouseWheelUnit::Point;
    bench.event_modifiers(
        Event::MouseWheel { unit, delta, phase: TouchPhase::Move, source: MouseWheelSource::Wheel, modifiers },
        modifiers,
    );
    for _ in 0..40 {
        bench.step();
    }
}

#[test]
fn no_zoom_is_an_edit() {
    let mut bench = studio(points());
    let before = text(bench.state().project());
    bench.hover_at(middle(&bench, "first cut, point 3"));
    bench.run();
    bench.state_mut().view_mut().screen_px_per_mm = Some(4.0);
    let point = bench.state().project().designs[0].points(Cut::First)[2].id;
    bench.state_mut().view_mut().chosen.set(Chosen { cut: Cut::First, point });
    let keys = [Key::Plus, Key::Minus, Key::Z, Key::Num1, Key::PageDown, Key::PageUp, Key::Home, Key::T, Key::T];
    for key in keys {
        let was = (bench.state().view().ruler, bench.state().view().across);
        press(&mut bench, key);
        let at_the_end = matches!(key, Key::PageDown | Key::PageUp);
        assert!(at_the_end || was != (bench.state().view().ruler, bench.state().view().across), "{key:?} does nothing");
    }
    bench.event(Event::Zoom(1.7));
    bench.step();
    wheel(&mut bench, vec2(0.0, 60.0), Modifiers::NONE);
    assert!(axis(&bench).px_per_mm > 1.5);
    assert_eq!(bench.state().history().changes().len(), 0);
    assert!(!bench.state().history().is_dirty());
    assert_eq!(before, text(bench.state().project()));
}

#[test]
fn the_chosen_points_fill_the_rows_and_one_alone_shows_its_neighbours() {
    let mut bench = studio(points());
    assert!(Command::ZoomChosen.shortcuts().iter().any(|keys| keys.logical_key == Key::Z));
    press(&mut bench, Key::Z);
    assert_eq!(bench.state().view().ruler, Ruler::Whole, "nothing is chosen yet");
    let all = bench.state().project().designs[0].points(Cut::First);
    let s = |place: usize| all[place].from_top.mm();
    let choose = |place: usize| Chosen { cut: Cut::First, point: all[place].id };
    bench.state_mut().view_mut().chosen.set(choose(2));
    press(&mut bench, Key::Z);
    let shown = axis(&bench).shown();
    assert!(shown.from_mm < s(1) && shown.to_mm > s(3) && shown.length_mm() < 1.5 * (s(3) - s(1)), "{shown:?}");
    bench.state_mut().view_mut().chosen.set_all([choose(1), choose(2)]);
    press(&mut bench, Key::Z);
    let shown = axis(&bench).shown();
    assert!(shown.from_mm < s(1) && shown.to_mm > s(2) && shown.length_mm() < 1.5 * (s(2) - s(1)), "{shown:?}");
}

#[test]
fn true_size_is_measured_once_by_a_card_and_then_holds_for_leg_and_paper() {
    // The card: ISO/IEC 7810, format ID-1, 85.60 mm by 53.98 mm.
    assert_eq!(CARD_MM, [85.60, 53.98]);
    let mut bench = studio(Project::new());
    press(&mut bench, Key::Num1);
    assert!(bench.state().view().panels.measure, "an unmeasured screen is measured first");
    // A ruler says that the drawn card, meant to be 85.6 mm, is 107 mm wide: the screen has fewer pixels than was thought.
    let card = bench.get_by_label("a bank card, 85.6 by 53.98 mm").rect().width();
    type_into(&mut bench, "the drawn card measures", "107 mm");
    let smaller = bench.get_by_label("a bank card, 85.6 by 53.98 mm").rect().width();
    assert!((f64::from(smaller / card) - 85.6 / 107.0).abs() < 0.01, "{smaller} for {card}");
    bench.get_by_label("Show true size").click();
    bench.run();
    let measured = bench.state().view().screen_px_per_mm.unwrap();
    assert!((measured - f64::from(card) / 107.0).abs() < 0.01, "{measured}");
    assert!((axis(&bench).px_per_mm - measured).abs() < 1e-9);
    assert_eq!(bench.state().view().across, Across::True);
    // Text of another size does not change what true size is.
    bench.state_mut().view_mut().place = Place::Paper;
    bench.run();
    press(&mut bench, Key::Num1);
    assert!(!bench.state().view().panels.measure && bench.state().view().one_page);
    assert_eq!(bench.state().view().page_zoom, PageZoom::at(measured));
    assert_eq!(bench.state().history().changes().len(), 0);
}

#[test]
fn shift_and_the_wheel_scroll_along_and_two_fingers_pinch() {
    let mut bench = studio(points());
    let at = middle(&bench, "first cut, point 3");
    bench.hover_at(at);
    bench.run();
    bench.event(Event::Zoom(4.0));
    bench.step();
    let zoomed = axis(&bench);
    assert!(zoomed.px_per_mm > 3.0);
    wheel(&mut bench, vec2(0.0, -50.0), Modifiers::SHIFT);
    let scrolled = axis(&bench);
    assert_eq!(scrolled.px_per_mm, zoomed.px_per_mm, "it does not zoom");
    assert!(scrolled.left_mm > zoomed.left_mm + 5.0, "toward the foot");
    // The same by a key.
    press(&mut bench, Key::PageUp);
    assert!(axis(&bench).left_mm < scrolled.left_mm);
}

#[test]
fn a_page_of_the_paper_is_zoomed_by_the_wheel_and_comes_back() {
    let mut bench = studio(Project::new());
    bench.state_mut().view_mut().place = Place::Paper;
    bench.state_mut().view_mut().one_page = true;
    bench.run();
    bench.hover_at(egui::pos2(760.0, 400.0));
    bench.run();
    wheel(&mut bench, vec2(0.0, 200.0), Modifiers::NONE);
    assert!(matches!(bench.state().view().page_zoom, PageZoom::Times(times, _) if times > 1.5));
    press(&mut bench, Key::Home);
    assert_eq!(bench.state().view().page_zoom, PageZoom::Whole);
    press(&mut bench, Key::Plus);
    assert!(matches!(bench.state().view().page_zoom, PageZoom::Times(..)));
    bench.get_by_label("Whole page").click();
    bench.run();
    assert_eq!(bench.state().view().page_zoom, PageZoom::Whole);
    assert_eq!(bench.state().history().changes().len(), 0);
}

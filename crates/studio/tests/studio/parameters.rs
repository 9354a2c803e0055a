//! The parameters of a live shape as handles on its line.

use cornerwise_geometry::{Cut, Finest, Line, Shape, Units};
use cornerwise_project::{Edit, Project};
use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::Queryable;

use crate::bench::{Bench, drag, middle, press, release, studio, text};
use crate::typing::undone;

fn cyma(bench: &Bench) -> (f64, f64, f64) {
    let Line::Shape(Shape::Cyma { swing, turn, aside }) = bench.state().project().designs[0].line(Cut::First) else {
        return (f64::NAN, f64::NAN, f64::NAN); // no longer live: like nothing
    };
    (swing.mm(), *turn, aside.mm())
}

/// Whether this text is drawn.
fn says(bench: &Bench, words: &str) -> bool {
    fn within(shape: &egui::Shape, words: &str) -> bool {
        match shape {
            egui::Shape::Text(text) => text.galley.text().contains(words),
            egui::Shape::Vec(shapes) => shapes.iter().any(|shape| within(shape, words)),
            _ => false,
        }
    }
    bench.output().shapes.iter().any(|clipped| within(&clipped.shape, words))
}

#[test]
fn a_shape_s_handles_are_dragged_it_stays_live_and_every_view_follows() {
    let mut bench = studio(Project::new());
    bench.state_mut().view_mut().snaps.on = false;
    let before = text(bench.state().project());
    let was = cyma(&bench);
    let at = middle(&bench, "first cut, handle for swing");
    let on_line = bench.state().project().designs[0].leg().unwrap().a(0.5 * was.1 * 700.0);
    press(&mut bench, at);
    let mut swings = Vec::new();
    drag(&mut bench, at, vec2(0.0, 12.0), 4, |bench| swings.push(cyma(bench).0));
    // The first few points of the way are not a drag yet.
    assert!(swings.windows(2).all(|pair| pair[0] <= pair[1]) && swings[3] > swings[2], "{swings:?}");
    // Name and value stand beside the pointer, in the project's units.
    assert!(says(&bench, &format!("Swing {}", Units::Millimetres.show_with_unit(cyma(&bench).0))));
    release(&mut bench, at + vec2(0.0, 12.0));
    bench.run();
    let now = cyma(&bench);
    assert_eq!((was.1, was.2), (now.1, now.2), "what the handle does not stand for stays");
    let px_per_mm = bench.state().faces_on_screen().unwrap().px_per_mm;
    let moved = bench.state().project().designs[0].leg().unwrap().a(0.5 * was.1 * 700.0) - on_line;
    assert!((moved * px_per_mm - 12.0).abs() < 1.0, "the line goes where the hand goes: {moved}");
    assert_eq!(bench.state().history().undo_label(), Some("Change swing of the first cut"));
    undone(&mut bench, &before);
    // One that stands for two.
    let at = middle(&bench, "first cut, handle for turn and aside");
    press(&mut bench, at);
    drag(&mut bench, at, vec2(30.0, -8.0), 4, |_| {});
    release(&mut bench, at + vec2(30.0, -8.0));
    bench.run();
    let now = cyma(&bench);
    assert!(now.1 > was.1 && now.2 < was.2 && now.0 == was.0, "{now:?}");
    assert_eq!(bench.state().history().undo_label(), Some("Change turn and aside of the first cut"));
    undone(&mut bench, &before);
}

#[test]
fn a_shape_s_handle_is_caught_and_held_off_and_dropped_by_escape() {
    let mut bench = studio(Project::new());
    let before = text(bench.state().project());
    let crest = bench.state().project().designs[0].leg().unwrap();
    let (_, turn, _) = cyma(&bench);
    let offset = crest.a(0.5 * turn * 700.0);
    let px_per_mm = bench.state().faces_on_screen().unwrap().px_per_mm;
    // Three points beside the margin of arris 2.
    let by = vec2(0.0, ((45.0 - offset) * px_per_mm) as f32 - 3.0);
    let at = middle(&bench, "first cut, handle for swing");
    press(&mut bench, at);
    drag(&mut bench, at, by, 4, |_| {});
    assert!((cyma(&bench).0 - 40.0).abs() < 1e-6, "{:?}", cyma(&bench));
    assert!(says(&bench, "margin of arris 2"));
    bench.event(egui::Event::ModifiersChanged(Modifiers::ALT));
    bench.hover_at(at + by);
    bench.step();
    assert!((cyma(&bench).0 - 40.0).abs() > 0.5);
    bench.key_press(Key::Escape);
    bench.step();
    release(&mut bench, at + by);
    bench.run();
    assert_eq!(before, text(bench.state().project()));
}

#[test]
fn a_shape_s_handle_is_nudged_by_keys_in_both_units() {
    for (units, step, fine) in
        [(Units::Millimetres, 1.0, 0.1), (Units::Inches(Finest::Sixteenth), 25.4 / 16.0, 25.4 / 64.0)]
    {
        let mut bench = studio(Project::new().apply(&Edit::SetUnits { units }).unwrap());
        let before = text(bench.state().project());
        let (swing, ..) = cyma(&bench);
        bench.get_by_label("first cut, handle for swing").click();
        bench.run();
        bench.key_press(Key::ArrowDown);
        bench.run();
        // The crest lies half a swing from the middle.
        assert!((cyma(&bench).0 - swing - 2.0 * step).abs() < 1e-5, "{:?}", cyma(&bench));
        bench.key_press_modifiers(Modifiers::SHIFT, Key::ArrowUp);
        bench.run();
        assert!((cyma(&bench).0 - swing - 2.0 * (step - fine)).abs() < 1e-5, "{:?}", cyma(&bench));
        bench.key_press(Key::ArrowRight);
        bench.run();
        assert!((cyma(&bench).0 - swing - 2.0 * (step - fine)).abs() < 1e-5, "it stands for nothing along the leg");
        bench.key_press_modifiers(Modifiers::COMMAND, Key::Z);
        bench.run();
        undone(&mut bench, &before);
    }
}

#[test]
fn a_line_that_is_not_live_has_no_such_handles() {
    let mut bench = studio(crate::bench::points());
    let handles =
        |bench: &Bench, cut: &str| bench.query_all_by_label_contains(&format!("{cut} cut, handle for")).count();
    assert_eq!([handles(&bench, "first"), handles(&bench, "second")], [0, 2]);
    bench.get_by_label("second cut, link").click();
    bench.run();
    bench.get_by_label("same as face 1").click();
    bench.run();
    assert_eq!(handles(&bench, "second"), 0);
}

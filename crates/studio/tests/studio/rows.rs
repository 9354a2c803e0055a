//! Rows, zoom, and designs.

use cornerwise_studio::view::Place;
use egui::{Key, vec2};
use egui_kittest::kittest::Queryable;

use crate::bench::{middle, points, studio};

#[test]
fn it_opens_calm_and_rows_fold_out_and_away() {
    let mut bench = studio(points());
    for there in ["faces 1 and 2", "upright leg", "Paper"] {
        assert!(bench.query_by_label(there).is_some(), "{there}");
    }
    for (bar, canvas) in [("Sides and seams", "sides 1 to 4"), ("Along the leg", "graphs along the leg")] {
        assert!(bench.query_by_label(canvas).is_none(), "{canvas} is folded at first");
        bench.get_by_label(bar).click();
        bench.run();
        assert!(bench.query_by_label(canvas).is_some(), "{canvas}");
    }
    let (faces, sides) = (bench.get_by_label("faces 1 and 2").rect(), bench.get_by_label("sides 1 to 4").rect());
    assert_eq!((faces.left(), faces.right()), (sides.left(), sides.right()), "one ruler");
    bench.get_by_label("Sides and seams").click();
    bench.run();
    assert!(bench.query_by_label("sides 1 to 4").is_none());
}

#[test]
fn a_bar_drags_its_row_taller() {
    let mut bench = studio(points());
    bench.key_press(Key::F5);
    bench.run();
    let before = bench.get_by_label("sides 1 to 4").rect().height();
    let at = middle(&bench, "Sides and seams");
    crate::bench::press(&mut bench, at);
    crate::bench::drag(&mut bench, at, vec2(0.0, -60.0), 4, |_| {});
    crate::bench::release(&mut bench, at - vec2(0.0, 60.0));
    bench.run();
    let after = bench.get_by_label("sides 1 to 4").rect().height();
    assert!(after > before + 40.0, "{before} {after}");
}

#[test]
fn row_bars_follow_the_hand_and_move_only_the_rows_beside_them() {
    let mut bench = studio(points());
    bench.set_size(vec2(1280.0, 1000.0));
    for key in [Key::F5, Key::F6] {
        bench.key_press(key);
        bench.run();
    }
    let canvases = ["faces 1 and 2", "sides 1 to 4", "graphs along the leg"];
    let heights = |bench: &crate::bench::Bench| canvases.map(|name| bench.get_by_label(name).rect().height());
    for (bar, still) in [("Along the leg", 0), ("Sides and seams", 2)] {
        let before = heights(&bench);
        let at = middle(&bench, bar);
        crate::bench::press(&mut bench, at);
        // Far past the stop, and back to where a hand can see that the bar came along.
        crate::bench::drag(&mut bench, at, vec2(0.0, -900.0), 6, |_| {});
        crate::bench::drag(&mut bench, at - vec2(0.0, 900.0), vec2(0.0, 880.0), 6, |_| {});
        bench.run_steps(2);
        assert!((middle(&bench, bar).y - (at.y - 20.0)).abs() < 2.0, "{bar}");
        crate::bench::release(&mut bench, at - vec2(0.0, 20.0));
        bench.run();
        let after = heights(&bench);
        assert!((after[still] - before[still]).abs() < 1.5, "{bar}: {before:?} {after:?}");
        assert!((after.iter().sum::<f32>() - before.iter().sum::<f32>()).abs() < 2.5);
    }
}

#[test]
fn the_wheel_zooms_to_the_pointer() {
    let mut bench = studio(points());
    let at = middle(&bench, "first cut, point 3");
    bench.hover_at(at);
    bench.run();
    let other = middle(&bench, "first cut, point 2");
    for _ in 0..2 {
        bench.event(egui::Event::MouseWheel {
            unit: egui::MouseWheelUnit::Point,
            delta: vec2(0.0, 40.0),
            phase: egui::TouchPhase::Move,
            source: egui::MouseWheelSource::Wheel,
            modifiers: egui::Modifiers::NONE,
        });
        bench.run_steps(20);
    }
    bench.run();
    let (now, away) = (middle(&bench, "first cut, point 3"), middle(&bench, "first cut, point 2"));
    assert!((now.x - at.x).abs() < 1.0, "what is under the pointer stays");
    assert!((now.x - away.x).abs() > 1.2 * (at.x - other.x).abs());
    bench.key_press(Key::Home);
    bench.run();
    assert!((middle(&bench, "first cut, point 2").x - other.x).abs() < 0.5);
}

#[test]
fn nothing_panics_in_a_tiny_or_a_huge_window() {
    let mut bench = studio(points());
    for key in [Key::F5, Key::F6] {
        bench.key_press(key);
        bench.run();
    }
    let sizes =
        [[1.0, 1.0], [60.0, 40.0], [100.0, 800.0], [300.0, 200.0], [610.0, 400.0], [900.0, 600.0], [1280.0, 800.0]];
    for [wide, high] in sizes.into_iter().chain([[2000.0, 2000.0], [3000.0, 1800.0]]) {
        bench.set_size(vec2(wide, high));
        for key in [Key::T, Key::Plus, Key::Home, Key::F4, Key::F1] {
            bench.key_press(key);
            bench.run_steps(2);
        }
    }
}

#[test]
fn ctrl_and_plus_does_not_rescale_the_window() {
    let mut bench = studio(points());
    let before = bench.get_by_label("faces 1 and 2").rect();
    bench.key_press_modifiers(egui::Modifiers::COMMAND, Key::Plus);
    bench.run_steps(3);
    assert_eq!((bench.ctx.zoom_factor(), before), (1.0, bench.get_by_label("faces 1 and 2").rect()));
}

#[test]
fn every_demo_can_be_looked_at_in_every_place() {
    for number in 0..cornerwise_studio::start::demo_titles().len() {
        let mut bench = studio(cornerwise_studio::start::demo(number).unwrap());
        for key in [Key::F5, Key::F6, Key::F4] {
            bench.key_press(key);
            bench.run();
        }
        assert_eq!(bench.state().view().place, Place::Paper);
    }
}

#[test]
fn legs_are_added_chosen_renamed_and_deleted() {
    let mut bench = studio(points());
    bench.get_by_label_contains("legs of the project").click();
    bench.run();
    bench.get_by_label("Duplicate").click();
    bench.run();
    assert_eq!(bench.state().project().designs.len(), 2);
    let shown = bench.state().view().shown(bench.state().project()).map(|design| design.letter);
    assert_eq!(shown, Some('B'), "the new leg is shown");
    bench.get_by_label("Delete").click();
    bench.run();
    assert_eq!(bench.state().project().designs.len(), 1);
    let shown = bench.state().view().shown(bench.state().project()).map(|design| design.letter);
    assert_eq!(shown, Some('A'));
}

/// Where in the order of drawing something is, counted from what is drawn first.
fn last_drawn(bench: &crate::bench::Bench, is_it: impl Fn(&egui::Shape) -> bool) -> Option<usize> {
    bench.output().shapes.iter().rposition(|shape| is_it(&shape.shape))
}

#[test]
fn the_cursor_strikes_no_words_through() {
    let mut bench = studio(points());
    bench.key_press(Key::F5);
    bench.run();
    for (canvas, words) in [("faces 1 and 2", "face 1, first cut"), ("sides 1 to 4", "side 1")] {
        let canvas = bench.get_by_label(canvas).rect();
        let is_text = |shape: &egui::Shape| matches!(shape, egui::Shape::Text(text) if text.galley.text() == words && canvas.contains(text.pos));
        let text = last_drawn(&bench, is_text).unwrap();
        let at = bench.output().shapes[text].shape.visual_bounding_rect().center();
        bench.hover_at(at);
        bench.run();
        let through = |shape: &egui::Shape| {
            matches!(shape, egui::Shape::LineSegment { points: [a, b], .. }
                if a.x == b.x && (a.x - at.x).abs() < 2.0 && (a.y - b.y).abs() >= canvas.height() - 1.0
                    && canvas.y_range().contains(a.y))
        };
        let covered = |shape: &egui::Shape| {
            matches!(shape, egui::Shape::Rect(rect) if rect.fill.is_opaque() && rect.rect.contains(at)
                && rect.rect.height() < 30.0)
        };
        let order = [last_drawn(&bench, through), last_drawn(&bench, covered), last_drawn(&bench, is_text)];
        assert!(order.iter().all(Option::is_some) && order.is_sorted(), "{words}: {order:?}");
    }
}

#[test]
fn keys_in_the_view_menu_can_be_read_on_what_is_chosen() {
    for theme in [egui::Theme::Light, egui::Theme::Dark] {
        let mut bench = studio(points());
        bench.ctx.set_theme(theme);
        bench.key_press(Key::F5);
        bench.run();
        bench.get_by_label("view menu").click();
        bench.run();
        let colour = |words: &str| {
            bench.output().shapes.iter().find_map(|shape| match &shape.shape {
                egui::Shape::Text(text) if text.galley.text() == words => {
                    let colour = text.galley.job.sections.first().map(|section| section.format.color);
                    colour.map(|colour| if colour == egui::Color32::PLACEHOLDER { text.fallback_color } else { colour })
                }
                _ => None,
            })
        };
        let t = cornerwise_studio::tokens::Tokens::of(theme);
        assert_eq!((colour("F5"), colour("F6")), (Some(t.on_chosen), Some(t.soft)), "{theme:?}");
    }
}

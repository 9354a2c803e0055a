//! The ground that lines are drawn on: panned with the middle button or the space bar, and boxes drawn on the sides; and
//! lines of more points than there is room for.

use cornerwise_geometry::{Cut, Line, Point};
use cornerwise_project::{DesignId, Edit, Project};
use egui::{Event, Key, Modifiers, PointerButton, Pos2, Vec2, vec2};
use egui_kittest::kittest::Queryable;

use crate::bench::{Bench, drag, middle, points, press, release, studio, text};
use crate::typing::undone;

/// Drags with a button, a frame each step.
fn drag_with(bench: &mut Bench, button: PointerButton, from: Pos2, by: Vec2) {
    bench.hover_at(from);
    bench.step();
    let press = |pos, pressed| Event::PointerButton { pos, button, pressed, modifiers: Modifiers::NONE };
    bench.event(press(from, true));
    bench.step();
    drag(bench, from, by, 5, |_| {});
    bench.event(press(from + by, false));
    bench.step();
}

fn space(bench: &mut Bench, pressed: bool) {
    let (key, modifiers) = (Key::Space, Modifiers::NONE);
    bench.event(Event::Key { key, physical_key: None, pressed, repeat: false, modifiers });
    bench.step();
}

fn left_mm(bench: &Bench) -> f64 {
    bench.state().faces_on_screen().unwrap().axis.left_mm
}

#[test]
fn the_middle_button_and_the_space_bar_pan_and_neither_is_an_edit() {
    let mut bench = studio(points());
    bench.key_press(Key::F5);
    bench.run();
    let before = text(bench.state().project());
    for _ in 0..4 {
        bench.key_press(Key::Plus);
        bench.run();
    }
    for canvas in ["faces 1 and 2", "sides 1 to 4"] {
        let from = bench.get_by_label(canvas).rect().center() + vec2(0.0, 4.0);
        for by_space in [false, true] {
            let (was, px_per_mm) = (left_mm(&bench), bench.state().faces_on_screen().unwrap().axis.px_per_mm);
            let by = vec2(if by_space { -60.0 } else { 60.0 }, 0.0);
            if by_space {
                space(&mut bench, true);
                drag_with(&mut bench, PointerButton::Primary, from, by);
                space(&mut bench, false);
            } else {
                drag_with(&mut bench, PointerButton::Middle, from, by);
            }
            bench.run();
            let panned = (was - left_mm(&bench)) * px_per_mm;
            assert!((panned - f64::from(by.x)).abs() < 15.0, "{canvas}, by space {by_space}: {panned}");
        }
    }
    assert!(bench.state().view().chosen.is_empty(), "panning chooses nothing");
    assert!(bench.state().history().undo_label().is_none());
    assert_eq!(before, text(bench.state().project()));
}

#[test]
fn the_space_bar_over_a_point_pans_and_does_not_move_it() {
    let mut bench = studio(points());
    bench.key_press(Key::Plus);
    bench.run();
    let before = text(bench.state().project());
    let at = middle(&bench, "first cut, point 3");
    space(&mut bench, true);
    drag_with(&mut bench, PointerButton::Primary, at, vec2(30.0, 12.0));
    space(&mut bench, false);
    bench.run();
    assert_eq!(before, text(bench.state().project()));
}

#[test]
fn a_box_on_the_sides_takes_the_points_whose_outlines_are_in_it_and_arrow_keys_move_them() {
    let project = points().apply(&Edit::ShapeToPoints { design: DesignId(1), cut: Cut::Second }).unwrap();
    let mut bench = studio(project);
    bench.key_press(Key::F5);
    bench.run();
    let before = text(bench.state().project());
    let canvas = bench.get_by_label("sides 1 to 4").rect();
    // Points 2 and 3 of the first cut give side 1 its outline; the box stays within that side's upper half.
    let [two, three] = [2, 3].map(|n| middle(&bench, &format!("first cut, point {n}, side 1, upper edge")));
    let from = egui::pos2(two.x - 14.0, canvas.top() + 2.0);
    let to = egui::pos2(three.x + 14.0, two.y.max(three.y) + 6.0);
    press(&mut bench, from);
    drag(&mut bench, from, to - from, 4, |_| {});
    assert_eq!(bench.state().view().chosen.len(), 2, "it shows what it takes while it is drawn");
    release(&mut bench, to);
    bench.run();
    let ids: Vec<_> = bench.state().project().designs[0].points(Cut::First)[1..3].iter().map(|p| p.id).collect();
    let chosen: Vec<_> = bench.state().view().chosen.iter().collect();
    assert!(chosen.iter().all(|one| one.cut == Cut::First && ids.contains(&one.point)), "{chosen:?}");
    assert_eq!(before, text(bench.state().project()), "choosing is no edit");
    let was = bench.state().project().designs[0].points(Cut::First);
    bench.key_press(Key::ArrowDown);
    bench.run();
    let now = bench.state().project().designs[0].points(Cut::First);
    for (i, (was, now)) in was.iter().zip(&now).enumerate() {
        let moved = if (1..3).contains(&i) { 1.0 } else { 0.0 };
        assert!((now.offset.mm() - was.offset.mm() - moved).abs() < 1e-9);
    }
    undone(&mut bench, &before);
    // Dragged by one of them, both go, as the outline shows it.
    let start = middle(&bench, "first cut, point 2, side 1, upper edge");
    press(&mut bench, start);
    drag(&mut bench, start, vec2(0.0, 9.0), 4, |_| {});
    release(&mut bench, start + vec2(0.0, 9.0));
    bench.run();
    assert_eq!(bench.state().history().undo_label(), Some("Move 2 points of the first cut"));
    undone(&mut bench, &before);
    // Esc gives back what was chosen.
    press(&mut bench, from);
    drag(&mut bench, from, canvas.right_bottom() - vec2(4.0, 4.0) - from, 4, |_| {});
    assert!(bench.state().view().chosen.len() > 2);
    bench.key_press(Key::Escape);
    bench.step();
    assert_eq!(bench.state().view().chosen.len(), 2);
    release(&mut bench, to);
}

/// Both cuts of so many points, evenly apart.
fn of_points(count: u32) -> Project {
    let gap = 700.0 / f64::from(count - 1);
    let point = |i: u32| {
        let s = f64::from(i) * gap;
        Point::smooth(i + 1, s, 25.0 + 6.0 * (s * 0.018).sin(), 0.108 * (s * 0.018).cos(), gap / 3.0, gap / 3.0)
    };
    let mut project = Project::new();
    let design = std::sync::Arc::make_mut(&mut project.designs[0]);
    design.first = Line::Points((0..count).map(point).collect());
    design.second = design.first.clone();
    project
}

#[test]
fn of_points_that_would_be_one_blot_some_are_shown_and_all_are_reached() {
    let mut bench = studio(of_points(300));
    let shown = |bench: &Bench| {
        (1..=300).filter(|n| bench.query_by_label(&format!("first cut, point {n}")).is_some()).collect::<Vec<u32>>()
    };
    let at_first = shown(&bench);
    assert!((40..120).contains(&at_first.len()), "{}", at_first.len());
    assert!(at_first.contains(&1) && at_first.contains(&300), "both ends are there");
    let places: Vec<Pos2> = at_first.iter().map(|n| middle(&bench, &format!("first cut, point {n}"))).collect();
    assert!(places.windows(2).all(|pair| (pair[1] - pair[0]).length() > 3.0));
    // Every one that is shown is the one that a hand there takes.
    for n in [at_first[3], at_first[20]] {
        let at = middle(&bench, &format!("first cut, point {n}"));
        press(&mut bench, at);
        release(&mut bench, at);
        bench.run();
        let id = bench.state().project().designs[0].points(Cut::First)[n as usize - 1].id;
        assert_eq!(bench.state().view().chosen.one().map(|chosen| chosen.point), Some(id));
    }
    // One that is not shown is there as soon as it is chosen: by the keys, from point to point.
    let hidden = (1..=300).find(|n| !at_first.contains(n)).unwrap();
    bench.get_by_label(&format!("first cut, point {}", hidden - 1)).click();
    bench.run();
    bench.key_press(Key::Period);
    bench.run();
    assert!(bench.query_by_label(&format!("first cut, point {hidden}")).is_some());
    let before = text(bench.state().project());
    bench.key_press_modifiers(Modifiers::SHIFT, Key::ArrowDown);
    bench.run();
    assert_ne!(before, text(bench.state().project()), "and moved by keys");
    undone(&mut bench, &before);
    bench.key_press(Key::Comma);
    bench.run();
    let id = bench.state().project().designs[0].points(Cut::First)[hidden as usize - 2].id;
    assert_eq!(bench.state().view().chosen.one().map(|chosen| chosen.point), Some(id));
    // Closer, there is room for more.
    for _ in 0..8 {
        bench.key_press(Key::Plus);
        bench.run();
    }
    let axis = bench.state().faces_on_screen().unwrap().axis.shown();
    let within = bench.state().project().designs[0].points(Cut::First);
    let within = within.iter().filter(|p| (axis.from_mm..axis.to_mm).contains(&p.from_top.mm())).count();
    let closer = shown(&bench).len();
    assert!(closer + 4 >= within, "{closer} of {within}");
}

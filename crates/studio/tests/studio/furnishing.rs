//! The place Furniture: legs put together, hands, boards, and the lines of a leg drawn beside what stands.

use cornerwise_geometry::fit::Notch;
use cornerwise_geometry::furniture::Arrangement;
use cornerwise_geometry::{Cut, Line, Shape};
use cornerwise_project::{DesignId, Edit, FitPart, FurniturePart, Hand, Project};
use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::Queryable;

use crate::bench::{Bench, drag, press, release, studio, text};

/// Unequal cuts, an apron and a shelf.
fn unequal() -> Project {
    let arch = Shape::Arch { rise: 9.0.into(), crest: 0.4, aside: 0.0.into() };
    let edits = [
        Edit::SetShape { design: DesignId(1), cut: Cut::Second, shape: arch },
        Edit::SetFit { design: DesignId(1), part: FitPart::AddNotch(Notch::apron(60.0)) },
        Edit::SetFit { design: DesignId(1), part: FitPart::AddNotch(Notch::shelf(500.0, 18.0, 0.4)) },
    ];
    edits.iter().fold(Project::new(), |project, edit| project.apply(edit).unwrap())
}

fn four() -> Project {
    let arrangement = Arrangement::Rectangle { width: 500.0.into(), depth: 350.0.into() };
    unequal().apply(&Edit::SetFurniture { part: FurniturePart::Arrangement(arrangement) }).unwrap()
}

fn at_furniture(project: Project) -> Bench {
    let mut bench = studio(project);
    bench.key_press(Key::F3);
    bench.run();
    bench
}

fn undo(bench: &mut Bench) {
    bench.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    bench.run();
}

fn hands(bench: &Bench) -> Vec<Hand> {
    bench.state().project().assemble().unwrap().legs.iter().map(|leg| leg.hand).collect()
}

#[test]
fn four_legs_are_placed_and_taken_apart_to_the_very_bytes() {
    let mut bench = at_furniture(unequal());
    let before = text(bench.state().project());
    bench.get_by_label("Four legs at the corners of a rectangle").click();
    bench.run();
    assert_eq!(bench.state().project().assemble().unwrap().legs.len(), 4);
    assert!(bench.query_by_label_contains("like a pinwheel, and do not mirror").is_some());
    for label in ["place 1, leg A", "place 4, leg A"] {
        assert!(bench.query_by_label(label).is_some(), "{label}");
    }
    undo(&mut bench);
    assert_eq!(text(bench.state().project()), before);
}

#[test]
fn a_hand_is_swapped_and_left_and_right_legs_are_offered() {
    let mut bench = at_furniture(four());
    let before = text(bench.state().project());
    bench.get_by_label("place 2, leg A").click();
    bench.run();
    bench.key_press(Key::X);
    bench.run();
    assert_eq!(hands(&bench), [Hand::Drawn, Hand::Mirrored, Hand::Drawn, Hand::Drawn]);
    assert_eq!(bench.state().history().undo_label(), Some("Swap the hand of the leg in place 2"));
    // A mirrored leg's pieces are numbered as on its own wood, here and on paper.
    let inside = |bench: &Bench| {
        let placed = &bench.state().project().assemble().unwrap().legs[1];
        placed.piece(placed.fit.inside)
    };
    assert_eq!(inside(&bench), "Am2");
    bench.get_by_label("place 2, piece 3 inside").click();
    bench.run();
    assert_eq!(inside(&bench), "Am3");
    undo(&mut bench);
    assert_eq!(inside(&bench), "Am2");
    bench.get_by_label("place 2, hand: mirrored").click();
    bench.run();
    assert_eq!(hands(&bench), [Hand::Drawn; 4]);
    bench.get_by_label("Left and right legs").click();
    bench.run();
    assert_eq!(hands(&bench), [Hand::Drawn, Hand::Mirrored, Hand::Drawn, Hand::Mirrored]);
    assert!(bench.query_by_label_contains("mirror one another across the middle, both ways").is_some());
    for _ in 0..3 {
        undo(&mut bench);
    }
    assert_eq!(text(bench.state().project()), before);
}

#[test]
fn a_click_on_a_leg_unfolds_its_lines_and_all_four_follow_them() {
    let drawn = four().apply(&Edit::ShapeToPoints { design: DesignId(1), cut: Cut::First }).unwrap();
    let mut bench = at_furniture(drawn);
    let before = text(bench.state().project());
    let canvas = bench.get_by_label("furniture").rect();
    // Along a row through the lower part of the picture there is a leg somewhere.
    let mut x = canvas.left() + 40.0;
    while bench.state().view().furniture.place.is_none() && x < canvas.right() - 40.0 {
        let at = egui::pos2(x, canvas.center().y + 60.0);
        press(&mut bench, at);
        release(&mut bench, at);
        bench.run();
        x += 12.0;
    }
    assert!(bench.state().view().furniture.place.is_some() && bench.state().view().furniture.faces);
    let Line::Points(points) = bench.state().project().designs[0].first.clone() else { panic!("points") };
    let point = &points[1];
    let at = bench.state().faces_on_screen().unwrap().pos(Cut::First, point.from_top.mm(), point.offset.mm());
    press(&mut bench, at);
    drag(&mut bench, at, vec2(0.0, 12.0), 4, |_| {});
    release(&mut bench, at + vec2(0.0, 12.0));
    bench.run();
    let made = bench.state().project().assemble().unwrap();
    let s = point.from_top.mm();
    let moved: Vec<f64> = made.legs.iter().map(|leg| leg.leg.a(s)).collect();
    assert!(moved.iter().all(|a| (a - moved[0]).abs() < 1e-12 && (a - point.offset.mm()).abs() > 1.0), "{moved:?}");
    undo(&mut bench);
    assert_eq!(text(bench.state().project()), before);
}

#[test]
fn boards_are_added_with_real_sizes_and_the_lists_are_those_of_the_plan() {
    let mut bench = at_furniture(four());
    let before = text(bench.state().project());
    bench.get_by_label("Top").click();
    bench.run();
    assert!(bench.state().project().furniture.as_ref().unwrap().top.is_some());
    bench.get_by_label("Stock").click();
    bench.run();
    assert!(bench.query_by_label("1 × top, 560 by 410 mm, 22 mm thick").is_some());
    assert!(bench.query_by_label("2 × apron, 500 by 60 mm, 20 mm thick").is_some());
    bench.get_by_label("Glue-up plan").click();
    bench.run();
    let plan = cornerwise_export::plan::plan(bench.state().project()).unwrap();
    for line in plan.lines().map(str::trim).filter(|line| line.starts_with("Leg A")).take(2) {
        assert!(bench.query_all_by_label(line).next().is_some(), "{line}");
    }
    undo(&mut bench);
    assert_eq!(text(bench.state().project()), before);
}

#[test]
fn it_comes_to_rest_seen_from_every_way_and_drawn_apart() {
    let mut bench = at_furniture(four());
    for seen in ["Plan", "Front", "Side", "Turning"] {
        bench.get_by_label(seen).click();
        bench.run();
    }
    bench.state_mut().view_mut().furniture.apart = 0.7;
    bench.run();
    for key in [Key::F1, Key::F2, Key::F3, Key::F4] {
        bench.key_press(key);
        bench.run();
    }
}

#[test]
fn a_lamp_has_its_base_and_shade_and_its_tilt_beside_published_tests() {
    let mut bench = at_furniture(Project::new());
    for label in ["Base", "Shade"] {
        bench.get_by_label(label).click();
        bench.run();
    }
    let base = |bench: &Bench| bench.state().project().furniture.as_ref().unwrap().base.clone().unwrap().across.mm();
    let narrow = bench.state().project().furniture.clone().unwrap().base.unwrap();
    let narrow = cornerwise_project::Base { across: 60.0.into(), ..narrow };
    let edit = Edit::SetFurniture { part: FurniturePart::Base(Some(narrow)) };
    let narrow = bench.state().project().apply(&edit).unwrap();
    let least = narrow.assemble().unwrap().least_base_mm(cornerwise_project::LAMP_TILT_DEG).unwrap().ceil();
    let mut small = at_furniture(narrow);
    small.get_by_label(&format!("Make it {least} mm across")).click();
    small.run();
    assert_eq!(base(&small), least);
    assert!(small.query_by_label_contains("Make it").is_none());
    assert!(bench.query_by_label_contains("Falls over when tilted").is_some());
    assert!(bench.query_by_label_contains("IEC 60598-2-4").is_some());
    assert!(bench.query_by_label_contains("local electrical code").is_some());
    assert!(bench.query_by_label_contains("Comparison, not compliance").is_some());
}

#[test]
fn blanks_are_cut_from_boards_of_the_size_that_is_bought() {
    let mut bench = at_furniture(four());
    bench.get_by_label("Stock").click();
    bench.run();
    let before = text(bench.state().project());
    bench.get_by_label("Boards of one size").click();
    bench.run();
    let list = bench.state().project().assemble().unwrap().cut_list().unwrap();
    assert_eq!((list.boards, list.rows.len(), list.offcuts.len()), (1, 2, 3));
    assert!(bench.query_by_label("1 board").is_some());
    assert!(bench.query_by_label("Board 1, row 1: leg A, leg A").is_some());
    assert!(bench.query_by_label_contains("Offcut, edge of board 1").is_some());
    undo(&mut bench);
    assert_eq!(text(bench.state().project()), before);
}

//! Knots marked, dragged and taken back; seams pointed at; limits and own woods set in their panels.

use cornerwise_geometry::Face;
use cornerwise_project::{DesignId, Edit, Project};
use cornerwise_wood::{Finish, Knot, Layer, Layers, Species, Wood};
use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::{NodeT, Queryable};

use crate::bench::{Bench, drag, press, release, studio, text};

fn undo(bench: &mut Bench) {
    bench.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    bench.run();
}

fn marked() -> Project {
    let knot = Knot::new(Face::One, 300.0.into(), 12.0.into(), 15.0.into());
    Project::new().apply(&Edit::AddKnot { design: DesignId(1), knot }).unwrap()
}

#[test]
fn a_knot_is_marked_with_a_click_and_undone_to_the_byte() {
    let mut bench = studio(Project::new());
    let before = text(bench.state().project());
    bench.key_press_modifiers(Modifiers::SHIFT, Key::K);
    bench.run();
    bench.get_by_label("mark a knot on face 3").click();
    bench.run();
    let knots = bench.state().project().designs[0].knots.clone();
    assert_eq!((knots.len(), knots[0].face), (1, Face::Three));
    assert_eq!(bench.state().history().undo_label(), Some("Mark a knot"));
    assert!(bench.query_by_label_contains("glued inside").is_some(), "where it ends up is told");
    undo(&mut bench);
    assert_eq!(text(bench.state().project()), before);
}

/// The map shows a face as it lies before the maker, its own arris up: on face 3 that is arris 3, where x is W.
#[test]
fn a_knot_marked_near_the_upper_arris_of_face_3_lies_there_in_the_blank() {
    let mut bench = studio(Project::new());
    bench.key_press_modifiers(Modifiers::SHIFT, Key::K);
    bench.run();
    let row = bench.get_by_label("mark a knot on face 3").rect();
    let upper = egui::pos2(row.center().x, row.top() + 3.0);
    press(&mut bench, upper);
    release(&mut bench, upper);
    bench.run();
    let knot = bench.state().project().designs[0].knots[0].clone();
    assert!(knot.from_arris.mm() < 8.0, "{knot:?}");
    let ends = knot.ends(&bench.state().project().designs[0].leg().unwrap());
    assert_eq!(ends.in_words(), "glued inside, in piece 3");
}

#[test]
fn a_knot_is_dragged_on_its_face_as_one_change_and_esc_drops_it() {
    let mut bench = studio(marked());
    bench.run();
    let before = text(bench.state().project());
    let grip = bench.get_by_label("knot 1 on face 1").rect().center();
    press(&mut bench, grip);
    drag(&mut bench, grip, vec2(60.0, 10.0), 4, |_| {});
    release(&mut bench, grip + vec2(60.0, 10.0));
    bench.run();
    let moved = bench.state().project().designs[0].knots[0].clone();
    assert!(moved.from_top.mm() > 320.0 && moved.from_arris.mm() > 12.0, "{moved:?}");
    assert_eq!(bench.state().history().undo_label(), Some("Change knot 1"));
    undo(&mut bench);
    assert_eq!(text(bench.state().project()), before);
    let grip = bench.get_by_label("knot 1 on face 1").rect().center();
    press(&mut bench, grip);
    drag(&mut bench, grip, vec2(60.0, 10.0), 4, |_| {});
    bench.key_press(Key::Escape);
    bench.step();
    release(&mut bench, grip);
    bench.run();
    assert_eq!(text(bench.state().project()), before);
}

#[test]
fn a_blank_rolled_a_quarter_takes_its_knots_along_and_undo_brings_them_back() {
    let mut bench = studio(marked());
    let before = text(bench.state().project());
    bench.key_press_modifiers(Modifiers::SHIFT, Key::K);
    bench.run();
    bench.get_by_label("Roll the blank a quarter").click();
    bench.run();
    assert_eq!(bench.state().project().designs[0].knots[0].face, Face::Four);
    undo(&mut bench);
    assert_eq!(text(bench.state().project()), before);
}

#[test]
fn oil_is_put_on_and_taken_off() {
    let mut bench = studio(Project::new());
    bench.set_size(vec2(1280.0, 1500.0));
    bench.run();
    bench.get_by_label("Oiled").click();
    bench.run();
    assert_eq!(bench.state().project().designs[0].finish, Finish::Oiled);
    undo(&mut bench);
    assert_eq!(bench.state().project().designs[0].finish, Finish::Bare);
}

fn sloping() -> Project {
    let layer = |species, mm: f64| Layer { species, thickness: mm.into() };
    let list = vec![layer(Species::Maple, 12.0), layer(Species::Walnut, 10.0)];
    let wood = Wood::Layers(Layers::new(list, 30.0, 0.0, 0.0.into()));
    Project::new().apply(&Edit::SetWood { design: DesignId(1), wood }).unwrap()
}

#[test]
fn a_place_of_a_seam_that_is_pointed_at_shows_where_its_edges_come_from() {
    let mut bench = studio(sloping());
    bench.key_press(Key::F5);
    bench.run();
    let name = "seam 1, 0.0 to";
    let place = bench.query_all_by_label_contains(name).next().expect("a place of seam 1").rect().center();
    bench.hover_at(place);
    bench.run();
    let told = "meets face 2";
    let card = bench.query_all_by_label_contains(told).next().expect("both edges are shown");
    let words = card.accesskit_node().value().or(card.accesskit_node().label()).unwrap_or_default();
    assert!(words.contains("the lines jump") && words.contains("face 4"), "{words}");
    // By the keyboard: the place's mark takes the focus.
    bench.hover_at(egui::pos2(2.0, 2.0));
    bench.run();
    assert!(bench.query_all_by_label_contains(told).next().is_none());
    bench.query_all_by_label_contains(name).next().unwrap().focus();
    bench.run();
    assert!(bench.query_all_by_label_contains(told).next().is_some());
}

#[test]
fn a_limit_is_set_in_its_panel_and_undone() {
    let mut bench = studio(sloping());
    let before = text(bench.state().project());
    bench.key_press(Key::F5);
    bench.run();
    bench.get_by_label("limits of seams and faces").click();
    bench.run();
    crate::typing::type_into(&mut bench, "limits, lines within", "0.5");
    assert_eq!(bench.state().project().wood_limits.meet_mm, 0.5);
    undo(&mut bench);
    assert_eq!(text(bench.state().project()), before);
}

#[test]
fn a_wood_of_ones_own_is_added_from_the_window() {
    let own = Species::Oak.row().clone();
    let row = cornerwise_wood::SpeciesRow { name: "bog oak".to_owned(), ..own };
    let project = Project::new().apply(&Edit::AddOwnWood { row: Box::new(row) }).unwrap();
    let mut bench = studio(project);
    bench.state_mut().view_mut().panels.own_woods = true;
    bench.run();
    crate::typing::type_into(&mut bench, "own wood, rays", "0.4");
    assert_eq!(bench.state().project().own_woods[0].rays, 0.4);
    assert_eq!(bench.state().history().undo_label(), Some("Change the wood bog oak"));
}

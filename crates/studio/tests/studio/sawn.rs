//! The leg as the saw gives it in every view, its graphs and their table, and the limits.

use cornerwise_geometry::{Concern, Limits, Saw};
use cornerwise_project::Project;
use cornerwise_studio::view::LegAs;
use egui_kittest::kittest::Queryable;

use crate::bench::{Bench, studio};

fn sawn() -> Project {
    Project { saw: Some(Saw { tilt_first_deg: 0.5, ..Saw::default() }), ..Project::new() }
}

fn tall(project: Project) -> Bench {
    let mut bench = studio(project);
    bench.set_size(egui::vec2(1280.0, 1800.0));
    bench.run();
    bench
}

#[test]
fn drawn_sawn_or_both_is_chosen_at_the_section_and_real_sizes_follow() {
    let mut bench = tall(sawn());
    assert!(bench.query_by_label_contains("sawn, size").is_some(), "both at first");
    bench.get_by_label("leg as: drawn").click();
    bench.run();
    assert_eq!(bench.state().view().leg_as, LegAs::Drawn);
    assert!(bench.query_by_label_contains("sawn, size").is_none());
    bench.key_press(egui::Key::A);
    bench.run();
    assert_eq!(bench.state().view().leg_as, LegAs::Sawn);
    // Half a degree over 50 mm is 0.436 mm square to the surface.
    assert!(bench.query_by_label_contains("0.44 mm").is_some());
    // Without a saw there is nothing to choose.
    assert!(studio(Project::new()).query_by_label("leg as: sawn").is_none());
}

#[test]
fn graphs_are_chosen_on_their_bar() {
    let mut bench = tall(sawn());
    bench.key_press(egui::Key::F4);
    bench.run();
    bench.get_by_label("graphs menu").click();
    bench.run();
    bench.get_by_label("Step at seams").click();
    bench.run();
    bench.get_by_label("Bend radius").click();
    bench.run();
    let names: Vec<&str> = bench.state().view().graphs.iter().map(|along| along.name()).collect();
    assert_eq!(names, ["Thickness", "Edge angle", "Slope of lines", "Step at seams"]);
}

#[test]
fn graphs_are_saved_as_a_table() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("leg.csv");
    let mut bench = tall(sawn());
    bench.key_press(egui::Key::F4);
    bench.run();
    bench.get_by_label("Save graphs as table…").click();
    bench.run();
    crate::files::enter_path(&mut bench, "Save the graphs as CSV", &path);
    let table = std::fs::read_to_string(&path).unwrap();
    assert!(table.starts_with("from_top_mm,thickness_first_mm"), "{table}");
    assert_eq!(table.lines().count(), 202);
}

#[test]
fn a_limit_is_set_and_put_back_each_as_one_change() {
    let mut bench = tall(Project::new());
    bench.get_by_label("Limits").click();
    bench.run();
    crate::typing::type_into(&mut bench, "limit of sharp edge, watch out", "45");
    let limits = |bench: &Bench| bench.state().project().limits;
    assert_eq!(limits(&bench).of(Concern::EdgeAngle).unwrap().watch, 45.0);
    bench.get_by_label("Sharp edge: limit as usual").click();
    bench.run();
    assert_eq!(limits(&bench), Limits::default());
    bench.get_by_label("Undo").click();
    bench.run();
    assert_eq!(limits(&bench).of(Concern::EdgeAngle).unwrap().watch, 45.0);
}

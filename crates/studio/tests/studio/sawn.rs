//! The leg as the saw gives it in every view, its graphs and their table, and the limits.

use cornerwise_geometry::{Concern, Limits, Saw};
use cornerwise_project::Project;
use cornerwise_studio::view::LegAs;
use egui_kittest::kittest::{NodeT, Queryable};

use crate::bench::{Bench, studio};

fn sawn() -> Project {
    Project { saw: Some(Saw { tilt_first_deg: 0.5, ..Saw::default() }), ..Project::new() }
}

fn tall(project: Project) -> Bench {
    let mut bench = studio(project);
    // So tall that saw, load and limits are all in view; in a usual window their list is scrolled.
    bench.set_size(egui::vec2(1280.0, 6000.0));
    bench.run();
    bench
}

#[test]
fn drawn_sawn_or_both_is_chosen_at_the_section_and_real_sizes_follow() {
    let mut bench = tall(sawn());
    assert!(bench.query_by_label_contains("sawn size").is_some(), "both at first");
    bench.get_by_label("leg as: drawn").click();
    bench.run();
    assert_eq!(bench.state().view().leg_as, LegAs::Drawn);
    assert!(bench.query_by_label_contains("sawn size").is_none());
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
    bench.key_press(egui::Key::F6);
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
    bench.key_press(egui::Key::F6);
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

#[test]
fn a_test_cut_and_a_turned_over_block_fill_the_fields_in_one_undoable_click() {
    let mut bench = tall(Project { saw: Some(Saw::default()), ..Project::new() });
    let saw = |bench: &Bench| bench.state().project().saw.clone().unwrap();
    bench.get_by_label("Measure it").click();
    bench.run();
    assert!(bench.query_by_label("picture of the test cut").is_some());
    crate::typing::type_into(&mut bench, "measured, part 1", "29.4");
    bench.get_by_label("Use 1.1 mm as the kerf").click();
    bench.run();
    assert!((saw(&bench).blade.kerf.mm() - 1.1).abs() < 1e-9);
    // 60 mm high and a gap of 1.0472 mm: half a degree.
    crate::typing::type_into(&mut bench, "measured, gap", "1.0472");
    bench.get_by_label("at the bottom").click();
    bench.run();
    bench.get_by_label("Use -0.50° for both cuts").click();
    bench.run();
    let tilts = |bench: &Bench| [saw(bench).tilt_first_deg, saw(bench).tilt_second_deg];
    assert!(tilts(&bench).iter().all(|tilt| (tilt + 0.5).abs() < 1e-4), "{:?}", tilts(&bench));
    bench.get_by_label("Undo").click();
    bench.run();
    assert_eq!(tilts(&bench), [0.0, 0.0], "one step");
    bench.get_by_label("Undo").click();
    bench.run();
    assert_eq!(saw(&bench), Saw::default());
}

#[test]
fn own_blades_stay_in_the_project_and_a_usual_saw_is_told_again() {
    let mut bench = tall(sawn());
    bench.get_by_label("Own blades").click();
    bench.run();
    crate::typing::type_into(&mut bench, "keep this blade as", "Old quarter");
    assert_eq!(bench.state().project().blades[0].name, "Old quarter");
    bench.get_by_label("Keep as my usual saw").click();
    bench.run();
    let usual = bench.state().view().usual_saw.clone();
    assert_eq!(usual.saw, bench.state().project().saw);
    bench.get_by_label("Put the saw away").click();
    bench.run();
    assert_eq!(bench.state().project().saw, None);
    bench.get_by_label("Tell the saw").click();
    bench.run();
    assert_eq!(bench.state().project().saw, usual.saw, "the usual one, half a degree out and all");
    bench.get_by_label("drop the blade Old quarter").click();
    bench.run();
    assert!(bench.state().project().blades.is_empty());
}

#[test]
fn a_leaning_blank_is_told_and_watched_and_a_click_planes_it() {
    let mut bench = tall(Project::new());
    bench.get_by_label("Blank as measured").click();
    bench.run();
    crate::typing::type_into(&mut bench, "blank, corner", "0.8");
    let corner = |bench: &Bench| bench.state().project().designs[0].blank.out_of_true.corner_deg;
    assert_eq!(corner(&bench), 0.8);
    bench.get_by_label_contains("watch out: Blank out of true").click();
    bench.run();
    bench.get_by_label_contains("the blank planed square within").click();
    bench.run();
    assert!(corner(&bench) <= 0.5, "{}", corner(&bench));
    assert!(bench.query_by_label_contains("watch out: Blank out of true").is_none());
}

#[test]
fn clean_up_arrows_unfold_the_sides() {
    let mut bench = tall(Project::new());
    assert!(!bench.state().view().sides.open);
    bench.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::K);
    bench.run();
    bench.get_by_role_and_label(egui::accesskit::Role::TextInput, "find a command").type_text("clean-up");
    bench.run();
    bench.key_press(egui::Key::Enter);
    bench.run();
    assert!(bench.state().view().sides.open && bench.state().view().clean_up);
    bench.get_by_label("Clean-up arrows").click();
    bench.run();
    assert!(!bench.state().view().clean_up);
}

/// The list never says that there is nothing above something.
#[test]
fn what_is_only_to_be_looked_at_is_said_so() {
    let mut project = Project::new();
    let limits = Limits { edge_deg: cornerwise_geometry::Limit { look: 89.9, watch: 10.0 }, ..Limits::default() };
    project.limits = limits;
    let bench = tall(project);
    assert!(bench.query_by_label("1 thing to have a look at").is_some());
    assert!(bench.query_by_label("No watch-outs").is_none());
    assert!(
        bench
            .query_all_by_label_contains("have a look: Sharp edge")
            .all(|line| format!("{line:?}").contains("from top"))
    );
}

/// In the column's usual width too; the second was half as wide as the first once.
#[test]
fn fields_side_by_side_are_as_wide_as_one_another() {
    let mut project = sawn();
    std::sync::Arc::make_mut(&mut project.designs[0]).load = Some(cornerwise_geometry::Load::default());
    let bench = tall(project);
    let wide = |name: &str| bench.get_by_label(name).rect().width();
    for (one, other) in [("saw, width", "saw, kerf"), ("saw, shim", "saw, slip"), ("load, down", "load, push")] {
        assert!((wide(one) - wide(other)).abs() < 1.0 && wide(one) > 60.0, "{one}: {} {}", wide(one), wide(other));
    }
}

/// The finder and the menus know the saw, the load, the limits and the list of watch-outs.
#[test]
fn the_finder_tells_the_saw_and_a_load_and_a_key_goes_through_the_watch_outs() {
    use cornerwise_studio::commands::Command;
    let mut bench = tall(Project::new());
    let find = |bench: &mut Bench, words: &str| {
        bench.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::K);
        bench.run();
        bench.get_by_role_and_label(egui::accesskit::Role::TextInput, "find a command").type_text(words);
        bench.run();
        bench.key_press(egui::Key::Enter);
        bench.run();
    };
    find(&mut bench, Command::TellSaw.label());
    assert!(bench.state().project().saw.is_some() && bench.query_by_label("saw, kerf").is_some());
    find(&mut bench, Command::TellLoad.label());
    assert!(bench.state().project().designs[0].load.is_some());
    assert!(bench.query_by_label("limit of sharp edge, watch out").is_none());
    find(&mut bench, Command::WatchLimits.label());
    assert!(bench.query_by_label("limit of sharp edge, watch out").is_some(), "unfolded");
    // Asked for again, the saw that is told stays as it is.
    let saw = bench.state().project().saw.clone();
    find(&mut bench, Command::TellSaw.label());
    assert_eq!(bench.state().project().saw, saw);
    let mut crooked = studio(Project {
        saw: Some(Saw { tilt_first_deg: 2.0, bow_first: 1.0.into(), ..Saw::default() }),
        ..Project::new()
    });
    crooked.key_press(egui::Key::V);
    crooked.run();
    let first = crooked.state().view().watched.expect("one is unfolded");
    crooked.key_press(egui::Key::V);
    crooked.run();
    assert!(crooked.state().view().watched.is_some_and(|one| one != first), "the next one");
}

/// Nothing can be put into the saw before anything was measured, and the reason is said.
#[test]
fn what_was_not_measured_cannot_be_used() {
    let mut bench = tall(sawn());
    bench.get_by_label("Measure it").click();
    bench.run();
    for label in ["Use 1 mm as the kerf", "Use 0.00° for both cuts", "First cut only"] {
        assert!(bench.get_by_label(label).accesskit_node().is_disabled(), "{label}");
    }
    crate::typing::type_into(&mut bench, "measured, gap", "0.4");
    assert!(!bench.get_by_label("First cut only").accesskit_node().is_disabled());
    assert!(bench.get_by_label("Use 1 mm as the kerf").accesskit_node().is_disabled());
}

/// In an inch project steps, limits and the fields of the saw are decimals of an inch, not fractions that read as none.
#[test]
fn small_figures_of_an_inch_project_are_decimals() {
    let mut bench =
        tall(Project { units: cornerwise_geometry::Units::Inches(cornerwise_geometry::Finest::Sixteenth), ..sawn() });
    assert!(bench.query_by_label("step, seams 2, 4 0.017\"").is_some());
    assert!(
        bench.query_by_label_contains("sawn thick").is_some() && bench.query_by_label_contains("sawn core").is_some()
    );
    bench.get_by_label("Limits").click();
    bench.run();
    let value = |bench: &Bench, label: &str| bench.get_by_label(label).accesskit_node().value();
    assert_eq!(value(&bench, "limit of step at the seams, have a look").as_deref(), Some("0.008\""));
    assert_eq!(value(&bench, "limit of the blade bows, have a look").as_deref(), Some("0.006\""));
    assert_eq!(value(&bench, "saw, kerf").as_deref(), Some("0.037\""));
    crate::typing::type_into(&mut bench, "limit of step at the seams, have a look", "0.01");
    let step = bench.state().project().limits.step_mm.look;
    assert!((step - 0.254).abs() < 1e-9, "{step}");
}

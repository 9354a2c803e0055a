//! The first start, and a new project: what a maker meets before anything was drawn.

use std::time::Duration;

use cornerwise_geometry::{Cut, Finest, Line, ShapeKind, Units};
use cornerwise_project::Project;
use cornerwise_studio::keep::Folders;
use cornerwise_studio::views::hints::HINTS;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;

use crate::bench::{Bench, studio, studio_with, text};
use crate::typing::{type_into, undone};

fn started(folder: &std::path::Path) -> Bench {
    let folders = Folders::within(folder);
    studio_with(Project::new(), None, |studio, ctx| studio.keep_in(ctx, folders, Duration::from_millis(20)))
}

fn hints(bench: &Bench) -> usize {
    HINTS.iter().filter(|hint| bench.query_by_label(hint).is_some()).count()
}

/// Until the preferences are written.
fn kept(folder: &std::path::Path) {
    let path = Folders::within(folder).preferences();
    let begun = std::time::Instant::now();
    while !std::fs::read_to_string(&path).is_ok_and(|text| text.contains("hints_shown: true")) {
        assert!(begun.elapsed() < Duration::from_secs(20), "it is not kept that the hints were shown");
        std::thread::sleep(Duration::from_millis(5));
    }
}

#[test]
fn three_short_hints_are_shown_at_the_first_start_and_never_again() {
    let folder = tempfile::tempdir().unwrap();
    let mut bench = started(folder.path());
    assert_eq!(hints(&bench), 3);
    assert!(HINTS.iter().all(|hint| hint.len() < 70), "short");
    // Also where the maker never says that they were read, as after a power cut.
    kept(folder.path());
    bench.get_by_label("Got it").click();
    bench.run();
    assert_eq!(hints(&bench), 0);
    assert_eq!(bench.state().history().changes().len(), 0);
    drop(bench);
    assert_eq!(hints(&started(folder.path())), 0);
}

#[test]
fn escape_puts_the_hints_away() {
    let folder = tempfile::tempdir().unwrap();
    let mut bench = started(folder.path());
    assert_eq!(hints(&bench), 3);
    bench.key_press(Key::Escape);
    bench.run();
    assert_eq!(hints(&bench), 0);
}

#[test]
fn a_new_project_starts_from_a_blank_and_a_shape_with_the_leg_in_sight() {
    let mut bench = studio(Project::new());
    bench.key_press_modifiers(Modifiers::COMMAND, Key::N);
    bench.run();
    assert!(bench.state().view().panels.starter);
    let design = |bench: &Bench| bench.state().project().designs[0].clone();
    assert!(design(&bench).leg().is_ok(), "a leg from the first second");
    let before = text(bench.state().project());
    type_into(&mut bench, "new leg, width", "44");
    assert_eq!(design(&bench).blank.width.mm(), 44.0);
    undone(&mut bench, &before);
    type_into(&mut bench, "new leg, length", "450");
    bench.get_by_label("arch").click();
    bench.run();
    for cut in Cut::ALL {
        assert!(matches!(design(&bench).line(cut), Line::Shape(shape) if shape.kind() == ShapeKind::Arch));
    }
    assert!(design(&bench).leg().is_ok_and(|leg| leg.length_mm == 450.0));
    bench.get_by_label("Inches").click();
    bench.run();
    assert_eq!(bench.state().project().units, Units::Inches(Finest::Sixteenth));
    bench.get_by_label("Draw on").click();
    bench.run();
    assert!(!bench.state().view().panels.starter);
}

#[test]
fn a_new_project_keeps_the_units_of_the_one_before() {
    let inches = Units::Inches(Finest::SixtyFourth);
    let mut bench = studio(Project { units: inches, ..Project::new() });
    bench.key_press_modifiers(Modifiers::COMMAND, Key::N);
    bench.run();
    assert_eq!(bench.state().project().units, inches);
    assert_eq!(bench.state().project().designs[0].blank.width.typed(), Some("2 in"));
}

//! A curve from a drawing or a table becomes a saw line: seen first, taken as one step.

use std::fs;

use cornerwise_geometry::Line;
use cornerwise_project::Edit;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;

use crate::bench::{Bench, points, studio, text};
use crate::files::enter_path;
use crate::typing::{type_into, undone};

fn click(bench: &mut Bench, label: &str) {
    bench.get_by_label(label).click();
    bench.run();
}

#[test]
fn a_drawn_path_is_seen_on_the_face_and_taken_as_one_step() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("leg.svg");
    // 700 mm long in a drawing of its own units, with a label in another path.
    let svg = r#"<svg xmlns="http://www.w3.org/2000/svg" width="720mm" height="100mm" viewBox="0 0 7200 1000">
        <path id="label" d="M0 0h40"/>
        <path id="curve" d="M100,500 C1500,500 2100,380 3600,500 S5800,620 7100,500"/></svg>"#;
    fs::write(&path, svg).unwrap();
    let mut bench = studio(points());
    let before = text(bench.state().project());
    bench.key_press_modifiers(Modifiers::SHIFT, Key::I);
    bench.run();
    enter_path(&mut bench, "Choose a drawing or a table, SVG or CSV", &path);
    assert!(bench.query_by_label_contains("points; strays at most").is_some());
    assert_eq!(before, text(bench.state().project()), "only seen so far");
    type_into(&mut bench, "curve, strays at most", "0.02");
    click(&mut bench, "for, second cut");
    type_into(&mut bench, "curve, offset there", "W/2");
    click(&mut bench, "Take it");
    let design = bench.state().project().designs[0].clone();
    assert!(matches!(&design.second, Line::Points(points) if points.len() > 2));
    let leg = design.leg().unwrap();
    assert!((leg.b(0.0) - 25.0).abs() < 0.02 && (leg.b(350.0) - 25.0).abs() < 0.02);
    assert_eq!(bench.state().history().undo_label(), Some("Take a curve for the second cut"));
    undone(&mut bench, &before);
}

#[test]
fn a_table_in_inches_is_dropped_and_taken_in_its_own_size() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("leg.csv");
    let rows: String = (0..=28).map(|i| format!("{i};{:.3}\n", 1.0 + 0.2 * (f64::from(i) * 0.224).sin())).collect();
    fs::write(&path, format!("from top (in);offset (in)\n{rows}")).unwrap();
    let mut bench = studio(points());
    let before = text(bench.state().project());
    bench.input_mut().dropped_files.push(std::sync::Arc::new(crate::files::Dropped(path)));
    bench.run();
    type_into(&mut bench, "curve, offset there", "1\"");
    click(&mut bench, "Take it");
    let leg = bench.state().project().designs[0].leg().unwrap();
    for i in 0..=27 {
        let wanted = 25.4 * (1.0 + 0.2 * (f64::from(i) * 0.224).sin());
        assert!((leg.a(f64::from(i) * 25.4) - wanted).abs() < 0.12, "{i}");
    }
    undone(&mut bench, &before);
}

#[test]
fn what_runs_back_is_refused_with_its_place_and_nothing_changes() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("loop.svg");
    fs::write(&path, r#"<svg width="700mm" viewBox="0 0 700 100"><path d="M0 0 H 300 L 250 40 L 700 40"/></svg>"#)
        .unwrap();
    let mut bench = studio(points().apply(&Edit::AddDesign).unwrap());
    let before = text(bench.state().project());
    bench.input_mut().dropped_files.push(std::sync::Arc::new(crate::files::Dropped(path.clone())));
    bench.run();
    assert!(bench.query_by_label_contains("it runs back along the leg, 300 mm from its beginning").is_some());
    assert!(bench.query_by_label("Take it").is_none());
    fs::write(&path, "<svg><path d=\"M0 0 L x\"/></svg>").unwrap();
    bench.input_mut().dropped_files.push(std::sync::Arc::new(crate::files::Dropped(path)));
    bench.run();
    let notice = bench.state().notice().map(|notice| notice.words.clone()).unwrap_or_default();
    assert!(notice.contains("loop.svg") && notice.contains("line 1"), "{notice}");
    assert_eq!(before, text(bench.state().project()));
}

#[test]
fn esc_puts_an_import_away_and_nothing_has_changed() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("leg.svg");
    fs::write(&path, r#"<svg width="700mm" viewBox="0 0 700 100"><path d="M0 30 C 200 30 400 60 700 50"/></svg>"#)
        .unwrap();
    let mut bench = studio(points());
    let before = text(bench.state().project());
    bench.input_mut().dropped_files.push(std::sync::Arc::new(crate::files::Dropped(path)));
    bench.run();
    assert!(bench.query_by_label("Take it").is_some());
    bench.key_press(Key::Escape);
    bench.run();
    assert!(bench.query_by_label("Take it").is_none());
    assert_eq!(before, text(bench.state().project()));
}

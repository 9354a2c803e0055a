//! The table of points, the gallery of shapes, whole-line tools and mock-ups.

use cornerwise_export::report::report;
use cornerwise_geometry::{Cut, Line, Shape, ShapeKind};
use cornerwise_project::Project;
use egui::Key;
use egui_kittest::kittest::Queryable;

use crate::bench::{Bench, points, studio, text};
use crate::typing::{type_into, undone};

fn click(bench: &mut Bench, label: &str) {
    bench.get_by_label(label).click();
    bench.run();
}

fn first(bench: &Bench) -> Vec<cornerwise_geometry::Point> {
    bench.state().project().designs[0].points(Cut::First)
}

#[test]
fn points_are_typed_in_a_table_that_is_in_step_with_the_face() {
    let mut bench = studio(points());
    let before = text(bench.state().project());
    click(&mut bench, "first cut, table of points");
    type_into(&mut bench, "table, first cut, point 2, slope", "2°");
    assert!((first(&bench)[1].kind.after().0 - 2_f64.to_radians().tan()).abs() < 1e-12);
    undone(&mut bench, &before);
    type_into(&mut bench, "table, first cut, point 2, after", "L/20");
    assert_eq!(first(&bench)[1].kind.after().1, 35.0);
    // What is typed at is chosen, and Enter goes on below.
    let chosen = |bench: &Bench| bench.state().view().chosen.one().map(|chosen| chosen.point);
    assert!(bench.get_by_label("table, first cut, point 3, after").is_focused());
    assert_eq!(chosen(&bench), Some(first(&bench)[2].id));
    bench.key_press(Key::ArrowUp);
    bench.run();
    assert_eq!(chosen(&bench), Some(first(&bench)[1].id));
    undone(&mut bench, &before);
    // A reach past the next point is refused with the room there is.
    type_into(&mut bench, "table, first cut, point 2, after", "L");
    assert_eq!(before, text(bench.state().project()));
    assert!(bench.query_by_label_contains("to the next point at most").is_some());
    click(&mut bench, "table, first cut, point 2, after");
    bench.key_press(Key::Escape);
    bench.run();
    // A point clicked on the face is the chosen row.
    click(&mut bench, "first cut, point 4");
    click(&mut bench, "table, first cut, delete the chosen point");
    assert_eq!(first(&bench).len(), 4);
    undone(&mut bench, &before);
    click(&mut bench, "table, first cut, add a point");
    assert_eq!(first(&bench).len(), 6);
    undone(&mut bench, &before);
}

#[test]
fn a_long_table_builds_only_the_rows_that_are_seen() {
    let points = (0..2000).map(|i| {
        let s = f64::from(i) * 700.0 / 1999.0;
        cornerwise_geometry::Point::smooth(i as u32 + 1, s, 25.0 + (s / 90.0).sin(), 0.0, 0.1, 0.1)
    });
    let mut project = Project::new();
    std::sync::Arc::make_mut(&mut project.designs[0]).first = Line::Points(points.collect());
    let mut bench = studio(project);
    click(&mut bench, "first cut, table of points");
    assert!(bench.query_by_label("table, first cut, point 1, from top").is_some());
    let rows = (1..=2000).filter(|n| bench.query_by_label(&format!("table, first cut, point {n}, from top")).is_some());
    assert!(rows.take(40).count() < 30);
}

#[test]
fn a_starting_shape_is_picked_from_the_gallery() {
    let mut bench = studio(points());
    let before = text(bench.state().project());
    click(&mut bench, "first cut, shape");
    click(&mut bench, "swelling waves");
    assert!(
        matches!(&bench.state().project().designs[0].first, Line::Shape(shape) if shape.kind() == ShapeKind::Waves)
    );
    undone(&mut bench, &before);
}

#[test]
fn a_line_is_made_fairer_after_it_was_looked_at() {
    let mut project = points();
    let wave = Shape::start(ShapeKind::Waves, 700.0, 50.0).points(700.0, 50.0);
    std::sync::Arc::make_mut(&mut project.designs[0]).first = Line::Points(wave);
    let mut bench = studio(project);
    let before = text(bench.state().project());
    click(&mut bench, "first cut, whole line");
    click(&mut bench, "Make fairer");
    type_into(&mut bench, "first cut, whole line, moves at most", "1");
    assert_eq!(before, text(bench.state().project()), "looking changes nothing");
    assert!(bench.query_by_label_contains("Bending ").is_some());
    assert!(
        bench.query_by_label_contains("Moves at most 0.99").is_some()
            || bench.query_by_label_contains("Moves at most 1 mm").is_some()
    );
    click(&mut bench, "first cut, whole line, apply");
    assert_eq!(bench.state().history().undo_label(), Some("Make the first cut fairer"));
    undone(&mut bench, &before);
}

#[test]
fn the_leg_is_stretched_below_its_top_and_a_typed_swing_is_scaled() {
    let mut bench = studio(points());
    let before = text(bench.state().project());
    click(&mut bench, "first cut, whole line");
    click(&mut bench, "Stretch below the top");
    type_into(&mut bench, "first cut, whole line, new length", "L + 100");
    type_into(&mut bench, "first cut, whole line, kept at the top", "2*W");
    click(&mut bench, "first cut, whole line, apply");
    assert_eq!(bench.state().project().designs[0].blank.length.mm(), 800.0);
    undone(&mut bench, &before);
    click(&mut bench, "Scale the swing");
    type_into(&mut bench, "first cut, whole line, times", "1/2");
    click(&mut bench, "first cut, whole line, apply");
    let was = points().designs[0].points(Cut::First);
    for (was, is) in was.iter().zip(first(&bench)) {
        assert!((is.offset.mm() - 25.0 - (was.offset.mm() - 25.0) / 2.0).abs() < 1e-9);
    }
    undone(&mut bench, &before);
}

/// Lengths go by the factor and volumes by its cube; angles and slopes stay (Euclid, Elements, books VI and XI).
#[test]
fn a_mock_ups_report_is_the_legs_in_proportion() {
    let mut bench = studio(points());
    let before = text(bench.state().project());
    click(&mut bench, "Mock-up");
    type_into(&mut bench, "mock-up, width", "20");
    click(&mut bench, "Make the mock-up");
    let project = bench.state().project().clone();
    assert_eq!(project.designs[1].name, "New leg, mock-up 1:2.5");
    let report = report(&project, 9).unwrap();
    let (large, small) = (&report.designs[0], &report.designs[1]);
    assert!((small.volume_mm3 / large.volume_mm3 - 0.4_f64.powi(3)).abs() < 1e-12);
    for (large, small) in large.stations.iter().zip(&small.stations) {
        assert!((small.a_mm - 0.4 * large.a_mm).abs() < 1e-9);
        assert!((small.b_mm - 0.4 * large.b_mm).abs() < 1e-9);
        assert!((small.edge_angle_deg - large.edge_angle_deg).abs() < 1e-6);
    }
    undone(&mut bench, &before);
}

//! The paper place.

use cornerwise_export::paper::project_sheets;
use cornerwise_project::{PageSize, StripLayout};
use egui::Key;
use egui_kittest::kittest::Queryable;

use crate::bench::{points, studio};

#[test]
fn the_pages_are_shown_as_they_will_print() {
    let mut bench = studio(points());
    bench.get_by_label("Paper").click();
    bench.run();
    let count = project_sheets(bench.state().project()).unwrap().len();
    assert!(count >= 3);
    let first = bench.get_by_label(&format!("Leg A, page 1 of {count}")).rect();
    let share = first.height() / first.width();
    assert!((share - 297.0 / 210.0).abs() < 0.01, "A4 upright");
    bench.get_by_label("page size").click();
    bench.run();
    bench.get_by_label("Letter").click();
    bench.run();
    assert_eq!(bench.state().project().paper.page, PageSize::Letter);
    let first = bench.get_by_label_contains("page 1 of").rect();
    assert!((first.height() / first.width() - 11.0 / 8.5).abs() < 0.01);
    bench.get_by_label("A strip for each face").click();
    bench.run();
    assert!(matches!(bench.state().project().paper.layout, StripLayout::PerFace { .. }));
    bench.get_by_label("One page").click();
    bench.run();
    bench.get_by_label("Page after").click();
    bench.run();
    assert_eq!(bench.state().view().page, 1);
}

#[test]
fn the_check_rule_is_typed_and_a_page_scaled_on_purpose_is_refused() {
    let mut bench = studio(points());
    bench.key_press(Key::F4);
    bench.run();
    let type_into = |bench: &mut crate::bench::Bench, text: &str| {
        bench.get_by_label("paper, short edge").click();
        bench.run();
        bench.key_press_modifiers(egui::Modifiers::COMMAND, Key::A);
        bench.run();
        bench.get_by_label("paper, short edge").type_text(text);
        bench.run();
        bench.key_press(Key::Enter);
        bench.run();
    };
    type_into(&mut bench, "99.2");
    assert_eq!(bench.state().project().paper.measured.across.mm(), 99.2);
    assert!(bench.query_by_label_contains("Corrected by +0.81 %").is_some());
    type_into(&mut bench, "50");
    assert_eq!(bench.state().project().paper.measured.across.mm(), 99.2);
    assert!(bench.query_by_label_contains("Not taken").is_some());
}

#[test]
fn a_page_is_called_on_screen_what_it_says_on_paper() {
    let two = points().apply(&cornerwise_project::Edit::AddDesign).unwrap();
    let labels: Vec<String> = project_sheets(&two).unwrap().into_iter().map(|sheet| sheet.label).collect();
    let mut bench = studio(two);
    bench.key_press(Key::F4);
    bench.run();
    // Each leg's pages are counted by themselves; those in sight are there by the same words.
    let pages: Vec<&str> =
        labels.iter().map(|label| label.split_once(':').map_or(&**label, |(page, _)| page)).collect();
    assert!(bench.query_by_label(pages[0]).is_some(), "{pages:?}");
    bench.get_by_label("One page").click();
    bench.run();
    for (number, label) in labels.iter().enumerate() {
        assert!(bench.query_by_label(label).is_some(), "{label}");
        if number + 1 < labels.len() {
            bench.get_by_label("Page after").click();
            bench.run();
        }
    }
    assert!(labels.iter().any(|label| label.starts_with("Leg B, page 1 of ")));
}

#[test]
fn the_heights_of_the_gauge_are_typed_as_a_list_and_undone() {
    let mut bench = studio(points());
    bench.key_press(Key::F4);
    bench.run();
    bench.get_by_label("Gauge of level sections").click();
    bench.run();
    let field = "paper, heights of the gauge from the top";
    let type_into = |bench: &mut crate::bench::Bench, text: &str| {
        bench.get_by_label(field).click();
        bench.run();
        bench.key_press_modifiers(egui::Modifiers::COMMAND, Key::A);
        bench.run();
        bench.get_by_label(field).type_text(text);
        bench.run();
        bench.key_press(Key::Enter);
        bench.run();
    };
    let heights = |bench: &crate::bench::Bench| -> Vec<f64> {
        bench.state().project().paper.gauge_at.iter().map(cornerwise_geometry::Length::mm).collect()
    };
    type_into(&mut bench, "300; 50; 4 in");
    assert_eq!(heights(&bench), [50.0, 101.6, 300.0]);
    bench.key_press_modifiers(egui::Modifiers::COMMAND, Key::Z);
    bench.run();
    assert_eq!(heights(&bench), [0.0; 0]);
    type_into(&mut bench, "tall");
    assert_eq!(heights(&bench), [0.0; 0]);
    assert!(bench.query_by_label_contains("Not taken").is_some());
}

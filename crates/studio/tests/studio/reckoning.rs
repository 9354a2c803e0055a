//! Every field for a length reckons with the sizes of the blank, wherever it stands.

use std::collections::BTreeSet;

use cornerwise_geometry::Cut;
use cornerwise_project::{Edit, PageSize, PaperChoice, Project};
use cornerwise_studio::start;
use cornerwise_studio::view::{Chosen, Place};
use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};

use crate::bench::{Bench, points, studio, text};

/// The fields on screen that show a length in millimetres, with what they show.
fn lengths(bench: &Bench) -> Vec<(String, f64)> {
    let nodes = bench.root().children_recursive().filter(|node| node.accesskit_node().role() == Role::TextInput);
    nodes
        .filter_map(|node| {
            let mm = node.value()?.strip_suffix(" mm")?.parse().ok()?;
            Some((node.accesskit_node().label()?, mm))
        })
        .collect()
}

/// Types into each of them what it shows, as so much less than the length of the blank.
fn reckon(bench: &mut Bench, tried: &mut BTreeSet<String>) {
    let whole = bench.state().project().designs[0].blank.length.mm();
    for (name, mm) in lengths(bench) {
        let before = text(bench.state().project());
        bench.get_by_role_and_label(Role::TextInput, &name).focus();
        bench.run();
        bench.key_press_modifiers(Modifiers::COMMAND, Key::A);
        bench.run();
        // The same, and yet reckoned: more or less of the length by a hundredth where it is the length itself.
        let less = ((whole - mm) * 1000.0).round() / 1000.0;
        let reckoned = format!("L {} {} mm", if less < 0.0 { '+' } else { '-' }, less.abs());
        bench.get_by_role_and_label(Role::TextInput, &name).type_text(&reckoned);
        bench.run();
        bench.key_press(Key::Enter);
        bench.run();
        assert!(bench.query_by_label_contains("Not taken").is_none(), "{name} refuses {reckoned}");
        let now = lengths(bench).into_iter().find(|(other, _)| *other == name);
        let node = bench.get_by_role_and_label(Role::TextInput, &name);
        let shows = node.value().unwrap_or_default();
        assert!(now.is_some_and(|(_, now)| (now - mm).abs() < 0.006) || shows == reckoned, "{name}: {shows}");
        if bench.state().history().is_dragging() || text(bench.state().project()) != before {
            bench.get_by_label("Undo").click();
            bench.run();
            assert_eq!(before, text(bench.state().project()), "{name}");
        }
        tried.insert(name);
    }
}

#[test]
fn every_field_for_a_length_reckons_with_the_blank() {
    let mut tried = BTreeSet::new();
    let mut bench = studio(points());
    let point = bench.state().project().designs[0].points(Cut::First)[1].id;
    bench.state_mut().view_mut().chosen.set(Chosen { cut: Cut::First, point });
    bench.run();
    reckon(&mut bench, &mut tried);
    bench.state_mut().view_mut().panels.starter = true;
    bench.run();
    reckon(&mut bench, &mut tried);
    bench.state_mut().view_mut().panels = Default::default();
    bench.key_press(Key::P);
    bench.run();
    reckon(&mut bench, &mut tried);
    bench.key_press(Key::P);
    bench.key_press(Key::L);
    bench.run();
    for tool in ["Shift along", "Scale the swing", "Make fairer", "Fewer points", "Stretch below the top"] {
        bench.get_by_label(tool).click();
        bench.run();
        reckon(&mut bench, &mut tried);
    }
    bench.key_press(Key::L);
    bench.run();
    bench.state_mut().view_mut().panels.mock_up = true;
    bench.run();
    reckon(&mut bench, &mut tried);
    bench.state_mut().view_mut().panels = Default::default();
    bench.get_by_label("snaps menu").click();
    bench.run();
    reckon(&mut bench, &mut tried);
    bench.key_press(Key::Escape);
    bench.run();
    for wood in ["Layers", "Blocks"] {
        bench.get_by_label(wood).click();
        bench.run();
        reckon(&mut bench, &mut tried);
    }
    bench.get_by_label("Tell the saw").click();
    bench.run();
    reckon(&mut bench, &mut tried);
    // Every live shape.
    for number in 0..start::demo_names().len() {
        let mut bench =
            studio(Project { units: cornerwise_geometry::Units::Millimetres, ..start::demo(number).unwrap() });
        reckon(&mut bench, &mut tried);
    }
    let paper = PaperChoice { page: PageSize::Roll { width: 610.0.into() }, ..PaperChoice::default() };
    let mut bench = studio(points().apply(&Edit::SetPaper { paper }).unwrap());
    bench.state_mut().view_mut().place = Place::Paper;
    bench.run();
    reckon(&mut bench, &mut tried);
    for name in ["roll width", "paper, overlap", "layers, shift", "snaps, grid step", "timber, ring width"] {
        assert!(tried.contains(name), "{name} was not found; {tried:?}");
    }
    assert!(tried.len() > 40, "only {} fields were found: {tried:?}", tried.len());
}

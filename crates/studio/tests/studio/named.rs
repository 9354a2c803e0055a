//! What assistive technology and the Tab key find: every control, with a name that says what it is.

use std::collections::{BTreeSet, HashSet};
use std::time::Duration;

use cornerwise_geometry::Cut;
use cornerwise_project::{Edit, Project};
use cornerwise_studio::keep::Folders;
use cornerwise_studio::start;
use cornerwise_studio::view::{Chosen, Place};
use egui::accesskit::{Action, NodeId, Role};
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};

use crate::bench::{Bench, points, studio, studio_with};

/// Every control on the screen: its node, its role and its name.
fn controls(bench: &Bench) -> Vec<(NodeId, Role, String)> {
    let nodes = bench.root().children_recursive().map(|node| node.accesskit_node());
    nodes
        .filter(|node| {
            // The title bar of a window is egui's own.
            let mut above = std::iter::successors(node.parent(), |node| node.parent());
            !(node.role() == Role::Unknown && above.any(|node| node.role() == Role::Window))
        })
        .filter(|node| {
            let works = |action| node.data().supports_action(action);
            // What is scrolled, a scroll bar and a window's frame are egui's own: they move by wheel and keys of what is
            // in them.
            let bare =
                [Role::GenericContainer, Role::ScrollView, Role::ScrollBar, Role::Window, Role::Unknown, Role::Pane];
            !node.is_hidden() && (works(Action::Focus) || (works(Action::Click) && !bare.contains(&node.role())))
        })
        .map(|node| {
            let (id, _) = node.locate();
            (id, node.role(), node.label().unwrap_or_default())
        })
        .collect()
}

/// The controls without a name in words.
fn unnamed(bench: &Bench) -> Vec<String> {
    let said = |name: &str| name.chars().any(char::is_alphanumeric);
    controls(bench)
        .into_iter()
        .filter(|(_, _, name)| !said(name))
        .map(|(id, role, name)| {
            let node = bench.root().children_recursive().find(|node| node.accesskit_node().locate().0 == id);
            format!("{role:?} \"{name}\" at {:?}", node.map(|node| node.rect()))
        })
        .collect()
}

fn check(bench: &Bench, place: &str) {
    let all = controls(bench).len();
    assert!(all > 8, "{place}: only {all} controls are found, so nothing is checked");
    let unnamed = unnamed(bench);
    assert!(unnamed.is_empty(), "{place}: without a name: {unnamed:#?}");
}

fn press(bench: &mut Bench, key: Key) {
    bench.key_press(key);
    bench.run();
}

#[test]
fn every_control_of_every_place_has_a_name() {
    for (number, demo) in start::demo_names().into_iter().enumerate() {
        let mut bench = studio(start::demo(number).unwrap());
        check(&bench, demo);
        press(&mut bench, Key::F5);
        press(&mut bench, Key::F6);
        check(&bench, &format!("{demo}, all rows"));
        press(&mut bench, Key::F2);
        check(&bench, &format!("{demo}, fit"));
        press(&mut bench, Key::F3);
        for told in ["Standing", "Stock", "Glue-up plan"] {
            if let Some(tab) = bench.query_by_label(told) {
                tab.click();
                bench.run();
                check(&bench, &format!("{demo}, furniture, {told}"));
            }
        }
        if number == 0 {
            press(&mut bench, Key::F4);
            check(&bench, "paper");
            bench.state_mut().view_mut().one_page = true;
            bench.run();
            check(&bench, "one page");
        }
    }
}

#[test]
fn every_control_of_every_panel_and_menu_has_a_name() {
    let mut bench = studio(points());
    let point = bench.state().project().designs[0].points(Cut::First)[1].id;
    bench.state_mut().view_mut().chosen.set(Chosen { cut: Cut::First, point });
    bench.run();
    check(&bench, "a chosen point");
    for (key, panel) in [(Key::P, "points"), (Key::L, "whole line"), (Key::E, "gallery")] {
        press(&mut bench, key);
        check(&bench, panel);
        press(&mut bench, Key::Escape);
    }
    bench.state_mut().view_mut().panels.starter = true;
    bench.state_mut().view_mut().panels.mock_up = true;
    bench.state_mut().view_mut().panels.measure = true;
    bench.run();
    check(&bench, "new leg, mock-up and measuring");
    bench.state_mut().view_mut().panels = Default::default();
    for panel in ["knots", "own woods", "limits of seams", "trace"] {
        let panels = &mut bench.state_mut().view_mut().panels;
        match panel {
            "knots" => panels.knots = true,
            "own woods" => panels.own_woods = true,
            "limits of seams" => panels.wood_limits = true,
            _ => panels.trace = Some(Cut::First),
        }
        bench.run();
        check(&bench, panel);
        bench.state_mut().view_mut().panels = Default::default();
    }
    for button in [
        "fairness menu",
        "ghost menu",
        "snaps menu",
        "file menu",
        "edit menu",
        "draw menu",
        "view menu",
        "units",
        "first cut, shape",
    ] {
        bench.get_by_label(button).click();
        bench.run();
        check(&bench, button);
        press(&mut bench, Key::Escape);
    }
    for wood in ["Layers", "Blocks", "Photos"] {
        bench.get_by_label(wood).click();
        bench.run();
        check(&bench, wood);
    }
    bench.key_press_modifiers(Modifiers::COMMAND, Key::K);
    bench.run();
    check(&bench, "finder");
    press(&mut bench, Key::Escape);
    press(&mut bench, Key::F5);
    bench.get_by_label("Tell the saw").click();
    bench.run();
    check(&bench, "saw");
}

#[test]
fn every_control_of_what_is_asked_at_a_start_has_a_name() {
    let folder = tempfile::tempdir().unwrap();
    let folders = Folders::within(folder.path());
    let start = |project: Project| {
        let folders = folders.clone();
        studio_with(project, None, |studio, ctx| studio.keep_in(ctx, folders, Duration::from_millis(10)))
    };
    let mut bench = start(points());
    check(&bench, "hints");
    bench.get_by_label("Layers").click();
    bench.run();
    let begun = std::time::Instant::now();
    let copied = || std::fs::read_dir(folders.recovery()).is_ok_and(|mut all| all.any(|_| true));
    while !copied() {
        assert!(begun.elapsed() < Duration::from_secs(20));
        std::thread::sleep(Duration::from_millis(5));
        bench.step();
    }
    std::thread::sleep(Duration::from_millis(100));
    drop(bench);
    let mut bench = start(points());
    while bench.state().offered_copies().is_empty() {
        assert!(begun.elapsed() < Duration::from_secs(40));
        std::thread::sleep(Duration::from_millis(5));
        bench.step();
    }
    bench.run();
    check(&bench, "recovered work");
    bench.key_press_modifiers(Modifiers::COMMAND | Modifiers::SHIFT, Key::S);
    bench.run();
    check(&bench, "a path to type");
}

#[test]
fn tab_reaches_every_control() {
    for place in [Place::Shape, Place::Paper] {
        let mut bench = studio(points());
        bench.state_mut().view_mut().place = place;
        bench.run();
        let nodes = bench.root().children_recursive().map(|node| node.accesskit_node());
        let meant: BTreeSet<String> = nodes
            .filter(|node| node.data().supports_action(Action::Focus) && !node.is_disabled())
            .filter_map(|node| node.label())
            .collect();
        assert!(meant.len() > 15, "{place:?}: {meant:?}");
        let mut reached = HashSet::new();
        for _ in 0..4 * meant.len() {
            bench.key_press(Key::Tab);
            bench.step();
            let focused = bench.root().children_recursive().find(|node| node.is_focused());
            reached.extend(focused.and_then(|node| node.accesskit_node().label()));
        }
        let missed: Vec<&String> = meant.iter().filter(|name| !reached.contains(*name)).collect();
        assert!(missed.is_empty(), "{place:?}: Tab never comes to {missed:?}");
    }
}

#[test]
fn a_drag_is_dropped_by_escape_and_panels_are_closed_one_at_a_time() {
    let mut bench = studio(points());
    press(&mut bench, Key::P);
    press(&mut bench, Key::L);
    let open = |bench: &Bench| {
        let panels = bench.state().view().panels;
        (panels.points.is_some(), panels.whole_line.is_some())
    };
    assert_eq!(open(&bench), (true, true));
    // While something is dragged, Esc is about the drag alone.
    let before = crate::bench::text(bench.state().project());
    let at = crate::bench::middle(&bench, "first cut, point 3");
    crate::bench::press(&mut bench, at);
    crate::bench::drag(&mut bench, at, egui::vec2(0.0, -30.0), 4, |_| {});
    assert_ne!(before, crate::bench::text(bench.state().project()));
    press(&mut bench, Key::Escape);
    crate::bench::release(&mut bench, at);
    bench.run();
    assert_eq!(before, crate::bench::text(bench.state().project()));
    assert_eq!(open(&bench), (true, true));
    assert!(!bench.state().view().chosen.is_empty());
    press(&mut bench, Key::Escape);
    assert_eq!(open(&bench), (true, false));
    press(&mut bench, Key::Escape);
    assert_eq!(open(&bench), (false, false));
    assert!(!bench.state().view().chosen.is_empty(), "the points stay chosen until nothing else is open");
    press(&mut bench, Key::Escape);
    assert!(bench.state().view().chosen.is_empty());
    // In a field of a panel, Esc is about the field first.
    press(&mut bench, Key::P);
    bench.get_by_label("table, first cut, point 2, offset").click();
    bench.run();
    press(&mut bench, Key::Escape);
    assert_eq!(open(&bench), (true, false));
    press(&mut bench, Key::Escape);
    assert_eq!(open(&bench), (false, false));
}

#[test]
fn panels_open_and_close_by_their_keys_for_the_cut_that_is_worked_on() {
    let project = points().apply(&Edit::ShapeToPoints { design: cornerwise_project::DesignId(1), cut: Cut::Second });
    let mut bench = studio(project.unwrap());
    let point = bench.state().project().designs[0].points(Cut::Second)[1].id;
    bench.state_mut().view_mut().chosen.set(Chosen { cut: Cut::Second, point });
    for key in [Key::P, Key::L, Key::E] {
        press(&mut bench, key);
        let panels = bench.state().view().panels;
        let open = [panels.points, panels.whole_line, panels.gallery];
        assert_eq!(open.into_iter().flatten().collect::<Vec<_>>(), [Cut::Second], "{key:?}");
        press(&mut bench, key);
        assert_eq!(bench.state().view().panels, Default::default(), "{key:?}");
    }
    bench.key_press_modifiers(Modifiers::SHIFT, Key::M);
    bench.run();
    assert!(bench.state().view().panels.mock_up);
}

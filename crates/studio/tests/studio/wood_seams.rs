//! The changes that make seams meet, taken and undone; blocks given another wood.

use cornerwise_project::{DesignId, Edit, Project};
use cornerwise_wood::{BlockPreset, Layer, Layers, SeamFit, Species, Wood};
use egui::Key;
use egui_kittest::kittest::{NodeT, Queryable};
use std::time::Duration;

use crate::bench::{Bench, studio};

fn of(wood: Wood) -> Project {
    Project::new().apply(&Edit::SetWood { design: DesignId(1), wood }).unwrap()
}

fn sloping() -> Project {
    let layer = |species, mm: f64| Layer { species, thickness: mm.into() };
    let list = vec![layer(Species::Maple, 12.0), layer(Species::Walnut, 10.0)];
    of(Wood::Layers(Layers::new(list, 30.0, 0.0, 0.0.into())))
}

/// Waits until the search, which runs on a thread of its own, has its answer on screen.
fn wait_for(bench: &mut Bench, words: &str) {
    let came = (0..400).any(|_| {
        bench.step();
        let there = bench.query_all_by_label_contains(words).next().is_some();
        if !there {
            std::thread::sleep(Duration::from_millis(25));
        }
        there
    });
    assert!(came, "{words} never came");
}

#[test]
fn a_change_that_makes_seams_meet_is_taken_with_one_click_and_undone() {
    let mut bench = studio(sloping());
    bench.set_size(egui::vec2(1280.0, 1200.0));
    bench.state_mut().view_mut().sides.height_px = 620.0;
    bench.key_press(Key::F5);
    bench.run();
    bench.get_by_label("Make seams meet…").click();
    bench.run();
    wait_for(&mut bench, "Seams 1 and 3, do: lean of the layers");
    let before = bench.state().project().designs[0].wood.clone();
    bench.get_by_label_contains("Seams 1 and 3, do: lean of the layers from 30° to 26.1°").scroll_to_me();
    bench.run();
    bench.get_by_label_contains("Seams 1 and 3, do: lean of the layers from 30° to 26.1°").click();
    bench.step();
    bench.step();
    let Wood::Layers(layers) = &bench.state().project().designs[0].wood else { unreachable!("layers") };
    // W sin t = one repeat: sin t = 22 / 50.
    assert!((layers.lean_deg - 0.44_f64.asin().to_degrees()).abs() < 1e-9, "{}", layers.lean_deg);
    // The number that was promised is the number seen.
    wait_for(&mut bench, "Seams 1 and 3: lines meet 100 %; same wood 100 %; pattern carries on 100 %");
    bench.key_press_modifiers(egui::Modifiers::COMMAND, Key::Z);
    bench.step();
    bench.step();
    assert_eq!(bench.state().project().designs[0].wood, before);
}

#[test]
fn the_search_opens_by_its_command_tells_of_both_pairs_and_goes_with_esc() {
    let mut bench = studio(sloping());
    // The sides need not be unfolded for it.
    bench.key_press_modifiers(egui::Modifiers::SHIFT, Key::F);
    bench.run();
    wait_for(&mut bench, "Seams 1 and 3, do: lean of the layers");
    assert!(bench.query_by_label_contains("The wood beside Seams 1 and 3 as they are").is_some());
    let other = "Seams 2 and 4: lines meet 100 %; same wood 100 %; pattern carries on 100 %";
    assert!(bench.query_all_by_label_contains(other).next().is_some());
    bench.key_press(Key::Escape);
    bench.run();
    assert!(bench.query_all_by_label_contains(other).next().is_none());
}

#[test]
fn pairs_and_questions_are_chosen_and_what_cannot_be_says_why_in_the_project_s_units() {
    let mut bench = studio(sloping());
    bench.set_size(egui::vec2(1280.0, 1200.0));
    bench.key_press_modifiers(egui::Modifiers::SHIFT, Key::F);
    bench.run();
    wait_for(&mut bench, "Seams 1 and 3, do: lean of the layers");
    // Every change with what it does to both pairs, and how large it is.
    let promised = "Seams 1 and 3: lines meet 100 %, was 0 %; same wood 100 %, was";
    assert!(bench.query_all_by_label_contains(promised).next().is_some());
    assert!(bench.query_all_by_label_contains("Size 3.4").next().is_some());
    bench.get_by_label("Blank is glued").click();
    bench.run();
    wait_for(&mut bench, "The layers jump by 28.9 mm along the leg");
    let inches = cornerwise_geometry::Units::Inches(cornerwise_geometry::Finest::Sixteenth);
    let in_inches = bench.state().project().apply(&Edit::SetUnits { units: inches }).unwrap();
    let mut bench = studio(in_inches);
    bench.set_size(egui::vec2(1280.0, 1200.0));
    bench.key_press_modifiers(egui::Modifiers::SHIFT, Key::F);
    bench.run();
    bench.get_by_label("Blank is glued").click();
    bench.run();
    wait_for(&mut bench, "The layers jump by 1 1/8");
    // Nothing is asked of a pair that is not chosen, nor of no pair at all.
    bench.get_by_label("Seams 1 and 3").click();
    bench.run();
    assert!(bench.query_all_by_label_contains("The layers jump").next().is_none());
    bench.get_by_label("Seams 2 and 4").click();
    bench.run();
    wait_for(&mut bench, "Choose a pair of seams");
}

#[test]
fn the_wood_comes_in_sight_when_the_head_is_scrolled() {
    let mut bench = studio(sloping());
    bench.key_press(Key::F5);
    bench.run();
    let at = bench.get_by_label("blank, width").rect().center();
    bench.hover_at(at);
    bench.step();
    let foot = bench.get_by_label("Sides and seams").rect().top();
    let wood = |bench: &Bench| bench.get_by_label("Add layer").rect().bottom();
    assert!(wood(&bench) > foot);
    for _ in 0..40 {
        let (unit, delta) = (egui::MouseWheelUnit::Point, egui::vec2(0.0, -60.0));
        let (phase, source) = (egui::TouchPhase::Move, egui::MouseWheelSource::Wheel);
        bench.event(egui::Event::MouseWheel { unit, delta, phase, source, modifiers: egui::Modifiers::NONE });
        bench.step();
    }
    assert!(wood(&bench) < foot, "{} is below {foot}", wood(&bench));
}

#[test]
fn a_click_gives_a_block_another_wood() {
    let blocks = BlockPreset::Staves.build([50.0, 50.0], 4, SeamFit::AsAsked, [Species::Maple, Species::Cherry]);
    let mut bench = studio(of(Wood::Blocks(blocks)));
    bench.set_size(egui::vec2(1280.0, 1500.0));
    bench.run();
    // The brush is the second wood of the blank.
    let cell = bench.query_all_by_label("column 1, block 1, maple").next().expect("a cell of the editor");
    cell.click();
    bench.run();
    let Wood::Blocks(blocks) = &bench.state().project().designs[0].wood else { unreachable!("blocks") };
    assert_eq!(blocks.columns[0].blocks[0].species, Species::Cherry);
    assert_eq!(bench.state().history().undo_label(), Some("Change block 1 of column 1"));
}

#[test]
fn a_chosen_block_has_its_own_height_and_its_column_its_own_width_and_shift() {
    let blocks = BlockPreset::Brick.build([50.0, 50.0], 4, SeamFit::AsAsked, [Species::Maple, Species::Cherry]);
    let mut bench = studio(of(Wood::Blocks(blocks)));
    bench.set_size(egui::vec2(1280.0, 1500.0));
    bench.run();
    let before = crate::bench::text(bench.state().project());
    let blocks = |bench: &Bench| match &bench.state().project().designs[0].wood {
        Wood::Blocks(blocks) => blocks.clone(),
        _ => unreachable!("blocks"),
    };
    bench.query_all_by_label_contains("column 2, block 1").next().expect("a cell of the editor").focus();
    bench.run();
    assert!(bench.query_by_label("Chosen: column 2, block 1").is_some());
    crate::typing::type_into(&mut bench, "blocks, block height", "31");
    crate::typing::type_into(&mut bench, "blocks, column width", "14");
    crate::typing::type_into(&mut bench, "blocks, column shift", "3");
    let now = blocks(&bench);
    let column = &now.columns[1];
    assert_eq!([column.blocks[0].height.mm(), now.widths[1].mm(), column.shift.mm()], [31.0, 14.0, 3.0]);
    let (count, first) = (column.blocks.len(), now.columns[0].clone());
    bench.get_by_label("a block more").click();
    bench.run();
    assert_eq!(blocks(&bench).columns[1].blocks.len(), count + 1);
    bench.get_by_label("delete the chosen block").click();
    bench.run();
    assert_eq!(blocks(&bench), now);
    assert_eq!(now.columns[0], first);
    for _ in 0..5 {
        bench.key_press_modifiers(egui::Modifiers::COMMAND, Key::Z);
        bench.run();
    }
    assert_eq!(crate::bench::text(bench.state().project()), before);
}

#[test]
fn the_pith_is_dragged_on_the_end_view_as_one_change_and_esc_drops_it() {
    let timber = cornerwise_wood::Timber::new(Species::Oak, 25.0.into(), 40.0.into(), 3.0.into());
    let mut bench = studio(of(Wood::Timber(timber)));
    bench.set_size(egui::vec2(1280.0, 1500.0));
    bench.run();
    let pith = |bench: &Bench| match &bench.state().project().designs[0].wood {
        Wood::Timber(timber) => [timber.pith_x.mm(), timber.pith_y.mm()],
        _ => unreachable!("timber"),
    };
    let grip = bench.get_by_label("pith").rect().center();
    crate::bench::press(&mut bench, grip);
    crate::bench::drag(&mut bench, grip, egui::vec2(20.0, -30.0), 4, |_| {});
    crate::bench::release(&mut bench, grip + egui::vec2(20.0, -30.0));
    bench.run();
    let [x, y] = pith(&bench);
    assert!(x > 27.0 && y < 37.0 && ((x - 25.0) / (40.0 - y) - 20.0 / 30.0).abs() < 0.03, "{x} {y}");
    assert_eq!(bench.state().history().undo_label(), Some("Move the pith"));
    bench.key_press_modifiers(egui::Modifiers::COMMAND, Key::Z);
    bench.run();
    assert_eq!(pith(&bench), [25.0, 40.0]);
    let grip = bench.get_by_label("pith").rect().center();
    crate::bench::press(&mut bench, grip);
    crate::bench::drag(&mut bench, grip, egui::vec2(20.0, -30.0), 4, |_| {});
    bench.key_press(Key::Escape);
    bench.step();
    crate::bench::release(&mut bench, grip);
    bench.run();
    assert_eq!(pith(&bench), [25.0, 40.0]);
}

#[test]
fn the_limit_of_meeting_lines_is_told_and_typed_in_the_project_s_units() {
    let inches = cornerwise_geometry::Units::Inches(cornerwise_geometry::Finest::Sixteenth);
    let mut bench = studio(sloping().apply(&Edit::SetUnits { units: inches }).unwrap());
    bench.key_press_modifiers(egui::Modifiers::SHIFT, Key::L);
    bench.run();
    let field = "limits, lines within";
    // 0.2 mm is no fraction of an inch.
    assert_eq!(bench.get_by_label(field).value().as_deref(), Some("0.0079\""));
    crate::typing::type_into(&mut bench, field, "1/16\"");
    assert_eq!(bench.state().project().wood_limits.meet_mm, 25.4 / 16.0);
    assert_eq!(bench.get_by_label(field).value().as_deref(), Some("1/16\""));
    crate::typing::type_into(&mut bench, field, "1 in");
    assert!(bench.query_by_label_contains("Not taken").is_some());
    assert_eq!(bench.state().project().wood_limits.meet_mm, 25.4 / 16.0);
    bench.key_press(Key::Escape);
    bench.run();
    crate::typing::type_into(&mut bench, field, "0.3 mm");
    assert_eq!(bench.state().project().wood_limits.meet_mm, 0.3);
}

/// Knots, own woods, limits and a mock-up, all opened by their keys: the top of each can be taken hold of.
#[test]
fn panels_about_the_wood_open_beside_one_another() {
    let mut bench = studio(Project::new());
    for key in [Key::K, Key::W, Key::L, Key::M] {
        bench.key_press_modifiers(egui::Modifiers::SHIFT, key);
        bench.run();
    }
    let titles = ["Knots of the blank", "Own woods", "Limits of seams and faces", "Mock-up"];
    let windows: Vec<egui::Rect> = titles
        .iter()
        .map(|title| {
            let window = bench
                .query_all_by_label(title)
                .find(|node| node.accesskit_node().role() == egui::accesskit::Role::Window);
            window.unwrap_or_else(|| panic!("no window {title}")).rect()
        })
        .collect();
    for (i, one) in windows.iter().enumerate() {
        for (k, other) in windows.iter().enumerate().filter(|(k, _)| *k != i) {
            let head = one.with_max_y(one.top() + 24.0);
            assert!(!head.intersects(*other), "{} at {one} is under {} at {other}", titles[i], titles[k]);
        }
    }
    bench.key_press_modifiers(egui::Modifiers::SHIFT, Key::B);
    bench.run();
    assert!(bench.state().view().panels.photos.is_some());
}

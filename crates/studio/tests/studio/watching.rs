//! Watch-outs: the list, the fixes, the saw and the load.

use cornerwise_geometry::{Blank, Cut, Shape};
use cornerwise_project::{DesignId, Edit, Project};
use egui_kittest::kittest::Queryable;

use crate::bench::studio;

/// Too many waves in a short leg.
fn wild() -> Project {
    let shape =
        Shape::Waves { waves: 4, swing_top: 34.0.into(), swing_foot: 34.0.into(), shortening: 1.0, aside: 0.0.into() };
    let mut project =
        Project::new().apply(&Edit::SetBlank { design: DesignId(1), blank: Blank::square(50.0, 300.0) }).unwrap();
    for cut in Cut::ALL {
        project = project.apply(&Edit::SetShape { design: DesignId(1), cut, shape: shape.clone() }).unwrap();
    }
    project
}

#[test]
fn a_sound_leg_has_nothing_to_watch_out_for_and_nothing_is_asked_about_the_saw() {
    let bench = studio(Project::new());
    assert!(bench.query_by_label("No watch-outs").is_some());
    assert!(bench.query_by_label("Tell the saw").is_some());
    assert!(bench.query_by_label("saw, kerf").is_none());
}

#[test]
fn a_watch_out_is_clicked_fixed_and_the_fix_undone() {
    let mut bench = studio(wild());
    bench.get_by_label_contains("watch out: Sharp edge").click();
    bench.run();
    let length = |bench: &crate::bench::Bench| bench.state().project().designs[0].blank.length.mm();
    bench.get_by_label_contains("times longer").click();
    bench.run();
    assert!(length(&bench) > 330.0, "{}", length(&bench));
    assert!(bench.query_by_label_contains("watch out: Sharp edge").is_none());
    bench.get_by_label("Undo").click();
    bench.run();
    assert_eq!(length(&bench), 300.0);
    assert!(bench.query_by_label_contains("watch out: Sharp edge").is_some());
}

#[test]
fn the_saw_is_told_when_it_is_wanted_and_put_away_again() {
    let mut bench = studio(wild());
    // Tall enough that saw and load are both in view; in a small window their list is scrolled.
    bench.set_size(egui::vec2(1280.0, 5000.0));
    bench.run();
    bench.get_by_label("Tell the saw").click();
    bench.run();
    assert!(bench.state().project().saw.is_some());
    assert!(bench.query_by_label("saw, kerf").is_some());
    bench.get_by_label("Tell a load").click();
    bench.run();
    assert!(bench.query_by_label_contains("certifies nothing").is_some());
}

#[test]
fn every_bend_has_its_blade_and_a_click_goes_there() {
    let mut project = wild();
    project.saw = Some(cornerwise_geometry::Saw::default());
    let mut bench = studio(project);
    bench.set_size(egui::vec2(1280.0, 5000.0));
    bench.run();
    bench.get_by_label("Blade for each bend").click();
    bench.run();
    let bend = bench.query_all_by_label_contains("bend of the second cut").next().expect("a bend");
    bend.click();
    bench.run();
    let at = bench.state().view().cursor_mm;
    let leg = bench.state().project().designs[0].leg().unwrap();
    assert!((leg.line(Cut::Second).bends()[0].s_mm - at).abs() < 1e-9, "{at}");
    bench.get_by_label("Passes").click();
    bench.run();
    assert!(bench.query_by_label_contains("2. The second cut, in from the top and out at the foot.").is_some());
    assert!(bench.query_by_label_contains("stay fair and do not go back").is_some());
}

#[test]
fn the_line_above_the_list_is_dragged_moved_by_keys_and_put_back() {
    let mut bench = studio(wild());
    let line = |bench: &crate::bench::Bench| bench.get_by_label("room for watch-outs").rect().center();
    let usual = line(&bench);
    bench.drag_at(usual);
    bench.run();
    bench.hover_at(usual - egui::vec2(0.0, 80.0));
    bench.run();
    bench.drop_at(usual - egui::vec2(0.0, 80.0));
    bench.run();
    let put = line(&bench);
    assert!((usual.y - put.y - 80.0).abs() < 8.0, "{usual:?} {put:?}");
    bench.get_by_label("room for watch-outs").focus();
    bench.run();
    bench.key_press(egui::Key::ArrowUp);
    bench.run();
    assert!((put.y - line(&bench).y - 24.0).abs() < 1.0, "{put:?} {:?}", line(&bench));
    assert!(bench.query_by_label_contains("Core ").is_some(), "what a leg is judged by first");
}

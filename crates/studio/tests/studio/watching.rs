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
    assert!(bench.query_by_label("Nothing to watch out for").is_some());
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

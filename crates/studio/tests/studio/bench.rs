//! The bench that every test works at: a studio of a known size, and hands for it.

use std::path::PathBuf;
use std::time::{Duration, Instant};

use cornerwise_export::files::write_text;
use cornerwise_geometry::Cut;
use cornerwise_project::{DesignId, Edit, Project};
use cornerwise_studio::app::Studio;
use egui::{Pos2, Vec2, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;

pub type Bench = Harness<'static, Studio>;

/// A studio on a project, 1280 by 800, sixty frames a second.
pub fn studio(project: Project) -> Bench {
    studio_with(project, None, |_, _| {})
}

/// A studio on a project, perhaps from a file, made ready before its first frame.
pub fn studio_with(project: Project, file: Option<PathBuf>, ready: impl FnOnce(&mut Studio, &egui::Context)) -> Bench {
    let mut bench = Harness::builder()
        .with_size(vec2(1280.0, 800.0))
        .with_step_dt(1.0 / 60.0)
        .with_max_steps(64)
        .with_theme(egui::Theme::Light)
        .build_eframe(|creation| {
            let mut studio = Studio::new(&creation.egui_ctx, project, file);
            studio.without_dialogs();
            ready(&mut studio, &creation.egui_ctx);
            studio
        });
    bench.run();
    bench
}

/// A new project whose first cut is points.
pub fn points() -> Project {
    Project::new().apply(&Edit::ShapeToPoints { design: DesignId(1), cut: Cut::First }).unwrap()
}

/// A project as its file.
pub fn text(project: &Project) -> String {
    write_text(project).unwrap()
}

/// Where something with this name is.
pub fn middle(bench: &Bench, label: &str) -> Pos2 {
    bench.get_by_label(label).rect().center()
}

/// Presses the pointer's button at a place, after coming there.
pub fn press(bench: &mut Bench, at: Pos2) {
    bench.hover_at(at);
    bench.step();
    bench.drag_at(at);
    bench.step();
}

/// Moves the pressed pointer in `steps` steps, a frame each, and calls `seen` after each of them.
pub fn drag(bench: &mut Bench, from: Pos2, by: Vec2, steps: u32, mut seen: impl FnMut(&Bench)) {
    for i in 1..=steps {
        bench.hover_at(from + by * (i as f32 / steps as f32));
        bench.step();
        seen(bench);
    }
}

/// Lets go.
pub fn release(bench: &mut Bench, at: Pos2) {
    bench.drop_at(at);
    bench.step();
}

/// Clicks twice at a place, as fast as a hand does.
pub fn double_click(bench: &mut Bench, at: Pos2) {
    for _ in 0..2 {
        bench.hover_at(at);
        bench.drag_at(at);
        bench.event(egui::Event::PointerButton {
            pos: at,
            button: egui::PointerButton::Primary,
            pressed: false,
            modifiers: egui::Modifiers::NONE,
        });
        bench.step();
    }
    bench.run();
}

/// Frames until the window rests: nothing is worked out beside it, and frame after frame asks for no other. How long that
/// takes is the machine's affair; a window that never rests fails after half a minute.
pub fn rest(bench: &mut Bench) {
    let begun = Instant::now();
    let mut still = 0;
    while still < 10 {
        assert!(begun.elapsed() < Duration::from_secs(30), "the window never came to rest");
        bench.step();
        let delay = bench.output().viewport_output.values().map(|viewport| viewport.repaint_delay).min();
        let at_rest = delay == Some(Duration::MAX) && !bench.state().is_busy();
        still = if at_rest { still + 1 } else { 0 };
        std::thread::sleep(Duration::from_millis(5));
    }
}

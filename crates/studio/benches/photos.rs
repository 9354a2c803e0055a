//! One frame of the studio on a photographed blank, while a point of the first cut is dragged, with the faces alone and with
//! all rows, and while a corner of a photo is; no graphics card.

#![allow(clippy::unwrap_used, reason = "a bench that cannot start should say where")]

use std::time::Duration;

use cornerwise_geometry::{Cut, Face};
use cornerwise_studio::app::Studio;
use cornerwise_studio::start;
use criterion::{Criterion, criterion_group, criterion_main};
use egui::{Context, CursorIcon, Event, Modifiers, PointerButton, Pos2, RawInput, Rect, pos2, vec2};

struct Bench {
    ctx: Context,
    studio: Studio,
    time: f64,
}

impl Bench {
    /// The demo of a photographed blank, once its photos are developed.
    fn new(rows: bool) -> Bench {
        let ctx = Context::default();
        let mut studio = Studio::new(&ctx, start::demo_named("photographed-ash").unwrap(), None);
        studio.view_mut().sides.open = rows;
        studio.view_mut().along.open = rows;
        studio.view_mut().snaps.on = false;
        let mut bench = Bench { ctx, studio, time: 0.0 };
        while !bench.is_developed() {
            bench.frame(Vec::new());
            std::thread::sleep(Duration::from_millis(5));
        }
        for _ in 0..20 {
            bench.frame(Vec::new());
            std::thread::sleep(Duration::from_millis(20));
        }
        bench
    }

    fn is_developed(&self) -> bool {
        let design = &self.studio.project().designs[0];
        design.wood.photos().unwrap().photos.iter().all(|photo| photo.pixels.0.is_some())
    }

    /// Runs a frame; the answer is what the pointer looks like.
    fn frame(&mut self, events: Vec<Event>) -> CursorIcon {
        self.time += 1.0 / 60.0;
        let screen_rect = Some(Rect::from_min_size(pos2(0.0, 0.0), vec2(1280.0, 800.0)));
        let input = RawInput { screen_rect, time: Some(self.time), events, ..RawInput::default() };
        let studio = &mut self.studio;
        let mut output = self.ctx.run_ui(input, |ui| studio.show(ui));
        let shapes = std::mem::take(&mut output.shapes);
        std::hint::black_box(self.ctx.tessellate(shapes, output.pixels_per_point));
        let cursor = output.platform_output.cursor_icon;
        output.drop_without_applying_deltas();
        cursor
    }

    /// Takes hold of what lies there, and measures frames while it is moved to and fro.
    fn drag(
        &mut self,
        at: Pos2,
        name: &str,
        group: &mut criterion::BenchmarkGroup<'_, criterion::measurement::WallTime>,
    ) {
        let (button, modifiers) = (PointerButton::Primary, Modifiers::NONE);
        self.frame(vec![Event::PointerMoved(at)]);
        self.frame(vec![Event::PointerButton { pos: at, button, pressed: true, modifiers }]);
        self.frame(vec![Event::PointerMoved(at + vec2(0.0, 12.0))]);
        assert!(self.studio.history().is_dragging());
        let mut turn = 0.0_f32;
        group.bench_function(name, |bencher| {
            bencher.iter(|| {
                turn = -turn.signum() * (turn.abs() + 0.37) % 6.0;
                let revision = self.studio.history().revision();
                self.frame(vec![Event::PointerMoved(at + vec2(0.0, turn + turn.signum() * 8.0))]);
                assert!(self.studio.history().revision() > revision);
            });
        });
        self.frame(vec![Event::PointerButton { pos: at, button, pressed: false, modifiers }]);
    }
}

fn drags(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("drag frame, photographed blank");
    for (name, rows) in [("a point, faces", false), ("a point, all rows", true)] {
        let mut bench = Bench::new(rows);
        let design = bench.studio.project().designs[0].clone();
        let design = design.cubic_points(Cut::First).unwrap();
        let point = &design[design.len() / 2];
        let at = bench.studio.faces_on_screen().unwrap().pos(Cut::First, point.from_top.mm(), point.offset.mm());
        bench.drag(at, name, &mut group);
    }
    for (name, rows) in [("a corner, faces", false), ("a corner, all rows", true)] {
        let mut bench = Bench::new(rows);
        bench.studio.view_mut().panels.photos = Some(Face::One);
        for _ in 0..5 {
            bench.frame(Vec::new());
        }
        // The first corner that shows: its place follows from the panel, which is found by looking for what takes hold.
        let places = (0..160).flat_map(|x| (0..100).map(move |y| pos2(8.0 * x as f32, 8.0 * y as f32)));
        let at = places.into_iter().find(|at| bench.frame(vec![Event::PointerMoved(*at)]) == CursorIcon::Crosshair);
        bench.drag(at.unwrap(), name, &mut group);
    }
    group.finish();
}

criterion_group!(benches, drags);
criterion_main!(benches);

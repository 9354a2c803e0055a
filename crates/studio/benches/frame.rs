//! One frame of the studio while a point is dragged: layout, everything derived, and tessellation; no graphics card.

#![allow(clippy::unwrap_used, reason = "a bench that cannot start should say where")]

use std::sync::Arc;

use cornerwise_geometry::fit::Notch;
use cornerwise_geometry::furniture::Arrangement;
use cornerwise_geometry::{Along, Blank, Cut, Line, Load, OutOfTrue, Point, Saw, Shape, ShapeKind};
use cornerwise_project::{Design, DesignId, Edit, FitPart, FurniturePart, Project};
use cornerwise_studio::app::Studio;
use cornerwise_studio::atlas::Atlas;
use cornerwise_studio::start;
use cornerwise_studio::view::LegAs;
use cornerwise_wood::{BlockPreset, Layer, Layers, SeamFit, Species, Timber, Wood};
use criterion::{Criterion, criterion_group, criterion_main};
use egui::{Context, Event, Id, Key, Modifiers, PointerButton, Pos2, RawInput, Rect, pos2, vec2};

/// A window with a studio in it, and the hand on a point.
struct Drag {
    ctx: Context,
    studio: Studio,
    size: egui::Vec2,
    pixels_per_point: f32,
    time: f64,
    at: Pos2,
}

impl Drag {
    fn new(project: Project, rows: bool, size: egui::Vec2, pixels_per_point: f32) -> Drag {
        let ctx = Context::default();
        let mut studio = Studio::new(&ctx, project, None);
        studio.view_mut().sides.open = rows;
        studio.view_mut().along.open = rows;
        // Caught, a point would stay where it is for some of the hand's moves.
        studio.view_mut().snaps.on = false;
        let mut drag = Drag { ctx, studio, size, pixels_per_point, time: 0.0, at: Pos2::ZERO };
        for _ in 0..20 {
            drag.frame(Vec::new());
        }
        drag.take(1);
        drag
    }

    /// Lets go of what is held and takes hold of a point of the first cut, by its place in the line.
    fn take(&mut self, place: usize) {
        self.button(false);
        let design = self.studio.project().designs[0].clone();
        let point = design.points(Cut::First)[place].clone();
        self.at = self.studio.faces_on_screen().unwrap().pos(Cut::First, point.from_top.mm(), point.offset.mm());
        self.frame(vec![Event::PointerMoved(self.at)]);
        self.button(true);
        self.moved(vec2(0.0, 12.0));
        self.moved(vec2(0.0, 0.0));
        assert!(self.studio.history().is_dragging());
    }

    fn button(&mut self, pressed: bool) {
        let (pos, button, modifiers) = (self.at, PointerButton::Primary, Modifiers::NONE);
        self.frame(vec![Event::PointerButton { pos, button, pressed, modifiers }]);
    }

    /// Runs a frame; the answer is how many triangles it has.
    fn frame(&mut self, events: Vec<Event>) -> usize {
        self.time += 1.0 / 60.0;
        let mut input = RawInput {
            screen_rect: Some(Rect::from_min_size(pos2(0.0, 0.0), self.size)),
            time: Some(self.time),
            events,
            ..RawInput::default()
        };
        input.viewports.entry(input.viewport_id).or_default().native_pixels_per_point = Some(self.pixels_per_point);
        let studio = &mut self.studio;
        let mut output = self.ctx.run_ui(input, |ui| studio.show(ui));
        let shapes = std::mem::take(&mut output.shapes);
        let meshes = self.ctx.tessellate(shapes, output.pixels_per_point);
        output.drop_without_applying_deltas();
        meshes
            .iter()
            .map(|clipped| match &clipped.primitive {
                egui::epaint::Primitive::Mesh(mesh) => mesh.indices.len() / 3,
                egui::epaint::Primitive::Callback(_) => 0,
            })
            .sum()
    }

    fn moved(&mut self, by: egui::Vec2) -> usize {
        self.frame(vec![Event::PointerMoved(self.at + by)])
    }

    /// A frame with the hand to and fro across where it took hold: no two in a row leave what is held at one round figure.
    fn again_across(&mut self, turn: &mut f32) -> usize {
        *turn = -turn.signum() * (turn.abs() + 0.37) % 6.0;
        let revision = self.studio.history().revision();
        let triangles = self.moved(vec2(0.0, *turn + turn.signum() * 8.0));
        assert!(triangles > 1000 && self.studio.history().revision() > revision);
        triangles
    }
}

/// A line set point by point, as it comes from tracing a drawing: nobody needs so many, but nothing should break.
fn many_points() -> Project {
    let mut project = Project::new();
    let mut design = Design::clone(&project.designs[0]);
    let point =
        |i: u32| Point::smooth(i + 1, f64::from(i) * 0.7, 25.0 + 5.0 * (f64::from(i) * 0.02).sin(), 0.1, 0.2, 0.2);
    design.first = Line::Points((0..1000).map(point).collect());
    project.designs[0] = Arc::new(design);
    project.check().unwrap();
    project
}

/// Both cuts of so many points, evenly apart along two waves.
fn of_points(count: u32) -> Project {
    let mut project = Project::new();
    let mut design = Design::clone(&project.designs[0]);
    let gap = 700.0 / f64::from(count - 1);
    let point = |i: u32| {
        let s = f64::from(i) * gap;
        let (turn, reach) = (s * 0.018, gap / 3.0);
        Point::smooth(i + 1, s, 25.0 + 6.0 * turn.sin(), 0.108 * turn.cos(), reach, reach)
    };
    let line = Line::Points((0..count).map(point).collect());
    (design.first, design.second) = (line.clone(), line);
    project.designs[0] = Arc::new(design);
    project.check().unwrap();
    project
}

/// A drag frame with each view open, for few points and for many.
fn views_and_points(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("drag frame with");
    for count in [2, 20, 200] {
        for (view, sides, along) in
            [("faces", false, false), ("sides", true, false), ("graphs", false, true), ("all rows", true, true)]
        {
            let mut drag = Drag::new(of_points(count), false, vec2(1280.0, 800.0), 1.0);
            drag.studio.view_mut().sides.open = sides;
            drag.studio.view_mut().along.open = along;
            // The faces are lower now; the hand takes the point where it is.
            drag.frame(Vec::new());
            drag.take(1);
            let mut turn = 0.0_f32;
            group.bench_function(format!("{view}, {count} points"), |bencher| {
                bencher.iter(|| drag.again_across(&mut turn));
            });
        }
    }
    group.finish();
}

/// The same with all that a frame can be asked for: a blade that leans and bows, a blank out of true, slip, sanding, a load,
/// the leg as drawn and as sawn in all rows, and every graph.
fn everything_on(count: u32) -> Project {
    let mut project = of_points(count);
    let mut design = Design::clone(&project.designs[0]);
    design.blank.out_of_true = OutOfTrue { corner_deg: 0.4, taper_width: 1.0.into(), taper_depth: 0.5.into() };
    design.load = Some(Load::default());
    project.designs[0] = Arc::new(design);
    project.saw = Some(Saw {
        tilt_first_deg: 0.3,
        tilt_second_deg: -0.2,
        bow_first: 0.2.into(),
        bow_second: 0.1.into(),
        slip: 0.5.into(),
        sanding: 0.2.into(),
        ..Saw::default()
    });
    project.check().unwrap();
    project
}

/// A drag frame with everything on, for few points and for many.
fn everything(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("drag frame with everything on");
    for (graphs, count, scale) in
        [("usual", 2, 1.0), ("usual", 20, 1.0), ("usual", 200, 1.0), ("all", 20, 1.0), ("usual", 20, 2.0)]
    {
        let mut drag = Drag::new(everything_on(count), true, vec2(1280.0, 800.0), scale);
        drag.button(false);
        drag.studio.view_mut().leg_as = LegAs::Both;
        if graphs == "all" {
            drag.studio.view_mut().graphs = Along::ALL.to_vec();
        }
        drag.frame(Vec::new());
        drag.take(1);
        let mut turn = 0.0_f32;
        group.bench_function(format!("{count} points, {graphs} graphs, scale {scale}"), |bencher| {
            bencher.iter(|| drag.again_across(&mut turn));
        });
    }
    group.finish();
}

fn drag_frames(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("drag frame");
    let cases = [
        ("calm, 1280 x 800", 1, false, vec2(1280.0, 800.0), 1.0),
        ("all rows, 1280 x 800", 1, true, vec2(1280.0, 800.0), 1.0),
        ("all rows, layers at an angle, 1280 x 800", 4, true, vec2(1280.0, 800.0), 1.0),
        ("all rows, 2560 x 1600 at scale 2", 1, true, vec2(1280.0, 800.0), 2.0),
    ];
    for (name, demo, rows, size, pixels_per_point) in cases {
        let mut drag = Drag::new(start::demo(demo).unwrap(), rows, size, pixels_per_point);
        let mut turn = 0.0_f32;
        group.bench_function(name, |bencher| {
            bencher.iter(|| {
                turn += 0.37;
                let revision = drag.studio.history().revision();
                let triangles = drag.moved(vec2(12.0 * turn.sin(), 14.0 * turn.cos()));
                assert!(triangles > 1000 && drag.studio.history().revision() > revision);
                triangles
            });
        });
    }
    group.bench_function("a cut of 1000 points", |bencher| {
        let mut drag = Drag::new(many_points(), false, vec2(1280.0, 800.0), 1.0);
        let mut turn = 0.0_f32;
        bencher.iter(|| {
            turn += 0.37;
            drag.moved(vec2(0.0, 14.0 * turn.cos()))
        });
    });
    group.finish();
    criterion.bench_function("paper place frame, all pages", |bencher| {
        let mut place = Drag::new(start::demo(0).unwrap(), false, vec2(1280.0, 800.0), 1.0);
        let press =
            Event::Key { key: Key::F4, physical_key: None, pressed: true, repeat: false, modifiers: Modifiers::NONE };
        place.frame(vec![press]);
        bencher.iter(|| place.frame(Vec::new()));
    });
}

/// A stand of five shelves on four legs: the most that is asked of the drawing order.
fn stand() -> Project {
    let mut edits = vec![Edit::SetBlank { design: DesignId(1), blank: Blank::square(38.0, 1200.0) }];
    for cut in Cut::ALL {
        let shape = Shape::start(ShapeKind::Waves, 1200.0, 38.0);
        edits.push(Edit::SetShape { design: DesignId(1), cut, shape });
    }
    edits.push(Edit::ShapeToPoints { design: DesignId(1), cut: Cut::First });
    for shelf in 0..5 {
        let notch = Notch::shelf(40.0 + 270.0 * f64::from(shelf), 18.0, 0.4);
        edits.push(Edit::SetFit { design: DesignId(1), part: FitPart::AddNotch(notch) });
    }
    let arrangement = Arrangement::Rectangle { width: 420.0.into(), depth: 300.0.into() };
    edits.push(Edit::SetFurniture { part: FurniturePart::Arrangement(arrangement) });
    edits.iter().fold(Project::new(), |project, edit| project.apply(edit).unwrap())
}

fn key(key: Key) -> Event {
    Event::Key { key, physical_key: None, pressed: true, repeat: false, modifiers: Modifiers::NONE }
}

/// Four legs with five shelves: a point of their line dragged below them, a notch dragged, and the whole turned.
fn furniture_frames(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("four legs, five shelves");
    for (name, pixels_per_point) in [("a point dragged", 1.0), ("a point dragged, scale 2", 2.0)] {
        let mut drag = Drag::new(stand(), false, vec2(1280.0, 800.0), pixels_per_point);
        drag.button(false);
        drag.frame(vec![key(Key::F3)]);
        drag.studio.view_mut().furniture.faces = true;
        for _ in 0..4 {
            drag.frame(Vec::new());
        }
        drag.take(1);
        let mut turn = 0.0_f32;
        group.bench_function(name, |bencher| {
            bencher.iter(|| drag.again_across(&mut turn));
        });
    }
    let mut drag = Drag::new(stand(), false, vec2(1280.0, 800.0), 1.0);
    drag.button(false);
    drag.frame(vec![key(Key::F2)]);
    drag.frame(Vec::new());
    drag.at = drag.studio.faces_on_screen().unwrap().pos(Cut::First, 589.0, 20.0);
    drag.frame(vec![Event::PointerMoved(drag.at)]);
    drag.button(true);
    drag.moved(vec2(14.0, 0.0));
    assert!(drag.studio.history().is_dragging());
    let mut turn = 0.0_f32;
    group.bench_function("a notch dragged where the leg is fitted", |bencher| {
        bencher.iter(|| {
            turn = -turn.signum() * (turn.abs() + 0.37) % 20.0;
            drag.moved(vec2(turn + turn.signum() * 8.0, 0.0))
        });
    });
    let mut drag = Drag::new(stand(), false, vec2(1280.0, 800.0), 1.0);
    drag.button(false);
    drag.frame(vec![key(Key::F3)]);
    group.bench_function("turned", |bencher| {
        bencher.iter(|| {
            drag.studio.view_mut().furniture.turn_deg += 1.7;
            drag.frame(Vec::new())
        });
    });
    group.finish();
}

/// The pith dragged on the end view: all surfaces, all seams and every row follow.
fn pith_frames(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("pith dragged, all rows");
    for (name, species, wobble) in
        [("pine", Species::Pine, 0.0), ("oak", Species::Oak, 0.0), ("crooked oak", Species::Oak, 0.5)]
    {
        for pixels_per_point in [1.0, 2.0] {
            let mut project = of_points(5);
            let mut design = Design::clone(&project.designs[0]);
            let timber = Timber::new(species, 25.0.into(), 40.0.into(), 3.0.into());
            design.wood = Wood::Timber(Timber { wobble, ..timber });
            project.designs[0] = Arc::new(design);
            // High enough for the end view to be in sight.
            let mut drag = Drag::new(project, true, vec2(1280.0, 1500.0), pixels_per_point);
            drag.button(false);
            drag.frame(Vec::new());
            let pith = Id::unique(("pith", drag.studio.project().designs[0].id.0)).with("grip");
            drag.at = drag.ctx.read_response(pith).unwrap().rect.center();
            drag.frame(vec![Event::PointerMoved(drag.at)]);
            drag.button(true);
            drag.moved(vec2(0.0, 12.0));
            assert!(drag.studio.history().is_dragging());
            let mut turn = 0.0_f32;
            group.bench_function(format!("{name}, scale {pixels_per_point}"), |bencher| {
                bencher.iter(|| drag.again_across(&mut turn));
            });
        }
    }
    group.finish();
}

/// The coarse paint of all surfaces, as it is while something is dragged that changes the whole wood, such as the pith or a
/// layer: two blanks of one size whose wood is not the same, in turn.
fn coarse_paint(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("coarse paint of all surfaces");
    let layers = |mm: f64| {
        let layer = |species, mm: f64| Layer { species, thickness: mm.into() };
        let list = vec![layer(Species::Cherry, mm), layer(Species::Maple, mm)];
        Wood::Layers(Layers::new(list, 30.0, 20.0, 0.0.into()))
    };
    let timber = |species, at: f64| Wood::Timber(Timber::new(species, 25.0.into(), at.into(), 2.5.into()));
    let bricks = |woods| Wood::Blocks(BlockPreset::Brick.build([50.0, 50.0], 5, SeamFit::CarriesOn, woods));
    let woods = [
        ("pine", [timber(Species::Pine, 90.0), timber(Species::Pine, 91.0)]),
        ("oak", [timber(Species::Oak, 90.0), timber(Species::Oak, 91.0)]),
        ("layers", [layers(8.0), layers(8.1)]),
        ("thin layers", [layers(0.6), layers(0.61)]),
        ("blocks", [bricks([Species::Maple, Species::Walnut]), bricks([Species::Walnut, Species::Maple])]),
    ];
    for (name, woods) in woods {
        for px_per_mm in [1.3, 2.7] {
            let designs = woods.clone().map(|wood| {
                let mut design = Design::clone(&Project::new().designs[0]);
                design.wood = wood;
                Arc::new(design)
            });
            let leg = Arc::new(designs[0].leg().unwrap());
            let (ctx, mut atlas, mut turn) = (Context::default(), Atlas::default(), 0);
            group.bench_function(format!("{name}, for {px_per_mm} texels per mm"), |bencher| {
                bencher.iter(|| {
                    turn = 1 - turn;
                    let still_coarse = atlas.update(&ctx, &designs[turn], &leg, px_per_mm, true).unwrap();
                    assert!(still_coarse);
                    // A window takes it to the graphics card at the end of a frame.
                    ctx.tex_manager().write().take_delta()
                });
            });
        }
    }
    group.finish();
}

criterion_group!(benches, pith_frames, coarse_paint, drag_frames, views_and_points, everything, furniture_frames);
criterion_main!(benches);

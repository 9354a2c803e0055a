//! How long it takes to solve a leg, to write out its facets and to put them in order.

#![expect(clippy::expect_used, reason = "a bench of nothing should stop")]

use std::hint::black_box;

use cornerwise_geometry::line_tools::{batten_along, bending_per_mm, fairer, greatest_distance, simplified};
use cornerwise_geometry::{
    Batten, Blank, Camera, Facets, Leg, Limits, Line, Load, Opening, OutOfTrue, Pin, Point, Saw, SawLine, Shape,
    ShapeKind, Strengths, Survey, Units, draw_order, watch_outs,
};
use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};

const STATIONS: [usize; 3] = [128, 512, 2048];

fn leg() -> Leg {
    let line = |kind| Line::Shape(Shape::start(kind, 700.0, 50.0));
    Leg::new(&Blank::square(50.0, 700.0), &line(ShapeKind::Cyma), &line(ShapeKind::Waves)).expect("a sound leg")
}

/// From the drawn shapes to stations: the saw lines alone, then with even stations, then with adaptive ones.
fn solve(c: &mut Criterion) {
    let mut group = c.benchmark_group("solve");
    group.bench_function("saw lines", |b| b.iter(leg));
    let leg = leg();
    for stations in STATIONS {
        group.bench_function(BenchmarkId::new("even", stations), |b| {
            b.iter(|| leg.solve(&leg.uniform_stations(black_box(stations))));
        });
    }
    group.bench_function("within 0.05 mm", |b| b.iter(|| leg.solve(&leg.stations_within(black_box(0.05)))));
    group.bench_function("figures", |b| b.iter(|| (leg.centre_of_mass_mm(), leg.core_mm(), leg.first.tightest())));
    group.finish();
}

/// From the saw lines to every corner of every facet, shown and in the blank: blank, half open, finished.
fn solve_and_facets(c: &mut Criterion) {
    let leg = leg();
    let mut group = c.benchmark_group("solve and facets");
    for stations in STATIONS {
        for (name, share) in [("blank", 0.0), ("half open", 0.5), ("finished", 1.0)] {
            group.bench_function(BenchmarkId::new(name, stations), |b| {
                b.iter(|| {
                    let solved = leg.solve(&leg.uniform_stations(black_box(stations)));
                    let facets = Facets::new(&solved, &Opening::new(&solved, share));
                    facets.iter().for_each(|facet| {
                        black_box(facet);
                    });
                    facets
                });
            });
        }
    }
    group.finish();
}

/// Facets alone, of a leg already solved.
fn facets(c: &mut Criterion) {
    let leg = leg();
    let mut group = c.benchmark_group("facets");
    for stations in STATIONS {
        let solved = leg.solve(&leg.uniform_stations(stations));
        let opening = Opening::new(&solved, 0.5);
        group.bench_function(BenchmarkId::new("half open", stations), |b| {
            b.iter(|| {
                let facets = Facets::new(&solved, black_box(&opening));
                facets.iter().for_each(|facet| {
                    black_box(facet);
                });
                facets
            });
        });
    }
    group.finish();
}

/// Back to front, for one camera.
fn order(c: &mut Criterion) {
    let leg = leg();
    let mut group = c.benchmark_group("draw order");
    for stations in STATIONS {
        let solved = leg.solve(&leg.uniform_stations(stations));
        for (name, share) in [("half open", 0.5), ("finished", 1.0)] {
            let facets = Facets::new(&solved, &Opening::new(&solved, share));
            group.bench_function(BenchmarkId::new(name, stations), |b| {
                b.iter(|| draw_order(&facets, black_box(&Camera::new(35.0, 12.0))));
            });
        }
    }
    group.finish();
}

/// What is done to a whole line, of 20 points and more: waves with every other point a little out of place.
fn line_tools(c: &mut Criterion) {
    let mut group = c.benchmark_group("line tools");
    for points in [5, 20, 100] {
        let gap = 700.0 / f64::from(points - 1);
        let line: Vec<Point> = (0..points)
            .map(|i| {
                let (s, off) = (f64::from(i) * gap, if i % 2 == 0 { 0.3 } else { -0.3 });
                let angle = s / 60.0;
                let (offset, slope) = (25.0 + 8.0 * angle.sin() + off, 8.0 / 60.0 * angle.cos());
                Point::smooth(i + 1, s, offset, slope, gap / 3.0, gap / 3.0)
            })
            .collect();
        group.bench_function(BenchmarkId::new("fairer within 1 mm", points), |b| {
            b.iter(|| fairer(black_box(&line), 700.0, 1.0).expect("fairer"));
        });
        group.bench_function(BenchmarkId::new("simplified within 0.3 mm", points), |b| {
            b.iter(|| simplified(black_box(&line), 0.3).expect("simplified"));
        });
        let solved = |points: &[Point]| SawLine::from_points(points, 700.0).expect("a line");
        let (was, now) = (solved(&line), solved(&fairer(&line, 700.0, 1.0).expect("fairer").points));
        group.bench_function(BenchmarkId::new("greatest distance to 1e-6 mm", points), |b| {
            b.iter(|| greatest_distance(black_box(&was), &now, 1e-6));
        });
        group.bench_function(BenchmarkId::new("bending to 1e-9", points), |b| {
            b.iter(|| bending_per_mm(black_box(&was), 1e-9));
        });
    }
    group.finish();
}

/// The curve of a strip along few pins and along many, one laid along a drawn line, and one as points again.
fn battens(c: &mut Criterion) {
    let mut group = c.benchmark_group("battens");
    for pins in [5, 20, 200] {
        let gap = 700.0 / f64::from(pins - 1);
        let pin = |i: u32| {
            let s = f64::from(i) * gap;
            Pin::new(i + 1, s, 25.0 + 9.0 * (s / 55.0).sin())
        };
        let batten = Batten { pins: (0..pins).map(pin).collect() };
        group.bench_function(BenchmarkId::new("bent along pins", pins), |b| {
            b.iter(|| black_box(&batten).solve().expect("a batten"));
        });
    }
    let cyma = Shape::start(ShapeKind::Cyma, 700.0, 50.0).points(700.0, 50.0);
    group.bench_function("laid along a cyma within 0.5 mm", |b| {
        b.iter(|| batten_along(black_box(&cyma), 700.0, 0.5).expect("laid"));
    });
    let laid = batten_along(&cyma, 700.0, 0.5).expect("laid").solve().expect("a batten");
    group.bench_function("as points within 0.05 mm", |b| {
        b.iter(|| simplified(black_box(&laid), 0.05).expect("points"));
    });
    group.finish();
}

/// The leg as sawn at 512 stations, with everything on (a blade that leans and bows, a blank out of true, slip, sanding, a load),
/// and every watch-out about it: what a drag asks for in every frame. The aim is 2 ms.
fn judged(c: &mut Criterion) {
    let mut group = c.benchmark_group("judged");
    let line = |kind| Line::Shape(Shape::start(kind, 700.0, 50.0));
    let out_of_true = OutOfTrue { corner_deg: 0.4, taper_width: 1.0.into(), taper_depth: 0.5.into() };
    let untrue = Blank { out_of_true, ..Blank::square(50.0, 700.0) };
    let leg_of = |blank: &Blank| Leg::new(blank, &line(ShapeKind::Cyma), &line(ShapeKind::Waves)).expect("a sound leg");
    let plain = Saw::default();
    let all = Saw {
        tilt_first_deg: 0.3,
        tilt_second_deg: -0.2,
        bow_first: 0.2.into(),
        bow_second: 0.1.into(),
        slip: 0.5.into(),
        sanding: 0.2.into(),
        ..Saw::default()
    };
    let oak = Strengths { bending_mpa: 99.0, stiffness_mpa: 12_500.0, compression_mpa: 46.6 };
    for (name, leg, saw) in [("kerf", leg(), &plain), ("everything", leg_of(&untrue), &all)] {
        group.bench_function(BenchmarkId::new("sawn and watch-outs", name), |b| {
            b.iter(|| {
                let survey = Survey::new(black_box(&leg), Some(saw), 512);
                watch_outs(&survey, &Limits::default(), Units::Millimetres)
            });
        });
        group.bench_function(BenchmarkId::new("with a load", name), |b| {
            b.iter(|| {
                let survey = Survey::new(black_box(&leg), Some(saw), 512).with_load(Load::default(), &oak);
                watch_outs(&survey, &Limits::default(), Units::Millimetres)
            });
        });
    }
    group.finish();
}

criterion_group!(benches, solve, solve_and_facets, facets, order, line_tools, battens, judged);
criterion_main!(benches);

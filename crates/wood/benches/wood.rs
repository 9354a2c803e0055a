//! Painting all surfaces at 1, 2 and 4 texels per mm, on one thread and on two; scanning the seams.

use std::hint::black_box;
use std::sync::Arc;

use cornerwise_geometry::{Blank, Cut, Face, Leg, Length, Line, Shape, Surface};
use cornerwise_wood::{
    BlockPreset, Exposed, Figure, Layer, Layers, Patch, Photo, PhotoPixels, Photos, PictureHash, RatingLimits, SeamFit,
    SeamLimits, Species, Steps, Timber, Wood, compare_seams, paint_patch, read_pair,
};
use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};

/// A leg of 50 by 50 by 700 mm with an S on one face and waves on the other.
fn leg() -> Leg {
    let first = Line::Shape(Shape::Cyma { swing: 16.0.into(), turn: 0.55, aside: Length::ZERO });
    let second = Line::Shape(Shape::Waves {
        waves: 3,
        swing_top: 6.0.into(),
        swing_foot: 18.0.into(),
        shortening: 0.6,
        aside: Length::ZERO,
    });
    match Leg::new(&Blank::square(50.0, 700.0), &first, &second) {
        Ok(leg) => leg,
        Err(error) => unreachable!("the bench's own leg: {error}"),
    }
}

/// A photo as large as photos are kept, 8 million pixels, of a face of this timber in its middle, seen at a slant.
fn photo(figure: &Figure, face: Face) -> Photo {
    let size = [4000, 2000];
    let (corners, view) = ([[0.1, 0.42], [0.9, 0.44], [0.89, 0.52], [0.11, 0.51]], figure.view(Surface::Face(face)));
    let start = Photo::start(face, PictureHash([face.number(); 32]), Length::ZERO, 700.0.into());
    let mut rgba = vec![90; 4 * size[0] * size[1]];
    for (row, pixels) in rgba.chunks_exact_mut(4 * size[0]).enumerate().take(1060).skip(820) {
        for (column, pixel) in pixels.chunks_exact_mut(4).enumerate() {
            let (s, across) = (700.0 * (column as f64 / 4000.0 - 0.1) / 0.8, 50.0 * (row as f64 - 840.0) / 180.0);
            let p = face.point(s, across, [50.0; 2]);
            pixel[..3].copy_from_slice(&figure.at(&view, p, &Steps::POINT).colour);
        }
    }
    Photo { corners, pixels: Exposed(PhotoPixels::new(size, &rgba).map(Arc::new)), ..start }
}

fn woods() -> [(&'static str, Wood); 6] {
    let layers = |lean_deg, list: &[(Species, f64)]| {
        let layers = list.iter().map(|(species, mm)| Layer { species: *species, thickness: (*mm).into() }).collect();
        Wood::Layers(Layers::new(layers, lean_deg, 20.0, Length::ZERO))
    };
    let timber = Timber::new(Species::Oak, 25.0.into(), 90.0.into(), 2.5.into());
    let crooked = Timber { lean_x: 0.02, taper: 0.01, wobble: 0.5, ..timber.clone() };
    let figure = Figure::new(&Wood::Timber(crooked.clone()));
    let none = Photos::new(Species::Oak, [50.0, 50.0]);
    let photos = Face::ALL.into_iter().fold(none, |photos, face| photos.with(photo(&figure, face)));
    let woods = [Species::Maple, Species::Walnut];
    let blocks = BlockPreset::Brick.build([50.0, 50.0], 5, SeamFit::CarriesOn, woods);
    [
        ("timber", Wood::Timber(timber)),
        ("crooked timber", Wood::Timber(crooked)),
        ("photos", Wood::Photos(photos)),
        ("blocks", Wood::Blocks(blocks)),
        ("layers", layers(30.0, &[(Species::Cherry, 12.0), (Species::Maple, 4.0)])),
        ("thin layers", layers(30.0, &[(Species::Cherry, 0.6), (Species::Maple, 0.6)])),
    ]
}

fn paint_all(leg: &Leg, figure: &Figure, px_per_mm: f64, threads: usize) -> usize {
    let patch = Patch { px_per_mm: [px_per_mm; 2], columns_mm: None, threads };
    let painted = Surface::ALL.map(|surface| paint_patch(leg, figure, surface, &patch));
    painted.iter().flatten().map(|painted| black_box(&painted.rgba).len() / 4).sum()
}

fn painting(c: &mut Criterion) {
    let leg = leg();
    for (name, wood) in woods() {
        let figure = Figure::new(&wood);
        let mut group = c.benchmark_group(format!("paint all, {name}"));
        group.sample_size(10);
        for (threads, px_per_mm) in [1, 2].into_iter().flat_map(|threads| [1.0, 2.0, 4.0].map(|px| (threads, px))) {
            group.throughput(Throughput::Elements(paint_all(&leg, &figure, px_per_mm, threads) as u64));
            let id = BenchmarkId::new(format!("{threads} threads"), px_per_mm);
            group.bench_function(id, |b| b.iter(|| paint_all(&leg, &figure, px_per_mm, threads)));
        }
        group.finish();
    }
}

fn seams(c: &mut Criterion) {
    let leg = leg();
    let mut group = c.benchmark_group("compare seams");
    for (name, wood) in woods() {
        group.bench_function(name, |b| b.iter(|| compare_seams(&leg, black_box(&wood), &SeamLimits::default())));
        let read = |wood: &Wood| {
            Cut::ALL.map(|cut| read_pair(&leg, wood, cut, &SeamLimits::default(), &RatingLimits::default()))
        };
        group.bench_function(format!("{name}, looks"), |b| b.iter(|| read(black_box(&wood))));
    }
    group.finish();
}

criterion_group!(benches, painting, seams);
criterion_main!(benches);

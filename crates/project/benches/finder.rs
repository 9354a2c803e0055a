//! The search for the smallest changes that make seams meet: both pairs and all three questions at once, each kind of stock.

use std::hint::black_box;
use std::sync::Arc;

use cornerwise_geometry::Face;
use cornerwise_project::{Changeable, Design, DesignId, Wanted, seam_fixes};
use cornerwise_wood::{
    BlockPreset, Exposed, Layer, Layers, Photo, PhotoPixels, Photos, PictureHash, SeamFit, SeamLimits, Species, Timber,
    Wood,
};
use criterion::{Criterion, criterion_group, criterion_main};

/// Four photos of four pixels a millimetre, of grain that wavers, each face another stretch of it.
fn photos() -> Photos {
    let size = [2960, 200];
    let photo = |face: Face| {
        let grain = |i: usize| {
            let [s, across] = [i % size[0], i / size[0]].map(|px| px as f64 / 4.0);
            let ring = (0.9 * across + 6.0 * (s / 90.0 + f64::from(face.number())).sin()).sin();
            let v = (40.0 + 20.0 * ring) as u8;
            [v + 90, v + 50, v, 255]
        };
        let rgba: Vec<u8> = (0..size[0] * size[1]).flat_map(grain).collect();
        let pixels = Exposed(PhotoPixels::new(size, &rgba).map(Arc::new));
        Photo { pixels, ..Photo::start(face, PictureHash([face.number(); 32]), (-20.0).into(), 740.0.into()) }
    };
    Face::ALL.into_iter().fold(Photos::new(Species::Oak, [50.0, 50.0]), |photos, face| photos.with(photo(face)))
}

fn woods() -> [(&'static str, Wood); 6] {
    let layer = |species, mm: f64| Layer { species, thickness: mm.into() };
    let layers = vec![layer(Species::Walnut, 15.0), layer(Species::Maple, 7.0)];
    let timber = Timber::new(Species::Oak, (-60.0).into(), (-80.0).into(), 3.0.into());
    let woods = [Species::Maple, Species::Walnut];
    let mut glued_up = photos();
    glued_up.glued_up = true;
    [
        ("timber", Wood::Timber(timber.clone())),
        ("fine timber", Wood::Timber(Timber { ring_width: 0.5.into(), lean_x: 0.02, ..timber })),
        ("layers", Wood::Layers(Layers::new(layers, 30.0, 20.0, 0.0.into()))),
        ("photos of timber", Wood::Photos(photos())),
        ("photos of a glue-up", Wood::Photos(glued_up)),
        ("blocks", Wood::Blocks(BlockPreset::Brick.build([50.0, 50.0], 5, SeamFit::AsAsked, woods))),
    ]
}

fn finder(c: &mut Criterion) {
    let mut group = c.benchmark_group("changes that make seams meet");
    group.sample_size(10);
    for (name, wood) in woods() {
        let design = Design { wood, ..Design::new(DesignId(1), 'A') };
        // What is found is yes for none of them at first; glued, what would help if it might change is looked for too.
        for (fixed, may) in [("nothing is fixed", Changeable::ALL.as_slice()), ("glued", &Changeable::LINE)] {
            group.bench_function(format!("{name}, all that can be asked, {fixed}"), |b| {
                b.iter(|| seam_fixes(black_box(&design), &Wanted::ALL, may, &SeamLimits::default(), &|| false));
            });
        }
    }
    group.finish();
}

criterion_group!(benches, finder);
criterion_main!(benches);

//! The search for the smallest changes that make seams meet: both pairs and all three questions at once, each kind of stock.

use std::hint::black_box;

use cornerwise_project::{Changeable, Design, DesignId, Wanted, seam_fixes};
use cornerwise_wood::{BlockPreset, Layer, Layers, SeamFit, SeamLimits, Species, Timber, Wood};
use criterion::{Criterion, criterion_group, criterion_main};

fn woods() -> [(&'static str, Wood); 4] {
    let layer = |species, mm: f64| Layer { species, thickness: mm.into() };
    let layers = vec![layer(Species::Walnut, 15.0), layer(Species::Maple, 7.0)];
    let timber = Timber::new(Species::Oak, (-60.0).into(), (-80.0).into(), 3.0.into());
    let woods = [Species::Maple, Species::Walnut];
    [
        ("timber", Wood::Timber(timber.clone())),
        ("fine timber", Wood::Timber(Timber { ring_width: 0.5.into(), lean_x: 0.02, ..timber })),
        ("layers", Wood::Layers(Layers::new(layers, 30.0, 20.0, 0.0.into()))),
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

//! Painted surfaces.

use approx::assert_abs_diff_eq;
use cornerwise_geometry::{BlankPoint, Cut, End, Face, Surface};

use super::{cyma_leg, layered, timber};
use crate::Species::{Maple, Oak, Walnut};
use crate::{
    BlockPreset, Figure, Layers, PaintError, Painted, Patch, SeamFit, Species, THINNEST_LAYER_MM, Timber, Wood,
    page_from_blank, paint, paint_patch,
};

fn mean(painted: &Painted) -> f64 {
    let rgb = painted.rgba.chunks(4).map(|c| f64::from(c[0]) + f64::from(c[1]) + f64::from(c[2]));
    rgb.sum::<f64>() / (3 * painted.columns * painted.rows) as f64
}

/// How much neighbours differ on average: along columns and along rows.
fn roughness(painted: &Painted) -> [f64; 2] {
    let at = |column: usize, row: usize| f64::from(painted.rgba[4 * (row * painted.columns + column) + 1]);
    let mut sums = [0.0; 2];
    for row in 0..painted.rows - 1 {
        for column in 0..painted.columns - 1 {
            sums[0] += (at(column + 1, row) - at(column, row)).abs();
            sums[1] += (at(column, row + 1) - at(column, row)).abs();
        }
    }
    sums.map(|sum| sum / ((painted.rows - 1) * (painted.columns - 1)) as f64)
}

fn crooked_timber() -> Wood {
    Wood::Timber(Timber {
        lean_x: 0.03,
        lean_y: -0.02,
        taper: 0.01,
        wobble: 0.5,
        ..Timber::new(Species::Ash, 20.0.into(), 70.0.into(), 3.0.into())
    })
}

fn woods() -> Vec<Wood> {
    vec![
        timber(25.0, 90.0, 3.0),
        layered(&[(Maple, 8.0), (Walnut, 3.0)], 0.0, 0.0, 0.0),
        layered(&[(Maple, 8.0), (Oak, 3.0)], 35.0, 20.0, 0.0),
        Wood::Layers(Layers::plywood(Species::Birch, 1.5.into())),
        Wood::Blocks(BlockPreset::Brick.build([50.0, 38.0], 5, SeamFit::AsAsked, [Maple, Walnut])),
        crooked_timber(),
    ]
}

#[test]
fn a_rectangle_covers_its_surface_exactly_and_is_opaque() {
    let leg = cyma_leg(50.0, 38.0, 200.0, 12.0, 0.5);
    for surface in Surface::ALL {
        let painted = paint(&leg, &woods()[0], surface, 1.7).unwrap();
        let [x, y] = match surface {
            Surface::End(_) => [50.0, 38.0],
            Surface::Cut(Cut::First) | Surface::Face(Face::Two | Face::Four) => [200.0, 38.0],
            _ => [200.0, 50.0],
        };
        assert_eq!((painted.from_mm, painted.to_mm), ([0.0, 0.0], [x, y]), "{surface}");
        assert_eq!(painted.columns, (x * 1.7f64).ceil() as usize);
        assert_eq!(painted.rgba.len(), 4 * painted.columns * painted.rows);
        assert!(painted.rgba.chunks(4).all(|texel| texel[3] == 255));
    }
}

#[test]
fn a_point_of_the_blank_finds_its_own_colour() {
    let leg = cyma_leg(50.0, 38.0, 200.0, 12.0, 0.5);
    // Thick layers, looked at in their middles: the texel and the point agree on the wood.
    let wood = layered(&[(Maple, 20.0), (Walnut, 20.0)], 0.0, 0.0, 0.0);
    for i in 0..10 {
        let s = 10.0 + 20.0 * f64::from(i);
        let p = BlankPoint { x: 17.0, y: leg.b(s), s };
        let painted = paint(&leg, &wood, Surface::Cut(Cut::Second), 2.0).unwrap();
        let light = painted.colour(p)[0] > 150;
        assert_eq!(light, wood.at(p, painted.surface).species == Maple, "{s}");
        let [across, down] = painted.place(p);
        assert_abs_diff_eq!(across, s / 200.0, epsilon = 1e-15);
        assert_abs_diff_eq!(down, 17.0 / 50.0, epsilon = 1e-15);
    }
    assert_eq!(page_from_blank(Surface::End(End::Top), BlankPoint { x: 1.0, y: 2.0, s: 3.0 }), [1.0, 2.0]);
    assert_eq!(page_from_blank(Surface::Face(Face::Four), BlankPoint { x: 1.0, y: 2.0, s: 3.0 }), [3.0, 2.0]);
}

#[test]
fn paint_is_the_same_on_every_run_and_for_any_number_of_threads() {
    let leg = cyma_leg(50.0, 38.0, 200.0, 12.0, 0.5);
    for wood in woods() {
        let figure = Figure::new(&wood);
        for surface in Surface::ALL {
            let once = paint(&leg, &wood, surface, 1.3).unwrap();
            for threads in [0, 1, 2, 3, 1000] {
                let patch = Patch { px_per_mm: [1.3; 2], columns_mm: None, threads };
                assert_eq!(paint_patch(&leg, &figure, surface, &patch).unwrap(), once, "{surface} {threads}");
            }
        }
    }
}

#[test]
fn a_stretch_is_the_same_stretch_of_the_whole() {
    let leg = cyma_leg(50.0, 38.0, 200.0, 12.0, 0.5);
    for wood in woods() {
        let whole = paint(&leg, &wood, Surface::Face(Face::One), 2.0).unwrap();
        let patch = Patch { px_per_mm: [2.0; 2], columns_mm: Some([50.0, 120.0]), threads: 1 };
        let part = paint_patch(&leg, &Figure::new(&wood), Surface::Face(Face::One), &patch).unwrap();
        assert_eq!((part.columns, part.rows), (140, whole.rows));
        for row in 0..part.rows {
            let part_row = &part.rgba[4 * row * 140..4 * (row + 1) * 140];
            let from = 4 * (row * whole.columns + 100);
            let close = part_row.iter().zip(&whole.rgba[from..]).all(|(a, b)| a.abs_diff(*b) <= 1);
            assert!(close, "row {row}");
        }
    }
}

#[test]
fn a_coarse_picture_has_the_colour_of_a_fine_one() {
    let leg = cyma_leg(50.0, 38.0, 200.0, 12.0, 0.5);
    let thin = layered(&[(Maple, 0.7), (Walnut, 0.4)], 30.0, 20.0, 0.0);
    for wood in woods().iter().chain([&thin, &timber(25.0, 90.0, 0.6)]) {
        for surface in [Surface::Cut(Cut::First), Surface::Cut(Cut::Second), Surface::Face(Face::One)] {
            let fine = mean(&paint(&leg, wood, surface, 8.0).unwrap());
            for px_per_mm in [0.4, 1.0, 2.0, 4.0] {
                let coarse = mean(&paint(&leg, wood, surface, px_per_mm).unwrap());
                assert_abs_diff_eq!(coarse, fine, epsilon = 3.0);
            }
        }
    }
}

#[test]
fn a_coarse_texel_has_the_mean_colour_of_the_fine_ones_under_it() {
    // Layers that the sawn surface crosses only by its slope: from texel to texel they go by as the saw line veers.
    let leg = cyma_leg(50.0, 50.0, 200.0, 40.0, 0.5);
    let wood = layered(&[(Maple, 0.6), (Walnut, 0.6)], 90.0, 90.0, 0.17);
    let surface = Surface::Cut(Cut::Second);
    let [coarse, fine] = [1.0, 8.0].map(|px_per_mm| paint(&leg, &wood, surface, px_per_mm).unwrap());
    let mut worst: f64 = 0.0;
    for column in 0..200 {
        let mean = |painted: &Painted, n: usize| {
            let texels = (0..50 * n).flat_map(|row| (0..n).map(move |c| row * painted.columns + column * n + c));
            texels.map(|texel| f64::from(painted.rgba[4 * texel])).sum::<f64>() / (50 * n * n) as f64
        };
        worst = worst.max((mean(&coarse, 1) - mean(&fine, 8)).abs());
    }
    assert!(worst < 12.0, "{worst} of 255");
}

/// Common practice, no source: end grain takes up more finish and is darker; long grain is streaked along the fibres.
#[test]
fn timber_is_streaked_along_the_leg_and_darker_at_its_ends() {
    let leg = cyma_leg(50.0, 50.0, 200.0, 8.0, 0.5);
    for species in Species::ALL {
        let wood = Wood::Timber(Timber::new(species, 25.0.into(), 90.0.into(), 3.0.into()));
        let face = paint(&leg, &wood, Surface::Face(Face::One), 2.0).unwrap();
        let end = paint(&leg, &wood, Surface::End(End::Top), 2.0).unwrap();
        assert!(mean(&end) < 0.9 * mean(&face), "{species}");
        let [along, across] = roughness(&face);
        assert!(2.0 * along < across, "{species}: {along:.2} along, {across:.2} across");
        let [x, y] = roughness(&end);
        assert!(x > 1.2 * along && y > 0.5 * across, "{species}");
    }
}

#[test]
fn what_cannot_be_painted_is_refused() {
    let leg = cyma_leg(50.0, 38.0, 200.0, 12.0, 0.5);
    let face = Surface::Face(Face::One);
    for scale in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        assert!(matches!(paint(&leg, &woods()[0], face, scale), Err(PaintError::Scale(_))));
    }
    assert!(matches!(paint(&leg, &woods()[0], face, 1e4), Err(PaintError::TooLarge { .. })));
    for stretch in [[5.0, 5.0], [9.0, 2.0], [0.0, f64::NAN], [f64::NEG_INFINITY, 0.0]] {
        let patch = Patch { px_per_mm: [1.0; 2], columns_mm: Some(stretch), threads: 1 };
        let painted = paint_patch(&leg, &Figure::new(&woods()[0]), face, &patch);
        assert!(matches!(painted, Err(PaintError::Stretch { .. })), "{stretch:?}");
    }
}

#[test]
fn the_thinnest_layers_far_coarser_than_they_can_show_are_still_painted() {
    let leg = cyma_leg(50.0, 38.0, 200.0, 12.0, 0.5);
    let wood = layered(&[(Maple, THINNEST_LAYER_MM), (Walnut, THINNEST_LAYER_MM)], 0.0, 0.0, 0.0);
    let painted = paint(&leg, &wood, Surface::Face(Face::One), 0.05).unwrap();
    let [light, dark] = [Maple, Walnut].map(|species| f64::from(species.colour()[0]));
    for texel in painted.rgba.chunks(4) {
        assert!(f64::from(texel[0]) < light - 40.0 && f64::from(texel[0]) > dark, "{texel:?}");
    }
}

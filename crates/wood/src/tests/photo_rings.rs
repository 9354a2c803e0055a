//! Rings followed on painted photos of timber against the timber itself, whose rings are known.

use std::sync::Arc;

use cornerwise_geometry::{Cut, Face, Length, Surface};

use super::cyma_leg;
use crate::compare::Joint;
use crate::figure::PhotoFigure;
use crate::photo_rings::follow;
use crate::rings::Rings;
use crate::{Exposed, Figure, Photo, PhotoPixels, Photos, PictureHash, Species, Steps, Timber, Wood};

const SIDE: f64 = 50.0;
const L: f64 = 700.0;

/// A photo of a face, square on, with noise, shifted by a share of a pixel, lighter or darker.
fn photo(figure: &Figure, face: Face, px_per_mm: f64, shift_px: f64, light: f64, seed: u32) -> Photo {
    let view = figure.view(Surface::Face(face));
    let size = [(L * px_per_mm) as usize, (SIDE * px_per_mm) as usize];
    let mm = 1.0 / px_per_mm;
    let mut rgba = Vec::new();
    let mut state = seed.wrapping_mul(2_654_435_761).wrapping_add(12345);
    for row in 0..size[1] {
        for column in 0..size[0] {
            let (s, across) = ((column as f64 + 0.5 + shift_px) * mm, (row as f64 + 0.5 + shift_px) * mm);
            let (c, r) = match face {
                Face::One | Face::Three => ([0.0, 0.0, mm], [mm, 0.0, 0.0]),
                _ => ([0.0, 0.0, mm], [0.0, mm, 0.0]),
            };
            let colour = figure.at(&view, face.point(s, across, [SIDE; 2]), &Steps::new(c, r)).colour;
            for v in colour {
                let mut noise = 0.0;
                for _ in 0..3 {
                    state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                    noise += f64::from(state >> 8) / f64::from(1 << 24) - 0.5;
                }
                rgba.push((f64::from(v) * light + 6.0 * noise).clamp(0.0, 255.0) as u8);
            }
            rgba.push(255);
        }
    }
    let pixels = Exposed(PhotoPixels::new(size, &rgba).map(Arc::new));
    let corners = [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]];
    let start = Photo::start(face, PictureHash([face.number(); 32]), Length::ZERO, L.into());
    Photo { corners, pixels, ..start }
}

/// Timbers of many kinds, and whether each cut's faces show rings (first cut, second cut).
fn timbers() -> Vec<(&'static str, Timber, [bool; 2])> {
    let t = |species, x: f64, y: f64, w: f64| Timber::new(species, x.into(), y.into(), w.into());
    vec![
        ("leaning oak", Timber { lean_x: 0.02, ..t(Species::Oak, 20.0, 70.0, 3.0) }, [false, true]),
        (
            "crooked oak",
            Timber { lean_x: 0.02, taper: 0.01, wobble: 0.5, ..t(Species::Oak, 25.0, 90.0, 2.5) },
            [false, true],
        ),
        ("quarter-sawn pine", Timber { lean_y: 0.01, ..t(Species::Pine, -150.0, 20.0, 3.0) }, [true, false]),
        ("rift-sawn walnut", Timber { lean_x: -0.01, ..t(Species::Walnut, -60.0, -70.0, 3.5) }, [true, true]),
        ("rift-sawn maple", Timber { lean_x: -0.01, ..t(Species::Maple, 110.0, -40.0, 2.5) }, [true, true]),
        ("fine ash", Timber { lean_y: 0.02, wobble: 0.3, ..t(Species::Ash, 90.0, 80.0, 1.6) }, [true, true]),
        ("cherry", Timber { lean_y: 0.02, wobble: 0.3, ..t(Species::Cherry, 70.0, 30.0, 4.0) }, [true, false]),
    ]
}

/// How far what is found is from the truth, in rings: the median, what nine in ten keep within; and how much of the length
/// lines are seen on.
fn off(timber: &Timber, photos: &Photos, cut: Cut) -> ([f64; 2], f64) {
    let leg = cyma_leg(SIDE, SIDE, L, 16.0, 0.5);
    let (rings, figure, joint) = (Rings::new(timber), PhotoFigure::new(photos), Joint::new(&leg, cut));
    let ends = [0.0, joint.apart_mm];
    let edges = [0, 1].map(|i| follow(&joint, &figure, cut.seam_faces()[i], ends[i], [0.0, L]));
    let mut all = Vec::new();
    let count = edges[0].len();
    for (p, q) in edges[0].iter().zip(&edges[1]).filter(|(p, q)| p.seen && q.seen) {
        let ends = ends.map(|apart| joint.point(apart, joint.offset(p.s_mm), p.s_mm));
        let [u, v] = ends.map(|p| rings.ring(rings.even(p)).phase());
        // Rings may count toward the arris that the saw line is measured from.
        let [x, y, _] = rings.gradient(ends[0]);
        let sense = joint.across_and_offset(x, y)[1].signum();
        let off = (u - v) - sense * (p.turn - q.turn);
        all.push((off - off.round()).abs());
    }
    all.sort_by(f64::total_cmp);
    let at = |share: f64| all.get(((all.len() as f64 - 1.0) * share) as usize).copied().unwrap_or(0.0);
    ([at(0.5), at(0.9)], all.len() as f64 / count as f64)
}

#[test]
fn places_within_a_ring_are_those_of_the_timber() {
    for (name, timber, shows) in timbers() {
        let figure = Figure::new(&Wood::Timber(timber.clone()));
        let mut before: Option<[f64; 2]> = None;
        for (px_per_mm, shift, light) in [(2.0, 0.0, 1.0), (5.0, 0.5, 0.97)] {
            // Rings finer than four pixels are hardly read.
            if px_per_mm * timber.ring_width.mm() < 4.0 {
                continue;
            }
            let none = Photos::new(timber.species, [SIDE; 2]);
            let photos = Face::ALL.into_iter().fold(none, |photos, face| {
                let lights = [light, 1.0, 1.03, light];
                let seed = u32::from(face.number()) + (10.0 * px_per_mm) as u32;
                photos.with(photo(&figure, face, px_per_mm, shift, lights[face.index()], seed))
            });
            let told = Cut::ALL.map(|cut| off(&timber, &photos, cut));
            eprintln!("{name}, {px_per_mm} px/mm: {told:.3?}");
            for (([median, nine_in_ten], seen), shows) in told.into_iter().zip(shows) {
                // What is said is right to a fraction of the jump that still counts as none, 0.15 of a ring. Opposite
                // faces are seen from opposite sides: corners set wrong by a share of a pixel count twice.
                let moved = 2.0 * shift / px_per_mm / timber.ring_width.mm();
                if shows {
                    assert!(seen > 0.3, "{name}: {told:?}");
                    assert!(median < 0.08 + 0.5 * moved && nine_in_ten < 0.3, "{name}: {told:?}");
                } else {
                    assert!(seen < 0.1, "{name}: flat-sawn, {told:?}");
                }
            }
            let seen = told.map(|(_, seen)| seen);
            if let Some(before) = before.replace(seen) {
                assert!((0..2).all(|i| (before[i] - seen[i]).abs() < 0.2), "{name}: {before:?} {seen:?}");
            }
        }
    }
}

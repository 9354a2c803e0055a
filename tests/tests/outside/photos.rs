//! Photos of a blank: squaring up against a general solution of its eight equations, and seams against a blank that is
//! painted, photographed at a slant and cut into small cubes (`cubes`). Nothing here knows how the project squares a
//! picture up or compares seams; the photos are made by the test's own camera.

use std::sync::Arc;

use cornerwise_geometry::{BlankPoint, Face};
use cornerwise_wood::{
    BlockPreset, Exposed, Layer, Layers, Photo, PhotoPixels, Photos, PictureHash, SeamFit, SeamLimits, Species,
    Squaring, Wood, compare_seams,
};

use crate::cases::Case;
use crate::cubes::{self, Stock};
use crate::seams::{InCubes, LEGS, Shares};

/// The eight numbers of a projective map that takes four places to four others, by elimination of its eight equations
/// (R. Hartley, A. Zisserman, "Multiple View Geometry in Computer Vision", 2nd ed. 2003, section 4.1, with h33 = 1; from
/// memory).
fn mapped(from: [[f64; 2]; 4], to: [[f64; 2]; 4]) -> [f64; 8] {
    let mut rows: Vec<[f64; 9]> = Vec::new();
    for ([u, v], [x, y]) in from.into_iter().zip(to) {
        rows.push([u, v, 1.0, 0.0, 0.0, 0.0, -u * x, -v * x, x]);
        rows.push([0.0, 0.0, 0.0, u, v, 1.0, -u * y, -v * y, y]);
    }
    for i in 0..8 {
        let pivot = (i..8).max_by(|p, q| rows[*p][i].abs().total_cmp(&rows[*q][i].abs())).unwrap();
        rows.swap(i, pivot);
        let pivot = rows[i];
        for (_, row) in rows.iter_mut().enumerate().filter(|(k, _)| *k != i) {
            let factor = row[i] / pivot[i];
            row.iter_mut().zip(pivot).for_each(|(part, of_pivot)| *part -= factor * of_pivot);
        }
    }
    std::array::from_fn(|i| rows[i][8] / rows[i][i])
}

fn seen(h: &[f64; 8], [u, v]: [f64; 2]) -> [f64; 2] {
    let w = h[6] * u + h[7] * v + 1.0;
    [(h[0] * u + h[1] * v + h[2]) / w, (h[3] * u + h[4] * v + h[5]) / w]
}

const UNIT: [[f64; 2]; 4] = [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]];

/// A camera's own geometry: a pinhole at a place, looking at a rectangle of 740 by 50 mm from a slant.
fn pinhole(at: [f64; 3], turn: [f64; 2], [u, v]: [f64; 2]) -> [f64; 2] {
    let (x, y, z) = (740.0 * (u - 0.5) - at[0], 50.0 * (v - 0.5) - at[1], at[2]);
    let ((s1, c1), (s2, c2)) = (turn[0].sin_cos(), turn[1].sin_cos());
    let (x, z) = (c1 * x + s1 * z, c1 * z - s1 * x);
    let (y, z) = (c2 * y + s2 * z, c2 * z - s2 * y);
    [0.5 + 0.9 * x / z, 0.5 + 0.9 * y / z]
}

#[test]
fn squaring_is_the_map_of_a_camera_and_of_eight_equations() {
    for (at, turn) in [
        ([0.0, 0.0, 900.0], [0.0, 0.0]),
        ([150.0, -90.0, 800.0], [0.12, -0.1]),
        ([-300.0, 200.0, 1000.0], [-0.3, 0.25]),
        ([40.0, 320.0, 700.0], [0.02, 0.4]),
    ] {
        let corners = UNIT.map(|place| pinhole(at, turn, place));
        let squaring = Squaring::new(corners).unwrap();
        let h = mapped(UNIT, corners);
        for i in 0..=20 {
            for j in 0..=20 {
                let place = [f64::from(i) / 20.0, f64::from(j) / 20.0];
                let [x, y] = squaring.picture(place);
                for (what, [wx, wy]) in [("camera", pinhole(at, turn, place)), ("equations", seen(&h, place))] {
                    assert!((x - wx).hypot(y - wy) < 1e-9, "{what}, {at:?}: {x}, {y} for {wx}, {wy}");
                }
            }
        }
    }
}

/// How a wood is painted here: one flat colour for each species.
fn colour(species: u8) -> [f64; 3] {
    let at = Species::ALL[usize::from(species)];
    match at {
        Species::Maple => [222.0, 190.0, 150.0],
        Species::Walnut => [90.0, 62.0, 45.0],
        _ => [170.0, 95.0, 60.0],
    }
}

/// Photographs a face of a blank: 1000 by 420 pixels, from a slant of its own for each face, each pixel the mean of four
/// looks through it.
fn photographed(case: &Case, stock: &Stock, face: Face) -> Photo {
    let [width, depth, length] = case.size_mm();
    let across = if face.number() % 2 == 1 { width } else { depth };
    let corners = match face {
        Face::One => [[0.05, 0.12], [0.96, 0.06], [0.93, 0.9], [0.03, 0.8]],
        Face::Two => [[0.1, 0.05], [0.9, 0.15], [0.97, 0.95], [0.02, 0.85]],
        Face::Three => [[0.04, 0.1], [0.96, 0.1], [0.9, 0.92], [0.1, 0.92]],
        Face::Four => [[0.08, 0.2], [0.92, 0.05], [0.98, 0.95], [0.04, 0.75]],
    };
    // From picture to face: what a camera sees through each pixel.
    let back = mapped(corners, UNIT);
    let size = [1000, 420];
    let mut rgba = Vec::with_capacity(4 * size[0] * size[1]);
    for row in 0..size[1] {
        for column in 0..size[0] {
            let mut sum = [0.0; 3];
            for look in 0..4 {
                let at =
                    [column as f64 + (f64::from(look % 2) + 0.5) / 2.0, row as f64 + (f64::from(look / 2) + 0.5) / 2.0];
                let [u, v] = seen(&back, [at[0] / size[0] as f64, at[1] / size[1] as f64]);
                let seen = if (0.0..1.0).contains(&u) && (0.0..1.0).contains(&v) {
                    colour(stock.at(on_face(case, face, u * length, v * across)).0)
                } else {
                    [30.0, 90.0, 160.0]
                };
                sum = [0, 1, 2].map(|i| sum[i] + seen[i] / 4.0);
            }
            rgba.extend(sum.map(|v| v.round() as u8));
            rgba.push(255);
        }
    }
    let pixels = Exposed(Some(Arc::new(PhotoPixels::new(size, &rgba).unwrap())));
    let start = Photo::start(face, PictureHash([face.number(); 32]), 0.0.into(), length.into());
    Photo { corners, pixels, ..start }
}

/// A place of a face as it lies with the top end left and the arris of its number up, a hair inside the blank.
fn on_face(case: &Case, face: Face, s: f64, across: f64) -> BlankPoint {
    let [width, depth, _] = case.size_mm();
    let hair = 1e-3;
    let (x, y) = match face {
        Face::One => (across, hair),
        Face::Two => (width - hair, across),
        Face::Three => (width - across, depth - hair),
        Face::Four => (hair, depth - across),
    };
    BlankPoint { x, y, s }
}

/// The three answers of what can be seen, by the cubes of one seam: where the colour changes down either column of cubes
/// there is a line. What lies beyond a face is not seen, so the pattern carries on where lines meet and woods are alike.
fn colours_by_cubes(seam: &cubes::Seam, stock: &Stock, cube_mm: f64) -> Shares {
    let meet_mm = SeamLimits::default().meet_mm + 2.0 * cube_mm;
    let woods: Vec<[u8; 2]> = seam.touching.iter().map(|touching| touching.wood(stock).map(|(wood, _)| wood)).collect();
    let changes = [0, 1].map(|side| -> Vec<f64> {
        let all = woods.windows(2).enumerate().filter(|(_, pair)| pair[0][side] != pair[1][side]);
        all.map(|(i, _)| (seam.touching[i].s + seam.touching[i + 1].s) / 2.0).collect()
    });
    let mut ends = vec![(0.0, true), (f64::INFINITY, true)];
    for (side, other) in [(0, 1), (1, 0)] {
        let met = |s: f64| changes[other].iter().any(|there| (there - s).abs() <= meet_mm);
        ends.extend(changes[side].iter().map(|s| (*s, met(*s))));
    }
    ends.sort_by(|p, q| p.0.total_cmp(&q.0));
    let mut counts = [0; 3];
    for (touching, woods) in seam.touching.iter().zip(&woods) {
        let stretch = ends.partition_point(|end| end.0 <= touching.s);
        let (meet, same) = (ends[stretch - 1].1 && ends[stretch].1, woods[0] == woods[1]);
        counts = [counts[0] + u32::from(meet), counts[1] + u32::from(same), counts[2] + u32::from(meet && same)];
    }
    counts.map(|count| f64::from(count) / seam.touching.len() as f64)
}

/// The scan of the photos and the painted cubes agree on all four seams.
fn agree(what: &str, leg: &InCubes, wood: &Wood) -> [Shares; 4] {
    let (case, stock) = (&leg.case, Stock::new(wood));
    let [width, depth, _] = case.size_mm();
    let mut photos = Face::ALL.into_iter().fold(Photos::new(Species::Maple, [width, depth]), |photos, face| {
        photos.with(photographed(case, &stock, face))
    });
    photos.glued_up = true;
    let answers = compare_seams(&case.leg, &Wood::Photos(photos), &SeamLimits::default());
    let scanned = answers.map(|answer| {
        assert_eq!(answer.unknown, 0.0);
        [answer.lines_meet, answer.same_wood, answer.pattern_carries_on]
    });
    let off = leg.sizes().map(|(cube_mm, seams)| {
        let each = seams.iter().zip(&scanned).map(|(seam, scanned)| {
            let cubes = colours_by_cubes(seam, &stock, cube_mm);
            cubes.into_iter().zip(scanned).map(|(p, q)| (p - q).abs()).fold(0.0, f64::max)
        });
        each.fold(0.0, f64::max)
    });
    eprintln!("photos of {what}, {}: {scanned:.3?}, off by {off:.4?}", case.name);
    assert!(off[0] < 0.25 && off[1] < 0.05, "{what}, {}: off by {off:?} of {scanned:?}", case.name);
    assert!(off[1] <= (0.6 * off[0]).max(0.02), "{what}, {}: {off:?} does not shrink", case.name);
    scanned
}

fn layers(thicknesses: &[f64], lean_deg: f64, toward_deg: f64) -> Wood {
    let species = [Species::Maple, Species::Walnut, Species::Cherry];
    let layers = thicknesses.iter().zip(species).map(|(mm, species)| Layer { species, thickness: (*mm).into() });
    Wood::Layers(Layers::new(layers.collect(), lean_deg, toward_deg, 1.7.into()))
}

/// Common practice, no source: level layers line up at the seams, layers sloping at 30 degrees do not. So say their photos.
#[test]
fn photos_of_layers_answer_as_their_cubes() {
    for leg in &LEGS[1..3] {
        let level = agree("level layers", leg, &layers(&[9.0, 6.0, 11.0], 0.0, 0.0));
        assert!(level.as_flattened().iter().all(|share| *share > 0.99), "{level:?}");
        let sloping = agree("layers sloping at 30", leg, &layers(&[9.0, 6.0], 30.0, 0.0));
        assert!(sloping[0][0] < 0.1, "{sloping:?}");
        agree("layers sloping at 25 toward 50", leg, &layers(&[8.5, 7.0], 25.0, 50.0));
        agree("standing layers", leg, &layers(&[7.0, 5.0], 90.0, 30.0));
    }
}

#[test]
fn photos_of_blocks_answer_as_their_cubes() {
    for leg in &LEGS[1..3] {
        let [width, depth, _] = leg.case.size_mm();
        for (kind, count) in [
            (BlockPreset::Checkerboard, 4),
            (BlockPreset::Checkerboard, 3),
            (BlockPreset::Stripes, 3),
            (BlockPreset::Climbing, 4),
        ] {
            let blocks = kind.build([width, depth], count, SeamFit::AsAsked, [Species::Maple, Species::Walnut]);
            let scanned = agree(&format!("{count} of {}", kind.name()), leg, &Wood::Blocks(blocks));
            if kind == BlockPreset::Stripes {
                assert!(scanned.iter().all(|seam| seam[0] > 0.99), "{scanned:?}");
            }
        }
    }
}

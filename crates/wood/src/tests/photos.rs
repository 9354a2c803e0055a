//! Photos: what shows where, what is not known, and colours balanced.

use std::sync::Arc;

use cornerwise_geometry::{BlankPoint, Cut, Face, Surface};

use super::cyma_leg;
use crate::{
    Exposed, Figure, Knot, Mismatch, Patch, Photo, PhotoPixels, Photos, PictureHash, RatingLimits, SeamLimits, Species,
    Steps, Wood, compare_pair, compare_seams, paint_patch, read_pair,
};

const W: f64 = 50.0;
const D: f64 = 40.0;
const L: f64 = 300.0;

/// The colour of a face at a place, mm along and across from its upper arris.
type Paint = fn(Face, f64, f64) -> [u8; 3];

/// A photo of a face, squared already, four pixels a mm, with a margin that shows something else.
fn photo(face: Face, paint: Paint, [from, to]: [f64; 2]) -> Photo {
    let across = if matches!(face, Face::One | Face::Three) { W } else { D };
    let (wide, high, margin) = (((to - from) * 4.0) as usize, (across * 4.0) as usize, 20);
    let size = [wide + 2 * margin, high + 2 * margin];
    let mut rgba = Vec::new();
    for row in 0..size[1] {
        for column in 0..size[0] {
            let at = |i: usize| (i as f64 + 0.5 - margin as f64) / 4.0;
            let inside = (margin..margin + wide).contains(&column) && (margin..margin + high).contains(&row);
            let [r, g, b] = if inside { paint(face, from + at(column), at(row)) } else { [0, 0, 255] };
            rgba.extend([r, g, b, 255]);
        }
    }
    let pixels = Exposed(PhotoPixels::new(size, &rgba).map(Arc::new));
    let [x, y] = size.map(|px| margin as f64 / px as f64);
    let corners = [[x, y], [1.0 - x, y], [1.0 - x, 1.0 - y], [x, 1.0 - y]];
    let start = Photo::start(face, PictureHash([face.number(); 32]), from.into(), (to - from).into());
    Photo { corners, pixels, ..start }
}

/// Of plain colours: told to be a glue-up, so that their lines are looked for.
fn photos(paint: Paint, faces: &[Face]) -> Photos {
    let mut none = Photos::new(Species::Maple, [W, D]);
    none.glued_up = true;
    faces.iter().fold(none, |photos, face| photos.with(photo(*face, paint, [-20.0, L + 10.0])))
}

/// Slow changes, each face its own.
fn soft(face: Face, along: f64, across: f64) -> [u8; 3] {
    let v = |from: f64, by: f64| (from + by).clamp(0.0, 255.0) as u8;
    [v(100.0, 0.3 * along), v(120.0, across), 40 * face.number()]
}

#[test]
fn faces_show_their_photos_and_the_inside_only_a_guess() {
    let wood = Wood::Photos(photos(soft, &Face::ALL));
    wood.check().unwrap();
    for (face, p, [along, across]) in [
        (Face::One, BlankPoint { x: 12.0, y: 0.0, s: 100.0 }, [100.0, 12.0]),
        (Face::Two, BlankPoint { x: W, y: 12.0, s: 31.0 }, [31.0, 12.0]),
        (Face::Three, BlankPoint { x: 12.0, y: D, s: 0.2 }, [0.2, 38.0]),
        (Face::Four, BlankPoint { x: 0.0, y: 12.0, s: 250.0 }, [250.0, 28.0]),
    ] {
        let (shown, wanted) = (wood.at(p, Surface::Face(face)).colour, soft(face, along, across));
        assert!((0..3).all(|i| shown[i].abs_diff(wanted[i]) <= 1), "{face}: {shown:?} for {wanted:?}");
        // At the face, the sawn surface's guess is what was photographed.
        let edge = wood.at(p, Surface::Cut(Cut::First)).colour;
        assert!((0..3).all(|i| edge[i].abs_diff(wanted[i]) <= 3), "{face}: {edge:?} for {wanted:?}");
    }
    // Deep inside it lies among what the faces show, drawn toward grey and light, with lines across it.
    let inside: Vec<u8> = (0..200)
        .map(|i| {
            wood.at(BlankPoint { x: 25.0, y: 20.0, s: 100.0 + 0.1 * f64::from(i) }, Surface::Cut(Cut::First)).colour[0]
        })
        .collect();
    let (least, most) = (inside.iter().min().unwrap(), inside.iter().max().unwrap());
    assert!(most - least > 20, "no hatching: {least} to {most}");
}

#[test]
fn a_face_without_a_photo_is_known_to_have_none() {
    let leg = cyma_leg(W, D, L, 12.0, 0.5);
    let three = photos(soft, &[Face::One, Face::Two, Face::Three]);
    assert_eq!(three.missing(), [Face::Four]);
    let wood = Wood::Photos(three.clone());
    let limits = SeamLimits::default();
    let [one, two, three_, four] = compare_seams(&leg, &wood, &limits);
    // Seams 1 and 3 join faces 4 and 2.
    for answer in [&one, &three_] {
        assert_eq!((answer.unknown, answer.lines_meet, answer.places_in_all), (1.0, 0.0, 1));
        assert_eq!(answer.places[0].what, Mismatch::NotPhotographed);
        assert!((answer.places[0].to_mm - L).abs() < 1e-9);
    }
    for answer in [&two, &four] {
        assert_eq!((answer.unknown, answer.lines_meet, answer.same_wood), (0.0, 1.0, 0.0), "{answer:?}");
    }
    let reading = read_pair(&leg, &wood, Cut::Second, &limits, &RatingLimits::default());
    assert!(reading.places.is_empty() && reading.worst_colour().is_none());
    // Without pixels nothing is known of any.
    let bare = three.exposed(&|_| None).unwrap();
    assert!(compare_seams(&leg, &Wood::Photos(bare.clone()), &limits).iter().all(|answer| answer.unknown == 1.0));
    assert!(bare.exposed(&|_| None).is_none());
    assert_ne!(Wood::Photos(bare), wood);
}

#[test]
fn only_the_stretch_that_both_photos_show_is_known() {
    let leg = cyma_leg(W, D, L, 12.0, 0.5);
    let same: Paint = |_, _, _| [150, 100, 60];
    let photos = Photos::new(Species::Oak, [W, D]).with(photo(Face::One, same, [30.0, 320.0])).with(photo(
        Face::Three,
        same,
        [-20.0, 210.0],
    ));
    let answer = compare_pair(&leg, &Wood::Photos(photos), Cut::First, &SeamLimits::default());
    assert!((answer.unknown - 0.4).abs() < 0.001, "{answer:?}");
    assert_eq!((answer.lines_meet, answer.same_wood, answer.pattern_carries_on), (1.0, 1.0, 1.0));
    assert_eq!(answer.places_in_all, 2);
}

#[test]
fn photos_go_with_the_blank() {
    let photos = photos(soft, &Face::ALL);
    let wood = Wood::Photos(photos.clone());
    let (rolled, ended) = (wood.rolled(W), wood.end_for_end(W, L));
    let size = |wood: &Wood| wood.photos().unwrap().size_mm();
    assert_eq!((size(&rolled), size(&ended)), ([D, W], [W, D]));
    for (face, p) in [
        (Face::One, BlankPoint { x: 12.0, y: 0.0, s: 100.0 }),
        (Face::Two, BlankPoint { x: W, y: 12.0, s: 31.0 }),
        (Face::Three, BlankPoint { x: 12.0, y: D, s: 44.0 }),
        (Face::Four, BlankPoint { x: 0.0, y: 12.0, s: 250.0 }),
    ] {
        let was = wood.at(p, Surface::Face(face)).colour;
        let up = Face::ALL[(face.index() + 3) % 4];
        assert_eq!(rolled.at(BlankPoint { x: p.y, y: W - p.x, s: p.s }, Surface::Face(up)).colour, was);
        let round = match face {
            Face::Two => Face::Four,
            Face::Four => Face::Two,
            same => same,
        };
        let end = ended.at(BlankPoint { x: W - p.x, y: p.y, s: L - p.s }, Surface::Face(round)).colour;
        assert!((0..3).all(|i| end[i].abs_diff(was[i]) <= 1), "{face}: {end:?} {was:?}");
    }
    let back = (0..4).fold(Wood::Photos(photos), |wood, i| wood.rolled(if i % 2 == 0 { W } else { D }));
    assert_eq!(back, wood);
    // In proportion: the same place of the photo at a place in proportion.
    let small = wood.scaled(0.5);
    let at = |wood: &Wood, x, s| wood.at(BlankPoint { x, y: 0.0, s }, Surface::Face(Face::One)).colour;
    assert_eq!(at(&small, 6.0, 50.0), at(&wood, 12.0, 100.0));
}

/// One wood under four lights: balanced, neighbours show one colour along their arrises again, and all keep their light.
#[test]
fn balanced_photos_agree_along_their_arrises() {
    let lit: Paint = |face, along, _| {
        let [r, g, b] = [[1.0, 1.0, 1.0], [0.7, 0.75, 0.9], [1.2, 1.1, 0.8], [0.9, 1.0, 1.1]][face.index()];
        let wood = 110.0 + 20.0 * (along / 40.0).sin();
        [r * wood, g * 0.8 * wood, b * 0.6 * wood].map(|v| v as u8)
    };
    let photos = photos(lit, &Face::ALL);
    assert!(!photos.is_balanced());
    let balanced = photos.balanced().unwrap();
    assert!(balanced.is_balanced() && balanced.as_photographed() == photos);
    balanced.check().unwrap();
    let seen = |photos: &Photos| {
        let wood = Wood::Photos(photos.clone());
        let at = |face, x, y| wood.at(BlankPoint { x, y, s: 120.0 }, Surface::Face(face)).colour;
        [at(Face::One, W - 2.0, 0.0), at(Face::Two, W, 2.0), at(Face::Three, 2.0, D), at(Face::Four, 0.0, D - 2.0)]
    };
    let off = |colours: [[u8; 3]; 4]| {
        colours
            .iter()
            .flat_map(|one| colours.iter().map(move |other| (0..3).map(|i| one[i].abs_diff(other[i])).max()))
            .max()
    };
    assert!(off(seen(&photos)) > Some(Some(30)));
    assert!(off(seen(&balanced)) <= Some(Some(2)), "{:?}", seen(&balanced));
    let light: f64 = balanced.photos.iter().map(|photo| photo.gain[0].ln()).sum();
    assert!(light.abs() < 1e-3, "{light}");
    // One photo alone has nothing to be balanced with.
    assert_eq!(photos.without(Face::One).without(Face::Two).without(Face::Three).balanced(), None);
}

/// Painted by columns, of which each looks at two of the faces once, a sawn surface shows what it does point by point.
#[test]
fn a_painted_sawn_surface_shows_what_its_points_do() {
    let leg = cyma_leg(W, D, L, 12.0, 0.5);
    let figure = Figure::new(&Wood::Photos(photos(soft, &[Face::One, Face::Two, Face::Four])));
    for cut in Cut::ALL {
        let patch = Patch { px_per_mm: [20.0, 4.0], columns_mm: Some([80.0, 84.0]), threads: 1 };
        let painted = paint_patch(&leg, &figure, Surface::Cut(cut), &patch).unwrap();
        let mut apart = 0;
        for i in 0..80 {
            let s = 80.025 + 0.05 * f64::from(i);
            for across in [0.125, 5.125, 19.875, 38.125] {
                let p = match cut {
                    Cut::First => BlankPoint { x: leg.a(s), y: across, s },
                    Cut::Second => BlankPoint { x: across, y: leg.b(s), s },
                };
                let at = figure.at(&figure.view(Surface::Cut(cut)), p, &Steps::POINT).colour;
                let most = at.iter().zip(painted.colour(p)).map(|(a, b)| a.abs_diff(b)).max().unwrap();
                // At the edges of the hatching a texel shows some of both.
                apart += usize::from(most > 3);
            }
        }
        assert!(apart < 16, "{cut}: {apart} of 320 texels are another colour");
    }
}

#[test]
fn a_knot_is_painted_inside_but_not_on_a_photo_of_it() {
    let plain: Paint = |_, _, _| [200, 160, 120];
    let figure = Figure::new(&Wood::Photos(photos(plain, &[Face::One])))
        .with_knots(&[Knot::new(Face::One, 100.0.into(), 20.0.into(), 16.0.into())], [W, D]);
    let at = |surface, y| figure.at(&figure.view(surface), BlankPoint { x: 20.0, y, s: 100.0 }, &Steps::POINT).colour;
    assert_eq!(at(Surface::Face(Face::One), 0.0), [200, 160, 120]);
    assert!(at(Surface::Cut(Cut::Second), 0.5)[0] < 150);
}

#[test]
fn bad_photos_are_named() {
    let good = Photo::start(Face::Two, PictureHash([7; 32]), (-20.0).into(), 340.0.into());
    let says = |photo: Photo| Photos::new(Species::Oak, [W, D]).with(photo).check().unwrap_err().to_string();
    Photos::new(Species::Oak, [W, D]).with(good.clone()).check().unwrap();
    let [a, b, c, d] = good.corners;
    assert!(says(Photo { corners: [b, a, c, d], ..good.clone() }).contains("photo of face 2"));
    assert!(says(Photo { corners: [a, b, c, [1.1, 0.5]], ..good.clone() }).contains("must lie in the picture"));
    assert!(says(Photo { length: 0.0.into(), ..good.clone() }).contains("length"));
    assert!(says(Photo { gain: [1.0, f64::NAN, 1.0], ..good.clone() }).contains("light"));
    let mut two = Photos::new(Species::Oak, [W, D]).with(good.clone());
    two.photos.push(good);
    assert!(two.check().unwrap_err().to_string().contains("two photos"));
}

//! What shows on a face of a photographed blank that has no photo itself.

use std::sync::Arc;

use cornerwise_geometry::{BlankPoint, Face, Surface};

use crate::{Exposed, Photo, PhotoPixels, Photos, PictureHash, Species, Wood};

const SIZE: [f64; 2] = [50.0, 40.0];
const LENGTH: f64 = 320.0;

/// A photo of a face and nothing else, four pixels a mm, striped across: 4 mm dark in every 16.
fn striped(face: Face) -> Photo {
    let size = [4 * LENGTH as usize, 4 * SIZE[face.index() % 2] as usize];
    let pixel = |column: usize| {
        if (column as f64 / 4.0).rem_euclid(16.0) < 4.0 { [70, 50, 30, 255] } else { [190, 150, 110, 255] }
    };
    let rgba: Vec<u8> = (0..size[1]).flat_map(|_| (0..size[0]).flat_map(pixel)).collect();
    let pixels = Exposed(PhotoPixels::new(size, &rgba).map(Arc::new));
    let corners = [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]];
    let start = Photo::start(face, PictureHash([face.number(); 32]), 0.0.into(), LENGTH.into());
    Photo { corners, pixels, ..start }
}

/// Rings that reach the edges of the photographed faces must not run across the face between them.
#[test]
fn a_face_without_a_photo_is_a_calm_ground() {
    let faces = [Face::Two, Face::Three, Face::Four];
    let wood =
        Wood::Photos(faces.into_iter().fold(Photos::new(Species::Maple, SIZE), |all, face| all.with(striped(face))));
    wood.check().unwrap();
    // Where the hatching is alike: every 9 mm along.
    let spread = |surface: Surface, x: f64| {
        let seen = (0..25).map(|i| {
            let p = BlankPoint { x, y: 0.0, s: 45.0 + 9.0 * f64::from(i) };
            f64::from(wood.at(p, surface).colour[0])
        });
        let (least, most) = seen.fold((255.0_f64, 0.0_f64), |(least, most), v| (least.min(v), most.max(v)));
        most - least
    };
    for x in [1.0, 10.0, 25.0, 40.0] {
        let seen = spread(Surface::Face(Face::One), x);
        assert!(seen < 20.0, "{seen} at {x} mm");
        // What is guessed inside is as it was: there the rings are followed in.
        assert!(spread(Surface::Cut(cornerwise_geometry::Cut::First), x) > 40.0);
    }
    // It is the photos' own ground: about three parts light and one dark, paler.
    let [r, g, b] = wood.at(BlankPoint { x: 25.0, y: 0.0, s: 150.0 }, Surface::Face(Face::One)).colour;
    assert!(r > g && g > b && (120..220).contains(&r), "{r} {g} {b}");
}

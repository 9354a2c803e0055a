//! The demo of a photographed blank, made anew by `cargo test -p cornerwise-export -- --ignored photographed_demo`: a timber
//! blank is painted, photographed face by face from a slant and under a light of its own each, and its photos are squared up
//! and balanced as a maker would. The checks hold the file against that timber.

use super::DEMOS;
use crate::files::{read_text, write_text};
use crate::pictures::{photo_pixels, take, with_photos};
use cornerwise_geometry::{Cut, Face, Surface};
use cornerwise_project::{DesignId, Edit, Project};
use cornerwise_wood::{
    Exposed, Figure, Photo, Photos, SeamLimits, Species, Squaring, Steps, Timber, Wood, colour_difference, compare_pair,
};
use image::codecs::jpeg::JpegEncoder;
use image::{Rgb, RgbImage};
use std::fs;
use std::path::Path;
use std::sync::Arc;

const FILE: &str = "photographed-ash.ron";
const SIDE_MM: f64 = 50.0;
/// From the finished top, and how long: the whole blank with what is spare at its ends.
const STRETCH_MM: [f64; 2] = [-20.0, 700.0];
const SIZE_PX: [u32; 2] = [1560, 236];

const WORDS: &str = "\
// The leg of a newspaper stand from a real blank of ash: photos of its four faces, kept inside this file as base64, instead
// of rings about a pith. Each was taken a little from the side and under a light of its own; `corners` square it up and
// `gain` balances its colours. (It is an invented blank: painted by Cornerwise itself, which also made the photos.)
//
// A bare number is millimetres. reading-table.ron explains the fields.
";

/// The project before its photos were taken.
const BARE: &str = "(format: 1, name: \"Newspaper stand\", units: Millimetres, paper: (page: A4), designs: [(id: 1,
    name: \"Stand leg\", letter: 'N', blank: (width: 50, depth: 50, length: 660, spare_top: 20, spare_foot: 20),
    first: Shape(Cyma(swing: 16, turn: 0.52)), second: Shape(Cyma(swing: 12, turn: 0.5)),
    wood: Timber(species: Ash, pith_x: -46, pith_y: -64, ring_width: 3.4))])";

fn timber() -> Timber {
    let rift = Timber::new(Species::Ash, (-46.0).into(), (-64.0).into(), 3.4.into());
    Timber { lean_x: 0.012, lean_y: -0.006, wobble: 0.25, ..rift }
}

/// Where the face's corners lie in its photo, as shares, and how much of red, green and blue light comes through.
fn shot(face: Face) -> ([[f64; 2]; 4], [f64; 3]) {
    match face {
        Face::One => ([[0.012, 0.16], [0.985, 0.1], [0.978, 0.83], [0.02, 0.78]], [1.0, 1.0, 1.0]),
        Face::Two => ([[0.02, 0.12], [0.99, 0.2], [0.982, 0.86], [0.012, 0.88]], [0.86, 0.84, 0.9]),
        Face::Three => ([[0.014, 0.2], [0.98, 0.14], [0.988, 0.9], [0.022, 0.82]], [1.06, 1.0, 0.86]),
        Face::Four => ([[0.022, 0.13], [0.986, 0.11], [0.98, 0.8], [0.016, 0.87]], [0.9, 0.95, 1.08]),
    }
}

/// Where on the face a place of the picture lies, both as shares: by Newton's method, because the map is one of a camera.
fn seen(squaring: &Squaring, [x, y]: [f64; 2]) -> [f64; 2] {
    let (mut u, mut v) = (0.5, 0.5);
    for _ in 0..8 {
        const STEP: f64 = 1e-5;
        let [px, py] = squaring.picture([u, v]);
        let ([ax, ay], [bx, by]) = (squaring.picture([u + STEP, v]), squaring.picture([u, v + STEP]));
        let [ax, ay, bx, by] = [ax - px, ay - py, bx - px, by - py].map(|d| d / STEP);
        let det = ax * by - ay * bx;
        u += ((x - px) * by - (y - py) * bx) / det;
        v += ((y - py) * ax - (x - px) * ay) / det;
    }
    [u, v]
}

/// The photo of a face: on a grey-green bench, each pixel the mean of four looks, as a JPEG.
fn photographed(figure: &Figure, face: Face) -> Vec<u8> {
    let (corners, light) = shot(face);
    let squaring = Squaring::new(corners).expect("a face");
    let view = figure.view(Surface::Face(face));
    let [from, length] = STRETCH_MM;
    let linear = |v: f64| (v / 255.0).powf(2.2);
    let image = RgbImage::from_fn(SIZE_PX[0], SIZE_PX[1], |column, row| {
        let mut sum = [0.0; 3];
        for look in 0..4_u32 {
            let half = |i: u32| 0.25 + 0.5 * f64::from(i);
            let at = [
                (f64::from(column) + half(look % 2)) / f64::from(SIZE_PX[0]),
                (f64::from(row) + half(look / 2)) / f64::from(SIZE_PX[1]),
            ];
            let [u, v] = seen(&squaring, at);
            let colour = if (0.0..=1.0).contains(&u) && (0.0..=1.0).contains(&v) {
                figure.at(&view, face.point(from + u * length, v * SIDE_MM, [SIDE_MM; 2]), &Steps::POINT).colour
            } else {
                [74, 84, 78]
            };
            sum = [0, 1, 2].map(|i| sum[i] + 0.25 * light[i] * linear(f64::from(colour[i])));
        }
        Rgb(sum.map(|v| (255.0 * v.clamp(0.0, 1.0).powf(1.0 / 2.2)).round() as u8))
    });
    let mut file = Vec::new();
    image.write_with_encoder(JpegEncoder::new_with_quality(&mut file, 82)).expect("written");
    file
}

#[test]
#[ignore = "makes the demo anew, which is wanted only when its wood or camera is changed"]
fn make_the_photographed_demo() {
    let figure = Figure::new(&Wood::Timber(timber()));
    let folder = tempfile::tempdir().expect("a folder");
    let mut photos = Photos::new(Species::Ash, [SIDE_MM; 2]);
    let mut pictures = Vec::new();
    for face in Face::ALL {
        let path = folder.path().join(format!("ash face {}.jpg", face.number()));
        fs::write(&path, photographed(&figure, face)).expect("written");
        let taken = take(&path, &|_, _| true).expect("a picture");
        let pixels = photo_pixels(&taken.bytes.0, &taken.picture.name, u64::MAX, &|_, _| true).expect("pixels");
        let [from, length] = STRETCH_MM;
        let start = Photo::start(face, taken.picture.hash, from.into(), length.into());
        photos = photos.with(Photo { corners: shot(face).0, pixels: Exposed(Some(Arc::new(pixels))), ..start });
        pictures.push(Arc::new(taken.picture));
    }
    let photos = photos.balanced().expect("four photos");
    let photos = Box::new(photos.exposed(&|_| None).expect("without pixels"));
    let bare = read_text(BARE).expect("a project");
    let project = bare.apply(&Edit::SetPhotos { design: DesignId(1), photos, pictures }).expect("photos");
    let text = write_text(&project).expect("written");
    let body = text.split_once("\n(").map_or(text.as_str(), |(_, body)| body);
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-projects").join(FILE);
    fs::write(path, format!("{WORDS}({body}")).expect("written");
}

fn demo() -> Project {
    let demo = DEMOS.iter().find(|demo| demo.file_name == FILE).expect("the demo");
    assert!(demo.text.len() < 400_000, "{} bytes", demo.text.len());
    let (project, errors) = with_photos(demo.project().expect("a project"), &|_, _| true);
    assert!(errors.is_empty(), "{errors:?}");
    project
}

/// Mean colours of strips of a face, 40 mm long.
fn strips(wood: &Wood, face: Face) -> Vec<[f32; 3]> {
    let figure = Figure::new(wood);
    let view = figure.view(Surface::Face(face));
    let mean = |strip: u32| {
        let places = (0..40).flat_map(|i| (1..10).map(move |j| (f64::from(40 * strip + i) + 0.5, 5.0 * f64::from(j))));
        let colours =
            places.map(|(s, across)| figure.at(&view, face.point(s, across, [SIDE_MM; 2]), &Steps::POINT).colour);
        let sum = colours.fold([0.0; 3], |sum, colour| [0, 1, 2].map(|i| sum[i] + f32::from(colour[i])));
        sum.map(|sum| sum / 360.0)
    };
    (0..16).map(mean).collect()
}

#[test]
fn the_photographed_demo_shows_its_timber_once_squared_up_and_balanced() {
    let project = demo();
    let photos = project.designs[0].wood.photos().expect("photos");
    assert!(photos.missing().is_empty() && photos.is_balanced() && !photos.glued_up);
    let real = Wood::Timber(timber());
    let off = |photos: Photos| {
        let wood = Wood::Photos(photos);
        let faces = Face::ALL.into_iter().flat_map(|face| strips(&wood, face).into_iter().zip(strips(&real, face)));
        let all: Vec<f64> = faces.map(|(shown, wanted)| colour_difference(shown, wanted)).collect();
        all.iter().sum::<f64>() / all.len() as f64
    };
    let (balanced, raw) = (off(photos.clone()), off(photos.as_photographed()));
    assert!(balanced < 2.0 && raw > 2.0 * balanced, "{balanced} balanced, {raw} as photographed");
    // And it is drawn in that wood, not in one plain colour.
    let design = &project.designs[0];
    let face = strips(&design.wood, Face::One);
    assert!(face.windows(2).any(|pair| pair[0] != pair[1]));
}

#[test]
fn the_photographed_demos_seams_are_as_its_timber_has_them() {
    let project = demo();
    let leg = project.designs[0].leg().expect("a leg");
    let limits = SeamLimits::default();
    for cut in Cut::ALL {
        let told = compare_pair(&leg, &project.designs[0].wood, cut, &limits);
        let truth = compare_pair(&leg, &Wood::Timber(timber()), cut, &limits);
        assert_eq!((told.unknown, told.same_wood), (0.0, 1.0), "{told:?}");
        eprintln!("{cut:?}: {} for {}, {} unseen", told.lines_meet, truth.lines_meet, told.lines_unseen);
        assert!(told.lines_unseen < 0.3, "{told:?}");
        assert!((told.lines_meet - truth.lines_meet).abs() < 0.2, "{} for {}", told.lines_meet, truth.lines_meet);
    }
}

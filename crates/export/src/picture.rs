//! The upright leg as a picture, without a window or a graphics card.

mod band;
mod pane;

use std::thread;

use cornerwise_geometry::{Camera, Facets, Leg, Opening, draw_order};
use cornerwise_wood::{Figure, Wood, WoodError};
use thiserror::Error;

use self::band::Band;
use self::pane::{Pane, Screen};

/// The smallest picture, pixels along either side.
pub const SMALLEST_PX: u32 = 16;

/// The largest picture, pixels along either side.
pub const LARGEST_PX: u32 = 8192;

/// Samples of a pixel, each way.
const SAMPLES: usize = 3;

/// Rows of pixels that are worked on at once: bounds the memory, whatever the picture's size.
const BAND_ROWS: usize = 32;

/// How much of the picture stays empty round the leg, as a share of its smaller side.
const MARGIN: f64 = 0.06;

/// How far the slabs may stray from the curve, in pixels. Far less than can be seen of an outline: it is the light on
/// the slabs that would show them.
const STRAY_PX: f64 = 0.04;

/// Why there is no picture.
#[derive(Debug, Error)]
pub enum PictureError {
    /// A size that no screen or paper needs.
    #[error("a picture of {width} by {height} pixels: each side must be {SMALLEST_PX} to {LARGEST_PX}")]
    Size {
        /// Across it, pixels.
        width: u32,
        /// Up it, pixels.
        height: u32,
    },
    /// Neither blank nor leg nor between.
    #[error("the opening is {0}: it must be 0 (the blank) to 1 (the finished leg)")]
    Share(f64),
    /// The wood has a number that does not fit.
    #[error(transparent)]
    Wood(#[from] WoodError),
    /// The picture could not be written as PNG.
    #[error("the picture cannot be written: {0}")]
    Png(#[from] png::EncodingError),
}

/// Draws the leg, TOP up, as large as `size_px` (across, up) holds it, and returns the bytes of a PNG file.
///
/// `opening_share` is 0 for the blank and 1 for the finished leg. The same leg, wood, camera and size give the same
/// bytes: nothing depends on time or on the number of threads.
///
/// # Errors
/// [`PictureError`] where the size, the share or the wood is not sound.
pub fn picture(
    leg: &Leg,
    wood: &Wood,
    camera: &Camera,
    opening_share: f64,
    size_px: [u32; 2],
) -> Result<Vec<u8>, PictureError> {
    write_png(size_px, &pixels(leg, wood, camera, opening_share, size_px)?)
}

/// [`picture`] of a wood made ready already: with its finish and its knots.
///
/// # Errors
/// [`PictureError`] where the size or the share is not sound.
pub fn picture_of(
    leg: &Leg,
    figure: &Figure,
    camera: &Camera,
    opening_share: f64,
    size_px: [u32; 2],
) -> Result<Vec<u8>, PictureError> {
    write_png(size_px, &pixels_of(leg, figure, camera, opening_share, size_px)?)
}

/// The same picture as its pixels: rows from the top, three bytes each (red, green, blue, sRGB).
///
/// # Errors
/// [`PictureError`] where the size, the share or the wood is not sound.
pub fn pixels(
    leg: &Leg,
    wood: &Wood,
    camera: &Camera,
    opening_share: f64,
    size_px: [u32; 2],
) -> Result<Vec<u8>, PictureError> {
    wood.check()?;
    pixels_of(leg, &Figure::new(wood), camera, opening_share, size_px)
}

/// [`pixels`] of a wood made ready already: with its finish and its knots.
///
/// # Errors
/// [`PictureError`] where the size or the share is not sound.
pub fn pixels_of(
    leg: &Leg,
    figure: &Figure,
    camera: &Camera,
    opening_share: f64,
    size_px: [u32; 2],
) -> Result<Vec<u8>, PictureError> {
    let [width, height] = size_px;
    if size_px.iter().any(|side| !(SMALLEST_PX..=LARGEST_PX).contains(side)) {
        return Err(PictureError::Size { width, height });
    }
    if !(0.0..=1.0).contains(&opening_share) {
        return Err(PictureError::Share(opening_share));
    }
    let size = size_px.map(|side| side as usize);
    let facets_within = |stray_mm: f64| {
        let solved = leg.solve(&leg.stations_within(stray_mm));
        Facets::new(&solved, &Opening::new(&solved, opening_share))
    };
    // Roughly first, to know the scale.
    let px_per_mm = Screen::fit(&facets_within(0.1), camera, size).samples_per_mm() / SAMPLES as f64;
    let facets = facets_within((STRAY_PX / px_per_mm).clamp(1e-4, 0.1));
    let screen = Screen::fit(&facets, camera, size);
    let panes: Vec<Pane> = draw_order(&facets, camera)
        .iter()
        .filter_map(|&number| Pane::new(&facets.get(number)?, camera, &screen))
        .collect();
    Ok(paint(&panes, figure, size))
}

/// All pixels, top row first, three bytes each.
fn paint(panes: &[Pane], figure: &Figure, [width, height]: [usize; 2]) -> Vec<u8> {
    let mut rgb = vec![0; 3 * width * height];
    let mut bands: Vec<(usize, &mut [u8])> = rgb.chunks_mut(3 * width * BAND_ROWS).enumerate().collect();
    let threads = thread::available_parallelism().map_or(1, |n| n.get().min(8));
    // Bands in the middle take longest: deal them out in turn.
    let mut hands: Vec<Vec<(usize, &mut [u8])>> = (0..threads).map(|_| Vec::new()).collect();
    for (turn, band) in bands.drain(..).enumerate() {
        hands[turn % threads].push(band);
    }
    thread::scope(|scope| {
        for hand in hands {
            scope.spawn(move || {
                for (band, pixels) in hand {
                    Band::new(panes, figure, width, band * BAND_ROWS, pixels.len() / (3 * width)).fill(pixels);
                }
            });
        }
    });
    rgb
}

fn write_png([width, height]: [u32; 2], rgb: &[u8]) -> Result<Vec<u8>, PictureError> {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, width, height);
    encoder.set_color(png::ColorType::Rgb);
    encoder.set_depth(png::BitDepth::Eight);
    encoder.set_source_srgb(png::SrgbRenderingIntent::Perceptual);
    let mut writer = encoder.write_header()?;
    writer.write_image_data(rgb)?;
    writer.finish()?;
    Ok(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;
    use cornerwise_geometry::{Blank, Line, Shape, ShapeKind};
    use cornerwise_wood::{Layer, Layers, Species, Timber};

    const PAPER: [u8; 3] = [244, 241, 234];

    struct Decoded {
        size: [usize; 2],
        rgb: Vec<u8>,
    }

    impl Decoded {
        fn read(bytes: &[u8]) -> Decoded {
            let mut reader = png::Decoder::new(std::io::Cursor::new(bytes)).read_info().unwrap();
            let mut rgb = vec![0; reader.output_buffer_size().unwrap()];
            let info = reader.next_frame(&mut rgb).unwrap();
            Decoded { size: [info.width as usize, info.height as usize], rgb }
        }

        fn at(&self, column: usize, row: usize) -> [u8; 3] {
            let first = 3 * (row * self.size[0] + column);
            [self.rgb[first], self.rgb[first + 1], self.rgb[first + 2]]
        }

        /// How bright the middle of a pixel's neighbourhood is, 0 to 255.
        fn brightness(&self, column: usize, row: usize) -> f64 {
            let around = [(0, 0), (1, 0), (0, 1), (2, 1), (1, 2)];
            let sum: f64 = around
                .iter()
                .map(|(c, r)| self.at(column + c, row + r).iter().map(|byte| f64::from(*byte)).sum::<f64>())
                .sum();
            sum / (3 * around.len()) as f64
        }
    }

    fn leg(kind: ShapeKind) -> Leg {
        let line = Line::Shape(Shape::start(kind, 400.0, 50.0));
        Leg::new(&Blank::square(50.0, 400.0), &line, &line).unwrap()
    }

    fn oak() -> Wood {
        Wood::Timber(Timber::new(Species::Oak, 20.0.into(), 90.0.into(), 3.0.into()))
    }

    /// Maple, then walnut, one change over the whole blank.
    fn maple_then_walnut(at_mm: f64, lean_deg: f64) -> Wood {
        let layer = |species, mm: f64| Layer { species, thickness: mm.into() };
        let layers = vec![layer(Species::Maple, at_mm), layer(Species::Walnut, 1000.0)];
        Wood::Layers(Layers::new(layers, lean_deg, 0.0, 0.0.into()))
    }

    fn decoded(leg: &Leg, wood: &Wood, camera: [f64; 2], share: f64, size_px: [u32; 2]) -> Decoded {
        Decoded::read(&picture(leg, wood, &Camera::new(camera[0], camera[1]), share, size_px).unwrap())
    }

    #[test]
    fn the_leg_fills_the_picture_and_the_rest_is_paper() {
        let picture = decoded(&leg(ShapeKind::Straight), &oak(), [0.0, 0.0], 1.0, [200, 300]);
        assert_eq!(picture.size, [200, 300]);
        let pixels: Vec<_> = picture.rgb.chunks_exact(3).collect();
        let covered = pixels.iter().filter(|pixel| **pixel != PAPER).count() as f64;
        // 400 mm fill the height but for the margins, 6 % of 200 pixels each; the outline adds up to a pixel all round.
        let height = 300.0 - 24.0;
        let (least, most) = (height * height / 8.0, (height + 3.0) * (height / 8.0 + 3.0));
        assert!((least..most).contains(&covered), "{covered} pixels, not {least} to {most}");
        assert_eq!([picture.at(0, 0), picture.at(199, 299)], [PAPER; 2]);
    }

    #[test]
    fn the_top_is_up() {
        let picture = decoded(&leg(ShapeKind::Cyma), &maple_then_walnut(200.0, 0.0), [30.0, 0.0], 1.0, [120, 300]);
        assert!(picture.brightness(55, 60) > 100.0 + picture.brightness(55, 240));
    }

    /// Side 1 as it is seen from outside: piece 1, with x = -u, on the right, from arris 1 at the seam to the saw line.
    #[test]
    fn never_a_mirror() {
        let wood = maple_then_walnut(25.0, 90.0);
        let finished = decoded(&leg(ShapeKind::Straight), &wood, [0.0, 0.0], 1.0, [120, 300]);
        assert!(finished.brightness(66, 150) > 100.0 + finished.brightness(50, 150));
        // Face 1 of the blank has arris 1 on the right as well when its top is up.
        let blank = decoded(&leg(ShapeKind::Straight), &wood, [0.0, 0.0], 0.0, [120, 300]);
        assert!(blank.brightness(66, 150) > 100.0 + blank.brightness(50, 150));
    }

    #[test]
    fn what_the_wood_says_is_what_is_seen() {
        // The side lies square to the camera, so one light falls on all of it.
        let leg = leg(ShapeKind::Straight);
        let outward = [0.0, 0.0, 1.0];
        let wood = maple_then_walnut(200.0, 0.0);
        let picture = decoded(&leg, &wood, [0.0, 0.0], 1.0, [120, 300]);
        for (row, s) in [(60, 67.0), (240, 334.0)] {
            let grain = wood.at(
                cornerwise_geometry::BlankPoint { x: 10.0, y: 25.0, s },
                cornerwise_geometry::Surface::Cut(cornerwise_geometry::Cut::Second),
            );
            let expected: f64 = (0..3)
                .map(|c| f64::from(grain.colour[c]) * pane::light(outward)[c] + pane::sheen(outward))
                .sum::<f64>()
                / 3.0;
            let seen = picture.brightness(66, row);
            // The pattern of the fibres differs from place to place.
            assert!((seen - expected).abs() < 14.0, "row {row}: {seen}, not {expected}");
        }
    }

    #[test]
    fn the_same_leg_gives_the_same_bytes() {
        let bytes = || picture(&leg(ShapeKind::Waves), &oak(), &Camera::new(40.0, 15.0), 0.4, [90, 120]).unwrap();
        assert_eq!(bytes(), bytes());
    }

    #[test]
    fn any_leg_at_any_opening_from_anywhere() {
        let line = Line::Shape(Shape::start(ShapeKind::Straight, 10_000.0, 3.0));
        let rod = Leg::new(&Blank::square(3.0, 10_000.0), &line, &line).unwrap();
        // The rod is thinner than a sample: it may leave nothing on the paper.
        for (leg, covered) in [(rod, 0), (leg(ShapeKind::PostAndKnee), 20)] {
            for share in [0.0, 0.1, 0.5, 0.9, 1.0] {
                for camera in [[0.0, 90.0], [10.0, -90.0], [90.0, 0.0], [33.0, 89.999_999]] {
                    let picture = decoded(&leg, &oak(), camera, share, [SMALLEST_PX, 33]);
                    let seen = picture.rgb.chunks_exact(3).filter(|pixel| *pixel != PAPER).count();
                    assert!(seen >= covered, "{seen} pixels from {camera:?} at {share}");
                }
            }
        }
    }

    #[test]
    fn silly_sizes_and_shares_are_named() {
        let try_with = |size_px, share| picture(&leg(ShapeKind::Cyma), &oak(), &Camera::new(0.0, 0.0), share, size_px);
        assert!(matches!(try_with([0, 100], 1.0), Err(PictureError::Size { width: 0, height: 100 })));
        assert!(matches!(try_with([100, u32::MAX], 1.0), Err(PictureError::Size { .. })));
        assert!(matches!(try_with([100, 100], f64::NAN), Err(PictureError::Share(_))));
        assert!(matches!(try_with([100, 100], 1.1), Err(PictureError::Share(_))));
        let bad = maple_then_walnut(f64::NAN, 0.0);
        let refused = picture(&leg(ShapeKind::Cyma), &bad, &Camera::new(0.0, 0.0), 1.0, [100, 100]);
        assert!(matches!(refused, Err(PictureError::Wood(_))));
    }
}

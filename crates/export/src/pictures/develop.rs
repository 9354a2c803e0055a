//! Decoding, and making smaller.

use super::{MOST_PIXELS, PictureError, Watch, kind};
use image::codecs::jpeg::JpegDecoder;
use image::codecs::png::PngDecoder;
use image::metadata::Orientation;
use image::{ColorType, DynamicImage, ImageDecoder, ImageError, ImageFormat, RgbaImage};
use std::io::Cursor;
use std::panic::{AssertUnwindSafe, catch_unwind};

/// A picture ready to be shown: upright, sRGB, as small as was asked.
#[derive(Clone, PartialEq)]
pub struct Developed {
    /// How many pixels the whole picture is wide and high.
    pub full_px: [u32; 2],
    /// How many it has now.
    pub size_px: [u32; 2],
    /// Rows one after another, four bytes a pixel: red, green, blue, and how opaque.
    pub rgba: Vec<u8>,
}

/// Pixels as the decoder gives them.
struct Raw {
    bytes: Vec<u8>,
    size_px: [u32; 2],
    /// Grey or colours, then perhaps how opaque.
    channels: usize,
    /// Two bytes a channel and not one.
    wide: bool,
    orientation: Orientation,
}

fn damaged(name: &str, error: &ImageError) -> PictureError {
    PictureError::Damaged { name: name.to_owned(), why: error.to_string() }
}

/// A decoder, once the picture's head has been read.
fn decoder<'a>(bytes: &'a [u8], name: &str) -> Result<Box<dyn ImageDecoder + 'a>, PictureError> {
    let opened: Result<Box<dyn ImageDecoder + 'a>, ImageError> = match kind(bytes) {
        Some(ImageFormat::Png) => PngDecoder::new(Cursor::new(bytes)).map(|decoder| Box::new(decoder) as _),
        Some(ImageFormat::Jpeg) => JpegDecoder::new(Cursor::new(bytes)).map(|decoder| Box::new(decoder) as _),
        _ => return Err(PictureError::Kind { name: name.to_owned() }),
    };
    let decoder = opened.map_err(|error| damaged(name, &error))?;
    let (width, height) = decoder.dimensions();
    if u64::from(width) * u64::from(height) > MOST_PIXELS || decoder.total_bytes() > 4 * MOST_PIXELS {
        return Err(PictureError::TooLarge { name: name.to_owned(), width, height });
    }
    Ok(decoder)
}

/// How many pixels a picture is wide and high, standing upright.
pub(super) fn size_px(bytes: &[u8], name: &str) -> Result<[u32; 2], PictureError> {
    guarded(name, || {
        let mut decoder = decoder(bytes, name)?;
        let orientation = decoder.orientation().unwrap_or(Orientation::NoTransforms);
        let (width, height) = decoder.dimensions();
        Ok(if turns(orientation) { [height, width] } else { [width, height] })
    })
}

fn turns(orientation: Orientation) -> bool {
    matches!(
        orientation,
        Orientation::Rotate90 | Orientation::Rotate270 | Orientation::Rotate90FlipH | Orientation::Rotate270FlipH
    )
}

/// Develops a picture: at most `most_px` pixels in all, and at most `most_side_px` a side. It is made smaller by the mean
/// over each new pixel's area.
///
/// # Errors
/// [`PictureError`] where the bytes are no picture, or a damaged or too large one; or `watch` says stop, which is asked
/// between the steps and for each row.
pub fn develop(
    bytes: &[u8],
    name: &str,
    most_px: u64,
    most_side_px: u32,
    watch: Watch<'_>,
) -> Result<Developed, PictureError> {
    let go_on = |what, share| if watch(what, share) { Ok(()) } else { Err(PictureError::Stopped) };
    go_on("Decoding", 0.0)?;
    if kind(bytes) == Some(ImageFormat::Jpeg) && !jpeg_ends(bytes) {
        let why = "it ends in the middle".to_owned();
        return Err(PictureError::Damaged { name: name.to_owned(), why });
    }
    let raw = guarded(name, || decoded(bytes, name))?;
    let [width, height] = raw.size_px;
    let scale = [
        1.0,
        (most_px as f64 / (f64::from(width) * f64::from(height))).sqrt(),
        f64::from(most_side_px) / f64::from(width.max(height)),
    ];
    let scale = scale.into_iter().fold(f64::INFINITY, f64::min);
    let size = [width, height].map(|px| ((f64::from(px) * scale).floor() as u32).max(1));
    let small = smaller(&raw, size, &|share| go_on("Making it smaller", share))?;
    let mut small = DynamicImage::ImageRgba8(small);
    small.apply_orientation(raw.orientation);
    let full_px = if turns(raw.orientation) { [height, width] } else { [width, height] };
    Ok(Developed { full_px, size_px: [small.width(), small.height()], rgba: small.into_rgba8().into_raw() })
}

/// Decoders are many thousand lines that read what anybody may have written: should one of them give up without a word, it
/// is this picture that is damaged, and nothing more.
fn guarded<T>(name: &str, job: impl FnOnce() -> Result<T, PictureError>) -> Result<T, PictureError> {
    catch_unwind(AssertUnwindSafe(job)).unwrap_or_else(|_| {
        Err(PictureError::Damaged { name: name.to_owned(), why: "it cannot be decoded".to_owned() })
    })
}

fn decoded(bytes: &[u8], name: &str) -> Result<Raw, PictureError> {
    let mut decoder = decoder(bytes, name)?;
    let orientation = decoder.orientation().unwrap_or(Orientation::NoTransforms);
    let (width, height) = decoder.dimensions();
    let colour = decoder.color_type();
    let (channels, wide) = match colour {
        ColorType::L8 => (1, false),
        ColorType::La8 => (2, false),
        ColorType::Rgb8 => (3, false),
        ColorType::Rgba8 => (4, false),
        ColorType::L16 => (1, true),
        ColorType::La16 => (2, true),
        ColorType::Rgb16 => (3, true),
        ColorType::Rgba16 => (4, true),
        _ => return Err(PictureError::Kind { name: name.to_owned() }),
    };
    let mut bytes = vec![0; decoder.total_bytes() as usize];
    decoder.read_image_boxed(&mut bytes).map_err(|error| damaged(name, &error))?;
    Ok(Raw { bytes, size_px: [width, height], channels, wide, orientation })
}

impl Raw {
    /// A pixel: red, green, blue, opaque, 0 to 255.
    #[inline]
    fn pixel(&self, x: usize, y: usize) -> [f32; 4] {
        let at = (y * self.size_px[0] as usize + x) * self.channels;
        let value = |channel: usize| {
            let at = at + channel;
            if self.wide {
                f32::from(u16::from_ne_bytes([self.bytes[2 * at], self.bytes[2 * at + 1]])) / 257.0
            } else {
                f32::from(self.bytes[at])
            }
        };
        match self.channels {
            1 => [value(0), value(0), value(0), 255.0],
            2 => [value(0), value(0), value(0), value(1)],
            3 => [value(0), value(1), value(2), 255.0],
            _ => [value(0), value(1), value(2), value(3)],
        }
    }
}

/// Which old pixels a new one covers along one side, and how much of the first and the last of them.
fn covered(new: u32, of: u32, from: u32) -> (usize, usize, f32, f32) {
    let scale = f64::from(from) / f64::from(of);
    let (begin, end) = (f64::from(new) * scale, f64::from(new + 1) * scale);
    let first = (begin.floor() as u32).min(from - 1);
    let last = ((end - 1e-9).floor() as u32).max(first).min(from - 1);
    let first_share = (f64::from(first + 1).min(end) - begin) as f32;
    let last_share = if last == first { 0.0 } else { (end - f64::from(last)) as f32 };
    (first as usize, last as usize, first_share, last_share)
}

/// The mean over the area of each new pixel; what is not opaque counts less.
fn smaller(
    raw: &Raw,
    size: [u32; 2],
    go_on: &dyn Fn(f32) -> Result<(), PictureError>,
) -> Result<RgbaImage, PictureError> {
    let mut rgba = Vec::with_capacity(size[0] as usize * size[1] as usize * 4);
    let columns: Vec<_> = (0..size[0]).map(|column| covered(column, size[0], raw.size_px[0])).collect();
    for row in 0..size[1] {
        if row % 32 == 0 {
            go_on(row as f32 / size[1] as f32)?;
        }
        let (top, bottom, top_share, bottom_share) = covered(row, size[1], raw.size_px[1]);
        for (left, right, left_share, right_share) in &columns {
            let (mut sum, mut opaque, mut area) = ([0.0_f32; 3], 0.0_f32, 0.0_f32);
            for y in top..=bottom {
                let down = if y == top {
                    top_share
                } else if y == bottom {
                    bottom_share
                } else {
                    1.0
                };
                for x in *left..=*right {
                    let across = if x == *left {
                        *left_share
                    } else if x == *right {
                        *right_share
                    } else {
                        1.0
                    };
                    let [r, g, b, a] = raw.pixel(x, y);
                    let share = down * across;
                    area += share;
                    opaque += share * a;
                    for (sum, value) in sum.iter_mut().zip([r, g, b]) {
                        *sum += share * a * value;
                    }
                }
            }
            rgba.extend(sum.map(|sum| if opaque > 0.0 { (sum / opaque).round() as u8 } else { 0 }));
            rgba.push((opaque / area).round() as u8);
        }
    }
    RgbaImage::from_raw(size[0], size[1], rgba).ok_or(PictureError::Stopped)
}

/// Whether a JPEG goes on to its end marker (ITU-T T.81, annex B). Decoders fill what is missing with grey and say nothing.
fn jpeg_ends(bytes: &[u8]) -> bool {
    let mut at = 2;
    while let Some(rest) = bytes.get(at..).filter(|rest| rest.len() > 1) {
        match rest {
            [0xff, 0xd9, ..] => return true,
            // Filling, stuffed bytes, restarts and markers without a length.
            [0xff, 0xff, ..] => at += 1,
            [0xff, 0x00 | 0x01 | 0xd0..=0xd8, ..] => at += 2,
            [0xff, _, high, low, ..] => at += 2 + usize::from(*high) * 256 + usize::from(*low),
            [0xff, ..] => return false,
            // Entropy-coded data: on to the next marker.
            _ => match rest.iter().position(|byte| *byte == 0xff) {
                Some(next) => at += next,
                None => return false,
            },
        }
    }
    false
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_picture_is_made_smaller_by_the_mean_over_each_area() {
        // Three columns into two: the middle one is shared.
        let bytes = vec![30, 60, 90, 30, 60, 90];
        let raw = Raw { bytes, size_px: [3, 2], channels: 1, wide: false, orientation: Orientation::NoTransforms };
        let small = smaller(&raw, [2, 1], &|_| Ok(())).unwrap();
        assert_eq!(small.get_pixel(0, 0).0, [40, 40, 40, 255]);
        assert_eq!(small.get_pixel(1, 0).0, [80, 80, 80, 255]);
        // The whole mean stays, whatever the sizes.
        let bytes: Vec<u8> = (0..64 * 48).map(|i| (i * 7919 % 251) as u8).collect();
        let mean = |values: &[u8]| values.iter().map(|v| f64::from(*v)).sum::<f64>() / values.len() as f64;
        let raw = Raw { bytes, size_px: [64, 48], channels: 1, wide: false, orientation: Orientation::NoTransforms };
        for size in [[64, 48], [63, 47], [17, 5], [1, 1], [64, 1]] {
            let small = smaller(&raw, size, &|_| Ok(())).unwrap();
            let greys: Vec<u8> = small.pixels().map(|pixel| pixel.0[0]).collect();
            assert!((mean(&greys) - mean(&raw.bytes)).abs() < 0.5, "{size:?}");
        }
    }

    #[test]
    fn what_cannot_be_seen_through_gives_no_colour() {
        let bytes = vec![255, 0, 0, 255, 0, 0, 255, 0];
        let raw = Raw { bytes, size_px: [2, 1], channels: 4, wide: false, orientation: Orientation::NoTransforms };
        let small = smaller(&raw, [1, 1], &|_| Ok(())).unwrap();
        assert_eq!(small.get_pixel(0, 0).0, [255, 0, 0, 128]);
    }
}

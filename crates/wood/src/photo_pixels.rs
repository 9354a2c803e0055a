//! The pixels of a photo, and smaller and smaller copies of them.

use std::fmt;

/// Pixels of a photo, upright, sRGB, with copies of half the size down to one pixel: a colour is read from the copy whose
/// pixels are about as large as what is painted with it.
#[derive(Clone, PartialEq)]
pub struct PhotoPixels {
    levels: Vec<Level>,
}

#[derive(Clone, PartialEq)]
struct Level {
    size: [usize; 2],
    /// How many of its pixels a pixel of the whole photo is wide.
    scale: f64,
    rgb: Vec<u8>,
}

impl fmt::Debug for PhotoPixels {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let [width, height] = self.size_px();
        write!(f, "PhotoPixels({width} by {height})")
    }
}

/// What a byte of each channel stands for.
pub(crate) type Tones = [[f32; 256]; 3];

impl PhotoPixels {
    /// Of rows one after another, four bytes a pixel, the last of which is left out. Nothing where the count of bytes is not
    /// that of the size.
    pub fn new(size_px: [usize; 2], rgba: &[u8]) -> Option<PhotoPixels> {
        let [width, height] = size_px;
        if width == 0 || height == 0 || rgba.len() != width.checked_mul(height)?.checked_mul(4)? {
            return None;
        }
        let rgb = rgba.chunks_exact(4).flat_map(|pixel| [pixel[0], pixel[1], pixel[2]]).collect();
        let mut levels = vec![Level { size: size_px, scale: 1.0, rgb }];
        while let Some(last) = levels.last().filter(|last| last.size != [1, 1]) {
            let half = last.half();
            levels.push(half);
        }
        Some(PhotoPixels { levels })
    }

    /// How many pixels it is wide and high.
    pub fn size_px(&self) -> [usize; 2] {
        self.levels.first().map_or([1, 1], |level| level.size)
    }

    /// The pixels themselves: rows one after another, three bytes a pixel.
    pub fn rgb(&self) -> &[u8] {
        self.levels.first().map_or(&[], |level| &level.rgb)
    }

    /// A smaller copy of at most `most_px` a side: its size, and its pixels.
    pub fn small(&self, most_px: usize) -> ([usize; 2], &[u8]) {
        let fits = |level: &&Level| level.size[0].max(level.size[1]) <= most_px;
        let level = self.levels.iter().find(fits).or(self.levels.last());
        level.map_or(([1, 1], &[]), |level| (level.size, &level.rgb))
    }

    /// How many bytes it takes up.
    pub fn bytes(&self) -> usize {
        self.levels.iter().map(|level| level.rgb.len()).sum()
    }

    /// The copy whose pixels are the largest that are no larger than so many pixels.
    #[inline]
    pub(crate) fn level(&self, px: f64) -> usize {
        // The whole part of the logarithm to the base 2 is a float's exponent (IEEE 754); f64::max drops NaN.
        let power = (px.max(1.0).to_bits() >> 52) - 1023;
        (power as usize).min(self.levels.len().saturating_sub(1))
    }

    /// The colour at a place, in pixels of the whole photo, between the four nearest pixels of a copy.
    #[inline]
    pub(crate) fn colour(&self, level: usize, [x, y]: [f64; 2], tones: &Tones) -> [f32; 3] {
        let Level { size: [width, height], scale, rgb } = &self.levels[level];
        let (x, y) = ((x * scale - 0.5).max(0.0), (y * scale - 0.5).max(0.0));
        let (left, top) = ((x as usize).min(width - 1), (y as usize).min(height - 1));
        let (right, bottom) = ((left + 1).min(width - 1), (top + 1).min(height - 1));
        let (fx, fy) = ((x - left as f64).min(1.0) as f32, (y - top as f64).min(1.0) as f32);
        let pixel = |column: usize, row: usize| {
            let at = 3 * (row * width + column);
            rgb.get(at..at + 3).map_or([0; 3], |pixel| [pixel[0], pixel[1], pixel[2]])
        };
        let corners = [pixel(left, top), pixel(right, top), pixel(left, bottom), pixel(right, bottom)];
        [0, 1, 2].map(|channel| {
            let [a, b, c, d] = corners.map(|pixel| tones[channel][usize::from(pixel[channel])]);
            let (upper, lower) = (a + (b - a) * fx, c + (d - c) * fx);
            upper + (lower - upper) * fy
        })
    }
}

impl Level {
    /// Half the size, each pixel the mean of four.
    fn half(&self) -> Level {
        let [width, height] = self.size;
        let size = [width.div_ceil(2), height.div_ceil(2)];
        let mut rgb = Vec::with_capacity(3 * size[0] * size[1]);
        for row in 0..size[1] {
            let rows = [2 * row, (2 * row + 1).min(height - 1)];
            for column in 0..size[0] {
                let columns = [2 * column, (2 * column + 1).min(width - 1)];
                for channel in 0..3 {
                    let at = |row: usize, column: usize| u16::from(self.rgb[3 * (row * width + column) + channel]);
                    let sum: u16 = rows.iter().flat_map(|row| columns.map(|column| at(*row, column))).sum();
                    rgb.push(((sum + 2) / 4) as u8);
                }
            }
        }
        Level { size, scale: 0.5 * self.scale, rgb }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plain() -> Tones {
        [[0.0; 256]; 3].map(|_: [f32; 256]| std::array::from_fn(|i| i as f32))
    }

    #[test]
    fn copies_get_smaller_by_the_mean_and_colours_lie_between_pixels() {
        let rgba: Vec<u8> = [0, 100, 200, 40, 60].into_iter().flat_map(|v| [v, 0, 255, 9]).collect();
        let pixels = PhotoPixels::new([5, 1], &rgba).unwrap();
        let sizes: Vec<usize> = pixels.levels.iter().map(|level| level.size[0]).collect();
        assert_eq!(sizes, [5, 3, 2, 1]);
        let red = |level: usize, x: f64| pixels.colour(level, [x, 0.5], &plain())[0];
        assert_eq!([red(0, 0.5), red(0, 1.0), red(0, 1.5), red(0, 4.5)], [0.0, 50.0, 100.0, 60.0]);
        // Beyond its edges it goes on as it ends there.
        assert_eq!([red(0, -9.0), red(0, 99.0), red(0, f64::NAN)], [0.0, 60.0, 0.0]);
        // The first pixel of the copy covers the first two.
        assert_eq!(red(1, 1.0), 50.0);
        assert_eq!([pixels.level(0.2), pixels.level(2.0), pixels.level(3.9), pixels.level(1e9)], [0, 1, 1, 3]);
        assert_eq!(pixels.small(4).0, [3, 1]);
        assert_eq!(PhotoPixels::new([2, 2], &rgba), None);
        assert_eq!(PhotoPixels::new([0, 2], &[]), None);
    }
}

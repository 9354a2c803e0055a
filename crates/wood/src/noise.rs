//! Cheap noise: the same on every machine and every run.
//!
//! Gradient noise from a library cost 18 to 34 ns a sample and the paint needs several. So the streaks of the fibres are
//! looked up in one sheet of ready-made noise, and single numbers in one table of bytes.

use std::sync::LazyLock;

const SIZE: usize = 4096;

/// Evenly mixed bytes (the splitmix64 sequence, which is public domain).
static TABLE: [u8; SIZE] = {
    let mut table = [0; SIZE];
    let mut state: u64 = 0x0c02_e1a5_e5ee_d5e1;
    let mut i = 0;
    while i < SIZE {
        state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = state;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        table[i] = (z ^ (z >> 31)) as u8;
        i += 1;
    }
    table
};

const KX: u32 = 0x9e37_79b1;
const KY: u32 = 0x85eb_ca77;
const KZ: u32 = 0xc2b2_ae3d;

#[inline]
fn pick(hash: u32) -> u8 {
    TABLE[(hash >> 17) as usize % SIZE]
}

// Rounding by casts and by the standard `floor` costs 4 to 10 ns where the compiler may not assume a recent processor.
// Adding and taking away one and a half times the largest whole-number step rounds to the nearest whole number, whose
// lowest bits are those of the sum. Numbers beyond 2^22 (f32) and 2^51 (f64) come out as some other number.
const ROUND_32: f32 = 1.5 * (1u32 << 23) as f32;
const ROUND_64: f64 = 1.5 * (1u64 << 52) as f64;

/// The nearest whole number, give or take a constant that is a multiple of 2^20.
#[inline]
fn nearest(v: f32) -> u32 {
    (v + ROUND_32).to_bits()
}

/// The nearest whole number itself.
#[inline]
pub(crate) fn nearest_whole(v: f32) -> f32 {
    (v + ROUND_32) - ROUND_32
}

/// The nearest whole number to a colour, held to a byte.
#[inline]
pub(crate) fn byte(v: f32) -> u32 {
    (v.clamp(0.0, 255.0) + ROUND_32).to_bits() & 0xff
}

/// The whole number at or below `v`.
#[inline]
pub(crate) fn below(v: f64) -> i64 {
    let nearest = (v + ROUND_64) - ROUND_64;
    let number = (v + ROUND_64).to_bits().wrapping_sub(ROUND_64.to_bits()) as i64;
    number.wrapping_sub(i64::from(nearest > v))
}

/// The whole number at or below `v`, which is 0 to 2^22, and what is left over: 0 to 1, and 1 now and then for the number
/// below a whole one.
#[inline]
pub(crate) fn below_32(v: f32) -> (usize, f32) {
    let sum = (v - 0.5) + ROUND_32;
    ((sum.to_bits() & 0x003f_ffff) as usize, v - (sum - ROUND_32))
}

/// A number from 0 to 1 for a whole number; the same again after 4096.
#[inline]
pub(crate) fn share(number: i64) -> f64 {
    f64::from(TABLE[number as usize % SIZE]) * (1.0 / 255.0)
}

/// A number from 0 to 255 for a lattice cell, and how far through the cell along z, 0 to 1.
#[inline]
pub(crate) fn cell(x: f32, y: f32, z: f32) -> (u8, f32) {
    let column = nearest(x).wrapping_mul(KX) ^ nearest(y).wrapping_mul(KY);
    // Neighbouring columns start at different heights, so that cells do not line up in rows.
    let z = z + f32::from(pick(column)) * (1.0 / 33.0);
    let middle = nearest_whole(z);
    (pick(column ^ nearest(z).wrapping_mul(KZ)), z - middle + 0.5)
}

/// [`cell`] for many places at once, each step for all of them, so that the processor can do several at a time.
#[inline]
pub(crate) fn cells<const N: usize>(x: &[f32; N], y: &[f32; N], z: &[f32; N]) -> ([u8; N], [f32; N]) {
    let mut column = [0_u32; N];
    for i in 0..N {
        column[i] = nearest(x[i]).wrapping_mul(KX) ^ nearest(y[i]).wrapping_mul(KY);
    }
    let mut along = [0.0_f32; N];
    for i in 0..N {
        along[i] = f32::from(pick(column[i]));
    }
    for i in 0..N {
        let z = z[i] + along[i] * (1.0 / 33.0);
        column[i] ^= nearest(z).wrapping_mul(KZ);
        along[i] = z - nearest_whole(z) + 0.5;
    }
    let mut chance = [0_u8; N];
    for i in 0..N {
        chance[i] = pick(column[i]);
    }
    (chance, along)
}

/// Smooth noise along a line, one lattice step per unit: value from -1 to 1 and slope, continuous both. The slope stays
/// within [`STEEPEST1`].
pub(crate) fn smooth1(v: f64) -> (f64, f64) {
    let whole = below(v);
    let t = v - whole as f64;
    let (from, to) = (2.0 * share(whole) - 1.0, 2.0 * share(whole.wrapping_add(1)) - 1.0);
    (from + (to - from) * t * t * (3.0 - 2.0 * t), (to - from) * 6.0 * t * (1.0 - t))
}

/// Smooth noise in space, one lattice step per unit each way: value from -1 to 1 and its three slopes, all continuous.
/// Each slope stays within [`STEEPEST1`].
pub(crate) fn smooth3(at: [f64; 3]) -> (f64, [f64; 3]) {
    let whole = at.map(below);
    let t = [0, 1, 2].map(|i| at[i] - whole[i] as f64);
    let ease = t.map(|t| t * t * (3.0 - 2.0 * t));
    let steep = t.map(|t| 6.0 * t * (1.0 - t));
    let corner = |i: usize, j: usize, k: usize| {
        let [x, y, z] = [(0, i), (1, j), (2, k)].map(|(axis, step)| whole[axis].wrapping_add(step as i64) as u32);
        let hash = x.wrapping_mul(KX) ^ y.wrapping_mul(KY) ^ z.wrapping_mul(KZ);
        f64::from(pick(hash ^ (hash >> 15))) * (2.0 / 255.0) - 1.0
    };
    let mix = |a: f64, b: f64, t: f64| a + (b - a) * t;
    // Along z first, then y, then x; each step keeps the slopes of those before it.
    let edges = [[0, 0], [0, 1], [1, 0], [1, 1]].map(|[i, j]| {
        let (a, b) = (corner(i, j, 0), corner(i, j, 1));
        (mix(a, b, ease[2]), (b - a) * steep[2])
    });
    let faces = [0, 2].map(|i| {
        let ((a, az), (b, bz)) = (edges[i], edges[i + 1]);
        (mix(a, b, ease[1]), (b - a) * steep[1], mix(az, bz, ease[1]))
    });
    let [(a, ay, az), (b, by, bz)] = faces;
    (mix(a, b, ease[0]), [(b - a) * steep[0], mix(ay, by, ease[0]), mix(az, bz, ease[0])])
}

/// The steepest [`smooth1`] gets: from -1 to 1 in one step, half as steep again in its middle.
pub(crate) const STEEPEST1: f64 = 3.0;

/// A sheet of noise, broad and fine together: what a cross-section of fibres looks like. It joins up with itself at its
/// edges.
static SHEET: LazyLock<Box<Sheet>> = LazyLock::new(|| {
    let octaves = [(32, 0.52), (8, 0.28), (4, 0.20)];
    let mut sheet = vec![0.0; SHEET_SIZE * SHEET_SIZE];
    for (octave, (step, weight)) in octaves.into_iter().enumerate() {
        let count = SHEET_SIZE / step;
        let at = |x: usize, y: usize| {
            f32::from(pick(
                ((y % count * count + x % count) as u32 + 1).wrapping_mul(KX) ^ (octave as u32).wrapping_mul(KZ),
            ))
        };
        for (i, value) in sheet.iter_mut().enumerate() {
            let (x, y) = (i % SHEET_SIZE, i / SHEET_SIZE);
            let (fx, fy) = ((x % step) as f32 / step as f32, (y % step) as f32 / step as f32);
            let (x, y) = (x / step, y / step);
            let row = |y| at(x, y) + fx * (at(x + 1, y) - at(x, y));
            *value += weight * (row(y) + fy * (row(y + 1) - row(y)));
        }
    }
    let mut bytes = Box::new([0; SHEET_SIZE * SHEET_SIZE]);
    for (byte, value) in bytes.iter_mut().zip(sheet) {
        *byte = value as u8;
    }
    bytes
});

const SHEET_SIZE: usize = 512;

/// Of a known size, so that a place in it, being a remainder, needs no second look.
pub(crate) type Sheet = [u8; SHEET_SIZE * SHEET_SIZE];

/// The sheet of streaks, for [`Weave::streak_of`].
pub(crate) fn sheet() -> &'static Sheet {
    &SHEET
}

/// How large one point of the sheet is, mm: broad streaks are then 4.5 mm wide, fine ones 1.1 and 0.6 mm.
const SHEET_POINT_MM: f32 = 0.14;

/// After what length along the fibres the streaks have become others, mm.
const STREAK_MM: f32 = 70.0;

/// The two sheets between which the streaks change at one distance along the fibres.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Weave {
    offsets: [u32; 2],
    weights: [f32; 2],
}

impl Weave {
    /// At a distance along the fibres, mm.
    #[inline]
    pub fn new(along_mm: f32) -> Weave {
        let along = along_mm * (1.0 / STREAK_MM) + 0.29;
        let t = along - nearest_whole(along) + 0.5;
        let whole = nearest(along);
        let offset = |whole: u32| whole.wrapping_mul(KX) ^ 0x5bd1_e995;
        // Weights whose squares add up to 1 keep the contrast even between the sheets.
        let scale = (1.0 / 127.5) / (t * t + (1.0 - t) * (1.0 - t)).sqrt();
        Weave { offsets: [offset(whole), offset(whole.wrapping_add(1))], weights: [scale * (1.0 - t), scale * t] }
    }

    /// The streak at a place across the fibres, mm: from -1.5 to 1.5, mostly within a quarter of 0.
    #[inline]
    pub fn streak(&self, across_mm: f32, through_mm: f32) -> f32 {
        self.streak_of(sheet(), across_mm, through_mm)
    }

    /// The same where the sheet is at hand.
    #[inline]
    pub fn streak_of(&self, sheet: &Sheet, across_mm: f32, through_mm: f32) -> f32 {
        let x = nearest(across_mm * (1.0 / SHEET_POINT_MM));
        let y = nearest(through_mm * (1.0 / SHEET_POINT_MM));
        let look = |offset: u32| {
            let x = x.wrapping_add(offset >> 8) as usize % SHEET_SIZE;
            let y = y.wrapping_add(offset >> 20) as usize % SHEET_SIZE;
            f32::from(sheet[(y * SHEET_SIZE + x) % (SHEET_SIZE * SHEET_SIZE)]) - 127.5
        };
        self.weights[0] * look(self.offsets[0]) + self.weights[1] * look(self.offsets[1])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_uses_every_byte_about_equally() {
        let mut counts = [0; 256];
        for byte in TABLE {
            counts[usize::from(byte)] += 1;
        }
        assert!(counts.iter().all(|count| (3..=32).contains(count)), "{counts:?}");
        let mean = TABLE.iter().map(|byte| f64::from(*byte)).sum::<f64>() / SIZE as f64;
        assert!((mean - 127.5).abs() < 4.0, "{mean}");
    }

    #[test]
    fn many_cells_are_each_its_own() {
        let at = |step: f32| -> [f32; 64] { std::array::from_fn(|i| step * i as f32 - 11.3) };
        let (x, y, z) = (at(0.37), at(-1.9), at(0.21));
        let (chance, along) = cells(&x, &y, &z);
        for i in 0..64 {
            assert_eq!((chance[i], along[i]), cell(x[i], y[i], z[i]), "{i}");
        }
    }

    #[test]
    fn floors_agree_with_the_standard_ones() {
        for v in [-3.0, -2.5, -1e-9, 0.0, 0.3, 1.0, 7.999, 1e6 + 0.5, -1e6 - 0.5] {
            assert_eq!(below(v), v.floor() as i64);
        }
    }

    #[test]
    fn streaks_change_little_over_a_millimetre_of_fibre_and_much_over_a_centimetre_of_width() {
        let streak = |x: f32, y: f32, s: f32| Weave::new(s).streak(x, y);
        let (mut along, mut across, mut mean, mut square) = (0.0f32, 0.0f32, 0.0f64, 0.0f64);
        for i in 0..2000 {
            let (x, y, s) = (0.731 * i as f32 - 700.0, 0.377 * i as f32 - 300.0, 1.93 * i as f32 - 2000.0);
            let here = streak(x, y, s);
            along += (streak(x, y, s + 1.0) - here).abs();
            across += (streak(x + 10.0, y, s) - here).abs();
            mean += f64::from(here);
            square += f64::from(here * here);
        }
        assert!(along < 0.1 * across, "{along} {across}");
        assert!((mean / 2000.0).abs() < 0.1 && (0.03..0.2).contains(&(square / 2000.0)), "{mean} {square}");
    }

    #[test]
    fn streaks_do_not_jump_where_one_sheet_gives_way_to_the_next() {
        for i in -20..20 {
            let s = (i as f32 + 0.5 - 0.29) * STREAK_MM;
            let change = Weave::new(s - 0.01).streak(3.0, 4.0) - Weave::new(s + 0.01).streak(3.0, 4.0);
            assert!(change.abs() < 0.01, "{i}: {change}");
        }
    }

    #[test]
    fn the_slope_of_noise_along_a_line_is_its_derivative() {
        let d = 1e-6;
        for i in -2000..2000 {
            let v = i as f64 * 0.0371;
            let (_, slope) = smooth1(v);
            let measured = (smooth1(v + d).0 - smooth1(v - d).0) / (2.0 * d);
            assert!((slope - measured).abs() < 1e-5, "{v}: {slope} {measured}");
            assert!(slope.abs() <= STEEPEST1);
        }
    }
}

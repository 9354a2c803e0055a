//! The rings of a timber summed up beforehand, so that a texel's share of them is two look-ups.

use crate::figure::TimberFigure;
use crate::noise;
use crate::shade::RingLook;

/// The most entries: 8 MB.
const MOST: f64 = (1 << 20) as f64;

/// Sums of late and early wood at even distances from the pith, their steady growth taken off so that they stay small.
#[derive(Clone, Debug)]
pub(crate) struct RingTable {
    from: f64,
    per_ring: f64,
    /// Late and early wood of a mean ring.
    mean: [f32; 2],
    /// In entries, not in rings.
    sums: Vec<[f32; 2]>,
}

impl RingTable {
    /// Of the rings `from` to `to`, in mean rings, so finely that a texel of `texel` rings is eight entries wide.
    pub fn new(timber: &TimberFigure, from: f64, to: f64, texel: f64) -> RingTable {
        let fine = (8.0 / texel.max(1e-6)).clamp(16.0, 65_536.0);
        // In steps and counted from the pith, so that a stretch is looked up where the whole is.
        let per_ring = 2_f64.powf(fine.min(MOST / (to - from).max(1e-6)).log2().ceil());
        let from = (from * per_ring - 2.0).floor() / per_ring;
        let count = ((to - from) * per_ring).ceil().clamp(1.0, 2.0 * MOST) as usize + 4;
        let mean = timber.shade.ring_sum(1.0);
        let sums = (0..count).map(|i| {
            let even = from + i as f64 / per_ring;
            let sum = timber.ring_sum(even);
            [0, 1].map(|k| ((sum[k] - mean[k] * even) * per_ring) as f32)
        });
        RingTable { from, per_ring, mean: mean.map(|v| v as f32), sums: sums.collect() }
    }

    /// Where a distance in mean rings is looked up.
    #[inline]
    pub fn place(&self, even: f64) -> f32 {
        ((even - self.from) * self.per_ring) as f32
    }

    /// Entries for one mean ring.
    pub fn per_ring(&self) -> f32 {
        self.per_ring as f32
    }

    /// The mean from `half` entries before a place to as many after it, half an entry at least.
    #[inline]
    pub fn look(&self, place: f32, half: f32) -> RingLook {
        let half = half.max(0.5);
        let (from, to) = (self.sum(place - half), self.sum(place + half));
        let per = 0.5 / half;
        RingLook { late: self.mean[0] + (to[0] - from[0]) * per, early: self.mean[1] + (to[1] - from[1]) * per }
    }

    #[inline]
    fn sum(&self, place: f32) -> [f32; 2] {
        let (i, part) = noise::below_32(place);
        // Any pair will do for a place outside; there is none.
        let Some([a, b]) = self.sums.get(i..i + 2).and_then(|pair| <&[[f32; 2]; 2]>::try_from(pair).ok()) else {
            return [0.0; 2];
        };
        [a[0] + part * (b[0] - a[0]), a[1] + part * (b[1] - a[1])]
    }
}

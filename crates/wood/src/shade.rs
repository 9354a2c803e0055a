//! From the place among fibres and rings to a colour: rings, streaks along the fibres, pores, end grain.

use crate::noise::{self, Weave};
use crate::{Species, SpeciesRow};

/// A place in the wood as its fibres see it, mm, and the texel it is painted with.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Fibre {
    pub across: f32,
    pub through: f32,
    pub along: f32,
    /// How clearly a pore shows: 1 in a texel no larger than it, less in a larger one.
    pub pores_show: f32,
    /// 1 on end grain, 0 on long grain.
    pub end: f32,
}

/// Pores: width and length, mm, and how many of 256 cells hold one.
const PORE: [f32; 2] = [0.35, 4.5];
const PORES_OF_256: u8 = 38;

/// How end grain keeps red, green and blue, against its darkness.
const END_WARM: [f32; 3] = [1.03, 1.0, 0.93];

/// A wood's look, ready to be asked.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Shade {
    early: [f32; 3],
    sap: [f32; 3],
    /// The share of a ring that is late wood, where the timber says so.
    late_share: Option<f32>,
    /// From early to late.
    to_late: [f32; 3],
    rings: f32,
    line: f32,
    streaks: f32,
    pores: f32,
    porous_rings: f32,
    end: f32,
}

/// How clearly pores show in a texel of this size, mm: 0 to 1.
pub(crate) fn pores_show(texel_mm: f64) -> f32 {
    let most = 1.6 * PORE[0];
    (most / (texel_mm as f32).max(most)).powi(2)
}

impl Shade {
    pub fn new(species: Species) -> Shade {
        Shade::of_row(species.row())
    }

    /// The look of a row of the table.
    pub fn of_row(row: &SpeciesRow) -> Shade {
        let (early, late) = (row.early.map(f32::from), row.late.map(f32::from));
        Shade {
            early,
            sap: row.sap.map(f32::from),
            late_share: None,
            to_late: [0, 1, 2].map(|i| late[i] - early[i]),
            rings: row.rings,
            line: row.line,
            streaks: row.streaks,
            pores: row.pores,
            porous_rings: row.porous_rings,
            end: row.end,
        }
    }

    /// The same with this share of every ring late wood.
    pub fn with_late_share(self, late_share: Option<f64>) -> Shade {
        Shade { late_share: late_share.map(|share| (share as f32).clamp(0.05, 0.95)), ..self }
    }

    /// Timber: `share` of the way through a ring, averaged over `texel` shares of a ring. `weave` is that of the
    /// fibre's place along; `sap` is 0 in heartwood and 1 in sapwood.
    #[inline]
    pub fn of_ring(&self, fibre: &Fibre, weave: &Weave, [share, texel, sap]: [f32; 3]) -> [f32; 3] {
        let t = self.ring_depth(share, texel) + 0.55 * self.streaks * weave.streak(fibre.across, fibre.through);
        // In a texel wider than a ring, early wood is everywhere.
        let early = (1.6 - 4.0 * share).clamp(texel.min(0.3), 1.0);
        let pores = 1.0 - self.porous_rings * (1.0 - early);
        if sap == 0.0 {
            return self.colour(fibre, t, pores, 1.0);
        }
        self.in_sapwood(sap).colour(fibre, t, pores, 1.0)
    }

    /// The same on long grain without streaks and pores.
    pub fn calm_ring(&self, [share, texel, sap]: [f32; 3]) -> [f32; 3] {
        let t = self.ring_depth(share, texel);
        let shade = self.in_sapwood(sap);
        [0, 1, 2].map(|i| shade.early[i] + t * shade.to_late[i])
    }

    /// How far from early to late a place in a ring is.
    #[inline]
    fn ring_depth(&self, share: f32, texel: f32) -> f32 {
        0.35 * (1.0 - self.rings) + self.rings * self.ring_mean(share, texel)
    }

    /// Sapwood has the rings of heartwood in a lighter, more even colour.
    fn in_sapwood(&self, sap: f32) -> Shade {
        Shade {
            early: [0, 1, 2].map(|i| self.early[i] + sap * (self.sap[i] - self.early[i])),
            to_late: self.to_late.map(|v| v * (1.0 - 0.35 * sap)),
            ..*self
        }
    }

    /// A layer: no rings, boards that differ a little from one another.
    #[inline]
    pub fn of_layer(&self, fibre: &Fibre, layer: i64) -> [f32; 3] {
        let other = noise::share(layer) as f32;
        let fibre = Fibre { along: fibre.along + 7000.0 * other, across: fibre.across + 90.0 * other, ..*fibre };
        let streak = Weave::new(fibre.along).streak(fibre.across, fibre.through);
        let t = 0.42 + 0.55 * (0.35 + self.streaks) * streak;
        self.colour(&fibre, t, 1.0 - 0.5 * self.porous_rings, 0.975 + 0.05 * other)
    }

    #[inline]
    fn colour(&self, fibre: &Fibre, t: f32, pores: f32, light: f32) -> [f32; 3] {
        let t = t.clamp(-0.2, 1.15);
        let light = light * (1.0 - self.pore(fibre) * pores);
        // End grain soaks up finish: darker, and warmer.
        let end = END_WARM.map(|warm| 1.0 - fibre.end * (1.0 - self.end * warm));
        [0, 1, 2].map(|i| (self.early[i] + t * self.to_late[i]) * light * end[i])
    }

    /// How much darker a pore makes this place. Pores smaller than a texel darken it evenly.
    fn pore(&self, fibre: &Fibre) -> f32 {
        if self.pores == 0.0 {
            return 0.0;
        }
        let [width, length] = PORE.map(|mm| 1.0 / mm);
        // Cells are set askew: a sawn surface would cross a whole sheet of square ones at one level, in a visible line.
        let (cos, sin) = (0.8 * width, 0.6 * width);
        let across = cos * fibre.across + sin * fibre.through;
        let through = cos * fibre.through - sin * fibre.across;
        let (chance, along) = noise::cell(across, through, fibre.along * length);
        let mean = f32::from(PORES_OF_256) / 256.0;
        // Deepest in its middle, fading to both ends: 6 t (1 - t) has a mean of 1.
        let hole = if chance < PORES_OF_256 { 6.0 * along * (1.0 - along) } else { 0.0 };
        let hole = mean + fibre.pores_show * (hole - mean);
        self.pores * (1.0 + 0.6 * fibre.end) * hole
    }

    /// Late wood's share in a ring at `share`, 0 to 1, averaged exactly over `texel` shares of a ring about it, the
    /// neighbouring rings taken to be as wide. A texel wider than a ring gets the ring's mean.
    #[inline]
    fn ring_mean(&self, share: f32, texel: f32) -> f32 {
        if texel < 1e-3 {
            return self.ring(share);
        }
        let texel = texel.min(1.0);
        let (from, to) = (share - 0.5 * texel, share + 0.5 * texel);
        (self.ring_sum(to) - self.ring_sum(from)) / texel
    }

    /// Late wood rises through the ring and ends at a sharp line.
    fn ring(&self, share: f32) -> f32 {
        if let Some(late) = self.late_share {
            let t = ((share - (1.0 - late)) / late).max(0.0);
            return t * (2.0 - t);
        }
        let s2 = share * share;
        let s4 = s2 * s2;
        (1.0 - self.line) * s2 * share + self.line * s4 * s4 * s4
    }

    /// The integral of [`Shade::ring`] over rings from 0 to `shares`, which is -1 to 2.
    #[inline]
    fn ring_sum(&self, shares: f32) -> f32 {
        let whole = f32::from(u8::from(shares >= 1.0)) - f32::from(u8::from(shares < 0.0));
        let share = shares - whole;
        if let Some(late) = self.late_share {
            let t = ((share - (1.0 - late)) / late).max(0.0);
            return late * (whole * (2.0 / 3.0) + t * t - t * t * t / 3.0);
        }
        let (gradual, sharp) = ((1.0 - self.line) / 4.0, self.line / 13.0);
        let s2 = share * share;
        let s4 = s2 * s2;
        whole * (gradual + sharp) + gradual * s4 + sharp * s4 * s4 * s4 * share
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_texel_over_part_of_a_ring_gets_the_mean_of_its_points() {
        for species in Species::ALL {
            let shade = Shade::new(species);
            for late in [None, Some(0.3)] {
                let shade = shade.with_late_share(late);
                for (share, texel) in [(0.5, 0.2), (0.98, 0.3), (0.02, 0.3), (0.4, 0.9), (0.7, 1.0)] {
                    let n = 20_000;
                    let points = (0..n).map(|i| share + texel * ((i as f32 + 0.5) / n as f32 - 0.5));
                    let mean = points.map(|v| f64::from(shade.ring(v - v.floor()))).sum::<f64>() / f64::from(n);
                    let got = f64::from(shade.ring_mean(share, texel));
                    assert!((got - mean).abs() < 1e-3, "{species} {share} {texel}: {got} {mean}");
                }
            }
        }
    }

    #[test]
    fn end_grain_is_darker_than_long_grain_of_the_same_place() {
        for species in Species::ALL {
            let shade = Shade::new(species);
            for i in 0..100 {
                let at = i as f32 * 0.73;
                let long = Fibre { across: at, through: 1.3 * at, along: 3.0, pores_show: 1.0, end: 0.0 };
                let end = Fibre { end: 1.0, ..long };
                let sum = |c: [f32; 3]| c.iter().sum::<f32>();
                let ring = |fibre| sum(shade.of_ring(fibre, &Weave::new(3.0), [0.3, 0.1, 0.0]));
                assert!(ring(&end) < 0.95 * ring(&long), "{species}");
                assert!(sum(shade.of_layer(&end, 3)) < 0.95 * sum(shade.of_layer(&long, 3)), "{species}");
            }
        }
    }
}

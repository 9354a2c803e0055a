//! From the place among fibres and rings to a colour: rings, streaks along the fibres, pores, end grain.

use crate::finish::OIL_FIGURE;
use crate::noise::{self, Weave};
use crate::{Finish, Species, SpeciesRow};

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

/// What of a ring there is in a texel: how far from early to late on average, and how much of it is early wood.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct RingLook {
    pub late: f32,
    pub early: f32,
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
    rays: f32,
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
            rays: row.rays,
            end: row.end,
        }
    }

    /// The same under a finish.
    pub fn under(self, finish: Finish) -> Shade {
        if finish == Finish::Bare {
            return self;
        }
        let late = [0, 1, 2].map(|i| self.early[i] + self.to_late[i]);
        let (early, late, sap) = (finish.on(self.early), finish.on(late), finish.on(self.sap));
        Shade {
            early,
            sap,
            to_late: [0, 1, 2].map(|i| OIL_FIGURE * (late[i] - early[i])),
            pores: (OIL_FIGURE * self.pores).min(1.0),
            ..self
        }
    }

    /// The same with this share of every ring late wood.
    pub fn with_late_share(self, late_share: Option<f64>) -> Shade {
        Shade { late_share: late_share.map(|share| (share as f32).clamp(0.05, 0.95)), ..self }
    }

    /// Timber at a place of its rings. `weave` is that of the fibre's place along; `sap` is 0 in heartwood and 1 in
    /// sapwood; `rays` is how much lighter its rays make it, 1 where they do nothing.
    #[inline]
    pub fn of_ring(&self, fibre: &Fibre, weave: &Weave, look: RingLook, sap: f32, rays: f32) -> [f32; 3] {
        let streak = weave.streak(fibre.across, fibre.through);
        let light = self.ring_light(look, self.pore(fibre)) * rays;
        self.lit(self.depth(look, streak), light, sap, self.end_light(fibre.end))
    }

    /// The same on long grain without streaks, pores and rays.
    pub fn calm_ring(&self, look: RingLook, sap: f32) -> [f32; 3] {
        self.lit(self.depth(look, 0.0), 1.0, sap, [1.0; 3])
    }

    /// How far from early to late wood a place in a ring is, its streak included.
    #[inline]
    pub fn depth(&self, look: RingLook, streak: f32) -> f32 {
        0.35 * (1.0 - self.rings) + self.rings * look.late + 0.55 * self.streaks * streak
    }

    /// What pores leave of the light in a ring: where the wood has them in its early wood, there are few in the rest.
    #[inline]
    pub fn ring_light(&self, look: RingLook, pore: f32) -> f32 {
        1.0 - pore * (1.0 - self.porous_rings * (1.0 - look.early))
    }

    /// What end grain leaves of red, green and blue: it soaks up finish, and is darker and warmer.
    #[inline]
    pub fn end_light(&self, end: f32) -> [f32; 3] {
        END_WARM.map(|warm| 1.0 - end * (1.0 - self.end * warm))
    }

    /// A colour from how far it is from early to late wood, the light on it, how much of it is sapwood (which has the rings
    /// of heartwood in a lighter, more even colour), and what end grain leaves.
    #[inline]
    pub fn lit(&self, depth: f32, light: f32, sap: f32, end: [f32; 3]) -> [f32; 3] {
        let depth = depth.clamp(-0.2, 1.15) * (1.0 - 0.35 * sap);
        [0, 1, 2]
            .map(|i| (self.early[i] + sap * (self.sap[i] - self.early[i]) + depth * self.to_late[i]) * light * end[i])
    }

    /// How clearly the wood shows its rays.
    pub fn rays(&self) -> f32 {
        self.rays
    }

    /// A layer: no rings, boards that differ a little from one another.
    #[inline]
    pub fn of_layer(&self, fibre: &Fibre, layer: i64) -> [f32; 3] {
        let other = noise::share(layer) as f32;
        let fibre = Fibre { along: fibre.along + 7000.0 * other, across: fibre.across + 90.0 * other, ..*fibre };
        let streak = Weave::new(fibre.along).streak(fibre.across, fibre.through);
        let t = 0.42 + 0.55 * (0.35 + self.streaks) * streak;
        let light = 1.0 - self.pore(&fibre) * (1.0 - 0.5 * self.porous_rings);
        self.lit(t, (0.975 + 0.05 * other) * light, 0.0, self.end_light(fibre.end))
    }

    /// A layer without streaks, its pores evenly spread.
    #[inline]
    pub fn calm_layer(&self, end: f32, layer: i64) -> [f32; 3] {
        let other = noise::share(layer) as f32;
        let mean = f32::from(PORES_OF_256) / 256.0;
        let light = 1.0 - self.pores * (1.0 + 0.6 * end) * mean * (1.0 - 0.5 * self.porous_rings);
        self.lit(0.42, (0.975 + 0.05 * other) * light, 0.0, self.end_light(end))
    }

    /// Whether the wood has pores to be seen.
    pub fn has_pores(&self) -> bool {
        self.pores > 0.0
    }

    /// How much darker a pore makes this place. Pores smaller than a texel darken it evenly.
    #[inline]
    pub fn pore(&self, fibre: &Fibre) -> f32 {
        if self.pores == 0.0 {
            return 0.0;
        }
        let [across, through, along] = pore_cell(fibre);
        let (chance, along) = noise::cell(across, through, along);
        self.pore_in(fibre.pores_show, fibre.end, chance, along)
    }

    /// The same from the number of the place's cell and how far through it the place lies.
    #[inline]
    pub fn pore_in(&self, pores_show: f32, end: f32, chance: u8, along: f32) -> f32 {
        let mean = f32::from(PORES_OF_256) / 256.0;
        // Deepest in its middle, fading to both ends: 6 t (1 - t) has a mean of 1.
        let hole = if chance < PORES_OF_256 { 6.0 * along * (1.0 - along) } else { 0.0 };
        let hole = mean + pores_show * (hole - mean);
        self.pores * (1.0 + 0.6 * end) * hole
    }

    /// A place of a ring, 0 to 1: late wood rises through the ring and ends at a sharp line.
    pub fn ring(&self, share: f64) -> RingLook {
        let early = (1.6 - 4.0 * share).clamp(0.0, 1.0) as f32;
        if let Some(late) = self.late_share.map(f64::from) {
            let t = ((share - (1.0 - late)) / late).max(0.0);
            return RingLook { late: (t * (2.0 - t)) as f32, early };
        }
        let line = f64::from(self.line);
        let s2 = share * share;
        let s4 = s2 * s2;
        RingLook { late: ((1.0 - line) * s2 * share + line * s4 * s4 * s4) as f32, early }
    }

    /// The integral of [`Shade::ring`] from the ring's beginning to `share`: late wood, early wood.
    pub fn ring_sum(&self, share: f64) -> [f64; 2] {
        let u = share.min(0.4);
        let early = if u < 0.15 { u } else { 0.15 + 1.6 * (u - 0.15) - 2.0 * (u * u - 0.0225) };
        if let Some(late) = self.late_share.map(f64::from) {
            let t = ((share - (1.0 - late)) / late).max(0.0);
            return [late * (t * t - t * t * t / 3.0), early];
        }
        let line = f64::from(self.line);
        let s2 = share * share;
        let s4 = s2 * s2;
        [(1.0 - line) / 4.0 * s4 + line / 13.0 * s4 * s4 * s4 * share, early]
    }
}

/// The cell of the lattice that may hold a pore: across, through and along the fibres. Cells are set askew: a sawn surface would
/// cross a whole sheet of square ones at one level, in a visible line.
#[inline]
pub(crate) fn pore_cell(fibre: &Fibre) -> [f32; 3] {
    let [width, length] = PORE.map(|mm| 1.0 / mm);
    let (cos, sin) = (0.8 * width, 0.6 * width);
    let across = cos * fibre.across + sin * fibre.through;
    let through = cos * fibre.through - sin * fibre.across;
    [across, through, fibre.along * length]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_sum_of_a_ring_is_that_of_its_points() {
        for species in Species::ALL {
            for late in [None, Some(0.3)] {
                let shade = Shade::new(species).with_late_share(late);
                for end in [0.1, 0.15, 0.3, 0.4, 0.7, 0.98, 1.0] {
                    let n = 20_000;
                    let points = (0..n).map(|i| shade.ring(end * (f64::from(i) + 0.5) / f64::from(n)));
                    let (late, early) = points.fold((0.0, 0.0), |(late, early), look| {
                        (late + f64::from(look.late), early + f64::from(look.early))
                    });
                    let got = shade.ring_sum(end);
                    let wanted = [late, early].map(|sum| sum * end / f64::from(n));
                    assert!((0..2).all(|i| (got[i] - wanted[i]).abs() < 1e-5), "{species} {end}: {got:?} {wanted:?}");
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
                let look = RingLook { late: 0.1, early: 0.4 };
                let ring = |fibre| sum(shade.of_ring(fibre, &Weave::new(3.0), look, 0.0, 1.0));
                assert!(ring(&end) < 0.95 * ring(&long), "{species}");
                assert!(sum(shade.of_layer(&end, 3)) < 0.95 * sum(shade.of_layer(&long, 3)), "{species}");
            }
        }
    }
}

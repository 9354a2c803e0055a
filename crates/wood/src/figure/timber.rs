//! Timber made ready to be read at one point.

use cornerwise_geometry::BlankPoint;

use super::{Level, Steps, View, bytes, dot};
use crate::rays::{RayPlace, Rays};
use crate::rings::Rings;
use crate::shade::{Fibre, RingLook, Shade};
use crate::{Finish, Grain, Species, Timber};

/// Where a surface runs along the rings, a texel still covers this share of what it does where it runs across them: rings
/// are round.
pub(super) const LEAST_BLUR: f64 = 0.125;

/// Timber with its rings and its look.
#[derive(Clone, Debug)]
pub(crate) struct TimberFigure {
    pub rings: Rings,
    pub shade: Shade,
    pub rays: Option<Rays>,
    species: Species,
    /// Where the sapwood begins, mm from the pith.
    sapwood_mm: Option<f64>,
}

impl TimberFigure {
    pub fn new(timber: &Timber) -> TimberFigure {
        let shade = Shade::new(timber.species).with_late_share(timber.late_share);
        TimberFigure {
            rings: Rings::new(timber),
            rays: Rays::new(shade.rays()),
            shade,
            species: timber.species,
            sapwood_mm: timber.sapwood_from.as_ref().map(|mm| mm.mm()),
        }
    }

    /// Puts it under a finish.
    pub fn finish(&mut self, finish: Finish) {
        self.shade = self.shade.under(finish);
    }

    /// What shows at a point, its colour averaged over a texel.
    pub fn at(&self, view: &View, level: &Level, p: BlankPoint, steps: &Steps) -> Grain {
        let rings = &self.rings;
        let out_mm = rings.out_mm(p);
        let even = out_mm * rings.per_mm() + level.moved + rings.wobble_at(p);
        let [x, y] = if rings.is_straight() { [p.x, p.y] } else { rings.fibre(p).0 };
        let fibre = Fibre {
            across: x as f32,
            through: y as f32,
            along: p.s as f32,
            pores_show: steps.pores_show,
            end: view.end,
        };
        // How fast rings go by from texel to texel, drift and wobble left out.
        let gradient = rings.flow(p, out_mm);
        let texel = dot(gradient, steps.column).abs() + dot(gradient, steps.row).abs();
        let [px, py] = rings.pith_at(p.s);
        let rays = self.rays.map_or(1.0, |rays| {
            let from_pith = [(p.x - px) as f32, (p.y - py) as f32];
            rays.light(&RayPlace {
                from_pith,
                out_mm: out_mm as f32,
                per_out: 1.0 / (out_mm as f32).max(1e-9),
                s_mm: p.s as f32,
                square_mm: from_pith.get(view.axis).copied().unwrap_or(0.0),
                end: view.end,
                texel_mm: steps.size_mm,
                per_texel: 1.0 / steps.size_mm.max(1e-9),
            })
        });
        let half = 0.5 * texel.max(LEAST_BLUR * f64::from(steps.size_mm) * rings.per_mm());
        let look = self.ring_look(even, half);
        let colour = self.shade.of_ring(&fibre, &level.weave, look, self.sap(out_mm), rays);
        Grain { species: self.species, line: rings.ring(even).ring, colour: bytes(colour) }
    }

    /// The colour of the wood about a point, averaged over `patch_mm` and without streaks, pores and rays.
    pub fn calm_colour(&self, p: BlankPoint, patch_mm: f64) -> [f32; 3] {
        let look = self.ring_look(self.rings.even(p), 0.5 * patch_mm * self.rings.per_mm());
        self.shade.calm_ring(look, self.sap(self.rings.out_mm(p)))
    }

    /// The rings from `half` mean rings below `even` to as much above it, on average.
    pub fn ring_look(&self, even: f64, half: f64) -> RingLook {
        if half < 1e-4 {
            return self.shade.ring(self.rings.ring(even).share);
        }
        let [from, to] = [even - half, even + half].map(|at| self.ring_sum(at));
        let [late, early] = [0, 1].map(|i| ((to[i] - from[i]) / (2.0 * half)) as f32);
        RingLook { late, early }
    }

    /// The sum of all rings from the pith to `even` mean rings: late wood, early wood.
    pub fn ring_sum(&self, even: f64) -> [f64; 2] {
        let (ring, whole) = (self.rings.ring(even), self.shade.ring_sum(1.0));
        let (part, begins) = (self.shade.ring_sum(ring.share), self.rings.line(ring.ring));
        [0, 1].map(|i| whole[i] * begins + part[i] * ring.width)
    }

    /// Whether any of it is sapwood.
    pub fn has_sapwood(&self) -> bool {
        self.sapwood_mm.is_some()
    }

    /// 0 in heartwood, 1 in sapwood; its edge is soft.
    #[inline]
    pub fn sap(&self, out_mm: f64) -> f32 {
        self.sapwood_mm.map_or(0.0, |from| ((out_mm - from) * 0.5 + 0.5).clamp(0.0, 1.0) as f32)
    }
}

//! Knots painted over whatever wood they are in.

use cornerwise_geometry::BlankPoint;

use super::Steps;
use crate::knot::KnotBody;
use crate::{Blemish, Knot};

/// How far round a knot the wood is still darker, as a share of its radius.
const ROUND: f64 = 1.45;

/// A knot with its look.
#[derive(Clone, Copy, Debug)]
pub(crate) struct KnotFigure {
    body: KnotBody,
    kind: Blemish,
}

impl KnotFigure {
    pub fn new(knot: &Knot, size_mm: [f64; 2]) -> KnotFigure {
        KnotFigure { body: KnotBody::new(knot, size_mm), kind: knot.kind }
    }

    /// The box in x, y and s outside of which it changes nothing, mm.
    pub fn reach(&self) -> [[f64; 2]; 3] {
        let by = self.body.radius_mm * (ROUND - 1.0) + 1.0;
        let [x, y] = self.body.reach();
        [x, y, self.body.reach_s()].map(|[from, to]| [from - by, to + by])
    }

    /// A colour of the wood with the knot over it.
    pub fn over(&self, colour: [f32; 3], p: BlankPoint, steps: &Steps) -> [f32; 3] {
        let share = self.body.share(p);
        if share >= ROUND {
            return colour;
        }
        let mix = |other: [f32; 3], part: f32| [0, 1, 2].map(|i| colour[i] + part * (other[i] - colour[i]));
        // Its edge is as soft as a texel is wide, at least.
        let soft = (f64::from(steps.size_mm) / self.body.radius_mm).max(0.08);
        let inside = (((1.0 - share) / soft) + 0.5).clamp(0.0, 1.0) as f32;
        let round = ((ROUND - share) / (ROUND - 1.0)).clamp(0.0, 1.0) as f32;
        match self.kind {
            Blemish::Hole => mix([34.0, 24.0, 18.0], inside),
            Blemish::Stain => {
                let part = ((ROUND - share) / (ROUND - 0.3)).clamp(0.0, 1.0) as f32;
                mix([0, 1, 2].map(|i| colour[i] * [0.60, 0.64, 0.70][i]), part)
            }
            Blemish::Knot => {
                let rings = 0.5 + 0.5 * ((share * self.body.radius_mm * 3.1) as f32).sin();
                let heart = [0, 1, 2].map(|i| colour[i] * ([0.62, 0.50, 0.40][i] - 0.10 * rings));
                let bark = (-((share - 1.0) / 0.10).powi(2)).exp() as f32;
                let light = (1.0 - 0.16 * round) * (1.0 - 0.45 * bark);
                mix(heart, inside).map(|v| v * light)
            }
        }
    }
}

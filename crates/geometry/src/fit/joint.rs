//! Mortises and rows of dowels in the sides, and the straight post that they want.

use serde::{Deserialize, Serialize};

use super::{Fit, FitError, size};
use crate::{Cut, Leg, Length, Seam, Side};

/// A mortise, or a row of dowels, in one side.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Joint {
    /// The side it goes into.
    pub side: Side,
    /// Its upper end, from the finished top.
    pub from_top: Length,
    /// Its length along the leg.
    pub height: Length,
    /// Its width across the side.
    pub width: Length,
    /// Its middle across the side, from the seam; to the right as the side is seen from outside, top up.
    #[serde(default)]
    pub beside: Length,
    /// How deep it goes.
    pub depth: Length,
}

/// A joint in a leg.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JointFit {
    /// How far the side strays from flat over the joint, mm: a shoulder wants 0.
    pub uneven_mm: f64,
    /// The least wood behind it, mm; below 0 it comes out on the other side.
    pub behind_mm: f64,
    /// The least wood beside it, to the nearer edge of the side, mm.
    pub beside_mm: f64,
    /// The seam it straddles, if it does: it then holds in two pieces and across a glue line.
    pub straddles: Option<Seam>,
}

/// Samples along a joint.
const SAMPLES: usize = 32;

impl Joint {
    pub(super) fn check(&self, length_mm: f64) -> Result<(), FitError> {
        size("distance of a joint from the top", &self.from_top, 0.0, length_mm)?;
        size("length of a joint", &self.height, 0.5, length_mm)?;
        size("width of a joint", &self.width, 0.5, 1000.0)?;
        size("place of a joint beside the seam", &self.beside, -1000.0, 1000.0)?;
        size("depth of a joint", &self.depth, 0.5, 1000.0)
    }

    /// How it sits in a leg.
    pub fn fit(&self, leg: &Leg) -> JointFit {
        let across = leg.across_mm(self.side.cut());
        let (from, height) = (self.from_top.mm(), self.height.mm());
        let stations = (0..=SAMPLES).map(|i| (from + height * i as f64 / SAMPLES as f64).min(leg.length_mm));
        let (mut low, mut high, mut beside) = (f64::INFINITY, f64::NEG_INFINITY, f64::INFINITY);
        let half = self.width.mm() / 2.0;
        for s in stations {
            let own = match self.side.cut() {
                Cut::First => leg.a(s),
                Cut::Second => leg.b(s),
            };
            (low, high) = (low.min(own), high.max(own));
            // Right of the seam, seen from outside with the top up: against the row's own direction, see `Camera`.
            let (left, right) = match self.side {
                Side::One => (leg.width_mm - leg.a(s), leg.a(s)),
                Side::Two => (leg.depth_mm - leg.b(s), leg.b(s)),
                Side::Three => (leg.a(s), leg.width_mm - leg.a(s)),
                Side::Four => (leg.b(s), leg.depth_mm - leg.b(s)),
            };
            let at = self.beside.mm();
            beside = beside.min(right - at - half).min(left + at - half);
        }
        JointFit {
            uneven_mm: high - low,
            // Bored square from the side's farthest point over the joint, and the other side comes as near as it does.
            behind_mm: across - (high - low) - self.depth.mm(),
            beside_mm: beside,
            straddles: (self.beside.mm().abs() < half).then(|| Seam::ALL[self.side.index()]),
        }
    }
}

impl Fit {
    /// How far either cut strays from a straight line down the middle over the post, mm: 0 for a sound post. It takes the
    /// two ordinary passes, straight to begin with.
    pub fn post_strays_mm(&self, leg: &Leg) -> f64 {
        let post = self.post.mm().min(leg.length_mm);
        if post <= 0.0 {
            return 0.0;
        }
        (0..=4 * SAMPLES)
            .map(|i| post * i as f64 / (4 * SAMPLES) as f64)
            .map(|s| (leg.a(s) - leg.width_mm / 2.0).abs().max((leg.b(s) - leg.depth_mm / 2.0).abs()))
            .fold(0.0, f64::max)
    }
}

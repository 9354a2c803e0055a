//! Plain timber: growth rings about a pith line.

use cornerwise_geometry::Length;
use serde::{Deserialize, Serialize};

use crate::{Species, WoodError, error};

/// The narrowest mean ring, mm.
pub const NARROWEST_RING_MM: f64 = 0.2;

/// The widest mean ring, mm.
pub const WIDEST_RING_MM: f64 = 100.0;

/// How far away the pith may lie, mm: farther, and the rings are straight lines anyway.
pub const FARTHEST_PITH_MM: f64 = 10_000.0;

/// How far rings may vary in width, as a share of the mean: more, and a ring could vanish.
pub const MOST_VARIATION: f64 = 0.45;

/// How far the pith may lean and the rings may taper, as a slope: a log leaning more gives no straight blank.
pub const STEEPEST_PITH: f64 = 0.5;

/// How far ring lines may waver, in rings.
pub const MOST_WOBBLE: f64 = 3.0;

/// Timber sawn from a log whose pith lies inside the blank or well outside, parallel to it or leaning.
///
/// Rings are numbered outward from the pith. Their mean width is `ring_width`; a single ring is `1 - variation` to
/// `1 + variation` times as wide, most are nearer the mean, and all rings drift a little in and out along the log,
/// together. The fibres run along the rings: where the pith leans or the rings taper, they run out of the blank's faces.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Timber {
    /// Its wood.
    pub species: Species,
    /// The pith's x at the finished top, from arris 1 across face 1.
    pub pith_x: Length,
    /// The pith's y at the finished top, from face 1.
    pub pith_y: Length,
    /// How wide the rings are on average.
    pub ring_width: Length,
    /// How much the rings' widths differ, as a share of the mean, 0 to `MOST_VARIATION`.
    #[serde(default = "usual_variation", skip_serializing_if = "is_usual_variation")]
    pub variation: f64,
    /// Which share of a ring is late wood, 0.05 to 0.95; without it the wood's own gradual rise.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub late_share: Option<f64>,
    /// How far from the pith the sapwood begins; without it all is heartwood.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sapwood_from: Option<Length>,
    /// How far the pith moves toward +x for each length toward the foot.
    #[serde(default, skip_serializing_if = "is_none")]
    pub lean_x: f64,
    /// How far the pith moves toward +y for each length toward the foot.
    #[serde(default, skip_serializing_if = "is_none")]
    pub lean_y: f64,
    /// How far every ring moves away from the pith for each length toward the foot.
    #[serde(default, skip_serializing_if = "is_none")]
    pub taper: f64,
    /// How far ring lines waver from true rings, in rings, at most.
    #[serde(default, skip_serializing_if = "is_none")]
    pub wobble: f64,
}

fn usual_variation() -> f64 {
    0.4
}

fn is_usual_variation(variation: &f64) -> bool {
    *variation == usual_variation()
}

fn is_none(value: &f64) -> bool {
    *value == 0.0
}

impl Timber {
    /// Timber with true rings about a pith that runs along the blank.
    pub fn new(species: Species, pith_x: Length, pith_y: Length, ring_width: Length) -> Timber {
        Timber {
            species,
            pith_x,
            pith_y,
            ring_width,
            variation: usual_variation(),
            late_share: None,
            sapwood_from: None,
            lean_x: 0.0,
            lean_y: 0.0,
            taper: 0.0,
            wobble: 0.0,
        }
    }

    /// Checks every number.
    ///
    /// # Errors
    /// [`WoodError`] names the first number that does not fit, NaN and infinities included.
    pub fn check(&self) -> Result<(), WoodError> {
        error::size("the pith's place across face 1", self.pith_x.mm(), -FARTHEST_PITH_MM, FARTHEST_PITH_MM)?;
        error::size("the pith's place across face 2", self.pith_y.mm(), -FARTHEST_PITH_MM, FARTHEST_PITH_MM)?;
        error::size("the ring width", self.ring_width.mm(), NARROWEST_RING_MM, WIDEST_RING_MM)?;
        error::share("the rings' variation", self.variation, 0.0, MOST_VARIATION)?;
        if let Some(late) = self.late_share {
            error::share("the share of late wood", late, 0.05, 0.95)?;
        }
        if let Some(from) = &self.sapwood_from {
            error::size("the sapwood's distance from the pith", from.mm(), 0.0, 2.0 * FARTHEST_PITH_MM)?;
        }
        error::share("the pith's lean across face 1", self.lean_x, -STEEPEST_PITH, STEEPEST_PITH)?;
        error::share("the pith's lean across face 2", self.lean_y, -STEEPEST_PITH, STEEPEST_PITH)?;
        error::share("the rings' taper", self.taper, -STEEPEST_PITH, STEEPEST_PITH)?;
        error::share("the rings' wobble", self.wobble, 0.0, MOST_WOBBLE)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bad_numbers_are_named() {
        let ok = Timber::new(Species::Oak, 25.0.into(), 90.0.into(), 3.0.into());
        assert_eq!(ok.check(), Ok(()));
        let narrow = Timber { ring_width: 0.0.into(), ..ok.clone() }.check().unwrap_err();
        assert_eq!(narrow.to_string(), "the ring width is 0 mm: it must be 0.2 mm to 100 mm");
        assert!(Timber { ring_width: f64::NAN.into(), ..ok.clone() }.check().is_err());
        assert!(Timber { pith_x: f64::NEG_INFINITY.into(), ..ok.clone() }.check().is_err());
        assert!(Timber { pith_y: 1e9.into(), ..ok.clone() }.check().is_err());
        let says = |timber: Timber| timber.check().unwrap_err().to_string();
        assert_eq!(says(Timber { variation: 0.5, ..ok.clone() }), "the rings' variation is 0.5: it must be 0 to 0.45");
        assert!(says(Timber { late_share: Some(0.0), ..ok.clone() }).contains("late wood"));
        assert!(says(Timber { sapwood_from: Some(f64::NAN.into()), ..ok.clone() }).contains("sapwood"));
        assert!(says(Timber { lean_y: 0.6, ..ok.clone() }).contains("lean across face 2"));
        assert!(says(Timber { taper: f64::NAN, ..ok.clone() }).contains("taper"));
        assert!(says(Timber { wobble: -1.0, ..ok }).contains("wobble"));
    }
}

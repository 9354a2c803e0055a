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

/// Timber sawn from a log whose pith runs parallel to the blank, inside it or well outside.
///
/// Rings are numbered outward from the pith. Their mean width is `ring_width`; a single ring is 0.6 to 1.4 times as wide,
/// most are nearer the mean, and all rings drift a little in and out along the log, together.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Timber {
    /// Its wood.
    pub species: Species,
    /// The pith's x, from arris 1 across face 1.
    pub pith_x: Length,
    /// The pith's y, from face 1.
    pub pith_y: Length,
    /// How wide the rings are on average.
    pub ring_width: Length,
}

impl Timber {
    /// Checks the pith's place and the rings' width.
    ///
    /// # Errors
    /// [`WoodError`] names the first number that does not fit, NaN and infinities included.
    pub fn check(&self) -> Result<(), WoodError> {
        error::size("the pith's place across face 1", self.pith_x.mm(), -FARTHEST_PITH_MM, FARTHEST_PITH_MM)?;
        error::size("the pith's place across face 2", self.pith_y.mm(), -FARTHEST_PITH_MM, FARTHEST_PITH_MM)?;
        error::size("the ring width", self.ring_width.mm(), NARROWEST_RING_MM, WIDEST_RING_MM)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bad_numbers_are_named() {
        let ok = Timber { species: Species::Oak, pith_x: 25.0.into(), pith_y: 90.0.into(), ring_width: 3.0.into() };
        assert_eq!(ok.check(), Ok(()));
        let narrow = Timber { ring_width: 0.0.into(), ..ok.clone() }.check().unwrap_err();
        assert_eq!(narrow.to_string(), "the ring width is 0 mm: it must be 0.2 mm to 100 mm");
        assert!(Timber { ring_width: f64::NAN.into(), ..ok.clone() }.check().is_err());
        assert!(Timber { pith_x: f64::NEG_INFINITY.into(), ..ok.clone() }.check().is_err());
        assert!(Timber { pith_y: 1e9.into(), ..ok }.check().is_err());
    }
}

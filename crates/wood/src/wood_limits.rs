//! The limits that seams and faces are judged by: the maker's own where the maker has set them.

use serde::{Deserialize, Serialize};

use crate::{RatingLimits, SAWN_LIMITS_DEG, SeamLimits, WoodError, error};

/// Where meeting ends, where good ends and bad begins, and what faces are called.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct WoodLimits {
    /// See [`SeamLimits::meet_mm`].
    pub meet_mm: f64,
    /// See [`SeamLimits::ring_share`].
    pub ring_share: f64,
    /// See [`SeamLimits::kink_deg`].
    pub kink_deg: f64,
    /// See [`RatingLimits::good_jump`].
    pub good_jump: f64,
    /// See [`RatingLimits::bad_jump`].
    pub bad_jump: f64,
    /// See [`RatingLimits::good_colour`].
    pub good_colour: f64,
    /// See [`RatingLimits::bad_colour`].
    pub bad_colour: f64,
    /// A face whose rings stand at less than this to it is flat sawn, degrees.
    pub flat_deg: f64,
    /// From this on it is quarter sawn, degrees.
    pub quarter_deg: f64,
}

impl Default for WoodLimits {
    fn default() -> WoodLimits {
        let SeamLimits { meet_mm, ring_share, kink_deg, .. } = SeamLimits::default();
        let RatingLimits { good_jump, bad_jump, good_colour, bad_colour } = RatingLimits::default();
        let [flat_deg, quarter_deg] = SAWN_LIMITS_DEG;
        WoodLimits {
            meet_mm,
            ring_share,
            kink_deg,
            good_jump,
            bad_jump,
            good_colour,
            bad_colour,
            flat_deg,
            quarter_deg,
        }
    }
}

impl WoodLimits {
    /// What counts as meeting.
    pub fn seams(&self) -> SeamLimits {
        let WoodLimits { meet_mm, ring_share, kink_deg, bad_colour, .. } = *self;
        SeamLimits { meet_mm, ring_share, kink_deg, differ_colour: bad_colour, ..SeamLimits::default() }
    }

    /// Where good ends and bad begins.
    pub fn rating(&self) -> RatingLimits {
        let WoodLimits { good_jump, bad_jump, good_colour, bad_colour, .. } = *self;
        RatingLimits { good_jump, bad_jump, good_colour, bad_colour }
    }

    /// The ring angles where flat ends and quarter begins, degrees.
    pub fn sawn_deg(&self) -> [f64; 2] {
        [self.flat_deg, self.quarter_deg]
    }

    /// Checks every limit.
    ///
    /// # Errors
    /// [`WoodError`] names the first one that does not fit, NaN and infinities included.
    pub fn check(&self) -> Result<(), WoodError> {
        error::size("how far apart lines may be and still meet", self.meet_mm, 0.001, 10.0)?;
        error::share("the share of a ring within which ring lines meet", self.ring_share, 0.0, 0.5)?;
        error::angle("how far ring lines may turn", self.kink_deg, 0.0, 90.0)?;
        error::share("the worst jump that is good", self.good_jump, 0.0, 0.5)?;
        error::share("the worst jump that is not bad", self.bad_jump, self.good_jump, 0.5)?;
        error::share("the worst difference of colour that is good", self.good_colour, 0.0, 100.0)?;
        error::share("the worst difference of colour that is not bad", self.bad_colour, self.good_colour, 100.0)?;
        error::angle("the ring angle where flat ends", self.flat_deg, 0.0, 90.0)?;
        error::angle("the ring angle where quarter begins", self.quarter_deg, self.flat_deg, 90.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bad_limits_are_named_and_good_never_reaches_past_bad() {
        let usual = WoodLimits::default();
        assert_eq!(usual.check(), Ok(()));
        let says = |limits: WoodLimits| limits.check().unwrap_err().to_string();
        assert!(says(WoodLimits { good_jump: 0.4, ..usual }).contains("not bad is 0.3: it must be 0.4 to 0.5"));
        assert!(says(WoodLimits { meet_mm: f64::NAN, ..usual }).contains("still meet"));
        assert!(says(WoodLimits { quarter_deg: 10.0, ..usual }).contains("quarter begins is 10 degrees"));
    }
}

//! The limits that seams and faces are judged by: the maker's own where the maker has set them.

use serde::{Deserialize, Serialize};

use crate::{LimitError, RatingLimits, SAWN_LIMITS_DEG, SeamLimits, WoodError};

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
        self.limits().iter().try_for_each(Limit::check)
    }

    /// [`WoodLimits::check`], where some of `before`, all sound, were changed: those are held against the others, so that
    /// what is refused is what was changed, with a range that can be met.
    ///
    /// # Errors
    /// [`WoodError`] names the first changed one that does not fit.
    pub fn check_change(&self, before: &WoodLimits) -> Result<(), WoodError> {
        let both = self.limits().into_iter().zip(before.limits());
        let changed: Vec<Limit> =
            both.filter(|(is, was)| is.value.to_bits() != was.value.to_bits()).map(|(is, _)| is).collect();
        match &changed[..] {
            // Several may bound one another: then they are judged as a whole.
            [one] => one.check(),
            _ => self.check(),
        }
    }

    /// Every limit, called as it is on screen.
    fn limits(&self) -> [Limit; 9] {
        let limit = |what, value, within, unit| Limit { what, value, within, unit, because: "" };
        // Good ends no later than bad begins.
        let pair =
            |names: [&'static str; 2], [good, bad]: [f64; 2], most: f64, unit, [begins, ends]: [&'static str; 2]| {
                // One that is itself out of its range bounds nothing.
                let sound = |value: f64, else_: f64| if (0.0..=most).contains(&value) { value } else { else_ };
                let (to, from) = (sound(bad, most), sound(good, 0.0));
                [
                    Limit { because: if to < most { begins } else { "" }, ..limit(names[0], good, [0.0, to], unit) },
                    Limit { because: if from > 0.0 { ends } else { "" }, ..limit(names[1], bad, [from, most], unit) },
                ]
            };
        let looks = ["where bad begins", "from where good ends"];
        let [good_jump, bad_jump] =
            pair(["jump, good to", "jump, bad from"], [self.good_jump, self.bad_jump], 0.5, "", looks);
        let [good_colour, bad_colour] =
            pair(["colour, good to", "colour, bad from"], [self.good_colour, self.bad_colour], 100.0, "", looks);
        let angles = ["where quarter begins", "from where flat ends"];
        let [flat, quarter] =
            pair(["flat to", "quarter from"], [self.flat_deg, self.quarter_deg], 90.0, "\u{b0}", angles);
        [
            limit("lines within", self.meet_mm, [0.001, 10.0], " mm"),
            limit("rings within", self.ring_share, [0.0, 0.5], ""),
            limit("turn to", self.kink_deg, [0.0, 90.0], "\u{b0}"),
            good_jump,
            bad_jump,
            good_colour,
            bad_colour,
            flat,
            quarter,
        ]
    }
}

/// One limit, with what it may be.
struct Limit {
    what: &'static str,
    value: f64,
    within: [f64; 2],
    unit: &'static str,
    /// What bounds it, where another limit does.
    because: &'static str,
}

impl Limit {
    fn check(&self) -> Result<(), WoodError> {
        let Limit { what, value, within: [least, most], unit, because } = *self;
        // NaN is in no range.
        if (least..=most).contains(&value) {
            return Ok(());
        }
        Err(WoodError::Limit(Box::new(LimitError { what, value, least, most, unit, because })))
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
        let good = says(WoodLimits { good_jump: 0.4, ..usual });
        assert_eq!(good, "jump, good to is 0.4: it must be 0 to 0.3 (where bad begins)");
        assert!(says(WoodLimits { meet_mm: f64::NAN, ..usual }).starts_with("lines within is NaN mm"));
        assert!(says(WoodLimits { flat_deg: 95.0, quarter_deg: 95.0, ..usual }).starts_with("flat to is 95\u{b0}"));
    }

    /// Whichever of two limits that bound one another is changed, it is the one that is named, and every end of the range
    /// that is told can be met.
    #[test]
    fn a_changed_limit_is_refused_by_its_own_name_with_a_range_that_can_be_met() {
        type Put = fn(&mut WoodLimits, f64);
        let cases: [(f64, Put, &str); 6] = [
            (0.5, |l, v| l.good_jump = v, "jump, good to is 0.5: it must be 0 to 0.3 (where bad begins)"),
            (0.01, |l, v| l.bad_jump = v, "jump, bad from is 0.01: it must be 0.15 to 0.5 (from where good ends)"),
            (50.0, |l, v| l.good_colour = v, "colour, good to is 50: it must be 0 to 8 (where bad begins)"),
            (1.0, |l, v| l.bad_colour = v, "colour, bad from is 1: it must be 3 to 100 (from where good ends)"),
            (70.0, |l, v| l.flat_deg = v, "flat to is 70\u{b0}: it must be 0\u{b0} to 60\u{b0} (where quarter begins)"),
            (
                10.0,
                |l, v| l.quarter_deg = v,
                "quarter from is 10\u{b0}: it must be 30\u{b0} to 90\u{b0} (from where flat ends)",
            ),
        ];
        let usual = WoodLimits::default();
        for (value, put, says) in cases {
            let mut changed = usual;
            put(&mut changed, value);
            let error = changed.check_change(&usual).unwrap_err();
            assert_eq!(error.to_string(), says);
            let WoodError::Limit(error) = error else { unreachable!("a limit") };
            for end in [error.least, error.most] {
                put(&mut changed, end);
                assert_eq!((changed.check_change(&usual), changed.check()), (Ok(()), Ok(())), "{says}");
            }
        }
        assert_eq!(usual.check_change(&usual), Ok(()));
        assert!(WoodLimits { good_jump: 0.45, bad_jump: 0.4, ..usual }.check_change(&usual).is_err());
    }
}

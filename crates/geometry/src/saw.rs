//! The saw as the maker has it set up: its blade, its table, and how the blank is held together between the cuts.

use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::Length;

/// A saw set up for a leg. All of it is the maker's own; the defaults are a place to start from, to be measured.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Saw {
    /// What kind of saw.
    pub kind: SawKind,
    /// The blade that is fitted.
    pub blade: Blade,
    /// The most height under the guides.
    pub height: Length,
    /// From the blade to the column, or to the arm behind a scroll saw's blade.
    pub throat: Length,
    /// The table along the cut, half of it before the blade.
    pub table: Length,
    /// How far the blade is out of square to the table in the first cut, degrees. Above 0 the cut runs away from arris 1 on
    /// its way down.
    pub tilt_first_deg: f64,
    /// The same in the second cut: above 0 it runs away from arris 2.
    pub tilt_second_deg: f64,
    /// How far the blade bows at the middle of the first cut's depth, square to the line: its entry and its exit are true, and
    /// the surface between is hollow. Above 0 it bows away from arris 1.
    pub bow_first: Length,
    /// The same in the second cut: above 0 it bows away from arris 2.
    pub bow_second: Length,
    /// How the blank is put together after the first cut.
    pub between: Between,
    /// How far the half without face 2 has slipped toward the foot when the second cut is made.
    pub slip: Length,
    /// What is sanded or scraped off every sawn surface, square to it.
    pub sanding: Length,
}

/// A kind of saw.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum SawKind {
    /// A band saw.
    #[default]
    Band,
    /// A scroll saw.
    Scroll,
    /// A bow saw, a frame saw: guided by hand, without table or throat.
    Hand,
}

/// A blade.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Blade {
    /// From the tips of the teeth to the back.
    pub width: Length,
    /// Of the body, without the set of the teeth.
    pub thickness: Length,
    /// The slot it takes, measured in a test cut.
    pub kerf: Length,
    /// Teeth per inch, where the maker knows it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub teeth_per_inch: Option<f64>,
    /// The least and the most of the smallest radius that is published for this width, where there is one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub published_radius: Option<[Length; 2]>,
}

/// How the blank is put together between the two cuts.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Between {
    /// The two halves are pushed together until they touch.
    #[default]
    ClosedUp,
    /// A shim of this thickness lies between them where they would touch.
    Packed(Length),
}

/// A figure that no saw has.
#[derive(Clone, Debug, PartialEq, Error)]
#[error("the saw's {what} is {value}: it must be {least} to {most} {unit}")]
pub struct SawError {
    /// Which figure.
    pub what: &'static str,
    /// What it is.
    pub value: f64,
    /// The least it may be.
    pub least: f64,
    /// The most it may be.
    pub most: f64,
    /// Its unit.
    pub unit: &'static str,
}

impl Default for Saw {
    fn default() -> Saw {
        Saw {
            kind: SawKind::Band,
            blade: Blade::default(),
            height: 150.0.into(),
            throat: 340.0.into(),
            table: 400.0.into(),
            tilt_first_deg: 0.0,
            tilt_second_deg: 0.0,
            bow_first: Length::ZERO,
            bow_second: Length::ZERO,
            between: Between::ClosedUp,
            slip: Length::ZERO,
            sanding: Length::ZERO,
        }
    }
}

impl Default for Blade {
    /// A quarter-inch blade with the kerf for which the derived radius is ten times the width squared, in inches.
    fn default() -> Blade {
        Blade {
            width: (0.25 * 25.4).into(),
            thickness: (0.025 * 25.4).into(),
            kerf: (0.0375 * 25.4).into(),
            teeth_per_inch: None,
            published_radius: None,
        }
    }
}

impl SawKind {
    /// All of them.
    pub const ALL: [SawKind; 3] = [SawKind::Band, SawKind::Scroll, SawKind::Hand];

    /// What it is called.
    pub fn name(self) -> &'static str {
        match self {
            SawKind::Band => "band saw",
            SawKind::Scroll => "scroll saw",
            SawKind::Hand => "hand saw",
        }
    }
}

impl Blade {
    /// The smallest radius it goes round, mm, of the middle of the kerf: R = w² / (8 (k - t)) - t / 2, for a blade of width
    /// w and thickness t that is free to turn in a slot of width k. Infinite where the slot is no wider than the body.
    ///
    /// Derived here: a rectangle w by t fits an annular slot of width k round radius R if (k - t)(2R + t) ≥ w² / 4. No
    /// published formula was found; with k - t = 0.0125 in its first term is 10 w² in inches, which lies within the
    /// published tables from 1/8 to 5/8 in.
    pub fn least_radius_mm(&self) -> f64 {
        let (w, t, k) = (self.width.mm(), self.thickness.mm(), self.kerf.mm());
        if k <= t {
            return f64::INFINITY;
        }
        (w * w / (8.0 * (k - t)) - t / 2.0).max(0.0)
    }

    /// The radii between which it is not sure that it goes round, mm: the least and the most of what is published for it and
    /// of what is derived.
    pub fn least_radii_mm(&self) -> [f64; 2] {
        let derived = self.least_radius_mm();
        match &self.published_radius {
            Some([least, most]) => [least.mm().min(derived), most.mm().max(derived)],
            None => [derived; 2],
        }
    }

    /// The widest blade of this body and kerf that goes round a radius, mm.
    pub fn widest_for_mm(&self, radius_mm: f64) -> f64 {
        let (t, k) = (self.thickness.mm(), self.kerf.mm());
        (8.0 * (k - t).max(0.0) * (radius_mm + t / 2.0)).max(0.0).sqrt()
    }
}

impl Saw {
    /// The blade's error from square in a cut, as a slope; 0 for both where the saw is true.
    pub fn lean(&self) -> [f64; 2] {
        [self.tilt_first_deg, self.tilt_second_deg].map(|deg| deg.to_radians().tan())
    }

    /// Checks that every figure is one that a saw has.
    ///
    /// # Errors
    /// [`SawError`] names the first that is not, NaN included.
    pub fn check(&self) -> Result<(), SawError> {
        let blade = &self.blade;
        let thickness = blade.thickness.mm();
        let shim = match &self.between {
            Between::ClosedUp => 0.0,
            Between::Packed(shim) => shim.mm(),
        };
        let published: [f64; 2] =
            blade.published_radius.as_ref().map_or([1.0, 1.0], |range| [range[0].mm(), range[1].mm()]);
        let figures = [
            ("blade width", blade.width.mm(), 0.2, 60.0, "mm"),
            ("blade thickness", thickness, 0.1, 3.0, "mm"),
            ("kerf", blade.kerf.mm(), thickness.clamp(0.1, 3.0), 6.0, "mm"),
            ("teeth per inch", blade.teeth_per_inch.unwrap_or(1.0), 0.5, 60.0, "per inch"),
            ("least published radius", published[0], 0.0, 1000.0, "mm"),
            ("most published radius", published[1], published[0].clamp(0.0, 1000.0), 1000.0, "mm"),
            ("height under the guides", self.height.mm(), 5.0, 2000.0, "mm"),
            ("throat", self.throat.mm(), 10.0, 5000.0, "mm"),
            ("table", self.table.mm(), 10.0, 5000.0, "mm"),
            ("tilt in the first cut", self.tilt_first_deg, -10.0, 10.0, "degrees"),
            ("tilt in the second cut", self.tilt_second_deg, -10.0, 10.0, "degrees"),
            ("bow in the first cut", self.bow_first.mm(), -10.0, 10.0, "mm"),
            ("bow in the second cut", self.bow_second.mm(), -10.0, 10.0, "mm"),
            ("shim", shim, 0.0, 20.0, "mm"),
            ("slip", self.slip.mm(), -50.0, 50.0, "mm"),
            ("sanding allowance", self.sanding.mm(), 0.0, 5.0, "mm"),
        ];
        for (what, value, least, most, unit) in figures {
            if !(least..=most).contains(&value) {
                return Err(SawError { what, value, least, most, unit });
            }
        }
        Ok(())
    }
}

/// How far a table is out of square, degrees, by the turn-over test: a block `height_mm` high is cut through, one half is
/// turned over and put against the other, and the gap is measured. Both cut faces lean, so the gap is twice the lean:
/// atan(gap / 2H).
pub fn turn_over_error_deg(gap_mm: f64, height_mm: f64) -> f64 {
    if height_mm > 0.0 { (gap_mm / (2.0 * height_mm)).atan().to_degrees() } else { 0.0 }
}

/// The kerf, mm, by a test cut: a piece `before_mm` wide is ripped in two, and both parts are measured.
pub fn kerf_of_test_cut_mm(before_mm: f64, parts_mm: [f64; 2]) -> f64 {
    before_mm - parts_mm[0] - parts_mm[1]
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn blade(width_in: f64, thickness_in: f64, kerf_in: f64) -> Blade {
        let mm = |inch: f64| Length::from_mm(25.4 * inch);
        Blade { width: mm(width_in), thickness: mm(thickness_in), kerf: mm(kerf_in), ..Blade::default() }
    }

    /// Worked by hand: w = 0.25, t = 0.025, k = 0.0375 in give R = 0.0625 / 0.1 - 0.0125 = 0.6125 in.
    #[test]
    fn the_derived_radius_and_the_widest_blade_for_it_are_each_others_inverse() {
        let quarter = blade(0.25, 0.025, 0.0375);
        assert_relative_eq!(quarter.least_radius_mm() / 25.4, 0.6125, epsilon = 1e-12);
        assert_relative_eq!(quarter.widest_for_mm(quarter.least_radius_mm()), quarter.width.mm(), epsilon = 1e-12);
        assert_eq!(blade(0.25, 0.025, 0.025).least_radius_mm(), f64::INFINITY);
    }

    #[test]
    fn figures_that_no_saw_has_are_named() {
        assert_eq!(Saw::default().check(), Ok(()));
        let wrong = Saw { tilt_second_deg: f64::NAN, ..Saw::default() };
        assert_eq!(wrong.check().unwrap_err().what, "tilt in the second cut");
        let wrong = Saw { blade: blade(0.25, 0.04, 0.03), ..Saw::default() };
        assert_eq!(wrong.check().unwrap_err().what, "kerf");
    }

    /// A block 60 mm high and 1.0472 mm of gap: both faces lean by 0.5236 mm in 60, which is half a degree.
    #[test]
    fn the_shop_tests_give_back_what_was_built_in() {
        let gap = 2.0 * 60.0 * 0.5_f64.to_radians().tan();
        assert_relative_eq!(turn_over_error_deg(gap, 60.0), 0.5, epsilon = 1e-12);
        assert_eq!(turn_over_error_deg(1.0, 0.0), 0.0);
        assert_relative_eq!(kerf_of_test_cut_mm(80.0, [39.6, 39.4]), 1.0, epsilon = 1e-12);
    }
}

//! The stock before sawing.

use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::{BlankSizes, Length, OutOfTrue};

/// The blank as measured: `width` across face 1, `depth` across face 2, the finished `length` from top to foot, and the
/// spare length at both ends that is trimmed after glue-up.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Blank {
    /// W, across face 1.
    pub width: Length,
    /// D, across face 2.
    pub depth: Length,
    /// L, from the finished top to the finished foot.
    pub length: Length,
    /// Spare length beyond the finished top.
    #[serde(default)]
    pub spare_top: Length,
    /// Spare length beyond the finished foot.
    #[serde(default)]
    pub spare_foot: Length,
    /// How far it is from square and parallel, where that was measured.
    #[serde(default, skip_serializing_if = "OutOfTrue::is_true")]
    pub out_of_true: OutOfTrue,
}

/// A size that no blank has.
#[derive(Clone, Debug, PartialEq, Error)]
#[error("the blank's {what} is {mm} {unit}: it must be {least} {unit} to {most} {unit}")]
pub struct BlankError {
    /// Which size.
    pub what: &'static str,
    /// What it is, in its unit.
    pub mm: f64,
    /// The least it may be.
    pub least: f64,
    /// The most it may be.
    pub most: f64,
    /// Its unit.
    pub unit: &'static str,
}

impl Blank {
    /// A square blank with 20 mm to spare at both ends, sizes in mm.
    pub fn square(side_mm: f64, length_mm: f64) -> Blank {
        Blank {
            width: side_mm.into(),
            depth: side_mm.into(),
            length: length_mm.into(),
            spare_top: 20.0.into(),
            spare_foot: 20.0.into(),
            out_of_true: OutOfTrue::default(),
        }
    }

    /// The sizes that a typed length may name.
    pub fn sizes(&self) -> BlankSizes {
        BlankSizes { width_mm: self.width.mm(), depth_mm: self.depth.mm(), length_mm: self.length.mm() }
    }

    /// Checks that the sizes are those of something that goes on a saw table.
    ///
    /// # Errors
    /// [`BlankError`] names the first size that is not, NaN included.
    pub fn check(&self) -> Result<(), BlankError> {
        let sizes = [
            ("width", &self.width, 3.0, 1000.0),
            ("depth", &self.depth, 3.0, 1000.0),
            ("length", &self.length, 10.0, 10_000.0),
            ("spare length at the top", &self.spare_top, 0.0, 1000.0),
            ("spare length at the foot", &self.spare_foot, 0.0, 1000.0),
        ];
        for (what, length, least, most) in sizes {
            let mm = length.mm();
            if !(least..=most).contains(&mm) {
                return Err(BlankError { what, mm, least, most, unit: "mm" });
            }
        }
        let corner_deg = self.out_of_true.corner_deg;
        if !(-10.0..=10.0).contains(&corner_deg) {
            let what = "corner out of square";
            return Err(BlankError { what, mm: corner_deg, least: -10.0, most: 10.0, unit: "degrees" });
        }
        let tapers = [
            ("taper across face 1", &self.out_of_true.taper_width, self.width.mm()),
            ("taper across face 2", &self.out_of_true.taper_depth, self.depth.mm()),
        ];
        for (what, taper, across) in tapers {
            let (mm, most) = (taper.mm(), across / 4.0);
            if !(-most..=most).contains(&mm) {
                return Err(BlankError { what, mm, least: -most, most, unit: "mm" });
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn silly_sizes_are_named() {
        assert_eq!(Blank::square(50.0, 700.0).check(), Ok(()));
        assert_eq!(Blank::square(50.0, 9e8).check().unwrap_err().what, "length");
        assert_eq!(Blank::square(f64::NAN, 700.0).check().unwrap_err().what, "width");
        assert_eq!(Blank { spare_foot: (-1.0).into(), ..Blank::square(50.0, 700.0) }.check().unwrap_err().mm, -1.0);
    }
}

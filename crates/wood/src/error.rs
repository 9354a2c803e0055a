//! What can be wrong with a wood.

use thiserror::Error;

/// A wood that cannot be built, with the number the maker gave.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum WoodError {
    /// The list of layers is empty.
    #[error("the list of layers is empty: it needs one layer at least")]
    NoLayers,
    /// More layers than [`MOST_LAYERS`](crate::MOST_LAYERS).
    #[error("the list has {count} layers: {most} is the most")]
    TooManyLayers {
        /// How many there are.
        count: usize,
        /// How many there may be.
        most: usize,
    },
    /// A layer too thin or too thick to be one.
    #[error("layer {number} is {mm} mm thick: it must be {least} mm to {most} mm")]
    Thickness {
        /// Which layer of the list, from 1.
        number: usize,
        /// What it is, mm.
        mm: f64,
        /// The least it may be, mm.
        least: f64,
        /// The most it may be, mm.
        most: f64,
    },
    /// An angle that is not a number or out of its range.
    #[error("{what} is {deg} degrees: it must be {least} to {most} degrees")]
    Angle {
        /// Which angle.
        what: &'static str,
        /// What it is, degrees.
        deg: f64,
        /// The least it may be, degrees.
        least: f64,
        /// The most it may be, degrees.
        most: f64,
    },
    /// A length that is not a number or out of its range.
    #[error("{what} is {mm} mm: it must be {least} mm to {most} mm")]
    Size {
        /// Which length.
        what: &'static str,
        /// What it is, mm.
        mm: f64,
        /// The least it may be, mm.
        least: f64,
        /// The most it may be, mm.
        most: f64,
    },
}

pub(crate) fn size(what: &'static str, mm: f64, least: f64, most: f64) -> Result<(), WoodError> {
    // NaN is in no range, so it is refused here too.
    if (least..=most).contains(&mm) { Ok(()) } else { Err(WoodError::Size { what, mm, least, most }) }
}

pub(crate) fn angle(what: &'static str, deg: f64, least: f64, most: f64) -> Result<(), WoodError> {
    if (least..=most).contains(&deg) { Ok(()) } else { Err(WoodError::Angle { what, deg, least, most }) }
}

/// `v` held within a range, NaN at its least: what is used where a number was never checked.
pub(crate) fn held(v: f64, least: f64, most: f64) -> f64 {
    if v > least { v.min(most) } else { least }
}

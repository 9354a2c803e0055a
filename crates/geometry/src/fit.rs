//! Fitting the leg: the pipe hole, the inside piece with its notches, the post, and what is left of the wood.

mod area;
mod bending;
mod crosscut;
mod glue;
mod hands;
mod joint;
mod notch;
mod pipe;
mod stance;
mod wood_left;

use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::{Length, Piece};

pub use area::AreaProperties;
pub use bending::Bending;
pub use crosscut::{Crosscut, InsidePart, Keep, Mark};
pub use glue::GlueAreas;
pub use hands::{Mirror, SAME_LINE_MM, mirror};
pub use joint::{Joint, JointFit};
pub use notch::{Bearing, Notch, NotchFit, Takes};
pub use pipe::{EndCentre, PipeFit, PipeHole, ThinnestWood};
pub use stance::Stance;
pub use wood_left::WoodLeft;

/// The most notches one leg may have.
pub const MAX_NOTCHES: usize = 40;
/// The most joints one leg may have.
pub const MAX_JOINTS: usize = 40;
/// The widest crosscut kerf, mm.
const WIDEST_KERF_MM: f64 = 10.0;
/// The usual slot of a fine crosscut blade, mm. Common practice, no source.
const USUAL_KERF_MM: f64 = 2.0;

/// What is done to a leg beside its two cuts. It changes no saw line.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Fit {
    /// The straight hole on the axis, for a lamp's pipe or a cord.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pipe: Option<PipeHole>,
    /// The piece that faces the middle of the furniture, and is crosscut for notches.
    pub inside: Piece,
    /// Lengths of the inside piece that are left out, in order from the top; they do not overlap.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub notches: Vec<Notch>,
    /// Lengths of the waxed spacers that are at hand, where the maker notes them; enough of each.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub spacers: Vec<Length>,
    /// What the crosscut blade takes; it lies inside the thrown-away length.
    pub crosscut_kerf: Length,
    /// The straight length at the top that is kept for joinery; 0 for none.
    pub post: Length,
    /// Mortises and rows of dowels in the sides.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub joints: Vec<Joint>,
}

impl Default for Fit {
    fn default() -> Fit {
        Fit {
            pipe: None,
            inside: Piece::One,
            notches: Vec::new(),
            spacers: Vec::new(),
            crosscut_kerf: Length::from_mm(USUAL_KERF_MM),
            post: Length::ZERO,
            joints: Vec::new(),
        }
    }
}

/// Something about the fit that no shop can do.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum FitError {
    /// A size out of its range.
    #[error("the {what} is {mm} mm: it must be {least} mm to {most} mm")]
    Size {
        /// Which size.
        what: &'static str,
        /// What it is, mm.
        mm: f64,
        /// The least it may be, mm.
        least: f64,
        /// The most it may be, mm.
        most: f64,
    },
    /// A notch begins before the one above it ends.
    #[error(
        "notch {number} begins {from_mm:.2} mm from the top, and the one above it ends at {before_mm:.2} mm: notches are \
         listed from the top and leave some of the inside piece between them"
    )]
    Overlap {
        /// The notch, from 1.
        number: usize,
        /// Where it begins, mm from the top.
        from_mm: f64,
        /// Where the one above it ends, mm from the top.
        before_mm: f64,
    },
    /// A notch that reaches the foot leaves nothing for its board to stand on.
    #[error(
        "notch {number} ends {to_mm:.2} mm from the top, and the leg is {length_mm:.2} mm long: its board has nothing to stand on"
    )]
    NothingBelow {
        /// The notch, from 1.
        number: usize,
        /// Where it ends, mm from the top.
        to_mm: f64,
        /// The leg's length, mm.
        length_mm: f64,
    },
    /// More than is taken.
    #[error("there are {count} {what}, and at most {most} are taken")]
    TooMany {
        /// Of what.
        what: &'static str,
        /// How many there are.
        count: usize,
        /// How many are taken.
        most: usize,
    },
}

/// The least of the inside piece that stays between two notches, mm: it must be held to be cut.
pub const LEAST_KEPT_MM: f64 = 1.0;

impl Fit {
    /// Whether nothing is fitted.
    pub fn is_plain(&self) -> bool {
        *self == Fit::default()
    }

    /// Checks that a leg of `length_mm` can be fitted so: sizes within reach, notches in order, apart, and above the foot.
    ///
    /// # Errors
    /// [`FitError`] names the first thing that cannot be done.
    pub fn check(&self, length_mm: f64) -> Result<(), FitError> {
        size("crosscut kerf", &self.crosscut_kerf, 0.0, WIDEST_KERF_MM)?;
        size("post", &self.post, 0.0, length_mm)?;
        if let Some(pipe) = &self.pipe {
            pipe.check()?;
        }
        too_many("notches", self.notches.len(), MAX_NOTCHES)?;
        too_many("spacers", self.spacers.len(), MAX_NOTCHES)?;
        self.spacers.iter().try_for_each(|spacer| size("length of a spacer", spacer, 0.5, length_mm))?;
        too_many("joints", self.joints.len(), MAX_JOINTS)?;
        let mut before_mm = None;
        for (place, notch) in self.notches.iter().enumerate() {
            let number = place + 1;
            notch.check(length_mm)?;
            let [from_mm, to_mm] = notch.span_mm();
            if let Some(before_mm) = before_mm.filter(|before| from_mm < before + LEAST_KEPT_MM - 1e-9) {
                return Err(FitError::Overlap { number, from_mm, before_mm });
            }
            if to_mm > length_mm - LEAST_KEPT_MM + 1e-9 {
                return Err(FitError::NothingBelow { number, to_mm, length_mm });
            }
            before_mm = Some(to_mm);
        }
        self.joints.iter().try_for_each(|joint| joint.check(length_mm))
    }

    /// The notch at `s`, mm from the top, from 0 in the list.
    pub fn notch_at(&self, s_mm: f64) -> Option<usize> {
        self.notches.iter().position(|notch| {
            let [from, to] = notch.span_mm();
            s_mm >= from && s_mm < to
        })
    }

    /// Which notches have no spacer of their length among those at hand, from 0.
    pub fn without_spacer(&self) -> Vec<usize> {
        let has = |notch: &Notch| self.spacers.iter().any(|mm| (mm.mm() - notch.height_mm()).abs() <= SPACER_MM);
        (0..self.notches.len()).filter(|place| !has(&self.notches[*place])).collect()
    }

    /// The leg of the pipe hole's chamfer on the blank's arrises, mm; 0 without a hole.
    pub fn chamfer_mm(&self) -> f64 {
        self.pipe.as_ref().map_or(0.0, PipeHole::chamfer_mm)
    }
}

/// How far a spacer may be off its notch, mm. Common practice, no source: what a shelf's clearance hides.
const SPACER_MM: f64 = 0.1;

pub(crate) fn size(what: &'static str, length: &Length, least: f64, most: f64) -> Result<(), FitError> {
    let mm = length.mm();
    if (least..=most).contains(&mm) { Ok(()) } else { Err(FitError::Size { what, mm, least, most }) }
}

fn too_many(what: &'static str, count: usize, most: usize) -> Result<(), FitError> {
    if count > most { Err(FitError::TooMany { what, count, most }) } else { Ok(()) }
}

#[cfg(test)]
mod tests;

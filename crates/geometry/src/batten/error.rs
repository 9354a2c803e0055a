//! Why pins do not hold a batten.

use thiserror::Error;

use super::{MAX_PINS, MIN_PIN_GAP_MM};
use crate::PointId;
use crate::saw_line::{MAX_POINTS, MAX_SLOPE};

/// Why pins do not hold a batten.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum BattenError {
    /// One pin holds nothing.
    #[error("a batten lies along at least two pins, and this one has {0}")]
    TooFew(usize),
    /// Too many pins to be set by hand.
    #[error("this batten has {0} pins: at most {MAX_PINS} are taken")]
    TooMany(usize),
    /// A number of a pin is NaN, infinite or beyond any blank.
    #[error("pin {}: {what} is not a sound number", pin.0)]
    NotSound {
        /// The pin.
        pin: PointId,
        /// Which of its numbers.
        what: &'static str,
    },
    /// Two pins share an id.
    #[error("two pins are called {}", .0.0)]
    SameId(PointId),
    /// A pin does not lie far enough beyond the one before it.
    #[error(
        "pin {} at {at_mm:.2} mm from the top does not lie at least {MIN_PIN_GAP_MM} mm beyond the pin before it, at \
         {before_mm:.2} mm",
        pin.0
    )]
    TooClose {
        /// The pin.
        pin: PointId,
        /// Its distance from the top, mm.
        at_mm: f64,
        /// The distance of the pin before it, mm.
        before_mm: f64,
    },
    /// The batten would be steeper than a saw line may be.
    #[error(
        "near pin {} the batten gets too steep to saw: slope {slope:.2}, at most {MAX_SLOPE} is taken. Move the pin \
         nearer to its neighbours' line, or farther from them along the leg",
        pin.0
    )]
    TooSteep {
        /// The nearest pin.
        pin: PointId,
        /// The slope there, offset per length, without sign.
        slope: f64,
    },
    /// No curve near these pins bends less than its neighbours: a real strip would jump off them or loop.
    #[error("no batten comes to rest along these pins: near pin {} it turns too sharply. Move the pins apart", pin.0)]
    NoRest {
        /// The pin at which it turns most.
        pin: PointId,
    },
    /// The line would need more points than a line may have.
    #[error("this batten cannot be drawn finely enough with {MAX_POINTS} points: take some pins away")]
    TooFine,
}

impl BattenError {
    /// The pin that it is about, where it is about one.
    pub fn pin(&self) -> Option<PointId> {
        match self {
            BattenError::NotSound { pin, .. }
            | BattenError::TooClose { pin, .. }
            | BattenError::TooSteep { pin, .. }
            | BattenError::NoRest { pin } => Some(*pin),
            BattenError::TooFew(_) | BattenError::TooMany(_) | BattenError::SameId(_) | BattenError::TooFine => None,
        }
    }
}

//! Why points do not make a saw line.

use thiserror::Error;

use super::{MAX_POINTS, MAX_SLOPE};
use crate::{BattenError, PointId};

/// Why points do not make a saw line.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum SawLineError {
    /// A line needs two points.
    #[error("a saw line needs at least two points, and this one has {0}")]
    TooFew(usize),
    /// Too many points to be a drawing by hand.
    #[error("this saw line has {0} points: at most {MAX_POINTS} are taken")]
    TooMany(usize),
    /// A number of a point is NaN, infinite or beyond any blank.
    #[error("point {}: {what} is not a sound number", point.0)]
    NotSound {
        /// The point.
        point: PointId,
        /// Which of its numbers.
        what: &'static str,
    },
    /// Two points share an id.
    #[error("two points are called {}", .0.0)]
    SameId(PointId),
    /// A point does not lie farther from the top than the one before it.
    #[error("point {} at {at_mm:.2} mm from the top runs back: the point before it is at {before_mm:.2} mm", point.0)]
    RunsBack {
        /// The point that runs back.
        point: PointId,
        /// Its distance from the top, mm.
        at_mm: f64,
        /// The distance of the point before it, mm.
        before_mm: f64,
    },
    /// A second sharp point: a saw comes in from two ends only.
    #[error(
        "point {} is a second sharp point after point {}: a saw comes in from the two ends only, so a cut has at most one",
        second.0, first.0
    )]
    TwoSharp {
        /// The first sharp point.
        first: PointId,
        /// The second.
        second: PointId,
    },
    /// The line is steeper than a saw line may be.
    #[error("too steep near point {}, {s_mm:.1} mm from the top: slope {slope:.2}, at most {MAX_SLOPE} is taken", point.0)]
    TooSteep {
        /// The nearest point.
        point: PointId,
        /// Where, from the top, mm.
        s_mm: f64,
        /// The slope there, offset per length, without sign.
        slope: f64,
    },
    /// The pins of a batten, or the batten at them.
    #[error(transparent)]
    Batten(#[from] BattenError),
    /// A linked line that has nothing to follow from.
    #[error("this line follows from the first cut, and only the second cut can")]
    Linked,
}

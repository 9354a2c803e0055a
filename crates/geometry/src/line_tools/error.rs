use thiserror::Error;

use crate::SawLineError;

/// Why a tool does not work on a line. The line stays as it was.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum LineToolError {
    /// A number is NaN, infinite or beyond what the tool takes.
    #[error("{what} is {value}: it must be {least} to {most}")]
    OutOfRange {
        /// Which number.
        what: &'static str,
        /// What it is, in its own unit.
        value: f64,
        /// The least it may be.
        least: f64,
        /// The most it may be.
        most: f64,
    },
    /// A new point would lie on another one.
    #[error("there is a point at {near_mm:.2} mm from the top already, too near to {s_mm:.2} mm: take {near_mm:.2} mm")]
    NoRoom {
        /// Where the point was to be, mm from the top.
        s_mm: f64,
        /// Where the other one is, mm from the top.
        near_mm: f64,
    },
    /// A batten bends, and has no sharp points.
    #[error(
        "the line has a sharp point, {s_mm:.1} mm from the top, and a batten bends everywhere: make it smooth first"
    )]
    SharpPoint {
        /// Where, from the top, mm.
        s_mm: f64,
    },
    /// A batten would need more pins than anyone sets.
    #[error("no batten with {most} pins stays within {tolerance_mm} mm of this line: take a greater tolerance")]
    ManyPins {
        /// The tolerance, mm.
        tolerance_mm: f64,
        /// The most pins tried.
        most: usize,
    },
    /// What the tool was given, or what it made, is no saw line.
    #[error(transparent)]
    Line(#[from] SawLineError),
}

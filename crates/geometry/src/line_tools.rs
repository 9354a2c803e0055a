//! What can be done to a whole saw line: mirror it, turn it end for end, shift it, scale its swing, stretch it, make it
//! fairer, take points out of it.
//!
//! Every tool takes the points and gives new ones; a point that is still the same point keeps its id, and a number that
//! is still the same number keeps the text it was typed as. What a tool gives always makes a [`SawLine`].

mod added;
mod batten_along;
mod batten_stretched;
mod bending;
mod distance;
mod end_for_end;
mod error;
mod fairer;
mod fitted;
mod mirrored;
mod shifted;
mod simplified;
mod stretched;
mod swing;

pub use added::{new_point_id, with_point};
pub use batten_along::batten_along;
pub use batten_stretched::batten_stretched;
pub use bending::bending_per_mm;
pub use distance::{Distance, greatest_distance};
pub use end_for_end::end_for_end;
pub use error::LineToolError;
pub use fairer::{Fairer, fairer};
pub use fitted::{FIT_TOLERANCE_MM, FitLineError, Fitted, MOST_PLACES, fitted};
pub use mirrored::mirrored_across;
pub use shifted::shifted;
pub use simplified::simplified;
pub use stretched::stretched;
pub use swing::swing_scaled;

use crate::{Point, SawLine};

/// The greatest length that a tool takes, mm; well beyond every blank.
const FARTHEST_MM: f64 = 20_000.0;

/// The points, if they make a saw line. How long the leg is does not matter for that.
fn sound(points: Vec<Point>) -> Result<Vec<Point>, LineToolError> {
    SawLine::from_points(&points, 0.0)?;
    Ok(points)
}

/// The number, if it is finite and within its limits.
fn within(what: &'static str, value: f64, least: f64, most: f64) -> Result<f64, LineToolError> {
    // A range holds no NaN.
    if (least..=most).contains(&value) {
        Ok(value)
    } else {
        Err(LineToolError::OutOfRange { what, value, least, most })
    }
}

#[cfg(test)]
mod tests;

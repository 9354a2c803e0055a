use super::{FARTHEST_MM, LineToolError, sound, within};
use crate::Point;

/// The line turned end for end on a leg of `length_mm`: what was at the top is at the foot. The points come in their new
/// order from the top.
///
/// # Errors
/// [`LineToolError`] when the length is not sound, or the points are no saw line.
pub fn end_for_end(points: &[Point], length_mm: f64) -> Result<Vec<Point>, LineToolError> {
    let length_mm = within("the length in mm", length_mm, 0.0, FARTHEST_MM)?;
    sound(points.iter().rev().map(|point| point.end_for_end(length_mm)).collect())
}

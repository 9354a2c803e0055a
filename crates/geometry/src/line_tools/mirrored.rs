use super::{FARTHEST_MM, LineToolError, sound, within};
use crate::Point;

/// The line mirrored on its face, `across_mm` wide: what lay near one arris lies as near to the other.
///
/// # Errors
/// [`LineToolError`] when the width is not sound, or the points are no saw line.
pub fn mirrored_across(points: &[Point], across_mm: f64) -> Result<Vec<Point>, LineToolError> {
    let across_mm = within("the width of the face in mm", across_mm, 0.0, FARTHEST_MM)?;
    sound(points.iter().map(|point| point.mirrored_across(across_mm)).collect())
}

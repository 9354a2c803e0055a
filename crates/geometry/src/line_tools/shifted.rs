use super::{FARTHEST_MM, LineToolError, sound, within};
use crate::Point;

/// The line shifted along the leg by `by_mm`, toward the foot where that is positive. It is carried straight on where it
/// no longer reaches an end.
///
/// # Errors
/// [`LineToolError`] when the distance is not sound, or the points are no saw line or come to lie beyond any blank.
pub fn shifted(points: &[Point], by_mm: f64) -> Result<Vec<Point>, LineToolError> {
    let by_mm = within("the distance in mm", by_mm, -FARTHEST_MM, FARTHEST_MM)?;
    sound(points.iter().map(|point| point.moved(by_mm, 0.0)).collect())
}

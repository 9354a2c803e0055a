use super::{FARTHEST_MM, LineToolError, sound, within};
use crate::Point;

/// The least and the most that a swing is scaled by.
const FACTORS: [f64; 2] = [0.01, 100.0];

/// The line with its distance from a middle line at `about_mm` taken `factor` times everywhere.
///
/// # Errors
/// [`LineToolError`] when a number is not sound (a factor is 0.01 to 100), or the points are no saw line or become one
/// that is steeper than [`crate::MAX_SLOPE`]; that error names the point.
pub fn swing_scaled(points: &[Point], factor: f64, about_mm: f64) -> Result<Vec<Point>, LineToolError> {
    let factor = within("the factor", factor, FACTORS[0], FACTORS[1])?;
    let about_mm = within("the middle line in mm", about_mm, -FARTHEST_MM, FARTHEST_MM)?;
    // Written so that a factor of 1 changes nothing, not even the last bit.
    let scaled = |offset_mm: f64| offset_mm + (factor - 1.0) * (offset_mm - about_mm);
    let scale = |point: &Point| {
        let ((slope_before, before_mm), (slope_after, after_mm)) = (point.kind.before(), point.kind.after());
        Point {
            offset: point.offset.changed(scaled(point.offset.mm())),
            kind: point.kind.with_before(factor * slope_before, before_mm).with_after(factor * slope_after, after_mm),
            ..point.clone()
        }
    };
    sound(points.iter().map(scale).collect())
}

use super::{FARTHEST_MM, LineToolError, changed, sound, within};
use crate::{Point, PointKind};

/// The line turned end for end on a leg of `length_mm`: what was at the top is at the foot. The points come in their new
/// order from the top.
///
/// # Errors
/// [`LineToolError`] when the length is not sound, or the points are no saw line.
pub fn end_for_end(points: &[Point], length_mm: f64) -> Result<Vec<Point>, LineToolError> {
    let length_mm = within("the length in mm", length_mm, 0.0, FARTHEST_MM)?;
    let reversed = |point: &Point| Point {
        id: point.id,
        from_top: changed(&point.from_top, length_mm - point.from_top.mm()),
        offset: point.offset.clone(),
        kind: match point.kind {
            PointKind::Smooth { slope, before_mm, after_mm } => {
                PointKind::Smooth { slope: -slope, before_mm: after_mm, after_mm: before_mm }
            }
            PointKind::Sharp { slope_before, before_mm, slope_after, after_mm } => PointKind::Sharp {
                slope_before: -slope_after,
                before_mm: after_mm,
                slope_after: -slope_before,
                after_mm: before_mm,
            },
        },
        tied: point.tied,
    };
    sound(points.iter().rev().map(reversed).collect())
}

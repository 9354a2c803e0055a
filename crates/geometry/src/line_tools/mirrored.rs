use super::{FARTHEST_MM, LineToolError, changed, sound, within};
use crate::{Point, PointKind};

/// The line mirrored on its face, `across_mm` wide: what lay near one arris lies as near to the other.
///
/// # Errors
/// [`LineToolError`] when the width is not sound, or the points are no saw line.
pub fn mirrored_across(points: &[Point], across_mm: f64) -> Result<Vec<Point>, LineToolError> {
    let across_mm = within("the width of the face in mm", across_mm, 0.0, FARTHEST_MM)?;
    let mirrored = |point: &Point| Point {
        id: point.id,
        from_top: point.from_top.clone(),
        offset: changed(&point.offset, across_mm - point.offset.mm()),
        kind: match point.kind {
            PointKind::Smooth { slope, before_mm, after_mm } => {
                PointKind::Smooth { slope: -slope, before_mm, after_mm }
            }
            PointKind::Sharp { slope_before, before_mm, slope_after, after_mm } => {
                PointKind::Sharp { slope_before: -slope_before, before_mm, slope_after: -slope_after, after_mm }
            }
        },
        tied: point.tied,
    };
    sound(points.iter().map(mirrored).collect())
}

use super::{FARTHEST_MM, LineToolError, sound, with_point, within};
use crate::{MIN_GAP_MM, Point};

/// The shortest leg that is stretched, or stretched to, mm.
const SHORTEST_MM: f64 = 1.0;

/// How far a point may be from the place that is kept and still be that place, mm: rounding.
const SAME_PLACE_MM: f64 = 1e-9;

/// The line of a leg of `from_length_mm` for one of `to_length_mm`: stretched along the leg as a whole, or, with
/// `keep_top_mm`, unchanged down to there and stretched as a whole below.
///
/// A point is set where the kept part ends, unless there is one. A smooth point there stays smooth and keeps its slope,
/// so that no break comes into the line; where that slope is not 0, the line leaves the point a little otherwise than a
/// plain stretch would, as far as the next point.
///
/// # Errors
/// [`LineToolError`] when a length is not sound, the kept part leaves nothing to stretch, a point lies too near to its
/// end, or the points are no saw line or become one that is too steep; that error names the point.
pub fn stretched(
    points: &[Point],
    from_length_mm: f64,
    to_length_mm: f64,
    keep_top_mm: Option<f64>,
) -> Result<Vec<Point>, LineToolError> {
    let from = within("the length in mm", from_length_mm, SHORTEST_MM, FARTHEST_MM)?;
    let to = within("the new length in mm", to_length_mm, SHORTEST_MM, FARTHEST_MM)?;
    let Some(keep) = keep_top_mm else {
        return sound(points.iter().map(|point| about(point, 0.0, to / from)).collect());
    };
    if from == to {
        return sound(points.to_vec());
    }
    let keep = within("the part kept at the top, in mm,", keep, MIN_GAP_MM, from.min(to) - MIN_GAP_MM)?;
    let at_keep = |point: &Point| (point.from_top.mm() - keep).abs() <= SAME_PLACE_MM;
    let points = if points.iter().any(at_keep) { points.to_vec() } else { with_point(points, from, keep, MIN_GAP_MM)? };
    let factor = (to - keep) / (from - keep);
    let part = |point: &Point| {
        if at_keep(point) {
            let (slope, after_mm) = point.kind.after();
            // A sharp point breaks the line anyway, so the part below it is a plain stretch.
            let slope = if point.kind.is_sharp() { slope / factor } else { slope };
            Point { kind: point.kind.with_after(slope, after_mm * factor), ..point.clone() }
        } else if point.from_top.mm() < keep {
            point.clone()
        } else {
            about(point, keep, factor)
        }
    };
    sound(points.iter().map(part).collect())
}

/// The point stretched along the leg about a place that stays.
fn about(point: &Point, stays_mm: f64, factor: f64) -> Point {
    let ((slope_before, before_mm), (slope_after, after_mm)) = (point.kind.before(), point.kind.after());
    let from_top = point.from_top.mm();
    let kind = point.kind.with_before(slope_before / factor, before_mm * factor);
    Point {
        from_top: point.from_top.changed(if factor == 1.0 {
            from_top
        } else {
            stays_mm + (from_top - stays_mm) * factor
        }),
        kind: kind.with_after(slope_after / factor, after_mm * factor),
        ..point.clone()
    }
}

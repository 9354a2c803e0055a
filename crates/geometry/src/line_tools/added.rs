use kurbo::ParamCurve;

use super::{FARTHEST_MM, LineToolError, within};
use crate::{Point, PointId, PointKind, SawLine};

/// The line over a leg of `length_mm` with one point more at `s_mm`, otherwise the same line: the cubic there is cut in
/// two (de Casteljau). Beyond the first and last point the new point's handles lie on the line as it is carried on.
///
/// # Errors
/// [`LineToolError`] when a number is not sound, the points are no saw line, or another point lies nearer than
/// `gap_mm`.
pub fn with_point(points: &[Point], length_mm: f64, s_mm: f64, gap_mm: f64) -> Result<Vec<Point>, LineToolError> {
    let s_mm = within("the distance from the top in mm", s_mm, -FARTHEST_MM, FARTHEST_MM)?;
    if let Some(near) = points.iter().find(|point| (point.from_top.mm() - s_mm).abs() < gap_mm) {
        return Err(LineToolError::NoRoom { s_mm, near_mm: near.from_top.mm() });
    }
    let line = SawLine::from_points(points, length_mm)?;
    let here = line.at(s_mm);
    let place = points.partition_point(|point| point.from_top.mm() < s_mm);
    let mut points = points.to_vec();
    let id = new_point_id(&points);
    let between = place > 0 && place < points.len();
    let kind = match line.cubic_at(s_mm) {
        Some((cubic, t)) if between => {
            let (above, below) = (cubic.subsegment(0.0..t), cubic.subsegment(t..1.0));
            let (before_mm, after_mm) = (above.p3.x - above.p2.x, below.p1.x - below.p0.x);
            let slope = (below.p1.y - above.p2.y) / (below.p1.x - above.p2.x);
            let (last, next) = (points[place - 1].kind, points[place].kind);
            points[place - 1].kind = last.with_after(last.after().0, above.p1.x - above.p0.x);
            points[place].kind = next.with_before(next.before().0, below.p3.x - below.p2.x);
            PointKind::Smooth { slope, before_mm, after_mm }
        }
        Some(_) | None => {
            // Beyond the first or last point, where the line is carried straight on: handles in line keep it so.
            let neighbour = &mut points[place.saturating_sub(1)];
            let third = (neighbour.from_top.mm() - s_mm).abs() / 3.0;
            neighbour.kind = match (place, neighbour.kind) {
                (0, kind) => kind.with_before(kind.before().0, third),
                (_, kind) => kind.with_after(kind.after().0, third),
            };
            PointKind::Smooth { slope: here.slope, before_mm: third, after_mm: third }
        }
    };
    points.insert(place, Point { id, from_top: s_mm.into(), offset: here.offset.into(), kind, tied: false });
    Ok(points)
}

/// An id that none of the points has.
pub fn new_point_id(points: &[Point]) -> PointId {
    let most = points.iter().map(|point| point.id.0).max().unwrap_or(0);
    let free = |id: &u32| points.iter().all(|point| point.id.0 != *id);
    PointId(most.checked_add(1).or_else(|| (1..).find(free)).unwrap_or(u32::MAX))
}

//! The part of a line that lies in a rectangle, exactly.

use kurbo::common::solve_itp;
use kurbo::{BezPath, ParamCurve, ParamCurveExtrema, PathSeg, Point, Rect};

/// Points this close outside still count as inside, mm: a line along the rectangle's own edge is kept.
const ON_EDGE_MM: f64 = 1e-9;
/// How closely a crossing is found, in the curve's parameter: under a nanometre on the longest blank.
const PARAMETER: f64 = 1e-14;

/// The part of `path` that lies in `window`, edges included. Curves are cut at their crossings, not flattened.
pub fn clipped(path: &BezPath, window: Rect) -> BezPath {
    let reach = window.inflate(ON_EDGE_MM, ON_EDGE_MM);
    let mut inside = BezPath::new();
    let mut end: Option<Point> = None;
    for segment in path.segments() {
        let mut from = 0.0;
        for to in crossings(segment, window) {
            if to - from > f64::EPSILON {
                let middle = segment.eval(0.5 * (from + to));
                if reach.contains(middle) {
                    let part = segment.subsegment(from..to);
                    if end.is_none_or(|end| end.distance(part.start()) > ON_EDGE_MM) {
                        inside.move_to(part.start());
                    }
                    inside.push(part.as_path_el());
                    end = Some(part.end());
                }
                from = to;
            }
        }
    }
    inside
}

/// Where a segment crosses the lines through the window's edges, in order, with 1 last.
///
/// Between its turning points each coordinate runs one way, so every crossing is bracketed: nothing is lost where the
/// curve is nearly straight, which is where a formula for its roots fails.
fn crossings(segment: PathSeg, window: Rect) -> Vec<f64> {
    let mut turns = vec![0.0];
    turns.extend(segment.extrema());
    turns.push(1.0);
    let mut at = vec![1.0];
    let mut add = |coordinate: &dyn Fn(Point) -> f64, edge: f64| {
        let beyond = |t: f64| coordinate(segment.eval(t)) - edge;
        for pair in turns.windows(2) {
            let (from, to) = (beyond(pair[0]), beyond(pair[1]));
            if from * to < 0.0 {
                let sign = from.signum();
                let rising = |t: f64| -sign * beyond(t);
                at.push(solve_itp(rising, pair[0], pair[1], PARAMETER, 1, 0.2, -from.abs(), to.abs()));
            } else if from == 0.0 {
                at.push(pair[0]);
            }
        }
    };
    for edge in [window.x0, window.x1] {
        add(&|p| p.x, edge);
    }
    for edge in [window.y0, window.y1] {
        add(&|p| p.y, edge);
    }
    at.sort_by(f64::total_cmp);
    at
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::{CubicBez, Line, PathEl, Shape};

    fn ends(path: &BezPath) -> Option<[Point; 2]> {
        let PathEl::MoveTo(start) = path.elements().first()? else { return None };
        Some([*start, path.elements().last()?.end_point()?])
    }

    #[test]
    fn a_straight_line_is_cut_at_the_edges() {
        let line = Line::new((-5.0, 2.0), (15.0, 2.0)).to_path(0.1);
        let inside = clipped(&line, Rect::new(0.0, 0.0, 10.0, 4.0));
        assert_eq!(ends(&inside), Some([Point::new(0.0, 2.0), Point::new(10.0, 2.0)]));
    }

    #[test]
    fn long_straight_lines_are_cut_at_both_ends() {
        // Two such lines once lost a crossing to rounding.
        for (from, to) in [((-20.0, 100.0), (720.0, 100.0)), ((-20.0, 0.0), (720.0, 0.0)), ((0.1, -7.0), (0.1, 9e3))] {
            let window = Rect::new(-23.0, -10.0, 235.7, 110.0);
            let inside = clipped(&Line::new(from, to).to_path(0.1), window);
            let [start, end] = ends(&inside).unwrap();
            assert_eq!(start, Point::from(from));
            let expected = Point::from(to);
            assert!(
                (end.x - expected.x.min(window.x1)).abs() < 1e-9 && (end.y - expected.y.min(window.y1)).abs() < 1e-9
            );
        }
    }

    #[test]
    fn an_edge_on_the_windows_edge_is_kept() {
        let window = Rect::new(0.0, 0.0, 10.0, 4.0);
        assert_eq!(clipped(&window.to_path(0.1), window).segments().count(), 4);
    }

    #[test]
    fn a_curve_that_leaves_and_comes_back_is_two_lines_on_the_same_curve() {
        let curve = CubicBez::new((0.0, 0.0), (10.0, 20.0), (20.0, -20.0), (30.0, 0.0));
        let mut path = BezPath::new();
        path.move_to(curve.p0);
        path.curve_to(curve.p1, curve.p2, curve.p3);
        let window = Rect::new(0.0, -3.0, 30.0, 3.0);
        let inside = clipped(&path, window);
        assert_eq!(inside.elements().iter().filter(|e| matches!(e, PathEl::MoveTo(_))).count(), 3);
        for part in inside.segments() {
            for i in 0..=20 {
                let p = part.eval(f64::from(i) / 20.0);
                assert!(window.inflate(1e-9, 1e-9).contains(p));
                // The curve's x runs evenly with its parameter, so the offset there is the parameter's.
                assert!((curve.eval(p.x / 30.0).y - p.y).abs() < 1e-9);
            }
        }
    }
}

//! Curves parallel to a saw line: where the sides of the kerf are, and where a leaning blade comes out below.

use super::{LineAt, SawLine, Spot};

/// How near the level of a parallel point must come before the tangent takes it there, mm; what is left is then below
/// its square times half the curvature.
const NEAR_MM: f64 = 1e-4;

/// Among how many places of the line the outermost is looked for where the parallel curve breaks.
const LOOKED_AT: usize = 96;

impl Spot<'_> {
    /// [`SawLine::parallel`] at this place.
    pub(crate) fn parallel(&self, distance_mm: f64) -> LineAt {
        if distance_mm == 0.0 {
            return self.at;
        }
        let reach = distance_mm.abs();
        let smooth = self.line.tightest().is_none_or(|bend| reach < 0.9 * bend.radius_mm)
            && self.line.sharp_point().is_none_or(|sharp| (sharp - self.s).abs() > reach);
        if !smooth {
            return self.line.swept_edge(self.s, distance_mm);
        }
        self.along_cubic(distance_mm)
            .or_else(|| self.across_cubics(distance_mm))
            .unwrap_or_else(|| self.line.swept_edge(self.s, distance_mm))
    }

    /// Newton's method for the point that comes to the level s from where s = σ - d a'/sqrt(1 + a'²), of which the rate is
    /// 1 - d κ, by the parameter of the one cubic; nothing where it leads off that cubic.
    fn along_cubic(&self, distance_mm: f64) -> Option<LineAt> {
        let cubic = self.cubic.as_ref()?;
        let mut t = cubic.t;
        // The first step starts from what is known of the line at s.
        let mut step = distance_mm * sine(self.at.slope) / (1.0 - distance_mm * self.at.curvature) / cubic.rate(t);
        for _ in 0..8 {
            t += step;
            if !(0.0..=1.0).contains(&t) {
                return None;
            }
            let at = cubic.measured(t);
            let miss = self.s - (cubic.s(t) - distance_mm * sine(at.slope));
            if miss.abs() <= NEAR_MM {
                return Some(carried(at, distance_mm, miss));
            }
            step = miss / (1.0 - distance_mm * at.curvature) / cubic.rate(t);
        }
        None
    }

    /// The same from cubic to cubic, by the distance along the leg.
    fn across_cubics(&self, distance_mm: f64) -> Option<LineAt> {
        let reach = distance_mm.abs();
        let (mut at, mut base) = (self.at, self.s);
        for _ in 0..20 {
            let miss = self.s - (base - distance_mm * sine(at.slope));
            if miss.abs() <= NEAR_MM {
                return Some(carried(at, distance_mm, miss));
            }
            base = (base + miss / (1.0 - distance_mm * at.curvature)).clamp(self.s - reach, self.s + reach);
            at = self.line.at(base);
        }
        None
    }
}

impl SawLine {
    /// The curve parallel to this one at `distance_mm`, square to it (above 0 toward growing offsets), where it passes the
    /// level `s`: its offset, its slope, its curvature. Every point of it is a point of the line moved square to the line;
    /// nothing is fitted.
    ///
    /// Where the line bends tighter than the distance, or has a sharp point, the parallel curve is the edge of everything
    /// that a round pin of that radius sweeps when its middle follows the line.
    pub fn parallel(&self, s: f64, distance_mm: f64) -> LineAt {
        self.spot(s).parallel(distance_mm)
    }

    /// The outermost place at `s` of all circles of the distance round places of the line.
    fn swept_edge(&self, s: f64, distance_mm: f64) -> LineAt {
        let (reach, side) = (distance_mm.abs(), distance_mm.signum());
        // Larger is farther out, to whichever side.
        let out = |base: f64| {
            let rise = (reach * reach - (s - base) * (s - base)).max(0.0).sqrt();
            side * self.offset(base) + rise
        };
        let place = |i: usize| s - reach + 2.0 * reach * i as f64 / LOOKED_AT as f64;
        let sharp = self.sharp_point().filter(|sharp| (sharp - s).abs() <= reach);
        let best = (0..=LOOKED_AT)
            .map(place)
            .chain(sharp)
            .fold(s, |best, base| if out(base) > out(best) { base } else { best });
        let step = 2.0 * reach / LOOKED_AT as f64;
        let (mut lo, mut hi) = ((best - step).max(s - reach), (best + step).min(s + reach));
        // Thirds rather than a cleverer search: the top may be a corner.
        for _ in 0..60 {
            let (one, two) = (lo + (hi - lo) / 3.0, hi - (hi - lo) / 3.0);
            if out(one) < out(two) { lo = one } else { hi = two }
        }
        let found = (lo + hi) / 2.0;
        let base = if out(best) > out(found) { best } else { found };
        let at = self.at(base);
        // The circle's own direction there: the line's where they touch, the arc's round a sharp point.
        let rise = (reach * reach - (s - base) * (s - base)).max(1e-12).sqrt();
        let slope = -side * (s - base) / rise;
        LineAt { offset: side * out(base), slope, curvature: parallel_rates(at, distance_mm).curvature }
    }

    /// The point of the parallel curve that comes from the line at `s`: (s, offset), mm. Where the curve breaks it lies
    /// inside what the saw takes.
    pub fn parallel_point(&self, s: f64, distance_mm: f64) -> [f64; 2] {
        let at = self.at(s);
        [s - distance_mm * sine(at.slope), at.offset + distance_mm / at.slope.hypot(1.0)]
    }
}

fn sine(slope: f64) -> f64 {
    slope / (slope * slope + 1.0).sqrt()
}

/// The parallel curve this little farther along the leg than the point that comes from `at`.
fn carried(at: LineAt, distance_mm: f64, farther_mm: f64) -> LineAt {
    let root = (at.slope * at.slope + 1.0).sqrt();
    let here = parallel_rates(at, distance_mm);
    LineAt {
        offset: at.offset + distance_mm / root + at.slope * farther_mm,
        slope: at.slope + here.curvature * root.powi(3) * farther_mm,
        ..here
    }
}

/// A curve's curvature κ becomes κ / (1 - d κ) at the distance d.
fn parallel_rates(at: LineAt, distance_mm: f64) -> LineAt {
    let left = 1.0 - distance_mm * at.curvature;
    let curvature = if left.abs() > 1e-9 { at.curvature / left } else { 0.0 };
    LineAt { curvature, ..at }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Line, Point, PointId, PointKind, Shape};
    use approx::assert_relative_eq;

    fn wave() -> SawLine {
        let shape = Shape::Waves {
            waves: 3,
            swing_top: 10.0.into(),
            swing_foot: 26.0.into(),
            shortening: 0.6,
            aside: 0.0.into(),
        };
        Line::Shape(shape).solve(420.0, 50.0).unwrap()
    }

    #[test]
    fn every_point_of_it_lies_at_the_distance_from_the_line() {
        let line = wave();
        for distance in [-3.0, -0.5, 0.7, 2.0] {
            for i in 0..=210 {
                let s = 2.0 * f64::from(i);
                let at = line.parallel(s, distance);
                // The nearest place of the line, the slow way.
                let away = |base: f64| (s - base).hypot(at.offset - line.offset(base));
                let nearest =
                    (0..=8000).map(|j| s - 4.0 + f64::from(j) * 0.001).map(away).fold(f64::INFINITY, f64::min);
                assert!((nearest - distance.abs()).abs() < 2e-6, "{nearest} at {s} for {distance}");
            }
        }
    }

    #[test]
    fn on_a_straight_line_it_is_the_line_moved_by_the_distance_over_the_cosine() {
        let point = |id, s: f64, offset: f64| Point {
            id: PointId(id),
            from_top: s.into(),
            offset: offset.into(),
            kind: PointKind::Smooth { slope: 0.75, before_mm: 10.0, after_mm: 10.0 },
            tied: false,
        };
        let line = SawLine::from_points(&[point(1, 0.0, 5.0), point(2, 40.0, 35.0)], 40.0).unwrap();
        for s in [0.0, 13.0, 40.0] {
            let at = line.parallel(s, 2.0);
            assert_relative_eq!(at.offset, line.offset(s) + 2.0 * 1.25, epsilon = 1e-9);
            assert_relative_eq!(at.slope, 0.75, epsilon = 1e-9);
        }
    }

    /// The two ways of working it out agree where both hold.
    #[test]
    fn the_swept_edge_is_the_parallel_curve_where_nothing_breaks() {
        let line = wave();
        for i in 1..100 {
            let s = 4.2 * f64::from(i);
            for distance in [-0.8, 1.5] {
                let (smooth, swept) = (line.parallel(s, distance), line.swept_edge(s, distance));
                assert!((smooth.offset - swept.offset).abs() < 1e-9, "{smooth:?} {swept:?}");
                assert!((smooth.slope - swept.slope).abs() < 1e-4, "{smooth:?} {swept:?}");
            }
        }
    }

    /// Round a sharp point the outer edge is an arc, and the inner edges meet.
    #[test]
    fn a_sharp_point_gives_an_arc_outside_and_a_corner_inside() {
        let arm = |id, s: f64, offset: f64, before: f64, after: f64| Point {
            id: PointId(id),
            from_top: s.into(),
            offset: offset.into(),
            kind: PointKind::Sharp { slope_before: before, before_mm: 10.0, slope_after: after, after_mm: 10.0 },
            tied: false,
        };
        let points = [
            Point::smooth(1, 0.0, 20.0, 0.5, 10.0, 10.0),
            arm(2, 40.0, 40.0, 0.5, -0.5),
            Point::smooth(3, 80.0, 20.0, -0.5, 10.0, 10.0),
        ];
        let line = SawLine::from_points(&points, 80.0).unwrap();
        assert_relative_eq!(line.parallel(40.0, 3.0).offset, 43.0, epsilon = 1e-6);
        // Inside, both arms reach the middle: 40 - 3 sqrt(1.25).
        assert_relative_eq!(line.parallel(40.0, -3.0).offset, 40.0 - 3.0 * 1.25_f64.sqrt(), epsilon = 1e-6);
        assert_relative_eq!(line.parallel(20.0, -3.0).offset, 30.0 - 3.0 * 1.25_f64.sqrt(), epsilon = 1e-9);
    }
}

//! Curves parallel to a saw line: where the sides of the kerf are, and where a leaning blade comes out below.

use kurbo::{CubicBez, ParamCurve, Point as Place};

use super::cubic::{parameter_at, straight};
use super::{LineAt, SawLine, Spot, measured, rates};

/// How near the level of a parallel point must come before the tangent takes it there, mm; what is left is then below
/// its square times half the curvature.
const NEAR_MM: f64 = 1e-4;

/// Among how many places of the line the outermost is looked for where the parallel curve breaks.
const LOOKED_AT: f64 = 96.0;

/// How often the stretch round the outermost of them is narrowed: to less than a ten-millionth of the distance.
const NARROWED: usize = 26;

/// By how much each time.
const GOLDEN: f64 = 0.618_033_988_749_894_8;

impl Spot<'_> {
    /// [`SawLine::parallel`] at this place.
    pub(crate) fn parallel(&self, distance_mm: f64) -> LineAt {
        if distance_mm == 0.0 {
            return self.at;
        }
        let reach = distance_mm.abs();
        let smooth =
            self.is_smooth(reach) && self.line.sharp_point().is_none_or(|sharp| (sharp - self.s).abs() > reach);
        if !smooth {
            return self.line.swept_edge(self.s, distance_mm);
        }
        self.along_cubic(distance_mm)
            .or_else(|| self.across_cubics(distance_mm))
            .unwrap_or_else(|| self.line.swept_edge(self.s, distance_mm))
    }

    /// Whether the line bends nowhere so tightly within the distance that its parallel curve would break. What holds for a
    /// distance holds for every smaller one, and many a little apart are asked for at one place.
    fn is_smooth(&self, reach: f64) -> bool {
        let holds = |reach: f64| !self.line.bends_more(self.s - reach, self.s + reach, 0.9 / reach);
        if reach <= self.smooth_to_mm.get() {
            return true;
        }
        if holds(2.0 * reach) {
            self.smooth_to_mm.set(2.0 * reach);
            return true;
        }
        holds(reach)
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
        let out = |at: Place| side * at.y + (reach * reach - (s - at.x) * (s - at.x)).max(0.0).sqrt();
        let mut best: (f64, Place, f64) = (f64::NEG_INFINITY, Place::new(s, 0.0), 0.0);
        for segment in self.cubics_within(s - reach, s + reach) {
            let [from, to] = [s - reach, s + reach].map(|end| parameter_at(&segment, end));
            let looked_at =
                (LOOKED_AT * (segment.p3.x - segment.p0.x).min(2.0 * reach) / (2.0 * reach)).ceil().max(2.0);
            let t_of = |i: f64| from + (to - from) * (i / looked_at).clamp(0.0, 1.0);
            let value = |t: f64| out(segment.eval(t));
            let (mut most, mut place) = (f64::NEG_INFINITY, 0.0);
            for i in 0..=looked_at as u32 {
                let here = value(t_of(f64::from(i)));
                if here > most {
                    (most, place) = (here, f64::from(i));
                }
            }
            // The top is smooth here, or it is an end, which is among the places looked at.
            let narrowed = highest(value, t_of(place - 1.0), t_of(place + 1.0));
            for t in [t_of(place), narrowed] {
                let at = segment.eval(t);
                if out(at) > best.0 {
                    best = (out(at), at, measured(&segment, &rates(&segment), t).curvature);
                }
            }
        }
        let (most, at, curvature) = best;
        // The circle's own direction there: the line's where they touch, the arc's round a sharp point.
        let rise = (reach * reach - (s - at.x) * (s - at.x)).max(1e-12).sqrt();
        let here = LineAt { offset: side * most, slope: -side * (s - at.x) / rise, curvature };
        LineAt { curvature: parallel_rates(here, distance_mm).curvature, ..here }
    }

    /// The cubics between two levels, the straight ones with which the line is carried on among them.
    fn cubics_within(&self, from_mm: f64, to_mm: f64) -> impl Iterator<Item = CubicBez> {
        let (first, last) = (&self.segments[0], &self.segments[self.segments.len() - 1]);
        let carried_on = |from: f64, to: f64, slope: f64, on: Place| {
            (to > from).then(|| straight(from, to, on.y + slope * (from - on.x), slope))
        };
        let before = carried_on(from_mm, first.p0.x.min(to_mm), self.slopes_beyond[0], first.p0);
        let after = carried_on(last.p3.x.max(from_mm), to_mm, self.slopes_beyond[1], last.p3);
        let begin = self.ends.partition_point(|end| *end < from_mm);
        let within = self.segments[begin..].iter().take_while(move |segment| segment.p0.x <= to_mm).copied();
        before.into_iter().chain(within).chain(after)
    }

    /// The point of the parallel curve that comes from the line at `s`: (s, offset), mm. Where the curve breaks it lies
    /// inside what the saw takes.
    pub fn parallel_point(&self, s: f64, distance_mm: f64) -> [f64; 2] {
        let at = self.at(s);
        [s - distance_mm * sine(at.slope), at.offset + distance_mm / at.slope.hypot(1.0)]
    }
}

/// Where a value with one top between two places is highest, by the golden section.
fn highest(value: impl Fn(f64) -> f64, mut lo: f64, mut hi: f64) -> f64 {
    let (mut one, mut two) = (hi - GOLDEN * (hi - lo), lo + GOLDEN * (hi - lo));
    let (mut value_one, mut value_two) = (value(one), value(two));
    for _ in 0..NARROWED {
        if value_one > value_two {
            (hi, two, value_two) = (two, one, value_one);
            one = hi - GOLDEN * (hi - lo);
            value_one = value(one);
        } else {
            (lo, one, value_one) = (one, two, value_two);
            two = lo + GOLDEN * (hi - lo);
            value_two = value(two);
        }
    }
    (lo + hi) / 2.0
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

    /// Lines of many kinds, gentle and far too tight for the kerf, against the outermost of many circles, the slow way.
    #[test]
    fn it_is_the_outermost_of_all_circles_on_tight_lines_too() {
        let waves = |waves, swing: f64| Shape::Waves {
            waves,
            swing_top: swing.into(),
            swing_foot: (0.4 * swing).into(),
            shortening: 0.7,
            aside: 0.0.into(),
        };
        let mut bumpy: Vec<Point> = (0..40)
            .map(|i| {
                let (s, off) = (f64::from(i) * 3.0, if i % 3 == 0 { 0.7 } else { -0.2 });
                Point::smooth(i + 1, s, 25.0 + off + 4.0 * (s / 17.0).sin(), 0.2 * (s / 17.0).cos(), 0.9, 0.9)
            })
            .collect();
        let even = SawLine::from_points(&bumpy, 117.0).unwrap();
        // One place bends as no saw does, the others stay gentle.
        bumpy[20].offset = 28.0.into();
        let lines = [
            Line::Shape(waves(4, 30.0)).solve(117.0, 50.0).unwrap(),
            Line::Shape(waves(9, 20.0)).solve(117.0, 50.0).unwrap(),
            even,
            SawLine::from_points(&bumpy, 117.0).unwrap(),
        ];
        let mut ways = [0; 2];
        for line in &lines {
            for distance in [-2.5, -0.6, 0.3, 0.9, 4.0_f64] {
                let (reach, side) = (distance.abs(), distance.signum());
                for i in 0..60 {
                    let s = 5.0 + 1.8 * f64::from(i);
                    let out =
                        |base: f64| side * line.offset(base) + (reach * reach - (s - base).powi(2)).max(0.0).sqrt();
                    let most = (0..=4000).map(|j| out(s - reach + reach * f64::from(j) / 2000.0));
                    let most = most.fold(f64::NEG_INFINITY, f64::max);
                    let at = line.parallel(s, distance);
                    // Steps of a two-thousandth of the distance miss the top by so much.
                    let missed = 1e-6 + 4e-6 * reach * (1.0 + at.slope * at.slope).powf(1.5);
                    let off = side * at.offset - most;
                    assert!((-3e-8..missed).contains(&off), "{distance} at {s}: {off} beyond {missed}");
                    ways[usize::from(line.bends_more(s - reach, s + reach, 0.9 / reach))] += 1;
                }
            }
        }
        assert!(ways.iter().all(|count| *count > 200), "both ways are gone: {ways:?}");
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

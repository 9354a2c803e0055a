//! A saw line: a chain of cubic Béziers that never runs back.

mod bends;
mod build;
mod cubic;
mod error;
mod marks;
mod mirror;
mod parallel;
mod spot;

use kurbo::{BezPath, CubicBez, ParamCurve, ParamCurveArclen};

use crate::Point;
use crate::once::Once;
use crate::polynomial::{horner, unit_roots};

pub(crate) use build::between;
pub(crate) use cubic::{Rates, parameter_at, rates};
pub use error::SawLineError;
pub use marks::{LineMark, MarkKind, Quill};

use bends::Turns;
use build::{check, check_steepness};
use cubic::{bezier, bounds, minus, power, straight, subdivide};
pub(crate) use spot::Spot;

/// The most points a line may have.
pub const MAX_POINTS: usize = 2000;

/// The steepest a saw line may be, offset per length (76 degrees from the grain). Beyond it the kerf takes more than
/// four times its width across the blank, and a radius along the leg says nothing any more.
pub const MAX_SLOPE: f64 = 4.0;

/// The least distance along the leg between two points, mm: a pencil line's width.
pub const MIN_GAP_MM: f64 = 0.1;

/// A stretch too short to have a direction, mm; far below what any saw or eye tells.
const NO_STRETCH_MM: f64 = 1e-9;

/// A saw line ready to be measured: offset as a function of the distance from the top. Before its first point and
/// beyond its last it is carried straight on.
#[derive(Clone, Debug, PartialEq)]
pub struct SawLine {
    /// In order along the leg; covers at least 0..=length. x of kurbo is s, y is the offset.
    segments: Vec<CubicBez>,
    /// The end of each segment, for searching.
    ends: Vec<f64>,
    length_mm: f64,
    sharp: Option<f64>,
    /// With which the line is carried on before the first point and beyond the last.
    slopes_beyond: [f64; 2],
    /// Over the finished length; kept, because almost every figure of a leg asks for it.
    extent: Extent,
    /// Where it turns back, and where it bends most: solved when they are first asked for, and for all who ask.
    crests: Once<Vec<f64>>,
    turns: Once<Turns>,
}

/// A line at one distance from the top.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LineAt {
    /// Offset, mm.
    pub offset: f64,
    /// d offset / d s.
    pub slope: f64,
    /// d² offset / d s² over (1 + slope²)^1.5, per mm, with the sign of the second derivative.
    pub curvature: f64,
}

/// The least and the most offset over the finished length, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Extent {
    /// Least offset, mm.
    pub least: f64,
    /// Most offset, mm.
    pub most: f64,
}

impl Extent {
    const NONE: Extent = Extent { least: f64::INFINITY, most: f64::NEG_INFINITY };
}

/// The tightest bend of a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bend {
    /// Its radius, mm.
    pub radius_mm: f64,
    /// Where, from the top, mm.
    pub s_mm: f64,
}

impl SawLine {
    /// The line through `points`, over a leg of `length_mm`. Handles that reach past the next point or past one another
    /// are shortened so that every control polygon is monotone along the leg.
    ///
    /// # Errors
    /// [`SawLineError`] names the point that does not fit.
    pub fn from_points(points: &[Point], length_mm: f64) -> Result<SawLine, SawLineError> {
        check(points)?;
        let mut segments = Vec::with_capacity(points.len() + 1);
        for pair in points.windows(2) {
            let segment = between(&pair[0], &pair[1]);
            check_steepness(&segment, pair)?;
            segments.push(segment);
        }
        let (first, last) = (&points[0], &points[points.len() - 1]);
        let ((slope_before, _), (slope_after, _)) = (first.kind.before(), last.kind.after());
        for (point, slope) in [(first, slope_before), (last, slope_after)] {
            if slope.abs() > MAX_SLOPE {
                return Err(SawLineError::TooSteep { point: point.id, s_mm: point.from_top.mm(), slope: slope.abs() });
            }
        }
        let (from, to) = (first.from_top.mm(), last.from_top.mm());
        if from > NO_STRETCH_MM {
            segments.insert(0, straight(from.min(0.0), from, first.offset.mm() - slope_before * from, slope_before));
        }
        if to < length_mm - NO_STRETCH_MM {
            segments.push(straight(to, length_mm, last.offset.mm(), slope_after));
        }
        let ends = segments.iter().map(|segment| segment.p3.x).collect();
        let sharp = points.iter().find(|p| p.kind.is_sharp()).map(|p| p.from_top.mm());
        let slopes_beyond = [slope_before, slope_after];
        let mut line = SawLine {
            segments,
            ends,
            length_mm,
            sharp,
            slopes_beyond,
            extent: Extent::NONE,
            crests: Once::default(),
            turns: Once::default(),
        };
        for segment in line.finished_segments() {
            let part = bounds(&segment);
            let Extent { least, most } = line.extent;
            line.extent = Extent { least: least.min(part.least), most: most.max(part.most) };
        }
        Ok(line)
    }

    /// The finished length that the line was made for, mm.
    pub fn length_mm(&self) -> f64 {
        self.length_mm
    }

    /// Offset at `s`, mm.
    pub fn offset(&self, s: f64) -> f64 {
        match self.locate(s, self.ends.partition_point(|end| *end < s)) {
            Located::Straight { offset, .. } => offset,
            Located::On(segment, t) => bezier(segment.p0.y, segment.p1.y, segment.p2.y, segment.p3.y, t),
        }
    }

    /// Offset, slope and curvature at `s`; at the sharp point, of the part toward the top.
    pub fn at(&self, s: f64) -> LineAt {
        self.measure(s, self.ends.partition_point(|end| *end < s))
    }

    /// Offset, slope and curvature at `s`; at the sharp point, of the part toward the foot.
    pub fn at_after(&self, s: f64) -> LineAt {
        self.measure(s, self.ends.partition_point(|end| *end <= s))
    }

    fn measure(&self, s: f64, index: usize) -> LineAt {
        match self.locate(s, index) {
            Located::Straight { offset, slope } => LineAt { offset, slope, curvature: 0.0 },
            Located::On(segment, t) => measured(segment, &rates(segment), t),
        }
    }

    fn locate(&self, s: f64, index: usize) -> Located<'_> {
        let (first, last) = (&self.segments[0], &self.segments[self.segments.len() - 1]);
        if s < first.p0.x {
            let slope = self.slopes_beyond[0];
            return Located::Straight { offset: first.p0.y + slope * (s - first.p0.x), slope };
        }
        if s > last.p3.x {
            let slope = self.slopes_beyond[1];
            return Located::Straight { offset: last.p3.y + slope * (s - last.p3.x), slope };
        }
        let segment = &self.segments[index.min(self.segments.len() - 1)];
        Located::On(segment, parameter_at(segment, s))
    }

    /// The chain, x = s and y = offset, from the first point or the top, whichever comes first, to the last point or
    /// the foot, whichever comes last.
    pub fn segments(&self) -> &[CubicBez] {
        &self.segments
    }

    /// Where the sharp point is, mm from the top.
    pub fn sharp_point(&self) -> Option<f64> {
        self.sharp
    }

    /// The chain over the finished length, 0 to L.
    pub fn finished_segments(&self) -> Vec<CubicBez> {
        let mut parts = Vec::with_capacity(self.segments.len());
        for segment in &self.segments {
            let (from, to) = (segment.p0.x.max(0.0), segment.p3.x.min(self.length_mm));
            if to - from <= NO_STRETCH_MM {
                continue;
            }
            let mut part = *segment;
            if from > segment.p0.x || to < segment.p3.x {
                part = segment.subsegment(parameter_at(segment, from)..parameter_at(segment, to));
                part.p0.x = from;
                part.p3.x = to;
            }
            parts.push(part);
        }
        // A first or last point a hair inside the leg still leaves a line from end to end.
        if let Some(first) = parts.first_mut() {
            first.p0.x = 0.0;
        }
        if let Some(last) = parts.last_mut() {
            last.p3.x = self.length_mm;
        }
        parts
    }

    /// The chain over the finished length, held within `lo_mm..=hi_mm`: split exactly where the line crosses either
    /// bound, and straight along the bound beyond it.
    pub fn pieces_within(&self, lo_mm: f64, hi_mm: f64) -> Vec<CubicBez> {
        let mut parts = Vec::new();
        for segment in self.finished_segments() {
            let bounds = bounds(&segment);
            if bounds.least >= lo_mm && bounds.most <= hi_mm {
                parts.push(segment);
                continue;
            }
            let mut cuts = vec![0.0, 1.0];
            for bound in [lo_mm, hi_mm] {
                cuts.extend(unit_roots(&minus(&power(segment.p0.y, segment.p1.y, segment.p2.y, segment.p3.y), bound)));
            }
            cuts.sort_by(f64::total_cmp);
            for pair in cuts.windows(2).filter(|pair| pair[1] - pair[0] > 1e-14) {
                let part = segment.subsegment(pair[0]..pair[1]);
                let middle = part.eval(0.5).y;
                if part.p3.x - part.p0.x <= 0.0 {
                    continue;
                }
                parts.push(match middle {
                    m if m < lo_mm => straight(part.p0.x, part.p3.x, lo_mm, 0.0),
                    m if m > hi_mm => straight(part.p0.x, part.p3.x, hi_mm, 0.0),
                    _ => part,
                });
            }
        }
        // Neighbours share their joint to the last bit, so that a search along the leg finds no gap.
        for i in 1..parts.len() {
            parts[i].p0.x = parts[i - 1].p3.x;
        }
        parts
    }

    /// Where the line crosses `bound_mm` over the finished length, in order, mm from the top.
    pub fn crossings(&self, bound_mm: f64) -> Vec<f64> {
        let mut found: Vec<f64> = Vec::new();
        for segment in self.finished_segments() {
            let c = minus(&power(segment.p0.y, segment.p1.y, segment.p2.y, segment.p3.y), bound_mm);
            for t in unit_roots(&c) {
                let s = segment.eval(t).x;
                if found.last().is_none_or(|last| s - last > 1e-9) {
                    found.push(s);
                }
            }
        }
        found
    }

    /// The least and the most offset over the finished length, exactly.
    pub fn extent(&self) -> Extent {
        self.extent
    }

    /// The tightest bend over the finished length: the greatest curvature of any of the cubics, at its own continuous
    /// extremum or at an end. None for a straight line. The sharp point itself is no bend.
    pub fn tightest(&self) -> Option<Bend> {
        self.turns().tightest
    }

    /// Stations along the finished length, both ends and every joint among them, between which the straight chord stays
    /// within `tolerance_mm` of the line, measured across the blank. Closer where the line bends more.
    pub fn stations(&self, tolerance_mm: f64) -> Vec<f64> {
        let tolerance = tolerance_mm.max(1e-6);
        let mut stations = vec![0.0];
        for segment in self.finished_segments() {
            subdivide(&segment, tolerance, 24, &mut stations);
        }
        stations
    }

    /// The drawn line from `from_s` to `to_s`, straight beyond its points; x is s and y the offset.
    pub fn path(&self, from_s: f64, to_s: f64) -> BezPath {
        let mut path = BezPath::new();
        path.move_to((from_s, self.offset(from_s)));
        if let Some(first) = self.segments.first().filter(|first| from_s < first.p0.x) {
            path.line_to(first.p0);
        }
        for segment in &self.segments {
            let (from, to) = (segment.p0.x.max(from_s), segment.p3.x.min(to_s));
            if to <= from {
                continue;
            }
            let part = if from > segment.p0.x || to < segment.p3.x {
                segment.subsegment(parameter_at(segment, from)..parameter_at(segment, to))
            } else {
                *segment
            };
            path.curve_to(part.p1, part.p2, part.p3);
        }
        if self.segments.last().is_some_and(|last| to_s > last.p3.x) {
            path.line_to((to_s, self.offset(to_s)));
        }
        path
    }

    /// Length along the line over the finished length, mm, to `accuracy` mm.
    pub fn arc_length(&self, accuracy: f64) -> f64 {
        let segments = self.finished_segments();
        let each = accuracy / segments.len().max(1) as f64;
        segments.iter().map(|segment| segment.arclen(each)).sum()
    }

    /// The cubic that holds `s` and the parameter of `s` on it; None where the line is carried straight on.
    pub fn cubic_at(&self, s: f64) -> Option<(CubicBez, f64)> {
        match self.locate(s, self.ends.partition_point(|end| *end < s)) {
            Located::On(segment, t) => Some((*segment, t)),
            Located::Straight { .. } => None,
        }
    }
}

/// Offset, slope and curvature of a cubic, whose rates the caller has.
fn measured(segment: &CubicBez, Rates { ds, dc, dds, ddc }: &Rates, t: f64) -> LineAt {
    let (s1, c1, s2, c2) = (horner(ds, t), horner(dc, t), horner(dds, t), horner(ddc, t));
    let square = s1 * s1 + c1 * c1;
    LineAt {
        offset: bezier(segment.p0.y, segment.p1.y, segment.p2.y, segment.p3.y, t),
        slope: c1 / s1,
        curvature: (s1 * c2 - c1 * s2) / (square * square.sqrt()),
    }
}

enum Located<'a> {
    Straight { offset: f64, slope: f64 },
    On(&'a CubicBez, f64),
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{PointId, PointKind};
    use approx::assert_relative_eq;

    fn wave() -> SawLine {
        SawLine::from_points(
            &[
                Point::smooth(1, 0.0, 25.0, 0.1, 0.0, 60.0),
                Point::smooth(2, 200.0, 34.0, 0.0, 70.0, 60.0),
                Point::smooth(3, 500.0, 15.0, 0.0, 100.0, 90.0),
                Point::smooth(4, 700.0, 25.0, 0.05, 50.0, 0.0),
            ],
            700.0,
        )
        .unwrap()
    }

    #[test]
    fn offset_slope_and_curvature_agree_with_finite_differences() {
        let line = wave();
        for i in 1..350 {
            let s = f64::from(i) * 2.0 + 0.37;
            let h = 1e-3;
            let (before, at, after) = (line.offset(s - h), line.at(s), line.offset(s + h));
            if [200.0, 500.0].iter().any(|joint| (s - joint).abs() < 2.0 * h) {
                continue;
            }
            assert_relative_eq!(at.slope, (after - before) / (2.0 * h), epsilon = 1e-7);
            let second = (after - 2.0 * at.offset + before) / (h * h);
            assert_relative_eq!(at.curvature, second / (1.0 + at.slope * at.slope).powf(1.5), epsilon = 1e-6);
        }
    }

    #[test]
    fn offset_is_exact_on_the_cubic() {
        let line = wave();
        for segment in line.segments() {
            for i in 0..=100 {
                let on = segment.eval(f64::from(i) / 100.0);
                assert_relative_eq!(line.offset(on.x), on.y, epsilon = 1e-11);
            }
        }
    }

    #[test]
    fn the_tightest_bend_is_the_tightest_of_all() {
        let line = wave();
        let bend = line.tightest().unwrap();
        // Curvature jumps at a joint, so both sides count.
        let densest = (0..=70_000)
            .map(|i| f64::from(i) * 0.01)
            .map(|s| line.at(s).curvature.abs().max(line.at_after(s).curvature.abs()))
            .fold(0.0, f64::max);
        assert!(1.0 / bend.radius_mm >= densest - 1e-12);
        assert_relative_eq!(1.0 / bend.radius_mm, densest, max_relative = 1e-6);
    }

    #[test]
    fn extent_holds_every_offset_and_is_reached() {
        let line = wave();
        let extent = line.extent();
        let offsets: Vec<f64> = (0..=70_000).map(|i| line.offset(f64::from(i) * 0.01)).collect();
        let least = offsets.iter().copied().fold(f64::INFINITY, f64::min);
        let most = offsets.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        assert!(extent.least <= least && extent.most >= most);
        assert_relative_eq!(extent.least, least, epsilon = 1e-6);
        assert_relative_eq!(extent.most, most, epsilon = 1e-6);
    }

    #[test]
    fn chords_between_stations_stay_within_every_tolerance() {
        let line = wave();
        let mut counts = Vec::new();
        for tolerance in [1.0, 0.1, 0.01, 0.001] {
            let stations = line.stations(tolerance);
            for pair in stations.windows(2) {
                assert!(pair[1] > pair[0]);
                let (from, to) = (line.offset(pair[0]), line.offset(pair[1]));
                for i in 0..=20 {
                    let share = f64::from(i) / 20.0;
                    let s = pair[0] + share * (pair[1] - pair[0]);
                    assert!((line.offset(s) - (from + share * (to - from))).abs() <= tolerance * (1.0 + 1e-9));
                }
            }
            counts.push(stations.len());
        }
        // A chord's miss falls with the square of its length, so a hundredth of it takes about ten times the stations.
        let growth = counts[3] as f64 / counts[1] as f64;
        assert!((6.0..16.0).contains(&growth), "{counts:?}");
    }

    #[test]
    fn the_line_is_carried_straight_on() {
        let line = SawLine::from_points(
            &[Point::smooth(1, 30.0, 25.0, 0.1, 0.0, 60.0), Point::smooth(2, 600.0, 30.0, -0.2, 70.0, 60.0)],
            700.0,
        )
        .unwrap();
        assert_relative_eq!(line.offset(-20.0), 20.0, epsilon = 1e-12);
        assert_relative_eq!(line.offset(0.0), 22.0, epsilon = 1e-12);
        assert_relative_eq!(line.offset(700.0), 10.0, epsilon = 1e-12);
        assert_relative_eq!(line.offset(720.0), 6.0, epsilon = 1e-12);
        assert_relative_eq!(line.at(720.0).slope, -0.2, epsilon = 1e-12);
    }

    #[test]
    fn a_sharp_point_at_either_end_is_left_with_the_slope_beyond_it() {
        let sharp = |id, s| Point {
            kind: PointKind::Sharp { slope_before: 0.1, before_mm: 30.0, slope_after: -0.2, after_mm: 30.0 },
            ..Point::smooth(id, s, 25.0, 0.0, 30.0, 30.0)
        };
        let smooth = |id, s| Point::smooth(id, s, 25.0, 0.0, 30.0, 30.0);
        let foot = SawLine::from_points(&[smooth(1, 0.0), sharp(2, 100.0)], 100.0).unwrap();
        assert_relative_eq!(foot.offset(110.0), 23.0, epsilon = 1e-12);
        assert_relative_eq!(foot.at(100.0).slope, 0.1, epsilon = 1e-12);
        let top = SawLine::from_points(&[sharp(1, 0.0), smooth(2, 100.0)], 100.0).unwrap();
        assert_relative_eq!(top.offset(-10.0), 24.0, epsilon = 1e-12);
        assert_relative_eq!(top.at_after(0.0).slope, -0.2, epsilon = 1e-12);
    }

    #[test]
    fn held_within_the_blank_the_line_is_the_clamped_line() {
        let line = wave();
        let parts = line.pieces_within(18.0, 31.0);
        assert_relative_eq!(parts[0].p0.x, 0.0);
        assert_relative_eq!(parts[parts.len() - 1].p3.x, 700.0);
        for pair in parts.windows(2) {
            assert_eq!(pair[0].p3.x, pair[1].p0.x);
        }
        let mut held = 0;
        for part in &parts {
            for i in 0..=50 {
                let on = part.eval(f64::from(i) / 50.0);
                assert_relative_eq!(on.y, line.offset(on.x).clamp(18.0, 31.0), epsilon = 1e-9);
                held += u32::from(on.y == 18.0 || on.y == 31.0);
            }
        }
        assert!(held > 50, "the wave leaves 18..31 on both sides");
        assert_eq!(line.crossings(18.0).len(), 2);
        assert_eq!(line.crossings(31.0).len(), 2);
    }

    #[test]
    fn handles_that_would_run_back_are_shortened() {
        let line = SawLine::from_points(
            &[Point::smooth(1, 0.0, 20.0, 0.5, 0.0, 5000.0), Point::smooth(2, 100.0, 30.0, 0.5, 5000.0, 0.0)],
            100.0,
        )
        .unwrap();
        let c = line.segments()[0];
        assert!(c.p0.x <= c.p1.x && c.p1.x <= c.p2.x + 1e-9 && c.p2.x <= c.p3.x);
        assert!(line.at(50.0).slope.is_finite());
    }

    #[test]
    fn what_is_no_saw_line_is_named() {
        let smooth = |id, s, c| Point::smooth(id, s, c, 0.0, 10.0, 10.0);
        let sharp = |id, s, c| Point {
            kind: PointKind::Sharp { slope_before: 0.0, before_mm: 10.0, slope_after: 0.2, after_mm: 10.0 },
            ..smooth(id, s, c)
        };
        let made = |points: &[Point]| SawLine::from_points(points, 100.0);
        assert_eq!(made(&[]), Err(SawLineError::TooFew(0)));
        let back = made(&[smooth(1, 0.0, 20.0), smooth(2, 50.0, 20.0), smooth(3, 40.0, 20.0)]);
        assert_eq!(back, Err(SawLineError::RunsBack { point: PointId(3), at_mm: 40.0, before_mm: 50.0 }));
        let two = made(&[smooth(1, 0.0, 20.0), sharp(2, 50.0, 20.0), sharp(3, 80.0, 20.0)]);
        assert_eq!(two, Err(SawLineError::TwoSharp { first: PointId(2), second: PointId(3) }));
        assert_eq!(made(&[smooth(7, 0.0, 20.0), smooth(7, 50.0, 20.0)]), Err(SawLineError::SameId(PointId(7))));
        assert!(matches!(
            made(&[smooth(1, 0.0, f64::NAN), smooth(2, 50.0, 20.0)]),
            Err(SawLineError::NotSound { point: PointId(1), .. })
        ));
        assert!(matches!(
            made(&[smooth(1, 0.0, 0.0), smooth(2, 5.0, 40.0)]),
            Err(SawLineError::TooSteep { slope, .. }) if slope > 4.0
        ));
        let many: Vec<Point> = (0..3000).map(|i| smooth(i, f64::from(i), 20.0)).collect();
        assert_eq!(made(&many), Err(SawLineError::TooMany(3000)));
    }

    #[test]
    fn a_straight_line_has_no_tightest_bend_and_a_sharp_point_is_none() {
        let line = SawLine::from_points(
            &[
                Point::smooth(1, 0.0, 25.0, 0.0, 0.0, 10.0),
                Point {
                    kind: PointKind::Sharp { slope_before: 0.0, before_mm: 20.0, slope_after: 0.1, after_mm: 20.0 },
                    ..Point::smooth(2, 50.0, 25.0, 0.0, 0.0, 0.0)
                },
                Point::smooth(3, 100.0, 30.0, 0.1, 20.0, 0.0),
            ],
            100.0,
        )
        .unwrap();
        assert_eq!(line.tightest(), None);
        assert_eq!(line.sharp_point(), Some(50.0));
        assert_relative_eq!(line.at(50.0).slope, 0.0);
        assert_relative_eq!(line.at_after(50.0).slope, 0.1, epsilon = 1e-12);
    }
}

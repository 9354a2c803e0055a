//! What an eye for fairness looks for on a line: crests, flats, inflections, and the comb of its bends.

use kurbo::{CubicBez, ParamCurve};

use super::cubic::{Rates, difference, rates, trimmed};
use super::{LineAt, SawLine};
use crate::polynomial::{horner, product, unit_roots};

/// Below a millionth per metre a line is straight, and below a millionth of a millimetre per metre it is level: neither
/// saw nor eye tells more, and rounding is far less.
const NOTHING: f64 = 1e-9;

/// Joints closer than this are one place, mm.
const SAME_PLACE_MM: f64 = 1e-6;

/// What is marked on a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MarkKind {
    /// The offset is greatest of all places beside it.
    CrestFar,
    /// The offset is least of all places beside it.
    CrestNear,
    /// The line is straight: over a stretch, or at one place where it goes on bending the same way.
    Flat,
    /// The line begins to bend the other way.
    Inflection,
}

/// A place or a stretch of a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LineMark {
    /// What it is.
    pub kind: MarkKind,
    /// Where it begins, mm from the top.
    pub from_mm: f64,
    /// Where it ends, mm from the top; where it begins, at a single place.
    pub to_mm: f64,
}

impl LineMark {
    /// Its middle, mm from the top.
    pub fn middle_mm(&self) -> f64 {
        f64::midpoint(self.from_mm, self.to_mm)
    }
}

/// One quill of a fairness comb.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quill {
    /// Where it stands, mm from the top.
    pub s_mm: f64,
    /// The line there.
    pub at: LineAt,
}

impl Quill {
    /// Its tip, mm from the top and across: square to the line, on the outside of the bend, `scale_mm2` times the
    /// curvature long.
    pub fn tip(&self, scale_mm2: f64) -> [f64; 2] {
        let long = scale_mm2 * self.at.curvature / (1.0 + self.at.slope * self.at.slope).sqrt();
        [self.s_mm + long * self.at.slope, self.at.offset - long]
    }
}

/// A stretch over which a quantity keeps its sign; 0 where it is nothing.
struct Run {
    from: f64,
    to: f64,
    sign: f64,
    /// Whether the quantity comes to nothing at the beginning and at the end.
    fades: [bool; 2],
}

impl SawLine {
    /// Crests, flats and inflections over the finished length, each kind in order from the top. They are the roots of
    /// the slope and of the curvature of each cubic, found to the last few bits, and the joints where these change sign
    /// at once. What lies at the ends of the leg is left out, and so is a flat that is the whole line.
    pub fn marks(&self) -> Vec<LineMark> {
        let segments = self.finished_segments();
        let mut marks = crests(&runs(&segments, slope), self.length_mm);
        let bends = runs(&segments, curvature);
        marks.extend(bends.iter().filter(|run| run.sign == 0.0).filter_map(|run| {
            let whole = run.from <= 0.0 && run.to >= self.length_mm;
            (!whole).then_some(LineMark { kind: MarkKind::Flat, from_mm: run.from, to_mm: run.to })
        }));
        for pair in bends.windows(2) {
            let s = pair[1].from;
            // At the sharp point the line does not bend the other way, it is another line.
            let sharp = self.sharp.is_some_and(|sharp| (sharp - s).abs() < SAME_PLACE_MM);
            let kind = match pair[0].sign * pair[1].sign {
                turns if turns < 0.0 => MarkKind::Inflection,
                same if same > 0.0 && pair[0].fades[1] && pair[1].fades[0] => MarkKind::Flat,
                _ => continue,
            };
            if !sharp {
                marks.push(LineMark { kind, from_mm: s, to_mm: s });
            }
        }
        marks
    }

    /// Where the line turns from one way to the other over the finished length, mm from the top, in order; of a level
    /// crest, both its ends.
    pub fn crests(&self) -> Vec<f64> {
        let solve = || {
            let mut found = Vec::new();
            for crest in crests(&runs(&self.finished_segments(), slope), self.length_mm) {
                found.push(crest.from_mm);
                if crest.to_mm > crest.from_mm {
                    found.push(crest.to_mm);
                }
            }
            found
        };
        self.crests.get(solve).clone()
    }

    /// The quills of a fairness comb between two distances from the top, about `spacing_mm` apart, in order from the
    /// top; none beyond the finished length. Both sides of every joint have one, so that a bend that changes at once
    /// shows as a step.
    pub fn quills(&self, from_mm: f64, to_mm: f64, spacing_mm: f64) -> Vec<Quill> {
        let mut quills = Vec::new();
        for segment in self.finished_segments() {
            let (from, to) = (segment.p0.x.max(from_mm), segment.p3.x.min(to_mm));
            if to <= from {
                continue;
            }
            let parts = ((to - from) / spacing_mm.max(1e-3)).ceil().clamp(1.0, 10_000.0) as u32;
            let Rates { ds, dc, .. } = rates(&segment);
            let (_, bend) = curvature(&segment);
            for i in 0..=parts {
                let s_mm = from + (to - from) * f64::from(i) / f64::from(parts);
                let t = super::parameter_at(&segment, s_mm);
                let slope = horner(&dc, t) / horner(&ds, t);
                quills.push(Quill { s_mm, at: LineAt { offset: segment.eval(t).y, slope, curvature: bend(t) } });
            }
        }
        quills
    }
}

/// A polynomial with the sign of a quantity, and the quantity itself.
type Signed<'a> = (Vec<f64>, Box<dyn Fn(f64) -> f64 + 'a>);

fn slope(segment: &CubicBez) -> Signed<'_> {
    let Rates { ds, dc, .. } = rates(segment);
    (trimmed(dc.to_vec()), Box::new(move |t| horner(&dc, t) / horner(&ds, t)))
}

fn curvature(segment: &CubicBez) -> Signed<'_> {
    let Rates { ds, dc, dds, ddc } = rates(segment);
    // The cubic terms cancel: what is left is a parabola.
    let mut n = difference(&product(&ds, &ddc), &product(&dc, &dds));
    n.truncate(3);
    let of = move |t: f64| {
        let (s1, c1, s2, c2) = (horner(&ds, t), horner(&dc, t), horner(&dds, t), horner(&ddc, t));
        (s1 * c2 - c1 * s2) / (s1 * s1 + c1 * c1).powf(1.5)
    };
    (trimmed(n), Box::new(of))
}

/// The line in stretches over which a quantity keeps its sign. Stretches of one sign are parted where the quantity
/// comes to nothing between them.
fn runs(segments: &[CubicBez], quantity: impl Fn(&CubicBez) -> Signed<'_>) -> Vec<Run> {
    let mut runs: Vec<Run> = Vec::new();
    for segment in segments {
        let (polynomial, value) = quantity(segment);
        let mut stops = unit_roots(&polynomial);
        if let [_, b, a] = polynomial[..] {
            stops.push(-b / (2.0 * a)); // where a parabola that only touches nothing does so
        }
        stops.retain(|t| *t > 0.0 && *t < 1.0);
        stops.extend([0.0, 1.0]);
        stops.sort_by(f64::total_cmp);
        for pair in stops.windows(2).filter(|pair| pair[1] - pair[0] > 1e-12) {
            let inside = [0.02, 0.25, 0.5, 0.75, 0.98].map(|share| value(pair[0] + share * (pair[1] - pair[0])));
            let largest = inside.into_iter().fold(0.0, |most: f64, v| if v.abs() > most.abs() { v } else { most });
            let sign = if largest.abs() <= NOTHING { 0.0 } else { largest.signum() };
            let fades = [pair[0], pair[1]].map(|t| value(t).abs() <= NOTHING);
            let at = |t: f64| match t {
                0.0 => segment.p0.x,
                1.0 => segment.p3.x,
                _ => segment.eval(t).x,
            };
            let next = Run { from: at(pair[0]), to: at(pair[1]), sign, fades };
            match runs.last_mut() {
                Some(last) if last.sign == sign && (sign == 0.0 || !(last.fades[1] && fades[0])) => {
                    (last.to, last.fades[1]) = (next.to, fades[1]);
                }
                _ => runs.push(next),
            }
        }
    }
    runs
}

fn crests(slopes: &[Run], length_mm: f64) -> Vec<LineMark> {
    let mut crests = Vec::new();
    let mut last: Option<&Run> = None;
    for run in slopes.iter().filter(|run| run.sign != 0.0) {
        if let Some(last) = last.filter(|last| last.sign != run.sign) {
            let (from_mm, to_mm) = (last.to, run.from);
            let kind = if last.sign > 0.0 { MarkKind::CrestFar } else { MarkKind::CrestNear };
            if to_mm > SAME_PLACE_MM && from_mm < length_mm - SAME_PLACE_MM {
                crests.push(LineMark { kind, from_mm, to_mm });
            }
        }
        last = Some(run);
    }
    crests
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Line, Point, Shape, ShapeKind};
    use approx::assert_relative_eq;

    fn of(marks: &[LineMark], kind: MarkKind) -> Vec<[f64; 2]> {
        marks.iter().filter(|mark| mark.kind == kind).map(|mark| [mark.from_mm, mark.to_mm]).collect()
    }

    /// The cubic polynomial through two places with two slopes, as two points: handles of a third are even in s.
    fn polynomial(of: impl Fn(f64) -> [f64; 2], at: &[f64]) -> SawLine {
        let points: Vec<Point> = at
            .iter()
            .zip(1..)
            .map(|(s, id)| {
                let before = at.iter().rev().find(|other| *other < s).map_or(1.0, |other| (s - other) / 3.0);
                let after = at.iter().find(|other| *other > s).map_or(1.0, |other| (other - s) / 3.0);
                let [offset, slope] = of(*s);
                Point::smooth(id, *s, offset, slope, before, after)
            })
            .collect();
        SawLine::from_points(&points, at[at.len() - 1]).unwrap()
    }

    #[test]
    fn crests_and_inflection_of_a_cubic_are_those_of_the_closed_form() {
        // c = 25 + k s (s - 280) (s - 700): c' = 0 where 3 s² - 1960 s + 196000 = 0; c'' = 0 at s = 1960 / 6.
        let k = 4e-7;
        let c =
            |s: f64| [25.0 + k * s * (s - 280.0) * (s - 700.0), k * (3.0 * s * s - 2.0 * 980.0 * s + 280.0 * 700.0)];
        let root = (1960.0_f64 * 1960.0 - 4.0 * 3.0 * 196_000.0).sqrt();
        let crests = [(1960.0 - root) / 6.0, (1960.0 + root) / 6.0];
        // Cut anywhere, the line is the same and so are its marks.
        for at in [vec![0.0, 700.0], vec![0.0, 100.0, 326.0, 327.0, 700.0], vec![0.0, crests[0], 1960.0 / 6.0, 700.0]] {
            let marks = polynomial(c, &at).marks();
            let (far, near) = (of(&marks, MarkKind::CrestFar), of(&marks, MarkKind::CrestNear));
            assert_eq!((far.len(), near.len(), of(&marks, MarkKind::Flat).len()), (1, 1, 0), "{marks:?}");
            assert_relative_eq!(far[0][0], crests[0], epsilon = 1e-8);
            assert_relative_eq!(near[0][0], crests[1], epsilon = 1e-8);
            let turns = of(&marks, MarkKind::Inflection);
            assert_eq!(turns.len(), 1, "{marks:?}");
            assert_relative_eq!(turns[0][0], 1960.0 / 6.0, epsilon = 1e-8);
        }
    }

    #[test]
    fn a_bend_that_comes_to_nothing_and_goes_on_the_same_way_is_flat_there() {
        // |s - 300|³: its second derivative 6 |s - 300| touches nothing at 300, where the least offset is too.
        let c = |s: f64| [20.0 + 1e-7 * (s - 300.0).abs().powi(3), 3e-7 * (s - 300.0) * (s - 300.0).abs()];
        let line = polynomial(c, &[0.0, 300.0, 700.0]);
        let marks = line.marks();
        assert_eq!(of(&marks, MarkKind::Flat).len(), 1, "{marks:?}");
        assert_relative_eq!(of(&marks, MarkKind::Flat)[0][0], 300.0, epsilon = 1e-9);
        assert!(of(&marks, MarkKind::Inflection).is_empty());
        assert_eq!(line.crests().len(), 1);
        assert_relative_eq!(line.crests()[0], 300.0, epsilon = 1e-9);
        // (s - 300)³ does change its bend there, and is no crest.
        let odd = polynomial(|s| [20.0 + 1e-7 * (s - 300.0).powi(3), 3e-7 * (s - 300.0).powi(2)], &[0.0, 300.0, 700.0]);
        let marks = odd.marks();
        assert_eq!(marks.len(), 1, "{marks:?}");
        assert_eq!(marks[0].kind, MarkKind::Inflection);
        assert!(odd.crests().is_empty());
    }

    #[test]
    fn the_straight_post_is_a_flat_and_the_sharp_point_no_inflection() {
        let line = Line::Shape(Shape::start(ShapeKind::PostAndKnee, 700.0, 50.0)).solve(700.0, 50.0).unwrap();
        let sharp = line.sharp_point().unwrap();
        let marks = line.marks();
        assert_eq!(of(&marks, MarkKind::Flat)[0], [0.0, sharp]);
        assert!(of(&marks, MarkKind::Inflection).iter().all(|at| (at[0] - sharp).abs() > 1.0));
        let straight = Line::Shape(Shape::start(ShapeKind::Straight, 700.0, 50.0)).solve(700.0, 50.0).unwrap();
        assert!(straight.marks().is_empty(), "{:?}", straight.marks());
    }

    #[test]
    fn every_mark_of_every_shape_is_seen_by_dense_sampling_and_no_other() {
        for kind in ShapeKind::ALL {
            let line = Line::Shape(Shape::start(kind, 700.0, 50.0)).solve(700.0, 50.0).unwrap();
            let signs = |of: &dyn Fn(f64) -> f64| {
                let places = (1..14_000).map(|i| 0.05 * f64::from(i) - 0.0213).map(|s| (s, of(s)));
                let mut turns: Vec<f64> = Vec::new();
                let mut last = 0.0;
                for (s, value) in places.filter(|(_, value)| value.abs() > NOTHING) {
                    if last * value < 0.0 {
                        turns.push(s);
                    }
                    last = value;
                }
                turns
            };
            let marks = line.marks();
            let mut crests: Vec<f64> = marks
                .iter()
                .filter(|m| matches!(m.kind, MarkKind::CrestFar | MarkKind::CrestNear))
                .map(|m| m.to_mm)
                .collect();
            crests.sort_by(f64::total_cmp);
            let seen = signs(&|s| line.at(s).slope);
            assert_eq!(crests.len(), seen.len(), "{kind:?} {crests:?} {seen:?}");
            for (crest, seen) in crests.iter().zip(seen) {
                assert!((crest - seen).abs() < 0.06, "{kind:?}");
            }
            let sharp = line.sharp_point().unwrap_or(-1.0);
            let seen: Vec<f64> =
                signs(&|s| line.at(s).curvature).into_iter().filter(|s| (s - sharp).abs() > 0.1).collect();
            let turns = of(&marks, MarkKind::Inflection);
            assert_eq!(turns.len(), seen.len(), "{kind:?} {turns:?} {seen:?}");
        }
    }

    #[test]
    fn the_comb_of_a_circle_ends_on_a_circle_round_the_same_middle() {
        // Eight cubics of 7.5° each miss a circle by less than a billionth of its radius.
        let (radius, middle) = (600.0, [350.0, 620.0]);
        let at: Vec<f64> = (0..=8).map(|i| f64::from(i) * 87.5).collect();
        let points: Vec<Point> = at
            .iter()
            .enumerate()
            .map(|(i, s)| {
                let deep = (radius * radius - (s - middle[0]) * (s - middle[0])).sqrt();
                let slope = (s - middle[0]) / deep;
                let reach = |other: Option<&f64>| {
                    let Some(other) = other else { return 1.0 };
                    let angle = (((other - middle[0]) / radius).asin() - ((s - middle[0]) / radius).asin()).abs();
                    4.0 / 3.0 * (angle / 4.0).tan() * radius / (1.0 + slope * slope).sqrt()
                };
                let before = reach(i.checked_sub(1).and_then(|i| at.get(i)));
                Point::smooth(1 + i as u32, *s, middle[1] - deep, slope, before, reach(at.get(i + 1)))
            })
            .collect();
        let line = SawLine::from_points(&points, 700.0).unwrap();
        let scale = 9000.0;
        let quills = line.quills(0.0, 700.0, 5.0);
        assert!(quills.len() > 140);
        assert!(line.quills(100.0, 200.0, 5.0).iter().all(|quill| (100.0..=200.0).contains(&quill.s_mm)));
        for quill in &quills {
            assert_relative_eq!(quill.at.curvature, 1.0 / radius, max_relative = 1e-5);
            let tip = quill.tip(scale);
            let out = ((tip[0] - middle[0]).powi(2) + (tip[1] - middle[1]).powi(2)).sqrt();
            assert_relative_eq!(out, radius + scale / radius, epsilon = 1e-3);
        }
    }
}

use kurbo::CubicBez;

use super::bending::bending_of;
use super::distance::stay_within;
use super::{FARTHEST_MM, LineToolError, bending_per_mm, greatest_distance, within};
use crate::saw_line::between;
use crate::{Length, MAX_SLOPE, Point, SawLine};

/// The least tolerance that a line is made fairer within, mm: below it nothing that a saw could follow would change.
const LEAST_TOLERANCE_MM: f64 = 1e-3;

/// How often every number of every point is tried at most, and when to stop: a round that takes less than this share of
/// the bending off is not worth another.
const ROUNDS: usize = 60;
const WORTH: f64 = 1e-4;

/// Tries in all, so that a line of many points is done in time too.
const TRIES: usize = 40_000;

/// How often two neighbours are moved together, in all.
const TOGETHER: usize = 3_000;

/// How exactly bending is found while trying, and for the figures given, as a share of it.
const WHILE_TRYING: f64 = 1e-7;
const GIVEN: f64 = 1e-9;

/// How little of the gap to the next point a handle is left to reach, as a share.
const LEAST_REACH_SHARE: f64 = 0.05;

/// A line made fairer.
#[derive(Clone, Debug, PartialEq)]
pub struct Fairer {
    /// Its points.
    pub points: Vec<Point>,
    /// How much the line did bend, per mm ([`bending_per_mm`]).
    pub bending_before: f64,
    /// How much it bends now; never more.
    pub bending_after: f64,
    /// The farthest that any place of it has moved across the blank, mm; at most the tolerance.
    pub moved_mm: f64,
}

/// The line with less bending, every place of it within `tolerance_mm` (at least 0.001) of where it was, measured across
/// the blank. The first and last point and the sharp point stay, and so do their slopes; offsets and slopes of the
/// others and all reaches may change. All points keep their distance from the top.
///
/// Each number in turn is moved a step either way and stays where the line bends less and keeps within the tolerance;
/// steps grow where that helps and shrink where it does not. Then the numbers of two neighbours are moved together. The
/// same line always gives the same answer. It is not the fairest line there is, but near it: a hundred times as many
/// tries took another 0.3 % of the bending off a wave.
///
/// # Errors
/// [`LineToolError`] when a number is not sound, or the points are no saw line.
pub fn fairer(points: &[Point], length_mm: f64, tolerance_mm: f64) -> Result<Fairer, LineToolError> {
    let length_mm = within("the length in mm", length_mm, 0.0, FARTHEST_MM)?;
    let tolerance_mm = within("the tolerance in mm", tolerance_mm, LEAST_TOLERANCE_MM, FARTHEST_MM)?;
    let was = SawLine::from_points(points, length_mm)?;
    let bending_before = bending_per_mm(&was, GIVEN);
    let mut attempt = Attempt::new(points, tolerance_mm);
    attempt.one_by_one();
    attempt.two_by_two();
    let now = SawLine::from_points(&attempt.points, length_mm)?;
    let bending_after = bending_per_mm(&now, GIVEN);
    let accuracy = 1e-6 * tolerance_mm;
    let moved_mm = greatest_distance(&was, &now, accuracy).mm + accuracy;
    if bending_after < bending_before && moved_mm <= tolerance_mm {
        Ok(Fairer { points: attempt.points, bending_before, bending_after, moved_mm })
    } else {
        Ok(Fairer { points: points.to_vec(), bending_before, bending_after: bending_before, moved_mm: 0.0 })
    }
}

/// A number of a point that may change.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Number {
    Offset,
    Slope,
    Before,
    After,
}

struct Try {
    place: usize,
    number: Number,
    step: f64,
    least_step: f64,
}

/// One number of one point, and how far it is moved.
#[derive(Clone, Copy)]
struct Step {
    place: usize,
    number: Number,
    by: f64,
}

struct Attempt {
    points: Vec<Point>,
    /// The cubics as they were, one from each point to the next.
    was: Vec<CubicBez>,
    /// The bending of each cubic as it is now.
    bending: Vec<f64>,
    tolerance_mm: f64,
}

impl Attempt {
    /// `points` are known to make a line.
    fn new(points: &[Point], tolerance_mm: f64) -> Attempt {
        let was: Vec<CubicBez> = points.windows(2).map(|pair| between(&pair[0], &pair[1])).collect();
        let bending = was.iter().map(|cubic| bending_of(cubic, WHILE_TRYING)).collect();
        let mut points = points.to_vec();
        // Handles that overlapped are taken as the saw follows them, so that each of them has an effect of its own.
        for (place, cubic) in was.iter().enumerate() {
            let (from, to) = (points[place].kind, points[place + 1].kind);
            points[place].kind = from.with_after(from.after().0, cubic.p1.x - cubic.p0.x);
            points[place + 1].kind = to.with_before(to.before().0, cubic.p3.x - cubic.p2.x);
        }
        // A little less than asked for, so that rounding never takes the answer beyond it.
        Attempt { points, was, bending, tolerance_mm: tolerance_mm * (1.0 - 1e-5) }
    }

    /// Moves each number alone, until no step is worth it.
    fn one_by_one(&mut self) {
        let mut tries = self.tries();
        let mut left = TRIES;
        for _ in 0..ROUNDS {
            let before: f64 = self.bending.iter().sum();
            let mut smallest = true;
            for t in &mut tries {
                let better = [t.step, -t.step]
                    .into_iter()
                    .find(|step| self.moved(&[Step { place: t.place, number: t.number, by: *step }]));
                match better {
                    // The way it went is tried first the next time.
                    Some(step) => t.step = 1.6 * step,
                    None => t.step *= 0.4,
                }
                smallest &= t.step.abs() < t.least_step;
                left = left.saturating_sub(2);
            }
            let after: f64 = self.bending.iter().sum();
            if left == 0 || smallest || (before - after < WORTH * before && tries.iter().all(Try::is_fine)) {
                break;
            }
        }
    }

    /// Moves all the numbers of two neighbours at once, in directions by lot. Where the line lies against the tolerance,
    /// no number can move alone, but several together often can.
    fn two_by_two(&mut self) {
        let tries = self.tries();
        let pairs = self.points.len() - 1;
        let mut lot = Lot(1);
        let mut scale = vec![0.1; pairs];
        for round in 0..TOGETHER {
            let pair = round % pairs;
            let by_lot = |t: &Try| Step { place: t.place, number: t.number, by: scale[pair] * t.step * lot.draw() };
            let mut steps: Vec<Step> =
                tries.iter().filter(|t| t.place == pair || t.place == pair + 1).map(by_lot).collect();
            let mut better = self.moved(&steps);
            if !better {
                steps.iter_mut().for_each(|step| step.by = -step.by);
                better = self.moved(&steps);
            }
            scale[pair] = (scale[pair] * if better { 1.5 } else { 0.93 }).max(1e-4);
        }
    }

    /// What may change, with a first step each.
    fn tries(&self) -> Vec<Try> {
        let last = self.points.len() - 1;
        let mut tries = Vec::with_capacity(4 * self.points.len());
        for (place, point) in self.points.iter().enumerate() {
            let gap = |i: usize| self.was[i].p3.x - self.was[i].p0.x;
            let before = (place > 0).then(|| gap(place - 1));
            let after = (place < last).then(|| gap(place));
            let nearest = before.into_iter().chain(after).fold(f64::INFINITY, f64::min);
            let mut may = |number, step: f64| {
                tries.push(Try { place, number, step, least_step: 1e-4 * step });
            };
            if place > 0 && place < last && !point.kind.is_sharp() {
                may(Number::Offset, self.tolerance_mm / 2.0);
                may(Number::Slope, self.tolerance_mm / nearest);
            }
            if let Some(gap) = before {
                may(Number::Before, gap / 10.0);
            }
            if let Some(gap) = after {
                may(Number::After, gap / 10.0);
            }
        }
        tries
    }

    /// Moves some numbers of neighbouring points by a step each, if the line then bends less and keeps within the
    /// tolerance.
    fn moved(&mut self, steps: &[Step]) -> bool {
        let (Some(first), Some(last)) = (steps.first(), steps.last()) else { return false };
        let places = first.place..=last.place;
        let was = self.points[places.clone()].to_vec();
        let beside = first.place.saturating_sub(1)..(last.place + 1).min(self.was.len());
        let mut now = 0.0;
        let then: f64 = self.bending[beside.clone()].iter().sum();
        let mut good = steps.iter().all(|step| self.step(step));
        let mut cubics = Vec::with_capacity(beside.len());
        let mut bending = Vec::with_capacity(beside.len());
        for i in beside.clone() {
            good = good && now < then;
            if good {
                let cubic = between(&self.points[i], &self.points[i + 1]);
                bending.push(bending_of(&cubic, WHILE_TRYING));
                now += bending.last().copied().unwrap_or(0.0);
                cubics.push(cubic);
            }
        }
        good = good
            && now < then * (1.0 - 1e-7)
            && stay_within(&self.was[beside.clone()], &cubics, self.tolerance_mm)
            && SawLine::from_points(&self.points[beside.start..=beside.end], 0.0).is_ok();
        if good {
            self.bending[beside].copy_from_slice(&bending);
        } else {
            self.points[places].clone_from_slice(&was);
        }
        good
    }

    /// Moves one number; false where there is no room for the step.
    fn step(&mut self, step: &Step) -> bool {
        match self.stepped(step.place, step.number, step.by) {
            Some(point) => {
                self.points[step.place] = point;
                true
            }
            None => false,
        }
    }

    /// The point with one number a step further; None where there is no room for the step.
    fn stepped(&self, place: usize, number: Number, step: f64) -> Option<Point> {
        let point = &self.points[place];
        let ((slope, before), (_, after)) = (point.kind.before(), point.kind.after());
        let (slope_after, _) = point.kind.after();
        let reach = |i: usize, was: f64, other: f64| {
            let gap = self.was[i].p3.x - self.was[i].p0.x;
            let least = (LEAST_REACH_SHARE * gap).min(was);
            let to = (was + step).clamp(least, (gap - other).max(was));
            (to != was).then_some(to)
        };
        let kind = match number {
            Number::Offset => {
                return Some(Point { offset: Length::from_mm(point.offset.mm() + step), ..point.clone() });
            }
            Number::Slope => {
                let slope = slope + step;
                if slope.abs() > MAX_SLOPE {
                    return None;
                }
                point.kind.with_before(slope, before)
            }
            Number::Before => {
                let other = self.points[place - 1].kind.after().1;
                point.kind.with_before(slope, reach(place - 1, before, other)?)
            }
            Number::After => {
                let other = self.points[place + 1].kind.before().1;
                point.kind.with_after(slope_after, reach(place, after, other)?)
            }
        };
        Some(Point { kind, ..point.clone() })
    }
}

/// Numbers by lot from -1 to 1, the same ones every time (a linear congruence, Knuth's constants).
struct Lot(u64);

impl Lot {
    fn draw(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 52) as f64 - 1.0
    }
}

impl Try {
    /// Whether its step has become small.
    fn is_fine(&self) -> bool {
        self.step.abs() < 100.0 * self.least_step
    }
}

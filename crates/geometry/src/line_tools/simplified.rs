use kurbo::CubicBez;

use super::distance::stay_within;
use super::{FARTHEST_MM, LineToolError, sound, within};
use crate::saw_line::{between, parameter_at};
use crate::{Point, SawLine};

/// The least tolerance, mm: rounding of a line that was cut in two and is put together again.
const LEAST_TOLERANCE_MM: f64 = 1e-6;

/// Where along a gap the line is compared while handles are fitted.
const SAMPLES: u32 = 16;

/// How often both handles are tried while they are fitted.
const ROUNDS: u32 = 24;

/// The line with fewer points, every place of it within `tolerance_mm` (at least 0.000001) of where it was, measured
/// across the blank. The first and last point and the sharp point stay, and every point that stays keeps its place and
/// slope; reaches change.
///
/// The point that is missed least goes first, with its neighbours' handles fitted to the line as it was at the
/// beginning, until no other can go.
///
/// # Errors
/// [`LineToolError`] when the tolerance is not sound, or the points are no saw line.
pub fn simplified(points: &[Point], tolerance_mm: f64) -> Result<Vec<Point>, LineToolError> {
    let tolerance_mm = within("the tolerance in mm", tolerance_mm, LEAST_TOLERANCE_MM, FARTHEST_MM)?;
    let points = sound(points.to_vec())?;
    let was: Vec<CubicBez> = points.windows(2).map(|pair| between(&pair[0], &pair[1])).collect();
    let mut left: Vec<Left> =
        points.into_iter().enumerate().map(|(index, point)| Left { index, point, without: None }).collect();
    for place in 0..left.len() {
        left[place].without = without(&left, place, &was, tolerance_mm);
    }
    loop {
        let missed = |place: &usize| left[*place].without.as_ref().map(|without| without.miss_mm);
        let least = (0..left.len()).filter(|place| missed(place).is_some()).min_by(|a, b| {
            let key = |place| missed(place).unwrap_or(f64::INFINITY);
            key(a).total_cmp(&key(b))
        });
        let Some(place) = least else { break };
        let Some(gone) = left.remove(place).without else { break };
        let [above, below] = gone.reaches_mm;
        let (last, next) = (left[place - 1].point.kind, left[place].point.kind);
        left[place - 1].point.kind = last.with_after(last.after().0, above);
        left[place].point.kind = next.with_before(next.before().0, below);
        for beside in [place - 1, place] {
            left[beside].without = without(&left, beside, &was, tolerance_mm);
        }
    }
    sound(left.into_iter().map(|left| left.point).collect())
}

/// A point that is still there.
struct Left {
    /// Its place in the line as it was.
    index: usize,
    point: Point,
    /// What becomes of the line without it; None where it has to stay.
    without: Option<Without>,
}

/// A line without one point.
struct Without {
    /// How far it is from the line as it was, as far as samples tell, mm.
    miss_mm: f64,
    /// How far the handles beside the gap reach, mm.
    reaches_mm: [f64; 2],
}

/// The line without the point at `place`, if it keeps within the tolerance.
fn without(left: &[Left], place: usize, was: &[CubicBez], tolerance_mm: f64) -> Option<Without> {
    let (above, gone, below) = (left.get(place.checked_sub(1)?)?, &left[place], left.get(place + 1)?);
    if gone.point.kind.is_sharp() {
        return None;
    }
    let was = &was[above.index..below.index];
    let samples = samples(was);
    let (from, to) = (above.point.from_top.mm(), below.point.from_top.mm());
    let gap = to - from;
    let pair = |[reach_above, reach_below]: [f64; 2]| {
        let (last, next) = (above.point.kind, below.point.kind);
        [
            Point { kind: last.with_after(last.after().0, reach_above), ..above.point.clone() },
            Point { kind: next.with_before(next.before().0, reach_below), ..below.point.clone() },
        ]
    };
    let joined = |reaches| {
        let [last, next] = pair(reaches);
        between(&last, &next)
    };
    let miss = |reaches| {
        let cubic = joined(reaches);
        samples.iter().map(|[s, offset]| (offset_at(&cubic, *s) - offset).abs()).fold(0.0, f64::max)
    };
    // A point that was added to a cubic divided its handles in the proportion in which its own two reach.
    let ((_, before), (_, after)) = (gone.point.kind.before(), gone.point.kind.after());
    let (reach_above, reach_below) = (above.point.kind.after().1, below.point.kind.before().1);
    let share = (before / (before + after)).clamp(1e-6, 1.0 - 1e-6);
    let share = if share.is_finite() { share } else { 0.5 };
    let undone = [reach_above / share, reach_below / (1.0 - share)].map(|reach| reach.min(gap));
    // A handle shorter than a hundredth of the gap is not fitted, but one that was there is put back.
    let least = undone.map(|reach| reach.min(0.01 * gap));
    let mut best = Without { miss_mm: miss(undone), reaches_mm: undone };
    let mut step = gap / 12.0;
    for _ in 0..ROUNDS {
        if best.miss_mm <= 1e-3 * tolerance_mm {
            break;
        }
        let [a, b] = best.reaches_mm;
        let ways =
            [[a + step, b], [a - step, b], [a, b + step], [a, b - step], [a + step, b + step], [a - step, b - step]];
        let fits = |[a, b]: &[f64; 2]| *a >= least[0] && *b >= least[1] && a + b <= gap;
        let better = ways
            .into_iter()
            .filter(fits)
            .map(|reaches_mm| Without { miss_mm: miss(reaches_mm), reaches_mm })
            .min_by(|a, b| a.miss_mm.total_cmp(&b.miss_mm));
        match better {
            Some(better) if better.miss_mm < best.miss_mm => best = better,
            _ => step /= 2.0,
        }
    }
    // Samples may miss something; this does not.
    let good = best.miss_mm <= tolerance_mm
        && stay_within(was, &[joined(best.reaches_mm)], tolerance_mm)
        && SawLine::from_points(&pair(best.reaches_mm), 0.0).is_ok();
    good.then_some(best)
}

/// Places of the line from one end of the chain to the other, mm along and across.
fn samples(chain: &[CubicBez]) -> Vec<[f64; 2]> {
    let (Some(first), Some(last)) = (chain.first(), chain.last()) else { return Vec::new() };
    let (from, to) = (first.p0.x, last.p3.x);
    let at = |i: u32| from + (to - from) * f64::from(i) / f64::from(SAMPLES);
    (1..SAMPLES)
        .map(at)
        .map(|s| {
            let cubic = &chain[chain.partition_point(|cubic| cubic.p3.x < s).min(chain.len() - 1)];
            [s, offset_at(cubic, s)]
        })
        .collect()
}

fn offset_at(cubic: &CubicBez, s: f64) -> f64 {
    kurbo::ParamCurve::eval(cubic, parameter_at(cubic, s)).y
}

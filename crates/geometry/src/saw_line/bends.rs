//! The bends of a saw line, one for each place where it bends more than beside it.

use kurbo::{CubicBez, ParamCurve};

use super::cubic::{Rates, derivative, difference, rates, trimmed};
use super::{Bend, SawLine};
use crate::polynomial::{horner, product, unit_roots};

/// Below a millionth per metre a line is straight: its radius is beyond a thousand kilometres.
const STRAIGHT_PER_MM: f64 = 1e-9;

/// Bends nearer to one another than this are one, mm.
const SAME_BEND_MM: f64 = 1e-3;

/// The parameters at which a cubic's curvature turns, and its two ends, with the curvature there, per mm, signed.
fn curvature_extrema(segment: &CubicBez) -> impl Iterator<Item = (f64, f64)> + use<> {
    let Rates { ds, dc, dds, ddc } = rates(segment);
    // κ = N / Q^1.5, so κ' = 0 where N' Q = 1.5 N Q'.
    let n = difference(&product(&ds, &ddc), &product(&dc, &dds));
    let q = difference(&product(&ds, &ds), &product(&dc, &dc).iter().map(|k| -k).collect::<Vec<_>>());
    let left = product(&derivative(&n), &q);
    let right: Vec<f64> = product(&n, &derivative(&q)).iter().map(|k| 1.5 * k).collect();
    let mut stations = unit_roots(&trimmed(difference(&left, &right)));
    stations.extend([0.0, 1.0]);
    stations.into_iter().map(move |t| (t, horner(&n, t) / horner(&q, t).powf(1.5)))
}

/// Where a line bends most.
#[derive(Clone, Debug, Default)]
pub(super) struct Turns {
    /// [`SawLine::bends`]
    bends: Vec<Bend>,
    /// [`SawLine::tightest`]
    pub(super) tightest: Option<Bend>,
    /// (from the top in mm, curvature per mm, signed) at every joint, from either side, and wherever the curvature turns between
    /// two, in order from the top: from one to the next it only grows or only falls.
    all: Vec<(f64, f64)>,
}

impl SawLine {
    /// Every bend over the finished length, in order from the top: the places where the line bends more than just above
    /// and just below. A stretch of one radius is one bend.
    pub fn bends(&self) -> Vec<Bend> {
        self.turns().bends.clone()
    }

    pub(super) fn turns(&self) -> &Turns {
        self.turns.get(|| {
            let mut turns: Vec<(f64, f64)> = Vec::new();
            for segment in self.finished_segments() {
                turns.extend(curvature_extrema(&segment).map(|(t, curvature)| (segment.eval(t).x, curvature)));
            }
            let tightest = tightest(&turns);
            turns.sort_by(|a, b| a.0.total_cmp(&b.0));
            Turns { bends: bends(&turns), tightest, all: turns }
        })
    }

    /// Whether it bends more than `curvature_per_mm` anywhere from `from_mm` to `to_mm`, within the finished length.
    pub(super) fn bends_more(&self, from_mm: f64, to_mm: f64, curvature_per_mm: f64) -> bool {
        let turns = self.turns();
        let more = |curvature: f64| curvature.abs() > curvature_per_mm;
        if turns.tightest.is_none_or(|bend| bend.radius_mm * curvature_per_mm >= 1.0) {
            return false;
        }
        let (first, end) =
            (turns.all.partition_point(|(s, _)| *s < from_mm), turns.all.partition_point(|(s, _)| *s <= to_mm));
        if turns.all[first..end].iter().any(|(_, curvature)| more(*curvature)) {
            return true;
        }
        // Only where the turn beyond an end is so tight can the line be so at that end.
        let beyond = |turn: Option<&(f64, f64)>| turn.is_some_and(|(_, curvature)| more(*curvature));
        beyond(first.checked_sub(1).and_then(|i| turns.all.get(i))) && more(self.at_after(from_mm).curvature)
            || beyond(turns.all.get(end)) && more(self.at(to_mm).curvature)
    }
}

/// The tightest of the places where the curvature turns; the first of those that are as tight.
fn tightest(turns: &[(f64, f64)]) -> Option<Bend> {
    let mut tightest: Option<Bend> = None;
    for &(s_mm, curvature) in turns {
        let curvature = curvature.abs();
        if curvature > STRAIGHT_PER_MM && tightest.is_none_or(|b| curvature > (1.0 + 1e-12) / b.radius_mm) {
            tightest = Some(Bend { radius_mm: 1.0 / curvature, s_mm });
        }
    }
    tightest
}

/// The bends among the places where the curvature turns, which are in order from the top.
fn bends(turns: &[(f64, f64)]) -> Vec<Bend> {
    let mut bends: Vec<Bend> = Vec::new();
    for (i, &(s_mm, curvature)) in turns.iter().enumerate() {
        let beside = |j: Option<usize>| j.and_then(|j| turns.get(j)).map_or(0.0, |turn| turn.1 * curvature.signum());
        let most = curvature.abs() >= beside(i.checked_sub(1)) && curvature.abs() >= beside(i.checked_add(1));
        if curvature.abs() <= STRAIGHT_PER_MM || !most {
            continue;
        }
        let bend = Bend { radius_mm: 1.0 / curvature.abs(), s_mm };
        match bends.last_mut() {
            Some(last) if bend.s_mm - last.s_mm < SAME_BEND_MM => {
                if bend.radius_mm < last.radius_mm {
                    *last = bend;
                }
            }
            _ => bends.push(bend),
        }
    }
    bends
}

#[cfg(test)]
mod tests {
    use crate::{Line, SawLine, Shape};

    fn waves() -> SawLine {
        let shape = Shape::Waves {
            waves: 3,
            swing_top: 10.0.into(),
            swing_foot: 20.0.into(),
            shortening: 0.8,
            aside: 0.0.into(),
        };
        Line::Shape(shape).solve(500.0, 50.0).unwrap()
    }

    /// Against the curvature looked up at many places: stretches before, round and after a bend, with and without its crest.
    #[test]
    fn a_stretch_bends_more_where_any_of_its_places_does() {
        let line = waves();
        let mut seen = [0; 2];
        for i in 0..400 {
            let (from, length) = (f64::from(i) * 1.2, 0.5 + f64::from(i % 7) * 2.0);
            let to = (from + length).min(500.0);
            let most = (0..=400)
                .map(|j| from + (to - from) * f64::from(j) / 400.0)
                .map(|s| line.at(s).curvature.abs().max(line.at_after(s).curvature.abs()))
                .fold(0.0, f64::max);
            for share in [0.5, 0.98, 1.02, 2.0] {
                let more = line.bends_more(from, to, share * most);
                assert_eq!(more, share < 1.0, "{from} to {to}: {share} of {most}");
                seen[usize::from(more)] += 1;
            }
        }
        assert_eq!(seen, [800, 800]);
    }

    #[test]
    fn waves_bend_once_at_every_crest_and_the_tightest_is_among_them() {
        let line = waves();
        let bends = line.bends();
        let crests = line.crests();
        for crest in &crests {
            assert!(bends.iter().any(|bend| (bend.s_mm - crest).abs() < 12.0), "{crest}: {bends:?}");
        }
        let tightest = line.tightest().unwrap();
        let least = bends.iter().map(|bend| bend.radius_mm).fold(f64::INFINITY, f64::min);
        assert!((least - tightest.radius_mm).abs() < 1e-9, "{least} {tightest:?}");
        assert!(bends.windows(2).all(|pair| pair[0].s_mm < pair[1].s_mm));
        assert!(Line::Shape(Shape::Straight { aside: 0.0.into() }).solve(500.0, 50.0).unwrap().bends().is_empty());
    }
}

use kurbo::{CubicBez, ParamCurve};

use crate::SawLine;
use crate::saw_line::parameter_at;

/// The finest accuracy that is tried for, mm: rounding is a hundredth of it.
const FINEST_MM: f64 = 1e-9;

/// The greatest distance between two lines, measured across the blank.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Distance {
    /// How far, mm, without sign: found on the lines at `s_mm`, and nowhere more than the accuracy greater.
    pub mm: f64,
    /// Where, from the top, mm.
    pub s_mm: f64,
}

/// The greatest distance between two lines across the blank, over the finished length (the shorter one, where they
/// differ), to `accuracy_mm` (1e-9 at the finest): no place is farther apart than `mm + accuracy_mm`.
pub fn greatest_distance(one: &SawLine, other: &SawLine, accuracy_mm: f64) -> Distance {
    let (one, other) = (one.finished_segments(), other.finished_segments());
    let mut search = Search { stretches: joint_stretches(&one, &other), best: Distance { mm: 0.0, s_mm: 0.0 } };
    search.run(accuracy_mm.max(FINEST_MM), f64::INFINITY);
    search.best
}

/// Whether two chains over the same part of a leg stay within `tolerance_mm` of each other everywhere. Never says yes
/// wrongly; may say no where they reach it within a millionth.
pub(super) fn stay_within(one: &[CubicBez], other: &[CubicBez], tolerance_mm: f64) -> bool {
    let accuracy = (1e-6 * tolerance_mm).max(FINEST_MM);
    let limit = tolerance_mm - accuracy;
    // Where nothing is farther apart than `limit`, nothing need be found more exactly than that.
    let mut search = Search { stretches: joint_stretches(one, other), best: Distance { mm: limit, s_mm: 0.0 } };
    search.run(accuracy, limit)
}

/// One cubic of either line over the same stretch of the leg.
type Stretch = [CubicBez; 2];

struct Search {
    stretches: Vec<Stretch>,
    best: Distance,
}

impl Search {
    /// Halves every stretch that might hold a distance greater than the best one found by more than `accuracy`. Stops as
    /// soon as one is found above `limit`, and says whether none was, for certain.
    fn run(&mut self, accuracy: f64, limit: f64) -> bool {
        for stretch in &self.stretches {
            for [one, other] in [[stretch[0].p0, stretch[1].p0], [stretch[0].p3, stretch[1].p3]] {
                let mm = (one.y - other.y).abs();
                if mm > self.best.mm {
                    self.best = Distance { mm, s_mm: one.x };
                }
            }
        }
        while let Some(stretch) = self.stretches.pop() {
            if self.best.mm > limit {
                return false;
            }
            if most(&stretch) <= self.best.mm + accuracy {
                continue;
            }
            let [lo, hi] = [stretch[0].p0.x, stretch[0].p3.x];
            let middle = f64::midpoint(lo, hi);
            if middle <= lo || middle >= hi {
                // No place lies between its ends, and those have been looked at.
                continue;
            }
            let cut = stretch.map(|cubic| parameter_at(&cubic, middle));
            let half = |lo: f64, hi: f64, share: [[f64; 2]; 2]| {
                [0, 1].map(|i| over(&stretch[i], share[i][0]..share[i][1], lo, hi))
            };
            let above = half(lo, middle, cut.map(|t| [0.0, t]));
            let below = half(middle, hi, cut.map(|t| [t, 1.0]));
            let mm = (above[0].p3.y - above[1].p3.y).abs();
            if mm > self.best.mm {
                self.best = Distance { mm, s_mm: middle };
            }
            self.stretches.push(below);
            self.stretches.push(above);
        }
        self.best.mm <= limit
    }
}

/// Both chains cut at the joints of either.
fn joint_stretches(one: &[CubicBez], other: &[CubicBez]) -> Vec<Stretch> {
    let mut stretches = Vec::with_capacity(one.len() + other.len());
    let (mut i, mut j) = (0, 0);
    while let (Some(a), Some(b)) = (one.get(i), other.get(j)) {
        let (lo, hi) = (a.p0.x.max(b.p0.x), a.p3.x.min(b.p3.x));
        if hi > lo {
            stretches.push([a, b].map(|cubic| over(cubic, parameter_at(cubic, lo)..parameter_at(cubic, hi), lo, hi)));
        }
        i += usize::from(a.p3.x <= hi);
        j += usize::from(b.p3.x <= hi);
    }
    stretches
}

/// Part of a cubic, its ends set to the last bit.
fn over(cubic: &CubicBez, part: std::ops::Range<f64>, lo: f64, hi: f64) -> CubicBez {
    let mut part = if part == (0.0..1.0) { *cubic } else { cubic.subsegment(part) };
    (part.p0.x, part.p3.x) = (lo, hi);
    part
}

/// No place of the stretch is farther apart than this.
///
/// A cubic leaves its chord by (s - s0)(s1 - s) g(s), and g is nearly constant on a short stretch. So two lines that
/// bend alike are seen to be near each other long before either is straight.
fn most(stretch: &Stretch) -> f64 {
    let [from, to] = [stretch[0].p0.y - stretch[1].p0.y, stretch[0].p3.y - stretch[1].p3.y];
    let width = stretch[0].p3.x - stretch[0].p0.x;
    let bows = stretch.map(|cubic| bow(&cubic));
    // By the larger inner coefficient alone: coarse, but sound whatever the parameter does.
    let coarse = 0.75 * (bows[0].off + bows[1].off);
    let quarter = width * width / 4.0;
    let up = quarter * (bows[0].most - bows[1].least).max(0.0);
    let down = quarter * (bows[1].most - bows[0].least).max(0.0);
    let fine = (from.max(to) + up).max(-from.min(to) + down);
    let coarse = from.abs().max(to.abs()) + coarse;
    // A NaN from a stretch of no width loses against the coarse bound.
    coarse.min(fine)
}

/// How a cubic leaves its chord.
struct Bow {
    /// The larger inner coefficient of the distance, mm.
    off: f64,
    /// The least g, per mm.
    least: f64,
    /// The most g, per mm.
    most: f64,
}

fn bow(cubic: &CubicBez) -> Bow {
    let rise = (cubic.p3.y - cubic.p0.y) / (cubic.p3.x - cubic.p0.x);
    let off = |p: kurbo::Point| p.y - cubic.p0.y - rise * (p.x - cubic.p0.x);
    let (near, far) = (off(cubic.p1), off(cubic.p2));
    // Distance 3 t (1 - t) ((1 - t) near + t far), over s - s0 = t A(t) and s1 - s = (1 - t) B(t).
    let (r1, r2, r3) = (cubic.p1.x - cubic.p0.x, cubic.p2.x - cubic.p0.x, cubic.p3.x - cubic.p0.x);
    let a = [3.0 * r1, 1.5 * r2, r3];
    let b = [r3, 1.5 * (r3 - r1), 3.0 * (r3 - r2)];
    let least = |c: [f64; 3]| c[0].min(c[1]).min(c[2]);
    let most = |c: [f64; 3]| c[0].max(c[1]).max(c[2]);
    let (under, over) = (least(a) * least(b), most(a) * most(b));
    let off = near.abs().max(far.abs());
    if least(a) <= 0.0 || least(b) <= 0.0 {
        return Bow { off, least: f64::NEG_INFINITY, most: f64::INFINITY };
    }
    let (lo, hi) = (3.0 * near.min(far), 3.0 * near.max(far));
    Bow {
        off,
        least: if lo >= 0.0 { lo / over } else { lo / under },
        most: if hi >= 0.0 { hi / under } else { hi / over },
    }
}

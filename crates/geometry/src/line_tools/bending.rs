use kurbo::CubicBez;
use kurbo::common::GAUSS_LEGENDRE_COEFFS_8;

use crate::SawLine;
use crate::polynomial::horner;
use crate::saw_line::{Rates, rates};

/// How often a cubic is halved at most; a handle reaches at least a thousandth of the way, so curvature changes no faster.
const DEEPEST: u32 = 20;

/// Bending that nobody sees or measures, per mm: that of a metre at a radius of a thousand kilometres. Below it there is
/// only rounding, which no halving makes agree.
const NONE_PER_MM: f64 = 1e-15;

/// How much a line bends over its finished length: the integral of curvature squared along the line, per mm; to
/// `accuracy` as a share of itself (1e-10 at the finest). It grows with every bend and most with tight ones: an arc of
/// radius R has its length over R². A straight line has none, and a sharp point itself adds none.
///
/// Gauss's rule of eight points on each cubic, halved until the halves agree with the whole to the accuracy.
pub fn bending_per_mm(line: &SawLine, accuracy: f64) -> f64 {
    line.finished_segments().iter().map(|cubic| bending_of(cubic, accuracy)).sum()
}

/// The same of one cubic.
pub(super) fn bending_of(cubic: &CubicBez, accuracy: f64) -> f64 {
    let rates = rates(cubic);
    halved(&rates, [0.0, 1.0], gauss(&rates, 0.0, 1.0), accuracy.max(1e-10), DEEPEST)
}

fn halved(rates: &Rates, [from, to]: [f64; 2], whole: f64, accuracy: f64, deepest: u32) -> f64 {
    let middle = f64::midpoint(from, to);
    let halves = [gauss(rates, from, middle), gauss(rates, middle, to)];
    let sum = halves[0] + halves[1];
    if deepest == 0 || (sum - whole).abs() <= accuracy * sum + NONE_PER_MM {
        return sum;
    }
    halved(rates, [from, middle], halves[0], accuracy, deepest - 1)
        + halved(rates, [middle, to], halves[1], accuracy, deepest - 1)
}

/// The integral over a part of the parameter: with speed² q and cross product n of velocity and acceleration, curvature²
/// times speed is n² / q^2.5.
fn gauss(rates: &Rates, from: f64, to: f64) -> f64 {
    let half = (to - from) / 2.0;
    let sum: f64 = GAUSS_LEGENDRE_COEFFS_8
        .iter()
        .map(|(weight, at)| {
            let t = from + half * (1.0 + at);
            let (s1, c1) = (horner(&rates.ds, t), horner(&rates.dc, t));
            let n = s1 * horner(&rates.ddc, t) - c1 * horner(&rates.dds, t);
            let q = s1 * s1 + c1 * c1;
            weight * n * n / (q * q * q.sqrt())
        })
        .sum();
    half * sum
}

//! One cubic of a saw line, x = s and y = offset, monotone in s.

use kurbo::{CubicBez, ParamCurve, Point as Place};

use super::Extent;
use crate::polynomial::{MOST, horner, unit_roots};

/// A straight stretch, as a cubic that runs evenly.
pub(super) fn straight(from: f64, to: f64, offset: f64, slope: f64) -> CubicBez {
    let at = |share: f64| Place::new(from + share * (to - from), offset + slope * share * (to - from));
    CubicBez::new(at(0.0), at(1.0 / 3.0), at(2.0 / 3.0), Place::new(to, offset + slope * (to - from)))
}

/// First and second derivatives of both coordinates by the parameter, as polynomials.
pub(crate) struct Rates {
    pub(crate) ds: [f64; 3],
    pub(crate) dc: [f64; 3],
    pub(crate) dds: [f64; 2],
    pub(crate) ddc: [f64; 2],
}

pub(crate) fn rates(c: &CubicBez) -> Rates {
    let first = |p: [f64; 4]| [p[1], 2.0 * p[2], 3.0 * p[3]];
    let second = |d: [f64; 3]| [d[1], 2.0 * d[2]];
    let ds = first(power(c.p0.x, c.p1.x, c.p2.x, c.p3.x));
    let dc = first(power(c.p0.y, c.p1.y, c.p2.y, c.p3.y));
    Rates { ds, dc, dds: second(ds), ddc: second(dc) }
}

/// A cubic's coordinate in powers of the parameter, from its differences so that little is lost.
pub(super) fn power(p0: f64, p1: f64, p2: f64, p3: f64) -> [f64; 4] {
    let (d0, d1, d2) = (p1 - p0, p2 - p1, p3 - p2);
    [p0, 3.0 * d0, 3.0 * (d1 - d0), (d2 - d1) - (d1 - d0)]
}

pub(super) fn minus(c: &[f64; 4], value: f64) -> [f64; 4] {
    [c[0] - value, c[1], c[2], c[3]]
}

pub(super) fn derivative(c: &[f64]) -> Vec<f64> {
    c.iter().enumerate().skip(1).map(|(power, k)| power as f64 * k).collect()
}

pub(super) fn difference(a: &[f64], b: &[f64]) -> Vec<f64> {
    let at = |c: &[f64], i: usize| c.get(i).copied().unwrap_or(0.0);
    (0..a.len().max(b.len())).map(|i| at(a, i) - at(b, i)).collect()
}

/// Without the leading coefficients that cancel to nothing but rounding.
pub(super) fn trimmed(mut c: Vec<f64>) -> Vec<f64> {
    let most = c.iter().fold(0.0_f64, |most, k| most.max(k.abs()));
    while c.last().is_some_and(|k| k.abs() <= 1e-13 * most) {
        c.pop();
    }
    c.truncate(MOST);
    c
}

pub(super) fn bezier(p0: f64, p1: f64, p2: f64, p3: f64, t: f64) -> f64 {
    let m = 1.0 - t;
    m * m * m * p0 + 3.0 * m * m * t * p1 + 3.0 * m * t * t * p2 + t * t * t * p3
}

/// The parameter at which a cubic monotone in s reaches `s`: Newton's method, kept inside a shrinking bracket.
pub(crate) fn parameter_at(segment: &CubicBez, s: f64) -> f64 {
    let span = segment.p3.x - segment.p0.x;
    if s <= segment.p0.x {
        return 0.0;
    }
    if s >= segment.p3.x {
        return 1.0;
    }
    let c = power(0.0, segment.p1.x - segment.p0.x, segment.p2.x - segment.p0.x, span);
    let rate = [c[1], 2.0 * c[2], 3.0 * c[3]];
    let wanted = s - segment.p0.x;
    let (mut lo, mut hi, mut t) = (0.0, 1.0, wanted / span);
    // Bisection alone would be done in 53 steps; Newton's method takes four or five.
    for _ in 0..60 {
        let miss = horner(&c, t) - wanted;
        if miss == 0.0 {
            break;
        }
        if miss > 0.0 {
            hi = t;
        } else {
            lo = t;
        }
        let newton = t - miss / horner(&rate, t);
        let next = if newton > lo && newton < hi { newton } else { 0.5 * (lo + hi) };
        if (next - t).abs() <= 1e-16 {
            break;
        }
        t = next;
    }
    t
}

/// Least and most offset of one cubic.
pub(super) fn bounds(segment: &CubicBez) -> Extent {
    let mut extent = Extent { least: segment.p0.y.min(segment.p3.y), most: segment.p0.y.max(segment.p3.y) };
    for t in unit_roots(&rates(segment).dc) {
        let offset = segment.eval(t).y;
        extent = Extent { least: extent.least.min(offset), most: extent.most.max(offset) };
    }
    extent
}

/// Halves the cubic until its chord lies within the tolerance. The distance from the chord, measured across, is itself
/// a cubic in Bernstein form with ends at 0, so it is at most 3/4 of its larger inner coefficient.
pub(super) fn subdivide(segment: &CubicBez, tolerance: f64, depth: u32, stations: &mut Vec<f64>) {
    let rise = (segment.p3.y - segment.p0.y) / (segment.p3.x - segment.p0.x);
    let off = |p: Place| (p.y - segment.p0.y - rise * (p.x - segment.p0.x)).abs();
    if depth == 0 || 0.75 * off(segment.p1).max(off(segment.p2)) <= tolerance {
        stations.push(segment.p3.x);
        return;
    }
    let (near, far) = segment.subdivide();
    subdivide(&near, tolerance, depth - 1, stations);
    subdivide(&far, tolerance, depth - 1, stations);
}

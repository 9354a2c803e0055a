//! The bending of one cubic of a batten: its offset is a cubic of the distance from the top.

use kurbo::common::GAUSS_LEGENDRE_COEFFS_5;

/// What bends: the strip itself, or its image where slopes count as nothing (the cubic spline's).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Model {
    /// ∫ κ² along the curve = ∫ y''² / (1 + y'²)^(5/2) ds.
    Strip,
    /// ∫ y''² ds.
    Spline,
}

/// How the bending of one cubic changes with its chord's slope and the slopes at its ends.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Bending {
    /// The first derivatives.
    pub(super) first: [f64; 3],
    /// The second ones. The lower half: [0][0], [1][0], [1][1], [2][0], [2][1], [2][2].
    pub(super) second: [f64; 6],
}

/// The slope (by the first three) and the second derivative times the length (by the last three) of a cubic at a share
/// of its length, as factors of its chord's slope and the slopes at its ends.
pub(super) fn factors(x: f64) -> ([f64; 3], [f64; 3]) {
    (
        [6.0 * x * (1.0 - x), 1.0 + x * (3.0 * x - 4.0), x * (3.0 * x - 2.0)],
        [6.0 - 12.0 * x, 6.0 * x - 4.0, 6.0 * x - 2.0],
    )
}

fn dot(a: &[f64; 3], b: &[f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

/// The bending of the strip. Slopes beyond `steepest` give infinity, so that no search goes there.
pub(super) fn value(h: f64, slopes: &[f64; 3], steepest: f64) -> f64 {
    let mut sum = 0.0;
    for (weight, at) in GAUSS_LEGENDRE_COEFFS_5 {
        let (a, b) = factors(0.5 * (1.0 + at));
        let (p, k) = (dot(&a, slopes), dot(&b, slopes));
        // A range holds no NaN.
        if !(-steepest..=steepest).contains(&p) {
            return f64::INFINITY;
        }
        let q = 1.0 + p * p;
        sum += weight * k * k / (q * q * q.sqrt());
    }
    0.5 * sum / h
}

pub(super) fn bending(h: f64, slopes: &[f64; 3], model: Model) -> Bending {
    let mut out = Bending::default();
    for (weight, at) in GAUSS_LEGENDRE_COEFFS_5 {
        let (a, b) = factors(0.5 * (1.0 + at));
        let (p, k) = (dot(&a, slopes), dot(&b, slopes));
        let q = 1.0 + p * p;
        let [g, g1, g2] = match model {
            Model::Strip => {
                let g = 1.0 / (q * q * q.sqrt());
                [g, -5.0 * p * g / q, (30.0 * p * p - 5.0) * g / (q * q)]
            }
            Model::Spline => [1.0, 0.0, 0.0],
        };
        let w = 0.5 * weight / h;
        let (by_k, by_p) = (2.0 * k * g * w, k * k * g1 * w);
        let (kk, kp, pp) = (2.0 * g * w, 2.0 * k * g1 * w, k * k * g2 * w);
        let mut entry = 0;
        for i in 0..3 {
            out.first[i] += by_k * b[i] + by_p * a[i];
            for j in 0..=i {
                out.second[entry] += kk * b[i] * b[j] + kp * (a[i] * b[j] + b[i] * a[j]) + pp * a[i] * a[j];
                entry += 1;
            }
        }
    }
    out
}

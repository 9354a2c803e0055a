//! The bending of one cubic of a batten: its offset is a cubic of the distance from the top.

/// Places (on 0..1) and weights of Gauss's rule of five points, from a table (Abramowitz and Stegun, 25.4.30, from
/// memory; a test integrates a polynomial of degree 9 with them).
pub(super) const GAUSS: [(f64, f64); 5] = [
    (0.046_910_077_030_668_0, 0.118_463_442_528_094_5),
    (0.230_765_344_947_158_5, 0.239_314_335_249_683_2),
    (0.5, 0.284_444_444_444_444_4),
    (0.769_234_655_052_841_5, 0.239_314_335_249_683_2),
    (0.953_089_922_969_332_0, 0.118_463_442_528_094_5),
];

/// What bends: the strip itself, or its image where slopes count as nothing (the cubic spline's).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Model {
    /// ∫ κ² along the curve = ∫ y''² / (1 + y'²)^(5/2) ds.
    Strip,
    /// ∫ y''² ds.
    Spline,
}

/// The bending of one cubic by its chord's slope and the slopes at its ends, with its first and second derivatives.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Bending {
    pub(super) value: f64,
    pub(super) first: [f64; 3],
    /// The lower half: [0][0], [1][0], [1][1], [2][0], [2][1], [2][2].
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

/// The bending alone. Slopes beyond `steepest` give infinity, so that no search goes there.
pub(super) fn value(h: f64, slopes: &[f64; 3], model: Model, steepest: f64) -> f64 {
    let mut sum = 0.0;
    for (x, weight) in GAUSS {
        let (a, b) = factors(x);
        let (p, k) = (dot(&a, slopes), dot(&b, slopes));
        if !(p.abs() <= steepest) {
            return f64::INFINITY;
        }
        let q = 1.0 + p * p;
        let g = match model {
            Model::Strip => 1.0 / (q * q * q.sqrt()),
            Model::Spline => 1.0,
        };
        sum += weight * k * k * g;
    }
    sum / h
}

pub(super) fn bending(h: f64, slopes: &[f64; 3], model: Model) -> Bending {
    let mut out = Bending::default();
    for (x, weight) in GAUSS {
        let (a, b) = factors(x);
        let (p, k) = (dot(&a, slopes), dot(&b, slopes));
        let q = 1.0 + p * p;
        let [g, g1, g2] = match model {
            Model::Strip => {
                let g = 1.0 / (q * q * q.sqrt());
                [g, -5.0 * p * g / q, (30.0 * p * p - 5.0) * g / (q * q)]
            }
            Model::Spline => [1.0, 0.0, 0.0],
        };
        let w = weight / h;
        out.value += w * k * k * g;
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

//! Real roots of small polynomials on the unit interval.

use kurbo::common::solve_itp;

/// The most coefficients a polynomial here has: degree 5.
pub(crate) const MOST: usize = 6;

/// The roots of `c[0] + c[1] t + …` in 0..=1 at which the polynomial changes sign, in order, to about 1e-15.
///
/// Each interval between turning points holds at most one root, and the turning points are the roots of the derivative,
/// found the same way; so no root is missed and none is counted twice. A root that only touches zero may be left out:
/// nothing changes sign there.
pub(crate) fn unit_roots(c: &[f64]) -> Vec<f64> {
    debug_assert!(c.len() <= MOST);
    let mut roots = Vec::new();
    if c.len() < 2 || never_zero(c) {
        return roots;
    }
    let derivative: Vec<f64> = c.iter().enumerate().skip(1).map(|(power, k)| power as f64 * k).collect();
    let mut turns = unit_roots(&derivative);
    turns.insert(0, 0.0);
    turns.push(1.0);
    for pair in turns.windows(2) {
        let (from, to) = (pair[0], pair[1]);
        let (at_from, at_to) = (horner(c, from), horner(c, to));
        let root = if at_from == 0.0 {
            from
        } else if at_from * at_to < 0.0 {
            let sign = at_to.signum();
            // k1 and n0 as the method's authors suggest for smooth functions.
            solve_itp(|t| sign * horner(c, t), from, to, 1e-16, 1, 0.2 / (to - from), sign * at_from, sign * at_to)
        } else {
            continue;
        };
        if roots.last() != Some(&root) {
            roots.push(root);
        }
    }
    if horner(c, 1.0) == 0.0 && roots.last() != Some(&1.0) {
        roots.push(1.0);
    }
    roots
}

/// The binomials up to degree 5, by degree.
const CHOOSE: [[f64; MOST]; MOST] = [
    [1.0, 0.0, 0.0, 0.0, 0.0, 0.0],
    [1.0, 1.0, 0.0, 0.0, 0.0, 0.0],
    [1.0, 2.0, 1.0, 0.0, 0.0, 0.0],
    [1.0, 3.0, 3.0, 1.0, 0.0, 0.0],
    [1.0, 4.0, 6.0, 4.0, 1.0, 0.0],
    [1.0, 5.0, 10.0, 10.0, 5.0, 1.0],
];

/// Whether all control values of the polynomial, as a Bézier curve over 0..=1, lie on one side of nothing, with more to
/// spare than rounding takes: the curve lies within their hull, so nothing on 0..=1 is zero. Most of the short cubics of
/// a line with many points are so.
fn never_zero(c: &[f64]) -> bool {
    let Some(row) = c.len().checked_sub(1).and_then(|degree| CHOOSE.get(degree)) else { return false };
    let spare = c.iter().map(|k| k.abs()).sum::<f64>() * 1e-12;
    let sign = c[0].signum();
    (0..c.len()).all(|i| {
        let control: f64 = (0..=i).map(|k| CHOOSE[i][k] / row[k] * c[k]).sum();
        control * sign > spare
    })
}

/// The value of `c[0] + c[1] t + …`.
pub(crate) fn horner(c: &[f64], t: f64) -> f64 {
    c.iter().rev().fold(0.0, |sum, k| sum * t + k)
}

/// The product of two polynomials.
pub(crate) fn product(a: &[f64], b: &[f64]) -> Vec<f64> {
    let mut out = vec![0.0; a.len() + b.len() - 1];
    for (i, x) in a.iter().enumerate() {
        for (j, y) in b.iter().enumerate() {
            out[i + j] += x * y;
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_root_of_a_quintic_is_found() {
        let wanted = [0.1, 0.25, 0.5, 0.8, 0.95];
        let c = wanted.iter().fold(vec![1.0], |c, root| product(&c, &[-root, 1.0]));
        let found = unit_roots(&c);
        assert_eq!(found.len(), 5, "{found:?}");
        for (found, wanted) in found.iter().zip(wanted) {
            assert!((found - wanted).abs() < 1e-12, "{found} for {wanted}");
        }
    }

    /// The quick answer is the slow one: a root at the very end still counts, one just beyond it does not.
    #[test]
    fn a_first_coefficient_that_barely_outweighs_the_others_leaves_no_root() {
        assert_eq!(unit_roots(&[1.0, -1.0]), [1.0]);
        assert_eq!(unit_roots(&[-3.0, 1.0, 2.0]), [1.0]);
        assert!(unit_roots(&[1.0 + 1e-9, -1.0]).is_empty());
        assert!(unit_roots(&[-3.0 - 1e-9, 1.0, 2.0]).is_empty());
        assert_eq!(unit_roots(&[0.0, 0.0, 1.0]).first(), Some(&0.0));
    }

    #[test]
    fn a_polynomial_without_roots_has_none() {
        assert!(unit_roots(&[1.0, 0.0, 1.0]).is_empty());
        assert!(unit_roots(&[3.0]).is_empty());
        assert!(unit_roots(&[]).is_empty());
    }
}

//! A batten cut into cubics, and how it comes to rest.

use super::band::Band;
use super::element::{Bending, Model, bending, value};
use crate::saw_line::MAX_SLOPE;

/// Steeper than this no search goes: twice what may be sawn, so that a curve on its way to a gentler one is not stopped.
const STEEPEST: f64 = 2.0 * MAX_SLOPE;

/// Newton's method takes four or five steps from the spline; more than this it takes only where it gets nowhere.
const STEPS: usize = 40;

/// How often a step is halved, and how far a matrix is bent toward the spline's, before a search is given up.
const LEAST_SHARE: f64 = 1e-6;
const MOST_HELP: f64 = 1e6;

/// What rounding does to the bending, as a share of it and per mm.
const ROUNDING: f64 = 1e-13;
const ROUNDING_PER_MM: f64 = 1e-15;

/// Where the flatter battens stand that lead to a steep one, as shares of its offsets.
const ON_THE_WAY: [f64; 5] = [0.2, 0.4, 0.6, 0.8, 1.0];

/// A chain of cubics, each from one node to the next; the offset is a cubic of the distance from the top.
#[derive(Clone, Debug)]
pub(super) struct Mesh {
    /// Distance of each node from the top, mm.
    pub(super) s: Vec<f64>,
    /// Offset, mm.
    pub(super) y: Vec<f64>,
    /// Slope, offset per length.
    pub(super) m: Vec<f64>,
    /// Whether the node is at a pin, so that its offset stays.
    pub(super) pinned: Vec<bool>,
    /// Whether a pin holds its slope too.
    pub(super) held: Vec<bool>,
}

impl Mesh {
    /// Offset and slope on the cubic after node `i`, at a share of its length.
    pub(super) fn at(&self, i: usize, x: f64) -> [f64; 2] {
        let h = self.s[i + 1] - self.s[i];
        let [rise, m0, m1] = [self.y[i + 1] - self.y[i], self.m[i], self.m[i + 1]];
        let y = self.y[i] + x * x * (3.0 - 2.0 * x) * rise + h * x * (1.0 - x) * ((1.0 - x) * m0 - x * m1);
        let slope = 6.0 * x * (1.0 - x) * rise / h + (1.0 + x * (3.0 * x - 4.0)) * m0 + x * (3.0 * x - 2.0) * m1;
        [y, slope]
    }

    /// Lets the batten come to rest from the cubic spline through its pins, or, where that is too wild, from flatter
    /// battens. Says whether it does.
    pub(super) fn rest_from_spline(&mut self, accuracy_mm: f64) -> bool {
        self.become_spline();
        let spline = self.clone();
        if self.rest(accuracy_mm) {
            return true;
        }
        // About the straight line from end to end, so that the battens on the way are flat and not only small.
        let (n, from) = (spline.s.len() - 1, spline.y[0]);
        let chord = (spline.y[n] - from) / (spline.s[n] - spline.s[0]);
        let flat = |i: usize| from + chord * (spline.s[i] - spline.s[0]);
        *self = spline.clone();
        let mut was = 1.0;
        for share in ON_THE_WAY {
            for i in 0..self.s.len() {
                self.y[i] = flat(i) + (self.y[i] - flat(i)) * share / was;
                self.m[i] = chord + (self.m[i] - chord) * share / was;
            }
            was = share;
            if share == 1.0 {
                for i in (0..self.s.len()).filter(|i| spline.pinned[*i]) {
                    self.y[i] = spline.y[i];
                    if spline.held[i] {
                        self.m[i] = spline.m[i];
                    }
                }
            }
            if !self.rest(accuracy_mm) {
                return false;
            }
        }
        true
    }

    /// The natural cubic spline through the pins.
    fn become_spline(&mut self) {
        let (mut step, mut matrix) = self.rates(Model::Spline);
        if matrix.factor() {
            step.iter_mut().for_each(|rate| *rate = -*rate);
            matrix.solve(&mut step);
            self.go(&step, 1.0);
        }
    }

    /// Lets the batten come to rest near where it is: Newton's method on its bending, each step cut short until it takes
    /// bending off. True when a whole step moved nothing by more than a hundredth of the accuracy, and the bending has a
    /// true minimum there.
    pub(super) fn rest(&mut self, accuracy_mm: f64) -> bool {
        let mut spline = None;
        let mut bends = self.bends();
        if !bends.is_finite() {
            return false;
        }
        for _ in 0..STEPS {
            let (mut step, matrix) = self.rates(Model::Strip);
            let rates = step.clone();
            step.iter_mut().for_each(|rate| *rate = -*rate);
            let mut help = 0.0;
            loop {
                let mut factors = if help == 0.0 {
                    matrix.clone()
                } else {
                    matrix.plus(help, spline.get_or_insert_with(|| self.rates(Model::Spline).1))
                };
                if factors.factor() {
                    factors.solve(&mut step);
                    break;
                }
                help = if help == 0.0 { 0.05 } else { 4.0 * help };
                if help > MOST_HELP {
                    return false;
                }
            }
            let gain: f64 = rates.iter().zip(&step).map(|(rate, step)| rate * step).sum();
            let moves = self.moves(&step);
            let mut share = 1.0;
            loop {
                let mut tried = self.clone();
                tried.go(&step, share);
                let now = tried.bends();
                if now <= bends + 1e-4 * share * gain + ROUNDING * bends + ROUNDING_PER_MM {
                    (*self, bends) = (tried, now);
                    break;
                }
                share /= 2.0;
                if share < LEAST_SHARE {
                    return false;
                }
            }
            if help == 0.0 && share == 1.0 && moves <= 0.01 * accuracy_mm {
                return true;
            }
        }
        false
    }

    /// How far a step moves any place of the batten, about, mm.
    fn moves(&self, step: &[f64]) -> f64 {
        let mut most = 0.0_f64;
        for i in 0..self.s.len() {
            let h = self.s[(i + 1).min(self.s.len() - 1)] - self.s[i.saturating_sub(1)];
            most = most.max(step[2 * i].abs()).max((step[2 * i + 1] * h).abs());
        }
        most
    }

    fn go(&mut self, step: &[f64], share: f64) {
        for i in 0..self.s.len() {
            self.y[i] += share * step[2 * i];
            self.m[i] += share * step[2 * i + 1];
        }
    }

    /// Length and the chord's and ends' slopes of the cubic after node `i`.
    fn cubic(&self, i: usize) -> (f64, [f64; 3]) {
        let h = self.s[i + 1] - self.s[i];
        (h, [(self.y[i + 1] - self.y[i]) / h, self.m[i], self.m[i + 1]])
    }

    /// The bending ∫ κ² of the whole batten, per mm; infinite where it is steeper than any search goes.
    fn bends(&self) -> f64 {
        (0..self.s.len() - 1)
            .map(|i| {
                let (h, slopes) = self.cubic(i);
                value(h, &slopes, STEEPEST)
            })
            .sum()
    }

    /// How the bending changes with every offset and slope, two numbers to a node; and how that changes.
    fn rates(&self, model: Model) -> (Vec<f64>, Band) {
        let size = 2 * self.s.len();
        let (mut first, mut second) = (vec![0.0; size], Band::zero(size));
        for i in 0..self.s.len() - 1 {
            let (h, slopes) = self.cubic(i);
            let Bending { first: f, second: [s00, s10, s11, s20, s21, s22] } = bending(h, &slopes, model);
            let (y0, m0, y1, m1) = (2 * i, 2 * i + 1, 2 * i + 2, 2 * i + 3);
            // The chord's slope is (y1 - y0) / h.
            first[y0] -= f[0] / h;
            first[m0] += f[1];
            first[y1] += f[0] / h;
            first[m1] += f[2];
            for (row, column, value) in [
                (y0, y0, s00 / (h * h)),
                (m0, y0, -s10 / h),
                (m0, m0, s11),
                (y1, y0, -s00 / (h * h)),
                (y1, m0, s10 / h),
                (y1, y1, s00 / (h * h)),
                (m1, y0, -s20 / h),
                (m1, m0, s21),
                (m1, y1, s20 / h),
                (m1, m1, s22),
            ] {
                second.add(row, column, value);
            }
        }
        for i in 0..self.s.len() {
            for (index, stays) in [(2 * i, self.pinned[i]), (2 * i + 1, self.held[i])] {
                if stays {
                    first[index] = 0.0;
                    second.fix(index);
                }
            }
        }
        (first, second)
    }
}

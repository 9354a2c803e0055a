//! A symmetric matrix whose rows reach three places to the left, and its factors.

/// How far a row reaches to the left of its diagonal.
const REACH: usize = 3;

/// The lower half, row by row: `[diagonal, one to the left, two, three]`.
#[derive(Clone, Debug)]
pub(super) struct Band {
    rows: Vec<[f64; REACH + 1]>,
}

impl Band {
    pub(super) fn zero(size: usize) -> Band {
        Band { rows: vec![[0.0; REACH + 1]; size] }
    }

    /// Adds to one entry of the lower half, `column` at most [`REACH`] before `row`.
    pub(super) fn add(&mut self, row: usize, column: usize, value: f64) {
        self.rows[row][row - column] += value;
    }

    /// Cuts a number out of the system: its row and column say nothing but "it stays".
    pub(super) fn fix(&mut self, index: usize) {
        self.rows[index] = [1.0, 0.0, 0.0, 0.0];
        for below in 1..=REACH {
            if let Some(row) = self.rows.get_mut(index + below) {
                row[below] = 0.0;
            }
        }
    }

    /// This matrix plus `share` of another one.
    pub(super) fn plus(&self, share: f64, other: &Band) -> Band {
        let mut sum = self.clone();
        for (row, other) in sum.rows.iter_mut().zip(&other.rows) {
            for (value, other) in row.iter_mut().zip(other) {
                *value += share * other;
            }
        }
        sum
    }

    /// Replaces the matrix by its factors L D Lᵀ; false where it is not positive definite.
    pub(super) fn factor(&mut self) -> bool {
        for i in 0..self.rows.len() {
            let first = i.saturating_sub(REACH);
            for j in first..=i {
                let mut sum = self.rows[i][i - j];
                for k in first..j {
                    if j - k <= REACH {
                        sum -= self.rows[i][i - k] * self.rows[j][j - k] * self.rows[k][0];
                    }
                }
                if j < i {
                    self.rows[i][i - j] = sum / self.rows[j][0];
                } else {
                    let least = 1e-13 * self.rows[i][0].abs();
                    if sum.is_nan() || sum <= least {
                        return false;
                    }
                    self.rows[i][0] = sum;
                }
            }
        }
        true
    }

    /// With the factors, the solution for a right-hand side, in its place.
    pub(super) fn solve(&self, x: &mut [f64]) {
        for i in 0..x.len() {
            for back in 1..=REACH.min(i) {
                x[i] -= self.rows[i][back] * x[i - back];
            }
        }
        for (value, row) in x.iter_mut().zip(&self.rows) {
            *value /= row[0];
        }
        for i in (0..x.len()).rev() {
            for ahead in 1..=REACH.min(x.len() - 1 - i) {
                x[i] -= self.rows[i + ahead][ahead] * x[i + ahead];
            }
        }
    }
}

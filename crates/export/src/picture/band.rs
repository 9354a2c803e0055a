//! A band of the picture: first which pane each sample shows, then what that looks like.

use cornerwise_wood::Figure;

use super::SAMPLES;
use super::pane::Pane;

/// Paper.
const PAPER: [f64; 3] = [244.0, 241.0, 234.0];
/// Graphite.
const INK: [f64; 3] = [52.0, 46.0, 42.0];

/// How strongly lines are drawn: where the leg ends or one part stands before another, along an arris, along a seam.
const OUTLINE: f64 = 0.62;
const ARRIS: f64 = 0.30;
const SEAM: f64 = 0.22;

/// How far to either side of an edge its line reaches, samples. Also the rows looked at beyond the band's own.
const REACH: usize = 2;

/// Two surfaces are one before the other, not joined, if they are this far apart in depth, mm.
const APART_MM: f64 = 0.8;

/// Two panes meet at an arris if they are bent by more than this: the cosine of 20 degrees.
const BENT: f64 = 0.94;

/// No pane: paper.
const NONE: u32 = u32::MAX;

pub(super) struct Band<'a> {
    panes: &'a [Pane],
    figure: &'a Figure,
    /// Samples across.
    columns: usize,
    /// The picture's row of samples that `shown` begins with; may lie above the picture.
    first_row: i64,
    /// Number of the pane that each sample shows.
    shown: Vec<u32>,
}

impl<'a> Band<'a> {
    /// Covers `rows_px` rows of pixels from `from_px` on with the panes, back to front.
    pub(super) fn new(panes: &'a [Pane], figure: &'a Figure, width_px: usize, from_px: usize, rows_px: usize) -> Self {
        let columns = width_px * SAMPLES;
        let rows = rows_px * SAMPLES + 2 * REACH;
        let first_row = (from_px * SAMPLES) as i64 - REACH as i64;
        let mut band = Band { panes, figure, columns, first_row, shown: vec![NONE; columns * rows] };
        for (number, pane) in panes.iter().enumerate() {
            band.cover(number as u32, &pane.corners, rows as i64);
        }
        band
    }

    /// Marks the samples whose middle a convex pane covers. Panes that share an edge leave no sample between them and
    /// none to both: crossings are worked out from the edge's upper end, whichever way it is walked.
    fn cover(&mut self, number: u32, corners: &[[f64; 2]; 4], rows: i64) {
        let top = corners.iter().fold(f64::INFINITY, |top, corner| top.min(corner[1])).ceil() as i64;
        let bottom = corners.iter().fold(f64::NEG_INFINITY, |bottom, corner| bottom.max(corner[1])).ceil() as i64;
        for row in top.max(self.first_row)..bottom.min(self.first_row + rows) {
            let at = row as f64;
            let mut span = [f64::INFINITY, f64::NEG_INFINITY];
            for i in 0..4 {
                let (one, other) = (corners[i], corners[(i + 1) % 4]);
                let (upper, lower) = if one[1] <= other[1] { (one, other) } else { (other, one) };
                if upper[1] <= at && at < lower[1] {
                    let crossing = upper[0] + (at - upper[1]) * (lower[0] - upper[0]) / (lower[1] - upper[1]);
                    span = [span[0].min(crossing), span[1].max(crossing)];
                }
            }
            if span[0] <= span[1] {
                let column = |edge: f64| ((edge - shift(row)).ceil().max(0.0) as usize).min(self.columns);
                let line = (row - self.first_row) as usize * self.columns;
                self.shown[line + column(span[0])..line + column(span[1])].fill(number);
            }
        }
    }

    /// Writes the band's pixels, three bytes each.
    pub(super) fn fill(&self, pixels: &mut [u8]) {
        let width = self.columns / SAMPLES;
        for (at, pixel) in pixels.chunks_exact_mut(3).enumerate() {
            let (column, row) = (at % width * SAMPLES, at / width * SAMPLES + REACH);
            let mut sum = [0.0; 3];
            for i in 0..SAMPLES * SAMPLES {
                let colour = self.sample(column + i % SAMPLES, row + i / SAMPLES);
                // Squares are near enough to light (gamma 2), and light is what the eye averages.
                sum = [0, 1, 2].map(|c| sum[c] + colour[c] * colour[c]);
            }
            for (byte, sum) in pixel.iter_mut().zip(sum) {
                *byte = (sum / (SAMPLES * SAMPLES) as f64).sqrt().round() as u8;
            }
        }
    }

    /// The middle of a sample of `shown` on the whole picture.
    fn middle(&self, column: usize, row: usize) -> (f64, f64) {
        let row = row as i64 + self.first_row;
        (column as f64 + shift(row), row as f64)
    }

    fn pane(&self, column: usize, row: usize) -> Option<(u32, &'a Pane)> {
        let number = self.shown[row * self.columns + column];
        self.panes.get(number as usize).map(|pane| (number, pane))
    }

    /// The colour of a sample; `row` counts from the first of `shown`.
    fn sample(&self, column: usize, row: usize) -> [f64; 3] {
        let (x, y) = self.middle(column, row);
        let colour = match self.pane(column, row) {
            None => PAPER,
            Some((_, pane)) => {
                let grain = self.figure.at(&self.figure.view(pane.surface), pane.blank(x, y), &pane.steps);
                [0, 1, 2].map(|c| (f64::from(grain.colour[c]) * pane.light[c] + pane.sheen).min(255.0))
            }
        };
        let line = self.line(column, row);
        [0, 1, 2].map(|c| colour[c] + line * (INK[c] - colour[c]))
    }

    /// How strongly a line is drawn here: the strongest edge within reach.
    fn line(&self, column: usize, row: usize) -> f64 {
        let mut strongest = 0.0_f64;
        for reach in 1..=REACH {
            let beside = [
                (column.checked_sub(reach), Some(row)),
                (Some(column + reach).filter(|&c| c < self.columns), Some(row)),
                (Some(column), row.checked_sub(reach)),
                (Some(column), Some(row + reach)),
            ];
            for (c, r) in beside {
                if let (Some(c), Some(r)) = (c, r) {
                    strongest = strongest.max(self.edge([column, row], [c, r], reach));
                }
            }
        }
        strongest
    }

    /// How strongly the edge between two samples is drawn.
    fn edge(&self, here: [usize; 2], there: [usize; 2], reach: usize) -> f64 {
        let (one, other) = match (self.pane(here[0], here[1]), self.pane(there[0], there[1])) {
            (None, None) => return 0.0,
            (Some((one, _)), Some((other, _))) if one == other => return 0.0,
            (Some((_, one)), Some((_, other))) => (one, other),
            _ => return OUTLINE,
        };
        let gap = |[column, row]: [usize; 2]| {
            let (x, y) = self.middle(column, row);
            (one.depth(x, y) - other.depth(x, y)).abs()
        };
        if gap(here) > APART_MM && gap(there) > APART_MM {
            OUTLINE
        } else if reach > 1 {
            0.0
        } else if one.bend(other) < BENT {
            ARRIS
        } else if one.piece != other.piece {
            SEAM
        } else {
            0.0
        }
    }
}

/// How far the samples of a row are moved along it. The rows of a pixel each have another shift, so that the nearly
/// upright edges of a leg pass its samples one by one, not a column of them at a time.
fn shift(row: i64) -> f64 {
    let samples = SAMPLES as i64;
    (row.rem_euclid(samples) as f64 - 0.5 * (samples - 1) as f64) / samples as f64
}

//! Paths as short straight runs.

/// How many chords a curve is divided into: a curve of 300 mm that bows by 30 is then true within 0.001 mm.
const CHORDS: u32 = 256;

/// Collects subpaths, curves divided into chords.
#[derive(Clone, Debug, Default)]
pub struct Flat {
    /// The points of each subpath, in order.
    pub runs: Vec<Vec<[f64; 2]>>,
}

impl Flat {
    /// Begins a subpath.
    pub fn move_to(&mut self, p: [f64; 2]) {
        self.runs.push(vec![p]);
    }

    /// Adds a straight line.
    pub fn line_to(&mut self, p: [f64; 2]) {
        if let Some(run) = self.runs.last_mut() {
            run.push(p);
        }
    }

    /// Adds a quadratic curve.
    pub fn quad_to(&mut self, p: [f64; 2], q: [f64; 2]) {
        if let Some(from) = self.last() {
            let toward = |end: [f64; 2]| [0, 1].map(|i| end[i] + 2.0 / 3.0 * (p[i] - end[i]));
            self.curve_to(toward(from), toward(q), q);
        }
    }

    /// Adds a cubic curve.
    pub fn curve_to(&mut self, p: [f64; 2], q: [f64; 2], r: [f64; 2]) {
        let Some(from) = self.last() else { return };
        for chord in 1..=CHORDS {
            let t = f64::from(chord) / f64::from(CHORDS);
            let m = 1.0 - t;
            let at =
                |i: usize| m * m * m * from[i] + 3.0 * m * m * t * p[i] + 3.0 * m * t * t * q[i] + t * t * t * r[i];
            self.line_to([at(0), at(1)]);
        }
    }

    /// Closes the subpath.
    pub fn close(&mut self) {
        if let Some(first) = self.runs.last().and_then(|run| run.first()).copied() {
            self.line_to(first);
        }
    }

    fn last(&self) -> Option<[f64; 2]> {
        self.runs.last()?.last().copied()
    }
}

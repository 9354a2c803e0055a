//! The leg between stations: slabs with planar faces.

use crate::Section;

/// The leg at chosen stations. Between two stations both lines are straight, so every piece of a slab is a convex prism
/// with planar faces.
#[derive(Clone, Debug, PartialEq)]
pub struct Solved {
    /// W, mm.
    pub width_mm: f64,
    /// D, mm.
    pub depth_mm: f64,
    /// Stations from the top, mm, strictly increasing, at least two.
    pub s: Vec<f64>,
    /// First cut's offset at each station, mm, held within 0..=W.
    pub a: Vec<f64>,
    /// Second cut's offset at each station, mm, held within 0..=D.
    pub b: Vec<f64>,
}

impl Solved {
    /// The level section at station `index`.
    ///
    /// # Panics
    /// Where `index` is not a station's.
    pub fn section(&self, index: usize) -> Section {
        Section::new(self.width_mm, self.depth_mm, self.a[index], self.b[index])
    }

    /// Volume of each of the four pieces between the first and the last station, mm³: exact for the straight slabs.
    pub fn piece_volumes_mm3(&self) -> [f64; 4] {
        let mut volumes = [0.0; 4];
        for i in 1..self.s.len() {
            let h = self.s[i] - self.s[i - 1];
            let slab =
                |x0: f64, x1: f64, y0: f64, y1: f64| h * (2.0 * x0 * y0 + x0 * y1 + x1 * y0 + 2.0 * x1 * y1) / 6.0;
            let (a0, a1, b0, b1) = (self.a[i - 1], self.a[i], self.b[i - 1], self.b[i]);
            let (w, d) = (self.width_mm, self.depth_mm);
            volumes[0] += slab(a0, a1, b0, b1);
            volumes[1] += slab(w - a0, w - a1, b0, b1);
            volumes[2] += slab(w - a0, w - a1, d - b0, d - b1);
            volumes[3] += slab(a0, a1, d - b0, d - b1);
        }
        volumes
    }

    /// Volume of the leg between the first and the last station, mm³.
    pub fn volume_mm3(&self) -> f64 {
        self.piece_volumes_mm3().iter().sum()
    }
}

/// The sizes of a blank that a typed length may name: `W`, `D` and `L`, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BlankSizes {
    /// W, across face 1.
    pub width_mm: f64,
    /// D, across face 2.
    pub depth_mm: f64,
    /// L, finished.
    pub length_mm: f64,
}

//! Pictures of the wood to either side of a seam, as its two edges will meet. Of a blank that was photographed the sides are not
//! known, but the faces are, and both edges lie on faces: these are folded out beside their edges, as far as they belong to
//! the two pieces.

use cornerwise_geometry::{BlankPoint, Cut, Leg, Surface};
use cornerwise_wood::{Figure, Steps};
use egui::{Color32, ColorImage};

/// What a picture shows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Window {
    /// From and to, mm from the top.
    pub along_mm: [f64; 2],
    /// How far to either side of the seam, mm.
    pub beside_mm: f64,
    /// Columns and rows.
    pub size: [usize; 2],
    /// Whether the piece beyond the cut is above: so do sides 3 and 4 lie.
    pub flipped: bool,
}

/// Whether the faces are shown and not the side.
pub fn shows_faces(figure: &Figure, cut: Cut) -> bool {
    cut.seam_faces().into_iter().all(|face| figure.is_photographed(Surface::Face(face)))
}

/// The wood to either side of a seam of a cut.
pub fn seam_picture(figure: &Figure, leg: &Leg, cut: Cut, window: &Window) -> ColorImage {
    let folded = shows_faces(figure, cut);
    let views = cut.seam_faces().map(|face| figure.view(if folded { Surface::Face(face) } else { Surface::Cut(cut) }));
    let [columns, rows] = window.size;
    let apart = match cut {
        Cut::First => leg.depth_mm,
        Cut::Second => leg.width_mm,
    };
    let [from, to] = window.along_mm;
    let (step, down) = ((to - from) / columns as f64, 2.0 * window.beside_mm / rows as f64);
    let across = match (cut, folded) {
        (Cut::First, false) | (Cut::Second, true) => [0.0, down, 0.0],
        (Cut::Second, false) | (Cut::First, true) => [down, 0.0, 0.0],
    };
    // Sides 1 and 4 show pieces that lie before the cut, sides 2 and 3 those that lie beyond it.
    let beyond = if (cut == Cut::First) == window.flipped { -1.0 } else { 1.0 };
    let steps = Steps::new([0.0, 0.0, step], across);
    let mut pixels = Vec::with_capacity(columns * rows);
    for row in 0..rows {
        let row = if window.flipped { rows - 1 - row } else { row };
        let beside = (row as f64 + 0.5) * down - window.beside_mm;
        // The two edges that meet were the blank's two faces.
        let (near, deep) = (beside < 0.0, beside.abs());
        let view = &views[usize::from(!near)];
        for column in 0..columns {
            let s = from + (column as f64 + 0.5) * step;
            let edge = if cut == Cut::First { leg.a(s) } else { leg.b(s) };
            let (at, offset) = if folded {
                (if near { 0.0 } else { apart }, (edge + beyond * deep).clamp(0.0, leg.across_mm(cut)))
            } else {
                (if near { deep } else { apart - deep }, edge)
            };
            let p = match cut {
                Cut::First => BlankPoint { x: offset, y: at, s },
                Cut::Second => BlankPoint { x: at, y: offset, s },
            };
            let [r, g, b] = figure.at(view, p, &steps).colour;
            pixels.push(Color32::from_rgb(r, g, b));
        }
    }
    ColorImage::new(window.size, pixels)
}

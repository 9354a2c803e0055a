//! Pictures of the wood to either side of a seam, as its two edges will meet.

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

/// The wood to either side of a seam of a cut.
pub fn seam_picture(figure: &Figure, leg: &Leg, cut: Cut, window: &Window) -> ColorImage {
    let view = figure.view(Surface::Cut(cut));
    let [columns, rows] = window.size;
    let apart = match cut {
        Cut::First => leg.depth_mm,
        Cut::Second => leg.width_mm,
    };
    let [from, to] = window.along_mm;
    let (step, down) = ((to - from) / columns as f64, 2.0 * window.beside_mm / rows as f64);
    let across = match cut {
        Cut::First => [0.0, down, 0.0],
        Cut::Second => [down, 0.0, 0.0],
    };
    let steps = Steps::new([0.0, 0.0, step], across);
    let mut pixels = Vec::with_capacity(columns * rows);
    for row in 0..rows {
        let row = if window.flipped { rows - 1 - row } else { row };
        let beside = (row as f64 + 0.5) * down - window.beside_mm;
        // The two edges that meet were the blank's two faces.
        let at = if beside < 0.0 { -beside } else { apart - beside };
        for column in 0..columns {
            let s = from + (column as f64 + 0.5) * step;
            let p = match cut {
                Cut::First => BlankPoint { x: leg.a(s), y: at, s },
                Cut::Second => BlankPoint { x: at, y: leg.b(s), s },
            };
            let [r, g, b] = figure.at(&view, p, &steps).colour;
            pixels.push(Color32::from_rgb(r, g, b));
        }
    }
    ColorImage::new(window.size, pixels)
}

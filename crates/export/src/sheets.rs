//! Paper, described once for every writer: sheets of lines, fills and text.
//!
//! All lengths are true millimetres on the printed paper, measured from the sheet's top left corner, x to the right and
//! y down. A writer multiplies them by [`Sheet::scale`], which is 1 unless the maker has measured what the printer does
//! to the paper. A page shows what a maker sees from outside the blank: it is moved and rotated into place, never
//! mirrored.

mod clip;
mod drawing;
mod pen;
mod text;
mod typeface;

pub use clip::clipped;
pub use drawing::Drawing;
pub use pen::{Ink, Pen, PenStyle};
pub use text::{Anchor, Text};
pub use typeface::Typeface;

use kurbo::{Affine, BezPath, Rect, Shape};

/// One page.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// What it is called in an outline, `Leg A, page 2 of 4`.
    pub label: String,
    /// Across the paper, mm.
    pub width_mm: f64,
    /// Up the paper, mm.
    pub height_mm: f64,
    /// What a writer multiplies every length on this sheet by, across and up the page, so that it comes out true.
    pub scale: [f64; 2],
    /// What is drawn, first to last.
    pub marks: Vec<Mark>,
}

impl Sheet {
    /// The paper in the coordinates of its marks: a page that prints too small has room for less.
    pub fn paper(&self) -> Rect {
        Rect::new(0.0, 0.0, self.width_mm / self.scale[0], self.height_mm / self.scale[1])
    }
}

/// One thing drawn on a sheet.
#[derive(Clone, Debug, PartialEq)]
pub enum Mark {
    /// A line. The true line is the middle of the pen's width.
    Line {
        /// The line itself, mm.
        path: BezPath,
        /// What it is, which says how it is drawn.
        pen: Pen,
    },
    /// An area.
    Fill {
        /// Its outline, mm.
        path: BezPath,
        /// Its colour.
        ink: Ink,
    },
    /// A line of text.
    Text(Text),
}

impl Mark {
    /// The same mark, moved and rotated.
    pub fn placed(&self, sheet_from_drawing: Affine) -> Mark {
        match self {
            Mark::Line { path, pen } => Mark::Line { path: sheet_from_drawing * path, pen: *pen },
            Mark::Fill { path, ink } => Mark::Fill { path: sheet_from_drawing * path, ink: *ink },
            Mark::Text(text) => Mark::Text(text.placed(sheet_from_drawing)),
        }
    }

    /// The upright rectangle round the mark, pen width included, mm.
    pub fn bounds(&self) -> Rect {
        match self {
            Mark::Line { path, pen } => path.bounding_box().inflate(pen.width_mm() / 2.0, pen.width_mm() / 2.0),
            Mark::Fill { path, .. } => path.bounding_box(),
            Mark::Text(text) => text.bounds(),
        }
    }
}

//! A label: a few marks that are placed together.

use crate::sheets::{Drawing, Mark, Text};
use kurbo::Point;

/// A label with its upper left corner at the origin.
pub(crate) struct Label {
    pub drawing: Drawing,
    /// Along and across, mm.
    pub size: [f64; 2],
}

impl Label {
    /// A line of text.
    pub fn text(text: Text) -> Label {
        let size = [text.width_mm(), 1.3 * text.cap_mm];
        let text = Text { at: Point::new(0.0, text.cap_mm), ..text };
        Label { drawing: Drawing { marks: vec![Mark::Text(text)] }, size }
    }
}

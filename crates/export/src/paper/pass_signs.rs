//! The signs of a pass: its number, where the saw enters, where it leaves.

use super::face_strip::saw_ink;
use super::label::Label;
use super::passes::Pass;
use crate::sheets::{Anchor, Drawing, Ink, Pen, Text, Typeface};
use cornerwise_geometry::End;
use kurbo::Point;

/// `(1) → saw in`; for a pass from the foot in the order of its way, `saw in ← (1)`.
pub(crate) fn entry_sign(pass: &Pass, cap_mm: f64) -> Label {
    let (ring, arrow, gap) = (2.0 * cap_mm, 2.4 * cap_mm, 0.4 * cap_mm);
    let text = Text::new("saw in", Point::ZERO, cap_mm).typeface(Typeface::CondensedBold).ink(saw_ink(pass.cut));
    let words = text.width_mm();
    let (width, middle) = (ring + arrow + words + 2.0 * gap, ring / 2.0);
    // Places along the sign, from its start for a pass from the top, from its end for one from the foot.
    let at = |from_entry: f64| if pass.enters == End::Top { from_entry } else { width - from_entry };
    let mut drawing = Drawing::new();
    badge(&mut drawing, Point::new(at(ring / 2.0), middle), ring, pass.number);
    way(&mut drawing, Pen::Figure, at(ring + gap), at(ring + gap + arrow), middle);
    let words_x = if pass.enters == End::Top { width - words } else { 0.0 };
    drawing.text(Text { at: Point::new(words_x, middle + cap_mm / 2.0), ..text });
    Label { drawing, size: [width, ring] }
}

/// `saw out →`; for a pass from the foot, `← saw out`.
pub(crate) fn exit_sign(pass: &Pass, cap_mm: f64) -> Label {
    let (arrow, gap) = (2.0 * cap_mm, 0.4 * cap_mm);
    let text = Text::new("saw out", Point::ZERO, cap_mm).typeface(Typeface::Condensed).ink(saw_ink(pass.cut));
    let words = text.width_mm();
    let (width, middle) = (words + gap + arrow, 0.65 * cap_mm);
    let at = |to_exit: f64| if pass.enters == End::Top { width - to_exit } else { to_exit };
    let mut drawing = Drawing::new();
    way(&mut drawing, Pen::Tick, at(arrow), at(0.0), middle);
    let words_x = if pass.enters == End::Top { 0.0 } else { width - words };
    drawing.text(Text { at: Point::new(words_x, middle + cap_mm / 2.0), ..text });
    Label { drawing, size: [width, 1.3 * cap_mm] }
}

/// An arrow along the blank.
fn way(drawing: &mut Drawing, pen: Pen, from: f64, to: f64, y: f64) {
    drawing.line(pen, (from, y), (to, y));
    let toward_deg = if to > from { 0.0 } else { 180.0 };
    drawing.arrow_head(Ink::Black, Point::new(to, y), toward_deg, 0.42 * (to - from).abs());
}

/// The number of a pass, white in a black disc.
pub(crate) fn badge(drawing: &mut Drawing, centre: Point, across_mm: f64, number: usize) {
    drawing.dot(Ink::Black, centre, across_mm / 2.0);
    let cap = 0.55 * across_mm;
    let at = Point::new(centre.x, centre.y + cap / 2.0);
    let text = Text::new(number.to_string(), at, cap).typeface(Typeface::SansBold).ink(Ink::White);
    drawing.text(text.anchor(Anchor::Middle));
}

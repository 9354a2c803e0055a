//! The check rule: 100 mm and 4 in on one line, to be measured after printing.

use crate::sheets::{Anchor, Drawing, Ink, Pen, Text, Typeface};
use cornerwise_geometry::MM_PER_INCH;
use kurbo::Point;

/// Length of the rule for inches, mm.
pub(crate) const FOUR_INCHES_MM: f64 = 4.0 * MM_PER_INCH;
/// From the rule's line to the ends of its figures, mm, to each side of it.
pub(crate) const HALF_MM: f64 = 5.4;

/// The rule, its zero at the origin, to the right. `edge` says along which edge of the paper it runs.
pub(crate) fn check_rule(edge: &str) -> Drawing {
    let mut drawing = Drawing::new();
    // Two lines 0.6 mm apart, so that each rule has ends of its own.
    let (mm_y, inch_y) = (-0.3, 0.3);
    drawing.line(Pen::CheckRule, (0.0, mm_y), (100.0, mm_y));
    drawing.line(Pen::CheckRule, (0.0, inch_y), (FOUR_INCHES_MM, inch_y));
    for i in 0..=20 {
        let length = match i {
            0 | 20 => 4.0,
            10 => 2.4,
            i if i % 2 == 0 => 1.8,
            _ => 1.2,
        };
        let x = 5.0 * f64::from(i);
        drawing.line(Pen::CheckRule, (x, mm_y), (x, mm_y - length));
    }
    for i in 0..=16 {
        let length = match i {
            0 | 16 => 4.0,
            i if i % 4 == 0 => 2.4,
            i if i % 2 == 0 => 1.8,
            _ => 1.2,
        };
        let x = MM_PER_INCH / 4.0 * f64::from(i);
        drawing.line(Pen::CheckRule, (x, inch_y), (x, inch_y + length));
    }
    let mut words = |text: &str, x: f64, y: f64, typeface: Typeface, anchor: Anchor, ink: Ink| {
        drawing.text(Text::new(text, Point::new(x, y), 1.9).typeface(typeface).anchor(anchor).ink(ink));
    };
    words("100 mm", 98.8, mm_y - 2.9, Typeface::CondensedBold, Anchor::End, Ink::Black);
    words("4 in", FOUR_INCHES_MM - 1.2, inch_y + 4.4, Typeface::CondensedBold, Anchor::End, Ink::Black);
    words("check rule", 1.2, mm_y - 2.9, Typeface::CondensedBold, Anchor::Start, Ink::Black);
    words(edge, 1.2, inch_y + 4.4, Typeface::Condensed, Anchor::Start, Ink::Black);
    drawing
}

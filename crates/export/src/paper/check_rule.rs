//! The check rule: 100 mm and 4 in on one line, to be measured after printing.

use crate::sheets::{Anchor, Drawing, Ink, Pen, Text, Typeface};
use cornerwise_geometry::MM_PER_INCH;
use cornerwise_project::Rule;
use kurbo::Point;

/// Length of the rule for inches, mm.
pub(crate) const FOUR_INCHES_MM: f64 = 4.0 * MM_PER_INCH;
/// From the rule's line to the ends of its figures, mm, to each side of it.
pub(crate) const HALF_MM: f64 = 5.4;

/// Room for words above and below the rule, mm, between its zero and the names of its ends.
const WORDS_MM: f64 = 87.0;

/// What is written at a rule: along which edge of the paper it runs, and, where it is drawn corrected, by what. A
/// corrected rule that is measured again must not be typed in as it is: that would take the correction away.
pub(crate) fn words(edge: &str, rule: Rule, measured_mm: f64) -> [String; 2] {
    let share = measured_mm / rule.mm();
    if (share - 1.0).abs() < 1e-12 {
        return ["check rule".to_owned(), edge.to_owned()];
    }
    let measured = match rule {
        Rule::HundredMillimetres => format!("{} mm", plain(measured_mm, 2)),
        Rule::FourInches => format!("{} in", plain(measured_mm / MM_PER_INCH, 3)),
    };
    [
        format!("check rule · not true? type {} × what it measures", plain(share, 4)),
        format!("{edge} · corrected: your printer drew {} as {measured}", name(rule)),
    ]
}

/// A rule by its true length.
pub(crate) fn name(rule: Rule) -> &'static str {
    match rule {
        Rule::HundredMillimetres => "100 mm",
        Rule::FourInches => "4 in",
    }
}

/// A number without zeros at its end.
fn plain(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// The rule, its zero at the origin, to the right, with words above and below it.
pub(crate) fn check_rule([above, below]: &[String; 2]) -> Drawing {
    let mut drawing = Drawing::new();
    // Two lines 0.6 mm apart, so that each rule has ends of its own.
    let (mm_y, inch_y) = (-0.3, 0.3);
    drawing.line(Pen::CheckRule, (0.0, mm_y), (100.0, mm_y));
    drawing.line(Pen::CheckRule, (0.0, inch_y), (FOUR_INCHES_MM, inch_y));
    for i in 0..=20 {
        let length = match i {
            0 | 20 => 4.0,
            10 => 2.2,
            i if i % 2 == 0 => 1.8,
            _ => 1.2,
        };
        let x = 5.0 * f64::from(i);
        drawing.line(Pen::CheckRule, (x, mm_y), (x, mm_y - length));
    }
    for i in 0..=16 {
        let length = match i {
            0 | 16 => 4.0,
            i if i % 4 == 0 => 2.1,
            i if i % 2 == 0 => 1.6,
            _ => 1.2,
        };
        let x = MM_PER_INCH / 4.0 * f64::from(i);
        drawing.line(Pen::CheckRule, (x, inch_y), (x, inch_y + length));
    }
    let mut words = |text: &str, x: f64, y: f64, typeface: Typeface, anchor: Anchor, ink: Ink| {
        let text = Text::new(text, Point::new(x, y), 1.9).typeface(typeface).anchor(anchor).ink(ink);
        drawing.text(text.fitted(WORDS_MM, 1.2));
    };
    words("100 mm", 98.8, mm_y - 2.9, Typeface::CondensedBold, Anchor::End, Ink::Black);
    words("4 in", FOUR_INCHES_MM - 1.2, inch_y + 4.4, Typeface::CondensedBold, Anchor::End, Ink::Black);
    words(above, 1.2, mm_y - 2.9, Typeface::CondensedBold, Anchor::Start, Ink::Black);
    words(below, 1.2, inch_y + 4.4, Typeface::Condensed, Anchor::Start, Ink::Black);
    drawing
}

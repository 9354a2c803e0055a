//! Which way to scrape or shave each side, as a small figure: the four sides, stretch by stretch, with arrows.

use super::Job;
use super::column::Block;
use crate::sheets::{Anchor, Drawing, Ink, Pen, Text, Typeface};
use cornerwise_geometry::{Cut, End, Side, clean_ups};
use kurbo::{BezPath, Point};

/// From the edge of the column to where the sides begin, mm.
const NAME_MM: f64 = 12.0;
/// How high a side is drawn, mm.
const HIGH_MM: f64 = 6.0;
/// From side to side, mm.
const ROW_MM: f64 = 11.5;
/// Stretches shorter than this on paper have no room for an arrow, mm.
const LEAST_MM: f64 = 2.5;

/// The figure in a column: top end left, as on screen. It is not to scale.
pub(crate) fn clean_up(job: &Job<'_>, width_mm: f64) -> Block {
    let leg = job.leg;
    let length = (width_mm - NAME_MM - 2.0).max(20.0);
    let x = |s: f64| NAME_MM + s / leg.length_mm * length;
    let mut drawing = Drawing::new();
    for (row, side) in Side::ALL.into_iter().enumerate() {
        let middle = 4.5 + ROW_MM * row as f64;
        let name = Text::new(side.to_string(), Point::new(0.0, middle + 0.8), 2.2).typeface(Typeface::CondensedBold);
        drawing.text(name);
        // How far the side stands out, as its own outline seen edge on: the tool goes down it.
        let across = leg.across_mm(side.cut());
        let out = |s: f64| {
            let offset = match side.cut() {
                Cut::First => leg.a(s),
                Cut::Second => leg.b(s),
            };
            if matches!(side, Side::One | Side::Four) { offset } else { across - offset }
        };
        let mut path = BezPath::new();
        for i in 0..=160 {
            let s = leg.length_mm * f64::from(i) / 160.0;
            let at = Point::new(x(s), middle + HIGH_MM / 2.0 - out(s) / across * HIGH_MM);
            if i == 0 { path.move_to(at) } else { path.line_to(at) }
        }
        drawing.path(Pen::Figure, path);
        for one in clean_ups(leg, side) {
            let (from, to) = (x(one.from_mm), x(one.to_mm));
            let y = middle + HIGH_MM / 2.0 + 2.0;
            for end in [from, to] {
                drawing.path(Pen::Fine, kurbo::Shape::to_path(&kurbo::Line::new((end, y - 1.0), (end, y + 1.0)), 0.1));
            }
            if to - from < LEAST_MM {
                continue;
            }
            let (left, right) = (from + 0.6, to - 0.6);
            drawing.path(Pen::Figure, kurbo::Shape::to_path(&kurbo::Line::new((left, y), (right, y)), 0.1));
            if one.toward != Some(End::Foot) {
                drawing.arrow_head(Ink::Black, Point::new(left, y), 180.0, 1.7);
            }
            if one.toward != Some(End::Top) {
                drawing.arrow_head(Ink::Black, Point::new(right, y), 0.0, 1.7);
            }
        }
    }
    let below = 4.5 + ROW_MM * 4.0 - 3.0;
    for (words, at, anchor) in [("TOP", x(0.0), Anchor::Start), ("FOOT", x(leg.length_mm), Anchor::End)] {
        let text = Text::new(words, Point::new(at, below), 2.0).typeface(Typeface::CondensedBold);
        drawing.text(text.anchor(anchor));
    }
    Block { drawing, height_mm: below + 2.5 }
}

/// What the figure says, in words.
pub(crate) const WITH_THE_GRAIN: &str = "Scrape and shave with the grain, the way the arrows point: down from a crest into a \
    hollow. Two heads: either way. The line above each row is the side seen edge on. Common practice, no source.";

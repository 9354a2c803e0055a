//! What is written about notches, the inside piece and the pipe's chamfers.

use super::{ANYWHERE, EVERY_MM, FaceStrip, Label, Placer, Point, Rect, Row, Strip, Text, Typeface, Writer};
use crate::paper::notch_marks::{carries, inside_across};

/// Capitals of what is said of a notch, mm.
const NOTCH_MM: f64 = 2.3;

/// Keeps words off the ends of notches and off the lines of the chamfers.
pub(super) fn keep_clear(strip: &Strip<'_>, face: &FaceStrip, part: Rect, placer: &mut Placer) {
    for mark in strip.job.fit.crosscut(strip.job.leg).marks {
        if let Some([from, to]) = inside_across(strip, face, mark.from_top_mm) {
            let [left, right] = [mark.blade_mm[0].min(mark.from_top_mm), mark.blade_mm[1].max(mark.from_top_mm)];
            placer.take(Rect::new(left - 0.15, from, right + 0.15, to));
        }
    }
    for y in face.chamfer_lines(strip.job.chamfer_mm()) {
        placer.take(Rect::new(part.x0, y - 0.12, part.x1, y + 0.12));
    }
}

impl Writer<'_> {
    /// Which lengths of the inside piece are left out, and which are kept; where this face has none of it, that.
    pub(super) fn notches(&mut self) {
        let job = self.strip.job;
        if job.fit.notches.is_empty() {
            return;
        }
        let name = job.piece(job.fit.inside.number());
        let Some(first_side) = carries(self.face.cut, job.fit.inside) else {
            let words = format!("{name} is inside: its notches are not on this face");
            let start = self.part.x0 + 0.5 * self.part.width();
            let label = |share: f64| {
                Label::text(Text::new(words.as_str(), Point::ZERO, NOTCH_MM * share).typeface(Typeface::Condensed))
            };
            self.put(label, |label| start - label.size[0] / 2.0, 0.4 * self.part.width(), &ANYWHERE);
            return;
        };
        let rows = if first_side {
            [Row::MiddleAbove, Row::AboveLine(1.1), Row::FirstEdge]
        } else {
            [Row::MiddleBelow, Row::BelowLine(1.1), Row::LastEdge]
        };
        let (mut notch, list) = (0, job.fit.crosscut(job.leg));
        for part in &list.parts {
            let [from, to] = part.span_mm;
            let long = job.units.show_with_unit(to - from);
            let words = if part.kept {
                vec![format!("{name} part {}, keep", part.number)]
            } else {
                notch += 1;
                vec![format!("notch {notch}"), "out".to_owned(), long]
            };
            let middle = f64::midpoint(from.max(self.part.x0), to.min(self.part.x1));
            if !(self.holds(middle) && to > self.part.x0 && from < self.part.x1) {
                continue;
            }
            let label = |share: f64| stacked(&words, NOTCH_MM * share);
            let room = 0.5 * (to.min(self.part.x1) - from.max(self.part.x0));
            let start = |label: &Label| middle - label.size[0] / 2.0;
            // Within its own length; a notch too short for its words has them beside it.
            if !self.put(label, start, (room - 0.5 * label(1.0).size[0]).max(0.0), &rows) && !part.kept {
                self.put(label, start, 30.0, &rows);
            }
        }
    }

    /// How far the arrises are chamfered, and what the strip is laid on then.
    pub(super) fn chamfers(&mut self) {
        let (chamfer, units) = (self.strip.job.chamfer_mm(), self.strip.job.units);
        if chamfer <= 0.0 {
            return;
        }
        let long = units.show_with_unit(chamfer);
        let words = if self.face.inset > 0.0 {
            format!("this strip is the flat between two chamfers of {long}")
        } else {
            format!("chamfer to the dashed lines, {long}")
        };
        for s in self.spread(0.8) {
            let label = |share: f64| {
                Label::text(Text::new(words.as_str(), Point::ZERO, NOTCH_MM * share).typeface(Typeface::CondensedBold))
            };
            self.put(label, |label| s - label.size[0] / 2.0, 0.6 * EVERY_MM, &ANYWHERE);
        }
    }
}

/// Lines of words under one another.
fn stacked(words: &[String], cap_mm: f64) -> Label {
    let mut drawing = crate::sheets::Drawing::new();
    let (leading, mut widest) = (1.75 * cap_mm, 0.0_f64);
    for (i, line) in words.iter().enumerate() {
        let at = Point::new(0.0, cap_mm + leading * i as f64);
        let text = Text::new(line.as_str(), at, cap_mm).typeface(Typeface::CondensedBold);
        widest = widest.max(text.width_mm());
        drawing.text(text);
    }
    Label { drawing, size: [widest, 1.3 * cap_mm + leading * (words.len().max(1) - 1) as f64] }
}

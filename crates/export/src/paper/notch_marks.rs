//! Notches on the faces that carry the inside piece: their ends, the length that is thrown away, and what the blade takes.

use super::strip::{FaceStrip, Strip};
use crate::sheets::{Drawing, Ink, Pen};
use cornerwise_geometry::{Cut, Piece};
use kurbo::{Point, Rect};

/// From point to point of a shaded length along the saw line, mm.
const STEP_MM: f64 = 0.5;

/// Whether a face carries a piece, and then whether on the side of its first edge.
pub(crate) fn carries(cut: Cut, piece: Piece) -> Option<bool> {
    match (cut, piece) {
        (Cut::First, Piece::One) | (Cut::Second, Piece::Two) => Some(true),
        (Cut::First, Piece::Two) | (Cut::Second, Piece::Three) => Some(false),
        _ => None,
    }
}

/// From where to where the inside piece reaches across a face at `s`, mm across the strip; nothing where it is on the other
/// faces or nothing is notched.
pub(crate) fn inside_across(strip: &Strip<'_>, face: &FaceStrip, s: f64) -> Option<[f64; 2]> {
    let job = strip.job;
    if job.fit.notches.is_empty() {
        return None;
    }
    let at = (face.y0 + job.leg.line(face.cut).offset(s)).clamp(face.first(), face.last());
    Some(if carries(face.cut, job.fit.inside)? { [face.first(), at] } else { [at, face.last()] })
}

/// Draws what of the notches lies on a face within a window.
pub(crate) fn draw(strip: &Strip<'_>, face: &FaceStrip, window: Rect, drawing: &mut Drawing) {
    let list = strip.job.fit.crosscut(strip.job.leg);
    let within = |y: f64| y.clamp(window.y0, window.y1);
    for part in list.parts.iter().filter(|part| !part.kept) {
        let (from, to) = (part.span_mm[0].max(window.x0), part.span_mm[1].min(window.x1));
        if to <= from {
            continue;
        }
        let steps = ((to - from) / STEP_MM).ceil().max(1.0) as usize;
        let mut edges = [Vec::new(), Vec::new()];
        for i in 0..=steps {
            let s = from + (to - from) * i as f64 / steps as f64;
            let Some(across) = inside_across(strip, face, s) else { return };
            for (edge, y) in edges.iter_mut().zip(across) {
                edge.push(Point::new(s, within(y)));
            }
        }
        let [upper, lower] = edges;
        let outline: Vec<Point> = upper.into_iter().chain(lower.into_iter().rev()).collect();
        drawing.polygon(Ink::Pale, &outline);
    }
    for mark in &list.marks {
        let s = mark.from_top_mm;
        let Some([from, to]) = inside_across(strip, face, s) else { return };
        let other = mark.blade_mm.into_iter().find(|end| (end - s).abs() > 1e-9).unwrap_or(s);
        if !(window.x0..=window.x1).contains(&s) {
            continue;
        }
        line(drawing, window, (s, from), (s, to));
        kerf_ticks(drawing, window, [s, other], [from, to]);
    }
}

/// Ticks as long as the kerf, on the side of a mark that the blade runs on.
pub(crate) fn kerf_ticks(drawing: &mut Drawing, window: Rect, [s, other]: [f64; 2], [from, to]: [f64; 2]) {
    for share in [0.2, 0.5, 0.8] {
        let y = from + share * (to - from);
        let (x0, x1) = (s.clamp(window.x0, window.x1), other.clamp(window.x0, window.x1));
        if (window.y0..=window.y1).contains(&y) && x0 != x1 {
            drawing.line(Pen::Tick, (x0, y), (x1, y));
        }
    }
}

fn line(drawing: &mut Drawing, window: Rect, (s, from): (f64, f64), (_, to): (f64, f64)) {
    let (from, to) = (from.max(window.y0), to.min(window.y1));
    if to > from {
        drawing.line(Pen::Notch, (s, from), (s, to));
    }
}

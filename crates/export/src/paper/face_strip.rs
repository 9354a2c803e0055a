//! The lines of one face: the saw line, the finished ends, the scale.

use super::notch_marks;
use super::passes::sharp_point;
use super::scale_ticks::{self, Tick};
use super::strip::{FaceStrip, Strip};
use crate::sheets::{Drawing, Ink, Pen, clipped};
use cornerwise_geometry::Cut;
use kurbo::{Affine, BezPath, Rect, Shape};

/// The ring round a sharp point, mm from the point.
pub(crate) const RING_MM: f64 = 1.6;

/// From point to point of the edge of a kerf, mm: bends to a radius of 12 mm stay within a hundredth.
const EDGE_STEP_MM: f64 = 1.0;

/// The pen of a saw line.
pub(crate) fn saw_pen(cut: Cut) -> Pen {
    match cut {
        Cut::First => Pen::FirstCut,
        Cut::Second => Pen::SecondCut,
    }
}

/// The colour of a cut's words.
pub(crate) fn saw_ink(cut: Cut) -> Ink {
    match cut {
        Cut::First => Ink::First,
        Cut::Second => Ink::Second,
    }
}

/// Draws one face's lines within a window.
pub(crate) fn draw(strip: &Strip<'_>, face: &FaceStrip, window: Rect, drawing: &mut Drawing) {
    let part = strip.rect(face).intersect(window);
    if part.is_zero_area() {
        return;
    }
    let leg = strip.job.leg;
    notch_marks::draw(strip, face, window, drawing);
    let [from, to] = strip.ends();
    for y in face.chamfer_lines(strip.job.chamfer_mm()) {
        let end = kurbo::Line::new((from, y), (to, y)).to_path(0.1);
        drawing.path(Pen::Chamfer, clipped(&end, window));
    }
    for s in [0.0, leg.length_mm] {
        let end = kurbo::Line::new((s, face.first()), (s, face.last())).to_path(0.1);
        drawing.path(Pen::FinishedEnd, clipped(&end, window));
    }
    for tick in scale_ticks::ticks(strip.job.units, leg.length_mm, part.x0, part.x1) {
        draw_tick(face, &tick, window, drawing);
    }
    if let Some(taken) = strip.job.notes.kerf_edges_mm {
        for side in [-taken, taken] {
            drawing.path(Pen::KerfEdge, kerf_edge(strip, face, part, side));
        }
    }
    drawing.path(saw_pen(face.cut), saw_line(strip, face, part));
    if let Some(s) = sharp_point(leg, face.cut) {
        let at = (s, face.y0 + leg.line(face.cut).offset(s));
        if part.inflate(-2.0, -2.0).contains(at) {
            drawing.circle(Pen::Tick, at, RING_MM);
        }
    }
}

/// The saw line within a part of the strip, at true size, spare length included.
pub(crate) fn saw_line(strip: &Strip<'_>, face: &FaceStrip, part: Rect) -> BezPath {
    let line = strip.job.leg.line(face.cut).path(part.x0, part.x1);
    clipped(&(Affine::translate((0.0, face.y0)) * line), part)
}

/// The edge of what the saw takes up, `distance_mm` from the saw line, square to it: exact points of the parallel curve, near
/// enough to one another that what lies between is straight within a hundredth of a millimetre.
fn kerf_edge(strip: &Strip<'_>, face: &FaceStrip, part: Rect, distance_mm: f64) -> BezPath {
    let line = strip.job.leg.line(face.cut);
    let mut path = BezPath::new();
    let count = ((part.x1 - part.x0) / EDGE_STEP_MM).ceil().max(1.0);
    for i in 0..=count as usize {
        let s = part.x0 + (part.x1 - part.x0) * i as f64 / count;
        let at = (s, face.y0 + line.parallel(s, distance_mm).offset);
        if i == 0 { path.move_to(at) } else { path.line_to(at) }
    }
    clipped(&path, part)
}

fn draw_tick(face: &FaceStrip, tick: &Tick, window: Rect, drawing: &mut Drawing) {
    let length = tick.rank.length_mm(face.across);
    let (first, last) = (face.first(), face.last());
    for (from, to) in [(first, first + length), (last, last - length)] {
        let line = kurbo::Line::new((tick.s, from), (tick.s, to)).to_path(0.1);
        drawing.path(Pen::Tick, clipped(&line, window));
    }
}

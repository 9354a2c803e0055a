//! The blank as it lies on the saw table, as a small figure: names of the faces, and the way to roll.

use super::Job;
use super::column::Block;
use super::face_strip::saw_pen;
use crate::sheets::{Anchor, Drawing, Ink, Pen, Text, Typeface};
use cornerwise_geometry::Cut;
use kurbo::{BezPath, Point};

/// The figure in a column. It shows which way round things are; it is not to scale.
pub(crate) fn figure(job: &Job<'_>, width_mm: f64) -> Block {
    let leg = job.leg;
    // The blank's height and the set-back of its far arris, mm on paper.
    let (high, back) = (13.0, [-9.0, 9.0]);
    let (left, right, top) = (10.0, (width_mm - 12.0).max(40.0), 13.5);
    let length = right - left;
    // Front: face 2, toward the maker. Above it face 1, leaning back and to the left, so that the top end shows.
    let front = |along: f64, down: f64| Point::new(left + along * length, top + down * high);
    let upper = |along: f64, across: f64| {
        let rest = 1.0 - across;
        Point::new(left + along * length + rest * back[0], top - rest * back[1])
    };
    let end = |across: f64, down: f64| {
        let rest = 1.0 - across;
        Point::new(left + rest * back[0], top + down * high - rest * back[1])
    };
    let mut drawing = Drawing::new();
    drawing.polygon(Ink::Pale, &[end(0.0, 0.0), end(1.0, 0.0), end(1.0, 1.0), end(0.0, 1.0)]);
    drawing.outline(Pen::Figure, &[front(0.0, 0.0), front(1.0, 0.0), front(1.0, 1.0), front(0.0, 1.0)]);
    drawing.outline(Pen::Figure, &[upper(0.0, 0.0), upper(1.0, 0.0), upper(1.0, 1.0), upper(0.0, 1.0)]);
    drawing.outline(Pen::Figure, &[end(0.0, 0.0), end(1.0, 0.0), end(1.0, 1.0), end(0.0, 1.0)]);

    let (from, to) = (-leg.spare_top_mm, leg.length_mm + leg.spare_foot_mm);
    for cut in Cut::ALL {
        let mut path = BezPath::new();
        for i in 0..=120 {
            let along = f64::from(i) / 120.0;
            let s = from + along * (to - from);
            let point = match cut {
                Cut::First => upper(along, leg.a(s) / leg.width_mm),
                Cut::Second => front(along, leg.b(s) / leg.depth_mm),
            };
            if i == 0 { path.move_to(point) } else { path.line_to(point) }
        }
        drawing.path(saw_pen(cut), path);
    }
    let mut words = |text: &str, at: Point, anchor: Anchor| {
        drawing.text(Text::new(text, at, 2.2).typeface(Typeface::CondensedBold).anchor(anchor));
    };
    words("face 1", upper(0.0, 0.0) + (0.0, -1.3), Anchor::Start);
    words("face 2", front(0.0, 1.0) + (0.0, 4.5), Anchor::Start);
    words("TOP", end(0.5, 0.5) + (0.0, 1.1), Anchor::Middle);
    words("FOOT", front(1.0, 1.0) + (0.0, 4.5), Anchor::End);
    words("you stand here", front(0.5, 1.0) + (0.0, 4.5), Anchor::Middle);
    words("roll", front(1.0, 0.5) + (5.0, 6.5), Anchor::Middle);
    // For the second cut the near face comes up: from the front over the arris to the top.
    let mut roll = BezPath::new();
    let (tail, tip) = (front(1.0, 0.5) + (5.0, 2.5), upper(1.0, 0.4) + (4.0, 0.0));
    roll.move_to(tail);
    roll.quad_to(front(1.0, 0.0) + (6.0, -3.0), tip);
    drawing.path(Pen::Figure, roll);
    drawing.arrow_head(Ink::Black, tip + (-0.6, -0.6), 225.0, 2.8);
    Block { drawing, height_mm: top + high + 8.0 }
}

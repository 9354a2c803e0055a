//! Which leg stands where, seen from above: a figure for the plan, not at true size. It goes with the plan's first section,
//! which says the same in words.

use super::column::Block;
use crate::sheets::{Anchor, Drawing, Ink, Pen, Text, Typeface};
use cornerwise_geometry::furniture::BoardKind;
use cornerwise_project::Assembly;
use kurbo::{Point, Rect, Vec2};

/// Paper round the figure for its words, mm.
const MARGIN_MM: f64 = 11.0;
/// The tallest figure, mm.
const HIGHEST_MM: f64 = 90.0;
/// The least that a leg is drawn across, mm: far smaller, and its pieces cannot be told.
const LEAST_LEG_MM: f64 = 7.0;
/// Capitals, mm.
const CAP_MM: f64 = 2.2;

/// The figure, in a column of this width; nothing for a leg by itself.
pub(crate) fn figure(made: &Assembly, width_mm: f64) -> Option<Block> {
    if made.legs.len() < 2 {
        return None;
    }
    let axes: Vec<[f64; 2]> = made.legs.iter().map(|placed| placed.spot.axis_mm).collect();
    let mut bounds = axes.iter().fold(None, |bounds: Option<Rect>, [u, v]| {
        let one = Rect::new(*u, *v, *u, *v);
        Some(bounds.map_or(one, |all| all.union(one)))
    })?;
    let top = made.boards.iter().find(|board| board.kind == BoardKind::Top);
    for [u, v] in top.iter().flat_map(|top| &top.solid.upper) {
        bounds = bounds.union(Rect::new(*u, *v, *u, *v));
    }
    let room = [width_mm - 2.0 * MARGIN_MM, HIGHEST_MM - 2.0 * MARGIN_MM];
    let scale = (room[0] / bounds.width().max(1.0)).min(room[1] / bounds.height().max(1.0));
    let middle = bounds.center();
    let height = bounds.height() * scale + 2.0 * MARGIN_MM;
    // u to the right and v down: seen from above.
    let at = |[u, v]: [f64; 2]| Point::new(width_mm / 2.0, height / 2.0) + scale * (Point::new(u, v) - middle);
    let mut drawing = Drawing::new();
    if let Some(top) = top {
        drawing.outline(Pen::Fine, &top.solid.upper.iter().map(|corner| at(*corner)).collect::<Vec<_>>());
    }
    if made.furniture.arrangement.frame().is_some() {
        drawing.outline(Pen::Fine, &axes.iter().map(|axis| at(*axis)).collect::<Vec<_>>());
    }
    for (place, placed) in made.legs.iter().enumerate() {
        // A leg too small to be seen is drawn larger than the distances between legs.
        let side = placed.leg.width_mm.max(placed.leg.depth_mm);
        let larger = scale.max(LEAST_LEG_MM / side);
        let (sin, cos) = placed.turn_deg.to_radians().sin_cos();
        let axis = at(placed.spot.axis_mm);
        let out = |[u, v]: [f64; 2]| axis + larger * Vec2::new(cos * u - sin * v, sin * u + cos * v);
        let (leg, piece) = (&placed.leg, placed.fit.inside);
        let (a, b) = (leg.a(0.0), leg.b(0.0));
        let [u, v] = piece.reach(leg.width_mm, leg.depth_mm, a, b);
        drawing.polygon(Ink::Pale, &[out([0.0, 0.0]), out([u, 0.0]), out([u, v]), out([0.0, v])]);
        let (w, d) = (leg.width_mm, leg.depth_mm);
        drawing.outline(Pen::Figure, &[out([-a, -b]), out([w - a, -b]), out([w - a, d - b]), out([-a, d - b])]);
        drawing.line(Pen::Figure, out([-a, 0.0]), out([w - a, 0.0]));
        drawing.line(Pen::Figure, out([0.0, -b]), out([0.0, d - b]));
        // The place outside, the inside piece toward the middle.
        let inward = placed.spot.inward_deg.to_radians();
        let way = Vec2::new(inward.cos(), inward.sin());
        let reach = larger * w.hypot(d) / 2.0;
        let mut words = |words: String, typeface: Typeface, way: Vec2| {
            let from = axis + (reach + 1.2) * way;
            let anchor = match way.x {
                x if x > 0.3 => Anchor::Start,
                x if x < -0.3 => Anchor::End,
                _ => Anchor::Middle,
            };
            let from = from + Vec2::new(0.0, CAP_MM / 2.0 + 0.5 * CAP_MM * way.y);
            drawing.text(Text::new(words, from, CAP_MM).typeface(typeface).anchor(anchor));
        };
        words((place + 1).to_string(), Typeface::SansBold, -way);
        words(placed.piece(placed.fit.inside), Typeface::Condensed, way);
    }
    let said = "Seen from above: places by number, the inside piece shaded and named. Not at true size.";
    let mut block = Block::item("", "", said, width_mm);
    let below = block.height_mm;
    block.drawing.add(&drawing, kurbo::Affine::translate((0.0, below)));
    block.height_mm += height + 2.0;
    Some(block)
}

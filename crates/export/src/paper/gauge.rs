//! The gauge: the level section of the finished leg at chosen heights, at true size.

use super::column::{Block, set};
use super::cover::{INSET_MM, leaf};
use super::{Job, Leaf, PaperError};
use crate::sheets::{Anchor, Drawing, Ink, Pen, Text, Typeface};
use cornerwise_geometry::{Piece, Side};
use cornerwise_project::PaperExtra;
use kurbo::{Point, Rect};

/// Paper round a section for its words: left and right, above, below, mm.
const MARGIN_MM: [f64; 3] = [12.0, 11.0, 6.0];
/// More above where a saw is told, for the sizes that it gives, mm.
const SAWN_MM: f64 = 3.6;

/// The paper round a section.
fn margin_mm(job: &Job<'_>) -> [f64; 3] {
    let [side, above, below] = MARGIN_MM;
    [side, above + if job.notes.as_sawn.is_some() { SAWN_MM } else { 0.0 }, below]
}
/// Between columns, mm.
const GAP_MM: f64 = 6.0;

/// The pages of the gauge, where it is wanted.
pub(crate) fn leaves(job: &Job<'_>) -> Result<Vec<Leaf>, PaperError> {
    if !job.choice.also.contains(&PaperExtra::Gauge) {
        return Ok(Vec::new());
    }
    let [across, highest] = job.kind.most_board().map(|room| room - 2.0 * INSET_MM);
    let [side, above, below] = margin_mm(job);
    let (width, height) = (job.leg.width_mm + 2.0 * side, job.leg.depth_mm + above + below);
    if width > across || height > highest {
        return Err(PaperError::Gauge { page_mm: [across, highest], needs_mm: [width, height] });
    }
    let columns = (((across + GAP_MM) / (width + GAP_MM)).floor() as usize).max(1);
    let mut groups = vec![];
    for s in heights(job) {
        groups.push(vec![Block { drawing: section(job, s), height_mm: height + 3.0 }]);
    }
    let rows = groups.len().div_ceil(columns) as f64;
    let room = if job.kind.is_roll() { (rows * (height + 3.0)).min(highest) } else { highest };
    let pages = set(&groups, columns, width, GAP_MM, room);
    Ok(pages.iter().map(|page| leaf(job, page, room, "gauge of level sections")).collect())
}

/// From the finished top, mm, in order.
fn heights(job: &Job<'_>) -> Vec<f64> {
    let length = job.leg.length_mm;
    let mut heights: Vec<f64> = if job.choice.gauge_at.is_empty() {
        let quarters = [0.0, 0.25, 0.5, 0.75, 1.0].map(|share| share * length);
        let notches = job.fit.notches.iter().map(|notch| notch.span_mm()[1]);
        quarters.into_iter().chain(notches).collect()
    } else {
        job.choice.gauge_at.iter().map(|at| at.mm().clamp(0.0, length)).collect()
    };
    heights.sort_by(f64::total_cmp);
    heights.dedup_by(|a, b| (*a - *b).abs() < 0.01);
    heights
}

/// One section, seen from the top: u to the right, v down, its upper left corner of paper at the origin.
fn section(job: &Job<'_>, s: f64) -> Drawing {
    let (leg, [side, above, _]) = (job.leg, margin_mm(job));
    let (a, b) = (leg.a(s), leg.b(s));
    let (width, depth) = (leg.width_mm, leg.depth_mm);
    let (x0, y0) = (side, above);
    let at = |u: f64, v: f64| Point::new(x0 + a + u, y0 + b + v);
    let sawn = job.notes.as_sawn.as_ref().map(|sawn| sawn.at(s));
    let mut drawing = Drawing::new();
    // A notch stands on its lower end: the section there is the one under the board.
    let out = job.fit.notch_at(s).map(|_| job.fit.inside);
    // The four corners of a piece from the axis round: as sawn where a saw is told.
    let corners = |piece: Piece| {
        let [u, v] = piece.reach(width, depth, a, b);
        let drawn = [[0.0, 0.0], [u, 0.0], [u, v], [0.0, v]];
        sawn.as_ref().map_or(drawn, |sawn| sawn.pieces[piece.index()]).map(|[u, v]| at(u, v))
    };
    if let Some(piece) = out {
        drawing.polygon(Ink::Pale, &corners(piece));
    }
    let frame = Rect::new(x0, y0, x0 + width, y0 + depth);
    if sawn.is_some() {
        drawing.frame(Pen::AsDrawn, frame);
        for piece in Piece::ALL {
            let [_, one, outer, other] = corners(piece);
            drawing.line(Pen::CutOut, one, outer);
            drawing.line(Pen::CutOut, outer, other);
        }
    } else {
        drawing.frame(Pen::CutOut, frame);
    }
    // The seams, as far as the wood reaches on them.
    let ends = |i: usize, drawn: [f64; 2]| {
        let Some(sawn) = &sawn else { return drawn };
        let on_seams = sawn.pieces.iter().flat_map(|piece| [piece[1][i], piece[3][i]]);
        on_seams.fold([0.0_f64; 2], |[least, most], at| [least.min(at), most.max(at)])
    };
    let ([left, right], [above_axis, below_axis]) = (ends(0, [-a, width - a]), ends(1, [-b, depth - b]));
    drawing.line(Pen::Figure, at(left, 0.0), at(right, 0.0));
    drawing.line(Pen::Figure, at(0.0, above_axis), at(0.0, below_axis));
    let c = job.chamfer_mm();
    if c > 0.0 {
        drawing.outline(Pen::Chamfer, &[at(-c, 0.0), at(0.0, -c), at(c, 0.0), at(0.0, c)]);
    }
    let cap = (0.06 * width.min(depth)).clamp(1.4, 3.0);
    for piece in Piece::ALL {
        let [u, v] = piece.reach(width, depth, a, b);
        if u.abs() < 4.0 * cap || v.abs() < 2.0 * cap {
            continue;
        }
        let corner = at(u, v);
        let anchor = if u < 0.0 { Anchor::Start } else { Anchor::End };
        let x = corner.x - u.signum() * 0.8 * cap;
        let y = if v < 0.0 { corner.y + 1.7 * cap } else { corner.y - 0.7 * cap };
        let name = job.piece(piece.number());
        let words = if out == Some(piece) { format!("{name} out") } else { name };
        drawing.text(Text::new(words, Point::new(x, y), cap).typeface(Typeface::SansBold).anchor(anchor));
    }
    let show = |mm: f64| job.units.show_with_unit(mm);
    let title = Text::new(format!("{} from TOP", show(s)), Point::new(0.0, 3.4), 2.6).typeface(Typeface::SansBold);
    let room = width + 2.0 * side;
    drawing.text(title.fitted(room, 1.6));
    let axis = format!("seams {} from side 4, {} from side 1; seen from the top", show(a), show(b));
    let mut y = 7.2;
    if let Some(sawn) = &sawn {
        let [across, deep] = sawn.size_mm;
        let words = format!("as sawn {} × {}; dashed as drawn:", job.units.show(across), show(deep));
        drawing.text(Text::new(words, Point::new(0.0, y), 1.9).typeface(Typeface::CondensedBold).fitted(room, 1.2));
        y += SAWN_MM;
    }
    drawing.text(Text::new(axis, Point::new(0.0, y), 1.9).typeface(Typeface::Condensed).fitted(room, 1.2));
    for (words, place, turn) in [
        (Side::One, Point::new(x0 + width / 2.0, y0 - 0.9), 0.0),
        (Side::Three, Point::new(x0 + width / 2.0, y0 + depth + 3.2), 0.0),
        (Side::Two, Point::new(x0 + width + 1.4, y0 + depth / 2.0), 90.0),
        (Side::Four, Point::new(x0 - 1.4, y0 + depth / 2.0), -90.0),
    ] {
        let text = Text::new(words.to_string(), place, 1.9).typeface(Typeface::Condensed).anchor(Anchor::Middle);
        drawing.text(text.turned(turn));
    }
    drawing
}

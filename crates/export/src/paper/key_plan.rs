//! A small plan of how the pages of a strip come together.

use super::tiling::{Grid, Lie};
use crate::sheets::{Anchor, Drawing, Ink, Pen, Text, Typeface};
use kurbo::{Affine, Point, Rect};

/// The plan of a grid, this page's window filled, no larger than `room` (across and up, mm, at least 30 by 20). Its upper left corner is at
/// the origin. It lies as the pages lie.
pub(crate) fn key_plan(grid: &Grid, here: Option<[usize; 2]>, board: &[Rect], room: [f64; 2]) -> Drawing {
    let [across, up] = grid.size_on_page(grid.extent);
    // TOP and FOOT stand beside the plan, or above and below it.
    let words = if grid.lie == Lie::Lying { [18.0, 0.0] } else { [0.0, 7.0] };
    let scale = ((room[0] - words[0]) / across).min((room[1] - words[1]) / up);
    let place = Affine::scale(scale) * grid.page_from_board(grid.extent, [0.0, 0.0]);
    let mut drawing = Drawing::new();
    if let Some(here) = here {
        let window = place.transform_rect_bbox(grid.window(here));
        drawing.polygon(Ink::Pale, &corners(window));
    }
    for face in board {
        drawing.frame(Pen::Fine, place.transform_rect_bbox(*face));
    }
    for (number, at) in grid.places().enumerate() {
        let window = place.transform_rect_bbox(grid.window(at));
        drawing.frame(Pen::Tick, window.inflate(-0.15, -0.15));
        let is_here = here == Some(at);
        let typeface = if is_here { Typeface::SansBold } else { Typeface::Sans };
        let cap = (0.5 * window.width().min(window.height())).clamp(1.2, 3.0);
        let centre = window.center();
        let text = Text::new((number + 1).to_string(), Point::new(centre.x, centre.y + cap / 2.0), cap);
        drawing.text(text.typeface(typeface).anchor(Anchor::Middle));
    }
    let (top, foot) = (grid.extent.x0, grid.extent.x1);
    let middle = grid.extent.center().y;
    let mut end = |words: &str, x: f64, lying: (f64, f64), anchor: Anchor, upright: (f64, f64)| {
        let at = place * Point::new(x, middle);
        let (offset, anchor) = match grid.lie {
            Lie::Lying => (lying, anchor),
            Lie::Upright => (upright, Anchor::Middle),
        };
        let text = Text::new(words, Point::new(at.x + offset.0, at.y + offset.1), 1.9);
        drawing.text(text.typeface(Typeface::CondensedBold).anchor(anchor));
    };
    end("TOP", top, (-1.0, 0.9), Anchor::End, (0.0, -1.0));
    end("FOOT", foot, (1.0, 0.9), Anchor::Start, (0.0, 3.0));
    drawing
}

pub(crate) fn corners(rect: Rect) -> [Point; 4] {
    [
        Point::new(rect.x0, rect.y0),
        Point::new(rect.x1, rect.y0),
        Point::new(rect.x1, rect.y1),
        Point::new(rect.x0, rect.y1),
    ]
}

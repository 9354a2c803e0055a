//! The strip, cut into pages.

use super::joins::Joins;
use super::key_plan::key_plan;
use super::strip::Strip;
use super::tiling::{Grid, Lie};
use super::{Job, Leaf, PaperError};
use crate::sheets::{Drawing, Text, Typeface};
use kurbo::{Affine, Point, Rect};

/// Least width of the paper beside the strip that notes are written in, mm.
const NOTES_MM: f64 = 30.0;

/// The pages of the strip, from the top.
pub(crate) fn leaves(job: &Job<'_>, strip: &Strip<'_>) -> Result<Vec<Leaf>, PaperError> {
    let room = job.kind.most_board();
    // Across a roll, where it fits, takes less paper than along it.
    let rather = if job.kind.is_roll() { Lie::Lying } else { Lie::along(room) };
    let grid = Grid::new(strip.extent(), room, job.choice.overlap.mm(), rather)?;
    let joins = Joins::new(&grid);
    let faces: Vec<Rect> = strip.faces.iter().map(|face| strip.rect(face)).collect();
    let of = grid.len();
    let leaf = |(i, place): (usize, [usize; 2])| {
        let window = grid.window(place);
        let [width, height] = grid.size_on_page(window);
        let page = job.kind.page_for(height);
        // The joining lines lie below the strip: where rows join on the fold, the fold shows.
        let mut board = joins.draw(&grid, place);
        let strip = strip.draw(window, joins.own(&grid, place), &board);
        board.marks.extend(strip.marks);
        // A little air beside the check rule where there is room for it.
        let corner = [page.board.x0 + (page.board.width() - width).clamp(0.0, 3.0), page.board.y0];
        let mut drawing = Drawing::new();
        drawing.add(&board, grid.page_from_board(window, corner));
        let beside = Rect::new(corner[0] + width + 4.0, corner[1] + 1.0, page.board.x1, page.board.y1);
        let below = Rect::new(corner[0] + 2.0, corner[1] + height + 4.0, page.board.x1, page.board.y1);
        notes(&grid, place, &faces, [beside, below], &mut drawing);
        let what = if of == 1 { "strip".to_owned() } else { format!("strip, part {} of {of}", i + 1) };
        Leaf { page, what, drawing }
    };
    Ok(grid.places().enumerate().map(leaf).collect())
}

/// How this page is joined to the others, where there is paper left for it.
fn notes(grid: &Grid, place: [usize; 2], faces: &[Rect], free: [Rect; 2], drawing: &mut Drawing) {
    if grid.len() == 1 {
        return;
    }
    let [beside, below] = free;
    let plan_room = if beside.width() >= NOTES_MM {
        [beside.width().min(30.0), beside.height().min(110.0)]
    } else if below.height() >= 26.0 {
        [below.width().min(120.0), below.height().min(30.0)]
    } else {
        return;
    };
    let words = [
        "Joining the pages",
        "Cut a page along its dotted line, lay it on the next page so that crosses of the same number fall on each \
         other, and tape.",
        "A straightedge laid on the straightedge line must touch it on every page.",
        "Cut out and fold only when all pages are joined.",
    ];
    let plan = key_plan(grid, Some(place), faces, plan_room);
    let bounds = plan.bounds();
    if beside.width() >= NOTES_MM {
        let y = beside.y0 + 4.0 - bounds.y0.min(0.0);
        drawing.add(&plan, Affine::translate((beside.x0 - bounds.x0, y)));
        text(drawing, &words, Point::new(beside.x0, y + bounds.y1 + 8.0), beside.width().min(70.0));
    } else {
        let y = below.y0 + 2.0;
        drawing.add(&plan, Affine::translate((below.x0 - bounds.x0, y - bounds.y0)));
        let x = below.x0 + bounds.width() + 10.0;
        text(drawing, &words, Point::new(x, y + 2.5), (below.x1 - x).min(110.0));
    }
}

fn text(drawing: &mut Drawing, words: &[&str], at: Point, width_mm: f64) {
    let mut y = at.y;
    for (i, paragraph) in words.iter().enumerate() {
        let typeface = if i == 0 { Typeface::CondensedBold } else { Typeface::Condensed };
        for line in typeface.wrapped(paragraph, 2.2, width_mm) {
            drawing.text(Text::new(line, Point::new(at.x, y), 2.2).typeface(typeface));
            y += 4.0;
        }
        y += 1.2;
    }
}

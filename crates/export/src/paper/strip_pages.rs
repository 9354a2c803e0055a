//! The strip, cut into pages.

use super::joins::Joins;
use super::key_plan::key_plan;
use super::strip::Strip;
use super::tiling::{Grid, Lie};
use super::{Job, Leaf, PaperError};
use crate::page::Page;
use crate::sheets::{Drawing, Text, Typeface};
use kurbo::{Affine, Point, Rect};

/// Least width of the paper beside the strip that notes are written in, mm.
const NOTES_MM: f64 = 30.0;

/// Over the words on joining.
pub(crate) const JOINING_TITLE: &str = "Joining the pages";
/// How pages are joined.
pub(crate) const JOINING: [&str; 3] = [
    "Cut a page along its dotted line, lay it on the next page so that crosses of the same number fall on each other, and \
     tape.",
    "A straightedge laid on the straightedge line must touch it on every page.",
    "Cut out and fold only when all pages are joined.",
];

/// The strip and how it is cut into pages.
pub(crate) struct StripPages<'a> {
    strip: Strip<'a>,
    grid: Grid,
}

impl<'a> StripPages<'a> {
    /// The strip of a leg on the pages that the maker chose.
    pub fn new(job: &'a Job<'a>) -> Result<StripPages<'a>, PaperError> {
        let strip = Strip::new(job);
        let room = job.kind.most_board();
        // Across a roll, where it fits, takes less paper than along it.
        let rather = if job.kind.is_roll() { Lie::Lying } else { Lie::along(room) };
        let grid = Grid::new(strip.extent(), room, job.choice.overlap.mm(), rather)?;
        Ok(StripPages { strip, grid })
    }

    /// Whether its pages are joined and one of them has no paper left to say how.
    pub fn needs_the_cover(&self) -> bool {
        self.grid.len() > 1 && self.grid.places().any(|place| self.placed(place).notes_room().is_none())
    }

    /// The plan of all pages, the one that is `here` filled, at most `room_mm` across and up.
    pub fn plan(&self, here: Option<[usize; 2]>, room_mm: [f64; 2]) -> Drawing {
        let faces: Vec<Rect> = self.strip.faces.iter().map(|face| self.strip.rect(face)).collect();
        key_plan(&self.grid, here, &faces, room_mm)
    }

    /// The pages, from the top.
    pub fn leaves(&self) -> Vec<Leaf> {
        let grid = &self.grid;
        let joins = Joins::new(grid);
        let of = grid.len();
        let leaf = |(i, place): (usize, [usize; 2])| {
            let window = grid.window(place);
            let placed = self.placed(place);
            // The joining lines lie below the strip: where rows join on the fold, the fold shows.
            let mut board = joins.draw(grid, place);
            let strip = self.strip.draw(window, joins.own(grid, place), &board);
            board.marks.extend(strip.marks);
            let mut drawing = Drawing::new();
            drawing.add(&board, grid.page_from_board(window, placed.corner));
            if of > 1 {
                self.notes(place, &placed, &mut drawing);
            }
            let what = if of == 1 { "strip".to_owned() } else { format!("strip, part {} of {of}", i + 1) };
            Leaf { page: placed.page, what, drawing }
        };
        grid.places().enumerate().map(leaf).collect()
    }

    fn placed(&self, place: [usize; 2]) -> Placed {
        let [width, height] = self.grid.size_on_page(self.grid.window(place));
        let page = self.strip.job.kind.page_for(height);
        // A little air beside the check rule where there is room for it.
        let corner = [page.board.x0 + (page.board.width() - width).clamp(0.0, 3.0), page.board.y0];
        let beside = Rect::new(corner[0] + width + 4.0, corner[1] + 1.0, page.board.x1, page.board.y1);
        let below = Rect::new(corner[0] + 2.0, corner[1] + height + 4.0, page.board.x1, page.board.y1);
        Placed { page, corner, beside, below }
    }

    /// How this page is joined to the others, where there is paper left for it.
    fn notes(&self, place: [usize; 2], placed: &Placed, drawing: &mut Drawing) {
        let Some(room) = placed.notes_room() else { return };
        let Placed { beside, below, .. } = placed;
        let plan = self.plan(Some(place), room);
        let bounds = plan.bounds();
        if placed.is_wide_beside() {
            let y = beside.y0 + 4.0 - bounds.y0.min(0.0);
            drawing.add(&plan, Affine::translate((beside.x0 - bounds.x0, y)));
            text(drawing, Point::new(beside.x0, y + bounds.y1 + 8.0), beside.width().min(70.0));
        } else {
            let y = below.y0 + 2.0;
            drawing.add(&plan, Affine::translate((below.x0 - bounds.x0, y - bounds.y0)));
            let x = below.x0 + bounds.width() + 10.0;
            text(drawing, Point::new(x, y + 2.5), (below.x1 - x).min(110.0));
        }
    }
}

/// Where a window lies on its page, and what paper is left.
struct Placed {
    page: Page,
    corner: [f64; 2],
    beside: Rect,
    below: Rect,
}

impl Placed {
    fn is_wide_beside(&self) -> bool {
        self.beside.width() >= NOTES_MM
    }

    /// The most that the plan may take, across and up, mm; nothing where there is no room for notes.
    fn notes_room(&self) -> Option<[f64; 2]> {
        let Placed { beside, below, .. } = self;
        if self.is_wide_beside() {
            Some([beside.width().min(30.0), beside.height().min(110.0)])
        } else if below.height() >= 26.0 {
            Some([below.width().min(120.0), below.height().min(30.0)])
        } else {
            None
        }
    }
}

fn text(drawing: &mut Drawing, at: Point, width_mm: f64) {
    let mut y = at.y;
    for (i, paragraph) in [JOINING_TITLE].iter().chain(&JOINING).enumerate() {
        let typeface = if i == 0 { Typeface::CondensedBold } else { Typeface::Condensed };
        for line in typeface.wrapped(paragraph, 2.2, width_mm) {
            drawing.text(Text::new(line, Point::new(at.x, y), 2.2).typeface(typeface));
            y += 4.0;
        }
        y += 1.2;
    }
}

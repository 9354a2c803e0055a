//! What makes pages come together true: a straight line through all of them, numbered crosses that fall on one another,
//! and the line where one page takes over from the next.

use super::tiling::{Grid, joins};
use crate::sheets::{Anchor, Drawing, Ink, Pen, Text, Typeface, clipped};
use kurbo::{Point, Rect, Shape};

/// From the window's edge across the strip to the straightedge line, mm.
const LINE_INSET_MM: f64 = 4.0;
/// Reach of a cross from its middle, mm.
const CROSS_MM: f64 = 3.2;
/// Radius of the ring round a cross, mm.
const RING_MM: f64 = 2.0;

/// The straight lines of a board, and where its joining marks are.
pub(crate) struct Joins {
    /// Across the board: lines that run straight along it.
    along: Vec<f64>,
    /// Along the board: where columns join.
    columns: Vec<f64>,
    marks: Vec<Point>,
}

impl Joins {
    /// The joins of a grid.
    pub fn new(grid: &Grid) -> Joins {
        let columns = joins(&grid.columns);
        let rows = joins(&grid.rows);
        let mut along = vec![grid.extent.y0 + LINE_INSET_MM];
        along.extend(&rows);
        let lower = grid.extent.y1 - LINE_INSET_MM;
        let mut marks = Vec::new();
        for x in &columns {
            marks.extend(along.iter().chain([&lower]).map(|y| Point::new(*x, *y)));
        }
        // Rows join along the whole board: crosses near both ends of it, too.
        for y in &rows {
            let ends = [grid.extent.x0 + 2.0 * LINE_INSET_MM, grid.extent.x1 - 2.0 * LINE_INSET_MM];
            marks.extend(ends.map(|x| Point::new(x, *y)));
        }
        Joins { along, columns, marks }
    }

    /// Whether pages are joined at all.
    pub fn are_none(&self) -> bool {
        self.marks.is_empty()
    }

    /// The part of a window that is its own once pages are joined, a little inside the join lines.
    pub fn own(&self, grid: &Grid, [column, row]: [usize; 2]) -> Rect {
        let window = grid.window([column, row]);
        let within = |at: usize, joins: &[f64], [from, to]: [f64; 2]| {
            let from = at.checked_sub(1).and_then(|i| joins.get(i)).map_or(from, |join| join + 0.6);
            [from, joins.get(at).map_or(to, |join| join - 0.6)]
        };
        let rows = joins(&grid.rows);
        let [x0, x1] = within(column, &self.columns, [window.x0, window.x1]);
        let [y0, y1] = within(row, &rows, [window.y0, window.y1]);
        Rect::new(x0, y0, x1, y1)
    }

    /// Everything of the joins in a window.
    pub fn draw(&self, grid: &Grid, place: [usize; 2]) -> Drawing {
        let window = grid.window(place);
        let mut drawing = Drawing::new();
        if self.are_none() {
            return drawing;
        }
        let mut straight = |pen: Pen, from: (f64, f64), to: (f64, f64)| {
            drawing.path(pen, clipped(&kurbo::Line::new(from, to).to_path(0.1), window));
        };
        for y in &self.along {
            straight(Pen::Straightedge, (window.x0, *y), (window.x1, *y));
        }
        for x in &self.columns {
            straight(Pen::Join, (*x, window.y0), (*x, window.y1));
        }
        for (number, mark) in self.marks.iter().enumerate() {
            if window.inflate(-CROSS_MM, -CROSS_MM).contains(*mark) {
                cross(&mut drawing, *mark, number + 1);
            }
        }
        self.words(&mut drawing, grid, place);
        drawing
    }

    /// What the lines are for, written in the paper beside the strip.
    fn words(&self, drawing: &mut Drawing, grid: &Grid, [column, row]: [usize; 2]) {
        let window = grid.window([column, row]);
        let own = self.own(grid, [column, row]);
        if row != 0 {
            return;
        }
        let y = window.y0 + LINE_INSET_MM;
        let words = |text: &str, x: f64, y: f64| {
            Text::new(text, Point::new(x, y), 1.9).typeface(Typeface::Condensed).ink(Ink::Grey)
        };
        drawing.text(
            words("straightedge line: straight through all pages", own.center().x, y - 1.0).anchor(Anchor::Middle),
        );
        let (last, below) = (grid.columns.len() - 1, y + 3.6);
        if column < last {
            drawing.text(words("cut here ✂", own.x1 - CROSS_MM - 1.0, below).anchor(Anchor::End));
        }
        if column > 0 {
            drawing.text(words("the page before ends here", own.x0 + CROSS_MM + 1.0, below));
        }
    }
}

fn cross(drawing: &mut Drawing, at: Point, number: usize) {
    drawing.line(Pen::JoiningMark, (at.x - CROSS_MM, at.y), (at.x + CROSS_MM, at.y));
    drawing.line(Pen::JoiningMark, (at.x, at.y - CROSS_MM), (at.x, at.y + CROSS_MM));
    drawing.circle(Pen::JoiningMark, at, RING_MM);
    let text = Text::new(number.to_string(), Point::new(at.x + 2.5, at.y - 1.0), 2.2);
    drawing.text(text.typeface(Typeface::CondensedBold));
}

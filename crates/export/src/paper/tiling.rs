//! Cuts a drawing that is larger than a page into windows that overlap.

use super::{MAX_PAGES, PaperError};
use kurbo::{Affine, Rect};

/// Which way a board lies on the page. Both are rotations: nothing is mirrored.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Lie {
    /// As the blank lies on the saw table: top end left, face 1 above face 2.
    Lying,
    /// The same picture a quarter round clockwise: top end up.
    Upright,
}

impl Lie {
    /// Along the longer edge of a page's board.
    pub fn along(room_mm: [f64; 2]) -> Lie {
        if room_mm[0] > room_mm[1] { Lie::Lying } else { Lie::Upright }
    }
}

/// The windows of a board: columns along it, rows across it. Coordinates are the board's own, x along and y across.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Grid {
    pub extent: Rect,
    pub columns: Vec<[f64; 2]>,
    pub rows: Vec<[f64; 2]>,
    pub lie: Lie,
}

impl Grid {
    /// The fewest windows of `room_mm` (across and up the page) that cover `extent`, neighbours overlapping by
    /// `overlap_mm`. Where both ways of lying take as many, the board lies as `rather`.
    pub fn new(extent: Rect, room_mm: [f64; 2], overlap_mm: f64, rather: Lie) -> Result<Grid, PaperError> {
        let [across, up] = room_mm;
        let count = |lie: Lie| {
            let [along_room, across_room] = if lie == Lie::Lying { [across, up] } else { [up, across] };
            let columns = windows_needed(extent.width(), along_room, overlap_mm);
            (columns * windows_needed(extent.height(), across_room, overlap_mm), [along_room, across_room])
        };
        let (lying, upright) = (count(Lie::Lying), count(Lie::Upright));
        let lie = match lying.0.total_cmp(&upright.0) {
            std::cmp::Ordering::Less => Lie::Lying,
            std::cmp::Ordering::Greater => Lie::Upright,
            std::cmp::Ordering::Equal => rather,
        };
        let (pages, [along_room, across_room]) = if lie == Lie::Lying { lying } else { upright };
        if pages > MAX_PAGES as f64 {
            return Err(PaperError::TooManyPages { pages: pages as usize });
        }
        let columns = windows([extent.x0, extent.x1], along_room, overlap_mm);
        let rows = windows([extent.y0, extent.y1], across_room, overlap_mm);
        Ok(Grid { extent, columns, rows, lie })
    }

    /// How many windows there are.
    pub fn len(&self) -> usize {
        self.columns.len() * self.rows.len()
    }

    /// The windows' columns and rows, along the board first.
    pub fn places(&self) -> impl Iterator<Item = [usize; 2]> + use<> {
        let columns = self.columns.len();
        (0..self.rows.len()).flat_map(move |row| (0..columns).map(move |column| [column, row]))
    }

    /// One window.
    pub fn window(&self, [column, row]: [usize; 2]) -> Rect {
        let ([x0, x1], [y0, y1]) = (self.columns[column], self.rows[row]);
        Rect::new(x0, y0, x1, y1)
    }

    /// The size of a window on the page, across and up, mm.
    pub fn size_on_page(&self, window: Rect) -> [f64; 2] {
        match self.lie {
            Lie::Lying => [window.width(), window.height()],
            Lie::Upright => [window.height(), window.width()],
        }
    }

    /// Places a window with its upper left corner, as it lies on the page, at `corner`.
    pub fn page_from_board(&self, window: Rect, corner: [f64; 2]) -> Affine {
        let [left, top] = corner;
        match self.lie {
            Lie::Lying => Affine::translate((left - window.x0, top - window.y0)),
            // Along the board goes down the page, across the board goes to the left.
            Lie::Upright => Affine::new([0.0, 1.0, -1.0, 0.0, left + window.y1, top - window.x0]),
        }
    }
}

/// Where one window takes over from the next: the middle of what they share.
pub(crate) fn joins(windows: &[[f64; 2]]) -> Vec<f64> {
    windows.windows(2).map(|pair| (pair[0][1] + pair[1][0]) / 2.0).collect()
}

fn windows_needed(length: f64, room: f64, overlap: f64) -> f64 {
    if length <= room { 1.0 } else { ((length - overlap) / (room - overlap)).ceil() }
}

/// Even windows, so that the last page is not a sliver.
fn windows([from, to]: [f64; 2], room: f64, overlap: f64) -> Vec<[f64; 2]> {
    let count = windows_needed(to - from, room, overlap);
    let width = (to - from + (count - 1.0) * overlap) / count;
    (0..count as usize)
        .map(|i| {
            let start = from + i as f64 * (width - overlap);
            [start, start + width]
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Point;

    fn grid(extent: Rect, room: [f64; 2]) -> Result<Grid, PaperError> {
        Grid::new(extent, room, 15.0, Lie::along(room))
    }

    #[test]
    fn windows_cover_the_board_and_share_the_overlap() {
        for length in [10.0, 264.9, 265.0, 265.1, 740.0, 9_000.0] {
            let windows = windows([-20.0, length - 20.0], 265.0, 15.0);
            assert!((windows[0][0] + 20.0).abs() < 1e-9);
            assert!((windows[windows.len() - 1][1] - (length - 20.0)).abs() < 1e-9);
            assert!(windows.iter().all(|[a, b]| b - a <= 265.0 + 1e-9));
            assert!(windows.windows(2).all(|pair| (pair[0][1] - pair[1][0] - 15.0).abs() < 1e-9));
        }
    }

    #[test]
    fn a_long_strip_runs_along_the_longer_edge() {
        let strip = Rect::new(-24.0, -10.0, 724.0, 110.0);
        assert_eq!(grid(strip, [178.0, 258.0]).unwrap().lie, Lie::Upright);
        assert_eq!(grid(strip, [265.0, 171.0]).unwrap().lie, Lie::Lying);
    }

    #[test]
    fn a_wide_short_board_is_turned_when_that_saves_pages() {
        let wide = Rect::new(0.0, 0.0, 170.0, 250.0);
        let grid = grid(wide, [265.0, 171.0]).unwrap();
        assert_eq!((grid.lie, grid.len()), (Lie::Upright, 1));
    }

    #[test]
    fn a_board_too_large_both_ways_is_cut_both_ways() {
        let grid = grid(Rect::new(0.0, 0.0, 700.0, 700.0), [178.0, 258.0]).unwrap();
        assert!(grid.columns.len() > 1 && grid.rows.len() > 1);
        assert_eq!(grid.places().count(), grid.len());
    }

    #[test]
    fn both_ways_of_lying_are_rotations_and_never_mirror() {
        let extent = Rect::new(-24.0, -10.0, 200.0, 110.0);
        for (room, lie) in [([265.0, 171.0], Lie::Lying), ([178.0, 258.0], Lie::Upright)] {
            let grid = grid(extent, room).unwrap();
            assert_eq!(grid.lie, lie);
            let window = grid.window([0, 0]);
            let place = grid.page_from_board(window, [7.0, 9.0]);
            assert!((place.determinant() - 1.0).abs() < 1e-12);
            let placed = place.transform_rect_bbox(window);
            let [width, height] = grid.size_on_page(window);
            assert!((placed.x0 - 7.0).abs() < 1e-9 && (placed.y0 - 9.0).abs() < 1e-9);
            assert!((placed.width() - width).abs() < 1e-9 && (placed.height() - height).abs() < 1e-9);
            // TOP is left of FOOT lying, and above it upright.
            let (top, foot) = (place * Point::new(0.0, 50.0), place * Point::new(200.0, 50.0));
            assert!(if lie == Lie::Lying { top.x < foot.x } else { top.y < foot.y });
        }
    }
}

//! Blanks cut from boards that are bought in one size: how many boards, which blank comes from which row, and what is left.
//!
//! A board is ripped into rows as wide and as deep as a blank; blanks are crosscut from the rows. Blanks of another width or
//! depth have boards of their own.

use crate::{Assembly, BlankLine, StockBoard, blanks_from_board};

/// What the saw takes between two blanks, mm. Common practice, no source: a table saw's blade.
pub const STOCK_KERF_MM: f64 = 3.2;
/// What is shorter than this is no offcut, mm. Our own choice.
const SHORTEST_MM: f64 = 50.0;
/// What is thinner than this is no offcut, mm. Our own choice.
const THINNEST_MM: f64 = 10.0;

/// How boards of one size are cut.
#[derive(Clone, Debug, PartialEq)]
pub struct CutList {
    /// Length, width, thickness of a board, mm.
    pub board_mm: [f64; 3],
    /// How many boards it takes.
    pub boards: usize,
    /// The rows, board after board.
    pub rows: Vec<BoardRow>,
    /// What is left over and large enough to keep, board after board.
    pub offcuts: Vec<Offcut>,
    /// Which lines of the blank list no such board holds, from 0.
    pub too_large: Vec<usize>,
}

/// One row of a board: blanks one after another.
#[derive(Clone, Debug, PartialEq)]
pub struct BoardRow {
    /// The board, from 1.
    pub board: usize,
    /// The row in this board, from 1.
    pub row: usize,
    /// Which line of the blank list each blank is of, from 0.
    pub blanks: Vec<usize>,
    /// What of its length is left, mm.
    pub left_mm: f64,
}

/// A piece of a board that is left over.
#[derive(Clone, Debug, PartialEq)]
pub struct Offcut {
    /// Where it is from: "end of row 2 of board 1".
    pub name: String,
    /// Length, width, thickness, mm.
    pub size_mm: [f64; 3],
}

impl Assembly {
    /// How the blanks are cut from boards of the size that the maker buys, if one is told.
    pub fn cut_list(&self) -> Option<CutList> {
        let board = self.furniture.rough.board.as_ref()?;
        Some(cut_list(board, &self.blank_list()))
    }
}

/// How blanks are cut from boards of a size.
pub fn cut_list(board: &StockBoard, lines: &[BlankLine]) -> CutList {
    let board_mm = board.sizes_mm();
    let mut list = CutList { board_mm, boards: 0, rows: Vec::new(), offcuts: Vec::new(), too_large: Vec::new() };
    let mut done: Vec<[f64; 2]> = Vec::new();
    for line in lines {
        let section = [line.rough_mm[1], line.rough_mm[2]];
        if done.iter().any(|other| alike(*other, section)) {
            continue;
        }
        done.push(section);
        let of_section: Vec<(usize, &BlankLine)> = lines
            .iter()
            .enumerate()
            .filter(|(_, other)| alike([other.rough_mm[1], other.rough_mm[2]], section))
            .collect();
        list.add(section, &of_section);
    }
    list.too_large.sort_unstable();
    list
}

fn alike(p: [f64; 2], q: [f64; 2]) -> bool {
    p.iter().zip(q).all(|(p, q)| (p - q).abs() < 0.005)
}

impl CutList {
    /// Adds boards for blanks of one section.
    fn add(&mut self, [wide, deep]: [f64; 2], lines: &[(usize, &BlankLine)]) {
        let [board_long, board_wide, board_thick] = self.board_mm;
        // Either side of the section may lie across the board: the way that gives more rows.
        let ways = [[wide, deep], [deep, wide]].map(|[across, through]| {
            let cut = blanks_from_board(self.board_mm, [0.001, across, through], STOCK_KERF_MM);
            (cut.counts[1], cut.counts[2], across, through)
        });
        let more = if ways[1].0 * ways[1].1 > ways[0].0 * ways[0].1 { ways[1] } else { ways[0] };
        let (beside, layers, across, through) = more;
        let mut blanks: Vec<(usize, f64)> = Vec::new();
        for (line, blank) in lines {
            let long = blank.rough_mm[0];
            if beside * layers == 0 || long > board_long + 1e-9 {
                self.too_large.push(*line);
            } else {
                blanks.extend((0..blank.count).map(|_| (*line, long)));
            }
        }
        // The longest first, each into the first row that holds it.
        blanks.sort_by(|p, q| q.1.total_cmp(&p.1));
        let mut rows: Vec<(Vec<usize>, f64)> = Vec::new();
        for (line, long) in blanks {
            let place = rows.iter().position(|(_, left)| *left >= long - 1e-9).unwrap_or_else(|| {
                rows.push((Vec::new(), board_long));
                rows.len() - 1
            });
            if let Some((blanks, left)) = rows.get_mut(place) {
                blanks.push(line);
                *left -= long + STOCK_KERF_MM;
            }
        }
        for (number, rows) in rows.chunks((beside * layers).max(1)).enumerate() {
            let board = self.boards + number + 1;
            for (i, (blanks, left)) in rows.iter().enumerate() {
                let (row, left_mm) = (i + 1, left.max(0.0));
                self.keep(format!("end of row {row} of board {board}"), [left_mm, across, through]);
                self.rows.push(BoardRow { board, row, blanks: blanks.clone(), left_mm });
            }
            let used = rows.len().div_ceil(beside.max(1));
            for (layer, rows) in rows.chunks(beside.max(1)).enumerate() {
                let rest = board_wide - rows.len() as f64 * (across + STOCK_KERF_MM);
                let which = if used > 1 { format!(" in layer {}", layer + 1) } else { String::new() };
                self.keep(format!("edge of board {board}{which}"), [board_long, rest, through.min(board_thick)]);
            }
            let rest = board_thick - used as f64 * (through + STOCK_KERF_MM);
            self.keep(format!("face of board {board}"), [board_long, board_wide, rest]);
        }
        self.boards += rows.len().div_ceil((beside * layers).max(1));
    }

    fn keep(&mut self, name: String, size_mm: [f64; 3]) {
        let [long, wide, thick] = size_mm;
        if long >= SHORTEST_MM && wide >= THINNEST_MM && thick >= THINNEST_MM {
            self.offcuts.push(Offcut { name, size_mm });
        }
    }
}

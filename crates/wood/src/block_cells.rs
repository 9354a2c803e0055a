//! Blocks as a face shows them, for an editor.

use cornerwise_geometry::{BlankPoint, Length};

use crate::blocks::{MOST_BLOCKS, MOST_COLUMNS};
use crate::grid::Grid;
use crate::{Block, Blocks, Column, Species};

/// One block as a face shows it.
#[derive(Clone, Debug, PartialEq)]
pub struct Cell {
    /// Its column's place in the list of columns.
    pub column: usize,
    /// Its place in the column's list of blocks.
    pub block: usize,
    /// The place of its column's width in the list of widths; on face 2 in the list of depths.
    pub width: usize,
    /// Its wood.
    pub species: Species,
    /// Where it begins across the face, mm.
    pub from_across_mm: f64,
    /// Where it ends across the face, mm.
    pub to_across_mm: f64,
    /// Where it begins, mm from the top.
    pub from_s_mm: f64,
    /// Where it ends, mm from the top.
    pub to_s_mm: f64,
}

/// How far inside a face blocks are looked up, mm.
const INSIDE_MM: f64 = 1e-6;

/// More cells are not shown.
const MOST_CELLS: usize = 2000;

impl Blocks {
    /// What face 1 shows, or face 2 (`face_2`) of a blank of this width and depth: the blocks from the top to `shown_mm`.
    pub fn cells(&self, [width_mm, depth_mm]: [f64; 2], face_2: bool, shown_mm: f64) -> Vec<Cell> {
        let grid = Grid::new(self);
        let axis = usize::from(face_2);
        let across_mm = if face_2 { depth_mm } else { width_mm };
        // Face 1 lies at y = 0, face 2 at x = W.
        let far_mm = face_2.then_some(width_mm);
        let mut cells = Vec::new();
        let mut across = INSIDE_MM;
        while across < across_mm && cells.len() < MOST_CELLS {
            let mut s = INSIDE_MM;
            let column = grid.column(axis, across);
            while s < shown_mm && cells.len() < MOST_CELLS {
                let p = match far_mm {
                    Some(far) => BlankPoint { x: far - INSIDE_MM, y: across, s },
                    None => BlankPoint { x: across, y: INSIDE_MM, s },
                };
                let (place, block, found) = grid.listed(p);
                cells.push(Cell {
                    column: place,
                    block,
                    width: column.index,
                    species: found.species,
                    from_across_mm: found.from_mm[axis].max(0.0),
                    to_across_mm: found.to_mm[axis].min(across_mm),
                    from_s_mm: found.from_mm[2].max(0.0),
                    to_s_mm: found.to_mm[2].min(shown_mm),
                });
                s = found.to_mm[2] + INSIDE_MM;
            }
            across = column.to_mm + INSIDE_MM;
        }
        cells
    }

    /// The same blocks on a blank of this size, with every column listed by itself and, as far as [`MOST_BLOCKS`] allows,
    /// every block of it, so that each can be changed alone.
    pub fn spelled_out(&self, [width_mm, depth_mm]: [f64; 2], length_mm: f64) -> Blocks {
        let grid = Grid::new(self);
        let mm = Length::from_mm;
        let lists = [0, 1].map(|axis| {
            let extent = [width_mm, depth_mm][axis];
            let mut list = Vec::new();
            let mut at = grid.column(axis, 0.0).from_mm;
            let begin = at;
            while at < extent - INSIDE_MM && list.len() < MOST_COLUMNS {
                let run = grid.column(axis, at + INSIDE_MM);
                list.push(run.to_mm - run.from_mm);
                at = run.to_mm;
            }
            (begin, list)
        });
        let [(x0, widths), (y0, depths)] = lists;
        let middles = |from: f64, list: &[f64]| -> Vec<f64> {
            list.iter()
                .scan(from, |at, width| {
                    let middle = *at + 0.5 * width;
                    *at += width;
                    Some(middle)
                })
                .collect()
        };
        let mut columns = Vec::new();
        for y in middles(y0, &depths) {
            for x in middles(x0, &widths) {
                let at = |s: f64| grid.find(BlankPoint { x, y, s });
                let top = at(0.0);
                let mut blocks = Vec::new();
                let mut s = if top.from_mm[2].is_finite() { top.from_mm[2] } else { 0.0 };
                let shift = s;
                while s < length_mm && blocks.len() < MOST_BLOCKS {
                    let found = at(s + INSIDE_MM);
                    let end = if found.to_mm[2].is_finite() { found.to_mm[2] } else { length_mm };
                    blocks.push(Block { species: found.species, height: mm(end - s) });
                    s = end;
                }
                columns.push(Column { blocks, shift: mm(shift) });
            }
        }
        let lengths = |list: Vec<f64>| list.into_iter().map(mm).collect();
        Blocks { shift_across: mm(x0), shift_deep: mm(y0), ..Blocks::new(lengths(widths), lengths(depths), columns) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{BlockPreset, SeamFit};

    #[test]
    fn cells_tile_their_face_and_show_what_lies_there() {
        for kind in BlockPreset::ALL {
            let blocks = kind.build([50.0, 40.0], 5, SeamFit::Hidden, [Species::Maple, Species::Walnut]);
            let grid = Grid::new(&blocks);
            for (face_2, across) in [(false, 50.0), (true, 40.0)] {
                let cells = blocks.cells([50.0, 40.0], face_2, 83.0);
                let area: f64 =
                    cells.iter().map(|c| (c.to_across_mm - c.from_across_mm) * (c.to_s_mm - c.from_s_mm)).sum();
                assert!((area - across * 83.0).abs() < 1e-3, "{kind:?}: {area}");
                for cell in cells {
                    let (across, s) =
                        (0.5 * (cell.from_across_mm + cell.to_across_mm), 0.5 * (cell.from_s_mm + cell.to_s_mm));
                    let p = if face_2 {
                        BlankPoint { x: 50.0 - 1e-6, y: across, s }
                    } else {
                        BlankPoint { x: across, y: 1e-6, s }
                    };
                    assert_eq!(grid.find(p).species, cell.species);
                    assert_eq!(blocks.columns[cell.column].blocks[cell.block].species, cell.species);
                    let widths = if face_2 { &blocks.depths } else { &blocks.widths };
                    assert!(cell.to_across_mm - cell.from_across_mm <= widths[cell.width].mm() + 1e-6);
                }
            }
        }
    }

    #[test]
    fn spelled_out_it_is_the_same_wood_block_by_block() {
        for kind in BlockPreset::ALL {
            for fit in SeamFit::ALL {
                let blocks = kind.build([48.0, 36.0], 4, fit, [Species::Maple, Species::Walnut]);
                let all = blocks.spelled_out([48.0, 36.0], 300.0);
                all.check().unwrap();
                let [was, now] = [Grid::new(&blocks), Grid::new(&all)];
                for i in 0..4000 {
                    let i = f64::from(i);
                    let p = BlankPoint { x: (i * 0.731) % 48.0, y: (i * 0.377) % 36.0, s: (i * 1.93) % 300.0 };
                    assert_eq!(was.find(p).species, now.find(p).species, "{kind:?} {fit:?} {p:?}");
                }
            }
        }
    }
}

//! Blocks made ready for reading: which block lies where.

use cornerwise_geometry::{BlankPoint, Length};

use crate::blocks::{MOST_BLOCKS, MOST_COLUMNS};
use crate::runs::{Run, Runs, SNAP_MM};
use crate::{Blocks, Column, Species, THICKEST_LAYER_MM, THINNEST_LAYER_MM, error};

/// Columns and blocks, with the sums worked out.
#[derive(Clone, Debug)]
pub(crate) struct Grid {
    /// Across face 1 and across face 2.
    columns: [Runs; 2],
    shift: [f64; 2],
    rise: [f64; 2],
    stacks: Vec<Stack>,
}

/// One listed column.
#[derive(Clone, Debug)]
struct Stack {
    /// None for a stave, which has no end.
    runs: Option<Runs>,
    shift: f64,
    woods: Vec<Species>,
}

/// A block found at a point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct InBlock {
    pub species: Species,
    /// A number of its own among all blocks nearby, whatever its wood.
    pub line: i64,
    /// Where it begins and ends in (x, y, s), mm; a stave without end.
    pub from_mm: [f64; 3],
    pub to_mm: [f64; 3],
}

impl InBlock {
    /// Whether a point surely lies in this block; very near its faces it is not said.
    #[inline]
    pub fn holds(&self, p: BlankPoint) -> bool {
        let at = [p.x, p.y, p.s];
        (0..3).all(|i| at[i] > self.from_mm[i] + 10.0 * SNAP_MM && at[i] < self.to_mm[i] - 10.0 * SNAP_MM)
    }
}

fn finite(v: f64) -> f64 {
    if v.is_finite() { v } else { 0.0 }
}

fn runs(list: &[Length], most: usize) -> Runs {
    let sizes = list.iter().take(most).map(|mm| error::held(mm.mm(), THINNEST_LAYER_MM, THICKEST_LAYER_MM));
    Runs::new(sizes)
}

impl Grid {
    /// Numbers that [`Blocks::check`] would refuse are taken at the nearest limit, and what is missing is a stave of
    /// maple, so that this never fails and nothing downstream can hang.
    pub fn new(blocks: &Blocks) -> Grid {
        let columns = [runs(&blocks.widths, MOST_COLUMNS), runs(&blocks.depths, MOST_COLUMNS)];
        let count = columns[0].count() * columns[1].count();
        let stack = |column: Option<&Column>| {
            let listed = column.map_or(&[][..], |column| &column.blocks[..]);
            let listed = listed.get(..MOST_BLOCKS).unwrap_or(listed);
            let heights: Vec<Length> = listed.iter().map(|block| block.height.clone()).collect();
            let woods: Vec<Species> = listed.iter().map(|block| block.species).collect();
            Stack {
                runs: (listed.len() > 1).then(|| runs(&heights, MOST_BLOCKS)),
                shift: column.map_or(0.0, |column| finite(column.shift.mm())),
                woods: if woods.is_empty() { vec![Species::Maple] } else { woods },
            }
        };
        Grid {
            columns,
            shift: [&blocks.shift_across, &blocks.shift_deep].map(|mm| finite(mm.mm())),
            rise: [&blocks.rise_across, &blocks.rise_deep].map(|mm| finite(mm.mm())),
            stacks: (0..count).map(|i| stack(blocks.columns.get(i))).collect(),
        }
    }

    /// The columns across face 1 (0) or face 2 (1), and where their list begins, mm.
    pub fn columns(&self, axis: usize) -> (&Runs, f64) {
        (&self.columns[axis], self.shift[axis])
    }

    /// [`Grid::columns`] to keep.
    pub fn columns_owned(self, axis: usize) -> (Runs, f64) {
        let shift = self.shift[axis];
        let [across, deep] = self.columns;
        (if axis == 0 { across } else { deep }, shift)
    }

    /// The place in the list of column (i, j), and which of its blocks are met, as `met` tells of a list and where it begins,
    /// mm from the top. A stave always is.
    pub fn blocks_met(&self, i: i64, j: i64, met: impl Fn(&Runs, f64) -> Vec<bool>) -> (usize, Vec<bool>) {
        let [across, deep] = [&self.columns[0], &self.columns[1]];
        let (begin, stack) = self.stack(i, j);
        let seen = stack.runs.as_ref().map_or_else(|| vec![true], |runs| met(runs, begin));
        (across.index(i) + across.count() * deep.index(j), seen)
    }

    /// The column across face 1 (0) or face 2 (1) at a place across, with its ends in the blank.
    #[inline]
    pub fn column(&self, axis: usize, across_mm: f64) -> Run {
        let shift = self.shift[axis];
        let run = self.columns[axis].find(across_mm - shift);
        Run { from_mm: run.from_mm + shift, to_mm: run.to_mm + shift, ..run }
    }

    /// The thinnest thing there is, mm.
    pub fn thinnest_mm(&self) -> f64 {
        let blocks = self.stacks.iter().filter_map(|stack| stack.runs.as_ref()).map(Runs::shortest_mm);
        self.columns.iter().map(Runs::shortest_mm).chain(blocks).fold(f64::INFINITY, f64::min)
    }

    /// Where the list of column (i, j) begins, mm from the top, and its stack.
    #[inline]
    fn stack(&self, i: i64, j: i64) -> (f64, &Stack) {
        let [across, deep] = [&self.columns[0], &self.columns[1]];
        let stack = &self.stacks[across.index(i) + across.count() * deep.index(j)];
        (stack.shift + i as f64 * self.rise[0] + j as f64 * self.rise[1], stack)
    }

    /// The block at a point.
    #[inline]
    pub fn find(&self, p: BlankPoint) -> InBlock {
        self.listed(p).2
    }

    /// The block at a point, after its column's place in the list and its own place in the column.
    #[inline]
    pub fn listed(&self, p: BlankPoint) -> (usize, usize, InBlock) {
        let [column, row] = [self.column(0, p.x), self.column(1, p.y)];
        let place = column.index + self.columns[0].count() * row.index;
        let (from, stack) = self.stack(column.number, row.number);
        let (number, index, ends) = match &stack.runs {
            None => (0, 0, [f64::NEG_INFINITY, f64::INFINITY]),
            Some(runs) => {
                let run = runs.find(p.s - from);
                (run.number, run.index, [run.from_mm + from, run.to_mm + from])
            }
        };
        // Sixteen bits across, sixteen deep, the rest along: neighbours have numbers of their own.
        let line = (number << 32) ^ ((column.number & 0xffff) << 16) ^ (row.number & 0xffff);
        let block = InBlock {
            species: stack.woods[index],
            line,
            from_mm: [column.from_mm, row.from_mm, ends[0]],
            to_mm: [column.to_mm, row.to_mm, ends[1]],
        };
        (place, index, block)
    }

    /// Where blocks of column (i, j) end and the next begin, from `from_mm` to `to_mm`, mm from the top.
    pub fn joints(&self, i: i64, j: i64, from_mm: f64, to_mm: f64) -> Vec<f64> {
        let (begin, stack) = self.stack(i, j);
        let Some(runs) = &stack.runs else { return Vec::new() };
        // The joint at the very beginning belongs to whatever lies before.
        let mut number = runs.find(from_mm - begin).number.wrapping_add(1);
        let mut joints = Vec::new();
        loop {
            let at = runs.start(number) + begin;
            // Far away a step may be too small to count; a sound column has no more than this many.
            if at.is_nan() || at > to_mm || joints.len() > 200_000 {
                return joints;
            }
            joints.push(at);
            number = number.wrapping_add(1);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Block;
    use Species::{Maple, Walnut};

    fn checkered() -> Blocks {
        let block = |species| Block { species, height: 10.0.into() };
        let column = Column { blocks: vec![block(Maple), block(Walnut)], shift: 0.0.into() };
        Blocks {
            rise_across: 10.0.into(),
            rise_deep: 10.0.into(),
            ..Blocks::new(vec![12.0.into()], vec![8.0.into()], vec![column])
        }
    }

    #[test]
    fn a_rise_of_one_block_makes_a_checkerboard_both_ways() {
        let grid = Grid::new(&checkered());
        for i in -3..6i64 {
            for j in -3..6i64 {
                for k in -3..6i64 {
                    let [x, y, s] = [12.0 * (i as f64 + 0.5), 8.0 * (j as f64 + 0.5), 10.0 * (k as f64 + 0.5)];
                    let found = grid.find(BlankPoint { x, y, s });
                    let wanted = if (k - i - j).rem_euclid(2) == 0 { Maple } else { Walnut };
                    assert_eq!(found.species, wanted, "{i} {j} {k}");
                    assert_eq!(found.from_mm, [12.0 * i as f64, 8.0 * j as f64, 10.0 * k as f64]);
                    assert_eq!(found.to_mm[2] - found.from_mm[2], 10.0);
                }
            }
        }
    }

    #[test]
    fn joints_are_where_the_block_changes() {
        let grid = Grid::new(&checkered());
        assert_eq!(grid.joints(1, 0, 0.0, 35.0), [10.0, 20.0, 30.0]);
        let stave = Column { blocks: vec![Block { species: Maple, height: 3.0.into() }], shift: 0.0.into() };
        let staves = Grid::new(&Blocks::new(vec![5.0.into()], vec![5.0.into()], vec![stave]));
        assert!(staves.joints(0, 0, 0.0, 1e4).is_empty());
        assert_eq!(staves.find(BlankPoint { x: 1.0, y: 1.0, s: 1.0 }).to_mm[2], f64::INFINITY);
    }

    #[test]
    fn neighbours_have_numbers_of_their_own() {
        let grid = Grid::new(&checkered());
        let mut seen = std::collections::BTreeSet::new();
        for i in -4..5 {
            for j in -4..5 {
                for k in -20..80 {
                    let at = |n: i32, size: f64| size * (f64::from(n) + 0.5);
                    assert!(seen.insert(grid.find(BlankPoint { x: at(i, 12.0), y: at(j, 8.0), s: at(k, 10.0) }).line));
                }
            }
        }
    }

    #[test]
    fn refused_numbers_still_make_a_grid() {
        let mut bad = checkered();
        bad.widths = vec![f64::NAN.into(), (-1.0).into()];
        bad.rise_deep = f64::INFINITY.into();
        bad.columns.clear();
        let grid = Grid::new(&bad);
        assert_eq!(grid.find(BlankPoint { x: 1.0, y: 1.0, s: 1.0 }).species, Maple);
        assert!(grid.thinnest_mm() > 0.1);
    }
}

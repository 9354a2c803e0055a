//! What is listed of a glue-up and lies nowhere in the blank.

use crate::grid::Grid;
use crate::pattern::Pattern;
use crate::runs::Runs;
use crate::{Blocks, LayerOrder, Layers};
use cornerwise_geometry::BlankPoint;

/// What lies less than this far inside the blank is none of it, mm.
const INSIDE_MM: f64 = 1e-6;

/// More lengths than this are not walked along: by then every one of a list was met.
const MOST: usize = 100_000;

/// Which lengths of a list lie between two positions: one answer for each.
fn met(runs: &Runs, from_mm: f64, to_mm: f64) -> Vec<bool> {
    let mut met = vec![false; runs.count()];
    let mut number = runs.find(from_mm + INSIDE_MM).number;
    for _ in 0..MOST {
        let starts = runs.start(number);
        if starts.is_nan() || starts >= to_mm - INSIDE_MM || met.iter().all(|met| *met) {
            break;
        }
        met[runs.index(number)] = true;
        number = number.wrapping_add(1);
    }
    met
}

/// The places in a list, from 0, of what was not met.
fn missed(met: &[bool]) -> Vec<usize> {
    met.iter().enumerate().filter(|(_, met)| !**met).map(|(place, _)| place).collect()
}

impl Layers {
    /// The layers of the list, from 0, that lie nowhere in a blank of this width and depth from `s_mm` to `s_mm`.
    pub fn outside(&self, [width_mm, depth_mm]: [f64; 2], [from_mm, to_mm]: [f64; 2]) -> Vec<usize> {
        let listed = Layers { order: LayerOrder::Repeated, layers: self.in_order(), ..self.clone() };
        let pattern = Pattern::of_all(&listed);
        let corners = (0..8).map(|i| {
            let at = |bit: usize, ends: [f64; 2]| ends[(i >> bit) & 1];
            pattern.position(BlankPoint {
                x: at(0, [0.0, width_mm]),
                y: at(1, [0.0, depth_mm]),
                s: at(2, [from_mm, to_mm]),
            })
        });
        let (least, most) = corners.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), at| (a.min(at), b.max(at)));
        let met = met(pattern.runs(), least, most);
        let count = self.layers.len();
        // A list that runs back shows its layers twice.
        (0..count).filter(|i| !met[*i] && !met.get(2 * count - 2 - i).copied().unwrap_or(false)).collect()
    }
}

impl Blocks {
    /// The columns across face 1, or across face 2 (`face_2`), that lie nowhere in a blank of this width and depth: places
    /// in the list of widths or depths, from 0.
    pub fn columns_outside(&self, size_mm: [f64; 2], face_2: bool) -> Vec<usize> {
        let (columns, shift) = Grid::new(self).columns_owned(usize::from(face_2));
        missed(&met(&columns, -shift, size_mm[usize::from(face_2)] - shift))
    }

    /// The blocks that lie nowhere in a blank of this size from `s_mm` to `s_mm`, though their column does: the column's
    /// place in the list of columns, and the block's in the column's own list, from 0.
    pub fn blocks_outside(&self, size_mm: [f64; 2], span_mm: [f64; 2]) -> Vec<(usize, usize)> {
        let grid = Grid::new(self);
        let mut met: Vec<Option<Vec<bool>>> = vec![None; self.columns.len()];
        let numbers = [0, 1].map(|axis| {
            let to = size_mm[axis] - INSIDE_MM;
            let last = grid.column(axis, to).number;
            // Where the list repeats across the blank more often than this, the rest shows nothing new.
            let first = grid.column(axis, INSIDE_MM).number;
            first..=last.min(first.saturating_add(400))
        });
        for i in numbers[0].clone() {
            for j in numbers[1].clone() {
                let (place, seen) =
                    grid.blocks_met(i, j, |runs, begin| self::met(runs, span_mm[0] - begin, span_mm[1] - begin));
                let Some(slot) = met.get_mut(place) else { continue };
                match slot {
                    Some(before) => before.iter_mut().zip(seen).for_each(|(before, now)| *before |= now),
                    None => *slot = Some(seen),
                }
            }
        }
        let column = |(place, met): (usize, Option<Vec<bool>>)| {
            missed(&met.unwrap_or_default()).into_iter().map(move |block| (place, block))
        };
        met.into_iter().enumerate().flat_map(column).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Block, BlockPreset, Column, Layer, SeamFit, Species};

    const SIZE: [f64; 2] = [48.0, 40.0];
    const SPAN: [f64; 2] = [-20.0, 500.0];

    #[test]
    fn a_column_as_wide_as_the_blank_leaves_no_room_for_the_others() {
        let woods = [Species::Maple, Species::Walnut];
        let blocks = BlockPreset::Brick.build(SIZE, 4, SeamFit::AsAsked, woods).spelled_out(SIZE, 500.0);
        assert!(blocks.columns_outside(SIZE, false).is_empty() && blocks.columns_outside(SIZE, true).is_empty());
        assert!(blocks.blocks_outside(SIZE, SPAN).is_empty());
        let mut wide = blocks.clone();
        wide.widths[0] = 60.0.into();
        assert_eq!(wide.columns_outside(SIZE, false), [1, 2, 3]);
        assert!(wide.columns_outside(SIZE, true).is_empty());
        // 24 mm of it: the second, and half of the third, are there again.
        wide.widths[0] = 24.0.into();
        assert_eq!(wide.columns_outside(SIZE, false), [3]);
        wide.depths[0] = 39.0.into();
        assert_eq!(wide.columns_outside(SIZE, true), (2..wide.depths.len()).collect::<Vec<_>>());
        // Exactly at the face is outside.
        wide.depths[0] = 40.0.into();
        assert_eq!(wide.columns_outside(SIZE, true), (1..wide.depths.len()).collect::<Vec<_>>());
    }

    #[test]
    fn a_block_below_the_foot_is_outside_and_one_that_a_repeat_brings_back_is_not() {
        let block = |height: f64| Block { species: Species::Oak, height: height.into() };
        let column =
            |heights: &[f64]| Column { blocks: heights.iter().map(|mm| block(*mm)).collect(), shift: 0.0.into() };
        let blocks = |columns: Vec<Column>| Blocks::new(vec![24.0.into(); columns.len()], vec![40.0.into()], columns);
        // The list repeats upward: the last one is there above the top, in the spare length.
        let two = blocks(vec![column(&[100.0, 600.0, 50.0, 30.0]), column(&[100.0, 50.0])]);
        assert_eq!(two.blocks_outside(SIZE, SPAN), [(0, 2)]);
        assert_eq!(two.blocks_outside(SIZE, [0.0, 500.0]), [(0, 2), (0, 3)]);
        assert_eq!(two.blocks_outside(SIZE, [0.0, 80.0]), [(0, 1), (0, 2), (0, 3), (1, 1)]);
        // A column that is outside itself is not told block by block.
        let mut wide = two;
        wide.widths[0] = 48.0.into();
        assert_eq!(wide.blocks_outside(SIZE, SPAN), [(0, 2)]);
    }

    #[test]
    fn a_layer_thicker_than_the_blank_hides_the_next() {
        let layer = |mm: f64| Layer { species: Species::Oak, thickness: mm.into() };
        let standing = |list: &[f64]| Layers::new(list.iter().map(|mm| layer(*mm)).collect(), 90.0, 0.0, 0.0.into());
        assert!(standing(&[12.0, 12.0]).outside(SIZE, SPAN).is_empty());
        assert_eq!(standing(&[12.0, 60.0, 5.0]).outside(SIZE, SPAN), [2]);
        assert_eq!(standing(&[48.0, 5.0, 5.0]).outside(SIZE, SPAN), [1, 2]);
        // Two layers of one wood and thickness are still two.
        assert_eq!(standing(&[48.0, 48.0]).outside(SIZE, SPAN), [1]);
        // There and back: the second comes before the first.
        let back = Layers { order: LayerOrder::Mirrored, ..standing(&[12.0, 60.0, 5.0]) };
        assert_eq!(back.outside(SIZE, SPAN), [2]);
        let shifted = Layers { shift: 5.0.into(), ..back };
        assert_eq!(shifted.outside(SIZE, SPAN), [2]);
        // Level ones lie along the leg, of which there is more.
        assert!(Layers { lean_deg: 0.0, ..standing(&[12.0, 60.0, 5.0]) }.outside(SIZE, SPAN).is_empty());
    }
}

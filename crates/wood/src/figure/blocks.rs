//! Blocks made ready to be painted.

use cornerwise_geometry::BlankPoint;

use super::{GLUE_LINE_DARK, GLUE_LINE_MM, Steps, View, bytes, overlap};
use crate::grid::{Grid, InBlock};
use crate::shade::{Fibre, Shade};
use crate::{Blocks, Finish, Grain, Species};

/// Where a joint runs through a texel, it is looked at in this many places each way: a small texel's glue line is seen, of a
/// large one only which woods it holds.
const SPLIT: [usize; 2] = [4, 2];

/// From this size on a texel is large, mm.
const LARGE_MM: f32 = 1.0;

/// Blocks with their looks.
#[derive(Clone, Debug)]
pub(super) struct BlockFigure {
    grid: Grid,
    /// The woods that there are.
    shades: Vec<(Species, Shade)>,
}

impl BlockFigure {
    pub fn new(blocks: &Blocks) -> BlockFigure {
        let mut woods: Vec<Species> =
            blocks.columns.iter().flat_map(|c| &c.blocks).map(|block| block.species).collect();
        woods.push(Species::Maple);
        woods.sort();
        woods.dedup();
        let shades = woods.into_iter().map(|species| (species, Shade::new(species))).collect();
        BlockFigure { grid: Grid::new(blocks), shades }
    }

    /// Puts it under a finish.
    pub fn finish(&mut self, finish: Finish) {
        self.shades.iter_mut().for_each(|(_, shade)| *shade = shade.under(finish));
    }

    /// The thinnest block, mm.
    pub fn thinnest_mm(&self) -> f64 {
        self.grid.thinnest_mm()
    }

    pub fn at(&self, view: &View, p: BlankPoint, steps: &Steps, near: &mut Option<InBlock>) -> Grain {
        let block = self.find(p, near);
        let at = [p.x, p.y, p.s];
        // Half the texel, by axis.
        let half = [0, 1, 2].map(|i| 0.5 * (steps.column[i].abs() + steps.row[i].abs()));
        let reach = 0.5 * GLUE_LINE_MM;
        let close = [0, 1, 2].map(|i| {
            let edge = half[i] + if i == view.axis { 0.0 } else { reach };
            at[i] - edge < block.from_mm[i] || at[i] + edge > block.to_mm[i]
        });
        let colour = if close.contains(&true) {
            // Only along a step that leads across a joint is there more than one thing to see.
            let split = SPLIT[usize::from(steps.size_mm > LARGE_MM)];
            let parts = [&steps.column, &steps.row]
                .map(|step| if (0..3).any(|i| close[i] && step[i] != 0.0) { split } else { 1 });
            self.joint(view, p, steps, half, parts, near)
        } else {
            self.wood(view, p, steps, &block)
        };
        Grain { species: block.species, line: block.line, colour: bytes(colour) }
    }

    #[inline]
    fn find(&self, p: BlankPoint, near: &mut Option<InBlock>) -> InBlock {
        match near {
            Some(block) if block.holds(p) => *block,
            _ => *near.insert(self.grid.find(p)),
        }
    }

    /// The mean over a texel with joints in it, looked at in so many parts along columns and along rows.
    fn joint(
        &self,
        view: &View,
        p: BlankPoint,
        steps: &Steps,
        half: [f64; 3],
        parts: [usize; 2],
        near: &mut Option<InBlock>,
    ) -> [f32; 3] {
        let [across, down] = parts.map(|count| 1.0 / count as f64);
        // Half a part, by axis.
        let half = [0, 1, 2].map(|i| half[i].min(0.5 * (across * steps.column[i].abs() + down * steps.row[i].abs())));
        let mut sum = [0.0; 3];
        // Few blocks meet in a texel, and the colour of each is looked up once: only the share it has counts.
        let mut seen: [Option<(i64, [f32; 3])>; 4] = [None; 4];
        for i in 0..parts[0] {
            for k in 0..parts[1] {
                let (a, b) = ((i as f64 + 0.5) * across - 0.5, (k as f64 + 0.5) * down - 0.5);
                let [x, y, s] = [0, 1, 2].map(|k| a * steps.column[k] + b * steps.row[k]);
                let p = BlankPoint { x: p.x + x, y: p.y + y, s: p.s + s };
                let block = self.find(p, near);
                let dark = GLUE_LINE_DARK * glue(view, p, &block, half) as f32;
                let known = seen.iter().flatten().find(|(line, _)| *line == block.line);
                let colour = known.map_or_else(|| self.wood(view, p, steps, &block), |(_, colour)| *colour);
                if known.is_none()
                    && let Some(free) = seen.iter_mut().find(|one| one.is_none())
                {
                    *free = Some((block.line, colour));
                }
                sum = [0, 1, 2].map(|c| sum[c] + colour[c] * (1.0 - dark));
            }
        }
        sum.map(|v| v * (across * down) as f32)
    }

    #[inline]
    fn wood(&self, view: &View, p: BlankPoint, steps: &Steps, block: &InBlock) -> [f32; 3] {
        let shade = self.shades.iter().find(|(species, _)| *species == block.species);
        let Some((_, shade)) = shade.or(self.shades.first()) else { return [0.0; 3] };
        // Mixed, so that neighbours in any direction come from different boards.
        let board = block.line.wrapping_mul(0x9e37_79b9_7f4a_7c15_u64 as i64) >> 40;
        let fibre = Fibre {
            across: p.x as f32,
            through: p.y as f32 + 0.37 * (board & 0xff) as f32,
            along: p.s as f32,
            pores_show: steps.pores_show,
            end: view.end,
        };
        shade.of_layer(&fibre, board)
    }
}

/// How much of a small part of a texel, `half` mm to either side, glue covers.
fn glue(view: &View, p: BlankPoint, block: &InBlock, half: [f64; 3]) -> f64 {
    let at = [p.x, p.y, p.s];
    let reach = 0.5 * GLUE_LINE_MM;
    let wood = (0..3).filter(|i| *i != view.axis).fold(1.0, |wood, i| {
        let half = half[i].max(1e-6);
        let (from, to) = (at[i] - half, at[i] + half);
        let (low, high) = (block.from_mm[i], block.to_mm[i]);
        let glue = overlap(from, to, low - reach, low + reach) + overlap(from, to, high - reach, high + reach);
        wood * (1.0 - (glue / (to - from)).min(1.0))
    });
    1.0 - wood
}

//! Ready-made block patterns.

use cornerwise_geometry::Length;

use crate::{Block, Blocks, Column, Species};

/// A block pattern to begin with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BlockPreset {
    /// Cubes of two woods by turns in all three directions.
    Checkerboard,
    /// Full-length stripes across face 1.
    Stripes,
    /// Full-length staves, checkered on the end.
    Staves,
    /// Bricks: every other column begins half a block later.
    Brick,
    /// Each column begins a fixed rise later than the one before it.
    Climbing,
}

/// How a pattern is fitted to the blank.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SeamFit {
    /// Whole columns, their count made even, so that the pattern carries on at the seams.
    CarriesOn,
    /// An even count with half-width columns at the faces: two halves meet as one column and hide the seam.
    Hidden,
    /// As many columns as asked for, whatever that does at the seams.
    AsAsked,
}

impl SeamFit {
    /// All of them.
    pub const ALL: [SeamFit; 3] = [SeamFit::CarriesOn, SeamFit::Hidden, SeamFit::AsAsked];

    /// Its name for the maker.
    pub fn name(self) -> &'static str {
        match self {
            SeamFit::CarriesOn => "Carries on at the seams",
            SeamFit::Hidden => "Hides the seams",
            SeamFit::AsAsked => "As counted",
        }
    }
}

impl BlockPreset {
    /// All of them.
    pub const ALL: [BlockPreset; 5] = [
        BlockPreset::Checkerboard,
        BlockPreset::Stripes,
        BlockPreset::Staves,
        BlockPreset::Brick,
        BlockPreset::Climbing,
    ];

    /// Its name for the maker.
    pub fn name(self) -> &'static str {
        match self {
            BlockPreset::Checkerboard => "Checkerboard",
            BlockPreset::Stripes => "Stripes",
            BlockPreset::Staves => "Staves",
            BlockPreset::Brick => "Brick",
            BlockPreset::Climbing => "Climbing",
        }
    }

    /// The pattern in two woods on a blank of `width_mm` by `depth_mm`, with about `count` columns across face 1 and as
    /// many across face 2 as come nearest to the same width.
    pub fn build(self, [width_mm, depth_mm]: [f64; 2], count: usize, fit: SeamFit, woods: [Species; 2]) -> Blocks {
        let count = self.fitted(count, fit);
        let across_mm = width_mm / count as f64;
        let deep = self.fitted((depth_mm / across_mm).round().max(1.0) as usize, fit);
        let deep_mm = depth_mm / deep as f64;
        let mm = Length::from_mm;
        let [one, other] = woods;
        let list = |heights: f64| -> Vec<Block> {
            [one, other].map(|species| Block { species, height: mm(heights) }).to_vec()
        };
        let stack = |heights: f64, shift: f64| Column { blocks: list(heights), shift: mm(shift) };
        let stave = |species| Column { blocks: vec![Block { species, height: mm(across_mm) }], shift: Length::ZERO };
        let half = |size: f64| if fit == SeamFit::Hidden { mm(-0.5 * size) } else { Length::ZERO };
        let made = match self {
            BlockPreset::Checkerboard => Blocks {
                rise_across: mm(across_mm),
                rise_deep: mm(across_mm),
                ..Blocks::new(vec![mm(across_mm)], vec![mm(deep_mm)], vec![stack(across_mm, 0.0)])
            },
            BlockPreset::Stripes => {
                let blocks =
                    Blocks::new(vec![mm(across_mm), mm(across_mm)], vec![mm(depth_mm)], vec![stave(one), stave(other)]);
                // One column deep: there is nothing to halve.
                return Blocks { shift_across: half(across_mm), ..blocks };
            }
            BlockPreset::Staves => Blocks::new(
                vec![mm(across_mm), mm(across_mm)],
                vec![mm(deep_mm), mm(deep_mm)],
                vec![stave(one), stave(other), stave(other), stave(one)],
            ),
            BlockPreset::Brick => {
                let height = 2.0 * across_mm;
                let (course, next) = (stack(height, 0.0), stack(height, 0.5 * height));
                Blocks::new(
                    vec![mm(across_mm), mm(across_mm)],
                    vec![mm(deep_mm), mm(deep_mm)],
                    vec![course.clone(), next.clone(), next, course],
                )
            }
            BlockPreset::Climbing => {
                // Fitted, all columns together climb one whole repeat; as asked, each climbs a third of a block.
                let rise = |count: usize| match fit {
                    SeamFit::AsAsked => across_mm / 3.0,
                    SeamFit::CarriesOn | SeamFit::Hidden => 2.0 * across_mm / count as f64,
                };
                Blocks {
                    rise_across: mm(rise(count)),
                    rise_deep: mm(rise(deep)),
                    ..Blocks::new(vec![mm(across_mm)], vec![mm(deep_mm)], vec![stack(across_mm, 0.0)])
                }
            }
        };
        Blocks { shift_across: half(across_mm), shift_deep: half(deep_mm), ..made }
    }

    /// How many columns a pattern of this kind gets across face 1 where so many are asked for.
    pub fn fitted(self, count: usize, fit: SeamFit) -> usize {
        let count = count.clamp(1, 100);
        match fit {
            SeamFit::AsAsked => count,
            // A climb is shared out among its columns, so any count will do; three are the fewest that climb.
            SeamFit::CarriesOn | SeamFit::Hidden if self == BlockPreset::Climbing => count.max(3),
            SeamFit::CarriesOn | SeamFit::Hidden => 2 * count.div_ceil(2),
        }
    }
}

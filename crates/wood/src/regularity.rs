//! How much of a glue-up's regularity survives on the sides of the finished leg.
//!
//! A side shows two strips of the blank that lay a blank's width apart. Where the glue-up's own rule, carried on past the
//! blank's face, would put on each strip what is there indeed, the side looks as if it were cut from one regular
//! glue-up. Two questions, over the whole side and not only at its seam:
//! - *In order*: wherever the rule says one wood, there is one wood, if not the one it says (the halves of a checkerboard
//!   with an odd count are each in order, one light where the other is dark).
//! - *As ruled*: it is the very wood that the rule says.
//!
//! Both are shares of the side's area above what chance would give, so that woods mixed at random come out at 0.

use std::collections::BTreeMap;

use cornerwise_geometry::{BlankPoint, Cut, Leg};

use crate::grid::Grid;
use crate::pattern::Pattern;
use crate::{Species, Wood};

/// So many places are looked at, spread evenly: their shares are good to about one in a hundred.
const PLACES: usize = 6000;

/// Steps of an even spread over a rectangle (the powers of one over the plastic number, a known low-discrepancy sequence).
const SPREAD: [f64; 2] = [0.754_877_666_246_693, 0.569_840_290_998_053];

/// How much of a glue-up's regularity survives on a pair of sides, 0 to 1. As drawn both sides of a pair are alike.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Regularity {
    /// Like things stay together, whatever wood they are of.
    pub in_order: f64,
    /// Everything is of the wood that the rule says.
    pub as_ruled: f64,
}

/// The regularity of the sides of a cut (1 and 3 of the second, 2 and 4 of the first); nothing for timber and photos,
/// which have no rule.
pub fn regularity(leg: &Leg, wood: &Wood, cut: Cut) -> Option<Regularity> {
    match wood {
        Wood::Layers(layers) => {
            let pattern = Pattern::new(layers);
            Some(of(leg, cut, |p| pattern.species(pattern.layer(pattern.position(p)))))
        }
        Wood::Blocks(blocks) => {
            let grid = Grid::new(blocks);
            Some(of(leg, cut, |p| grid.find(p).species))
        }
        Wood::Timber(_) | Wood::Photos(_) => None,
    }
}

fn of(leg: &Leg, cut: Cut, wood: impl Fn(BlankPoint) -> Species) -> Regularity {
    let (mut pairs, mut ruled, mut there): (BTreeMap<_, usize>, BTreeMap<_, usize>, BTreeMap<_, usize>) =
        (BTreeMap::new(), BTreeMap::new(), BTreeMap::new());
    for i in 0..PLACES {
        let [along, across] = SPREAD.map(|step| (0.5 + step * i as f64).fract());
        let s = along * leg.length_mm;
        let (apart, offset, parting) = match cut {
            Cut::First => (leg.depth_mm, leg.a(s), leg.b(s)),
            Cut::Second => (leg.width_mm, leg.b(s), leg.a(s)),
        };
        let at = across * apart;
        // Seen from the strip on the other side of the seam, this one lies a blank's width farther on.
        let other = if at < parting { at + apart } else { at - apart };
        let [here, rule] = [at, other].map(|at| match cut {
            Cut::First => BlankPoint { x: offset, y: at, s },
            Cut::Second => BlankPoint { x: at, y: offset, s },
        });
        let (here, rule) = (wood(here), wood(rule));
        *pairs.entry((rule, here)).or_default() += 1;
        *ruled.entry(rule).or_default() += 1;
        *there.entry(here).or_default() += 1;
    }
    let all = PLACES as f64;
    let most_common = there.values().max().copied().unwrap_or(0) as f64 / all;
    let same: usize = pairs.iter().filter(|((rule, here), _)| rule == here).map(|(_, count)| count).sum();
    let ordered: usize = ruled
        .keys()
        .map(|rule| pairs.iter().filter(|((of, _), _)| of == rule).map(|(_, count)| *count).max().unwrap_or(0))
        .sum();
    let by_chance: f64 = ruled
        .iter()
        .map(|(species, count)| *count as f64 / all * there.get(species).copied().unwrap_or(0) as f64 / all)
        .sum();
    let above = |share: f64, chance: f64| {
        if chance > 1.0 - 1e-9 { 1.0 } else { ((share - chance) / (1.0 - chance)).clamp(0.0, 1.0) }
    };
    Regularity { in_order: above(ordered as f64 / all, most_common), as_ruled: above(same as f64 / all, by_chance) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Species::{Maple, Walnut};
    use crate::tests::cyma_leg;
    use crate::{BlockPreset, Blocks, Layer, Layers, SeamFit};

    fn of_blocks(blocks: Blocks) -> Regularity {
        regularity(&cyma_leg(50.0, 50.0, 600.0, 12.0, 0.5), &Wood::Blocks(blocks), Cut::Second).unwrap()
    }

    /// Common practice, no source: regular checkerboards and stripes stay regular, level layers do; a climbing pattern is
    /// lost where its climb across the blank is no whole repeat.
    #[test]
    fn what_the_trade_says_of_glue_ups_comes_out() {
        let woods = [Maple, Walnut];
        let build = |preset: BlockPreset, count| preset.build([50.0, 50.0], count, SeamFit::AsAsked, woods);
        let even = of_blocks(build(BlockPreset::Checkerboard, 4));
        assert_eq!((even.in_order, even.as_ruled), (1.0, 1.0));
        // With an odd count each half is in order, light where the other is dark.
        let odd = of_blocks(build(BlockPreset::Checkerboard, 5));
        assert!(odd.in_order > 0.999 && odd.as_ruled == 0.0, "{odd:?}");
        let layer = |species, mm: f64| Layer { species, thickness: mm.into() };
        let layers = |lean| {
            let list = vec![layer(Maple, 9.0), layer(Walnut, 7.0)];
            let wood = Wood::Layers(Layers::new(list, lean, 0.0, 0.0.into()));
            regularity(&cyma_leg(50.0, 50.0, 600.0, 12.0, 0.5), &wood, Cut::Second).unwrap()
        };
        assert_eq!(layers(0.0).as_ruled, 1.0);
        // A repeat of 16 mm, 25 mm up across the blank: off by nine sixteenths.
        assert!(layers(30.0).as_ruled < 0.1, "{:?}", layers(30.0));
        // Columns that climb by a third of a repeat of two blocks each: four of them come to four thirds.
        let mut climbing = build(BlockPreset::Checkerboard, 4);
        let repeat: f64 = climbing.columns[0].blocks.iter().map(|block| block.height.mm()).sum();
        let third: f64 = repeat / 3.0;
        climbing.rise_across = third.into();
        let lost = of_blocks(climbing.clone());
        assert!(lost.as_ruled < 0.45 && lost.in_order < 0.45, "{lost:?}");
        let whole: f64 = repeat / 4.0;
        climbing.rise_across = whole.into();
        let kept = of_blocks(climbing);
        assert!(kept.as_ruled > 0.999, "{kept:?}");
    }
}

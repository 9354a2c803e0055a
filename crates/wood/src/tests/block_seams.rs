//! Seams of blocks, held against what makers know.

use cornerwise_geometry::{BlankPoint, Cut, Surface};
use proptest::prelude::*;

use super::{cyma_leg, straight_leg};
use crate::Species::{Maple, Walnut};
use crate::{
    Block, BlockPreset, Blocks, Column, Mismatch, SeamAnswer, SeamFit, SeamLimits, Species, Wood, compare_pair,
    compare_seams, seam_edges,
};

const SQUARE: [f64; 2] = [60.0, 60.0];

fn shares(answer: &SeamAnswer) -> [f64; 3] {
    [answer.lines_meet, answer.same_wood, answer.pattern_carries_on]
}

fn preset(preset: BlockPreset, count: usize, fit: SeamFit) -> Wood {
    let blocks = preset.build(SQUARE, count, fit, [Maple, Walnut]);
    blocks.check().unwrap();
    Wood::Blocks(blocks)
}

/// design.md: a checkerboard with an even count of columns carries on though the woods differ at the seam, one with an odd
/// count shows a double block, half-width outer columns hide the seam.
#[test]
fn checkerboards_answer_by_their_count() {
    let leg = cyma_leg(60.0, 60.0, 700.0, 14.0, 0.5);
    for (count, fit, wanted, what) in [
        (6, SeamFit::AsAsked, [1.0, 0.0, 1.0], Some(Mismatch::WoodsDiffer)),
        (5, SeamFit::AsAsked, [1.0, 1.0, 0.0], Some(Mismatch::PatternBreaks)),
        (5, SeamFit::CarriesOn, [1.0, 0.0, 1.0], Some(Mismatch::WoodsDiffer)),
        (5, SeamFit::Hidden, [1.0, 1.0, 1.0], None),
    ] {
        for answer in compare_seams(&leg, &preset(BlockPreset::Checkerboard, count, fit), &SeamLimits::default()) {
            assert_eq!(shares(&answer), wanted, "{count} {fit:?} {}", answer.seam);
            assert_eq!(answer.places.first().map(|place| place.what), what, "{count} {fit:?}");
        }
    }
}

#[test]
fn every_preset_that_is_fitted_carries_on_and_one_that_hides_the_seam_has_one_wood_there() {
    let leg = cyma_leg(60.0, 60.0, 700.0, 14.0, 0.5);
    for kind in BlockPreset::ALL {
        for count in [2, 3, 4, 7] {
            for fit in [SeamFit::CarriesOn, SeamFit::Hidden] {
                for answer in compare_seams(&leg, &preset(kind, count, fit), &SeamLimits::default()) {
                    let all = shares(&answer);
                    assert_eq!(all[2], 1.0, "{kind:?} {count} {fit:?} {}: {:?}", answer.seam, answer.places);
                    if fit == SeamFit::Hidden {
                        assert_eq!(all, [1.0; 3], "{kind:?} {count} {}", answer.seam);
                    }
                }
            }
        }
    }
}

/// Common practice, no source: a stepped (climbing) checkerboard is lost. By geometry, it is not where the count of its
/// columns times their rise is a whole repeat: there its lines jump at the seam as they do from column to column.
#[test]
fn climbing_columns_are_lost_unless_count_times_rise_is_a_whole_repeat() {
    let leg = cyma_leg(60.0, 60.0, 700.0, 14.0, 0.5);
    for answer in compare_seams(&leg, &preset(BlockPreset::Climbing, 5, SeamFit::AsAsked), &SeamLimits::default()) {
        assert_eq!([answer.lines_meet, answer.pattern_carries_on], [0.0, 0.0], "{}", answer.seam);
    }
    let whole =
        compare_pair(&leg, &preset(BlockPreset::Climbing, 5, SeamFit::CarriesOn), Cut::Second, &SeamLimits::default());
    assert_eq!([whole.lines_meet, whole.pattern_carries_on], [0.0, 1.0]);
    assert!(whole.same_wood > 0.5 && whole.same_wood < 0.7, "four fifths of a block shared: {}", whole.same_wood);
    assert!(whole.places.iter().all(|place| place.what.pattern_carries_on()));
}

#[test]
fn outer_columns_that_make_one_of_the_wrong_width_do_not_carry_on() {
    let leg = straight_leg(60.0, 300.0);
    let stave = |species| Column { blocks: vec![Block { species, height: 10.0.into() }], shift: 0.0.into() };
    let stripes = |shift: f64, width: f64| {
        let widths = vec![width.into(), width.into()];
        let blocks = Blocks::new(widths, vec![60.0.into()], vec![stave(Maple), stave(Walnut)]);
        let wood = Wood::Blocks(Blocks { shift_across: shift.into(), ..blocks });
        shares(&compare_pair(&leg, &wood, Cut::Second, &SeamLimits::default()))
    };
    assert_eq!(stripes(-5.0, 10.0), [1.0, 1.0, 1.0], "5 and 5 of 10");
    assert_eq!(stripes(-3.0, 10.0), [1.0, 1.0, 1.0], "7 and 3 of 10");
    // Three whole columns of 12.5, and 11.25 left of two more at either face: one of 22.5 where 12.5 belong.
    assert_eq!(stripes(-1.25, 12.5), [1.0, 1.0, 0.0]);
    // A blank planed a hair too narrow or too wide is still that blank.
    for off in [-0.05, 0.05] {
        assert_eq!(stripes(-5.0, 10.0 + off / 6.0), [1.0, 1.0, 1.0]);
        assert_eq!(stripes(0.0, 10.0 + off / 6.0), [1.0, 0.0, 1.0]);
    }
}

/// A joint between columns that the saw line crosses arrives at the seam where the line lies as far across as the joint.
#[test]
fn joints_between_columns_arrive_where_the_saw_line_crosses_them() {
    let leg = cyma_leg(60.0, 60.0, 700.0, 24.0, 0.5);
    let wood = preset(BlockPreset::Staves, 6, SeamFit::CarriesOn);
    let [near, far] = seam_edges(&leg, &wood, Cut::Second);
    assert_eq!(near, far);
    assert!(near.len() >= 3, "{near:?}");
    for s in near {
        let off = (leg.b(s) / 10.0 - (leg.b(s) / 10.0).round()) * 10.0;
        assert!(off.abs() < 1e-9, "{s}: {off}");
    }
}

fn any_blocks() -> impl Strategy<Value = Blocks> {
    let length = |least: f64, most: f64| (least..most).prop_map(|mm: f64| mm.into());
    let block = (prop::sample::select(vec![Maple, Walnut, Species::Cherry]), length(3.0, 30.0))
        .prop_map(|(species, height)| Block { species, height });
    let column =
        (prop::collection::vec(block, 1..4), length(-20.0, 20.0)).prop_map(|(blocks, shift)| Column { blocks, shift });
    let widths = || prop::collection::vec(length(4.0, 25.0), 1..4);
    let offsets = || [length(-20.0, 20.0), length(-20.0, 20.0)];
    (widths(), widths(), offsets(), offsets(), prop::collection::vec(column, 9)).prop_map(
        |(widths, depths, [shift_across, shift_deep], [rise_across, rise_deep], mut columns)| {
            columns.truncate(widths.len() * depths.len());
            Blocks { widths, depths, shift_across, shift_deep, rise_across, rise_deep, columns }
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// The joints that are painted are the joints that arrive: the block changes at the edges and nowhere else.
    #[test]
    fn edges_are_where_the_painted_block_changes(blocks in any_blocks(), swing in 1.0..40.0f64, turn in 0.3..0.7f64) {
        let leg = cyma_leg(50.0, 42.0, 300.0, swing, turn);
        let wood = Wood::Blocks(blocks);
        prop_assert_eq!(wood.check(), Ok(()));
        for (side, x) in [0.2, 49.8].into_iter().enumerate() {
            let edges = &seam_edges(&leg, &wood, Cut::Second)[side];
            let block = |s: f64| wood.at(BlankPoint { x, y: leg.b(s), s }, Surface::Cut(Cut::Second)).line;
            let n = 3000;
            let mut at = 0;
            for i in 0..n {
                let [from, to] = [i, i + 1].map(|i| 300.0 * f64::from(i) / f64::from(n));
                let mut inside = 0;
                while at < edges.len() && edges[at] <= to {
                    inside += usize::from(edges[at] > from + 1e-7 && edges[at] < to - 1e-7);
                    at += 1;
                }
                // No joint, no change; one, a change. A joint in a sample's own place is either one's.
                let near = edges.iter().any(|s| (s - from).abs() <= 1e-7 || (s - to).abs() <= 1e-7);
                if !near && inside < 2 {
                    prop_assert_eq!(block(from) != block(to), inside == 1, "{} to {}", from, to);
                }
            }
        }
    }

    /// Shares are shares and agree with their places.
    #[test]
    fn answers_agree_with_their_places(blocks in any_blocks(), swing in 1.0..70.0f64) {
        let leg = cyma_leg(50.0, 42.0, 300.0, swing, 0.5);
        let wood = Wood::Blocks(blocks);
        for answer in compare_seams(&leg, &wood, &SeamLimits { most_places: usize::MAX, ..SeamLimits::default() }) {
            for pair in answer.places.windows(2) {
                prop_assert!(pair[0].to_mm <= pair[1].from_mm);
            }
            let sum = |yes: fn(Mismatch) -> bool| -> f64 {
                answer.places.iter().filter(|p| !yes(p.what)).map(|p| p.to_mm - p.from_mm).sum::<f64>() / 300.0
            };
            for (share, yes) in shares(&answer).into_iter().zip([Mismatch::lines_meet as fn(_) -> _, Mismatch::same_wood, Mismatch::pattern_carries_on]) {
                prop_assert!((0.0..=1.0).contains(&share));
                prop_assert!((sum(yes) - (1.0 - share)).abs() < 1e-9);
            }
        }
    }
}

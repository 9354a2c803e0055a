//! Seams of blocks against a blank that is really cut into small cubes (`cubes`), and against design.md's closed results.
//! Nothing here knows how the project compares seams; of the project only the wood at a point is asked.

use cornerwise_wood::{Block, BlockPreset, Blocks, Column, SeamFit, SeamLimits, Species, Wood};

use crate::cubes::{self, Stock, Touching};
use crate::seams::{InCubes, LEGS, Shares, YES, agree};

/// What shows along one strip beside a seam, level by level: the wood and the number of its block.
struct Strip {
    shown: Vec<(u8, i64)>,
    /// The levels at which another block begins, mm from the top.
    lines: Vec<f64>,
}

impl Strip {
    /// `deep_mm` from the face on one side; below 0 beyond it, as the columns' own rule has them go on.
    fn new(seam: &cubes::Seam, stock: &Stock, side: usize, deep_mm: f64) -> Strip {
        let shown: Vec<(u8, i64)> = seam.touching.iter().map(|t| t.grain(stock, side, deep_mm)).collect();
        let changes = shown.windows(2).enumerate().filter(|(_, pair)| pair[0].1 != pair[1].1);
        let lines = changes.map(|(i, _)| (seam.touching[i].s + seam.touching[i + 1].s) / 2.0).collect();
        Strip { shown, lines }
    }

    /// Whether, around a level, this strip's lines are the other's too.
    fn meets(&self, other: &Strip, s: f64, meet_mm: f64) -> bool {
        let met = |strip: &Strip, line: f64| strip.lines.iter().any(|there| (there - line).abs() <= meet_mm);
        let all = self.lines.iter().map(|line| (*line, met(other, *line)));
        let all: Vec<(f64, bool)> = all.chain(other.lines.iter().map(|line| (*line, met(self, *line)))).collect();
        let above = all.iter().filter(|(line, _)| *line <= s).max_by(|p, q| p.0.total_cmp(&q.0));
        let below = all.iter().filter(|(line, _)| *line > s).min_by(|p, q| p.0.total_cmp(&q.0));
        above.is_none_or(|(_, met)| *met) && below.is_none_or(|(_, met)| *met)
    }
}

/// How far from `from_mm` (see [`Strip::new`]) the column there reaches, going inward or outward, mm.
fn reach(touching: &Touching, stock: &Stock, side: usize, from_mm: f64, inward: bool) -> f64 {
    let column = touching.grain(stock, side, from_mm).1;
    let step = if inward { 0.05 } else { -0.05 };
    let mut at = from_mm;
    while touching.grain(stock, side, at).1 == column && (at - from_mm).abs() < 100.0 {
        at += step;
    }
    at.abs()
}

/// The three answers of blocks by the cubes of one seam.
pub fn blocks_by_cubes(seam: &cubes::Seam, stock: &Stock, cube_mm: f64) -> Shares {
    let deep_mm = 0.01 * cube_mm;
    let meet_mm = SeamLimits::default().meet_mm + 2.0 * cube_mm;
    let inside = [0, 1].map(|side| Strip::new(seam, stock, side, deep_mm));
    let outside = [0, 1].map(|side| Strip::new(seam, stock, side, -deep_mm));
    // The column at one face goes on beyond it by as much as it is already there at the other face.
    let first = &seam.touching[0];
    let beyond = reach(first, stock, 0, deep_mm, false);
    let there = reach(first, stock, 1, -deep_mm, true);
    let whole = (beyond - there).abs() <= SeamLimits::default().meet_mm + 0.1;
    let mut counts = [0; 3];
    for (i, touching) in seam.touching.iter().enumerate() {
        let s = touching.s;
        let goes_on = |side: usize| {
            let (one, other) = (&outside[side], &inside[1 - side]);
            one.shown[i].0 == other.shown[i].0 && one.meets(other, s, meet_mm)
        };
        counts[0] += u32::from(inside[0].meets(&inside[1], s, meet_mm));
        counts[1] += u32::from(inside[0].shown[i].0 == inside[1].shown[i].0);
        counts[2] += u32::from(whole && goes_on(0) && goes_on(1));
    }
    counts.map(|count| f64::from(count) / seam.touching.len() as f64)
}

/// A pattern, built for each leg's own blank, on all of them.
fn on_every_leg(what: &str, build: impl Fn([f64; 2]) -> Blocks, look: impl Fn(&InCubes, [Shares; 4])) {
    for leg in LEGS.iter() {
        let [width, depth, _] = leg.case.size_mm();
        let blocks = build([width, depth]);
        blocks.check().unwrap_or_else(|e| panic!("{what}: {e}"));
        look(leg, agree(what, leg, &Wood::Blocks(blocks), blocks_by_cubes));
    }
}

fn preset(kind: BlockPreset, count: usize, fit: SeamFit) -> impl Fn([f64; 2]) -> Blocks {
    move |size| kind.build(size, count, fit, [Species::Maple, Species::Walnut])
}

/// design.md: a checkerboard with an even count of columns carries on though the woods differ at the seam, one with an odd
/// count shows a double block; half-width outer columns hide the seam. Common practice, no source: regular checkerboards
/// line up.
#[test]
fn checkerboards_answer_by_their_count() {
    on_every_leg("four", preset(BlockPreset::Checkerboard, 4, SeamFit::AsAsked), |leg, scanned| {
        assert_eq!([scanned[0], scanned[2]], [[1.0, 0.0, 1.0]; 2]);
        // Four of 12 mm across 48; across 36 mm there are three.
        let deep = if leg.case.size_mm()[1] == 36.0 { [1.0, 1.0, 0.0] } else { [1.0, 0.0, 1.0] };
        assert_eq!([scanned[1], scanned[3]], [deep; 2]);
    });
    on_every_leg("three", preset(BlockPreset::Checkerboard, 3, SeamFit::AsAsked), |_, scanned| {
        assert_eq!([scanned[0], scanned[2]], [[1.0, 1.0, 0.0]; 2]);
    });
    on_every_leg("hidden", preset(BlockPreset::Checkerboard, 4, SeamFit::Hidden), |_, scanned| {
        assert_eq!(scanned, [YES; 4]);
    });
}

/// Common practice, no source: regular stripes line up.
#[test]
fn stripes_and_staves_meet_everywhere() {
    for (kind, count, fit) in [
        (BlockPreset::Stripes, 3, SeamFit::AsAsked),
        (BlockPreset::Stripes, 4, SeamFit::Hidden),
        (BlockPreset::Staves, 4, SeamFit::CarriesOn),
        (BlockPreset::Staves, 3, SeamFit::AsAsked),
    ] {
        on_every_leg(kind.name(), preset(kind, count, fit), |_, scanned| {
            assert!(scanned.iter().all(|seam| seam[0] == 1.0), "{kind:?} {count}: {scanned:?}");
            if fit != SeamFit::AsAsked {
                assert!(scanned.iter().all(|seam| seam[2] == 1.0), "{kind:?} {count}: {scanned:?}");
            }
        });
    }
}

/// Common practice, no source: a stepped (climbing) checkerboard is lost; by geometry it is not where count times rise is
/// a whole repeat.
#[test]
fn climbing_columns_carry_on_only_where_count_times_rise_is_a_whole_repeat() {
    on_every_leg("climbing", preset(BlockPreset::Climbing, 4, SeamFit::AsAsked), |_, scanned| {
        assert!(scanned[0][2] < 0.1 && scanned[2][2] < 0.1, "{scanned:?}");
    });
    on_every_leg("climbing, whole", preset(BlockPreset::Climbing, 4, SeamFit::CarriesOn), |_, scanned| {
        assert_eq!(scanned.map(|seam| seam[2]), [1.0; 4], "{scanned:?}");
        assert!(scanned[0][0] < 0.1, "its lines jump at the seam as from column to column");
    });
    on_every_leg("climbing, hidden", preset(BlockPreset::Climbing, 4, SeamFit::Hidden), |_, scanned| {
        assert_eq!(scanned, [YES; 4]);
    });
}

#[test]
fn bricks_carry_on_with_an_even_count_though_their_joints_do_not_meet() {
    on_every_leg("brick", preset(BlockPreset::Brick, 4, SeamFit::CarriesOn), |_, scanned| {
        assert_eq!(scanned.map(|seam| seam[2]), [1.0; 4]);
        assert!(scanned[0][0] < 0.1, "{scanned:?}");
    });
    on_every_leg("brick, three", preset(BlockPreset::Brick, 3, SeamFit::AsAsked), |_, scanned| {
        assert!(scanned[0][2] < 0.1 && scanned[0][0] == 1.0, "{scanned:?}");
    });
}

/// Columns of unlike widths and blocks of unlike heights, three woods, shifts and rises: no rule, but the cubes.
#[test]
fn irregular_blocks_answer_as_their_cubes() {
    let block = |species, height: f64| Block { species, height: height.into() };
    let column = |list: &[(Species, f64)], shift: f64| Column {
        blocks: list.iter().map(|(species, height)| block(*species, *height)).collect(),
        shift: shift.into(),
    };
    use Species::{Cherry, Maple, Walnut};
    let columns = vec![
        column(&[(Maple, 14.0), (Walnut, 9.0)], 3.0),
        column(&[(Cherry, 11.0), (Maple, 17.0), (Walnut, 8.0)], 0.0),
        column(&[(Walnut, 5.0)], 0.0),
        column(&[(Maple, 23.0), (Cherry, 21.0)], -6.0),
    ];
    on_every_leg(
        "irregular",
        |_| Blocks {
            shift_across: (-4.0).into(),
            rise_across: 2.5.into(),
            rise_deep: (-4.0).into(),
            ..Blocks::new(vec![13.0.into(), 9.5.into()], vec![11.0.into(), 16.0.into()], columns.clone())
        },
        |_, _| {},
    );
}

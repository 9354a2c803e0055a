//! Seams of laminated stock, held against what makers know.

use approx::assert_abs_diff_eq;
use cornerwise_geometry::{BlankPoint, Cut, Face, Seam, Surface};
use proptest::prelude::*;

use super::{cyma_leg, layered, straight_leg};
use crate::Species::{Ash, Cherry, Maple, Walnut};
use crate::{Mismatch, SeamAnswer, SeamLimits, Wood, compare_pair, compare_seams, seam_edges};

fn shares(answer: &SeamAnswer) -> [f64; 3] {
    [answer.lines_meet, answer.same_wood, answer.pattern_carries_on]
}

/// Common practice, no source: level layers of a laminated blank line up at the seams.
#[test]
fn level_layers_line_up_at_every_seam() {
    let wood = layered(&[(Maple, 12.0), (Walnut, 7.0), (Cherry, 1.5)], 0.0, 0.0, 3.3);
    for answer in compare_seams(&cyma_leg(50.0, 38.0, 700.0, 14.0, 0.55), &wood, &SeamLimits::default()) {
        assert_eq!(shares(&answer), [1.0, 1.0, 1.0], "{}", answer.seam);
        assert!(answer.places.is_empty());
    }
}

/// Common practice, no source: layers sloping at 30 degrees do not line up.
#[test]
fn layers_sloping_at_30_degrees_jump_by_width_times_tangent() {
    let (width, depth) = (50.0, 38.0);
    let leg = cyma_leg(width, depth, 700.0, 14.0, 0.55);
    for (toward, cut, apart) in [(0.0, Cut::Second, width), (90.0, Cut::First, depth)] {
        let wood = layered(&[(Maple, 11.0), (Walnut, 11.0)], 30.0, toward, 0.0);
        let jump = apart * 30f64.to_radians().tan();
        let [near, far] = seam_edges(&leg, &wood, cut);
        // Lines climb toward the far face: the same line arrives there nearer the top. Layers are 11 / cos 30 = 12.7 mm
        // long at the seam, and no whole number of them makes the jump.
        assert!(near.len() > 50, "{}", near.len());
        for s in near.iter().filter(|s| **s > jump) {
            let best = far.iter().map(|other| (s - jump - other).abs()).fold(f64::INFINITY, f64::min);
            assert!(best < 1e-9, "{toward}: {s} misses by {best}");
        }
        let answer = compare_pair(&leg, &wood, cut, &SeamLimits::default());
        assert_eq!([answer.lines_meet, answer.pattern_carries_on], [0.0, 0.0]);
        assert!(0.1 < answer.same_wood && answer.same_wood < 0.9);
        assert!(answer.places.iter().all(|place| !place.what.lines_meet()));
        // Across the lean, both faces see the same layers.
        let other =
            compare_pair(&leg, &wood, if cut == Cut::First { Cut::Second } else { Cut::First }, &SeamLimits::default());
        assert_eq!(shares(&other), [1.0, 1.0, 1.0]);
    }
}

/// The layers' repeat along the leg is its thickness over the cosine; sloping layers carry on where the jump is a whole
/// number of those.
#[test]
fn sloping_layers_carry_on_where_the_jump_is_a_whole_number_of_repeats() {
    let leg = cyma_leg(50.0, 50.0, 700.0, 14.0, 0.4);
    for (lean, repeats) in [(10.0, 1.0), (30.0, 2.0), (45.0, 3.0), (60.0, 5.0), (-30.0, 2.0)] {
        let repeat = 50.0 * f64::abs(f64::to_radians(lean).sin()) / repeats;
        let list = [(Maple, 0.5 * repeat), (Walnut, 0.3 * repeat), (Cherry, 0.2 * repeat)];
        for answer in compare_seams(&leg, &layered(&list, lean, 0.0, 1.7), &SeamLimits::default()) {
            assert_eq!(shares(&answer), [1.0, 1.0, 1.0], "{lean} {}", answer.seam);
        }
        // Half a repeat more or less, and they do not.
        let wide = list.map(|(species, mm)| (species, mm * repeats / (repeats + 0.5)));
        let answer = compare_pair(&leg, &layered(&wide, lean, 0.0, 1.7), Cut::Second, &SeamLimits::default());
        assert_eq!(answer.pattern_carries_on, 0.0, "{lean}");
    }
}

#[test]
fn two_equal_layers_that_jump_by_one_meet_as_lines_and_swap_woods() {
    let thickness = 50.0 * 30f64.to_radians().sin() / 3.0;
    let wood = layered(&[(Maple, thickness), (Walnut, thickness)], 30.0, 0.0, 0.0);
    let answer = compare_pair(&cyma_leg(50.0, 50.0, 700.0, 14.0, 0.5), &wood, Cut::Second, &SeamLimits::default());
    assert_eq!(shares(&answer), [1.0, 0.0, 0.0]);
    assert_eq!(answer.places.len(), 1);
    assert_eq!(answer.places[0].what, Mismatch::WoodsDifferPatternBreaks);
    assert_eq!([answer.places[0].from_mm, answer.places[0].to_mm], [0.0, 700.0]);
}

/// Common practice, no source, and by the geometry: stripes line up; an odd count of columns makes a double block.
#[test]
fn standing_stripes_answer_by_their_count_across_the_blank() {
    let leg = cyma_leg(60.0, 60.0, 700.0, 14.0, 0.5);
    let stripes = |width: f64, shift: f64| {
        let wood = layered(&[(Maple, width), (Walnut, width)], 90.0, 0.0, shift);
        compare_pair(&leg, &wood, Cut::Second, &SeamLimits::default())
    };
    let odd = stripes(12.0, 0.0);
    assert_eq!(shares(&odd), [1.0, 1.0, 0.0], "five stripes");
    assert_eq!(odd.places[0].what, Mismatch::PatternBreaks);
    let even = stripes(10.0, 0.0);
    assert_eq!(shares(&even), [1.0, 0.0, 1.0], "six stripes");
    assert_eq!(even.places[0].what, Mismatch::WoodsDiffer);
    assert_eq!(shares(&stripes(10.0, 5.0)), [1.0, 1.0, 1.0], "half-width outer columns hide the seam");
    assert_eq!(shares(&stripes(12.0, 6.0)), [1.0, 0.0, 0.0], "half-width outer columns of different woods");
    // A blank planed a hair too narrow or too wide is still that blank.
    for off in [-0.05, 0.05] {
        assert_eq!(shares(&stripes(12.0 + off / 5.0, 0.0)), [1.0, 1.0, 0.0]);
        assert_eq!(shares(&stripes(10.0 + off / 6.0, 0.0)), [1.0, 0.0, 1.0]);
    }
}

#[test]
fn a_pattern_must_go_on_at_both_faces() {
    let leg = cyma_leg(20.0, 20.0, 700.0, 4.0, 0.5);
    let stripes = |woods: [crate::Species; 4]| {
        let wood = layered(&woods.map(|species| (species, 10.0)), 90.0, 0.0, 0.0);
        shares(&compare_pair(&leg, &wood, Cut::Second, &SeamLimits::default()))
    };
    // Outside the far face maple as inside the near one; but outside the near face cherry, inside the far one walnut.
    assert_eq!(stripes([Maple, Walnut, Maple, Cherry]), [1.0, 0.0, 0.0]);
    // The other way about.
    assert_eq!(stripes([Maple, Cherry, Walnut, Cherry]), [1.0, 0.0, 0.0]);
    assert_eq!(stripes([Maple, Cherry, Maple, Cherry]), [1.0, 0.0, 1.0]);
}

#[test]
fn one_thick_layer_has_nothing_that_could_jump() {
    for lean in [0.0, 30.0, 90.0] {
        let wood = layered(&[(Ash, 5000.0)], lean, 45.0, -2000.0);
        for answer in compare_seams(&cyma_leg(50.0, 40.0, 700.0, 14.0, 0.5), &wood, &SeamLimits::default()) {
            assert_eq!(shares(&answer), [1.0, 1.0, 1.0]);
        }
    }
}

#[test]
fn both_seams_of_a_pair_have_one_answer_as_drawn() {
    let wood = layered(&[(Maple, 9.0), (Walnut, 4.0)], 25.0, 30.0, 0.0);
    let answers = compare_seams(&cyma_leg(50.0, 38.0, 700.0, 14.0, 0.5), &wood, &SeamLimits::default());
    assert_eq!(answers.each_ref().map(|answer| answer.seam), Seam::ALL);
    assert_eq!(answers[0].places, answers[2].places);
    assert_eq!(shares(&answers[1]), shares(&answers[3]));
    assert_ne!(shares(&answers[0]), shares(&answers[1]));
}

#[test]
fn lines_meet_up_to_the_limit_and_not_beyond_it() {
    // Lean 45: layers 1 % off a whole repeat in 50 mm jump by a known distance along the leg.
    let leg = straight_leg(50.0, 700.0);
    for jump in [0.01, 0.1, 0.19, 0.21, 0.5] {
        let thickness = (50.0 + jump) * 45f64.to_radians().sin() / 2.0;
        let wood = layered(&[(Maple, thickness / 2.0), (Walnut, thickness / 2.0)], 45.0, 0.0, 0.0);
        for meet_mm in [0.05, 0.2, 0.3] {
            let limits = SeamLimits { meet_mm, ..SeamLimits::default() };
            let answer = compare_pair(&leg, &wood, Cut::Second, &limits);
            let should = if jump < meet_mm { 1.0 } else { 0.0 };
            assert_abs_diff_eq!(answer.lines_meet, should, epsilon = 0.002);
            assert_abs_diff_eq!(answer.pattern_carries_on, should, epsilon = 0.002);
        }
    }
}

#[test]
fn places_are_limited_and_shares_are_not() {
    let leg = cyma_leg(50.0, 50.0, 700.0, 14.0, 0.5);
    let wood = layered(&[(Maple, 0.9), (Walnut, 0.4)], 20.0, 0.0, 0.0);
    let all = compare_pair(&leg, &wood, Cut::Second, &SeamLimits { most_places: 100_000, ..SeamLimits::default() });
    let few = compare_pair(&leg, &wood, Cut::Second, &SeamLimits { most_places: 10, ..SeamLimits::default() });
    assert!(all.places_in_all > 500, "{}", all.places_in_all);
    assert_eq!(all.places.len(), all.places_in_all);
    assert_eq!((few.places.len(), few.places_in_all), (10, all.places_in_all));
    assert_eq!(few.places, all.places[..10]);
    assert_eq!(shares(&few), shares(&all));
    let bad: f64 = all.places.iter().filter(|p| !p.what.lines_meet()).map(|p| p.to_mm - p.from_mm).sum();
    assert_abs_diff_eq!(bad / 700.0, 1.0 - all.lines_meet, epsilon = 1e-9);
}

fn layer_at(wood: &Wood, x: f64, y: f64, s: f64) -> i64 {
    wood.at(BlankPoint { x, y, s }, Surface::Cut(Cut::Second)).line
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// The lines that are painted are the lines that arrive: the layer changes exactly at the edges, and nowhere else.
    #[test]
    fn edges_are_where_the_painted_layer_changes(
        lean in -90.0..90.0f64, toward in -180.0..180.0f64, swing in 1.0..40.0f64, turn in 0.3..0.7f64,
        first in 3.0..40.0f64, second in 3.0..40.0f64, shift in -50.0..50.0f64,
    ) {
        let leg = cyma_leg(50.0, 42.0, 300.0, swing, turn);
        let wood = layered(&[(Maple, first), (Walnut, second)], lean, toward, shift);
        for (side, x) in [0.0, 50.0].into_iter().enumerate() {
            let edges = &seam_edges(&leg, &wood, Cut::Second)[side];
            let line = |s: f64| layer_at(&wood, x, leg.b(s), s);
            let n = 3000;
            let changes = (0..n).filter(|i| {
                let s = 300.0 * f64::from(*i) / f64::from(n);
                line(s) != line(s + 300.0 / f64::from(n))
            }).count();
            // Between two samples a crest may dip into a layer and out again: two edges more.
            prop_assert!(edges.len() >= changes && (edges.len() - changes).is_multiple_of(2), "{} {changes}", edges.len());
            prop_assert!(edges.len() - changes <= 4);
            for (i, s) in edges.iter().enumerate() {
                let alone = |other: Option<&f64>| other.is_none_or(|other| (other - s).abs() > 1e-4);
                let (before, after) = (i.checked_sub(1).and_then(|i| edges.get(i)), edges.get(i + 1));
                if alone(before) && alone(after) && *s > 1e-4 && *s < 300.0 - 1e-4 {
                    prop_assert_ne!(line(s - 1e-5), line(s + 1e-5), "{}", s);
                }
            }
        }
    }

    /// Shares are shares, and the pattern carries on only where the lines meet.
    #[test]
    fn answers_are_shares_that_agree_with_their_places(
        lean in -90.0..90.0f64, toward in -180.0..180.0f64, swing in 1.0..70.0f64, shift in -50.0..50.0f64,
        thicknesses in prop::collection::vec(0.2..30.0f64, 1..6),
    ) {
        let leg = cyma_leg(50.0, 42.0, 300.0, swing, 0.5);
        let list: Vec<_> = thicknesses.iter().zip([Maple, Walnut, Cherry, Maple, Ash]).map(|(mm, species)| (species, *mm)).collect();
        let wood = layered(&list, lean, toward, shift);
        for answer in compare_seams(&leg, &wood, &SeamLimits { most_places: usize::MAX, ..SeamLimits::default() }) {
            for share in shares(&answer) {
                prop_assert!((0.0..=1.0).contains(&share));
            }
            prop_assert!(answer.pattern_carries_on <= answer.lines_meet + 1e-12);
            for pair in answer.places.windows(2) {
                prop_assert!(pair[0].to_mm <= pair[1].from_mm);
                prop_assert!(pair[0].to_mm < pair[1].from_mm || pair[0].what != pair[1].what);
            }
            let sum = |yes: fn(Mismatch) -> bool| -> f64 {
                answer.places.iter().filter(|p| !yes(p.what)).map(|p| p.to_mm - p.from_mm).sum::<f64>() / 300.0
            };
            prop_assert!((sum(Mismatch::lines_meet) - (1.0 - answer.lines_meet)).abs() < 1e-9);
            prop_assert!((sum(Mismatch::same_wood) - (1.0 - answer.same_wood)).abs() < 1e-9);
            prop_assert!((sum(Mismatch::pattern_carries_on) - (1.0 - answer.pattern_carries_on)).abs() < 1e-9);
        }
    }
}

#[test]
fn a_planed_face_shows_the_layer_just_inside_it() {
    let wood = layered(&[(Maple, 10.0), (Walnut, 10.0)], 90.0, 0.0, 0.0);
    let at = |x: f64, face| wood.at(BlankPoint { x, y: 3.0, s: 50.0 }, Surface::Face(face)).species;
    assert_eq!([at(0.0, Face::Four), at(50.0, Face::Two)], [Maple, Maple], "five stripes of 10 in 50");
}

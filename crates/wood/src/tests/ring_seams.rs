//! Seams of plain timber.

use approx::assert_abs_diff_eq;
use cornerwise_geometry::{BlankPoint, Cut, Surface};
use proptest::prelude::*;

use super::{cyma_leg, straight_leg, timber};
use crate::rings::Rings;
use crate::{Mismatch, SeamLimits, Wood, compare_pair, compare_seams, seam_edges};

#[test]
fn a_pith_in_the_middle_mirrors_the_rings_so_that_they_meet_all_along() {
    let leg = cyma_leg(50.0, 40.0, 700.0, 16.0, 0.45);
    for width in [0.8, 2.5, 6.0] {
        for answer in compare_seams(&leg, &timber(25.0, 20.0, width), &SeamLimits::default()) {
            assert_eq!([answer.lines_meet, answer.same_wood], [1.0, 1.0]);
            assert!(answer.places.iter().all(|place| place.what == Mismatch::LinesTurn));
        }
    }
    // Seams 1 and 3 ask only for a pith halfway across face 1, however far below it.
    assert_eq!(compare_pair(&leg, &timber(25.0, 300.0, 2.5), Cut::Second, &SeamLimits::default()).lines_meet, 1.0);
    assert!(compare_pair(&leg, &timber(25.0, 300.0, 2.5), Cut::First, &SeamLimits::default()).lines_meet < 1.0);
}

#[test]
fn rings_that_run_along_a_straight_leg_carry_on_and_rings_cut_on_a_slope_come_together_in_a_v() {
    let limits = SeamLimits::default();
    let straight = compare_pair(&straight_leg(50.0, 700.0), &timber(25.0, 60.0, 3.0), Cut::Second, &limits);
    assert_eq!(straight.pattern_carries_on, 1.0);
    let sloped = compare_pair(&cyma_leg(50.0, 50.0, 300.0, 30.0, 0.5), &timber(25.0, 60.0, 3.0), Cut::Second, &limits);
    assert_eq!(sloped.lines_meet, 1.0);
    assert!(sloped.pattern_carries_on < 0.9, "{}", sloped.pattern_carries_on);
    // No limit on the turn, and they carry on after all.
    let any = SeamLimits { kink_deg: 90.0, ..limits };
    let sloped = compare_pair(&cyma_leg(50.0, 50.0, 300.0, 30.0, 0.5), &timber(25.0, 60.0, 3.0), Cut::Second, &any);
    assert_eq!(sloped.pattern_carries_on, 1.0);
}

#[test]
fn rings_off_the_middle_meet_about_as_often_as_chance_has_it() {
    // A curve through many rings brings every difference of phase about equally often: a share 2 * ring_share meets.
    let leg = cyma_leg(80.0, 80.0, 2000.0, 70.0, 0.5);
    for ring_share in [0.05, 0.15, 0.3] {
        let limits = SeamLimits { ring_share, ..SeamLimits::default() };
        let answer = compare_pair(&leg, &timber(10.0, 40.0, 0.5), Cut::Second, &limits);
        assert_abs_diff_eq!(answer.lines_meet, 2.0 * ring_share, epsilon = 0.06);
    }
    let all = SeamLimits { ring_share: 0.5, ..SeamLimits::default() };
    assert_eq!(compare_pair(&leg, &timber(10.0, 40.0, 0.5), Cut::Second, &all).lines_meet, 1.0);
}

#[test]
fn limits_that_are_no_numbers_do_no_harm() {
    let leg = cyma_leg(50.0, 50.0, 300.0, 20.0, 0.5);
    let limits = SeamLimits {
        meet_mm: f64::NAN,
        ring_share: f64::NAN,
        kink_deg: f64::NAN,
        differ_colour: f64::NAN,
        most_places: 3,
    };
    for answer in compare_seams(&leg, &timber(10.0, 40.0, 1.5), &limits) {
        assert!(answer.lines_meet < 0.1 && answer.places.len() <= 3);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]

    /// The lines that are painted are the lines that arrive.
    #[test]
    fn ring_lines_arrive_where_the_painted_ring_changes(
        pith_x in -80.0..130.0f64, pith_y in -80.0..130.0f64, width in 0.5..8.0f64, swing in 1.0..40.0f64,
    ) {
        let leg = cyma_leg(50.0, 42.0, 300.0, swing, 0.5);
        let wood = timber(pith_x, pith_y, width);
        for (side, y) in [0.0, 42.0].into_iter().enumerate() {
            let edges = &seam_edges(&leg, &wood, Cut::First)[side];
            let ring = |s: f64| wood.at(BlankPoint { x: leg.a(s), y, s }, Surface::Cut(Cut::First)).line;
            let n = 6000;
            let changes = (0..n).filter(|i| {
                let s = 300.0 * f64::from(*i) / f64::from(n);
                ring(s) != ring(s + 300.0 / f64::from(n))
            }).count();
            // At a crest of the line both may miss a ring that is dipped into between two samples.
            prop_assert!(edges.len().abs_diff(changes) <= 4, "{} {changes}", edges.len());
            for s in edges {
                prop_assert_ne!(ring(s - 2e-6), ring(s + 2e-6), "{}", s);
            }
        }
    }

    /// Answers found by stepping and halving agree with asking at many levels.
    #[test]
    fn shares_agree_with_asking_everywhere(
        pith_x in -80.0..130.0f64, pith_y in -80.0..130.0f64, width in 0.5..8.0f64, swing in 1.0..40.0f64,
        ring_share in 0.02..0.48f64,
    ) {
        let leg = cyma_leg(50.0, 42.0, 300.0, swing, 0.5);
        let wood = timber(pith_x, pith_y, width);
        let Wood::Timber(plain) = &wood else { unreachable!() };
        let rings = Rings::new(plain);
        let limits = SeamLimits { ring_share, ..SeamLimits::default() };
        let answer = compare_pair(&leg, &wood, Cut::Second, &limits);
        let n = 20_000;
        let meet = (0..n).filter(|i| {
            let s = 300.0 * (f64::from(*i) + 0.5) / f64::from(n);
            let [left, right] = [0.0, 50.0].map(|x| rings.ring(rings.even(BlankPoint { x, y: leg.b(s), s })).phase());
            (left - right - (left - right).round()).abs() <= ring_share
        }).count();
        prop_assert!((answer.lines_meet - meet as f64 / f64::from(n)).abs() < 2e-3, "{} {meet}", answer.lines_meet);
        prop_assert!(answer.pattern_carries_on <= answer.lines_meet + 1e-12);
        // Leaving the turn out changes nothing about meeting but where they only graze the limit.
        let finer = SeamLimits { kink_deg: f64::INFINITY, ..limits };
        let any_turn = compare_pair(&leg, &wood, Cut::Second, &finer);
        prop_assert!((answer.lines_meet - any_turn.lines_meet).abs() < 2e-3);
        prop_assert_eq!(any_turn.lines_meet, any_turn.pattern_carries_on);
    }
}

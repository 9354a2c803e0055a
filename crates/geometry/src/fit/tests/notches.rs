//! Notches and the crosscut list.

use approx::assert_relative_eq;

use super::{arch, cyma, leg_of, start, straight};
use crate::fit::{Fit, FitError, Joint, Keep, Notch, PipeHole, Stance};
use crate::{Length, Piece, Seam, ShapeKind, Side};

fn shelves() -> Fit {
    Fit {
        notches: vec![Notch::apron(50.8), Notch::shelf(200.0, 18.0, 0.4), Notch::shelf(400.0, 18.0, 0.0)],
        crosscut_kerf: 3.0.into(),
        ..Fit::default()
    }
}

/// A two-inch apron, a two-inch notch: common practice, no source.
#[test]
fn the_aprons_height_is_the_length_cut_from_the_inside_piece() {
    assert_eq!(Notch::apron(50.8).height_mm(), 50.8);
    let leg = leg_of([50.0, 50.0, 700.0], &cyma(20.0), &cyma(20.0));
    let list = shelves().crosscut(&leg);
    let thrown: Vec<f64> =
        list.parts.iter().filter(|p| !p.kept).map(|p| p.span_mm[1] - p.span_mm[0].max(0.0)).collect();
    for (thrown, wanted) in thrown.iter().zip([50.8, 18.4, 18.0]) {
        assert_relative_eq!(*thrown, wanted, epsilon = 1e-9);
    }
}

#[test]
fn the_crosscut_list_measures_once_and_keeps_the_kerf_in_the_waste() {
    let leg = leg_of([50.0, 50.0, 700.0], &cyma(20.0), &cyma(20.0));
    let list = shelves().crosscut(&leg);
    let told: Vec<(f64, Keep)> = list.marks.iter().map(|m| (m.from_top_mm, m.keep)).collect();
    use Keep::{TowardFoot, TowardTop};
    assert_eq!(
        told,
        [(50.8, TowardFoot), (200.0, TowardTop), (218.4, TowardFoot), (400.0, TowardTop), (418.0, TowardFoot)]
    );
    for mark in &list.marks {
        assert_relative_eq!(mark.blade_mm[1] - mark.blade_mm[0], 3.0, epsilon = 1e-12);
        let inside = list.parts.iter().filter(|p| !p.kept);
        let in_waste = |p: &crate::fit::InsidePart| {
            p.span_mm[0] <= mark.blade_mm[0] + 1e-9 && p.span_mm[1] >= mark.blade_mm[1] - 1e-9
        };
        assert!(inside.into_iter().any(in_waste), "{mark:?}");
    }
    // Parts follow one another from end to end, spare length counted, numbered from the top.
    assert_eq!((list.parts[0].span_mm[0], list.parts.last().unwrap().span_mm[1]), (-20.0, 720.0));
    assert!(list.parts.windows(2).all(|pair| pair[0].span_mm[1] == pair[1].span_mm[0] && pair[0].kept != pair[1].kept));
    assert!(list.parts.iter().enumerate().all(|(i, part)| part.number == i + 1));
    assert_eq!(list.kept_mm(&leg), [[50.8, 200.0], [218.4, 400.0], [418.0, 700.0]]);
    assert!(list.too_short_for_two_cuts.is_empty());
    let thin = Fit { notches: vec![Notch::shelf(200.0, 5.0, 0.5)], ..shelves() };
    assert_eq!(thin.crosscut(&leg).too_short_for_two_cuts, [0]);
}

#[test]
fn bearings_and_walls_are_those_of_fine_slices() {
    let leg = leg_of([50.0, 44.0, 700.0], &cyma(20.0), &arch(-9.0));
    for inside in Piece::ALL {
        let fit = Fit { inside, ..shelves() };
        for place in 0..3 {
            let there = fit.notch_fit(&leg, place).unwrap();
            let [_, to] = there.span_mm;
            let reach = inside.reach(50.0, 44.0, leg.a(to), leg.b(to)).map(f64::abs);
            assert_eq!(there.bearing.reach_mm, reach);
            assert_relative_eq!(there.bearing.area_mm2, reach[0] * reach[1], max_relative = 1e-12);
            let [from, to] = fit.notches[place].board_span_mm();
            let n = 20_000;
            let mut walls = [0.0, 0.0];
            let mut least = f64::INFINITY;
            for i in 0..n {
                let s = from + (to - from) * (f64::from(i) + 0.5) / f64::from(n);
                let [u, v] = inside.reach(50.0, 44.0, leg.a(s), leg.b(s)).map(f64::abs);
                walls = [walls[0] + u * (to - from) / f64::from(n), walls[1] + v * (to - from) / f64::from(n)];
                least = least.min(50.0 * 44.0 - u * v);
            }
            for (told, wanted) in there.bearing.walls_mm2.iter().zip(walls) {
                assert_relative_eq!(*told, wanted, max_relative = 1e-7);
            }
            assert!(there.weakest.area_mm2 <= least + 1e-3, "{} against {least}", there.weakest.area_mm2);
            assert!((there.weakest.area_mm2 - least).abs() < 0.5);
        }
    }
}

#[test]
fn notches_that_cannot_be_cut_are_named() {
    let check = |notches: Vec<Notch>| Fit { notches, ..Fit::default() }.check(700.0);
    assert_eq!(check(vec![Notch::shelf(100.0, 18.0, 0.0), Notch::shelf(119.0, 18.0, 0.0)]), Ok(()));
    assert!(matches!(
        check(vec![Notch::shelf(100.0, 18.0, 0.0), Notch::shelf(110.0, 18.0, 0.0)]),
        Err(FitError::Overlap { number: 2, .. })
    ));
    assert!(matches!(check(vec![Notch::shelf(690.0, 18.0, 0.0)]), Err(FitError::NothingBelow { number: 1, .. })));
    assert!(matches!(check(vec![Notch::shelf(f64::NAN, 18.0, 0.0)]), Err(FitError::Size { .. })));
    assert!(matches!(check(vec![Notch::shelf(0.0, 1.0, 0.0); 41]), Err(FitError::TooMany { count: 41, .. })));
}

#[test]
fn stances_are_named_by_what_the_foot_does() {
    // The lines end 12 mm off where they began on both faces: the foot moves by -12 across u and v, into piece 1's
    // quadrant.
    let points = |to: f64| {
        crate::Line::Points(vec![
            crate::Point::smooth(1, 0.0, 25.0, 0.0, 0.0, 200.0),
            crate::Point::smooth(2, 700.0, to, 0.0, 200.0, 0.0),
        ])
    };
    let leg = leg_of([50.0, 50.0, 700.0], &points(37.0), &points(37.0));
    let names: Vec<String> = Piece::ALL.into_iter().map(|inside| Stance::of(&leg, inside).name()).collect();
    assert_eq!(names[0], "foot in");
    assert_eq!(names[2], "foot out");
    // Standing before piece 4 with piece 2 behind it, u is behind and to one side: the foot goes to -u and -v. Piece 2 is
    // at (+u, -v); looking that way with s down, right is (-into_v, into_u) = (+, +): the foot goes left.
    assert_eq!((names[1].as_str(), names[3].as_str()), ("foot to the left", "foot to the right"));
    let leg = leg_of([50.0, 50.0, 700.0], &cyma(0.0001), &straight(0.0));
    assert_eq!(Stance::of(&leg, Piece::One).name(), "straight");
    let leg = leg_of([50.0, 50.0, 700.0], &arch(10.0), &arch(10.0));
    assert_eq!(Stance::of(&leg, Piece::One).name(), "foot under its top, swings in");
}

#[test]
fn a_post_is_straight_down_the_middle_and_a_joint_knows_its_seam() {
    let line = start(ShapeKind::PostAndKnee, 700.0, 50.0);
    let leg = leg_of([50.0, 50.0, 700.0], &line, &line);
    let fit = |post: f64| Fit { post: post.into(), ..Fit::default() };
    assert!(fit(154.0).post_strays_mm(&leg) < 1e-9);
    assert!(fit(220.0).post_strays_mm(&leg) > 3.0);
    let joint = |beside: f64, from: f64| Joint {
        side: Side::Two,
        from_top: from.into(),
        height: 40.0.into(),
        width: 8.0.into(),
        beside: beside.into(),
        depth: 20.0.into(),
    };
    let there = joint(0.0, 60.0).fit(&leg);
    assert_eq!(there.straddles, Some(Seam::Two));
    assert_relative_eq!(there.uneven_mm, 0.0, epsilon = 1e-9);
    assert_relative_eq!(there.behind_mm, 30.0, epsilon = 1e-9);
    assert_relative_eq!(there.beside_mm, 21.0, epsilon = 1e-9);
    assert_eq!(joint(9.0, 60.0).fit(&leg).straddles, None);
    assert!(joint(0.0, 180.0).fit(&leg).uneven_mm > 1.0);
}

/// Every pair of walls together is as deep as the blank, whatever the curve, so a plain leg has D times L between the
/// pieces of its halves, and W times L between the halves. A notch takes its length off the two walls of the inside piece,
/// a chamfer its leg off every wall.
#[test]
fn glue_areas_are_the_planed_walls_less_notches_and_chamfers() {
    let leg = leg_of([50.0, 44.0, 600.0], &cyma(18.0), &arch(9.0));
    let plain = Fit::default().glue_areas(&leg);
    assert_relative_eq!(plain.halves_mm2.iter().sum::<f64>(), 44.0 * 600.0, max_relative = 1e-12);
    assert_relative_eq!(plain.together_mm2, 50.0 * 600.0, max_relative = 1e-12);
    let straight = leg_of([50.0, 44.0, 600.0], &straight(0.0), &straight(0.0));
    let mut fit = Fit { inside: Piece::Three, notches: vec![Notch::apron(80.0)], ..Fit::default() };
    let notched = fit.glue_areas(&straight);
    assert_relative_eq!(notched.halves_mm2[0], 22.0 * 600.0, max_relative = 1e-12);
    assert_relative_eq!(notched.halves_mm2[1], 22.0 * 520.0, max_relative = 1e-12);
    assert_relative_eq!(notched.together_mm2, 25.0 * 600.0 + 25.0 * 520.0, max_relative = 1e-12);
    fit.pipe = Some(PipeHole {
        name: String::new(),
        outside: 10.0.into(),
        clearance: Length::ZERO,
        above: Length::ZERO,
        below: Length::ZERO,
        recess: Length::ZERO,
    });
    let c = 10.0 * std::f64::consts::FRAC_1_SQRT_2;
    assert_relative_eq!(fit.glue_areas(&straight).halves_mm2[0], (22.0 - c) * 600.0, max_relative = 1e-9);
}

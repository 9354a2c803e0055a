//! What is told names the right place, the right cause and figures that agree with one another, in inches too.

use super::*;
use crate::{Core, Finest, OutOfTrue};

const INCH: Units = Units::Inches(Finest::Sixteenth);

fn in_inches(concern: Concern, leg: &Leg, saw: &Saw) -> WatchOut {
    concern.check(&Survey::new(leg, Some(saw), 257), &Limits::default(), INCH).unwrap()
}

/// Small figures that a sixteenth of an inch would tell as none: 0.44 mm is 0.017 in.
#[test]
fn small_figures_are_told_as_decimals_of_an_inch() {
    let plain = leaning([0.0, 0.2]);
    let lean = in_inches(Concern::SeamStep, &plain, &Saw { tilt_first_deg: 0.5, ..Saw::default() });
    assert!(lean.verdict.starts_with("A step of 0.017\" at seams 2 and 4"), "{}", lean.verdict);
    assert_eq!((lean.figure(INCH), lean.limit_words(INCH)), ("0.017\"".to_owned(), Some("0.016\"".to_owned())));
    let slip = in_inches(Concern::SeamStep, &plain, &Saw { slip: mm(2.5), sanding: mm(0.3), ..Saw::default() });
    assert!(slip.verdict.contains("slipped by 0.098\"") && slip.verdict.contains("allowance, 0.012\","), "{slip:?}");
    let bow = in_inches(Concern::BladeBow, &plain, &Saw { bow_first: mm(0.5), ..Saw::default() });
    assert!(bow.verdict.contains("bows by 0.02\"") && bow.figure(INCH) == "0.02\"", "{bow:?}");
    let out_of_true = OutOfTrue { corner_deg: 0.6, ..OutOfTrue::default() };
    let untrue = leg(&Blank { out_of_true, ..Blank::square(50.0, 300.0) }, straight(), straight());
    let told = in_inches(Concern::OutOfTrue, &untrue, &Saw::default());
    assert!(told.verdict.contains("0.021\" out of square over"), "{}", told.verdict);
    let thin = leg(&Blank::square(50.0, 700.0), arch(22.1, 0.0), straight());
    let thin = Concern::ThinWood.check(&Survey::new(&thin, None, 257), &Limits::default(), INCH).unwrap();
    assert_eq!([thin.figure(INCH), thin.limit_words(INCH).unwrap()], ["0.114\"", "0.118\""]);
    // Millimetres stay as they are.
    assert_eq!(lean.figure(MM), format!("{} mm", Units::Millimetres.show(lean.value)));
}

/// 5.56 mm is 0.2189 in: a blade of 7/32 goes round, one of 0.219 does not.
#[test]
fn the_widest_blade_is_never_rounded_up() {
    let wavy = leg(&Blank::square(50.0, 700.0), waves(4, 16.0), straight());
    let survey = Survey::new(&wavy, None, 9);
    let radius = survey.bends(Cut::First).iter().map(|b| b.radius_mm).fold(f64::INFINITY, f64::min);
    for width in [20.0, 26.0, 33.0, 41.0] {
        for kerf in [0.9, 0.97, 1.03, 1.2] {
            let blade = Blade { width: mm(width), kerf: mm(kerf), published_radius: None, ..Blade::default() };
            let saw = Saw { blade, ..Saw::default() };
            for units in [MM, INCH] {
                let Some(told) = Concern::Bend.check(&Survey::new(&wavy, Some(&saw), 257), &Limits::default(), units)
                else {
                    continue;
                };
                let words = told.verdict.split("goes round this one is ").nth(1).unwrap();
                let words = words.trim_end_matches('.');
                let widest = Length::parse(words, crate::Unit::Mm).unwrap().mm();
                let blade = Blade { width: mm(widest), ..saw.blade.clone() };
                assert!(blade.least_radius_mm() <= radius + 1e-6, "{words} does not go round");
                assert!(widest > saw.blade.widest_for_mm(radius) - 0.03, "{words} is too cautious");
            }
        }
    }
}

/// What makes a step is what it would be less without; what works against it is not blamed, nor what is nothing.
#[test]
fn a_step_is_blamed_on_what_makes_it() {
    let blank = |corner_deg: f64| Blank {
        out_of_true: OutOfTrue { corner_deg, ..OutOfTrue::default() },
        ..Blank::square(50.0, 60.0)
    };
    let cornered = |corner: f64| {
        let plain = leaning([0.0, 0.2]);
        let mut leg = leg(&blank(corner), straight(), straight());
        (leg.first, leg.second) = (plain.first, plain.second);
        leg
    };
    let saw = |first: f64, second: f64, slip: f64| Saw {
        tilt_first_deg: first,
        tilt_second_deg: second,
        slip: mm(slip),
        ..Saw::default()
    };
    let told = |corner: f64, saw: Saw| of(Concern::SeamStep, &cornered(corner), Some(&saw)).unwrap().verdict;
    let (blade, slipped, blank) =
        ("a blade", "halves that slipped by 3 mm", "corners of the blank 0.60° out of square");
    let only = |verdict: &str, causes: &[&str]| {
        for cause in [blade, slipped, blank] {
            assert_eq!(verdict.contains(cause), causes.contains(&cause), "{verdict}");
        }
        assert!(!verdict.contains("0.00°"), "{verdict}");
    };
    only(&told(0.6, saw(0.0, 0.0, 0.0)), &[blank]);
    only(&told(0.0, saw(0.5, 0.0, 0.0)), &[blade]);
    only(&told(0.0, saw(0.0, 0.0, 3.0)), &[slipped]);
    // In the first cut a corner that is more than square and a blade that leans away are against one another.
    only(&told(0.6, saw(-0.3, 0.0, 0.0)), &[blank, blade]);
    only(&told(0.6, saw(0.1, -0.1, 0.0)), &[blank]);
    let all = told(0.6, saw(0.0, 0.4, 3.0));
    assert!(all.contains("in the second cut") && all.contains(" and "), "{all}");
    only(&all, &[blank, blade, slipped]);
}

/// Twenty bends that are all alike but for the last digits: the first is told.
#[test]
fn of_bends_that_are_alike_the_first_is_told() {
    let wavy = leg(&Blank::square(50.0, 420.0), waves(10, 16.0), waves(10, 16.0));
    let saw = Saw { blade: Blade { width: mm(19.0), ..Blade::default() }, ..Saw::default() };
    let told = of(Concern::Bend, &wavy, Some(&saw)).unwrap();
    let first = told.stretches_mm[0][0];
    let radius = |s: f64| 1.0 / wavy.first.at(s).curvature.abs();
    assert!(told.stretches_mm.len() >= 40 && (radius(first) / told.value - 1.0).abs() < 1e-3, "{told:?}");
    assert_eq!(told.at_mm, first, "{told:?}");
}

/// The kerf must stay in the wood: a line a hair inside the face leaves none beside it, and is told as out.
#[test]
fn where_a_saw_is_told_its_kerf_must_not_leave_the_blank() {
    let blank = Blank::square(50.0, 700.0);
    let saw = Saw { blade: Blade { kerf: mm(1.0), ..Blade::default() }, ..Saw::default() };
    let near = |rise: f64| leg(&blank, arch(rise, 0.0), straight());
    assert_eq!(weight(Concern::LeavesBlank, &near(24.8)), None, "as drawn it is within");
    let out = of(Concern::LeavesBlank, &near(24.8), Some(&saw)).unwrap();
    assert!((out.value - 0.3).abs() < 1e-6 && (out.at_mm - 350.0).abs() < 1.0, "{out:?}");
    assert!(out.verdict.starts_with("The kerf of the first cut is out at arris 2"), "{}", out.verdict);
    assert!(out.verdict.contains("pieces 2 and 3 are not whole from top to foot"), "{}", out.verdict);
    assert_eq!(of(Concern::ThinWood, &near(24.8), Some(&saw)), None, "told once");
    assert_eq!(sawn(Concern::LeavesBlank, &near(24.49), &saw), None);
    assert!(of(Concern::ThinWood, &near(24.49), Some(&saw)).unwrap().value > 0.0);
    // At an end that slopes the kerf is wider across the blank, and so is what it needs.
    let sloping = |rise: f64| {
        let point = |id, s: f64, y: f64| Point::smooth(id, s, y, 1.0, 10.0, 10.0);
        let line = Line::Points(vec![point(1, 0.0, rise), point(2, 40.0, rise + 40.0)]);
        Leg::new(&Blank::square(60.0, 40.0), &line, &Line::Shape(straight())).unwrap()
    };
    let half = 0.5 * 2.0_f64.sqrt();
    let out = of(Concern::LeavesBlank, &sloping(half - 0.01), Some(&saw)).unwrap();
    assert!(out.at_mm < 1e-9 && out.stretches_mm[0][0] == 0.0 && (out.value - 0.01).abs() < 1e-6, "{out:?}");
    assert_eq!(sawn(Concern::LeavesBlank, &sloping(half + 0.01), &saw), None);
}

#[test]
fn sharp_points_of_both_cuts_are_told() {
    let post =
        |post: f64| Shape::PostAndKnee { post: mm(post), knee: mm(9.0), ankle: mm(10.0), kick: 0.2, aside: mm(0.0) };
    let blank = Blank::square(50.0, 700.0);
    let told = of(Concern::StopsInside, &leg(&blank, post(100.0), post(550.0)), None).unwrap();
    assert_eq!((told.cut, told.at_mm, told.value), (Some(Cut::Second), 550.0, 170.0), "backed out of farther");
    assert_eq!(told.stretches_mm, [[100.0; 2], [550.0; 2]]);
    for words in
        ["The first cut has a sharp point 100 mm", "in from the top", "The second cut has a sharp point 550 mm"]
    {
        assert!(told.verdict.contains(words), "{}", told.verdict);
    }
    assert!(told.verdict.contains("in from the foot") && told.verdict.contains("back out 170 mm"), "{}", told.verdict);
    let alike = of(Concern::StopsInside, &leg(&blank, post(100.0), post(100.0)), None).unwrap();
    assert_eq!((alike.cut, alike.stretches_mm.len()), (Some(Cut::First), 1));
}

/// By hand: arches of 12 and 8 mm leave 38 by 42 mm of a 50 mm blank, and a kerf of 1 mm and 0.2 mm of sanding on either side
/// 1.4 mm less both ways. What a slip and a leaning blade take is found by looking at every level.
#[test]
fn the_core_as_sawn_lies_within_every_level_section() {
    let blank = Blank::square(50.0, 700.0);
    let arches = leg(&blank, arch(12.0, 0.0), arch(8.0, 0.0));
    let saw = Saw { blade: Blade { kerf: mm(1.0), ..Blade::default() }, sanding: mm(0.2), ..Saw::default() };
    let core = Core::sawn(&Survey::new(&arches, Some(&saw), 129)).unwrap();
    // At the ends the arch slopes by 4·12/700, and the kerf is so much wider across.
    assert!((core.size_mm[0] - 36.6).abs() < 0.01 && (core.size_mm[1] - 40.6).abs() < 0.01, "{core:?}");
    assert_eq!(Core::sawn(&Survey::new(&arches, None, 129)), None);
    assert_eq!(Core::of(&arches).size_mm.map(f64::round), [38.0, 42.0]);
    let skew = Saw { tilt_first_deg: 0.6, tilt_second_deg: -0.3, slip: mm(4.0), ..saw };
    for leg in [arches, leg(&blank, waves(3, 12.0), arch(10.0, -3.0)), leg(&blank, straight(), waves(2, 20.0))] {
        let survey = Survey::new(&leg, Some(&skew), 257);
        let core = Core::sawn(&survey).unwrap();
        // The least reach from the axis either way, wherever along the walls, of some thousand levels.
        let mut least = [[f64::INFINITY; 2]; 2];
        for i in 0..=4000 {
            let sawn = survey.sawn().unwrap().at(leg.length_mm * f64::from(i) / 4000.0);
            for piece in sawn.pieces {
                // Of the two walls away from the axis one stands across u, the other across v.
                for [p, q] in [[piece[1], piece[2]], [piece[2], piece[3]]] {
                    let i = usize::from((p[0] - q[0]).abs() > (p[1] - q[1]).abs());
                    let way = usize::from(p[i] + q[i] > 0.0);
                    least[i][way] = least[i][way].min(p[i].abs()).min(q[i].abs());
                }
            }
        }
        for (i, [before, beyond]) in least.into_iter().enumerate() {
            assert!((core.size_mm[i] - before - beyond).abs() < 0.01, "{core:?} {least:?}");
        }
    }
}

/// Ten waves that are alike: sampled each in another place, their steps differ in the fourth digit, and the first is told. A step
/// that is the same all along is told at the top.
#[test]
fn of_places_that_are_alike_the_first_is_told_wherever_stations_fall() {
    let wavy = leg(&Blank::square(50.0, 420.0), waves(10, 16.0), waves(10, 16.0));
    let saw = Saw { tilt_first_deg: 0.6, ..Saw::default() };
    for count in [200, 257, 512] {
        let survey = Survey::new(&wavy, Some(&saw), count);
        let told = Concern::SeamStep.check(&survey, &Limits::default(), MM).unwrap();
        assert!(told.at_mm <= 42.0, "{count}: {told:?}");
    }
    let plain = leg(&Blank::square(50.0, 420.0), straight(), straight());
    assert_eq!(of(Concern::SeamStep, &plain, Some(&saw)).unwrap().at_mm, 0.0);
    // A crest is told where it is, not where it begins to be alike.
    let arched = leg(&Blank::square(50.0, 700.0), arch(42.0, -21.0), straight());
    assert!((of(Concern::Wander, &arched, None).unwrap().at_mm - 350.0).abs() < 2.0);
}

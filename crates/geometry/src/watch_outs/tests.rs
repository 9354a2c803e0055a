//! Every watch-out fires, and keeps quiet just inside its limit; sound legs raise nothing above "have a look".

use super::*;
use crate::{
    Along, Between, Blade, Blank, CurveOf, Leg, Length, Line, Load, MM_PER_INCH, Point, PointId, PointKind, Saw, Shape,
    Strengths,
};

mod places;

const MM: Units = Units::Millimetres;

fn mm(mm: f64) -> Length {
    mm.into()
}

fn leg(blank: &Blank, first: Shape, second: Shape) -> Leg {
    Leg::new(blank, &Line::Shape(first), &Line::Shape(second)).unwrap()
}

fn straight() -> Shape {
    Shape::Straight { aside: mm(0.0) }
}

fn arch(rise: f64, aside: f64) -> Shape {
    Shape::Arch { rise: mm(rise), crest: 0.5, aside: mm(aside) }
}

fn waves(waves: u32, swing: f64) -> Shape {
    Shape::Waves { waves, swing_top: mm(swing), swing_foot: mm(swing), shortening: 1.0, aside: mm(0.0) }
}

/// Straight lines of given slopes through the middle of a 50 mm blank, 100 mm long.
fn leaning(slopes: [f64; 2]) -> Leg {
    let line = |slope: f64| {
        let point = |id, s: f64| Point {
            id: PointId(id),
            from_top: s.into(),
            offset: (25.0 + slope * (s - 30.0)).into(),
            kind: PointKind::Smooth { slope, before_mm: 20.0, after_mm: 20.0 },
            tied: false,
        };
        Line::Points(vec![point(1, 0.0), point(2, 60.0)])
    };
    Leg::new(&Blank::square(50.0, 60.0), &line(slopes[0]), &line(slopes[1])).unwrap()
}

fn of(concern: Concern, leg: &Leg, saw: Option<&Saw>) -> Option<WatchOut> {
    concern.check(&Survey::new(leg, saw, 257), &Limits::default(), MM)
}

/// The weight of a watch-out about a leg as drawn.
fn weight(concern: Concern, leg: &Leg) -> Option<Weight> {
    of(concern, leg, None).map(|one| one.weight)
}

/// The weight of a watch-out about a leg as sawn.
fn sawn(concern: Concern, leg: &Leg, saw: &Saw) -> Option<Weight> {
    of(concern, leg, Some(saw)).map(|one| one.weight)
}

const WATCH: Option<Weight> = Some(Weight::WatchOut);
const LOOK: Option<Weight> = Some(Weight::Look);

#[test]
fn a_cut_that_leaves_the_blank_names_the_pieces_it_breaks() {
    let blank = Blank::square(50.0, 700.0);
    let out = of(Concern::LeavesBlank, &leg(&blank, arch(26.0, 0.0), straight()), None).unwrap();
    assert_eq!((out.weight, out.cut), (Weight::WatchOut, Some(Cut::First)));
    assert!((out.value - 1.0).abs() < 1e-6 && (out.at_mm - 350.0).abs() < 1.0, "{out:?}");
    assert!(out.verdict.contains("arris 2") && out.verdict.contains("pieces 2 and 3"), "{}", out.verdict);
    assert!(out.verdict.contains("the second cut's line"), "{}", out.verdict);
    assert_eq!(
        weight(Concern::LeavesBlank, &leg(&blank, arch(25.0, 0.0), straight())),
        None,
        "to the arris, not beyond"
    );
}

#[test]
fn a_leg_without_a_core_is_told() {
    let blank = Blank::square(50.0, 700.0);
    let cyma = |swing: f64| Shape::Cyma { swing: mm(swing), turn: 0.5, aside: mm(0.0) };
    assert_eq!(weight(Concern::Core, &leg(&blank, cyma(45.0), cyma(45.0))), WATCH, "0.1 by 0.1 of it is 1 %");
    assert_eq!(weight(Concern::Core, &leg(&blank, cyma(42.0), cyma(42.0))), LOOK);
    assert_eq!(weight(Concern::Core, &leg(&blank, cyma(34.0), cyma(34.0))), None, "0.32 squared is 10 %");
}

/// Square to a line of slope m the blank is W / sqrt(1 + m²) thick: 0.67 of it at a slope of 1.108.
#[test]
fn a_leg_that_is_thin_square_to_its_curve_is_told() {
    assert_eq!(weight(Concern::Thickness, &leaning([1.12, 0.0])), WATCH);
    assert_eq!(weight(Concern::Thickness, &leaning([1.10, 0.0])), LOOK);
    assert_eq!(weight(Concern::Thickness, &leaning([0.0, 0.88])), None);
}

#[test]
fn thin_wood_is_told_with_its_piece() {
    let blank = Blank::square(50.0, 700.0);
    let thin = of(Concern::ThinWood, &leg(&blank, arch(22.1, 0.0), straight()), None).unwrap();
    assert_eq!((thin.weight, thin.cut), (Weight::WatchOut, Some(Cut::First)));
    assert!((thin.value - 2.9).abs() < 1e-6 && thin.verdict.contains("piece 2"), "{thin:?}");
    // 50 - 25 - 22.1 beyond the first cut, and half the blank on its other side at the ends; 25 beside the second.
    assert!(thin.verdict.ends_with("Pieces 1 to 4 have 25, 2.9, 2.9, 25 at their thinnest."), "{}", thin.verdict);
    assert_eq!(weight(Concern::ThinWood, &leg(&blank, arch(21.9, 0.0), straight())), LOOK);
    assert_eq!(weight(Concern::ThinWood, &leg(&blank, arch(19.9, 0.0), straight())), None);
    // A kerf takes half of itself from the thin wood too.
    let kerf = Saw { blade: Blade { kerf: mm(1.0), ..Blade::default() }, ..Saw::default() };
    assert_eq!(sawn(Concern::ThinWood, &leg(&blank, arch(21.7, 0.0), straight()), &kerf), WATCH);
}

/// With slopes m and m sides meet at acos(m² / (1 + m²)): 60 degrees at m = 1.
#[test]
fn sharp_edges_are_told() {
    assert_eq!(weight(Concern::EdgeAngle, &leaning([1.01, 1.01])), WATCH);
    assert_eq!(weight(Concern::EdgeAngle, &leaning([0.99, -0.99])), LOOK);
    assert_eq!(weight(Concern::EdgeAngle, &leaning([0.71, 0.71])), None);
    assert_eq!(weight(Concern::EdgeAngle, &leaning([2.0, 0.0])), None, "one steep cut makes no sharp edge");
}

/// Waves that are all alike are as bad at every crossing: every stretch is told, in order, and the first is the place.
#[test]
fn every_stretch_beyond_a_limit_is_told_and_of_those_as_bad_the_first() {
    let leg = leg(&Blank::square(50.0, 300.0), waves(4, 34.0), waves(4, 34.0));
    let told = of(Concern::EdgeAngle, &leg, None).unwrap();
    // Four waves cross their middle nine times, the ends included.
    assert_eq!(told.stretches_mm.len(), 9, "{told:?}");
    assert!(told.stretches_mm.windows(2).all(|pair| pair[0][1] < pair[1][0]), "{told:?}");
    assert!(told.at_mm < 1e-6 && told.stretches_mm[0] == [told.from_mm, told.to_mm], "{told:?}");
    assert!(told.verdict.contains("at 9 places"), "{}", told.verdict);
    let survey = Survey::new(&leg, None, 257);
    for at in survey.stations() {
        let s = at.drawn.s_mm;
        let beyond = told.stretches_mm.iter().any(|[from, to]| (*from..=*to).contains(&s));
        assert_eq!(beyond, at.drawn.edge_angle_deg < told.limit, "{s}");
    }
    let tight = Saw { blade: Blade { width: mm(19.0), ..Blade::default() }, ..Saw::default() };
    let bends = of(Concern::Bend, &leg, Some(&tight)).unwrap();
    assert!(bends.stretches_mm.len() >= 16 && bends.stretches_mm.is_sorted_by(|a, b| a[0] <= b[0]), "{bends:?}");
}

/// The same waves on a leg more than twice as long lose their sharp edges: common practice, no source.
#[test]
fn the_same_waves_on_a_leg_more_than_twice_as_long_have_no_sharp_edges() {
    let both = |length: f64| leg(&Blank::square(60.0, length), waves(4, 30.0), waves(4, 30.0));
    let short = of(Concern::EdgeAngle, &both(300.0), None).unwrap();
    assert_eq!(short.weight, Weight::WatchOut, "{short:?}");
    assert_eq!(weight(Concern::EdgeAngle, &both(660.0)), None);
}

#[test]
fn short_grain_is_a_local_risk_and_told_beside_the_core() {
    let told = of(Concern::ShortGrain, &leaning([0.72, 0.2]), None).unwrap();
    assert_eq!(told.weight, Weight::WatchOut, "{told:?}");
    assert!(told.verdict.contains("A local risk") && told.verdict.contains("core"), "{}", told.verdict);
    assert_eq!(weight(Concern::ShortGrain, &leaning([0.70, 0.0])), LOOK);
    assert_eq!(weight(Concern::ShortGrain, &leaning([0.3, 0.3])), None);
}

/// An arch of 20 mm over 700 bends to 1 / (20 (π / 700)²) = 2482 mm at its crest, near enough for a limit beside it.
#[test]
fn bends_tighter_than_the_blade_are_told_with_the_widest_that_goes_round() {
    let blank = Blank::square(50.0, 700.0);
    let wavy = leg(&blank, waves(4, 16.0), straight());
    let radius =
        Survey::new(&wavy, None, 9).bends(Cut::First).iter().map(|b| b.radius_mm).fold(f64::INFINITY, f64::min);
    let saw = |width: f64| Saw {
        blade: Blade { width: mm(width), published_radius: None, ..Blade::default() },
        ..Saw::default()
    };
    let widest = saw(1.0).blade.widest_for_mm(radius);
    let told = of(Concern::Bend, &wavy, Some(&saw(1.01 * widest))).unwrap();
    assert_eq!(told.weight, Weight::WatchOut);
    assert!((told.value - radius).abs() < 1e-9 && told.verdict.contains("more bends"), "{}", told.verdict);
    assert_eq!(sawn(Concern::Bend, &wavy, &saw(0.99 * widest)), None);
    // Between what is published at the least and at the most, have a look.
    let spread = Blade { published_radius: Some([mm(0.9 * radius), mm(1.1 * radius)]), ..saw(0.99 * widest).blade };
    assert_eq!(sawn(Concern::Bend, &wavy, &Saw { blade: spread, ..Saw::default() }), LOOK);
}

#[test]
fn a_bend_tighter_than_half_the_kerf_is_told() {
    let tight = leg(&Blank::square(20.0, 60.0), waves(8, 6.0), straight());
    let radius =
        Survey::new(&tight, None, 9).bends(Cut::First).iter().map(|b| b.radius_mm).fold(f64::INFINITY, f64::min);
    let saw = |kerf: f64| Saw { blade: Blade { kerf: mm(kerf), ..Blade::default() }, ..Saw::default() };
    assert_eq!(sawn(Concern::LineBreaks, &tight, &saw(2.02 * radius)), WATCH);
    assert_eq!(sawn(Concern::LineBreaks, &tight, &saw(1.98 * radius)), None);
}

#[test]
fn a_pass_that_stops_deep_inside_says_how_far_the_saw_backs_out() {
    let post =
        |post: f64| Shape::PostAndKnee { post: mm(post), knee: mm(9.0), ankle: mm(10.0), kick: 0.2, aside: mm(0.0) };
    let blank = Blank::square(50.0, 700.0);
    let told = of(Concern::StopsInside, &leg(&blank, post(100.0), straight()), None).unwrap();
    assert_eq!((told.weight, told.value), (Weight::Look, 120.0), "with the spare length");
    assert_eq!(weight(Concern::StopsInside, &leg(&blank, post(30.0), straight())), None);
}

#[test]
fn a_blank_too_high_for_the_saw_is_told_and_one_that_swings_is_to_be_tried() {
    let saw = |height: f64, throat: f64| Saw { height: mm(height), throat: mm(throat), ..Saw::default() };
    let blank = Blank { depth: mm(80.0), ..Blank::square(50.0, 700.0) };
    let calm = leg(&blank, arch(10.0, 0.0), straight());
    assert_eq!(sawn(Concern::BlankOnSaw, &calm, &saw(85.9, 400.0)), WATCH, "80 and 6 for the guides");
    assert_eq!(sawn(Concern::BlankOnSaw, &calm, &saw(86.1, 400.0)), None);
    assert_eq!(sawn(Concern::BlankOnSaw, &calm, &saw(86.1, 70.0)), LOOK);
    assert_eq!(sawn(Concern::BlankOnSaw, &calm, &Saw { kind: crate::SawKind::Hand, ..saw(10.0, 10.0) }), None);
    // 740 mm with its spare length: on a table of less than half of that it is to be held level.
    let table = |table: f64| Saw { table: mm(table), ..saw(120.0, 400.0) };
    assert_eq!(sawn(Concern::BlankOnSaw, &calm, &table(369.0)), LOOK);
    assert_eq!(sawn(Concern::BlankOnSaw, &calm, &table(371.0)), None);
    // A scroll saw's arm is behind the blade.
    let scroll = |throat: f64| Saw { kind: crate::SawKind::Scroll, ..saw(120.0, throat) };
    assert_eq!(sawn(Concern::BlankOnSaw, &calm, &scroll(369.0)), WATCH);
    assert_eq!(sawn(Concern::BlankOnSaw, &calm, &scroll(371.0)), LOOK, "from both ends");
    assert_eq!(sawn(Concern::BlankOnSaw, &calm, &scroll(741.0)), None);
}

/// Over 50 mm 0.4 mm is a table 0.458 degrees out.
#[test]
fn steps_at_the_seams_are_told_with_what_makes_them() {
    let plain = leaning([0.0, 0.2]);
    let tilted = |first: f64, second: f64| Saw {
        tilt_first_deg: first,
        tilt_second_deg: second,
        between: Between::Packed(Blade::default().kerf),
        ..Saw::default()
    };
    let told = of(Concern::SeamStep, &plain, Some(&tilted(0.47, 0.0))).unwrap();
    assert_eq!((told.weight, told.cut), (Weight::WatchOut, Some(Cut::First)));
    assert!(told.verdict.contains("seams 2 and 4"), "{}", told.verdict);
    assert_eq!(sawn(Concern::SeamStep, &plain, &tilted(0.44, 0.0)), LOOK);
    assert_eq!(sawn(Concern::SeamStep, &plain, &tilted(0.22, -0.22)), None);
    let slipped = Saw { slip: mm(3.0), ..Saw::default() };
    let told = of(Concern::SeamStep, &plain, Some(&slipped)).unwrap();
    assert_eq!((told.weight, told.cut), (Weight::WatchOut, Some(Cut::Second)));
    assert!(told.verdict.contains("seams 1 and 3") && told.verdict.contains("slipped"), "{}", told.verdict);
}

/// In the middle of its depth a cut is hollow by the bow itself.
#[test]
fn a_blade_that_bows_is_told_with_the_sides_it_leaves_hollow() {
    let plain = leg(&Blank::square(50.0, 300.0), straight(), straight());
    let bowed = |first: f64, second: f64| Saw { bow_first: mm(first), bow_second: mm(second), ..Saw::default() };
    let told = of(Concern::BladeBow, &plain, Some(&bowed(0.42, 0.0))).unwrap();
    assert_eq!((told.weight, told.cut), (Weight::WatchOut, Some(Cut::First)));
    assert!(told.verdict.contains("side 2 is hollow by 0.4"), "{}", told.verdict);
    assert_eq!(sawn(Concern::BladeBow, &plain, &bowed(0.0, -0.38)), LOOK);
    assert_eq!(sawn(Concern::BladeBow, &plain, &bowed(0.14, 0.14)), None);
    assert_eq!(of(Concern::SeamStep, &plain, Some(&bowed(2.0, 2.0))), None, "no step tells it");
}

#[test]
fn a_blank_out_of_square_or_parallel_is_told_though_it_closes() {
    let untrue = |corner_deg: f64, taper: f64| {
        let out_of_true = crate::OutOfTrue { corner_deg, taper_width: mm(taper), ..crate::OutOfTrue::default() };
        leg(&Blank { out_of_true, ..Blank::square(50.0, 300.0) }, arch(6.0, 0.0), straight())
    };
    let told = of(Concern::OutOfTrue, &untrue(-0.52, 0.0), None).unwrap();
    assert!(told.weight == Weight::WatchOut && told.verdict.contains("still close"), "{told:?}");
    assert!(told.verdict.contains("90.5° and two 89.5°") && told.verdict.contains("-0.52° in the first"), "{told:?}");
    assert_eq!(weight(Concern::OutOfTrue, &untrue(0.48, 0.0)), LOOK);
    assert_eq!(weight(Concern::OutOfTrue, &untrue(0.18, 0.9)), None);
    // 2.7 mm over 300 is 0.516 degrees.
    let tapered = of(Concern::OutOfTrue, &untrue(0.1, 2.7), None).unwrap();
    assert!(tapered.weight == Weight::WatchOut && tapered.verdict.contains("narrower"), "{tapered:?}");
}

#[test]
fn wood_lost_to_a_coarse_kerf_is_told() {
    let blank = Blank::square(20.0, 200.0);
    let small = leg(&blank, straight(), straight());
    let saw = |kerf: f64| Saw { blade: Blade { kerf: mm(kerf), ..Blade::default() }, ..Saw::default() };
    assert_eq!(sawn(Concern::KerfLoss, &small, &saw(3.1)), WATCH);
    assert_eq!(sawn(Concern::KerfLoss, &small, &saw(2.9)), LOOK);
    assert_eq!(sawn(Concern::KerfLoss, &small, &saw(0.9)), None);
}

#[test]
fn a_foot_that_stands_aside_and_a_middle_that_wanders_are_told() {
    let blank = Blank::square(50.0, 700.0);
    // From one corner of the blank to the opposite one: by its diagonal.
    let lean = |run: f64| {
        let line = Line::Points(vec![
            Point::smooth(1, 0.0, 25.0 - run / 2.0, 0.0, 100.0, 200.0),
            Point::smooth(2, 700.0, 25.0 + run / 2.0, 0.0, 200.0, 100.0),
        ]);
        Leg::new(&blank, &line, &line).unwrap()
    };
    assert_eq!(weight(Concern::FootOffset, &lean(36.0)), WATCH);
    assert_eq!(weight(Concern::FootOffset, &lean(35.0)), LOOK);
    assert_eq!(weight(Concern::FootOffset, &lean(17.0)), None);
    assert_eq!(weight(Concern::Wander, &leg(&blank, arch(40.5, -20.0), straight())), WATCH);
    assert_eq!(weight(Concern::Wander, &leg(&blank, arch(39.5, -20.0), straight())), LOOK);
    assert_eq!(weight(Concern::Wander, &leg(&blank, straight(), arch(25.5, -13.0))), LOOK);
    assert_eq!(weight(Concern::Wander, &leg(&blank, arch(24.5, -13.0), arch(24.5, -13.0))), None);
}

#[test]
fn more_load_than_the_leg_bears_is_told_and_said_to_certify_nothing() {
    let oak = Strengths { bending_mpa: 99.0, stiffness_mpa: 12_500.0, compression_mpa: 46.6 };
    let leg = leg(&Blank::square(50.0, 700.0), arch(12.0, 0.0), arch(12.0, 0.0));
    let check = |down_n: f64| {
        let survey = Survey::new(&leg, None, 129).with_load(Load { down_n, ..Load::default() }, &oak);
        let bears = survey.load().unwrap().1.bears_n;
        (Concern::Overload.check(&survey, &Limits::default(), MM), bears)
    };
    let (_, bears) = check(100.0);
    let told = check(1.01 * bears).0.unwrap();
    assert!(told.weight == Weight::WatchOut && told.verdict.contains("certifies nothing"), "{told:?}");
    assert_eq!(check(0.99 * bears).0.map(|one| one.weight), LOOK);
    assert_eq!(check(0.6 * bears).0, None);
    // A push that no load goes with: it is said that the push alone is too much.
    let push = Load { push_n: 1e5, ..Load::default() };
    let survey = Survey::new(&leg, None, 129).with_load(push, &oak);
    let told = Concern::Overload.check(&survey, &Limits::default(), MM).unwrap();
    assert!(told.verdict.contains("the push of 100000 N alone") && told.value == 0.0, "{told:?}");
}

/// The saw takes wood, so the leg bears less than as drawn; what is told of the leg as drawn is what a survey without a saw tells.
#[test]
fn what_it_bears_as_drawn_is_told_beside_what_it_bears_as_sawn() {
    let oak = Strengths { bending_mpa: 99.0, stiffness_mpa: 12_500.0, compression_mpa: 46.6 };
    let leg = leg(&Blank::square(50.0, 700.0), arch(12.0, 0.0), arch(9.0, 0.0));
    let saw = Saw { tilt_first_deg: 0.4, sanding: mm(0.3), ..Saw::default() };
    let sawn = Survey::new(&leg, Some(&saw), 129).with_load(Load::default(), &oak);
    let drawn = Survey::new(&leg, None, 129).with_load(Load::default(), &oak);
    assert_eq!(sawn.load_as_drawn(), drawn.load().map(|(_, result)| result));
    assert_eq!(drawn.load_as_drawn(), drawn.load().map(|(_, result)| result));
    let [with, without] = [&sawn, &drawn].map(|survey| survey.load().unwrap().1.bears_n);
    assert!(with < 0.97 * without && with > 0.8 * without, "{with} {without}");
    for along in [Along::Stress, Along::StrengthUsed] {
        let curves = along.curves(&sawn);
        assert_eq!(curves.len(), 2);
        let of =
            |curve: &CurveOf| sawn.stations().iter().filter_map(|at| along.at(*curve, at, &sawn)).fold(0.0, f64::max);
        let most: Vec<f64> = curves.iter().map(of).collect();
        assert!(most[1] > 1.02 * most[0], "as sawn after as drawn: {most:?}");
    }
}

/// A dozen invented legs such as makers build and sit on, with a 3/8 in blade where their bends let it round and a table a
/// fifth of a degree out: nothing above "have a look".
#[test]
fn sound_legs_raise_nothing_above_have_a_look() {
    let cyma = |swing: f64, turn: f64| Shape::Cyma { swing: mm(swing), turn, aside: mm(0.0) };
    let swelling = |waves: u32, top: f64, foot: f64| Shape::Waves {
        waves,
        swing_top: mm(top),
        swing_foot: mm(foot),
        shortening: 0.7,
        aside: mm(0.0),
    };
    let post =
        |post: f64| Shape::PostAndKnee { post: mm(post), knee: mm(10.0), ankle: mm(11.0), kick: 0.2, aside: mm(0.0) };
    let gallery = [
        ("dining table", 57.0, 57.0, 740.0, cyma(22.0, 0.55), cyma(22.0, 0.55)),
        ("side table", 45.0, 45.0, 600.0, cyma(18.0, 0.5), cyma(18.0, 0.5)),
        ("long bench", 70.0, 57.0, 430.0, arch(16.0, 0.0), cyma(18.0, 0.5)),
        ("stool", 45.0, 45.0, 450.0, cyma(16.0, 0.48), arch(9.0, 0.0)),
        ("coffee table", 50.0, 50.0, 400.0, arch(13.0, -4.0), arch(13.0, -4.0)),
        ("hall table", 48.0, 48.0, 860.0, swelling(2, 6.0, 20.0), swelling(2, 6.0, 20.0)),
        ("bed post", 76.0, 76.0, 1200.0, swelling(3, 12.0, 30.0), swelling(3, 12.0, 30.0)),
        ("lamp base", 60.0, 60.0, 400.0, swelling(2, 8.0, 22.0), swelling(2, 8.0, -22.0)),
        ("shelf post", 60.0, 45.0, 1000.0, post(520.0), straight()),
        ("desk", 63.0, 63.0, 720.0, post(160.0), post(160.0)),
        ("plain", 40.0, 40.0, 700.0, straight(), straight()),
        ("small chest", 38.0, 38.0, 250.0, cyma(10.0, 0.5), cyma(10.0, 0.5)),
    ];
    let saw = Saw {
        blade: Blade {
            width: mm(0.375 * MM_PER_INCH),
            published_radius: Some([mm(1.25 * MM_PER_INCH), mm(1.5 * MM_PER_INCH)]),
            ..Blade::default()
        },
        tilt_first_deg: 0.2,
        tilt_second_deg: -0.2,
        ..Saw::default()
    };
    let oak = Strengths { bending_mpa: 99.0, stiffness_mpa: 12_500.0, compression_mpa: 46.6 };
    for (name, width, depth, length, first, second) in gallery {
        let leg = leg(&Blank { depth: mm(depth), ..Blank::square(width, length) }, first, second);
        for saw in [None, Some(&saw)] {
            let survey = Survey::new(&leg, saw, 257).with_load(Load::default(), &oak);
            for one in watch_outs(&survey, &Limits::default(), MM) {
                assert_eq!(one.weight, Weight::Look, "{name}: {one:?}");
            }
        }
    }
}

#[test]
fn limits_are_checked_and_can_be_set() {
    assert_eq!(Limits::default().check(), Ok(()));
    let mut limits = Limits { edge_deg: Limit { look: 50.0, watch: 60.0 }, ..Limits::default() };
    assert_eq!(limits.check().unwrap_err().concern, "Sharp edge", "the second is not the worse one");
    limits.edge_deg = Limit { look: f64::NAN, watch: 30.0 };
    assert!(limits.check().is_err());
    limits.edge_deg = Limit { look: 45.0, watch: 30.0 };
    let survey = Survey::new(&leaning([1.01, 1.01]), None, 33);
    assert_eq!(Concern::EdgeAngle.check(&survey, &limits, MM), None);
}

#[test]
fn what_is_worst_stands_first_and_figures_along_the_leg_are_those_of_the_list() {
    let wild = leg(&Blank::square(50.0, 240.0), waves(3, 40.0), waves(3, 40.0));
    let survey = Survey::new(&wild, Some(&Saw { tilt_first_deg: 0.7, ..Saw::default() }), 513);
    let all = watch_outs(&survey, &Limits::default(), MM);
    assert!(all.len() >= 4 && all.windows(2).all(|pair| pair[0].weight >= pair[1].weight), "{all:?}");
    for one in &all {
        assert!(one.from_mm <= one.at_mm && one.at_mm <= one.to_mm, "{one:?}");
        // Those whose graph is in their own unit.
        let graph = match one.concern {
            Concern::EdgeAngle => Along::EdgeAngle,
            Concern::ThinWood => Along::ThinWood,
            Concern::SeamStep => Along::SeamStep,
            _ => continue,
        };
        let curves = graph.curves(&survey).into_iter().filter(|curve| curve.sawn || graph == Along::EdgeAngle);
        let all: Vec<f64> = curves
            .flat_map(|curve| {
                survey.stations().iter().filter_map(|at| graph.at(curve, at, &survey)).collect::<Vec<_>>()
            })
            .collect();
        let worst = all.into_iter().fold(None, |worst: Option<f64>, value| match worst {
            Some(worst) if !one.concern.worse(value, worst) => Some(worst),
            _ => Some(value),
        });
        assert_eq!(worst, Some(one.value), "{one:?}");
    }
}

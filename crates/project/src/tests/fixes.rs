//! Every watch-out has a fix that clears it, one step to undo; and what is accepted stays so until it gets worse.

use crate::{Accepted, Design, DesignId, Edit, History, Project, SURVEYED};
use cornerwise_geometry::{Blade, Blank, Concern, Length, Line, Load, OutOfTrue, Point, Saw, Shape, WatchOut, Weight};
use std::sync::Arc;

const ID: DesignId = DesignId(1);

fn mm(mm: f64) -> Length {
    mm.into()
}

fn waves(waves: u32, swing: f64) -> Shape {
    Shape::Waves { waves, swing_top: mm(swing), swing_foot: mm(swing), shortening: 1.0, aside: mm(0.0) }
}

fn arch(rise: f64, aside: f64) -> Shape {
    Shape::Arch { rise: mm(rise), crest: 0.5, aside: mm(aside) }
}

fn project(blank: Blank, first: Line, second: Line, saw: Option<Saw>) -> Project {
    let design = Design { blank, first, second, ..Design::new(ID, 'A') };
    Project { saw, designs: vec![Arc::new(design)], ..Project::new() }
}

fn shapes(length: f64, first: Shape, second: Shape) -> Project {
    project(Blank::square(50.0, length), Line::Shape(first), Line::Shape(second), None)
}

fn told(project: &Project, concern: Concern) -> Option<WatchOut> {
    let design = &project.designs[0];
    let survey = project.survey(design, &design.leg().expect("a leg"), SURVEYED);
    concern.check(&survey, &project.limits, project.units)
}

/// The words of the fixes, each of which was tried: one step, the watch-out is gone, and undone it is back.
fn fixed(bad: &Project, concern: Concern) -> Vec<String> {
    assert_eq!(bad.check(), Ok(()));
    let before = told(bad, concern).expect("told");
    let fixes = bad.fixes(ID, concern);
    for fix in &fixes {
        let mut history = History::new(bad.clone());
        assert_eq!(history.apply(&fix.edit), Ok(true), "{}", fix.words);
        let after = told(history.current(), concern);
        let cleared =
            after.as_ref().is_none_or(|after| before.weight == Weight::WatchOut && after.weight == Weight::Look);
        assert!(cleared, "{}: {after:?}", fix.words);
        assert!(!history.current().designs[0].name.is_empty());
        history.undo();
        assert_eq!(told(history.current(), concern).as_ref(), Some(&before));
    }
    fixes.into_iter().map(|fix| fix.words).collect()
}

fn saw(change: impl FnOnce(&mut Saw)) -> Option<Saw> {
    let mut saw = Saw::default();
    change(&mut saw);
    Some(saw)
}

#[test]
fn steep_waves_are_cleared_by_a_longer_leg_or_less_swing() {
    let bad = shapes(300.0, waves(4, 34.0), waves(4, 34.0));
    for concern in [Concern::EdgeAngle, Concern::ShortGrain, Concern::Thickness] {
        let words = fixed(&bad, concern);
        assert!(
            words.len() == 2 && words[0].contains("times longer") && words[1].contains("% less swing"),
            "{words:?}"
        );
    }
    // The least change: a step less of it does not clear.
    let factor: f64 = fixed(&bad, Concern::EdgeAngle)[0].split(' ').next().expect("a word").parse().expect("a factor");
    let shorter =
        Edit::StretchLeg { design: ID, length: mm((300.0 * (factor - 0.06)).ceil()), keep: crate::Stretch::Everything };
    let still = told(&bad.apply(&shorter).expect("an edit"), Concern::EdgeAngle).expect("told");
    assert_eq!(still.weight, Weight::WatchOut);
}

#[test]
fn wood_that_is_left_too_thin_or_not_at_all_is_cleared_by_less_swing_or_by_one_point() {
    let points = |offset: f64| {
        Line::Points(vec![
            Point::smooth(1, 0.0, 25.0, 0.0, 60.0, 100.0),
            Point::smooth(2, 350.0, offset, 0.0, 100.0, 100.0),
            Point::smooth(3, 700.0, 25.0, 0.0, 100.0, 60.0),
        ])
    };
    let straight = || Line::Shape(Shape::Straight { aside: mm(0.0) });
    let drawn = |offset: f64| project(Blank::square(50.0, 700.0), points(offset), straight(), None);
    for (bad, concern) in [(drawn(48.5), Concern::ThinWood), (drawn(55.0), Concern::LeavesBlank)] {
        let words = fixed(&bad, concern);
        assert!(words.len() == 2 && words[0].contains("less swing of the first cut"), "{concern:?}: {words:?}");
    }
    assert!(fixed(&shapes(700.0, arch(42.0, -21.0), arch(2.0, 0.0)), Concern::Wander)[0].contains("less swing"));
    assert_eq!(fixed(&drawn(48.5), Concern::ThinWood)[1], "point 2 of the first cut 1.5 mm nearer to the middle");
    // Off its own middle line, a live shape must give that up; as a shape it has no swing to lose.
    let aside = shapes(700.0, Shape::Straight { aside: mm(24.0) }, Shape::Straight { aside: mm(0.0) });
    assert!(!fixed(&aside, Concern::ThinWood).is_empty());
}

#[test]
fn a_leg_without_core_or_with_its_foot_far_aside_swings_less() {
    let cyma = |swing: f64| Shape::Cyma { swing: mm(swing), turn: 0.5, aside: mm(0.0) };
    assert!(fixed(&shapes(700.0, cyma(48.0), cyma(48.0)), Concern::Core)[0].contains("less swing of both cuts"));
    let run = |from: f64, to: f64| {
        Line::Points(vec![
            Point::smooth(1, 0.0, from, 0.0, 100.0, 200.0),
            Point::smooth(2, 700.0, to, 0.0, 200.0, 100.0),
        ])
    };
    let aside = project(Blank::square(50.0, 700.0), run(5.0, 45.0), run(5.0, 45.0), None);
    assert!(!fixed(&aside, Concern::FootOffset).is_empty());
}

#[test]
fn tight_bends_are_cleared_by_another_blade_a_longer_leg_or_less_swing() {
    let wide = saw(|saw| saw.blade = Blade { width: "1/2 in".parse_mm(), ..Blade::default() });
    let bad = Project { saw: wide, ..shapes(500.0, waves(4, 14.0), arch(6.0, 0.0)) };
    let words = fixed(&bad, Concern::Bend);
    assert_eq!(words.len(), 3, "{words:?}");
    assert!(words[0].starts_with("a ") && words[0].ends_with(" blade"), "{words:?}");
    let tight = project(
        Blank::square(20.0, 60.0),
        Line::Shape(waves(8, 6.0)),
        Line::Shape(waves(1, 1.0)),
        saw(|saw| saw.blade.kerf = mm(3.0)),
    );
    assert!(fixed(&tight, Concern::LineBreaks).len() >= 2);
}

trait ParseMm {
    fn parse_mm(self) -> Length;
}

impl ParseMm for &str {
    fn parse_mm(self) -> Length {
        Length::parse(self, cornerwise_geometry::Unit::Mm).expect("a length")
    }
}

#[test]
fn steps_kerf_and_height_are_cleared_at_the_saw_or_by_the_blank() {
    let tilted = Project {
        saw: saw(|saw| {
            saw.tilt_first_deg = 0.8;
            saw.slip = mm(2.0);
        }),
        ..shapes(600.0, arch(9.0, 0.0), arch(9.0, 0.0))
    };
    let words = fixed(&tilted, Concern::SeamStep);
    assert!(
        words[0].starts_with("the table trued to within 0.") && words[0].contains("ends level within"),
        "{words:?}"
    );
    let coarse = project(
        Blank::square(20.0, 300.0),
        Line::Shape(arch(2.0, 0.0)),
        Line::Shape(arch(2.0, 0.0)),
        saw(|saw| {
            saw.blade.kerf = mm(2.6);
            saw.sanding = mm(0.4);
        }),
    );
    assert_eq!(fixed(&coarse, Concern::KerfLoss).len(), 2);
    let high = Project { saw: saw(|saw| saw.height = mm(50.0)), ..shapes(600.0, arch(5.0, 0.0), arch(5.0, 0.0)) };
    assert_eq!(fixed(&high, Concern::BlankOnSaw), ["a blank of no more than 44 mm either way"]);
    let small = saw(|saw| (saw.kind, saw.throat) = (cornerwise_geometry::SawKind::Scroll, mm(300.0)));
    let long = Project { saw: small, ..shapes(640.0, arch(5.0, 0.0), arch(5.0, 0.0)) };
    assert_eq!(fixed(&long, Concern::BlankOnSaw), ["a band saw"]);
}

#[test]
fn a_bowed_blade_is_tensioned_and_a_leaning_blank_is_planed_or_the_table_tilted_to_it() {
    let bowed = Project {
        saw: saw(|saw| {
            saw.bow_first = mm(0.9);
            saw.bow_second = mm(-0.2);
        }),
        ..shapes(600.0, arch(9.0, 0.0), arch(9.0, 0.0))
    };
    assert!(fixed(&bowed, Concern::BladeBow)[0].starts_with("a bow of no more than 0.4"));
    let leaning = |corner_deg: f64, taper: f64| {
        let out_of_true = OutOfTrue { corner_deg, taper_depth: mm(taper), ..OutOfTrue::default() };
        let blank = Blank { out_of_true, ..Blank::square(50.0, 600.0) };
        project(blank, Line::Shape(arch(9.0, 0.0)), Line::Shape(arch(9.0, 0.0)), Some(Saw::default()))
    };
    assert_eq!(fixed(&leaning(0.8, 0.0), Concern::OutOfTrue), ["the blank planed square within 0.50°"]);
    assert!(fixed(&leaning(0.0, 6.0), Concern::OutOfTrue)[0].starts_with("the blank planed parallel within 5."));
    // Half a degree of the blank steps like half a degree of the blade.
    let words = fixed(&leaning(-0.9, 0.0), Concern::SeamStep);
    assert!(words[0].starts_with("the table tilted to the blank, -0.90° in the first cut and 0.90°"), "{words:?}");
    assert!(words.iter().any(|words| words.starts_with("the blank planed square within")), "{words:?}");
}

#[test]
fn a_sharp_point_is_made_smooth_and_too_much_load_needs_less_swing_or_a_stouter_blank() {
    let post = Shape::PostAndKnee { post: mm(200.0), knee: mm(9.0), ankle: mm(9.0), kick: 0.2, aside: mm(0.0) };
    let sharp = shapes(700.0, post, arch(5.0, 0.0));
    assert_eq!(fixed(&sharp, Concern::StopsInside), ["point 2 of the first cut smooth, sawn in one pass"]);
    let mut heavy = shapes(700.0, arch(18.0, -6.0), arch(18.0, -6.0));
    Arc::make_mut(&mut heavy.designs[0]).load = Some(Load { down_n: 12_000.0, push_n: 10.0, ..Load::default() });
    let words = fixed(&heavy, Concern::Overload);
    assert!(words.len() == 2 && words[1].contains("stouter both ways"), "{words:?}");
}

#[test]
fn a_sound_leg_needs_no_fix() {
    for concern in Concern::ALL {
        assert_eq!(Project::new().fixes(ID, concern), [], "{concern:?}");
    }
}

#[test]
fn what_is_accepted_is_told_as_that_until_it_gets_worse() {
    let bad = shapes(300.0, waves(4, 34.0), waves(4, 34.0));
    let open = |project: &Project| {
        let design = &project.designs[0];
        let survey = project.survey(design, &design.leg().expect("a leg"), SURVEYED);
        let all = project.judge(design, &survey);
        let edge = all.iter().find(|one| one.watch_out.concern == Concern::EdgeAngle).cloned().expect("told");
        (edge.is_open(), edge.accepted, all.iter().position(|one| one.watch_out.concern == Concern::EdgeAngle))
    };
    assert_eq!((open(&bad).0, open(&bad).1), (true, None));
    let value = told(&bad, Concern::EdgeAngle).expect("told").value;
    let accepted = Accepted { concern: Concern::EdgeAngle, reason: "it stands on a shelf".to_owned(), value };
    let taken = bad.apply(&Edit::Accept { design: ID, accepted: accepted.clone() }).expect("an edit");
    let (is_open, reason, place) = open(&taken);
    assert_eq!((is_open, reason.as_deref()), (false, Some("it stands on a shelf")));
    assert!(place > open(&bad).2, "what is settled stands last");
    let again = taken.apply(&Edit::Accept { design: ID, accepted }).expect("an edit");
    assert_eq!(again, taken, "once is enough");
    let worse = taken
        .apply(&Edit::StretchLeg { design: ID, length: mm(250.0), keep: crate::Stretch::Everything })
        .expect("an edit");
    assert!(open(&worse).0, "a leg made worse is told again");
    let back = taken.apply(&Edit::TakeBack { design: ID, concern: Concern::EdgeAngle }).expect("an edit");
    assert_eq!(back, bad);
}

/// A leg that each watch-out is told about. The match is whole, so a new watch-out must have its leg here.
fn bad(concern: Concern) -> Project {
    let calm = || (arch(9.0, 0.0), arch(9.0, 0.0));
    let at_saw = |change: fn(&mut Saw)| Project { saw: saw(change), ..shapes(600.0, calm().0, calm().1) };
    let cyma = |swing: f64| Shape::Cyma { swing: mm(swing), turn: 0.5, aside: mm(0.0) };
    match concern {
        Concern::LeavesBlank => shapes(700.0, arch(27.0, 0.0), calm().1),
        Concern::Core => shapes(700.0, cyma(48.0), cyma(48.0)),
        Concern::Thickness | Concern::EdgeAngle | Concern::ShortGrain => shapes(300.0, waves(4, 34.0), waves(4, 34.0)),
        Concern::ThinWood => shapes(700.0, arch(23.5, 0.0), calm().1),
        Concern::Bend => {
            let wide = |saw: &mut Saw| saw.blade.width = mm(19.0);
            Project { saw: saw(wide), ..shapes(500.0, waves(4, 14.0), calm().1) }
        }
        Concern::LineBreaks => project(
            Blank::square(20.0, 60.0),
            Line::Shape(waves(8, 6.0)),
            Line::Shape(waves(1, 1.0)),
            saw(|saw| saw.blade.kerf = mm(3.0)),
        ),
        Concern::StopsInside => {
            let post = Shape::PostAndKnee { post: mm(200.0), knee: mm(9.0), ankle: mm(9.0), kick: 0.2, aside: mm(0.0) };
            shapes(700.0, post, calm().1)
        }
        Concern::BlankOnSaw => at_saw(|saw| saw.height = mm(50.0)),
        Concern::SeamStep => at_saw(|saw| saw.tilt_first_deg = 0.8),
        Concern::BladeBow => at_saw(|saw| saw.bow_second = mm(0.9)),
        Concern::OutOfTrue => {
            let out_of_true = OutOfTrue { corner_deg: 0.8, ..OutOfTrue::default() };
            let blank = Blank { out_of_true, ..Blank::square(50.0, 600.0) };
            project(blank, Line::Shape(calm().0), Line::Shape(calm().1), None)
        }
        Concern::KerfLoss => {
            let coarse = saw(|saw| saw.blade.kerf = mm(3.0));
            project(Blank::square(16.0, 300.0), Line::Shape(arch(2.0, 0.0)), Line::Shape(arch(2.0, 0.0)), coarse)
        }
        Concern::FootOffset => {
            let run = Line::Points(vec![
                Point::smooth(1, 0.0, 5.0, 0.0, 100.0, 200.0),
                Point::smooth(2, 700.0, 45.0, 0.0, 200.0, 100.0),
            ]);
            project(Blank::square(50.0, 700.0), run.clone(), run, None)
        }
        Concern::Wander => shapes(700.0, arch(42.0, -21.0), calm().1),
        Concern::Overload => {
            let mut heavy = shapes(700.0, arch(18.0, -6.0), arch(18.0, -6.0));
            Arc::make_mut(&mut heavy.designs[0]).load = Some(Load { down_n: 12_000.0, ..Load::default() });
            heavy
        }
    }
}

/// The whole list: each is told about its bad leg, not about a sound one, and every fix of each clears it in one step.
#[test]
fn every_watch_out_is_told_and_every_one_has_a_fix_that_clears_it() {
    let sound = shapes(700.0, arch(9.0, 0.0), arch(9.0, 0.0));
    for concern in Concern::ALL {
        assert_eq!(told(&sound, concern), None, "{concern:?}");
        let bad = bad(concern);
        let found = told(&bad, concern).unwrap_or_else(|| panic!("{concern:?} is not told"));
        assert!(found.weight == Weight::WatchOut || concern == Concern::StopsInside, "{found:?}");
        assert!(!found.verdict.is_empty() && !concern.source().is_empty());
        assert!(!fixed(&bad, concern).is_empty(), "{concern:?} has no fix");
    }
}

/// A line through points, each (from the top, offset, slope).
fn through(points: &[[f64; 3]]) -> Line {
    let point =
        |(i, [s, offset, slope]): (usize, &[f64; 3])| Point::smooth(i as u32 + 1, *s, *offset, *slope, 30.0, 30.0);
    Line::Points(points.iter().enumerate().map(point).collect())
}

/// One place that is too steep, or bends too tightly, for a point that stands too near to another or too far out: moving it
/// alone clears it, by the least that does.
#[test]
fn one_point_moved_clears_a_sharp_edge_short_grain_and_a_tight_bend() {
    let steep = through(&[[0.0, 40.0, 0.0], [300.0, 40.0, 0.0], [338.0, 10.0, 0.0], [700.0, 10.0, 0.0]]);
    let crossing = |line: &Line| project(Blank::square(50.0, 700.0), line.clone(), line.clone(), None);
    let short = project(Blank::square(50.0, 700.0), steep.clone(), Line::Shape(arch(4.0, 0.0)), None);
    let tight =
        through(&[[0.0, 25.0, 0.0], [330.0, 25.0, 0.0], [370.0, 35.0, 0.0], [410.0, 25.0, 0.0], [700.0, 25.0, 0.0]]);
    let wide = saw(|saw| saw.blade = Blade { width: mm(12.7), ..Blade::default() });
    let bend = project(Blank::square(50.0, 700.0), tight, Line::Shape(arch(4.0, 0.0)), wide);
    for (bad, concern) in [(crossing(&steep), Concern::EdgeAngle), (short, Concern::ShortGrain), (bend, Concern::Bend)]
    {
        let words = fixed(&bad, concern);
        let by_point =
            words.iter().find(|words| words.starts_with("point ")).unwrap_or_else(|| panic!("{concern:?}: {words:?}"));
        let ends = ["lower", "higher", "nearer to the middle", "farther from the middle"];
        assert!(ends.iter().any(|end| by_point.ends_with(end)), "{by_point}");
        // A step of it less does not clear.
        let fix = bad.fixes(ID, concern).into_iter().find(|fix| fix.words == *by_point).expect("it");
        let Edit::PlacePoint { design, cut, point, from_top, offset } = fix.edit else { panic!("{:?}", fix.edit) };
        let was = bad.designs[0].points(cut).into_iter().find(|one| one.id == point).expect("the point");
        let back =
            |now: &Length, was: &Length| mm(now.mm() - 0.5 * (now.mm() - was.mm()).signum() * f64::from(now != was));
        let edit = Edit::PlacePoint {
            design,
            cut,
            point,
            from_top: back(&from_top, &was.from_top),
            offset: back(&offset, &was.offset),
        };
        let still = told(&bad.apply(&edit).expect("an edit"), concern).expect("told");
        assert_eq!(still.weight, Weight::WatchOut, "{concern:?}: {by_point}");
    }
    // Waves that are steep at every crossing are not cleared by one point, and none is offered.
    let waves = fixed(&shapes(300.0, waves(4, 34.0), waves(4, 34.0)), Concern::EdgeAngle);
    assert!(!waves.iter().any(|words| words.starts_with("point ")), "{waves:?}");
}

/// Back in the blank, with the saw's kerf, there is wood left: one red watch-out does not become another.
#[test]
fn what_brings_a_cut_back_into_the_blank_leaves_wood_there() {
    let points = |offset: f64| through(&[[0.0, 25.0, 0.0], [350.0, offset, 0.0], [700.0, 25.0, 0.0]]);
    let straight = || Line::Shape(Shape::Straight { aside: mm(0.0) });
    let drawn = |saw| project(Blank::square(50.0, 700.0), points(55.0), straight(), saw);
    for saw in [None, saw(|saw| saw.blade.kerf = mm(1.4))] {
        for bad in [drawn(saw.clone()), Project { saw, ..shapes(700.0, arch(28.0, 0.0), arch(4.0, 0.0)) }] {
            assert!(!fixed(&bad, Concern::LeavesBlank).is_empty());
            for fix in bad.fixes(ID, Concern::LeavesBlank) {
                let after = bad.apply(&fix.edit).expect("an edit");
                let thin = told(&after, Concern::ThinWood);
                assert!(thin.as_ref().is_none_or(|thin| thin.weight == Weight::Look), "{}: {thin:?}", fix.words);
            }
        }
    }
}

/// Where both cuts have a sharp point deep inside, both are made smooth.
#[test]
fn two_sharp_points_are_made_smooth_together() {
    let post = Shape::PostAndKnee { post: mm(200.0), knee: mm(9.0), ankle: mm(9.0), kick: 0.2, aside: mm(0.0) };
    let words = fixed(&shapes(700.0, post.clone(), post), Concern::StopsInside);
    assert_eq!(words, ["point 2 of the first cut and point 2 of the second cut smooth, each sawn in one pass"]);
}

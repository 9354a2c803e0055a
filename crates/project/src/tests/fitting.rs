//! The fit of a leg: edits, and what to watch out for with its fixes.

use crate::{
    BlankSize, Design, DesignId, Edit, EditError, FitFinding, FitPart, History, Project, notches_at_heights,
    notches_evenly,
};
use cornerwise_geometry::fit::{Fit, Joint, Notch, PipeHole};
use cornerwise_geometry::{Cut, Length, Line, Piece, Shape, Side, Units};
use std::sync::Arc;

const LEG: DesignId = DesignId(1);

fn fit(part: FitPart) -> Edit {
    Edit::SetFit { design: LEG, part }
}

fn done(project: &Project, edit: &Edit) -> Project {
    project.apply(edit).expect("an edit")
}

fn spans(project: &Project) -> Vec<[f64; 2]> {
    project.designs[0].fit.notches.iter().map(Notch::span_mm).collect()
}

fn pipe(outside: f64) -> PipeHole {
    PipeHole {
        name: String::new(),
        outside: outside.into(),
        clearance: Length::ZERO,
        above: Length::ZERO,
        below: Length::ZERO,
        recess: Length::ZERO,
    }
}

fn found(project: &Project) -> Vec<FitFinding> {
    let design = &project.designs[0];
    design.fit_findings(&design.leg().expect("a leg"), Units::Millimetres)
}

#[test]
fn notches_are_added_in_order_dragged_between_their_neighbours_and_taken_out() {
    let mut project = Project::new();
    for from in [400.0, 100.0, 250.0] {
        project = done(&project, &fit(FitPart::AddNotch(Notch::shelf(from, 20.0, 0.5))));
    }
    assert_eq!(spans(&project), [[100.0, 120.5], [250.0, 270.5], [400.0, 420.5]]);
    let moved = |to: f64| spans(&done(&project, &fit(FitPart::MoveNotch { index: 1, from_top: to.into() })))[1][0];
    assert_eq!([moved(300.0), moved(-50.0), moved(9_000.0)], [300.0, 121.5, 378.5]);
    let last = done(&project, &fit(FitPart::MoveNotch { index: 2, from_top: 9_000.0.into() }));
    assert_eq!(spans(&last)[2], [678.5, 699.0]);
    assert_eq!(last.check(), Ok(()));
    // What is typed is done exactly or not at all.
    let typed = fit(FitPart::Notch { index: 1, notch: Notch::shelf(110.0, 20.0, 0.0) });
    assert!(matches!(project.apply(&typed), Err(EditError::Project(_))));
    let gone = fit(FitPart::DeleteNotch { index: 7 });
    assert_eq!(project.apply(&gone), Err(EditError::NoSuchNotch { notch: 8, count: 3 }));
    assert_eq!(spans(&done(&project, &fit(FitPart::DeleteNotch { index: 0 }))).len(), 2);
    assert!(project.apply(&fit(FitPart::MoveNotch { index: 0, from_top: f64::NAN.into() })).is_err());
    // A leg cut shorter than its notches says so and stays.
    let short = Edit::SetBlankSize { design: LEG, size: BlankSize::Length, value: 410.0.into() };
    assert!(project.apply(&short).unwrap_err().to_string().contains("nothing to stand on"));
}

#[test]
fn notches_by_heights_from_the_floor_and_evenly() {
    let like = Notch::shelf(0.0, 18.0, 0.5);
    let notches = notches_at_heights(&[200.0, 500.0, 350.0], &like, 700.0);
    // The board's upper face is at the height.
    let heights: Vec<f64> = notches.iter().map(|n| 700.0 - n.board_span_mm()[0]).collect();
    assert_eq!(heights, [500.0, 350.0, 200.0]);
    let five = notches_evenly(5, 60.0, 640.0, &like);
    assert_eq!((five[0].span_mm()[0], five[4].span_mm()[1]), (60.0, 640.0));
    let gaps: Vec<f64> = five.windows(2).map(|pair| pair[1].span_mm()[0] - pair[0].span_mm()[1]).collect();
    assert!(gaps.iter().all(|gap| (gap - gaps[0]).abs() < 1e-9));
    let project = done(&Project::new(), &fit(FitPart::Notches(five)));
    assert_eq!(project.check(), Ok(()));
}

#[test]
fn every_change_of_the_fit_is_one_step_to_undo() {
    let mut history = History::new(Project::new());
    let parts = [
        (FitPart::Pipe(Some(pipe(10.0))), "Change the pipe hole"),
        (FitPart::Inside(Piece::Three), "Turn piece 3 inside"),
        (FitPart::AddNotch(Notch::apron(60.0)), "Add a notch"),
        (FitPart::Post(80.0.into()), "Change the post"),
        (FitPart::CrosscutKerf(3.0.into()), "Change the crosscut kerf"),
        (FitPart::Pipe(None), "Take the pipe hole out"),
    ];
    for (part, label) in parts {
        assert_eq!(history.apply(&fit(part)), Ok(true));
        assert_eq!(history.undo_label(), Some(label));
    }
    while history.undo() {}
    assert_eq!(**history.current(), Project::new());
}

fn with(first: Shape, second: Shape, fit: Fit) -> Project {
    let design = Design { first: Line::Shape(first), second: Line::Shape(second), fit, ..Design::new(LEG, 'A') };
    Project { designs: vec![Arc::new(design)], ..Project::new() }
}

fn cyma(swing: f64) -> Shape {
    Shape::Cyma { swing: swing.into(), turn: 0.5, aside: Length::ZERO }
}

/// A watch-out fires, its fix clears it, and nothing of the kind is left.
fn cleared(project: &Project, word: &str) -> Project {
    let fires: Vec<FitFinding> = found(project).into_iter().filter(|finding| finding.what.contains(word)).collect();
    assert_eq!(fires.len(), 1, "{:?}", found(project));
    let fixed = done(project, fires[0].edit.as_ref().expect("a fix"));
    assert!(found(&fixed).iter().all(|finding| !finding.what.contains(word)), "{:?}", found(&fixed));
    fixed
}

#[test]
fn a_pipe_hole_too_near_a_side() {
    let pipe_hole = Fit { pipe: Some(pipe(10.0)), ..Fit::default() };
    // The line comes 25 - 13.5 mm from an arris, and the chamfer takes 7.07 of it: 4.43 are left.
    let near = with(cyma(27.0), cyma(10.0), pipe_hole.clone());
    let fixed = cleared(&near, "between the pipe hole and side");
    let leg = fixed.designs[0].leg().unwrap();
    let left = fixed.designs[0].fit.pipe.as_ref().unwrap().fit(&leg).thinnest.mm;
    assert!((6.0..6.01).contains(&left), "{left}");
    // Just inside the limit it is quiet: 25 - 7.071 - 6 is 11.929 of swing to either way.
    assert_eq!(found(&with(cyma(23.85), cyma(10.0), pipe_hole.clone())), []);
    assert!(!found(&with(cyma(23.87), cyma(10.0), pipe_hole.clone())).is_empty());
    let out = found(&with(cyma(46.0), cyma(10.0), pipe_hole));
    assert!(out[0].what.contains("breaks out"), "{out:?}");
}

#[test]
fn a_pipe_that_leaves_an_end_off_the_middle() {
    let aside = Shape::Straight { aside: 3.0.into() };
    let off = with(aside, cyma(10.0), Fit { pipe: Some(pipe(10.0)), ..Fit::default() });
    let findings = found(&off);
    assert_eq!(findings.iter().filter(|finding| finding.what.contains("off the middle")).count(), 2);
    let fixed = done(&off, findings[0].edit.as_ref().unwrap());
    assert_eq!(found(&fixed), []);
    assert!(matches!(fixed.designs[0].line(Cut::Second), Line::Shape(_)), "a line that is right stays as it is");
    let within = Shape::Straight { aside: 0.99.into() };
    assert_eq!(found(&with(within, cyma(10.0), Fit { pipe: Some(pipe(10.0)), ..Fit::default() })), []);
}

#[test]
fn a_board_with_little_to_stand_on() {
    let arch = |rise: f64| Shape::Arch { rise: rise.into(), crest: 0.5, aside: Length::ZERO };
    // Piece 1 reaches 25 - 16 mm from the axis halfway down.
    let shelf = Fit { notches: vec![Notch::shelf(330.0, 20.0, 0.0)], ..Fit::default() };
    cleared(&with(arch(-16.0), cyma(2.0), shelf.clone()), "little to stand on");
    assert_eq!(found(&with(arch(-14.9), cyma(2.0), shelf.clone())), []);
    // The other way round the inside piece is most of the leg, and too little stays beside it.
    let both = with(arch(11.0), arch(11.0), shelf.clone());
    cleared(&both, "of the section is left");
    assert_eq!(found(&with(arch(8.0), arch(8.0), shelf)), []);
}

#[test]
fn a_post_that_is_not_straight_and_a_joint_in_a_bad_place() {
    let knee = Shape::start(cornerwise_geometry::ShapeKind::PostAndKnee, 700.0, 50.0);
    let post = |length: f64| with(knee.clone(), knee.clone(), Fit { post: length.into(), ..Fit::default() });
    assert_eq!(found(&post(150.0)), []);
    let fixed = cleared(&post(190.0), "post is not straight");
    assert!(fixed.designs[0].fit.post.mm() >= 153.0, "{:?}", fixed.designs[0].fit.post);
    let joint = |beside: f64, depth: f64| Joint {
        side: Side::Two,
        from_top: 20.0.into(),
        height: 40.0.into(),
        width: 8.0.into(),
        beside: beside.into(),
        depth: depth.into(),
    };
    let jointed =
        |joint: Joint| found(&with(knee.clone(), knee.clone(), Fit { joints: vec![joint], ..Fit::default() }));
    assert_eq!(jointed(joint(8.0, 20.0)), []);
    assert!(jointed(joint(0.0, 20.0))[0].what.contains("straddles seam 2"));
    assert!(jointed(joint(8.0, 46.0))[0].what.contains("left behind"));
    assert!(jointed(joint(18.0, 20.0))[0].what.contains("left beside"));
}

#[test]
fn aprons_with_little_glue_are_offered_a_corner_block() {
    let apron =
        |height: f64| found(&with(cyma(2.0), cyma(2.0), Fit { notches: vec![Notch::apron(height)], ..Fit::default() }));
    // Two walls of 25 mm: 78 mm high is 3900 mm², 2 by 1 by 3 inches is 3871.
    assert!(apron(76.0)[0].fix.contains("corner block"));
    assert_eq!(apron(79.0), []);
}

#[test]
fn a_board_that_changes_after_its_spacer_was_made_is_told() {
    let shelf = |board: f64, spacers: Vec<Length>| Fit {
        notches: vec![Notch::shelf(200.0, 18.0, 0.4), Notch::shelf(330.0, board, 0.4)],
        spacers,
        ..Fit::default()
    };
    let of = |fit: Fit| found(&with(cyma(2.0), cyma(2.0), fit));
    // Nothing noted is nothing missing: the plan lists what to make.
    assert_eq!(of(shelf(18.0, Vec::new())), []);
    assert_eq!(of(shelf(18.0, vec![18.4.into()])), []);
    let thicker = with(cyma(2.0), cyma(2.0), shelf(21.0, vec![18.4.into()]));
    let fixed = cleared(&thicker, "No spacer at hand for notch 2");
    assert_eq!(fixed.designs[0].fit.spacers.len(), 2);
    assert!(of(shelf(18.2, vec![18.4.into()])).len() == 1, "0.2 mm is more than a clearance hides");
}

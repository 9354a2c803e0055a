//! Tools on whole lines, and legs that are stretched.

use crate::{Design, DesignId, Edit, EditError, LineTool, Project, Stretch};
use cornerwise_geometry::line_tools::{LineToolError, greatest_distance, stretched};
use cornerwise_geometry::{Cut, Length, Line, SawLine, Shape, ShapeKind, Unit};
use std::sync::Arc;

const DESIGN: DesignId = DesignId(1);

fn with(kind: ShapeKind) -> Project {
    let shape = Shape::start(kind, 700.0, 50.0);
    let line = Line::Shape(shape);
    let design = Design { first: line.clone(), second: line, ..Design::new(DESIGN, 'A') };
    Project { designs: vec![Arc::new(design)], ..Project::new() }
}

fn solved(project: &Project, cut: Cut) -> SawLine {
    let design = &project.designs[0];
    design.line(cut).solve(design.blank.length.mm(), design.across_mm(cut)).expect("a saw line")
}

fn reshape(cut: Cut, tool: LineTool) -> Edit {
    Edit::ReshapeLine { design: DESIGN, cut, tool }
}

fn stretch(length_mm: f64, keep: Stretch) -> Edit {
    Edit::StretchLeg { design: DESIGN, length: length_mm.into(), keep }
}

fn below(kept_mm: f64) -> Stretch {
    Stretch::BelowTop { kept: kept_mm.into() }
}

#[test]
fn whole_line_edits_are_called_in_the_maker_s_words() {
    let project = Project::new();
    let typed = Length::parse("6", Unit::Inch).expect("a length");
    let tolerance = Length::from_mm(0.3);
    let about = Length::from_mm(25.0);
    let names = [
        (reshape(Cut::First, LineTool::MirrorAcross), "Mirror the first cut across"),
        (reshape(Cut::Second, LineTool::EndForEnd), "Turn the second cut end for end"),
        (reshape(Cut::First, LineTool::Shift { by: 9.0.into() }), "Shift the first cut along the leg"),
        (
            reshape(Cut::First, LineTool::ScaleSwing { factor: 1.2, about: about.clone() }),
            "Make the first cut swing more",
        ),
        (reshape(Cut::First, LineTool::ScaleSwing { factor: 0.8, about }), "Make the first cut swing less"),
        (reshape(Cut::First, LineTool::MakeFairer { tolerance: tolerance.clone() }), "Make the first cut fairer"),
        (reshape(Cut::First, LineTool::FewerPoints { tolerance }), "Give the first cut fewer points"),
        (stretch(800.0, Stretch::Everything), "Stretch the leg"),
        (stretch(800.0, below(154.0)), "Stretch the leg below its top 154 mm"),
        (stretch(800.0, Stretch::BelowTop { kept: typed }), "Stretch the leg below its top 6\""),
    ];
    for (edit, name) in names {
        assert_eq!(edit.label(&project), name);
    }
}

#[test]
fn a_tool_changes_its_own_cut_only_and_twice_mirrored_is_the_line() {
    for tool in [LineTool::MirrorAcross, LineTool::EndForEnd] {
        let before = with(ShapeKind::PostAndKnee);
        let once = before.apply(&reshape(Cut::First, tool.clone())).expect("once");
        assert_eq!(once.designs[0].second, before.designs[0].second);
        assert!(greatest_distance(&solved(&before, Cut::First), &solved(&once, Cut::First), 1e-6).mm > 1.0);
        let twice = once.apply(&reshape(Cut::First, tool)).expect("twice");
        assert!(greatest_distance(&solved(&before, Cut::First), &solved(&twice, Cut::First), 1e-9).mm < 1e-10);
    }
}

#[test]
fn a_live_shape_stays_live_where_it_is_the_stretched_line_by_itself() {
    for kind in ShapeKind::ALL {
        for (length, keep, live) in [
            (900.0, Stretch::Everything, true),
            (500.0, Stretch::Everything, true),
            (900.0, below(154.0), matches!(kind, ShapeKind::PostAndKnee | ShapeKind::Straight)),
            (900.0, below(100.0), matches!(kind, ShapeKind::PostAndKnee | ShapeKind::Straight)),
            (900.0, below(290.0), kind == ShapeKind::Straight),
        ] {
            let before = with(kind);
            let after = before.apply(&stretch(length, keep.clone())).expect("stretched");
            let design = &after.designs[0];
            assert_eq!(matches!(design.first, Line::Shape(_)), live, "{} {keep:?}", kind.name());
            assert_eq!(design.blank.length.mm(), length);
            let kept = match &keep {
                Stretch::Everything => None,
                Stretch::BelowTop { kept } => Some(kept.mm()),
            };
            let points = stretched(&before.designs[0].points(Cut::First), 700.0, length, kept).expect("stretched");
            let wanted = SawLine::from_points(&points, length).expect("a saw line");
            for cut in Cut::ALL {
                assert!(greatest_distance(&wanted, &solved(&after, cut), 1e-7).mm < 1e-6, "{} {keep:?}", kind.name());
            }
        }
    }
}

#[test]
fn a_post_follows_the_rule() {
    let post = |project: &Project| match &project.designs[0].first {
        Line::Shape(Shape::PostAndKnee { post, .. }) => post.mm(),
        other => panic!("{other:?}"),
    };
    let before = with(ShapeKind::PostAndKnee);
    let after = |keep| before.apply(&stretch(1400.0, keep)).expect("stretched");
    assert_eq!(post(&before), 154.0);
    assert_eq!(post(&after(Stretch::Everything)), 308.0);
    assert_eq!(post(&after(below(154.0))), 154.0);
    assert_eq!(post(&after(below(100.0))), 100.0 + 54.0 * 1300.0 / 600.0);
}

#[test]
fn what_cannot_be_done_says_why_and_leaves_the_project() {
    let project = with(ShapeKind::Cyma);
    for x in [f64::NAN, f64::INFINITY, 0.0, -3.0, 1e9] {
        let fairer = project.apply(&reshape(Cut::First, LineTool::MakeFairer { tolerance: x.into() }));
        assert!(matches!(fairer, Err(EditError::Tool { cut: Cut::First, source: LineToolError::OutOfRange { .. } })));
        assert!(matches!(project.apply(&stretch(x, Stretch::Everything)), Err(EditError::Blank(_))));
        assert!(matches!(project.apply(&stretch(800.0, below(x))), Err(EditError::Tool { .. })));
    }
    let swing = LineTool::ScaleSwing { factor: 60.0, about: 25.0.into() };
    let error = project.apply(&reshape(Cut::Second, swing)).expect_err("too steep");
    assert!(matches!(error, EditError::Line { cut: Cut::Second, .. }), "{error}");
    let gone = Edit::ReshapeLine { design: DesignId(9), cut: Cut::First, tool: LineTool::MirrorAcross };
    assert_eq!(project.apply(&gone), Err(EditError::NoSuchDesign(DesignId(9))));
}

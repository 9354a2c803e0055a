//! Typed handles, shapes with several parameters changed at once, and mock-ups.

use crate::{DesignId, Edit, EditError, Handle, History, Project};
use cornerwise_geometry::{Cut, Line, PointId, PointKind, Shape, ShapeKind};

const DESIGN: DesignId = DesignId(1);

fn points() -> Project {
    Project::new().apply(&Edit::ShapeToPoints { design: DESIGN, cut: Cut::First }).expect("points")
}

fn placed(project: &Project, point: u32, handle: Handle, slope: f64, reach_mm: f64) -> Result<Project, EditError> {
    let (design, cut, point) = (DESIGN, Cut::First, PointId(point));
    project.apply(&Edit::PlaceHandle { design, cut, point, handle, slope, reach_mm })
}

#[test]
fn a_typed_handle_is_exactly_there_or_not_at_all() {
    let project = points();
    let next = placed(&project, 2, Handle::After, 0.03, 40.0).expect("placed");
    let PointKind::Smooth { slope, before_mm, after_mm } = next.designs[0].points(Cut::First)[1].kind else {
        panic!("a smooth point")
    };
    let was = project.designs[0].points(Cut::First)[1].kind.before().1;
    assert_eq!((slope, before_mm, after_mm), (0.03, was, 40.0));
    // Past the next point, shorter than a handle is, too steep for a saw, not a number.
    for (slope, reach) in [(0.0, 700.0), (0.0, 0.1), (0.0, -5.0)] {
        let refused = placed(&project, 2, Handle::After, slope, reach).expect_err("refused");
        assert!(matches!(refused, EditError::Reach { .. }), "{refused}");
        assert!(refused.to_string().contains("1.00 mm to"), "{refused}");
    }
    assert!(matches!(placed(&project, 2, Handle::After, 9.0, 40.0), Err(EditError::Line { .. })));
    assert!(matches!(placed(&project, 2, Handle::After, f64::NAN, 40.0), Err(EditError::NotFinite(_))));
    assert!(matches!(placed(&project, 99, Handle::After, 0.0, 40.0), Err(EditError::NoSuchPoint { .. })));
    // Tied handles reach the same.
    let tie = Edit::TieHandles { design: DESIGN, cut: Cut::First, point: PointId(2), tied: true };
    let tied = placed(&project.apply(&tie).expect("tied"), 2, Handle::Before, 0.0, 33.0).expect("placed");
    let kind = tied.designs[0].points(Cut::First)[1].kind;
    assert_eq!((kind.before().1, kind.after().1), (33.0, 33.0));
}

#[test]
fn a_shape_of_the_same_kind_is_named_by_what_changes_in_it() {
    let arch = Shape::start(ShapeKind::Arch, 700.0, 50.0);
    let set = |shape: &Shape| Edit::SetShape { design: DESIGN, cut: Cut::First, shape: shape.clone() };
    let project = Project::new();
    assert_eq!(set(&arch).label(&project), "Make the first cut an arch");
    let project = project.apply(&set(&arch)).expect("an arch");
    let moved = arch.with_handle(0, [300.0, 40.0], 700.0, 50.0);
    assert_eq!(set(&moved).label(&project), "Change rise and crest of the first cut");
    let risen = arch.with_handle(0, [350.0, 40.0], 700.0, 50.0);
    assert_eq!(set(&risen).label(&project), "Change rise of the first cut");
    assert_eq!(set(&arch).label(&project), "Make the first cut an arch");
}

#[test]
fn a_mock_up_is_a_design_of_its_own_in_proportion() {
    let mut history = History::new(points());
    let first = history.current().clone();
    history.apply(&Edit::AddMockUp { design: DESIGN, factor: 0.5 }).expect("a mock-up");
    let project = history.current().clone();
    let (large, small) = (&project.designs[0], &project.designs[1]);
    assert_eq!((small.name.as_str(), small.letter, small.id), ("New leg, mock-up 1:2", 'B', DesignId(2)));
    assert_eq!((small.blank.width.mm(), small.blank.length.mm(), small.blank.spare_top.mm()), (25.0, 350.0, 10.0));
    assert!(matches!(small.second, Line::Shape(_)), "a live shape stays live");
    let (large, small) = (large.leg().expect("a leg"), small.leg().expect("a leg"));
    for s in [0.0, 100.0, 333.0, 700.0] {
        assert!((small.station(s / 2.0).a_mm - large.station(s).a_mm / 2.0).abs() < 1e-9);
        assert!((small.station(s / 2.0).b_mm - large.station(s).b_mm / 2.0).abs() < 1e-9);
    }
    assert!((small.volume_mm3() - large.volume_mm3() / 8.0).abs() < 1e-6);
    history.undo();
    assert_eq!(*history.current(), first);
    for (factor, says) in [(0.0, "0.02 to 50 times"), (f64::NAN, "0.02 to 50 times"), (0.03, "width")] {
        let refused = first.apply(&Edit::AddMockUp { design: DESIGN, factor }).expect_err("refused");
        assert!(refused.to_string().contains(says), "{refused}");
    }
}

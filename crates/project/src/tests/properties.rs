//! Random edits, gestures, undo and redo: the project stays sound, and undoing all the way is exact.

use super::any;
use crate::{Accepted, Trace};
use crate::{BlankSize, DesignId, Edit, Handle, History, LineTool, PointPlace, Project, Stretch, WoodPart};
use cornerwise_geometry::{Concern, Limits, Load};
use cornerwise_geometry::{Cut, Length, Link, LinkKind, ParameterValue, Point, PointId, Saw, Shape, ShapeKind};
use cornerwise_wood::{Layer, Species};
use proptest::prelude::*;
use proptest::sample::select;

/// One thing a maker does, in raw numbers: which edit it is depends on the project it meets.
#[derive(Clone, Debug)]
struct Deed {
    how: How,
    what: u8,
    design: usize,
    first: bool,
    place: usize,
    x: f64,
    y: f64,
}

#[derive(Clone, Copy, Debug)]
enum How {
    Step,
    Drag,
    Commit,
    Drop,
    Undo,
    Redo,
}

/// A number that may be anything, but is a sensible share of something most of the time.
fn number() -> BoxedStrategy<f64> {
    prop_oneof![
        20 => -0.2..1.2_f64,
        2 => -1e9..1e9_f64,
        1 => select(vec![f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 0.0, -0.0, f64::MAX, f64::MIN_POSITIVE]),
    ]
    .boxed()
}

fn deed() -> BoxedStrategy<Deed> {
    let how = prop_oneof![
        6 => Just(How::Step), 6 => Just(How::Drag), 2 => Just(How::Commit),
        1 => Just(How::Drop), 2 => Just(How::Undo), 1 => Just(How::Redo)
    ];
    (how, 0..44_u8, 0..9_usize, any::<bool>(), 0..9_usize, number(), number())
        .prop_map(|(how, what, design, first, place, x, y)| Deed { how, what, design, first, place, x, y })
        .boxed()
}

fn edit(project: &Project, deed: &Deed) -> Edit {
    let &Deed { what, place, x, y, .. } = deed;
    // One in nine is a design that is not there.
    let there = project.designs.get(deed.design % project.designs.len()).filter(|_| deed.design < 8);
    let design = there.map_or(DesignId(999), |design| design.id);
    let cut = if deed.first { Cut::First } else { Cut::Second };
    let points = there.map(|design| design.points(cut)).unwrap_or_default();
    let point = points.get(place % points.len().max(1)).map_or(PointId(77), |point| point.id);
    let (length, across) = there.map_or((1.0, 1.0), |d| (d.blank.length.mm(), d.across_mm(cut)));
    let handle = if x < y { Handle::Before } else { Handle::After };
    let layer = Layer { species: Species::ALL[place % Species::ALL.len()], thickness: (x * 20.0).into() };
    match what {
        0 => Edit::PlacePoint { design, cut, point, from_top: (x * length).into(), offset: (y * across).into() },
        1..=4 => Edit::MovePoint { design, cut, point, from_top: (x * length).into(), offset: (y * across).into() },
        5..=7 => {
            Edit::MoveHandle { design, cut, point, handle, slope: x * 3.0, reach_mm: y * 100.0, tied: place % 2 == 0 }
        }
        8 | 9 => Edit::AddPoint { design, cut, from_top_mm: x * length },
        10 => Edit::DeletePoint { design, cut, point },
        11 => Edit::SetPointKind { design, cut, point, sharp: x < y },
        12 if place == 8 => Edit::StartFrom { design, kind: ShapeKind::ALL[deed.design % ShapeKind::ALL.len()] },
        12 => {
            let shape = Shape::start(ShapeKind::ALL[place % ShapeKind::ALL.len()], length, across);
            Edit::SetShape { design, cut, shape }
        }
        13 => {
            let value = match place % 3 {
                0 => ParameterValue::Length(Length::from_mm(y * across)),
                1 => ParameterValue::Number(y),
                _ => ParameterValue::Count((y.abs() * 10.0) as u32),
            };
            Edit::SetShapeParameter { design, cut, index: place % 6, value }
        }
        14 => Edit::ShapeToPoints { design, cut },
        15 => Edit::CopyCut { design, from: cut },
        16 => {
            let size = BlankSize::ALL[place % BlankSize::ALL.len()];
            Edit::SetBlankSize { design, size, value: (x * 800.0).into() }
        }
        17 => Edit::AddDesign,
        18 if place < 4 => Edit::MoveDesign { design, place },
        18 => Edit::DuplicateDesign { design },
        19 => Edit::DeleteDesign { design },
        20 => Edit::RenameDesign { design, name: format!("leg {x}{}", if y > 1.1 { "\n" } else { "" }) },
        21 => Edit::SetLetter { design, letter: char::from_u32(0x30 + place as u32 * 9).unwrap_or('A') },
        22 => {
            let part = match place {
                0 => WoodPart::Lean(x * 90.0),
                1 => WoodPart::Toward(y * 360.0),
                2 => WoodPart::Shift((x * 9.0).into()),
                3 => WoodPart::Layer { index: deed.design, layer },
                4 => WoodPart::AddLayer { index: deed.design, layer },
                5 => WoodPart::DeleteLayer { index: deed.design },
                6 => WoodPart::Species(layer.species),
                7 => WoodPart::Pith { x: (x * 90.0).into(), y: (y * 90.0).into() },
                _ => WoodPart::RingWidth((x * 5.0).into()),
            };
            Edit::SetWoodPart { design, part }
        }
        23 => {
            let tool = match place {
                0 | 1 => LineTool::MirrorAcross,
                2 | 3 => LineTool::EndForEnd,
                4 => LineTool::Shift { by: (x * 100.0).into() },
                5 | 6 => LineTool::ScaleSwing { factor: x * 2.0, about: (y * across).into() },
                7 => LineTool::MakeFairer { tolerance: x.into() },
                _ => LineTool::FewerPoints { tolerance: x.into() },
            };
            Edit::ReshapeLine { design, cut, tool }
        }
        24 => {
            let kept = Stretch::BelowTop { kept: (y * length).into() };
            let keep = if place < 4 { Stretch::Everything } else { kept };
            Edit::StretchLeg { design, length: (x * 1000.0).into(), keep }
        }
        25 => {
            let put = |point: &Point| PointPlace {
                cut,
                point: point.id,
                from_top: (point.from_top.mm() + (x - 0.5) * length).into(),
                offset: (point.offset.mm() + (y - 0.5) * across).into(),
            };
            Edit::MovePoints { design, points: points.iter().skip(place % 3).step_by(1 + place / 3).map(put).collect() }
        }
        26 => {
            let gone = points.iter().skip(place % 3).step_by(2 + place / 3);
            Edit::DeletePoints { design, points: gone.map(|point| (cut, point.id)).collect() }
        }
        27 => Edit::TieHandles { design, cut, point, tied: x < y },
        28 => {
            let told = Saw { tilt_first_deg: x * 4.0, slip: (y * 9.0).into(), ..Saw::default() };
            Edit::SetSaw { saw: (place > 1).then(|| Box::new(told)) }
        }
        29 => {
            let concern = Concern::ALL[place % Concern::ALL.len()];
            match deed.design % 5 {
                0 => Edit::SetLoad { design, load: Some(Load { down_n: x * 900.0, ..Load::default() }) },
                1 => Edit::TakeBack { design, concern },
                2 => {
                    let mut limits = Limits::default();
                    if let Some(limit) = limits.of_mut(concern) {
                        limit.look = x;
                    }
                    Edit::SetLimits { limits: Box::new(limits) }
                }
                3 => Edit::Together {
                    design,
                    edits: vec![
                        Edit::AddPoint { design, cut, from_top_mm: x * length },
                        Edit::CopyCut { design, from: cut },
                    ],
                },
                _ => Edit::Accept {
                    design,
                    accepted: Accepted { concern, reason: "it is for show".to_owned(), value: y },
                },
            }
        }
        30 => Edit::PlaceHandle { design, cut, point, handle, slope: x, reach_mm: y * length / 4.0 },
        31 => Edit::AddMockUp { design, factor: x },
        32 => Edit::PinGhost { design },
        33 => Edit::SwapGhost { design },
        34 => Edit::DropGhost { design },
        35 if place > 2 => {
            let was = there.and_then(|design| design.trace(cut)).cloned();
            let trace = was.map(|trace| match place {
                3 => Trace { cut: Cut::First, ..trace },
                4 => Trace { width: (x * 900.0).into(), ..trace },
                5 => Trace { turn_deg: x * 200.0, ..trace },
                6 => Trace { strength: x, ..trace },
                7 => Trace { locked: !trace.locked, hidden: x < 0.5, ..trace },
                _ => Trace { from_top: (x * length).into(), offset: (y * across).into(), ..trace },
            });
            let trace = trace.filter(|_| deed.design < 6).map(Box::new);
            Edit::SetTrace { design, cut, trace, picture: None }
        }
        35 => Edit::RenameProject { name: format!("{x}") },
        36 => Edit::HoldPin { design, cut, pin: point, slope: if x < 0.3 { None } else { Some(y) } },
        37 => Edit::MakeBatten { design, cut, tolerance: x.into() },
        38 => Edit::BattenToPoints { design, cut, tolerance: x.into() },
        39 => Edit::BreakLink { design },
        _ => {
            let link = match LinkKind::ALL[place % 4].start(length) {
                Link::Shifted { .. } => Link::Shifted { by: (x * length).into() },
                other => other,
            };
            Edit::LinkCut { design, link }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn undoing_all_the_way_is_exact_and_every_project_on_the_way_is_sound(
        first in any::project(),
        deeds in prop::collection::vec(deed(), 1..60),
    ) {
        prop_assert_eq!(first.check(), Ok(()));
        let mut history = History::new(first.clone());
        for deed in &deeds {
            let before = history.current().clone();
            let edit = edit(history.at_rest(), deed);
            let done = match deed.how {
                How::Step => history.apply(&edit).map(|_| ()),
                How::Drag => history.replace_drag(&edit),
                How::Commit => { history.commit_drag(); Ok(()) }
                How::Drop => { history.drop_drag(); Ok(()) }
                How::Undo => { history.undo(); Ok(()) }
                How::Redo => { history.redo(); Ok(()) }
            };
            if done.is_err() {
                prop_assert_eq!(&before, history.current(), "an edit that fails changes nothing");
            }
            prop_assert_eq!(history.current().check(), Ok(()));
        }
        history.commit_drag();
        let last = history.current().clone();
        let mut back = 0;
        while history.undo() { back += 1; }
        prop_assert_eq!(&first, &**history.current());
        prop_assert!(!history.is_dirty());
        for _ in 0..back { prop_assert!(history.redo()); }
        // Redoing as far as we came back reaches the last project.
        prop_assert_eq!(&last, history.current());
    }

    #[test]
    fn the_same_edit_twice_is_the_same_as_once_for_everything_a_drag_does(
        first in any::project(),
        deed in deed(),
    ) {
        let drags = Deed { what: deed.what % 8, ..deed };
        let edit = edit(&first, &drags);
        if let Ok(once) = first.apply(&edit) {
            let twice = first.apply(&edit);
            prop_assert_eq!(twice.as_ref(), Ok(&once), "the same from the same start");
            let label = edit.label(&first);
            prop_assert!(label.starts_with("Move "), "{}", label);
        }
    }
}

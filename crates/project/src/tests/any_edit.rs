//! Any edit of a project, for tests that do thousands of them. Also compiled into the tests of the crate that reads and
//! writes files.

use cornerwise_geometry::fit::{Notch, PipeHole};
use cornerwise_geometry::furniture::{ApronJoint, Arrangement};
use cornerwise_geometry::{
    Blade, Blank, Concern, Cut, Face, Finest, Length, Limits, Link, LinkKind, Load, ParameterValue, Piece, Point,
    PointId, Saw, SawKind, Shape, ShapeKind, Units,
};
use cornerwise_project::{
    Accepted, Aprons, Base, BlankSize, DesignId, Edit, FitPart, FurniturePart, Handle, Kept, LineTool, OwnBlade,
    PageSize, PaperChoice, Picture, PictureBytes, PictureHash, PointPlace, Project, Rough, Shade, Standing, Stretch,
    Top, Trace, Turn, WoodPart,
};
use cornerwise_wood::{
    Blemish, Block, BlockPreset, Finish, Knot, Layer, Layers, Photo, Photos, SeamFit, Species, SpeciesRow, Timber,
    Wood, WoodLimits,
};
use proptest::prelude::*;
use proptest::sample::select;
use std::sync::Arc;

/// One thing a maker does, in raw numbers: which edit it is depends on the project it meets.
#[derive(Clone, Debug)]
pub struct Deed {
    /// How it is done.
    pub how: How,
    /// Which edit, a number below [`KINDS`].
    pub what: u8,
    design: usize,
    first: bool,
    /// Which one of several, or how many.
    pub place: usize,
    x: f64,
    y: f64,
}

/// How a maker does something, or takes it back.
#[derive(Clone, Copy, Debug)]
pub enum How {
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

/// So many numbers stand for edits.
const KINDS: u8 = 56;

/// Anything a maker may do.
pub fn deed() -> BoxedStrategy<Deed> {
    let how = prop_oneof![
        6 => Just(How::Step), 6 => Just(How::Drag), 2 => Just(How::Commit),
        1 => Just(How::Drop), 2 => Just(How::Undo), 2 => Just(How::Redo)
    ];
    (how, 0..KINDS, 0..9_usize, any::<bool>(), 0..9_usize, number(), number())
        .prop_map(|(how, what, design, first, place, x, y)| Deed { how, what, design, first, place, x, y })
        .boxed()
}

/// The edit that is meant, on this project.
pub fn edit(project: &Project, deed: &Deed) -> Edit {
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
                _ if deed.first => WoodPart::RingWidth((x * 5.0).into()),
                _ => {
                    let block = Block { species: layer.species, height: (y * 20.0).into() };
                    WoodPart::Block { column: deed.design % 3, index: deed.design % 2, block }
                }
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
        28 if place > 6 => {
            let blade = Blade { width: (x * 20.0).into(), ..Blade::default() };
            let own = |number: usize| OwnBlade {
                name: format!("own {number}"),
                kind: SawKind::default(),
                blade: blade.clone(),
            };
            Edit::SetBlades { blades: (0..place % 3).map(own).collect() }
        }
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
        33 if place > 6 => {
            let at = |i: usize| [i as f64 * 0.1 * length, (0.5 + 0.1 * x * i as f64) * across];
            let places: Vec<[f64; 2]> = (0..=10).map(at).collect();
            let fit = cornerwise_geometry::line_tools::fitted(&places, Some(place), y.abs());
            Edit::TakeCurve { design, cut, points: fit.map(|fit| fit.points).unwrap_or_default() }
        }
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
        35 if place == 2 => match project.pictures.first() {
            Some(picture) => Edit::ReplacePicture {
                was: picture.hash,
                picture: Arc::new(Picture { kept: Kept::Beside(format!("moved {x}.png")), ..Picture::clone(picture) }),
            },
            None => Edit::RenameProject { name: format!("{y}") },
        },
        35 => Edit::RenameProject { name: format!("{x}") },
        36 => Edit::HoldPin { design, cut, pin: point, slope: if x < 0.3 { None } else { Some(y) } },
        37 => Edit::MakeBatten { design, cut, tolerance: x.into() },
        38 => Edit::BattenToPoints { design, cut, tolerance: x.into() },
        39 => Edit::BreakLink { design },
        44 => {
            let inches = Finest::ALL[place % 3];
            Edit::SetUnits { units: if place < 4 { Units::Millimetres } else { Units::Inches(inches) } }
        }
        45 => {
            let sizes = [PageSize::A4, PageSize::A3, PageSize::Letter, PageSize::Roll { width: (x * 900.0).into() }];
            let (page, landscape) = (sizes[place % 4].clone(), deed.first);
            Edit::SetPaper {
                paper: PaperChoice { page, landscape, overlap: (y * 40.0).into(), ..PaperChoice::default() },
            }
        }
        46 => {
            let (width, depth, length) = ((x * 90.0).into(), (y * 90.0).into(), ((x + y) * 700.0).into());
            Edit::SetBlank { design, blank: Blank { width, depth, length, ..Blank::square(50.0, 700.0) } }
        }
        47 if place > 5 => photos_edit(design, deed, length),
        47 => Edit::SetWood { design, wood: wood(place, [x, y], layer) },
        52 => knot_edit(design, deed, [length, across]),
        53 => own_wood_edit(deed),
        54 => match place {
            0..3 => Edit::SetFinish { design, finish: Finish::ALL[place % 2] },
            3..6 => Edit::TurnBlank { design, turn: Turn::ALL[place % 3] },
            _ => Edit::SetWoodLimits {
                limits: Box::new(WoodLimits { meet_mm: x, good_jump: 0.3 * y, ..WoodLimits::default() }),
            },
        },
        48 | 49 => Edit::SetFit { design, part: fit_part(place + deed.design, [x, y], length) },
        50 if place == 8 => Edit::RemoveFurniture,
        50 | 51 => Edit::SetFurniture { part: furniture_part(place, [x, y], deed) },
        _ => {
            let link = match LinkKind::ALL[place % 4].start(length) {
                Link::Shifted { .. } => Link::Shifted { by: (x * length).into() },
                other => other,
            };
            Edit::LinkCut { design, link }
        }
    }
}

fn knot_edit(design: DesignId, deed: &Deed, [length, across]: [f64; 2]) -> Edit {
    let &Deed { place, x, y, .. } = deed;
    let face = Face::ALL[place % 4];
    let knot = Knot {
        kind: Blemish::ALL[deed.design % 3],
        slope_across: y - 0.5,
        ..Knot::new(face, (x * length).into(), (y * across).into(), 20.0.into())
    };
    match place {
        0..4 => Edit::AddKnot { design, knot },
        4..7 => Edit::SetKnot { design, index: place % 2, knot },
        _ => Edit::DeleteKnot { design, index: place % 2 },
    }
}

/// A photo of the blank, with its picture; its corners are those it starts with, or moved, perhaps across one another.
fn photos_edit(design: DesignId, deed: &Deed, length: f64) -> Edit {
    let &Deed { place, x, y, .. } = deed;
    let bytes = PictureBytes(vec![place as u8; 4].into());
    let hash = PictureHash::of(&bytes.0);
    let kept = Kept::Inside(bytes);
    let picture = Picture { hash, name: format!("face {place}.png"), width_px: 60, height_px: 20, kept };
    let mut photo = Photo::start(Face::ALL[place % 4], hash, (-20.0).into(), (length + 40.0).into());
    photo.corners[deed.design % 4][0] += if place == 6 { 0.0 } else { x - 0.5 };
    photo.gain = [1.0, 0.5 + y, 1.0];
    let photos = Photos::new(Species::ALL[deed.design], [50.0, 50.0]).with(photo);
    Edit::SetPhotos { design, photos: Box::new(photos), pictures: vec![Arc::new(picture)] }
}

fn own_wood_edit(deed: &Deed) -> Edit {
    let &Deed { place, x, .. } = deed;
    // What is changed gets a name that none that was added has: else most changes would be refused.
    let name = format!("own wood {place}");
    let row = SpeciesRow { name, specific_gravity: x, ..Species::ALL[deed.design].row().clone() };
    match place {
        0..4 => Edit::AddOwnWood { row: Box::new(row) },
        4..7 => Edit::SetOwnWood { index: 0, row: Box::new(row) },
        _ => Edit::DeleteOwnWood { index: place % 2 },
    }
}

fn wood(place: usize, [x, y]: [f64; 2], layer: Layer) -> Wood {
    match place % 3 {
        0 => Wood::Timber(Timber::new(layer.species, (x * 90.0).into(), (y * 90.0).into(), 3.0.into())),
        1 => Wood::Layers(Layers::new(vec![layer], x * 90.0, y * 360.0, Length::ZERO)),
        _ => {
            let kind = BlockPreset::ALL[place % BlockPreset::ALL.len()];
            Wood::Blocks(kind.build(
                [50.0, 44.0],
                2 + place % 5,
                SeamFit::ALL[place % SeamFit::ALL.len()],
                [layer.species, Species::Maple],
            ))
        }
    }
}

fn fit_part(which: usize, [x, y]: [f64; 2], length_mm: f64) -> FitPart {
    let notch = Notch::shelf(x * length_mm, 18.0, y);
    match which % 11 {
        0 => FitPart::Pipe(None),
        1 => FitPart::Pipe(Some(PipeHole {
            name: "pipe".to_owned(),
            outside: (x * 20.0).into(),
            clearance: y.into(),
            above: Length::ZERO,
            below: Length::ZERO,
            recess: Length::ZERO,
        })),
        2 => FitPart::Inside(Piece::ALL[which % Piece::ALL.len()]),
        3 => FitPart::Notch { index: which % 2, notch },
        4 => FitPart::MoveNotch { index: which % 2, from_top: (x * length_mm).into() },
        5 | 6 => FitPart::AddNotch(notch),
        7 => FitPart::DeleteNotch { index: which % 2 },
        8 => FitPart::CrosscutKerf((x * 4.0).into()),
        9 => FitPart::Post((y * 90.0).into()),
        _ => FitPart::CentreEnds,
    }
}

fn furniture_part(place: usize, [x, y]: [f64; 2], deed: &Deed) -> FurniturePart {
    let there = deed.first;
    match place {
        0 => {
            FurniturePart::Arrangement(Arrangement::Rectangle { width: (x * 900.0).into(), depth: (y * 900.0).into() })
        }
        1 => {
            FurniturePart::Arrangement(Arrangement::Row { spacing: (x * 900.0).into(), count: 1 + deed.design as u32 })
        }
        2 => FurniturePart::Leg {
            place: deed.design,
            standing: Standing { design: DesignId(1 + deed.design as u32 % 3), ..Standing::default() },
        },
        3 => FurniturePart::Aprons(Aprons { thickness: (x * 30.0).into(), joint: ApronJoint::Mitred }),
        4 => FurniturePart::Top(there.then(|| Top { thickness: (x * 30.0).into(), overhang: (y * 50.0).into() })),
        5 => {
            let base = Base { across: (x * 300.0).into(), thickness: (y * 40.0).into(), round: true };
            FurniturePart::Base(there.then_some(base))
        }
        6 => {
            let [across_top, across_foot, height] = [x, y, x + y].map(|share| Length::from_mm(share * 300.0));
            FurniturePart::Shade(there.then_some(Shade { across_top, across_foot, height, above: Length::ZERO }))
        }
        7 => FurniturePart::Boards(Species::ALL[deed.design % Species::ALL.len()]),
        _ => FurniturePart::Rough(Rough::default()),
    }
}

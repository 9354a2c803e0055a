use crate::{Accepted, Kept, OwnBlade, Picture, PictureHash, Trace, photo_edits, picture_edits, wood_label};
use crate::{Design, DesignId, FitPart, FurniturePart, LineTool, PaperChoice, PointPlace, Project, Stretch};
use cornerwise_geometry::{Blank, Cut, Length, Line, Link, ParameterValue, Point, PointId, Shape, ShapeKind, Units};
use cornerwise_geometry::{Concern, Limits, Load, Saw};
use cornerwise_wood::{Block, Finish, Knot, Layer, Photos, Species, SpeciesRow, Wood, WoodLimits};
use std::sync::Arc;

/// One change to a project. Every value is absolute, never a difference, so that a drag can replace its edit in each
/// frame and a script can repeat it.
///
/// [`Project::apply`] does it.
#[derive(Clone, Debug, PartialEq)]
pub enum Edit {
    /// Give the project a name.
    RenameProject {
        /// The new name.
        name: String,
    },
    /// Show lengths in these units.
    SetUnits {
        /// The new units.
        units: Units,
    },
    /// Choose how the paper is printed.
    SetPaper {
        /// The new choice.
        paper: PaperChoice,
    },
    /// Tell the saw that the legs go through, or put it away again.
    SetSaw {
        /// The saw as it is set up.
        saw: Option<Box<Saw>>,
    },
    /// Keep these blades as the maker's own.
    SetBlades {
        /// All of them.
        blades: Vec<OwnBlade>,
    },
    /// Set the limits that watch-outs are held against.
    SetLimits {
        /// The new limits.
        limits: Box<Limits>,
    },
    /// Tell the load that a leg is judged by, or take it away.
    SetLoad {
        /// The design.
        design: DesignId,
        /// The load.
        load: Option<Load>,
    },
    /// Accept a watch-out about a leg, with the reason.
    Accept {
        /// The design.
        design: DesignId,
        /// What is accepted, why, and at what figure.
        accepted: Accepted,
    },
    /// No longer accept a watch-out about a leg.
    TakeBack {
        /// The design.
        design: DesignId,
        /// What it is about.
        concern: Concern,
    },
    /// Several changes to a leg as one step.
    Together {
        /// The design.
        design: DesignId,
        /// The changes, in order, each about this design.
        edits: Vec<Edit>,
    },
    /// Add a new design after the others.
    AddDesign,
    /// Add a copy of a design after it, with an id and a letter of its own.
    DuplicateDesign {
        /// The design to copy.
        design: DesignId,
    },
    /// Add a design after this one with everything in proportion, for a blank of another size, with an id and a letter of
    /// its own.
    AddMockUp {
        /// The design to copy in proportion.
        design: DesignId,
        /// How many times as large the new one is, [`crate::MOCK_UP_FACTOR`].
        factor: f64,
    },
    /// Take a design out of the project. The last one stays.
    DeleteDesign {
        /// The design to take out.
        design: DesignId,
    },
    /// Put a design elsewhere in the list of designs.
    MoveDesign {
        /// The design.
        design: DesignId,
        /// Its new place among the others, from 0; the last place when there are fewer.
        place: usize,
    },
    /// Give a design a name.
    RenameDesign {
        /// The design.
        design: DesignId,
        /// The new name.
        name: String,
    },
    /// Give a design another letter.
    SetLetter {
        /// The design.
        design: DesignId,
        /// The new letter.
        letter: char,
    },
    /// Change the whole blank.
    SetBlank {
        /// The design.
        design: DesignId,
        /// The new blank.
        blank: Blank,
    },
    /// Change one size of the blank.
    SetBlankSize {
        /// The design.
        design: DesignId,
        /// Which size.
        size: BlankSize,
        /// The new size.
        value: Length,
    },
    /// Put a point somewhere else. It stops short of its neighbours, and where the line would get too steep.
    MovePoint {
        /// The design.
        design: DesignId,
        /// The cut.
        cut: Cut,
        /// The point.
        point: PointId,
        /// Its new distance from the finished top.
        from_top: Length,
        /// Its new distance from arris 1 or 2.
        offset: Length,
    },
    /// Put a point exactly where its figures say, or not at all: for figures that are typed.
    PlacePoint {
        /// The design.
        design: DesignId,
        /// The cut.
        cut: Cut,
        /// The point.
        point: PointId,
        /// Its new distance from the finished top.
        from_top: Length,
        /// Its new distance from arris 1 or 2.
        offset: Length,
    },
    /// Put several points somewhere else, of one cut or of both. They keep their order, and when one of them is stopped
    /// along the leg or across it, all are.
    MovePoints {
        /// The design.
        design: DesignId,
        /// Where each of them is put.
        points: Vec<PointPlace>,
    },
    /// Put a handle somewhere else. At a smooth point the other handle keeps in line; at a sharp one it stays.
    MoveHandle {
        /// The design.
        design: DesignId,
        /// The cut.
        cut: Cut,
        /// The point.
        point: PointId,
        /// Which of its handles.
        handle: Handle,
        /// The new slope, offset per length from the top.
        slope: f64,
        /// The new reach along the leg, mm.
        reach_mm: f64,
        /// Whether the other handle takes the same reach. The point's handles are tied or free from then on.
        tied: bool,
    },
    /// Give a handle exactly this slope and reach, or not at all: for figures that are typed. Tied handles reach the same.
    PlaceHandle {
        /// The design.
        design: DesignId,
        /// The cut.
        cut: Cut,
        /// The point.
        point: PointId,
        /// Which of its handles.
        handle: Handle,
        /// The new slope, offset per length from the top.
        slope: f64,
        /// The new reach along the leg, mm.
        reach_mm: f64,
    },
    /// Tie the two handles of a point, so that both reach as far, or free them.
    TieHandles {
        /// The design.
        design: DesignId,
        /// The cut.
        cut: Cut,
        /// The point.
        point: PointId,
        /// Whether they are tied.
        tied: bool,
    },
    /// Add a point on the line without changing the line.
    AddPoint {
        /// The design.
        design: DesignId,
        /// The cut.
        cut: Cut,
        /// How far from the finished top, mm.
        from_top_mm: f64,
    },
    /// Take a point out. Its neighbours' handles grow into the gap, so that a point just added leaves no trace.
    DeletePoint {
        /// The design.
        design: DesignId,
        /// The cut.
        cut: Cut,
        /// The point.
        point: PointId,
    },
    /// Take several points out, of one cut or of both. Each cut keeps two at least.
    DeletePoints {
        /// The design.
        design: DesignId,
        /// The points.
        points: Vec<(Cut, PointId)>,
    },
    /// Make a point smooth or sharp.
    SetPointKind {
        /// The design.
        design: DesignId,
        /// The cut.
        cut: Cut,
        /// The point.
        point: PointId,
        /// Whether the line changes direction there. A cut has at most one such point.
        sharp: bool,
    },
    /// Give a cut a starting shape.
    SetShape {
        /// The design.
        design: DesignId,
        /// The cut.
        cut: Cut,
        /// The new shape.
        shape: Shape,
    },
    /// Give both cuts the same starting shape, each to the measure of its own face.
    StartFrom {
        /// The design.
        design: DesignId,
        /// The shape.
        kind: ShapeKind,
    },
    /// Change one parameter of the starting shape of a cut.
    SetShapeParameter {
        /// The design.
        design: DesignId,
        /// The cut.
        cut: Cut,
        /// Which parameter, an index into [`Shape::parameters`].
        index: usize,
        /// Its new value.
        value: ParameterValue,
    },
    /// Turn the starting shape of a cut into points. The line stays as it is.
    ShapeToPoints {
        /// The design.
        design: DesignId,
        /// The cut.
        cut: Cut,
    },
    /// Let a pin of a batten hold its direction, or let it go.
    HoldPin {
        /// The design.
        design: DesignId,
        /// The cut.
        cut: Cut,
        /// The pin.
        pin: PointId,
        /// The slope that it holds, offset per length from the top; none lets it go.
        slope: Option<f64>,
    },
    /// Lay a batten along the line of a cut, with as few pins as keep it near.
    MakeBatten {
        /// The design.
        design: DesignId,
        /// The cut.
        cut: Cut,
        /// How far any place of the line may move, across the blank.
        tolerance: Length,
    },
    /// Turn the batten of a cut into points.
    BattenToPoints {
        /// The design.
        design: DesignId,
        /// The cut.
        cut: Cut,
        /// How far any place of the line may move, across the blank.
        tolerance: Length,
    },
    /// Let the second cut follow from the first.
    LinkCut {
        /// The design.
        design: DesignId,
        /// How it follows.
        link: Link,
    },
    /// Let the second cut follow no longer. The line stays as it is.
    BreakLink {
        /// The design.
        design: DesignId,
    },
    /// Draw one cut like the other.
    CopyCut {
        /// The design.
        design: DesignId,
        /// The cut to copy; the other one is replaced.
        from: Cut,
    },
    /// Do something to the whole line of a cut. A live shape becomes points.
    ReshapeLine {
        /// The design.
        design: DesignId,
        /// The cut.
        cut: Cut,
        /// What is done to it.
        tool: LineTool,
    },
    /// Give the leg another finished length, and stretch both cuts to it. A live shape stays live where it can.
    StretchLeg {
        /// The design.
        design: DesignId,
        /// The new length, from the finished top to the finished foot.
        length: Length,
        /// What is stretched.
        keep: Stretch,
    },
    /// Keep the present shape of a design as its ghost, to compare with. It takes the place of the one before.
    PinGhost {
        /// The design.
        design: DesignId,
    },
    /// Give a design the shape of its ghost, and its ghost the present one.
    SwapGhost {
        /// The design.
        design: DesignId,
    },
    /// Keep the ghost of a design no longer.
    DropGhost {
        /// The design.
        design: DesignId,
    },
    /// Make the blank of something else.
    SetWood {
        /// The design.
        design: DesignId,
        /// The new wood.
        wood: Wood,
    },
    /// Change one thing about the wood.
    SetWoodPart {
        /// The design.
        design: DesignId,
        /// What changes, and to what.
        part: WoodPart,
    },
    /// Put a finish on the wood, or take it off.
    SetFinish {
        /// The design.
        design: DesignId,
        /// The finish.
        finish: Finish,
    },
    /// Mark a knot on the blank.
    AddKnot {
        /// The design.
        design: DesignId,
        /// The knot.
        knot: Knot,
    },
    /// Change a knot, or put it somewhere else.
    SetKnot {
        /// The design.
        design: DesignId,
        /// Which one, from 0.
        index: usize,
        /// What it becomes.
        knot: Knot,
    },
    /// Take a knot off the list.
    DeleteKnot {
        /// The design.
        design: DesignId,
        /// Which one, from 0.
        index: usize,
    },
    /// Lay the blank on the table another way, under the same lines.
    TurnBlank {
        /// The design.
        design: DesignId,
        /// Which way.
        turn: Turn,
    },
    /// Add a wood of the maker's own.
    AddOwnWood {
        /// Its row.
        row: Box<SpeciesRow>,
    },
    /// Change a wood of the maker's own, its name too; whatever is of that wood changes with it.
    SetOwnWood {
        /// Which one, from 0.
        index: usize,
        /// Its new row.
        row: Box<SpeciesRow>,
    },
    /// Take a wood of the maker's own off the list. One that is used stays.
    DeleteOwnWood {
        /// Which one, from 0.
        index: usize,
    },
    /// Set the limits that seams and faces are judged by.
    SetWoodLimits {
        /// The new limits.
        limits: Box<WoodLimits>,
    },
    /// Change one thing about the fit: pipe hole, inside piece, notches, joints.
    SetFit {
        /// The design.
        design: DesignId,
        /// What changes, and to what.
        part: FitPart,
    },
    /// Take a curve from elsewhere for the line of a cut.
    TakeCurve {
        /// The design.
        design: DesignId,
        /// The cut.
        cut: Cut,
        /// Its points.
        points: Vec<Point>,
    },
    /// Lay a picture under the face of a cut, change how it lies there, lay it on the other face, or take it away.
    SetTrace {
        /// The design.
        design: DesignId,
        /// The cut on whose face it lies now, or is to lie.
        cut: Cut,
        /// How it is to lie; nothing takes it away.
        trace: Option<Box<Trace>>,
        /// The picture itself, where the project may not have it yet.
        picture: Option<Arc<Picture>>,
    },
    /// Have the blank be one that was photographed, or change its photos: absolute, all of them at once.
    SetPhotos {
        /// The design.
        design: DesignId,
        /// The photos.
        photos: Box<Photos>,
        /// Pictures that the project may not have yet.
        pictures: Vec<Arc<Picture>>,
    },
    /// Keep a picture elsewhere, inside the project or beside it; or take another one in its place.
    ReplacePicture {
        /// Which picture.
        was: PictureHash,
        /// What takes its place.
        picture: Arc<Picture>,
    },
    /// Change one thing about the furniture. Where there is none yet, it begins with one leg by itself.
    SetFurniture {
        /// What changes, and to what.
        part: FurniturePart,
    },
    /// Keep the legs by themselves, without furniture.
    RemoveFurniture,
}

/// Another way to lay the blank on the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Turn {
    /// A quarter away from the maker: face 2 comes up. Only a square blank.
    Quarter,
    /// Half round: face 3 comes up.
    Half,
    /// End for end, face 1 staying up.
    EndForEnd,
}

impl Turn {
    /// All three.
    pub const ALL: [Turn; 3] = [Turn::Quarter, Turn::Half, Turn::EndForEnd];

    /// What it is called.
    pub fn label(self) -> &'static str {
        match self {
            Turn::Quarter => "Roll the blank a quarter",
            Turn::Half => "Roll the blank half round",
            Turn::EndForEnd => "Turn the blank end for end",
        }
    }
}

/// A size of the blank.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BlankSize {
    /// W, across face 1.
    Width,
    /// D, across face 2.
    Depth,
    /// W and D together: a square blank.
    Square,
    /// L, from the finished top to the finished foot.
    Length,
    /// Beyond the finished top.
    SpareTop,
    /// Beyond the finished foot.
    SpareFoot,
}

/// One of the two handles of a point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Handle {
    /// The one toward the top.
    Before,
    /// The one toward the foot.
    After,
}

impl Handle {
    /// The other one of the same point.
    #[must_use]
    pub fn other(self) -> Handle {
        match self {
            Handle::Before => Handle::After,
            Handle::After => Handle::Before,
        }
    }
}

/// One thing about the wood and its new value. Layers are counted from 0.
#[derive(Clone, Debug, PartialEq)]
pub enum WoodPart {
    /// How far the layers lean from level, degrees.
    Lean(f64),
    /// Which way the layers' normal leans, degrees from +x toward +y.
    Toward(f64),
    /// How far the layers are shifted.
    Shift(Length),
    /// One layer of the repeating list.
    Layer {
        /// Which one.
        index: usize,
        /// What it becomes.
        layer: Layer,
    },
    /// A new layer in the list, before the one of this index; at the end when there is none.
    AddLayer {
        /// Its place.
        index: usize,
        /// The new layer.
        layer: Layer,
    },
    /// One layer less in the list.
    DeleteLayer {
        /// Which one.
        index: usize,
    },
    /// One block of a column of blocks.
    Block {
        /// Which column of the list.
        column: usize,
        /// Which of its blocks.
        index: usize,
        /// What it becomes.
        block: Block,
    },
    /// The timber's species.
    Species(Species),
    /// Where the pith of the timber lies.
    Pith {
        /// Across face 1, from arris 1.
        x: Length,
        /// Across face 2, from arris 2.
        y: Length,
    },
    /// How far the growth rings of the timber lie apart.
    RingWidth(Length),
}

impl Edit {
    /// What the change is called in the history, in the maker's words. `before` is the project it is done to.
    pub fn label(&self, before: &Project) -> String {
        let text = match self {
            Edit::RenameProject { .. } => "Rename the project".to_owned(),
            Edit::SetUnits { units: Units::Millimetres } => "Show millimetres".to_owned(),
            Edit::SetUnits { units: Units::Inches(_) } => "Show inches".to_owned(),
            Edit::SetPaper { .. } => "Change the paper".to_owned(),
            Edit::SetSaw { saw: Some(_) } => "Change the saw".to_owned(),
            Edit::SetSaw { saw: None } => "Put the saw away".to_owned(),
            Edit::SetBlades { .. } => "Change the list of blades".to_owned(),
            Edit::SetLimits { .. } => "Change the limits".to_owned(),
            Edit::SetLoad { load: Some(_), .. } => "Change the load".to_owned(),
            Edit::SetLoad { load: None, .. } => "Take the load away".to_owned(),
            Edit::Accept { accepted, .. } => format!("Accept \"{}\"", accepted.concern.title()),
            Edit::TakeBack { concern, .. } => format!("No longer accept \"{}\"", concern.title()),
            Edit::Together { edits, .. } => {
                let one = Project { designs: before.designs.iter().take(1).cloned().collect(), ..before.clone() };
                edits.iter().map(|edit| edit.label(&one)).collect::<Vec<_>>().join(", ")
            }
            Edit::AddDesign => "Add a leg".to_owned(),
            Edit::DuplicateDesign { .. } => "Duplicate".to_owned(),
            Edit::AddMockUp { .. } => "Make a mock-up".to_owned(),
            Edit::DeleteDesign { .. } => "Delete".to_owned(),
            Edit::MoveDesign { .. } => "Move in the list".to_owned(),
            Edit::RenameDesign { .. } => "Rename".to_owned(),
            Edit::SetLetter { letter, .. } => format!("Letter {letter}"),
            Edit::SetBlank { .. } => "Change the blank".to_owned(),
            Edit::SetBlankSize { size, .. } => format!("Change the {}", size.name()),
            Edit::MovePoint { design, cut, point, .. } | Edit::PlacePoint { design, cut, point, .. } => {
                format!("Move {} of the {cut}", point_name(before, *design, *cut, *point))
            }
            Edit::MovePoints { points, .. } => {
                format!("Move {}", points_name(points.iter().map(|place| place.cut)))
            }
            Edit::MoveHandle { design, cut, point, .. } | Edit::PlaceHandle { design, cut, point, .. } => {
                format!("Move a handle of {} of the {cut}", point_name(before, *design, *cut, *point))
            }
            Edit::TieHandles { design, cut, point, tied } => {
                let what = if *tied { "Tie" } else { "Free" };
                format!("{what} the handles of {} of the {cut}", point_name(before, *design, *cut, *point))
            }
            Edit::AddPoint { design, cut, .. } => {
                format!("Add a {} to the {cut}", if is_batten(before, *design, *cut) { "pin" } else { "point" })
            }
            Edit::DeletePoint { design, cut, point } => {
                format!("Delete {} of the {cut}", point_name(before, *design, *cut, *point))
            }
            Edit::DeletePoints { points, .. } => format!("Delete {}", points_name(points.iter().map(|(cut, _)| *cut))),
            Edit::SetPointKind { design, cut, point, sharp } => {
                let kind = if *sharp { "sharp" } else { "smooth" };
                format!("Make {} of the {cut} {kind}", point_name(before, *design, *cut, *point))
            }
            Edit::StartFrom { kind, .. } => format!("Start from {}", with_article(kind.name())),
            Edit::SetShape { design, cut, shape } => match changed_parameters(before, *design, *cut, shape) {
                Some(names) => format!("Change {names} of the {cut}"),
                None => format!("Make the {cut} {}", with_article(shape.name())),
            },
            Edit::SetShapeParameter { design, cut, index, .. } => match parameter_name(before, *design, *cut, *index) {
                Some(name) => format!("Change {name} of the {cut}"),
                None => format!("Change the shape of the {cut}"),
            },
            Edit::ShapeToPoints { cut, .. } => format!("Turn the {cut} into points"),
            Edit::HoldPin { design, cut, pin, slope } => {
                let pin = point_name(before, *design, *cut, *pin);
                match slope {
                    Some(_) => format!("Hold the direction of {pin} of the {cut}"),
                    None => format!("Let {pin} of the {cut} turn"),
                }
            }
            Edit::MakeBatten { cut, .. } => format!("Lay a batten along the {cut}"),
            Edit::BattenToPoints { cut, .. } => format!("Turn the {cut} into points"),
            Edit::LinkCut { link, .. } => link_label(link).to_owned(),
            Edit::BreakLink { .. } => "Break the link of the second cut".to_owned(),
            Edit::CopyCut { from: Cut::First, .. } => "Draw the second cut like the first".to_owned(),
            Edit::CopyCut { from: Cut::Second, .. } => "Draw the first cut like the second".to_owned(),
            Edit::ReshapeLine { cut, tool, .. } => tool.label(*cut),
            Edit::StretchLeg { keep, .. } => keep.label(before.units),
            Edit::PinGhost { .. } => "Pin the ghost".to_owned(),
            Edit::SwapGhost { .. } => "Swap with the ghost".to_owned(),
            Edit::DropGhost { .. } => "Drop the ghost".to_owned(),
            Edit::SetWood { design, wood } => wood_label::label(before.design(*design).map(|design| &**design), wood),
            Edit::SetFinish { finish: Finish::Oiled, .. } => "Oil the wood".to_owned(),
            Edit::SetFinish { finish: Finish::Bare, .. } => "Take the finish off".to_owned(),
            Edit::AddKnot { knot, .. } => format!("Mark a {}", knot.kind.name()),
            Edit::SetKnot { index, knot, .. } => format!("Change {} {}", knot.kind.name(), index.saturating_add(1)),
            Edit::DeleteKnot { index, .. } => format!("Delete knot {}", index.saturating_add(1)),
            Edit::TurnBlank { turn, .. } => turn.label().to_owned(),
            Edit::AddOwnWood { row } => format!("Add the wood {}", row.name),
            Edit::SetOwnWood { index, row } => match before.own_woods.get(*index) {
                Some(was) if was.name != row.name => format!("Call the wood {} {}", was.name, row.name),
                _ => format!("Change the wood {}", row.name),
            },
            Edit::DeleteOwnWood { .. } => "Delete a wood".to_owned(),
            Edit::SetWoodLimits { .. } => "Change the limits of seams and faces".to_owned(),
            Edit::SetWoodPart { part, .. } => part.label(),
            Edit::SetFit { part, .. } => part.label(),
            Edit::SetFurniture { part } => part.label(before),
            Edit::RemoveFurniture => "Take the furniture away".to_owned(),
            Edit::SetTrace { design, cut, trace, .. } => {
                let was = before.design(*design).and_then(|design| design.trace(*cut));
                picture_edits::label(was, *cut, trace.as_deref())
            }
            Edit::TakeCurve { cut, .. } => format!("Take a curve for the {cut}"),
            Edit::SetPhotos { design, photos, .. } => {
                photo_edits::label(before.design(*design).and_then(|design| design.wood.photos()), photos)
            }
            Edit::ReplacePicture { was, picture } if *was != picture.hash => format!("Change to {}", picture.name),
            Edit::ReplacePicture { picture, .. } => match picture.kept {
                Kept::Inside(_) => format!("Keep {} inside the project", picture.name),
                Kept::Beside(_) => format!("Keep {} beside the project", picture.name),
            },
        };
        let design = self.design().and_then(|id| before.design(id));
        let text = match design.and_then(|design| self.ends(design)) {
            Some(end) => format!("{text}, {end}"),
            None => text,
        };
        match design {
            Some(design) if before.designs.len() > 1 => format!("{text}, leg {}", design.letter),
            Some(_) | None => text,
        }
    }

    /// What of its lines the change ends, in the words of undo: a change of points ends a live shape, and every change of a
    /// linked line itself ends the link.
    fn ends(&self, design: &Design) -> Option<&'static str> {
        Cut::ALL.into_iter().find_map(|cut| {
            let tool = match self {
                Edit::ReshapeLine { cut: of, tool, .. } if *of == cut => Some(tool),
                _ => None,
            };
            let points = self.is_about_points_of(cut);
            match design.line(cut) {
                Line::Linked(_) if points || tool.is_some() => Some("no longer linked"),
                Line::Shape(_) if points => Some("now points"),
                Line::Batten(_) if tool.is_some_and(|tool| !tool.keeps_battens()) => Some("now points"),
                Line::Points(_) | Line::Shape(_) | Line::Batten(_) | Line::Linked(_) => None,
            }
        })
    }

    /// Whether the change is about single points of a cut.
    fn is_about_points_of(&self, cut: Cut) -> bool {
        match self {
            Edit::MovePoint { cut: of, .. }
            | Edit::PlacePoint { cut: of, .. }
            | Edit::MoveHandle { cut: of, .. }
            | Edit::PlaceHandle { cut: of, .. }
            | Edit::TieHandles { cut: of, .. }
            | Edit::AddPoint { cut: of, .. }
            | Edit::DeletePoint { cut: of, .. }
            | Edit::SetPointKind { cut: of, .. }
            | Edit::HoldPin { cut: of, .. } => *of == cut,
            Edit::MovePoints { points, .. } => points.iter().any(|place| place.cut == cut),
            Edit::DeletePoints { points, .. } => points.iter().any(|(of, _)| *of == cut),
            _ => false,
        }
    }

    /// The design that the change is about, where it is about one.
    pub fn design(&self) -> Option<DesignId> {
        match self {
            Edit::RenameProject { .. }
            | Edit::SetUnits { .. }
            | Edit::SetPaper { .. }
            | Edit::SetSaw { .. }
            | Edit::SetBlades { .. }
            | Edit::SetLimits { .. }
            | Edit::SetWoodLimits { .. }
            | Edit::AddOwnWood { .. }
            | Edit::SetOwnWood { .. }
            | Edit::DeleteOwnWood { .. }
            | Edit::AddDesign
            | Edit::SetFurniture { .. }
            | Edit::RemoveFurniture
            | Edit::ReplacePicture { .. } => None,
            Edit::DuplicateDesign { design }
            | Edit::AddMockUp { design, .. }
            | Edit::DeleteDesign { design }
            | Edit::MoveDesign { design, .. }
            | Edit::RenameDesign { design, .. }
            | Edit::SetLetter { design, .. }
            | Edit::SetBlank { design, .. }
            | Edit::SetBlankSize { design, .. }
            | Edit::MovePoint { design, .. }
            | Edit::PlacePoint { design, .. }
            | Edit::MovePoints { design, .. }
            | Edit::MoveHandle { design, .. }
            | Edit::PlaceHandle { design, .. }
            | Edit::TieHandles { design, .. }
            | Edit::AddPoint { design, .. }
            | Edit::DeletePoint { design, .. }
            | Edit::DeletePoints { design, .. }
            | Edit::SetPointKind { design, .. }
            | Edit::SetShape { design, .. }
            | Edit::StartFrom { design, .. }
            | Edit::SetShapeParameter { design, .. }
            | Edit::ShapeToPoints { design, .. }
            | Edit::HoldPin { design, .. }
            | Edit::MakeBatten { design, .. }
            | Edit::BattenToPoints { design, .. }
            | Edit::LinkCut { design, .. }
            | Edit::BreakLink { design }
            | Edit::CopyCut { design, .. }
            | Edit::ReshapeLine { design, .. }
            | Edit::StretchLeg { design, .. }
            | Edit::PinGhost { design }
            | Edit::SwapGhost { design }
            | Edit::DropGhost { design }
            | Edit::SetWood { design, .. }
            | Edit::SetWoodPart { design, .. }
            | Edit::SetFinish { design, .. }
            | Edit::AddKnot { design, .. }
            | Edit::SetKnot { design, .. }
            | Edit::DeleteKnot { design, .. }
            | Edit::TurnBlank { design, .. }
            | Edit::SetLoad { design, .. }
            | Edit::Accept { design, .. }
            | Edit::TakeBack { design, .. }
            | Edit::Together { design, .. }
            | Edit::SetFit { design, .. }
            | Edit::TakeCurve { design, .. }
            | Edit::SetTrace { design, .. }
            | Edit::SetPhotos { design, .. } => Some(*design),
        }
    }
}

impl BlankSize {
    /// Every size, in the order of a form.
    pub const ALL: [BlankSize; 6] = [
        BlankSize::Width,
        BlankSize::Depth,
        BlankSize::Square,
        BlankSize::Length,
        BlankSize::SpareTop,
        BlankSize::SpareFoot,
    ];

    /// Its name for the maker.
    pub fn name(self) -> &'static str {
        match self {
            BlankSize::Width => "width of the blank",
            BlankSize::Depth => "depth of the blank",
            BlankSize::Square => "square of the blank",
            BlankSize::Length => "finished length",
            BlankSize::SpareTop => "spare length at the top",
            BlankSize::SpareFoot => "spare length at the foot",
        }
    }
}

impl WoodPart {
    fn label(&self) -> String {
        match self {
            WoodPart::Lean(_) => "Lean the layers".to_owned(),
            WoodPart::Toward(_) => "Turn the way the layers lean".to_owned(),
            WoodPart::Shift(_) => "Shift the layers".to_owned(),
            WoodPart::Layer { index, .. } => format!("Change layer {}", index + 1),
            WoodPart::AddLayer { .. } => "Add a layer".to_owned(),
            WoodPart::DeleteLayer { index } => format!("Delete layer {}", index + 1),
            WoodPart::Block { column, index, .. } => format!("Change block {} of column {}", index + 1, column + 1),
            WoodPart::Species(species) => format!("Make it of {}", species.name()),
            WoodPart::Pith { .. } => "Move the pith".to_owned(),
            WoodPart::RingWidth(_) => "Change the width of the rings".to_owned(),
        }
    }
}

/// "point 3" or "pin 3", counted along the line as the maker sees it; "a point" when it is not there.
fn point_name(project: &Project, design: DesignId, cut: Cut, point: PointId) -> String {
    let points = project.design(design).map(|design| design.points(cut)).unwrap_or_default();
    let word = if is_batten(project, design, cut) { "pin" } else { "point" };
    match points.iter().position(|p| p.id == point) {
        Some(place) => format!("{word} {}", place + 1),
        None => format!("a {word}"),
    }
}

fn is_batten(project: &Project, design: DesignId, cut: Cut) -> bool {
    project.design(design).is_some_and(|design| design.is_batten(cut))
}

fn link_label(link: &Link) -> &'static str {
    match link {
        Link::Same => "Link the second cut: same as the first",
        Link::Mirrored => "Link the second cut: mirror of the first",
        Link::EndForEnd => "Link the second cut: the first end for end",
        Link::Shifted { .. } => "Link the second cut: the first shifted along",
    }
}

/// "3 points of the first cut", or "5 points" of both.
fn points_name(cuts: impl Iterator<Item = Cut>) -> String {
    let cuts: Vec<Cut> = cuts.collect();
    let plural = if cuts.len() == 1 { "" } else { "s" };
    match cuts.first() {
        Some(cut) if cuts.iter().all(|other| other == cut) => format!("{} point{plural} of the {cut}", cuts.len()),
        _ => format!("{} point{plural}", cuts.len()),
    }
}

/// The name of one parameter of the shape that a cut has now.
fn parameter_name(project: &Project, design: DesignId, cut: Cut, index: usize) -> Option<String> {
    let design: &Design = project.design(design)?;
    match design.line(cut) {
        Line::Shape(shape) => shape.parameters().get(index).map(|parameter| parameter.name.to_lowercase()),
        Line::Points(_) | Line::Batten(_) | Line::Linked(_) => None,
    }
}

/// "crest and rise": what is another value in a shape of the kind that the cut has already; nothing for another kind.
fn changed_parameters(project: &Project, design: DesignId, cut: Cut, shape: &Shape) -> Option<String> {
    let Line::Shape(was) = project.design(design)?.line(cut) else { return None };
    if was.kind() != shape.kind() {
        return None;
    }
    let parameters = was.parameters().into_iter().zip(shape.parameters());
    let names: Vec<String> =
        parameters.filter(|(was, is)| was.value != is.value).map(|(_, is)| is.name.to_lowercase()).collect();
    let (last, others) = names.split_last()?;
    Some(if others.is_empty() { last.clone() } else { format!("{} and {last}", others.join(", ")) })
}

/// "a cyma", "an arch".
fn with_article(name: &str) -> String {
    let name = name.to_lowercase();
    if name.ends_with('s') || name == "straight" {
        return name;
    }
    let vowel = name.starts_with(['a', 'e', 'i', 'o', 'u']);
    format!("{} {name}", if vowel { "an" } else { "a" })
}

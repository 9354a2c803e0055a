use crate::{BlankSize, Design, DesignId, Edit, Fault, MAX_NAME_CHARS, Place, Project, ProjectError, wood_edits};
use cornerwise_geometry::line_tools::{LineToolError, batten_along, simplified};
use cornerwise_geometry::{Blank, BlankError, Cut, Length, Line, PointId, SawLineError, Shape};
use cornerwise_wood::{MOST_KNOTS, Photos, SpeciesRow, Wood};
use std::sync::Arc;
use thiserror::Error;

/// Why an edit is not possible. The project stays as it was.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum EditError {
    /// There is no such design.
    #[error("there is no design with id {0}")]
    NoSuchDesign(DesignId),
    /// A project keeps at least one design.
    #[error("this is the project's only leg: add another one before deleting it")]
    LastDesign,
    /// There is no such point.
    #[error("the {cut} has no point with id {}", point.0)]
    NoSuchPoint {
        /// The cut.
        cut: Cut,
        /// The point.
        point: PointId,
    },
    /// The line is no live shape, and has no parameters.
    #[error("the {cut} is {is}, and has no shape to change")]
    NoShape {
        /// The cut.
        cut: Cut,
        /// What it is.
        is: &'static str,
    },
    /// The line is no batten.
    #[error("the {cut} is no batten")]
    NoBatten {
        /// The cut.
        cut: Cut,
    },
    /// A batten bends, and has no sharp points.
    #[error("a batten bends everywhere and has no sharp point: turn the {cut} into points first")]
    BattenBends {
        /// The cut.
        cut: Cut,
    },
    /// The second cut is a line of its own.
    #[error("the second cut does not follow from the first: there is no link to break")]
    NotLinked,
    /// The shape has no such parameter.
    #[error("the shape ({shape}) has no parameter number {}", index.saturating_add(1))]
    NoSuchParameter {
        /// The shape's name.
        shape: &'static str,
        /// The parameter, from 0.
        index: usize,
    },
    /// A second sharp point.
    #[error(
        "the {cut} has a sharp point already (point {point}, {at_mm:.1} mm from the top). The saw can meet a sharp \
         point only from the two ends, so a cut has one: make that one smooth first"
    )]
    SharpAlready {
        /// The cut.
        cut: Cut,
        /// The number of the sharp point, from 1.
        point: usize,
        /// Its distance from the top, mm.
        at_mm: f64,
    },
    /// A line needs two points.
    #[error("the {cut} has only two points left, and needs them both")]
    TooFewPoints {
        /// The cut.
        cut: Cut,
    },
    /// A batten needs two pins.
    #[error("the batten of the {cut} has only two pins left, and needs them both")]
    TooFewPins {
        /// The cut.
        cut: Cut,
    },
    /// A typed place lies past a neighbour or beyond the leg.
    #[error(
        "this point of the {cut} may lie {least_mm:.2} mm to {most_mm:.2} mm from the top, between its neighbours and \
         the ends of the leg"
    )]
    NoRoomAlong {
        /// The cut.
        cut: Cut,
        /// The least distance from the top, mm.
        least_mm: f64,
        /// The most, mm.
        most_mm: f64,
    },
    /// A typed offset is farther from the face than a point is taken to.
    #[error(
        "this point of the {cut} may lie {least_mm:.2} mm to {most_mm:.2} mm across: one blank's width to either side"
    )]
    NoRoomAcross {
        /// The cut.
        cut: Cut,
        /// The least offset, mm.
        least_mm: f64,
        /// The most, mm.
        most_mm: f64,
    },
    /// A new point would lie on another one.
    #[error("there is a point of the {cut} already at {near_mm:.1} mm from the top")]
    NoRoom {
        /// The cut.
        cut: Cut,
        /// Where the point was to be, mm from the top.
        s_mm: f64,
        /// Where the other one is, mm from the top.
        near_mm: f64,
    },
    /// A typed reach of a handle leads past the next point.
    #[error("this handle of the {cut} may reach {least_mm:.2} mm to {most_mm:.2} mm, to the next point at most")]
    Reach {
        /// The cut.
        cut: Cut,
        /// The least reach, mm.
        least_mm: f64,
        /// The most, mm.
        most_mm: f64,
    },
    /// A scale that no mock-up is made in.
    #[error("a mock-up is {least} to {most} times as large as the leg, and not {factor} times")]
    Factor {
        /// What was asked for.
        factor: f64,
        /// The least that is taken.
        least: f64,
        /// The most that is taken.
        most: f64,
    },
    /// A number is NaN or infinite.
    #[error("{0} is not a sound number")]
    NotFinite(&'static str),
    /// The design has no ghost.
    #[error("there is no ghost to compare with: pin the present shape first")]
    NoGhost,
    /// There is no such layer.
    #[error("there is no layer {layer}: the list has {count}")]
    NoSuchLayer {
        /// The layer asked for, from 1.
        layer: usize,
        /// How many there are.
        count: usize,
    },
    /// Layered stock keeps at least one layer.
    #[error("this is the only layer in the list")]
    LastLayer,
    /// The blank is plain timber.
    #[error("this blank is plain timber, and has no layers")]
    NotLayers,
    /// The blank is layered.
    #[error("this blank is not plain timber, and has no pith of its own")]
    NotTimber,
    /// The blank is not made of blocks.
    #[error("this blank is not made of blocks")]
    NotBlocks,
    /// There is no such block.
    #[error("there is no block {block} in a column {column}")]
    NoSuchBlock {
        /// The column asked for, from 1.
        column: usize,
        /// The block asked for, from 1.
        block: usize,
    },
    /// The blank is known by its photos only.
    #[error("this blank is known by its photos, and has neither layers, blocks nor a pith that could be changed")]
    IsPhotos,
    /// The blank is made of blocks.
    #[error("this blank is made of blocks, and has neither layers nor a pith of its own")]
    IsBlocks,
    /// There is no such knot.
    #[error("there is no knot {knot}: the blank has {count}")]
    NoSuchKnot {
        /// The knot asked for, from 1.
        knot: usize,
        /// How many there are.
        count: usize,
    },
    /// There is no such own wood.
    #[error("there is no own wood {number}: the list has {count}")]
    NoSuchOwnWood {
        /// The one asked for, from 1.
        number: usize,
        /// How many there are.
        count: usize,
    },
    /// An own wood is used.
    #[error("{name} is still used by {uses}: give that another wood first")]
    OwnWoodInUse {
        /// Its name.
        name: String,
        /// What is of it.
        uses: String,
    },
    /// The list of knots is full.
    #[error("the blank has {MOST_KNOTS} knots marked, and that is the most")]
    TooManyKnots,
    /// A blank that is not square can only be rolled half round.
    #[error("this blank is wider than deep or deeper than wide: roll it half round")]
    NotSquare,
    /// There is no such notch.
    #[error("there is no notch {notch}: the leg has {count}")]
    NoSuchNotch {
        /// The notch asked for, from 1.
        notch: usize,
        /// How many there are.
        count: usize,
    },
    /// There is no picture under the face.
    #[error("there is no picture under {}", cut.face())]
    NoTrace {
        /// The cut on whose face it was looked for.
        cut: Cut,
    },
    /// The picture under the face is locked.
    #[error("the picture under {} is locked: unlock it first", cut.face())]
    TraceLocked {
        /// The cut on whose face it lies.
        cut: Cut,
    },
    /// There is a picture under the face already.
    #[error("there is a picture under {} already: remove that one first", cut.face())]
    TraceThere {
        /// The cut on whose face it lies.
        cut: Cut,
    },
    /// There is no such picture.
    #[error("the project has no such picture")]
    NoSuchPicture,
    /// The points of a line make no saw line.
    #[error("{cut}: {source}")]
    Line {
        /// The cut.
        cut: Cut,
        /// What is wrong.
        source: SawLineError,
    },
    /// A tool does not work on a line.
    #[error("{cut}: {source}")]
    Tool {
        /// The cut.
        cut: Cut,
        /// Why not.
        source: LineToolError,
    },
    /// The blank would have a size that no blank has.
    #[error(transparent)]
    Blank(BlankError),
    /// The project would not be sound.
    #[error(transparent)]
    Project(#[from] ProjectError),
}

impl EditError {
    /// What a tool says about the line of a cut.
    pub(crate) fn tool(cut: Cut, error: LineToolError) -> EditError {
        match error {
            LineToolError::Line(source) => EditError::Line { cut, source },
            source => EditError::Tool { cut, source },
        }
    }
}

impl Project {
    /// The project with one change made. This project stays as it is, and the two share the designs that do not change.
    ///
    /// A dragged point or handle is put as near to where it was dragged as the line allows; everything else is done
    /// exactly or not at all. When this project is valid, so is the next.
    ///
    /// # Errors
    /// [`EditError`] when the change is not possible.
    pub fn apply(&self, edit: &Edit) -> Result<Project, EditError> {
        let mut next = self.clone();
        match edit {
            Edit::RenameProject { name } => next.name.clone_from(name),
            Edit::SetUnits { units } => next.units = *units,
            Edit::SetPaper { paper } => next.paper = paper.clone(),
            Edit::SetLimits { limits } => next.limits = **limits,
            Edit::SetBlades { blades } => next.blades.clone_from(blades),
            Edit::SetWoodLimits { limits } => {
                let sound = limits.check_change(&self.wood_limits);
                sound.map_err(|error| Fault::from(error).at(Place::WoodLimits))?;
                next.wood_limits = **limits;
            }
            Edit::AddOwnWood { row } => next.own_woods.push(SpeciesRow::clone(row)),
            Edit::SetOwnWood { index, row } => next.set_own_wood(*index, row)?,
            Edit::DeleteOwnWood { index } => next.delete_own_wood(*index)?,
            Edit::SetSaw { saw } => next.saw = saw.as_deref().cloned(),
            Edit::AddDesign => next.designs.push(Arc::new(Design::new(self.next_design_id(), self.next_letter()))),
            Edit::DuplicateDesign { design } => {
                let place = self.place_of(*design)?;
                let copy = Design {
                    id: self.next_design_id(),
                    letter: self.next_letter(),
                    name: copy_name(&self.designs[place].name),
                    ..Design::clone(&self.designs[place])
                };
                next.designs.insert(place + 1, Arc::new(copy));
            }
            Edit::AddMockUp { design, factor } => {
                let place = self.place_of(*design)?;
                let small = Design {
                    id: self.next_design_id(),
                    letter: self.next_letter(),
                    ..self.designs[place].mock_up(*factor)?
                };
                small.check(place + 2)?;
                next.designs.insert(place + 1, Arc::new(small));
            }
            Edit::DeleteDesign { design } => {
                let place = self.place_of(*design)?;
                if self.designs.len() == 1 {
                    return Err(EditError::LastDesign);
                }
                next.designs.remove(place);
                next.stand_without(*design);
            }
            Edit::MoveDesign { design, place } => {
                next.pin_standing();
                let moved = next.designs.remove(self.place_of(*design)?);
                next.designs.insert((*place).min(next.designs.len()), moved);
            }
            Edit::SetFurniture { part } => next.furniture = Some(part.done_to(self.furniture.as_ref())),
            Edit::RemoveFurniture => next.furniture = None,
            Edit::ReplacePicture { was, picture } => next.replace_picture(*was, picture)?,
            _ => {
                match edit {
                    Edit::SetTrace { picture: Some(picture), .. } => next.take_in(picture),
                    Edit::SetPhotos { pictures, .. } => pictures.iter().for_each(|picture| next.take_in(picture)),
                    _ => {}
                }
                if let Some(id) = edit.design() {
                    let place = self.place_of(id)?;
                    let design = self.designs[place].changed(edit)?;
                    design.check(place + 1)?;
                    next.designs[place] = Arc::new(design);
                }
            }
        }
        next.let_unused_go(self);
        next.check_frame()?;
        Ok(next)
    }

    fn place_of(&self, id: DesignId) -> Result<usize, EditError> {
        self.designs.iter().position(|design| design.id == id).ok_or(EditError::NoSuchDesign(id))
    }
}

impl Design {
    /// The design with one change made, if it is a sound one.
    pub(crate) fn with_edit(&self, edit: &Edit) -> Option<Design> {
        let next = self.changed(edit).ok()?;
        next.check(1).ok()?;
        Some(next)
    }

    /// The design with one change made; not checked yet. A change that is not about one design changes nothing.
    fn changed(&self, edit: &Edit) -> Result<Design, EditError> {
        let mut next = self.clone();
        match edit {
            Edit::RenameDesign { name, .. } => next.name.clone_from(name),
            Edit::SetLetter { letter, .. } => next.letter = *letter,
            Edit::SetBlank { blank, .. } => next.blank = blank.clone(),
            Edit::SetBlankSize { size, value, .. } => set_size(&mut next.blank, *size, value),
            Edit::MovePoint { cut, .. }
            | Edit::PlacePoint { cut, .. }
            | Edit::MoveHandle { cut, .. }
            | Edit::PlaceHandle { cut, .. }
            | Edit::TieHandles { cut, .. }
            | Edit::AddPoint { cut, .. }
            | Edit::DeletePoint { cut, .. }
            | Edit::SetPointKind { cut, .. }
            | Edit::HoldPin { cut, .. }
            | Edit::ReshapeLine { cut, .. } => *next.line_mut(*cut) = self.line_changed(*cut, edit)?,
            Edit::MovePoints { points, .. } => next = self.with_points_moved(points)?,
            Edit::DeletePoints { points, .. } => next = self.with_points_deleted(points)?,
            Edit::SetShape { cut, shape, .. } => *next.line_mut(*cut) = Line::Shape(shape.clone()),
            Edit::StartFrom { kind, .. } => {
                for cut in Cut::ALL {
                    let shape = Shape::start(*kind, self.blank.length.mm(), self.across_mm(cut));
                    *next.line_mut(cut) = Line::Shape(shape);
                }
            }
            Edit::SetShapeParameter { cut, index, value, .. } => match self.line(*cut) {
                Line::Shape(shape) if *index >= shape.parameters().len() => {
                    return Err(EditError::NoSuchParameter { shape: shape.name(), index: *index });
                }
                Line::Shape(shape) => *next.line_mut(*cut) = Line::Shape(shape.with_parameter(*index, value)),
                other => return Err(EditError::NoShape { cut: *cut, is: what_it_is(other) }),
            },
            Edit::ShapeToPoints { cut, .. } => match self.line(*cut) {
                Line::Shape(shape) => {
                    let points = shape.points(self.blank.length.mm(), self.across_mm(*cut));
                    *next.line_mut(*cut) = Line::Points(points);
                }
                other => return Err(EditError::NoShape { cut: *cut, is: what_it_is(other) }),
            },
            Edit::MakeBatten { cut, tolerance, .. } => {
                let batten = batten_along(&self.points_of_line(*cut)?, self.blank.length.mm(), tolerance.mm());
                *next.line_mut(*cut) = Line::Batten(batten.map_err(|error| EditError::tool(*cut, error))?);
            }
            Edit::BattenToPoints { cut, tolerance, .. } => {
                if !self.is_batten(*cut) {
                    return Err(EditError::NoBatten { cut: *cut });
                }
                let points = simplified(&self.points_of_line(*cut)?, tolerance.mm());
                *next.line_mut(*cut) = Line::Points(points.map_err(|error| EditError::tool(*cut, error))?);
            }
            Edit::LinkCut { link, .. } => next.second = Line::Linked(link.clone()),
            Edit::BreakLink { .. } if !matches!(self.second, Line::Linked(_)) => return Err(EditError::NotLinked),
            Edit::BreakLink { .. } => next.second = self.own_line(Cut::Second).into_owned(),
            Edit::StretchLeg { length, keep, .. } => next = self.stretched(length, keep)?,
            Edit::CopyCut { from: Cut::First, .. } => next.second = self.first.clone(),
            Edit::PinGhost { .. } => next = self.with_ghost(),
            Edit::SwapGhost { .. } => next = self.swapped_with_ghost().ok_or(EditError::NoGhost)?,
            Edit::DropGhost { .. } => drop(next.ghost.take().ok_or(EditError::NoGhost)?),
            // A second cut that followed from the first would change with it, so the link is broken.
            Edit::CopyCut { from: Cut::Second, .. } => {
                next.second = self.own_line(Cut::Second).into_owned();
                next.first = next.second.clone();
            }
            Edit::SetWood { wood, .. } => next.wood = wood.clone(),
            Edit::SetLoad { load, .. } => next.load = *load,
            Edit::Accept { accepted, .. } => {
                next.accepted.retain(|one| one.concern != accepted.concern);
                next.accepted.push(accepted.clone());
            }
            Edit::TakeBack { concern, .. } => next.accepted.retain(|one| one.concern != *concern),
            Edit::Together { edits, design } => {
                // What is about another design, or about none, is not this design's to change.
                for edit in edits.iter().filter(|edit| edit.design() == Some(*design)) {
                    next = next.changed(edit)?;
                }
            }
            Edit::SetWoodPart { part, .. } => next.wood = wood_edits::changed(&self.wood, part)?,
            Edit::SetFinish { finish, .. } => next.finish = *finish,
            Edit::AddKnot { knot, .. } => next.add_knot(knot)?,
            Edit::SetKnot { index, knot, .. } => next.set_knot(*index, knot)?,
            Edit::DeleteKnot { index, .. } => next.delete_knot(*index)?,
            Edit::TurnBlank { turn, .. } => next.turn_blank(*turn)?,
            Edit::SetFit { part, .. } => next.refit(part)?,
            Edit::TakeCurve { cut, points, .. } => *next.line_mut(*cut) = Line::Points(points.clone()),
            Edit::SetTrace { cut, trace, .. } => next = self.with_trace(*cut, trace.as_deref())?,
            Edit::SetPhotos { photos, .. } => next.wood = Wood::Photos(Photos::clone(photos)),
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
            | Edit::DuplicateDesign { .. }
            | Edit::AddMockUp { .. }
            | Edit::DeleteDesign { .. }
            | Edit::MoveDesign { .. }
            | Edit::SetFurniture { .. }
            | Edit::RemoveFurniture
            | Edit::ReplacePicture { .. } => {}
        }
        next.tell_photos();
        Ok(next)
    }
}

/// What a line is, in the words of an error.
fn what_it_is(line: &Line) -> &'static str {
    match line {
        Line::Points(_) => "made of points",
        Line::Shape(_) => "a starting shape",
        Line::Batten(_) => "a batten",
        Line::Linked(_) => "linked to the first cut",
    }
}

fn set_size(blank: &mut Blank, size: BlankSize, value: &Length) {
    match size {
        BlankSize::Width => blank.width = value.clone(),
        BlankSize::Depth => blank.depth = value.clone(),
        BlankSize::Square => (blank.width, blank.depth) = (value.clone(), value.clone()),
        BlankSize::Length => blank.length = value.clone(),
        BlankSize::SpareTop => blank.spare_top = value.clone(),
        BlankSize::SpareFoot => blank.spare_foot = value.clone(),
    }
}

/// "Bench leg copy", cut short where that would be too long for a name.
fn copy_name(name: &str) -> String {
    const COPY: &str = " copy";
    let room = MAX_NAME_CHARS - COPY.len();
    let kept: String = name.chars().take(room).collect();
    kept + COPY
}

use crate::line_edits::Drawn;
use crate::{BlankSize, Design, DesignId, Edit, MAX_NAME_CHARS, Project, ProjectError, wood_edits};
use cornerwise_geometry::line_tools::LineToolError;
use cornerwise_geometry::{Blank, BlankError, Cut, Length, Line, PointId, SawLineError, Shape};
use std::borrow::Cow;
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
    /// The line is points, and has no parameters.
    #[error("the {cut} is made of points, and has no shape to change")]
    IsPoints {
        /// The cut.
        cut: Cut,
    },
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
    #[error("this blank is made of layers, and has no pith of its own")]
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
    /// The blank is made of blocks.
    #[error("this blank is made of blocks, and has neither layers nor a pith of its own")]
    IsBlocks,
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
            }
            Edit::MoveDesign { design, place } => {
                let moved = next.designs.remove(self.place_of(*design)?);
                next.designs.insert((*place).min(next.designs.len()), moved);
            }
            _ => {
                if let Some(id) = edit.design() {
                    let place = self.place_of(id)?;
                    let design = self.designs[place].changed(edit)?;
                    design.check(place + 1)?;
                    next.designs[place] = Arc::new(design);
                }
            }
        }
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
            Edit::MovePoint { cut, point, from_top, offset, .. } => {
                *next.line_mut(*cut) = Line::Points(self.drawn(*cut).moved(*point, from_top, offset)?);
            }
            Edit::PlacePoint { cut, point, from_top, offset, .. } => {
                *next.line_mut(*cut) = Line::Points(self.drawn(*cut).placed(*point, from_top, offset)?);
            }
            Edit::MovePoints { points, .. } => next = self.with_points_moved(points)?,
            Edit::MoveHandle { cut, point, handle, slope, reach_mm, tied, .. } => {
                let points = self.drawn(*cut).handle_moved(*point, *handle, *slope, *reach_mm, *tied)?;
                *next.line_mut(*cut) = Line::Points(points);
            }
            Edit::PlaceHandle { cut, point, handle, slope, reach_mm, .. } => {
                let points = self.drawn(*cut).handle_placed(*point, *handle, *slope, *reach_mm)?;
                *next.line_mut(*cut) = Line::Points(points);
            }
            Edit::TieHandles { cut, point, tied, .. } => {
                *next.line_mut(*cut) = Line::Points(self.drawn(*cut).tied(*point, *tied)?);
            }
            Edit::AddPoint { cut, from_top_mm, .. } => {
                *next.line_mut(*cut) = Line::Points(self.drawn(*cut).added(*from_top_mm)?);
            }
            Edit::DeletePoint { cut, point, .. } => {
                *next.line_mut(*cut) = Line::Points(self.drawn(*cut).deleted(*point)?);
            }
            Edit::DeletePoints { points, .. } => next = self.with_points_deleted(points)?,
            Edit::SetPointKind { cut, point, sharp, .. } => {
                *next.line_mut(*cut) = Line::Points(self.drawn(*cut).made(*point, *sharp)?);
            }
            Edit::SetShape { cut, shape, .. } => *next.line_mut(*cut) = Line::Shape(shape.clone()),
            Edit::StartFrom { kind, .. } => {
                for cut in Cut::ALL {
                    let shape = Shape::start(*kind, self.blank.length.mm(), self.across_mm(cut));
                    *next.line_mut(cut) = Line::Shape(shape);
                }
            }
            Edit::SetShapeParameter { cut, index, value, .. } => match self.line(*cut) {
                Line::Points(_) => return Err(EditError::IsPoints { cut: *cut }),
                Line::Shape(shape) if *index >= shape.parameters().len() => {
                    return Err(EditError::NoSuchParameter { shape: shape.name(), index: *index });
                }
                Line::Shape(shape) => *next.line_mut(*cut) = Line::Shape(shape.with_parameter(*index, value)),
            },
            Edit::ShapeToPoints { cut, .. } => match self.line(*cut) {
                Line::Points(_) => return Err(EditError::IsPoints { cut: *cut }),
                Line::Shape(shape) => {
                    let points = shape.points(self.blank.length.mm(), self.across_mm(*cut));
                    *next.line_mut(*cut) = Line::Points(points);
                }
            },
            Edit::ReshapeLine { cut, tool, .. } => {
                *next.line_mut(*cut) = Line::Points(self.drawn(*cut).reshaped(tool)?);
            }
            Edit::StretchLeg { length, keep, .. } => next = self.stretched(length, keep)?,
            Edit::CopyCut { from: Cut::First, .. } => next.second = self.first.clone(),
            Edit::CopyCut { from: Cut::Second, .. } => next.first = self.second.clone(),
            Edit::PinGhost { .. } => next = self.with_ghost(),
            Edit::SwapGhost { .. } => next = self.swapped_with_ghost().ok_or(EditError::NoGhost)?,
            Edit::DropGhost { .. } => drop(next.ghost.take().ok_or(EditError::NoGhost)?),
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
            Edit::RenameProject { .. }
            | Edit::SetUnits { .. }
            | Edit::SetPaper { .. }
            | Edit::SetSaw { .. }
            | Edit::SetLimits { .. }
            | Edit::AddDesign
            | Edit::DuplicateDesign { .. }
            | Edit::AddMockUp { .. }
            | Edit::DeleteDesign { .. }
            | Edit::MoveDesign { .. } => {}
        }
        Ok(next)
    }

    /// The points of a cut, ready to be changed. Those of a live shape too: a change of one of them is what ends the shape,
    /// and is one step to undo.
    pub(crate) fn drawn(&self, cut: Cut) -> Drawn<'_> {
        let (length_mm, across_mm) = (self.blank.length.mm(), self.across_mm(cut));
        let points = match self.line(cut) {
            Line::Points(points) => Cow::Borrowed(points.as_slice()),
            Line::Shape(shape) => Cow::Owned(shape.points(length_mm, across_mm)),
        };
        Drawn { cut, points, length_mm, across_mm }
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

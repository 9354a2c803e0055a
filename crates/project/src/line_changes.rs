//! What an edit does to the line of one cut, whatever kind of line it is.

use crate::line_edits::Drawn;
use crate::pin_edits::Pinned;
use crate::{Design, Edit, EditError};
use cornerwise_geometry::{Cut, Line, Point};
use std::borrow::Cow;

impl Design {
    /// The line of a cut after an edit of its points or pins, or of the whole line. A live shape or a link ends by it: that is one
    /// step to undo.
    pub(crate) fn line_changed(&self, cut: Cut, edit: &Edit) -> Result<Line, EditError> {
        let line = self.own_line(cut);
        let (length_mm, across_mm) = (self.blank.length.mm(), self.across_mm(cut));
        if let Line::Batten(batten) = &*line {
            let pinned = Pinned { cut, batten, length_mm, across_mm };
            if let Some(batten) = pinned.changed(edit)? {
                return Ok(Line::Batten(batten));
            }
        }
        let mut drawn = self.drawn(cut);
        if let Line::Batten(_) = &*line {
            drawn.points = Cow::Owned(self.points_of_line(cut)?);
        }
        let points = match edit {
            Edit::MovePoint { point, from_top, offset, .. } => drawn.moved(*point, from_top, offset)?,
            Edit::PlacePoint { point, from_top, offset, .. } => drawn.placed(*point, from_top, offset)?,
            Edit::MoveHandle { point, handle, slope, reach_mm, tied, .. } => {
                drawn.handle_moved(*point, *handle, *slope, *reach_mm, *tied)?
            }
            Edit::PlaceHandle { point, handle, slope, reach_mm, .. } => {
                drawn.handle_placed(*point, *handle, *slope, *reach_mm)?
            }
            Edit::TieHandles { point, tied, .. } => drawn.tied(*point, *tied)?,
            Edit::AddPoint { from_top_mm, .. } => drawn.added(*from_top_mm)?,
            Edit::DeletePoint { point, .. } => drawn.deleted(*point)?,
            Edit::SetPointKind { point, sharp, .. } => drawn.made(*point, *sharp)?,
            Edit::ReshapeLine { tool, .. } => drawn.reshaped(tool)?,
            Edit::HoldPin { .. } => return Err(EditError::NoBatten { cut }),
            // Every other edit is about something else than the points of a line.
            _ => drawn.points.into_owned(),
        };
        Ok(Line::Points(points))
    }

    /// What of a cut can be taken hold of, ready to be changed: its points, those of a live shape or a linked line too, or
    /// pins.
    pub(crate) fn drawn(&self, cut: Cut) -> Drawn<'_> {
        let (length_mm, across_mm) = (self.blank.length.mm(), self.across_mm(cut));
        let points = match self.line(cut) {
            Line::Points(points) => Cow::Borrowed(points.as_slice()),
            _ => Cow::Owned(self.points(cut)),
        };
        Drawn { cut, points, length_mm, across_mm }
    }

    /// The points whose cubics are the line of a cut.
    pub(crate) fn points_of_line(&self, cut: Cut) -> Result<Vec<Point>, EditError> {
        self.cubic_points(cut).map_err(|source| EditError::Line { cut, source })
    }
}

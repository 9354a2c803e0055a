//! What every view of one frame is drawn from.

use std::path::PathBuf;
use std::sync::Arc;

use cornerwise_geometry::{Leg, Units};
use cornerwise_project::{Design, Edit, Project};

use cornerwise_project::PictureHash;

use crate::commands::Command;
use crate::darkroom::{For, Prints};
use crate::desk::Job;
use crate::ghost::Shown;
use crate::length_field::Reading;

/// One frame's project, design and leg. Views draw it and change nothing of it; what they would like changed they ask.
pub struct Scene<'a> {
    /// The project, a gesture under way included.
    pub project: &'a Arc<Project>,
    /// The leg's design.
    pub design: &'a Arc<Design>,
    /// The leg.
    pub leg: &'a Arc<Leg>,
    /// The shape that the leg is compared with, where one is pinned.
    pub ghost: Option<&'a Shown>,
    /// Which project this is, counted up by every change.
    pub revision: u64,
    /// Whether something is being dragged.
    pub moving: bool,
    /// The pictures of the project, as far as they are developed.
    pub prints: &'a Prints,
}

impl Scene<'_> {
    /// How lengths are shown.
    pub fn units(&self) -> Units {
        self.project.units
    }

    /// How lengths are typed: with the blank's sizes.
    pub fn reading(&self) -> Reading {
        Reading { units: self.project.units, sizes: Some(self.design.blank.sizes()) }
    }
}

/// What a view would like to have done.
#[derive(Clone, Debug, PartialEq)]
pub enum Ask {
    /// A change to the project. One that needs points turns a live shape into points first.
    Edit(Edit),
    /// What a drag under way has come to: in place of what it had come to before.
    Drag(Edit),
    /// A drag is over.
    DragEnds {
        /// Whether what it came to is kept as one change.
        keep: bool,
    },
    /// A command.
    Command(Command),
    /// Go to where so many of the history's changes are done.
    GoTo(usize),
    /// A new project from one of the built-in demos, by its place in their list.
    Demo(usize),
    /// Open this file instead.
    OpenFile(PathBuf),
    /// Choose a picture's file.
    ChoosePicture(For),
    /// Lay this picture under the face that it was dropped on.
    LayPicture(PathBuf, Option<egui::Pos2>),
    /// Read the curves of this file.
    ReadCurve(PathBuf),
    /// Keep a picture inside the project or beside it.
    KeepPicture {
        /// Which picture.
        hash: PictureHash,
        /// Inside, or beside.
        inside: bool,
    },
    /// Look for a picture again that could not be had.
    DevelopAgain(PictureHash),
    /// Stop reading pictures.
    StopPictures,
    /// A file was chosen for something.
    Chosen(Job, PathBuf),
    /// Say which projects are recent.
    LookForRecent,
    /// Take a file off the list of recent projects.
    ForgetRecent(PathBuf),
    /// Put a recovered copy on the bench, by its name.
    OpenCopy(String),
    /// Save a recovered copy to a file that is asked for.
    SaveCopy(String),
    /// Take a recovered copy away once the list is closed.
    DiscardCopy(String),
    /// Keep a recovered copy after all.
    KeepCopy(String),
    /// Close the list of recovered copies.
    CloseCopies,
    /// Close the hints of the first start.
    CloseHints,
    /// Save over the file, although another program has changed it.
    SaveOver,
    /// Go on with what the quit guard held back, without saving.
    LeaveAnyway,
    /// Save, then go on with what the quit guard held back.
    SaveAndLeave,
    /// Go on working.
    Stay,
    /// Put the notice away.
    Dismiss,
    /// The path that was typed because there is no dialog.
    TypedPath(String),
    /// Put the typed path away.
    CancelTypedPath,
}

impl Ask {
    /// Whether it saves, leaves, prints, undoes or changes the place: then what is being typed in a field is taken
    /// first, so that it is not lost.
    pub fn settles_fields(&self) -> bool {
        match self {
            Ask::Command(command) => command.settles_fields(),
            Ask::GoTo(_)
            | Ask::Demo(_)
            | Ask::OpenFile(_)
            | Ask::Chosen(..)
            | Ask::SaveAndLeave
            | Ask::OpenCopy(_)
            | Ask::SaveOver => true,
            Ask::LookForRecent
            | Ask::ForgetRecent(_)
            | Ask::SaveCopy(_)
            | Ask::DiscardCopy(_)
            | Ask::KeepCopy(_)
            | Ask::CloseCopies
            | Ask::ChoosePicture(_)
            | Ask::LayPicture(..)
            | Ask::ReadCurve(_)
            | Ask::KeepPicture { .. }
            | Ask::DevelopAgain(_)
            | Ask::StopPictures
            | Ask::CloseHints => false,
            Ask::Drag(_) | Ask::DragEnds { .. } => false,
            Ask::Edit(_) | Ask::LeaveAnyway | Ask::Stay | Ask::Dismiss | Ask::TypedPath(_) | Ask::CancelTypedPath => {
                false
            }
        }
    }
}

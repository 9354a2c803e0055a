//! What the maker looks at: nothing of it is the project, so none of it is saved or undone.

use cornerwise_geometry::Concern;
use cornerwise_geometry::{Cut, PointId};
use cornerwise_project::{Design, DesignId, Project};
use std::sync::Arc;

use crate::across::Across;
use crate::fairness::Fairness;
use crate::keep::preferences::Look;
use crate::ruler::{Ruler, Stretch};
use crate::selection::Selection;
use crate::snap::Snaps;
use crate::views::one_page::PageZoom;
use crate::views::panels::Panels;
use crate::views::picking::Picking;

/// A place in the order of the work.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Place {
    /// Where the leg is shaped.
    #[default]
    Shape,
    /// Where its paper is.
    Paper,
}

/// A point of a cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Chosen {
    /// The cut.
    pub cut: Cut,
    /// Its point.
    pub point: PointId,
}

/// A row that folds away.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fold {
    /// Whether it is unfolded.
    pub open: bool,
    /// Its height when it is, points.
    pub height_px: f32,
}

/// The view of a project.
#[derive(Clone, Debug)]
pub struct View {
    /// Where the maker is.
    pub place: Place,
    /// Which leg is shown.
    pub design: DesignId,
    /// What the ruler shows.
    pub ruler: Ruler,
    /// How the rows are stretched across.
    pub across: Across,
    /// How far the faces are moved down where they do not fit their row, points.
    pub shift_px: f32,
    /// The vertical line through all rows, mm from the top.
    pub cursor_mm: f64,
    /// The points that keys, drags and fields work on.
    pub chosen: Selection,
    /// What catches dragged points.
    pub snaps: Snaps,
    /// The small windows beside the faces.
    pub panels: Panels,
    /// The box that is being drawn round points.
    pub picking: Option<Picking>,
    /// The row of the sides and seams.
    pub sides: Fold,
    /// The row of graphs.
    pub along: Fold,
    /// What an eye for fairness asks to see on the lines.
    pub fairness: Fairness,
    /// Light and dark.
    pub look: Look,
    /// Text and controls, percent of their usual size.
    pub scale_percent: u32,
    /// Pixels of the screen per millimetre, once they have been measured.
    pub screen_px_per_mm: Option<f64>,
    /// Whether the wood under the lines is as strong as on the leg.
    pub strong_wood: bool,
    /// The watch-out that is unfolded.
    pub watched: Option<Concern>,
    /// How far the leg is turned about its axis, degrees.
    pub turn_deg: f64,
    /// How far it is looked at from above, degrees.
    pub tilt_deg: f64,
    /// From the blank, 0, to the finished leg, 1.
    pub opening: f64,
    /// Which page of the paper is shown large, from 0.
    pub page: usize,
    /// Whether one page is shown large, or all of them.
    pub one_page: bool,
    /// How large that page is shown.
    pub page_zoom: PageZoom,
}

impl View {
    /// The calm view that a project opens with.
    pub fn of(project: &Project) -> View {
        let design = project.designs.first();
        View {
            place: Place::Shape,
            design: design.map_or(DesignId(0), |design| design.id),
            ruler: Ruler::Whole,
            across: Across::Fill,
            shift_px: 0.0,
            cursor_mm: design.map_or(0.0, |design| design.blank.length.mm() / 2.0),
            chosen: Selection::default(),
            snaps: Snaps::usual(project.units),
            panels: Panels::default(),
            picking: None,
            sides: Fold { open: false, height_px: 300.0 },
            along: Fold { open: false, height_px: 250.0 },
            fairness: Fairness::default(),
            look: Look::default(),
            scale_percent: 100,
            screen_px_per_mm: None,
            strong_wood: false,
            watched: None,
            turn_deg: START_TURN_DEG,
            tilt_deg: START_TILT_DEG,
            opening: 1.0,
            page: 0,
            one_page: false,
            page_zoom: PageZoom::Whole,
        }
    }

    /// The leg that is shown: the first one when the chosen one is gone.
    pub fn shown<'a>(&self, project: &'a Project) -> Option<&'a Arc<Design>> {
        project.design(self.design).or_else(|| project.designs.first())
    }
}

/// How the leg is turned at first: two sides in view.
pub const START_TURN_DEG: f64 = 35.0;
/// From how far above it is looked at first.
pub const START_TILT_DEG: f64 = 12.0;

/// The stretch that a design's blank takes up, spare length included.
pub fn blank_stretch(design: &Design) -> Stretch {
    Stretch { from_mm: -design.blank.spare_top.mm(), to_mm: design.blank.length.mm() + design.blank.spare_foot.mm() }
}

//! What the maker looks at: nothing of it is the project, so none of it is saved or undone.

use cornerwise_geometry::{Along, Concern, Cut, PointId};
use cornerwise_project::{Design, DesignId, Project};
use std::sync::Arc;

use crate::across::Across;
use crate::fairness::Fairness;
use crate::fit_view::FitView;
use crate::furniture_view::FurnitureView;
use crate::keep::preferences::Look;
use crate::ruler::{Ruler, Stretch};
use crate::selection::Selection;
use crate::snap::Snaps;
use crate::views::curve::Import;
use crate::views::one_page::PageZoom;
use crate::views::panels::Panels;
use crate::views::picking::Picking;
use crate::views::watch::{Measured, UsualSaw};

/// A place in the order of the work.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Place {
    /// Where the leg is shaped.
    #[default]
    Shape,
    /// Where it is fitted: pipe hole, inside piece, notches.
    Fit,
    /// Where legs and boards are put together.
    Furniture,
    /// Where its paper is.
    Paper,
}

/// Which leg is shown where a saw is told: as drawn, as the saw gives it, or both.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum LegAs {
    /// As drawn.
    Drawn,
    /// As sawn.
    Sawn,
    /// Both.
    #[default]
    Both,
}

impl LegAs {
    /// All of them.
    pub const ALL: [LegAs; 3] = [LegAs::Drawn, LegAs::Sawn, LegAs::Both];

    /// What it is called.
    pub fn name(self) -> &'static str {
        match self {
            LegAs::Drawn => "drawn",
            LegAs::Sawn => "sawn",
            LegAs::Both => "both",
        }
    }

    /// Whether the leg as drawn is shown.
    pub fn drawn(self) -> bool {
        self != LegAs::Sawn
    }

    /// Whether the leg as sawn is shown.
    pub fn sawn(self) -> bool {
        self != LegAs::Drawn
    }

    /// The one after it.
    #[must_use]
    pub fn next(self) -> LegAs {
        match self {
            LegAs::Drawn => LegAs::Sawn,
            LegAs::Sawn => LegAs::Both,
            LegAs::Both => LegAs::Drawn,
        }
    }
}

/// A point of a cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Chosen {
    /// The cut.
    pub cut: Cut,
    /// Its point.
    pub point: PointId,
}

/// A part of the column of watch-outs that folds away.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WatchPart {
    /// The saw.
    Saw,
    /// The load.
    Load,
    /// The limits.
    Limits,
}

/// A row that folds away.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fold {
    /// Whether it is unfolded.
    pub open: bool,
    /// Its height when it is, points.
    pub height_px: f32,
}

/// What is being marked on a picture under a face.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Tracing {
    /// Two places of the picture, as shares of its width and height.
    pub marks: [Option<[f64; 2]>; 2],
    /// Whether the next clicks on the face set them.
    pub marking: bool,
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
    /// A curve that is being brought in.
    pub import: Option<Import>,
    /// What is marked on the picture under a face.
    pub tracing: Tracing,
    /// The box that is being drawn round points.
    pub picking: Option<Picking>,
    /// The row of the sides and seams.
    pub sides: Fold,
    /// The row of graphs.
    pub along: Fold,
    /// The graphs in it.
    pub graphs: Vec<Along>,
    /// As drawn, as sawn or both, where a saw is told.
    pub leg_as: LegAs,
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
    /// What was measured on the saw, before it is put into its fields.
    pub measured: Measured,
    /// The saw and the blades that the maker usually works with.
    pub usual_saw: UsualSaw,
    /// Whether the sides show which way they are cleaned up.
    pub clean_up: bool,
    /// The watch-out that is unfolded.
    pub watched: Option<Concern>,
    /// The part of the column of watch-outs that was asked for: it is unfolded and brought into sight in the next frame.
    pub unfold: Option<WatchPart>,
    /// Where the maker has put the line between section and watch-outs, points from the top; none where it is as usual.
    pub watch_top_px: Option<f32>,
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
    /// What is looked at where the leg is fitted.
    pub fit: FitView,
    /// What is looked at where legs and boards are put together.
    pub furniture: FurnitureView,
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
            import: None,
            tracing: Tracing::default(),
            picking: None,
            sides: Fold { open: false, height_px: 300.0 },
            along: Fold { open: false, height_px: 250.0 },
            graphs: vec![Along::Thickness, Along::EdgeAngle, Along::LineSlope, Along::BendRadius],
            leg_as: LegAs::default(),
            fairness: Fairness::default(),
            look: Look::default(),
            scale_percent: 100,
            screen_px_per_mm: None,
            strong_wood: false,
            measured: Measured::default(),
            usual_saw: UsualSaw::default(),
            clean_up: false,
            watched: None,
            unfold: None,
            watch_top_px: None,
            turn_deg: START_TURN_DEG,
            tilt_deg: START_TILT_DEG,
            opening: 1.0,
            page: 0,
            one_page: false,
            fit: FitView::default(),
            furniture: FurnitureView::default(),
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

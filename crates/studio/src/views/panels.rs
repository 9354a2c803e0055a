//! Small windows that stay open while the leg is shaped: what a leg begins with, the starting shapes, the points of a cut,
//! what is done to a whole line, a mock-up, the measuring of the screen. Esc closes the one that is nearest at hand.

use cornerwise_geometry::{Cut, Face, Shape};
use cornerwise_project::Edit;
use egui::{Align2, Id, Pos2, Ui, Window, pos2, vec2};

use super::head::gallery;
use super::{curve, knots, measure, mock_up, own_woods, photos, points_table, starter, trace, whole_line, wood_limits};
use crate::patch::Painted;
use crate::scene::{Ask, Scene};
use crate::view::View;

/// Which of them are open.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Panels {
    /// What a leg begins with: its blank and a shape.
    pub starter: bool,
    /// The starting shapes of a cut.
    pub gallery: Option<Cut>,
    /// The table of the points of a cut.
    pub points: Option<Cut>,
    /// What is done to the whole line of a cut.
    pub whole_line: Option<Cut>,
    /// The picture under the face of a cut.
    pub trace: Option<Cut>,
    /// The photo of a face of the blank.
    pub photos: Option<Face>,
    /// A mock-up of the leg.
    pub mock_up: bool,
    /// Knots of the blank.
    pub knots: bool,
    /// The maker's own woods.
    pub own_woods: bool,
    /// The limits of seams and faces.
    pub wood_limits: bool,
    /// The search for changes that make seams meet.
    pub seam_fixes: bool,
    /// The measuring of the screen.
    pub measure: bool,
}

impl Panels {
    /// Closes one of them: the last in the order in which they lie on each other at first. The answer is whether any
    /// was open.
    pub fn close_one(&mut self) -> bool {
        let was = *self;
        let flags = [
            &mut self.measure,
            &mut self.seam_fixes,
            &mut self.wood_limits,
            &mut self.own_woods,
            &mut self.knots,
            &mut self.mock_up,
        ];
        if let Some(open) = flags.into_iter().find(|open| **open) {
            *open = false;
        } else if self.photos.take().is_none()
            && self.trace.take().is_none()
            && self.gallery.take().is_none()
            && self.whole_line.take().is_none()
            && self.points.take().is_none()
        {
            self.starter = false;
        }
        was != *self
    }
}

/// Opens what belongs to a cut, or closes it where it is open for that cut.
pub fn toggle(open: &mut Option<Cut>, cut: Cut) {
    *open = if *open == Some(cut) { None } else { Some(cut) };
}

/// The right upper corner of a panel at the right of the window: what is laid on a face must not lie over it.
fn beside_the_faces(ui: &Ui) -> Pos2 {
    let window = ui.ctx().content_rect();
    pos2(window.right() - 10.0, window.top() + 54.0)
}

/// Shows those that are open, beside the row head. `painted` is where the surfaces of the blank are painted.
pub fn show(ui: &Ui, scene: &Scene<'_>, painted: &Painted, view: &mut View, asks: &mut Vec<Ask>) {
    let beside = ui.max_rect().left_top() + vec2(super::head::WIDTH + 16.0, 0.0);
    let room = ui.max_rect();
    let window = |title: String, id: &'static str, down: f32| {
        Window::new(title)
            .id(Id::unique(id))
            .default_pos(pos2(beside.x, beside.y + down))
            .constrain_to(room)
            .collapsible(false)
            .fade_in(false)
            .fade_out(false)
    };
    if view.panels.starter {
        let mut open = true;
        let shown = window("A new leg".to_owned(), "starter", 48.0).resizable(false).open(&mut open);
        let done = shown.show(ui.ctx(), |ui| starter::show(ui, scene, asks)).and_then(|shown| shown.inner);
        view.panels.starter = open && done != Some(true);
    }
    if let Some(cut) = view.panels.gallery {
        let mut open = true;
        let now = starter::shape_of(scene.design.line(cut));
        let shown = window(format!("Starting shapes of the {cut}"), "gallery", 60.0).resizable(false).open(&mut open);
        let picked = shown.show(ui.ctx(), |ui| gallery::show(ui, scene, Some(cut), now)).and_then(|shown| shown.inner);
        if let Some(kind) = picked.flatten() {
            let shape = Shape::start(kind, scene.leg.length_mm, scene.leg.across_mm(cut));
            asks.push(Ask::Edit(Edit::SetShape { design: scene.design.id, cut, shape }));
        }
        view.panels.gallery = view.panels.gallery.filter(|_| open);
    }
    if let Some(cut) = view.panels.points {
        let mut open = true;
        // Low in the window, over the graphs, so that faces and sides stay in sight.
        window(format!("Points of the {cut}"), "points of a cut", 0.0)
            .default_pos(pos2(beside.x, room.bottom() - 266.0))
            .default_size([540.0, 250.0])
            .open(&mut open)
            .show(ui.ctx(), |ui| points_table::show(ui, scene, cut, view, asks));
        view.panels.points = view.panels.points.filter(|_| open);
    }
    if let Some(cut) = view.panels.whole_line {
        let mut open = true;
        window(format!("The whole {cut}"), "whole line", 420.0)
            .resizable(false)
            .open(&mut open)
            .show(ui.ctx(), |ui| whole_line::show(ui, scene, cut, asks));
        view.panels.whole_line = view.panels.whole_line.filter(|_| open);
    }
    if let Some(cut) = view.panels.trace {
        let mut open = true;
        // Beside the faces, not on them: the picture is there.
        let at = beside_the_faces(ui);
        window("Picture under a face".to_owned(), "trace", 150.0)
            .pivot(Align2::RIGHT_TOP)
            .default_pos(at)
            .constrain_to(ui.ctx().content_rect())
            .resizable(false)
            .open(&mut open)
            .show(ui.ctx(), |ui| trace::show(ui, scene, cut, view, asks));
        if !open {
            (view.panels.trace, view.tracing) = (None, crate::view::Tracing::default());
        }
    }
    if let Some(face) = view.panels.photos {
        let mut open = true;
        // Low in the window: the faces, which change with the corners, stay in sight.
        window("Photos of the blank".to_owned(), "photos", 150.0)
            .pivot(Align2::RIGHT_BOTTOM)
            .default_pos(room.right_bottom() - vec2(10.0, 10.0))
            .constrain_to(ui.ctx().content_rect())
            .resizable(false)
            .open(&mut open)
            .show(ui.ctx(), |ui| photos::show(ui, scene, face, painted, view, asks));
        view.panels.photos = view.panels.photos.filter(|_| open);
    }
    if view.import.is_some() {
        let mut open = true;
        let at = beside_the_faces(ui);
        window("A curve from elsewhere".to_owned(), "curve", 150.0)
            .pivot(Align2::RIGHT_TOP)
            .default_pos(at)
            .constrain_to(ui.ctx().content_rect())
            .resizable(false)
            .open(&mut open)
            .show(ui.ctx(), |ui| curve::show(ui, scene, view, asks));
        view.import = view.import.take().filter(|_| open);
    }
    type Contents<'a> = &'a dyn Fn(&mut Ui, &Scene<'_>, &mut Vec<Ask>);
    let on_map: Contents<'_> = &|ui, scene, asks| knots::show(ui, scene, painted, asks);
    // Each has a place of its own, so that none opens behind another: knots at the upper left, own woods below them at the
    // lower left, limits at the upper right, a mock-up at the lower right.
    let right = ui.ctx().content_rect().right() - 10.0;
    let plain: [(&mut bool, &str, &'static str, Align2, Pos2, Contents<'_>); 4] = [
        (
            &mut view.panels.mock_up,
            "Mock-up",
            "mock-up",
            Align2::RIGHT_BOTTOM,
            pos2(right, room.bottom() - 10.0),
            &mock_up::show,
        ),
        (&mut view.panels.knots, "Knots of the blank", "knots", Align2::LEFT_TOP, beside + vec2(0.0, 40.0), on_map),
        (
            &mut view.panels.own_woods,
            "Own woods",
            "own woods",
            Align2::LEFT_BOTTOM,
            pos2(beside.x, room.bottom() - 10.0),
            &own_woods::show,
        ),
        (
            &mut view.panels.wood_limits,
            "Limits of seams and faces",
            "wood limits",
            Align2::RIGHT_TOP,
            beside_the_faces(ui),
            &wood_limits::show,
        ),
    ];
    for (open, title, id, corner, at, contents) in plain {
        if *open {
            window(title.to_owned(), id, 0.0)
                .pivot(corner)
                .default_pos(at)
                .constrain_to(ui.ctx().content_rect())
                .resizable(false)
                .open(open)
                .show(ui.ctx(), |ui| contents(ui, scene, asks));
        }
    }
}

/// Shows the measuring of the screen, which every place may ask for.
pub fn show_measure(ui: &Ui, view: &mut View, units: cornerwise_geometry::Units, asks: &mut Vec<Ask>) {
    if view.panels.measure {
        let mut open = true;
        let shown = Window::new("Measure this screen")
            .id(Id::unique("measure this screen"))
            .default_pos(ui.max_rect().left_top() + vec2(super::head::WIDTH + 40.0, 90.0))
            .collapsible(false)
            .resizable(false)
            .fade_in(false)
            .fade_out(false)
            .open(&mut open)
            .show(ui.ctx(), |ui| measure::show(ui, view, units, asks));
        let done = shown.and_then(|shown| shown.inner).unwrap_or(false);
        view.panels.measure = open && !done;
    }
}

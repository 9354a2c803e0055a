//! Small windows that stay open while the leg is shaped: the points of a cut, what is done to a whole line, a mock-up.

use cornerwise_geometry::Cut;
use egui::{Id, Ui, Window, pos2};

use super::{curve, knots, mock_up, own_woods, points_table, trace, whole_line, wood_limits};
use crate::scene::{Ask, Scene};
use crate::view::View;

/// Which of them are open.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Panels {
    /// The table of the points of a cut.
    pub points: Option<Cut>,
    /// What is done to the whole line of a cut.
    pub whole_line: Option<Cut>,
    /// The picture under the face of a cut.
    pub trace: Option<Cut>,
    /// A mock-up of the leg.
    pub mock_up: bool,
    /// Knots of the blank.
    pub knots: bool,
    /// The maker's own woods.
    pub own_woods: bool,
    /// The limits of seams and faces.
    pub wood_limits: bool,
}

/// At the right of the window: what is laid on a face must not lie over it.
fn beside_the_faces(ui: &Ui) -> egui::Pos2 {
    let window = ui.ctx().content_rect();
    pos2(window.right() - 350.0, window.top() + 54.0)
}

/// Shows those that are open, beside the row head.
pub fn show(ui: &Ui, scene: &Scene<'_>, view: &mut View, asks: &mut Vec<Ask>) {
    let beside = ui.max_rect().left_top() + egui::vec2(super::head::WIDTH + 16.0, 0.0);
    let window = |title: String, id: &'static str, down: f32| {
        Window::new(title)
            .id(Id::unique(id))
            .default_pos(pos2(beside.x, beside.y + down))
            .collapsible(false)
            .fade_in(false)
            .fade_out(false)
    };
    if let Some(cut) = view.panels.points {
        let mut open = true;
        window(format!("Points of the {cut}"), "points of a cut", 380.0)
            .default_size([540.0, 230.0])
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
            .default_pos(at)
            .resizable(false)
            .open(&mut open)
            .show(ui.ctx(), |ui| trace::show(ui, scene, cut, view, asks));
        if !open {
            (view.panels.trace, view.tracing) = (None, crate::view::Tracing::default());
        }
    }
    if view.import.is_some() {
        let mut open = true;
        let at = beside_the_faces(ui);
        window("A curve from elsewhere".to_owned(), "curve", 150.0)
            .default_pos(at)
            .resizable(false)
            .open(&mut open)
            .show(ui.ctx(), |ui| curve::show(ui, scene, view, asks));
        view.import = view.import.take().filter(|_| open);
    }
    if view.panels.mock_up {
        let mut open = true;
        window("Mock-up".to_owned(), "mock-up", 40.0)
            .resizable(false)
            .open(&mut open)
            .show(ui.ctx(), |ui| mock_up::show(ui, scene, asks));
        view.panels.mock_up = open;
    }
    if view.panels.knots {
        let mut open = true;
        window("Knots of the blank".to_owned(), "knots", 40.0)
            .resizable(false)
            .open(&mut open)
            .show(ui.ctx(), |ui| knots::show(ui, scene, asks));
        view.panels.knots = open;
    }
    if view.panels.own_woods {
        let mut open = true;
        window("Own woods".to_owned(), "own woods", 40.0)
            .resizable(false)
            .open(&mut open)
            .show(ui.ctx(), |ui| own_woods::show(ui, scene, asks));
        view.panels.own_woods = open;
    }
    if view.panels.wood_limits {
        let mut open = true;
        window("Limits of seams and faces".to_owned(), "wood limits", 40.0)
            .resizable(false)
            .open(&mut open)
            .show(ui.ctx(), |ui| wood_limits::show(ui, scene, asks));
        view.panels.wood_limits = open;
    }
}

//! Choosing points by a box drawn round them.

use cornerwise_geometry::Cut;
use egui::{Key, Painter, PointerButton, Pos2, Rect, Stroke, StrokeKind, Ui};

use crate::scene::Scene;
use crate::selection::Selection;
use crate::sheet::Sheet;
use crate::tokens::Tokens;
use crate::view::{Chosen, View};

/// A box that is being drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Picking {
    /// Its first corner.
    from: Pos2,
    /// What was chosen before, and is again when it is dropped.
    before: Selection,
    /// Whether what is in it is chosen beside what was chosen before.
    added: bool,
}

/// Draws a box while the empty ground is dragged, and chooses what is in it; with Shift or Ctrl, beside what is chosen.
pub fn show(ui: &Ui, painter: &Painter, ground: &egui::Response, sheets: &[Sheet], scene: &Scene<'_>, view: &mut View) {
    let (origin, at, adding, dropped) = ui.input(|i| {
        let adding = i.modifiers.shift || i.modifiers.command;
        (i.pointer.press_origin(), i.pointer.interact_pos(), adding, i.key_pressed(Key::Escape))
    });
    if ground.drag_started_by(PointerButton::Primary)
        && !panning(ui)
        && let Some(from) = origin
    {
        view.picking = Some(Picking { from, before: view.chosen.clone(), added: adding });
    }
    let Some(picking) = view.picking.take() else { return };
    if dropped {
        view.chosen = picking.before;
        ui.ctx().stop_dragging();
        return;
    }
    let area = at.map_or(Rect::NOTHING, |at| Rect::from_two_pos(picking.from, at));
    view.chosen = picking.before.clone();
    if !picking.added {
        view.chosen.clear();
    }
    view.chosen.add_all(inside(area, sheets, scene));
    let t = Tokens::here(ui);
    painter.rect(area, 0.0, t.ink.gamma_multiply(0.07), Stroke::new(1.0, t.ink), StrokeKind::Middle);
    if ground.dragged_by(PointerButton::Primary) {
        view.picking = Some(picking);
    } else {
        ground.request_focus();
    }
}

/// Whether a drag moves the faces and does not choose: the space bar is held.
pub fn panning(ui: &Ui) -> bool {
    ui.input(|i| i.key_down(Key::Space))
}

/// The points in a box, the first cut's first, each from the top.
fn inside(area: Rect, sheets: &[Sheet], scene: &Scene<'_>) -> Vec<Chosen> {
    let mut all = Vec::new();
    for cut in Cut::ALL {
        let Some(sheet) = sheets.iter().find(|sheet| sheet.cut == cut) else { continue };
        let points = scene.design.points(cut).into_iter();
        let within = points.filter(|point| area.contains(sheet.pos([point.from_top.mm(), point.offset.mm()])));
        all.extend(within.map(|point| Chosen { cut, point: point.id }));
    }
    all
}

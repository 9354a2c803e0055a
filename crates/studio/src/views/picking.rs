//! Choosing points by a box drawn round them.

use cornerwise_geometry::Cut;
use egui::{CursorIcon, Id, Key, Painter, PointerButton, Pos2, Rect, Response, Stroke, StrokeKind, Ui, Vec2};

use crate::ruler::Axis;
use crate::scene::Scene;
use crate::selection::Selection;
use crate::sheet::Sheet;
use crate::tokens::Tokens;
use crate::view::{Chosen, View, blank_stretch};
use crate::views::faces;

/// A box that is being drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Picking {
    /// The ground it is drawn on.
    on: Id,
    /// Its first corner.
    from: Pos2,
    /// What was chosen before, and is again when it is dropped.
    before: Selection,
    /// Whether what is in it is chosen beside what was chosen before.
    added: bool,
}

/// Draws a box while the empty ground is dragged, and chooses what is in it; with Shift or Ctrl, beside what is chosen.
pub fn show(ui: &Ui, painter: &Painter, ground: &Response, sheets: &[Sheet], scene: &Scene<'_>, view: &mut View) {
    // Of a ground that has been folded away under the hand, nothing more is heard.
    if ui.input(|i| !i.pointer.any_down() && !i.pointer.any_released()) {
        view.picking = None;
    }
    let (origin, at, adding, dropped) = ui.input(|i| {
        let adding = i.modifiers.shift || i.modifiers.command;
        (i.pointer.press_origin(), i.pointer.interact_pos(), adding, i.key_pressed(Key::Escape))
    });
    if ground.drag_started_by(PointerButton::Primary)
        && !panning(ui)
        && let Some(from) = origin
    {
        view.picking = Some(Picking { on: ground.id, from, before: view.chosen.clone(), added: adding });
    }
    let Some(picking) = view.picking.take_if(|picking| picking.on == ground.id) else { return };
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
        // Wherever they were chosen, arrow keys move them as they lie on the faces.
        ui.memory_mut(|memory| memory.request_focus(faces::id()));
    }
}

/// Whether a drag moves the faces and does not choose: the space bar is held.
pub fn panning(ui: &Ui) -> bool {
    ui.input(|i| i.key_down(Key::Space))
}

/// Scrolls along while the ground is dragged with the middle button, or with the space bar held. The answer is how far.
pub fn pan(ui: &Ui, ground: &Response, axis: Axis, scene: &Scene<'_>, view: &mut View) -> Vec2 {
    let by_space = ground.dragged_by(PointerButton::Primary) && panning(ui) && view.picking.is_none();
    if !(ground.dragged_by(PointerButton::Middle) || by_space) || scene.moving {
        return Vec2::ZERO;
    }
    let by = ground.drag_delta();
    view.ruler.scroll(axis, blank_stretch(scene.design), by.x);
    ui.ctx().set_cursor_icon(CursorIcon::Grabbing);
    by
}

/// The points in a box, the first cut's first, each from the top. On an outline, a point is where its line's mirror is.
fn inside(area: Rect, sheets: &[Sheet], scene: &Scene<'_>) -> Vec<Chosen> {
    let mut all = Vec::new();
    for cut in Cut::ALL {
        let within = |at: [f64; 2]| sheets.iter().any(|sheet| sheet.cut == cut && area.contains(sheet.pos(at)));
        let points = scene.design.points(cut).into_iter();
        let within = points.filter(|point| within([point.from_top.mm(), point.offset.mm()]));
        all.extend(within.map(|point| Chosen { cut, point: point.id }));
    }
    all
}

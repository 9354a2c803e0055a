//! The strip with the ticks that all rows share.

use std::sync::Arc;

use egui::{Align2, CursorIcon, Galley, Id, Painter, Rect, Role, Sense, Stroke, Ui, WidgetInfo, pos2, vec2};

use crate::ruler::{Axis, ticks};
use crate::scene::Scene;
use crate::tokens::{self, Tokens};
use crate::view::{View, blank_stretch};

/// Its height, points.
pub const HEIGHT: f32 = 34.0;

/// Shows the ruler in `rect`. Dragging it scrolls.
pub fn show(ui: &Ui, rect: Rect, axis: Axis, scene: &Scene<'_>, view: &mut View) {
    let t = Tokens::here(ui);
    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 0.0, t.ground);
    let response = ui.interact(rect, Id::unique("ruler"), Sense::click_and_drag());
    response.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, "ruler, from top"));
    if response.dragged() {
        view.ruler.scroll(axis, blank_stretch(scene.design), response.drag_delta().x);
    }
    if response.double_clicked() {
        view.ruler = crate::ruler::Ruler::Whole;
    }
    let shown = axis.shown();
    let flag = flag(&painter, t, rect, axis, scene, view.cursor_mm);
    for tick in ticks(shown, axis.px_per_mm, scene.units()) {
        let x = axis.x(tick.s_mm);
        let (long, colour) = if tick.label.is_some() { (9.0, t.ink) } else { (5.0, t.edge) };
        painter.vline(x, rect.bottom() - long..=rect.bottom(), Stroke::new(1.0, colour));
        if let Some(label) = tick.label {
            let galley = painter.layout_no_wrap(label, tokens::small(), t.soft);
            let place = Align2::CENTER_BOTTOM.anchor_size(pos2(x, rect.bottom() - 11.0), galley.size());
            if flag.as_ref().is_none_or(|(flag, _)| !flag.expand2(vec2(3.0, 0.0)).x_range().intersects(place.x_range()))
            {
                painter.galley(place.min, galley, t.soft);
            }
        }
    }
    painter.hline(rect.x_range(), rect.bottom() - 0.5, Stroke::new(1.0, t.edge));
    if let Some((flag, galley)) = flag {
        painter.rect_filled(flag, 3.0, t.chosen);
        painter.galley(flag.min + vec2(6.0, 2.0), galley, t.on_chosen);
        painter.vline(axis.x(view.cursor_mm), flag.bottom()..=rect.bottom(), Stroke::new(1.0, t.soft));
    }
    response.on_hover_cursor(CursorIcon::ResizeHorizontal);
}

/// The flag with the cursor's distance from the top.
fn flag(
    painter: &Painter,
    t: &Tokens,
    rect: Rect,
    axis: Axis,
    scene: &Scene<'_>,
    cursor_mm: f64,
) -> Option<(Rect, Arc<Galley>)> {
    let x = axis.x(cursor_mm);
    if !rect.x_range().contains(x) {
        return None;
    }
    let galley = painter.layout_no_wrap(scene.units().show_with_unit(cursor_mm), tokens::small(), t.on_chosen);
    let size = galley.size() + vec2(12.0, 4.0);
    let left = (x - size.x / 2.0).min(rect.right() - size.x - 1.0).max(rect.left() + 1.0);
    Some((Rect::from_min_size(pos2(left, rect.top() + 4.0), size), galley))
}

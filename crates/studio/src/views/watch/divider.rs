//! The line between the level section and the watch-outs: dragged, or moved with the arrows, to give either more room.

use egui::{CursorIcon, Id, Key, Rect, Role, Sense, Stroke, Ui, WidgetInfo, pos2};

use crate::tokens::Tokens;

/// How near to the line it is taken hold of, points.
const GRIP_PX: f32 = 4.0;
/// How far an arrow moves it, points.
const STEP_PX: f32 = 24.0;

/// Where the list begins in `rect`, points from its top: as the maker has put it, or as is usual, and no nearer to either end
/// than `least`. Answers where it is put now.
pub fn show(ui: &Ui, rect: Rect, usual_px: f32, least_px: [f32; 2], put_px: &mut Option<f32>) -> f32 {
    let most = (rect.height() - least_px[1]).max(0.0);
    let held = |px: f32| px.min(most).max(least_px[0].min(most));
    let now = held(put_px.unwrap_or(usual_px));
    let y = rect.top() + now;
    let line = Rect::from_x_y_ranges(rect.x_range(), y - GRIP_PX..=y + GRIP_PX);
    let response = ui.interact(line, Id::unique("room for watch-outs"), Sense::click_and_drag());
    response.widget_info(|| WidgetInfo::labeled(Role::Splitter, true, "room for watch-outs"));
    let mut moved = response.drag_delta().y;
    if response.has_focus() {
        ui.memory_mut(|memory| {
            let arrows = egui::EventFilter { vertical_arrows: true, ..egui::EventFilter::default() };
            memory.set_focus_lock_filter(response.id, arrows);
        });
        moved += ui.input(|i| {
            let pressed = |key: Key| i.num_presses(key) as f32;
            STEP_PX * (pressed(Key::ArrowDown) - pressed(Key::ArrowUp))
        });
    }
    if response.double_clicked() {
        *put_px = None;
    } else if moved != 0.0 {
        *put_px = Some(held(now + moved));
    }
    if response.hovered() || response.dragged() || response.has_focus() {
        let t = Tokens::here(ui);
        let ends = [pos2(rect.left(), y), pos2(rect.right(), y)];
        ui.painter().line_segment(ends, Stroke::new(2.0, t.ink));
    }
    response.on_hover_cursor(CursorIcon::ResizeVertical).on_hover_text("Drag, or arrows; double-click as usual");
    held(put_px.unwrap_or(usual_px))
}

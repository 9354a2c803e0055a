//! One page of the paper, large: zoomed by the wheel, moved by the hand.

use cornerwise_export::sheets::Sheet;
use egui::{CursorIcon, Id, Rect, Role, Sense, Ui, Vec2, WidgetInfo, pos2, vec2};

use crate::sheet_paint::{self, ScreenFromSheet};
use crate::tokens::{ROOMY, Tokens};

/// The most a page is zoomed to, points per millimetre.
const MOST: f64 = 60.0;

/// How large a page is shown.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum PageZoom {
    /// As large as it fits.
    #[default]
    Whole,
    /// So many times as large as it fits, its middle moved.
    Times(f64, Vec2),
    /// Points per millimetre, its middle moved.
    Size(f64, Vec2),
}

impl PageZoom {
    /// At a size, points per millimetre.
    pub fn at(px_per_mm: f64) -> PageZoom {
        PageZoom::Size(px_per_mm, Vec2::ZERO)
    }

    /// So much larger about the middle of the window.
    pub fn by(&mut self, factor: f64) {
        let moved = |by: Vec2| by * factor as f32;
        *self = match *self {
            PageZoom::Whole => PageZoom::Times(factor, Vec2::ZERO),
            PageZoom::Times(times, by) => PageZoom::Times(times * factor, moved(by)),
            PageZoom::Size(px_per_mm, by) => PageZoom::Size(px_per_mm * factor, moved(by)),
        };
        if matches!(*self, PageZoom::Times(times, _) if times <= 1.0 + 1e-9) {
            *self = PageZoom::Whole;
        }
    }

    /// Points per millimetre where the whole page takes `fits`, and how far its middle is moved.
    fn in_points(self, fits: f64) -> (f64, Vec2) {
        let (px_per_mm, by) = match self {
            PageZoom::Whole => (fits, Vec2::ZERO),
            PageZoom::Times(times, by) => (fits * times, by),
            PageZoom::Size(px_per_mm, by) => (px_per_mm, by),
        };
        (px_per_mm.clamp(1e-3, MOST), by)
    }

    fn moved(self, by: Vec2) -> PageZoom {
        match self {
            PageZoom::Whole => PageZoom::Whole,
            PageZoom::Times(times, _) => PageZoom::Times(times, by),
            PageZoom::Size(px_per_mm, _) => PageZoom::Size(px_per_mm, by),
        }
    }
}

/// Shows the page in `room`.
pub fn show(ui: &Ui, room: Rect, sheet: &Sheet, label: &str, zoom: &mut PageZoom) {
    let response = ui.interact(room, Id::unique("large page"), Sense::click_and_drag());
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, label));
    let inner = room.shrink(ROOMY);
    let fits = (f64::from(inner.width()) / sheet.width_mm).min(f64::from(inner.height()) / sheet.height_mm);
    let (before, by) = zoom.in_points(fits);
    if let Some(at) = response.hover_pos() {
        let (scroll, pinch) = ui.input(|i| (i.smooth_scroll_delta(), i.zoom_delta()));
        let factor = f64::from(pinch) * f64::from(scroll.y * 0.004).exp();
        if factor != 1.0 && (factor < 1.0 || before < MOST) {
            zoom.by(factor);
            // What lies under the pointer stays there.
            let (now, _) = zoom.in_points(fits);
            let from_middle = at - room.center();
            *zoom = zoom.moved(from_middle - (from_middle - by) * (now / before) as f32);
        }
    }
    if response.double_clicked() {
        *zoom = PageZoom::Whole;
    }
    let (px_per_mm, by) = zoom.in_points(fits);
    let size = vec2((sheet.width_mm * px_per_mm) as f32, (sheet.height_mm * px_per_mm) as f32);
    // A page that is larger than its room is moved as far as its edges come in; a smaller one lies in the middle.
    let most = ((size - inner.size()) / 2.0).max(Vec2::ZERO);
    let by = (by + response.drag_delta()).clamp(-most, most);
    *zoom = zoom.moved(by);
    if most != Vec2::ZERO {
        let icon = if response.dragged() { CursorIcon::Grabbing } else { CursorIcon::Grab };
        response.on_hover_cursor(icon);
    }
    let corner = room.center() + by - size / 2.0;
    let place = ScreenFromSheet::new(sheet, pos2(corner.x, corner.y), px_per_mm);
    sheet_paint::paint(&ui.painter_at(room), Tokens::here(ui), sheet, &place);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn zooming_out_comes_back_to_the_whole_page() {
        let mut zoom = PageZoom::Whole;
        zoom.by(1.25);
        assert_eq!(zoom, PageZoom::Times(1.25, Vec2::ZERO));
        zoom.by(0.8);
        assert_eq!(zoom, PageZoom::Whole);
        zoom.by(0.5);
        assert_eq!(zoom, PageZoom::Whole, "there is nothing smaller than the whole page");
        assert_eq!(PageZoom::at(3.78).in_points(1.0).0, 3.78);
    }
}

//! What the maker looks at, and how large: no edits, so nothing here is saved or undone.

use cornerwise_geometry::Cut;
use egui::Context;

use super::Studio;
use crate::across::Across;
use crate::commands::Command;
use crate::ruler::{Axis, Ruler, Stretch};
use crate::view::{Place, blank_stretch};
use crate::views::one_page::PageZoom;

/// How much one step zooms.
const STEP: f64 = 1.25;
/// Which share of what is shown one step scrolls.
const SCROLLED: f32 = 0.25;

impl Studio {
    /// The cut that is being worked on: that of the points chosen last, or of an open panel, or the first.
    pub(super) fn worked_on(&self) -> Cut {
        let panels = &self.view.panels;
        let chosen = self.view.chosen.iter().last().map(|chosen| chosen.cut);
        chosen.or(panels.points).or(panels.whole_line).or(panels.gallery).unwrap_or(Cut::First)
    }

    pub(super) fn zooming(&mut self, ctx: &Context, command: Command) {
        match (command, self.view.screen_px_per_mm) {
            (Command::MeasureScreen, _) | (Command::TrueSize, None) => self.view.panels.measure = true,
            _ if self.view.place == Place::Paper => self.zoom_page(ctx, command),
            _ => self.zoom_rows(ctx, command),
        }
    }

    fn zoom_page(&mut self, ctx: &Context, command: Command) {
        let zoom = &mut self.view.page_zoom;
        match command {
            Command::ZoomWhole => *zoom = PageZoom::Whole,
            Command::ZoomIn => zoom.by(STEP),
            Command::ZoomOut => zoom.by(1.0 / STEP),
            _ => {
                let Some(pixels) = self.view.screen_px_per_mm else { return };
                *zoom = PageZoom::at(pixels / f64::from(ctx.pixels_per_point()));
            }
        }
        self.view.one_page = true;
    }

    fn zoom_rows(&mut self, ctx: &Context, command: Command) {
        let (Some(faces), Some(design)) = (self.shape.faces, self.view.shown(self.history.current())) else { return };
        let (axis, blank) = (faces.axis, blank_stretch(design));
        let width_px = axis.right_px - axis.left_px;
        // The cursor is where the pointer was last.
        let x = axis.x(self.view.cursor_mm).min(axis.right_px).max(axis.left_px);
        let ruler = &mut self.view.ruler;
        match command {
            Command::ZoomWhole => *ruler = Ruler::Whole,
            Command::ZoomIn => ruler.zoom(axis, blank, x, STEP),
            Command::ZoomOut => ruler.zoom(axis, blank, x, 1.0 / STEP),
            Command::TowardTop => ruler.scroll(axis, blank, width_px * SCROLLED),
            Command::TowardFoot => ruler.scroll(axis, blank, -width_px * SCROLLED),
            Command::ZoomChosen => {
                if let Some(stretch) = self.chosen_stretch() {
                    self.view.ruler.show(axis, blank, stretch);
                }
            }
            _ => {
                let Some(pixels) = self.view.screen_px_per_mm else { return };
                let px_per_mm = pixels / f64::from(ctx.pixels_per_point());
                ruler.size(Axis { px_per_mm, ..axis }, blank, self.view.cursor_mm, px_per_mm);
                (self.view.across, self.view.shift_px) = (Across::True, 0.0);
            }
        }
    }

    /// From the first chosen point to the last; of a single one, from its neighbour to its neighbour.
    fn chosen_stretch(&self) -> Option<Stretch> {
        let design = self.view.shown(self.history.current())?;
        let mut ends: Vec<f64> = Vec::new();
        for cut in Cut::ALL {
            let points = design.points(cut);
            for chosen in self.view.chosen.iter().filter(|chosen| chosen.cut == cut) {
                let Some(place) = points.iter().position(|point| point.id == chosen.point) else { continue };
                let alone = self.view.chosen.one().is_some();
                let (from, to) = if alone { (place.saturating_sub(1), place + 1) } else { (place, place) };
                ends.extend(points.iter().take(to + 1).skip(from).map(|point| point.from_top.mm()));
            }
        }
        let from_mm = ends.iter().copied().reduce(f64::min)?;
        let to_mm = ends.iter().copied().reduce(f64::max)?;
        Some(Stretch { from_mm, to_mm })
    }
}

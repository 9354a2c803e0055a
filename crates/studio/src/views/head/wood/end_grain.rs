//! The end grain of the blank as the end view shows it, painted by the same function as everything else.

use std::sync::Arc;

use cornerwise_geometry::{End, Surface};
use cornerwise_project::Design;
use cornerwise_wood::{Patch, paint_patch};
use egui::{ColorImage, Id, TextureHandle, TextureOptions, Ui};

use crate::atlas;
use crate::scene::Scene;

/// How much coarser it is painted while something is dragged.
const COARSER: f64 = 2.0;

/// What is painted, and what it follows from.
#[derive(Clone)]
struct Kept {
    design: Arc<Design>,
    px_per_mm: f64,
    texture: TextureHandle,
}

/// The top end of the blank, painted so finely that a texel is a pixel; coarser while something is dragged.
pub(super) fn painted(ui: &Ui, scene: &Scene<'_>, points_per_mm: f64) -> Option<TextureHandle> {
    let surface = Surface::End(End::Top);
    let id = Id::unique("end grain");
    let fine = points_per_mm * f64::from(ui.pixels_per_point());
    let px_per_mm = if scene.moving { fine / COARSER } else { fine };
    let kept: Option<Kept> = ui.data(|data| data.get_temp(id));
    // What was painted finely is as good while another thing moves.
    let fits = |kept: &Kept| (kept.px_per_mm - px_per_mm).abs() < 1e-9 || scene.moving && kept.px_per_mm >= px_per_mm;
    if let Some(kept) = &kept
        && fits(kept)
        && !atlas::changed(&kept.design, scene.design, surface)
    {
        return Some(kept.texture.clone());
    }
    let patch = Patch { px_per_mm: [px_per_mm; 2], columns_mm: None, threads: 1 };
    let painted = paint_patch(scene.leg, &scene.design.figure(), surface, &patch).ok()?;
    let image = ColorImage::from_rgba_unmultiplied([painted.columns, painted.rows], &painted.rgba);
    let texture = match kept {
        Some(Kept { mut texture, .. }) => {
            texture.set(image, TextureOptions::LINEAR);
            texture
        }
        None => ui.ctx().load_texture("end grain", image, TextureOptions::LINEAR),
    };
    let kept = Kept { design: Arc::clone(scene.design), px_per_mm, texture: texture.clone() };
    ui.data_mut(|data| data.insert_temp(id, kept));
    Some(texture)
}

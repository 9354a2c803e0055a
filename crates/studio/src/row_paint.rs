//! Sharp paint for the stretch of the blank that the rows show. The page of all surfaces is fine enough for the whole
//! leg; zoomed in, the rows need more, and at rest they get it.

use std::sync::Arc;

use cornerwise_geometry::{Leg, Surface};
use cornerwise_project::Design;
use cornerwise_wood::{Figure, Patch, paint_patch};
use egui::{Context, TextureHandle, TextureOptions};

use crate::atlas::{changed, threads};
use crate::patch::{TexturePatch, bordered_image};
use crate::ruler::Stretch;

/// The largest side of a texture.
const MOST_SIDE: f64 = 2046.0;
/// How much finer than the page the rows must be to be painted for themselves.
const WORTH_IT: f64 = 1.3;

/// One surface's stretch.
struct Sharp {
    texture: TextureHandle,
    design: Arc<Design>,
    shown: Stretch,
    px_per_mm: f64,
    patch: TexturePatch,
}

/// The stretches of the surfaces that rows show.
#[derive(Default)]
pub struct RowPaint {
    surfaces: [Option<Sharp>; 8],
}

/// What a row needs of a surface.
#[derive(Clone, Copy, Debug)]
pub struct Wanted {
    /// What is painted.
    pub surface: Surface,
    /// What is on screen, mm from the top.
    pub shown: Stretch,
    /// How finely, texels per mm.
    pub px_per_mm: f64,
    /// How finely the page is painted.
    pub page_px_per_mm: f64,
}

impl RowPaint {
    /// The sharp paint of a surface, if it is worth it and there is some that still holds; painted when `at_rest`.
    /// The second answer is whether it should be asked again at rest.
    pub fn patch(
        &mut self,
        ctx: &Context,
        design: &Arc<Design>,
        leg: &Arc<Leg>,
        wanted: Wanted,
        at_rest: bool,
    ) -> (Option<TexturePatch>, bool) {
        let Wanted { surface, shown, px_per_mm, page_px_per_mm } = wanted;
        let slot = &mut self.surfaces[surface.index()];
        if px_per_mm < WORTH_IT * page_px_per_mm || shown.length_mm() <= 0.0 {
            *slot = None;
            return (None, false);
        }
        if slot.as_ref().is_some_and(|sharp| changed(&sharp.design, design, surface)) {
            *slot = None;
        }
        let holds = slot.as_ref().is_some_and(|sharp| sharp.shown == shown && sharp.px_per_mm == px_per_mm);
        if !holds && at_rest {
            // Refused only where the stretch is empty, which was asked above; then the page's own paint stays.
            *slot = painted(ctx, design, leg, wanted);
        }
        (slot.as_ref().map(|sharp| sharp.patch), !holds && !at_rest)
    }
}

fn painted(ctx: &Context, design: &Arc<Design>, leg: &Arc<Leg>, wanted: Wanted) -> Option<Sharp> {
    let Wanted { surface, shown, px_per_mm, .. } = wanted;
    let across = leg.width_mm.max(leg.depth_mm);
    let fits = px_per_mm.min((MOST_SIDE - 1.0) / shown.length_mm()).min((MOST_SIDE - 1.0) / across);
    let patch = Patch { px_per_mm: fits, columns_mm: Some([shown.from_mm, shown.to_mm]), threads: threads(false) };
    let painted = paint_patch(leg, &Figure::new(&design.wood), surface, &patch).ok()?;
    let image = bordered_image(&painted, painted.columns, painted.rows);
    let [width, height] = image.size.map(|side| side as f64);
    let texture = ctx.load_texture("sharp rows", image, TextureOptions::LINEAR);
    let patch = TexturePatch {
        texture: texture.id(),
        surface,
        from_uv: [1.0 / width, 1.0 / height],
        to_uv: [1.0 - 1.0 / width, 1.0 - 1.0 / height],
        from_mm: painted.from_mm,
        to_mm: painted.to_mm,
    };
    Some(Sharp { texture, design: Arc::clone(design), shown, px_per_mm, patch })
}

impl std::fmt::Debug for Sharp {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Sharp").field("texture", &self.texture.id()).field("shown", &self.shown).finish_non_exhaustive()
    }
}

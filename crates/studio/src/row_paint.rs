//! Sharp paint for the stretch of the blank that the rows show. The page of all surfaces is fine enough for the whole
//! leg; zoomed in, the rows need more, and at rest they get it.

use std::sync::Arc;

use cornerwise_geometry::{Leg, Surface};
use cornerwise_project::Design;
use cornerwise_wood::{Patch, paint_patch};
use egui::{ColorImage, Context, TextureHandle, TextureOptions};

use crate::atlas::{changed, threads};
use crate::later::Later;
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
    wanted: Wanted,
    patch: TexturePatch,
}

type Coming = Later<(Arc<Design>, Wanted), Option<Image>>;

/// The stretches of the surfaces that rows show.
#[derive(Default)]
pub struct RowPaint {
    surfaces: [Option<Sharp>; 8],
    /// Those on their way, made off the thread that draws.
    coming: [Coming; 8],
}

/// Paint that is no texture yet.
struct Image {
    image: ColorImage,
    from_mm: [f64; 2],
    to_mm: [f64; 2],
}

/// What a row needs of a surface.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wanted {
    /// What is painted.
    pub surface: Surface,
    /// What is on screen, mm from the top.
    pub shown: Stretch,
    /// How finely, texels per mm along and across.
    pub px_per_mm: [f64; 2],
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
        let surface = wanted.surface;
        let (slot, coming) = (&mut self.surfaces[surface.index()], &mut self.coming[surface.index()]);
        if let Some(((of, asked), Some(image))) = coming.fetch()
            && asked == wanted
            && !changed(&of, design, surface)
        {
            *slot = Some(shown(ctx, of, asked, image));
        }
        let finest = wanted.px_per_mm[0].max(wanted.px_per_mm[1]);
        if finest < WORTH_IT * wanted.page_px_per_mm || wanted.shown.length_mm() <= 0.0 {
            *slot = None;
            return (None, false);
        }
        if slot.as_ref().is_some_and(|sharp| changed(&sharp.design, design, surface)) {
            *slot = None;
        }
        let holds = slot
            .as_ref()
            .is_some_and(|sharp| (sharp.wanted.shown, sharp.wanted.px_per_mm) == (wanted.shown, wanted.px_per_mm));
        if !holds && at_rest && coming.asked().is_none() {
            let (of, leg) = (Arc::clone(design), Arc::clone(leg));
            coming.begin(ctx, "sharp rows", (Arc::clone(design), wanted), move |_| painted(&of, &leg, wanted));
        }
        (slot.as_ref().map(|sharp| sharp.patch), !holds && !at_rest)
    }

    /// Whether some is on its way.
    pub fn is_busy(&self) -> bool {
        self.coming.iter().any(|coming| coming.asked().is_some())
    }
}

/// Refused only where the stretch is empty; then the page's own paint stays.
fn painted(design: &Design, leg: &Leg, wanted: Wanted) -> Option<Image> {
    let Wanted { surface, shown, px_per_mm: [along, across], .. } = wanted;
    let wide_mm = leg.width_mm.max(leg.depth_mm);
    let fits = [along.min((MOST_SIDE - 1.0) / shown.length_mm()), across.min((MOST_SIDE - 1.0) / wide_mm)];
    let patch = Patch { px_per_mm: fits, columns_mm: Some([shown.from_mm, shown.to_mm]), threads: threads(false) };
    let painted = paint_patch(leg, &design.figure(), surface, &patch).ok()?;
    let image = bordered_image(&painted, painted.columns, painted.rows);
    Some(Image { image, from_mm: painted.from_mm, to_mm: painted.to_mm })
}

fn shown(ctx: &Context, design: Arc<Design>, wanted: Wanted, painted: Image) -> Sharp {
    let Image { image, from_mm, to_mm } = painted;
    let [width, height] = image.size.map(|side| side as f64);
    let texture = ctx.load_texture("sharp rows", image, TextureOptions::LINEAR);
    let patch = TexturePatch {
        texture: texture.id(),
        surface: wanted.surface,
        from_uv: [1.0 / width, 1.0 / height],
        to_uv: [1.0 - 1.0 / width, 1.0 - 1.0 / height],
        from_mm,
        to_mm,
    };
    Sharp { texture, design, wanted, patch }
}

impl std::fmt::Debug for Sharp {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Sharp")
            .field("texture", &self.texture.id())
            .field("wanted", &self.wanted)
            .finish_non_exhaustive()
    }
}

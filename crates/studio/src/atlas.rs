//! One page of texture that holds all eight painted surfaces, so that the leg is one mesh and one draw call.

use std::sync::Arc;
use std::thread;

use cornerwise_geometry::{Cut, End, Leg, Surface};
use cornerwise_project::Design;
use cornerwise_wood::{Figure, PaintError, Patch, paint_patch};
use egui::{Color32, ColorImage, Context, TextureHandle, TextureOptions};

use crate::later::Later;
use crate::patch::{TexturePatch, bordered_image};
use crate::side_by_side::side_by_side;

/// The largest side of a page: what every graphics card takes, headless ones included.
const MOST_SIDE: usize = 2048;

/// How long painting a surface sharp may take while something is dragged, ms.
const SHARP_WHILE_MOVING_MS: f64 = 1.0;

/// How long all paint of a frame may take while something is dragged, ms: a frame has 8.
const WHILE_MOVING_MS: f64 = 3.0;

/// How long the first paint may take that a window opens with, ms; what takes longer is coarse at first.
const AT_ONCE_MS: f64 = 150.0;

/// How much coarser a surface is painted while something is dragged, at the least and at the most.
const COARSER: [f64; 2] = [3.0, 12.0];

/// All surfaces of one design, painted.
#[derive(Default)]
pub struct Atlas {
    page: Option<Page>,
    /// Sharp paint, made off the thread that draws.
    sharp: Later<(Arc<Design>, Layout), Vec<Sharp>>,
}

/// One surface painted sharp.
struct Sharp {
    surface: Surface,
    at: [usize; 2],
    image: ColorImage,
}

struct Page {
    texture: TextureHandle,
    layout: Layout,
    design: Arc<Design>,
    coarse: [bool; 8],
}

/// Where each surface lies on the page.
#[derive(Clone, Debug, PartialEq)]
struct Layout {
    px_per_mm: f64,
    size: [usize; 2],
    regions: [Region; 8],
}

#[derive(Clone, Copy, Debug, PartialEq)]
struct Region {
    surface: Surface,
    /// The first texel inside the border.
    at: [usize; 2],
    texels: [usize; 2],
    from_mm: [f64; 2],
    to_mm: [f64; 2],
}

impl Atlas {
    /// Paints what has changed: coarsely where it is large, in the same frame, so that no view shows what is no more; once
    /// nothing moves, sharply and off this thread. The answer is whether some of it is still coarse.
    ///
    /// # Errors
    /// [`PaintError`] where a surface cannot be painted; the page stays as it was.
    pub fn update(
        &mut self,
        ctx: &Context,
        design: &Arc<Design>,
        leg: &Arc<Leg>,
        wanted_px_per_mm: f64,
        moving: bool,
    ) -> Result<bool, PaintError> {
        self.take_sharp(design);
        let layout = Layout::new(leg, wanted_px_per_mm);
        let changed: [bool; 8] = match &self.page {
            Some(page) if page.layout == layout => Surface::ALL.map(|surface| changed(&page.design, design, surface)),
            _ => [true; 8],
        };
        if changed.contains(&true) {
            let figure = design.figure();
            let ms = |region: &Region, coarser: f64| region.paint_ms(&figure, layout.px_per_mm, coarser);
            let all_ms: f64 = layout.regions.iter().map(|region| ms(region, 1.0)).sum();
            let at_once = self.page.is_none() && !moving && all_ms < AT_ONCE_MS;
            let is_coarse = |region: &Region| !at_once && ms(region, 1.0) > SHARP_WHILE_MOVING_MS;
            let wanted: Vec<&Region> = layout.regions.iter().filter(|region| changed[region.surface.index()]).collect();
            let coarser = fitting(|coarser| {
                wanted.iter().filter(|region| is_coarse(region)).map(|region| ms(region, coarser)).sum()
            });
            let mut coarse = self.page.as_ref().map_or([false; 8], |page| page.coarse);
            let paint = |region: &Region| {
                let coarsely = is_coarse(region);
                let finer = if coarsely { 1.0 / coarser } else { 1.0 };
                let image = painted(leg, &figure, region, layout.px_per_mm * finer, threads(!at_once))?;
                Ok((region.surface, coarsely, (region.at.map(|i| i - 1), image)))
            };
            // One surface is done sooner than a thread begins; of many, the second half waits for no one.
            let done: Vec<Result<_, PaintError>> = if wanted.len() > 2 && !at_once {
                let (here, there) = wanted.split_at(wanted.len() / 2);
                let all = |some: &[&Region]| some.iter().map(|region| paint(region)).collect::<Vec<_>>();
                let (theirs, mut done) = side_by_side(|| all(there), || all(here));
                done.extend(theirs);
                done
            } else {
                wanted.into_iter().map(paint).collect()
            };
            let mut images = Vec::new();
            for one in done {
                let (surface, coarsely, image) = one?;
                coarse[surface.index()] = coarsely;
                images.push(image);
            }
            self.show(ctx, layout.clone(), design, images, coarse);
        }
        let Some(page) = &mut self.page else { return Ok(false) };
        page.design = Arc::clone(design);
        let coarse = page.coarse;
        if !moving && coarse.contains(&true) && self.sharp.asked().is_none() {
            let regions: Vec<Region> =
                layout.regions.into_iter().filter(|region| coarse[region.surface.index()]).collect();
            let (design, leg) = (Arc::clone(design), Arc::clone(leg));
            self.sharp.begin(ctx, "sharp paint", (Arc::clone(&design), layout.clone()), move |stop| {
                let figure = design.figure();
                let regions = regions.iter().take_while(|_| !stop.is_asked());
                let sharp = regions.filter_map(|region| {
                    // What cannot be painted was refused above already.
                    let image = painted(&leg, &figure, region, layout.px_per_mm, threads(false)).ok()?;
                    Some(Sharp { surface: region.surface, at: region.at.map(|i| i - 1), image })
                });
                sharp.collect()
            });
        }
        Ok(coarse.contains(&true))
    }

    /// Whether sharp paint is on its way.
    pub fn is_busy(&self) -> bool {
        self.sharp.asked().is_some()
    }

    /// Takes sharp paint that has come, as far as it shows what is there now.
    fn take_sharp(&mut self, design: &Arc<Design>) {
        let (Some(((of, layout), sharp)), Some(page)) = (self.sharp.fetch(), &mut self.page) else { return };
        if page.layout != layout {
            return;
        }
        for Sharp { surface, at, image } in sharp {
            // What the page shows coarsely must be what was painted, and so must what is to be shown.
            let same = !changed(&of, &page.design, surface) && !changed(&of, design, surface);
            if same && page.coarse[surface.index()] {
                page.texture.set_partial(at, image, TextureOptions::LINEAR);
                page.coarse[surface.index()] = false;
            }
        }
    }

    fn show(
        &mut self,
        ctx: &Context,
        layout: Layout,
        design: &Arc<Design>,
        images: Vec<([usize; 2], ColorImage)>,
        coarse: [bool; 8],
    ) {
        let texture = match self.page.take() {
            Some(mut page) if page.layout.size == layout.size => {
                for (at, image) in images {
                    page.texture.set_partial(at, image, TextureOptions::LINEAR);
                }
                page.texture
            }
            _ => {
                let mut whole = ColorImage::filled(layout.size, Color32::BLACK);
                for (at, image) in images {
                    copy_into(&mut whole, at, &image);
                }
                ctx.load_texture("surfaces", whole, TextureOptions::LINEAR)
            }
        };
        self.page = Some(Page { texture, layout, design: Arc::clone(design), coarse });
    }

    /// Where a surface is painted; nothing before the first [`Atlas::update`].
    pub fn patch(&self, surface: Surface) -> Option<TexturePatch> {
        let page = self.page.as_ref()?;
        let region = page.layout.regions[surface.index()];
        let [width, height] = page.layout.size.map(|side| side as f64);
        let [x, y] = region.at.map(|i| i as f64);
        let [columns, rows] = region.texels.map(|i| i as f64);
        Some(TexturePatch {
            texture: page.texture.id(),
            surface,
            from_uv: [x / width, y / height],
            to_uv: [(x + columns) / width, (y + rows) / height],
            from_mm: region.from_mm,
            to_mm: region.to_mm,
        })
    }

    /// How finely it is painted, texels per mm.
    pub fn px_per_mm(&self) -> f64 {
        self.page.as_ref().map_or(0.0, |page| page.layout.px_per_mm)
    }
}

impl Region {
    /// How long it takes to be painted so much coarser than a page of so many texels per mm, ms.
    fn paint_ms(&self, figure: &Figure, px_per_mm: f64, coarser: f64) -> f64 {
        let texels = (self.texels[0] * self.texels[1]) as f64 / (coarser * coarser);
        1e-6 * texels * figure.texel_ns(coarser / px_per_mm)
    }
}

/// How much coarser paint must be for its time, which is told in ms for so much coarser, to fit into a frame.
fn fitting(ms: impl Fn(f64) -> f64) -> f64 {
    let [mut coarser, most] = COARSER;
    while coarser < most && ms(coarser) > WHILE_MOVING_MS {
        coarser = (1.2 * coarser).min(most);
    }
    coarser
}

fn painted(
    leg: &Leg,
    figure: &Figure,
    region: &Region,
    px_per_mm: f64,
    threads: usize,
) -> Result<ColorImage, PaintError> {
    let columns_mm = Some([region.from_mm[0], region.to_mm[0]]);
    let patch = Patch { px_per_mm: [px_per_mm; 2], columns_mm, threads };
    let painted = paint_patch(leg, figure, region.surface, &patch)?;
    Ok(bordered_image(&painted, region.texels[0], region.texels[1]))
}

/// Threads for painting: while dragging, starting them costs more than they save.
pub fn threads(moving: bool) -> usize {
    if moving { 1 } else { thread::available_parallelism().map_or(1, |n| n.get().min(4)) }
}

/// Whether a surface looks different in another design of the same size.
pub fn changed(was: &Arc<Design>, now: &Arc<Design>, surface: Surface) -> bool {
    if Arc::ptr_eq(was, now) {
        return false;
    }
    let line = match surface {
        Surface::Cut(cut) => was.line(cut) != now.line(cut),
        Surface::Face(_) | Surface::End(_) => false,
    };
    line || !was.looks_like(now) || was.blank != now.blank
}

fn copy_into(whole: &mut ColorImage, at: [usize; 2], part: &ColorImage) {
    let width = whole.size[0];
    for (y, row) in part.pixels.chunks_exact(part.size[0].max(1)).enumerate() {
        let start = (at[1] + y) * width + at[0];
        if let Some(place) = whole.pixels.get_mut(start..start + row.len()) {
            place.copy_from_slice(row);
        }
    }
}

impl Layout {
    /// All surfaces below one another, both ends side by side in the last row; as finely as wanted, in steps so that a
    /// slow zoom does not repaint in every frame, and no more than fits the page.
    fn new(leg: &Leg, wanted_px_per_mm: f64) -> Layout {
        let (from, to) = (-leg.spare_top_mm, leg.length_mm + leg.spare_foot_mm);
        let long = (to - from).max(2.0 * leg.width_mm);
        let tall = 3.0 * leg.width_mm + 4.0 * leg.depth_mm;
        let fits = ((MOST_SIDE - 8) as f64 / long).min((MOST_SIDE - 24) as f64 / tall);
        let step = 2_f64.powf((2.0 * wanted_px_per_mm.max(0.05).log2()).ceil() / 2.0);
        let px_per_mm = step.min(fits);
        let texels = |mm: f64| ((mm * px_per_mm - 1e-6).ceil() as usize).max(1);
        let mut top = 0;
        let mut width = 0;
        let regions = Surface::ALL.map(|surface| {
            let (along, across) = match surface {
                Surface::Cut(Cut::First) => ([0.0, leg.length_mm], leg.depth_mm),
                Surface::Cut(Cut::Second) => ([0.0, leg.length_mm], leg.width_mm),
                Surface::Face(face) => ([from, to], leg.face_mm(face)),
                Surface::End(_) => ([0.0, leg.width_mm], leg.depth_mm),
            };
            let texels = [texels(along[1] - along[0]), texels(across)];
            let left = if surface == Surface::End(End::Foot) { texels[0] + 2 } else { 0 };
            let at = [left + 1, top + 1];
            if surface != Surface::End(End::Top) {
                top += texels[1] + 2;
            }
            width = width.max(at[0] + texels[0] + 1);
            Region { surface, at, texels, from_mm: [along[0], 0.0], to_mm: [along[1], across] }
        });
        Layout { px_per_mm, size: [width, top], regions }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use cornerwise_geometry::{BlankPoint, Face};
    use cornerwise_project::Project;

    fn design(width_mm: f64, depth_mm: f64, length_mm: f64) -> (Arc<Design>, Arc<Leg>) {
        let mut design = Design::clone(&Project::new().designs[0]);
        design.blank.width = width_mm.into();
        design.blank.depth = depth_mm.into();
        design.blank.length = length_mm.into();
        let leg = Arc::new(design.leg().unwrap());
        (Arc::new(design), leg)
    }

    #[test]
    fn every_page_fits_and_no_two_surfaces_overlap() {
        for (width, depth, length) in
            [(50.0, 50.0, 700.0), (3.0, 3.0, 10_000.0), (900.0, 800.0, 1000.0), (200.0, 40.0, 300.0)]
        {
            for wanted in [0.01, 0.7, 2.0, 50.0] {
                let layout = Layout::new(&design(width, depth, length).1, wanted);
                assert!(layout.size.iter().all(|side| *side <= MOST_SIDE), "{:?}", layout.size);
                for (i, a) in layout.regions.iter().enumerate() {
                    for b in &layout.regions[..i] {
                        let apart =
                            (0..2).any(|k| a.at[k] + a.texels[k] < b.at[k] - 1 || b.at[k] + b.texels[k] < a.at[k] - 1);
                        assert!(apart, "{} and {} overlap", a.surface, b.surface);
                    }
                    assert!((0..2).all(|k| a.at[k] + a.texels[k] < layout.size[k]));
                }
            }
        }
    }

    #[test]
    fn only_what_changed_is_painted() {
        let (was, _) = design(50.0, 40.0, 700.0);
        let mut now = Design::clone(&was);
        now.first = now.second.clone();
        let mut other = Design::clone(&was);
        other.name = "Another".to_owned();
        let same = Arc::new(other);
        let (cut, now) = (now.first != was.first, Arc::new(now));
        assert_eq!(changed(&was, &now, Surface::Cut(Cut::First)), cut);
        assert!(!changed(&was, &now, Surface::Cut(Cut::Second)));
        assert!(Surface::ALL.iter().all(|surface| !changed(&was, &same, *surface)));
    }

    fn until_sharp(atlas: &mut Atlas, ctx: &Context, design: &Arc<Design>, leg: &Arc<Leg>) {
        let sharp = (0..2000).any(|_| {
            thread::sleep(std::time::Duration::from_millis(5));
            atlas.update(ctx, design, leg, 2.0, false) == Ok(false)
        });
        assert!(sharp, "the sharp paint never came");
    }

    /// Paint that was begun for one wood comes when there is another one already.
    #[test]
    fn sharp_paint_of_what_is_no_more_is_not_shown() {
        let ctx = Context::default();
        let (was, leg) = design(50.0, 50.0, 700.0);
        let mut atlas = Atlas::default();
        atlas.update(&ctx, &was, &leg, 2.0, true).unwrap();
        atlas.update(&ctx, &was, &leg, 2.0, false).unwrap();
        assert!(atlas.is_busy());
        let mut now = Design::clone(&was);
        now.wood = cornerwise_wood::Wood::Layers(cornerwise_wood::Layers::plywood(
            cornerwise_wood::Species::Birch,
            1.5.into(),
        ));
        let now = Arc::new(now);
        // Moving, so that no paint of the new wood is begun.
        while atlas.is_busy() {
            thread::sleep(std::time::Duration::from_millis(5));
            assert_eq!(atlas.update(&ctx, &now, &leg, 2.0, true), Ok(true));
        }
        assert_eq!(atlas.update(&ctx, &now, &leg, 2.0, true), Ok(true), "coarse paint of the new wood stays");
        until_sharp(&mut atlas, &ctx, &now, &leg);
    }

    #[test]
    fn a_drag_paints_coarsely_and_rest_paints_it_sharp() {
        let ctx = Context::default();
        let (design, leg) = design(50.0, 50.0, 700.0);
        let mut atlas = Atlas::default();
        assert_eq!(atlas.update(&ctx, &design, &leg, 2.0, true), Ok(true));
        assert!(!atlas.is_busy(), "sharp paint is for rest");
        assert_eq!(atlas.update(&ctx, &design, &leg, 2.0, false), Ok(true), "still under way");
        until_sharp(&mut atlas, &ctx, &design, &leg);
        assert_eq!(atlas.update(&ctx, &design, &leg, 2.0, true), Ok(false), "nothing changed");
        let patch = atlas.patch(Surface::Face(Face::One)).unwrap();
        let uv = patch.uv(BlankPoint { x: 0.0, y: 0.0, s: -20.0 });
        assert!((f64::from(uv.x) - patch.from_uv[0]).abs() < 1e-6 && (f64::from(uv.y) - patch.from_uv[1]).abs() < 1e-6);
    }
}

//! Small pictures of finished legs for lists: drawn once for each design, on a thread of their own, and shown as they
//! arrive.

use std::collections::BTreeMap;
use std::sync::Arc;
use std::sync::mpsc::{self, Receiver, Sender};
use std::thread;

use cornerwise_export::picture;
use cornerwise_geometry::Camera;
use cornerwise_project::{Design, DesignId};
use egui::{ColorImage, Context, TextureHandle, TextureId, TextureOptions};

use crate::view::{START_TILT_DEG, START_TURN_DEG};

/// How large they are shown, points.
pub const SIZE: [f32; 2] = [56.0, 140.0];

/// The pictures of the legs of the project on the bench.
#[derive(Default)]
pub struct LegPictures {
    shown: BTreeMap<DesignId, (Arc<Design>, TextureHandle)>,
    /// What is being drawn.
    asked: BTreeMap<DesignId, Arc<Design>>,
    drawing: Option<Drawing>,
}

struct Drawing {
    give: Sender<(Arc<Design>, [u32; 2])>,
    take: Receiver<(Arc<Design>, Option<ColorImage>)>,
}

impl LegPictures {
    /// The picture of a leg: the last one that is done, while a newer one is being drawn.
    pub fn of(&mut self, ctx: &Context, design: &Arc<Design>) -> Option<TextureId> {
        self.take_in(ctx);
        let looks_like = |known: &Arc<Design>| Arc::ptr_eq(known, design) || same_look(known, design);
        let done = self.shown.get(&design.id).is_some_and(|(known, _)| looks_like(known));
        if !done && !self.asked.get(&design.id).is_some_and(looks_like) {
            self.ask(ctx, design);
        }
        self.shown.get(&design.id).map(|(_, texture)| texture.id())
    }

    fn ask(&mut self, ctx: &Context, design: &Arc<Design>) {
        let drawing = match &self.drawing {
            Some(drawing) => drawing,
            None => {
                let Some(started) = Drawing::start(ctx) else { return };
                self.drawing.insert(started)
            }
        };
        let pixels = SIZE.map(|side| ((side * ctx.pixels_per_point()).round() as u32).clamp(16, 600));
        if drawing.give.send((Arc::clone(design), pixels)).is_ok() {
            self.asked.insert(design.id, Arc::clone(design));
        }
    }

    fn take_in(&mut self, ctx: &Context) {
        let Some(drawing) = &self.drawing else { return };
        while let Ok((design, image)) = drawing.take.try_recv() {
            if self.asked.get(&design.id).is_some_and(|asked| Arc::ptr_eq(asked, &design)) {
                self.asked.remove(&design.id);
            }
            // A leg that cannot be drawn has no picture; its words in the list are enough.
            if let Some(image) = image {
                let texture = ctx.load_texture("leg in the list", image, TextureOptions::LINEAR);
                self.shown.insert(design.id, (design, texture));
            }
        }
    }
}

impl Drawing {
    fn start(ctx: &Context) -> Option<Drawing> {
        let (give, jobs) = mpsc::channel::<(Arc<Design>, [u32; 2])>();
        let (done, take) = mpsc::channel();
        let ctx = ctx.clone();
        let draw = move || {
            for (design, size) in jobs {
                let image = image(&design, size);
                if done.send((design, image)).is_err() {
                    return; // the studio has gone
                }
                ctx.request_repaint();
            }
        };
        thread::Builder::new().name("leg pictures".to_owned()).spawn(draw).ok()?;
        Some(Drawing { give, take })
    }
}

/// Whether two designs look alike: name and letter are no part of the picture.
fn same_look(a: &Design, b: &Design) -> bool {
    a.blank == b.blank && a.first == b.first && a.second == b.second && a.looks_like(b)
}

fn image(design: &Design, size: [u32; 2]) -> Option<ColorImage> {
    let leg = design.leg().ok()?;
    let camera = Camera::new(START_TURN_DEG, START_TILT_DEG);
    let rgb = picture::pixels_of(&leg, &design.figure(), &camera, 1.0, size).ok()?;
    Some(ColorImage::from_rgb(size.map(|side| side as usize), &rgb))
}

#[cfg(test)]
mod tests {
    use super::*;
    use cornerwise_project::{Edit, Project};
    use std::time::{Duration, Instant};

    fn settled(pictures: &mut LegPictures, ctx: &Context, design: &Arc<Design>) -> TextureId {
        let begun = Instant::now();
        loop {
            let shown = pictures.of(ctx, design);
            if let Some(shown) = shown
                && pictures.asked.is_empty()
            {
                return shown;
            }
            assert!(begun.elapsed() < Duration::from_secs(30));
            thread::sleep(Duration::from_millis(5));
        }
    }

    #[test]
    fn a_leg_is_drawn_again_when_it_looks_different_and_only_then() {
        let (ctx, mut pictures) = (Context::default(), LegPictures::default());
        let project = Project::new();
        let first = settled(&mut pictures, &ctx, &project.designs[0]);
        let id = project.designs[0].id;
        let renamed = project.apply(&Edit::RenameDesign { design: id, name: "Post".to_owned() }).unwrap();
        assert_eq!(first, settled(&mut pictures, &ctx, &renamed.designs[0]));
        let arch = project.apply(&Edit::StartFrom { design: id, kind: cornerwise_geometry::ShapeKind::Arch }).unwrap();
        assert_ne!(first, settled(&mut pictures, &ctx, &arch.designs[0]));
    }
}

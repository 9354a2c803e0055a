//! Photos made ready to be read at one point.
//!
//! On a photographed face the photo is shown as it is. Of the inside nothing is known: what is shown there is guessed from
//! the photos, each counting the more the nearer its face is, paler than the photos are and hatched, so that nobody takes
//! it for more. The guess meets the photos at the faces, where the hatching fades: the edges of a seam are places on faces,
//! and there what is shown is what was photographed.

use std::sync::Arc;

use cornerwise_geometry::{BlankPoint, Face, Surface};

use super::{Steps, View, bytes, dot};
use crate::balance::{light, tone};
use crate::photo_pixels::Tones;
use crate::{Finish, Grain, Photo, PhotoPixels, Photos, Species};

/// Hatching: from line to line and how wide a line is, mm along its slant.
const HATCH_MM: [f64; 2] = [9.0, 1.6];

/// How much of the light a line of the hatching takes, or gives where wood is dark.
const HATCH: f32 = 0.2;

/// How far a guess is drawn toward grey, and how much paler it is.
const FADED: f32 = 0.3;
const PALER: f32 = 0.12;

/// How deep inside, mm, a guess looks like one fully.
const GUESS_DEEP_MM: f64 = 3.0;

/// Photos with their maps worked out.
#[derive(Clone, Debug)]
pub(crate) struct PhotoFigure {
    species: Species,
    size_mm: [f64; 2],
    glued_up: bool,
    faces: [Option<FacePhoto>; 4],
    finish: Finish,
}

#[derive(Clone, Debug)]
struct FacePhoto {
    pixels: Arc<PhotoPixels>,
    /// From (along, across, 1) on the face, mm, to pixels, up to a factor.
    rows: [[f64; 3]; 3],
    span_mm: [f64; 2],
    across_mm: f64,
    tones: Arc<Tones>,
    /// Pixels per mm along and across, about.
    px_per_mm: [f64; 2],
}

impl FacePhoto {
    fn new(photo: &Photo, across_mm: f64) -> Option<FacePhoto> {
        let pixels = Arc::clone(photo.pixels.0.as_ref()?);
        let size = pixels.size_px().map(|px| px as f64);
        let squaring = photo.squaring()?;
        let [from, to] = photo.span_mm();
        let (length, across) = ((to - from).max(1e-6), across_mm.max(1e-6));
        let [p, q, r, s] = photo.corners.map(|[x, y]| [x * size[0], y * size[1]]);
        let far = |a: [f64; 2], b: [f64; 2]| (b[0] - a[0]).hypot(b[1] - a[1]);
        let px_per_mm = [0.5 * (far(p, q) + far(s, r)) / length, 0.5 * (far(p, s) + far(q, r)) / across];
        let toned = |gain: f64| -> [f32; 256] {
            std::array::from_fn(|i| {
                let plain = i as f64 / 255.0;
                if gain == 1.0 { i as f32 } else { (255.0 * tone(gain * light(plain))).min(255.0) as f32 }
            })
        };
        Some(FacePhoto {
            rows: squaring.scaled([from, 0.0], [1.0 / length, 1.0 / across], size),
            span_mm: [from, to],
            across_mm: across,
            tones: Arc::new(photo.gain.map(toned)),
            px_per_mm,
            pixels,
        })
    }

    /// The colour about a place of the face, mm, averaged over a stretch along and across.
    #[inline]
    fn colour(&self, along: f64, across: f64, over_mm: [f64; 2]) -> [f32; 3] {
        let [wide, high] = [over_mm[0] * self.px_per_mm[0], over_mm[1] * self.px_per_mm[1]];
        let level = self.pixels.level(wide.min(high));
        // The background beyond the face's edges is none of its wood, and the pixels on the edges show some of it.
        let pixel = f64::from(1_u32 << level.min(30));
        let within = |at: f64, [from, to]: [f64; 2], over: f64, px_per_mm: f64| {
            let half = (0.5 * over.max(3.0 * pixel / px_per_mm)).min(0.5 * (to - from));
            at.max(from + half).min(to - half)
        };
        let along = within(along, self.span_mm, over_mm[0], self.px_per_mm[0]);
        let across = within(across, [0.0, self.across_mm], over_mm[1], self.px_per_mm[1]);
        let taps = (wide.max(high) / wide.min(high).max(1.0)).round().clamp(1.0, 6.0) as usize;
        if taps == 1 {
            return self.pixels.colour(level, self.pixel(along, across), &self.tones);
        }
        let mut sum = [0.0; 3];
        for tap in 0..taps {
            let off = (tap as f64 + 0.5) / taps as f64 - 0.5;
            let at = if wide > high { [along + off * over_mm[0], across] } else { [along, across + off * over_mm[1]] };
            let colour = self.pixels.colour(level, self.pixel(at[0], at[1]), &self.tones);
            sum = [0, 1, 2].map(|i| sum[i] + colour[i]);
        }
        sum.map(|sum: f32| sum / taps as f32)
    }

    #[inline]
    fn pixel(&self, along: f64, across: f64) -> [f64; 2] {
        let [x, y, w] = self.rows.map(|[a, b, c]| a * along + b * across + c);
        [x / w, y / w]
    }
}

impl PhotoFigure {
    pub fn new(photos: &Photos) -> PhotoFigure {
        let size_mm = photos.size_mm();
        let faces =
            Face::ALL.map(|face| photos.of(face).and_then(|photo| FacePhoto::new(photo, size_mm[face.index() % 2])));
        PhotoFigure { species: photos.species, size_mm, glued_up: photos.glued_up, faces, finish: Finish::Bare }
    }

    /// Puts it under a finish.
    pub fn finish(&mut self, finish: Finish) {
        self.finish = finish;
    }

    /// Whether the photos show a glue-up, and not timber.
    pub fn is_glued_up(&self) -> bool {
        self.glued_up
    }

    /// How wide a face is, mm.
    pub fn across_mm(&self, face: Face) -> f64 {
        self.size_mm[face.index() % 2]
    }

    /// The stretch of a face whose photo is there, mm from the top.
    pub fn span_mm(&self, face: Face) -> Option<[f64; 2]> {
        self.faces[face.index()].as_ref().map(|photo| photo.span_mm)
    }

    /// How long a pixel of a face's photo is along the blank, mm.
    pub fn pixel_mm(&self, face: Face) -> Option<f64> {
        self.faces[face.index()].as_ref().map(|photo| 1.0 / photo.px_per_mm[0].max(1e-9))
    }

    /// How wide a pixel of a face's photo is across the blank, mm.
    pub fn pixel_across_mm(&self, face: Face) -> Option<f64> {
        self.faces[face.index()].as_ref().map(|photo| 1.0 / photo.px_per_mm[1].max(1e-9))
    }

    /// The colour that was photographed about a place of a face, mm from the top and from the face's upper arris, averaged
    /// over a stretch along and across; nothing where there is no photo.
    #[inline]
    pub fn photographed(&self, face: Face, along: f64, across: f64, over_mm: [f64; 2]) -> Option<[f32; 3]> {
        let photo = self.faces[face.index()].as_ref()?;
        let [from, to] = photo.span_mm;
        (from..=to).contains(&along).then(|| photo.colour(along, across, over_mm))
    }

    /// How far across a face a point lies, mm from the face's upper arris as it is seen with the top end left.
    #[inline]
    pub fn across(&self, face: Face, p: BlankPoint) -> f64 {
        match face {
            Face::One => p.x,
            Face::Two => p.y,
            Face::Three => self.size_mm[0] - p.x,
            Face::Four => self.size_mm[1] - p.y,
        }
    }

    /// Whether a surface shows a photo anywhere: blemishes are in it already.
    pub fn shows_photo(&self, surface: Surface) -> bool {
        matches!(surface, Surface::Face(face) if self.faces[face.index()].is_some())
    }

    /// What shows at a point, its colour averaged over a texel.
    #[inline]
    pub fn at(&self, view: &View, p: BlankPoint, steps: &Steps) -> Grain {
        let size = |i: usize| steps.column[i].abs() + steps.row[i].abs();
        let over = [size(2), size(0).max(size(1))];
        let colour = match view.surface {
            Surface::Face(face) => self.photographed(face, p.s, self.across(face, p), over),
            Surface::Cut(_) | Surface::End(_) => None,
        };
        let colour = self.finish.on(colour.unwrap_or_else(|| self.guess(view, p, steps, over)));
        Grain { species: self.species, line: 0, colour: bytes(colour) }
    }

    /// A guess at the colour inside.
    fn guess(&self, view: &View, p: BlankPoint, steps: &Steps, over: [f64; 2]) -> [f32; 3] {
        let deep = [p.y, self.size_mm[0] - p.x, self.size_mm[1] - p.y, p.x].map(|mm| mm.max(0.0));
        let (mut sum, mut weights, mut nearest) = ([0.0_f32; 3], 0.0_f32, f64::INFINITY);
        for face in Face::ALL {
            let deep = deep[face.index()];
            let Some(colour) = self.photographed(face, p.s, self.across(face, p), over) else { continue };
            let weight = (1.0 / (deep * deep + 0.01)) as f32;
            sum = [0, 1, 2].map(|i| sum[i] + weight * colour[i]);
            weights += weight;
            nearest = nearest.min(deep);
        }
        let known = if weights > 0.0 { sum.map(|v| v / weights) } else { self.species.colour().map(f32::from) };
        let grey = known.iter().sum::<f32>() / 3.0;
        // An end shows end grain, which is darker; how it looks is as much a guess.
        let dark = if view.end > 0.5 { 0.82 } else { 1.0 };
        let along = p.s + p.x + p.y;
        let step = dot(steps.column, [1.0; 3]).abs() + dot(steps.row, [1.0; 3]).abs();
        let mark = HATCH * lines(along, step) * if grey > 110.0 { -1.0 } else { 1.6 };
        let guessed = known.map(|v| {
            let faded = (v + (grey - v) * FADED) * dark;
            let pale = faded + (235.0 - faded) * PALER;
            pale * (1.0 + mark)
        });
        let share = (nearest / GUESS_DEEP_MM).min(1.0) as f32;
        [0, 1, 2].map(|i| known[i] + (guessed[i] - known[i]) * share)
    }
}

/// How much of a texel the lines of the hatching cover.
fn lines(at: f64, texel: f64) -> f32 {
    let [pitch, width] = HATCH_MM;
    let covered = |t: f64| (t / pitch).floor() * width + t.rem_euclid(pitch).min(width);
    let half = 0.5 * texel.max(0.05);
    ((covered(at + half) - covered(at - half)) / (2.0 * half)) as f32
}

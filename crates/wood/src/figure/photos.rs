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

/// Over how much of the photos the guess at a face without one is averaged, along and across, mm: a calm ground, for what
/// single rings of the neighbouring faces' edges would tell there runs across the grain and looks like damage.
const CALM_MM: [f64; 2] = [80.0, 12.0];

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

/// How a photo is looked at.
#[derive(Clone, Copy, Debug)]
struct Look {
    /// Which copy of it.
    level: usize,
    /// How many looks make up a colour, and how far apart the first and the last are along and across, about, mm.
    taps: usize,
    apart_mm: [f64; 2],
    /// Where it may be looked at: places beyond are taken at the nearer end.
    along_mm: [f64; 2],
    across_mm: [f64; 2],
}

impl Look {
    #[inline]
    fn within(&self, along: f64, across: f64) -> [f64; 2] {
        let ([from, to], [upper, lower]) = (self.along_mm, self.across_mm);
        [along.max(from).min(to), across.max(upper).min(lower)]
    }
}

/// How all faces are looked at: the same for a whole painted rectangle, mostly.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Looks {
    over_mm: [f64; 2],
    faces: [Option<Look>; 4],
    /// The same from far, for faces without a photo.
    calm: [Option<Look>; 4],
}

/// What the photos show of faces that a column of a sawn surface runs square to: along the whole column it is the same
/// place of them.
#[derive(Clone, Copy, Debug)]
pub(crate) struct SeenFromColumn([Option<[f32; 3]>; 4]);

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

    /// How the photo is looked at where colours are averaged over a stretch along and across, mm.
    fn look(&self, over_mm: [f64; 2]) -> Look {
        let [wide, high] = [over_mm[0] * self.px_per_mm[0], over_mm[1] * self.px_per_mm[1]];
        let level = self.pixels.level(wide.min(high));
        // The background beyond the face's edges is none of its wood, and the pixels on the edges show some of it.
        let pixel = f64::from(1_u32 << level.min(30));
        let within = |[from, to]: [f64; 2], over: f64, px_per_mm: f64| {
            let half = (0.5 * over.max(3.0 * pixel / px_per_mm)).min(0.5 * (to - from));
            [from + half, to - half]
        };
        let taps = (wide.max(high) / wide.min(high).max(1.0)).round().clamp(1.0, 6.0) as usize;
        Look {
            level,
            taps,
            apart_mm: if wide > high { [over_mm[0], 0.0] } else { [0.0, over_mm[1]] },
            along_mm: within(self.span_mm, over_mm[0], self.px_per_mm[0]),
            across_mm: within([0.0, self.across_mm], over_mm[1], self.px_per_mm[1]),
        }
    }

    /// The colour about a place of the face, mm, looked at so.
    #[inline]
    fn colour(&self, look: &Look, along: f64, across: f64) -> [f32; 3] {
        let ([along, across], taps) = (look.within(along, across), look.taps);
        if taps == 1 {
            return self.pixels.colour(look.level, self.pixel(along, across), &self.tones);
        }
        let mut sum = [0.0; 3];
        for tap in 0..taps {
            let off = (tap as f64 + 0.5) / taps as f64 - 0.5;
            let at = self.pixel(along + off * look.apart_mm[0], across + off * look.apart_mm[1]);
            let colour = self.pixels.colour(look.level, at, &self.tones);
            sum = [0, 1, 2].map(|i| sum[i] + colour[i]);
        }
        sum.map(|sum: f32| sum / taps as f32)
    }

    /// The same by one look, for what is only guessed.
    #[inline]
    fn glance(&self, look: &Look, along: f64, across: f64) -> [f32; 3] {
        let [along, across] = look.within(along, across);
        self.pixels.colour(look.level, self.pixel(along, across), &self.tones)
    }

    #[inline]
    fn pixel(&self, along: f64, across: f64) -> [f64; 2] {
        let [x, y, w] = self.rows.map(|[a, b, c]| a * along + b * across + c);
        let share = 1.0 / w;
        [x * share, y * share]
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
        (from..=to).contains(&along).then(|| photo.colour(&photo.look(over_mm), along, across))
    }

    /// [`Face::across`] on this blank.
    #[inline]
    pub fn across(&self, face: Face, p: BlankPoint) -> f64 {
        face.across(p, self.size_mm)
    }

    /// Whether a surface shows a photo anywhere: blemishes are in it already.
    pub fn shows_photo(&self, surface: Surface) -> bool {
        matches!(surface, Surface::Face(face) if self.faces[face.index()].is_some())
    }

    fn looks(&self, over_mm: [f64; 2]) -> Looks {
        let looks =
            |over_mm: [f64; 2]| self.faces.each_ref().map(|photo| photo.as_ref().map(|photo| photo.look(over_mm)));
        let calm = [0, 1].map(|i| CALM_MM[i].max(over_mm[i]));
        Looks { over_mm, faces: looks(over_mm), calm: looks(calm) }
    }

    /// How a texel of these steps is looked at.
    #[inline]
    fn looks_over<'a>(&self, steps: &Steps, near: &'a mut Option<Looks>) -> &'a Looks {
        let size = |i: usize| steps.column[i].abs() + steps.row[i].abs();
        let over = [size(2), size(0).max(size(1))];
        if near.as_ref().is_some_and(|looks| looks.over_mm != over) {
            *near = None;
        }
        near.get_or_insert_with(|| self.looks(over))
    }

    /// What all texels of a column share, `p` being one of them. `near` is how the column before was looked at.
    pub fn seen_from_column(
        &self,
        view: &View,
        p: BlankPoint,
        steps: &Steps,
        near: &mut Option<Looks>,
    ) -> Option<SeenFromColumn> {
        let Surface::Cut(cut) = view.surface else { return None };
        let looks = self.looks_over(steps, near);
        let same = cut.seam_faces();
        Some(SeenFromColumn(Face::ALL.map(|face| {
            let (photo, look) = self.of(face, &looks.faces, p.s).filter(|_| same.contains(&face))?;
            Some(photo.glance(look, p.s, self.across(face, p)))
        })))
    }

    /// What shows at a point, its colour averaged over a texel. `near` is how the texel before was looked at, `column` what
    /// its column shares.
    #[inline]
    pub fn at(
        &self,
        view: &View,
        p: BlankPoint,
        steps: &Steps,
        column: Option<&SeenFromColumn>,
        near: &mut Option<Looks>,
    ) -> Grain {
        let looks = self.looks_over(steps, near);
        let colour = match view.surface {
            Surface::Face(face) => {
                self.of(face, &looks.faces, p.s).map(|(photo, look)| photo.colour(look, p.s, self.across(face, p)))
            }
            Surface::Cut(_) | Surface::End(_) => None,
        };
        let colour = self.finish.on(colour.unwrap_or_else(|| self.guess(view, p, steps, looks, column)));
        Grain { species: self.species, line: 0, colour: bytes(colour) }
    }

    /// The photo of a face and how it is looked at, where it shows this level.
    #[inline]
    fn of<'a>(&'a self, face: Face, looks: &'a [Option<Look>; 4], s: f64) -> Option<(&'a FacePhoto, &'a Look)> {
        let (photo, look) = (self.faces[face.index()].as_ref()?, looks[face.index()].as_ref()?);
        let [from, to] = photo.span_mm;
        (from..=to).contains(&s).then_some((photo, look))
    }

    /// A guess at the colour inside.
    fn guess(
        &self,
        view: &View,
        p: BlankPoint,
        steps: &Steps,
        looks: &Looks,
        column: Option<&SeenFromColumn>,
    ) -> [f32; 3] {
        let deep = [p.y, self.size_mm[0] - p.x, self.size_mm[1] - p.y, p.x].map(|mm| mm.max(0.0));
        let (mut sum, mut weights, mut nearest) = ([0.0_f32; 3], 0.0_f32, f64::INFINITY);
        let calm = matches!(view.surface, Surface::Face(_));
        let looks = if calm { &looks.calm } else { &looks.faces };
        for face in Face::ALL {
            let deep = deep[face.index()];
            let Some((photo, look)) = self.of(face, looks, p.s) else { continue };
            let colour = match column.and_then(|column| column.0[face.index()]) {
                Some(seen) => seen,
                None if calm => photo.colour(look, p.s, self.across(face, p)),
                None => photo.glance(look, p.s, self.across(face, p)),
            };
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

//! The colours of photos balanced between them.
//!
//! Two neighbouring faces meet at an arris, and along it both show the very same wood: whatever differs there is light and
//! camera. So each photo's red, green and blue light is multiplied so that the means along shared arrises come as near to
//! each other as they can, in the sense of least squares of their logarithms, and the light of all together stays as it
//! is. Photos that share no arris are brought to the same mean, but that counts a hundredth: opposite faces of one blank
//! may differ in truth.

use cornerwise_geometry::Face;

use crate::figure::PhotoFigure;
use crate::{PHOTO_GAIN, Photo, Photos};

/// How far in from an arris the strip reaches that is compared, mm, and where it is looked at.
const STRIP_MM: [f64; 3] = [1.0, 2.0, 3.0];

/// How many places along an arris are looked at.
const PLACES: usize = 200;

/// How much whole faces count beside arrises.
const WHOLE: f64 = 0.01;

impl Photos {
    /// The same with the colours of its photos balanced between them; nothing with fewer than two photos whose pixels are
    /// there.
    #[must_use]
    pub fn balanced(&self) -> Option<Photos> {
        let plain = self.as_photographed();
        let figure = PhotoFigure::new(&plain);
        let mut wants = Vec::new();
        for one in Face::ALL {
            for other in Face::ALL.into_iter().filter(|other| *other > one) {
                let (Some(p), Some(q)) = (self.of(one), self.of(other)) else { continue };
                if p.pixels.0.is_none() || q.pixels.0.is_none() {
                    continue;
                }
                let span = shared(p, q);
                let neighbours = (other.index() - one.index()) % 2 == 1;
                if let Some(span) = span.filter(|_| neighbours) {
                    let strip = |face, beside| mean(&figure, face, span, strip(&figure, face, beside));
                    wants.push(([one, other], 1.0, [strip(one, other), strip(other, one)]));
                }
                let whole = |photo: &Photo| mean(&figure, photo.face, photo.span_mm(), across(&figure, photo.face));
                wants.push(([one, other], WHOLE, [whole(p), whole(q)]));
            }
        }
        if wants.is_empty() {
            return None;
        }
        let mut balanced = plain;
        for channel in 0..3 {
            let mut system = [[0.0; 5]; 4];
            for ([one, other], weight, means) in &wants {
                let (i, j) = (one.index(), other.index());
                let [m, n] = means.map(|mean| mean[channel].max(1e-6).ln());
                // The one's logarithm and the other's differ by what is to be made up for.
                for (this, that, off) in [(i, j, n - m), (j, i, m - n)] {
                    system[this][this] += weight;
                    system[this][that] -= weight;
                    system[this][4] += weight * off;
                }
            }
            // All together keep their light; a face without a photo keeps to itself.
            for (i, row) in system.iter_mut().enumerate() {
                let there = wants.iter().any(|(faces, _, _)| faces.iter().any(|face| face.index() == i));
                for (j, part) in row.iter_mut().enumerate().take(4) {
                    *part += if there { 1e-3 } else { f64::from(u8::from(i == j)) };
                }
            }
            let logs = solved(system)?;
            for photo in &mut balanced.photos {
                let gain = logs[photo.face.index()].exp().clamp(PHOTO_GAIN[0], PHOTO_GAIN[1]);
                photo.gain[channel] = (gain * 1e4).round() / 1e4;
            }
        }
        Some(balanced)
    }

    /// The same with every photo's colours as the camera gave them.
    #[must_use]
    pub fn as_photographed(&self) -> Photos {
        let mut plain = self.clone();
        plain.photos.iter_mut().for_each(|photo| photo.gain = [1.0; 3]);
        plain
    }

    /// Whether any photo's colours are changed.
    pub fn is_balanced(&self) -> bool {
        self.photos.iter().any(|photo| photo.gain != [1.0; 3])
    }
}

/// The stretch that both show.
fn shared(p: &Photo, q: &Photo) -> Option<[f64; 2]> {
    let ([a, b], [c, d]) = (p.span_mm(), q.span_mm());
    let span = [a.max(c), b.min(d)];
    (span[1] - span[0] > 1.0).then_some(span)
}

/// Places across a face in the strip beside its neighbour, mm from its upper arris. The upper arris of each face is its
/// own number's: it is shared with the face before.
fn strip(figure: &PhotoFigure, face: Face, beside: Face) -> Vec<f64> {
    let upper = (beside.index() + 1) % 4 == face.index();
    let across = figure.across_mm(face);
    STRIP_MM.map(|mm| if upper { mm.min(across) } else { (across - mm).max(0.0) }).to_vec()
}

fn across(figure: &PhotoFigure, face: Face) -> Vec<f64> {
    (0..20).map(|i| figure.across_mm(face) * (f64::from(i) + 0.5) / 20.0).collect()
}

/// The mean light, red, green and blue, 0 to 1.
fn mean(figure: &PhotoFigure, face: Face, [from, to]: [f64; 2], across: Vec<f64>) -> [f64; 3] {
    let mut sum = [0.0; 3];
    for i in 0..PLACES {
        let along = from + (to - from) * (i as f64 + 0.5) / PLACES as f64;
        for across in &across {
            let colour = figure.photographed(face, along, *across, [(to - from) / PLACES as f64, 1.0]);
            for (sum, v) in sum.iter_mut().zip(colour.unwrap_or_default()) {
                *sum += light(f64::from(v) / 255.0);
            }
        }
    }
    sum.map(|sum| sum / (PLACES * across.len()) as f64)
}

/// The light of an sRGB value, both 0 to 1 (IEC 61966-2-1).
pub(crate) fn light(v: f64) -> f64 {
    if v <= 0.040_45 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) }
}

/// The sRGB value of a light.
pub(crate) fn tone(light: f64) -> f64 {
    if light <= 0.003_130_8 { 12.92 * light } else { 1.055 * light.powf(1.0 / 2.4) - 0.055 }
}

/// Four equations with their right sides, by elimination with the largest pivot.
fn solved(mut system: [[f64; 5]; 4]) -> Option<[f64; 4]> {
    for i in 0..4 {
        let pivot = (i..4).max_by(|p, q| system[*p][i].abs().total_cmp(&system[*q][i].abs()))?;
        system.swap(i, pivot);
        if system[i][i].abs() < 1e-12 {
            return None;
        }
        let pivot = system[i];
        for (_, row) in system.iter_mut().enumerate().filter(|(k, _)| *k != i) {
            let factor = row[i] / pivot[i];
            for (part, of_pivot) in row.iter_mut().zip(pivot) {
                *part -= factor * of_pivot;
            }
        }
    }
    Some([0, 1, 2, 3].map(|i| system[i][4] / system[i][i]))
}

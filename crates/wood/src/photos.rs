//! A blank as it was photographed.

use std::sync::Arc;

use cornerwise_geometry::{Face, Length};
use serde::{Deserialize, Serialize};

use crate::squaring::Squaring;
use crate::{PhotoPixels, PictureHash, Species, WoodError, error};

/// How far a photographed stretch may begin from the top, and how long it may be, mm.
pub const PHOTO_LENGTH_MM: [f64; 2] = [1.0, 20_000.0];

/// How much a photo may be lightened or darkened, a factor of its light.
pub const PHOTO_GAIN: [f64; 2] = [0.1, 10.0];

/// A real blank: photos of its faces, each squared up. Nothing is known of its inside.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Photos {
    /// The wood it is of, for its weight and strength, and for its colour where there is no photo.
    pub species: Species,
    /// The photos, one for each face at most, in the faces' order.
    #[serde(default)]
    pub photos: Vec<Photo>,
    /// Whether the blank is glued up of layers or blocks, whose lines are looked for, and not timber with its rings.
    #[serde(default, skip_serializing_if = "is_not")]
    pub glued_up: bool,
    /// How wide and deep the blank is, mm: told by whoever knows the blank, see [`Photos::of_blank`].
    #[serde(skip)]
    size_mm: [f64; 2],
}

/// A photo of one face.
///
/// Its corners are those of the face as it is seen with the top end left and the arris of the face's own number up: top end
/// up, foot up, foot down, top end down. As the blank is rolled away from the maker, each face comes to lie so.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Photo {
    /// Which face it shows.
    pub face: Face,
    /// Which picture of the project.
    pub picture: PictureHash,
    /// Where the four corners lie, as shares of the picture's width and height, from its upper left.
    pub corners: [[f64; 2]; 4],
    /// Where the corners at the top end lie on the blank, from the finished top: below 0 in the spare length.
    pub from_top: Length,
    /// How long the stretch between the corners is.
    pub length: Length,
    /// By how much its red, green and blue light is changed, so that it matches the others.
    #[serde(default = "as_it_is", skip_serializing_if = "is_as_it_is")]
    pub gain: [f64; 3],
    /// Its pixels, once somebody has developed them. They are no part of what is kept: the picture's name stands for them.
    #[serde(skip)]
    pub pixels: Exposed,
}

/// Pixels that may be there.
#[derive(Clone, Debug, Default)]
pub struct Exposed(pub Option<Arc<PhotoPixels>>);

impl PartialEq for Exposed {
    /// Pixels follow from the picture: what differs is whether they are there.
    fn eq(&self, other: &Exposed) -> bool {
        self.0.is_some() == other.0.is_some()
    }
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde asks it so")]
fn is_not(yes: &bool) -> bool {
    !yes
}

fn as_it_is() -> [f64; 3] {
    [1.0; 3]
}

fn is_as_it_is(gain: &[f64; 3]) -> bool {
    *gain == as_it_is()
}

impl Photo {
    /// A photo of a face as it is first laid: its corners a tenth in from the picture's, the stretch as told, mm.
    pub fn start(face: Face, picture: PictureHash, from_top: Length, length: Length) -> Photo {
        let corners = [[0.1, 0.1], [0.9, 0.1], [0.9, 0.9], [0.1, 0.9]];
        Photo { face, picture, corners, from_top, length, gain: as_it_is(), pixels: Exposed::default() }
    }

    /// From the face, each way as a share, to the picture; nothing where the corners make no rectangle.
    pub fn squaring(&self) -> Option<Squaring> {
        Squaring::new(self.corners)
    }

    /// Where on the blank it begins and ends, mm from the finished top.
    pub fn span_mm(&self) -> [f64; 2] {
        [self.from_top.mm(), self.from_top.mm() + self.length.mm()]
    }

    /// Seen the other way round: what was its left end is its right one.
    fn turned_round(&self) -> Photo {
        let [a, b, c, d] = self.corners;
        Photo { corners: [c, d, a, b], ..self.clone() }
    }
}

impl Photos {
    /// No photos yet of a blank of this width and depth.
    pub fn new(species: Species, size_mm: [f64; 2]) -> Photos {
        Photos { species, photos: Vec::new(), glued_up: false, size_mm }
    }

    /// The same of a blank of this width and depth.
    #[must_use]
    pub fn of_blank(mut self, size_mm: [f64; 2]) -> Photos {
        self.size_mm = size_mm;
        self
    }

    /// How wide and deep the blank is, mm.
    pub fn size_mm(&self) -> [f64; 2] {
        self.size_mm
    }

    /// The photo of a face.
    pub fn of(&self, face: Face) -> Option<&Photo> {
        self.photos.iter().find(|photo| photo.face == face)
    }

    /// The same with a photo of a face, in place of the one there was.
    #[must_use]
    pub fn with(&self, photo: Photo) -> Photos {
        let mut changed = self.without(photo.face);
        let place = changed.photos.partition_point(|one| one.face < photo.face);
        changed.photos.insert(place, photo);
        changed
    }

    /// The same without a photo of a face.
    #[must_use]
    pub fn without(&self, face: Face) -> Photos {
        let mut changed = self.clone();
        changed.photos.retain(|one| one.face != face);
        changed
    }

    /// The faces without a photo.
    pub fn missing(&self) -> Vec<Face> {
        Face::ALL.into_iter().filter(|face| self.of(*face).is_none()).collect()
    }

    /// The same with each photo's pixels as `pixels` has them by the pictures' names; nothing where nothing changes.
    #[must_use]
    pub fn exposed(&self, pixels: &dyn Fn(PictureHash) -> Option<Arc<PhotoPixels>>) -> Option<Photos> {
        let mut changed = self.clone();
        for photo in &mut changed.photos {
            photo.pixels = Exposed(pixels(photo.picture));
        }
        (changed != *self).then_some(changed)
    }

    /// Checks every number.
    ///
    /// # Errors
    /// [`WoodError`] names the first one that does not fit, NaN and infinities included.
    pub fn check(&self) -> Result<(), WoodError> {
        let [least, most] = PHOTO_LENGTH_MM;
        for (place, photo) in self.photos.iter().enumerate() {
            let face = photo.face;
            if self.photos[..place].iter().any(|one| one.face == face) {
                return Err(WoodError::TwoPhotos { face });
            }
            let inside = photo.corners.as_flattened().iter().all(|share| (0.0..=1.0).contains(share));
            if !inside || photo.squaring().is_none() {
                return Err(WoodError::PhotoCorners { face });
            }
            error::size("the distance from the top at which a photo begins", photo.from_top.mm(), -most, most)?;
            error::size("the length that a photo shows", photo.length.mm(), least, most)?;
            for gain in photo.gain {
                error::share("how much a photo's light is changed", gain, PHOTO_GAIN[0], PHOTO_GAIN[1])?;
            }
        }
        Ok(())
    }

    /// Photos in proportion, for a blank `factor` times as large.
    pub(crate) fn scaled(&self, factor: f64) -> Photos {
        let photo = |photo: &Photo| Photo {
            from_top: photo.from_top.scaled(factor),
            length: photo.length.scaled(factor),
            ..photo.clone()
        };
        let photos = self.photos.iter().map(photo).collect();
        Photos { photos, size_mm: self.size_mm.map(|mm| mm * factor), ..self.clone() }
    }

    /// Rolled a quarter away from the maker.
    pub(crate) fn rolled(&self) -> Photos {
        let [width, depth] = self.size_mm;
        let mut turned = Photos { photos: Vec::new(), ..self.clone() }.of_blank([depth, width]);
        for photo in &self.photos {
            let face = match photo.face {
                Face::One => Face::Four,
                Face::Two => Face::One,
                Face::Three => Face::Two,
                Face::Four => Face::Three,
            };
            turned = turned.with(Photo { face, ..photo.clone() });
        }
        turned
    }

    /// Turned end for end with face 1 up.
    pub(crate) fn end_for_end(&self, length_mm: f64) -> Photos {
        let mut turned = Photos { photos: Vec::new(), ..self.clone() };
        for photo in &self.photos {
            let face = match photo.face {
                Face::Two => Face::Four,
                Face::Four => Face::Two,
                same => same,
            };
            let from_top = Length::from_mm(length_mm - photo.span_mm()[1]);
            turned = turned.with(Photo { face, from_top, ..photo.turned_round() });
        }
        turned
    }
}

//! What an edit does to the pictures of a project and where they lie.

use crate::{Design, EditError, Fault, MAX_PICTURES, MOST_INSIDE_BYTES, Picture, PictureHash, Place, Project};
use crate::{Kept, ProjectError, Trace, check};
use cornerwise_geometry::Cut;
use cornerwise_wood::{Exposed, Wood};
use std::collections::BTreeSet;
use std::sync::Arc;

impl Project {
    /// The picture of this name.
    pub fn picture(&self, hash: PictureHash) -> Option<&Arc<Picture>> {
        self.pictures.iter().find(|picture| picture.hash == hash)
    }

    /// The pictures that designs use.
    pub fn used_pictures(&self) -> BTreeSet<PictureHash> {
        self.designs.iter().flat_map(|design| design.used_pictures()).collect()
    }

    /// Takes a picture in; one that is there already stays as it is kept.
    pub(crate) fn take_in(&mut self, picture: &Arc<Picture>) {
        if self.picture(picture.hash).is_none() {
            self.pictures.push(Arc::clone(picture));
        }
    }

    /// Lets go of pictures that designs used in the project `before` and use no longer.
    pub(crate) fn let_unused_go(&mut self, before: &Project) {
        if self.pictures.is_empty() {
            return;
        }
        let (was, is) = (before.used_pictures(), self.used_pictures());
        self.pictures.retain(|picture| is.contains(&picture.hash) || !was.contains(&picture.hash));
    }

    /// Keeps a picture elsewhere, or takes another one in its place wherever it is used.
    pub(crate) fn replace_picture(&mut self, was: PictureHash, picture: &Arc<Picture>) -> Result<(), EditError> {
        let place = self.pictures.iter().position(|one| one.hash == was).ok_or(EditError::NoSuchPicture)?;
        self.pictures.remove(place);
        self.pictures.retain(|one| one.hash != picture.hash);
        self.pictures.insert(place.min(self.pictures.len()), Arc::clone(picture));
        if was != picture.hash {
            for design in &mut self.designs {
                if design.used_pictures().any(|used| used == was) {
                    Arc::make_mut(design).swap_picture(was, picture.hash);
                }
            }
        }
        Ok(())
    }

    pub(crate) fn check_pictures(&self) -> Result<(), ProjectError> {
        let here = |place: usize| Place::Picture { picture: place + 1 };
        if self.pictures.len() > MAX_PICTURES {
            return Err(Fault::TooManyPictures(self.pictures.len()).at(Place::Project));
        }
        for (place, picture) in self.pictures.iter().enumerate() {
            check::check_name(&picture.name).map_err(|fault| fault.at(here(place)))?;
            if let Some(other) = self.pictures[..place].iter().position(|one| one.hash == picture.hash) {
                return Err(Fault::SamePicture(other + 1).at(here(place)));
            }
            if picture.width_px == 0 || picture.height_px == 0 {
                return Err(Fault::EmptyPicture.at(here(place)));
            }
            if let Kept::Beside(path) = &picture.kept
                && (path.is_empty() || path.len() > 4096 || path.contains(char::is_control))
            {
                return Err(Fault::PicturePath.at(here(place)));
            }
        }
        let inside: usize = self.pictures.iter().map(|picture| picture.inside_bytes()).sum();
        if inside > MOST_INSIDE_BYTES {
            return Err(Fault::PicturesTooBig(inside).at(Place::Project));
        }
        for (place, design) in self.designs.iter().enumerate() {
            if let Some(missing) = design.used_pictures().find(|used| self.picture(*used).is_none()) {
                return Err(Fault::NoSuchPicture(missing).at(Place::Design { design: place + 1 }));
            }
        }
        Ok(())
    }
}

impl Design {
    /// The picture under the face of a cut.
    pub fn trace(&self, cut: Cut) -> Option<&Trace> {
        self.traces.iter().find(|trace| trace.cut == cut)
    }

    fn used_pictures(&self) -> impl Iterator<Item = PictureHash> {
        let photos = self.wood.photos().into_iter().flat_map(|photos| &photos.photos);
        self.traces.iter().map(|trace| trace.picture).chain(photos.map(|photo| photo.picture))
    }

    fn swap_picture(&mut self, was: PictureHash, is: PictureHash) {
        for trace in self.traces.iter_mut().filter(|trace| trace.picture == was) {
            trace.picture = is;
        }
        if let Wood::Photos(photos) = &mut self.wood {
            for photo in photos.photos.iter_mut().filter(|photo| photo.picture == was) {
                (photo.picture, photo.pixels) = (is, Exposed::default());
            }
        }
    }

    /// The design with the picture under the face of a cut changed, laid on the other face, or taken away.
    pub(crate) fn with_trace(&self, cut: Cut, trace: Option<&Trace>) -> Result<Design, EditError> {
        let mut next = self.clone();
        let was = self.trace(cut);
        if was.is_none() && trace.is_none() {
            return Err(EditError::NoTrace { cut });
        }
        if let (Some(was), Some(is)) = (was, trace)
            && was.locked
            && is.locked
            && !was.lies_as(is)
        {
            return Err(EditError::TraceLocked { cut });
        }
        next.traces.retain(|one| one.cut != cut);
        if let Some(trace) = trace {
            if next.trace(trace.cut).is_some() {
                return Err(EditError::TraceThere { cut: trace.cut });
            }
            next.traces.push(trace.clone());
            next.traces.sort_by_key(|one| one.cut);
        }
        Ok(next)
    }

    pub(crate) fn check_traces(&self, number: usize) -> Result<(), ProjectError> {
        for (place, trace) in self.traces.iter().enumerate() {
            let here = Place::Trace { design: number, cut: trace.cut };
            if self.traces[..place].iter().any(|one| one.cut == trace.cut) {
                return Err(Fault::TwoTraces.at(here));
            }
            let far = Trace::FARTHEST_MM;
            let [least, most] = Trace::WIDTH_MM;
            let within = |what, value: f64, least, most| {
                let sound = (least..=most).contains(&value);
                if sound { Ok(()) } else { Err(Fault::TraceFigure { what, value, least, most }.at(here)) }
            };
            within("distance from the top, mm,", trace.from_top.mm(), -far, far)?;
            within("distance from the arris, mm,", trace.offset.mm(), -far, far)?;
            within("width, mm,", trace.width.mm(), least, most)?;
            within("turn, degrees,", trace.turn_deg, -360.0, 360.0)?;
            within("strength", trace.strength, 0.0, 1.0)?;
        }
        Ok(())
    }
}

/// What a change of a picture under a face is called.
pub(crate) fn label(before: Option<&Trace>, cut: Cut, trace: Option<&Trace>) -> String {
    let face = cut.face();
    let (Some(was), Some(is)) = (before, trace) else {
        let what = if trace.is_some() { "Lay a picture under" } else { "Remove the picture under" };
        return format!("{what} {face}");
    };
    let what = if was.picture != is.picture {
        "Change"
    } else if was.cut != is.cut {
        return format!("Move the picture to {}", is.cut.face());
    } else if was.locked != is.locked {
        if is.locked { "Lock" } else { "Unlock" }
    } else if was.hidden != is.hidden {
        if is.hidden { "Hide" } else { "Show" }
    } else if was.strength != is.strength {
        "Fade"
    } else if was.width != is.width {
        "Scale"
    } else if was.turn_deg != is.turn_deg {
        "Turn"
    } else {
        "Move"
    };
    format!("{what} the picture under {face}")
}

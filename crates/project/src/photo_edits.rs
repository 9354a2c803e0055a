//! Photos of a blank in a project: what changes of them are called, and their pixels put in.

use crate::{Design, PictureHash, Project};
use cornerwise_geometry::Face;
use cornerwise_wood::{PhotoPixels, Photos, Wood};
use std::collections::BTreeMap;
use std::sync::Arc;

impl Design {
    /// Tells photos how wide and deep the blank is that they are of.
    pub(crate) fn tell_photos(&mut self) {
        let size_mm = [self.blank.width.mm(), self.blank.depth.mm()];
        if let Wood::Photos(photos) = &mut self.wood
            && photos.size_mm() != size_mm
        {
            *photos = photos.clone().of_blank(size_mm);
        }
    }
}

impl Project {
    /// The project with its photos' pixels as `pixels` has them by the pictures' names; nothing where nothing changes.
    #[must_use]
    pub fn exposed(&self, pixels: &dyn Fn(PictureHash) -> Option<Arc<PhotoPixels>>) -> Option<Project> {
        let mut changed: Option<Project> = None;
        for (place, design) in self.designs.iter().enumerate() {
            if let Some(photos) = design.wood.photos().and_then(|photos| photos.exposed(pixels)) {
                let wood = Wood::Photos(photos);
                let design = Arc::new(Design { wood, ..Design::clone(design) });
                changed.get_or_insert_with(|| self.clone()).designs[place] = design;
            }
        }
        changed
    }

    /// The pictures that are photos of blanks.
    pub fn photographs(&self) -> Vec<PictureHash> {
        let photos = self.designs.iter().filter_map(|design| design.wood.photos()).flat_map(|photos| &photos.photos);
        photos.map(|photo| photo.picture).collect()
    }
}

/// Projects and designs whose pixels were put in, so that what was shared stays shared.
#[derive(Default)]
pub(crate) struct Exposure {
    projects: BTreeMap<*const Project, Arc<Project>>,
    designs: BTreeMap<*const Design, Arc<Design>>,
}

impl Exposure {
    pub fn of(
        &mut self,
        project: &Arc<Project>,
        pixels: &dyn Fn(PictureHash) -> Option<Arc<PhotoPixels>>,
    ) -> Arc<Project> {
        if let Some(known) = self.projects.get(&Arc::as_ptr(project)) {
            return Arc::clone(known);
        }
        let exposed = match project.exposed(pixels) {
            None => Arc::clone(project),
            Some(mut exposed) => {
                for (now, was) in exposed.designs.iter_mut().zip(&project.designs) {
                    *now = Arc::clone(self.designs.entry(Arc::as_ptr(was)).or_insert_with(|| Arc::clone(now)));
                }
                Arc::new(exposed)
            }
        };
        self.projects.insert(Arc::as_ptr(project), Arc::clone(&exposed));
        exposed
    }
}

/// What a change of photos is called.
pub(crate) fn label(before: Option<&Photos>, after: &Photos) -> String {
    let Some(before) = before else { return "Take photos of the blank".to_owned() };
    let changed: Vec<Face> = Face::ALL.into_iter().filter(|face| before.of(*face) != after.of(*face)).collect();
    match changed[..] {
        [] if before.glued_up != after.glued_up => "Say what the photos show".to_owned(),
        [] => "Change the photos".to_owned(),
        [face] => {
            let what = match (before.of(face), after.of(face)) {
                (None, _) => "Lay the photo on",
                (_, None) => "Remove the photo of",
                (Some(was), Some(is)) if was.picture != is.picture => "Change the photo of",
                (Some(was), Some(is)) if was.corners != is.corners => "Square up the photo of",
                (Some(was), Some(is)) if was.gain != is.gain => "Change the colours of the photo of",
                _ => "Say what the photo shows of",
            };
            format!("{what} {face}")
        }
        _ if after.is_balanced() => "Balance the photos' colours".to_owned(),
        _ if before.is_balanced() => "Show the photos' own colours".to_owned(),
        _ => "Change the photos".to_owned(),
    }
}

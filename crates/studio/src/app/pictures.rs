//! Pictures laid under the faces: taken from files, and what comes of it.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use cornerwise_geometry::{Cut, Face, Length};
use cornerwise_project::{Edit, Picture, PictureHash, Trace};
use cornerwise_wood::{Exposed, Photo, Photos, Species};
use egui::{Context, Pos2};

use super::Studio;
use crate::darkroom::{Exposure, For, News};
use crate::desk::Job;
use crate::scene::Ask;
use crate::view::Place;
use crate::views::curve::Import;

impl Studio {
    /// Takes in what the darkroom has done, and asks it for the pictures that are to be seen.
    pub(super) fn develop(&mut self, ctx: &Context) {
        for news in self.darkroom.news(ctx) {
            match news {
                News::Taken(For::Trace(design, cut), picture) => self.lay(design, cut, picture),
                News::Taken(For::Photo(design, face), picture) => self.photograph(design, face, picture),
                News::Taken(For::InPlaceOf(was), picture) => {
                    self.edit_and_choose(&Edit::ReplacePicture { was, picture });
                }
                News::Moved(picture) => {
                    self.edit_and_choose(&Edit::ReplacePicture { was: picture.hash, picture });
                }
                News::Failed(why) => self.wrong(&why),
            }
        }
        self.expose(ctx);
        let project = Arc::clone(self.history.current());
        let Some(design) = self.view.shown(&project) else { return };
        for trace in design.traces.iter().filter(|trace| !trace.hidden) {
            if let Some(picture) = project.picture(trace.picture) {
                self.darkroom.want(ctx, picture);
            }
        }
    }

    /// Has the photos of all blanks developed, puts their pixels into the projects of the history, and lets go of those that
    /// no blank shows any more, so that memory stays bounded by what is on the bench.
    fn expose(&mut self, ctx: &Context) {
        let project = Arc::clone(self.history.current());
        let used = project.photographs();
        for hash in &used {
            if let Some(picture) = project.picture(*hash) {
                self.darkroom.want_photo(ctx, picture);
            }
        }
        let dropped = !self.history.is_dragging() && self.darkroom.keep_photos(&used);
        let prints = &self.darkroom.prints;
        let pixels = |hash| prints.pixels(hash);
        if dropped || project.exposed(&pixels).is_some() {
            self.history.expose(&pixels);
            self.picture_again(&used);
        }
        let open = self.view.panels.photos.filter(|_| self.view.place == Place::Shape);
        let design = self.view.shown(&project);
        let photo = open.and_then(|face| design?.wood.photos()?.of(face));
        let hash = photo.map(|photo| photo.picture).filter(|hash| self.darkroom.prints.pixels(*hash).is_some());
        self.darkroom.show_photo(ctx, hash);
    }

    /// Among the recent projects a file is pictured as it is opened, before its photos are developed: once they all are, it is
    /// pictured anew, if the project is still what the file holds.
    fn picture_again(&self, used: &[PictureHash]) {
        let under_way = |hash: &PictureHash| matches!(self.darkroom.prints.exposure(*hash), Some(Exposure::UnderWay));
        if let (Some(path), Some(keeping)) = (&self.file, &self.keeping)
            && !used.iter().any(under_way)
            && !self.history.is_dirty()
        {
            keeping.opened(path, self.history.current());
        }
    }

    /// Takes a picture for the photo of a face of the blank; in place of the one there is, its corners stay.
    fn photograph(&mut self, design: cornerwise_project::DesignId, face: Face, picture: Arc<Picture>) {
        let Some(of) = self.history.current().design(design) else { return };
        let blank = &of.blank;
        let species = of.wood.species().first().copied().unwrap_or(Species::Maple);
        let none = Photos::new(species, [blank.width.mm(), blank.depth.mm()]);
        let photos = of.wood.photos().unwrap_or(&none);
        // At first it is taken to show the whole blank, spare length and all.
        let [top, foot] = [blank.spare_top.mm(), blank.spare_foot.mm()];
        let whole = [Length::from_mm(-top), Length::from_mm(top + blank.length.mm() + foot)];
        let [from_top, length] = whole;
        let photo = match photos.of(face) {
            Some(was) => Photo { picture: picture.hash, ..was.clone() },
            None => Photo::start(face, picture.hash, from_top, length),
        };
        let photo = Photo { pixels: Exposed(self.darkroom.prints.pixels(picture.hash)), ..photo };
        let photos = Box::new(photos.with(photo));
        self.edit_and_choose(&Edit::SetPhotos { design, photos, pictures: vec![picture] });
        self.view.place = Place::Shape;
        self.view.panels.photos = Some(face);
    }

    /// Lays a picture under a face; in place of the one that lies there, as that lies.
    fn lay(&mut self, design: cornerwise_project::DesignId, cut: Cut, picture: Arc<Picture>) {
        let Some(of) = self.history.current().design(design) else { return };
        let size_px = [picture.width_px, picture.height_px];
        let start = Trace::start(cut, picture.hash, size_px, of.blank.length.mm(), of.across_mm(cut));
        let trace = match of.trace(cut) {
            Some(was) => Trace { picture: picture.hash, hidden: false, ..was.clone() },
            None => start,
        };
        let (trace, picture) = (Some(Box::new(trace)), Some(picture));
        self.edit_and_choose(&Edit::SetTrace { design, cut, trace, picture });
        self.view.place = Place::Shape;
        self.view.panels.trace = Some(cut);
        self.view.tracing.marks = [None, None];
    }

    /// A picture was dropped on the window: it is laid under the face that it was dropped on.
    pub(super) fn lay_dropped(&mut self, ctx: &Context, path: PathBuf, at: Option<Pos2>) {
        if let Some(face) = self.view.panels.photos {
            let Some(design) = self.view.shown(self.history.current()).map(|design| design.id) else { return };
            self.darkroom.take(ctx, path, For::Photo(design, face));
            return;
        }
        let below = |at: Pos2| self.shape.faces.as_ref().is_some_and(|faces| at.y > faces.arris_2_px);
        let cut = match at {
            Some(at) if below(at) => Cut::Second,
            Some(_) => Cut::First,
            None => self.view.panels.trace.unwrap_or(Cut::First),
        };
        let Some(design) = self.view.shown(self.history.current()).map(|design| design.id) else { return };
        self.view.panels.trace = Some(cut);
        self.darkroom.take(ctx, path, For::Trace(design, cut));
    }

    /// Does what is asked about pictures.
    pub(super) fn picture_ask(&mut self, ctx: &Context, ask: Ask) {
        match ask {
            Ask::ChoosePicture(what_for) => {
                self.picture_for = Some(what_for);
                self.ask_for_file(ctx, Job::Picture);
            }
            Ask::LayPicture(path, at) => self.lay_dropped(ctx, path, at),
            Ask::ReadCurve(path) => self.read_curve(&path),
            Ask::KeepPicture { hash, inside } => self.keep_picture(ctx, hash, inside),
            Ask::DevelopAgain(hash) => self.darkroom.forget(hash),
            Ask::StopPictures => self.darkroom.stop(),
            _ => {}
        }
    }

    /// A file was chosen for a picture.
    pub(super) fn picture_chosen(&mut self, ctx: &Context, path: &Path) {
        if let Some(what_for) = self.picture_for.take() {
            self.darkroom.take(ctx, path.to_owned(), what_for);
        }
    }

    fn keep_picture(&mut self, ctx: &Context, hash: PictureHash, inside: bool) {
        let Some(picture) = self.history.current().picture(hash).cloned() else { return };
        if inside {
            self.darkroom.move_inside(ctx, picture);
            return;
        }
        match self.file.as_deref().map(std::path::absolute) {
            Some(Ok(file)) => {
                let folder = file.parent().unwrap_or(&file).to_owned();
                self.darkroom.move_beside(ctx, picture, folder);
            }
            _ => {
                self.wrong(
                    "a picture is kept beside the project's file, and there is none yet: save the project first",
                );
            }
        }
    }

    /// Reads a file's curves and shows how one of them would lie.
    pub(super) fn read_curve(&mut self, path: &Path) {
        let Some(design) = self.view.shown(self.history.current()).cloned() else { return };
        let cut = self.view.chosen.iter().next().map_or(Cut::First, |chosen| chosen.cut);
        let inches = matches!(self.history.current().units, cornerwise_geometry::Units::Inches(_));
        match Import::load(path, &design, cut, inches) {
            Ok(import) => {
                self.view.place = Place::Shape;
                self.view.import = Some(import);
            }
            Err(error) => {
                let name = path.file_name().unwrap_or(path.as_os_str()).to_string_lossy();
                self.wrong(&format!("no curve was read from {name}: {error}"));
            }
        }
    }

    /// Opens the panel for the picture under the face that is worked on, or closes it.
    pub(super) fn trace_panel(&mut self) {
        let chosen = self.view.chosen.iter().next().map(|chosen| chosen.cut);
        let laid = self.view.shown(self.history.current()).and_then(|design| design.traces.first()).map(|one| one.cut);
        let open = self.view.panels.trace.take();
        self.view.panels.trace = if open.is_some() { None } else { Some(chosen.or(laid).unwrap_or(Cut::First)) };
        self.view.tracing = crate::view::Tracing::default();
    }
}

/// What a dropped file is, by its ending.
pub(super) fn dropped(path: PathBuf, at: Option<Pos2>) -> Ask {
    let ending = path.extension().map(|ending| ending.to_string_lossy().to_lowercase());
    match ending.as_deref() {
        Some("png" | "jpg" | "jpeg") => Ask::LayPicture(path, at),
        Some("svg" | "csv") => Ask::ReadCurve(path),
        _ => Ask::OpenFile(path),
    }
}

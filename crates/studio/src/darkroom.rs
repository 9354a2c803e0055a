//! Pictures taken from files, developed and put elsewhere, off the thread that draws: one thread, one picture at a time, so
//! that memory stays bounded by one of them.

use std::collections::BTreeMap;
use std::collections::btree_map::Entry;
use std::path::PathBuf;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::mpsc::{self, Receiver, Sender};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread;

use cornerwise_export::pictures::{self, Developed, PictureError};
use cornerwise_geometry::{Cut, Face};
use cornerwise_project::{DesignId, Picture, PictureHash, Project};
use cornerwise_wood::PhotoPixels;
use egui::{ColorImage, Context, TextureHandle, TextureOptions};

/// A picture on screen has at most so many pixels, and so many a side where the graphics card takes them: 32 MB.
pub const MOST_SHOWN_PX: u64 = 8_000_000;
const MOST_SIDE_PX: usize = 4096;

/// A photo of a blank has at most so many pixels: with its smaller copies 32 MB. One of 24 million that shows 700 mm of a
/// blank from end to end is then 0.2 mm a pixel.
pub const MOST_PHOTO_PX: u64 = 8_000_000;
/// A photo is shown in its panel with so many pixels a side.
const PANEL_PX: usize = 2048;

/// What a picture is wanted for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum For {
    /// To lie under the face of a cut.
    Trace(DesignId, Cut),
    /// To be the photo of a face of the blank.
    Photo(DesignId, Face),
    /// To take another one's place.
    InPlaceOf(PictureHash),
}

/// A picture that can be painted.
#[derive(Clone)]
pub struct Print {
    /// Where the graphics card has it.
    pub texture: TextureHandle,
    /// How many pixels the whole picture is wide and high.
    pub full_px: [u32; 2],
}

/// How it stands with a picture.
#[derive(Clone)]
pub enum State {
    /// It is being developed.
    UnderWay,
    /// It is there.
    Ready(Print),
    /// It could not be had, and why.
    Failed(String),
}

/// How it stands with the pixels of a photo.
#[derive(Clone)]
pub enum Exposure {
    /// They are being developed.
    UnderWay,
    /// They are there.
    Ready(Arc<PhotoPixels>),
    /// They could not be had, and why.
    Failed(String),
}

/// The pictures of the project, as far as they are developed.
#[derive(Default)]
pub struct Prints {
    states: BTreeMap<PictureHash, State>,
    exposures: BTreeMap<PictureHash, Exposure>,
    /// The photo that is shown in its panel.
    pub photo: Option<(PictureHash, TextureHandle)>,
    /// What is being done; nothing at rest.
    pub progress: Option<Progress>,
}

impl Prints {
    /// How it stands with a picture; nothing where it was never asked for.
    pub fn state(&self, hash: PictureHash) -> Option<&State> {
        self.states.get(&hash)
    }

    /// How it stands with the pixels of a photo; nothing where they were never asked for.
    pub fn exposure(&self, hash: PictureHash) -> Option<&Exposure> {
        self.exposures.get(&hash)
    }

    /// The pixels of a photo, once they are there.
    pub fn pixels(&self, hash: PictureHash) -> Option<Arc<PhotoPixels>> {
        match self.exposures.get(&hash) {
            Some(Exposure::Ready(pixels)) => Some(Arc::clone(pixels)),
            _ => None,
        }
    }

    /// The picture, once it is there.
    pub fn get(&self, hash: PictureHash) -> Option<&Print> {
        match self.states.get(&hash) {
            Some(State::Ready(print)) => Some(print),
            _ => None,
        }
    }
}

enum Job {
    Take(PathBuf, For),
    Develop(Arc<Picture>),
    Expose(Arc<Picture>),
    Inside(Arc<Picture>),
    Beside(Arc<Picture>, PathBuf),
}

/// What comes out of the darkroom.
pub enum News {
    /// A picture was taken for something.
    Taken(For, Arc<Picture>),
    /// A picture is kept elsewhere now.
    Moved(Arc<Picture>),
    /// Something was not done, and why.
    Failed(String),
}

enum Done {
    Taken(For, Arc<Picture>, Developed),
    Photographed(For, Arc<Picture>, PhotoPixels),
    Developed(PictureHash, Result<Developed, PictureError>),
    Exposed(PictureHash, Result<PhotoPixels, PictureError>),
    Moved(Arc<Picture>),
    Failed(PictureError),
}

/// What is being done to which picture, and how far it is.
#[derive(Clone, Debug, PartialEq)]
pub struct Progress {
    /// The picture's name.
    pub name: String,
    /// What is being done.
    pub what: &'static str,
    /// Which share of it is done.
    pub share: f32,
}

/// Where pictures are developed.
#[derive(Default)]
pub struct Darkroom {
    /// What is there.
    pub prints: Prints,
    thread: Option<Ends>,
    shared: Arc<Shared>,
    given: u64,
}

#[derive(Default)]
struct Shared {
    /// Jobs up to this number are not wanted any more.
    stopped: AtomicU64,
    progress: Mutex<Option<Progress>>,
}

impl Darkroom {
    /// Takes a picture from a file.
    pub fn take(&mut self, ctx: &Context, path: PathBuf, what_for: For) {
        self.give(ctx, Job::Take(path, what_for));
    }

    /// Develops a picture of the project unless that was asked before.
    pub fn want(&mut self, ctx: &Context, picture: &Arc<Picture>) {
        if self.prints.states.contains_key(&picture.hash) {
            return;
        }
        self.prints.states.insert(picture.hash, State::UnderWay);
        self.give(ctx, Job::Develop(Arc::clone(picture)));
    }

    /// Develops a photo of the project unless that was asked before.
    pub fn want_photo(&mut self, ctx: &Context, picture: &Arc<Picture>) {
        if let Entry::Vacant(place) = self.prints.exposures.entry(picture.hash) {
            place.insert(Exposure::UnderWay);
            self.give(ctx, Job::Expose(Arc::clone(picture)));
        }
    }

    /// Lets go of photos that are not among these. The answer is whether there were any.
    pub fn keep_photos(&mut self, used: &[PictureHash]) -> bool {
        let before = self.prints.exposures.len();
        self.prints.exposures.retain(|hash, _| used.contains(hash));
        before != self.prints.exposures.len()
    }

    /// Shows this photo in its panel, or none.
    pub fn show_photo(&mut self, ctx: &Context, hash: Option<PictureHash>) {
        let shown = self.prints.photo.as_ref().map(|(hash, _)| *hash);
        if shown == hash {
            return;
        }
        self.prints.photo = hash.and_then(|hash| {
            let pixels = self.prints.pixels(hash)?;
            let side = ctx.input(|i| i.max_texture_side).min(PANEL_PX);
            let (size, rgb) = pixels.small(side);
            let image = ColorImage::from_rgb(size, rgb);
            Some((hash, ctx.load_texture("photo", image, TextureOptions::LINEAR)))
        });
    }

    /// Lets a picture be asked for again.
    pub fn forget(&mut self, hash: PictureHash) {
        self.prints.exposures.remove(&hash);
        self.prints.states.remove(&hash);
    }

    /// Keeps in memory only what a project uses.
    pub fn keep_only(&mut self, project: &Project) {
        if !self.prints.states.is_empty() {
            let used = project.used_pictures();
            self.prints.states.retain(|hash, _| used.contains(hash));
        }
    }

    /// Keeps a picture inside the project.
    pub fn move_inside(&mut self, ctx: &Context, picture: Arc<Picture>) {
        self.give(ctx, Job::Inside(picture));
    }

    /// Keeps a picture in a file in this folder.
    pub fn move_beside(&mut self, ctx: &Context, picture: Arc<Picture>, folder: PathBuf) {
        self.give(ctx, Job::Beside(picture, folder));
    }

    /// Stops all that is under way.
    pub fn stop(&mut self) {
        self.shared.stopped.store(self.given, Ordering::Relaxed);
    }

    /// What has come out since the last time.
    pub fn news(&mut self, ctx: &Context) -> Vec<News> {
        let Some((_, done)) = &self.thread else { return Vec::new() };
        let all: Vec<(u64, Done)> = done.try_iter().collect();
        self.prints.progress = self.shared.progress.lock().unwrap_or_else(PoisonError::into_inner).clone();
        let mut news = Vec::new();
        for (number, done) in all {
            let wanted = number > self.shared.stopped.load(Ordering::Relaxed);
            match done {
                Done::Taken(what_for, picture, developed) if wanted => {
                    self.prints.states.insert(picture.hash, State::Ready(print(ctx, &picture.name, developed)));
                    news.push(News::Taken(what_for, picture));
                }
                Done::Photographed(what_for, picture, pixels) if wanted => {
                    self.prints.exposures.insert(picture.hash, Exposure::Ready(Arc::new(pixels)));
                    news.push(News::Taken(what_for, picture));
                }
                Done::Exposed(hash, Ok(pixels)) => {
                    self.prints.exposures.insert(hash, Exposure::Ready(Arc::new(pixels)));
                }
                Done::Exposed(hash, Err(error)) => {
                    // Said at once: what is drawn without it looks like the wood's plain colour.
                    self.prints.exposures.insert(hash, Exposure::Failed(error.to_string()));
                    news.push(News::Failed(error.to_string()));
                }
                Done::Moved(picture) if wanted => news.push(News::Moved(picture)),
                Done::Taken(..) | Done::Photographed(..) | Done::Moved(_) | Done::Failed(PictureError::Stopped) => {}
                Done::Developed(hash, Ok(developed)) => {
                    self.prints.states.insert(hash, State::Ready(print(ctx, "picture", developed)));
                }
                Done::Developed(hash, Err(error)) => {
                    self.prints.states.insert(hash, State::Failed(error.to_string()));
                }
                Done::Failed(error) => news.push(News::Failed(error.to_string())),
            }
        }
        news
    }

    fn give(&mut self, ctx: &Context, job: Job) {
        let side = ctx.input(|i| i.max_texture_side).min(MOST_SIDE_PX) as u32;
        if self.thread.is_none() {
            self.thread = start(ctx, Arc::clone(&self.shared));
        }
        self.given += 1;
        if let Some((jobs, _)) = &self.thread {
            // A thread that has gone answers nothing; what waits for it stays under way and can be stopped.
            let _ = jobs.send((self.given, side, job));
        }
    }
}

fn print(ctx: &Context, name: &str, developed: Developed) -> Print {
    let size = developed.size_px.map(|px| px as usize);
    let image = ColorImage::from_rgba_unmultiplied(size, &developed.rgba);
    // Seen much smaller than it is, it stays smooth.
    let options = TextureOptions { mipmap_mode: Some(egui::TextureFilter::Linear), ..TextureOptions::LINEAR };
    Print { texture: ctx.load_texture(name, image, options), full_px: developed.full_px }
}

type Ends = (Sender<(u64, u32, Job)>, Receiver<(u64, Done)>);

fn start(ctx: &Context, shared: Arc<Shared>) -> Option<Ends> {
    let (give, jobs) = mpsc::channel::<(u64, u32, Job)>();
    let (tell, done) = mpsc::channel();
    let ctx = ctx.clone();
    let work = move || {
        while let Ok((number, side, job)) = jobs.recv() {
            let told = tell.send((number, work(&ctx, &shared, number, side, job)));
            *shared.progress.lock().unwrap_or_else(PoisonError::into_inner) = None;
            ctx.request_repaint();
            if told.is_err() {
                return;
            }
        }
    };
    thread::Builder::new().name("darkroom".to_owned()).spawn(work).ok()?;
    Some((give, done))
}

fn work(ctx: &Context, shared: &Shared, number: u64, side: u32, job: Job) -> Done {
    let name = match &job {
        Job::Take(path, _) => path.file_name().unwrap_or(path.as_os_str()).to_string_lossy().into_owned(),
        Job::Develop(picture) | Job::Expose(picture) | Job::Inside(picture) | Job::Beside(picture, _) => {
            picture.name.clone()
        }
    };
    let watch = |what: &'static str, share: f32| {
        let mut progress = shared.progress.lock().unwrap_or_else(PoisonError::into_inner);
        // Told twenty times on the way, not for every row.
        let known = progress.as_ref().is_some_and(|known| known.what == what && share < known.share + 0.05);
        if !known {
            *progress = Some(Progress { name: name.clone(), what, share });
            ctx.request_repaint();
        }
        number > shared.stopped.load(Ordering::Relaxed)
    };
    let develop = |bytes: &[u8]| pictures::develop(bytes, &name, MOST_SHOWN_PX, side, &watch);
    let expose = |bytes: &[u8]| pictures::photo_pixels(bytes, &name, MOST_PHOTO_PX, &watch);
    match job {
        Job::Take(path, what_for @ For::Photo(..)) => {
            let taken = pictures::take(&path, &watch).and_then(|taken| {
                let pixels = expose(&taken.bytes.0)?;
                Ok(Done::Photographed(what_for, Arc::new(taken.picture), pixels))
            });
            taken.unwrap_or_else(Done::Failed)
        }
        Job::Expose(picture) => {
            let pixels = pictures::bytes(&picture, &watch).and_then(|bytes| expose(&bytes.0));
            Done::Exposed(picture.hash, pixels)
        }
        Job::Take(path, what_for) => {
            let taken = pictures::take(&path, &watch).and_then(|taken| {
                let developed = develop(&taken.bytes.0)?;
                Ok(Done::Taken(what_for, Arc::new(taken.picture), developed))
            });
            taken.unwrap_or_else(Done::Failed)
        }
        Job::Develop(picture) => {
            let developed = pictures::bytes(&picture, &watch).and_then(|bytes| develop(&bytes.0));
            Done::Developed(picture.hash, developed)
        }
        Job::Inside(picture) => moved(pictures::moved_inside(&picture, &watch)),
        Job::Beside(picture, folder) => moved(pictures::moved_beside(&picture, &folder, &watch)),
    }
}

fn moved(moved: Result<Picture, PictureError>) -> Done {
    moved.map_or_else(Done::Failed, |picture| Done::Moved(Arc::new(picture)))
}

//! The thread that writes what is kept.

use std::fs::{self, File};
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicU32, Ordering};
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender};
use std::time::{Duration, Instant};

use cornerwise_export::files;
use cornerwise_project::Project;
use egui::Context;

use super::copies::{self, About};
use super::preferences::Preferences;
use super::{Folders, News, now, recent};

/// While the hand does not rest, a copy is written at least this often.
const AT_LEAST: Duration = Duration::from_secs(6);

/// What the clerk is asked to do.
pub enum Job {
    /// Keep a copy of this project, which is not saved.
    Copy(Arc<Project>, About),
    /// All is saved, or not wanted: no copy is needed.
    NoCopy,
    /// Keep these preferences.
    Preferences(Preferences),
    /// This project was opened from or saved to this file.
    Opened(PathBuf, Arc<Project>),
    /// Take this file off the list of recent projects.
    Forget(PathBuf),
    /// Say which projects are recent.
    TellRecent,
}

pub struct Clerk {
    ctx: Context,
    folders: Folders,
    rest: Duration,
    report: Sender<News>,
    /// This studio's own name among the copies.
    name: String,
    /// Held for as long as this studio runs, so that no other one takes its copy for a crashed one's.
    lock: Option<File>,
    copy: Option<Due<(Arc<Project>, About)>>,
    preferences: Option<Due<Preferences>>,
    told: bool,
}

/// Something to be written a little later.
struct Due<T> {
    what: T,
    first: Instant,
    last: Instant,
}

impl<T> Due<T> {
    fn new(what: T, before: Option<&Due<T>>) -> Due<T> {
        let last = Instant::now();
        Due { what, first: before.map_or(last, |before| before.first), last }
    }

    fn at(&self, rest: Duration) -> Instant {
        (self.last + rest).min(self.first + AT_LEAST.max(rest))
    }
}

impl Clerk {
    pub fn new(ctx: &Context, folders: Folders, rest: Duration, report: Sender<News>) -> Clerk {
        static STUDIOS: AtomicU32 = AtomicU32::new(0);
        let number = STUDIOS.fetch_add(1, Ordering::Relaxed);
        let name = format!("{}-{}-{number}", now(), std::process::id());
        let ctx = ctx.clone();
        Clerk { ctx, folders, rest, report, name, lock: None, copy: None, preferences: None, told: false }
    }

    /// Works until the studio has gone, and finishes what it was given.
    pub fn work(mut self, jobs: &Receiver<Job>) {
        loop {
            let due =
                [self.copy.as_ref().map(|due| due.at(self.rest)), self.preferences.as_ref().map(|d| d.at(self.rest))];
            let wait = due.into_iter().flatten().min().map(|at| at.saturating_duration_since(Instant::now()));
            let job = match wait {
                Some(wait) => jobs.recv_timeout(wait),
                None => jobs.recv().map_err(|_| RecvTimeoutError::Disconnected),
            };
            match job {
                Ok(job) => self.take(job),
                Err(RecvTimeoutError::Timeout) => self.write(Instant::now()),
                Err(RecvTimeoutError::Disconnected) => break,
            }
        }
        self.write(Instant::now() + AT_LEAST + self.rest);
        if self.lock.take().is_some() && !self.folders.recovery().join(copies::file_name(&self.name)).exists() {
            let _ = fs::remove_file(self.folders.recovery().join(copies::lock_name(&self.name)));
        }
    }

    fn take(&mut self, job: Job) {
        match job {
            Job::Copy(project, about) => self.copy = Some(Due::new((project, about), self.copy.as_ref())),
            Job::NoCopy => {
                self.copy = None;
                if self.lock.is_some() {
                    let _ = fs::remove_file(self.folders.recovery().join(copies::file_name(&self.name)));
                }
            }
            Job::Preferences(preferences) => {
                self.preferences = Some(Due::new(preferences, self.preferences.as_ref()));
            }
            // A list that cannot be written is a convenience less; the project itself is where it was saved.
            Job::Opened(path, project) => drop(recent::opened(&self.folders, &path, &project)),
            Job::Forget(path) => drop(recent::forget(&self.folders, &path)),
            Job::TellRecent => {
                let _ = self.report.send(News::Recent(recent::list(&self.folders)));
                self.ctx.request_repaint();
            }
        }
    }

    /// Writes what is due by then.
    fn write(&mut self, by: Instant) {
        if let Some(due) = self.copy.take_if(|due| due.at(self.rest) <= by) {
            let (project, about) = due.what;
            if let Err(error) = self.write_copy(&project, about) {
                self.tell_once(error);
            }
        }
        if let Some(due) = self.preferences.take_if(|due| due.at(self.rest) <= by) {
            // They are kept for the next start; without them it starts as it did this time.
            drop(due.what.save(&self.folders));
        }
    }

    fn write_copy(&mut self, project: &Project, about: About) -> Result<(), String> {
        let folder = self.folders.recovery();
        fs::create_dir_all(&folder).map_err(|error| format!("{error}: {}", folder.display()))?;
        if self.lock.is_none() {
            let path = folder.join(copies::lock_name(&self.name));
            let lock = File::create(&path).map_err(|error| format!("{error}: {}", path.display()))?;
            lock.try_lock().map_err(|error| format!("{error}: {}", path.display()))?;
            self.lock = Some(lock);
        }
        let text = copies::text(project, &About { kept: now(), ..about })?;
        let path = folder.join(copies::file_name(&self.name));
        files::save_bytes(&path, text.as_bytes()).map_err(|error| error.to_string())
    }

    fn tell_once(&mut self, error: String) {
        if !std::mem::replace(&mut self.told, true) {
            let _ = self.report.send(News::NoCopies(error));
            self.ctx.request_repaint();
        }
    }
}

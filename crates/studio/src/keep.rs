//! What is kept between one start of the studio and the next: preferences, recent projects, and a recovery copy of what
//! is not saved. Nothing of it is the project; all of it is written by threads, each file all or nothing.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::mpsc::{self, Receiver, Sender};
use std::thread::{self, JoinHandle};
use std::time::{Duration, SystemTime, UNIX_EPOCH};

use cornerwise_project::Project;
use egui::Context;

mod clerk;
pub mod copies;
pub mod folders;
pub mod preferences;
pub mod recent;

use clerk::Job;
use copies::{About, Crashed};
pub use folders::Folders;
use preferences::Preferences;
use recent::Recent;

/// How long the hand must rest before a recovery copy is written.
pub const REST: Duration = Duration::from_millis(1500);

/// What comes back from the threads.
pub enum News {
    /// No recovery copy can be kept, and why. Told once.
    NoCopies(String),
    /// Work that was not saved when an earlier studio ended.
    Crashed(Vec<Crashed>),
    /// The projects opened or saved last.
    Recent(Vec<Recent>),
}

/// The threads that keep things, and what they were told last.
pub struct Keeping {
    folders: Folders,
    give: Option<Sender<Job>>,
    clerk: Option<JoinHandle<()>>,
    report: Sender<News>,
    news: Receiver<News>,
    /// The project that was last given to the clerk, where it was not saved.
    copied: Option<Arc<Project>>,
    preferences: Preferences,
}

impl Keeping {
    /// Starts to keep things in these folders, and looks for what an earlier studio left behind. Recovery copies are
    /// written when nothing has changed for `rest`.
    pub fn start(ctx: &Context, folders: Folders, preferences: Preferences, rest: Duration) -> Keeping {
        let (report, news) = mpsc::channel();
        let (give, jobs) = mpsc::channel();
        let desk = clerk::Clerk::new(ctx, folders.clone(), rest, report.clone());
        // Without a thread nothing is kept; the studio works all the same.
        let clerk = thread::Builder::new().name("clerk".to_owned()).spawn(move || desk.work(&jobs)).ok();
        let keeping = Keeping { folders, give: Some(give), clerk, report, news, copied: None, preferences };
        keeping.look(ctx, |folders| News::Crashed(copies::crashed(folders)));
        keeping
    }

    /// What has come back since the last frame.
    pub fn news(&self) -> Vec<News> {
        self.news.try_iter().collect()
    }

    /// Takes note of the project at rest: while it is not saved, a copy is kept.
    pub fn project(&mut self, project: &Arc<Project>, saved: bool, about: impl FnOnce() -> About) {
        match (&self.copied, saved) {
            (Some(copied), false) if Arc::ptr_eq(copied, project) => {}
            (None, true) => {}
            (_, false) => {
                self.copied = Some(Arc::clone(project));
                self.tell(Job::Copy(Arc::clone(project), about()));
            }
            (Some(_), true) => {
                self.copied = None;
                self.tell(Job::NoCopy);
            }
        }
    }

    /// Takes note of the preferences.
    pub fn preferences(&mut self, now: &Preferences) {
        if *now != self.preferences {
            self.preferences = now.clone();
            self.tell(Job::Preferences(now.clone()));
        }
    }

    /// A project was opened from a file, or saved to it.
    pub fn opened(&self, path: &Path, project: &Arc<Project>) {
        self.tell(Job::Opened(path.to_owned(), Arc::clone(project)));
    }

    /// Takes a file off the list of recent projects. The file itself stays.
    pub fn forget(&self, ctx: &Context, path: PathBuf) {
        self.tell(Job::Forget(path));
        self.look_for_recent(ctx);
    }

    /// Asks for the recent projects.
    pub fn look_for_recent(&self, ctx: &Context) {
        self.tell(Job::TellRecent);
        ctx.request_repaint();
    }

    /// Looks on a thread of its own, so that a folder that does not answer holds nothing up.
    fn look(&self, ctx: &Context, look: impl FnOnce(&Folders) -> News + Send + 'static) {
        let (folders, report, ctx) = (self.folders.clone(), self.report.clone(), ctx.clone());
        let looked = thread::Builder::new().name("look".to_owned()).spawn(move || {
            // Nobody listens when the studio has gone meanwhile.
            let _ = report.send(look(&folders));
            ctx.request_repaint();
        });
        drop(looked);
    }

    fn tell(&self, job: Job) {
        if let Some(give) = &self.give {
            // A clerk that has gone keeps nothing; there is nobody else to tell.
            let _ = give.send(job);
        }
    }

    /// The maker leaves on purpose: what is not saved was not wanted.
    pub fn leave(&mut self) {
        self.tell(Job::NoCopy);
        self.copied = None;
    }
}

impl Drop for Keeping {
    /// Waits until what was given to the clerk is written.
    fn drop(&mut self) {
        self.give = None;
        if let Some(clerk) = self.clerk.take() {
            let _ = clerk.join();
        }
    }
}

/// Seconds since 1970.
pub fn now() -> u64 {
    SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |since| since.as_secs())
}

/// How long ago something was, in words.
pub fn ago(then: u64, now: u64) -> String {
    let seconds = now.saturating_sub(then);
    let count = |n: u64, what: &str| format!("{n} {what}{} ago", if n == 1 { "" } else { "s" });
    match seconds {
        0..60 => "just now".to_owned(),
        60..3600 => count(seconds / 60, "minute"),
        3600..86_400 => count(seconds / 3600, "hour"),
        _ => count(seconds / 86_400, "day"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn how_long_ago_is_said_in_words() {
        let words = [0, 59, 60, 7199, 7200, 86_400, 900_000].map(|seconds| ago(1_000_000 - seconds, 1_000_000));
        assert_eq!(
            words,
            ["just now", "just now", "1 minute ago", "1 hour ago", "2 hours ago", "1 day ago", "10 days ago"]
        );
        assert_eq!(ago(5, 0), "just now", "a clock that was set back");
    }
}

//! Asking for a file: by a dialog, off the thread that draws; by a typed path where there is no dialog.

use std::path::{Path, PathBuf};
use std::sync::mpsc::{self, Receiver, TryRecvError};
use std::thread;
use std::time::{Duration, Instant};

use egui::Context;

/// No hand cancels a dialog faster than this: then there was none.
const NO_DIALOG: Duration = Duration::from_millis(400);

/// What a file is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Job {
    /// To open a project.
    Open,
    /// To save the project.
    SaveAs,
    /// To save its paper.
    SavePaper,
    /// To save the graphs of a leg as a table.
    SaveGraphs,
    /// To save a recovered copy.
    SaveCopy,
    /// To take a picture.
    Picture,
    /// To take a curve.
    Curve,
}

impl Job {
    /// What is asked, and what the button says.
    pub fn words(self) -> (&'static str, &'static str) {
        match self {
            Job::Open => ("Open a project file", "Open"),
            Job::SaveAs => ("Save the project as", "Save"),
            Job::SavePaper => ("Save the paper as PDF", "Save"),
            Job::SaveGraphs => ("Save the graphs as CSV", "Save"),
            Job::Curve => ("Choose a drawing or a table, SVG or CSV", "Read it"),
            Job::Picture => ("Choose a picture, PNG or JPEG", "Take it"),
            Job::SaveCopy => ("Save the recovered copy as", "Save"),
        }
    }

    /// The kind of file: its name and its endings, the usual one first.
    fn kind(self) -> (&'static str, &'static [&'static str]) {
        match self {
            Job::Open | Job::SaveAs | Job::SaveCopy => ("Cornerwise project", &["ron"]),
            Job::SavePaper => ("PDF", &["pdf"]),
            Job::SaveGraphs => ("CSV table", &["csv"]),
            Job::Curve => ("SVG or CSV", &["svg", "csv", "txt", "SVG", "CSV", "TXT"]),
            Job::Picture => ("PNG or JPEG", &["png", "jpg", "jpeg", "PNG", "JPG", "JPEG"]),
        }
    }

    /// The path with its ending, which dialogs leave off.
    pub fn with_ending(self, path: PathBuf) -> PathBuf {
        if path.extension().is_some() || self.opens() { path } else { path.with_extension(self.kind().1[0]) }
    }

    /// Whether a file is asked for that is there already.
    pub fn opens(self) -> bool {
        matches!(self, Job::Open | Job::Picture | Job::Curve)
    }
}

/// A path that is being typed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Typed {
    /// What for.
    pub job: Job,
    /// What is typed so far.
    pub text: String,
    /// A file that is there already and was asked about.
    pub replace: Option<PathBuf>,
    /// Whether it has just been asked for, and the keys should go to it.
    pub fresh: bool,
}

/// Where files are asked for.
#[derive(Default)]
pub struct Desk {
    waiting: Option<Waiting>,
    /// The path that is being typed.
    pub typed: Option<Typed>,
    /// Never show a dialog: ask for a typed path.
    pub only_typed: bool,
}

struct Waiting {
    job: Job,
    answer: Receiver<Option<PathBuf>>,
    asked: Instant,
    suggested: PathBuf,
}

impl Desk {
    /// Asks for a file. The answer comes from [`Desk::poll`], frames later.
    pub fn ask(&mut self, ctx: &Context, job: Job, suggested: &Path) {
        if self.waiting.is_some() {
            return; // one dialog at a time; it is on the screen already
        }
        self.typed = None;
        if self.only_typed {
            self.type_path(job, suggested);
            return;
        }
        let (give, answer) = mpsc::channel();
        let (ctx, path) = (ctx.clone(), suggested.to_owned());
        let shown = thread::Builder::new().name("file dialog".to_owned()).spawn(move || {
            let chosen = dialog(job, &path);
            // Nobody listens any more when the window has gone meanwhile.
            let _ = give.send(chosen);
            ctx.request_repaint();
        });
        match shown {
            Ok(_) => {
                self.waiting = Some(Waiting { job, answer, asked: Instant::now(), suggested: suggested.to_owned() });
            }
            Err(_) => self.type_path(job, suggested),
        }
    }

    /// What was asked for and the file that was chosen, once there is an answer; no file when the dialog was cancelled.
    pub fn poll(&mut self) -> Option<(Job, Option<PathBuf>)> {
        let waiting = self.waiting.as_ref()?;
        let answer = match waiting.answer.try_recv() {
            Ok(answer) => answer,
            Err(TryRecvError::Empty) => return None,
            Err(TryRecvError::Disconnected) => None,
        };
        let waiting = self.waiting.take()?;
        match answer {
            Some(path) => Some((waiting.job, Some(waiting.job.with_ending(path)))),
            None => {
                if waiting.asked.elapsed() < NO_DIALOG {
                    self.type_path(waiting.job, &waiting.suggested);
                    return None;
                }
                Some((waiting.job, None))
            }
        }
    }

    fn type_path(&mut self, job: Job, suggested: &Path) {
        self.typed = Some(Typed { job, text: suggested.display().to_string(), replace: None, fresh: true });
    }
}

fn dialog(job: Job, suggested: &Path) -> Option<PathBuf> {
    let (title, _) = job.words();
    let (kind, endings) = job.kind();
    let mut dialog = rfd::FileDialog::new().set_title(title).add_filter(kind, endings);
    if let Some(folder) = suggested.parent().filter(|folder| folder.is_dir()) {
        dialog = dialog.set_directory(folder);
    }
    match job {
        Job::Open | Job::Picture | Job::Curve => dialog.pick_file(),
        Job::SaveAs | Job::SavePaper | Job::SaveGraphs | Job::SaveCopy => {
            if let Some(name) = suggested.file_name() {
                dialog = dialog.set_file_name(name.to_string_lossy());
            }
            dialog.save_file()
        }
    }
}

/// A file name for a project: its name without what no file system takes.
pub fn file_name(project: &str, ending: &str) -> String {
    let plain: String = project
        .chars()
        .map(|c| if c.is_alphanumeric() || c == ' ' || c == '-' { c } else { ' ' })
        .collect::<String>()
        .split_whitespace()
        .collect::<Vec<_>>()
        .join("-")
        .to_lowercase();
    let plain = if plain.is_empty() { "project".to_owned() } else { plain };
    format!("{plain}.{ending}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_of_files_are_plain() {
        assert_eq!(file_name("Reading table, 2/3", "ron"), "reading-table-2-3.ron");
        assert_eq!(file_name("../../etc", "pdf"), "etc.pdf");
        assert_eq!(file_name("  ", "ron"), "project.ron");
    }

    #[test]
    fn endings_are_added_where_a_dialog_left_them_off() {
        assert_eq!(Job::SavePaper.with_ending("leg".into()), PathBuf::from("leg.pdf"));
        assert_eq!(Job::SaveAs.with_ending("leg.ron".into()), PathBuf::from("leg.ron"));
        assert_eq!(Job::Open.with_ending("leg".into()), PathBuf::from("leg"));
    }

    #[test]
    fn without_a_dialog_a_path_is_typed() {
        let mut desk = Desk { only_typed: true, ..Desk::default() };
        desk.ask(&Context::default(), Job::SaveAs, Path::new("leg.ron"));
        assert_eq!(desk.typed.map(|typed| (typed.job, typed.text)), Some((Job::SaveAs, "leg.ron".to_owned())));
    }
}

//! Opening, saving, and leaving a project that is not saved.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use cornerwise_export::along_csv;
use cornerwise_export::files;
use cornerwise_project::{History, Project};
use egui::{Context, ViewportCommand};

use super::Studio;
use crate::desk::{Job, file_name};
use crate::scene::Ask;
use crate::start;
use crate::view::View;
use crate::views::notice::Notice;

/// What the project is left for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Leaving {
    /// The window closes.
    Quit,
    /// A plain new project.
    New,
    /// A demo.
    Demo(usize),
    /// A file that is asked for.
    AskForFile,
    /// A file.
    Open(PathBuf),
    /// A recovered copy, by its name.
    Copy(String),
}

impl Studio {
    /// Leaves the project, or asks first when it is not saved.
    pub(super) fn leave_for(&mut self, ctx: &Context, what: Leaving) {
        self.history.commit_drag();
        self.gesture = None;
        self.leaving = Some(what);
        if self.history.is_dirty() {
            let name = &self.history.current().name;
            self.notice = Some(Notice {
                words: format!("{name} has changes that are not saved."),
                wrong: false,
                offers: vec![
                    ("Save", Ask::SaveAndLeave),
                    ("Don't save", Ask::LeaveAnyway),
                    ("Keep working", Ask::Stay),
                ],
            });
        } else {
            self.leave(ctx);
        }
    }

    /// Goes on with what the project is left for.
    pub(super) fn leave(&mut self, ctx: &Context) {
        self.notice = None;
        match self.leaving.take() {
            Some(Leaving::Quit) => {
                self.quitting = true;
                self.leave_keeping();
                ctx.send_viewport_cmd(ViewportCommand::Close);
            }
            Some(Leaving::New) => {
                let units = self.history.current().units;
                self.put_on_bench(start::plain(units), None);
                self.view.panels.starter = true;
            }
            Some(Leaving::Demo(number)) => match start::demo(number) {
                Some(project) => self.put_on_bench(project, None),
                None => self.wrong("there is no such demo"),
            },
            Some(Leaving::AskForFile) => {
                self.agreed = Some(self.history.revision());
                self.ask_for_file(ctx, Job::Open);
            }
            Some(Leaving::Open(path)) => self.open(&path),
            Some(Leaving::Copy(name)) => self.open_copy(&name),
            None => {}
        }
    }

    pub(super) fn put_on_bench(&mut self, project: Project, file: Option<PathBuf>) {
        let View { place, sides, along, strong_wood, look, scale_percent, screen_px_per_mm, .. } = self.view;
        let snaps = self.view.snaps.clone();
        let kept = std::mem::replace(&mut self.view, View::of(&project));
        self.view = View {
            graphs: kept.graphs,
            leg_as: kept.leg_as,
            clean_up: kept.clean_up,
            usual_saw: kept.usual_saw,
            place,
            sides,
            along,
            strong_wood,
            snaps,
            look,
            scale_percent,
            screen_px_per_mm,
            ..View::of(&project)
        };
        self.demo = file.is_none() && start::is_demo(&project);
        self.history = History::new(project);
        (self.gesture, self.agreed) = (None, None);
        self.file = file;
        (self.stamp, self.copies.on_bench) = (None, None);
        self.darkroom.keep_only(self.history.current());
    }

    /// Says why there is a new project on the bench and not the file that was asked for.
    pub fn said_at_start(&mut self, why: &str) {
        self.wrong(&format!("not opened: {why}"));
    }

    fn not_opened(&mut self, why: &str) {
        self.wrong(&format!("not opened, everything here is as it was: {why}"));
    }

    fn open(&mut self, path: &Path) {
        match files::load(path) {
            Ok(project) => {
                self.put_on_bench(project, Some(path.to_owned()));
                self.file_is_known(path);
            }
            Err(error) => self.not_opened(&error.to_string()),
        }
    }

    /// Saves to the project's file, or asks for one. The answer is whether it is saved now.
    pub(super) fn save(&mut self, ctx: &Context) -> bool {
        match self.file.clone() {
            Some(path) => self.save_to(&path),
            None => {
                self.ask_for_file(ctx, Job::SaveAs);
                false
            }
        }
    }

    fn save_to(&mut self, path: &Path) -> bool {
        self.history.commit_drag();
        if self.changed_by_others(path) {
            return false;
        }
        let project = Arc::clone(self.history.current());
        match files::save(&project, path) {
            Ok(()) => {
                self.history.mark_saved(project);
                self.file = Some(path.to_owned());
                self.notice = None;
                self.file_is_known(path);
                self.copy_is_saved();
                true
            }
            Err(error) => {
                self.wrong(&format!("not saved: {error}"));
                false
            }
        }
    }

    fn save_paper(&mut self, path: &Path) {
        let project = Arc::clone(self.history.current());
        let file = self.file.as_deref();
        let done = crate::print::pdf(&project).and_then(|bytes| crate::print::write(path, &bytes, file));
        match done {
            Ok(()) => {
                let name = path.display();
                self.notice = Some(Notice::done(format!("Paper saved. Print it at 100 %: {name}")));
            }
            Err(error) => self.wrong(&format!("the paper was not saved: {error}")),
        }
    }

    fn save_graphs(&mut self, path: &Path) {
        let project = Arc::clone(self.history.current());
        let Some(design) = self.view.shown(&project) else { return };
        let table = along_csv::along_csv(&project, design, along_csv::USUAL_PLACES).map_err(|error| error.to_string());
        let done = table.and_then(|table| crate::print::write(path, table.as_bytes(), self.file.as_deref()));
        match done {
            Ok(()) => self.notice = Some(Notice::done(format!("Graphs saved: {}", path.display()))),
            Err(error) => self.wrong(&format!("the graphs were not saved: {error}")),
        }
    }

    pub(super) fn ask_for_file(&mut self, ctx: &Context, job: Job) {
        let project = self.history.current();
        let beside = self.file.as_deref().and_then(Path::parent).filter(|folder| !folder.as_os_str().is_empty());
        let folder = beside.map(Path::to_owned).or_else(|| std::env::current_dir().ok()).unwrap_or_default();
        let suggested = match (job, &self.file) {
            (Job::SaveAs, Some(file)) => file.clone(),
            (Job::SaveCopy, Some(_)) => folder.join(file_name(&project.name, "ron")),
            (Job::Open | Job::Picture | Job::Curve, _) => folder.join(""),
            (Job::SaveAs | Job::SaveCopy, None) => folder.join(file_name(&project.name, "ron")),
            (Job::SavePaper, _) => folder.join(file_name(&project.name, "pdf")),
            (Job::SaveGraphs, _) => {
                let leg = self.view.shown(project).map_or('A', |design| design.letter);
                folder.join(file_name(&format!("{} leg {leg}", project.name), "csv"))
            }
        };
        self.desk.ask(ctx, job, &suggested);
    }

    /// A path was typed. A file that is there already is replaced only when that was asked for.
    pub(super) fn typed_path(&mut self, ctx: &Context, text: &str) {
        let Some(typed) = self.desk.typed.clone() else { return };
        let path = typed.job.with_ending(PathBuf::from(text.trim()));
        let saving = !typed.job.opens();
        let known = typed.replace.as_deref() == Some(&path) || self.file.as_deref() == Some(&path);
        if saving && path.exists() && !known {
            if let Some(typed) = &mut self.desk.typed {
                typed.replace = Some(path.clone());
            }
            self.wrong(&format!("there is a file of this name already: {}", path.display()));
            return;
        }
        self.desk.typed = None;
        self.notice = None;
        self.do_job(ctx, typed.job, &path);
    }

    /// No file was chosen, so nothing is left for it either.
    pub(super) fn cancelled(&mut self, job: Job) {
        if job == Job::SaveAs {
            self.leaving = None;
        }
    }

    /// Does what a file was asked for.
    pub(super) fn do_job(&mut self, ctx: &Context, job: Job, path: &Path) {
        match job {
            // The work may have gone on while the dialog was open: only what was agreed to is left unasked.
            Job::Open if self.agreed == Some(self.history.revision()) => self.open(path),
            Job::Open => self.leave_for(ctx, Leaving::Open(path.to_owned())),
            Job::SaveAs => {
                if self.save_to(path) && self.leaving.is_some() {
                    self.leave(ctx);
                }
            }
            Job::SavePaper => self.save_paper(path),
            Job::SaveGraphs => self.save_graphs(path),
            Job::Picture => self.picture_chosen(ctx, path),
            Job::Curve => self.read_curve(path),
            Job::SaveCopy => self.save_copy(path),
        }
    }
}

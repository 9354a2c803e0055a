//! What the studio keeps between one start and the next: preferences, recent projects, recovery copies.

use std::path::Path;
use std::sync::Arc;
use std::time::Duration;

use cornerwise_export::files;
use egui::Context;

use super::Studio;
use crate::commands::Command;
use crate::desk::Job;
use crate::keep::copies::{About, Beside, stamp};
use crate::keep::preferences::{Look, Preferences, SCALE, WindowPlace};
use crate::keep::{Folders, Keeping, News};
use crate::scene::Ask;
use crate::views::notice::Notice;
use crate::views::watch::UsualSaw;
use crate::views::{recent_menu, recovered};

impl Studio {
    /// Keeps preferences, recent projects and recovery copies in these folders from now on, and offers what a studio that
    /// ended without saving left there. A recovery copy is written when nothing has changed for `rest`.
    pub fn keep_in(&mut self, ctx: &Context, folders: Folders, rest: Duration) {
        let (preferences, word) = Preferences::load(&folders);
        if let Some(word) = word {
            self.wrong(&word);
        }
        self.view.sides = preferences.sides.map_or(self.view.sides, Into::into);
        self.view.along = preferences.along.map_or(self.view.along, Into::into);
        self.view.strong_wood = preferences.strong_wood;
        self.view.screen_px_per_mm = preferences.screen_px_per_mm;
        // One that no saw is would be refused by every project.
        let saw = preferences.saw.as_deref().filter(|saw| saw.check().is_ok()).cloned();
        self.view.usual_saw = UsualSaw { saw, blades: preferences.blades.clone() };
        self.window = preferences.window;
        // Where preferences were lost, the maker has seen the hints already.
        self.hints_shown = preferences.hints_shown || self.notice.is_some();
        self.hints = !self.hints_shown && self.file.is_none();
        self.hints_shown |= self.hints;
        self.look(ctx, preferences.look);
        self.scale(ctx, preferences.scale_percent);
        self.copies = recovered::Copies::new(folders.clone());
        self.keeping = Some(Keeping::start(ctx, folders, preferences, rest));
        if let Some(file) = self.file.clone() {
            self.file_is_known(&file);
        }
    }

    /// Light or dark.
    pub(super) fn look(&mut self, ctx: &Context, look: Look) {
        self.view.look = look;
        ctx.set_theme(look.theme());
    }

    /// The size of text and controls.
    pub(super) fn scale(&mut self, ctx: &Context, percent: u32) {
        self.view.scale_percent = percent.clamp(SCALE[0], SCALE[1]);
        ctx.set_zoom_factor(self.view.scale_percent as f32 / 100.0);
    }

    /// Takes in what the threads report.
    pub(super) fn take_news(&mut self, ctx: &Context) {
        let Some(keeping) = &self.keeping else { return };
        for news in keeping.news() {
            match news {
                News::NoCopies(error) => {
                    let words = format!(
                        "What is not saved cannot be kept in case of a crash ({error}). Everything works; save now and then."
                    );
                    self.notice = self.notice.take().or(Some(Notice::done(words)));
                }
                News::Crashed(all) => self.copies.found(ctx, all),
                News::Recent(all) => self.recent = recent_menu::Shown::all(ctx, all),
            }
        }
    }

    /// Gives the threads what is to be kept. At rest this compares a few values and does nothing.
    pub(super) fn keep_things(&mut self, ctx: &Context) {
        if self.keeping.is_none() {
            return;
        }
        self.window = window_place(ctx, self.view.scale_percent).or(self.window);
        let preferences = Preferences {
            look: self.view.look,
            scale_percent: self.view.scale_percent,
            window: self.window,
            sides: Some(self.view.sides.into()),
            along: Some(self.view.along.into()),
            strong_wood: self.view.strong_wood,
            screen_px_per_mm: self.view.screen_px_per_mm,
            saw: self.view.usual_saw.saw.clone().map(Box::new),
            blades: self.view.usual_saw.blades.clone(),
            hints_shown: self.hints_shown,
        };
        let Some(keeping) = &mut self.keeping else { return };
        if !self.quitting && !self.history.is_dragging() {
            let (file, stamp) = (&self.file, self.stamp);
            keeping.project(self.history.at_rest(), !self.history.is_dirty(), || About {
                file: file.as_deref().map(|file| std::path::absolute(file).unwrap_or_else(|_| file.to_owned())),
                stamp,
                kept: 0,
            });
        }
        keeping.preferences(&preferences);
    }

    /// The maker leaves on purpose.
    pub(super) fn leave_keeping(&mut self) {
        self.close_copies();
        if let Some(keeping) = &mut self.keeping {
            keeping.leave();
        }
    }

    /// The project is what this file holds now.
    pub(super) fn file_is_known(&mut self, path: &Path) {
        self.stamp = stamp(path);
        if let Some(keeping) = &self.keeping {
            keeping.opened(path, self.history.current());
        }
    }

    /// Whether another program has changed the project's file since it was opened or saved; then that is told, and
    /// nothing is written.
    pub(super) fn changed_by_others(&mut self, path: &Path) -> bool {
        let known = self.stamp.filter(|_| self.file.as_deref() == Some(path));
        let changed = known.is_some() && stamp(path).is_some_and(|now| Some(now) != known);
        if changed {
            let name = path.file_name().unwrap_or(path.as_os_str()).to_string_lossy();
            self.notice = Some(Notice {
                words: format!(
                    "{name} was changed by another program since it was opened here. Saving would replace what that wrote."
                ),
                wrong: true,
                offers: vec![
                    ("Replace the file", Ask::SaveOver),
                    ("Save as…", Ask::Command(Command::SaveAs)),
                    ("Keep working", Ask::Stay),
                ],
            });
        }
        changed
    }

    /// Puts a recovered copy on the bench. The copy stays where it is until its work is saved or it is discarded.
    pub(super) fn open_copy(&mut self, name: &str) {
        let Some((project, about)) = self.copies.project(name) else { return };
        let saved = about.file.as_deref().and_then(|file| files::load(file).ok());
        self.put_on_bench(project, about.file.clone());
        match saved {
            Some(saved) => self.history.mark_saved(Arc::new(saved)),
            None => self.history.mark_unsaved(),
        }
        self.stamp = about.stamp;
        self.copies.on_bench = Some(name.to_owned());
    }

    /// Asks for a file for a recovered copy.
    pub(super) fn ask_where_to_save_copy(&mut self, ctx: &Context, name: String) {
        self.copies.to_save = Some(name);
        self.ask_for_file(ctx, Job::SaveCopy);
    }

    /// Saves a recovered copy; once a file holds it, the copy is not needed.
    pub(super) fn save_copy(&mut self, path: &Path) {
        let Some(name) = self.copies.to_save.take() else { return };
        let Some((project, _)) = self.copies.project(&name) else { return };
        if self.file.as_deref() == Some(path) {
            self.wrong(
                "the recovered copy was not saved: this is the file of the project on the bench, choose another name",
            );
            return;
        }
        match files::save(&project, path) {
            Ok(()) => {
                self.copies.take_away(&name);
                self.notice = Some(Notice::done(format!("The recovered copy is saved: {}", path.display())));
                if let Some(keeping) = &self.keeping {
                    keeping.opened(path, &Arc::new(project));
                }
            }
            Err(error) => self.wrong(&format!("the recovered copy was not saved: {error}")),
        }
    }

    /// The work of the copy on the bench is in a file now.
    pub(super) fn copy_is_saved(&mut self) {
        if let Some(name) = self.copies.on_bench.take() {
            self.copies.take_away(&name);
        }
    }

    /// Takes away what was discarded; the rest is offered again at the next start.
    pub(super) fn close_copies(&mut self) {
        self.copies.close();
    }
}

/// Where the window is, where the desktop says.
fn window_place(ctx: &Context, scale_percent: u32) -> Option<WindowPlace> {
    let scale = scale_percent as f32 / 100.0;
    ctx.input(|i| {
        let window = i.viewport();
        let inner = window.inner_rect?;
        if window.minimized == Some(true) || inner.width() < 1.0 {
            return None;
        }
        Some(WindowPlace {
            size: ((inner.width() * scale).round(), (inner.height() * scale).round()),
            corner: window.outer_rect.map(|outer| ((outer.left() * scale).round(), (outer.top() * scale).round())),
            maximized: window.maximized == Some(true),
        })
    })
}

/// Which project the offer of a recovered copy is about, for tests and scripts.
impl Studio {
    /// The copies that are offered: what each holds, and how its file stands to it.
    pub fn offered_copies(&self) -> Vec<[String; 2]> {
        self.copies.words()
    }

    /// How the file of an offered copy stands to it.
    pub fn copy_beside(&self, place: usize) -> Option<&Beside> {
        self.copies.beside(place)
    }
}

//! The studio: a project with its history, the view of it, and one frame after another.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use cornerwise_project::{EditError, History, Project};
use egui::{CentralPanel, Context, Key, Modifiers, Panel, Popup, Ui, ViewportCommand};

use crate::across::ScreenFromFaces;
use crate::darkroom::{Darkroom, For};
use crate::derive::Derived;
use crate::desk::Desk;
use crate::gesture::{self, Gesture};
use crate::keep::Keeping;
use crate::keep::preferences::WindowPlace;
use crate::length_field::{self, remember_typing, was_typing};
use crate::scene::{Ask, Scene};
use crate::tokens;
use crate::view::{Place, Tracing, View};
use crate::views::finder::Finder;
use crate::views::fit::FitPlace;
use crate::views::furniture::FurniturePlace;
use crate::views::notice::{self, Notice};
use crate::views::shape::ShapePlace;
use crate::views::{finder, hints, panels, paper, recent_menu, recovered, top_bar};

mod act;
mod file;
mod fitting;
mod keep;
mod pictures;
mod watching;
mod zooming;

pub use file::Leaving;

/// The whole studio.
pub struct Studio {
    history: History,
    file: Option<PathBuf>,
    view: View,
    derived: Derived,
    darkroom: Darkroom,
    /// What the picture is for whose file is being chosen.
    picture_for: Option<For>,
    shape: ShapePlace,
    fit: FitPlace,
    furniture: FurniturePlace,
    sheets: paper::Sheets,
    gesture: Option<Gesture>,
    desk: Desk,
    notice: Option<Notice>,
    leaving: Option<Leaving>,
    /// The revision that the maker agreed to leave unsaved when a file was asked for.
    agreed: Option<u64>,
    /// The field that takes what is typed in it, and what waits for it.
    waiting: Option<(egui::Id, Vec<Ask>)>,
    finder: Option<Finder>,
    /// What was in the project's file when it was opened or saved last.
    stamp: Option<u64>,
    keeping: Option<Keeping>,
    /// Work that was not saved when an earlier studio ended.
    copies: recovered::Copies,
    recent: Vec<recent_menu::Shown>,
    window: Option<WindowPlace>,
    hints_shown: bool,
    /// Whether the hints of the first start are on screen.
    hints: bool,
    title: String,
    /// Whether the project began as a demo and is in no file.
    demo: bool,
    demos: Vec<String>,
    quitting: bool,
}

impl Studio {
    /// A studio on a project; `file` is where it came from, nothing for a new one or a demo.
    pub fn new(ctx: &Context, project: Project, file: Option<PathBuf>) -> Studio {
        tokens::install(ctx);
        Studio {
            view: View::of(&project),
            demo: file.is_none() && crate::start::is_demo(&project),
            history: History::new(project),
            file,
            derived: Derived::default(),
            darkroom: Darkroom::default(),
            picture_for: None,
            shape: ShapePlace::default(),
            fit: FitPlace::default(),
            furniture: FurniturePlace::default(),
            sheets: paper::Sheets::default(),
            gesture: None,
            desk: Desk::default(),
            notice: None,
            leaving: None,
            agreed: None,
            waiting: None,
            finder: None,
            stamp: None,
            keeping: None,
            copies: recovered::Copies::default(),
            recent: Vec::new(),
            window: None,
            hints_shown: true,
            hints: false,
            title: String::new(),
            demos: crate::start::demo_titles(),
            quitting: false,
        }
    }

    /// The project as it is shown, a gesture under way included.
    pub fn project(&self) -> &Arc<Project> {
        self.history.current()
    }

    /// The history.
    pub fn history(&self) -> &History {
        &self.history
    }

    /// What is looked at.
    pub fn view(&self) -> &View {
        &self.view
    }

    /// What is looked at, to be changed.
    pub fn view_mut(&mut self) -> &mut View {
        &mut self.view
    }

    /// What is told in the strip below the bar.
    pub fn notice(&self) -> Option<&Notice> {
        self.notice.as_ref()
    }

    /// The file the project was opened from or saved to.
    pub fn file(&self) -> Option<&Path> {
        self.file.as_deref()
    }

    /// How the faces lay on screen in the last frame, so that scripts and benches know where to take hold.
    pub fn faces_on_screen(&self) -> Option<&ScreenFromFaces> {
        match self.view.place {
            Place::Furniture => self.furniture.faces.as_ref(),
            Place::Fit => self.fit.faces.as_ref(),
            _ => self.shape.faces.as_ref(),
        }
    }

    /// Whether something is still worked out off the thread that draws: paint, seams.
    pub fn is_busy(&self) -> bool {
        self.derived.is_busy() || self.shape.is_busy()
    }

    /// Whether it has asked its window to close.
    pub fn has_left(&self) -> bool {
        self.quitting
    }

    /// Asks for typed paths instead of dialogs.
    pub fn without_dialogs(&mut self) {
        self.desk.only_typed = true;
    }

    /// Shows one frame.
    pub fn show(&mut self, ui: &mut Ui) {
        let ctx = ui.ctx().clone();
        self.take_news(&ctx);
        self.develop(&ctx);
        self.escape(&ctx);
        let mut asks = self.asked_from_outside(&ctx);
        self.follow(&ctx);
        // What keys ask is done before anything is drawn, so that it shows at once.
        for ask in asks.drain(..) {
            self.act(&ctx, ask);
        }
        let settling = self.waiting.is_some();
        self.draw(ui, &mut asks);
        if !asks.is_empty() {
            ctx.request_repaint();
        }
        for ask in asks {
            self.act(&ctx, ask);
        }
        if settling {
            self.go_on(&ctx);
        }
        remember_typing(&ctx);
        self.show_title(&ctx);
        self.keep_things(&ctx);
    }

    /// What the hand does in this frame, before anything is drawn.
    fn follow(&mut self, ctx: &Context) {
        let (history, view) = (&mut self.history, &mut self.view);
        let followed = match view.place {
            Place::Shape => gesture::follow(ctx, history, view, &self.shape.sheets, &mut self.gesture),
            Place::Furniture => gesture::follow(ctx, history, view, &self.furniture.sheets, &mut self.gesture),
            Place::Fit => self.fit.hand.follow(ctx, history, view),
            Place::Paper => Ok(()),
        };
        self.tell(followed);
    }

    /// Esc with nothing else that it could mean closes a panel, one at a time.
    fn escape(&mut self, ctx: &Context) {
        let busy = self.gesture.is_some()
            || self.history.is_dragging()
            || self.view.picking.is_some()
            || self.finder.is_some()
            || self.desk.typed.is_some()
            || was_typing(ctx)
            || Popup::is_any_open(ctx);
        if busy || !ctx.input(|i| i.key_pressed(Key::Escape)) {
            return;
        }
        // What was refused is put back before anything is closed, though the field has not the keys any more.
        if let Some(field) = length_field::refused(ctx) {
            length_field::forget(ctx, field);
            ctx.input_mut(|i| i.consume_key(Modifiers::NONE, Key::Escape));
            return;
        }
        let traced = self.view.panels.trace;
        // What is being marked on a picture is dropped first, and its panel with the next Esc.
        let marking = traced.is_some() && std::mem::take(&mut self.view.tracing.marking);
        let closed = marking
            || self.view.import.take().is_some()
            || self.view.panels.close_one()
            || std::mem::take(&mut self.hints);
        if traced.is_some() && self.view.panels.trace.is_none() {
            self.view.tracing = Tracing::default();
        }
        if closed {
            // The chosen points stay chosen: one key, one thing.
            ctx.input_mut(|i| i.consume_key(Modifiers::NONE, Key::Escape));
        }
    }

    fn draw(&mut self, ui: &mut Ui, asks: &mut Vec<Ask>) {
        let bar = top_bar::Bar {
            history: &self.history,
            demos: &self.demos,
            recent: &self.recent,
            file: self.file.as_deref().and_then(Path::file_name).map(|name| name.to_string_lossy().into_owned()),
            demo: self.demo,
        };
        Panel::top("top bar").resizable(false).show(ui, |ui| top_bar::show(ui, &bar, &self.view, asks));
        recovered::show(ui, &self.copies, asks);
        if self.hints {
            hints::show(ui, asks);
        }
        notice::show(ui, self.notice.as_ref(), self.desk.typed.as_mut(), asks);
        let project = Arc::clone(self.history.current());
        match self.view.place {
            Place::Shape | Place::Fit | Place::Furniture => {
                CentralPanel::no_frame().show(ui, |ui| self.draw_leg(ui, &project, asks));
            }
            Place::Paper => paper::show(ui, &project, &mut self.sheets, &mut self.view, asks),
        }
        panels::show_measure(ui, &mut self.view, project.units, asks);
        finder::show(ui, &mut self.finder, &self.history, &self.view, asks);
    }

    fn draw_leg(&mut self, ui: &mut Ui, project: &Arc<Project>, asks: &mut Vec<Ask>) {
        let Some(design) = self.view.shown(project).cloned() else { return };
        match self.derived.leg(&design) {
            Ok(leg) => {
                let ghost = self.derived.ghosts.shown(&design, &leg);
                let scene = Scene {
                    project,
                    design: &design,
                    leg: &leg,
                    ghost: ghost.as_ref(),
                    revision: self.history.revision(),
                    moving: self.gesture.is_some() || self.history.is_dragging(),
                    prints: &self.darkroom.prints,
                };
                let held = self.gesture.as_ref().filter(|held| held.is_drag());
                let (view, derived) = (&mut self.view, &mut self.derived);
                let pictures = &mut self.shape.pictures;
                match view.place {
                    Place::Fit => self.fit.show(ui, &scene, view, derived, pictures, asks),
                    Place::Furniture => self.furniture.show(ui, &scene, view, pictures, held, asks),
                    Place::Shape | Place::Paper => self.shape.show(ui, &scene, view, derived, held, asks),
                }
            }
            // A checked project has sound legs; if one ever has not, its maker should hear why.
            Err(error) => self.notice = Some(Notice::wrong(format!("{}: {error}", design.name))),
        }
    }

    fn tell(&mut self, done: Result<(), EditError>) {
        if let Err(error) = done {
            let project = self.history.current();
            let message = project.units.told(&error.said(project, self.view.design));
            self.notice = Some(Notice::wrong(sentence(&message)));
        }
    }

    fn show_title(&mut self, ctx: &Context) {
        let mark = if self.history.is_dirty() { "• " } else { "" };
        let demo = if self.demo && self.file.is_none() { ", a demo" } else { "" };
        let title = format!("{mark}{}{demo} - Cornerwise", self.history.current().name);
        if title != self.title {
            ctx.send_viewport_cmd(ViewportCommand::Title(title.clone()));
            self.title = title;
        }
    }
}

impl eframe::App for Studio {
    fn ui(&mut self, ui: &mut Ui, _frame: &mut eframe::Frame) {
        self.show(ui);
    }

    fn clear_color(&self, visuals: &egui::Visuals) -> [f32; 4] {
        visuals.panel_fill.to_normalized_gamma_f32()
    }
}

/// An error as a sentence: a capital at its start, a point at its end.
fn sentence(error: &str) -> String {
    let mut letters = error.chars();
    let first: String = letters.next().map(|c| c.to_uppercase().collect()).unwrap_or_default();
    let rest = letters.as_str().trim_end_matches('.');
    format!("{first}{rest}.")
}

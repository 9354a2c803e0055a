//! Doing what was asked.

use cornerwise_geometry::Cut;
use cornerwise_project::{DesignId, Edit};
use egui::{Context, ViewportCommand};

use super::{Leaving, Studio, sentence};
use crate::across::Across;
use crate::commands::Command;
use crate::desk::Job;
use crate::gesture::Gesture;
use crate::length_field;
use crate::ruler::Ruler;
use crate::scene::Ask;
use crate::view::{Chosen, Place, START_TILT_DEG, START_TURN_DEG, blank_stretch};
use crate::views::notice::Notice;

impl Studio {
    /// What keys, dialogs, dropped files and the window's close button ask in this frame.
    pub(super) fn asked_from_outside(&mut self, ctx: &Context) -> Vec<Ask> {
        if let Some((job, path)) = self.desk.poll() {
            self.do_job(ctx, job, &path);
        }
        let dropped = ctx.input(|i| i.raw.dropped_files.first().map(|file| file.path().to_owned()));
        if let Some(path) = dropped {
            self.leave_for(ctx, Leaving::Open(path));
        }
        if ctx.input(|i| i.viewport().close_requested()) && !self.quitting && self.history.is_dirty() {
            ctx.send_viewport_cmd(ViewportCommand::CancelClose);
            self.leave_for(ctx, Leaving::Quit);
        }
        Command::pressed(ctx).into_iter().map(Ask::Command).collect()
    }

    pub(super) fn act(&mut self, ctx: &Context, ask: Ask) {
        match ask {
            Ask::Edit(edit) => self.edit_and_choose(&edit),
            Ask::Command(command) => self.command(ctx, command),
            Ask::Demo(number) => self.leave_for(ctx, Leaving::Demo(number)),
            Ask::LeaveAnyway => self.leave(ctx),
            Ask::SaveAndLeave => {
                if self.save(ctx) {
                    self.leave(ctx);
                }
            }
            Ask::Stay => (self.leaving, self.notice) = (None, None),
            Ask::Dismiss => self.notice = None,
            Ask::TypedPath(text) => self.typed_path(ctx, &text),
            Ask::CancelTypedPath => self.desk.typed = None,
        }
    }

    /// Makes a change; a point just added is chosen, so that it can be moved by keys at once.
    fn edit_and_choose(&mut self, edit: &Edit) {
        let before: Vec<DesignId> = self.history.current().designs.iter().map(|design| design.id).collect();
        let done = self.history.apply(edit).map(|_changed| ());
        if done.is_ok() {
            self.notice = self.notice.take().filter(|notice| !notice.wrong);
            match edit {
                Edit::AddPoint { cut, from_top_mm, .. } => self.choose_near(*cut, *from_top_mm),
                Edit::DeletePoint { .. } | Edit::SetShape { .. } => self.view.chosen = None,
                Edit::AddDesign | Edit::DuplicateDesign { .. } => {
                    let new = self.history.current().designs.iter().find(|design| !before.contains(&design.id));
                    self.view.design = new.map_or(self.view.design, |design| design.id);
                    self.view.chosen = None;
                }
                _ => {}
            }
        }
        self.tell(done);
    }

    fn choose_near(&mut self, cut: Cut, s_mm: f64) {
        let Some(design) = self.view.shown(self.history.current()) else { return };
        let away = |point: &cornerwise_geometry::Point| (point.from_top.mm() - s_mm).abs();
        let nearest = design.points(cut).into_iter().min_by(|a, b| away(a).total_cmp(&away(b)));
        self.view.chosen = nearest.map(|point| Chosen { cut, point: point.id });
    }

    fn command(&mut self, ctx: &Context, command: Command) {
        match command {
            Command::New => self.leave_for(ctx, Leaving::New),
            Command::Open => self.leave_for(ctx, Leaving::AskForFile),
            Command::Save => {
                self.save(ctx);
            }
            Command::SaveAs => self.ask_for_file(ctx, Job::SaveAs),
            Command::SavePaper => self.ask_for_file(ctx, Job::SavePaper),
            Command::Quit => self.leave_for(ctx, Leaving::Quit),
            Command::Undo => {
                self.gesture = None;
                self.history.undo();
            }
            Command::Redo => {
                self.history.redo();
            }
            Command::PlaceShape => self.view.place = Place::Shape,
            Command::PlacePaper => {
                self.history.commit_drag();
                self.gesture = None;
                self.view.place = Place::Paper;
            }
            Command::FoldSides => self.view.sides.open = !self.view.sides.open,
            Command::FoldAlong => self.view.along.open = !self.view.along.open,
            Command::StrongWood => self.view.strong_wood = !self.view.strong_wood,
            Command::TrueShape => {
                self.view.across = if self.view.across == Across::True { Across::Fill } else { Across::True };
                self.view.shift_px = 0.0;
            }
            Command::ZoomWhole => self.view.ruler = Ruler::Whole,
            Command::ZoomIn => self.zoom(1.25),
            Command::ZoomOut => self.zoom(0.8),
            Command::DeletePoint | Command::SharpPoint => self.change_chosen(command),
            Command::LegUpright => {
                (self.view.turn_deg, self.view.tilt_deg) = (START_TURN_DEG, START_TILT_DEG);
                self.view.opening = 1.0;
            }
        }
    }

    /// Zooms to the cursor, which is where the pointer was last.
    fn zoom(&mut self, factor: f64) {
        let (Some(faces), Some(design)) = (self.shape.faces, self.view.shown(self.history.current())) else { return };
        let blank = blank_stretch(design);
        let axis = faces.axis;
        let x = axis.x(self.view.cursor_mm).min(axis.right_px).max(axis.left_px);
        self.view.ruler.zoom(axis, blank, x, factor);
    }

    fn change_chosen(&mut self, command: Command) {
        let Some(design) = self.view.shown(self.history.current()) else { return };
        let Some(Chosen { cut, point }) = self.view.chosen else { return };
        let id = design.id;
        let sharp = design.points(cut).iter().any(|p| p.id == point && p.kind.is_sharp());
        let edit = match command {
            Command::DeletePoint => Edit::DeletePoint { design: id, cut, point },
            _ => Edit::SetPointKind { design: id, cut, point, sharp: !sharp },
        };
        self.edit_and_choose(&edit);
    }

    /// Tells what went wrong and what to do.
    pub(super) fn wrong(&mut self, error: &str) {
        self.notice = Some(Notice::wrong(sentence(error)));
    }
}
        if self.gesture.as_ref().is_some_and(Gesture::is_drag) {
            return;
        }

//! Doing what was asked.

use cornerwise_geometry::{Cut, Face};
use cornerwise_project::{DesignId, Edit, Turn};
use egui::{Context, Popup, ViewportCommand};

use super::{Leaving, Studio, sentence};
use crate::across::Across;
use crate::commands::Command;
use crate::desk::Job;
use crate::gesture::Gesture;
use crate::keep::preferences::Look;
use crate::length_field;
use crate::scene::Ask;
use crate::standing::why_not;
use crate::view::{Chosen, Place, START_TILT_DEG, START_TURN_DEG, blank_stretch};
use crate::views::faces;
use crate::views::finder::Finder;
use crate::views::history_list;
use crate::views::leg;
use crate::views::notice::Notice;
use crate::views::panels::toggle;

impl Studio {
    /// What keys, dialogs, dropped files and the window's close button ask in this frame.
    pub(super) fn asked_from_outside(&mut self, ctx: &Context) -> Vec<Ask> {
        let mut asks = Vec::new();
        match self.desk.poll() {
            Some((job, Some(path))) => asks.push(Ask::Chosen(job, path)),
            Some((job, None)) => self.cancelled(job),
            None => {}
        }
        let dropped = ctx.input(|i| i.raw.dropped_files.first().map(|file| file.path().to_owned()));
        asks.extend(dropped.map(|path| super::pictures::dropped(path, ctx.pointer_latest_pos())));
        let unsaved = self.history.is_dirty() || length_field::unsettled(ctx).is_some();
        if ctx.input(|i| i.viewport().close_requested()) && !self.quitting && unsaved {
            ctx.send_viewport_cmd(ViewportCommand::CancelClose);
            asks.push(Ask::Command(Command::Quit));
        }
        asks.extend(Command::pressed(ctx).into_iter().map(Ask::Command));
        asks
    }

    /// Does what is asked; what would pass over a value that is being typed waits until the field has taken it.
    pub(super) fn act(&mut self, ctx: &Context, ask: Ask) {
        // An entry that was refused was the last thing that was done, so it is what is taken back first.
        if ask == Ask::Command(Command::Undo)
            && let Some(field) = length_field::refused(ctx)
        {
            length_field::forget(ctx, field);
        } else if ask.settles_fields()
            && let Some(field) = length_field::unsettled(ctx)
        {
            length_field::settle(ctx, field);
            ctx.request_repaint();
            self.waiting.get_or_insert((field, Vec::new())).1.push(ask);
        } else {
            self.act_now(ctx, ask);
        }
    }

    /// Does what waited for a field, or says why it was not done.
    pub(super) fn go_on(&mut self, ctx: &Context) {
        let Some((field, asks)) = self.waiting.take() else { return };
        ctx.request_repaint();
        match length_field::settled(ctx, field) {
            Ok(()) => asks.into_iter().for_each(|ask| self.act_now(ctx, ask)),
            Err(_) if asks.first() == Some(&Ask::Command(Command::Undo)) => {
                length_field::forget(ctx, field);
                asks.into_iter().skip(1).for_each(|ask| self.act_now(ctx, ask));
            }
            Err(wrong) => {
                ctx.memory_mut(|memory| memory.request_focus(field));
                self.wrong(&format!(
                    "not done, because a field holds what cannot be taken: {wrong}; correct it or press Esc"
                ));
            }
        }
    }

    fn act_now(&mut self, ctx: &Context, ask: Ask) {
        match ask {
            Ask::OpenFile(path) => self.leave_for(ctx, Leaving::Open(path)),
            Ask::Chosen(job, path) => self.do_job(ctx, job, &path),
            Ask::Edit(edit) => self.edit_and_choose(&edit),
            Ask::Drag(edit) => {
                let done = self.history.replace_drag(&edit);
                self.tell(done);
            }
            Ask::DragEnds { keep: true } => {
                self.history.commit_drag();
            }
            Ask::DragEnds { keep: false } => self.history.drop_drag(),
            Ask::Command(command) => self.command(ctx, command),
            Ask::GoTo(step) => {
                self.gesture = None;
                self.history.go_to(step);
            }
            Ask::Demo(number) => self.leave_for(ctx, Leaving::Demo(number)),
            Ask::LookForRecent => self.keeping.iter().for_each(|keeping| keeping.look_for_recent(ctx)),
            Ask::ForgetRecent(path) => self.keeping.iter().for_each(|keeping| keeping.forget(ctx, path.clone())),
            Ask::OpenCopy(name) => self.leave_for(ctx, Leaving::Copy(name)),
            Ask::SaveCopy(name) => self.ask_where_to_save_copy(ctx, name),
            Ask::DiscardCopy(name) => self.copies.mark_discarded(&name, true),
            Ask::KeepCopy(name) => self.copies.mark_discarded(&name, false),
            Ask::CloseCopies => self.close_copies(),
            Ask::CloseHints => self.hints = false,
            Ask::SaveOver => {
                self.stamp = None;
                self.notice = None;
                if self.save(ctx) && self.leaving.is_some() {
                    self.leave(ctx);
                }
            }
            Ask::ChoosePicture(_)
            | Ask::LayPicture(..)
            | Ask::ReadCurve(_)
            | Ask::KeepPicture { .. }
            | Ask::DevelopAgain(_)
            | Ask::StopPictures => self.picture_ask(ctx, ask),
            Ask::LeaveAnyway => self.leave(ctx),
            Ask::SaveAndLeave => {
                self.notice = None; // its words are answered; where a path is asked for, that strip goes on
                if self.save(ctx) {
                    self.leave(ctx);
                }
            }
            Ask::Stay => (self.leaving, self.notice) = (None, None),
            Ask::Dismiss => {
                self.notice = None;
                // While a path is being typed, it was only a word about that path.
                if self.desk.typed.is_none() {
                    self.leaving = None;
                }
            }
            Ask::TypedPath(text) => self.typed_path(ctx, &text),
            Ask::CancelTypedPath => {
                if let Some(typed) = self.desk.typed.take() {
                    self.cancelled(typed.job);
                }
            }
        }
    }

    /// Makes a change; a point just added is chosen, so that it can be moved by keys at once.
    pub(super) fn edit_and_choose(&mut self, edit: &Edit) {
        let before: Vec<DesignId> = self.history.current().designs.iter().map(|design| design.id).collect();
        let done = self.history.apply(edit).map(|_changed| ());
        if done.is_ok() {
            self.notice = self.notice.take().filter(|notice| !notice.wrong);
            match edit {
                Edit::AddPoint { cut, from_top_mm, .. } => self.choose_near(*cut, *from_top_mm),
                Edit::DeletePoint { .. }
                | Edit::DeletePoints { .. }
                | Edit::SetShape { .. }
                | Edit::SwapGhost { .. } => {
                    self.view.chosen.clear();
                }
                Edit::AddDesign | Edit::DuplicateDesign { .. } | Edit::AddMockUp { .. } => {
                    let new = self.history.current().designs.iter().find(|design| !before.contains(&design.id));
                    self.view.design = new.map_or(self.view.design, |design| design.id);
                    self.view.chosen.clear();
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
        if let Some(point) = nearest {
            self.view.chosen.set(Chosen { cut, point: point.id });
        }
    }

    fn command(&mut self, ctx: &Context, command: Command) {
        if why_not(command, &self.history, &self.view).is_some() {
            return; // menus and the finder say why
        }
        match command {
            Command::New => self.leave_for(ctx, Leaving::New),
            Command::Open => self.leave_for(ctx, Leaving::AskForFile),
            // Saving in another way than by the question's own answer is going on with the work.
            Command::Save => {
                (self.leaving, self.notice) = (None, None);
                self.save(ctx);
            }
            Command::SaveAs => {
                (self.leaving, self.notice) = (None, None);
                self.ask_for_file(ctx, Job::SaveAs);
            }
            Command::SavePaper => self.ask_for_file(ctx, Job::SavePaper),
            Command::SaveGraphs => self.ask_for_file(ctx, Job::SaveGraphs),
            Command::Quit => self.leave_for(ctx, Leaving::Quit),
            Command::Undo => {
                // Of a drag, only the drag: the hand that still holds something holds nothing any more.
                if self.gesture.take().is_some() || self.fit.hand.is_holding() {
                    self.fit.hand.let_go();
                    ctx.stop_dragging();
                }
                self.history.undo();
            }
            Command::Redo => {
                self.history.redo();
            }
            Command::ShowHistory => Popup::toggle_id(ctx, history_list::popup()),
            Command::NewLeg
            | Command::DuplicateLeg
            | Command::DeleteLeg
            | Command::LegEarlier
            | Command::LegLater
            | Command::PreviousLeg
            | Command::NextLeg => self.legs(command),
            Command::LookAsDesktop => self.look(ctx, Look::AsTheDesktop),
            Command::LookLight => self.look(ctx, Look::Light),
            Command::LookDark => self.look(ctx, Look::Dark),
            Command::Larger => self.scale(ctx, self.view.scale_percent + 10),
            Command::Smaller => self.scale(ctx, self.view.scale_percent.saturating_sub(10)),
            Command::FindCommand => self.finder = self.finder.take().xor(Some(Finder::default())),
            Command::PlaceShape => self.go_to_place(Place::Shape),
            Command::PlaceFit => self.go_to_place(Place::Fit),
            Command::PlaceFurniture => self.go_to_place(Place::Furniture),
            Command::PlacePaper => self.go_to_place(Place::Paper),
            Command::AddShelf | Command::AddApron | Command::DeleteNotch | Command::NextInside => self.fit_leg(command),
            Command::StandColumn
            | Command::StandRectangle
            | Command::StandCircle
            | Command::StandRow
            | Command::SwapHand
            | Command::LeftAndRight
            | Command::AllAlike => self.put_together(command),
            Command::FoldSides => self.view.sides.open = !self.view.sides.open,
            Command::FoldAlong => self.view.along.open = !self.view.along.open,
            Command::LegAsSawn => self.view.leg_as = self.view.leg_as.next(),
            Command::CleanUp => {
                self.view.clean_up = !self.view.clean_up;
                self.view.sides.open |= self.view.clean_up;
            }
            Command::NextWatchOut => self.next_watch_out(),
            Command::TellSaw | Command::TellLoad | Command::WatchLimits => self.unfold_watch(command),
            Command::StrongWood => self.view.strong_wood = !self.view.strong_wood,
            Command::TrueShape => {
                self.view.across = if self.view.across == Across::True { Across::Fill } else { Across::True };
                self.view.shift_px = 0.0;
            }
            Command::StartFrom => self.view.panels.starter = !self.view.panels.starter,
            Command::Gallery | Command::PointsTable | Command::WholeLine => {
                let cut = self.worked_on();
                let panels = &mut self.view.panels;
                let panel = match command {
                    Command::Gallery => &mut panels.gallery,
                    Command::PointsTable => &mut panels.points,
                    _ => &mut panels.whole_line,
                };
                toggle(panel, cut);
            }
            Command::MockUp => self.view.panels.mock_up = !self.view.panels.mock_up,
            Command::ZoomWhole
            | Command::ZoomChosen
            | Command::ZoomIn
            | Command::ZoomOut
            | Command::TrueSize
            | Command::MeasureScreen
            | Command::TowardTop
            | Command::TowardFoot => self.zooming(ctx, command),
            Command::Snaps => self.view.snaps.on = !self.view.snaps.on,
            // Asked for while nothing catches, the grid is wanted.
            Command::SnapToGrid => {
                let snaps = &mut self.view.snaps;
                snaps.grid = !(snaps.on && snaps.grid);
                snaps.on |= snaps.grid;
            }
            Command::ChooseAll => self.choose_all(ctx),
            Command::NextPoint | Command::PreviousPoint => self.choose_next(ctx, command == Command::NextPoint),
            Command::DeletePoint if self.view.place == Place::Fit => self.fit_leg(Command::DeleteNotch),
            Command::DeletePoint | Command::SharpPoint | Command::TieHandles => self.change_chosen(command),
            Command::FairnessComb => self.view.fairness.comb = !self.view.fairness.comb,
            Command::TightestBend => self.view.fairness.tightest = !self.view.fairness.tightest,
            Command::LineMarks => self.view.fairness.marks = !self.view.fairness.marks,
            Command::Photos => {
                let open = self.view.panels.photos.take();
                self.view.panels.photos = if open.is_some() { None } else { Some(Face::One) };
            }
            Command::Knots => self.view.panels.knots = !self.view.panels.knots,
            Command::OwnWoods => self.view.panels.own_woods = !self.view.panels.own_woods,
            Command::SeamFixes => self.view.panels.seam_fixes = !self.view.panels.seam_fixes,
            Command::WoodLimits => self.view.panels.wood_limits = !self.view.panels.wood_limits,
            Command::RollBlank => self.turn_blank(Turn::Quarter),
            Command::TurnBlank => self.turn_blank(Turn::EndForEnd),
            Command::TracePicture => self.trace_panel(),
            Command::ImportCurve => self.ask_for_file(ctx, Job::Curve),
            Command::PinGhost | Command::SwapGhost | Command::DropGhost => self.change_ghost(command),
            Command::LegSquareOn => leg::turn_to_next_side(&mut self.view),
            Command::LegUpright => {
                (self.view.turn_deg, self.view.tilt_deg) = (START_TURN_DEG, START_TILT_DEG);
                self.view.opening = 1.0;
            }
        }
    }

    /// Lays the blank of the leg that is shown on the table another way.
    fn turn_blank(&mut self, turn: Turn) {
        if let Some(design) = self.view.shown(self.history.current()).map(|design| design.id) {
            self.edit_and_choose(&Edit::TurnBlank { design, turn });
        }
    }

    /// What is done with the list of legs.
    fn legs(&mut self, command: Command) {
        let designs = &self.history.current().designs;
        let shown = self.view.shown(self.history.current()).map(|design| design.id);
        let Some(at) = designs.iter().position(|design| Some(design.id) == shown) else { return };
        let design = designs[at].id;
        let neighbour = |step: usize| designs[(at + step) % designs.len()].id;
        match command {
            Command::NewLeg => self.edit_and_choose(&Edit::AddDesign),
            Command::DuplicateLeg => self.edit_and_choose(&Edit::DuplicateDesign { design }),
            Command::DeleteLeg => {
                // The leg that takes its place in the list is shown next, or the last one.
                let next = designs.get(at + 1).or_else(|| designs.get(at.wrapping_sub(1))).map(|design| design.id);
                self.edit_and_choose(&Edit::DeleteDesign { design });
                self.show_leg(next.unwrap_or(design));
            }
            Command::LegEarlier => self.edit_and_choose(&Edit::MoveDesign { design, place: at.saturating_sub(1) }),
            Command::LegLater => self.edit_and_choose(&Edit::MoveDesign { design, place: at + 1 }),
            Command::PreviousLeg => self.show_leg(neighbour(designs.len() - 1)),
            _ => self.show_leg(neighbour(1)),
        }
    }

    fn show_leg(&mut self, design: DesignId) {
        self.view.design = design;
        self.view.chosen.clear();
    }

    /// Deletes the chosen points, or turns the chosen one sharp or smooth; not while the hand holds one.
    fn change_chosen(&mut self, command: Command) {
        if self.gesture.as_ref().is_some_and(Gesture::is_drag) {
            return;
        }
        let Some(design) = self.view.shown(self.history.current()) else { return };
        let id = design.id;
        let edit = match (command, self.view.chosen.one()) {
            (Command::DeletePoint, Some(Chosen { cut, point })) => Edit::DeletePoint { design: id, cut, point },
            (Command::DeletePoint, None) if !self.view.chosen.is_empty() => {
                let points = self.view.chosen.iter().map(|chosen| (chosen.cut, chosen.point)).collect();
                Edit::DeletePoints { design: id, points }
            }
            (Command::SharpPoint, Some(Chosen { cut, point })) => {
                let sharp = design.points(cut).iter().any(|p| p.id == point && p.kind.is_sharp());
                Edit::SetPointKind { design: id, cut, point, sharp: !sharp }
            }
            (Command::TieHandles, Some(Chosen { cut, point })) => {
                let tied = design.points(cut).iter().any(|p| p.id == point && p.tied);
                Edit::TieHandles { design: id, cut, point, tied: !tied }
            }
            _ => return,
        };
        self.edit_and_choose(&edit);
    }

    /// Chooses all points of the cut being worked on, then of both.
    fn choose_all(&mut self, ctx: &Context) {
        if let Some(design) = self.view.shown(self.history.current()) {
            self.view.chosen.choose_all(design);
            ctx.memory_mut(|memory| memory.request_focus(faces::id()));
        }
    }

    /// Chooses the next point, brings it into sight, and gives it the arrow keys; not while the hand holds one.
    fn choose_next(&mut self, ctx: &Context, toward_foot: bool) {
        let Some(design) = self.view.shown(self.history.current()).cloned() else { return };
        if self.gesture.as_ref().is_some_and(Gesture::is_drag) {
            return;
        }
        let Some(next) = self.view.chosen.step(&design, toward_foot) else { return };
        ctx.memory_mut(|memory| memory.request_focus(faces::id()));
        if let (Some(faces), Some([s_mm, _])) =
            (self.shape.faces, crate::grip::Grip::point(next.cut, next.point).place(&design))
        {
            self.view.ruler.bring(faces.axis, blank_stretch(&design), s_mm);
        }
    }

    /// Pins, swaps or drops the ghost of the leg that is shown; not while the hand holds something.
    fn change_ghost(&mut self, command: Command) {
        if self.gesture.as_ref().is_some_and(Gesture::is_drag) {
            return;
        }
        let Some(design) = self.view.shown(self.history.current()).map(|design| design.id) else { return };
        let edit = match command {
            Command::SwapGhost => Edit::SwapGhost { design },
            Command::DropGhost => Edit::DropGhost { design },
            _ => Edit::PinGhost { design },
        };
        self.edit_and_choose(&edit);
    }

    /// Tells what went wrong and what to do.
    pub(super) fn wrong(&mut self, error: &str) {
        self.notice = Some(Notice::wrong(sentence(error)));
    }
}

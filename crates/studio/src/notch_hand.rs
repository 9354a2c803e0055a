//! Notches under the hand: dragged along the leg or longer and shorter, and nudged by keys. As with points, what the hand
//! does is read at the top of the frame, so that every view of that frame shows it.

use cornerwise_geometry::fit::{LEAST_KEPT_MM, Notch, Takes};
use cornerwise_geometry::{Length, MM_PER_INCH, Units};
use cornerwise_project::{Design, Edit, EditError, FitPart, History};
use egui::{Context, CursorIcon, EventFilter, Id, Key, Pos2, Rect, Response, Role, Sense, Ui, WidgetInfo};

use crate::gesture::rounded;
use crate::scene::Scene;
use crate::view::View;

/// The least board that a notch is dragged to, mm.
const LEAST_BOARD_MM: f64 = 1.0;
/// Less than this is not moved, points.
const STILL_PX: f64 = 0.75;

/// Where a notch is taken hold of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Spot {
    /// On the ruler.
    Ruler,
    /// On the faces.
    Faces,
    /// On the sides.
    Sides,
    /// On the upright leg.
    Leg,
}

impl Spot {
    fn name(self) -> &'static str {
        match self {
            Spot::Ruler => "ruler",
            Spot::Faces => "faces",
            Spot::Sides => "sides",
            Spot::Leg => "upright leg",
        }
    }
}

/// What of a notch is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Part {
    /// All of it: it moves along the leg.
    Whole,
    /// Its lower end: its board grows or shrinks.
    LowerEnd,
}

/// A notch on screen.
#[derive(Clone, Copy, Debug)]
pub struct Grip {
    /// Which one, from 0 at the top.
    pub index: usize,
    /// Where it is shown.
    pub spot: Spot,
    /// What of it is held here.
    pub part: Part,
    /// Points that a millimetre along the leg takes: right and down.
    pub along: [f64; 2],
}

impl Grip {
    /// Its name for egui; the rows that it is shown in are told apart by a number.
    fn id(&self, row: usize) -> Id {
        Id::unique(("notch", self.index, self.spot, self.part, row))
    }

    /// How far along the leg a move on screen goes, mm.
    fn along_mm(&self, from: Pos2, to: Pos2) -> f64 {
        let [x, y] = self.along;
        let by = to - from;
        (f64::from(by.x) * x + f64::from(by.y) * y) / (x * x + y * y).max(1e-12)
    }
}

#[derive(Clone, Copy, Debug)]
struct Held {
    id: Id,
    grip: Grip,
    /// The notch's place, or its board, when it was taken, mm.
    from_mm: f64,
    by_keys: bool,
}

/// The hand on notches.
#[derive(Default)]
pub struct NotchHand {
    grips: Vec<(Id, Grip)>,
    held: Option<Held>,
}

impl NotchHand {
    /// Follows the pointer and the arrow keys, by where the grips lay in the last frame.
    ///
    /// # Errors
    /// [`EditError`] where the project refuses what was done; it stays as it was.
    pub fn follow(&mut self, ctx: &Context, history: &mut History, view: &mut View) -> Result<(), EditError> {
        if self.held.is_some() && ctx.input(|i| i.key_pressed(Key::Escape)) {
            self.held = None;
            history.drop_drag();
            ctx.stop_dragging();
            return Ok(());
        }
        if let Some(id) = ctx.drag_started_id()
            && let Some((_, grip)) = self.grips.iter().find(|(known, _)| *known == id).copied()
            && let Some(notch) = notch(history, view, grip.index)
        {
            history.commit_drag();
            history.begin_drag();
            view.fit.notch = Some(grip.index);
            self.held = Some(Held { id, grip, from_mm: measure(&notch, grip.part), by_keys: false });
        }
        let Some(held) = self.held.filter(|held| !held.by_keys) else { return self.nudge(ctx, history, view) };
        let moved = ctx.input(|i| i.pointer.press_origin().zip(i.pointer.interact_pos()));
        let design = view.shown(history.at_rest()).cloned();
        let done = match (moved, design) {
            (Some((from, to)), Some(design)) => {
                let units = history.at_rest().units;
                let px_per_mm = held.grip.along[0].hypot(held.grip.along[1]);
                let by = held.grip.along_mm(from, to);
                // A hand that comes back to where it began is where it began.
                let back = (by * px_per_mm).abs() < STILL_PX;
                let to_mm = if back { held.from_mm } else { rounded(held.from_mm + by, units, px_per_mm) };
                put(&design, &held.grip, to_mm).map_or(Ok(()), |edit| history.replace_drag(&edit))
            }
            _ => Ok(()),
        };
        if !ctx.is_being_dragged(held.id) {
            history.commit_drag();
            self.held = None;
        }
        done
    }

    /// Whether a notch is held.
    pub fn is_holding(&self) -> bool {
        self.held.is_some()
    }

    /// Lets go of everything: the place is left.
    pub fn let_go(&mut self) {
        self.held = None;
        self.grips.clear();
    }

    /// Moves the notch that the keys go to by the arrows: a millimetre or a sixteenth of an inch, finer with Shift.
    fn nudge(&mut self, ctx: &Context, history: &mut History, view: &mut View) -> Result<(), EditError> {
        const BACK: [Key; 2] = [Key::ArrowLeft, Key::ArrowUp];
        const ON: [Key; 2] = [Key::ArrowRight, Key::ArrowDown];
        let (steps, fine, down) = ctx.input(|i| {
            let count = |keys: [Key; 2]| keys.iter().map(|key| i.num_presses(*key) as f64).sum::<f64>();
            (count(ON) - count(BACK), i.modifiers.shift, BACK.iter().chain(&ON).any(|key| i.key_down(*key)))
        });
        let focused = ctx.memory(|memory| memory.focused());
        let target = focused.and_then(|id| self.grips.iter().find(|(known, _)| *known == id)).copied();
        let mut done = Ok(());
        if let Some((id, grip)) = target.filter(|_| steps != 0.0)
            && let Some(now) = notch(history, view, grip.index)
        {
            if self.held.is_none() {
                history.begin_drag();
                self.held = Some(Held { id, grip, from_mm: measure(&now, grip.part), by_keys: true });
                view.fit.notch = Some(grip.index);
            }
            let step = match (history.current().units, fine) {
                (Units::Millimetres, false) => 1.0,
                (Units::Millimetres, true) => 0.1,
                (Units::Inches(_), false) => MM_PER_INCH / 16.0,
                (Units::Inches(_), true) => MM_PER_INCH / 64.0,
            };
            let to_mm = measure(&now, grip.part) + steps * step;
            let to_mm = (to_mm * 1e6).round() / 1e6;
            let edit = view.shown(history.at_rest()).and_then(|design| put(design, &grip, to_mm));
            done = edit.map_or(Ok(()), |edit| history.replace_drag(&edit));
        }
        if self.held.is_some_and(|held| held.by_keys) && (!down || target.is_none()) {
            history.commit_drag();
            self.held = None;
        }
        done
    }

    /// Before a frame's grips are shown.
    pub fn begin_frame(&mut self) {
        self.grips.clear();
    }

    /// Shows one grip, `row` of those of its spot: the hand can take it, keys go to it, a click chooses the notch.
    pub fn grip(
        &mut self,
        ui: &Ui,
        rect: Rect,
        grip: Grip,
        row: usize,
        scene: &Scene<'_>,
        view: &mut View,
    ) -> Response {
        let id = grip.id(row);
        self.grips.push((id, grip));
        let response = ui.interact(rect, id, Sense::click_and_drag());
        let chosen = view.fit.notch == Some(grip.index);
        response.widget_info(|| {
            let part = match grip.part {
                Part::Whole => "",
                Part::LowerEnd => ", lower end",
            };
            let place = if row == 0 { String::new() } else { format!(", row {}", row + 1) };
            let name = format!("notch {}{part}, on the {}{place}", grip.index + 1, grip.spot.name());
            WidgetInfo::selected(Role::Button, true, chosen, name)
        });
        if response.clicked() {
            view.fit.notch = Some(grip.index);
            response.request_focus();
        }
        if response.has_focus() {
            let filter = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
            ui.memory_mut(|memory| memory.set_focus_lock_filter(id, filter));
        }
        let level = grip.along[0].abs() > grip.along[1].abs();
        let cursor = if level { CursorIcon::ResizeHorizontal } else { CursorIcon::ResizeVertical };
        let units = scene.units();
        let words = scene.design.fit.notches.get(grip.index).map_or_else(String::new, |notch| {
            let [from, to] = notch.span_mm();
            let (article, name) = match notch.takes {
                Takes::Apron => ("an", notch.takes.name()),
                Takes::Shelf => ("a", notch.takes.name()),
            };
            format!(
                "Notch {} for {article} {name}: {} to {} from the top. Drag it along the leg",
                grip.index + 1,
                units.show(from),
                units.show_with_unit(to)
            )
        });
        response.on_hover_and_drag_cursor(cursor).on_hover_text(words)
    }
}

fn notch(history: &History, view: &View, index: usize) -> Option<Notch> {
    view.shown(history.current())?.fit.notches.get(index).cloned()
}

/// What the hand changes of a notch, mm.
fn measure(notch: &Notch, part: Part) -> f64 {
    match part {
        Part::Whole => notch.from_top.mm(),
        Part::LowerEnd => notch.board.mm(),
    }
}

/// The edit that puts a notch's upper end, or its board, to a size; it stops short of its neighbours.
fn put(design: &Design, grip: &Grip, to_mm: f64) -> Option<Edit> {
    let was = design.fit.notches.get(grip.index)?;
    let mm = |mm: f64, was: &Length| if mm == was.mm() { was.clone() } else { Length::from_mm(mm) };
    let part = match grip.part {
        Part::Whole => FitPart::MoveNotch { index: grip.index, from_top: mm(to_mm, &was.from_top) },
        Part::LowerEnd => {
            let below =
                design.fit.notches.get(grip.index + 1).map_or(design.blank.length.mm(), |next| next.from_top.mm());
            let most = below - LEAST_KEPT_MM - was.from_top.mm() - was.clearance.mm();
            let board = mm(to_mm.min(most).max(LEAST_BOARD_MM), &was.board);
            FitPart::Notch { index: grip.index, notch: Notch { board, ..was.clone() } }
        }
    };
    Some(Edit::SetFit { design: design.id, part })
}

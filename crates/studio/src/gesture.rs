//! Drags and nudges of points and handles. They are read at the top of the frame, so that every view of that frame
//! shows what the hand has just done.

use cornerwise_geometry::{Cut, Length, MM_PER_INCH, PointId, Units};
use cornerwise_project::{Design, Edit, EditError, History, PointPlace, Project};
use egui::{Context, Event, Id, InputState, Key, Modifiers, PointerButton, Popup, Pos2, Vec2, vec2};
use std::sync::Arc;

use crate::grip::{Grip, Placed};
use crate::length_field::was_typing;
use crate::sheet::{Sheet, Spot};
use crate::snap::{Catch, Catches};
use crate::view::{Chosen, View};
use crate::views::faces;

/// Nearer than this is there, mm: rounding.
const THERE_MM: f64 = 1e-9;

/// Less than this is not moved, points.
const STILL_PX: f64 = 0.75;

/// A drag or a run of nudges under way.
#[derive(Clone, Debug)]
pub struct Gesture {
    /// What is held.
    pub grip: Grip,
    /// Where it is held.
    pub spot: Spot,
    /// Its name for egui.
    id: Id,
    /// From the pointer to the middle of what is held, points: kept, so that nothing jumps when it is taken.
    grab: Vec2,
    /// Where it was at first, mm.
    from: [f64; 2],
    /// Where the points were that move together, when they are several.
    together: Vec<PointPlace>,
    /// Moved by keys and not by the pointer.
    by_keys: bool,
    /// What may catch it.
    catches: Catches,
    /// What has caught it, along the leg and across it.
    pub caught: [Option<Catch>; 2],
}

impl Gesture {
    /// Whether the pointer holds it.
    pub fn is_drag(&self) -> bool {
        !self.by_keys
    }

    fn new(grip: Grip, spot: Spot, from: [f64; 2], design: &Design, view: &View) -> Gesture {
        let together = together(grip, design, view);
        let id = grip.id(design, spot);
        let (grab, catches, caught) = (Vec2::ZERO, Catches::default(), [None, None]);
        Gesture { grip, spot, id, grab, from, together, by_keys: false, catches, caught }
    }

    /// Whether a point moves with the hand. While a handle does, so does the line at its point; with a parameter of a live
    /// shape all points of its cut.
    fn moves(&self, cut: Cut, point: PointId) -> bool {
        match self.grip.of_point() {
            Some(held) if held == (Chosen { cut, point }) => true,
            Some(_) => self.together.iter().any(|place| (place.cut, place.point) == (cut, point)),
            None => cut == self.grip.cut,
        }
    }

    /// The edit that puts what is held, and what moves with it, to a place; handles tied or free the other way about.
    fn put(&self, project: &Project, design: &Design, [s, offset]: [f64; 2], other_way: bool) -> Option<Edit> {
        if self.together.is_empty() {
            return self.grip.put(project, design, [s, offset], other_way);
        }
        let by = [s - self.from[0], offset - self.from[1]];
        let moved = |was: &Length, by: f64| if by == 0.0 { was.clone() } else { Length::from_mm(was.mm() + by) };
        let points = self
            .together
            .iter()
            .map(|place| PointPlace {
                from_top: moved(&place.from_top, by[0]),
                offset: moved(&place.offset, by[1]),
                ..place.clone()
            })
            .collect();
        Some(Edit::MovePoints { design: design.id, points })
    }
}

/// Where the points are that move together with a grip: those chosen with it, when there are others.
fn together(grip: Grip, design: &Design, view: &View) -> Vec<PointPlace> {
    if !grip.is_point() || view.chosen.len() < 2 || !grip.of_point().is_some_and(|held| view.chosen.contains(held)) {
        return Vec::new();
    }
    view.chosen
        .iter()
        .filter_map(|Chosen { cut, point }| {
            let at = design.points(cut).into_iter().find(|other| other.id == point)?;
            Some(PointPlace { cut, point, from_top: at.from_top, offset: at.offset })
        })
        .collect()
}

/// Follows the pointer and the arrow keys. `sheets` are how the lines lay on screen in the last frame, which is what the
/// hand is aiming at.
///
/// # Errors
/// [`EditError`] where the project refuses what was done; it stays as it was.
pub fn follow(
    ctx: &Context,
    history: &mut History,
    view: &mut View,
    sheets: &[Sheet],
    gesture: &mut Option<Gesture>,
) -> Result<(), EditError> {
    let Some(design) = view.shown(history.current()).cloned() else { return Ok(()) };
    view.chosen.tidy(&design);
    if ctx.input(|i| i.key_pressed(Key::Escape)) {
        if gesture.is_some() {
            drop_it(ctx, history, gesture);
            return Ok(());
        }
        // In a field and in a menu, Esc is about them; of a box, only the box goes.
        if !was_typing(ctx) && !Popup::is_any_open(ctx) && view.picking.is_none() {
            view.chosen.clear();
        }
    }
    let by_hand = ctx.input(|i| i.pointer.primary_down() && !i.key_down(Key::Space));
    if let Some(id) = ctx.drag_started_id().filter(|_| by_hand) {
        begin(ctx, history, view, sheets, gesture, &design, id);
    }
    if let Some(held) = gesture.as_ref().filter(|held| held.is_drag()) {
        let at = ctx.input(|i| let_go_at(i).or(i.pointer.interact_pos()));
        let (id, modifiers) = (held.id, ctx.input(|i| i.modifiers));
        let sheet = sheets.iter().find(|sheet| sheet.spot == held.spot && sheet.cut == held.grip.cut);
        let dragged = at.zip(sheet).and_then(|(at, sheet)| drag_edit(held, history, view, sheet, at, modifiers));
        let (edit, caught) = dragged.unzip();
        let done = edit.map_or(Ok(()), |edit| history.replace_drag(&edit));
        let place = view.shown(history.current()).and_then(|design| held.grip.place(design));
        // What was stopped on its way there is not caught.
        let is_there = |i: usize, catch: &Catch| place.is_some_and(|place| (place[i] - catch.mm).abs() < THERE_MM);
        let caught = caught.unwrap_or_default();
        let caught = [0, 1].map(|i| caught[i].filter(|catch| is_there(i, catch)));
        // A refused movement must not keep the hand from letting go; what is no longer there is not held.
        let gone = view.shown(history.at_rest()).and_then(|design| held.grip.place(design)).is_none();
        if gone || !ctx.is_being_dragged(id) {
            history.commit_drag();
            *gesture = None;
        } else if let Some(held) = gesture {
            held.caught = caught;
        }
        if gone {
            ctx.stop_dragging();
            return Ok(());
        }
        done?;
    }
    nudge(ctx, history, view, sheets, gesture)
}

/// Where the hand let go in this frame, if it did: after that the pointer may have gone on already.
fn let_go_at(input: &InputState) -> Option<Pos2> {
    input.events.iter().find_map(|event| match event {
        Event::PointerButton { pos, button: PointerButton::Primary, pressed: false, .. } => Some(*pos),
        _ => None,
    })
}

/// Lets go and puts everything back as it was when the gesture began.
fn drop_it(ctx: &Context, history: &mut History, gesture: &mut Option<Gesture>) {
    if gesture.take().is_some() {
        history.drop_drag();
        ctx.stop_dragging();
    }
}

/// The grip with a name for egui, where it is and where it is shown.
fn named(id: Id, design: &Design, view: &View, sheets: &[Sheet]) -> Option<(Placed, Sheet)> {
    let all = Placed::all(design, view.chosen.one());
    let on = |sheet: &Sheet| all.iter().find(|placed| placed.is_on(sheet) && placed.id(design, sheet) == id).cloned();
    sheets.iter().find_map(|sheet| Some((on(sheet)?, *sheet)))
}

fn begin(
    ctx: &Context,
    history: &mut History,
    view: &mut View,
    sheets: &[Sheet],
    gesture: &mut Option<Gesture>,
    design: &Arc<Design>,
    id: Id,
) {
    let taken = named(id, design, view, sheets);
    let (Some((Placed { grip, at: place, .. }, sheet)), Some(pressed)) =
        (taken, ctx.input(|i| i.pointer.press_origin()))
    else {
        return;
    };
    history.commit_drag();
    if let Some(point) = grip.of_point()
        && !view.chosen.contains(point)
    {
        view.chosen.set(point);
    }
    let grab = sheet.pos(place) - pressed;
    let mut held = Gesture { grab, ..Gesture::new(grip, sheet.spot, place, design, view) };
    if let Ok(leg) = design.leg() {
        held.catches = Catches::of(design, &leg, grip, |cut, point| held.moves(cut, point), &view.snaps.margin);
    }
    *gesture = Some(held);
    history.begin_drag();
}

/// The edit that a hand at `at` means, and what has caught it.
fn drag_edit(
    held: &Gesture,
    history: &History,
    view: &View,
    sheet: &Sheet,
    at: Pos2,
    modifiers: Modifiers,
) -> Option<(Edit, [Option<Catch>; 2])> {
    let design = view.shown(history.at_rest())?;
    let px_per_mm = sheet.px_per_mm();
    let mut to = sheet.place(at + held.grab);
    let away_px = [0, 1].map(|i| (to[i] - held.from[i]) * px_per_mm[i]);
    if modifiers.shift {
        // With Shift held it moves one way only: the way it has been moved farther on screen.
        let still = usize::from(away_px[0].abs() > away_px[1].abs());
        to[still] = held.from[still];
    }
    let units = history.at_rest().units;
    // A handle of a live shape may stand for one way only: the other way nothing happens and nothing catches.
    for (i, moves) in held.grip.moves(design).into_iter().enumerate() {
        if !moves {
            to[i] = held.from[i];
        }
    }
    // Held off with Alt, nothing catches.
    let near = if modifiers.alt { [None, None] } else { held.catches.nearest(to, px_per_mm, &view.snaps) };
    let mut caught = [None, None];
    for i in 0..2 {
        if to[i] == held.from[i] || away_px[i].abs() < STILL_PX {
            // A hand that comes back to where it began is where it began, whatever the screen's own rounding.
            to[i] = held.from[i];
        } else {
            caught[i] = near[i];
            to[i] = near[i].map_or_else(|| rounded(to[i], units, px_per_mm[i]), |catch| catch.mm);
        }
    }
    // With Ctrl held, tied handles are free and free ones are tied.
    Some((held.put(history.at_rest(), design, to, modifiers.command)?, caught))
}

/// A length under the pointer as a round figure that is finer than what can be seen at this zoom.
pub fn rounded(mm: f64, units: Units, px_per_mm: f64) -> f64 {
    let steps = match units {
        Units::Millimetres => [0.1, 0.1, 0.01, 0.01],
        Units::Inches(finest) if finest.is_decimal() => [0.02, 0.01, 0.002, 0.001].map(|inches| inches * MM_PER_INCH),
        Units::Inches(_) => [1.0 / 64.0, 1.0 / 128.0, 1.0 / 256.0, 1.0 / 1024.0].map(|inches| inches * MM_PER_INCH),
    };
    let step = steps.into_iter().find(|step| step * px_per_mm <= 1.0).unwrap_or(steps[3]);
    // Divided by a whole number where there is one, so that 12.3 is 12.3 and not 12.300000000000001.
    let per_mm = 1.0 / step;
    if (per_mm - per_mm.round()).abs() < 1e-9 {
        (mm * per_mm.round()).round() / per_mm.round()
    } else {
        (mm / step).round() * step
    }
}

/// Moves what is chosen by the arrow keys: a millimetre, a sixteenth or 0.05 of an inch, finer with Shift. While a key is
/// down, it is one step to undo.
fn nudge(
    ctx: &Context,
    history: &mut History,
    view: &View,
    sheets: &[Sheet],
    gesture: &mut Option<Gesture>,
) -> Result<(), EditError> {
    const ARROWS: [(Key, Vec2); 4] = [
        (Key::ArrowLeft, vec2(-1.0, 0.0)),
        (Key::ArrowRight, vec2(1.0, 0.0)),
        (Key::ArrowUp, vec2(0.0, -1.0)),
        (Key::ArrowDown, vec2(0.0, 1.0)),
    ];
    let (presses, fine, still_down) = ctx.input(|i| {
        let presses = ARROWS.map(|(key, arrow)| (i.num_presses(key) as f64, arrow));
        (presses, i.modifiers.shift, ARROWS.iter().any(|(key, _)| i.key_down(*key)))
    });
    let pressed = presses.iter().any(|(count, _)| *count > 0.0);
    if gesture.as_ref().is_some_and(Gesture::is_drag) || (!pressed && gesture.is_none()) {
        return Ok(());
    }
    let Some(design) = view.shown(history.current()).cloned() else { return Ok(()) };
    let target = ctx.memory(|m| m.focused()).and_then(|focused| nudged(focused, &design, view, sheets));
    let mut done = Ok(());
    if let Some((placed, sheet)) = target.as_ref().filter(|_| pressed) {
        let step = match (history.current().units, fine) {
            (Units::Millimetres, false) => 1.0,
            (Units::Millimetres, true) => 0.1,
            (Units::Inches(finest), fine) if finest.is_decimal() => MM_PER_INCH * if fine { 0.01 } else { 0.05 },
            (Units::Inches(_), false) => MM_PER_INCH / 16.0,
            (Units::Inches(_), true) => MM_PER_INCH / 64.0,
        };
        let mut to = placed.at;
        for (count, arrow) in presses {
            let way = sheet.way(arrow);
            to = [to[0] + way[0] * count * step, to[1] + way[1] * count * step];
        }
        let held = gesture.get_or_insert_with(|| {
            history.begin_drag();
            Gesture { by_keys: true, ..Gesture::new(placed.grip, sheet.spot, placed.at, &design, view) }
        });
        let at_rest = history.at_rest();
        let edit = view.shown(at_rest).and_then(|design| held.put(at_rest, design, to, false));
        done = edit.map_or(Ok(()), |edit| history.replace_drag(&edit));
    }
    if gesture.is_some() && (!still_down || target.is_none()) {
        history.commit_drag();
        *gesture = None;
    }
    done
}

/// What the arrow keys move: the grip that they go to; or, where they go to the faces, the first of the chosen points.
fn nudged(focused: Id, design: &Design, view: &View, sheets: &[Sheet]) -> Option<(Placed, Sheet)> {
    if focused != faces::id() {
        return named(focused, design, view, sheets);
    }
    let Chosen { cut, point } = view.chosen.iter().next()?;
    let grip = Grip::point(cut, point);
    let placed = Placed::all(design, None).into_iter().find(|placed| placed.grip == grip)?;
    Some((placed, *sheets.iter().find(|sheet| sheet.cut == cut && sheet.spot == Spot::Face)?))
}

#[cfg(test)]
mod tests {
    use super::*;
    use cornerwise_geometry::Finest;

    #[test]
    fn dragged_lengths_are_round_and_closer_than_a_pixel() {
        for units in [Units::Millimetres, Units::Inches(Finest::Sixteenth)] {
            for px_per_mm in [0.5, 1.0, 3.0, 9.9, 40.0] {
                for mm in [0.0, 12.345_678, 699.999, -3.21] {
                    assert!((rounded(mm, units, px_per_mm) - mm).abs() * px_per_mm <= 0.6, "{mm} at {px_per_mm}");
                }
            }
        }
        assert_eq!(rounded(12.31, Units::Millimetres, 1.0), 12.3);
        assert_eq!(rounded(70.0, Units::Inches(Finest::Sixteenth), 0.5), 69.85);
    }
}

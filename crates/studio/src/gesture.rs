//! Drags and nudges of points and handles. They are read at the top of the frame, so that every view of that frame
//! shows what the hand has just done.

use cornerwise_geometry::{MM_PER_INCH, Units};
use cornerwise_project::{Design, Edit, EditError, History};
use egui::{Context, Id, Key, Pos2, Vec2};
use std::sync::Arc;

use crate::across::ScreenFromFaces;
use crate::grip::{Grip, Placed};
use crate::view::{Chosen, View};

/// A drag or a run of nudges under way.
#[derive(Clone, Debug)]
pub struct Gesture {
    /// What is held.
    pub grip: Grip,
    /// Its name for egui.
    id: Id,
    /// From the pointer to the middle of what is held, points: kept, so that nothing jumps when it is taken.
    grab: Vec2,
    /// Where it was at first, mm.
    from: [f64; 2],
    /// Moved by keys and not by the pointer.
    by_keys: bool,
}

impl Gesture {
    /// Whether the pointer holds it.
    pub fn is_drag(&self) -> bool {
        !self.by_keys
    }
}

/// Follows the pointer and the arrow keys. `faces` is how the faces lay on screen in the last frame, which is what the
/// hand is aiming at.
///
/// # Errors
/// [`EditError`] where the project refuses what was done; it stays as it was.
pub fn follow(
    ctx: &Context,
    history: &mut History,
    view: &mut View,
    faces: Option<&ScreenFromFaces>,
    gesture: &mut Option<Gesture>,
) -> Result<(), EditError> {
    let Some(design) = view.shown(history.current()).cloned() else { return Ok(()) };
    if gesture.is_some() && ctx.input(|i| i.key_pressed(Key::Escape)) {
        drop_it(ctx, history, gesture);
        return Ok(());
    }
    if let Some(faces) = faces {
        if let Some(id) = ctx.drag_started_id() {
            begin(ctx, history, view, faces, gesture, &design, id)?;
        }
        if let Some(held) = gesture.as_ref().filter(|held| held.is_drag()) {
            let at = ctx.input(|i| i.pointer.interact_pos());
            let (id, alone) = (held.id, ctx.input(|i| i.modifiers.shift));
            let edit = at.and_then(|at| drag_edit(held, history, view, faces, at, alone));
            let done = edit.map_or(Ok(()), |edit| history.replace_drag(&edit));
            // A refused movement must not keep the hand from letting go; what is no longer there is not held.
            let gone = view.shown(history.at_rest()).and_then(|design| held.grip.place(design)).is_none();
            if gone || !ctx.is_being_dragged(id) {
                history.commit_drag();
                *gesture = None;
            }
            if gone {
                ctx.stop_dragging();
                return Ok(());
            }
            done?;
        }
    }
    nudge(ctx, history, view, gesture)
}

/// Lets go and puts everything back as it was when the gesture began.
fn drop_it(ctx: &Context, history: &mut History, gesture: &mut Option<Gesture>) {
    if gesture.take().is_some() {
        history.drop_drag();
        ctx.stop_dragging();
    }
}

fn begin(
    ctx: &Context,
    history: &mut History,
    view: &mut View,
    faces: &ScreenFromFaces,
    gesture: &mut Option<Gesture>,
    design: &Arc<Design>,
    id: Id,
) -> Result<(), EditError> {
    let taken = Placed::all(design, view.chosen).into_iter().find(|placed| placed.grip.id(design) == id);
    let (Some(Placed { grip, at: place, .. }), Some(pressed)) = (taken, ctx.input(|i| i.pointer.press_origin())) else {
        return Ok(());
    };
    history.commit_drag();
    view.chosen = Some(Chosen { cut: grip.cut, point: grip.point });
    let grab = faces.pos(grip.cut, place[0], place[1]) - pressed;
    *gesture = Some(Gesture { grip, id, grab, from: place, by_keys: false });
    history.begin_drag();
    Ok(())
}

fn drag_edit(
    held: &Gesture,
    history: &History,
    view: &View,
    faces: &ScreenFromFaces,
    at: Pos2,
    alone: bool,
) -> Option<Edit> {
    let design = view.shown(history.at_rest())?;
    let middle = at + held.grab;
    let [mut s, mut offset] = faces.place(held.grip.cut, middle);
    if alone {
        // With Shift held it moves one way only: the way it has been moved farther on screen.
        let from = faces.pos(held.grip.cut, held.from[0], held.from[1]);
        let moved = middle - from;
        if moved.x.abs() > moved.y.abs() {
            offset = held.from[1];
        } else {
            s = held.from[0];
        }
    }
    let units = history.at_rest().units;
    let held_back = |mm: f64, was: f64, px_per_mm: f64| if mm == was { mm } else { rounded(mm, units, px_per_mm) };
    let s = held_back(s, held.from[0], faces.axis.px_per_mm);
    let offset = held_back(offset, held.from[1], faces.px_per_mm);
    held.grip.put(design, [s, offset])
}

/// A length under the pointer as a round figure that is finer than what can be seen at this zoom.
pub fn rounded(mm: f64, units: Units, px_per_mm: f64) -> f64 {
    let steps = match units {
        Units::Millimetres => [0.1, 0.1, 0.01, 0.01],
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

/// Moves the focused point or handle by the arrow keys: a millimetre or a sixteenth of an inch, finer with Shift.
fn nudge(ctx: &Context, history: &mut History, view: &View, gesture: &mut Option<Gesture>) -> Result<(), EditError> {
    const ARROWS: [(Key, [f64; 2]); 4] = [
        (Key::ArrowLeft, [-1.0, 0.0]),
        (Key::ArrowRight, [1.0, 0.0]),
        (Key::ArrowUp, [0.0, -1.0]),
        (Key::ArrowDown, [0.0, 1.0]),
    ];
    let (mut way, fine, still_down) = ctx.input(|i| {
        let mut way = [0.0, 0.0];
        for (key, [along, across]) in ARROWS {
            let presses = i.num_presses(key) as f64;
            way = [way[0] + along * presses, way[1] + across * presses];
        }
        (way, i.modifiers.shift, ARROWS.iter().any(|(key, _)| i.key_down(*key)))
    });
    let design = view.shown(history.current()).cloned();
    let grip = design.as_ref().and_then(|design| {
        let focused = ctx.memory(|m| m.focused())?;
        Placed::all(design, view.chosen).into_iter().map(|placed| placed.grip).find(|grip| grip.id(design) == focused)
    });
    if let (Some(design), Some(grip)) = (&design, grip)
        && way != [0.0, 0.0]
        && gesture.as_ref().is_none_or(|held| held.by_keys)
    {
        let step = match (history.current().units, fine) {
            (Units::Millimetres, false) => 1.0,
            (Units::Millimetres, true) => 0.1,
            (Units::Inches(_), false) => MM_PER_INCH / 16.0,
            (Units::Inches(_), true) => MM_PER_INCH / 64.0,
        };
        way = way.map(|w| w * step);
        if let Some(place) = grip.place(design) {
            if gesture.is_none() {
                let id = grip.id(design);
                *gesture = Some(Gesture { grip, id, grab: Vec2::ZERO, from: place, by_keys: true });
                history.begin_drag();
            }
            if let Some(edit) = grip.put(design, [place[0] + way[0], place[1] + way[1]]) {
                history.replace_drag(&edit)?;
            }
        }
    }
    if gesture.as_ref().is_some_and(|held| held.by_keys) && (!still_down || grip.is_none()) {
        history.commit_drag();
        *gesture = None;
    }
    Ok(())
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

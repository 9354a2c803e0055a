//! A thing in the hand: dragged from where it was taken, let go, or dropped with Esc.

use egui::{Id, Key, Pos2, Response, Ui, Vec2};

/// The thing in hand: something its picture keeps meanwhile, and from the hand to its middle.
#[derive(Clone, Copy)]
pub(super) struct Held {
    /// Whatever the picture wants kept as it was when the hand took hold.
    pub kept: f64,
    grab: Vec2,
}

/// What a frame does to the thing in hand.
pub(super) enum Moved {
    /// Its middle is brought here.
    To(Pos2),
    /// It is let go here.
    LetGo(Pos2),
    /// It goes back to where it was.
    Dropped,
}

/// The thing, if it is in hand.
pub(super) fn held(ui: &Ui, id: Id) -> Option<Held> {
    ui.data(|data| data.get_temp::<Held>(id))
}

/// What the hand does to a thing whose middle is at `place`.
pub(super) fn drag(ui: &Ui, response: &Response, id: Id, place: Pos2, kept: f64) -> Option<Moved> {
    if response.drag_started() {
        let origin = ui.input(|i| i.pointer.press_origin()).unwrap_or(place);
        ui.data_mut(|data| data.insert_temp(id, Held { kept, grab: place - origin }));
    }
    let held = held(ui, id)?;
    if ui.input(|i| i.key_pressed(Key::Escape)) {
        ui.ctx().stop_dragging();
        ui.data_mut(|data| data.remove::<Held>(id));
        return Some(Moved::Dropped);
    }
    let at = response.interact_pointer_pos().map(|at| at + held.grab);
    if response.dragged() {
        return at.map(Moved::To);
    }
    // Let go, or taken out of the hand.
    ui.data_mut(|data| data.remove::<Held>(id));
    Some(at.map_or(Moved::Dropped, Moved::LetGo))
}

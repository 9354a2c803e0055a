//! The small menu on the faces that says what catches a dragged point.

use egui::containers::menu::{MenuButton, MenuConfig};
use egui::{Align, Button, Layout, PopupCloseBehavior, Rect, RichText, Ui, UiBuilder, vec2};

use super::head::{field, row};
use crate::commands::Command;
use crate::scene::{Ask, Scene};
use crate::snap::LEAST_STEP_MM;
use crate::tokens::{self, Tokens};
use crate::view::View;

/// Shows its button at the lower right of the faces, beside the one for their stretch.
pub fn show(ui: &mut Ui, faces: Rect, scene: &Scene<'_>, view: &mut View, asks: &mut Vec<Ask>) {
    let rect = Rect::from_min_size(faces.right_bottom() + vec2(-208.0, -23.0), vec2(84.0, 20.0));
    let mut ui =
        ui.new_child(UiBuilder::new().max_rect(rect).id_salt("snaps").layout(Layout::right_to_left(Align::Center)));
    ui.spacing_mut().button_padding = vec2(6.0, 0.0);
    ui.spacing_mut().interact_size.y = 20.0;
    let words = match (view.snaps.on, view.snaps.grid) {
        (false, _) => "Snaps off",
        (true, false) => "Snaps",
        (true, true) => "Snaps, grid",
    };
    // It stays while figures are typed in it.
    let stays = MenuConfig::new().close_behavior(PopupCloseBehavior::CloseOnClickOutside);
    let button = Button::new(RichText::new(words).font(tokens::small()));
    let (button, _) = MenuButton::from_button(button).config(stays).ui(&mut ui, |ui| choices(ui, scene, view, asks));
    button.accessible_name("snaps menu").on_hover_text("What catches a dragged point");
}

fn choices(ui: &mut Ui, scene: &Scene<'_>, view: &mut View, asks: &mut Vec<Ask>) {
    ui.set_min_width(250.0);
    let t = Tokens::here(ui);
    for (command, on) in [(Command::Snaps, view.snaps.on), (Command::SnapToGrid, view.snaps.grid)] {
        // Keys are set in the colour of second text, which cannot be read on what is chosen.
        let keys = RichText::new(command.keys_in_words(ui.ctx())).color(if on { t.on_chosen } else { t.soft });
        if ui.add(Button::selectable(on, command.label()).shortcut_text(keys)).clicked() {
            asks.push(Ask::Command(command));
        }
    }
    row(ui, |ui| {
        let least = |mm: f64| {
            if mm >= LEAST_STEP_MM { Ok(()) } else { Err("this has to be more than 0".to_owned()) }
        };
        let step = field(scene, "Grid step", "snaps", 2);
        if let Some(step) = step.length(ui, &view.snaps.step, scene.reading(), |length| least(length.mm())) {
            view.snaps.step = step;
        }
        let margin = field(scene, "Margin", "snaps", 2);
        if let Some(margin) = margin.length(ui, &view.snaps.margin, scene.reading(), |length| least(length.mm())) {
            view.snaps.margin = margin;
        }
    });
    let help = "While a point is dragged it is caught by the centre line, arrises and margins of its face, the ends, the \
                other points, and points and crests of the other cut. Alt holds it off.";
    ui.label(RichText::new(help).font(tokens::small()).color(t.soft));
}

//! Two small menus on the faces: what an eye for fairness asks to see, and the ghost. And a word on the ghost.

use egui::containers::menu::{MenuButton, MenuConfig};
use egui::{
    Align, Align2, Button, Id, Layout, PopupCloseBehavior, Rect, RichText, Role, Sense, Ui, UiBuilder, WidgetInfo, vec2,
};

use crate::commands::{Command, Group};
use crate::paint;
use crate::scene::{Ask, Scene};
use crate::tokens::{self, Tokens};
use crate::view::View;

/// Half the width that the caption of face 2 takes up, points.
const CAPTION_PX: f32 = 110.0;

/// Shows them at the lower left of the faces.
pub fn show(ui: &mut Ui, faces: Rect, scene: &Scene<'_>, view: &mut View, asks: &mut Vec<Ask>) {
    let t = Tokens::here(ui);
    let rect = Rect::from_min_size(faces.left_bottom() + vec2(8.0, -23.0), vec2(200.0, 20.0));
    let mut row = ui
        .new_child(UiBuilder::new().max_rect(rect).id_salt("face menus").layout(Layout::left_to_right(Align::Center)));
    row.set_clip_rect(faces.intersect(ui.clip_rect()));
    row.spacing_mut().button_padding = vec2(6.0, 0.0);
    row.spacing_mut().interact_size.y = 20.0;
    row.spacing_mut().item_spacing.x = 6.0;
    let small = |words: &str| Button::new(RichText::new(words).font(tokens::small()));
    // It stays while quills are made longer step by step.
    let stays = MenuConfig::new().close_behavior(PopupCloseBehavior::CloseOnClickOutside);
    let (button, _) =
        MenuButton::from_button(small("Fairness")).config(stays).ui(&mut row, |ui| fairness(ui, scene, view, asks));
    button.accessible_name("fairness menu");
    let (button, _) = MenuButton::from_button(small("Ghost")).ui(&mut row, |ui| ghost(ui, scene, asks));
    button.accessible_name("ghost menu");
    if let Some(shown) = scene.ghost {
        let words = format!("ghost: {}", shown.most.words(scene.units()));
        let wide = row.painter().layout_no_wrap(words.clone(), tokens::small(), t.ink).size().x;
        let beside = row.cursor().left_center() + vec2(4.0, 0.0);
        // The middle belongs to the caption of face 2; where there is no room left of it, the word stands above.
        let free = beside.x + wide < faces.center().x - CAPTION_PX;
        let at = if free { beside } else { rect.left_top() + vec2(4.0, -12.0) };
        paint::label(ui.painter(), t, at, Align2::LEFT_CENTER, &words, tokens::small(), t.ink);
        let word = ui.interact(Rect::from_center_size(at, vec2(4.0, 4.0)), Id::unique("ghost's word"), Sense::hover());
        word.widget_info(|| WidgetInfo::labeled(Role::Label, true, words.clone()));
    }
}

fn fairness(ui: &mut Ui, scene: &Scene<'_>, view: &mut View, asks: &mut Vec<Ask>) {
    ui.set_min_width(250.0);
    let asked = view.fairness;
    tick(ui, Command::FairnessComb, asked.comb, asks);
    ui.horizontal(|ui| {
        let t = Tokens::here(ui);
        ui.label(RichText::new("Quills").font(tokens::small()).color(t.soft));
        for (words, longer) in [("Longer", true), ("Shorter", false)] {
            if ui.add_enabled(asked.comb, Button::new(words)).clicked() {
                view.fairness.rescale(scene.leg, longer);
            }
        }
        let by_itself = Button::selectable(asked.scale_mm2.is_none(), "By itself");
        let tip = "The longest quill always takes the same room";
        if ui.add_enabled(asked.comb, by_itself).on_hover_text(tip).clicked() {
            let fixed = asked.scale_mm2.is_none().then(|| asked.scale(scene.leg));
            view.fairness.scale_mm2 = fixed;
        }
    });
    tick(ui, Command::TightestBend, asked.tightest, asks);
    tick(ui, Command::LineMarks, asked.marks, asks);
}

fn ghost(ui: &mut Ui, scene: &Scene<'_>, asks: &mut Vec<Ask>) {
    ui.set_min_width(250.0);
    for command in Group::Ghost.commands() {
        let keys = command.keys_in_words(ui.ctx());
        let enabled = command == Command::PinGhost || scene.design.ghost.is_some();
        let button = ui.add_enabled(enabled, Button::new(command.label()).shortcut_text(keys));
        if button.on_hover_text(command.does()).accessible_name(command.label()).clicked() {
            asks.push(Ask::Command(command));
        }
    }
}

/// A command that is on or off.
fn tick(ui: &mut Ui, command: Command, on: bool, asks: &mut Vec<Ask>) {
    let t = Tokens::here(ui);
    let keys = command.keys_in_words(ui.ctx());
    // Keys are set in the colour of second text, which cannot be read on what is chosen.
    let keys = RichText::new(keys).color(if on { t.on_chosen } else { t.soft });
    let button = ui.add(Button::selectable(on, command.label()).shortcut_text(keys)).on_hover_text(command.does());
    if button.accessible_name(command.label()).clicked() {
        asks.push(Ask::Command(command));
    }
}

//! The legs of the project: which one is shown, and all that can be done with the list.

use cornerwise_project::{Design, Edit};
use egui::{
    Align2, Button, Color32, Id, Popup, PopupCloseBehavior, Rect, RichText, Role, ScrollArea, Sense, Stroke,
    StrokeKind, TextWrapMode, Ui, UiBuilder, WidgetInfo, WidgetText, pos2, vec2,
};
use std::sync::Arc;

use crate::commands::Command;
use crate::leg_pictures::{LegPictures, SIZE};
use crate::length_field::Field;
use crate::scene::{Ask, Scene};
use crate::tokens::{self, GAP, Tokens};
use crate::view::View;

/// A card of the list, points.
const CARD: [f32; 2] = [104.0, 186.0];
/// Cards side by side before the list scrolls on.
const ACROSS: usize = 5;

/// Shows the choice in `rect`; its list opens below it.
pub fn show(
    ui: &mut Ui,
    rect: Rect,
    scene: &Scene<'_>,
    view: &mut View,
    pictures: &mut LegPictures,
    asks: &mut Vec<Ask>,
) {
    let mut ui = ui.new_child(UiBuilder::new().max_rect(rect.shrink2(vec2(12.0, 4.0))).id_salt("design"));
    let Design { letter, name, .. } = &**scene.design;
    let room = ui.available_width();
    let words = WidgetText::from(format!("{letter}  {name}")).into_galley(
        &ui,
        Some(TextWrapMode::Truncate),
        room - 44.0,
        tokens::bold(),
    );
    let count = scene.project.designs.len();
    let several = if count > 1 { format!(" of {count}") } else { String::new() };
    let arrow = RichText::new("▼").font(tokens::small()).color(Tokens::here(&ui).soft);
    let button = ui.add(Button::new(words).shortcut_text(arrow).min_size(vec2(room, 28.0)).truncate());
    let button = button.accessible_name(format!("legs of the project, shown is {letter}{several}"));
    let button = button.on_hover_text("The legs of this project: choose, add, rename, put in order");
    // It has fields to type in, so only a click elsewhere closes it.
    let list = Popup::from_toggle_button_response(&button).id(Id::unique("legs"));
    list.close_behavior(PopupCloseBehavior::CloseOnClickOutside).show(|ui| {
        // As wide as the cards need, and wide enough for the fields below them.
        let across = scene.project.designs.len().clamp(3, ACROSS);
        ui.set_max_width(across as f32 * (CARD[0] + GAP));
        cards(ui, scene, view, pictures);
        ui.separator();
        shown_leg(ui, scene, asks);
        ui.separator();
        project_name(ui, scene, asks);
    });
}

fn cards(ui: &mut Ui, scene: &Scene<'_>, view: &mut View, pictures: &mut LegPictures) {
    ScrollArea::vertical().max_height(2.4 * (CARD[1] + GAP)).show(ui, |ui| {
        for row in scene.project.designs.chunks(ACROSS) {
            ui.horizontal(|ui| {
                for design in row {
                    if card(ui, design, design.id == scene.design.id, pictures).clicked() {
                        view.design = design.id;
                        view.chosen.clear();
                    }
                }
            });
        }
    });
}

/// One leg: its picture on a page, its letter and its name.
fn card(ui: &mut Ui, design: &Arc<Design>, shown: bool, pictures: &mut LegPictures) -> egui::Response {
    let t = Tokens::here(ui);
    let (rect, response) = ui.allocate_exact_size(CARD.into(), Sense::click());
    let name = format!("leg {}, {}", design.letter, design.name);
    response.widget_info(|| WidgetInfo::selected(Role::RadioButton, true, shown, &name));
    if !ui.is_rect_visible(rect) {
        return response;
    }
    let fill = if shown { t.chosen } else { t.raised };
    ui.painter().rect_filled(rect, 4.0, fill);
    if response.hovered() || response.has_focus() {
        let edge = if response.has_focus() { Stroke::new(2.0, t.ink) } else { Stroke::new(1.0, t.soft) };
        ui.painter().rect_stroke(rect, 4.0, edge, StrokeKind::Outside);
    }
    let picture = Rect::from_min_size(pos2(rect.center().x - SIZE[0] / 2.0, rect.top() + 8.0), SIZE.into());
    match pictures.of(ui.ctx(), design) {
        Some(texture) => {
            let whole = Rect::from_min_max(pos2(0.0, 0.0), pos2(1.0, 1.0));
            ui.painter().image(texture, picture, whole, Color32::WHITE);
        }
        None => {
            ui.painter().rect_filled(picture, 0.0, t.sheet);
        }
    }
    let colour = if shown { t.on_chosen } else { t.ink };
    let words = WidgetText::from(format!("{}  {}", design.letter, design.name)).into_galley(
        ui,
        Some(TextWrapMode::Truncate),
        rect.width() - 10.0,
        tokens::small(),
    );
    let at = Align2::CENTER_CENTER.anchor_size(pos2(rect.center().x, rect.bottom() - 18.0), words.size());
    ui.painter().galley(at.min, words, colour);
    response.on_hover_text(name)
}

/// What can be done with the leg that is shown.
fn shown_leg(ui: &mut Ui, scene: &Scene<'_>, asks: &mut Vec<Ask>) {
    let id = scene.design.id;
    let field = |caption: &'static str, width: f32| Field {
        id: Id::unique(("design", id.0, caption)),
        caption,
        name: format!("leg, {}", caption.to_lowercase()),
        width,
        hint: "",
    };
    let allowed = |edit: &Edit| scene.project.apply(edit).map(|_| ()).map_err(|error| error.to_string());
    ui.horizontal_top(|ui| {
        let letter = field("Letter", 48.0).text(ui, &scene.design.letter.to_string(), |text| match one_letter(text) {
            Some(letter) => allowed(&Edit::SetLetter { design: id, letter }),
            None => Err("this takes one letter".to_owned()),
        });
        let name = field("Name", 200.0)
            .text(ui, &scene.design.name, |name| allowed(&Edit::RenameDesign { design: id, name: name.to_owned() }));
        if let Some(letter) = letter.as_deref().and_then(one_letter) {
            asks.push(Ask::Edit(Edit::SetLetter { design: id, letter }));
        }
        if let Some(name) = name {
            asks.push(Ask::Edit(Edit::RenameDesign { design: id, name }));
        }
    });
    let t = Tokens::here(ui);
    ui.label(RichText::new("Pieces are called by the letter: A1, A2 …").font(tokens::small()).color(t.soft));
    ui.horizontal(|ui| {
        let place = scene.project.designs.iter().position(|design| design.id == id).unwrap_or(0);
        let last = scene.project.designs.len() - 1;
        for (command, word, can) in [
            (Command::NewLeg, "New leg", true),
            (Command::DuplicateLeg, "Duplicate", true),
            (Command::DeleteLeg, "Delete", last > 0),
            (Command::LegEarlier, "◀", place > 0),
            (Command::LegLater, "▶", place < last),
        ] {
            let button = ui.add_enabled(can, Button::new(word)).on_hover_text(command.tooltip(ui.ctx()));
            let button = if word.len() < 4 { button.accessible_name(command.label()) } else { button };
            if button.clicked() {
                asks.push(Ask::Command(command));
            }
        }
    });
}

fn project_name(ui: &mut Ui, scene: &Scene<'_>, asks: &mut Vec<Ask>) {
    let rename = |name: &str| Edit::RenameProject { name: name.to_owned() };
    let project = Field {
        id: Id::unique("project name"),
        caption: "Name of the project",
        name: "project, name".to_owned(),
        width: 256.0,
        hint: "",
    };
    let allowed = |edit: &Edit| scene.project.apply(edit).map(|_| ()).map_err(|error| error.to_string());
    if let Some(name) = project.text(ui, &scene.project.name, |name| allowed(&rename(name))) {
        asks.push(Ask::Edit(rename(&name)));
    }
}

fn one_letter(text: &str) -> Option<char> {
    let mut letters = text.trim().chars();
    letters.next().filter(|_| letters.next().is_none())
}

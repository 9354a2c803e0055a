//! Which leg of the project is shown, and what can be done with the list.

use cornerwise_project::Edit;
use egui::containers::menu::{MenuButton, MenuConfig};
use egui::{Button, ComboBox, Id, PopupCloseBehavior, Rect, RichText, Ui, UiBuilder, vec2};

use crate::length_field::Field;
use crate::scene::{Ask, Scene};
use crate::tokens::{self, Tokens};
use crate::view::View;

/// Shows the choice in `rect`.
pub fn show(ui: &mut Ui, rect: Rect, scene: &Scene<'_>, view: &mut View, asks: &mut Vec<Ask>) {
    let mut ui = ui.new_child(UiBuilder::new().max_rect(rect.shrink2(vec2(12.0, 4.0))).id_salt("design"));
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        let shown = |design: &cornerwise_project::Design| format!("{}  {}", design.letter, design.name);
        let choice = ComboBox::from_id_salt("leg").width(174.0).truncate().selected_text(shown(scene.design)).show_ui(
            ui,
            |ui| {
                for design in &scene.project.designs {
                    if ui.selectable_label(design.id == scene.design.id, shown(design)).clicked() {
                        view.design = design.id;
                        view.chosen.clear();
                    }
                }
            },
        );
        choice.response.accessible_name("leg");
        // It has fields to type in, so only a click elsewhere closes it.
        let stays = MenuConfig::new().close_behavior(PopupCloseBehavior::CloseOnClickOutside);
        let (menu, _) = MenuButton::new("Edit").config(stays).ui(ui, |ui| edit_menu(ui, scene, asks));
        menu.accessible_name("edit the list of legs");
    });
}

fn edit_menu(ui: &mut Ui, scene: &Scene<'_>, asks: &mut Vec<Ask>) {
    let t = Tokens::here(ui);
    let id = scene.design.id;
    ui.set_min_width(230.0);
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
        let name = field("Name", 170.0)
            .text(ui, &scene.design.name, |name| allowed(&Edit::RenameDesign { design: id, name: name.to_owned() }));
        if let Some(letter) = letter.as_deref().and_then(one_letter) {
            asks.push(Ask::Edit(Edit::SetLetter { design: id, letter }));
        }
        if let Some(name) = name {
            asks.push(Ask::Edit(Edit::RenameDesign { design: id, name }));
        }
    });
    ui.separator();
    if ui.button("Duplicate").clicked() {
        asks.push(Ask::Edit(Edit::DuplicateDesign { design: id }));
        ui.close();
    }
    if ui.button("New leg").clicked() {
        asks.push(Ask::Edit(Edit::AddDesign));
        ui.close();
    }
    if ui.add_enabled(scene.project.designs.len() > 1, Button::new("Delete")).clicked() {
        asks.push(Ask::Edit(Edit::DeleteDesign { design: id }));
        ui.close();
    }
    ui.separator();
    let rename = |name: &str| Edit::RenameProject { name: name.to_owned() };
    let project = Field {
        id: Id::unique("project name"),
        caption: "Name of the project",
        name: "project, name".to_owned(),
        width: 226.0,
        hint: "",
    };
    if let Some(name) = project.text(ui, &scene.project.name, |name| allowed(&rename(name))) {
        asks.push(Ask::Edit(rename(&name)));
    }
    ui.label(RichText::new("Pieces are called by the letter: A1, A2 …").font(tokens::small()).color(t.soft));
}

fn one_letter(text: &str) -> Option<char> {
    let mut letters = text.trim().chars();
    letters.next().filter(|_| letters.next().is_none())
}

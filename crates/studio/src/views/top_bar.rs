//! The bar at the top: places, undo and redo, units, menus.

use cornerwise_geometry::{Finest, Units};
use cornerwise_project::{Edit, History};
use egui::{Align, Button, ComboBox, Layout, RichText, Ui};

use crate::commands::Command;
use crate::scene::Ask;
use crate::tokens::{self, GAP, ROOMY, Tokens};
use crate::view::{Place, View};

/// What the bar shows beside the commands.
pub struct Bar<'a> {
    /// Names of what can be undone and made again, and the units.
    pub history: &'a History,
    /// Titles of the built-in demos.
    pub demos: &'a [String],
    /// The name of the file, where there is one.
    pub file: Option<String>,
}

/// Shows the bar.
pub fn show(ui: &mut Ui, bar: &Bar<'_>, view: &View, asks: &mut Vec<Ask>) {
    ui.add_space(3.0);
    ui.horizontal(|ui| {
        ui.add_space(4.0);
        for (command, place) in [(Command::PlaceShape, Place::Shape), (Command::PlacePaper, Place::Paper)] {
            let text = RichText::new(command.label()).font(tokens::bold());
            let button = Button::selectable(view.place == place, text).min_size(egui::vec2(72.0, 30.0));
            if ui.add(button).on_hover_text(command.tooltip(ui.ctx())).clicked() {
                asks.push(Ask::Command(command));
            }
        }
        ui.add_space(ROOMY);
        let steps = [(Command::Undo, bar.history.undo_label()), (Command::Redo, bar.history.redo_label())];
        for (command, label) in steps {
            let words = label
                .map_or_else(|| command.tooltip(ui.ctx()), |label| format!("{}: {label}", command.tooltip(ui.ctx())));
            let enabled = match command {
                Command::Undo => bar.history.undo_label().is_some(),
                _ => bar.history.redo_label().is_some(),
            };
            if ui.add_enabled(enabled, Button::new(command.label())).on_hover_text(words).clicked() {
                asks.push(Ask::Command(command));
            }
        }
        ui.add_space(ROOMY);
        units(ui, bar.history, asks);
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            ui.add_space(GAP);
            let view_menu = ui.menu_button("View", |ui| view_menu(ui, view, asks));
            view_menu.response.accessible_name("view menu");
            let file_menu = ui.menu_button("File", |ui| file_menu(ui, bar, asks));
            file_menu.response.accessible_name("file menu");
            ui.add_space(ROOMY);
            let t = Tokens::here(ui);
            let saved = if bar.history.is_dirty() { ", not saved" } else { "" };
            let name = &bar.history.current().name;
            let words = match &bar.file {
                Some(file) => format!("{name}, {file}{saved}"),
                None => format!("{name}{saved}"),
            };
            ui.add(egui::Label::new(RichText::new(words).color(t.soft)).truncate());
        });
    });
    ui.add_space(3.0);
}

fn units(ui: &mut Ui, history: &History, asks: &mut Vec<Ask>) {
    let now = history.current().units;
    let all = std::iter::once(Units::Millimetres).chain(Finest::ALL.map(Units::Inches));
    let choice = ComboBox::from_id_salt("units").width(112.0).selected_text(name(now)).show_ui(ui, |ui| {
        for units in all {
            if ui.selectable_label(units == now, name(units)).clicked() && units != now {
                asks.push(Ask::Edit(Edit::SetUnits { units }));
            }
        }
    });
    choice.response.accessible_name("units");
}

/// What units are called.
fn name(units: Units) -> String {
    match units {
        Units::Millimetres => "millimetres".to_owned(),
        Units::Inches(finest) => format!("inches, 1/{}", finest.denominator()),
    }
}

fn item(ui: &mut Ui, command: Command, asks: &mut Vec<Ask>) {
    let keys = command.shortcuts().first().map_or_else(String::new, |keys| ui.ctx().format_shortcut(keys));
    if ui.add(Button::new(command.label()).shortcut_text(keys)).clicked() {
        asks.push(Ask::Command(command));
        ui.close();
    }
}

fn file_menu(ui: &mut Ui, bar: &Bar<'_>, asks: &mut Vec<Ask>) {
    ui.set_min_width(210.0);
    item(ui, Command::New, asks);
    ui.menu_button("New from a demo", |ui| {
        for (number, demo) in bar.demos.iter().enumerate() {
            if ui.button(demo).clicked() {
                asks.push(Ask::Demo(number));
                ui.close();
            }
        }
    });
    for command in [Command::Open, Command::Save, Command::SaveAs] {
        item(ui, command, asks);
    }
    ui.separator();
    item(ui, Command::SavePaper, asks);
    ui.separator();
    item(ui, Command::Quit, asks);
}

fn view_menu(ui: &mut Ui, view: &View, asks: &mut Vec<Ask>) {
    ui.set_min_width(230.0);
    let ticks = [
        (Command::FoldSides, view.sides.open),
        (Command::FoldAlong, view.along.open),
        (Command::StrongWood, view.strong_wood),
    ];
    for (command, on) in ticks {
        let keys = command.shortcuts().first().map_or_else(String::new, |keys| ui.ctx().format_shortcut(keys));
        let t = Tokens::here(ui);
        // Keys are set in the colour of second text, which cannot be read on what is chosen.
        let keys = RichText::new(keys).color(if on { t.on_chosen } else { t.soft });
        if ui.add(Button::selectable(on, command.label()).shortcut_text(keys)).clicked() {
            asks.push(Ask::Command(command));
            ui.close();
        }
    }
    ui.separator();
    let commands = [Command::TrueShape, Command::ZoomWhole, Command::ZoomIn, Command::ZoomOut, Command::LegUpright];
    for command in commands {
        item(ui, command, asks);
    }
    ui.separator();
    ui.label(RichText::new("Light and dark").font(tokens::small()).color(Tokens::here(ui).soft));
    ui.horizontal(|ui| {
        let now = ui.ctx().options(|options| options.theme_preference);
        for (word, theme) in [
            ("As the desktop", egui::ThemePreference::System),
            ("Light", egui::ThemePreference::Light),
            ("Dark", egui::ThemePreference::Dark),
        ] {
            if ui.selectable_label(now == theme, word).clicked() {
                ui.ctx().set_theme(theme);
            }
        }
    });
}

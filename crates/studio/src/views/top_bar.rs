//! The bar at the top: places, undo and redo, units, menus.

use cornerwise_geometry::{Finest, Units};
use cornerwise_project::{Edit, History};
use egui::{Align, Button, ComboBox, Layout, RichText, ScrollArea, Ui};

use crate::commands::{Command, Group, MENUS};
use crate::scene::Ask;
use crate::standing::{is_on, why_not};
use crate::tokens::{self, GAP, ROOMY, Tokens};
use crate::view::{Place, View};
use crate::views::{history_list, recent_menu};

/// What the bar shows beside the commands.
pub struct Bar<'a> {
    /// Names of what can be undone and made again, and the units.
    pub history: &'a History,
    /// Titles of the built-in demos.
    pub demos: &'a [String],
    /// The projects opened or saved last.
    pub recent: &'a [recent_menu::Shown],
    /// The name of the file, where there is one.
    pub file: Option<String>,
    /// Whether the project is a demo that is in no file yet.
    pub demo: bool,
}

/// Shows the bar.
pub fn show(ui: &mut Ui, bar: &Bar<'_>, view: &View, asks: &mut Vec<Ask>) {
    ui.add_space(3.0);
    ui.horizontal(|ui| {
        ui.add_space(4.0);
        for (command, place) in [
            (Command::PlaceShape, Place::Shape),
            (Command::PlaceFit, Place::Fit),
            (Command::PlaceFurniture, Place::Furniture),
            (Command::PlacePaper, Place::Paper),
        ] {
            let text = RichText::new(command.label()).font(tokens::bold());
            let button = Button::selectable(view.place == place, text).min_size(egui::vec2(72.0, 30.0));
            if ui.add(button).on_hover_text(command.tooltip(ui.ctx())).clicked() {
                asks.push(Ask::Command(command));
            }
        }
        ui.add_space(ROOMY);
        let steps = [(Command::Undo, bar.history.undo_label()), (Command::Redo, bar.history.redo_label())];
        for (command, label) in steps {
            let words = format!("{}\n{}", command.tooltip(ui.ctx()), label.unwrap_or_default());
            let why_not = why_not(command, bar.history, view);
            let button = ui.add_enabled(why_not.is_none(), Button::new(command.label()));
            let button = button.on_hover_text(words);
            if button.on_disabled_hover_text(sentence_of(why_not)).clicked() {
                asks.push(Ask::Command(command));
            }
        }
        history_list::show(ui, bar.history, view, asks);
        ui.add_space(ROOMY);
        units(ui, bar.history, asks);
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            ui.add_space(GAP);
            for (name, groups) in MENUS.iter().rev() {
                let menu = ui.menu_button(*name, |ui| menu(ui, bar, view, groups, asks));
                menu.response.accessible_name(format!("{} menu", name.to_lowercase()));
            }
            let find = ui.button("Find").accessible_name("find");
            if find.on_hover_text(Command::FindCommand.tooltip(ui.ctx())).clicked() {
                asks.push(Ask::Command(Command::FindCommand));
            }
            ui.add_space(ROOMY);
            let t = Tokens::here(ui);
            let name = &bar.history.current().name;
            let words = match &bar.file {
                Some(file) => format!("{name}, {file}"),
                None if bar.demo => format!("{name}, a demo"),
                None => name.clone(),
            };
            // A long name is cut short; that it is not saved never is.
            ui.spacing_mut().item_spacing.x = 0.0;
            if bar.history.is_dirty() {
                ui.label(RichText::new(", not saved").color(t.soft));
            }
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
        Units::Inches(finest) if finest.is_decimal() => "inches, decimal".to_owned(),
        Units::Inches(finest) => format!("inches, 1/{}", finest.denominator()),
    }
}

/// Why not, as a tooltip.
pub(super) fn sentence_of(why_not: Option<&str>) -> String {
    why_not.map(|why| format!("Not now: {why}.")).unwrap_or_default()
}

fn menu(ui: &mut Ui, bar: &Bar<'_>, view: &View, groups: &[Group], asks: &mut Vec<Ask>) {
    ui.set_min_width(230.0);
    // In a low window the rest is scrolled to.
    let room = (ui.ctx().content_rect().height() - 60.0).max(120.0);
    ScrollArea::vertical().max_height(room).show(ui, |ui| groups_of(ui, bar, view, groups, asks));
}

fn groups_of(ui: &mut Ui, bar: &Bar<'_>, view: &View, groups: &[Group], asks: &mut Vec<Ask>) {
    for (place, group) in groups.iter().enumerate() {
        if place > 0 {
            ui.separator();
        }
        for command in group.commands() {
            item(ui, bar, view, command, asks);
            if command == Command::New {
                demos(ui, bar.demos, asks);
            }
            if command == Command::Open {
                recent_menu::show(ui, bar.recent, asks);
            }
        }
    }
}

fn item(ui: &mut Ui, bar: &Bar<'_>, view: &View, command: Command, asks: &mut Vec<Ask>) {
    let t = Tokens::here(ui);
    let on = is_on(command, view).unwrap_or(false);
    // Keys are set in the colour of second text, which cannot be read on what is chosen.
    let keys = RichText::new(command.keys_in_words(ui.ctx())).color(if on { t.on_chosen } else { t.soft });
    let why_not = why_not(command, bar.history, view);
    let button = ui.add_enabled(why_not.is_none(), Button::selectable(on, command.label()).shortcut_text(keys));
    let button = button.on_hover_text(command.does()).on_disabled_hover_text(sentence_of(why_not));
    if button.clicked() {
        asks.push(Ask::Command(command));
        ui.close();
    }
}

fn demos(ui: &mut Ui, demos: &[String], asks: &mut Vec<Ask>) {
    ui.menu_button("New from a demo", |ui| {
        for (number, demo) in demos.iter().enumerate() {
            if ui.button(demo).clicked() {
                asks.push(Ask::Demo(number));
                ui.close();
            }
        }
    });
}

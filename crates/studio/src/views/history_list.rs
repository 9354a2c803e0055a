//! Every change by its name, oldest first; a click goes there. Those taken back stand below, until a new one takes their
//! place.

use cornerwise_project::History;
use egui::{Button, Id, Popup, PopupCloseBehavior, RichText, ScrollArea, Ui};

use crate::commands::Command;
use crate::scene::Ask;
use crate::standing::why_not;
use crate::tokens::{self, Tokens};
use crate::view::View;
use crate::views::top_bar::sentence_of;

/// The list, for the command that opens it.
pub fn popup() -> Id {
    Id::unique("history list")
}

/// Shows the button, and the list where it is open. It stays open, so that several steps can be looked at.
pub fn show(ui: &mut Ui, history: &History, view: &View, asks: &mut Vec<Ask>) {
    let why_not = why_not(Command::ShowHistory, history, view);
    let button = ui.add_enabled(why_not.is_none(), Button::new("History")).accessible_name("history");
    let button = button.on_hover_text(Command::ShowHistory.tooltip(ui.ctx()));
    let button = button.on_disabled_hover_text(sentence_of(why_not));
    let opened = Popup::menu(&button).id(popup()).close_behavior(PopupCloseBehavior::CloseOnClickOutside);
    let fresh = Id::unique("history list is open");
    let open = opened.show(|ui| list(ui, history, ui.data(|data| data.get_temp(fresh)) != Some(true), asks)).is_some();
    ui.data_mut(|data| data.insert_temp(fresh, open));
}

fn list(ui: &mut Ui, history: &History, fresh: bool, asks: &mut Vec<Ask>) {
    let t = Tokens::here(ui);
    ui.set_min_width(300.0);
    ui.label(RichText::new("Click a step to go there.").font(tokens::small()).color(t.soft));
    ScrollArea::vertical().max_height(420.0).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 1.0;
        let now = history.step();
        for (step, label) in std::iter::once((0, "Where the list begins")).chain(history.changes()) {
            let words = RichText::new(label);
            let words = if step > now { words.color(t.soft).italics() } else { words };
            let row = ui.add(Button::selectable(step == now, words).min_size(egui::vec2(290.0, 24.0)));
            let row = row.accessible_name(match step {
                _ if step == now => format!("step {step}: {label}, now"),
                _ if step > now => format!("step {step}: {label}, taken back"),
                _ => format!("step {step}: {label}"),
            });
            if fresh && step == now {
                row.scroll_to_me(Some(egui::Align::Center));
                row.request_focus();
            }
            if row.clicked() && step != now {
                asks.push(Ask::GoTo(step));
            }
        }
    });
}

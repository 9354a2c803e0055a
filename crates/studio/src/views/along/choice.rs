//! Which graphs are shown, chosen on the bar of their row; and the way to their table.

use cornerwise_geometry::Along;
use egui::containers::menu::{MenuButton, MenuConfig};
use egui::{Align, Button, Layout, PopupCloseBehavior, Rect, RichText, Ui, UiBuilder, vec2};

use crate::commands::Command;
use crate::scene::Ask;
use crate::tokens;
use crate::view::View;

/// Shows the choice at the right end of the bar.
pub fn show(ui: &mut Ui, bar: Rect, view: &mut View, asks: &mut Vec<Ask>) {
    let rect = Rect::from_min_max(bar.right_top() + vec2(-260.0, 4.0), bar.max - vec2(8.0, 3.0));
    let mut ui =
        ui.new_child(UiBuilder::new().max_rect(rect).id_salt("graphs").layout(Layout::right_to_left(Align::Center)));
    ui.spacing_mut().button_padding = vec2(6.0, 0.0);
    ui.spacing_mut().interact_size.y = 20.0;
    let small = |words: &str| RichText::new(words.to_owned()).font(tokens::small());
    let save = ui.add(Button::new(small(Command::SaveGraphs.label())));
    if save.on_hover_text(Command::SaveGraphs.tooltip(ui.ctx())).clicked() {
        asks.push(Ask::Command(Command::SaveGraphs));
    }
    let stays = MenuConfig::new().close_behavior(PopupCloseBehavior::CloseOnClickOutside);
    let (button, _) = MenuButton::from_button(Button::new(small("Graphs"))).config(stays).ui(&mut ui, |ui| {
        ui.set_min_width(150.0);
        for along in Along::ALL {
            let mut on = view.graphs.contains(&along);
            if ui.checkbox(&mut on, along.name()).clicked() {
                view.graphs.retain(|one| *one != along);
                if on {
                    view.graphs.push(along);
                    // Always in one order, so that a graph is found where it was.
                    view.graphs.sort();
                }
            }
        }
    });
    button.accessible_name("graphs menu").on_hover_text("Which graphs are shown");
}

//! Which leg stands in each place, its inside piece and its hand; and what the hands make together.

use cornerwise_geometry::Piece;
use cornerwise_geometry::furniture::Arrangement;
use cornerwise_project::{Edit, FurniturePart, Hand, PlacedLeg, Standing};
use egui::{Button, ComboBox, Ui, vec2};

use super::super::fit::told;
use super::super::head::heading;
use super::Made;
use crate::commands::Command;
use crate::scene::Ask;
use crate::view::{Place, View};

fn stand(place: usize, standing: Standing) -> Ask {
    Ask::Edit(Edit::SetFurniture { part: FurniturePart::Leg { place, standing } })
}

pub(super) fn show(ui: &mut Ui, made: &Made<'_>, view: &mut View, asks: &mut Vec<Ask>) {
    heading(ui, "Places");
    for (place, placed) in made.assembly.legs.iter().enumerate() {
        line(ui, place, placed, view);
        if view.furniture.place == Some(place) {
            chosen(ui, made, place, placed, view, asks);
        }
    }
    hands(ui, made, asks);
}

/// Chooses a place, and shows its design everywhere else.
pub(super) fn choose(view: &mut View, place: usize, placed: &PlacedLeg) {
    view.furniture.place = Some(place);
    if view.design != placed.design.id {
        view.design = placed.design.id;
        view.chosen.clear();
    }
}

fn line(ui: &mut Ui, place: usize, placed: &PlacedLeg, view: &mut View) {
    let chosen = view.furniture.place == Some(place);
    let words = format!("{}   leg {}, {} inside", place + 1, placed.label(), placed.piece(placed.fit.inside));
    let button = Button::selectable(chosen, words).truncate().min_size(vec2(ui.available_width(), 24.0));
    let response = ui.add(button).accessible_name(format!("place {}, leg {}", place + 1, placed.label()));
    if response.on_hover_text(&placed.design.name).clicked() {
        if chosen {
            view.furniture.place = None;
        } else {
            choose(view, place, placed);
        }
    }
}

fn chosen(ui: &mut Ui, made: &Made<'_>, place: usize, placed: &PlacedLeg, view: &mut View, asks: &mut Vec<Ask>) {
    let now = placed.standing();
    let project = made.scene.project;
    if project.designs.len() > 1 {
        let name = |design: &cornerwise_project::Design| format!("{}  {}", design.letter, design.name);
        let width = ui.available_width() - 2.0;
        let choice =
            ComboBox::from_id_salt(("design in place", place)).width(width).selected_text(name(&placed.design));
        let choice = choice.truncate().show_ui(ui, |ui| {
            for design in &project.designs {
                let same = design.id == placed.design.id;
                if ui.selectable_label(same, name(design)).clicked() && !same {
                    // Another design has its own inside piece.
                    asks.push(stand(place, Standing { design: design.id, inside: None, hand: now.hand }));
                    view.design = design.id;
                    view.chosen.clear();
                }
            }
        });
        choice.response.accessible_name(format!("place {}, design", place + 1));
    }
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        for piece in Piece::ALL {
            // Numbered as they are on the wood; a project counts a mirrored leg's as its design draws them.
            let inside = placed.fit.inside == piece;
            let as_drawn = if now.hand == Hand::Mirrored { piece.mirrored() } else { piece };
            let button = Button::selectable(inside, piece.number().to_string()).min_size(vec2(30.0, 24.0));
            let hint = format!("{} inside, in this place only", placed.piece(piece));
            let response = ui.add(button).on_hover_text(hint);
            if response.accessible_name(format!("place {}, {piece} inside", place + 1)).clicked() && !inside {
                asks.push(stand(place, Standing { inside: Some(as_drawn), ..now }));
            }
        }
        let word = match now.hand {
            Hand::Drawn => "As drawn",
            Hand::Mirrored => "Mirrored",
        };
        let button = Button::selectable(now.hand == Hand::Mirrored, word);
        let response = ui.add(button).on_hover_text(Command::SwapHand.tooltip(ui.ctx()));
        if response.accessible_name(format!("place {}, hand: {}", place + 1, word.to_lowercase())).clicked() {
            asks.push(Ask::Command(Command::SwapHand));
        }
    });
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        for (word, to) in [("Shape it", Place::Shape), ("Fit it", Place::Fit)] {
            let letter = placed.design.letter;
            let hint = format!("Go there with leg {letter}: all places that have it follow");
            if ui.button(word).on_hover_text(hint).clicked() {
                let command = if to == Place::Shape { Command::PlaceShape } else { Command::PlaceFit };
                asks.push(Ask::Command(command));
            }
        }
    });
}

/// What the hands make together, and legs for either hand.
fn hands(ui: &mut Ui, made: &Made<'_>, asks: &mut Vec<Ask>) {
    let Some(words) = made.assembly.hands_in_words() else { return };
    told(ui, words);
    if !matches!(made.assembly.furniture.arrangement, Arrangement::Rectangle { .. }) {
        return;
    }
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        for (command, word) in [(Command::LeftAndRight, "Left and right legs"), (Command::AllAlike, "All alike")] {
            if ui.button(word).on_hover_text(command.tooltip(ui.ctx())).clicked() {
                asks.push(Ask::Command(command));
            }
        }
    });
}

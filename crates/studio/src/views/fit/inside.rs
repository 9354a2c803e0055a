//! Which piece faces the middle.

use cornerwise_geometry::Piece;
use cornerwise_geometry::fit::{Mirror, Stance, mirror};
use cornerwise_project::{Edit, FitPart};
use egui::{Button, Ui, vec2};

use super::super::head::heading;
use super::told;
use crate::scene::{Ask, Scene};

/// The edit that turns a piece inside.
pub(super) fn turned(scene: &Scene<'_>, piece: Piece) -> Edit {
    Edit::SetFit { design: scene.design.id, part: FitPart::Inside(piece) }
}

/// Asks for a piece to be turned inside, unless it is already.
pub(super) fn ask(scene: &Scene<'_>, piece: Piece, asks: &mut Vec<Ask>) {
    if scene.design.fit.inside != piece {
        asks.push(Ask::Edit(turned(scene, piece)));
    }
}

pub(super) fn show(ui: &mut Ui, scene: &Scene<'_>, asks: &mut Vec<Ask>) {
    heading(ui, "Inside piece");
    let inside = scene.design.fit.inside;
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        for piece in Piece::ALL {
            let button = Button::selectable(piece == inside, piece.number().to_string()).min_size(vec2(36.0, 24.0));
            let response =
                ui.add(button).on_hover_text("The piece that faces the middle and is crosscut for notches (I)");
            if response.accessible_name(format!("{piece} inside")).clicked() {
                ask(scene, piece, asks);
            }
        }
    });
    let stance = Stance::of(scene.leg, inside);
    told(ui, format!("Seen from outside: {}.", stance.name()));
    told(
        ui,
        match mirror(scene.leg, inside) {
            Mirror::Itself => "It is its own mirror: left and right are the same leg.".to_owned(),
            Mirror::WithInside(piece) => format!("Its mirror is the same leg with {piece} inside."),
            Mirror::OtherHand => "Its mirror needs a template of its own: left and right differ.".to_owned(),
        },
    );
}

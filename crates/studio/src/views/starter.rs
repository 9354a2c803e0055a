//! What a leg begins with: the size of its blank and a starting shape, with the leg in sight all the while.

use cornerwise_geometry::{Finest, Line, ShapeKind, Units};
use cornerwise_project::Edit;
use egui::{Button, RichText, Ui, vec2};

use super::head::{blank, gallery};
use crate::scene::{Ask, Scene};
use crate::tokens::{GAP, Tokens};

/// Shows the panel; the answer is whether it is done with.
pub fn show(ui: &mut Ui, scene: &Scene<'_>, asks: &mut Vec<Ask>) -> bool {
    let t = Tokens::here(ui);
    let words = "Say how large the blank is, and pick a shape to begin with. All of it can be changed while you draw.";
    ui.set_width(gallery::WIDTH);
    ui.label(RichText::new(words).color(t.soft));
    ui.add_space(GAP);
    ui.horizontal(|ui| {
        let inches = matches!(scene.units(), Units::Inches(_));
        for (word, units) in [("Millimetres", Units::Millimetres), ("Inches", Units::Inches(Finest::Sixteenth))] {
            let now = inches == matches!(units, Units::Inches(_));
            if ui.selectable_label(now, word).clicked() && !now {
                asks.push(Ask::Edit(Edit::SetUnits { units }));
            }
        }
    });
    blank::sizes(ui, scene, "new leg", asks);
    ui.add_space(GAP);
    let now = ShapeKind::ALL
        .into_iter()
        .find(|kind| [&scene.design.first, &scene.design.second].map(shape_of) == [Some(*kind); 2]);
    if let Some(kind) = gallery::show(ui, scene, None, now) {
        asks.push(Ask::Edit(Edit::StartFrom { design: scene.design.id, kind }));
    }
    ui.add_space(GAP);
    ui.add(Button::new("Draw on").min_size(vec2(110.0, 28.0))).on_hover_text("Close this panel").clicked()
}

/// The starting shape that a line still is.
pub(super) fn shape_of(line: &Line) -> Option<ShapeKind> {
    match line {
        Line::Shape(shape) => Some(shape.kind()),
        _ => None,
    }
}

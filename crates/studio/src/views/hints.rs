//! Three hints, at the first start and never again.

use egui::{Frame, Margin, Panel, RichText, Ui};

use crate::scene::Ask;
use crate::tokens::{self, Tokens};

/// What they say.
pub const HINTS: [&str; 3] = [
    "Drag a round point of a saw line: the leg follows.",
    "The slider below the leg takes it back to its blank.",
    "Paper, at the top, is what goes on the blank at true size.",
];

/// Shows them below the bar.
pub fn show(ui: &mut Ui, asks: &mut Vec<Ask>) {
    let t = Tokens::here(ui);
    let frame = Frame::new().fill(t.raised).inner_margin(Margin::symmetric(12, 6));
    Panel::top("hints").resizable(false).frame(frame).show(ui, |ui| {
        ui.horizontal_wrapped(|ui| {
            for (number, hint) in HINTS.iter().enumerate() {
                ui.label(RichText::new(format!("{}", number + 1)).font(tokens::bold()).color(t.ink));
                ui.label(RichText::new(*hint).color(t.ink));
                ui.add_space(tokens::GAP);
            }
            if ui.button("Got it").on_hover_text("These hints do not come back (Esc)").clicked() {
                asks.push(Ask::CloseHints);
            }
        });
    });
}

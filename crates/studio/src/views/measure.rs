//! Measuring the screen once, with a bank card or a ruler, so that a leg can be shown at its true size.

use cornerwise_geometry::{Length, Units};
use egui::{Button, Id, RichText, Sense, Slider, Stroke, StrokeKind, Ui, pos2, vec2};

use crate::commands::Command;
use crate::keep::preferences::SCREENS;
use crate::length_field::Field;
use crate::scene::Ask;
use crate::tokens::{self, GAP, Tokens};
use crate::view::View;

/// A bank card, mm: ISO/IEC 7810, format ID-1.
pub const CARD_MM: [f64; 2] = [85.60, 53.98];
/// Pixels to a millimetre where nothing is known: 96 to the inch.
const USUAL_PX_PER_MM: f64 = 96.0 / 25.4;
/// How wide the card may be drawn, points.
const CARD_PX: [f64; 2] = [100.0, 900.0];

/// Shows the panel; the answer is whether it is done with.
pub fn show(ui: &mut Ui, view: &mut View, units: Units, asks: &mut Vec<Ask>) -> bool {
    let t = Tokens::here(ui);
    let pixels = f64::from(ui.ctx().pixels_per_point());
    let kept = Id::unique("screen, px per mm");
    let known = ui.data(|data| data.get_temp::<f64>(kept)).or(view.screen_px_per_mm);
    // In points while it is shown; kept in pixels, which no size of text changes.
    let mut card_px = known.unwrap_or(USUAL_PX_PER_MM * pixels) / pixels * CARD_MM[0];
    card_px = card_px.clamp(CARD_PX[0], CARD_PX[1]);
    ui.set_width((card_px as f32 + 24.0).max(380.0));
    ui.label("Lay a bank card on the one below and move the slider until both are as wide.");
    ui.add_space(GAP);
    let size = vec2(card_px as f32, (card_px * CARD_MM[1] / CARD_MM[0]) as f32);
    let (rect, card) = ui.allocate_exact_size(size, Sense::hover());
    card.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, "a bank card, 85.6 by 53.98 mm"));
    ui.painter().rect(rect, 8.0, t.sheet, Stroke::new(1.5, t.ink), StrokeKind::Inside);
    let words = "85.6 mm, as every bank card is (ISO/IEC 7810, ID-1)";
    let galley = ui.painter().layout(words.to_owned(), tokens::small(), t.soft, size.x - 24.0);
    ui.painter().galley(pos2(rect.left() + 12.0, rect.center().y - galley.size().y / 2.0), galley, t.soft);
    ui.spacing_mut().slider_width = size.x - 4.0;
    let slider = Slider::new(&mut card_px, CARD_PX[0]..=CARD_PX[1]).show_value(false).step_by(0.5);
    ui.add(slider).accessible_name("width of the card");
    ui.add_space(GAP);
    ui.label("Or measure the width of the drawn card with a ruler, and type it.");
    let field = Field {
        id: Id::unique("card measured"),
        caption: "It measures",
        name: "the drawn card measures".to_owned(),
        width: 110.0,
        hint: "",
    };
    let check = |length: &Length| {
        let px_per_mm = card_px * pixels / length.mm();
        if length.mm() > 0.0 && (SCREENS[0]..=SCREENS[1]).contains(&px_per_mm) {
            Ok(())
        } else {
            Err(format!(
                "no screen is like that: the card is drawn between {} and {} wide",
                units.show_with_unit(card_px * pixels / SCREENS[1]),
                units.show_with_unit(card_px * pixels / SCREENS[0])
            ))
        }
    };
    if let Some(measured) = field.length(ui, &Length::from_mm(CARD_MM[0]), units, check) {
        card_px *= CARD_MM[0] / measured.mm();
    }
    let px_per_mm = card_px * pixels / CARD_MM[0];
    ui.data_mut(|data| data.insert_temp(kept, px_per_mm));
    ui.add_space(GAP);
    let words = format!("{px_per_mm:.2} pixels to a millimetre. It is kept for this computer.");
    ui.label(RichText::new(words).font(tokens::small()).color(t.soft));
    let mut done = false;
    ui.horizontal(|ui| {
        if ui.add(Button::new("Show true size").min_size(vec2(120.0, 26.0))).clicked() {
            view.screen_px_per_mm = Some(px_per_mm);
            asks.push(Ask::Command(Command::TrueSize));
            done = true;
        }
        done |= ui.button("Cancel").clicked();
    });
    if done {
        ui.data_mut(|data| data.remove::<f64>(kept));
    }
    done
}

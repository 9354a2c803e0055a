//! A mock-up: the leg in proportion for a scrap blank.

use cornerwise_geometry::Length;
use cornerwise_project::Edit;
use egui::{Button, Id, RichText, Ui};

use super::head::{allowed, row};
use crate::length_field::{Field, plain};
use crate::scene::{Ask, Scene};
use crate::tokens::{self, Tokens};

/// Half as large, as long as nothing else was typed.
const FACTOR: f64 = 0.5;

/// Shows what it is made by.
pub fn show(ui: &mut Ui, scene: &Scene<'_>, asks: &mut Vec<Ask>) {
    let t = Tokens::here(ui);
    let design = scene.design.id;
    let kept = Id::unique(("mock-up factor", design.0));
    let now = ui.data(|data| data.get_temp::<f64>(kept)).unwrap_or(FACTOR);
    ui.set_width(250.0);
    let small = |ui: &mut Ui, words: &str| ui.label(RichText::new(words).font(tokens::small()).color(t.soft));
    small(ui, "A leg of its own, everything in proportion: type its width, its length or its scale.");
    let check = |factor: f64| allowed(scene, &Edit::AddMockUp { design, factor });
    let field = |caption: &'static str| Field {
        id: Id::unique(("mock-up", design.0, caption)),
        caption,
        name: format!("mock-up, {}", caption.to_lowercase()),
        width: 78.0,
        hint: if caption == "Scale" { "1:2, or 0.5" } else { "" },
    };
    let mut factor = now;
    row(ui, |ui| {
        for (caption, full_mm) in [("Width", scene.leg.width_mm), ("Length", scene.leg.length_mm)] {
            let shown = Length::from_mm(full_mm * now);
            let taken = field(caption).length(ui, &shown, scene.reading(), |length| check(length.mm() / full_mm));
            factor = taken.map_or(factor, |length| length.mm() / full_mm);
        }
        factor = field("Scale").number(ui, now, "", check).unwrap_or(factor);
    });
    ui.data_mut(|data| data.insert_temp(kept, factor));
    let units = scene.units();
    let size = [scene.leg.width_mm, scene.leg.depth_mm, scene.leg.length_mm].map(|mm| units.show(mm * now));
    small(ui, &format!("{} by {} by {}, {} times as large.", size[0], size[1], size[2], plain(now)));
    small(ui, "Saw and blade stay as they are: what they allow is told for the small size.");
    let edit = Edit::AddMockUp { design, factor: now };
    let why_not = allowed(scene, &edit);
    let button = ui.add_enabled(why_not.is_ok(), Button::new("Make the mock-up"));
    if button.on_disabled_hover_text(why_not.err().unwrap_or_default()).clicked() {
        asks.push(Ask::Edit(edit));
    }
}

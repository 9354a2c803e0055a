//! A blank that is not quite square or parallel, as it was measured.

use cornerwise_geometry::{Blank, Length, OutOfTrue};
use cornerwise_project::Edit;
use egui::{CollapsingHeader, Id, RichText, Ui};

use crate::length_field::Field;
use crate::scene::{Ask, Scene};
use crate::tokens::{self, Tokens};

/// Shows what was measured, folded until it is wanted.
pub fn show(ui: &mut Ui, scene: &Scene<'_>, asks: &mut Vec<Ask>) {
    let now = &scene.design.blank.out_of_true;
    let heading = if now.is_true() { "Blank as measured" } else { "Blank as measured, out of true" };
    CollapsingHeader::new(RichText::new(heading).font(tokens::bold())).id_salt("blank as measured").show_unindented(ui, |ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        let t = Tokens::here(ui);
        let design = scene.design.id;
        let with = |out_of_true: OutOfTrue| Blank { out_of_true, ..scene.design.blank.clone() };
        let check = |out: OutOfTrue| with(out).check().map_err(|error| error.to_string());
        let width = (ui.available_width().min(216.0) - 12.0) / 3.0;
        let field = |caption: &'static str, hint: &'static str| Field {
            id: Id::unique(("out of true", design.0, caption)),
            caption,
            name: format!("blank, {}", caption.to_lowercase()),
            width,
            hint,
        };
        let mut next = now.clone();
        ui.horizontal_top(|ui| {
            let corner = field("Corner", "How much the corner at arris 2, between faces 1 and 2, is more than 90 degrees");
            let put = |corner_deg: f64| OutOfTrue { corner_deg, ..now.clone() };
            if let Some(corner_deg) = corner.number(ui, now.corner_deg, "°", |deg| check(put(deg))) {
                next.corner_deg = corner_deg;
            }
            let put = |taper: &Length| OutOfTrue { taper_width: taper.clone(), ..now.clone() };
            let taper = field("Taper, 1", "How much narrower face 1 is at the foot than at the top");
            if let Some(mm) = taper.length(ui, &now.taper_width, scene.units(), |mm| check(put(mm))) {
                next.taper_width = mm;
            }
            let put = |taper: &Length| OutOfTrue { taper_depth: taper.clone(), ..now.clone() };
            let taper = field("Taper, 2", "How much narrower face 2 is at the foot than at the top");
            if let Some(mm) = taper.length(ui, &now.taper_depth, scene.units(), |mm| check(put(mm))) {
                next.taper_depth = mm;
            }
        });
        let words = "0 where the blank is true. A leaning blank still closes when its pieces are rotated; its notches are not \
                     square, and a blade square to the table steps at its seams.";
        ui.label(RichText::new(words).font(tokens::small()).color(t.soft));
        if next != *now {
            asks.push(Ask::Edit(Edit::SetBlank { design, blank: with(next) }));
        }
    });
}

//! The load a leg is judged by, asked for only when the maker opens it.

use cornerwise_geometry::Load;
use cornerwise_project::Edit;
use egui::{Button, CollapsingHeader, Id, RichText, Ui};

use crate::derive::Derived;
use crate::length_field::Field;
use crate::scene::{Ask, Scene};
use crate::tokens::{self, Tokens};

/// Shows the load, or the way to tell one.
pub fn show(ui: &mut Ui, scene: &Scene<'_>, derived: &mut Derived, asks: &mut Vec<Ask>) {
    let design = scene.design.id;
    let Some(load) = scene.design.load else {
        let button = ui.add(Button::new("Tell a load"));
        if button.on_hover_text("Compare what shapes bear. It certifies nothing").clicked() {
            asks.push(Ask::Edit(Edit::SetLoad { design, load: Some(Load::default()) }));
        }
        return;
    };
    CollapsingHeader::new(RichText::new("Load").font(tokens::bold())).id_salt("load").default_open(true).show(ui, |ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        let mut next = load;
        type Slot = fn(&mut Load) -> &mut f64;
        let rows: [[(&str, &str, &'static str, Slot); 2]; 2] = [
            [
                ("Down", " N", "On the top", |load| &mut load.down_n),
                ("Push", " N", "Sideways, whichever way is worst", |load| &mut load.push_n),
            ],
            [
                ("Safety", "", "What loads are multiplied by", |load| &mut load.safety),
                ("Duration", "", "Share of the strength that is left under a lasting load", |load| &mut load.duration),
            ],
        ];
        for row in rows {
            ui.horizontal_top(|ui| {
                for (caption, unit, hint, slot) in row {
                    let field = Field {
                        id: Id::unique(("load", design.0, caption)),
                        caption,
                        name: format!("load, {}", caption.to_lowercase()),
                        width: (ui.available_width().min(216.0) - 6.0) / 2.0,
                        hint,
                    };
                    let check = |value: f64| {
                        let mut tried = load;
                        *slot(&mut tried) = value;
                        tried.check().map_err(|error| error.to_string())
                    };
                    let value = *slot(&mut next);
                    if let Some(value) = field.number(ui, value, unit, check) {
                        *slot(&mut next) = value;
                    }
                }
            });
        }
        if next != load {
            asks.push(Ask::Edit(Edit::SetLoad { design, load: Some(next) }));
        }
        let t = Tokens::here(ui);
        let survey = derived.survey(scene);
        if let Some((_, result)) = survey.load() {
            let at = scene.units().show_with_unit(result.worst_mm);
            let words = format!(
                "Bears {:.0} N down by the model, least {at} from the top; slenderness {:.0}. A crooked column with \
                 published strengths of clear wood: it compares shapes and certifies nothing. Licensed practice and local \
                 rules decide.",
                result.bears_n, result.slenderness
            );
            ui.label(RichText::new(words).font(tokens::small()).color(t.soft));
        }
        if ui.button("Take the load away").clicked() {
            asks.push(Ask::Edit(Edit::SetLoad { design, load: None }));
        }
    });
}

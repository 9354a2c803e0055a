//! The saw, asked for only when the maker opens it.

use cornerwise_geometry::{Between, Length, Saw, SawKind};
use cornerwise_project::{Edit, blades};
use egui::{Button, CollapsingHeader, ComboBox, Id, RichText, Ui};

use crate::length_field::Field;
use crate::scene::{Ask, Scene};
use crate::tokens::{self, Tokens};

/// Shows the saw, or the way to tell it.
pub fn show(ui: &mut Ui, scene: &Scene<'_>, asks: &mut Vec<Ask>) {
    let Some(saw) = &scene.project.saw else {
        let button = ui.add(Button::new("Tell the saw"));
        if button.on_hover_text("See what its blade, table and kerf will really give").clicked() {
            asks.push(edit(Some(Saw::default())));
        }
        return;
    };
    CollapsingHeader::new(RichText::new("Saw").font(tokens::bold())).id_salt("saw").default_open(true).show(ui, |ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        if let Some(changed) = fields(ui, scene, saw) {
            asks.push(edit(Some(changed)));
        }
        let t = Tokens::here(ui);
        let radius = scene.units().show_with_unit(saw.blade.least_radius_mm());
        let published = match &saw.blade.published_radius {
            Some([least, most]) if least.mm() == most.mm() => {
                format!("; published {}", scene.units().show_length(least))
            }
            Some([least, most]) => {
                format!("; published {} to {}", scene.units().show_length(least), scene.units().show_length(most))
            }
            None => String::new(),
        };
        ui.label(
            RichText::new(format!("Goes round {radius} (derived){published}")).font(tokens::small()).color(t.soft),
        );
        if ui.button("Put the saw away").clicked() {
            asks.push(edit(None));
        }
    });
}

fn edit(saw: Option<Saw>) -> Ask {
    Ask::Edit(Edit::SetSaw { saw: saw.map(Box::new) })
}

/// The fields of the saw; the saw with what was changed.
fn fields(ui: &mut Ui, scene: &Scene<'_>, saw: &Saw) -> Option<Saw> {
    let mut next = saw.clone();
    let kinds = ComboBox::from_id_salt("kind of saw").width(96.0).selected_text(saw.kind.name()).show_ui(ui, |ui| {
        for kind in SawKind::ALL {
            ui.selectable_value(&mut next.kind, kind, kind.name());
        }
    });
    kinds.response.accessible_name("saw, kind");
    let now = blades().iter().find(|row| row.blade().width == saw.blade.width).map_or("own blade", |row| &row.name);
    let blade = ComboBox::from_id_salt("blade").width(96.0).selected_text(now).show_ui(ui, |ui| {
        for row in blades() {
            if ui
                .selectable_label(row.name == now, &row.name)
                .on_hover_text("A body and kerf to start from: measure yours")
                .clicked()
            {
                next.blade = row.blade();
            }
        }
    });
    blade.response.accessible_name("saw, blade");
    // A drag or a choice in a list comes in whole; fields are one change each.
    let mut length = |ui: &mut Ui, caption: &'static str, hint: &'static str, put: &dyn Fn(&mut Saw) -> &mut Length| {
        let field = Field {
            id: Id::unique(("saw", caption)),
            caption,
            name: format!("saw, {}", caption.to_lowercase()),
            width: (ui.available_width().min(216.0) - 6.0) / 2.0,
            hint,
        };
        let value = put(&mut next).clone();
        let check = |length: &Length| {
            let mut tried = saw.clone();
            *put(&mut tried) = length.clone();
            tried.check().map_err(|error| error.to_string())
        };
        if let Some(typed) = field.length(ui, &value, scene.units(), check) {
            *put(&mut next) = typed;
        }
    };
    ui.horizontal_top(|ui| {
        length(ui, "Width", "From the tips of the teeth to the back", &|saw| &mut saw.blade.width);
        length(ui, "Kerf", "Rip a piece of known width in two: what both parts lack is the kerf", &|saw| {
            &mut saw.blade.kerf
        });
    });
    ui.horizontal_top(|ui| {
        length(ui, "Body", "Thickness of the blade without its set", &|saw| &mut saw.blade.thickness);
        length(ui, "Sanding", "Taken off every sawn surface", &|saw| &mut saw.sanding);
    });
    ui.horizontal_top(|ui| {
        length(ui, "Height", "The most under the guides", &|saw| &mut saw.height);
        length(ui, "Throat", "From the blade to the column", &|saw| &mut saw.throat);
    });
    let tilt = "Cut a block through, turn one half over, measure the gap: the error is atan(gap / twice the height)";
    ui.horizontal_top(|ui| {
        for (caption, at) in [("Tilt, cut 1", 0), ("Tilt, cut 2", 1)] {
            let field = Field {
                id: Id::unique(("saw", caption)),
                caption,
                name: format!("saw, {}", caption.to_lowercase()),
                width: (ui.available_width().min(216.0) - 6.0) / 2.0,
                hint: tilt,
            };
            let of = |saw: &mut Saw, deg: Option<f64>| -> f64 {
                let slot = if at == 0 { &mut saw.tilt_first_deg } else { &mut saw.tilt_second_deg };
                if let Some(deg) = deg {
                    *slot = deg;
                }
                *slot
            };
            let value = of(&mut next, None);
            let check = |deg: f64| {
                let mut tried = saw.clone();
                of(&mut tried, Some(deg));
                tried.check().map_err(|error| error.to_string())
            };
            if let Some(deg) = field.number(ui, value, "°", check) {
                of(&mut next, Some(deg));
            }
        }
    });
    let mut length =
        |ui: &mut Ui, caption: &'static str, hint: &'static str, value: &Length, put: &dyn Fn(&mut Saw, Length)| {
            let field = Field {
                id: Id::unique(("saw", caption)),
                caption,
                name: format!("saw, {}", caption.to_lowercase()),
                width: (ui.available_width().min(216.0) - 6.0) / 2.0,
                hint,
            };
            let check = |length: &Length| {
                let mut tried = saw.clone();
                put(&mut tried, length.clone());
                tried.check().map_err(|error| error.to_string())
            };
            if let Some(typed) = field.length(ui, value, scene.units(), check) {
                put(&mut next, typed);
            }
        };
    ui.horizontal_top(|ui| {
        let shim = match &saw.between {
            Between::ClosedUp => Length::ZERO,
            Between::Packed(shim) => shim.clone(),
        };
        let packed = |saw: &mut Saw, shim: Length| {
            saw.between = if shim.mm() == 0.0 { Between::ClosedUp } else { Between::Packed(shim) };
        };
        length(ui, "Shim", "Between the halves in the second cut; 0 where they are closed up", &shim, &packed);
        let slip = |saw: &mut Saw, slip: Length| saw.slip = slip;
        length(ui, "Slip", "How far the half without face 2 slipped toward the foot", &saw.slip, &slip);
    });
    (next != *saw).then_some(next)
}

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
    let sound = |put: &dyn Fn(&mut Saw)| {
        let mut tried = saw.clone();
        put(&mut tried);
        tried.check().map_err(|error| error.to_string())
    };
    let mut length =
        |ui: &mut Ui, caption: &'static str, hint: &'static str, value: &Length, put: &dyn Fn(&mut Saw, Length)| {
            let check = |length: &Length| sound(&|saw| put(saw, length.clone()));
            if let Some(typed) = field(ui, caption, hint).shared_length(ui, value, scene.reading(), check) {
                put(&mut next, typed);
            }
        };
    ui.horizontal_top(|ui| {
        let tips = "From the tips of the teeth to the back";
        length(ui, "Width", tips, &saw.blade.width, &|saw, to| saw.blade.width = to);
        let rip = "Rip a piece of known width in two: what both parts lack is the kerf";
        length(ui, "Kerf", rip, &saw.blade.kerf, &|saw, to| saw.blade.kerf = to);
    });
    ui.horizontal_top(|ui| {
        let body = "Thickness of the blade without its set";
        length(ui, "Body", body, &saw.blade.thickness, &|saw, to| saw.blade.thickness = to);
        length(ui, "Sanding", "Taken off every sawn surface", &saw.sanding, &|saw, to| saw.sanding = to);
    });
    ui.horizontal_top(|ui| {
        length(ui, "Height", "The most under the guides", &saw.height, &|saw, to| saw.height = to);
        length(ui, "Throat", "From the blade to the column", &saw.throat, &|saw, to| saw.throat = to);
    });
    let tilt = "Cut a block through, turn one half over, measure the gap: the error is atan(gap / twice the height)";
    type Tilt = (&'static str, f64, fn(&mut Saw, f64));
    let tilts: [Tilt; 2] = [
        ("Tilt, cut 1", saw.tilt_first_deg, |saw, deg| saw.tilt_first_deg = deg),
        ("Tilt, cut 2", saw.tilt_second_deg, |saw, deg| saw.tilt_second_deg = deg),
    ];
    let mut tilted = Vec::new();
    ui.horizontal_top(|ui| {
        for (caption, value, put) in tilts {
            let check = |deg: f64| sound(&|saw| put(saw, deg));
            if let Some(deg) = field(ui, caption, tilt).number(ui, value, "°", check) {
                tilted.push((put, deg));
            }
        }
    });
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
    tilted.into_iter().for_each(|(put, deg)| put(&mut next, deg));
    (next != *saw).then_some(next)
}

/// A field of the saw, two of them side by side.
fn field(ui: &Ui, caption: &'static str, hint: &'static str) -> Field<'static> {
    Field {
        id: Id::unique(("saw", caption)),
        caption,
        name: format!("saw, {}", caption.to_lowercase()),
        width: (ui.available_width().min(216.0) - 6.0) / 2.0,
        hint,
    }
}

//! The saw, asked for only when the maker opens it.

use cornerwise_geometry::{Between, Blade, Length, Saw, SawKind};
use cornerwise_project::{Edit, OwnBlade, blades};
use egui::{Button, CollapsingHeader, ComboBox, Id, RichText, Ui};

use super::{bends, measure, own_blades};
use crate::commands::Command;
use crate::derive::Derived;
use crate::length_field::{Field, Reading};
use crate::scene::{Ask, Scene};
use crate::tokens::{self, Tokens};
use crate::view::View;

/// The fields of lengths that are small beside a blank.
const SMALL: [&str; 8] = ["Width", "Kerf", "Body", "Sanding", "Bow, cut 1", "Bow, cut 2", "Shim", "Slip"];

/// Shows the saw, or the way to tell it.
pub fn show(ui: &mut Ui, scene: &Scene<'_>, view: &mut View, asked: bool, derived: &mut Derived, asks: &mut Vec<Ask>) {
    let Some(saw) = &scene.project.saw else {
        let button = ui.add(Button::new(Command::TellSaw.label()));
        if button.on_hover_text("See what its blade, table and kerf will really give").clicked() {
            asks.push(edit(Some(view.usual_saw.saw.clone().unwrap_or_default())));
        }
        return;
    };
    let section = CollapsingHeader::new(RichText::new("Saw").font(tokens::bold())).id_salt("saw").default_open(true);
    let shown = section.open(asked.then_some(true)).show_unindented(ui, |ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        let changed = fields(ui, scene, saw, &view.usual_saw.blades);
        let measured = measure::show(ui, saw, scene.units(), &mut view.measured);
        if let Some(changed) = measured.or(changed) {
            asks.push(edit(Some(changed)));
        }
        let t = Tokens::here(ui);
        let radius = scene.units().fine().show_with_unit(saw.blade.least_radius_mm());
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
        bends::show(ui, scene, view, derived);
        own_blades::show(ui, scene, saw, view, asks);
        if ui.button("Put the saw away").clicked() {
            asks.push(edit(None));
        }
    });
    super::bring(ui, &shown.header_response, asked);
}

fn edit(saw: Option<Saw>) -> Ask {
    Ask::Edit(Edit::SetSaw { saw: saw.map(Box::new) })
}

/// The fields of the saw; the saw with what was changed.
fn fields(ui: &mut Ui, scene: &Scene<'_>, saw: &Saw, usual: &[OwnBlade]) -> Option<Saw> {
    let mut next = saw.clone();
    let width = measure::share(ui, 2.0);
    let kinds = ComboBox::from_id_salt("kind of saw").width(96.0).selected_text(saw.kind.name()).show_ui(ui, |ui| {
        for kind in SawKind::ALL {
            ui.selectable_value(&mut next.kind, kind, kind.name());
        }
    });
    kinds.response.accessible_name("saw, kind");
    let own = || scene.project.blades.iter().chain(usual);
    let now = own().find(|own| own.blade == saw.blade).map(|own| own.name.as_str());
    let now = now.or_else(|| blades().iter().find(|row| row.blade() == saw.blade).map(|row| row.name.as_str()));
    let blade = ComboBox::from_id_salt("blade").width(96.0).selected_text(now.unwrap_or("as told")).show_ui(ui, |ui| {
        let mut choose = |ui: &mut Ui, name: &str, hint: &str, blade: Blade| {
            if ui.selectable_label(now == Some(name), name).on_hover_text(hint).clicked() {
                next.blade = blade;
            }
        };
        let mut offered: Vec<&str> = Vec::new();
        for own in own() {
            if !offered.contains(&own.name.as_str()) {
                choose(ui, &own.name, "Your own, as you measured it", own.blade.clone());
                offered.push(&own.name);
            }
        }
        for row in blades() {
            choose(ui, &row.name, "A body and kerf to start from: measure yours", row.blade());
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
            // What is small would read as none in fractions of an inch; what was typed stays as it was typed.
            let small = SMALL.contains(&caption);
            let reading = scene.reading();
            let reading = if small { Reading { units: reading.units.fine(), ..reading } } else { reading };
            if let Some(typed) = field(width, caption, hint).shared_length(ui, value, reading, check) {
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
        let throat = "From the blade to the column; of a scroll saw, to the arm behind the blade";
        length(ui, "Throat", throat, &saw.throat, &|saw, to| saw.throat = to);
    });
    let mut pitch = None;
    ui.horizontal_top(|ui| {
        let table = "Its length along the cut: a blank far longer wants holding level";
        length(ui, "Table", table, &saw.table, &|saw, to| saw.table = to);
        let check = |teeth: f64| sound(&|saw| saw.blade.teeth_per_inch = (teeth > 0.0).then_some(teeth));
        let hint = "Teeth per inch; 0 where you do not know";
        pitch = field(width, "Teeth an inch", hint).number(ui, saw.blade.teeth_per_inch.unwrap_or(0.0), "", check);
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
            if let Some(deg) = field(width, caption, tilt).number(ui, value, "°", check) {
                tilted.push((put, deg));
            }
        }
    });
    ui.horizontal_top(|ui| {
        let bow = "How far the blade bows at the middle of the depth, by a straightedge across a test cut as deep as the blank: \
                   a hollow without a step. Above 0 away from arris 1, or from arris 2";
        length(ui, "Bow, cut 1", bow, &saw.bow_first, &|saw, to| saw.bow_first = to);
        length(ui, "Bow, cut 2", bow, &saw.bow_second, &|saw, to| saw.bow_second = to);
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
    if let Some(teeth) = pitch {
        next.blade.teeth_per_inch = (teeth > 0.0).then_some(teeth);
    }
    tilted.into_iter().for_each(|(put, deg)| put(&mut next, deg));
    (next != *saw).then_some(next)
}

/// A field of the saw, two of them side by side.
fn field(width: f32, caption: &'static str, hint: &'static str) -> Field<'static> {
    Field { id: Id::unique(("saw", caption)), caption, name: format!("saw, {}", caption.to_lowercase()), width, hint }
}

//! Aprons, shelves, top, base and shade, with their real sizes.

use cornerwise_geometry::Length;
use cornerwise_geometry::fit::Takes;
use cornerwise_geometry::furniture::{ApronJoint, Arrangement};
use cornerwise_project::{Aprons, Base, Edit, Furniture, FurniturePart, LAMP_TILT_DEG, Shade, Top};
use cornerwise_wood::Species;
use egui::{ComboBox, Ui};

use super::super::fit::told;
use super::super::head::{field, heading, row};
use super::{Made, allowed};
use crate::scene::Ask;

fn edit(part: FurniturePart) -> Edit {
    Edit::SetFurniture { part }
}

/// A length of the furniture, and what it becomes part of.
fn take(
    ui: &mut Ui,
    made: &Made<'_>,
    group: &'static str,
    caption: &'static str,
    of: usize,
    value: &Length,
    with: &dyn Fn(Length) -> FurniturePart,
) -> Option<Ask> {
    let check = |length: &Length| allowed(made.scene.project, &edit(with(length.clone())));
    let length = field(made.scene, caption, group, of).length(ui, value, made.scene.units(), check)?;
    Some(Ask::Edit(edit(with(length))))
}

/// All of them; with the least base that stands the published tilt, mm, where there is one.
pub(super) fn show(ui: &mut Ui, made: &Made<'_>, least_base_mm: Option<f64>, asks: &mut Vec<Ask>) {
    heading(ui, "Boards");
    let furniture = &made.assembly.furniture;
    let framed = furniture.arrangement.frame().is_some();
    let column = matches!(furniture.arrangement, Arrangement::Column);
    species(ui, furniture.boards, asks);
    if framed {
        notched(ui, made);
        let takes_aprons =
            made.assembly.legs.first().is_some_and(|leg| leg.fit.notches.iter().any(|n| n.takes == Takes::Apron));
        if takes_aprons {
            aprons(ui, made, &furniture.aprons, asks);
        }
    }
    if framed || column {
        top(ui, made, furniture, column, asks);
    }
    if column {
        base(ui, made, furniture, least_base_mm, asks);
        shade(ui, made, furniture, asks);
    }
    if !framed && !column {
        told(ui, "Legs in a row carry no boards here.");
    }
}

fn species(ui: &mut Ui, now: Species, asks: &mut Vec<Ask>) {
    let choice =
        ComboBox::from_id_salt("boards' wood").width(138.0).height(320.0).selected_text(now.name()).show_ui(ui, |ui| {
            for species in Species::ALL {
                if ui.selectable_label(species == now, species.name()).clicked() && species != now {
                    asks.push(Ask::Edit(edit(FurniturePart::Boards(species))));
                }
            }
        });
    choice.response.accessible_name("wood of the boards");
}

/// Aprons and shelves follow from the notches of the leg in place 1.
fn notched(ui: &mut Ui, made: &Made<'_>) {
    let Some(first) = made.assembly.legs.first() else { return };
    let count = |takes: Takes| first.fit.notches.iter().filter(|notch| notch.takes == takes).count();
    let words = match (count(Takes::Shelf), count(Takes::Apron)) {
        (0, 0) => "Aprons and shelves follow from the notches: add them in the place Fit.".to_owned(),
        (shelves, aprons) => {
            let of = |n: usize, one: &str, more: &str| match n {
                0 => None,
                1 => Some(format!("1 {one}")),
                n => Some(format!("{n} {more}")),
            };
            let all = [of(shelves, "shelf", "shelves"), of(aprons, "ring of aprons", "rings of aprons")];
            let all: Vec<String> = all.into_iter().flatten().collect();
            format!("From the notches of the leg in place 1: {}.", all.join(", "))
        }
    };
    told(ui, words);
}

fn aprons(ui: &mut Ui, made: &Made<'_>, now: &Aprons, asks: &mut Vec<Ask>) {
    row(ui, |ui| {
        let with = |thickness: Length| FurniturePart::Aprons(Aprons { thickness, joint: now.joint });
        asks.extend(take(ui, made, "aprons", "Apron thickness", 2, &now.thickness, &with));
        ui.vertical(|ui| {
            ui.add_space(17.0);
            ui.horizontal(|ui| {
                ui.spacing_mut().item_spacing.x = 2.0;
                ui.spacing_mut().button_padding.x = 5.0;
                for (joint, word) in [(ApronJoint::Butted, "Butted"), (ApronJoint::Mitred, "Mitred")] {
                    if ui.selectable_label(now.joint == joint, word).clicked() && now.joint != joint {
                        asks.push(Ask::Edit(edit(FurniturePart::Aprons(Aprons { joint, ..now.clone() }))));
                    }
                }
            });
        });
    });
}

fn top(ui: &mut Ui, made: &Made<'_>, furniture: &Furniture, column: bool, asks: &mut Vec<Ask>) {
    let mut on = furniture.top.is_some();
    if ui.checkbox(&mut on, "Top").changed() {
        let overhang = if column { 150.0 } else { 30.0 };
        let top = on.then(|| Top { thickness: 22.0.into(), overhang: overhang.into() });
        asks.push(Ask::Edit(edit(FurniturePart::Top(top))));
    }
    if let Some(now) = &furniture.top {
        row(ui, |ui| {
            let thick = |thickness: Length| FurniturePart::Top(Some(Top { thickness, ..now.clone() }));
            let over = |overhang: Length| FurniturePart::Top(Some(Top { overhang, ..now.clone() }));
            let caption = if column { "From the axis" } else { "Overhang" };
            asks.extend(take(ui, made, "top", "Thickness", 2, &now.thickness, &thick));
            asks.extend(take(ui, made, "top", caption, 2, &now.overhang, &over));
        });
    }
}

fn base(ui: &mut Ui, made: &Made<'_>, furniture: &Furniture, least_mm: Option<f64>, asks: &mut Vec<Ask>) {
    let mut on = furniture.base.is_some();
    if ui.checkbox(&mut on, "Base").changed() {
        let base = on.then(|| Base { across: 200.0.into(), thickness: 25.0.into(), round: true });
        asks.push(Ask::Edit(edit(FurniturePart::Base(base))));
    }
    if let Some(now) = &furniture.base {
        row(ui, |ui| {
            let across = |across: Length| FurniturePart::Base(Some(Base { across, ..now.clone() }));
            let thick = |thickness: Length| FurniturePart::Base(Some(Base { thickness, ..now.clone() }));
            asks.extend(take(ui, made, "base", "Across", 3, &now.across, &across));
            asks.extend(take(ui, made, "base", "Thickness", 3, &now.thickness, &thick));
            ui.vertical(|ui| {
                ui.add_space(17.0);
                let mut round = now.round;
                if ui.checkbox(&mut round, "Round").changed() {
                    asks.push(Ask::Edit(edit(FurniturePart::Base(Some(Base { round, ..now.clone() })))));
                }
            });
        });
        let Some(least) = least_mm.map(f64::ceil) else { return };
        let least_words = made.scene.units().show_with_unit(least);
        told(
            ui,
            format!("{least_words} across is the least that stands a tilt of {LAMP_TILT_DEG:.0}°, at this weight."),
        );
        if now.across.mm() < least {
            let button = ui.button(format!("Make it {least_words} across"));
            if button.on_hover_text("Comparison, not compliance: a number here certifies nothing").clicked() {
                let wide = Base { across: least.into(), ..now.clone() };
                asks.push(Ask::Edit(edit(FurniturePart::Base(Some(wide)))));
            }
        }
    }
}

fn shade(ui: &mut Ui, made: &Made<'_>, furniture: &Furniture, asks: &mut Vec<Ask>) {
    let mut on = furniture.shade.is_some();
    if ui.checkbox(&mut on, "Shade").changed() {
        let shade = on.then(|| Shade {
            across_top: 180.0.into(),
            across_foot: 320.0.into(),
            height: 220.0.into(),
            above: 60.0.into(),
        });
        asks.push(Ask::Edit(edit(FurniturePart::Shade(shade))));
    }
    if let Some(now) = &furniture.shade {
        let part = |shade: Shade| FurniturePart::Shade(Some(shade));
        row(ui, |ui| {
            let upper = |across_top: Length| part(Shade { across_top, ..now.clone() });
            let lower = |across_foot: Length| part(Shade { across_foot, ..now.clone() });
            asks.extend(take(ui, made, "shade", "Across top", 2, &now.across_top, &upper));
            asks.extend(take(ui, made, "shade", "Across foot", 2, &now.across_foot, &lower));
        });
        row(ui, |ui| {
            let height = |height: Length| part(Shade { height, ..now.clone() });
            let above = |above: Length| part(Shade { above, ..now.clone() });
            asks.extend(take(ui, made, "shade", "Height", 2, &now.height, &height));
            asks.extend(take(ui, made, "shade", "Above the leg", 2, &now.above, &above));
        });
    }
}

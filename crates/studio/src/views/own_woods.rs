//! The maker's own woods: begun from a built-in one, given a name, colours and figures of their own.

use cornerwise_project::Edit;
use cornerwise_wood::{Species, SpeciesRow};
use egui::{Button, ComboBox, Id, RichText, Ui};

use super::head::{allowed, row, swatch};
use crate::length_field::Field;
use crate::scene::{Ask, Scene};
use crate::tokens::{self, Tokens};

/// Width of the panel, points.
const WIDTH: f32 = 400.0;

/// Shows the panel's contents.
pub fn show(ui: &mut Ui, scene: &Scene<'_>, asks: &mut Vec<Ask>) {
    let t = Tokens::here(ui);
    ui.set_width(WIDTH);
    let small = |words: &str| RichText::new(words).font(tokens::small()).color(t.soft);
    let id = Id::unique("chosen own wood");
    let mut chosen: usize = ui.data(|data| data.get_temp(id)).unwrap_or(0);
    let woods = &scene.project.own_woods;
    if woods.is_empty() {
        ui.label(small("A wood of your own begins as a copy of a built-in one. It is kept in this project."));
    }
    for (index, wood) in woods.iter().enumerate() {
        ui.horizontal(|ui| {
            swatch(ui, wood.colour());
            if ui.selectable_label(chosen == index, &wood.name).clicked() {
                chosen = index;
            }
            let edit = Edit::DeleteOwnWood { index };
            let why_not = allowed(scene, &edit);
            let delete = ui.add_enabled(why_not.is_ok(), Button::new("×")).on_hover_text("Take this wood off the list");
            let delete = delete.on_disabled_hover_text(why_not.err().unwrap_or_default());
            if delete.accessible_name(format!("{}, delete", wood.name)).clicked() {
                asks.push(Ask::Edit(edit));
            }
        });
    }
    let add = ComboBox::from_id_salt("own wood from").width(170.0).selected_text("Add one like").show_ui(ui, |ui| {
        for species in Species::ALL {
            if ui.selectable_label(false, species.name()).clicked() {
                let name = free_name(scene, species.name());
                let source = format!("began as {}; {}", species.name(), species.row().source);
                chosen = woods.len();
                let row = SpeciesRow { name, source, ..species.row().clone() };
                asks.push(Ask::Edit(Edit::AddOwnWood { row: Box::new(row) }));
            }
        }
    });
    add.response.accessible_name("add a wood like a built-in one");
    ui.data_mut(|data| data.insert_temp(id, chosen));
    if let Some(wood) = woods.get(chosen) {
        ui.separator();
        fields(ui, scene, chosen, wood, asks);
    }
}

/// "own oak", or with a number where that is taken.
fn free_name(scene: &Scene<'_>, like: &str) -> String {
    let taken = |name: &String| scene.project.own_woods.iter().any(|row| row.name == *name);
    let names = std::iter::once(format!("own {like}")).chain((2..).map(|i| format!("own {like} {i}")));
    names.into_iter().find(|name| !taken(name)).unwrap_or_default()
}

/// A field for a line of text, its caption beside it.
fn line(index: usize, what: &str, width: f32) -> Field<'static> {
    let name = format!("own wood, {what}");
    Field { id: Id::unique(("own wood", index, what)), caption: "", name, width, hint: "" }
}

fn fields(ui: &mut Ui, scene: &Scene<'_>, index: usize, wood: &SpeciesRow, asks: &mut Vec<Ask>) {
    type Put = fn(&mut SpeciesRow, f64);
    let edit = |row: SpeciesRow| Edit::SetOwnWood { index, row: Box::new(row) };
    let small = |words: &str| RichText::new(words).font(tokens::small());
    ui.horizontal(|ui| {
        ui.label(small("Name"));
        let named = |name: &str| edit(SpeciesRow { name: name.to_owned(), ..wood.clone() });
        let check = |name: &str| match name {
            "" => Err(format!("a wood needs a name: type one, or Esc to keep {}", wood.name)),
            name => allowed(scene, &named(name)),
        };
        if let Some(name) = line(index, "name", 180.0).text(ui, &wood.name, check) {
            asks.push(Ask::Edit(named(&name)));
        }
    });
    ui.horizontal(|ui| {
        type Colour = fn(&mut SpeciesRow) -> &mut [u8; 3];
        let colours: [(&str, Colour); 3] =
            [("Early wood", |r| &mut r.early), ("Late wood", |r| &mut r.late), ("Sapwood", |r| &mut r.sap)];
        for (words, part) in colours {
            let mut changed = wood.clone();
            let response = ui.color_edit_button_srgb(part(&mut changed));
            if response.changed() {
                asks.push(Ask::Drag(edit(changed)));
                if !ui.input(|i| i.pointer.any_down()) {
                    asks.push(Ask::DragEnds { keep: true });
                }
            } else if scene.moving && ui.input(|i| i.pointer.any_released()) {
                asks.push(Ask::DragEnds { keep: true });
            }
            response.accessible_name(format!("own wood, {}", words.to_lowercase()));
            ui.label(small(words));
        }
    });
    /// A figure by the name of its field in the row, what it means, its value, and how it is set.
    type Figure = (&'static str, &'static str, f64, Put);
    // A share is kept in single precision; shown, it has no more digits than were typed.
    let share = |value: f32| (f64::from(value) * 1e6).round() / 1e6;
    let rows: [&[Figure]; 5] = [
        &[
            ("rings", "How much of the way from early to late a ring goes, 0 to 1", share(wood.rings), |r, v| {
                r.rings = v as f32;
            }),
            ("line", "How much of a ring's darkening sits in its last thin line", share(wood.line), |r, v| {
                r.line = v as f32;
            }),
            ("streaks", "How much fibres differ from their neighbours", share(wood.streaks), |r, v| {
                r.streaks = v as f32;
            }),
            ("pores", "How dark the pores are", share(wood.pores), |r, v| r.pores = v as f32),
        ],
        &[
            ("porous_rings", "How far the pores keep to the early wood", share(wood.porous_rings), |r, v| {
                r.porous_rings = v as f32;
            }),
            ("rays", "How clearly rays show", share(wood.rays), |r, v| r.rays = v as f32),
            ("end", "What is left of the light on end grain", share(wood.end), |r, v| r.end = v as f32),
        ],
        &[
            ("specific_gravity", "Oven-dry weight over volume, water being 1", wood.specific_gravity, |r, v| {
                r.specific_gravity = v;
            }),
            ("bending_mpa", "Modulus of rupture", wood.bending_mpa, |r, v| r.bending_mpa = v),
            ("stiffness_mpa", "Modulus of elasticity", wood.stiffness_mpa, |r, v| r.stiffness_mpa = v),
        ],
        &[
            ("compression_mpa", "Along the grain", wood.compression_mpa, |r, v| r.compression_mpa = v),
            ("shear_mpa", "Along the grain", wood.shear_mpa, |r, v| r.shear_mpa = v),
        ],
        &[
            ("shrinkage_radial", "From green to oven-dry", wood.shrinkage_radial, |r, v| r.shrinkage_radial = v),
            ("shrinkage_tangential", "From green to oven-dry", wood.shrinkage_tangential, |r, v| {
                r.shrinkage_tangential = v;
            }),
        ],
    ];
    // Three abreast where captions are long: one that wraps pushes its field out of line.
    for (part, abreast) in rows.into_iter().zip([4.0, 4.0, 3.0, 3.0, 3.0]) {
        row(ui, |ui| {
            for (name, hint, value, put) in part {
                let caption = SpeciesRow::caption(name);
                let field = Field {
                    id: Id::unique(("own wood", index, *name)),
                    caption,
                    name: format!("own wood, {}", caption.to_lowercase()),
                    width: (WIDTH - 6.0 * (abreast - 1.0)) / abreast,
                    hint,
                };
                let with = |value: f64| {
                    let mut row = wood.clone();
                    put(&mut row, value);
                    edit(row)
                };
                if let Some(value) = field.number(ui, *value, "", |value| allowed(scene, &with(value))) {
                    asks.push(Ask::Edit(with(value)));
                }
            }
        });
    }
    ui.horizontal(|ui| {
        ui.label(small("Source"));
        let from = |source: &str| edit(SpeciesRow { source: source.to_owned(), ..wood.clone() });
        let check = |source: &str| allowed(scene, &from(source));
        if let Some(source) = line(index, "source", WIDTH - 60.0).text(ui, &wood.source, check) {
            asks.push(Ask::Edit(from(&source)));
        }
    });
}

//! What the blank is made of.

use cornerwise_geometry::Length;
use std::sync::Arc;

use cornerwise_project::{Edit, Picture, WoodPart};
use cornerwise_wood::{
    BlockPreset, Finish, Layer, LayerGrain, LayerOrder, Layers, Photos, SeamFit, Species, Timber, Wood,
};
use egui::{Button, Color32, ComboBox, Id, Label, RichText, Sense, Stroke, StrokeKind, Ui, vec2};

use super::{allowed, field, heading, row};
use crate::commands::Command;
use crate::length_field::Field;
use crate::scene::{Ask, Scene};
use crate::tokens::{self, Tokens};
use crate::view::{View, blank_stretch};
use crate::views::photos::told;

mod blocks;
mod end_grain;
mod outside;
mod timber;

use outside::lie_outside;

/// How thick the veneers of new plywood are, about, mm.
const VENEER_MM: f64 = 1.5;

/// Where the blank begins and ends, mm from the finished top.
fn blank_span(scene: &Scene<'_>) -> [f64; 2] {
    let stretch = blank_stretch(scene.design);
    [stretch.from_mm, stretch.to_mm]
}

pub(super) fn show(ui: &mut Ui, scene: &Scene<'_>, view: &View, asks: &mut Vec<Ask>) {
    heading(ui, "Wood");
    let wood = &scene.design.wood;
    ui.horizontal(|ui| {
        // Four of them stand beside one another in the row head's width.
        ui.spacing_mut().item_spacing.x = 2.0;
        ui.spacing_mut().button_padding.x = 5.0;
        let now = Kind::of(wood);
        for kind in Kind::ALL {
            if ui.selectable_label(now == kind, kind.name()).clicked() && now != kind {
                // What was set of the other kind is kept while the studio is open, so that a look costs nothing.
                let kept = |kind: Kind| Id::unique(("kept wood", scene.design.id.0, kind.name()));
                ui.data_mut(|data| data.insert_temp(kept(now), (wood.clone(), pictures(scene))));
                let (wood, pictures) = ui
                    .data(|data| data.get_temp::<(Wood, Vec<Arc<Picture>>)>(kept(kind)))
                    .unwrap_or_else(|| (kind.begin(wood, [scene.leg.width_mm, scene.leg.depth_mm]), Vec::new()));
                let design = scene.design.id;
                asks.push(Ask::Edit(match wood {
                    // Their pixels are developed anew; what is not on the bench is not kept in memory.
                    Wood::Photos(photos) => {
                        let photos = Box::new(photos.exposed(&|_| None).unwrap_or(photos));
                        Edit::SetPhotos { design, photos, pictures }
                    }
                    wood => Edit::SetWood { design, wood },
                }));
            }
        }
    });
    match wood {
        Wood::Timber(timber) => timber::show(ui, scene, timber, asks),
        Wood::Layers(layers) => show_layers(ui, scene, layers, asks),
        Wood::Blocks(blocks) => blocks::show(ui, scene, blocks, asks),
        Wood::Photos(photos) => {
            let species = species_choice(ui, scene, "photographed", photos.species, 150.0);
            if let Some(species) = species {
                ask(scene, asks, WoodPart::Species(species));
            }
            let t = Tokens::here(ui);
            let words = RichText::new(told(scene, photos)).font(tokens::small()).color(t.soft);
            ui.add(Label::new(words).wrap());
            let button = ui.add(Button::selectable(view.panels.photos.is_some(), "Photos of the faces"));
            if button.on_hover_text(Command::Photos.tooltip(ui.ctx())).clicked() {
                asks.push(Ask::Command(Command::Photos));
            }
        }
    }
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        let mut oiled = scene.design.finish == Finish::Oiled;
        if ui.checkbox(&mut oiled, "Oiled").on_hover_text("Show the wood as oil makes it: darker and warmer").changed()
        {
            let finish = if oiled { Finish::Oiled } else { Finish::Bare };
            asks.push(Ask::Edit(Edit::SetFinish { design: scene.design.id, finish }));
        }
        let knots = match scene.design.knots.len() {
            0 => "Knots".to_owned(),
            n => format!("Knots ({n})"),
        };
        for (words, command, open) in [
            (knots, Command::Knots, view.panels.knots),
            ("Own woods".to_owned(), Command::OwnWoods, view.panels.own_woods),
        ] {
            let button = ui.add(Button::selectable(open, words)).on_hover_text(command.tooltip(ui.ctx()));
            if button.clicked() {
                asks.push(Ask::Command(command));
            }
        }
    });
}

/// The ways to make a blank, or to have one.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    Timber,
    Layers,
    Blocks,
    Photos,
}

impl Kind {
    const ALL: [Kind; 4] = [Kind::Timber, Kind::Layers, Kind::Blocks, Kind::Photos];

    fn of(wood: &Wood) -> Kind {
        match wood {
            Wood::Timber(_) => Kind::Timber,
            Wood::Layers(_) => Kind::Layers,
            Wood::Blocks(_) => Kind::Blocks,
            Wood::Photos(_) => Kind::Photos,
        }
    }

    fn name(self) -> &'static str {
        match self {
            Kind::Timber => "Timber",
            Kind::Layers => "Layers",
            Kind::Blocks => "Blocks",
            Kind::Photos => "Photos",
        }
    }

    /// Stock of this kind to begin with, of the woods there are already.
    fn begin(self, wood: &Wood, size: [f64; 2]) -> Wood {
        let [own, other] = two_woods(wood);
        match self {
            Kind::Timber => Wood::Timber(Timber::new(own, (-60.0).into(), (-80.0).into(), 3.0.into())),
            Kind::Layers => layers_of([own, other], size[0]),
            Kind::Photos => Wood::Photos(Photos::new(own, size)),
            Kind::Blocks => Wood::Blocks(BlockPreset::Checkerboard.build(size, 4, SeamFit::CarriesOn, [own, other])),
        }
    }
}

/// The first wood, and the second or else one that differs from it.
fn two_woods(wood: &Wood) -> [Species; 2] {
    let woods = wood.species();
    let own = woods.first().copied().unwrap_or(Species::Maple);
    let other = if own <= Species::Poplar { Species::Walnut } else { Species::Maple };
    [own, woods.get(1).copied().unwrap_or(other)]
}

/// Layered stock to begin with: standing layers of two woods, two repeats across the blank with half a layer at either
/// face, so that the seams do not show.
fn layers_of(woods: [Species; 2], width_mm: f64) -> Wood {
    let layers = woods.map(|species| Layer { species, thickness: (width_mm / 4.0).into() }).to_vec();
    Wood::Layers(Layers::new(layers, 90.0, 0.0, Length::from_mm(-width_mm / 8.0)))
}

/// The pictures that the blank's photos are, so that they can come back with it.
fn pictures(scene: &Scene<'_>) -> Vec<Arc<Picture>> {
    let photos = scene.design.wood.photos().into_iter().flat_map(|photos| &photos.photos);
    photos.filter_map(|photo| scene.project.picture(photo.picture).cloned()).collect()
}

fn ask(scene: &Scene<'_>, asks: &mut Vec<Ask>, part: WoodPart) {
    asks.push(Ask::Edit(Edit::SetWoodPart { design: scene.design.id, part }));
}

fn part_allowed(scene: &Scene<'_>, part: WoodPart) -> Result<(), String> {
    allowed(scene, &Edit::SetWoodPart { design: scene.design.id, part })
}

fn show_layers(ui: &mut Ui, scene: &Scene<'_>, layers: &Layers, asks: &mut Vec<Ask>) {
    let (size, span) = ([scene.leg.width_mm, scene.leg.depth_mm], blank_span(scene));
    row(ui, |ui| {
        for (caption, value, part) in [
            ("Lean", layers.lean_deg, WoodPart::Lean as fn(f64) -> WoodPart),
            ("Toward", layers.toward_deg, WoodPart::Toward),
        ] {
            let check = |number| part_allowed(scene, part(number));
            if let Some(number) = field(scene, caption, "layers", 3).number(ui, value, "°", check) {
                ask(scene, asks, part(number));
            }
        }
        let check = |shift: &Length| part_allowed(scene, WoodPart::Shift(shift.clone()));
        if let Some(shift) = field(scene, "Shift", "layers", 3).length(ui, &layers.shift, scene.reading(), check) {
            ask(scene, asks, WoodPart::Shift(shift));
        }
    });
    for (index, layer) in layers.layers.iter().enumerate() {
        row(ui, |ui| show_layer(ui, scene, layers, index, layer, asks));
    }
    row(ui, |ui| {
        let edit = |layers: Layers| Ask::Edit(Edit::SetWood { design: scene.design.id, wood: Wood::Layers(layers) });
        let mut mirrored = layers.order == LayerOrder::Mirrored;
        if ui
            .checkbox(&mut mirrored, "There and back")
            .on_hover_text("The list runs back after its last layer")
            .changed()
        {
            let order = if mirrored { LayerOrder::Mirrored } else { LayerOrder::Repeated };
            asks.push(edit(Layers { order, ..layers.clone() }));
        }
        let mut alternating = layers.grain == LayerGrain::Alternating;
        let choice = ui.checkbox(&mut alternating, "Grain in turn");
        if choice.on_hover_text("Fibres along and across by turns, as in plywood").changed() {
            let grain = if alternating { LayerGrain::Alternating } else { LayerGrain::Along };
            asks.push(edit(Layers { grain, ..layers.clone() }));
        }
    });
    if let Some(plies) = layers.plies(size) {
        let t = Tokens::here(ui);
        ui.label(RichText::new(plies_told(plies)).font(tokens::small()).color(t.soft));
    }
    let outside = layers.outside(size, span);
    if !outside.is_empty() {
        outside_told(ui, &lie_outside("layer", &outside));
    }
    row(ui, |ui| {
        if ui.button("Add layer").clicked() {
            let last = layers.layers.len().checked_sub(2).and_then(|i| layers.layers.get(i)).or(layers.layers.last());
            if let Some(layer) = last {
                ask(scene, asks, WoodPart::AddLayer { index: layers.layers.len(), layer: layer.clone() });
            }
        }
        let hint = "Replaces the layers by veneers of about 1.5 mm whose grain runs along and across by turns: an odd number, \
                    so that both faces run along";
        if ui.button("Plywood").on_hover_text(hint).clicked() {
            let species = layers.layers.first().map_or(Species::Birch, |layer| layer.species);
            let wood = Wood::Layers(Layers::plywood_through(species, scene.leg.depth_mm, VENEER_MM));
            asks.push(Ask::Edit(Edit::SetWood { design: scene.design.id, wood }));
        }
    });
}

/// What of a glue-up lies where it cannot be seen, in a line of its own.
fn outside_told(ui: &mut Ui, words: &str) {
    let t = Tokens::here(ui);
    ui.add(Label::new(RichText::new(format!("▲ {words}")).font(tokens::small()).color(t.wrong)).wrap());
}

/// How many plies plywood has, and what that makes of its faces.
fn plies_told(plies: f64) -> String {
    let whole = plies.round();
    if (plies - whole).abs() > 0.01 {
        return format!("{plies:.1} plies: the last one is cut");
    }
    let faces = if whole % 2.0 == 0.0 { "one face runs along, the other across" } else { "both faces run along" };
    format!("{whole} plies: {faces}")
}

fn show_layer(ui: &mut Ui, scene: &Scene<'_>, layers: &Layers, index: usize, layer: &Layer, asks: &mut Vec<Ask>) {
    let group = format!("layer {}", index + 1);
    if let Some(species) = species_choice(ui, scene, &group, layer.species, 106.0) {
        let layer = Layer { species, thickness: layer.thickness.clone() };
        ask(scene, asks, WoodPart::Layer { index, layer });
    }
    let part = |thickness: &Length| WoodPart::Layer {
        index,
        layer: Layer { species: layer.species, thickness: thickness.clone() },
    };
    let thickness = Field { caption: "", name: format!("{group}, thickness"), ..field(scene, "thickness", &group, 3) };
    let check = |length: &Length| part_allowed(scene, part(length));
    if let Some(length) = thickness.length(ui, &layer.thickness, scene.reading(), check) {
        ask(scene, asks, part(&length));
    }
    let delete = ui.add_enabled(layers.layers.len() > 1, Button::new("×")).on_hover_text("Delete this layer");
    if delete.accessible_name(format!("{group}, delete")).clicked() {
        ask(scene, asks, WoodPart::DeleteLayer { index });
    }
}

/// A choice of species, each with its colour.
fn species_choice(ui: &mut Ui, scene: &Scene<'_>, group: &str, now: Species, width: f32) -> Option<Species> {
    let mut chosen = None;
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        swatch(ui, now.colour());
        let choice = ComboBox::from_id_salt(("species", group))
            .width(width - 24.0)
            .height(400.0)
            .selected_text(now.name())
            .show_ui(ui, |ui| {
                for species in scene.project.woods() {
                    ui.horizontal(|ui| {
                        swatch(ui, species.colour());
                        if ui.selectable_label(species == now, species.name()).clicked() && species != now {
                            chosen = Some(species);
                            ui.close();
                        }
                    });
                }
            });
        choice.response.accessible_name(format!("{group}, wood"));
    });
    chosen
}

/// A small square of a wood's colour.
pub(in crate::views) fn swatch(ui: &mut Ui, [r, g, b]: [u8; 3]) {
    let (rect, _) = ui.allocate_exact_size(vec2(16.0, 16.0), Sense::hover());
    let t = Tokens::here(ui);
    ui.painter().rect(rect, 3.0, Color32::from_rgb(r, g, b), Stroke::new(1.0, t.edge), StrokeKind::Inside);
}

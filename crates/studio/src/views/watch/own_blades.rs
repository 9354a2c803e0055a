//! The maker's own blades: kept with the project, or for every project that is begun after.

use cornerwise_geometry::Saw;
use cornerwise_project::{Edit, OwnBlade};
use egui::{Button, CollapsingHeader, Id, RichText, Ui};

use crate::length_field::Field;
use crate::scene::{Ask, Scene};
use crate::tokens::{self, Tokens};
use crate::view::View;

/// The saw and the blades that a maker usually works with, kept from start to start.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct UsualSaw {
    /// What the saw is like when it is told in another project; a common one where nothing was kept.
    pub saw: Option<Saw>,
    /// Blades to choose from beside those of the project.
    pub blades: Vec<OwnBlade>,
}

/// Shows them, folded until they are wanted.
pub fn show(ui: &mut Ui, scene: &Scene<'_>, saw: &Saw, view: &mut View, asks: &mut Vec<Ask>) {
    let heading = RichText::new("Own blades").font(tokens::small());
    CollapsingHeader::new(heading).id_salt("own blades").show_unindented(ui, |ui| {
        let t = Tokens::here(ui);
        let own = &scene.project.blades;
        let small = |words: String| RichText::new(words).font(tokens::small());
        for (place, blade) in own.iter().enumerate() {
            ui.horizontal(|ui| {
                let size = scene.units().show_length(&blade.blade.width);
                ui.label(small(format!("{}, {size}", blade.name)).color(t.ink));
                let button = ui.add(Button::new(small("Drop".to_owned())));
                if button.accessible_name(format!("drop the blade {}", blade.name)).clicked() {
                    let mut blades = own.clone();
                    blades.remove(place);
                    asks.push(Ask::Edit(Edit::SetBlades { blades }));
                }
            });
        }
        let with = |name: &str| {
            let mut blades: Vec<OwnBlade> = own.iter().filter(|blade| blade.name != name).cloned().collect();
            blades.push(OwnBlade { name: name.to_owned(), kind: saw.kind, blade: saw.blade.clone() });
            Edit::SetBlades { blades }
        };
        let field = Field {
            id: Id::unique("keep this blade as"),
            caption: "Keep this blade as",
            name: "keep this blade as".to_owned(),
            width: ui.available_width().min(216.0) - 4.0,
            hint: "A name for the blade that is fitted, as it is told above; it stays in the project",
        };
        let check = |name: &str| scene.project.apply(&with(name)).map(|_| ()).map_err(|error| error.to_string());
        if let Some(name) = field.text(ui, "", check) {
            asks.push(Ask::Edit(with(name.trim())));
        }
        let usual = UsualSaw { saw: Some(saw.clone()), blades: own.clone() };
        let kept = view.usual_saw == usual;
        let button = ui.add_enabled(!kept, Button::new(small("Keep as my usual saw".to_owned())));
        let button = button.on_hover_text("This saw and these blades, for other projects too");
        if button.on_disabled_hover_text("this is your usual saw").clicked() {
            view.usual_saw = usual;
        }
    });
}

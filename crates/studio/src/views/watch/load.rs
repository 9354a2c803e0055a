//! The load a leg is judged by, asked for only when the maker opens it.

use cornerwise_geometry::{Along, End, LOAD_MODEL, Load, board_feet};
use cornerwise_project::{Edit, strengths};
use egui::{Button, CollapsingHeader, Id, RichText, Ui};

use super::measure;
use crate::commands::Command;
use crate::derive::Derived;
use crate::length_field::Field;
use crate::scene::{Ask, Scene};
use crate::tokens::{self, Tokens};
use crate::view::View;

/// Shows the load, or the way to tell one.
pub fn show(ui: &mut Ui, scene: &Scene<'_>, view: &mut View, asked: bool, derived: &mut Derived, asks: &mut Vec<Ask>) {
    let design = scene.design.id;
    lumber(ui, scene);
    let Some(load) = scene.design.load else {
        let button = ui.add(Button::new(Command::TellLoad.label()));
        if button.on_hover_text("Compare what shapes bear. It certifies nothing").clicked() {
            asks.push(Ask::Edit(Edit::SetLoad { design, load: Some(Load::default()) }));
        }
        return;
    };
    let section = CollapsingHeader::new(RichText::new("Load").font(tokens::bold())).id_salt("load").default_open(true);
    let shown = section.open(asked.then_some(true)).show_unindented(ui, |ui| {
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
        let width = measure::share(ui, 2.0);
        for row in rows {
            ui.horizontal_top(|ui| {
                for (caption, unit, hint, slot) in row {
                    let field = Field {
                        id: Id::unique(("load", design.0, caption)),
                        caption,
                        name: format!("load, {}", caption.to_lowercase()),
                        width,
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
        ui.horizontal_wrapped(|ui| {
            ui.label(RichText::new("Held at the").font(tokens::small()).color(Tokens::here(ui).soft));
            for end in End::ALL {
                let text = RichText::new(end.to_string()).font(tokens::small());
                let button = ui.radio(next.held == end, text).on_hover_text("The joint there takes the push");
                if button.clicked() {
                    next.held = end;
                }
            }
        });
        if next != load {
            asks.push(Ask::Edit(Edit::SetLoad { design, load: Some(next) }));
        }
        let t = Tokens::here(ui);
        let survey = derived.survey(scene);
        if let Some((_, result)) = survey.load() {
            let at = scene.units().show_with_unit(result.worst_mm);
            let bears = format!("Bears {:.0} N down by the model, least {at} from top", result.bears_n);
            ui.label(RichText::new(bears).font(tokens::body()).color(t.ink));
            if survey.saw().is_some()
                && let Some(drawn) = survey.load_as_drawn()
            {
                let words = format!("As sawn; as drawn it would bear {:.0} N.", drawn.bears_n);
                ui.label(RichText::new(words).font(tokens::small()).color(t.ink));
            }
            let most = result.stress_mpa.iter().copied().max_by(|a, b| (a[1] + a[2]).total_cmp(&(b[1] + b[2])));
            if let Some([at, pressed, bent]) = most {
                let words = format!(
                    "Under the load times the safety factor: {pressed:.1} MPa of compression and {bent:.1} MPa of bending at \
                     the most, {} from top.",
                    scene.units().show_with_unit(at)
                );
                ui.label(RichText::new(words).font(tokens::small()).color(t.ink));
            }
            let of = strengths(&scene.design.wood);
            let words = format!(
                "Slenderness {:.0}; it would buckle at {:.0} N, factors apart. Strengths taken: bending {:.0} MPa, compression \
                 {:.0} MPa, stiffness {:.1} GPa. {LOAD_MODEL}",
                result.slenderness,
                result.buckles_n,
                of.bending_mpa,
                of.compression_mpa,
                of.stiffness_mpa / 1000.0,
            );
            ui.label(RichText::new(words).font(tokens::small()).color(t.soft));
            for (graph, words) in
                [(Along::StrengthUsed, "Graph of the strength used"), (Along::Stress, "Graph of the stress")]
            {
                if !view.graphs.contains(&graph) && ui.button(words).clicked() {
                    view.graphs.push(graph);
                    view.graphs.sort();
                    view.along.open = true;
                }
            }
        }
        if ui.button("Take the load away").clicked() {
            asks.push(Ask::Edit(Edit::SetLoad { design, load: None }));
        }
    });
    super::bring(ui, &shown.header_response, asked);
}

/// What the blank weighs, and how much lumber it is.
fn lumber(ui: &mut Ui, scene: &Scene<'_>) {
    let t = Tokens::here(ui);
    let (kg, feet) = (scene.design.blank_kg(), board_feet(&scene.design.blank));
    let words = format!("The blank weighs {kg:.2} kg, {feet:.2} board feet, spare length included.");
    ui.label(RichText::new(words).font(tokens::small()).color(t.soft));
}

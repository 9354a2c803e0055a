//! The limits that watch-outs are held against: each with where it comes from, to be set, and to be put back.

use cornerwise_geometry::{Concern, Limit, Limits, Quantity};
use cornerwise_project::Edit;
use egui::{Button, CollapsingHeader, Id, RichText, Ui};

use super::measure;
use crate::length_field::Field;
use crate::scene::{Ask, Scene};
use crate::tokens::{self, Tokens};

/// Shows the limits, folded until they are wanted.
pub fn show(ui: &mut Ui, scene: &Scene<'_>, asked: bool, asks: &mut Vec<Ask>) {
    let now = &scene.project.limits;
    let usual = Limits::default();
    let heading = if *now == usual { "Limits" } else { "Limits, changed" };
    let section = CollapsingHeader::new(RichText::new(heading).font(tokens::bold())).id_salt("limits");
    let shown = section.open(asked.then_some(true)).show_unindented(ui, |ui| {
        let t = Tokens::here(ui);
        let small = |words: &str| RichText::new(words.to_owned()).font(tokens::small());
        ui.label(small("What follows from the saw or from geometry has no limit to set.").color(t.soft));
        for concern in Concern::ALL {
            let Some(limit) = now.of(concern) else { continue };
            ui.add_space(4.0);
            ui.label(small(concern.title()).color(t.ink));
            one(ui, concern, limit, scene, asks);
            ui.label(small(concern.source()).color(t.soft));
            if Some(limit) != usual.of(concern) {
                let button = ui.add(Button::new(small("As usual")));
                let button = button.accessible_name(format!("{}: limit as usual", concern.title()));
                if button.clicked() {
                    set(now, concern, usual.of(concern), asks);
                }
            }
        }
        if *now != usual && ui.button("All limits as usual").clicked() {
            asks.push(Ask::Edit(Edit::SetLimits { limits: Box::new(usual) }));
        }
    });
    super::bring(ui, &shown.header_response, asked);
}

/// Both steps of a limit, side by side.
fn one(ui: &mut Ui, concern: Concern, limit: Limit, scene: &Scene<'_>, asks: &mut Vec<Ask>) {
    let now = &scene.project.limits;
    let width = measure::share(ui, 2.0);
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        for watch in [false, true] {
            let caption = if watch { "Watch out" } else { "Have a look" };
            let field = Field {
                id: Id::unique(("limit", concern.title(), watch)),
                caption,
                name: format!("limit of {}, {}", concern.title().to_lowercase(), caption.to_lowercase()),
                width,
                hint: if concern.less_is_worse() { "Told below this" } else { "Told beyond this" },
            };
            let put = |value: f64| if watch { Limit { watch: value, ..limit } } else { Limit { look: value, ..limit } };
            let check = |value: f64| {
                let mut next = *now;
                next.of_mut(concern).into_iter().for_each(|slot| *slot = put(value));
                next.check().map_err(|error| error.to_string())
            };
            let value = if watch { limit.watch } else { limit.look };
            let typed = match concern.quantity() {
                Quantity::Mm => field
                    .length(ui, &value.into(), concern.units(scene.units()), |length| check(length.mm()))
                    .map(|length| length.mm()),
                Quantity::Degrees => field.number(ui, value, "°", check),
                Quantity::Share => {
                    field.number(ui, 100.0 * value, " %", |share| check(share / 100.0)).map(|share| share / 100.0)
                }
                Quantity::Times => field.number(ui, value, " times", check),
            };
            if let Some(value) = typed {
                set(now, concern, Some(put(value)), asks);
            }
        }
    });
}

fn set(now: &Limits, concern: Concern, limit: Option<Limit>, asks: &mut Vec<Ask>) {
    let mut next = *now;
    if let (Some(slot), Some(limit)) = (next.of_mut(concern), limit) {
        *slot = limit;
        asks.push(Ask::Edit(Edit::SetLimits { limits: Box::new(next) }));
    }
}

//! The notches of the inside piece: their list, the one that is chosen, and how the piece is crosscut.

use cornerwise_geometry::fit::{Keep, Notch, Takes};
use cornerwise_geometry::{Length, Piece};
use cornerwise_project::{Edit, FitPart};
use egui::{Button, CollapsingHeader, RichText, Ui, vec2};

use super::super::head::{allowed, field, heading, row};
use super::{area, figure, several, spacers, told};
use crate::commands::Command;
use crate::scene::{Ask, Scene};
use crate::tokens::{self, Tokens};
use crate::view::View;

fn edit(scene: &Scene<'_>, part: FitPart) -> Edit {
    Edit::SetFit { design: scene.design.id, part }
}

pub(super) fn show(ui: &mut Ui, scene: &Scene<'_>, view: &mut View, drafts: &mut several::Drafts, asks: &mut Vec<Ask>) {
    heading(ui, "Notches");
    let notches = &scene.design.fit.notches;
    if notches.is_empty() {
        told(ui, "For shelves and aprons: lengths of the inside piece that are left out.");
    }
    for (index, notch) in notches.iter().enumerate() {
        line(ui, scene, index, notch, view);
        if view.fit.notch == Some(index) {
            chosen(ui, scene, index, notch, asks);
        }
    }
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        for command in [Command::AddShelf, Command::AddApron] {
            let word = if command == Command::AddShelf { "Add shelf" } else { "Add apron" };
            if ui.button(word).on_hover_text(command.tooltip(ui.ctx())).clicked() {
                asks.push(Ask::Command(command));
            }
        }
    });
    several::show(ui, scene, view, drafts, asks);
    if !notches.is_empty() {
        spacers::show(ui, scene, asks);
        crosscut(ui, scene, asks);
    }
}

fn line(ui: &mut Ui, scene: &Scene<'_>, index: usize, notch: &Notch, view: &mut View) {
    let t = Tokens::here(ui);
    let units = scene.units();
    let chosen = view.fit.notch == Some(index);
    let words = format!("{}  {}", index + 1, notch.takes.name());
    let place = format!("{} from top", units.show_length(&notch.from_top));
    let colour = if chosen { t.on_chosen } else { t.soft };
    let button = Button::selectable(chosen, words)
        .shortcut_text(RichText::new(place).font(tokens::small()).color(colour))
        .min_size(vec2(ui.available_width(), 24.0));
    let response = ui.add(button).accessible_name(format!("notch {}, {}", index + 1, notch.takes.name()));
    if response.clicked() {
        view.fit.notch = if chosen { None } else { Some(index) };
        view.cursor_mm = notch.from_top.mm();
    }
}

/// Fields and figures of the notch that is chosen.
fn chosen(ui: &mut Ui, scene: &Scene<'_>, index: usize, notch: &Notch, asks: &mut Vec<Ask>) {
    let units = scene.units();
    let mm = |mm: f64| units.show_with_unit(mm);
    let group = format!("notch {}", index + 1);
    let becomes = |notch: Notch| edit(scene, FitPart::Notch { index, notch });
    let field = |caption: &'static str, of: usize| field(scene, caption, &group, of);
    type With = fn(&Notch, Length) -> Notch;
    let take = |ui: &mut Ui, caption: &'static str, of: usize, value: &Length, with: With| {
        let check = |length: &Length| allowed(scene, &becomes(with(notch, length.clone())));
        field(caption, of).length(ui, value, scene.reading(), check).map(|length| becomes(with(notch, length)))
    };
    row(ui, |ui| {
        let board = if notch.takes == Takes::Apron { "Apron" } else { "Board" };
        let from_top = take(ui, "From top", 3, &notch.from_top, |n, l| Notch { from_top: l, ..n.clone() });
        let board = take(ui, board, 3, &notch.board, |n, l| Notch { board: l, ..n.clone() });
        let clear = take(ui, "Clearance", 3, &notch.clearance, |n, l| Notch { clearance: l, ..n.clone() });
        asks.extend([from_top, board, clear].into_iter().flatten().map(Ask::Edit));
    });
    let length_mm = scene.leg.length_mm;
    let [board_top, lower] = notch.board_span_mm();
    let from_floor = Length::from_mm(length_mm - board_top);
    row(ui, |ui| {
        // The board's upper face above the floor: as a shelf is thought of.
        let moved = |height: &Length| {
            let from_top = length_mm - height.mm() - notch.clearance.mm();
            becomes(Notch { from_top: from_top.into(), ..notch.clone() })
        };
        let check = |height: &Length| allowed(scene, &moved(height));
        if let Some(height) = field("From floor", 3).length(ui, &from_floor, scene.reading(), check) {
            asks.push(Ask::Edit(moved(&height)));
        }
        ui.vertical(|ui| {
            ui.add_space(17.0);
            ui.horizontal(|ui| {
                ui.spacing_mut().item_spacing.x = 4.0;
                for (takes, word) in [(Takes::Shelf, "Shelf"), (Takes::Apron, "Apron")] {
                    let button = ui.selectable_label(notch.takes == takes, word);
                    if button.accessible_name(format!("{group} takes: {}", takes.name())).clicked()
                        && notch.takes != takes
                    {
                        asks.push(Ask::Edit(becomes(Notch { takes, ..notch.clone() })));
                    }
                }
            });
        });
    });
    if let Some(there) = scene.design.fit.notch_fit(scene.leg, index) {
        let [u, v] = there.bearing.reach_mm;
        figure(
            ui,
            format!(
                "Stands on {} × {} at {} from the top, its corner square on the axis",
                units.show(u),
                mm(v),
                mm(lower)
            ),
        );
        let [p, q] = there.bearing.walls_mm2;
        figure(ui, format!("Meets {} and {} of planed wood", area(units, p), area(units, q)));
        let share = 100.0 * there.weakest.area_mm2 / (scene.leg.width_mm * scene.leg.depth_mm);
        figure(
            ui,
            format!(
                "Wood left beside it: {}, {share:.0} %, at {}",
                area(units, there.weakest.area_mm2),
                mm(there.weakest_mm)
            ),
        );
    }
    if ui.button("Delete notch").on_hover_text(Command::DeleteNotch.tooltip(ui.ctx())).clicked() {
        asks.push(Ask::Command(Command::DeleteNotch));
    }
}

/// How the inside piece is crosscut.
fn crosscut(ui: &mut Ui, scene: &Scene<'_>, asks: &mut Vec<Ask>) {
    let units = scene.units();
    let inside: Piece = scene.design.fit.inside;
    let title = RichText::new("Crosscut list").font(tokens::body());
    CollapsingHeader::new(title).id_salt("crosscut list").show(ui, |ui| {
        let list = scene.design.fit.crosscut(scene.leg);
        let name = format!("{}{}", scene.design.letter, inside.number());
        told(ui, format!("Marks on {name}, measured once from the finished top:"));
        for mark in &list.marks {
            let keep = match mark.keep {
                Keep::TowardTop => "keep toward the top",
                Keep::TowardFoot => "keep toward the foot",
            };
            figure(ui, format!("{}: {keep}", units.show_with_unit(mark.from_top_mm)));
        }
        for part in &list.parts {
            let [from, to] = part.span_mm;
            let what = if part.kept { "keep" } else { "throw away" };
            figure(ui, format!("part {}: {what}, {} long", part.number, units.show_with_unit(to - from)));
        }
        for place in &list.too_short_for_two_cuts {
            told(ui, format!("Notch {}: both cuts take all of it, one wide pass.", place + 1));
        }
        told(ui, "An original flat face down, the other against the fence; never a sawn face on the table. The kerf lies in what is thrown away.");
        let kerf = |kerf: &Length| edit(scene, FitPart::CrosscutKerf(kerf.clone()));
        let field = field(scene, "Crosscut kerf", "fit", 2);
        let now = &scene.design.fit.crosscut_kerf;
        if let Some(length) = field.length(ui, now, scene.reading(), |length| allowed(scene, &kerf(length))) {
            asks.push(Ask::Edit(kerf(&length)));
        }
    });
}

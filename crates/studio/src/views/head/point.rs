//! The chosen point's figures.

use cornerwise_geometry::{Cut, Length};
use cornerwise_project::Edit;
use egui::{Button, RichText, Ui};

use super::{allowed, field, row};
use crate::scene::{Ask, Scene};
use crate::tokens::{self, Tokens};
use crate::view::{Chosen, View};

/// The chosen point's figures, where the cut is made of points.
pub(super) fn show(ui: &mut Ui, scene: &Scene<'_>, cut: Cut, group: &str, view: &mut View, asks: &mut Vec<Ask>) {
    let t = Tokens::here(ui);
    let design = scene.design.id;
    let all = scene.design.points(cut);
    let chosen = view.chosen.one().filter(|chosen| chosen.cut == cut);
    let Some((number, point)) =
        chosen.and_then(|Chosen { point, .. }| all.iter().enumerate().find(|(_, p)| p.id == point))
    else {
        ui.label(
            RichText::new(format!(
                "{} points. Click one to see its figures; double-click the line to add one.",
                all.len()
            ))
            .font(tokens::small())
            .color(t.soft),
        );
        return;
    };
    let group = format!("{group}, point {}", number + 1);
    let id = point.id;
    row(ui, |ui| {
        let edit = |from_top: &Length, offset: &Length| Edit::PlacePoint {
            design,
            cut,
            point: id,
            from_top: from_top.clone(),
            offset: offset.clone(),
        };
        let moved = |edit: &Edit| allowed(scene, edit);
        let from_top = field(scene, "From top", &group, 3)
            .length(ui, &point.from_top, scene.reading(), |length| moved(&edit(length, &point.offset)));
        let offset = field(scene, "Offset", &group, 3)
            .length(ui, &point.offset, scene.reading(), |length| moved(&edit(&point.from_top, length)));
        if let Some(from_top) = from_top {
            asks.push(Ask::Edit(edit(&from_top, &point.offset)));
        } else if let Some(offset) = offset {
            asks.push(Ask::Edit(edit(&point.from_top, &offset)));
        }
    });
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        ui.label(RichText::new(format!("Point {}", number + 1)).font(tokens::small()).color(t.soft));
        let sharp = point.kind.is_sharp();
        for (word, wanted) in [("Smooth", false), ("Sharp", true)] {
            if ui.selectable_label(sharp == wanted, word).clicked() && sharp != wanted {
                asks.push(Ask::Edit(Edit::SetPointKind { design, cut, point: id, sharp: wanted }));
            }
        }
        if ui.add_enabled(all.len() > 2, Button::new("Delete")).clicked() {
            asks.push(Ask::Edit(Edit::DeletePoint { design, cut, point: id }));
        }
    });
}

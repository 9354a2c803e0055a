//! How the legs stand together.

use cornerwise_geometry::Length;
use cornerwise_geometry::furniture::Arrangement;
use cornerwise_project::{Edit, FurniturePart};
use egui::Ui;

use super::super::fit::told;
use super::super::head::{field, heading, row};
use super::{Made, allowed};
use crate::commands::Command;
use crate::scene::Ask;

fn edit(arrangement: Arrangement) -> Edit {
    Edit::SetFurniture { part: FurniturePart::Arrangement(arrangement) }
}

pub(super) fn show(ui: &mut Ui, made: &Made<'_>, asks: &mut Vec<Ask>) {
    heading(ui, "Legs together");
    let now = &made.assembly.furniture.arrangement;
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        for (command, word) in [
            (Command::StandColumn, "One"),
            (Command::StandRectangle, "Four"),
            (Command::StandCircle, "Three"),
            (Command::StandRow, "Row"),
        ] {
            let chosen = match now {
                Arrangement::Column => command == Command::StandColumn,
                Arrangement::Rectangle { .. } => command == Command::StandRectangle,
                Arrangement::Circle { .. } => command == Command::StandCircle,
                Arrangement::Row { .. } => command == Command::StandRow,
            };
            let button = ui.selectable_label(chosen, word).on_hover_text(command.tooltip(ui.ctx()));
            if button.accessible_name(command.label()).clicked() && !chosen {
                asks.push(Ask::Command(command));
            }
        }
    });
    let (scene, project) = (made.scene, made.scene.project);
    let take = |ui: &mut Ui, caption: &'static str, value: &Length, with: &dyn Fn(Length) -> Arrangement| {
        let check = |length: &Length| allowed(project, &edit(with(length.clone())));
        field(scene, caption, "furniture", 2).length(ui, value, scene.units(), check).map(|length| edit(with(length)))
    };
    let edits = row(ui, |ui| match now {
        Arrangement::Column => [None, None],
        Arrangement::Rectangle { width, depth } => [
            take(ui, "Width", width, &|width| Arrangement::Rectangle { width, depth: depth.clone() }),
            take(ui, "Depth", depth, &|depth| Arrangement::Rectangle { width: width.clone(), depth }),
        ],
        Arrangement::Circle { radius } => [take(ui, "Radius", radius, &|radius| Arrangement::Circle { radius }), None],
        Arrangement::Row { spacing, count } => {
            let spacing_edit = take(ui, "Spacing", spacing, &|spacing| Arrangement::Row { spacing, count: *count });
            let with = |count: f64| edit(Arrangement::Row { spacing: spacing.clone(), count: count as u32 });
            let check = |count: f64| {
                if count == count.round() && count >= 1.0 {
                    allowed(project, &with(count))
                } else {
                    Err("this takes a whole number".to_owned())
                }
            };
            let count = field(scene, "How many", "furniture", 2).number(ui, f64::from(*count), "", check);
            [spacing_edit, count.map(with)]
        }
    });
    asks.extend(edits.into_iter().flatten().map(Ask::Edit));
    match now {
        Arrangement::Column => told(ui, "A single column, or a lamp."),
        Arrangement::Rectangle { .. } | Arrangement::Circle { .. } => {
            told(ui, "Axis to axis: exactly the outside of an apron frame, and of a shelf.");
        }
        Arrangement::Row { .. } => told(ui, "From one axis to the next."),
    }
}

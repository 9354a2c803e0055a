//! The blank's sizes.

use cornerwise_geometry::{Cut, Length, Line};
use cornerwise_project::{BlankSize, Edit, Stretch};
use egui::{Align, Button, Layout, Ui};

use super::{allowed, field, heading, row};
use crate::scene::{Ask, Scene};
use crate::view::View;

pub(super) fn show(ui: &mut Ui, scene: &Scene<'_>, view: &mut View, asks: &mut Vec<Ask>) {
    ui.horizontal(|ui| {
        heading(ui, "Blank");
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let button = ui.add(Button::selectable(view.panels.mock_up, "Mock-up"));
            if button.on_hover_text("The leg in proportion for a scrap blank").clicked() {
                view.panels.mock_up = !view.panels.mock_up;
            }
        });
    });
    sizes(ui, scene, "blank", asks);
}

/// Fields for all its sizes, in rows; `group` goes before their names.
pub(in crate::views) fn sizes(ui: &mut Ui, scene: &Scene<'_>, group: &str, asks: &mut Vec<Ask>) {
    let blank = &scene.design.blank;
    let rows: [&[(&str, BlankSize, &Length)]; 2] = [
        &[
            ("Width", BlankSize::Width, &blank.width),
            ("Depth", BlankSize::Depth, &blank.depth),
            ("Length", BlankSize::Length, &blank.length),
        ],
        &[
            ("Spare at top", BlankSize::SpareTop, &blank.spare_top),
            ("Spare at foot", BlankSize::SpareFoot, &blank.spare_foot),
        ],
    ];
    for sizes in rows {
        row(ui, |ui| {
            for (caption, size, value) in sizes {
                let design = scene.design.id;
                // Drawn points would stay where they are; a leg made longer or shorter takes them along.
                let drawn =
                    Cut::ALL.iter().any(|cut| matches!(scene.design.line(*cut), Line::Points(_) | Line::Batten(_)));
                let edit = |value| match size {
                    BlankSize::Length if drawn => Edit::StretchLeg { design, length: value, keep: Stretch::Everything },
                    _ => Edit::SetBlankSize { design, size: *size, value },
                };
                let check = |length: &Length| allowed(scene, &edit(length.clone()));
                if let Some(length) = field(scene, caption, group, 3).length(ui, value, scene.reading(), check) {
                    asks.push(Ask::Edit(edit(still_said(scene, length, &edit))));
                }
            }
        });
    }
}

/// The length with its text, if on the blank that it makes the text still comes to it: `L - 20` is a way to type a length
/// 20 mm shorter, but no name for it afterwards.
fn still_said(scene: &Scene<'_>, length: Length, edit: &impl Fn(Length) -> Edit) -> Length {
    let next = scene.project.apply(&edit(length.clone())).ok();
    let sizes = next.as_ref().and_then(|next| next.design(scene.design.id)).map(|design| design.blank.sizes());
    match sizes {
        Some(sizes) if length.text_on(&sizes).is_none() => Length::from_mm(length.mm()),
        _ => length,
    }
}

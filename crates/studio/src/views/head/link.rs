//! Whether the second cut follows from the first, and how.

use cornerwise_geometry::{Line, Link, LinkKind};
use cornerwise_project::Edit;
use egui::{ComboBox, RichText, Ui};

use super::{allowed, field, row};
use crate::scene::{Ask, Scene};
use crate::tokens::{self, Tokens};

/// The choice, and the shift where there is one.
pub(super) fn show(ui: &mut Ui, scene: &Scene<'_>, asks: &mut Vec<Ask>) {
    let design = scene.design.id;
    let link = match &scene.design.second {
        Line::Linked(link) => Some(link),
        _ => None,
    };
    let now = link.map(Link::kind);
    let shown = now.map_or("a line of its own", LinkKind::name);
    let choice = ComboBox::from_id_salt("link").width(166.0).selected_text(shown).show_ui(ui, |ui| {
        if ui.selectable_label(now.is_none(), "a line of its own").clicked() && now.is_some() {
            asks.push(Ask::Edit(Edit::BreakLink { design }));
        }
        for kind in LinkKind::ALL {
            if ui.selectable_label(now == Some(kind), kind.name()).clicked() && now != Some(kind) {
                asks.push(Ask::Edit(Edit::LinkCut { design, link: kind.start(scene.leg.length_mm) }));
            }
        }
    });
    choice
        .response
        .on_hover_text(
            "A linked second cut follows every change of the first, at the same distance from the middle of its face",
        )
        .accessible_name("second cut, link");
    if let Some(Link::Shifted { by }) = link {
        let edit = |by| Edit::LinkCut { design, link: Link::Shifted { by } };
        row(ui, |ui| {
            let field = field(scene, "Shift along", "second cut", 3);
            let taken = field.length(ui, by, scene.reading(), |length| allowed(scene, &edit(length.clone())));
            asks.extend(taken.map(|by| Ask::Edit(edit(by))));
        });
    }
    if link.is_some() {
        let t = Tokens::here(ui);
        let words = "Follows the first cut. Moving a point of it breaks the link.";
        ui.label(RichText::new(words).font(tokens::small()).color(t.soft));
    }
}

//! The post, and mortises or rows of dowels that the curves keep clear of.

use cornerwise_geometry::fit::Joint;
use cornerwise_geometry::{Length, Side};
use cornerwise_project::{Edit, FitPart, POST_STRAYS_MM};
use egui::{Button, RichText, Ui, vec2};

use super::super::head::{allowed, field, heading, row};
use super::{figure, told};
use crate::scene::{Ask, Scene};
use crate::tokens::{self, Tokens};
use crate::view::View;

fn edit(scene: &Scene<'_>, part: FitPart) -> Edit {
    Edit::SetFit { design: scene.design.id, part }
}

pub(super) fn show(ui: &mut Ui, scene: &Scene<'_>, view: &mut View, asks: &mut Vec<Ask>) {
    heading(ui, "Post and joints");
    let fit = &scene.design.fit;
    let becomes = |post: &Length| edit(scene, FitPart::Post(post.clone()));
    let post =
        field(scene, "Post", "fit", 2).length(ui, &fit.post, scene.reading(), |post| allowed(scene, &becomes(post)));
    asks.extend(post.map(|post| Ask::Edit(becomes(&post))));
    if fit.post.mm() > 0.0 {
        let strays = fit.post_strays_mm(scene.leg);
        let words = if strays <= POST_STRAYS_MM {
            "Straight down the middle; the two ordinary passes make it".to_owned()
        } else {
            format!("The lines stray {} within it", scene.units().show_with_unit(strays))
        };
        figure(ui, words);
    } else {
        told(ui, "A straight length at the top for joinery; 0 for none.");
    }
    for (index, joint) in fit.joints.iter().enumerate() {
        line(ui, scene, index, joint, view);
        if view.fit.joint == Some(index) {
            chosen(ui, scene, index, joint, asks);
        }
    }
    if ui.button("Add joint").on_hover_text("A mortise, or a row of dowels, in a side").clicked() {
        let mut joints = fit.joints.clone();
        joints.push(start(scene));
        view.fit.joint = Some(joints.len() - 1);
        asks.push(Ask::Edit(edit(scene, FitPart::Joints(joints))));
    }
}

/// A joint to begin with: beside the seam, near the top, a third of the side deep.
fn start(scene: &Scene<'_>) -> Joint {
    let least = scene.leg.width_mm.min(scene.leg.depth_mm);
    let round = |mm: f64| Length::from_mm((mm).round().max(1.0));
    Joint {
        side: Side::One,
        from_top: Length::from_mm(10.0),
        height: round((scene.leg.length_mm * 0.06).min(50.0)),
        width: round(least * 0.16),
        beside: round(least * 0.2),
        depth: round(least * 0.4),
    }
}

fn line(ui: &mut Ui, scene: &Scene<'_>, index: usize, joint: &Joint, view: &mut View) {
    let t = Tokens::here(ui);
    let chosen = view.fit.joint == Some(index);
    let place = format!("{} from top", scene.units().show_length(&joint.from_top));
    let colour = if chosen { t.on_chosen } else { t.soft };
    let button = Button::selectable(chosen, format!("Joint {}, {}", index + 1, joint.side))
        .shortcut_text(RichText::new(place).font(tokens::small()).color(colour))
        .min_size(vec2(ui.available_width(), 24.0));
    if ui.add(button).clicked() {
        view.fit.joint = if chosen { None } else { Some(index) };
        view.cursor_mm = joint.from_top.mm();
    }
}

fn chosen(ui: &mut Ui, scene: &Scene<'_>, index: usize, joint: &Joint, asks: &mut Vec<Ask>) {
    let group = format!("joint {}", index + 1);
    let all = |changed: Option<Joint>| {
        let mut joints = scene.design.fit.joints.clone();
        match changed {
            Some(changed) => joints[index] = changed,
            None => {
                joints.remove(index);
            }
        }
        edit(scene, FitPart::Joints(joints))
    };
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        for side in Side::ALL {
            let button = Button::selectable(joint.side == side, side.number().to_string()).min_size(vec2(36.0, 22.0));
            let response = ui.add(button).on_hover_text("The side it goes into");
            if response.accessible_name(format!("{group}, {side}")).clicked() && joint.side != side {
                asks.push(Ask::Edit(all(Some(Joint { side, ..joint.clone() }))));
            }
        }
    });
    type With = fn(&Joint, Length) -> Joint;
    let take = |ui: &mut Ui, caption: &'static str, value: &Length, with: With| {
        let becomes = |length: &Length| all(Some(with(joint, length.clone())));
        let check = |length: &Length| allowed(scene, &becomes(length));
        field(scene, caption, &group, 3).length(ui, value, scene.reading(), check).map(|length| becomes(&length))
    };
    row(ui, |ui| {
        let from = take(ui, "From top", &joint.from_top, |j, l| Joint { from_top: l, ..j.clone() });
        let height = take(ui, "Length", &joint.height, |j, l| Joint { height: l, ..j.clone() });
        let width = take(ui, "Width", &joint.width, |j, l| Joint { width: l, ..j.clone() });
        asks.extend([from, height, width].into_iter().flatten().map(Ask::Edit));
    });
    row(ui, |ui| {
        let beside = take(ui, "Beside seam", &joint.beside, |j, l| Joint { beside: l, ..j.clone() });
        let depth = take(ui, "Depth", &joint.depth, |j, l| Joint { depth: l, ..j.clone() });
        asks.extend([beside, depth].into_iter().flatten().map(Ask::Edit));
    });
    let mm = |mm: f64| scene.units().show_with_unit(mm);
    let there = joint.fit(scene.leg);
    figure(
        ui,
        format!(
            "Uneven by {}; {} behind it, {} beside it",
            mm(there.uneven_mm),
            mm(there.behind_mm),
            mm(there.beside_mm)
        ),
    );
    if let Some(seam) = there.straddles {
        figure(ui, format!("Straddles {seam}: it holds in two pieces"));
    }
    if ui.button("Delete joint").clicked() {
        asks.push(Ask::Edit(all(None)));
    }
}

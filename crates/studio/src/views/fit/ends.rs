//! Foot and top: what is trimmed after glue-up, and where the foot stands.

use cornerwise_geometry::Length;
use cornerwise_geometry::fit::Stance;
use cornerwise_project::{BlankSize, Edit};
use egui::Ui;

use super::super::head::{allowed, field, heading, row};
use super::figure;
use crate::scene::{Ask, Scene};

pub(super) fn show(ui: &mut Ui, scene: &Scene<'_>, asks: &mut Vec<Ask>) {
    heading(ui, "Foot and top");
    let blank = &scene.design.blank;
    row(ui, |ui| {
        for (caption, size, value) in [
            ("Trim at top", BlankSize::SpareTop, &blank.spare_top),
            ("Trim at foot", BlankSize::SpareFoot, &blank.spare_foot),
        ] {
            let becomes = |value: &Length| Edit::SetBlankSize { design: scene.design.id, size, value: value.clone() };
            let check = |length: &Length| allowed(scene, &becomes(length));
            if let Some(length) = field(scene, caption, "ends", 2).length(ui, value, scene.reading(), check) {
                asks.push(Ask::Edit(becomes(&length)));
            }
        }
    });
    let mm = |mm: f64| scene.units().show_with_unit(mm);
    let Stance { foot_mm: [toward, right], swing_mm, swing_at_mm, .. } = Stance::of(scene.leg, scene.design.fit.inside);
    let way = |mm_: f64, [plus, minus]: [&str; 2]| format!("{} {}", mm(mm_.abs()), if mm_ >= 0.0 { plus } else { minus });
    figure(
        ui,
        format!(
            "The foot stands {} and {} of the top, seen from outside",
            way(toward, ["in", "out"]),
            way(right, ["to the right", "to the left"])
        ),
    );
    let swing = swing_mm[0].hypot(swing_mm[1]);
    figure(ui, format!("Farthest from straight: {}, {} from the top", mm(swing), mm(swing_at_mm)));
    figure(ui, "Trimmed after glue-up; the foot levelled to the floor".to_owned());
}

//! Foot and top: what is trimmed after glue-up, and where the foot stands.

use cornerwise_geometry::Length;
use cornerwise_geometry::fit::Stance;
use cornerwise_project::{BlankSize, Edit};
use egui::Ui;

use super::super::head::{allowed, field, heading, row};
use super::{figure, told};
use crate::scene::{Ask, Scene};

/// Less than this is not told, mm.
const UNDER_MM: f64 = 0.05;

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
    let moved = |off: f64, [plus, minus]: [&str; 2]| {
        let word = if off >= 0.0 { plus } else { minus };
        (off.abs() >= UNDER_MM).then(|| format!("{} {word}", mm(off.abs())))
    };
    let ways = [moved(toward, ["in", "out"]), moved(right, ["to the right", "to the left"])];
    let ways: Vec<String> = ways.into_iter().flatten().collect();
    figure(
        ui,
        if ways.is_empty() {
            "The foot stands under the top".to_owned()
        } else {
            format!("The foot stands {} of the top, seen from outside", ways.join(" and "))
        },
    );
    let swing = swing_mm[0].hypot(swing_mm[1]);
    figure(ui, format!("Farthest from straight: {}, {} from the top", mm(swing), mm(swing_at_mm)));
    told(ui, "Trimmed after glue-up; the foot levelled to the floor.");
}

//! The waxed spacers that are at hand, and which notches have none.

use cornerwise_geometry::Length;
use cornerwise_project::{Edit, FitPart};
use egui::Ui;

use super::super::head::{allowed, field};
use super::{several, told};
use crate::scene::{Ask, Scene};

/// Two lengths closer than this are one spacer, mm: what a length shown in hundredths of a millimetre may hide.
const ALIKE_MM: f64 = 0.005;

fn edit(scene: &Scene<'_>, spacers: Vec<Length>) -> Edit {
    Edit::SetFit { design: scene.design.id, part: FitPart::Spacers(spacers) }
}

/// The field for their lengths, and a button that notes one for every notch.
pub(super) fn show(ui: &mut Ui, scene: &Scene<'_>, asks: &mut Vec<Ask>) {
    let (fit, reading) = (&scene.design.fit, scene.reading());
    let shown: Vec<String> = fit.spacers.iter().map(|length| reading.show(length)).collect();
    let read = |text: &str| -> Result<Vec<Length>, String> {
        if text.is_empty() { Ok(Vec::new()) } else { several::lengths(text, &reading) }
    };
    let check = |text: &str| allowed(scene, &edit(scene, read(text)?));
    let typed = field(scene, "Spacers at hand", "fit", 1).text(ui, &shown.join("; "), check);
    if let Some(Ok(spacers)) = typed.map(|text| read(&text)) {
        asks.push(Ask::Edit(edit(scene, spacers)));
    }
    let missing = fit.without_spacer();
    if missing.is_empty() {
        told(ui, "There is one for every notch, to be waxed and set in at glue-up.");
        return;
    }
    let numbers: Vec<String> = missing.iter().map(|place| (place + 1).to_string()).collect();
    let notches = if missing.len() == 1 { "notch" } else { "notches" };
    told(ui, format!("None for {notches} {}. A waxed spacer stands in each at glue-up.", numbers.join(", ")));
    if ui.button("Note one for each").on_hover_text("The lengths of waxed spacers that every notch needs").clicked() {
        let mut all = fit.spacers.clone();
        for notch in missing.iter().filter_map(|place| fit.notches.get(*place)) {
            if all.iter().all(|length| (length.mm() - notch.height_mm()).abs() > ALIKE_MM) {
                all.push(notch.height_mm().into());
            }
        }
        asks.push(Ask::Edit(edit(scene, all)));
    }
}

//! What is done to the whole line of a cut.

use cornerwise_geometry::{Cut, Length, MM_PER_INCH, Units};
use cornerwise_project::{Edit, LineTool};
use egui::{Button, Ui};

use crate::scene::{Ask, Scene};

/// How much more or less a line swings at one click.
const SWING_STEP: f64 = 1.1;

/// The menu, beside the cut's heading.
pub(super) fn show(ui: &mut Ui, scene: &Scene<'_>, cut: Cut, asks: &mut Vec<Ask>) {
    let menu = ui.menu_button("Whole line", |ui| {
        ui.set_min_width(200.0);
        let about = Length::from_mm(scene.leg.across_mm(cut) / 2.0);
        let [fair, few] = tolerances(scene.units());
        let swing = |factor| LineTool::ScaleSwing { factor, about: about.clone() };
        let tools = [
            ("Mirror across".to_owned(), LineTool::MirrorAcross),
            ("Turn end for end".to_owned(), LineTool::EndForEnd),
            ("Swing more".to_owned(), swing(SWING_STEP)),
            ("Swing less".to_owned(), swing(1.0 / SWING_STEP)),
            (format!("Make fairer, within {}", fair.0), LineTool::MakeFairer { tolerance: fair.1 }),
            (format!("Fewer points, within {}", few.0), LineTool::FewerPoints { tolerance: few.1 }),
        ];
        for (words, tool) in tools {
            let button = ui.add(Button::new(&words)).on_hover_text(explained(&tool));
            if button.clicked() {
                asks.push(Ask::Edit(Edit::ReshapeLine { design: scene.design.id, cut, tool }));
                ui.close();
            }
        }
    });
    menu.response.accessible_name(format!("{cut}, whole line"));
}

/// How far a line may move when it is made fairer, and when points are taken out: as said, and the length.
fn tolerances(units: Units) -> [(&'static str, Length); 2] {
    match units {
        Units::Millimetres => [("0.5 mm", 0.5.into()), ("0.2 mm", 0.2.into())],
        Units::Inches(_) => [("1/64\"", (MM_PER_INCH / 64.0).into()), ("1/128\"", (MM_PER_INCH / 128.0).into())],
    }
}

fn explained(tool: &LineTool) -> &'static str {
    match tool {
        LineTool::MirrorAcross => "What lay near one arris lies as near to the other",
        LineTool::EndForEnd => "What was at the top is at the foot",
        LineTool::Shift { .. } => "Along the leg",
        LineTool::ScaleSwing { .. } => "By a tenth, about the middle of the face",
        LineTool::MakeFairer { .. } => "Less bending; no place moves farther than that, and the ends stay",
        LineTool::FewerPoints { .. } => "No place of the line moves farther than that",
    }
}

//! What to buy and mill, and the plan from milling to glue-up: the same lists and the same words as on paper and on the
//! command line.

use std::sync::Arc;

use cornerwise_export::plan::plan;
use cornerwise_geometry::{LegError, Length};
use cornerwise_project::{BlankLine, Edit, FurniturePart, Project, Rough, blanks_from_board};
use egui::{Id, RichText, Ui};

use super::super::fit::{figure, told};
use super::super::head::{field, heading, row};
use super::{Made, allowed};
use crate::furniture_view::Told;
use crate::kept::Kept;
use crate::length_field::Field;
use crate::scene::Ask;
use crate::tokens::{self, GAP, Tokens};
use crate::view::View;

/// What the saw takes between two blanks, mm. Common practice, no source: a table saw's blade.
const KERF_MM: f64 = 3.2;

pub(super) fn tabs(ui: &mut Ui, view: &mut View) {
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        for told in Told::ALL {
            if ui.selectable_label(view.furniture.told == told, told.name()).clicked() {
                view.furniture.told = told;
            }
        }
    });
    ui.add_space(4.0);
}

/// Blanks and boards, and how many blanks come from a board of a given size.
pub(super) fn stock(ui: &mut Ui, made: &Made<'_>, asks: &mut Vec<Ask>) {
    let units = made.scene.units();
    let mm = |mm: f64| units.show_with_unit(mm);
    heading(ui, "Blanks, rough");
    let blanks = made.assembly.blank_list();
    let (mut feet, mut kg) = (0.0, 0.0);
    for BlankLine { design, hand, count, rough_mm: [long, wide, deep], board_feet, weight_kg } in &blanks {
        figure(
            ui,
            format!(
                "Leg {}: {count} × {} by {}, {} long",
                hand.label(design.letter),
                units.show(*wide),
                mm(*deep),
                mm(*long)
            ),
        );
        told(ui, format!("{board_feet:.2} board feet and {weight_kg:.1} kg each"));
        feet += board_feet * *count as f64;
        kg += weight_kg * *count as f64;
    }
    figure(ui, format!("In all {feet:.2} board feet, {kg:.1} kg"));
    let rough = &made.assembly.furniture.rough;
    row(ui, |ui| {
        let edit = |rough: Rough| Edit::SetFurniture { part: FurniturePart::Rough(rough) };
        type With = fn(&Rough, Length) -> Rough;
        let take = |ui: &mut Ui, caption: &'static str, value: &Length, with: With| {
            let check = |length: &Length| allowed(made.scene.project, &edit(with(rough, length.clone())));
            field(made.scene, caption, "rough", 2)
                .length(ui, value, units, check)
                .map(|l| Ask::Edit(edit(with(rough, l))))
        };
        let across = take(ui, "Added across", &rough.across, |r, across| Rough { across, ..r.clone() });
        let along = take(ui, "Added along", &rough.along, |r, along| Rough { along, ..r.clone() });
        asks.extend([across, along].into_iter().flatten());
    });
    ui.add_space(GAP);
    heading(ui, "Boards, finished");
    let boards = made.assembly.board_list();
    if boards.is_empty() {
        told(ui, "None.");
    }
    for line in boards {
        let [long, wide, thick] = line.size_mm;
        figure(
            ui,
            format!("{} × {}, {} by {}, {} thick", line.count, line.kind.name(), units.show(long), mm(wide), mm(thick)),
        );
    }
    ui.add_space(GAP);
    from_board(ui, made, &blanks);
}

/// How many blanks come from a board that is typed here; nothing of it is the project.
fn from_board(ui: &mut Ui, made: &Made<'_>, blanks: &[BlankLine]) {
    let units = made.scene.units();
    heading(ui, "Blanks from a board");
    let id = Id::unique("board to cut from");
    let start = [Length::from_mm(2000.0), Length::from_mm(150.0), Length::from_mm(60.0)];
    let mut board: [Length; 3] = ui.data(|data| data.get_temp(id)).unwrap_or(start);
    let width = (ui.available_width().min(280.0) - 12.0) / 3.0;
    row(ui, |ui| {
        for (caption, value) in ["Length", "Width", "Thickness"].into_iter().zip(&mut board) {
            let field = Field {
                id: Id::unique(("board", caption)),
                caption,
                name: format!("board to cut from, {}", caption.to_lowercase()),
                width,
                hint: "",
            };
            let sound =
                |length: &Length| if length.mm() > 0.0 { Ok(()) } else { Err("this takes more than 0".to_owned()) };
            if let Some(length) = field.length(ui, value, units, sound) {
                *value = length;
            }
        }
    });
    let sizes = board.clone().map(|side| side.mm());
    ui.data_mut(|data| data.insert_temp(id, board));
    for blank in blanks {
        let cut = blanks_from_board(sizes, blank.rough_mm, KERF_MM);
        let [along, beside, through] = cut.counts;
        let label = blank.hand.label(blank.design.letter);
        figure(ui, format!("{} for leg {label}: {along} along, {beside} beside, {through} through", cut.blanks()));
        if cut.blanks() > 0 {
            let [long, wide, thick] = cut.left_mm.map(|mm| units.show_with_unit(mm));
            told(ui, format!("Left over {long} along, {wide} across, {thick} through"));
        }
    }
    told(ui, format!("All cut one way along the board, saw kerfs of {} between them.", units.show_with_unit(KERF_MM)));
}

/// The plan, kept by its project.
#[derive(Default)]
pub(super) struct Plan {
    text: Kept<Arc<Project>, Result<Arc<String>, LegError>>,
}

impl Plan {
    pub(super) fn show(&mut self, ui: &mut Ui, project: &Arc<Project>) {
        let t = Tokens::here(ui);
        let text = self.text.get(Arc::clone(project), Arc::ptr_eq, |project| plan(project).map(Arc::new));
        match text {
            Ok(text) => {
                ui.spacing_mut().item_spacing.y = 3.0;
                for line in text.lines() {
                    let words = line.trim_start();
                    let indent = (line.len() - words.len()) as f32;
                    if words.is_empty() {
                        ui.add_space(GAP);
                    } else if indent == 0.0 {
                        ui.label(RichText::new(words).font(tokens::bold()).color(t.ink));
                    } else {
                        ui.horizontal_top(|ui| {
                            ui.add_space(4.0 * (indent - 2.0).max(0.0));
                            ui.vertical(|ui| {
                                ui.set_width(ui.available_width());
                                ui.label(RichText::new(words).font(tokens::small()).color(t.ink));
                            });
                        });
                    }
                }
            }
            Err(error) => {
                ui.label(RichText::new(format!("There is no plan yet: {error}")).color(t.wrong));
            }
        }
    }
}

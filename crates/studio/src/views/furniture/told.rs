//! What to buy and mill, and the plan from milling to glue-up: the same lists and the same words as on paper and on the
//! command line.

use std::sync::Arc;

use cornerwise_export::plan::plan;
use cornerwise_geometry::{LegError, Length};
use cornerwise_project::{BlankLine, Edit, FurniturePart, Project, Rough, STOCK_KERF_MM, StockBoard};
use egui::{RichText, Ui};

use super::super::fit::{figure, told};
use super::super::head::{field, heading, row};
use super::{Made, allowed};
use crate::furniture_view::Told;
use crate::kept::Kept;
use crate::scene::Ask;
use crate::tokens::{self, GAP, Tokens};
use crate::view::View;

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
    from_board(ui, made, &blanks, asks);
}

/// How the blanks are cut from boards of the size that the maker buys.
fn from_board(ui: &mut Ui, made: &Made<'_>, blanks: &[BlankLine], asks: &mut Vec<Ask>) {
    let units = made.scene.units();
    let mm = |mm: f64| units.show_with_unit(mm);
    let rough = &made.assembly.furniture.rough;
    let edit =
        |board: Option<StockBoard>| Edit::SetFurniture { part: FurniturePart::Rough(Rough { board, ..rough.clone() }) };
    heading(ui, "Blanks from boards");
    let mut wanted = rough.board.is_some();
    if ui.checkbox(&mut wanted, "Boards of one size").clicked() {
        asks.push(Ask::Edit(edit(wanted.then(StockBoard::default))));
    }
    let (Some(board), Some(list)) = (&rough.board, made.assembly.cut_list()) else { return };
    row(ui, |ui| {
        type With = fn(&StockBoard, Length) -> StockBoard;
        let mut take = |caption: &'static str, value: &Length, with: With| {
            let check = |length: &Length| allowed(made.scene.project, &edit(Some(with(board, length.clone()))));
            let typed = field(made.scene, caption, "board in stock", 3).length(ui, value, units, check);
            asks.extend(typed.map(|length| Ask::Edit(edit(Some(with(board, length))))));
        };
        take("Length", &board.length, |b, length| StockBoard { length, ..b.clone() });
        take("Width", &board.width, |b, width| StockBoard { width, ..b.clone() });
        take("Thickness", &board.thickness, |b, thickness| StockBoard { thickness, ..b.clone() });
    });
    let label = |line: usize| blanks.get(line).map_or_else(String::new, |line| line.hand.label(line.design.letter));
    figure(ui, if list.boards == 1 { "1 board".to_owned() } else { format!("{} boards", list.boards) });
    for row in &list.rows {
        let legs: Vec<String> = row.blanks.iter().map(|line| label(*line)).collect();
        told(ui, format!("Board {}, row {}: leg {}", row.board, row.row, legs.join(", leg ")));
    }
    for line in &list.too_large {
        figure(ui, format!("No such board holds a blank for leg {}", label(*line)));
    }
    for offcut in &list.offcuts {
        let [long, wide, thick] = offcut.size_mm;
        told(ui, format!("Offcut, {}: {} by {}, {} long", offcut.name, units.show(wide), mm(thick), mm(long)));
    }
    told(ui, format!("Rows are ripped, then crosscut; {} for each saw kerf.", mm(STOCK_KERF_MM)));
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

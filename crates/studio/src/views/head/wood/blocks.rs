//! Blocks: ready-made patterns, and an editor in which blocks are clicked.

use cornerwise_geometry::Length;
use cornerwise_project::{Edit, WoodPart};
use cornerwise_wood::{Block, BlockPreset, Blocks, SeamFit, Species, Wood};
use egui::{
    Button, Color32, ComboBox, Id, Rect, RichText, Role, Sense, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2,
};

use super::{ask, blank_span, lie_outside, outside_told, species_choice, two_woods};
use crate::length_field::Field;
use crate::scene::{Ask, Scene};
use crate::tokens::{self, Tokens};
use crate::views::head::{ROOM, allowed, field, row};

/// How much of the leg the editor shows for each width of the blank.
const SHOWN_WIDTHS: f64 = 1.6;

/// How many columns with blocks outside the blank are told one by one.
const MOST_TOLD: usize = 3;

/// What the presets were last asked for, and the wood that a click gives a block.
#[derive(Clone, Copy)]
struct Wanted {
    count: usize,
    fit: SeamFit,
    brush: Species,
    /// Whether the editor shows face 2.
    face_2: bool,
    chosen: Chosen,
}

/// The block whose figures are shown: places in the lists.
#[derive(Clone, Copy, Default, PartialEq)]
struct Chosen {
    column: usize,
    block: usize,
    /// Its width, in the list of the face that is shown.
    width: usize,
}

pub(super) fn show(ui: &mut Ui, scene: &Scene<'_>, blocks: &Blocks, asks: &mut Vec<Ask>) {
    let id = Id::unique(("blocks wanted", scene.design.id.0));
    let woods = two_woods(&scene.design.wood);
    let first = Wanted { count: 4, fit: SeamFit::CarriesOn, brush: woods[1], face_2: false, chosen: Chosen::default() };
    let mut wanted: Wanted = ui.data(|data| data.get_temp(id)).unwrap_or(first);
    presets(ui, scene, &mut wanted, woods, asks);
    editor(ui, scene, blocks, &mut wanted, asks);
    chosen_block(ui, scene, blocks, &mut wanted, asks);
    outside(ui, scene, blocks);
    climbs(ui, scene, blocks, asks);
    ui.data_mut(|data| data.insert_temp(id, wanted));
}

fn set(scene: &Scene<'_>, asks: &mut Vec<Ask>, blocks: Blocks) {
    asks.push(Ask::Edit(Edit::SetWood { design: scene.design.id, wood: Wood::Blocks(blocks) }));
}

fn presets(ui: &mut Ui, scene: &Scene<'_>, wanted: &mut Wanted, woods: [Species; 2], asks: &mut Vec<Ask>) {
    let size = [scene.leg.width_mm, scene.leg.depth_mm];
    row(ui, |ui| {
        let choice =
            ComboBox::from_id_salt("block pattern").width(104.0).selected_text("New pattern").show_ui(ui, |ui| {
                for kind in BlockPreset::ALL {
                    if ui.selectable_label(false, kind.name()).clicked() {
                        set(scene, asks, kind.build(size, wanted.count, wanted.fit, woods));
                    }
                }
            });
        choice
            .response
            .accessible_name("blocks, new pattern")
            .on_hover_text("Replaces the blocks by a ready-made pattern");
        let less = ui.add_enabled(wanted.count > 1, Button::new("−")).accessible_name("fewer columns");
        if less.on_hover_text("Columns of a new pattern").clicked() {
            wanted.count -= 1;
        }
        ui.label(wanted.count.to_string());
        let more = ui.add_enabled(wanted.count < 24, Button::new("+")).accessible_name("more columns");
        if more.on_hover_text("Columns of a new pattern").clicked() {
            wanted.count += 1;
        }
    });
    let fit =
        ComboBox::from_id_salt("block fit").width(ROOM - 12.0).selected_text(wanted.fit.name()).show_ui(ui, |ui| {
            for fit in SeamFit::ALL {
                ui.selectable_value(&mut wanted.fit, fit, fit.name());
            }
        });
    fit.response.accessible_name("blocks, fit of a new pattern");
    let made = BlockPreset::Checkerboard.fitted(wanted.count, wanted.fit);
    if made != wanted.count {
        let t = Tokens::here(ui);
        let climbing = BlockPreset::Climbing.fitted(wanted.count, wanted.fit);
        let words = format!("Made even: {made} columns ({climbing} where they climb)");
        ui.label(RichText::new(words).font(tokens::small()).color(t.soft));
    }
}

fn editor(ui: &mut Ui, scene: &Scene<'_>, blocks: &Blocks, wanted: &mut Wanted, asks: &mut Vec<Ask>) {
    row(ui, |ui| {
        for (word, face_2) in [("Face 1", false), ("Face 2", true)] {
            if ui.selectable_label(wanted.face_2 == face_2, word).clicked() && wanted.face_2 != face_2 {
                (wanted.face_2, wanted.chosen) = (face_2, Chosen::default());
            }
        }
        if let Some(species) = species_choice(ui, scene, "wood that a click gives", wanted.brush, 92.0) {
            wanted.brush = species;
        }
    });
    let across_mm = if wanted.face_2 { scene.leg.depth_mm } else { scene.leg.width_mm };
    let height = (f64::from(ROOM) / SHOWN_WIDTHS) as f32;
    let (rect, _) = ui.allocate_exact_size(vec2(ROOM, height), Sense::hover());
    let t = Tokens::here(ui);
    let px_per_mm = f64::from(height) / across_mm.max(1e-6);
    let shown_mm = f64::from(ROOM) / px_per_mm.max(1e-6);
    for (i, cell) in
        blocks.cells([scene.leg.width_mm, scene.leg.depth_mm], wanted.face_2, shown_mm).into_iter().enumerate()
    {
        let at = |s: f64, across: f64| rect.min + vec2((s * px_per_mm) as f32, (across * px_per_mm) as f32);
        let place = Rect::from_two_pos(at(cell.from_s_mm, cell.from_across_mm), at(cell.to_s_mm, cell.to_across_mm));
        let place = place.intersect(rect);
        let response = ui.interact(place, Id::unique(("block", scene.design.id.0, wanted.face_2, i)), Sense::click());
        let name = format!("column {}, block {}, {}", cell.column + 1, cell.block + 1, cell.species.name());
        response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &name));
        let [r, g, b] = cell.species.colour();
        ui.painter().rect_filled(place, 0.0, Color32::from_rgb(r, g, b));
        let of = Chosen { column: cell.column, block: cell.block, width: cell.width };
        let chosen = wanted.chosen == of;
        let lit = response.hovered() || response.has_focus();
        let edge = if lit || chosen { Stroke::new(2.0, t.ink) } else { Stroke::new(1.0, t.halo) };
        ui.painter().rect_stroke(place, 0.0, edge, StrokeKind::Inside);
        if chosen {
            // A light line within the dark one: it shows on any wood.
            ui.painter().rect_stroke(place.shrink(2.0), 0.0, Stroke::new(1.0, t.halo), StrokeKind::Inside);
        }
        let words = if cell.species == wanted.brush {
            format!("{name} already: click to choose it")
        } else {
            format!("{name}: click to make it {}; right-click to choose it only", wanted.brush.name())
        };
        let response = response.on_hover_text(words);
        let clicked = response.clicked();
        if clicked || response.secondary_clicked() || response.gained_focus() {
            wanted.chosen = of;
        }
        if let Some(block) = blocks.columns.get(cell.column).and_then(|column| column.blocks.get(cell.block))
            && clicked
        {
            let block = Block { species: wanted.brush, ..block.clone() };
            ask(scene, asks, WoodPart::Block { column: cell.column, index: cell.block, block });
        }
    }
    ui.painter().rect_stroke(rect, 0.0, Stroke::new(1.0, t.edge), StrokeKind::Inside);
    let top = pos2(rect.left() + 3.0, rect.bottom() - 2.0);
    crate::paint::label(ui.painter(), t, top, egui::Align2::LEFT_BOTTOM, "top", tokens::small(), t.ink);
    let all = ui
        .button("Every block by itself")
        .on_hover_text("Lists every block of the blank, so that each can be given a wood of its own");
    if all.clicked() {
        set(scene, asks, blocks.spelled_out([scene.leg.width_mm, scene.leg.depth_mm], scene.leg.length_mm));
    }
}

/// The figures of the chosen block: its height, its column's width and shift; a block more, or one less.
fn chosen_block(ui: &mut Ui, scene: &Scene<'_>, blocks: &Blocks, wanted: &mut Wanted, asks: &mut Vec<Ask>) {
    let widths = if wanted.face_2 { &blocks.depths } else { &blocks.widths };
    let listed = |at: Chosen| {
        let column = blocks.columns.get(at.column)?;
        Some((column, column.blocks.get(at.block)?, widths.get(at.width)?))
    };
    // What was chosen may be gone.
    if listed(wanted.chosen).is_none() {
        wanted.chosen = Chosen::default();
    }
    let at = wanted.chosen;
    let Some((column, block, width)) = listed(at) else { return };
    let name = format!("column {}, block {}", at.column + 1, at.block + 1);
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        let t = Tokens::here(ui);
        ui.label(RichText::new(format!("Chosen: {name}")).font(tokens::small()).color(t.ink));
        let with = |change: &dyn Fn(&mut Vec<Block>)| {
            let mut changed = blocks.clone();
            if let Some(column) = changed.columns.get_mut(at.column) {
                change(&mut column.blocks);
            }
            changed
        };
        let more = ui.button("+").on_hover_text("One block more in this column, after the chosen one and like it");
        if more.accessible_name("a block more").clicked() {
            set(scene, asks, with(&|list| list.insert(at.block, block.clone())));
        }
        let less =
            ui.add_enabled(column.blocks.len() > 1, Button::new("×")).on_hover_text("One block less: the chosen one");
        if less.accessible_name("delete the chosen block").clicked() {
            set(
                scene,
                asks,
                with(&|list| {
                    list.remove(at.block);
                }),
            );
        }
    });
    type Put = fn(&mut Blocks, Chosen, bool, Length);
    let figures: [(&str, &str, &str, &Length, Put); 3] = [
        (
            "Height",
            "block height",
            "Of the chosen block; a column of one block is a stave from end to end",
            &block.height,
            |blocks, at, _, mm| {
                if let Some(block) =
                    blocks.columns.get_mut(at.column).and_then(|column| column.blocks.get_mut(at.block))
                {
                    block.height = mm;
                }
            },
        ),
        (
            "Width",
            "column width",
            "Of the chosen block's column, across the face that is shown",
            width,
            |blocks, at, face_2, mm| {
                let widths = if face_2 { &mut blocks.depths } else { &mut blocks.widths };
                if let Some(width) = widths.get_mut(at.width) {
                    *width = mm;
                }
            },
        ),
        (
            "Shift",
            "column shift",
            "How far the chosen block's column is moved toward the foot",
            &column.shift,
            |blocks, at, _, mm| {
                if let Some(column) = blocks.columns.get_mut(at.column) {
                    column.shift = mm;
                }
            },
        ),
    ];
    row(ui, |ui| {
        for (caption, figure, hint, value, put) in figures {
            let edit = |mm: &Length| {
                let mut changed = blocks.clone();
                put(&mut changed, at, wanted.face_2, mm.clone());
                Edit::SetWood { design: scene.design.id, wood: Wood::Blocks(changed) }
            };
            let check = |mm: &Length| allowed(scene, &edit(mm));
            // Each block has fields of its own, so that what is typed in one is not taken for another.
            let group = format!("blocks, {name}");
            let field = Field { name: format!("blocks, {figure}"), hint, ..field(scene, caption, &group, 3) };
            if let Some(mm) = field.length(ui, value, scene.reading(), check) {
                asks.push(Ask::Edit(edit(&mm)));
            }
        }
    });
}

/// What is listed and lies nowhere in the blank: else a width that takes all of it would hide the rest without a word.
fn outside(ui: &mut Ui, scene: &Scene<'_>, blocks: &Blocks) {
    let size = [scene.leg.width_mm, scene.leg.depth_mm];
    for (face, face_2) in [(1, false), (2, true)] {
        let columns = blocks.columns_outside(size, face_2);
        if !columns.is_empty() {
            outside_told(ui, &format!("{}, across face {face}", lie_outside("column", &columns)));
        }
    }
    let blocks_out = blocks.blocks_outside(size, blank_span(scene));
    let mut columns: Vec<usize> = blocks_out.iter().map(|(column, _)| *column).collect();
    columns.dedup();
    for column in columns.iter().take(MOST_TOLD) {
        let places: Vec<usize> = blocks_out.iter().filter(|(of, _)| of == column).map(|(_, block)| *block).collect();
        outside_told(ui, &format!("{}, in column {}", lie_outside("block", &places), column + 1));
    }
    if let more @ 1.. = columns.len().saturating_sub(MOST_TOLD) {
        outside_told(ui, &format!("and blocks of {more} more columns"));
    }
}

/// Shifts and rises, all columns together.
fn climbs(ui: &mut Ui, scene: &Scene<'_>, blocks: &Blocks, asks: &mut Vec<Ask>) {
    type Put = fn(&Blocks, Length) -> Blocks;
    let rows: [[(&str, &Length, Put); 2]; 2] = [
        [
            ("Rise across", &blocks.rise_across, |b, mm| Blocks { rise_across: mm, ..b.clone() }),
            ("Rise deep", &blocks.rise_deep, |b, mm| Blocks { rise_deep: mm, ..b.clone() }),
        ],
        [
            ("Shift across", &blocks.shift_across, |b, mm| Blocks { shift_across: mm, ..b.clone() }),
            ("Shift deep", &blocks.shift_deep, |b, mm| Blocks { shift_deep: mm, ..b.clone() }),
        ],
    ];
    for fields in rows {
        row(ui, |ui| {
            for (caption, value, put) in fields {
                let edit = |mm: &Length| Edit::SetWood {
                    design: scene.design.id,
                    wood: Wood::Blocks(put(blocks, mm.clone())),
                };
                let check = |mm: &Length| allowed(scene, &edit(mm));
                if let Some(mm) = field(scene, caption, "blocks", 2).length(ui, value, scene.reading(), check) {
                    asks.push(Ask::Edit(edit(&mm)));
                }
            }
        });
    }
}

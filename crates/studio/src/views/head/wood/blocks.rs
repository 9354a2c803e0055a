//! Blocks: ready-made patterns, and an editor in which blocks are clicked.

use cornerwise_geometry::Length;
use cornerwise_project::{Edit, WoodPart};
use cornerwise_wood::{Block, BlockPreset, Blocks, SeamFit, Species, Wood};
use egui::{Button, Color32, ComboBox, Id, Rect, Role, Sense, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2};

use super::{ask, part_allowed, species_choice, two_woods};
use crate::scene::{Ask, Scene};
use crate::tokens::{self, Tokens};
use crate::views::head::{ROOM, allowed, field, row};

/// How much of the leg the editor shows for each width of the blank.
const SHOWN_WIDTHS: f64 = 1.6;

/// What the presets were last asked for, and the wood that a click gives a block.
#[derive(Clone, Copy)]
struct Wanted {
    count: usize,
    fit: SeamFit,
    brush: Species,
    /// Whether the editor shows face 2.
    face_2: bool,
}

pub(super) fn show(ui: &mut Ui, scene: &Scene<'_>, blocks: &Blocks, asks: &mut Vec<Ask>) {
    let id = Id::unique(("blocks wanted", scene.design.id.0));
    let woods = two_woods(&scene.design.wood);
    let first = Wanted { count: 4, fit: SeamFit::CarriesOn, brush: woods[1], face_2: false };
    let mut wanted: Wanted = ui.data(|data| data.get_temp(id)).unwrap_or(first);
    presets(ui, scene, &mut wanted, woods, asks);
    editor(ui, scene, blocks, &mut wanted, asks);
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
}

fn editor(ui: &mut Ui, scene: &Scene<'_>, blocks: &Blocks, wanted: &mut Wanted, asks: &mut Vec<Ask>) {
    row(ui, |ui| {
        for (word, face_2) in [("Face 1", false), ("Face 2", true)] {
            ui.selectable_value(&mut wanted.face_2, face_2, word);
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
        let lit = response.hovered() || response.has_focus();
        let edge = if lit { Stroke::new(2.0, t.ink) } else { Stroke::new(1.0, t.halo) };
        ui.painter().rect_stroke(place, 0.0, edge, StrokeKind::Inside);
        let clicked = response.on_hover_text(format!("{name}: click to make it {}", wanted.brush.name())).clicked();
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
    // One width for all columns is what is changed most.
    let alike = |list: &[Length]| list.windows(2).all(|pair| pair[0].mm() == pair[1].mm());
    if let [width, ..] = blocks.widths.as_slice()
        && alike(&blocks.widths)
    {
        row(ui, |ui| {
            let edit = |mm: &Length| {
                let widths = vec![mm.clone(); blocks.widths.len()];
                Edit::SetWood { design: scene.design.id, wood: Wood::Blocks(Blocks { widths, ..blocks.clone() }) }
            };
            let check = |mm: &Length| allowed(scene, &edit(mm));
            if let Some(mm) = field(scene, "Column width", "blocks", 2).length(ui, width, scene.reading(), check) {
                asks.push(Ask::Edit(edit(&mm)));
            }
            if let Some((index, block)) = blocks.columns.first().and_then(|c| c.blocks.first()).map(|block| (0, block))
            {
                let part = |mm: &Length| WoodPart::Block {
                    column: 0,
                    index,
                    block: Block { height: mm.clone(), ..block.clone() },
                };
                let check = |mm: &Length| part_allowed(scene, part(mm));
                if let Some(mm) =
                    field(scene, "First block", "blocks", 2).length(ui, &block.height, scene.reading(), check)
                {
                    ask(scene, asks, part(&mm));
                }
            }
        });
    }
}

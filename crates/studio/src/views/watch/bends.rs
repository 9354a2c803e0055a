//! Which blade every bend needs: a row for each, and a click moves the cursor there.

use cornerwise_geometry::Cut;
use cornerwise_project::BendNeeds;
use egui::{Align2, CollapsingHeader, RichText, Role, Sense, Ui, WidgetInfo, pos2, vec2};

use crate::derive::Derived;
use crate::scene::Scene;
use crate::tokens::{self, Tokens};
use crate::view::View;

/// Height of a row, points.
const ROW_PX: f32 = 19.0;

/// The tightest bend of each cut and what goes round it, and all bends, folded until they are wanted.
pub fn show(ui: &mut Ui, scene: &Scene<'_>, view: &mut View, derived: &mut Derived) {
    let needs = scene.project.bend_needs(&derived.survey(scene));
    let t = Tokens::here(ui);
    for cut in Cut::ALL {
        let of = needs.iter().filter(|one| one.cut == cut);
        let Some(tightest) = of.min_by(|a, b| a.bend.radius_mm.total_cmp(&b.bend.radius_mm)) else { continue };
        let (radius, blade) = (scene.units().fine().show_with_unit(tightest.bend.radius_mm), blade_words(tightest));
        let words = format!("The {cut} bends to {radius}: {blade}");
        let colour = if tightest.goes_round { t.soft } else { t.ink };
        ui.label(RichText::new(words).font(tokens::small()).color(colour));
    }
    if needs.is_empty() {
        return;
    }
    let heading = RichText::new("Blade for each bend").font(tokens::small());
    CollapsingHeader::new(heading).id_salt("blade for each bend").show_unindented(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        for cut in Cut::ALL {
            let of: Vec<&BendNeeds> = needs.iter().filter(|one| one.cut == cut).collect();
            if !of.is_empty() {
                ui.label(
                    RichText::new(format!("{cut}, from top, radius, blade")).font(tokens::small()).color(t.cut(cut)),
                );
            }
            for one in of {
                row(ui, one, scene, view);
            }
        }
    });
}

/// What goes round a bend.
fn blade_words(one: &BendNeeds) -> String {
    match &one.blade {
        Some(blade) if one.goes_round => format!("this blade goes round; the widest is {blade}"),
        Some(blade) => format!("too tight for this blade, {blade} goes round"),
        None if one.goes_round => "this blade goes round".to_owned(),
        None => "no blade of the table goes round for certain".to_owned(),
    }
}

fn row(ui: &mut Ui, one: &BendNeeds, scene: &Scene<'_>, view: &mut View) {
    let t = Tokens::here(ui);
    let units = scene.units();
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), ROW_PX), Sense::click());
    let (at, radius) = (units.show_with_unit(one.bend.s_mm), units.fine().show_with_unit(one.bend.radius_mm));
    let blade = one.blade.as_deref().unwrap_or("none");
    response.widget_info(|| {
        let words = format!("bend of the {}, {at} from top, radius {radius}: {}", one.cut, blade_words(one));
        WidgetInfo::labeled(Role::Button, true, words)
    });
    if response.hovered() || response.has_focus() {
        ui.painter().rect_filled(rect, 2.0, t.raised_more);
    }
    let colour = if one.goes_round { t.soft } else { t.ink };
    let text = ui.painter_at(rect);
    let middle = rect.center().y;
    let put = |x: f32, align: Align2, words: &str| {
        text.text(pos2(x, middle), align, words, tokens::small(), colour);
    };
    put(rect.left() + 46.0, Align2::RIGHT_CENTER, &units.show(one.bend.s_mm));
    put(rect.left() + 98.0, Align2::RIGHT_CENTER, &units.fine().show(one.bend.radius_mm));
    put(rect.left() + 106.0, Align2::LEFT_CENTER, blade);
    if response.on_hover_text(blade_words(one)).clicked() {
        view.cursor_mm = one.bend.s_mm;
    }
}

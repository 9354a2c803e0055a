//! The faces of the chosen leg, unfolded below the furniture: its lines are drawn here, and every place that has it
//! follows.

use cornerwise_geometry::Cut;
use egui::{Id, Rect, RichText, Role, Sense, Shape, Stroke, Ui, WidgetInfo, pos2, vec2};

use super::super::{faces as face_rows, ruler_strip, shape};
use super::Made;
use crate::across::ScreenFromFaces;
use crate::gesture::Gesture;
use crate::patch::TexturePatch;
use crate::scene::Ask;
use crate::sheet::Sheet;
use crate::tokens::{self, Tokens};
use crate::view::{View, blank_stretch};

/// The bar that folds them away or out.
pub(super) fn bar(ui: &mut Ui, rect: Rect, made: &Made<'_>, view: &mut View) {
    let t = Tokens::here(ui);
    let response = ui.interact(rect, Id::unique("faces of the chosen leg"), Sense::click());
    let words = format!("Lines of leg {}", made.scene.design.letter);
    response.widget_info(|| WidgetInfo::selected(Role::Button, true, view.furniture.faces, &words));
    let fill = if response.hovered() { t.raised_more } else { t.raised };
    ui.painter().rect_filled(rect, 0.0, fill);
    ui.painter().hline(rect.x_range(), rect.top() + 0.5, Stroke::new(1.0, t.edge));
    let at = pos2(rect.left() + 18.0, rect.center().y);
    let arrow = if view.furniture.faces {
        vec![at + vec2(-5.0, -3.0), at + vec2(5.0, -3.0), at + vec2(0.0, 4.0)]
    } else {
        vec![at + vec2(-3.0, -5.0), at + vec2(4.0, 0.0), at + vec2(-3.0, 5.0)]
    };
    ui.painter().add(Shape::convex_polygon(arrow, t.soft, Stroke::NONE));
    let count = made.assembly.legs.iter().filter(|placed| placed.design.id == made.scene.design.id).count();
    let places = match count {
        0 => "stands nowhere here".to_owned(),
        1 => "1 place has it".to_owned(),
        more => format!("{more} places have it"),
    };
    let galley = ui.painter().layout_no_wrap(words, tokens::bold(), t.ink);
    let after = pos2(at.x + 14.0, rect.center().y - galley.size().y / 2.0);
    let end = after.x + galley.size().x + 12.0;
    ui.painter().galley(after, galley, t.ink);
    let places = egui::WidgetText::from(RichText::new(places).font(tokens::small())).into_galley(
        ui,
        None,
        f32::INFINITY,
        tokens::small(),
    );
    ui.painter().galley(pos2(end, rect.center().y - places.size().y / 2.0), places, t.soft);
    if response.has_focus() {
        ui.painter().rect_stroke(rect.shrink(1.0), 0.0, Stroke::new(1.0, t.ink), egui::StrokeKind::Inside);
    }
    if response.on_hover_text("Draw the lines of this leg here: every place that has it follows").clicked() {
        view.furniture.faces = !view.furniture.faces;
    }
}

/// The ruler and the faces.
#[allow(clippy::too_many_arguments, reason = "what a row is drawn from and what it changes")]
pub(super) fn show(
    ui: &mut Ui,
    area: Rect,
    patches: &[[Option<TexturePatch>; 2]],
    made: &Made<'_>,
    view: &mut View,
    sheets: &mut Vec<Sheet>,
    held: Option<&Gesture>,
    asks: &mut Vec<Ask>,
) -> ScreenFromFaces {
    let ruler = area.with_max_y(area.top() + ruler_strip::HEIGHT);
    let rect = area.with_min_y(ruler.bottom());
    let axis = view.ruler.axis(area.x_range(), blank_stretch(made.scene.design));
    let axis = shape::input(ui, area, axis, made.scene, view, None);
    let faces = ScreenFromFaces::new(axis, view.across, rect, made.scene.leg, view.shift_px);
    ruler_strip::show(ui, ruler, axis, made.scene, view);
    sheets.extend(Cut::ALL.map(|cut| faces.sheet(cut)));
    let canvas = face_rows::Canvas { rect, faces: &faces, patches, sheets, held, pointed: None };
    face_rows::show(ui, &canvas, made.scene, view, asks);
    faces
}

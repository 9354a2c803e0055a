//! The parameters of a live shape as handles on its line: diamonds that stand off it, so that its points stay free.

use cornerwise_geometry::{Line, ParameterValue};
use egui::{CursorIcon, Painter, Rect, Role, Sense, Stroke, Ui, Vec2, WidgetInfo, vec2};

use super::grips::{Area, diamond, keep_keys};
use crate::grip::{Grip, Part, Placed};
use crate::length_field::plain;
use crate::scene::Scene;
use crate::sheet::Sheet;
use crate::tokens::Tokens;

/// How far off the line a diamond stands, points.
const OFF_PX: f32 = 22.0;
/// From a diamond's middle to its corners, points.
const RADIUS_PX: f32 = 6.5;
/// How far from its middle it is taken hold of, points.
const TAKE_PX: f32 = 10.0;

/// Shows one. Where it is dragged to is read at the top of the next frame, as for points.
pub(super) fn show(ui: &Ui, painter: &Painter, area: &Area<'_>, sheet: &Sheet, placed: &Placed, scene: &Scene<'_>) {
    let t = Tokens::here(ui);
    let foot = sheet.pos(placed.at);
    let at = foot + off(area.rect, sheet, placed, scene);
    if !area.rect.contains(at) && !area.holds(placed.grip, sheet) {
        return;
    }
    let reach = Rect::from_center_size(at, Vec2::splat(2.0 * TAKE_PX));
    let response = ui.interact(reach, placed.id(scene.design, sheet), Sense::click_and_drag());
    response.widget_info(|| WidgetInfo::labeled(Role::GraphicsObject, true, placed.name()));
    keep_keys(ui, &response);
    let hot = response.hovered() || response.dragged() || area.holds(placed.grip, sheet);
    let has_focus = response.has_focus();
    let icon = match placed.grip.moves(scene.design) {
        [true, true] => CursorIcon::Move,
        [true, false] => CursorIcon::ResizeHorizontal,
        [false, _] => CursorIcon::ResizeVertical,
    };
    let response = response.on_hover_and_drag_cursor(icon);
    let colour = t.cut(sheet.cut);
    let short = (at - foot).normalized() * RADIUS_PX;
    painter.line_segment([foot, at - short], Stroke::new(3.5, t.halo));
    painter.line_segment([foot, at - short], Stroke::new(1.2, colour));
    painter.circle_filled(foot, 2.5, colour);
    diamond(painter, at, RADIUS_PX, if hot { colour } else { t.sheet }, Stroke::new(1.8, colour));
    if has_focus {
        painter.circle_stroke(at, RADIUS_PX + 4.0, Stroke::new(1.5, t.ink));
    }
    if area.held.is_none() {
        response.on_hover_text(figures(placed.grip, scene).join("\n"));
    }
}

/// From the line to the diamond: to the outside of the bend, where the line is not, or to the other side where there is no
/// room.
fn off(canvas: Rect, sheet: &Sheet, placed: &Placed, scene: &Scene<'_>) -> Vec2 {
    let [s, offset] = placed.at;
    let line = scene.leg.line(sheet.cut);
    let curvature = line.at(s).curvature;
    let middle = scene.leg.across_mm(sheet.cut) / 2.0;
    // At a crossing there is no outside: away from the other face.
    let grows = if curvature.abs() > 1e-6 { curvature < 0.0 } else { offset > middle };
    let down = sheet.across[1].signum() as f32 * if grows { 1.0 } else { -1.0 };
    let way = vec2(0.0, OFF_PX * down);
    let there = sheet.pos(placed.at) + way;
    if canvas.shrink(RADIUS_PX + 2.0).contains(there) { way } else { -way }
}

/// What it stands for, each parameter with its value, and where it is: `Swing 24.6 mm`.
pub(super) fn figures(grip: Grip, scene: &Scene<'_>) -> Vec<String> {
    let (Part::Shape(i), Line::Shape(shape)) = (grip.part, scene.design.line(grip.cut)) else { return Vec::new() };
    let handles = shape.handles(scene.leg.length_mm, scene.leg.across_mm(grip.cut));
    let Some(handle) = handles.into_iter().nth(i) else { return Vec::new() };
    let parameters = shape.parameters();
    let units = scene.units();
    let words = |index: usize| {
        let parameter = parameters.get(index)?;
        let value = match &parameter.value {
            ParameterValue::Length(length) => units.show_with_unit(length.mm()),
            ParameterValue::Number(number) => plain(*number),
            ParameterValue::Count(count) => count.to_string(),
        };
        Some(format!("{} {value}", parameter.name))
    };
    let mut lines: Vec<String> = [handle.across, handle.along].into_iter().flatten().filter_map(words).collect();
    lines.push(format!("{} from top", units.show_with_unit(handle.at[0])));
    lines
}

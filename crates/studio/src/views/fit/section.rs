//! The level section of the fitted leg at the cursor: a click on a piece turns it inside.

use cornerwise_geometry::fit::WoodLeft;
use cornerwise_geometry::{Leg, Piece};
use egui::{
    Align2, CursorIcon, Id, Pos2, Rect, RichText, Role, Sense, Shape, Stroke, StrokeKind, Ui, UiBuilder, WidgetInfo,
    vec2,
};

use super::{area, figure, inside};
use crate::scene::{Ask, Scene};
use crate::tokens::{self, GAP, Tokens};
use crate::view::View;

pub(super) fn show(ui: &mut Ui, rect: Rect, scene: &Scene<'_>, view: &View, asks: &mut Vec<Ask>) {
    let s_mm = view.cursor_mm.clamp(0.0, scene.leg.length_mm);
    let parting = (rect.top() + rect.width() + 26.0).min(rect.bottom() - 120.0).max(rect.top());
    draw(ui, rect.with_max_y(parting), scene, s_mm, asks);
    let inner = rect.with_min_y(parting).shrink2(vec2(GAP, 6.0));
    let mut ui = ui.new_child(UiBuilder::new().max_rect(inner).id_salt("fit section"));
    ui.set_clip_rect(rect.intersect(ui.clip_rect()));
    ui.spacing_mut().item_spacing.y = 3.0;
    let t = Tokens::here(&ui);
    let units = scene.units();
    ui.label(RichText::new(format!("{} from top", units.show_with_unit(s_mm))).font(tokens::bold()).color(t.ink));
    figure(&mut ui, format!("{} from the floor", units.show_with_unit(scene.leg.length_mm - s_mm)));
    let fit = &scene.design.fit;
    let left = WoodLeft::at(scene.leg, fit, s_mm).properties();
    let whole = scene.leg.width_mm * scene.leg.depth_mm;
    figure(
        &mut ui,
        format!("Wood: {}, {:.0} % of the square", area(units, left.area_mm2), 100.0 * left.area_mm2 / whole),
    );
    let [_, weak] = left.principal_mm4();
    let square =
        (scene.leg.width_mm * scene.leg.depth_mm.powi(3)).min(scene.leg.depth_mm * scene.leg.width_mm.powi(3)) / 12.0;
    figure(&mut ui, format!("Stiffness the weak way: {:.0} % of the square's", 100.0 * weak / square));
    if let Some(pipe) = &fit.pipe {
        figure(&mut ui, format!("Beside the hole: {}", units.show_with_unit(pipe.wood_left_mm(scene.leg, s_mm))));
    }
    match fit.notch_at(s_mm) {
        Some(notch) => figure(&mut ui, format!("In notch {}: {} is left out", notch + 1, fit.inside)),
        None => figure(&mut ui, format!("{}: {}", fit.inside, reach_words(scene, s_mm))),
    }
}

/// How far the inside piece reaches.
fn reach_words(scene: &Scene<'_>, s: f64) -> String {
    let leg: &Leg = scene.leg;
    let [u, v] = scene.design.fit.inside.reach(leg.width_mm, leg.depth_mm, leg.a(s), leg.b(s)).map(f64::abs);
    format!("{} × {}", scene.units().show(u), scene.units().show_with_unit(v))
}

fn draw(ui: &mut Ui, rect: Rect, scene: &Scene<'_>, s_mm: f64, asks: &mut Vec<Ask>) {
    let t = Tokens::here(ui);
    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 0.0, t.sheet);
    let leg: &Leg = scene.leg;
    let px_per_mm = super::super::section::px_per_mm(leg, rect.shrink2(vec2(34.0, 34.0)).size());
    let centre = rect.center() + vec2(0.0, 4.0);
    let pos = |[u, v]: [f64; 2]| centre - vec2((u * px_per_mm) as f32, (v * px_per_mm) as f32);
    let fit = &scene.design.fit;
    let left_out = fit.notch_at(s_mm).map(|_| fit.inside);
    for piece in Piece::ALL {
        let corners = piece.outline(leg.width_mm, leg.depth_mm, leg.a(s_mm), leg.b(s_mm), fit.chamfer_mm());
        let points: Vec<Pos2> = corners.iter().map(|corner| pos(*corner)).collect();
        one(ui, &painter, piece, points, left_out == Some(piece), scene, asks);
    }
    if let Some(pipe) = &fit.pipe {
        painter.circle_stroke(centre, (pipe.outside.mm() / 2.0 * px_per_mm) as f32, Stroke::new(1.2, t.soft));
    }
    toward_the_middle(&painter, t, rect, fit.inside);
    painter.circle_filled(centre, 2.0, t.ink);
    painter.text(rect.center_top() + vec2(0.0, 4.0), Align2::CENTER_TOP, "level section", tokens::small(), t.soft);
    painter.text(rect.center_bottom() - vec2(0.0, 4.0), Align2::CENTER_BOTTOM, "side 1", tokens::small(), t.soft);
}

fn one(
    ui: &Ui,
    painter: &egui::Painter,
    piece: Piece,
    points: Vec<Pos2>,
    left_out: bool,
    scene: &Scene<'_>,
    asks: &mut Vec<Ask>,
) {
    let t = Tokens::here(ui);
    let area = Rect::from_points(&points);
    let is_inside = scene.design.fit.inside == piece;
    let response = ui.interact(area.expand(1.0), Id::unique(("section piece", piece.number())), Sense::click());
    response
        .widget_info(|| WidgetInfo::selected(Role::RadioButton, true, is_inside, format!("section, {piece} inside")));
    let lively = response.hovered() || response.has_focus();
    if left_out {
        let closed: Vec<Pos2> = points.iter().copied().chain(points.first().copied()).collect();
        painter.extend(Shape::dashed_line(&closed, Stroke::new(1.2, t.soft), 4.0, 3.0));
    } else {
        let fill = if is_inside {
            t.chosen
        } else if lively {
            t.raised_more
        } else {
            t.ground
        };
        painter.add(Shape::convex_polygon(points, fill, Stroke::new(1.5, t.ink)));
    }
    if response.has_focus() {
        painter.rect_stroke(area, 0.0, Stroke::new(2.0, t.ink), StrokeKind::Outside);
    }
    if area.width() > 12.0 && area.height() > 14.0 {
        let colour = if is_inside && !left_out { t.on_chosen } else { t.ink };
        painter.text(area.center(), Align2::CENTER_CENTER, piece.number(), tokens::body(), colour);
    }
    let words = if is_inside { format!("{piece}, inside") } else { format!("{piece}. Click to turn it inside") };
    let response = response.on_hover_text(words).on_hover_cursor(CursorIcon::PointingHand);
    if response.clicked() {
        inside::ask(scene, piece, asks);
    }
}

/// An arrow in the corner that the inside piece points to.
fn toward_the_middle(painter: &egui::Painter, t: &Tokens, rect: Rect, inside: Piece) {
    let centre = rect.center() + vec2(0.0, 2.0);
    let [u, v] = inside.quadrant();
    let way = -vec2(u as f32, v as f32) / std::f32::consts::SQRT_2;
    let half = rect.shrink(20.0).size() / 2.0;
    let tip = centre + way * half.x.min(half.y) * std::f32::consts::SQRT_2;
    let back = tip - way * 15.0;
    let side = way.rot90() * 5.0;
    painter.line_segment([back, tip], Stroke::new(1.6, t.ink));
    painter.add(Shape::convex_polygon(vec![tip, tip - way * 8.0 + side, tip - way * 8.0 - side], t.ink, Stroke::NONE));
    let (align, aside) = if way.x > 0.0 { (Align2::RIGHT_CENTER, -16.0) } else { (Align2::LEFT_CENTER, 16.0) };
    painter.text(tip + vec2(aside, -way.y * 3.0), align, "middle", tokens::small(), t.soft);
}

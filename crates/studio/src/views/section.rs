//! The level section at the cursor, seen from above with side 1 toward the viewer, and its figures.

use cornerwise_geometry::{Piece, Station, Units};
use egui::{Align2, Pos2, Rect, RichText, Role, Sense, Shape, Stroke, Ui, UiBuilder, WidgetInfo, pos2, vec2};

use crate::scene::Scene;
use crate::tokens::{self, GAP, Tokens};
use crate::view::View;

/// Height of the figures, points.
const FIGURES_PX: f32 = 280.0;

/// Shows the section in the upper part of `rect` and its figures below.
pub fn show(ui: &mut Ui, rect: Rect, scene: &Scene<'_>, view: &View) {
    let s_mm = view.cursor_mm.clamp(0.0, scene.leg.length_mm);
    // Square, and less where the figures need the room.
    let figures_top = (rect.top() + rect.width() + 16.0).min(rect.bottom() - FIGURES_PX).max(rect.top());
    let drawing = Rect::from_min_max(rect.min, pos2(rect.right(), figures_top));
    draw(ui, drawing, scene, s_mm);
    figures(ui, Rect::from_min_max(pos2(rect.left(), figures_top), rect.max), scene, s_mm);
}

fn draw(ui: &Ui, rect: Rect, scene: &Scene<'_>, s_mm: f64) {
    let t = Tokens::here(ui);
    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 0.0, t.sheet);
    let leg = scene.leg;
    // As large as the farthest section of this leg needs, so that the scale stays while the cursor moves.
    let (a, b) = (leg.first.extent(), leg.second.extent());
    let reach = |most: f64, least: f64, across: f64| {
        most.clamp(0.0, across).max(across - least.clamp(0.0, across)).max(across / 2.0)
    };
    let (u, v) = (reach(a.most, a.least, leg.width_mm), reach(b.most, b.least, leg.depth_mm));
    let room = rect.shrink2(vec2(22.0, 24.0)).size();
    let px_per_mm = (f64::from(room.x) / (2.0 * u)).min(f64::from(room.y) / (2.0 * v)).max(1e-6);
    let centre = rect.center() + vec2(0.0, 4.0);
    let pos = |[u, v]: [f64; 2]| centre - vec2((u * px_per_mm) as f32, (v * px_per_mm) as f32);
    let section = leg.section(s_mm);
    for (piece, corners) in Piece::ALL.into_iter().zip(&section.pieces) {
        let points: Vec<Pos2> = corners.iter().map(|corner| pos(*corner)).collect();
        let area = Rect::from_points(&points);
        painter.add(Shape::convex_polygon(points, t.ground, Stroke::new(1.5, t.ink)));
        if area.width() > 12.0 && area.height() > 14.0 {
            painter.text(area.center(), Align2::CENTER_CENTER, piece.number(), tokens::body(), t.ink);
        }
    }
    let blank =
        Rect::from_center_size(centre, vec2((leg.width_mm * px_per_mm) as f32, (leg.depth_mm * px_per_mm) as f32));
    let outline = [blank.left_top(), blank.right_top(), blank.right_bottom(), blank.left_bottom(), blank.left_top()];
    painter.extend(Shape::dashed_line(&outline, Stroke::new(1.0, t.soft), 4.0, 4.0));
    super::ghost::on_section(&painter, t, pos, s_mm, scene);
    painter.circle_filled(centre, 2.5, t.ink);
    painter.text(rect.left_top() + vec2(8.0, 6.0), Align2::LEFT_TOP, "level section", tokens::small(), t.soft);
    painter.text(rect.center_bottom() - vec2(0.0, 4.0), Align2::CENTER_BOTTOM, "side 1", tokens::small(), t.soft);
}

fn figures(ui: &mut Ui, rect: Rect, scene: &Scene<'_>, s_mm: f64) {
    let inner = rect.shrink2(vec2(GAP, 6.0));
    let mut ui = ui.new_child(UiBuilder::new().max_rect(inner).id_salt("figures"));
    ui.set_clip_rect(rect.intersect(ui.clip_rect()));
    ui.spacing_mut().item_spacing.y = 3.0;
    let t = Tokens::here(&ui);
    let units = scene.units();
    ui.label(RichText::new(format!("{} from top", units.show_with_unit(s_mm))).font(tokens::bold()).color(t.ink));
    for (name, figure) in lines(&scene.leg.station(s_mm), scene.leg.core_mm(), units) {
        line(&mut ui, name, &figure);
    }
    ui.add_space(GAP);
    for (piece, size) in Piece::ALL.into_iter().zip(sizes(scene, s_mm)) {
        line(&mut ui, &piece.to_string(), &pair(units, size));
    }
}

fn line(ui: &mut Ui, name: &str, figure: &str) {
    let t = Tokens::here(ui);
    let (row, response) = ui.allocate_exact_size(vec2(ui.available_width().max(0.0), 19.0), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, format!("{name} {figure}")));
    let named = ui.painter().text(row.left_center(), Align2::LEFT_CENTER, name, tokens::small(), t.soft);
    // A long figure is set small rather than into its name.
    let wide = ui.painter().layout_no_wrap(figure.to_owned(), tokens::body(), t.ink).size().x;
    let font = if named.right() + 6.0 + wide > row.right() { tokens::small() } else { tokens::body() };
    ui.painter().text(row.right_center(), Align2::RIGHT_CENTER, figure, font, t.ink);
}

/// How wide and how deep each piece is, mm.
fn sizes(scene: &Scene<'_>, s_mm: f64) -> [[f64; 2]; 4] {
    scene.leg.section(s_mm).pieces.map(|corners| {
        let span = |i: usize| {
            let (least, most) = corners.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), corner| {
                (least.min(corner[i]), most.max(corner[i]))
            });
            most - least
        };
        [span(0), span(1)]
    })
}

/// Two lengths, as the report and the paper show them.
fn pair(units: Units, [a, b]: [f64; 2]) -> String {
    format!("{} × {}", units.show(a), units.show_with_unit(b))
}

/// The figures of a station, each with its name.
fn lines(at: &Station, core_mm: [f64; 2], units: Units) -> [(&'static str, String); 6] {
    [
        ("first cut", units.show_with_unit(at.a_mm)),
        ("second cut", units.show_with_unit(at.b_mm)),
        ("thickness", pair(units, at.thickness_mm)),
        ("edge angle", format!("{:.1}°", at.edge_angle_deg)),
        ("grain slope", format!("{:.2}", at.grain_slope)),
        ("core", pair(units, core_mm)),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_not_rounded_twice() {
        assert_eq!(pair(Units::Millimetres, [49.876, 50.0]), "49.88 × 50 mm");
    }
}

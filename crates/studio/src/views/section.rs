//! The level section at the cursor, seen from above with side 1 toward the viewer, and its figures.

use cornerwise_geometry::{Core, Cut, Leg, Piece, SawnStation, Station, Survey, Units};
use egui::{
    Align2, Id, Pos2, Rect, RichText, Role, ScrollArea, Sense, Shape, Stroke, Ui, UiBuilder, Vec2, WidgetInfo, pos2,
    vec2,
};

use crate::commands::Command;
use crate::scene::Scene;
use crate::tokens::{self, GAP, Tokens};
use crate::view::{LegAs, View};

/// Height of a line of figures, points.
const LINE_PX: f32 = 18.0;
/// How many lines of figures the leg as drawn has.
const DRAWN_LINES: f32 = 10.0;
/// The least height of the drawing, points.
const LEAST_DRAWING_PX: f32 = 110.0;
/// Steps and gaps below this are told as none, mm.
const NONE_MM: f64 = 0.005;

/// How much room the section and its figures would like in a column of this width, points.
pub fn wanted_px(width: f32, has_saw: bool) -> f32 {
    let lines = if has_saw { 16.0 } else { 11.0 };
    width.min(200.0) + 16.0 + LINE_PX * lines + 22.0
}

/// Shows the section in the upper part of `rect` and its figures below.
pub fn show(ui: &mut Ui, rect: Rect, scene: &Scene<'_>, survey: &Survey, view: &mut View) {
    let s_mm = view.cursor_mm.clamp(0.0, scene.leg.length_mm);
    let at = survey.measure(s_mm);
    let sawn = at.sawn.filter(|_| view.leg_as.sawn());
    let figures = figures_of(&at.drawn, sawn.as_ref(), scene, survey, s_mm);
    // Square, and less where the figures of the leg as drawn need the room: with those as sawn they are scrolled, and the
    // section stays as large.
    let needed = LINE_PX * (DRAWN_LINES + 1.0) + 22.0;
    let least = (rect.top() + LEAST_DRAWING_PX).min(rect.bottom());
    let figures_top = (rect.top() + rect.width() + 16.0).min(rect.bottom() - needed).max(least);
    let drawing = Rect::from_min_max(rect.min, pos2(rect.right(), figures_top));
    let has_choice = survey.sawn().is_some();
    draw(ui, drawing, scene, (view.leg_as, has_choice), sawn.as_ref(), s_mm);
    let words = match (sawn.is_some(), view.leg_as.drawn()) {
        (true, true) => {
            "The pieces as sawn, round them a fine line as drawn. Dashed: a square of the blank's size about the axis"
        }
        (true, false) => "The pieces as sawn. Dashed: a square of the blank's size about the axis",
        _ => "The pieces. Dashed: a square of the blank's size about the axis",
    };
    ui.interact(drawing, Id::unique("level section"), Sense::hover()).on_hover_text(words);
    if has_choice {
        choice(ui, drawing, view);
    }
    show_figures(ui, Rect::from_min_max(pos2(rect.left(), figures_top), rect.max), &figures, scene.units(), s_mm);
}

/// Drawn, sawn or both, on the line of the drawing's name.
fn choice(ui: &mut Ui, drawing: Rect, view: &mut View) {
    let rect = Rect::from_min_size(drawing.left_top() + vec2(4.0, 3.0), vec2(drawing.width() - 8.0, 20.0));
    let layout = egui::Layout::left_to_right(egui::Align::Center);
    let mut ui = ui.new_child(UiBuilder::new().max_rect(rect).id_salt("leg as").layout(layout));
    ui.spacing_mut().button_padding = vec2(4.0, 0.0);
    ui.spacing_mut().item_spacing.x = 2.0;
    ui.spacing_mut().interact_size.y = 18.0;
    let t = Tokens::here(&ui);
    ui.label(RichText::new("section").font(tokens::small()).color(t.soft));
    for one in LegAs::ALL {
        let words = RichText::new(one.name()).font(tokens::small());
        let button = ui.add(egui::Button::selectable(view.leg_as == one, words));
        button.widget_info(|| {
            WidgetInfo::selected(Role::RadioButton, true, view.leg_as == one, format!("leg as: {}", one.name()))
        });
        if button.on_hover_text(Command::LegAsSawn.tooltip(ui.ctx())).clicked() {
            view.leg_as = one;
        }
    }
}

fn draw(
    ui: &Ui,
    rect: Rect,
    scene: &Scene<'_>,
    (leg_as, has_choice): (LegAs, bool),
    sawn: Option<&SawnStation>,
    s_mm: f64,
) {
    let t = Tokens::here(ui);
    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 0.0, t.sheet);
    let leg = scene.leg;
    let px_per_mm = px_per_mm(leg, rect.shrink2(vec2(22.0, 24.0)).size());
    let centre = rect.center() + vec2(0.0, 4.0);
    let pos = |[u, v]: [f64; 2]| centre - vec2((u * px_per_mm) as f32, (v * px_per_mm) as f32);
    let section = leg.section(s_mm);
    let shows_drawn = sawn.is_none() || leg_as.drawn();
    let filled = sawn.map_or(section.pieces, |sawn| sawn.pieces);
    for (place, piece) in Piece::ALL.into_iter().enumerate() {
        if shows_drawn && sawn.is_some() {
            let points: Vec<Pos2> = section.pieces[place].iter().map(|corner| pos(*corner)).collect();
            painter.add(Shape::closed_line(points, Stroke::new(1.0, t.edge)));
        }
        let points: Vec<Pos2> = filled[place].iter().map(|corner| pos(*corner)).collect();
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
    if !has_choice {
        painter.text(rect.left_top() + vec2(8.0, 6.0), Align2::LEFT_TOP, "level section", tokens::small(), t.soft);
    }
    painter.text(rect.center_bottom() - vec2(0.0, 4.0), Align2::CENTER_BOTTOM, "side 1", tokens::small(), t.soft);
}

fn show_figures(ui: &mut Ui, rect: Rect, figures: &[(&'static str, String)], units: Units, s_mm: f64) {
    let inner = rect.shrink2(vec2(GAP, 6.0));
    let mut ui = ui.new_child(UiBuilder::new().max_rect(inner).id_salt("figures"));
    ui.set_clip_rect(rect.intersect(ui.clip_rect()));
    ui.spacing_mut().item_spacing.y = 0.0;
    let t = Tokens::here(&ui);
    ui.label(RichText::new(format!("{} from top", units.show_with_unit(s_mm))).font(tokens::bold()).color(t.ink));
    // As many as there is room for are in sight; the rest is scrolled to.
    ScrollArea::vertical().id_salt("figures").auto_shrink([false, false]).show(&mut ui, |ui| {
        for (name, figure) in figures {
            line(ui, name, figure);
        }
    });
}

/// The figures of a level, each with its name: those of the leg as drawn, and what the saw makes of it.
fn figures_of(
    at: &Station,
    sawn: Option<&SawnStation>,
    scene: &Scene<'_>,
    survey: &Survey,
    s_mm: f64,
) -> Vec<(&'static str, String)> {
    let units = scene.units();
    let small = |mm: f64| units.fine().show_with_unit(mm);
    let mut all = Vec::from(lines(at, scene.leg.core_mm(), units));
    if let Some(sawn) = sawn {
        all.push(("sawn size", pair(units, sawn.size_mm)));
        all.push(("sawn thick", pair(units, sawn.thickness_mm)));
        all.push(("sawn core", pair(units, Core::of_survey(survey).size_mm)));
        for (name, cut) in [("step, seams 1, 3", Cut::Second), ("step, seams 2, 4", Cut::First)] {
            all.push((name, small(sawn.step_of_mm(cut))));
        }
        if sawn.gap_mm > NONE_MM {
            all.push(("gap of halves", small(sawn.gap_mm)));
        }
    }
    let pieces = sawn.map_or(scene.leg.section(s_mm).pieces, |sawn| sawn.pieces);
    for (piece, corners) in ["piece 1", "piece 2", "piece 3", "piece 4"].into_iter().zip(pieces) {
        all.push((piece, pair(units, span(&corners))));
    }
    all
}

/// How large a level section is drawn in so much room: as the farthest section of the leg needs, so that the scale stays
/// while the cursor moves.
pub(super) fn px_per_mm(leg: &Leg, room: Vec2) -> f64 {
    let (a, b) = (leg.first.extent(), leg.second.extent());
    let reach = |most: f64, least: f64, across: f64| {
        most.clamp(0.0, across).max(across - least.clamp(0.0, across)).max(across / 2.0)
    };
    let (u, v) = (reach(a.most, a.least, leg.width_mm), reach(b.most, b.least, leg.depth_mm));
    (f64::from(room.x) / (2.0 * u)).min(f64::from(room.y) / (2.0 * v)).max(1e-6)
}

fn line(ui: &mut Ui, name: &str, figure: &str) {
    let t = Tokens::here(ui);
    let (row, response) = ui.allocate_exact_size(vec2(ui.available_width().max(0.0), LINE_PX), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, format!("{name} {figure}")));
    let name = ui.painter().text(row.left_center(), Align2::LEFT_CENTER, name, tokens::small(), t.soft);
    let galley = |font| ui.painter().layout_no_wrap(figure.to_owned(), font, t.ink);
    let mut figure = galley(tokens::body());
    // Smaller where it would run into its name.
    if figure.size().x > row.right() - name.right() - 6.0 {
        figure = galley(tokens::small());
    }
    let at = Align2::RIGHT_CENTER.anchor_size(row.right_center(), figure.size()).min;
    ui.painter().galley(at, figure, t.ink);
}

/// How wide and how deep a piece is, mm.
fn span(corners: &[[f64; 2]; 4]) -> [f64; 2] {
    [0, 1].map(|i| {
        let (least, most) = corners.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), corner| {
            (least.min(corner[i]), most.max(corner[i]))
        });
        most - least
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

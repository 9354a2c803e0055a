//! How the furniture stands: its weight, its footprint, the loads that tip it, the tilt it bears. Figures to compare; they
//! certify nothing.

use cornerwise_geometry::furniture::{Arrangement, BoardKind, tilt_tests};
use egui::{Align2, Pos2, RichText, Sense, Shape, Stroke, Ui, vec2};

use super::super::fit::{figure, told};
use super::super::head::heading;
use super::Made;
use crate::furnished::Stands;
use crate::tokens::{self, Tokens};

/// Height of the drawing, points.
const DRAWING_PX: f32 = 150.0;

pub(super) fn show(ui: &mut Ui, made: &Made<'_>, stands: &Stands) {
    heading(ui, "How it stands");
    told(ui, "Comparison, not compliance.");
    let units = made.scene.units();
    // A centre of mass is known to a millimetre at best: wood's weight differs from board to board.
    let mm = |mm: f64| units.show_with_unit(mm.round());
    figure(ui, format!("{:.1} kg, {} high", stands.weight_kg, mm(made.assembly.height_mm())));
    figure(ui, format!("Centre of mass {} above the floor", mm(stands.centre_mm[2])));
    let Some(stability) = &stands.stability else {
        told(ui, "It has no feet to stand on.");
        return;
    };
    drawing(ui, made, stands);
    figure(ui, format!("From below the centre to the nearest edge: {}", mm(stability.margin_mm)));
    let lone = made.assembly.legs.len() == 1 && made.assembly.furniture.base.is_none();
    if lone {
        told(ui, "A leg by itself: put it among others, or on a base, to see how it stands.");
    } else if stability.margin_mm <= 0.0 {
        let t = Tokens::here(ui);
        ui.label(RichText::new("It falls over by itself.").font(tokens::small()).color(t.wrong));
    } else {
        figure(ui, format!("Falls over when tilted {:.1}°, the worst way", stability.tilt_deg));
    }
    if let Some(top) = made.assembly.boards.iter().find(|board| board.kind == BoardKind::Top) {
        for (i, edge) in stability.tipping_edges(&top.solid.upper).into_iter().enumerate() {
            figure(
                ui,
                match edge.load_share {
                    Some(share) => {
                        format!("Top's edge {}: {:.0} kg at its middle tip it", i + 1, share * stands.weight_kg)
                    }
                    None => format!("Top's edge {}: within the feet, no load tips it", i + 1),
                },
            );
        }
    }
    let lamp =
        made.assembly.furniture.shade.is_some() || made.assembly.legs.iter().any(|placed| placed.fit.pipe.is_some());
    if matches!(made.assembly.furniture.arrangement, Arrangement::Column) && lamp {
        told(ui, "Published tilt tests to set beside it:");
        for test in tilt_tests() {
            figure(ui, format!("{:.0}°  {}", test.deg, test.name));
        }
        told(ui, "Wiring, earthing and strain relief follow the local electrical code and a licensed electrician.");
    }
}

/// The footprint, the top's outline and where the centre of mass lies, seen from above as the plan is.
fn drawing(ui: &mut Ui, made: &Made<'_>, stands: &Stands) {
    let t = Tokens::here(ui);
    let Some(stability) = &stands.stability else { return };
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), DRAWING_PX), Sense::hover());
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, "footprint, seen from above"));
    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 3.0, t.sheet);
    let top = made.assembly.boards.iter().find(|board| board.kind == BoardKind::Top).map(|board| &board.solid.upper);
    let all = || stability.footprint_mm.iter().chain(top.into_iter().flatten());
    let reach = |i: usize| all().map(|p| p[i].abs()).fold(1.0_f64, f64::max);
    let room = rect.shrink(20.0);
    let px_per_mm = (f64::from(room.width()) / (2.0 * reach(0))).min(f64::from(room.height()) / (2.0 * reach(1)));
    // As in the plan: place 1 at the right, below.
    let pos = |[u, v]: [f64; 2]| rect.center() - vec2((u * px_per_mm) as f32, (v * px_per_mm) as f32);
    let outline = |points: &[[f64; 2]]| -> Vec<Pos2> { points.iter().map(|p| pos(*p)).collect() };
    painter.add(Shape::convex_polygon(outline(&stability.footprint_mm), t.raised, Stroke::new(1.5, t.ink)));
    if let Some(top) = top {
        let mut points = outline(top);
        points.extend(points.first().copied());
        painter.extend(Shape::dashed_line(&points, Stroke::new(1.0, t.soft), 4.0, 3.0));
        for i in 0..top.len() {
            let (p, q) = (points[i], points[(i + 1) % top.len()]);
            let at = p + (q - p) / 2.0;
            let away = (at - rect.center()).normalized() * 8.0;
            painter.text(at + away, Align2::CENTER_CENTER, i + 1, tokens::small(), t.soft);
        }
    }
    let at = pos([stands.centre_mm[0], stands.centre_mm[1]]);
    for way in [vec2(5.0, 0.0), vec2(0.0, 5.0)] {
        painter.line_segment([at - way, at + way], Stroke::new(1.6, t.ink));
    }
    painter.circle_stroke(at, 4.0, Stroke::new(1.2, t.ink));
    let at = rect.left_top() + vec2(6.0, 4.0);
    painter.text(at, Align2::LEFT_TOP, "from above", tokens::small(), t.soft);
}

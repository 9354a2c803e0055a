//! The four stances side by side: the same leg with each of its pieces inside, named by what its foot really does. All are
//! seen the same way: the middle of the furniture is to the right and away.

use std::sync::Arc;

use cornerwise_geometry::fit::{Fit, Stance};
use cornerwise_geometry::furniture::Scene as Solids;
use cornerwise_geometry::{Camera, Leg, Piece};
use egui::{FontId, Id, Rect, Role, Sense, Shape, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2};

use super::inside;
use crate::furnished::{Patches, lone_scene, wood_skin};
use crate::kept::Kept;
use crate::scene::{Ask, Scene};
use crate::solid::{self, Room, Screen};
use crate::tokens::{self, GAP, Tokens};

/// How far to the left of straight in one looks from outside, degrees: what moves in or out is seen, and what moves aside.
const ASIDE_DEG: f64 = 60.0;
/// From how far above.
const TILT_DEG: f64 = 10.0;
/// Height of the words below a leg, points.
const WORDS_PX: f32 = 52.0;
/// How far slabs may stray, mm: the legs are small.
const STRAY_MM: f64 = 0.6;

type Stand = (Arc<Solids>, Arc<Vec<u32>>, Stance);

/// The stances, kept.
#[derive(Default)]
pub(super) struct Stances {
    all: Kept<(Arc<Leg>, Fit), Arc<[Stand; 4]>>,
}

/// A camera that has the way the inside piece points to the right and away.
fn camera_deg(piece: Piece) -> [f64; 2] {
    let [u, v] = piece.quadrant();
    [v.atan2(u).to_degrees() - 90.0 - ASIDE_DEG, TILT_DEG]
}

impl Stances {
    pub(super) fn show(&mut self, ui: &mut Ui, rect: Rect, patches: &Patches, scene: &Scene<'_>, asks: &mut Vec<Ask>) {
        let t = Tokens::here(ui);
        let painter = ui.painter_at(rect);
        painter.rect_filled(rect, 0.0, t.sheet);
        painter.hline(rect.x_range(), rect.top() + 0.5, Stroke::new(1.0, t.edge));
        let plain = Fit { inside: Piece::One, ..scene.design.fit.clone() };
        let same = |a: &(Arc<Leg>, Fit), b: &(Arc<Leg>, Fit)| Arc::ptr_eq(&a.0, &b.0) && a.1 == b.1;
        let all = self.all.get((Arc::clone(scene.leg), plain), same, |(leg, fit)| {
            Arc::new(Piece::ALL.map(|piece| {
                let solids = lone_scene(leg, &Fit { inside: piece, ..fit.clone() }, STRAY_MM);
                let [turn, tilt] = camera_deg(piece);
                let order = solids.draw_order(&Camera::new(turn, tilt));
                (Arc::new(solids), Arc::new(order), Stance::of(leg, piece))
            }))
        });
        let width = (rect.width() - 5.0 * GAP) / 4.0;
        for (i, (piece, stand)) in Piece::ALL.into_iter().zip(all.iter()).enumerate() {
            let left = rect.left() + GAP + i as f32 * (width + GAP);
            let card = Rect::from_min_max(pos2(left, rect.top() + GAP), pos2(left + width, rect.bottom() - GAP));
            one(ui, card, piece, stand, patches, scene, asks);
        }
    }
}

fn one(ui: &Ui, card: Rect, piece: Piece, stand: &Stand, patches: &Patches, scene: &Scene<'_>, asks: &mut Vec<Ask>) {
    let t = Tokens::here(ui);
    let (solids, order, stance) = stand;
    let chosen = scene.design.fit.inside == piece;
    let response = ui.interact(card, Id::unique(("stance", piece.number())), Sense::click());
    let name = stance.name();
    response.widget_info(|| WidgetInfo::selected(Role::RadioButton, true, chosen, format!("{piece} inside: {name}")));
    let painter = ui.painter_at(card);
    let fill = if response.hovered() { t.raised_more } else { t.raised };
    painter.rect_filled(card, 4.0, fill);
    let stroke = if chosen || response.has_focus() { Stroke::new(2.0, t.ink) } else { Stroke::new(1.0, t.hair) };
    painter.rect_stroke(card, 4.0, stroke, StrokeKind::Inside);
    let [turn, tilt] = camera_deg(piece);
    let room = Rect::from_min_max(card.min + vec2(8.0, 10.0), pos2(card.right() - 8.0, card.bottom() - WORDS_PX - 6.0));
    let screen = Screen::fitted(room, Camera::new(turn, tilt), &Room::of(solids.bodies()));
    plumb(&painter, t, &screen, scene.leg, piece);
    solid::paint(&painter, solids, order, &screen, ui.pixels_per_point(), |facet| wood_skin(patches, facet));
    let line = |words: String, font: FontId, down: f32| {
        let mut job = egui::text::LayoutJob::simple(words, font, t.ink, card.width() - 10.0);
        job.halign = egui::Align::Center;
        let galley = painter.layout_job(job);
        painter.galley(pos2(card.center().x, card.bottom() - WORDS_PX + down), galley, t.ink);
    };
    line(format!("{piece} inside"), tokens::bold(), 0.0);
    line(name.clone(), tokens::small(), 18.0);
    if response
        .on_hover_text(format!("{piece} inside: {name}. Seen from outside, the middle to the right and away"))
        .clicked()
    {
        inside::ask(scene, piece, asks);
    }
}

/// A plumb line from the middle of the top, and on the floor the way to the middle of the furniture.
fn plumb(painter: &egui::Painter, t: &Tokens, screen: &Screen, leg: &Leg, piece: Piece) {
    let at = [leg.width_mm / 2.0 - leg.a(0.0), leg.depth_mm / 2.0 - leg.b(0.0)];
    let (top, floor) = (screen.pos([at[0], at[1], -leg.length_mm]), screen.pos([at[0], at[1], 0.0]));
    painter.extend(Shape::dashed_line(&[top, floor], Stroke::new(1.0, t.soft), 5.0, 4.0));
    let [u, v] = piece.quadrant();
    let reach = leg.width_mm.max(leg.depth_mm);
    let way = |mm: f64| {
        let share = mm * std::f64::consts::FRAC_1_SQRT_2;
        screen.pos([at[0] + u * share, at[1] + v * share, 0.0])
    };
    let (from, tip) = (way(reach * 0.9), way(reach * 1.7));
    let along = (tip - from).normalized();
    painter.line_segment([from, tip], Stroke::new(1.5, t.soft));
    let side = along.rot90() * 3.5;
    painter.add(Shape::convex_polygon(
        vec![tip + along * 3.0, tip - along * 5.0 + side, tip - along * 5.0 - side],
        t.soft,
        Stroke::NONE,
    ));
}

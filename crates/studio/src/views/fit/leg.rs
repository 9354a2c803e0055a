//! The fitted leg upright: notches are open, and dragged by their brackets; a click on a piece turns it inside.

use std::sync::Arc;

use cornerwise_geometry::fit::Fit;
use cornerwise_geometry::furniture::{BodyPart, Scene as Solids};
use cornerwise_geometry::{Camera, Leg, Piece};
use egui::{Align2, CursorIcon, Id, Rect, Role, Sense, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2};

use super::super::leg as shape_leg;
use super::inside;
use crate::furnished::{Patches, lone_scene, wood_skin};
use crate::kept::Kept;
use crate::notch_hand::{Grip, NotchHand, Part, Spot};
use crate::paint;
use crate::scene::{Ask, Scene};
use crate::solid::{self, Order, Room, Screen, facet_at};
use crate::tokens::{self, GAP, Tokens};
use crate::view::View;

/// Room round the leg, points.
const MARGIN_PX: f32 = 16.0;
/// Room for the brackets at the right, points.
const BRACKETS_PX: f32 = 34.0;
/// How far slabs may stray from the curve, points.
const STRAY_PX: f64 = 0.25;
/// The least height of a bracket under the hand, points.
const LEAST_GRIP_PX: f32 = 14.0;

type OfSolids = (Arc<Leg>, Fit, f64);

/// The upright leg, and what is kept of it.
#[derive(Default)]
pub(super) struct Upright {
    solids: Kept<OfSolids, Arc<Solids>>,
    order: Order,
}

impl Upright {
    #[allow(clippy::too_many_arguments, reason = "what a view is drawn from and what it changes")]
    pub(super) fn show(
        &mut self,
        ui: &mut Ui,
        canvas: Rect,
        patches: &Patches,
        scene: &Scene<'_>,
        view: &mut View,
        hand: &mut NotchHand,
        asks: &mut Vec<Ask>,
    ) {
        let t = Tokens::here(ui);
        let painter = ui.painter_at(canvas);
        painter.rect_filled(canvas, 0.0, t.sheet);
        let response = ui.interact(canvas, Id::unique("fitted leg"), Sense::click_and_drag());
        response.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, "upright leg with what is fitted"));
        shape_leg::turn(ui, &response, &mut view.turn_deg, &mut view.tilt_deg);
        let room = canvas.shrink(MARGIN_PX);
        let room = room.with_max_x(room.right() - BRACKETS_PX);
        let tolerance = STRAY_PX / (f64::from(room.height()) / scene.leg.length_mm.max(1.0)).max(1e-6);
        let key = (Arc::clone(scene.leg), scene.design.fit.clone(), tolerance);
        let same = |a: &OfSolids, b: &OfSolids| Arc::ptr_eq(&a.0, &b.0) && a.1 == b.1 && a.2 == b.2;
        let solids = self.solids.get(key, same, |(leg, fit, tolerance)| Arc::new(lone_scene(leg, fit, *tolerance)));
        let angles = [view.turn_deg, view.tilt_deg];
        let camera = Camera::new(angles[0], angles[1]);
        let screen = Screen::fitted(room, camera, &Room::of(solids.bodies()));
        let order = self.order.of(&solids, angles);
        solid::paint(&painter, &solids, &order, &screen, ui.pixels_per_point(), |facet| wood_skin(patches, facet));
        let length = scene.leg.length_mm;
        let level = screen.pos([0.0, 0.0, view.cursor_mm.clamp(0.0, length) - length]).y;
        painter.hline(canvas.left()..=(canvas.left() + 9.0), level, Stroke::new(1.5, t.soft));
        let piece = response.hover_pos().and_then(|at| facet_at(&solids, &order, &screen, at)).and_then(|facet| {
            match facet.part {
                BodyPart::Piece { piece, .. } => Some(piece),
                BodyPart::Board(_) => None,
            }
        });
        if let Some(piece) = piece {
            told(ui, &response, piece, scene, asks);
        }
        if response.has_focus() {
            painter.rect_stroke(canvas.shrink(1.0), 0.0, Stroke::new(1.0, t.edge), StrokeKind::Inside);
        }
        response.on_hover_and_drag_cursor(if piece.is_some() { CursorIcon::PointingHand } else { CursorIcon::Grab });
        brackets(ui, canvas, &screen, scene, view, hand);
        let at = canvas.left_top() + vec2(GAP, 6.0);
        let words = format!("{} inside", scene.design.fit.inside);
        paint::label(&painter, t, at, Align2::LEFT_TOP, &words, tokens::small(), t.soft);
    }
}

/// A click on a piece turns it inside.
fn told(ui: &Ui, response: &egui::Response, piece: Piece, scene: &Scene<'_>, asks: &mut Vec<Ask>) {
    let words = if piece == scene.design.fit.inside {
        format!("{piece}, inside")
    } else {
        format!("{piece}. Click to turn it inside")
    };
    if !response.dragged() && !ui.input(|i| i.pointer.any_down()) {
        response.clone().on_hover_text_at_pointer(words);
    }
    if response.clicked() {
        inside::ask(scene, piece, asks);
    }
}

/// A bracket at the right for each notch.
fn brackets(ui: &Ui, canvas: Rect, screen: &Screen, scene: &Scene<'_>, view: &mut View, hand: &mut NotchHand) {
    let t = Tokens::here(ui);
    let painter = ui.painter_at(canvas);
    let length = scene.leg.length_mm;
    let [_, down] = screen.down_px();
    if down < 0.05 {
        return; // seen nearly along the axis, heights cannot be told
    }
    let right = canvas.right() - 8.0;
    for (index, notch) in scene.design.fit.notches.iter().enumerate() {
        let [upper, lower] = notch.span_mm().map(|s| screen.pos([0.0, 0.0, s - length]).y);
        let middle = f32::midpoint(upper, lower);
        let half = ((lower - upper) / 2.0).max(LEAST_GRIP_PX / 2.0);
        let rect = Rect::from_min_max(pos2(right - BRACKETS_PX, middle - half), pos2(right, middle + half));
        let grip = Grip { index, spot: Spot::Leg, part: Part::Whole, along: [0.0, down] };
        let response = hand.grip(ui, rect, grip, 0, scene, view);
        let chosen = view.fit.notch == Some(index);
        let lively = chosen || response.hovered() || response.has_focus() || response.dragged();
        let stroke = Stroke::new(if lively { 2.0 } else { 1.2 }, if lively { t.ink } else { t.soft });
        let x = right - 20.0;
        painter.vline(x, upper..=lower, stroke);
        for y in [upper, lower] {
            painter.hline((x - 8.0)..=x, y, stroke);
        }
        painter.text(pos2(right - 2.0, middle), Align2::RIGHT_CENTER, index + 1, tokens::small(), stroke.color);
    }
}

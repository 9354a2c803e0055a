//! Which way each stretch of each side is scraped or shaved, with the grain, as arrows along the sides.

use cornerwise_geometry::{End, Side, clean_ups};
use egui::{Align, Button, Layout, Painter, Pos2, Rect, RichText, Shape, Stroke, Ui, UiBuilder, vec2};

use super::sides;
use crate::commands::Command;
use crate::scene::{Ask, Scene};
use crate::tokens::{self, Tokens};
use crate::view::View;

/// From arrow to arrow along a stretch, points.
const APART_PX: f32 = 120.0;
/// The longest arrow, points.
const ARROW_PX: f32 = 40.0;
/// The shortest stretch that has an arrow, points.
const LEAST_PX: f32 = 14.0;

/// The button on the bar of the sides that shows them or not.
pub fn choice(ui: &mut Ui, bar: Rect, view: &View, asks: &mut Vec<Ask>) {
    let rect = Rect::from_min_max(bar.right_top() + vec2(-160.0, 4.0), bar.max - vec2(8.0, 3.0));
    let layout = Layout::right_to_left(Align::Center);
    let mut ui = ui.new_child(UiBuilder::new().max_rect(rect).id_salt("clean-up").layout(layout));
    ui.spacing_mut().button_padding = vec2(6.0, 0.0);
    ui.spacing_mut().interact_size.y = 20.0;
    let words = RichText::new(Command::CleanUp.label()).font(tokens::small());
    let button = ui.add(Button::selectable(view.clean_up, words));
    if button.on_hover_text(Command::CleanUp.tooltip(ui.ctx())).clicked() {
        asks.push(Ask::Command(Command::CleanUp));
    }
}

/// The arrows, half way between each seam and the upper edge of its side.
pub fn show(ui: &Ui, rect: Rect, screen: &sides::Screen, scene: &Scene<'_>, view: &View) {
    if !view.clean_up {
        return;
    }
    let t = Tokens::here(ui);
    let painter = ui.painter_at(rect);
    for side in Side::ALL {
        let at = |s: f64| screen.pos(side, s, sides::outline_of(scene.leg, side, s)[0] / 2.0);
        for one in clean_ups(scene.leg, side) {
            let px = at(one.to_mm).x - at(one.from_mm).x;
            if px < LEAST_PX {
                continue;
            }
            let count = (px / APART_PX).ceil().max(1.0);
            let half = f64::from((0.4 * px / count).min(ARROW_PX / 2.0) / px) * (one.to_mm - one.from_mm);
            for i in 0..count as usize {
                let middle = one.from_mm + (one.to_mm - one.from_mm) * (i as f64 + 0.5) / f64::from(count);
                let ends = [at(middle - half), at(middle + half)];
                if ends[1].x > rect.left() && ends[0].x < rect.right() {
                    arrow(&painter, t, ends, one.toward);
                }
            }
        }
    }
}

/// An arrow over a strip of the ground, with a head at the end it goes toward, or at both.
fn arrow(painter: &Painter, t: &Tokens, [top, foot]: [Pos2; 2], toward: Option<End>) {
    painter.line_segment([top, foot], Stroke::new(4.5, t.halo));
    painter.line_segment([top, foot], Stroke::new(1.6, t.ink));
    let along = (foot - top).normalized();
    let head = |tip: Pos2, along: egui::Vec2| {
        let back = tip - along * 7.0;
        let corners = |wide: f32, longer: f32| {
            vec![tip + along * longer, back + along.rot90() * wide, back - along.rot90() * wide]
        };
        painter.add(Shape::convex_polygon(corners(5.5, 2.0), t.halo, Stroke::NONE));
        painter.add(Shape::convex_polygon(corners(3.6, 0.0), t.ink, Stroke::NONE));
    };
    if toward != Some(End::Top) {
        head(foot, along);
    }
    if toward != Some(End::Foot) {
        head(top, -along);
    }
}

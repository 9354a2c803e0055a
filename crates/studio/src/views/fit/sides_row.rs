//! The four sides of the finished leg with what is fitted: where the inside piece is left out, the hole behind them, joints.

use cornerwise_geometry::{Piece, Side};
use egui::{Align2, Id, Painter, Pos2, Rect, Role, Sense, Shape, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2};

use super::super::sides;
use super::rows::{left_out, steps, take};
use crate::notch_hand::{NotchHand, Spot};
use crate::paint;
use crate::ruler::Axis;
use crate::scene::Scene;
use crate::tokens::{self, Tokens};
use crate::view::View;

/// The four sides of the finished leg: where the inside piece is left out, and the hole behind them.
pub(super) fn show(
    ui: &mut Ui,
    rect: Rect,
    axis: Axis,
    grounds: sides::Grounds<'_>,
    scene: &Scene<'_>,
    view: &mut View,
    hand: &mut NotchHand,
) {
    let t = Tokens::here(ui);
    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 0.0, t.sheet);
    painter.hline(rect.x_range(), rect.top() + 0.5, Stroke::new(1.0, t.edge));
    let ground = ui.interact(rect, Id::unique("fit sides"), Sense::click());
    ground.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, "sides 1 to 4 with what is fitted"));
    let screen = sides::Screen::new(axis, view.across, rect, scene);
    let shown = axis.shown();
    let (from, to) = (shown.from_mm.max(0.0), shown.to_mm.min(scene.leg.length_mm));
    if to > from {
        let stations = sides::stations(scene, from, to, 0.25);
        for side in Side::ALL {
            sides::wood(&painter, t, &screen, grounds, scene, side, &stations);
        }
    }
    paint::cursor(&painter, t, axis, rect, view.cursor_mm);
    for (row, side) in Side::ALL.into_iter().enumerate() {
        let upper = inside_above(side, scene.design.fit.inside);
        if let Some(upper) = upper {
            kept_numbers(&painter, t, &screen, scene, side, upper);
        }
        for (index, notch) in scene.design.fit.notches.iter().enumerate() {
            let Some(upper) = upper else { continue };
            let [from, to] = notch.span_mm();
            let line: Vec<[Pos2; 2]> = steps(scene.leg, from, to)
                .into_iter()
                .map(|s| {
                    let edge = sides::outline_of(scene.leg, side, s)[usize::from(!upper)];
                    [screen.pos(side, s, edge), screen.pos(side, s, 0.0)]
                })
                .collect();
            left_out(&painter, t, &line, view.fit.notch == Some(index));
            let all = Rect::from_points(&line.iter().flatten().copied().collect::<Vec<_>>());
            take(ui, all.top()..=all.bottom(), axis, index, notch, Spot::Sides, row, scene, view, hand);
        }
        seam_and_name(&painter, t, &screen, scene, side, upper.is_some());
        hole(&painter, t, &screen, scene, side);
        joints(&painter, t, &screen, scene, side);
    }
}

/// Whether the inside piece is the part of a side above its seam, or below; nothing where it is not on that side.
fn inside_above(side: Side, inside: Piece) -> Option<bool> {
    let [smaller, greater] = side.pieces();
    let above = if sides::down_grows(side) { smaller } else { greater };
    if inside == above {
        Some(true)
    } else if [smaller, greater].contains(&inside) {
        Some(false)
    } else {
        None
    }
}

/// The numbers of the inside piece's parts, along their middles.
fn kept_numbers(painter: &Painter, t: &Tokens, screen: &sides::Screen, scene: &Scene<'_>, side: Side, upper: bool) {
    let list = scene.design.fit.crosscut(scene.leg);
    if list.parts.len() < 2 {
        return;
    }
    for part in list.parts.iter().filter(|part| part.kept) {
        let [from, to] = part.span_mm;
        let s = f64::midpoint(from.max(0.0), to.min(scene.leg.length_mm));
        let edge = sides::outline_of(scene.leg, side, s)[usize::from(!upper)];
        let (outer, seam) = (screen.pos(side, s, edge), screen.pos(side, s, 0.0));
        let words = format!("part {}", part.number);
        let wide = painter.layout_no_wrap(words.clone(), tokens::small(), t.ink).size();
        let room = screen.pos(side, to, 0.0).x - screen.pos(side, from, 0.0).x;
        if (outer.y - seam.y).abs() > wide.y + 4.0 && room > wide.x + 8.0 {
            let at = pos2(outer.x, f32::midpoint(outer.y, seam.y));
            paint::label(painter, t, at, Align2::CENTER_CENTER, &words, tokens::small(), t.ink);
        }
    }
}

fn seam_and_name(
    painter: &Painter,
    t: &Tokens,
    screen: &sides::Screen,
    scene: &Scene<'_>,
    side: Side,
    has_inside: bool,
) {
    let ends = [screen.pos(side, 0.0, 0.0), screen.pos(side, scene.leg.length_mm, 0.0)];
    painter.line_segment(ends, Stroke::new(1.0, t.ink));
    let highest = sides::outline_of(scene.leg, side, 0.0)[0];
    let at = screen.pos(side, 0.0, highest);
    let at = pos2(at.x.max(painter.clip_rect().left()) + 6.0, at.y - 1.0);
    let words = if has_inside { format!("{side}, has {}", scene.design.fit.inside) } else { side.to_string() };
    paint::label(painter, t, at, Align2::LEFT_BOTTOM, &words, tokens::small(), t.ink);
}

/// The pipe's hole behind a side, and where it comes closest to an edge.
fn hole(painter: &Painter, t: &Tokens, screen: &sides::Screen, scene: &Scene<'_>, side: Side) {
    let Some(pipe) = &scene.design.fit.pipe else { return };
    // Its square's diagonal lies across the leg: twice the chamfer's leg.
    let half = pipe.chamfer_mm();
    for down in [-half, half] {
        let ends = [screen.pos(side, 0.0, down), screen.pos(side, scene.leg.length_mm, down)];
        painter.line_segment(ends, Stroke::new(2.5, t.halo));
        painter.extend(Shape::dashed_line(&ends, Stroke::new(1.1, t.ink), 6.0, 4.0));
    }
    let thin = pipe.fit(scene.leg).thinnest;
    // Where a side comes near the axis, that is seen as an edge of the sides beside it.
    let edges = sides::outline_of(scene.leg, side, thin.s_mm);
    let beside = sides::outline_cut(side) == thin.side.cut();
    if beside {
        let near = usize::from(edges[1].abs() < edges[0].abs());
        let (outer, inner) = (edges[near], half * edges[near].signum());
        let ends = [screen.pos(side, thin.s_mm, inner), screen.pos(side, thin.s_mm, outer)];
        painter.line_segment(ends, Stroke::new(4.0, t.halo));
        painter.line_segment(ends, Stroke::new(2.0, if thin.mm > 0.0 { t.ink } else { t.wrong }));
        let at = ends[1] + vec2(6.0, 0.0);
        let words = scene.units().show_with_unit(thin.mm);
        paint::label(painter, t, at, Align2::LEFT_CENTER, &words, tokens::small(), t.ink);
    }
}

/// Joints cut into a side.
fn joints(painter: &Painter, t: &Tokens, screen: &sides::Screen, scene: &Scene<'_>, side: Side) {
    for (index, joint) in scene.design.fit.joints.iter().enumerate().filter(|(_, joint)| joint.side == side) {
        let (from, to) = (joint.from_top.mm(), joint.from_top.mm() + joint.height.mm());
        let half = joint.width.mm() / 2.0;
        // To the right as the side is seen top up is up in a row that lies top left.
        let (upper, lower) = (-joint.beside.mm() - half, -joint.beside.mm() + half);
        let rect = Rect::from_two_pos(screen.pos(side, from, upper), screen.pos(side, to, lower));
        painter.rect_filled(rect, 0.0, t.halo);
        painter.rect_stroke(rect, 0.0, Stroke::new(1.4, t.ink), StrokeKind::Middle);
        painter.text(rect.center(), Align2::CENTER_CENTER, index + 1, tokens::small(), t.ink);
    }
}

//! Faces and sides with what is fitted: notches that can be dragged, chamfers, the pipe's hole, post and joints.

use std::ops::RangeInclusive;

use cornerwise_geometry::fit::Notch;
use cornerwise_geometry::{Cut, Face, Leg, Piece, Side};
use egui::epaint::Mesh;
use egui::{Align2, Id, Painter, Pos2, Rect, Role, Sense, Shape, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2};

use super::super::{faces, sides};
use crate::across::ScreenFromFaces;
use crate::notch_hand::{Grip, NotchHand, Part, Spot};
use crate::paint::{self, Corner, add_quad};
use crate::patch::TexturePatch;
use crate::ruler::Axis;
use crate::scene::Scene;
use crate::tokens::{self, Tokens};
use crate::view::{View, blank_stretch};

/// A notch under the hand is at least this wide, points.
const LEAST_GRIP_PX: f32 = 12.0;
/// The end of a notch that can be dragged by itself, points; narrow notches have none.
const END_PX: f32 = 7.0;

/// Takes hold of a notch in a row that lies along the ruler.
#[allow(clippy::too_many_arguments, reason = "where a notch is shown, and what it changes")]
fn take(
    ui: &Ui,
    rows: RangeInclusive<f32>,
    axis: Axis,
    index: usize,
    notch: &Notch,
    spot: Spot,
    row: usize,
    scene: &Scene<'_>,
    view: &mut View,
    hand: &mut NotchHand,
) -> bool {
    let [from, to] = notch.span_mm().map(|s| axis.x(s));
    let whole = Rect::from_x_y_ranges(from..=to, rows.clone());
    let wide = if whole.width() < LEAST_GRIP_PX {
        Rect::from_center_size(whole.center(), vec2(LEAST_GRIP_PX, whole.height()))
    } else {
        whole
    };
    let along = [axis.px_per_mm, 0.0];
    let grip = Grip { index, spot, part: Part::Whole, along };
    let response = hand.grip(ui, wide, grip, row, scene, view);
    let mut lively = response.hovered() || response.has_focus() || response.dragged();
    if whole.width() > 3.0 * END_PX {
        let end = Rect::from_x_y_ranges((to - END_PX)..=(to + 2.0), rows);
        let grip = Grip { index, spot, part: Part::LowerEnd, along };
        let response = hand.grip(ui, end, grip, row, scene, view);
        lively |= response.hovered() || response.has_focus() || response.dragged();
    }
    lively
}

/// The notches on the ruler, each with its number.
pub(super) fn on_ruler(ui: &Ui, rect: Rect, axis: Axis, scene: &Scene<'_>, view: &mut View, hand: &mut NotchHand) {
    let t = Tokens::here(ui);
    let painter = ui.painter_at(rect);
    let rows = (rect.bottom() - 12.0)..=rect.bottom();
    for (index, notch) in scene.design.fit.notches.iter().enumerate() {
        let [from, to] = notch.span_mm().map(|s| axis.x(s));
        let lively = take(ui, rows.clone(), axis, index, notch, Spot::Ruler, 0, scene, view, hand);
        let chosen = view.fit.notch == Some(index);
        let band = Rect::from_x_y_ranges(from..=to.max(from + 3.0), rows.clone());
        painter.rect_filled(
            band,
            1.0,
            if chosen {
                t.chosen
            } else if lively {
                t.soft
            } else {
                t.edge
            },
        );
        if band.width() > 9.0 {
            let colour = if chosen { t.on_chosen } else { t.sheet };
            painter.text(band.center(), Align2::CENTER_CENTER, index + 1, tokens::small(), colour);
        }
    }
}

/// The faces of the blank: lines, chamfers, and the inside piece's thrown-away lengths.
pub(super) fn faces(
    ui: &mut Ui,
    rect: Rect,
    on: &ScreenFromFaces,
    grounds: &[[Option<TexturePatch>; 2]],
    scene: &Scene<'_>,
    view: &mut View,
    hand: &mut NotchHand,
) {
    let t = Tokens::here(ui);
    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 0.0, t.sheet);
    let ground = ui.interact(rect, Id::unique("fit faces"), Sense::click());
    ground.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, "faces 1 and 2 with what is fitted"));
    faces::wood(&painter, on, grounds, scene, view);
    paint::cursor(&painter, t, on.axis, rect, view.cursor_mm);
    for (index, notch) in scene.design.fit.notches.iter().enumerate() {
        left_out_on_faces(&painter, t, on, scene, index, notch, view);
    }
    chamfers(&painter, t, on, scene);
    faces::frame(&painter, t, on, scene);
    let shown = on.axis.shown();
    let blank = blank_stretch(scene.design);
    let (from, to) = (shown.from_mm.max(blank.from_mm), shown.to_mm.min(blank.to_mm));
    for cut in Cut::ALL.into_iter().filter(|_| to > from) {
        let own = on.rect(cut, blank.from_mm, blank.to_mm).expand(tokens::SAW_LINE / 2.0);
        let points = paint::flattened(scene.leg.line(cut), cut, on, from, to);
        paint::saw_line(&painter.with_clip_rect(rect.intersect(own)), t, cut, points);
    }
    clear_zones(&painter, t, on, scene);
    chamfer_words(&painter, t, on, scene);
    let rows = on.pos(Cut::First, 0.0, 0.0).y..=on.pos(Cut::Second, 0.0, on.depth_mm).y;
    for (index, notch) in scene.design.fit.notches.iter().enumerate() {
        take(ui, rows.clone(), on.axis, index, notch, Spot::Faces, 0, scene, view, hand);
    }
}

/// The two faces of the blank that a piece has a part of.
fn faces_of(piece: Piece) -> [Face; 2] {
    match piece {
        Piece::One => [Face::Four, Face::One],
        Piece::Two => [Face::One, Face::Two],
        Piece::Three => [Face::Two, Face::Three],
        Piece::Four => [Face::Three, Face::Four],
    }
}

/// What of the faces goes with a notch: its ends squared across both, the inside piece's part of them hatched.
fn left_out_on_faces(
    painter: &Painter,
    t: &Tokens,
    on: &ScreenFromFaces,
    scene: &Scene<'_>,
    index: usize,
    notch: &Notch,
    view: &View,
) {
    let inside = scene.design.fit.inside;
    let [from, to] = notch.span_mm();
    let chosen = view.fit.notch == Some(index);
    let mut seen = false;
    for cut in Cut::ALL.into_iter().filter(|cut| faces_of(inside).contains(&cut.face())) {
        seen = true;
        let beyond = match cut {
            Cut::First => inside.beyond_first(),
            Cut::Second => inside.beyond_second(),
        };
        let edge = if beyond { on.across_mm(cut) } else { 0.0 };
        let line: Vec<[Pos2; 2]> = steps(scene.leg, from, to)
            .into_iter()
            .map(|s| [on.pos(cut, s, edge), on.pos(cut, s, offset(scene.leg, cut, s))])
            .collect();
        left_out(painter, t, &line, chosen);
    }
    for s in [from, to] {
        let ends = [on.pos(Cut::First, s, 0.0), on.pos(Cut::Second, s, on.depth_mm)];
        let stroke = Stroke::new(if chosen { 1.6 } else { 1.0 }, t.ink);
        painter.extend(Shape::dashed_line(&ends, stroke, 3.0, 3.0));
    }
    if !seen {
        let middle = pos2(f32::midpoint(on.axis.x(from), on.axis.x(to)), on.arris_2_px);
        let words = format!("{inside} lies on faces 3 and 4");
        paint::label(painter, t, middle, Align2::CENTER_CENTER, &words, tokens::small(), t.soft);
    }
}

fn offset(leg: &Leg, cut: Cut, s: f64) -> f64 {
    match cut {
        Cut::First => leg.a(s),
        Cut::Second => leg.b(s),
    }
}

/// Stations through a stretch.
fn steps(leg: &Leg, from: f64, to: f64) -> Vec<f64> {
    let within = leg.stations_within(0.2).into_iter().filter(|s| *s > from && *s < to);
    std::iter::once(from).chain(within).chain([to]).collect()
}

/// A part that is left out, between two edges: hatched on the ground of the sheet.
fn left_out(painter: &Painter, t: &Tokens, line: &[[Pos2; 2]], chosen: bool) {
    let mut mesh = Mesh::default();
    let fill = t.sheet.gamma_multiply(0.9);
    let corner = |at: Pos2| Corner { at, uv: egui::epaint::WHITE_UV };
    for pair in line.windows(2) {
        let [[p, q], [r, s]] = [pair[0], pair[1]];
        add_quad(&mut mesh, [corner(p), corner(q), corner(s), corner(r)], [fill; 4]);
    }
    painter.add(Shape::mesh(mesh));
    let all = Rect::from_points(&line.iter().flatten().copied().collect::<Vec<_>>());
    // Hatched as far as both edges reach at its narrowest; the rest is told by the outline.
    let low = line.iter().map(|[p, q]| p.y.min(q.y)).fold(f32::NEG_INFINITY, f32::max);
    let high = line.iter().map(|[p, q]| p.y.max(q.y)).fold(f32::INFINITY, f32::min);
    if high > low {
        paint::hatch(painter, Rect::from_x_y_ranges(all.x_range(), low..=high), t.edge);
    }
    let stroke = Stroke::new(if chosen { 2.0 } else { 1.2 }, t.ink);
    let mut outline: Vec<Pos2> = line.iter().map(|[p, _]| *p).collect();
    outline.extend(line.iter().rev().map(|[_, q]| *q));
    painter.add(Shape::closed_line(outline, stroke));
}

/// The strips that the pipe hole's chamfers take off along the arrises.
fn chamfers(painter: &Painter, t: &Tokens, on: &ScreenFromFaces, scene: &Scene<'_>) {
    let leg = scene.design.fit.chamfer_mm();
    if leg <= 0.0 {
        return;
    }
    let blank = blank_stretch(scene.design);
    for cut in Cut::ALL {
        let across = on.across_mm(cut);
        for [from, to] in [[0.0, leg], [across - leg, across]] {
            let (upper, lower) = (on.pos(cut, blank.from_mm, from), on.pos(cut, blank.to_mm, to));
            let strip = Rect::from_two_pos(upper, lower);
            painter.rect_filled(strip, 0.0, t.sheet.gamma_multiply(0.75));
            paint::hatch(painter, strip, t.edge);
            let inner = if from == 0.0 { lower.y } else { upper.y };
            painter.hline(strip.x_range(), inner, Stroke::new(1.0, t.ink));
        }
    }
}

/// How wide the strips are, beside the foot.
fn chamfer_words(painter: &Painter, t: &Tokens, on: &ScreenFromFaces, scene: &Scene<'_>) {
    let leg = scene.design.fit.chamfer_mm();
    if leg <= 0.0 {
        return;
    }
    let right = on.axis.x(scene.leg.length_mm).min(painter.clip_rect().right());
    let at = pos2(right - 6.0, on.pos(Cut::First, 0.0, leg).y + 3.0);
    let words = format!("chamfer {}", scene.units().show_with_unit(leg));
    paint::label(painter, t, at, Align2::RIGHT_TOP, &words, tokens::small(), t.ink);
}

/// Post and joints: stretches that the line of a cut keeps straight.
fn clear_zones(painter: &Painter, t: &Tokens, on: &ScreenFromFaces, scene: &Scene<'_>) {
    let fit = &scene.design.fit;
    let zone = |cut: Cut, from: f64, to: f64, words: &str| {
        let rect = on.rect(cut, from, to);
        painter.rect_stroke(rect, 0.0, Stroke::new(3.0, t.halo), StrokeKind::Inside);
        let corners = [rect.left_top(), rect.right_top(), rect.right_bottom(), rect.left_bottom(), rect.left_top()];
        painter.extend(Shape::dashed_line(&corners, Stroke::new(1.2, t.ink), 5.0, 3.0));
        // Below the arris's own name, and above the middle where the line runs.
        let at = pos2(rect.left() + 4.0, rect.top() + rect.height() * 0.3);
        paint::label(painter, t, at, Align2::LEFT_CENTER, words, tokens::small(), t.ink);
    };
    if fit.post.mm() > 0.0 {
        for cut in Cut::ALL {
            zone(cut, 0.0, fit.post.mm(), "post");
        }
    }
    for (index, joint) in fit.joints.iter().enumerate() {
        let (from, to) = (joint.from_top.mm(), joint.from_top.mm() + joint.height.mm());
        zone(joint.side.cut(), from, to, &format!("joint {}: keep clear", index + 1));
    }
}

/// The four sides of the finished leg: where the inside piece is left out, and the hole behind them.
pub(super) fn sides(
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

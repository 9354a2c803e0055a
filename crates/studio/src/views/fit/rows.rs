//! Ruler and faces with what is fitted: notches that can be dragged, chamfers, post and joints.

use std::ops::RangeInclusive;

use cornerwise_geometry::fit::Notch;
use cornerwise_geometry::{Cut, Face, Leg, Piece};
use egui::epaint::Mesh;
use egui::{Align2, Id, Painter, Pos2, Rect, Role, Sense, Shape, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2};

use super::super::faces;
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
pub(super) fn take(
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
    clear_zones(&painter, t, on, scene);
    faces::frame(&painter, t, on, scene);
    let shown = on.axis.shown();
    let blank = blank_stretch(scene.design);
    let (from, to) = (shown.from_mm.max(blank.from_mm), shown.to_mm.min(blank.to_mm));
    for cut in Cut::ALL.into_iter().filter(|_| to > from) {
        let own = on.rect(cut, blank.from_mm, blank.to_mm).expand(tokens::SAW_LINE / 2.0);
        let points = paint::flattened(scene.leg.line(cut), cut, on, from, to);
        paint::saw_line(&painter.with_clip_rect(rect.intersect(own)), t, cut, points);
    }
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
pub(super) fn steps(leg: &Leg, from: f64, to: f64) -> Vec<f64> {
    let within = leg.stations_within(0.2).into_iter().filter(|s| *s > from && *s < to);
    std::iter::once(from).chain(within).chain([to]).collect()
}

/// A part that is left out, between two edges: hatched on the ground of the sheet.
pub(super) fn left_out(painter: &Painter, t: &Tokens, line: &[[Pos2; 2]], chosen: bool) {
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

//! The two faces the saw lines are drawn on: face 1 above face 2, arris 2 between them.

use cornerwise_geometry::{BlankPoint, Cut};
use cornerwise_project::{Edit, Handle};
use egui::{
    Align2, Color32, CursorIcon, EventFilter, Id, Key, Painter, Pos2, Rect, Role, Sense, Stroke, StrokeKind, Ui,
    WidgetInfo, pos2, vec2,
};

use crate::across::ScreenFromFaces;
use crate::grip::{Grip, Placed, is_shape};
use crate::patch::{TexturePatch, finest};
use crate::ruler::Stretch;
use crate::run_out::{self, RunOut};
use crate::scene::{Ask, Scene};
use crate::tokens::{self, HANDLE, POINT, Tokens};
use crate::view::{Chosen, View, blank_stretch};
use crate::{paint, readout};

/// How far from a line a double click still means it, points.
const NEAR_LINE_PX: f32 = 18.0;
/// How far from its middle a point is taken hold of, points.
const TAKE_PX: f32 = 11.0;

/// Where and on what the faces are shown.
pub struct Canvas<'a> {
    /// The whole canvas.
    pub rect: Rect,
    /// How the faces lie on it.
    pub faces: &'a ScreenFromFaces,
    /// The paint of face 1 and face 2, coarse to fine: each lies over the one before.
    pub patches: &'a [[Option<TexturePatch>; 2]],
    /// What is being dragged.
    pub held: Option<Grip>,
}

/// Shows both faces.
pub fn show(ui: &mut Ui, canvas: &Canvas<'_>, scene: &Scene<'_>, view: &mut View, asks: &mut Vec<Ask>) {
    let Canvas { rect, faces, patches, held } = *canvas;
    let t = Tokens::here(ui);
    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 0.0, t.sheet);
    let ground = ui.interact(rect, Id::unique("faces"), Sense::click_and_drag());
    ground.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, "faces 1 and 2"));
    wood(&painter, faces, patches, scene, view);
    paint::cursor(&painter, t, faces.axis, rect, view.cursor_mm);
    frame(&painter, t, faces, scene);
    let shown = faces.axis.shown();
    let blank = blank_stretch(scene.design);
    for cut in Cut::ALL {
        let (from, to) = (shown.from_mm.max(blank.from_mm), shown.to_mm.min(blank.to_mm));
        if to > from {
            let points = paint::flattened(scene.leg.line(cut), cut, faces, from, to);
            // On its own face only: the saw line of one cut says nothing on the face of the other.
            let own = faces.rect(cut, blank.from_mm, blank.to_mm).expand(tokens::SAW_LINE / 2.0);
            paint::saw_line(&painter.with_clip_rect(rect.intersect(own)), t, cut, points);
        }
        for out in run_out::run_outs(scene.leg, cut) {
            exit_marks(&painter, t, cut, faces, &out, scene.leg.length_mm);
        }
    }
    pan(ui, &ground, faces, scene, view);
    if ground.double_clicked()
        && let Some(at) = ground.interact_pointer_pos()
        && let Some((cut, s)) = line_near(faces, scene, at)
    {
        asks.push(Ask::Edit(Edit::AddPoint { design: scene.design.id, cut, from_top_mm: s }));
    } else if ground.clicked() {
        view.chosen = None;
        ground.request_focus();
    }
    cursor_keys(ui, &ground, scene, view);
    grips(ui, &painter, canvas, scene, view, asks);
    if let Some(grip) = held {
        show_readout(ui, t, rect, faces, scene, grip);
    }
    if ground.has_focus() {
        painter.rect_stroke(rect.shrink(1.0), 0.0, Stroke::new(1.0, t.edge), StrokeKind::Inside);
    }
}

fn wood(
    painter: &Painter,
    faces: &ScreenFromFaces,
    patches: &[[Option<TexturePatch>; 2]],
    scene: &Scene<'_>,
    view: &View,
) {
    let tint = if view.strong_wood { Color32::WHITE } else { Color32::WHITE.gamma_multiply(0.55) };
    let shown = faces.axis.shown();
    let blank = blank_stretch(scene.design);
    let (first, last) = (shown.from_mm.max(blank.from_mm), shown.to_mm.min(blank.to_mm));
    for cut in Cut::ALL {
        // Only one of them: two faint layers would not be faint.
        if let Some(patch) = finest(patches, cut, Stretch { from_mm: first, to_mm: last }) {
            let [from, to] = [patch.from_mm[0], patch.to_mm[0]];
            let across = faces.across_mm(cut);
            let corners = [(from, 0.0), (to, 0.0), (to, across), (from, across)];
            let at = corners.map(|(s, offset)| faces.pos(cut, s, offset));
            let blank = corners.map(|(s, offset)| match cut {
                Cut::First => BlankPoint { x: offset, y: 0.0, s },
                Cut::Second => BlankPoint { x: scene.leg.width_mm, y: offset, s },
            });
            painter.add(paint::textured(patch, at, blank, tint));
        }
    }
}

/// Outlines, arrises, spare length, the ends and their names.
fn frame(painter: &Painter, t: &Tokens, faces: &ScreenFromFaces, scene: &Scene<'_>) {
    let blank = blank_stretch(scene.design);
    let length = scene.leg.length_mm;
    for cut in Cut::ALL {
        for (from, to) in [(blank.from_mm, 0.0), (length, blank.to_mm)] {
            let spare = faces.rect(cut, from, to);
            painter.rect_filled(spare, 0.0, t.sheet.gamma_multiply(0.55));
            paint::hatch(painter, spare, t.edge.gamma_multiply(0.7));
        }
        let whole = faces.rect(cut, blank.from_mm, blank.to_mm);
        painter.rect_stroke(whole, 0.0, Stroke::new(1.0, t.soft), StrokeKind::Middle);
    }
    let (top, bottom) = (faces.pos(Cut::First, 0.0, 0.0).y, faces.pos(Cut::Second, 0.0, faces.depth_mm).y);
    for s in [0.0, length] {
        painter.vline(faces.axis.x(s), top..=bottom, Stroke::new(1.5, t.ink));
    }
    let left = faces.axis.x(blank.from_mm).max(painter.clip_rect().left() + 6.0);
    painter.hline(left..=faces.axis.x(blank.to_mm), faces.arris_2_px, Stroke::new(1.5, t.ink));
    captions(painter, t, faces, left, top, bottom);
    let ends = [("TOP", 0.0, Align2::LEFT_BOTTOM, 4.0), ("FOOT", length, Align2::RIGHT_BOTTOM, -4.0)];
    for (word, s, align, aside) in ends {
        painter.text(pos2(faces.axis.x(s) + aside, top - 4.0), align, word, tokens::small(), t.soft);
    }
}

fn captions(painter: &Painter, t: &Tokens, faces: &ScreenFromFaces, left: f32, top: f32, bottom: f32) {
    let clip = painter.clip_rect();
    let middle = clip.center().x;
    for (cut, y, align) in
        [(Cut::First, top - 4.0, Align2::CENTER_BOTTOM), (Cut::Second, bottom + 4.0, Align2::CENTER_TOP)]
    {
        let text = format!("face {}, {cut}", cut.face().number());
        let y = y.min(clip.bottom() - 18.0).max(clip.top() + 18.0);
        let rect = paint::label(painter, t, pos2(middle, y), align, &text, tokens::small(), t.ink);
        let sample = [pos2(rect.left() - 44.0, rect.center().y), pos2(rect.left() - 8.0, rect.center().y)];
        paint::saw_line(painter, t, cut, sample.to_vec());
    }
    let arrises = [
        ("arris 1", top + 2.0, Align2::LEFT_TOP),
        ("arris 2", faces.arris_2_px - 2.0, Align2::LEFT_BOTTOM),
        ("arris 3", bottom - 2.0, Align2::LEFT_BOTTOM),
    ];
    for (word, y, align) in arrises {
        paint::label(painter, t, pos2(left + 6.0, y), align, word, tokens::small(), t.soft);
    }
}

/// Where a saw line leaves its face and where it comes back: arrowheads on the edge, out of the face.
fn exit_marks(painter: &Painter, t: &Tokens, cut: Cut, faces: &ScreenFromFaces, out: &RunOut, length_mm: f64) {
    let edge_mm = if out.beyond { faces.across_mm(cut) } else { 0.0 };
    let way = if out.beyond { 1.0 } else { -1.0 };
    for s in [out.from_mm, out.to_mm] {
        if s <= 0.0 || s >= length_mm {
            continue; // it is out already at this end
        }
        let at = faces.pos(cut, s, edge_mm);
        let head = |grown: f32| {
            vec![
                at + vec2(-6.0 - grown, -way * grown),
                at + vec2(6.0 + grown, -way * grown),
                at + vec2(0.0, way * (9.0 + grown)),
            ]
        };
        let (halo, fill) = (head(2.0), head(0.0));
        painter.add(egui::Shape::convex_polygon(halo, t.sheet, Stroke::NONE));
        painter.add(egui::Shape::convex_polygon(fill, t.cut(cut), Stroke::NONE));
    }
}

/// The line that a double click at a place means, and how far from the top.
fn line_near(faces: &ScreenFromFaces, scene: &Scene<'_>, at: Pos2) -> Option<(Cut, f64)> {
    Cut::ALL
        .into_iter()
        .map(|cut| {
            let s = faces.place(cut, at)[0];
            let away = (faces.pos(cut, s, scene.leg.line(cut).offset(s)).y - at.y).abs();
            (away, cut, s)
        })
        .filter(|(away, ..)| *away < NEAR_LINE_PX)
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, cut, s)| (cut, s))
}

/// Dragging the ground scrolls.
fn pan(ui: &Ui, ground: &egui::Response, faces: &ScreenFromFaces, scene: &Scene<'_>, view: &mut View) {
    if ground.dragged() && !scene.moving {
        let by = ground.drag_delta();
        view.ruler.scroll(faces.axis, blank_stretch(scene.design), by.x);
        view.shift_px += by.y;
        ui.ctx().set_cursor_icon(CursorIcon::Grabbing);
    }
}

/// With the faces focused, the arrow keys move the cursor; with Shift, finely.
fn cursor_keys(ui: &Ui, ground: &egui::Response, scene: &Scene<'_>, view: &mut View) {
    if !ground.has_focus() {
        return;
    }
    let filter = EventFilter { horizontal_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(ground.id, filter));
    let (steps, fine) =
        ui.input(|i| (i.num_presses(Key::ArrowRight) as f64 - i.num_presses(Key::ArrowLeft) as f64, i.modifiers.shift));
    let blank = blank_stretch(scene.design);
    let step = if fine { 0.1 } else { 1.0 };
    view.cursor_mm = (view.cursor_mm + steps * step).min(blank.to_mm).max(blank.from_mm);
}

fn grips(ui: &mut Ui, painter: &Painter, canvas: &Canvas<'_>, scene: &Scene<'_>, view: &mut View, asks: &mut Vec<Ask>) {
    let Canvas { rect, faces, held, .. } = *canvas;
    let t = Tokens::here(ui);
    let all = Placed::all(scene.design, view.chosen);
    handle_arms(painter, t, faces, &all, view);
    for placed in &all {
        let grip = placed.grip;
        let at = faces.pos(grip.cut, placed.at[0], placed.at[1]);
        // What is held stays there even where it is dragged out of sight, or the hand would lose it.
        if !rect.expand(TAKE_PX).contains(at) && held != Some(grip) {
            continue;
        }
        let take = if grip.handle.is_some() { TAKE_PX - 2.0 } else { TAKE_PX };
        let area = Rect::from_center_size(at, vec2(2.0, 2.0) * take);
        let response = ui.interact(area, grip.id(scene.design), Sense::click_and_drag());
        response.widget_info(|| WidgetInfo::labeled(Role::GraphicsObject, true, placed.name()));
        let chosen = Chosen { cut: grip.cut, point: grip.point };
        if response.clicked() || response.secondary_clicked() {
            view.chosen = Some(chosen);
            response.request_focus();
        }
        if response.drag_started() {
            response.request_focus();
        }
        if response.has_focus() {
            let filter =
                EventFilter { horizontal_arrows: true, vertical_arrows: true, escape: true, ..EventFilter::default() };
            ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
        }
        let hot = response.hovered() || response.dragged();
        let response = response.on_hover_and_drag_cursor(CursorIcon::Move);
        if grip.handle.is_some() {
            let fill = if hot { t.cut(grip.cut) } else { t.sheet };
            painter.circle(at, HANDLE, fill, Stroke::new(1.5, t.cut(grip.cut)));
        } else {
            let live = is_shape(scene.design, grip.cut);
            point_mark(painter, t, placed, at, Look { chosen: view.chosen == Some(chosen), hot, live });
            response.context_menu(|ui| point_menu(ui, scene, placed, asks));
        }
        if response.has_focus() {
            painter.circle_stroke(at, POINT + 5.0, Stroke::new(1.5, t.ink));
        }
    }
}

fn handle_arms(painter: &Painter, t: &Tokens, faces: &ScreenFromFaces, all: &[Placed], view: &View) {
    let Some(Chosen { cut, point }) = view.chosen else { return };
    let of_chosen = |placed: &&Placed| placed.grip.cut == cut && placed.grip.point == point;
    let Some(middle) = all.iter().filter(of_chosen).find(|placed| placed.grip.handle.is_none()) else { return };
    for placed in all.iter().filter(of_chosen).filter(|placed| placed.grip.handle.is_some()) {
        let ends = [middle, placed].map(|placed| faces.pos(cut, placed.at[0], placed.at[1]));
        painter.line_segment(ends, Stroke::new(3.5, t.halo));
        painter.line_segment(ends, Stroke::new(1.2, t.cut(cut)));
    }
}

/// How a point is shown.
struct Look {
    chosen: bool,
    hot: bool,
    live: bool,
}

/// A smooth point is round and a sharp one square; the chosen one is filled; those of a live shape are small.
fn point_mark(painter: &Painter, t: &Tokens, placed: &Placed, at: Pos2, look: Look) {
    let colour = t.cut(placed.grip.cut);
    let fill = if look.chosen { colour } else { t.sheet };
    let radius = if look.live && !look.hot { POINT - 1.5 } else { POINT } + if look.hot { 1.0 } else { 0.0 };
    let stroke = Stroke::new(2.0, colour);
    if placed.sharp {
        let square = Rect::from_center_size(at, vec2(1.0, 1.0) * (2.0 * radius - 1.0));
        painter.rect(square, 0.0, fill, stroke, StrokeKind::Middle);
    } else {
        painter.circle(at, radius, fill, stroke);
    }
}

fn point_menu(ui: &mut Ui, scene: &Scene<'_>, placed: &Placed, asks: &mut Vec<Ask>) {
    let (design, Grip { cut, point, .. }) = (scene.design.id, placed.grip);
    let kind = if placed.sharp { "Make smooth" } else { "Make sharp" };
    if ui.button(kind).clicked() {
        asks.push(Ask::Edit(Edit::SetPointKind { design, cut, point, sharp: !placed.sharp }));
    }
    if ui.button("Delete point").clicked() {
        asks.push(Ask::Edit(Edit::DeletePoint { design, cut, point }));
    }
}

/// What stands beside the pointer during a drag.
fn show_readout(ui: &Ui, t: &Tokens, rect: Rect, faces: &ScreenFromFaces, scene: &Scene<'_>, grip: Grip) {
    let Some([s, offset]) = grip.place(scene.design) else { return };
    let point = Grip { handle: None, ..grip }.place(scene.design);
    let Some([point_s, point_offset]) = point else { return };
    let line = scene.leg.line(grip.cut);
    let at = if grip.handle == Some(Handle::After) { line.at_after(point_s) } else { line.at(point_s) };
    let lines = readout::dragged(point_s, point_offset, &at, scene.units());
    let painter = ui.painter();
    let galley = painter.layout_no_wrap(lines.join("\n"), tokens::body(), t.ink);
    let size = galley.size() + vec2(16.0, 12.0);
    let held = faces.pos(grip.cut, s, offset);
    // Beside the hand, not under it, and never outside the canvas.
    let right = held.x + 18.0 + size.x < rect.right();
    let down = held.y + 14.0 + size.y < rect.bottom();
    let min = pos2(
        if right { held.x + 18.0 } else { held.x - 18.0 - size.x },
        if down { held.y + 14.0 } else { held.y - 14.0 - size.y },
    );
    let frame = Rect::from_min_size(min, size);
    painter.rect(frame, 4.0, t.sheet, Stroke::new(1.0, t.edge), StrokeKind::Inside);
    painter.galley(min + vec2(8.0, 6.0), galley, t.ink);
}

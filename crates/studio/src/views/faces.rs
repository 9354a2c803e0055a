//! The two faces the saw lines are drawn on: face 1 above face 2, arris 2 between them.

use cornerwise_geometry::{BlankPoint, Cut, Line};
use egui::{
    Align2, Color32, EventFilter, Id, Key, Painter, Rect, Role, Sense, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2,
};

use super::seam_place::{self, Pointed};
use super::{grips, picking, whole_line};
use crate::across::ScreenFromFaces;
use crate::gesture::Gesture;
use crate::paint;
use crate::patch::{TexturePatch, finest};
use crate::ruler::Stretch;
use crate::run_out::{self, RunOut};
use crate::scene::{Ask, Scene};
use crate::sheet::Sheet;
use crate::tokens::{self, Tokens};
use crate::view::{View, blank_stretch};

/// The name of the faces for egui: keys go to them when nothing on them is meant alone.
pub fn id() -> Id {
    Id::unique("faces")
}

/// Where and on what the faces are shown.
pub struct Canvas<'a> {
    /// The whole canvas.
    pub rect: Rect,
    /// How the faces lie on it.
    pub faces: &'a ScreenFromFaces,
    /// The paint of face 1 and face 2, coarse to fine: each lies over the one before.
    pub patches: &'a [[Option<TexturePatch>; 2]],
    /// The saw lines for the hand.
    pub sheets: &'a [Sheet],
    /// What is being dragged.
    pub held: Option<&'a Gesture>,
    /// The place of a seam that is pointed at.
    pub pointed: Option<&'a Pointed>,
}

/// Shows both faces.
pub fn show(ui: &mut Ui, canvas: &Canvas<'_>, scene: &Scene<'_>, view: &mut View, asks: &mut Vec<Ask>) {
    let Canvas { rect, faces, patches, sheets, held, pointed } = *canvas;
    let t = Tokens::here(ui);
    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 0.0, t.sheet);
    let ground = ui.interact(rect, id(), Sense::click_and_drag());
    ground.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, "faces 1 and 2"));
    wood(&painter, faces, patches, scene, view);
    super::trace::on_faces(&painter, rect, faces, scene);
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
        let tried = whole_line::preview(ui.ctx(), scene, view, cut);
        let tried = tried.or_else(|| super::curve::preview(ui.ctx(), scene, view, cut));
        if let Some(line) = tried.filter(|_| to > from) {
            let points = paint::flattened(&line, cut, faces, from, to);
            for (width, colour) in [(4.0, t.halo), (1.2, t.ink)] {
                painter.add(egui::Shape::line(points.clone(), Stroke::new(width, colour)));
            }
        }
        for out in run_out::run_outs(scene.leg, cut) {
            exit_marks(&painter, t, cut, faces, &out, scene.leg.length_mm);
        }
    }
    super::ghost::on_faces(&painter, t, faces, scene);
    super::fairness::show(ui, &painter, faces, scene, view);
    view.shift_px += picking::pan(ui, &ground, faces.axis, scene, view).y;
    grips::ground(ui, &ground, sheets, scene, view, asks);
    cursor_keys(ui, &ground, scene, view);
    picking::show(ui, &painter, &ground, sheets, scene, view);
    super::knots::on_faces(ui, &painter, faces, scene, asks);
    grips::show(ui, &painter, &grips::Area { rect, sheets, held }, scene, view, asks);
    if let Some(pointed) = pointed {
        seam_place::on_faces(&painter, t, faces, pointed, scene);
    }
    super::trace::grips(ui, canvas, scene, view, asks);
    if ground.has_focus() {
        painter.rect_stroke(rect.shrink(1.0), 0.0, Stroke::new(1.0, t.edge), StrokeKind::Inside);
    }
}

pub(super) fn wood(
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
pub(super) fn frame(painter: &Painter, t: &Tokens, faces: &ScreenFromFaces, scene: &Scene<'_>) {
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
    captions(painter, t, faces, scene, [left, top, bottom]);
    let ends = [("TOP", 0.0, Align2::LEFT_BOTTOM, 4.0), ("FOOT", length, Align2::RIGHT_BOTTOM, -4.0)];
    for (word, s, align, aside) in ends {
        painter.text(pos2(faces.axis.x(s) + aside, top - 4.0), align, word, tokens::small(), t.soft);
    }
}

fn captions(painter: &Painter, t: &Tokens, faces: &ScreenFromFaces, scene: &Scene<'_>, [left, top, bottom]: [f32; 3]) {
    let clip = painter.clip_rect();
    let middle = clip.center().x;
    for (cut, y, align) in
        [(Cut::First, top - 4.0, Align2::CENTER_BOTTOM), (Cut::Second, bottom + 4.0, Align2::CENTER_TOP)]
    {
        let text = match scene.design.line(cut) {
            Line::Linked(link) => format!("face {}, {cut}: {}", cut.face().number(), link.kind()),
            _ => format!("face {}, {cut}", cut.face().number()),
        };
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

/// With the faces focused and no point chosen, the arrow keys move the cursor; with Shift, finely.
fn cursor_keys(ui: &Ui, ground: &egui::Response, scene: &Scene<'_>, view: &mut View) {
    if !ground.has_focus() {
        return;
    }
    let vertical_arrows = !view.chosen.is_empty();
    let filter = EventFilter { horizontal_arrows: true, vertical_arrows, escape: true, ..EventFilter::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(ground.id, filter));
    if vertical_arrows {
        return; // they move the points
    }
    let (steps, fine) =
        ui.input(|i| (i.num_presses(Key::ArrowRight) as f64 - i.num_presses(Key::ArrowLeft) as f64, i.modifiers.shift));
    let blank = blank_stretch(scene.design);
    let step = if fine { 0.1 } else { 1.0 };
    view.cursor_mm = (view.cursor_mm + steps * step).min(blank.to_mm).max(blank.from_mm);
}

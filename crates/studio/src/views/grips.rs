//! The points and handles that can be taken hold of, wherever their line is shown, and the figures beside the hand.

use cornerwise_geometry::Cut;
use cornerwise_project::{Edit, Handle};
use egui::text::{LayoutJob, TextFormat};
use egui::{
    CursorIcon, EventFilter, Painter, Pos2, Rect, Response, Role, Sense, Stroke, StrokeKind, Ui, Vec2, WidgetInfo,
    pos2, vec2,
};

use super::shape_grips;
use crate::gesture::Gesture;
use crate::grip::{Grip, Part, Placed, is_shape};
use crate::readout;
use crate::scene::{Ask, Scene};
use crate::sheet::Sheet;
use crate::tokens::{self, HANDLE, POINT, Tokens};
use crate::view::{Chosen, View};

/// How far from its middle a point is taken hold of, points.
const TAKE_PX: f32 = 11.0;

/// The least a point's room is cut down to where others lie close, points.
const LEAST_TAKE_PX: f32 = 3.0;

/// Points that lie closer than this on screen would be one blot: only some of them are shown until the maker zooms in.
const APART_PX: f32 = 9.0;

/// How far from a line a double click still means it, points.
const NEAR_LINE_PX: f32 = 18.0;

/// Where lines can be taken hold of.
pub struct Area<'a> {
    /// The canvas.
    pub rect: Rect,
    /// The lines on it.
    pub sheets: &'a [Sheet],
    /// What the pointer holds.
    pub held: Option<&'a Gesture>,
}

impl Area<'_> {
    /// Whether the pointer holds a grip where it is shown on a sheet.
    pub(super) fn holds(&self, grip: Grip, sheet: &Sheet) -> bool {
        self.held.is_some_and(|held| held.grip == grip && held.spot == sheet.spot)
    }
}

/// A click on the ground chooses nothing; a double click on a line adds a point there.
pub fn ground(ui: &Ui, ground: &Response, sheets: &[Sheet], scene: &Scene<'_>, view: &mut View, asks: &mut Vec<Ask>) {
    if ground.double_clicked()
        && let Some(at) = ground.interact_pointer_pos()
        && let Some((cut, s)) = line_near(sheets, scene, at)
    {
        asks.push(Ask::Edit(Edit::AddPoint { design: scene.design.id, cut, from_top_mm: s }));
    } else if ground.clicked() {
        if !ui.input(|i| i.modifiers.shift || i.modifiers.command) {
            view.chosen.clear();
        }
        ground.request_focus();
    }
}

/// The line that a double click at a place means, and how far from the top.
fn line_near(sheets: &[Sheet], scene: &Scene<'_>, at: Pos2) -> Option<(Cut, f64)> {
    let near = sheets.iter().map(|sheet| {
        let s = sheet.place(at)[0];
        let away = (sheet.pos([s, scene.leg.line(sheet.cut).offset(s)]) - at).length();
        (away, sheet.cut, s)
    });
    let nearest = near.filter(|(away, ..)| *away < NEAR_LINE_PX).min_by(|a, b| a.0.total_cmp(&b.0));
    nearest.map(|(_, cut, s)| (cut, s))
}

/// Shows the grips, lets them be chosen, and writes the figures of what is held.
pub fn show(ui: &mut Ui, painter: &Painter, area: &Area<'_>, scene: &Scene<'_>, view: &mut View, asks: &mut Vec<Ask>) {
    let all = Placed::all(scene.design, view.chosen.one());
    for sheet in area.sheets {
        let here: Vec<&Placed> = all.iter().filter(|placed| placed.is_on(sheet)).collect();
        handle_arms(painter, Tokens::here(ui), sheet, &here);
        let focused = ui.memory(|memory| memory.focused());
        let one = view.chosen.one();
        let stays = |placed: &Placed| {
            placed.sharp
                || (one.is_some() && placed.grip.of_point() == one)
                || area.holds(placed.grip, sheet)
                || focused.is_some_and(|id| id == placed.id(scene.design, sheet))
        };
        let points: Vec<&Placed> = here.iter().copied().filter(|placed| placed.grip.is_point()).collect();
        // Below the points, so that a stem that stands on one does not hide it.
        for placed in here.iter().filter(|placed| matches!(placed.grip.part, Part::Shape(_))) {
            shape_grips::show(ui, painter, area, sheet, placed, scene);
        }
        for placed in here.iter().copied().filter(|placed| placed.grip.is_handle()) {
            grip(ui, painter, area, sheet, Shown { placed, room_px: TAKE_PX - 2.0 }, scene, view, asks);
        }
        for shown in with_room(&points, sheet, stays) {
            grip(ui, painter, area, sheet, shown, scene, view, asks);
        }
    }
    if let Some(held) = area.held
        && let Some(sheet) = area.sheets.iter().find(|sheet| sheet.spot == held.spot && sheet.cut == held.grip.cut)
    {
        guides(painter, Tokens::here(ui), area.rect, sheet, held);
        show_readout(ui, area.rect, sheet, scene, held);
    }
}

/// A grip that is shown, and how far from its middle it is taken hold of along the line, points.
struct Shown<'a> {
    placed: &'a Placed,
    room_px: f32,
}

/// The points of a line that are shown, each with the room that its neighbours leave it: those that have to stay, the two
/// ends, and of the others as many as keep clear of one another.
fn with_room<'a>(points: &[&'a Placed], sheet: &Sheet, stays: impl Fn(&Placed) -> bool) -> Vec<Shown<'a>> {
    let mut kept: Vec<(&Placed, Pos2, bool)> = Vec::with_capacity(points.len().min(256));
    for (i, placed) in points.iter().enumerate() {
        let at = sheet.pos(placed.at);
        let near = kept.last().is_some_and(|(_, last, _)| (*last - at).length() < APART_PX);
        let has_to_stay = (near && stays(placed)) || i == 0 || i + 1 == points.len();
        if near && !has_to_stay {
            continue;
        }
        if near && kept.last().is_some_and(|(last, _, ended)| !ended && !stays(last)) {
            kept.pop();
        }
        kept.push((placed, at, i == 0));
    }
    let gap = |i: usize, j: Option<usize>| {
        let other = j.and_then(|j| kept.get(j));
        other.map_or(f32::INFINITY, |(_, at, _)| (*at - kept[i].1).length() / 2.0)
    };
    let room = |i: usize| gap(i, i.checked_sub(1)).min(gap(i, Some(i + 1))).clamp(LEAST_TAKE_PX, TAKE_PX);
    kept.iter().enumerate().map(|(i, (placed, ..))| Shown { placed, room_px: room(i) }).collect()
}

/// Thin lines through all that a drag is caught by.
fn guides(painter: &Painter, t: &Tokens, rect: Rect, sheet: &Sheet, held: &Gesture) {
    let far = rect.size().length();
    for (i, catch) in held.caught.iter().enumerate().filter_map(|(i, catch)| Some((i, catch.as_ref()?))) {
        let place = |other: f64| if i == 0 { [catch.mm, other] } else { [other, catch.mm] };
        let (at, beside) = (sheet.pos(place(0.0)), sheet.pos(place(1.0)));
        let way = (beside - at).normalized() * far;
        // From where the line is nearest to the canvas, so that it crosses all of it.
        let nearest = at + way / far * (rect.center() - at).dot(way / far);
        for (width, colour) in [(3.0, t.halo), (1.0, t.ink)] {
            painter.line_segment([nearest - way, nearest + way], Stroke::new(width, colour));
        }
    }
}

#[allow(clippy::too_many_arguments, reason = "what a grip is drawn from and what it changes")]
fn grip(
    ui: &mut Ui,
    painter: &Painter,
    area: &Area<'_>,
    sheet: &Sheet,
    Shown { placed, room_px }: Shown<'_>,
    scene: &Scene<'_>,
    view: &mut View,
    asks: &mut Vec<Ask>,
) {
    let t = Tokens::here(ui);
    let at = sheet.pos(placed.at);
    // What is held stays there even where it is dragged out of sight, or the hand would lose it.
    if !area.rect.expand(TAKE_PX).contains(at) && !area.holds(placed.grip, sheet) {
        return;
    }
    let Some(point) = placed.grip.of_point() else { return };
    let is_handle = placed.grip.is_handle();
    let take = if is_handle { TAKE_PX - 2.0 } else { TAKE_PX };
    // Only along the line do neighbours lie close.
    let half = if sheet.along[0].abs() >= sheet.along[1].abs() { vec2(room_px, take) } else { vec2(take, room_px) };
    let reach = Rect::from_center_size(at, 2.0 * half);
    let response = ui.interact(reach, placed.id(scene.design, sheet), Sense::click_and_drag());
    response.widget_info(|| WidgetInfo::labeled(Role::GraphicsObject, true, placed.name() + &sheet.place_name()));
    if response.clicked() {
        if ui.input(|i| i.modifiers.shift || i.modifiers.command) && !is_handle {
            view.chosen.toggle(point);
        } else {
            view.chosen.set(point);
        }
    }
    if response.secondary_clicked() && !view.chosen.contains(point) {
        view.chosen.set(point);
    }
    keep_keys(ui, &response);
    let hot = response.hovered() || response.dragged();
    let response = response.on_hover_and_drag_cursor(CursorIcon::Move);
    if is_handle {
        let fill = if hot { t.cut(sheet.cut) } else { t.sheet };
        disc(painter, at, HANDLE, 1.5, t.cut(sheet.cut), fill);
        if placed.tied {
            painter.circle_filled(at, HANDLE / 2.5, t.cut(sheet.cut));
        }
    } else {
        let live = is_shape(scene.design, sheet.cut);
        point_mark(painter, t, placed, at, Look { chosen: view.chosen.contains(point), hot, live });
        response.context_menu(|ui| point_menu(ui, scene, view, placed, asks));
    }
    if response.has_focus() {
        painter.circle_stroke(at, POINT + 5.0, Stroke::new(1.5, t.ink));
    }
}

/// What is clicked or taken takes the keys, and keeps the arrow keys for itself.
pub(super) fn keep_keys(ui: &Ui, response: &Response) {
    if response.clicked() || response.secondary_clicked() || response.drag_started() {
        response.request_focus();
    }
    if response.has_focus() {
        let filter =
            EventFilter { horizontal_arrows: true, vertical_arrows: true, escape: true, ..EventFilter::default() };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
    }
}

/// A filled circle with its edge, as two discs: far cheaper to draw than an outline, and a line may have many points.
fn disc(painter: &Painter, at: Pos2, radius: f32, edge: f32, colour: egui::Color32, fill: egui::Color32) {
    painter.circle_filled(at, radius + edge / 2.0, colour);
    painter.circle_filled(at, radius - edge / 2.0, fill);
}

/// A square that stands on a corner.
pub(super) fn diamond(painter: &Painter, at: Pos2, radius: f32, fill: egui::Color32, stroke: Stroke) {
    let corner = |x: f32, y: f32| at + Vec2::new(x, y) * radius;
    let corners = vec![corner(0.0, -1.0), corner(1.0, 0.0), corner(0.0, 1.0), corner(-1.0, 0.0)];
    painter.add(egui::Shape::convex_polygon(corners, fill, stroke));
}

fn handle_arms(painter: &Painter, t: &Tokens, sheet: &Sheet, here: &[&Placed]) {
    for handle in here.iter().filter(|placed| placed.grip.is_handle()) {
        let of = handle.grip.of_point();
        let middle = here.iter().find(|placed| placed.grip.is_point() && placed.grip.of_point() == of);
        let Some(middle) = middle else { continue };
        let ends = [middle, handle].map(|placed| sheet.pos(placed.at));
        painter.line_segment(ends, Stroke::new(3.5, t.halo));
        painter.line_segment(ends, Stroke::new(1.2, t.cut(sheet.cut)));
    }
}

/// How a point is shown.
struct Look {
    chosen: bool,
    hot: bool,
    live: bool,
}

/// A smooth point is round, a sharp one square, and a pin of a batten stands on a corner; chosen ones are filled; those of a live shape are small.
fn point_mark(painter: &Painter, t: &Tokens, placed: &Placed, at: Pos2, look: Look) {
    let colour = t.cut(placed.grip.cut);
    let fill = if look.chosen { colour } else { t.sheet };
    let radius = if look.live && !look.hot { POINT - 1.5 } else { POINT } + if look.hot { 1.0 } else { 0.0 };
    let stroke = Stroke::new(2.0, colour);
    if placed.pin {
        diamond(painter, at, radius + 1.5, fill, stroke);
    } else if placed.sharp {
        let square = Rect::from_center_size(at, vec2(1.0, 1.0) * (2.0 * radius - 1.0));
        painter.rect(square, 0.0, fill, stroke, StrokeKind::Middle);
    } else {
        disc(painter, at, radius, stroke.width, colour, fill);
    }
}

fn point_menu(ui: &mut Ui, scene: &Scene<'_>, view: &View, placed: &Placed, asks: &mut Vec<Ask>) {
    let Some(Chosen { cut, point }) = placed.grip.of_point() else { return };
    let design = scene.design.id;
    if view.chosen.len() > 1 && view.chosen.contains(Chosen { cut, point }) {
        if ui.button(format!("Delete {} points", view.chosen.len())).clicked() {
            let points = view.chosen.iter().map(|chosen| (chosen.cut, chosen.point)).collect();
            asks.push(Ask::Edit(Edit::DeletePoints { design, points }));
        }
        return;
    }
    if placed.pin {
        super::head::batten::hold_choice(ui, scene, cut, point, asks);
        if ui.button("Delete pin").clicked() {
            asks.push(Ask::Edit(Edit::DeletePoint { design, cut, point }));
        }
        return;
    }
    let kind = if placed.sharp { "Make smooth" } else { "Make sharp" };
    if ui.button(kind).clicked() {
        asks.push(Ask::Edit(Edit::SetPointKind { design, cut, point, sharp: !placed.sharp }));
    }
    let tie = if placed.tied { "Free handles" } else { "Tie handles" };
    if ui.button(tie).clicked() {
        asks.push(Ask::Edit(Edit::TieHandles { design, cut, point, tied: !placed.tied }));
    }
    if ui.button("Delete point").clicked() {
        asks.push(Ask::Edit(Edit::DeletePoint { design, cut, point }));
    }
}

/// What stands beside the pointer during a drag.
fn show_readout(ui: &Ui, rect: Rect, sheet: &Sheet, scene: &Scene<'_>, held: &Gesture) {
    let t = Tokens::here(ui);
    let Some(place) = held.grip.place(scene.design) else { return };
    let lines = match held.grip.of_point() {
        Some(Chosen { cut, point }) => {
            let Some([point_s, point_offset]) = Grip::point(cut, point).place(scene.design) else { return };
            let line = scene.leg.line(sheet.cut);
            let after = matches!(held.grip.part, Part::Handle(_, Handle::After));
            let at = if after { line.at_after(point_s) } else { line.at(point_s) };
            readout::dragged(point_s, point_offset, &at, scene.units()).to_vec()
        }
        None => shape_grips::figures(held.grip, scene),
    };
    let painter = ui.painter();
    let caught: Vec<String> = held.caught.iter().flatten().map(|catch| catch.what.words()).collect();
    let mut job = LayoutJob::default();
    let mut say = |words: &str, font, colour| job.append(words, 0.0, TextFormat::simple(font, colour));
    say(&lines.join("\n"), tokens::body(), t.ink);
    if !caught.is_empty() {
        say(&format!("\n{}", caught.join("\n")), tokens::bold(), t.ink);
        say("\nAlt holds it off", tokens::small(), t.soft);
    }
    let galley = painter.layout_job(job);
    let size = galley.size() + vec2(16.0, 12.0);
    let hand = sheet.pos(place);
    // Beside the hand, not under it, and never outside the canvas.
    let right = hand.x + 18.0 + size.x < rect.right();
    let down = hand.y + 14.0 + size.y < rect.bottom();
    let min = pos2(
        if right { hand.x + 18.0 } else { hand.x - 18.0 - size.x },
        if down { hand.y + 14.0 } else { hand.y - 14.0 - size.y },
    );
    let frame = Rect::from_min_size(min, size);
    painter.rect(frame, 4.0, t.sheet, Stroke::new(1.0, t.edge), StrokeKind::Inside);
    painter.galley(min + vec2(8.0, 6.0), galley, t.ink);
}

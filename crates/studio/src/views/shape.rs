//! The place where the leg is shaped: rows on one ruler at the left, the leg and its section at the right.

use std::time::Duration;

use cornerwise_geometry::{Cut, Face, Surface};
use egui::{
    Align2, Button, CursorIcon, Id, MouseWheelSource, Pos2, Rect, RichText, Role, Sense, Ui, UiBuilder, WidgetInfo,
    pos2, vec2,
};

use super::seam_place::Pointed;
use super::{
    along, clean_up, design_choice, face_menus, faces, head, leg, panels, ruler_strip, sawn, seam_fixes, seam_place,
    seams, section, sides, snaps, watch,
};
use crate::across::{Across, ScreenFromFaces, stretch_words};
use crate::commands::Command;
use crate::derive::Derived;
use crate::gesture::{Gesture, rounded};
use crate::leg_pictures::LegPictures;
use crate::row_paint::{RowPaint, Wanted};
use crate::ruler::{Axis, Stretch};
use crate::scene::{Ask, Scene};
use crate::sheet::{Sheet, Spot};
use crate::tokens::{self, Tokens};
use crate::view::{Fold, View, blank_stretch};

/// Height of a folded row, points.
const FOLDED_PX: f32 = 30.0;
/// The least height of the faces, points.
const LEAST_FACES_PX: f32 = 220.0;
/// How much of the column under the section the watch-outs take.
const WATCH_SHARE: f32 = 0.42;
/// The least height of the watch-outs, points.
const LEAST_WATCH_PX: f32 = 150.0;
/// The least height of the level section above them, points.
const LEAST_SECTION_PX: f32 = 90.0;
/// The least height of any other row, points.
const LEAST_ROW_PX: f32 = 130.0;
/// After how long without a change rows are painted sharp.
const REST: Duration = Duration::from_millis(100);

/// What this place keeps from frame to frame.
#[derive(Default)]
pub struct ShapePlace {
    /// How the faces lay on screen in the last frame.
    pub faces: Option<ScreenFromFaces>,
    /// The lines that the hand could take hold of in the last frame.
    pub sheets: Vec<Sheet>,
    /// How the sides and the upright leg lay then.
    sides: Option<sides::Screen>,
    leg: Option<leg::Screen>,
    rows: RowPaint,
    /// Small pictures of the legs, for their list.
    pub pictures: LegPictures,
    fixes: seam_fixes::Panel,
    still: Option<(f64, Axis, u64)>,
    /// The place of a seam that is pointed at, and its pictures.
    pointed: Option<Pointed>,
    places: seam_place::Pictures,
}

/// Where the rows lie.
struct Rows {
    ruler: Rect,
    faces: Rect,
    sides_bar: Rect,
    sides: Rect,
    along_bar: Rect,
    along: Rect,
}

impl Rows {
    fn new(rect: Rect, sides: Fold, along: Fold) -> Rows {
        let room = (rect.height() - ruler_strip::HEIGHT - 2.0 * FOLDED_PX).max(0.0);
        let wanted = |fold: Fold| if fold.open { fold.height_px.max(LEAST_ROW_PX) } else { 0.0 };
        let (mut sides_px, mut along_px) = (wanted(sides), wanted(along));
        let most = (room - LEAST_FACES_PX).max(0.0);
        if sides_px + along_px > most {
            let share = most / (sides_px + along_px);
            (sides_px, along_px) = (sides_px * share, along_px * share);
        }
        let mut top = rect.top();
        let mut next = |height: f32| {
            let row = Rect::from_min_max(pos2(rect.left(), top), pos2(rect.right(), top + height.floor()));
            top = row.bottom();
            row
        };
        Rows {
            ruler: next(ruler_strip::HEIGHT),
            faces: next(room - sides_px.floor() - along_px.floor()),
            sides_bar: next(FOLDED_PX),
            sides: next(sides_px),
            along_bar: next(FOLDED_PX),
            along: next(along_px),
        }
    }
}

impl Rows {
    /// The heights of the sides and of the graphs, as they are shown, once the bar between the faces and the sides is
    /// at `y`. The graphs stay as they are.
    fn with_sides_bar_at(&self, y: f32, view: &View) -> (f32, f32) {
        let both = self.faces.height() + self.sides.height();
        let (sides, along) = self.shown(view);
        (parted(self.sides_bar.top() + sides - y, both, LEAST_FACES_PX).unwrap_or(sides), along)
    }

    /// As [`Rows::with_sides_bar_at`], with the bar above the graphs at `y`: the row above it gives or takes.
    fn with_along_bar_at(&self, y: f32, view: &View) -> (f32, f32) {
        let (sides, along) = self.shown(view);
        let wanted = self.along_bar.top() + along - y;
        if view.sides.open {
            let both = sides + along;
            let along = parted(wanted, both, LEAST_ROW_PX).unwrap_or(along);
            (both - along, along)
        } else {
            (sides, parted(wanted, self.faces.height() + along, LEAST_FACES_PX).unwrap_or(along))
        }
    }

    /// The heights as they are on screen; those of folded rows as they will be.
    fn shown(&self, view: &View) -> (f32, f32) {
        let height = |fold: Fold, row: Rect| if fold.open { row.height() } else { fold.height_px };
        (height(view.sides, self.sides), height(view.along, self.along))
    }
}

/// The height of the lower of two rows that share `both`, as near to what is wanted as leaves each its least height;
/// nothing where there is no room for that.
fn parted(wanted: f32, both: f32, least_above: f32) -> Option<f32> {
    let most = both - least_above;
    (most >= LEAST_ROW_PX).then(|| wanted.max(LEAST_ROW_PX).min(most))
}

/// The part of a row beside its head, and its head.
pub(super) fn canvas(row: Rect) -> Rect {
    Rect::from_min_max(pos2((row.left() + head::WIDTH).min(row.right()), row.top()), row.max)
}

/// Has the window drawn again once it rests, where paint is still coarse. While a hand holds something still there is
/// nothing to draw again: letting go makes a frame of its own.
pub(super) fn again_at_rest(ui: &Ui, again: bool, moving: bool) {
    if again && !moving {
        ui.ctx().request_repaint_after(REST);
    }
}

pub(super) fn head_of(row: Rect) -> Rect {
    Rect::from_min_max(row.min, pos2((row.left() + head::WIDTH).min(row.right()), row.bottom()))
}

impl ShapePlace {
    /// Shows the place in all that is left of the window.
    pub fn show(
        &mut self,
        ui: &mut Ui,
        scene: &Scene<'_>,
        view: &mut View,
        derived: &mut Derived,
        held: Option<&Gesture>,
        asks: &mut Vec<Ask>,
    ) {
        let survey = derived.survey(scene);
        let whole = ui.available_rect_before_wrap();
        ui.painter().rect_filled(whole, 0.0, Tokens::here(ui).ground);
        let column = (whole.width() * 0.285).clamp(320.0, 560.0);
        let leg_area = Rect::from_min_max(pos2(whole.right() - column, whole.top()), whole.max);
        let rows = Rows::new(
            Rect::from_min_max(whole.min, pos2((leg_area.left() - 1.0).max(whole.left()), whole.bottom())),
            view.sides,
            view.along,
        );
        let across = canvas(rows.faces).x_range();
        let blank = blank_stretch(scene.design);
        let axis = view.ruler.axis(across, blank);
        let all_rows = canvas(Rect::from_min_max(rows.ruler.min, rows.along.max));
        let axis = input(ui, all_rows, axis, scene, view, self.faces.as_ref());
        let faces = ScreenFromFaces::new(axis, view.across, canvas(rows.faces), scene.leg, view.shift_px);
        self.faces = Some(faces);
        let at_rest = self.at_rest(ui, axis, scene);
        let finest = axis.px_per_mm.min(2.0).max(leg::px_per_mm(leg_area, scene.leg.length_mm));
        let pixels = f64::from(ui.pixels_per_point());
        let coarse = derived.atlas.update(ui.ctx(), scene.design, scene.leg, finest * pixels, scene.moving);
        let mut again = matches!(coarse, Ok(true));
        let px_per_mm = [axis.px_per_mm, faces.px_per_mm].map(|px| px * pixels);
        let page_px_per_mm = derived.atlas.px_per_mm();
        let sharp = SHARP.map(|surface| {
            let needed = view.sides.open || !matches!(surface, Surface::Cut(_));
            let (patch, ask_again) = if needed {
                self.rows.patch(
                    ui.ctx(),
                    scene.design,
                    scene.leg,
                    wanted(surface, scene, axis, px_per_mm, page_px_per_mm),
                    at_rest,
                )
            } else {
                (None, false)
            };
            again |= ask_again;
            patch
        });
        again_at_rest(ui, again, scene.moving);
        let pages = Surface::ALL.map(|surface| derived.atlas.patch(surface));
        let page = |surface: Surface| pages[surface.index()];
        let face_patches = [[page(Surface::Face(Face::One)), page(Surface::Face(Face::Two))], [sharp[2], sharp[3]]];
        ruler_strip::show(ui, canvas(rows.ruler), axis, scene, view);
        let judged = derived.judged(scene);
        let watched = |ui: &Ui, rect: Rect, view: &View| {
            watch::over_row(ui.painter(), Tokens::here(ui), rect, axis, &judged, view.watched);
        };
        watch::on_ruler(ui.painter(), Tokens::here(ui), canvas(rows.ruler), axis, &judged, view.watched);
        design_choice::show(ui, head_of(rows.ruler), scene, view, &mut self.pictures, asks);
        let holds = |at: fn(Spot) -> bool| held.is_some_and(|held| at(held.spot));
        self.sheets = Cut::ALL.map(|cut| faces.sheet(cut)).to_vec();
        let canvas_of_faces = faces::Canvas {
            rect: canvas(rows.faces),
            faces: &faces,
            patches: &face_patches,
            sheets: &self.sheets,
            held,
            pointed: self.pointed.as_ref(),
        };
        faces::show(ui, &canvas_of_faces, scene, view, asks);
        watched(ui, canvas(rows.faces), view);
        face_menus::show(ui, canvas(rows.faces), scene, view, asks);
        stretch_button(ui, canvas(rows.faces), faces.stretch(), asks);
        snaps::show(ui, canvas(rows.faces), scene, view, asks);
        panels::show(ui, scene, &pages, view, asks);
        head::show(ui, head_of(rows.faces), faces.arris_2_px, scene, view, asks);
        if let Some(y) = bar(ui, rows.sides_bar, Command::FoldSides, &mut view.sides) {
            (view.sides.height_px, view.along.height_px) = rows.with_sides_bar_at(y, view);
        }
        if view.sides.open {
            clean_up::choice(ui, rows.sides_bar, view, asks);
        }
        if view.sides.open && rows.sides.height() > 1.0 {
            let seams = derived.seams.get(ui.ctx(), scene);
            let seams = seams.as_deref();
            let cut_patches = [[page(Surface::Cut(Cut::First)), page(Surface::Cut(Cut::Second))], [sharp[0], sharp[1]]];
            let screen = sides::Screen::new(axis, view.across, canvas(rows.sides), scene);
            // While the hand holds an outline, the sides stay where they are: their place follows from how far they
            // reach, and would run away from the hand.
            let kept =
                self.sides.take().filter(|kept| holds(|spot| matches!(spot, Spot::Side(..))) && kept.lies_as(&screen));
            let screen = self.sides.insert(kept.unwrap_or(screen));
            let sheets = screen.sheets(scene);
            let (screen, grounds) = (&*screen, &cut_patches);
            let drawn_on = sides::Canvas { screen, grounds, sheets: &sheets, held, seams };
            let pointed = sides::show(ui, &drawn_on, scene, view, asks);
            self.sheets.extend(sheets);
            clean_up::show(ui, canvas(rows.sides), screen, scene, view);
            watched(ui, canvas(rows.sides), view);
            sawn::on_sides(&ui.painter_at(canvas(rows.sides)), Tokens::here(ui), screen, scene, &survey, view);
            sawn::steps_on_sides(ui, canvas(rows.sides), screen, scene, &survey, view);
            seams::head(ui, head_of(rows.sides), scene, seams, view, asks);
            if let Some((pointed, place_px)) = &pointed {
                seam_place::show(ui, canvas(rows.sides), *place_px, pointed, &mut self.places, scene);
            }
            self.point_at(ui, pointed.map(|(pointed, _)| pointed));
        } else {
            self.point_at(ui, None);
        }
        let room = Rect::from_min_max(canvas(rows.ruler).min, rows.along_bar.max);
        seam_fixes::show(ui, room, &mut self.fixes, scene, view, asks);
        if let Some(y) = bar(ui, rows.along_bar, Command::FoldAlong, &mut view.along) {
            (view.sides.height_px, view.along.height_px) = rows.with_along_bar_at(y, view);
        }
        if view.along.open {
            along::choice(ui, rows.along_bar, view, asks);
        }
        if view.along.open && rows.along.height() > 1.0 {
            let of =
                |survey, ranges| along::graphs(axis, survey, ranges, &scene.project.limits, &view.graphs, view.leg_as);
            let ranges = derived.along(&survey);
            let graphs = of(&survey, &ranges);
            let scrolled_px = along::head(ui, head_of(rows.along), &graphs, scene, &survey, view);
            let ghost = scene.ghost.map(|shown| of(&shown.ghost.survey, &shown.ghost.ranges));
            along::show(ui, (canvas(rows.along), scrolled_px), axis, graphs, ghost, scene, view);
            watched(ui, canvas(rows.along), view);
        }
        let (leg_rect, section_rect) = leg_and_section(ui, leg_area);
        let held_there = holds(|spot| matches!(spot, Spot::Leg(_)));
        let kept = self.leg.take().filter(|_| held_there);
        let drawn_on = leg::Canvas { rect: leg_rect, held, kept, pointed: self.pointed.as_ref() };
        let (screen, sheets) = leg::show(ui, &drawn_on, scene, view, derived, asks);
        sawn::on_leg(ui, leg_rect, &screen, scene, &survey, view);
        self.leg = Some(screen);
        self.sheets.extend(sheets);
        // The list has what the section leaves, and some of the column in any case.
        let least = (section_rect.height() * WATCH_SHARE).max(LEAST_WATCH_PX);
        let wanted = section::wanted_px(section_rect.width(), survey.sawn().is_some());
        let usual = wanted.min(section_rect.height() - least);
        let room = [LEAST_SECTION_PX, LEAST_WATCH_PX];
        let list_top = section_rect.top() + watch::divider(ui, section_rect, usual, room, &mut view.watch_top_px);
        section::show(ui, section_rect.with_max_y(list_top), scene, &survey, view);
        watch::show(ui, section_rect.with_min_y(list_top), scene, view, derived, asks);
    }

    /// Whether paint or an answer about seams is on its way.
    pub fn is_busy(&self) -> bool {
        self.rows.is_busy() || self.fixes.is_busy()
    }

    /// The faces are drawn before the sides are pointed at, so they show it in the frame after.
    fn point_at(&mut self, ui: &Ui, pointed: Option<Pointed>) {
        if self.pointed != pointed {
            self.pointed = pointed;
            ui.ctx().request_repaint();
        }
    }

    /// Whether nothing has changed for a moment, so that there is time to paint sharply.
    fn at_rest(&mut self, ui: &Ui, axis: Axis, scene: &Scene<'_>) -> bool {
        let now = ui.input(|i| i.time);
        match self.still {
            Some((since, known, revision)) if known == axis && revision == scene.revision => {
                !scene.moving && now - since >= REST.as_secs_f64()
            }
            _ => {
                self.still = Some((now, axis, scene.revision));
                false
            }
        }
    }
}

/// Wheel, pinch and pointer over the rows: zoom to the pointer, scroll along, the cursor.
pub(super) fn input(
    ui: &Ui,
    rows: Rect,
    axis: Axis,
    scene: &Scene<'_>,
    view: &mut View,
    faces: Option<&ScreenFromFaces>,
) -> Axis {
    let (blank, units) = (blank_stretch(scene.design), scene.units());
    let Some(at) = ui.input(|i| i.pointer.hover_pos()).filter(|at| over(ui, rows, *at)) else { return axis };
    let (scroll, pinch, alt, moved) =
        ui.input(|i| (i.smooth_scroll_delta(), i.zoom_delta(), i.modifiers.alt, i.pointer.delta() != egui::Vec2::ZERO));
    // Fingers on a trackpad pinch to zoom; a wheel can only be rolled.
    let fingers =
        ui.input(|i| matches!(i.scroll_source(), Some(MouseWheelSource::Trackpad | MouseWheelSource::Momentum)));
    let scroll = if fingers { vec2(scroll.x, 0.0) } else { scroll };
    if alt && scroll.y != 0.0 {
        let now = faces.map_or(1.0, ScreenFromFaces::stretch);
        view.across = Across::changed(now, f64::from(scroll.y * 0.004).exp());
    } else if scroll.y != 0.0 || pinch != 1.0 {
        view.ruler.zoom(axis, blank, at.x, f64::from(pinch) * f64::from(scroll.y * 0.004).exp());
    }
    if scroll.x != 0.0 {
        let now = view.ruler.axis(egui::Rangef::new(axis.left_px, axis.right_px), blank);
        view.ruler.scroll(now, blank, scroll.x);
    }
    let axis = view.ruler.axis(egui::Rangef::new(axis.left_px, axis.right_px), blank);
    if moved {
        view.cursor_mm = rounded(axis.s(at.x), units, axis.px_per_mm).min(blank.to_mm).max(blank.from_mm);
    }
    axis
}

/// Whether the pointer is over the rows and not over a menu that lies on them.
fn over(ui: &Ui, rows: Rect, at: Pos2) -> bool {
    rows.contains(at) && ui.ctx().layer_id_at(at).is_none_or(|layer| layer == ui.layer_id())
}

/// The surfaces that rows show.
const SHARP: [Surface; 4] =
    [Surface::Cut(Cut::First), Surface::Cut(Cut::Second), Surface::Face(Face::One), Surface::Face(Face::Two)];

/// What a row needs of a surface: the stretch on screen, as finely as it is shown.
fn wanted(surface: Surface, scene: &Scene<'_>, axis: Axis, px_per_mm: [f64; 2], page_px_per_mm: f64) -> Wanted {
    let shown = axis.shown();
    let ends = match surface {
        Surface::Cut(_) => Stretch { from_mm: 0.0, to_mm: scene.leg.length_mm },
        Surface::Face(_) | Surface::End(_) => blank_stretch(scene.design),
    };
    let shown = Stretch { from_mm: shown.from_mm.max(ends.from_mm), to_mm: shown.to_mm.min(ends.to_mm) };
    Wanted { surface, shown, px_per_mm, page_px_per_mm }
}

/// A row's bar: a click folds it away or out. The answer is where the hand drags its upper edge to.
fn bar(ui: &mut Ui, rect: Rect, command: Command, fold: &mut Fold) -> Option<f32> {
    let t = Tokens::here(ui);
    let response = ui.interact(rect, Id::unique(("bar", command.label())), Sense::click_and_drag());
    response.widget_info(|| WidgetInfo::selected(Role::Button, true, fold.open, command.label()));
    let fill = if response.hovered() { t.raised_more } else { t.raised };
    ui.painter().rect_filled(rect, 0.0, fill);
    ui.painter().hline(rect.x_range(), rect.top() + 0.5, egui::Stroke::new(1.0, t.edge));
    let at = pos2(rect.left() + 18.0, rect.center().y);
    let arrow = if fold.open {
        vec![at + vec2(-5.0, -3.0), at + vec2(5.0, -3.0), at + vec2(0.0, 4.0)]
    } else {
        vec![at + vec2(-3.0, -5.0), at + vec2(4.0, 0.0), at + vec2(-3.0, 5.0)]
    };
    ui.painter().add(egui::Shape::convex_polygon(arrow, t.soft, egui::Stroke::NONE));
    ui.painter().text(at + vec2(14.0, 0.0), Align2::LEFT_CENTER, command.label(), tokens::bold(), t.ink);
    if response.has_focus() {
        ui.painter().rect_stroke(rect.shrink(1.0), 0.0, egui::Stroke::new(1.0, t.ink), egui::StrokeKind::Inside);
    }
    if response.clicked() {
        fold.open = !fold.open;
    }
    let mut dragged_to = None;
    if fold.open && response.dragged() {
        let (at, origin) = ui.input(|i| (i.pointer.interact_pos(), i.pointer.press_origin()));
        // Where on the bar it was taken hold of: kept, so that the bar stays under the hand past every stop and back.
        let held = Id::unique("held on the bar");
        if response.drag_started() {
            ui.data_mut(|data| data.insert_temp(held, origin.map_or(0.0, |origin| origin.y - rect.top())));
        }
        let grab = ui.data(|data| data.get_temp::<f32>(held)).unwrap_or_default();
        dragged_to = at.map(|at| at.y - grab);
    }
    let icon = if fold.open { CursorIcon::ResizeVertical } else { CursorIcon::PointingHand };
    response.on_hover_cursor(icon).on_hover_text(command.tooltip(ui.ctx()));
    dragged_to
}

/// How far the rows are stretched across, always shown; a click gives true shape.
fn stretch_button(ui: &mut Ui, faces: Rect, stretch: f64, asks: &mut Vec<Ask>) {
    let words = stretch_words(stretch);
    let rect = Rect::from_min_size(faces.right_bottom() + vec2(-118.0, -23.0), vec2(110.0, 20.0));
    let mut ui = ui.new_child(
        UiBuilder::new().max_rect(rect).id_salt("stretch").layout(egui::Layout::right_to_left(egui::Align::Center)),
    );
    ui.spacing_mut().button_padding = vec2(6.0, 0.0);
    ui.spacing_mut().interact_size.y = 20.0;
    let button = ui.add(Button::new(RichText::new(words).font(tokens::small())));
    if button.on_hover_text(Command::TrueShape.tooltip(ui.ctx())).clicked() {
        asks.push(Ask::Command(Command::TrueShape));
    }
}

/// The leg takes the whole height: beside the section it is half as large again as above it.
fn leg_and_section(ui: &Ui, area: Rect) -> (Rect, Rect) {
    let t = Tokens::here(ui);
    ui.painter().vline(area.left() - 0.5, area.y_range(), egui::Stroke::new(1.0, t.edge));
    let section_px = (area.width() * 0.5).clamp(184.0, 250.0);
    let parting = area.right() - section_px;
    ui.painter().vline(parting - 0.5, area.y_range(), egui::Stroke::new(1.0, t.hair));
    let leg = Rect::from_min_max(area.min, pos2(parting, area.bottom()));
    (leg, Rect::from_min_max(pos2(parting, area.top()), area.max))
}

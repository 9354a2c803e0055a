//! The four sides of the finished leg, each with its wood: the seam straight, the outline wandering about it; and what
//! meets at the seams and what does not.

use std::ops::Range;

use cornerwise_geometry::{Cut, Leg, LegPoint, Side, Units};
use cornerwise_wood::{Mismatch, PairReading, Place, Rating, SeamAnswer};
use egui::epaint::Mesh;
use egui::{
    Align2, Color32, Id, Painter, Pos2, Rect, Role, Sense, Shape, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2,
};

use super::seam_place::Pointed;
use super::{grips, picking};
use crate::across::Across;
use crate::gesture::Gesture;
use crate::grip::Placed;
use crate::paint::{self, Corner, add_quad};
use crate::patch::{TexturePatch, finest};
use crate::ruler::{Axis, Stretch};
use crate::scene::{Ask, Scene};
use crate::seam_work::SeamWork;
use crate::sheet::{Edge, Sheet, Spot};
use crate::tokens::{self, GAP, Tokens};
use crate::view::View;

/// Room between two sides, points.
const BETWEEN_PX: f32 = 18.0;

/// Marks closer than this would hide one another; their brackets still show, points.
const MARKS_APART_PX: f32 = 56.0;

/// Ends of places closer than this are not all drawn, points: short places one after another would be a comb.
const ENDS_APART_PX: f32 = 14.0;

/// How near to a seam it is pointed at, points.
const POINT_PX: f32 = 8.0;

/// How the sides lie on screen.
#[derive(Clone, Debug, PartialEq)]
pub struct Screen {
    axis: Axis,
    /// Points per millimetre across.
    px_per_mm: f64,
    rect: Rect,
    /// For each side: where its seam is and the rows it takes up, points.
    bands: [Band; 4],
}

#[derive(Clone, Debug, PartialEq)]
struct Band {
    seam_px: f32,
    rows: Range<f32>,
}

/// The paint of both sawn surfaces, coarse to fine.
pub type Grounds<'a> = &'a [[Option<TexturePatch>; 2]];

impl Screen {
    /// The four sides below one another in `rect`.
    pub fn new(axis: Axis, across: Across, rect: Rect, scene: &Scene<'_>) -> Screen {
        let reaches = Side::ALL.map(|side| reach(scene, side));
        let total: f64 = reaches.iter().map(|[least, most]| most - least).sum();
        let room = (rect.height() - 5.0 * BETWEEN_PX).max(20.0);
        // All four stay in sight: stretched like the faces only as far as they fit.
        let px_per_mm = across.px_per_mm(axis, room, total).min(f64::from(room) / total.max(1e-3));
        let tall = (total * px_per_mm) as f32 + 3.0 * BETWEEN_PX;
        let mut top = rect.center().y - tall / 2.0;
        let bands = reaches.map(|[least, most]| {
            let bottom = top + ((most - least) * px_per_mm) as f32;
            let band = Band { seam_px: top - (least * px_per_mm) as f32, rows: top..bottom };
            top = bottom + BETWEEN_PX;
            band
        });
        Screen { axis, px_per_mm, rect, bands }
    }

    /// Whether it lies as another one does, but for how far the leg reaches.
    pub fn lies_as(&self, other: &Screen) -> bool {
        self.axis == other.axis && self.rect == other.rect
    }

    /// The outlines as sheets for the hand: each is the mirror of a saw line.
    pub fn sheets(&self, scene: &Scene<'_>) -> Vec<Sheet> {
        let top = f64::from(self.axis.left_px) - self.axis.left_mm * self.axis.px_per_mm;
        let sheet = |side: Side, edge: Edge| {
            let cut = outline_cut(side);
            let down = if down_grows(side) { 1.0 } else { -1.0 };
            let seam = f64::from(self.bands[side.index()].seam_px);
            Sheet {
                cut,
                spot: Spot::Side(side, edge),
                origin: [top, seam + down * edge.on_leg(0.0, scene.leg.across_mm(cut)) * self.px_per_mm],
                along: [self.axis.px_per_mm, 0.0],
                across: [0.0, -down * self.px_per_mm],
            }
        };
        Side::ALL.into_iter().flat_map(|side| Edge::ALL.map(|edge| sheet(side, edge))).collect()
    }

    /// The seam at a point of the screen, and where along it, mm from the top.
    fn seam_at(&self, at: Pos2, length_mm: f64) -> Option<(Side, f64)> {
        let s = self.axis.s(at.x);
        let near = |side: &Side| (self.bands[side.index()].seam_px - at.y).abs() <= POINT_PX;
        (0.0..=length_mm).contains(&s).then(|| Side::ALL.into_iter().find(near).map(|side| (side, s))).flatten()
    }

    pub(super) fn pos(&self, side: Side, s_mm: f64, down_mm: f64) -> Pos2 {
        let seam = f64::from(self.bands[side.index()].seam_px);
        pos2(self.axis.x(s_mm), (seam + down_mm * self.px_per_mm) as f32)
    }
}

/// Whether a side's row has the growing coordinate of the leg downward: rotated into view, never mirrored.
pub(super) fn down_grows(side: Side) -> bool {
    matches!(side, Side::One | Side::Two)
}

/// The cut whose line gives a side its outline: the one that the side was not sawn by.
pub(super) fn outline_cut(side: Side) -> Cut {
    match side.cut() {
        Cut::First => Cut::Second,
        Cut::Second => Cut::First,
    }
}

/// How far a side's outline reaches above and below its seam, mm.
fn reach(scene: &Scene<'_>, side: Side) -> [f64; 2] {
    let cut = outline_cut(side);
    let (across, extent) = (scene.leg.across_mm(cut), scene.leg.line(cut).extent());
    let (least, most) = (extent.least.clamp(0.0, across), extent.most.clamp(0.0, across));
    if down_grows(side) { [-most, across - least] } else { [least - across, most] }
}

/// What the sides are drawn on and from.
pub struct Canvas<'a> {
    /// How they lie on screen.
    pub screen: &'a Screen,
    /// Their paint.
    pub grounds: Grounds<'a>,
    /// Their outlines for the hand.
    pub sheets: &'a [Sheet],
    /// What the pointer holds.
    pub held: Option<&'a Gesture>,
    /// What meets at their seams, as far as that is known yet.
    pub seams: Option<&'a SeamWork>,
}

/// Shows the sides. The answer is the place of a seam that is pointed at, and where that is on screen.
pub fn show(
    ui: &mut Ui,
    canvas: &Canvas<'_>,
    scene: &Scene<'_>,
    view: &mut View,
    asks: &mut Vec<Ask>,
) -> Option<(Pointed, f32)> {
    let Canvas { screen, grounds, sheets, held, seams } = *canvas;
    let t = Tokens::here(ui);
    let painter = ui.painter_at(screen.rect);
    painter.rect_filled(screen.rect, 0.0, t.sheet);
    let ground = ui.interact(screen.rect, Id::unique("sides"), Sense::click_and_drag());
    ground.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, "sides 1 to 4"));
    let shown = screen.axis.shown();
    let (from, to) = (shown.from_mm.max(0.0), shown.to_mm.min(scene.leg.length_mm));
    if to > from {
        let stations = stations(scene, from, to, 0.25 / screen.px_per_mm.max(1e-6));
        for side in Side::ALL {
            wood(&painter, t, screen, grounds, scene, side, &stations);
        }
    }
    super::ghost::on_sides(&painter, t, screen, scene);
    let points = points_on(sheets, scene);
    paint::cursor(&painter, t, screen.axis, screen.rect, view.cursor_mm);
    let mut marked = None;
    for side in Side::ALL {
        seam_line(&painter, t, screen, side, scene);
        if let Some(work) = seams {
            let answer = &work.answers[side.index()];
            marked = seam(ui, &painter, t, screen, side, answer, &points).or(marked);
            rated(&painter, t, screen, side, &work.readings[side.cut().index()]);
        }
    }
    let at = screen.rect.right_bottom() + vec2(-8.0, -6.0);
    let words = crate::across::stretch_words(screen.px_per_mm / screen.axis.px_per_mm);
    paint::label(&painter, t, at, Align2::RIGHT_BOTTOM, &words, tokens::small(), t.soft);
    picking::pan(ui, &ground, screen.axis, scene, view);
    grips::ground(ui, &ground, sheets, scene, view, asks);
    picking::show(ui, &painter, &ground, sheets, scene, view);
    grips::show(ui, &painter, &grips::Area { rect: screen.rect, sheets, held }, scene, view, asks);
    if scene.moving {
        return None;
    }
    let hovered = ground.contains_pointer().then(|| ui.input(|i| i.pointer.hover_pos())).flatten();
    let hovered = hovered.and_then(|at| screen.seam_at(at, scene.leg.length_mm)).or(marked);
    let pointed = hovered.zip(seams).map(|((side, s), work)| {
        let reading = &work.readings[side.cut().index()];
        Pointed::new(side, s, found_at(work, side, s), figures_at(reading, s, scene.units()))
    })?;
    let place_px = screen.axis.x(pointed.s_mm);
    Some((pointed, place_px))
}

/// What is found at a place of a seam, in words.
fn found_at(work: &SeamWork, side: Side, s: f64) -> String {
    let within = |from: f64, to: f64| (from..=to).contains(&s);
    let looks = work.readings[side.cut().index()].places.iter().find(|place| within(place.from_mm, place.to_mm));
    let found = work.answers[side.index()].places.iter().find(|place| within(place.from_mm, place.to_mm));
    match (looks.map(|place| place.rating), found) {
        (None, Some(place)) => place.what.to_string(),
        (None, None) => "it fits here".to_owned(),
        (Some(looks), Some(place)) => format!("{}: {}", looks.name(), place.what),
        (Some(Rating::Good), None) => "good: it fits here".to_owned(),
        // Lines that fit this well are told by their jump; what else is seen is their colour.
        (Some(looks), None) => format!("{}: the colours differ", looks.name()),
    }
}

/// How far lines jump at a place of a seam, and how far its colours are apart; nothing where neither is known.
fn figures_at(reading: &PairReading, s: f64, units: Units) -> String {
    let jump = reading.jump_at(s).map(|jump| {
        let mm = units.show_with_unit(jump.mm);
        jump.ring_share.map_or(format!("jump {mm}"), |share| format!("jump {share:.2} of a ring, {mm}"))
    });
    let colour = reading.colour_at(s).map(|colour| format!("colours {colour:.1} apart"));
    jump.into_iter().chain(colour).collect::<Vec<_>>().join("; ")
}

/// Where the points of the saw lines lie on the sides.
fn points_on(sheets: &[Sheet], scene: &Scene<'_>) -> Vec<Pos2> {
    let all = Placed::all(scene.design, None);
    let on = |sheet: &Sheet| {
        let here = all.iter().filter(|placed| placed.grip.is_point() && placed.is_on(sheet));
        here.map(|placed| sheet.pos(placed.at)).collect::<Vec<_>>()
    };
    sheets.iter().flat_map(on).collect()
}

/// The leg's stations in a stretch, both ends among them.
pub(super) fn stations(scene: &Scene<'_>, from: f64, to: f64, tolerance_mm: f64) -> Vec<f64> {
    let within = scene.leg.stations_within(tolerance_mm).into_iter().filter(|s| *s > from && *s < to);
    std::iter::once(from).chain(within).chain([to]).collect()
}

/// A side's outline at a station, mm below its seam: its upper edge and its lower.
fn outline(scene: &Scene<'_>, side: Side, s: f64) -> [f64; 2] {
    outline_of(scene.leg, side, s)
}

/// The outline of a side of any leg.
pub(super) fn outline_of(leg: &Leg, side: Side, s: f64) -> [f64; 2] {
    let (at, across) = match outline_cut(side) {
        Cut::First => (leg.a(s), leg.width_mm),
        Cut::Second => (leg.b(s), leg.depth_mm),
    };
    if down_grows(side) { [-at, across - at] } else { [at - across, at] }
}

/// A place on a side as a point of the blank.
fn blank_point(scene: &Scene<'_>, side: Side, upper: bool, s: f64, down: f64) -> cornerwise_geometry::BlankPoint {
    let grows = down_grows(side);
    let along = if grows { down } else { -down };
    // Below the seam of sides 1 and 2 lies the piece at the greater coordinate, below that of 3 and 4 the other.
    let [smaller, greater] = side.pieces();
    let piece = if upper == grows { smaller } else { greater };
    let (a, b) = (scene.leg.a(s), scene.leg.b(s));
    let (u, v) = match side {
        Side::One => (along, -b),
        Side::Two => (scene.leg.width_mm - a, along),
        Side::Three => (along, scene.leg.depth_mm - b),
        Side::Four => (-a, along),
    };
    piece.in_blank(scene.leg.width_mm, scene.leg.depth_mm, LegPoint { u, v, s })
}

pub(super) fn wood(
    painter: &Painter,
    t: &Tokens,
    screen: &Screen,
    grounds: Grounds<'_>,
    scene: &Scene<'_>,
    side: Side,
    stations: &[f64],
) {
    let shown = Stretch {
        from_mm: stations.first().copied().unwrap_or_default(),
        to_mm: stations.last().copied().unwrap_or_default(),
    };
    if let Some(patch) = finest(grounds, side.cut(), shown) {
        let mut mesh = Mesh::with_texture(patch.texture);
        for pair in stations.windows(2) {
            let [s0, s1] = [pair[0], pair[1]];
            let (edge0, edge1) = (outline(scene, side, s0), outline(scene, side, s1));
            for upper in [true, false] {
                let corner = |s: f64, down: f64| Corner {
                    at: screen.pos(side, s, down),
                    uv: patch.uv(blank_point(scene, side, upper, s, down)),
                };
                let i = usize::from(!upper);
                let corners = [corner(s0, edge0[i]), corner(s1, edge1[i]), corner(s1, 0.0), corner(s0, 0.0)];
                add_quad(&mut mesh, corners, [Color32::WHITE; 4]);
            }
        }
        painter.add(Shape::mesh(mesh));
    }
    for i in 0..2 {
        let edge: Vec<Pos2> = stations.iter().map(|s| screen.pos(side, *s, outline(scene, side, *s)[i])).collect();
        painter.add(Shape::line(edge, Stroke::new(1.2, t.ink)));
    }
    for s in [0.0, scene.leg.length_mm] {
        let [upper, lower] = outline(scene, side, s).map(|down| screen.pos(side, s, down));
        painter.line_segment([upper, lower], Stroke::new(1.2, t.ink));
    }
}

/// A seam and its name.
fn seam_line(painter: &Painter, t: &Tokens, screen: &Screen, side: Side, scene: &Scene<'_>) {
    let ends = [screen.pos(side, 0.0, 0.0), screen.pos(side, scene.leg.length_mm, 0.0)];
    painter.line_segment(ends, Stroke::new(3.0, t.halo.gamma_multiply(0.5)));
    painter.line_segment(ends, Stroke::new(1.0, t.ink));
    let name = name_of(side, screen, painter);
    paint::label(painter, t, name, Align2::LEFT_BOTTOM, &side.to_string(), tokens::small(), t.ink);
}

fn name_of(side: Side, screen: &Screen, painter: &Painter) -> Pos2 {
    let left = screen.axis.x(0.0).max(painter.clip_rect().left());
    pos2(left + 6.0, screen.bands[side.index()].rows.start - 2.0)
}

/// The places where something does not fit. Each mark can be reached by Tab; the answer is the one that has the focus: its
/// side and its middle, mm from the top. Words keep clear of the saw lines' points.
fn seam(
    ui: &Ui,
    painter: &Painter,
    t: &Tokens,
    screen: &Screen,
    side: Side,
    answer: &SeamAnswer,
    points: &[Pos2],
) -> Option<(Side, f64)> {
    let band = &screen.bands[side.index()];
    let visible = screen.rect.x_range();
    let width = painter.layout_no_wrap(side.to_string(), tokens::small(), t.ink).size().x;
    let mut free_from = name_of(side, screen, painter).x + width + GAP;
    let mut focused = None;
    let (mut last_mark, mut last_end) = (f32::NEG_INFINITY, f32::NEG_INFINITY);
    for place in &answer.places {
        let (from, to) = (screen.axis.x(place.from_mm), screen.axis.x(place.to_mm));
        if to < visible.min || from > visible.max {
            continue;
        }
        let seen = [from.max(visible.min), to.min(visible.max)];
        last_end = bracket(painter, t, seen, band.seam_px, last_end);
        let middle = (seen[0] + seen[1]) / 2.0;
        if middle - last_mark >= MARKS_APART_PX {
            let at = pos2(middle, band.seam_px);
            let area = Rect::from_center_size(at, vec2(22.0, 18.0));
            let id = Id::unique(("seam place", side.number(), (place.from_mm * 1000.0) as i64));
            let response = ui.interact(area, id, Sense::focusable_noninteractive());
            let name = format!("{}, {:.1} to {:.1} mm: {}", answer.seam, place.from_mm, place.to_mm, place.what);
            response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &name));
            if response.has_focus() {
                painter.rect_stroke(area, 3.0, Stroke::new(1.5, t.ink), StrokeKind::Outside);
                focused = Some((side, 0.5 * (place.from_mm + place.to_mm)));
            }
            mark(painter, t, place.what, at);
            last_mark = middle;
        }
        free_from = word(painter, t, place, seen, band.rows.start - 2.0, free_from, points);
    }
    focused
}

/// Below a side, how its seam looks: nothing where it is good, dots where it is doubtful, a bar where it is bad. The head
/// says so in words; beside the marks there is no room for them.
fn rated(painter: &Painter, t: &Tokens, screen: &Screen, side: Side, reading: &PairReading) {
    let y = screen.bands[side.index()].rows.end + 2.5;
    let visible = screen.rect.x_range();
    for place in reading.places.iter().filter(|place| place.rating != Rating::Good) {
        let from = screen.axis.x(place.from_mm).max(visible.min);
        let to = screen.axis.x(place.to_mm).min(visible.max);
        if to <= from {
            continue;
        }
        let ends = [pos2(from, y), pos2(to, y)];
        if place.rating == Rating::Bad {
            painter.line_segment(ends, Stroke::new(2.5, t.ink));
        } else {
            painter.extend(Shape::dotted_line(&ends, t.ink, 4.0, 1.0));
        }
    }
}

/// Writes a place's word above the side: over the place where there is room, else as near as the words before it and
/// the edge of the canvas let it; not at all where it would stand for another place. It moves aside for points, which are
/// drawn over it, as far as it still stands for its place.
fn word(
    painter: &Painter,
    t: &Tokens,
    place: &Place,
    [from, to]: [f32; 2],
    y: f32,
    free_from: f32,
    points: &[Pos2],
) -> f32 {
    let galley = painter.layout_no_wrap(place.what.to_string(), tokens::small(), t.ink);
    let [width, high] = galley.size().into();
    let most = painter.clip_rect().right() - GAP - width;
    let stands = |left: f32| left >= free_from && left <= most && left <= to && left + width >= from;
    let middle = ((from + to - width) / 2.0).max(free_from).min(most);
    if !stands(middle) {
        return free_from;
    }
    let clear = tokens::POINT + 4.0;
    let covered = |left: f32| {
        let strip = Rect::from_min_max(pos2(left, y - high), pos2(left + width, y)).expand(clear);
        points.iter().find(|point| strip.contains(**point)).map(|point| point.x)
    };
    let beside = |on_the_right: bool| {
        let mut left = middle;
        for _ in 0..4 {
            let Some(x) = covered(left) else { return stands(left).then_some(left) };
            left = if on_the_right { x + clear + 1.0 } else { x - clear - 1.0 - width };
        }
        None
    };
    let sides = [true, false].into_iter().filter_map(beside);
    let left = sides.min_by(|p, q| (p - middle).abs().total_cmp(&(q - middle).abs())).unwrap_or(middle);
    let at = pos2(left, y);
    paint::label(painter, t, at, Align2::LEFT_BOTTOM, &place.what.to_string(), tokens::small(), t.ink).right() + 24.0
}

/// Where on the seam a place begins and ends, unless an end was drawn very near before. The answer is the last one drawn.
fn bracket(painter: &Painter, t: &Tokens, [from, to]: [f32; 2], y: f32, last_end: f32) -> f32 {
    let to = to.max(from + 2.0);
    let mut last = last_end;
    let mut ends = Vec::new();
    for x in [from, to] {
        if x - last >= ENDS_APART_PX {
            ends.push(x);
            last = x;
        }
    }
    for stroke in [Stroke::new(3.0, t.halo), Stroke::new(1.4, t.ink)] {
        painter.hline(from..=to, y, stroke);
        for x in &ends {
            painter.vline(*x, y - 4.0..=y + 4.0, stroke);
        }
    }
    last
}

/// A place's mark on the seam, its kind told by its shape: a step where lines jump, a ring where woods differ, a bar
/// where the pattern breaks, an angle where ring lines turn.
fn mark(painter: &Painter, t: &Tokens, what: Mismatch, at: Pos2) {
    let (ink, halo) = (Stroke::new(1.8, t.ink), Stroke::new(5.0, t.halo));
    let line = |points: &[(f32, f32)]| points.iter().map(|(dx, dy)| at + vec2(*dx, *dy)).collect::<Vec<_>>();
    for (stroke, fill) in [(halo, t.halo), (ink, t.sheet)] {
        match what {
            Mismatch::LinesJump | Mismatch::LinesJumpInPattern => {
                painter.add(Shape::line(line(&[(-9.0, -5.0), (0.0, -5.0), (0.0, 5.0), (9.0, 5.0)]), stroke));
            }
            Mismatch::LinesJumpWoodsDiffer
            | Mismatch::LinesJumpWoodsDifferInPattern
            | Mismatch::LinesJumpHeartMeetsSap => {
                painter.add(Shape::line(line(&[(-11.0, -5.0), (0.0, -5.0), (0.0, 5.0), (11.0, 5.0)]), stroke));
                painter.circle(at, 3.5, fill, stroke);
            }
            Mismatch::WoodsDiffer | Mismatch::HeartMeetsSap => {
                painter.circle(at, 4.5, fill, stroke);
            }
            Mismatch::WoodsDifferPatternBreaks => {
                painter.vline(at.x, at.y - 9.0..=at.y + 9.0, stroke);
                painter.circle(at, 4.5, fill, stroke);
            }
            Mismatch::PatternBreaks => {
                painter.vline(at.x, at.y - 9.0..=at.y + 9.0, stroke);
            }
            Mismatch::NotPhotographed => {
                let font = egui::FontId::proportional(15.0);
                painter.circle(at, 8.0, t.sheet, Stroke::new(1.2, t.ink));
                painter.text(at, Align2::CENTER_CENTER, "?", font, t.ink);
            }
            Mismatch::LinesTurn => {
                painter.add(Shape::line(line(&[(-6.0, -7.0), (2.0, 0.0), (-6.0, 7.0)]), stroke));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use cornerwise_project::Project;
    use std::sync::Arc;

    #[test]
    fn every_place_on_a_side_is_a_place_on_its_sawn_surface() {
        let project = Arc::new(Project::new());
        let design = Arc::clone(&project.designs[0]);
        let leg = Arc::new(design.leg().unwrap());
        let scene = Scene {
            project: &project,
            design: &design,
            leg: &leg,
            ghost: None,
            revision: 0,
            moving: false,
            prints: &crate::darkroom::Prints::default(),
        };
        for side in Side::ALL {
            for s in [0.0, 123.0, 400.0, 700.0] {
                let [upper, lower] = outline(&scene, side, s);
                assert!((lower - upper - 50.0).abs() < 1e-9);
                for (is_upper, down) in [(true, upper), (true, 0.0), (false, 0.0), (false, lower)] {
                    let p = blank_point(&scene, side, is_upper, s, down);
                    let on_cut = match side.cut() {
                        Cut::First => (p.x - leg.a(s)).abs(),
                        Cut::Second => (p.y - leg.b(s)).abs(),
                    };
                    assert!(on_cut < 1e-9, "{side} at {s}: {p:?}");
                    assert!((-1e-9..=50.0 + 1e-9).contains(&p.x) && (-1e-9..=50.0 + 1e-9).contains(&p.y));
                }
                // The seam joins opposite edges of the blank, the outline comes from the saw line.
                let (above, below) =
                    (blank_point(&scene, side, true, s, 0.0), blank_point(&scene, side, false, s, 0.0));
                let apart = (above.x - below.x).abs() + (above.y - below.y).abs();
                assert!((apart - 50.0).abs() < 1e-9, "{side}: the seam joins places a blank's width apart");
            }
        }
    }
}

//! The upright leg, in true shape: turned by dragging, opened by its slider.

use std::sync::Arc;

use cornerwise_geometry::{Camera, Cut, Facet, Facets, Opening, SawnFacets, Side, Stage, Surface};
use egui::epaint::Mesh;
use egui::{
    Align2, CursorIcon, EventFilter, Id, Key, Pos2, Rect, Role, Sense, Shape, Slider, Stroke, StrokeKind, Ui,
    UiBuilder, Vec2, WidgetInfo, pos2, vec2,
};

use super::seam_place::{self, Pointed};
use super::{grips, sides};
use crate::derive::Derived;
use crate::gesture::Gesture;
use crate::paint::{Corner, add_quad};
use crate::patch::TexturePatch;
use crate::scene::{Ask, Scene};
use crate::sheet::{Edge, Sheet, Spot};
use crate::solid::{light, soften};
use crate::tokens::{self, GAP, Tokens};
use crate::view::{LegAs, View};

/// Room round the leg, points.
const MARGIN_PX: f32 = 14.0;
/// Height of the slider and its words, points.
const SLIDER_PX: f32 = 70.0;
/// Degrees that the leg turns for each point that it is dragged.
const TURN_PER_PX: f64 = 0.5;
/// How nearly square to a side the leg is turned by hand to be put square to it, degrees.
const SETTLES_DEG: f64 = 3.0;
/// How far slabs may stray from the curve, points.
const STRAY_PX: f64 = 0.25;

/// How the leg lies on screen.
#[derive(Clone, Copy, Debug)]
pub struct Screen {
    camera: Camera,
    /// Where the middle of the axis is.
    middle: Pos2,
    px_per_mm: f64,
    half_length_mm: f64,
}

impl Screen {
    /// How it is looked at.
    pub(super) fn camera(&self) -> &Camera {
        &self.camera
    }

    /// Where a point of the finished leg is on screen.
    pub(super) fn pos(&self, at: [f64; 3]) -> Pos2 {
        let [right, up, _] = self.camera.view([at[0], at[1], at[2] - self.half_length_mm]);
        self.middle + vec2((right * self.px_per_mm) as f32, (-up * self.px_per_mm) as f32)
    }
}

impl Screen {
    /// The silhouette as sheets for the hand, where the finished leg is seen square to a side: each edge is then the
    /// mirror of one saw line, and of no other.
    fn sheets(&self, scene: &Scene<'_>, view: &View) -> Vec<Sheet> {
        let Some(side) = square_on(view) else { return Vec::new() };
        let cut = sides::outline_cut(side);
        let axis = match cut {
            Cut::First => 0,
            Cut::Second => 1,
        };
        let (right, up) = (self.camera.right(), self.camera.up());
        let on_screen = |i: usize| [right[i] * self.px_per_mm, -up[i] * self.px_per_mm];
        let (along, grown) = (on_screen(2), on_screen(axis));
        let sheet = |edge: Edge| {
            let at = edge.on_leg(0.0, scene.leg.across_mm(cut));
            let origin = |i: usize, middle: f32| f64::from(middle) - along[i] * self.half_length_mm + grown[i] * at;
            Sheet {
                cut,
                spot: Spot::Leg(edge),
                origin: [origin(0, self.middle.x), origin(1, self.middle.y)],
                along,
                across: grown.map(|px| -px),
            }
        };
        Edge::ALL.map(sheet).to_vec()
    }
}

/// The side that the finished leg is seen square to, if it is.
fn square_on(view: &View) -> Option<Side> {
    let quarters = view.turn_deg / 90.0;
    let square = view.opening >= 1.0 && view.tilt_deg == 0.0 && quarters == quarters.round();
    square.then(|| Side::ALL[(quarters.rem_euclid(4.0)) as usize])
}

/// Puts what is turned square to a side when it has been turned nearly there, so that a hand can get there.
fn settle(turn_deg: &mut f64, tilt_deg: &mut f64) {
    let square = (*turn_deg / 90.0).round() * 90.0;
    if (*turn_deg - square).abs() <= SETTLES_DEG && tilt_deg.abs() <= SETTLES_DEG {
        (*turn_deg, *tilt_deg) = (square.rem_euclid(360.0), 0.0);
    }
}

/// Turns the leg square to the next side.
pub fn turn_to_next_side(view: &mut View) {
    let quarters = (view.turn_deg / 90.0 + 1e-9).floor() + 1.0;
    (view.turn_deg, view.tilt_deg, view.opening) = ((quarters * 90.0).rem_euclid(360.0), 0.0, 1.0);
}

/// Where the leg is shown.
pub struct Canvas<'a> {
    /// The leg and its slider.
    pub rect: Rect,
    /// What the pointer holds.
    pub held: Option<&'a Gesture>,
    /// How the leg lay when the hand took hold of it: it stays so, or it would run away from the hand.
    pub kept: Option<Screen>,
    /// The place of a seam that is pointed at.
    pub pointed: Option<&'a Pointed>,
}

/// How large the leg will be in `rect`, points per millimetre, before anything of it is known.
pub fn px_per_mm(rect: Rect, length_mm: f64) -> f64 {
    f64::from(rect.height() - SLIDER_PX - 2.0 * MARGIN_PX).max(1.0) / length_mm.max(1.0)
}

/// Shows the leg, its slider below it. The answer is how it lies, and its silhouette for the hand.
pub fn show(
    ui: &mut Ui,
    on: &Canvas<'_>,
    scene: &Scene<'_>,
    view: &mut View,
    derived: &mut Derived,
    asks: &mut Vec<Ask>,
) -> (Screen, Vec<Sheet>) {
    let t = Tokens::here(ui);
    let Canvas { rect, held, kept, pointed } = *on;
    let canvas = Rect::from_min_max(rect.min, pos2(rect.right(), rect.bottom() - SLIDER_PX));
    let painter = ui.painter_at(canvas);
    painter.rect_filled(canvas, 0.0, t.sheet);
    let response = ui.interact(canvas, Id::unique("upright leg"), Sense::click_and_drag());
    response.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, "upright leg"));
    turn(ui, &response, &mut view.turn_deg, &mut view.tilt_deg);
    let wide = px_per_mm(rect, scene.leg.length_mm);
    let facets = derived.facets(scene.leg, view.opening, STRAY_PX / wide);
    let screen = kept.unwrap_or_else(|| fitted(canvas, scene, view, &facets));
    let order = derived.order(&facets, view.turn_deg, view.tilt_deg);
    let patches = Surface::ALL.map(|surface| derived.atlas.patch(surface));
    let survey = derived.survey(scene);
    let as_sawn =
        (view.leg_as == LegAs::Sawn && view.opening >= 1.0).then(|| derived.sawn_facets(&facets, &survey)).flatten();
    if let Some(mesh) = mesh(&facets, as_sawn.as_deref(), &order, &screen, &patches, ui.pixels_per_point()) {
        painter.add(Shape::mesh(mesh));
    }
    if view.opening >= 1.0 {
        super::ghost::on_leg(&painter, t, &screen.camera, |at| screen.pos(at), scene);
        if let Some(pointed) = pointed {
            seam_place::on_leg(&painter, t, &screen.camera, |at| screen.pos(at), pointed, scene);
        }
    }
    level_marks(&painter, t, canvas, &screen, view.cursor_mm.clamp(0.0, scene.leg.length_mm));
    if response.has_focus() {
        painter.rect_stroke(canvas.shrink(1.0), 0.0, Stroke::new(1.0, t.edge), StrokeKind::Inside);
    }
    response.on_hover_and_drag_cursor(CursorIcon::Grab);
    let sheets = screen.sheets(scene, view);
    grips::show(ui, &painter, &grips::Area { rect: canvas, sheets: &sheets, held }, scene, view, asks);
    slider(ui, rect, view, facets.opening());
    (screen, sheets)
}

/// Turns what is upright by dragging it, or by the arrow keys once it has been clicked.
pub(super) fn turn(ui: &Ui, response: &egui::Response, turn_deg: &mut f64, tilt_deg: &mut f64) {
    if response.dragged() {
        let by = response.drag_delta();
        *turn_deg = (*turn_deg + f64::from(by.x) * TURN_PER_PX).rem_euclid(360.0);
        *tilt_deg = (*tilt_deg + f64::from(by.y) * TURN_PER_PX).clamp(-90.0, 90.0);
    }
    if response.drag_stopped() {
        settle(turn_deg, tilt_deg);
    }
    if response.clicked() {
        response.request_focus();
    }
    if response.has_focus() {
        let filter = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
        let (right, down) = ui.input(|i| {
            let presses = |key| i.num_presses(key) as f64;
            (presses(Key::ArrowRight) - presses(Key::ArrowLeft), presses(Key::ArrowDown) - presses(Key::ArrowUp))
        });
        *turn_deg = (*turn_deg + 5.0 * right).rem_euclid(360.0);
        *tilt_deg = (*tilt_deg + 5.0 * down).clamp(-90.0, 90.0);
        if (right, down) != (0.0, 0.0) {
            settle(turn_deg, tilt_deg);
        }
    }
}

/// As large as the canvas holds it.
fn fitted(canvas: Rect, scene: &Scene<'_>, view: &View, facets: &Arc<Facets>) -> Screen {
    let camera = Camera::new(view.turn_deg, view.tilt_deg);
    let half_length_mm = scene.leg.length_mm / 2.0;
    let room = canvas.size() - Vec2::splat(2.0 * MARGIN_PX);
    let [least, most] = facets.seen_within(&camera).unwrap_or([[-1.0, -1.0], [1.0, 1.0]]);
    let middle_up = camera.view([0.0, 0.0, half_length_mm])[1];
    // The axis stays in the middle, so that the leg does not wander while it turns.
    let wide = 2.0 * least[0].abs().max(most[0].abs());
    let tall = 2.0 * (most[1] - middle_up).abs().max((least[1] - middle_up).abs());
    let px_per_mm = (f64::from(room.x) / wide.max(1e-6)).min(f64::from(room.y) / tall.max(1e-6)).max(1e-6);
    Screen { camera, middle: canvas.center(), px_per_mm, half_length_mm }
}

/// All facets that face the viewer, back to front, each with its light and a strip one pixel wide that softens its edge.
fn mesh(
    facets: &Facets,
    as_sawn: Option<&SawnFacets>,
    order: &[u32],
    screen: &Screen,
    patches: &[Option<TexturePatch>; 8],
    pixels_per_point: f32,
) -> Option<Mesh> {
    let texture = patches.iter().flatten().next()?.texture;
    let mut mesh = Mesh::with_texture(texture);
    mesh.reserve_vertices(12 * order.len());
    mesh.reserve_triangles(6 * order.len());
    let last_slab = facets.slabs().saturating_sub(1) as u32;
    let stations: Vec<f64> = if as_sawn.is_some() { facets.stations().collect() } else { Vec::new() };
    let sawn = |facet: Facet| match (as_sawn, facet.slab as usize) {
        (Some(as_sawn), slab) if slab + 1 < stations.len() => as_sawn.of(&facet, [stations[slab], stations[slab + 1]]),
        _ => facet,
    };
    for facet in order.iter().filter_map(|number| facets.get(*number)).map(sawn) {
        let Some(patch) = &patches[facet.surface.index()] else { continue };
        let at = facet.corners.map(|corner| screen.pos(corner.at));
        let uv = facet.corners.map(|corner| patch.uv(corner.blank));
        let colour = light(screen.camera.view(facet.outward()));
        let corner = |i: usize| Corner { at: at[i], uv: uv[i] };
        add_quad(&mut mesh, [corner(0), corner(1), corner(2), corner(3)], [colour; 4]);
        let end = matches!(facet.surface, Surface::End(_));
        let middle = at.iter().fold(Vec2::ZERO, |sum, p| sum + p.to_vec2() / 4.0).to_pos2();
        for i in 0..4 {
            // Edges between slabs lie within a side; only those along it and round the ends can be an outline.
            let outline = end || i % 2 == 1 || (i == 0 && facet.slab == 0) || (i == 2 && facet.slab == last_slab);
            if outline {
                soften(&mut mesh, [corner(i), corner((i + 1) % 4)], middle, colour, 1.0 / pixels_per_point);
            }
        }
    }
    Some(mesh)
}

/// Marks at both edges at the height of the cursor.
fn level_marks(painter: &egui::Painter, t: &Tokens, canvas: Rect, screen: &Screen, s_mm: f64) {
    let y = screen.pos([0.0, 0.0, s_mm]).y;
    for (x, way) in [(canvas.left(), 1.0), (canvas.right(), -1.0)] {
        let tip = pos2(x + way * 9.0, y);
        let back = pos2(x + way * 1.0, y);
        painter.add(Shape::convex_polygon(
            vec![tip, back + vec2(0.0, -5.0), back + vec2(0.0, 5.0)],
            t.soft,
            Stroke::NONE,
        ));
    }
}

/// What happens at a share of the opening.
fn stage_words(stage: Stage) -> &'static str {
    match stage {
        Stage::Blank => "blank",
        Stage::Parting => "sawn",
        Stage::Rotating => "pieces rotate",
        Stage::Meeting => "corners meet",
        Stage::Finished => "finished leg",
    }
}

fn slider(ui: &mut Ui, rect: Rect, view: &mut View, opening: &Opening) {
    let t = Tokens::here(ui);
    let below = Rect::from_min_max(pos2(rect.left() + GAP, rect.bottom() - SLIDER_PX + 4.0), rect.max - vec2(GAP, 4.0));
    let mut ui = ui.new_child(UiBuilder::new().max_rect(below).id_salt("opening"));
    ui.spacing_mut().slider_width = below.width().max(1.0);
    ui.spacing_mut().item_spacing.y = 0.0;
    let slider = ui.add(Slider::new(&mut view.opening, 0.0..=1.0).show_value(false));
    slider.accessible_name("from the blank to the finished leg");
    let (words, _) = ui.allocate_exact_size(vec2(below.width().max(1.0), 34.0), Sense::hover());
    let stage = stage_words(opening.stage());
    let ends = [(words.left_top(), Align2::LEFT_TOP, "blank"), (words.right_top(), Align2::RIGHT_TOP, "finished leg")];
    for (at, align, word) in ends {
        let colour = if word == stage { t.ink } else { t.soft };
        ui.painter().text(at, align, word, tokens::small(), colour);
    }
    if !ends.iter().any(|(.., word)| *word == stage) {
        ui.painter().text(words.center_bottom(), Align2::CENTER_BOTTOM, stage, tokens::small(), t.ink);
    } else {
        // Here, where no leg lies over it.
        let shown = square_on(view).map_or("true shape".to_owned(), |side| format!("{side}, square on"));
        ui.painter().text(words.left_bottom(), Align2::LEFT_BOTTOM, shown, tokens::small(), t.soft);
    }
}

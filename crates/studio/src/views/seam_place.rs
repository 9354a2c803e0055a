//! A place of a seam that is pointed at: both its edges side by side, and the two spots of the blank they come from.

use std::sync::Arc;

use cornerwise_geometry::{Camera, Cut, Face, Side, Surface};
use cornerwise_project::Design;
use cornerwise_wood::{Patch, paint_patch};
use egui::{
    Align2, Color32, Context, Id, Painter, Pos2, Rect, Role, Sense, Shape, Stroke, StrokeKind, TextureHandle,
    TextureOptions, Ui, WidgetInfo, pos2, vec2,
};

use crate::across::ScreenFromFaces;
use crate::patch::bordered_image;
use crate::scene::Scene;
use crate::seam_picture::{Window, seam_picture, shows_faces};
use crate::tokens::{self, Tokens};

/// How much of the seam is shown to either side of the place, and beside it, mm.
const ALONG_MM: f64 = 22.0;
const BESIDE_MM: f64 = 9.0;
/// How large the pictures are, points.
const SEAM_PX: [f32; 2] = [304.0, 84.0];
const FACE_PX: [f32; 2] = [148.0, 62.0];
/// Places are told apart by this, mm: nearer, and the pictures stay as they are.
const STEP_MM: f64 = 0.25;

/// What is pointed at.
#[derive(Clone, Debug, PartialEq)]
pub struct Pointed {
    /// The side whose seam it is.
    pub side: Side,
    /// Where, mm from the top.
    pub s_mm: f64,
    /// What is found there, in words.
    pub what: String,
    /// How far lines jump and colours differ there; nothing where that is not known.
    pub figures: String,
}

/// A spot of the blank.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Spot {
    face: Face,
    /// Across the blank, along x or y, mm.
    across_mm: f64,
    /// From the face's own arris, the upper one as it lies before the maker, mm.
    from_arris_mm: f64,
}

impl Pointed {
    /// At a place, told by its words.
    pub fn new(side: Side, s_mm: f64, what: String, figures: String) -> Pointed {
        Pointed { side, s_mm: (s_mm / STEP_MM).round() * STEP_MM, what, figures }
    }

    /// The two spots of the blank that meet here: the one above the seam as the side lies, and the one below.
    fn spots(&self, scene: &Scene<'_>) -> [Spot; 2] {
        let s = self.s_mm;
        let across_mm = match self.side.cut() {
            Cut::First => scene.leg.a(s),
            Cut::Second => scene.leg.b(s),
        };
        let spots = self.side.cut().seam_faces().map(|face| {
            let whole = scene.leg.face_mm(face);
            let from_arris_mm = if face.runs_back() { whole - across_mm } else { across_mm };
            Spot { face, across_mm, from_arris_mm }
        });
        if self.flipped() { [spots[1], spots[0]] } else { spots }
    }

    /// Sides 3 and 4 lie with the piece beyond the cut above.
    fn flipped(&self) -> bool {
        matches!(self.side, Side::Three | Side::Four)
    }
}

/// The pictures of the place that was pointed at last.
#[derive(Default)]
pub struct Pictures {
    /// The design, the place, and how many pixels a point has.
    of: Option<(Arc<Design>, Side, f64, f32)>,
    seam: Option<TextureHandle>,
    /// Whether the seam's picture shows the faces folded out.
    folded: bool,
    faces: [Option<TextureHandle>; 2],
}

impl Pictures {
    fn make(&mut self, ctx: &Context, scene: &Scene<'_>, at: &Pointed) {
        let pixels = ctx.pixels_per_point();
        let key = (Arc::clone(scene.design), at.side, at.s_mm, pixels);
        let known = self.of.as_ref().is_some_and(|(design, side, s, was)| {
            (Arc::ptr_eq(design, &key.0) || *design == key.0) && (*side, *s, *was) == (key.1, key.2, key.3)
        });
        if known {
            return;
        }
        let figure = scene.design.figure();
        let along_mm = [at.s_mm - ALONG_MM, at.s_mm + ALONG_MM];
        let size = SEAM_PX.map(|px| (px * pixels) as usize);
        let window = Window { along_mm, beside_mm: BESIDE_MM, size, flipped: at.flipped() };
        self.folded = shows_faces(&figure, at.side.cut());
        let image = seam_picture(&figure, scene.leg, at.side.cut(), &window);
        self.seam = Some(ctx.load_texture("seam place", image, TextureOptions::LINEAR));
        self.faces = at.spots(scene).map(|spot| {
            let across = scene.leg.face_mm(spot.face);
            let [wide, high] = FACE_PX.map(|px| f64::from(px * pixels));
            let px_per_mm = [wide / (2.0 * ALONG_MM), high / across];
            let patch = Patch { px_per_mm, columns_mm: Some(along_mm), threads: 1 };
            let painted = paint_patch(scene.leg, &figure, Surface::Face(spot.face), &patch).ok()?;
            let image = bordered_image(&painted, painted.columns, painted.rows);
            Some(ctx.load_texture("seam spot", image, TextureOptions::LINEAR))
        });
        self.of = Some(key);
    }
}

/// Shows the place on a card over the sides, away from the place itself.
pub fn show(ui: &Ui, sides: Rect, place_px: f32, at: &Pointed, pictures: &mut Pictures, scene: &Scene<'_>) {
    pictures.make(ui.ctx(), scene, at);
    let t = Tokens::here(ui);
    let below = if pictures.folded { 26.0 } else { 8.0 };
    let line = if at.figures.is_empty() { 0.0 } else { 16.0 };
    let size = vec2(SEAM_PX[0] + 16.0, SEAM_PX[1] + FACE_PX[1] + 72.0 + below + line);
    let left = if place_px < sides.center().x { sides.right() - size.x - 8.0 } else { sides.left() + 8.0 };
    let top = sides.top() + 6.0;
    let card = Rect::from_min_size(pos2(left.max(sides.left()), top), size);
    let units = scene.units();
    let title = format!("Seam {}, {} from the top", at.side.number(), units.show_with_unit(at.s_mm));
    let spots = at.spots(scene);
    let spot_words = |spot: &Spot| {
        let from = units.show_with_unit(spot.from_arris_mm);
        format!("{}, {from} from arris {}", spot.face, spot.face.number())
    };
    let figures = if at.figures.is_empty() { String::new() } else { format!(", {}", at.figures) };
    let label = format!("{title}: {}{figures}; {} meets {}", at.what, spot_words(&spots[0]), spot_words(&spots[1]));
    let response = ui.interact(card, Id::unique("seam place"), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, &label));
    let painter = ui.painter();
    painter.rect_filled(card, 4.0, t.raised);
    painter.rect_stroke(card, 4.0, Stroke::new(1.0, t.edge), StrokeKind::Inside);
    let corner = card.min + vec2(8.0, 6.0);
    painter.text(corner, Align2::LEFT_TOP, title, tokens::bold(), t.ink);
    painter.text(corner + vec2(0.0, 18.0), Align2::LEFT_TOP, &at.what, tokens::small(), t.ink);
    painter.text(corner + vec2(0.0, 34.0), Align2::LEFT_TOP, &at.figures, tokens::small(), t.soft);
    let seam = Rect::from_min_size(corner + vec2(0.0, 38.0 + line), SEAM_PX.into());
    image(painter, pictures.seam.as_ref(), seam, false);
    // The seam itself, broken off beside the place so that the two edges can be seen to meet or not.
    let gap = 60.0;
    for (from, to) in [(seam.left(), seam.center().x - gap), (seam.center().x + gap, seam.right())] {
        painter.hline(from..=to, seam.center().y, Stroke::new(1.0, t.ink));
    }
    tick(painter, t, seam);
    if pictures.folded {
        let words = "The photographed faces, folded out beside their edges";
        painter.text(seam.left_bottom() + vec2(0.0, 2.0), Align2::LEFT_TOP, words, tokens::small(), t.soft);
    }
    for (i, spot) in spots.iter().enumerate() {
        let min = pos2(corner.x + i as f32 * (SEAM_PX[0] - FACE_PX[0]), seam.bottom() + below);
        let rect = Rect::from_min_size(min, FACE_PX.into());
        image(painter, pictures.faces[i].as_ref(), rect, spot.face.runs_back());
        let share = (spot.from_arris_mm / scene.leg.face_mm(spot.face)).clamp(0.0, 1.0);
        cross(painter, t, pos2(rect.center().x, rect.top() + rect.height() * share as f32), true);
        let word = if i == 0 { "above" } else { "below" };
        let words = format!("{word}: {}, {}", spot.face, units.show_with_unit(spot.from_arris_mm));
        painter.text(rect.left_bottom() + vec2(0.0, 2.0), Align2::LEFT_TOP, words, tokens::small(), t.soft);
    }
}

/// A picture on a rectangle; upside down where its rows run from the lower arris of a face to the upper one.
fn image(painter: &Painter, texture: Option<&TextureHandle>, rect: Rect, runs_back: bool) {
    let Some(texture) = texture else { return };
    let [top, bottom] = if runs_back { [1.0, 0.0] } else { [0.0, 1.0] };
    let whole = Rect::from_min_max(pos2(0.0, top), pos2(1.0, bottom));
    painter.image(texture.id(), rect, whole, Color32::WHITE);
}

/// Where on the picture of the seam the place is.
fn tick(painter: &Painter, t: &Tokens, seam: Rect) {
    for (y, way) in [(seam.top(), 1.0), (seam.bottom(), -1.0)] {
        let tip = pos2(seam.center().x, y + way * 7.0);
        let points = vec![tip, pos2(tip.x - 5.0, y - way), pos2(tip.x + 5.0, y - way)];
        painter.add(Shape::convex_polygon(points, t.ink, Stroke::new(1.0, t.halo)));
    }
}

/// A spot's mark: a cross in a ring; without the ring's line where it lies on the far side.
fn cross(painter: &Painter, t: &Tokens, at: Pos2, near: bool) {
    for stroke in [Stroke::new(4.0, t.halo), Stroke::new(1.5, t.ink)] {
        if near {
            painter.circle_stroke(at, 7.0, stroke);
            painter.hline(at.x - 3.0..=at.x + 3.0, at.y, stroke);
            painter.vline(at.x, at.y - 3.0..=at.y + 3.0, stroke);
        } else {
            let ring: Vec<Pos2> =
                (0..=24).map(|i| at + 7.0 * egui::Vec2::angled(std::f32::consts::TAU * i as f32 / 24.0)).collect();
            painter.extend(Shape::dashed_line(&ring, stroke, 4.0, 3.5));
        }
    }
}

/// Marks the two spots on the faces that are shown; what lies on face 3 or 4 is behind face 1 or 2, and its mark says so.
pub fn on_faces(painter: &Painter, t: &Tokens, faces: &ScreenFromFaces, at: &Pointed, scene: &Scene<'_>) {
    let clip = painter.clip_rect();
    for spot in at.spots(scene) {
        let (cut, behind) = match spot.face {
            Face::One => (Cut::First, None),
            Face::Two => (Cut::Second, None),
            Face::Three => (Cut::First, Some("face 3, behind")),
            Face::Four => (Cut::Second, Some("face 4, behind")),
        };
        let place = faces.pos(cut, at.s_mm, spot.across_mm);
        if !clip.contains(place) {
            continue;
        }
        // Both spots of a pair lie one behind the other: the far one is put beside the near one.
        let place = if behind.is_some() { place + vec2(18.0, 0.0) } else { place };
        cross(painter, t, place, behind.is_none());
        if let Some(words) = behind {
            let at = place + vec2(11.0, 0.0);
            crate::paint::label(painter, t, at, Align2::LEFT_CENTER, words, tokens::small(), t.ink);
        }
    }
}

/// Marks the place on the finished leg.
pub fn on_leg(
    painter: &Painter,
    t: &Tokens,
    camera: &Camera,
    pos: impl Fn([f64; 3]) -> Pos2,
    at: &Pointed,
    scene: &Scene<'_>,
) {
    let s = at.s_mm;
    let (a, b) = (scene.leg.a(s), scene.leg.b(s));
    let (place, out) = match at.side {
        Side::One => ([0.0, -b, s], [0.0, -1.0, 0.0]),
        Side::Two => ([scene.leg.width_mm - a, 0.0, s], [1.0, 0.0, 0.0]),
        Side::Three => ([0.0, scene.leg.depth_mm - b, s], [0.0, 1.0, 0.0]),
        Side::Four => ([-a, 0.0, s], [-1.0, 0.0, 0.0]),
    };
    let [_, _, toward_viewer] = camera.view(out);
    cross(painter, t, pos(place), toward_viewer > 0.0);
}

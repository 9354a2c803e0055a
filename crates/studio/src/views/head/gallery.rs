//! The starting shapes, each shown small as the finished leg that it gives.

use std::sync::Arc;

use cornerwise_geometry::{Camera, Cut, Face, Facets, Opening, Shape, ShapeKind, Surface, draw_order};
use cornerwise_project::{Design, Edit};
use egui::epaint::{Mesh, Vertex, WHITE_UV};
use egui::{Align2, Color32, Id, Pos2, Rect, Response, Sense, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2};

use crate::scene::Scene;
use crate::tokens::{self, Tokens};
use crate::view::{START_TILT_DEG, START_TURN_DEG};

/// How large each is, points; its name stands below.
const WIDE: f32 = 96.0;
const TALL: f32 = 150.0;
const NAME: f32 = 20.0;
const GAP: f32 = 4.0;
/// How wide the gallery is, points.
pub(in crate::views) const WIDTH: f32 = SHAPES * WIDE + (SHAPES - 1.0) * GAP;
const SHAPES: f32 = ShapeKind::ALL.len() as f32;
/// How far slabs may stray from the curve, points.
const STRAY_PX: f64 = 0.3;

/// A small leg, about the middle of its axis, points.
#[derive(Clone)]
struct Small {
    of: Arc<Design>,
    mesh: Arc<Mesh>,
}

/// Shows the gallery, of shapes for one cut or for both; the answer is the shape that is picked.
pub(in crate::views) fn show(
    ui: &mut Ui,
    scene: &Scene<'_>,
    cut: Option<Cut>,
    now: Option<ShapeKind>,
) -> Option<ShapeKind> {
    let mut picked = None;
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = GAP;
        for kind in ShapeKind::ALL {
            if item(ui, scene, cut, kind, now == Some(kind)).clicked() {
                picked = Some(kind);
            }
        }
    });
    picked
}

fn item(ui: &mut Ui, scene: &Scene<'_>, cut: Option<Cut>, kind: ShapeKind, chosen: bool) -> Response {
    let t = Tokens::here(ui);
    let (rect, response) = ui.allocate_exact_size(vec2(WIDE, TALL + NAME), Sense::click());
    response.widget_info(|| WidgetInfo::selected(egui::Role::Button, true, chosen, kind.name()));
    let fill = if response.hovered() || response.has_focus() { t.raised_more } else { t.sheet };
    let edge = if chosen { Stroke::new(2.0, t.ink) } else { Stroke::new(1.0, t.edge) };
    ui.painter().rect(rect, 4.0, fill, edge, StrokeKind::Inside);
    if response.has_focus() {
        ui.painter().rect_stroke(rect.shrink(3.0), 2.0, Stroke::new(1.0, t.ink), StrokeKind::Inside);
    }
    let picture = Rect::from_min_size(rect.min, vec2(WIDE, TALL));
    if let Some(small) = small(ui, scene, cut, kind) {
        let mut mesh = Mesh::clone(&small.mesh);
        mesh.translate(picture.center().to_vec2());
        ui.painter().with_clip_rect(picture.shrink(2.0)).add(egui::Shape::mesh(mesh));
    }
    let below = pos2(rect.center().x, rect.bottom() - 4.0);
    ui.painter().text(below, Align2::CENTER_BOTTOM, kind.name(), tokens::small(), t.ink);
    response
}

/// The leg that a shape gives with the present blank and, where it is for one cut, the other one as it is; drawn once for
/// each.
fn small(ui: &Ui, scene: &Scene<'_>, cut: Option<Cut>, kind: ShapeKind) -> Option<Small> {
    let kept = Id::unique(("gallery", cut.map(Cut::index), kind.name()));
    let known = ui.data(|data| data.get_temp::<Small>(kept));
    if let Some(known) = known.filter(|known| Arc::ptr_eq(&known.of, scene.design)) {
        return Some(known);
    }
    let design = scene.design.id;
    let edit = match cut {
        None => Edit::StartFrom { design, kind },
        Some(cut) => {
            let shape = Shape::start(kind, scene.leg.length_mm, scene.leg.across_mm(cut));
            Edit::SetShape { design, cut, shape }
        }
    };
    let project = scene.project.apply(&edit).ok()?;
    let small = Small { of: Arc::clone(scene.design), mesh: Arc::new(mesh(project.design(scene.design.id)?)?) };
    ui.data_mut(|data| data.insert_temp(kept, small.clone()));
    Some(small)
}

fn mesh(design: &Design) -> Option<Mesh> {
    let leg = design.leg().ok()?;
    let px_per_mm = f64::from(TALL - 16.0) / (leg.length_mm + leg.width_mm + leg.depth_mm);
    let solved = leg.solve(&leg.stations_within(STRAY_PX / px_per_mm));
    let facets = Facets::new(&solved, &Opening::new(&solved, 1.0));
    let camera = Camera::new(START_TURN_DEG, START_TILT_DEG);
    let wood = colour(design);
    let mut mesh = Mesh::default();
    for facet in draw_order(&facets, &camera).iter().filter_map(|number| facets.get(*number)) {
        let toward = camera.view(facet.outward());
        let lit = (-0.72 * toward[0] + 0.34 * toward[1] + 0.605 * toward[2]).clamp(0.0, 1.0);
        let light = if lit.is_finite() { 0.58 + 0.42 * lit } else { 0.58 };
        let [r, g, b] = wood.map(|part| (f64::from(part) * light) as u8);
        let first = mesh.vertices.len() as u32;
        for corner in facet.corners {
            let [right, up, _] = camera.view([corner.at[0], corner.at[1], corner.at[2] - leg.length_mm / 2.0]);
            let pos = Pos2::new((right * px_per_mm) as f32, (-up * px_per_mm) as f32);
            mesh.vertices.push(Vertex { pos, uv: WHITE_UV, color: Color32::from_rgb(r, g, b) });
        }
        mesh.indices.extend([0, 1, 2, 0, 2, 3].map(|i| first + i));
    }
    Some(mesh)
}

/// The wood as it looks from afar: the middle of what shows on the first face.
fn colour(design: &Design) -> [u8; 3] {
    const PLACES: u32 = 12;
    let mut sum = [0_u32; 3];
    for i in 0..PLACES {
        for j in 0..PLACES {
            let share = |n: u32| (f64::from(n) + 0.5) / f64::from(PLACES);
            let p = cornerwise_geometry::BlankPoint {
                x: share(i) * design.blank.width.mm(),
                y: 0.0,
                s: share(j) * design.blank.length.mm(),
            };
            let grain = design.wood.at(p, Surface::Face(Face::One));
            for (sum, part) in sum.iter_mut().zip(grain.colour) {
                *sum += u32::from(part);
            }
        }
    }
    sum.map(|sum| (sum / (PLACES * PLACES)) as u8)
}

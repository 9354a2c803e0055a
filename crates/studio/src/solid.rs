//! Legs and boards as solid bodies on screen, in true shape: painted back to front in their exact order, in as few meshes
//! as their textures allow.

use std::sync::Arc;

use cornerwise_geometry::Camera;
use cornerwise_geometry::furniture::{Body, BodyFacet, Scene};
use egui::epaint::Mesh;
use egui::{Color32, Painter, Pos2, Rect, Shape, TextureId, Vec2, vec2};

use crate::kept::Kept;
use crate::paint::{Corner, add_quad};

/// How bodies lie on screen.
#[derive(Clone, Copy, Debug)]
pub struct Screen {
    /// Where they are looked at from.
    pub camera: Camera,
    /// Where the place they are turned about lies, points.
    pub middle: Pos2,
    /// Points per millimetre: everything is in true shape.
    pub px_per_mm: f64,
    /// The place they are turned about (u, v, s), mm.
    pub about: [f64; 3],
}

/// The upright cylinder that bodies are within; s is below 0 above the floor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Room {
    /// Its axis (u, v), mm.
    pub axis_mm: [f64; 2],
    /// Its radius, mm.
    pub radius_mm: f64,
    /// From where to where it stands, mm.
    pub span_mm: [f64; 2],
}

impl Room {
    /// The cylinder about the axis of the frame that holds all bodies.
    pub fn of(bodies: &[Body]) -> Room {
        let (mut radius, mut span) = (1.0_f64, [f64::INFINITY, f64::NEG_INFINITY]);
        for body in bodies {
            let [from, to] = body.span_mm();
            span = [span[0].min(from), span[1].max(to)];
            for level in 0..body.levels_mm().len() {
                radius = body.outline(level).iter().fold(radius, |most, [u, v]| most.max(u.hypot(*v)));
            }
        }
        let span_mm = if span[1] > span[0] { span } else { [-1.0, 0.0] };
        Room { axis_mm: [0.0, 0.0], radius_mm: radius, span_mm }
    }
}

impl Screen {
    /// As large as `canvas` holds the whole room, however it is turned: the scale stays while it turns.
    pub fn fitted(canvas: Rect, camera: Camera, room: &Room) -> Screen {
        let [from, to] = room.span_mm;
        let level = camera.toward()[2].abs();
        let upright = (1.0 - level * level).max(0.0).sqrt();
        let (wide, tall) = (2.0 * room.radius_mm, (to - from) * upright + 2.0 * room.radius_mm * level);
        let px_per_mm =
            (f64::from(canvas.width()) / wide.max(1e-6)).min(f64::from(canvas.height()) / tall.max(1e-6)).max(1e-6);
        let about = [room.axis_mm[0], room.axis_mm[1], f64::midpoint(from, to)];
        Screen { camera, middle: canvas.center(), px_per_mm, about }
    }

    /// Where a place (u, v, s) lies.
    pub fn pos(&self, at: [f64; 3]) -> Pos2 {
        let from_middle = [at[0] - self.about[0], at[1] - self.about[1], at[2] - self.about[2]];
        let [right, up, _] = self.camera.view(from_middle);
        self.middle + vec2((right * self.px_per_mm) as f32, (-up * self.px_per_mm) as f32)
    }

    /// Points that a millimetre of height takes on screen: right and down.
    pub fn down_px(&self) -> [f64; 2] {
        let [right, up, _] = self.camera.view([0.0, 0.0, 1.0]);
        [right * self.px_per_mm, -up * self.px_per_mm]
    }
}

/// A scene, and the angles of the camera, degrees.
type OfOrder = (Arc<Scene>, [f64; 2]);

/// The order in which the facets of a scene are painted, kept while the camera stays where it is.
#[derive(Default)]
pub struct Order {
    kept: Kept<OfOrder, Arc<Vec<u32>>>,
}

impl Order {
    /// The order for a camera that has gone so far round and up, degrees.
    pub fn of(&mut self, scene: &Arc<Scene>, angles_deg: [f64; 2]) -> Arc<Vec<u32>> {
        let same = |a: &OfOrder, b: &OfOrder| Arc::ptr_eq(&a.0, &b.0) && a.1 == b.1;
        self.kept.get((Arc::clone(scene), angles_deg), same, |(scene, [turn, tilt])| {
            Arc::new(scene.draw_order(&Camera::new(*turn, *tilt)))
        })
    }
}

/// What a facet is painted with.
#[derive(Clone, Copy, Debug)]
pub struct Skin {
    /// The texture.
    pub texture: TextureId,
    /// Where its corners lie on it.
    pub uv: [Pos2; 4],
    /// Its own colour, before light falls on it.
    pub tint: Color32,
}

/// Paints the facets of a scene in an order; those without a skin are left out.
pub fn paint(
    painter: &Painter,
    scene: &Scene,
    order: &[u32],
    screen: &Screen,
    pixels_per_point: f32,
    mut skin: impl FnMut(&BodyFacet) -> Option<Skin>,
) {
    let mut mesh = Mesh::default();
    for facet in order.iter().filter_map(|number| scene.get(*number)) {
        let Some(skin) = skin(&facet) else { continue };
        if mesh.texture_id != skin.texture {
            if !mesh.is_empty() {
                painter.add(Shape::mesh(std::mem::take(&mut mesh)));
            }
            mesh = Mesh::with_texture(skin.texture);
            mesh.reserve_vertices(12 * 64);
        }
        add_facet(&mut mesh, scene, &facet, screen, &skin, 1.0 / pixels_per_point);
    }
    if !mesh.is_empty() {
        painter.add(Shape::mesh(mesh));
    }
}

fn add_facet(mesh: &mut Mesh, scene: &Scene, facet: &BodyFacet, screen: &Screen, skin: &Skin, softness_px: f32) {
    let at = facet.corners.map(|corner| screen.pos(corner));
    let colour = light(screen.camera.view(facet.outward)) * skin.tint;
    let corner = |i: usize| Corner { at: at[i], uv: skin.uv[i] };
    add_quad(mesh, [corner(0), corner(1), corner(2), corner(3)], [colour; 4]);
    let middle = at.iter().fold(Vec2::ZERO, |sum, p| sum + p.to_vec2() / 4.0).to_pos2();
    let ends = scene.bodies().get(facet.body).map_or([0.0; 2], |body| body.span_mm());
    let level = facet.corners[0][2] == facet.corners[2][2];
    for i in 0..4 {
        let (from, to) = (facet.corners[i], facet.corners[(i + 1) % 4]);
        // Level edges within a body part one slab from the next, and are no outline.
        let outline = level || from[2] != to[2] || ends.contains(&from[2]);
        if outline {
            soften(mesh, [corner(i), corner((i + 1) % 4)], middle, colour, softness_px);
        }
    }
}

/// A strip along an edge, away from the facet whose middle is given, that fades to nothing.
pub fn soften(mesh: &mut Mesh, edge: [Corner; 2], middle: Pos2, colour: Color32, width: f32) {
    let along = edge[1].at - edge[0].at;
    let length = along.length();
    if length < 1e-3 {
        return;
    }
    let mut out = along.rot90() / length * width;
    if out.dot(edge[0].at - middle) < 0.0 {
        out = -out;
    }
    let [from, to] = edge;
    let outer = |corner: &Corner| Corner { at: corner.at + out, uv: corner.uv };
    let (outer_from, outer_to) = (outer(&from), outer(&to));
    let clear = Color32::TRANSPARENT;
    add_quad(mesh, [from, to, outer_to, outer_from], [colour, colour, clear, clear]);
}

/// Light from a window up to the left behind the viewer, on what faces this way (right, up, toward the viewer): sides that
/// are seen together differ.
pub fn light(facing: [f64; 3]) -> Color32 {
    const WINDOW: [f64; 3] = [-0.72, 0.34, 0.605];
    let lit: f64 = facing.iter().zip(WINDOW).map(|(n, w)| n * w).sum();
    let lit = if lit.is_finite() { lit.clamp(0.0, 1.0) } else { 0.0 };
    let light = 0.58 + 0.42 * lit;
    // What the window does not reach has the warm light that boards and benches throw back.
    let part = |warm: f64| (255.0 * (light + warm * (1.0 - light))) as u8;
    Color32::from_rgb(part(0.06), part(0.02), part(0.0))
}

/// The facet under the pointer: the last one painted there.
pub fn facet_at(scene: &Scene, order: &[u32], screen: &Screen, at: Pos2) -> Option<BodyFacet> {
    order.iter().rev().filter_map(|number| scene.get(*number)).find(|facet| {
        let corners = facet.corners.map(|corner| screen.pos(corner));
        holds(&corners, at)
    })
}

/// Whether a convex outline, whichever way round, has a place within it.
fn holds(corners: &[Pos2], at: Pos2) -> bool {
    let (mut left, mut right) = (false, false);
    for (i, from) in corners.iter().enumerate() {
        let edge = corners[(i + 1) % corners.len()] - *from;
        let turn = edge.x * (at.y - from.y) - edge.y * (at.x - from.x);
        left |= turn < 0.0;
        right |= turn > 0.0;
    }
    left != right
}

#[cfg(test)]
mod tests {
    use super::*;
    use cornerwise_geometry::furniture::BodyPart;
    use egui::pos2;

    fn cube() -> Scene {
        let outline = [[-10.0, -10.0], [10.0, -10.0], [10.0, 10.0], [-10.0, 10.0]];
        Scene::new(vec![Body::prism(BodyPart::Board(0), [-20.0, 0.0], &outline, &outline).unwrap()])
    }

    #[test]
    fn the_room_holds_everything_from_every_side_and_keeps_its_scale_while_it_turns() {
        let (scene, canvas) = (cube(), Rect::from_min_max(pos2(100.0, 50.0), pos2(400.0, 250.0)));
        let room = Room::of(scene.bodies());
        assert!((room.radius_mm - 200.0_f64.sqrt()).abs() < 1e-9 && room.span_mm == [-20.0, 0.0]);
        let mut scales = Vec::new();
        for turn in [0.0, 33.0, 45.0, 120.0] {
            for tilt in [0.0, 25.0, 90.0] {
                let screen = Screen::fitted(canvas, Camera::new(turn, tilt), &room);
                for body in scene.bodies() {
                    for (level, s) in body.levels_mm().iter().enumerate() {
                        for [u, v] in body.outline(level) {
                            assert!(canvas.expand(0.01).contains(screen.pos([*u, *v, *s])), "{turn} {tilt}");
                        }
                    }
                }
                scales.push((tilt.to_bits(), screen.px_per_mm));
            }
        }
        for (tilt, scale) in &scales {
            assert!(scales.iter().filter(|(other, _)| other == tilt).all(|(_, other)| (other - scale).abs() < 1e-9));
        }
    }

    #[test]
    fn what_is_under_the_pointer_is_what_is_seen_there() {
        let scene = cube();
        let screen = Screen::fitted(
            Rect::from_min_max(pos2(0.0, 0.0), pos2(200.0, 200.0)),
            Camera::new(0.0, 30.0),
            &Room::of(scene.bodies()),
        );
        let order = scene.draw_order(&screen.camera);
        let top = facet_at(&scene, &order, &screen, screen.pos([0.0, 0.0, -20.0])).unwrap();
        assert_eq!(top.outward, [0.0, 0.0, -1.0]);
        assert!(facet_at(&scene, &order, &screen, pos2(1.0, 1.0)).is_none());
    }
}

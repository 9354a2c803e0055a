//! The ghost in every view: fine dotted lines, over the wood and under what is being drawn.

use cornerwise_geometry::{Camera, Cut, Leg, Side};
use egui::{Painter, Pos2, Rect, Shape, Stroke};

use super::sides;
use crate::across::ScreenFromFaces;
use crate::paint;
use crate::scene::Scene;
use crate::tokens::Tokens;

/// Dash and gap of a ghost, points.
const DOTS: [f32; 2] = [2.0, 3.0];
/// How many places along the leg its outlines are drawn through.
const PLACES: usize = 161;

/// A ghost's line: over a strip of the ground, so that it reads on wood.
fn dotted(painter: &Painter, t: &Tokens, points: &[Pos2], stroke: Stroke) {
    painter.add(Shape::line(points.to_vec(), Stroke::new(stroke.width + 1.5, t.halo.gamma_multiply(0.6))));
    painter.extend(Shape::dashed_line(points, stroke, DOTS[0], DOTS[1]));
}

/// Its saw lines on the faces.
pub fn on_faces(painter: &Painter, t: &Tokens, faces: &ScreenFromFaces, scene: &Scene<'_>) {
    let Some(shown) = scene.ghost else { return };
    let (leg, axis) = (&shown.ghost.leg, faces.axis.shown());
    let (from, to) = (axis.from_mm.max(0.0), axis.to_mm.min(leg.length_mm));
    if to > from {
        for cut in Cut::ALL {
            let points = paint::flattened(leg.line(cut), cut, faces, from, to);
            dotted(painter, t, &points, Stroke::new(1.5, t.cut(cut)));
        }
    }
}

/// Its outline on the sides.
pub fn on_sides(painter: &Painter, t: &Tokens, screen: &sides::Screen, scene: &Scene<'_>) {
    let Some(shown) = scene.ghost else { return };
    let leg = &shown.ghost.leg;
    for side in Side::ALL {
        for edge in 0..2 {
            let points: Vec<Pos2> =
                places(leg).map(|s| screen.pos(side, s, sides::outline_of(leg, side, s)[edge])).collect();
            dotted(painter, t, &points, Stroke::new(1.3, t.ink));
        }
    }
}

/// Those of its four edges that face the viewer, on the upright leg.
pub fn on_leg(painter: &Painter, t: &Tokens, camera: &Camera, pos: impl Fn([f64; 3]) -> Pos2, scene: &Scene<'_>) {
    let Some(shown) = scene.ghost else { return };
    let leg = &shown.ghost.leg;
    let ring: Vec<(f64, [[f64; 2]; 4])> = places(leg).map(|s| (s, corners(leg, s))).collect();
    let stroke = Stroke::new(1.4, t.ink);
    seen_edges(leg, &ring, camera, &pos).iter().for_each(|points| dotted(painter, t, points, stroke));
    for ((s, corners), toward_top) in ring.first().into_iter().zip([-1.0]).chain(ring.last().into_iter().zip([1.0])) {
        if camera.view([0.0, 0.0, toward_top])[2] > 0.0 {
            let mut points: Vec<Pos2> = corners.iter().map(|[u, v]| pos([*u, *v, *s])).collect();
            points.extend(points.first().copied());
            dotted(painter, t, &points, stroke);
        }
    }
}

/// The stretches of a finished leg's four edges that face the viewer, on screen; `ring` is where its corners are, level by
/// level: that of piece 1 first, then 2, 3 and 4.
pub(super) fn seen_edges(
    leg: &Leg,
    ring: &[(f64, [[f64; 2]; 4])],
    camera: &Camera,
    pos: impl Fn([f64; 3]) -> Pos2,
) -> Vec<Vec<Pos2>> {
    let mut found = Vec::new();
    for corner in 0..4 {
        let mut points: Vec<Pos2> = Vec::new();
        for (s, corners) in ring {
            let (a, b) = (leg.first.at(*s).slope, leg.second.at(*s).slope);
            // Outward on side 1, where v = -b; on 2, where u = W - a; and on 3 and 4.
            let outward = [[0.0, -1.0, -b], [1.0, 0.0, a], [0.0, 1.0, b], [-1.0, 0.0, -a]];
            let seen = |side: usize| camera.view(outward[side % 4])[2] > 0.0;
            if seen(corner) || seen(corner + 3) {
                points.push(pos([corners[corner][0], corners[corner][1], *s]));
            } else {
                found.push(std::mem::take(&mut points));
            }
        }
        found.push(points);
    }
    found.retain(|points| points.len() > 1);
    found
}

/// Its level section.
pub fn on_section(painter: &Painter, t: &Tokens, pos: impl Fn([f64; 2]) -> Pos2, s_mm: f64, scene: &Scene<'_>) {
    let Some(shown) = scene.ghost else { return };
    let leg = &shown.ghost.leg;
    if s_mm <= leg.length_mm {
        let [from, _, to, _] = corners(leg, s_mm).map(&pos);
        let area = Rect::from_two_pos(from, to);
        let round = [area.left_top(), area.right_top(), area.right_bottom(), area.left_bottom(), area.left_top()];
        dotted(painter, t, &round, Stroke::new(1.4, t.ink));
    }
}

/// The corners of its level section, (u, v), that of sides 4 and 1 first, then on round.
fn corners(leg: &Leg, s: f64) -> [[f64; 2]; 4] {
    let (a, b) = (leg.a(s), leg.b(s));
    let (near_u, far_u, near_v, far_v) = (-a, leg.width_mm - a, -b, leg.depth_mm - b);
    [[near_u, near_v], [far_u, near_v], [far_u, far_v], [near_u, far_v]]
}

fn places(leg: &Leg) -> impl Iterator<Item = f64> {
    let length = leg.length_mm;
    (0..PLACES).map(move |i| length * i as f64 / (PLACES - 1) as f64)
}

//! Small things that several views paint: saw lines, the cursor, hatching, labels on any ground, textured strips.

use cornerwise_geometry::{Cut, SawLine};
use egui::epaint::{Mesh, Vertex};
use egui::{Align2, Color32, FontId, Painter, Pos2, Rect, Shape, Stroke, pos2, vec2};
use kurbo::{Affine, PathEl};

use crate::across::ScreenFromFaces;
use crate::patch::TexturePatch;
use crate::ruler::Axis;
use crate::tokens::{DASH, SAW_LINE, Tokens};

/// How far a drawn line may stray from the true one, points.
const STRAY_PX: f64 = 0.2;

/// A saw line as points on screen, between two distances from the top.
pub fn flattened(line: &SawLine, cut: Cut, faces: &ScreenFromFaces, from_mm: f64, to_mm: f64) -> Vec<Pos2> {
    let origin = faces.pos(cut, 0.0, 0.0);
    // From (s, offset) to points, about the pixel where both are zero.
    let screen_from_line =
        Affine::new([faces.axis.px_per_mm, 0.0, 0.0, faces.px_per_mm, f64::from(origin.x), f64::from(origin.y)]);
    let mut points: Vec<Pos2> = Vec::new();
    kurbo::flatten(screen_from_line * line.path(from_mm, to_mm), STRAY_PX, |element| {
        if let PathEl::MoveTo(p) | PathEl::LineTo(p) = element {
            points.push(pos2(p.x as f32, p.y as f32));
        }
    });
    points
}

/// Draws a saw line: the first cut solid, the second dashed, both over a strip of the ground so that they read on wood.
pub fn saw_line(painter: &Painter, t: &Tokens, cut: Cut, points: Vec<Pos2>) {
    painter.add(Shape::line(points.clone(), Stroke::new(SAW_LINE + 3.0, t.halo)));
    let stroke = Stroke::new(SAW_LINE, t.cut(cut));
    match cut {
        Cut::First => {
            painter.add(Shape::line(points, stroke));
        }
        Cut::Second => {
            painter.extend(Shape::dashed_line(&points, stroke, DASH[0], DASH[1]));
        }
    }
}

/// The vertical line at the cursor, through one canvas.
pub fn cursor(painter: &Painter, t: &Tokens, axis: Axis, rect: Rect, cursor_mm: f64) {
    let x = axis.x(cursor_mm);
    if rect.x_range().contains(x) {
        painter.vline(x, rect.y_range(), Stroke::new(1.0, t.soft));
    }
}

/// Slanting lines: wood that is trimmed off.
pub fn hatch(painter: &Painter, rect: Rect, colour: Color32) {
    let rect = rect.intersect(painter.clip_rect());
    if !rect.is_positive() {
        return;
    }
    let painter = painter.with_clip_rect(rect);
    let step = 9.0;
    // Numbered from the window's corner, so that the lines stay put while the rectangle grows.
    let first = ((rect.left() + rect.top()) / step).floor() as i32;
    let last = ((rect.right() + rect.bottom()) / step).ceil() as i32;
    for i in first..=last {
        let sum = i as f32 * step;
        let (from, to) = (pos2(sum - rect.top(), rect.top()), pos2(sum - rect.bottom(), rect.bottom()));
        painter.line_segment([from, to], Stroke::new(1.0, colour));
    }
}

/// Text on a strip of paper, so that it reads on wood and no line strikes it through. Answers where it stands.
pub fn label(
    painter: &Painter,
    t: &Tokens,
    at: Pos2,
    align: Align2,
    text: &str,
    font: FontId,
    colour: Color32,
) -> Rect {
    let galley = painter.layout_no_wrap(text.to_owned(), font, colour);
    let rect = align.anchor_size(at, galley.size());
    painter.rect_filled(rect.expand2(vec2(3.0, 0.0)), 2.0, t.sheet);
    painter.galley(rect.min, galley, colour);
    rect
}

/// A corner of a textured mesh.
pub struct Corner {
    /// On screen.
    pub at: Pos2,
    /// On the texture.
    pub uv: Pos2,
}

/// Adds a flat four-cornered area, its corners in order round it.
pub fn add_quad(mesh: &mut Mesh, corners: [Corner; 4], colours: [Color32; 4]) {
    let first = mesh.vertices.len() as u32;
    for (corner, color) in corners.into_iter().zip(colours) {
        mesh.vertices.push(Vertex { pos: corner.at, uv: corner.uv, color });
    }
    mesh.indices.extend([0, 1, 2, 0, 2, 3].map(|i| first + i));
}

/// A rectangle of one surface, its sides along the surface's own.
pub fn textured(
    patch: &TexturePatch,
    at: [Pos2; 4],
    blank: [cornerwise_geometry::BlankPoint; 4],
    tint: Color32,
) -> Shape {
    let mut mesh = Mesh::with_texture(patch.texture);
    let corner = |i: usize| Corner { at: at[i], uv: patch.uv(blank[i]) };
    add_quad(&mut mesh, [corner(0), corner(1), corner(2), corner(3)], [tint; 4]);
    Shape::mesh(mesh)
}

//! A writer of sheets for the screen: the page as it will print.

use cornerwise_export::sheets::{Ink, Mark, Sheet, Text};
use egui::epaint::{Mesh, TextShape, Vertex};
use egui::{Color32, FontId, Painter, Pos2, Rect, Shape, Stroke, pos2, vec2};
use kurbo::{Affine, BezPath, PathEl};
use lyon::math::point;
use lyon::path::Path;
use lyon::tessellation::{BuffersBuilder, FillOptions, FillTessellator, FillVertex, VertexBuffers};

use crate::fonts;
use crate::tokens::Tokens;

/// How far a curve on screen may stray from the true one, points.
const STRAY_PX: f64 = 0.2;
/// Smaller letters cannot be read: a line stands for them, points.
const LEAST_LETTERS_PX: f64 = 4.5;
/// The thinnest line on screen, points.
const LEAST_LINE_PX: f32 = 0.7;

/// Where a sheet is shown.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ScreenFromSheet {
    /// The whole paper on screen.
    pub paper: Rect,
    /// Points per millimetre of paper.
    pub px_per_mm: f64,
}

impl ScreenFromSheet {
    /// A sheet, its upper left corner at `min`, so many points per millimetre of paper.
    pub fn new(sheet: &Sheet, min: Pos2, px_per_mm: f64) -> ScreenFromSheet {
        let size = vec2((sheet.width_mm * px_per_mm) as f32, (sheet.height_mm * px_per_mm) as f32);
        ScreenFromSheet { paper: Rect::from_min_size(min, size), px_per_mm }
    }

    fn affine(&self, sheet: &Sheet) -> Affine {
        let [across, up] = sheet.scale.map(|scale| scale * self.px_per_mm);
        Affine::new([across, 0.0, 0.0, up, f64::from(self.paper.left()), f64::from(self.paper.top())])
    }
}

/// Paints a sheet: its paper, then everything on it.
pub fn paint(painter: &Painter, t: &Tokens, sheet: &Sheet, place: &ScreenFromSheet) {
    painter.rect_filled(place.paper.translate(vec2(0.0, 2.0)).expand(1.0), 0.0, Color32::from_black_alpha(40));
    painter.rect_filled(place.paper, 0.0, t.page);
    let painter = painter.with_clip_rect(painter.clip_rect().intersect(place.paper));
    let screen_from_sheet = place.affine(sheet);
    for mark in &sheet.marks {
        match mark {
            Mark::Line { path, pen } => {
                let style = pen.style();
                let px = |mm: f64| (mm * place.px_per_mm) as f32;
                let stroke = Stroke::new(px(style.width_mm).max(LEAST_LINE_PX), colour(style.ink));
                let dash: Vec<f32> = style.dash_mm.iter().map(|mm| px(*mm)).collect();
                for points in flattened(path, screen_from_sheet) {
                    line(&painter, points, stroke, &dash);
                }
            }
            Mark::Fill { path, ink } => fill(&painter, path, screen_from_sheet, colour(*ink)),
            Mark::Text(text) => letters(&painter, text, screen_from_sheet, place.px_per_mm),
        }
    }
}

fn colour(ink: Ink) -> Color32 {
    let [r, g, b] = ink.rgb();
    Color32::from_rgb(r, g, b)
}

/// The open and closed lines of a path, as points on screen.
fn flattened(path: &BezPath, screen_from_sheet: Affine) -> Vec<Vec<Pos2>> {
    let mut lines: Vec<Vec<Pos2>> = Vec::new();
    kurbo::flatten(screen_from_sheet * path.clone(), STRAY_PX, |element| match element {
        PathEl::MoveTo(p) => lines.push(vec![pos2(p.x as f32, p.y as f32)]),
        PathEl::LineTo(p) => {
            if let Some(line) = lines.last_mut() {
                line.push(pos2(p.x as f32, p.y as f32));
            }
        }
        PathEl::ClosePath => {
            if let Some(line) = lines.last_mut()
                && let Some(first) = line.first().copied()
            {
                line.push(first);
            }
        }
        PathEl::QuadTo(..) | PathEl::CurveTo(..) => {} // flattening leaves none
    });
    lines
}

fn line(painter: &Painter, points: Vec<Pos2>, stroke: Stroke, dash: &[f32]) {
    // A dash too short to be seen would be thousands of shapes.
    if dash.len() < 2 || dash.iter().sum::<f32>() < 3.0 {
        painter.add(Shape::line(points, stroke));
        return;
    }
    let on: Vec<f32> = dash.iter().copied().step_by(2).collect();
    let off: Vec<f32> = dash.iter().copied().skip(1).step_by(2).collect();
    let mut shapes = Vec::new();
    shapes.extend(Shape::dashed_line_with_offset(&points, stroke, &on, &off, 0.0));
    painter.extend(shapes);
}

/// Fills a path, concave ones too, which egui's own filling gets wrong.
fn fill(painter: &Painter, path: &BezPath, screen_from_sheet: Affine, colour: Color32) {
    let mut builder = Path::builder();
    for points in flattened(path, screen_from_sheet) {
        let mut points = points.into_iter();
        if let Some(first) = points.next() {
            builder.begin(point(first.x, first.y));
            for p in points {
                builder.line_to(point(p.x, p.y));
            }
            builder.end(true);
        }
    }
    let mut buffers: VertexBuffers<Pos2, u32> = VertexBuffers::new();
    let mut corners =
        BuffersBuilder::new(&mut buffers, |vertex: FillVertex<'_>| pos2(vertex.position().x, vertex.position().y));
    if FillTessellator::new().tessellate_path(&builder.build(), &FillOptions::default(), &mut corners).is_err() {
        return; // a path that cannot be filled is left out on screen; the outline of a figure is a line of its own
    }
    let corner = |pos| Vertex { pos, uv: egui::epaint::WHITE_UV, color: colour };
    let vertices = buffers.vertices.into_iter().map(corner).collect();
    painter.add(Shape::mesh(Mesh { vertices, indices: buffers.indices, ..Mesh::default() }));
}

fn letters(painter: &Painter, text: &Text, screen_from_sheet: Affine, px_per_mm: f64) {
    let start = screen_from_sheet * text.start();
    let angle = text.turn_deg.to_radians();
    let size = text.typeface.size_mm(text.cap_mm) * px_per_mm;
    let ink = colour(text.ink);
    let along = vec2(angle.cos() as f32, angle.sin() as f32);
    let base = pos2(start.x as f32, start.y as f32);
    if size < LEAST_LETTERS_PX {
        let end = base + along * (text.width_mm() * px_per_mm) as f32;
        let thin = Stroke::new(((text.cap_mm * px_per_mm) as f32 * 0.6).max(0.5), ink.gamma_multiply(0.3));
        painter.line_segment([base, end], thin);
        return;
    }
    let galley = painter.layout_no_wrap(text.text.clone(), FontId::new(size as f32, fonts::paper(text.typeface)), ink);
    // From the base line to the upper left corner, which is what egui places.
    let ascent = galley.rows.first().and_then(|row| row.glyphs.first()).map_or(0.0, |glyph| glyph.pos.y);
    let up = vec2(along.y, -along.x);
    let mut shape = TextShape::new(base + up * ascent, galley, ink);
    shape.angle = angle as f32;
    painter.add(shape);
}

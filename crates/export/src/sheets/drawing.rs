//! Marks in one frame of their own, on their way to a sheet.

use super::{Ink, Mark, Pen, Text, clipped};
use kurbo::{Affine, BezPath, Circle, Point, Rect, Shape};

/// How far a circle's cubics may stray from the true circle, mm.
const ROUND_MM: f64 = 0.001;

/// Marks in one frame of their own, mm, y down.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Drawing {
    /// First to last.
    pub marks: Vec<Mark>,
}

impl Drawing {
    /// Nothing drawn.
    pub fn new() -> Drawing {
        Drawing::default()
    }

    /// Draws a straight line.
    pub fn line(&mut self, pen: Pen, from: impl Into<Point>, to: impl Into<Point>) {
        let mut path = BezPath::new();
        path.move_to(from);
        path.line_to(to);
        self.path(pen, path);
    }

    /// Draws a path, if there is any of it.
    pub fn path(&mut self, pen: Pen, path: BezPath) {
        if !path.elements().is_empty() {
            self.marks.push(Mark::Line { path, pen });
        }
    }

    /// Draws the four edges of a rectangle.
    pub fn frame(&mut self, pen: Pen, rect: Rect) {
        self.path(pen, rect.to_path(ROUND_MM));
    }

    /// Draws a circle.
    pub fn circle(&mut self, pen: Pen, centre: impl Into<Point>, radius_mm: f64) {
        self.path(pen, Circle::new(centre, radius_mm).to_path(ROUND_MM));
    }

    /// Fills a circle.
    pub fn dot(&mut self, ink: Ink, centre: impl Into<Point>, radius_mm: f64) {
        self.fill(ink, Circle::new(centre, radius_mm).to_path(ROUND_MM));
    }

    /// Fills a path.
    pub fn fill(&mut self, ink: Ink, path: BezPath) {
        self.marks.push(Mark::Fill { path, ink });
    }

    /// Fills a polygon.
    pub fn polygon(&mut self, ink: Ink, corners: &[Point]) {
        self.fill(ink, closed(corners));
    }

    /// Draws the edges of a polygon.
    pub fn outline(&mut self, pen: Pen, corners: &[Point]) {
        self.path(pen, closed(corners));
    }

    /// Fills an arrow's head that points along `toward`, degrees clockwise from rightwards, its tip at `tip`.
    pub fn arrow_head(&mut self, ink: Ink, tip: Point, toward_deg: f64, length_mm: f64) {
        let place = Affine::translate(tip.to_vec2()) * Affine::rotate(toward_deg.to_radians());
        let half = 0.38 * length_mm;
        self.polygon(ink, &[tip, place * Point::new(-length_mm, -half), place * Point::new(-length_mm, half)]);
    }

    /// Writes a line of text.
    pub fn text(&mut self, text: Text) {
        self.marks.push(Mark::Text(text));
    }

    /// Adds another drawing, moved and rotated.
    pub fn add(&mut self, other: &Drawing, self_from_other: Affine) {
        self.marks.extend(other.marks.iter().map(|mark| mark.placed(self_from_other)));
    }

    /// The part of the drawing in a window: lines are cut at its edges, areas and text stay where they lie wholly in it.
    pub fn within(&self, window: Rect) -> Drawing {
        let mut part = Drawing::new();
        for mark in &self.marks {
            match mark {
                Mark::Line { path, pen } => part.path(*pen, clipped(path, window)),
                mark if window.contains_rect(mark.bounds()) => part.marks.push(mark.clone()),
                _ => {}
            }
        }
        part
    }

    /// The upright rectangle round everything drawn, mm; empty at the origin when nothing is.
    pub fn bounds(&self) -> Rect {
        self.marks.iter().map(Mark::bounds).reduce(|a, b| a.union(b)).unwrap_or_default()
    }
}

fn closed(corners: &[Point]) -> BezPath {
    let mut path = BezPath::new();
    for (i, corner) in corners.iter().enumerate() {
        if i == 0 {
            path.move_to(*corner);
        } else {
            path.line_to(*corner);
        }
    }
    path.close_path();
    path
}

//! What the maker drew for a cut.

use serde::{Deserialize, Serialize};

use crate::{Point, SawLine, SawLineError, Shape};

/// A saw line as the maker made it: points set one by one, or a starting shape that is still live.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Line {
    /// Points, in order from the top.
    Points(Vec<Point>),
    /// A starting shape; its points follow from its parameters and the blank.
    Shape(Shape),
}

impl Line {
    /// Its points on a face of `across_mm` by `length_mm`.
    pub fn points(&self, length_mm: f64, across_mm: f64) -> Vec<Point> {
        match self {
            Line::Points(points) => points.clone(),
            Line::Shape(shape) => shape.points(length_mm, across_mm),
        }
    }

    /// The line ready to be measured.
    ///
    /// # Errors
    /// [`SawLineError`] names the point that does not fit.
    pub fn solve(&self, length_mm: f64, across_mm: f64) -> Result<SawLine, SawLineError> {
        match self {
            Line::Points(points) => SawLine::from_points(points, length_mm),
            Line::Shape(shape) => SawLine::from_points(&shape.points(length_mm, across_mm), length_mm),
        }
    }
}

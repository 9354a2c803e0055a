//! What the maker drew for a cut.

use serde::{Deserialize, Serialize};

use crate::{Batten, Link, Point, SawLine, SawLineError, Shape};

/// A saw line as the maker made it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Line {
    /// Points set one by one, in order from the top.
    Points(Vec<Point>),
    /// A starting shape that is still live; its points follow from its parameters and the blank.
    Shape(Shape),
    /// Pins, and the curve that a thin batten takes along them.
    Batten(Batten),
    /// Follows from the first cut: the second cut only. [`Line::own`] gives the line that it is.
    Linked(Link),
}

impl Line {
    /// What of it can be taken hold of on a face of `across_mm` by `length_mm`: its points, those of a live shape, the
    /// pins of a batten. A linked line has nothing of its own.
    ///
    /// The points are the line ([`SawLine::from_points`]), but not those of a batten: [`Line::cubic_points`].
    pub fn points(&self, length_mm: f64, across_mm: f64) -> Vec<Point> {
        match self {
            Line::Points(points) => points.clone(),
            Line::Shape(shape) => shape.points(length_mm, across_mm),
            Line::Batten(batten) => batten.grips(),
            Line::Linked(_) => Vec::new(),
        }
    }

    /// The points whose cubics are the line: those of a batten are many, its pins among them.
    ///
    /// # Errors
    /// [`SawLineError`] where a batten finds no rest, or a line is linked and not [`Line::own`].
    pub fn cubic_points(&self, length_mm: f64, across_mm: f64) -> Result<Vec<Point>, SawLineError> {
        match self {
            Line::Points(points) => Ok(points.clone()),
            Line::Shape(shape) => Ok(shape.points(length_mm, across_mm)),
            Line::Batten(batten) => Ok(batten.solve()?),
            Line::Linked(_) => Err(SawLineError::Linked),
        }
    }

    /// The line ready to be measured.
    ///
    /// # Errors
    /// [`SawLineError`] names the point that does not fit.
    pub fn solve(&self, length_mm: f64, across_mm: f64) -> Result<SawLine, SawLineError> {
        let solved = match self {
            Line::Points(points) => SawLine::from_points(points, length_mm),
            own => SawLine::from_points(&own.cubic_points(length_mm, across_mm)?, length_mm),
        };
        match (self, solved) {
            (Line::Batten(batten), Err(error)) => Err(batten.in_terms_of_pins(error)),
            (_, solved) => solved,
        }
    }
}

//! Curves from elsewhere, to become saw lines: the paths of an SVG drawing, or a CSV table of points.
//!
//! What is read is a [`Drawn`] curve in millimetres, as it lies on its drawing: x to the right, y down. [`Drawn::placed`] lays
//! it along a leg.

mod csv;
mod svg;
mod transform;

pub use csv::read_csv;
pub use svg::read_svg;

use cornerwise_geometry::Length;
use kurbo::{BezPath, PathEl, Point};
use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Path, PathBuf};
use thiserror::Error;

/// Most bytes of a file with curves.
pub const MOST_CURVE_BYTES: usize = 32_000_000;
/// Most places of one curve: as many as a line is fitted along.
pub use cornerwise_geometry::line_tools::MOST_PLACES;

/// How near the straight pieces that stand for a drawn curve are to it, mm: a tenth of the finest tolerance.
pub const FLATTENED_MM: f64 = 1e-4;

/// A change of direction of more than this is a corner, degrees.
const CORNER_DEG: f64 = 5.0;

/// Why there is no curve.
#[derive(Debug, Error)]
pub enum CurveError {
    /// The file cannot be read.
    #[error("the file cannot be read ({source}): {path}")]
    Read {
        /// Which file.
        path: PathBuf,
        /// What the system says.
        source: io::Error,
    },
    /// The file is too large.
    #[error("the file has more than {} million bytes: leave out most of it", MOST_CURVE_BYTES / 1_000_000)]
    TooBig,
    /// The file is not text.
    #[error("this is not UTF-8 text: save it as plain SVG, or as CSV in UTF-8")]
    NotText,
    /// The SVG is no XML.
    #[error("the SVG cannot be read: {0}")]
    Xml(String),
    /// The drawing has no paths.
    #[error("the drawing has no path: turn lines, circles and text into paths first")]
    NoPath,
    /// A path's data are wrong.
    #[error("line {line}: the path \"{name}\" cannot be read: {why}")]
    Path {
        /// The line of the file.
        line: usize,
        /// The path's name.
        name: String,
        /// What is wrong.
        why: String,
    },
    /// A size, a transform or a view box is wrong.
    #[error("line {line}: {what} \"{text}\" is not understood")]
    Attribute {
        /// The line of the file.
        line: usize,
        /// Which attribute.
        what: &'static str,
        /// What it says.
        text: String,
    },
    /// A line of the table is wrong.
    #[error("line {line}: {why}")]
    Line {
        /// The line of the file.
        line: usize,
        /// What is wrong with it.
        why: String,
    },
    /// There are no points in the table.
    #[error("there are no points in the table: it has a line for each, two numbers in it")]
    NoPoints,
    /// There are too many points.
    #[error("there are more than {MOST_PLACES} points: leave out most of them")]
    TooMany,
}

/// A curve as it was drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawn {
    /// What it is called in its file, or its number.
    pub name: String,
    /// Its places in order, mm; straight between them.
    pub places: Vec<[f64; 2]>,
    /// Where its direction changes by a corner, indices into `places`, and by how much, degrees.
    pub corners: Vec<(usize, f64)>,
}

/// How a curve is laid along a leg.
#[derive(Clone, Debug, PartialEq)]
pub struct Laid {
    /// Whether the drawing's y runs along the leg, and not its x.
    pub upright: bool,
    /// Whether what was last on the drawing is at the top.
    pub end_for_end: bool,
    /// Whether it is mirrored across the face.
    pub mirrored: bool,
    /// Whether it is scaled, the same in both directions, to this length, mm; its own size otherwise.
    pub to_length_mm: Option<f64>,
    /// Where its beginning lies, from the top.
    pub from_top: Length,
    /// Where its beginning lies across the face; where nothing is said, its middle comes to the middle of the face.
    pub offset: Option<Length>,
}

/// A curve laid along a leg: what a line is fitted along.
#[derive(Clone, Debug, PartialEq)]
pub struct Placed {
    /// (from top, offset), mm, in the order they were drawn; toward the foot, unless it runs back.
    pub places: Vec<[f64; 2]>,
    /// Its sharpest corner.
    pub corner: Option<usize>,
    /// How many corners there are.
    pub corners: usize,
    /// The places of the drawing that they were, mm.
    pub drawn: Vec<[f64; 2]>,
}

impl Drawn {
    /// From a path in millimetres.
    pub(crate) fn of_path(name: String, path: &BezPath) -> Drawn {
        let mut places: Vec<[f64; 2]> = Vec::new();
        let mut corners = Vec::new();
        let mut put = |p: Point| {
            if places.last() != Some(&[p.x, p.y]) {
                places.push([p.x, p.y]);
            }
            places.len() - 1
        };
        let mut way: Option<kurbo::Vec2> = None;
        let mut turn = |at: usize, leaving: kurbo::Vec2, arriving: kurbo::Vec2| {
            if let Some(before) = way {
                let turned = before.cross(leaving).atan2(before.dot(leaving)).to_degrees().abs();
                if turned > CORNER_DEG {
                    corners.push((at, turned));
                }
            }
            way = Some(arriving);
        };
        for segment in path.segments() {
            let ends = [segment.to_cubic().p0, segment.to_cubic().p3];
            let at = put(ends[0]);
            let (leaving, arriving) = tangents(segment.to_cubic());
            if leaving.hypot() == 0.0 {
                continue;
            }
            turn(at, leaving, arriving);
            let mut one = BezPath::new();
            one.move_to(ends[0]);
            one.push(segment.as_path_el());
            kurbo::flatten(one, FLATTENED_MM, |element| {
                if let PathEl::LineTo(p) = element {
                    put(p);
                }
            });
        }
        Drawn { name, places, corners }
    }

    /// The curve laid along a leg with a face so wide, mm.
    pub fn placed(&self, laid: &Laid, across_mm: f64) -> Placed {
        let turned = |[x, y]: [f64; 2]| if laid.upright { [y, -x] } else { [x, y] };
        let mut order: Vec<usize> = (0..self.places.len()).collect();
        let ways = self.places.first().zip(self.places.last()).map(|(a, b)| turned(*b)[0] - turned(*a)[0]);
        // Drawn from right to left it is taken from its other end: which end was begun at says nothing.
        let backward = ways.is_some_and(|way| way < 0.0);
        if backward {
            order.reverse();
        }
        let mut places: Vec<[f64; 2]> = order.iter().map(|i| turned(self.places[*i])).collect();
        if laid.end_for_end {
            places.reverse();
            order.reverse();
            places.iter_mut().for_each(|place| place[0] = -place[0]);
        }
        if laid.mirrored {
            places.iter_mut().for_each(|place| place[1] = -place[1]);
        }
        let first = places.first().copied().unwrap_or_default();
        let length = places.last().map_or(0.0, |last| last[0] - first[0]);
        let scale = laid.to_length_mm.map_or(1.0, |to| to / length);
        let scale = if scale.is_finite() && scale > 0.0 { scale } else { 1.0 };
        let range = places.iter().fold([f64::INFINITY, f64::NEG_INFINITY], |[a, b], p| [a.min(p[1]), b.max(p[1])]);
        let across = match &laid.offset {
            Some(offset) => offset.mm() - scale * first[1],
            None => across_mm / 2.0 - scale * f64::midpoint(range[0], range[1]),
        };
        for place in &mut places {
            *place = [laid.from_top.mm() + scale * (place[0] - first[0]), across + scale * place[1]];
        }
        let drawn = order.iter().map(|i| self.places[*i]).collect();
        let sharpest = self.corners.iter().max_by(|a, b| a.1.total_cmp(&b.1));
        let corner = sharpest.and_then(|(at, _)| order.iter().position(|i| i == at));
        Placed { places, corner, corners: self.corners.len(), drawn }
    }
}

/// Which way a cubic leaves and arrives; where a handle has no length, toward the next one.
fn tangents(cubic: kurbo::CubicBez) -> (kurbo::Vec2, kurbo::Vec2) {
    let points = [cubic.p0, cubic.p1, cubic.p2, cubic.p3];
    let first = points.iter().map(|p| *p - cubic.p0).find(|way| way.hypot() > 1e-9);
    let last = points.iter().rev().map(|p| cubic.p3 - *p).find(|way| way.hypot() > 1e-9);
    (first.unwrap_or_default(), last.unwrap_or_default())
}

/// Reads the curves of a file: SVG by its ending or its first character, CSV otherwise; `inches` says what a table's numbers
/// are where its heading does not.
///
/// # Errors
/// [`CurveError`] says what is wrong and in which line.
pub fn load_curves(path: &Path, inches: bool) -> Result<Vec<Drawn>, CurveError> {
    let fails = |source| CurveError::Read { path: path.to_owned(), source };
    if !fs::metadata(path).map_err(fails)?.is_file() {
        return Err(fails(io::Error::new(io::ErrorKind::InvalidInput, "it is not a file")));
    }
    let mut bytes = Vec::new();
    File::open(path).map_err(fails)?.take(MOST_CURVE_BYTES as u64 + 1).read_to_end(&mut bytes).map_err(fails)?;
    if bytes.len() > MOST_CURVE_BYTES {
        return Err(CurveError::TooBig);
    }
    let text = String::from_utf8(bytes).map_err(|_| CurveError::NotText)?;
    let text = text.trim_start_matches('\u{feff}');
    if text.trim_start().starts_with('<') { read_svg(text) } else { Ok(vec![read_csv(text, inches)?]) }
}

#[cfg(test)]
mod tests;

//! Painting: a rectangle of colours for one surface of the blank.

use std::thread;

use cornerwise_geometry::{BlankPoint, Cut, End, Face, Leg, Surface};
use thiserror::Error;

use crate::figure::bytes;
use crate::figure::{KnotFigure, Near, TexelColumn, TimberRows};
use crate::{Figure, Steps, View, Wood};

/// The most texels one rectangle may have: 128 MB.
pub const MOST_TEXELS: usize = 1 << 25;

/// One surface, or a stretch of it, in colour.
///
/// Columns run along s and rows along x (face 1, face 3, second cut) or y (face 2, face 4, first cut); at the ends columns
/// run along x and rows along y. Both grow with the coordinate; nothing is mirrored or turned.
#[derive(Clone, Debug, PartialEq)]
pub struct Painted {
    /// What is painted.
    pub surface: Surface,
    /// Texels along s (ends: along x).
    pub columns: usize,
    /// Texels across.
    pub rows: usize,
    /// The outer corner of the first texel, (along columns, along rows), mm; see [`page_from_blank`].
    pub from_mm: [f64; 2],
    /// The outer corner of the last texel, mm.
    pub to_mm: [f64; 2],
    /// Rows one after another, four bytes a texel: red, green, blue, and 255 for opaque; sRGB.
    pub rgba: Vec<u8>,
}

/// Which part of a surface to paint, and how finely.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Patch {
    /// Texels per mm at least, along columns and along rows: not the same where a picture is stretched one way. While
    /// something is dragged a quarter of the resting figures will do.
    pub px_per_mm: [f64; 2],
    /// The stretch of columns to paint, mm from the top (ends: of x). `None` is the whole finished length (ends: W).
    /// It may reach into the spare length.
    pub columns_mm: Option<[f64; 2]>,
    /// How many threads share the rows; 1 paints on the caller's own. The colours are the same for any number.
    pub threads: usize,
}

/// Why nothing was painted.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum PaintError {
    /// The scale is zero, negative or not a number.
    #[error("{0} texels per mm: the scale must be a positive number")]
    Scale(f64),
    /// The stretch is empty or not a number.
    #[error("the stretch from {from_mm} mm to {to_mm} mm is empty")]
    Stretch {
        /// Where it was to begin, mm.
        from_mm: f64,
        /// Where it was to end, mm.
        to_mm: f64,
    },
    /// More than [`MOST_TEXELS`].
    #[error("{columns} by {rows} texels are too many: {most} is the most", most = MOST_TEXELS)]
    TooLarge {
        /// Texels along.
        columns: f64,
        /// Texels across.
        rows: f64,
    },
}

/// Where a point of a surface lies on its painted rectangle, (along columns, along rows), mm: exact, so texture
/// coordinates of flat facets are too. The coordinate square to the surface is left out.
pub fn page_from_blank(surface: Surface, p: BlankPoint) -> [f64; 2] {
    let at = [p.x, p.y, p.s];
    let [column, row, _] = axes(surface);
    [at[column], at[row]]
}

/// Indices into (x, y, s): along columns, along rows, and the one left out.
fn axes(surface: Surface) -> [usize; 3] {
    match surface {
        Surface::Cut(Cut::First) | Surface::Face(Face::Two | Face::Four) => [2, 1, 0],
        Surface::Cut(Cut::Second) | Surface::Face(Face::One | Face::Three) => [2, 0, 1],
        Surface::End(_) => [0, 1, 2],
    }
}

impl Painted {
    /// Where a point of this surface lies on the rectangle: (0, 0) its first corner, (1, 1) its last.
    pub fn place(&self, p: BlankPoint) -> [f64; 2] {
        let page = page_from_blank(self.surface, p);
        [0, 1].map(|i| (page[i] - self.from_mm[i]) / (self.to_mm[i] - self.from_mm[i]))
    }

    /// The colour of the texel that a point of this surface lies in, the nearest one for a point outside.
    pub fn colour(&self, p: BlankPoint) -> [u8; 3] {
        let [across, down] = self.place(p);
        // A cast from float saturates, so a point before the first texel gives the first.
        let column = ((across * self.columns as f64) as usize).min(self.columns.saturating_sub(1));
        let row = ((down * self.rows as f64) as usize).min(self.rows.saturating_sub(1));
        let at = 4 * (row * self.columns + column);
        self.rgba.get(at..at + 3).map_or([0; 3], |c| [c[0], c[1], c[2]])
    }
}

/// Paints a whole surface over the finished length.
///
/// # Errors
/// [`PaintError`] where the scale is not a positive number or gives too many texels.
pub fn paint(leg: &Leg, wood: &Wood, surface: Surface, px_per_mm: f64) -> Result<Painted, PaintError> {
    paint_patch(leg, &Figure::new(wood), surface, &Patch { px_per_mm: [px_per_mm; 2], columns_mm: None, threads: 1 })
}

/// Paints part of a surface.
///
/// The stretch is divided into whole texels, so it is covered exactly and texels are at most `1 / px_per_mm` long.
///
/// # Errors
/// [`PaintError`] where the patch is empty, not a number or too large.
pub fn paint_patch(leg: &Leg, figure: &Figure, surface: Surface, patch: &Patch) -> Result<Painted, PaintError> {
    let sheet = Sheet::new(leg, figure, surface, patch)?;
    let (columns, rows) = (sheet.columns.len(), sheet.rows);
    let mut rgba = vec![255; 4 * columns * rows];
    let share = rows.div_ceil(patch.threads.clamp(1, 64));
    let shares = rgba.chunks_mut(4 * columns * share).enumerate();
    if patch.threads > 1 {
        thread::scope(|scope| {
            for (i, part) in shares {
                let sheet = &sheet;
                scope.spawn(move || sheet.fill(i * share, part));
            }
        });
    } else {
        shares.for_each(|(i, part)| sheet.fill(i * share, part));
    }
    let [from_mm, to_mm] = sheet.corners_mm;
    Ok(Painted { surface, columns, rows, from_mm, to_mm, rgba })
}

fn sheet_columns(
    figure: &Figure,
    leg: &Leg,
    surface: Surface,
    from: f64,
    to: f64,
    count: usize,
    row_mm: f64,
) -> Vec<TexelColumn> {
    let [column, row, square] = axes(surface);
    let pitch = (to - from) / count as f64;
    let along = |i: usize| from + (i as f64 + 0.5) * pitch;
    let offset = |along: f64| match surface {
        Surface::Cut(Cut::First) => leg.a(along),
        Surface::Cut(Cut::Second) => leg.b(along),
        Surface::Face(Face::One | Face::Four) | Surface::End(End::Top) => 0.0,
        Surface::Face(Face::Two) => leg.width_mm,
        Surface::Face(Face::Three) => leg.depth_mm,
        Surface::End(End::Foot) => leg.length_mm,
    };
    let mut row_step = [0.0; 3];
    row_step[row] = row_mm;
    let mut last = offset(along(0) - pitch);
    let (view, mut near) = (figure.view(surface), Near::default());
    (0..count)
        .map(|i| {
            let mut from = [0.0; 3];
            from[column] = along(i);
            from[square] = offset(along(i));
            let mut step = [0.0; 3];
            step[column] = pitch;
            step[square] = from[square] - last;
            last = from[square];
            let steps = Steps::new(step, row_step);
            let [x, y, s] = from;
            let seen = figure.seen_from_column(&view, BlankPoint { x, y, s }, &steps, &mut near);
            TexelColumn { from, steps, level: figure.level(s), seen }
        })
        .collect()
}

/// A rectangle made ready to be filled.
struct Sheet<'a> {
    figure: &'a Figure,
    view: View,
    columns: Vec<TexelColumn>,
    /// The same made ready for whole rows, of timber.
    timber: Option<TimberRows<'a>>,
    /// Knots that reach this rectangle.
    knots: Vec<KnotFigure>,
    rows: usize,
    /// The way from row to row, along one axis.
    row: [f64; 3],
    corners_mm: [[f64; 2]; 2],
}

impl<'a> Sheet<'a> {
    fn new(leg: &Leg, figure: &'a Figure, surface: Surface, patch: &Patch) -> Result<Sheet<'a>, PaintError> {
        let axes = axes(surface);
        let extent = [leg.width_mm, leg.depth_mm, leg.length_mm];
        let [from, to] = patch.columns_mm.unwrap_or([0.0, extent[axes[0]]]);
        if let Some(scale) = patch.px_per_mm.into_iter().find(|scale| !(*scale > 0.0 && scale.is_finite())) {
            return Err(PaintError::Scale(scale));
        }
        if !((to - from).is_finite() && to > from) {
            return Err(PaintError::Stretch { from_mm: from, to_mm: to });
        }
        let texels = |mm: f64, scale: f64| (mm * scale - 1e-6).ceil().max(1.0);
        let [along, across] = patch.px_per_mm;
        let (columns, rows) = (texels(to - from, along), texels(extent[axes[1]], across));
        if columns * rows > MOST_TEXELS as f64 {
            return Err(PaintError::TooLarge { columns, rows });
        }
        let (columns, rows) = (columns as usize, rows as usize);
        let row_mm = extent[axes[1]] / rows as f64;
        let mut row = [0.0; 3];
        row[axes[1]] = row_mm;
        let columns = sheet_columns(figure, leg, surface, from, to, columns, row_mm);
        let view = figure.view(surface);
        // Rows follow one another across x or y, never along the leg.
        let timber = figure.timber().map(|timber| TimberRows::new(timber, view, &columns, [row[0], row[1]], rows));
        let knots = figure.knots().iter().filter(|_| figure.shows_knots(surface)).filter(|knot| {
            let [from_s, to_s] = knot.reach()[2];
            columns.iter().any(|column| (from_s..=to_s).contains(&column.from[2]))
        });
        let knots = knots.copied().collect();
        Ok(Sheet { figure, view, columns, timber, knots, rows, row, corners_mm: [[from, 0.0], [to, extent[axes[1]]]] })
    }

    /// Fills whole rows, the first of them number `first_row`.
    fn fill(&self, first_row: usize, rgba: &mut [u8]) {
        for (i, row) in rgba.chunks_exact_mut(4 * self.columns.len()).enumerate() {
            let at = (first_row + i) as f64 + 0.5;
            match &self.timber {
                Some(timber) => timber.fill(at, row),
                None => self.fill_row(at, row),
            }
            if !self.knots.is_empty() {
                self.put_knots(at, row);
            }
        }
    }

    /// The middle of a column's texel, `at` rows down.
    fn point(&self, column: &TexelColumn, at: f64) -> BlankPoint {
        let [x, y, s] = [0, 1, 2].map(|i| column.from[i] + self.row[i] * at);
        BlankPoint { x, y, s }
    }

    fn fill_row(&self, at: f64, row: &mut [u8]) {
        let mut near = Near::default();
        for (texel, column) in row.chunks_exact_mut(4).zip(&self.columns) {
            let p = self.point(column, at);
            let shared = (&column.level, column.seen.as_ref());
            let grain = self.figure.at_level(&self.view, shared, p, &column.steps, &mut near);
            texel[..3].copy_from_slice(&grain.colour);
        }
    }

    /// Puts knots over a painted row.
    fn put_knots(&self, at: f64, row: &mut [u8]) {
        for knot in &self.knots {
            let reach = knot.reach();
            for (texel, column) in row.chunks_exact_mut(4).zip(&self.columns) {
                let p = self.point(column, at);
                if [p.x, p.y, p.s].iter().zip(&reach).all(|(v, [from, to])| (from..=to).contains(&v)) {
                    let colour = knot.over([texel[0], texel[1], texel[2]].map(f32::from), p, &column.steps);
                    texel[..3].copy_from_slice(&bytes(colour));
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tests::cyma_leg;
    use crate::{Species, Timber};

    /// The paint of a sheet by whole rows and point by point: the most and the mean difference of a channel.
    fn difference(timber: &Timber, surface: Surface, px_per_mm: [f64; 2]) -> (u8, f64) {
        let leg = cyma_leg(50.0, 38.0, 60.0, 12.0, 0.5);
        let figure = Figure::new(&Wood::Timber(timber.clone()));
        let patch = Patch { px_per_mm, columns_mm: None, threads: 1 };
        let mut sheet = Sheet::new(&leg, &figure, surface, &patch).unwrap();
        let mut both = [0, 1].map(|_| vec![255; 4 * sheet.columns.len() * sheet.rows]);
        assert!(sheet.timber.is_some());
        sheet.fill(0, &mut both[0]);
        sheet.timber = None;
        sheet.fill(0, &mut both[1]);
        let off = both[0].iter().zip(&both[1]).map(|(a, b)| a.abs_diff(*b));
        (off.clone().max().unwrap(), off.clone().map(f64::from).sum::<f64>() / off.count() as f64)
    }

    /// A processor that can do more at a time paints the same: a blank sawn at home looks as it did in the shop.
    #[test]
    fn every_processor_paints_the_same_colours() {
        let leg = cyma_leg(50.0, 38.0, 60.0, 12.0, 0.5);
        let straight = Timber::new(Species::Oak, 25.0.into(), 90.0.into(), 3.0.into());
        let crooked = Timber { lean_x: 0.03, lean_y: -0.02, taper: 0.01, wobble: 0.5, ..straight.clone() };
        for timber in [straight, crooked] {
            let figure = Figure::new(&Wood::Timber(timber));
            for surface in Surface::ALL {
                let patch = Patch { px_per_mm: [3.0, 2.0], columns_mm: None, threads: 1 };
                let sheet = Sheet::new(&leg, &figure, surface, &patch).unwrap();
                let rows = sheet.timber.as_ref().unwrap();
                let mut both = [0, 1].map(|_| vec![255; 4 * sheet.columns.len()]);
                for at in 0..sheet.rows {
                    let at = at as f64 + 0.5;
                    rows.fill(at, &mut both[0]);
                    rows.fill_as(pulp::Arch::Scalar, at, &mut both[1]);
                    assert!(both[0] == both[1], "{surface}, row {at}");
                }
            }
        }
    }

    /// The tolerance: no channel of a texel is off by more than 10 of 255, and by less than a tenth of one on average.
    #[test]
    fn whole_rows_have_the_colours_of_their_points() {
        let near = Timber::new(Species::Oak, 25.0.into(), 90.0.into(), 3.0.into());
        let inside = Timber {
            sapwood_from: Some(15.0.into()),
            ..Timber::new(Species::Pine, 22.0.into(), 17.0.into(), 1.1.into())
        };
        let far = Timber::new(Species::Ash, (-9000.0).into(), 8000.0.into(), 0.2.into());
        let wide =
            Timber { late_share: Some(0.3), ..Timber::new(Species::RedOak, 25.0.into(), 90.0.into(), 100.0.into()) };
        let crooked = Timber { lean_x: 0.03, lean_y: -0.02, taper: 0.01, wobble: 0.5, ..near.clone() };
        for timber in [near, inside, far, wide, crooked] {
            for surface in Surface::ALL {
                for px_per_mm in [[0.7; 2], [2.0; 2], [2.0, 9.0]] {
                    let (most, mean) = difference(&timber, surface, px_per_mm);
                    assert!(most <= 10 && mean < 0.1, "{surface}, {px_per_mm:?}: {most}, {mean:.3}, {timber:?}");
                }
            }
        }
    }
}

//! Notches along the inside piece, and the boards they take.

use serde::{Deserialize, Serialize};

use super::{AreaProperties, Fit, FitError, WoodLeft, size};
use crate::{Leg, Length};

/// What goes into a notch.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Takes {
    /// A level board, its corner on the axis.
    #[default]
    Shelf,
    /// An upright board on either side of the corner.
    Apron,
}

impl Takes {
    /// Its name in a sentence.
    pub fn name(self) -> &'static str {
        match self {
            Takes::Shelf => "shelf",
            Takes::Apron => "apron",
        }
    }
}

/// A length of the inside piece that is left out.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Notch {
    /// Its upper end, from the finished top.
    pub from_top: Length,
    /// The board's thickness, or the apron's height.
    pub board: Length,
    /// How much longer the notch is than the board; the board stands on the lower end.
    #[serde(default)]
    pub clearance: Length,
    /// What goes into it.
    #[serde(default)]
    pub takes: Takes,
}

impl Notch {
    /// A notch for a shelf, mm.
    pub fn shelf(from_top_mm: f64, board_mm: f64, clearance_mm: f64) -> Notch {
        Notch {
            from_top: from_top_mm.into(),
            board: board_mm.into(),
            clearance: clearance_mm.into(),
            takes: Takes::Shelf,
        }
    }

    /// A notch at the top for an apron, mm.
    pub fn apron(height_mm: f64) -> Notch {
        Notch { takes: Takes::Apron, ..Notch::shelf(0.0, height_mm, 0.0) }
    }

    /// The length that is left out, mm: the board and its clearance.
    pub fn height_mm(&self) -> f64 {
        self.board.mm() + self.clearance.mm()
    }

    /// From where to where, mm from the top.
    pub fn span_mm(&self) -> [f64; 2] {
        [self.from_top.mm(), self.from_top.mm() + self.height_mm()]
    }

    /// From where to where the board itself is, mm from the top: it stands on the notch's lower end.
    pub fn board_span_mm(&self) -> [f64; 2] {
        let [_, to] = self.span_mm();
        [to - self.board.mm(), to]
    }

    pub(super) fn check(&self, length_mm: f64) -> Result<(), FitError> {
        size("distance of a notch from the top", &self.from_top, 0.0, length_mm)?;
        size("board of a notch", &self.board, 0.5, length_mm)?;
        size("clearance of a notch", &self.clearance, 0.0, 20.0)
    }
}

/// What the board in a notch stands on and is held by.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bearing {
    /// How far the inside piece reaches from the axis under the board, across u and v, mm.
    pub reach_mm: [f64; 2],
    /// What the board stands on, mm²: the level section of the inside piece at the notch's lower end.
    pub area_mm2: f64,
    /// The planed walls that the board's two edges meet, mm²: the wall across u (at v = 0) and the one across v.
    pub walls_mm2: [f64; 2],
}

/// One notch in one leg.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NotchFit {
    /// From where to where, mm from the top.
    pub span_mm: [f64; 2],
    /// What its board stands on.
    pub bearing: Bearing,
    /// Where the least wood is left beside it, mm from the top.
    pub weakest_mm: f64,
    /// The section there: three pieces, an L.
    pub weakest: AreaProperties,
}

/// Samples of a notch's length that are looked at for the least wood.
const SAMPLES: usize = 64;

impl Fit {
    /// What the notch of this place in the list leaves and gives; nothing where there is no such notch.
    pub fn notch_fit(&self, leg: &Leg, place: usize) -> Option<NotchFit> {
        let notch = self.notches.get(place)?;
        let [from, to] = notch.span_mm();
        let reach = |s: f64| self.inside.reach(leg.width_mm, leg.depth_mm, leg.a(s), leg.b(s)).map(f64::abs);
        let chamfer = self.chamfer_mm();
        let reach_mm = reach(to);
        let below = WoodLeft::with(leg, self, to, false);
        let inside = below.pieces.iter().filter(|(piece, _)| *piece == self.inside);
        let area_mm2 = AreaProperties::of_polygons(inside.map(|(_, outline)| outline.as_slice())).area_mm2;
        let at = |i: usize| from + (to - from) * (i as f64 / SAMPLES as f64);
        // Simpson's rule over the notch, the edge of the hole left out; a notch is short against the curve.
        let wall = |axis: usize| {
            let [from, to] = notch.board_span_mm();
            let step = (to - from) / SAMPLES as f64;
            let height = |i: usize| (reach(from + step * i as f64)[axis] - chamfer).max(0.0);
            let inner: f64 = (1..SAMPLES).map(|i| height(i) * if i % 2 == 1 { 4.0 } else { 2.0 }).sum();
            (height(0) + inner + height(SAMPLES)) * step / 3.0
        };
        let left = |s: f64| WoodLeft::with(leg, self, s, true).properties();
        // The least wood is where the inside piece was largest; refined between samples by golden sections.
        let area_at = |s: f64| left(s).area_mm2;
        let least = (0..=SAMPLES).min_by(|i, j| area_at(at(*i)).total_cmp(&area_at(at(*j)))).unwrap_or(0);
        let weakest_mm = golden(at(least.saturating_sub(1)), at((least + 1).min(SAMPLES)), area_at);
        Some(NotchFit {
            span_mm: [from, to],
            bearing: Bearing { reach_mm, area_mm2, walls_mm2: [wall(0), wall(1)] },
            weakest_mm,
            weakest: left(weakest_mm),
        })
    }
}

/// Where `f` is least between two places, if it has one valley there; the ends count too.
fn golden(from: f64, to: f64, f: impl Fn(f64) -> f64) -> f64 {
    const SHARE: f64 = 0.618_033_988_749_895;
    let (mut lo, mut hi) = (from, to);
    for _ in 0..40 {
        let (p, q) = (hi - SHARE * (hi - lo), lo + SHARE * (hi - lo));
        if f(p) <= f(q) { hi = q } else { lo = p }
    }
    let middle = f64::midpoint(lo, hi);
    [from, middle, to].into_iter().min_by(|p, q| f(*p).total_cmp(&f(*q))).unwrap_or(middle)
}

//! What of the leg is wood at one level.

use super::{AreaProperties, Fit};
use crate::{Leg, Piece};

/// The level section of a fitted leg: convex polygons in (u, v), counter-clockwise, one for each piece that is there.
#[derive(Clone, Debug, PartialEq)]
pub struct WoodLeft {
    /// Pieces and their outlines, mm.
    pub pieces: Vec<(Piece, Vec<[f64; 2]>)>,
}

impl WoodLeft {
    /// The wood at `s`: without the inside piece in a notch, and without the pipe hole.
    pub fn at(leg: &Leg, fit: &Fit, s_mm: f64) -> WoodLeft {
        WoodLeft::with(leg, fit, s_mm, fit.notch_at(s_mm).is_some())
    }

    /// The wood at `s`, with the inside piece left out or not, whatever the notches say.
    pub fn with(leg: &Leg, fit: &Fit, s_mm: f64, notched: bool) -> WoodLeft {
        let (a, b) = (leg.a(s_mm), leg.b(s_mm));
        let chamfer = fit.chamfer_mm();
        let pieces = Piece::ALL
            .into_iter()
            .filter(|piece| !(notched && *piece == fit.inside))
            .map(|piece| (piece, piece.outline(leg.width_mm, leg.depth_mm, a, b, chamfer).to_vec()))
            .filter(|(_, outline)| area(outline) > 0.0)
            .collect();
        WoodLeft { pieces }
    }

    /// Its area, middle and second moments.
    pub fn properties(&self) -> AreaProperties {
        AreaProperties::of_polygons(self.pieces.iter().map(|(_, outline)| outline.as_slice()))
    }
}

fn area(outline: &[[f64; 2]]) -> f64 {
    let turn = |i: usize| {
        let (p, q) = (outline[i], outline[(i + 1) % outline.len()]);
        p[0] * q[1] - q[0] * p[1]
    };
    (0..outline.len()).map(turn).sum::<f64>() / 2.0
}

impl Piece {
    /// How far this piece reaches from the axis along u and v where the lines, held within the blank, are at `a` and
    /// `b`, with signs: its own quadrant.
    pub fn reach(self, width_mm: f64, depth_mm: f64, a: f64, b: f64) -> [f64; 2] {
        [if self.beyond_first() { width_mm - a } else { -a }, if self.beyond_second() { depth_mm - b } else { -b }]
    }

    /// Which way its quadrant lies from the axis: the signs of u and v.
    pub fn quadrant(self) -> [f64; 2] {
        [if self.beyond_first() { 1.0 } else { -1.0 }, if self.beyond_second() { 1.0 } else { -1.0 }]
    }

    /// The piece's level section with its corner chamfered by `chamfer` at the axis: five corners, counter-clockwise,
    /// some of which may coincide. Without a chamfer the first and the last coincide at the axis.
    pub fn outline(self, width_mm: f64, depth_mm: f64, a: f64, b: f64, chamfer: f64) -> [[f64; 2]; 5] {
        let [u, v] = self.reach(width_mm, depth_mm, a, b);
        let [sign_u, sign_v] = self.quadrant();
        let (wide, deep) = (u.abs(), v.abs());
        // Where the chamfer reaches past the piece's own edge it ends on the edge.
        let along = |reach: f64, other: f64| {
            let c = chamfer.min(reach);
            [c, (chamfer - c).min(other)]
        };
        let ([cu, du], [cv, dv]) = (along(wide, deep), along(deep, wide));
        let corners = [[cu, du], [wide, du], [wide, deep], [dv, deep], [dv, cv]].map(|[u, v]| [sign_u * u, sign_v * v]);
        let [p, q, r, s, t] = corners;
        if sign_u * sign_v < 0.0 { [t, s, r, q, p] } else { corners }
    }
}

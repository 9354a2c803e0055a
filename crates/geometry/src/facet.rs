//! A planar facet of the leg.

use crate::{BlankPoint, Cut, Piece, Side, Surface};

/// A planar facet of one piece, between two stations or at an end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Facet {
    /// The piece it belongs to.
    pub piece: Piece,
    /// The surface of the blank that it shows.
    pub surface: Surface,
    /// It lies between the stations of this number and the next; an end lies at one of them.
    pub slab: u32,
    /// Counter-clockwise seen from outside. Two may coincide where a saw line leaves the blank.
    pub corners: [FacetCorner; 4],
}

/// A corner of a facet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FacetCorner {
    /// Where it is shown: (u, v, s) as opened, mm.
    pub at: [f64; 3],
    /// Where it was in the blank, mm.
    pub blank: BlankPoint,
}

impl Facet {
    /// The side of the finished leg that a sawn facet shows on; none for a planed face or an end.
    pub fn side(&self) -> Option<Side> {
        match self.surface {
            Surface::Cut(Cut::First) => Some(if self.piece.beyond_first() { Side::Two } else { Side::Four }),
            Surface::Cut(Cut::Second) => Some(if self.piece.beyond_second() { Side::Three } else { Side::One }),
            Surface::Face(_) | Surface::End(_) => None,
        }
    }

    /// The unit vector in (u, v, s) that points out of the wood.
    pub fn outward(&self) -> [f64; 3] {
        let [p, q, r, t] = self.corners.map(|corner| corner.at);
        // Of the diagonals, so that two corners may coincide.
        let [e, f] = [[r[0] - p[0], r[1] - p[1], r[2] - p[2]], [t[0] - q[0], t[1] - q[1], t[2] - q[2]]];
        let normal = [e[1] * f[2] - e[2] * f[1], e[2] * f[0] - e[0] * f[2], e[0] * f[1] - e[1] * f[0]];
        let length = (normal[0] * normal[0] + normal[1] * normal[1] + normal[2] * normal[2]).sqrt();
        normal.map(|along| along / length)
    }
}

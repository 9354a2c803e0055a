//! Where legs stand.

use serde::{Deserialize, Serialize};

use crate::{Length, Piece};

/// How legs stand together. Sizes are from axis to axis: exactly the outside of an apron frame, and of a shelf.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Arrangement {
    /// One leg: a column or a lamp.
    Column,
    /// Four, at the corners of a rectangle.
    Rectangle {
        /// Along u.
        width: Length,
        /// Along v.
        depth: Length,
    },
    /// Three, evenly round a circle.
    Circle {
        /// From the middle to an axis.
        radius: Length,
    },
    /// Some in a row along u.
    Row {
        /// From one axis to the next.
        spacing: Length,
        /// How many.
        count: u32,
    },
}

/// Where one leg stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// Its axis, mm.
    pub axis_mm: [f64; 2],
    /// The way its inside piece points, degrees from u toward v.
    pub inward_deg: f64,
}

impl Spot {
    /// How far a leg is turned here, from u toward v, so that this piece points inward, degrees, 0 up to 360.
    pub fn turn_deg(&self, inside: Piece) -> f64 {
        let own = match inside {
            Piece::One => 225.0,
            Piece::Two => 315.0,
            Piece::Three => 45.0,
            Piece::Four => 135.0,
        };
        (self.inward_deg - own).rem_euclid(360.0)
    }
}

/// The most legs in a row.
pub const MAX_IN_ROW: u32 = 12;

impl Arrangement {
    /// Where the legs stand, counter-clockwise from the corner at small u and v; a row from small u.
    pub fn spots(&self) -> Vec<Spot> {
        match self {
            Arrangement::Column => vec![Spot { axis_mm: [0.0, 0.0], inward_deg: 225.0 }],
            Arrangement::Rectangle { width, depth } => {
                let (u, v) = (width.mm() / 2.0, depth.mm() / 2.0);
                [([-u, -v], 45.0), ([u, -v], 135.0), ([u, v], 225.0), ([-u, v], 315.0)]
                    .map(|(axis_mm, inward_deg)| Spot { axis_mm, inward_deg })
                    .to_vec()
            }
            Arrangement::Circle { radius } => [90.0_f64, 210.0, 330.0]
                .map(|deg| {
                    let (sin, cos) = deg.to_radians().sin_cos();
                    Spot { axis_mm: [radius.mm() * cos, radius.mm() * sin], inward_deg: deg + 180.0 }
                })
                .to_vec(),
            Arrangement::Row { spacing, count } => {
                let count = (*count).clamp(1, MAX_IN_ROW);
                let middle = f64::from(count - 1) / 2.0;
                (0..count)
                    .map(|i| {
                        let from_middle = f64::from(i) - middle;
                        let inward_deg = if from_middle > 0.0 { 135.0 } else { 45.0 };
                        Spot { axis_mm: [from_middle * spacing.mm(), 0.0], inward_deg }
                    })
                    .collect()
            }
        }
    }

    /// The frame that boards fill, counter-clockwise, mm; none for a column and a row.
    pub fn frame(&self) -> Option<Vec<[f64; 2]>> {
        match self {
            Arrangement::Rectangle { .. } | Arrangement::Circle { .. } => {
                Some(self.spots().into_iter().map(|spot| spot.axis_mm).collect())
            }
            Arrangement::Column | Arrangement::Row { .. } => None,
        }
    }
}

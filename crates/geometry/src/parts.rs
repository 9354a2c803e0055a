//! The numbered parts of a blank and of the leg it becomes, and points in either.

use std::fmt;

use serde::{Deserialize, Serialize};

/// A point of the blank, mm. May lie outside it where a line is continued.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct BlankPoint {
    /// Across face 1, from arris 1 toward the maker.
    pub x: f64,
    /// Across face 2, from arris 2; into the blank as seen on face 1.
    pub y: f64,
    /// From the finished top.
    pub s: f64,
}

/// A point of the finished leg, mm, with the axis at u = v = 0.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct LegPoint {
    /// Against x of the blank.
    pub u: f64,
    /// Against y of the blank.
    pub v: f64,
    /// From the finished top.
    pub s: f64,
}

macro_rules! numbered {
    ($(#[$doc:meta])* $name:ident, $word:literal) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        pub enum $name {
            /// Number 1.
            One,
            /// Number 2.
            Two,
            /// Number 3.
            Three,
            /// Number 4.
            Four,
        }

        impl $name {
            /// All four, in order.
            pub const ALL: [$name; 4] = [$name::One, $name::Two, $name::Three, $name::Four];

            /// Its number in the shop, 1 to 4.
            pub fn number(self) -> u8 {
                self as u8 + 1
            }

            /// Its place in an array, 0 to 3.
            pub fn index(self) -> usize {
                self as usize
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                write!(f, concat!($word, " {}"), self.number())
            }
        }
    };
}

numbered! {
    /// A planed face of the blank: 1 is up on the saw table, 2 toward the maker, 3 down, 4 far.
    Face, "face"
}
numbered! {
    /// An arris of the blank: 1 far arris of face 1, 2 the one that faces 1 and 2 share, 3 near lower, 4 far lower.
    Arris, "arris"
}
numbered! {
    /// One of the four pieces, numbered by the arris it holds.
    Piece, "piece"
}
numbered! {
    /// A side of the finished leg. Sides 1 and 3 come from the second cut, 2 and 4 from the first.
    Side, "side"
}
numbered! {
    /// The straight glue line on the axis of the side of the same number.
    Seam, "seam"
}

/// The two cuts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Cut {
    /// Drawn on face 1, measured from arris 1, sawn through to face 3.
    First,
    /// Drawn on face 2, measured from arris 2, sawn through to face 4.
    Second,
}

/// The two ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum End {
    /// s = 0.
    Top,
    /// s = length.
    Foot,
}

impl Cut {
    /// Both, in the order they are sawn.
    pub const ALL: [Cut; 2] = [Cut::First, Cut::Second];

    /// Its place in an array, 0 or 1.
    pub fn index(self) -> usize {
        self as usize
    }

    /// The face it is drawn on.
    pub fn face(self) -> Face {
        match self {
            Cut::First => Face::One,
            Cut::Second => Face::Two,
        }
    }

    /// The faces on which the two edges lie that meet at its seams (2 and 4 of the first cut, 1 and 3 of the second): the one
    /// at y = 0 or x = 0, and the one opposite.
    pub fn seam_faces(self) -> [Face; 2] {
        match self {
            Cut::First => [Face::One, Face::Three],
            Cut::Second => [Face::Four, Face::Two],
        }
    }
}

impl Face {
    /// The point of the face `s` mm from the top and `across` mm from its upper arris, as it is seen with the top end left, on a
    /// blank of this width and depth.
    #[inline]
    pub fn point(self, s: f64, across: f64, [width, depth]: [f64; 2]) -> BlankPoint {
        let (x, y) = match self {
            Face::One => (across, 0.0),
            Face::Two => (width, across),
            Face::Three => (width - across, depth),
            Face::Four => (0.0, depth - across),
        };
        BlankPoint { x, y, s }
    }

    /// Whether x or y, whichever runs across this face, falls from its upper arris to its lower one: so on faces 3 and 4.
    pub fn runs_back(self) -> bool {
        matches!(self, Face::Three | Face::Four)
    }

    /// How far across the face a point lies, mm from its upper arris, whether on the face or below it.
    #[inline]
    pub fn across(self, p: BlankPoint, [width, depth]: [f64; 2]) -> f64 {
        match self {
            Face::One => p.x,
            Face::Two => p.y,
            Face::Three => width - p.x,
            Face::Four => depth - p.y,
        }
    }
}

impl End {
    /// Both, top first.
    pub const ALL: [End; 2] = [End::Top, End::Foot];
}

impl fmt::Display for Cut {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Cut::First => "first cut",
            Cut::Second => "second cut",
        })
    }
}

impl fmt::Display for End {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            End::Top => "top",
            End::Foot => "foot",
        })
    }
}

impl Piece {
    /// Whether the piece lies at the far side of the first cut's line, x > a.
    pub fn beyond_first(self) -> bool {
        matches!(self, Piece::Two | Piece::Three)
    }

    /// Whether the piece lies at the far side of the second cut's line, y > b.
    pub fn beyond_second(self) -> bool {
        matches!(self, Piece::Three | Piece::Four)
    }

    /// The blank's corner that the piece holds and is rotated about, as (x, y).
    pub fn corner(self, width_mm: f64, depth_mm: f64) -> [f64; 2] {
        [if self.beyond_first() { width_mm } else { 0.0 }, if self.beyond_second() { depth_mm } else { 0.0 }]
    }

    /// Where a point of this piece comes to lie in the finished leg: rotated half round about the piece's own corner.
    pub fn finished(self, width_mm: f64, depth_mm: f64, p: BlankPoint) -> LegPoint {
        let [xc, yc] = self.corner(width_mm, depth_mm);
        LegPoint { u: xc - p.x, v: yc - p.y, s: p.s }
    }

    /// Where a point of this piece of the finished leg was in the blank; the inverse of [`Piece::finished`].
    pub fn in_blank(self, width_mm: f64, depth_mm: f64, p: LegPoint) -> BlankPoint {
        let [xc, yc] = self.corner(width_mm, depth_mm);
        BlankPoint { x: xc - p.u, y: yc - p.v, s: p.s }
    }
}

impl Side {
    /// The two pieces that show on this side: first the one at the smaller u (sides 1 and 3) or v (sides 2 and 4).
    pub fn pieces(self) -> [Piece; 2] {
        match self {
            Side::One => [Piece::One, Piece::Two],
            Side::Two => [Piece::Two, Piece::Three],
            Side::Three => [Piece::Four, Piece::Three],
            Side::Four => [Piece::One, Piece::Four],
        }
    }

    /// The cut that made this side.
    pub fn cut(self) -> Cut {
        match self {
            Side::One | Side::Three => Cut::Second,
            Side::Two | Side::Four => Cut::First,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every face's point lies in the face's plane and as far across it as was asked; the edges that meet at a cut's seams lie
    /// on faces that its line is drawn or comes out across.
    #[test]
    fn a_point_of_a_face_is_as_far_across_it() {
        let size = [50.0, 40.0];
        for face in Face::ALL {
            let p = face.point(7.0, 11.0, size);
            assert_eq!((face.across(p, size), p.s), (11.0, 7.0));
            let square = [p.y, size[0] - p.x, size[1] - p.y, p.x];
            assert_eq!(square[face.index()], 0.0, "{face}");
        }
        for cut in Cut::ALL {
            assert!(cut.seam_faces().contains(&cut.face()));
            assert!(cut.seam_faces().iter().all(|face| face.index() % 2 == cut.index()));
        }
    }

    #[test]
    fn rotating_a_piece_brings_its_corner_to_the_axis_and_back() {
        for piece in Piece::ALL {
            let [x, y] = piece.corner(50.0, 40.0);
            let corner = BlankPoint { x, y, s: 7.0 };
            let finished = piece.finished(50.0, 40.0, corner);
            assert_eq!([finished.u, finished.v], [0.0, 0.0]);
            let inside = BlankPoint { x: 11.0, y: 12.0, s: 7.0 };
            assert_eq!(piece.in_blank(50.0, 40.0, piece.finished(50.0, 40.0, inside)), inside);
        }
    }
}

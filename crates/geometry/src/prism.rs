//! A piece of the blank between two stations: a prism with a rectangle at each end.

use crate::{Cut, End, Face, Piece, Surface};

/// A face of the prism: the four edges of the level section, or an end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Part {
    LeastY,
    MostX,
    MostY,
    LeastX,
    Top,
    Foot,
}

impl Part {
    /// The four walls, round the level section.
    pub(crate) const AROUND: [Part; 4] = [Part::LeastY, Part::MostX, Part::MostY, Part::LeastX];

    /// The surface of the blank that it shows.
    pub(crate) fn surface(self, piece: Piece) -> Surface {
        match self {
            Part::LeastY if piece.beyond_second() => Surface::Cut(Cut::Second),
            Part::LeastY => Surface::Face(Face::One),
            Part::MostX if piece.beyond_first() => Surface::Face(Face::Two),
            Part::MostX => Surface::Cut(Cut::First),
            Part::MostY if piece.beyond_second() => Surface::Face(Face::Three),
            Part::MostY => Surface::Cut(Cut::Second),
            Part::LeastX if piece.beyond_first() => Surface::Cut(Cut::First),
            Part::LeastX => Surface::Face(Face::Four),
            Part::Top => Surface::End(End::Top),
            Part::Foot => Surface::End(End::Foot),
        }
    }

    /// The piece on the other side of it, closed in the blank or glued in the leg.
    pub(crate) fn neighbour(self, piece: Piece) -> Option<Piece> {
        match self {
            Part::LeastX | Part::MostX => Some(match piece {
                Piece::One => Piece::Two,
                Piece::Two => Piece::One,
                Piece::Three => Piece::Four,
                Piece::Four => Piece::Three,
            }),
            Part::LeastY | Part::MostY => Some(match piece {
                Piece::One => Piece::Four,
                Piece::Four => Piece::One,
                Piece::Two => Piece::Three,
                Piece::Three => Piece::Two,
            }),
            Part::Top | Part::Foot => None,
        }
    }
}

/// A level section of one piece in the blank, least and most, mm.
#[derive(Clone, Copy)]
pub(crate) struct Rectangle {
    pub(crate) x: [f64; 2],
    pub(crate) y: [f64; 2],
}

impl Rectangle {
    pub(crate) fn is_wide(self) -> bool {
        self.x[1] > self.x[0]
    }

    pub(crate) fn is_deep(self) -> bool {
        self.y[1] > self.y[0]
    }
}

//! Left and right: when a leg is its own mirror, and when its mirror is the same leg with another piece inside.

use crate::{Leg, Piece};

/// Lines that lie closer than this all along are one, mm: far below what any saw or eye tells.
pub const SAME_LINE_MM: f64 = 0.01;

/// What a leg's mirror is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mirror {
    /// The leg itself, standing with the same piece inside.
    Itself,
    /// A leg from the same template, with this piece inside.
    WithInside(Piece),
    /// A leg that needs mirrored saw lines, a template and a label of its own.
    OtherHand,
}

/// What the mirror of a leg with `inside` toward the middle of the furniture is.
///
/// A mirror changes two neighbouring directions across the leg for one another; the leg is the same if a turn about its
/// axis brings it back. With one curve on both faces that is so at once, and pieces 2 and 4 change places.
pub fn mirror(leg: &Leg, inside: Piece) -> Mirror {
    let stations = stations(leg);
    let square = (leg.width_mm - leg.depth_mm).abs() <= SAME_LINE_MM;
    let all =
        |same: &dyn Fn(f64, f64) -> f64| stations.iter().all(|s| same(leg.a(*s), leg.b(*s)).abs() <= SAME_LINE_MM);
    let (w, d) = (leg.width_mm, leg.depth_mm);
    // The mirror (u, v) -> (v, u), then back by a quarter turn this many times: which lines it needs.
    let turns = [
        square && all(&|a, b| a - b),
        all(&|_, b| b - d / 2.0),
        square && all(&|a, b| a + b - w),
        all(&|a, _| a - w / 2.0),
    ];
    let mut other = None;
    for turn in (0..4).filter(|turn| turns[*turn]) {
        let [u, v] = inside.quadrant();
        let mut at = [v, u];
        for _ in 0..turn {
            at = [at[1], -at[0]]; // undoes a quarter turn from u toward v
        }
        let piece = Piece::ALL.into_iter().find(|piece| piece.quadrant() == at).unwrap_or(inside);
        if piece == inside {
            return Mirror::Itself;
        }
        other = other.or(Some(piece));
    }
    other.map_or(Mirror::OtherHand, Mirror::WithInside)
}

/// Where lines are compared: evenly, and wherever one of their cubics ends.
fn stations(leg: &Leg) -> Vec<f64> {
    let mut stations = leg.uniform_stations(257);
    stations.extend([&leg.first, &leg.second].into_iter().flat_map(|line| line.finished_segments()).map(|c| c.p3.x));
    stations
}

impl Piece {
    /// The piece that takes this one's part in the leg whose first cut is mirrored on its face: 1 and 2 change places,
    /// and 3 and 4.
    pub fn mirrored(self) -> Piece {
        match self {
            Piece::One => Piece::Two,
            Piece::Two => Piece::One,
            Piece::Three => Piece::Four,
            Piece::Four => Piece::Three,
        }
    }
}

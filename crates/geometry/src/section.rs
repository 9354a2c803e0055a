//! The level section of the finished leg.

use crate::Piece;

/// The four pieces of a finished leg at one level. Every polygon is a rectangle with a corner on the axis, its corners
/// in order round it: axis first.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Section {
    /// (u, v) of each corner of pieces 1 to 4, mm. A piece that the saw line has left is a polygon without area.
    pub pieces: [[[f64; 2]; 4]; 4],
}

impl Section {
    /// The section of a leg of `width_mm` by `depth_mm` where the lines, held within the blank, are at `a` and `b`.
    pub fn new(width_mm: f64, depth_mm: f64, a: f64, b: f64) -> Section {
        let piece = |piece: Piece| {
            let far_u = if piece.beyond_first() { width_mm - a } else { -a };
            let far_v = if piece.beyond_second() { depth_mm - b } else { -b };
            let corners = [[0.0, 0.0], [far_u, 0.0], [far_u, far_v], [0.0, far_v]];
            // Counter-clockwise in (u, v), whichever quadrant.
            if far_u * far_v < 0.0 { [corners[0], corners[3], corners[2], corners[1]] } else { corners }
        };
        Section { pieces: Piece::ALL.map(piece) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_section_is_the_blanks_own_square_moved_sideways() {
        let section = Section::new(50.0, 40.0, 18.0, 27.0);
        let area: f64 = section.pieces.iter().map(shoelace).sum();
        assert_eq!(area, 2000.0);
        let all = section.pieces.concat();
        let (least, most) = (
            |i: usize| all.iter().map(|c| c[i]).fold(f64::INFINITY, f64::min),
            |i: usize| all.iter().map(|c| c[i]).fold(f64::NEG_INFINITY, f64::max),
        );
        assert_eq!([least(0), most(0), least(1), most(1)], [-18.0, 32.0, -27.0, 13.0]);
    }

    fn shoelace(p: &[[f64; 2]; 4]) -> f64 {
        0.5 * (0..4).map(|i| p[i][0] * p[(i + 1) % 4][1] - p[(i + 1) % 4][0] * p[i][1]).sum::<f64>()
    }
}

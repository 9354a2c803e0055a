//! The saw line of the other hand.

use kurbo::{CubicBez, Point as Place};

use super::SawLine;

impl SawLine {
    /// The line mirrored on a face `across_mm` wide: what lay near one arris lies as near to the other.
    #[must_use]
    pub fn mirrored(&self, across_mm: f64) -> SawLine {
        let flip = |p: Place| Place::new(p.x, across_mm - p.y);
        let turned = |c: &CubicBez| CubicBez::new(flip(c.p0), flip(c.p1), flip(c.p2), flip(c.p3));
        SawLine {
            segments: self.segments.iter().map(turned).collect(),
            slopes_beyond: self.slopes_beyond.map(|slope| -slope),
            ..self.clone()
        }
    }
}

impl crate::Leg {
    /// The leg of the other hand: its first cut mirrored on face 1. Pieces 1 and 2 change places, and 3 and 4
    /// ([`crate::Piece::mirrored`]).
    #[must_use]
    pub fn mirrored(&self) -> crate::Leg {
        crate::Leg { first: self.first.mirrored(self.width_mm), ..self.clone() }
    }
}

#[cfg(test)]
mod tests {
    use crate::{Blank, Leg, Line, Piece, Shape, ShapeKind};

    #[test]
    fn sections_of_the_other_hand_are_mirrored() {
        let line = |kind, across| Line::Shape(Shape::start(kind, 700.0, across));
        let blank = Blank { depth: 44.0.into(), ..Blank::square(50.0, 700.0) };
        let leg = Leg::new(&blank, &line(ShapeKind::PostAndKnee, 50.0), &line(ShapeKind::Waves, 44.0)).unwrap();
        let other = leg.mirrored();
        for s in leg.uniform_stations(200) {
            assert!((leg.first.at(s).slope + other.first.at(s).slope).abs() < 1e-12);
            for piece in Piece::ALL {
                let [u, v] = piece.reach(50.0, 44.0, leg.a(s), leg.b(s));
                let [mu, mv] = piece.mirrored().reach(50.0, 44.0, other.a(s), other.b(s));
                assert!((u + mu).abs() < 1e-12 && (v - mv).abs() < 1e-12, "{piece} at {s}");
            }
        }
        assert_eq!(leg.first.offset(-15.0) + other.first.offset(-15.0), 50.0);
    }
}

//! How a leg stands with each of its pieces inside.

use crate::{Leg, Piece};

/// Less than this is no stance, mm.
const UNDER_MM: f64 = 1.0;

/// Where the foot stands from the top, and where the leg swings farthest from the straight line between them, as seen
/// from outside the furniture: the inside piece points away from the viewer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stance {
    /// The inside piece.
    pub inside: Piece,
    /// The foot from the top, mm: toward the middle of the furniture, and to the right.
    pub foot_mm: [f64; 2],
    /// The farthest the leg's middle strays from the straight line between its ends, mm: toward the middle of the
    /// furniture, and to the right.
    pub swing_mm: [f64; 2],
    /// Where that is, mm from the top.
    pub swing_at_mm: f64,
}

impl Stance {
    /// The stance of a leg with one piece inside.
    pub fn of(leg: &Leg, inside: Piece) -> Stance {
        let at = |s: f64| [leg.width_mm / 2.0 - leg.a(s), leg.depth_mm / 2.0 - leg.b(s)];
        let (top, foot) = (at(0.0), at(leg.length_mm));
        let moved = [foot[0] - top[0], foot[1] - top[1]];
        let (mut swing, mut swing_at_mm) = ([0.0, 0.0], 0.0);
        for s in leg.uniform_stations(401) {
            let share = s / leg.length_mm;
            let here = at(s);
            let off = [0, 1].map(|i| here[i] - top[i] - share * moved[i]);
            if off[0].hypot(off[1]) > f64::hypot(swing[0], swing[1]) + 1e-9 {
                (swing, swing_at_mm) = (off, s);
            }
        }
        Stance { inside, foot_mm: seen(inside, moved), swing_mm: seen(inside, swing), swing_at_mm }
    }

    /// What the foot does, in words that are true: "foot in", "foot out and to the left", "foot under its top".
    pub fn name(&self) -> String {
        match direction(self.foot_mm) {
            Some(way) => format!("foot {way}"),
            None => match direction(self.swing_mm) {
                Some(way) => format!("foot under its top, swings {way}"),
                None => "straight".to_owned(),
            },
        }
    }
}

/// A move across the leg as toward the middle, and to the right of one who looks from outside.
fn seen(inside: Piece, [u, v]: [f64; 2]) -> [f64; 2] {
    let [into_u, into_v] = inside.quadrant().map(|sign| sign * std::f64::consts::FRAC_1_SQRT_2);
    // Looking along (into_u, into_v) with s down, right is (-into_v, into_u): see `Camera`.
    [u * into_u + v * into_v, -u * into_v + v * into_u]
}

/// The way in words; one word where the move is within a quarter of a right angle of it.
fn direction([into, right]: [f64; 2]) -> Option<String> {
    if into.hypot(right) < UNDER_MM {
        return None;
    }
    let (depth, side) = (if into > 0.0 { "in" } else { "out" }, if right > 0.0 { "right" } else { "left" });
    let off = right.abs().atan2(into.abs()).to_degrees();
    Some(match off {
        deg if deg <= 22.5 => depth.to_owned(),
        deg if deg >= 67.5 => format!("to the {side}"),
        _ => format!("{depth} and to the {side}"),
    })
}

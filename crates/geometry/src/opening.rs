//! From the blank to the finished leg: the cut opens, the pieces rotate, the corners meet.

use std::f64::consts::PI;

use crate::{BlankPoint, Piece, Solved};

/// What happens to the pieces at a share of the opening.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stage {
    /// Closed: the sawn faces touch.
    Blank,
    /// The pieces move apart, each along its own diagonal.
    Parting,
    /// They rotate half round, each about its own corner, all in the same sense (clockwise seen from the top).
    Rotating,
    /// They come together, corners first.
    Meeting,
    /// Closed again: the planed faces touch.
    Finished,
}

/// Where the pieces are shown on their way from the blank (share 0) to the finished leg (share 1).
///
/// At 0 the blank stands with its middle on the axis: (x - W/2, y - D/2, s). At 1 the positions are the finished leg's
/// (u, v, s). In between nothing passes through anything: the cut opens first, until each piece has room to rotate
/// within its own quadrant.
#[derive(Clone, Debug, PartialEq)]
pub struct Opening {
    share: f64,
    stage: Stage,
    gap_mm: f64,
    placements: [Placement; 4],
}

/// A rotation about the piece's corner, and where the corner is shown.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Placement {
    corner: [f64; 2],
    shown: [f64; 2],
    cos: f64,
    sin: f64,
}

impl Opening {
    /// The share at which the cut is open and the pieces begin to rotate.
    pub const PARTED: f64 = 0.3;
    /// The share at which they are rotated and begin to come together.
    pub const ROTATED: f64 = 0.7;

    /// The pieces of `solved` at a share of 0 (blank) to 1 (finished leg). A share outside counts as the nearer end,
    /// one that is not a number as 0.
    pub fn new(solved: &Solved, share: f64) -> Opening {
        let share = if share.is_nan() { 0.0 } else { share.clamp(0.0, 1.0) };
        let stage = if share == 0.0 {
            Stage::Blank
        } else if share < Self::PARTED {
            Stage::Parting
        } else if share < Self::ROTATED {
            Stage::Rotating
        } else if share < 1.0 {
            Stage::Meeting
        } else {
            Stage::Finished
        };
        let [width_mm, depth_mm] = [solved.width_mm, solved.depth_mm];
        let widest_mm = widest_gap_mm(solved);
        // How far apart the pieces are, and how far from the axis their corners, by stage.
        let apart = ease(share / Self::PARTED);
        let together = ease((share - Self::ROTATED) / (1.0 - Self::ROTATED));
        let out = |size_mm: f64| (size_mm + apart * widest_mm) / 2.0 * (1.0 - together);
        let [cos, sin] = match stage {
            Stage::Blank | Stage::Parting => [1.0, 0.0],
            Stage::Meeting | Stage::Finished => [-1.0, 0.0], // exact, so that the finished leg is
            Stage::Rotating => {
                let (sin, cos) = (PI * ease((share - Self::PARTED) / (Self::ROTATED - Self::PARTED))).sin_cos();
                [cos, sin]
            }
        };
        let placements = Piece::ALL.map(|piece| Placement {
            corner: piece.corner(width_mm, depth_mm),
            shown: [
                if piece.beyond_first() { out(width_mm) } else { -out(width_mm) },
                if piece.beyond_second() { out(depth_mm) } else { -out(depth_mm) },
            ],
            cos,
            sin,
        });
        Opening { share, stage, gap_mm: apart * widest_mm, placements }
    }

    /// The share, 0 to 1.
    pub fn share(&self) -> f64 {
        self.share
    }

    /// What happens at this share.
    pub fn stage(&self) -> Stage {
        self.stage
    }

    /// How far apart the pieces were moved along u and along v before they rotate, mm.
    pub fn gap_mm(&self) -> f64 {
        self.gap_mm
    }

    /// Where a point of a piece is shown: (u, v, s), mm.
    pub fn place(&self, piece: Piece, p: BlankPoint) -> [f64; 3] {
        let Placement { corner, shown, cos, sin } = self.placements[piece.index()];
        let [dx, dy] = [p.x - corner[0], p.y - corner[1]];
        [shown[0] + cos * dx - sin * dy, shown[1] + sin * dx + cos * dy, p.s]
    }

    /// A shown direction (u, v, s) as it lies in the blank's (x, y, s), for one piece; the same for all pieces.
    pub(crate) fn in_blank(&self, direction: [f64; 3]) -> [f64; 3] {
        let Placement { cos, sin, .. } = self.placements[0];
        let [u, v, s] = direction;
        [cos * u + sin * v, cos * v - sin * u, s]
    }
}

/// The gap that leaves each piece room to rotate within its own quadrant: the longest reach from a piece's corner to its
/// far edge, over all stations; more if the blank is so narrow that a piece would still swing out of its quadrant, since
/// the drawing order parts rotating pieces at u = 0 and v = 0.
///
/// The reach is a convex function of (a, b), which are linear between stations: the stations have the longest.
fn widest_gap_mm(solved: &Solved) -> f64 {
    let reach_squared = solved.a.iter().zip(&solved.b).fold(0.0_f64, |longest, (&a, &b)| {
        let across = a.max(solved.width_mm - a);
        let into = b.max(solved.depth_mm - b);
        longest.max(across * across + into * into)
    });
    let reach_mm = reach_squared.sqrt();
    reach_mm.max(2.0 * reach_mm - solved.width_mm.min(solved.depth_mm))
}

/// 0 to 1 without a jerk at either end, and never back.
fn ease(share: f64) -> f64 {
    let t = share.clamp(0.0, 1.0);
    t * t * (3.0 - 2.0 * t)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A leg whose lines leave the blank on one side and swing widely.
    fn solved(width_mm: f64, depth_mm: f64) -> Solved {
        let s: Vec<f64> = (0..=40).map(|i| 7.5 * f64::from(i)).collect();
        let a = s.iter().map(|s| (0.5 * width_mm + 0.6 * width_mm * (s / 60.0).sin()).clamp(0.0, width_mm)).collect();
        let b = s.iter().map(|s| 0.5 * depth_mm + 0.45 * depth_mm * (s / 45.0).cos()).collect();
        Solved { width_mm, depth_mm, s, a, b }
    }

    /// The four pieces at a level, as they are shown.
    fn footprints(solved: &Solved, opening: &Opening, a: f64, b: f64) -> [[[f64; 2]; 4]; 4] {
        Piece::ALL.map(|piece| {
            let [xc, yc] = piece.corner(solved.width_mm, solved.depth_mm);
            [[xc, yc], [a, yc], [a, b], [xc, b]].map(|[x, y]| {
                let [u, v, _] = opening.place(piece, BlankPoint { x, y, s: 0.0 });
                [u, v]
            })
        })
    }

    /// By how much two convex polygons run into each other: the least overlap of their shadows along any edge's normal.
    fn overlap(p: &[[f64; 2]; 4], q: &[[f64; 2]; 4]) -> f64 {
        let mut least = f64::INFINITY;
        for polygon in [p, q] {
            for i in 0..4 {
                let (from, to) = (polygon[i], polygon[(i + 1) % 4]);
                let normal = [to[1] - from[1], from[0] - to[0]];
                let length = normal[0].hypot(normal[1]);
                if length < 1e-9 {
                    continue;
                }
                let shadow = |points: &[[f64; 2]; 4]| {
                    points
                        .iter()
                        .map(|c| (c[0] * normal[0] + c[1] * normal[1]) / length)
                        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), along| {
                            (low.min(along), high.max(along))
                        })
                };
                let ((p_low, p_high), (q_low, q_high)) = (shadow(p), shadow(q));
                least = least.min(p_high.min(q_high) - p_low.max(q_low));
            }
        }
        least
    }

    fn worst_overlap(solved: &Solved, opening: &Opening) -> f64 {
        let mut worst = f64::NEG_INFINITY;
        for i in 0..solved.s.len() {
            // At the stations and half way to the next.
            let next = (i + 1).min(solved.s.len() - 1);
            for share in [0.0, 0.5] {
                let between = |values: &[f64]| values[i] + share * (values[next] - values[i]);
                let pieces = footprints(solved, opening, between(&solved.a), between(&solved.b));
                for p in 0..4 {
                    for q in 0..p {
                        worst = worst.max(overlap(&pieces[p], &pieces[q]));
                    }
                }
            }
        }
        worst
    }

    #[test]
    fn nothing_passes_through_anything() {
        for solved in [solved(50.0, 50.0), solved(30.0, 80.0), solved(80.0, 30.0)] {
            for step in 0..=400 {
                let opening = Opening::new(&solved, f64::from(step) / 400.0);
                let worst = worst_overlap(&solved, &opening);
                assert!(worst < 1e-9, "{worst} mm into each other at share {}", opening.share());
            }
        }
    }

    #[test]
    fn rotating_without_room_would_be_noticed() {
        let solved = solved(50.0, 50.0);
        let mut opening = Opening::new(&solved, 0.4);
        for placement in &mut opening.placements {
            placement.shown = placement.shown.map(|corner| corner.signum() * 25.0);
        }
        assert!(worst_overlap(&solved, &opening) > 1.0);
    }

    #[test]
    fn open_by_the_longest_reach_before_anything_rotates() {
        for solved in [solved(50.0, 50.0), solved(30.0, 80.0)] {
            let mut longest = 0.0_f64;
            for (&a, &b) in solved.a.iter().zip(&solved.b) {
                for piece in Piece::ALL {
                    let [xc, yc] = piece.corner(solved.width_mm, solved.depth_mm);
                    longest = longest.max((a - xc).hypot(b - yc));
                }
            }
            let opening = Opening::new(&solved, Opening::PARTED);
            assert!(opening.gap_mm() >= longest && opening.gap_mm() < 2.0 * longest);
            assert_eq!((opening.placements[0].cos, opening.placements[0].sin), (1.0, 0.0));
        }
    }

    #[test]
    fn begins_as_the_blank_and_ends_as_the_leg() {
        let solved = solved(50.0, 40.0);
        let p = BlankPoint { x: 31.0, y: 12.0, s: 5.0 };
        for piece in Piece::ALL {
            let blank = Opening::new(&solved, 0.0);
            assert_eq!((blank.stage(), blank.place(piece, p)), (Stage::Blank, [6.0, -8.0, 5.0]));
            let finished = Opening::new(&solved, 1.0);
            let leg = piece.finished(50.0, 40.0, p);
            assert_eq!((finished.stage(), finished.place(piece, p)), (Stage::Finished, [leg.u, leg.v, leg.s]));
        }
        assert_eq!(Opening::new(&solved, f64::NAN), Opening::new(&solved, 0.0));
        assert_eq!(Opening::new(&solved, 7.0), Opening::new(&solved, 1.0));
    }

    #[test]
    fn pieces_move_without_a_jump_and_never_back() {
        let solved = solved(50.0, 50.0);
        let p = BlankPoint { x: 20.0, y: 20.0, s: 0.0 };
        let steps = 2000;
        let mut before = Opening::new(&solved, 0.0);
        for step in 1..=steps {
            let now = Opening::new(&solved, f64::from(step) / f64::from(steps));
            let [u0, v0, _] = before.place(Piece::One, p);
            let [u1, v1, _] = now.place(Piece::One, p);
            assert!((u1 - u0).hypot(v1 - v0) < 0.5, "jumps at {}", now.share());
            assert!(now.gap_mm() >= before.gap_mm());
            assert!(now.placements[0].cos <= before.placements[0].cos);
            if before.share() >= Opening::PARTED {
                assert!(now.placements[0].shown[0] >= before.placements[0].shown[0]);
            } else {
                assert!(now.placements[0].shown[0] <= before.placements[0].shown[0]);
            }
            before = now;
        }
    }
}

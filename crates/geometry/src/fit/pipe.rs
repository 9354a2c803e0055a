//! The straight hole on the axis, made by chamfering the blank's four arrises before sawing.

use std::f64::consts::{FRAC_1_SQRT_2, SQRT_2};

use kurbo::ParamCurve;
use serde::{Deserialize, Serialize};

use super::{FitError, size};
use crate::polynomial::unit_roots;
use crate::saw_line::rates;
use crate::{Cut, Leg, Length, Side};

/// A pipe through the leg. The file keeps the outside diameter itself, so that another table never changes an old leg.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PipeHole {
    /// The trade name, where the pipe was taken from the table: the trade name is not the diameter.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub name: String,
    /// The pipe's outside diameter.
    pub outside: Length,
    /// How much wider the hole is than the pipe.
    #[serde(default)]
    pub clearance: Length,
    /// How far the pipe stands out of the top.
    #[serde(default)]
    pub above: Length,
    /// How far it reaches below the foot: through a base; below 0 it ends inside the leg, in the nut's recess.
    #[serde(default)]
    pub below: Length,
    /// How deep the recess for the nut is, from the foot; 0 for none.
    #[serde(default)]
    pub recess: Length,
}

/// What a pipe hole needs and what it leaves.
#[derive(Clone, Debug, PartialEq)]
pub struct PipeFit {
    /// The widest round thing that passes: the pipe and its clearance, mm.
    pub hole_mm: f64,
    /// The chamfer's leg along each face of the blank, mm: 0.7071 times the hole.
    pub chamfer_leg_mm: f64,
    /// The width of the chamfer's own face, mm: the hole's diameter, and easier to measure than the leg.
    pub chamfer_face_mm: f64,
    /// The pipe, cut to length, mm.
    pub pipe_length_mm: f64,
    /// Where the hole comes closest to a side.
    pub thinnest: ThinnestWood,
    /// How far the axis is off the middle of the leg at the top and at the foot.
    pub ends: [EndCentre; 2],
}

/// Where the hole comes closest to a side of the finished leg.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThinnestWood {
    /// The wood between hole and side, mm, square to the axis; 0 or less where the hole breaks out.
    pub mm: f64,
    /// Where, from the top, mm.
    pub s_mm: f64,
    /// Which side.
    pub side: Side,
}

/// The axis against the middle of the leg at one end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EndCentre {
    /// How far the leg's middle lies from the axis across u, mm: W/2 - a.
    pub u_mm: f64,
    /// The same across v: D/2 - b.
    pub v_mm: f64,
}

impl EndCentre {
    /// The distance, mm.
    pub fn off_mm(self) -> f64 {
        self.u_mm.hypot(self.v_mm)
    }
}

impl PipeHole {
    pub(super) fn check(&self) -> Result<(), FitError> {
        size("pipe's outside diameter", &self.outside, 1.0, 200.0)?;
        size("clearance of the pipe", &self.clearance, 0.0, 20.0)?;
        size("length of pipe above the top", &self.above, -1000.0, 1000.0)?;
        size("length of pipe below the foot", &self.below, -1000.0, 1000.0)?;
        size("recess for the nut", &self.recess, 0.0, 500.0)
    }

    /// The hole's inscribed diameter, mm.
    pub fn hole_mm(&self) -> f64 {
        self.outside.mm() + self.clearance.mm()
    }

    /// The chamfer's leg, mm. Four chamfers of leg c leave a square hole with diagonal 2c, so its inscribed circle has the
    /// diameter c·√2.
    pub fn chamfer_mm(&self) -> f64 {
        self.hole_mm() * FRAC_1_SQRT_2
    }

    /// What the hole needs and leaves in a leg.
    pub fn fit(&self, leg: &Leg) -> PipeFit {
        let chamfer = self.chamfer_mm();
        let near = nearest_side(leg);
        let end = |s: f64| EndCentre { u_mm: leg.width_mm / 2.0 - leg.a(s), v_mm: leg.depth_mm / 2.0 - leg.b(s) };
        PipeFit {
            hole_mm: self.hole_mm(),
            chamfer_leg_mm: chamfer,
            chamfer_face_mm: chamfer * SQRT_2,
            pipe_length_mm: leg.length_mm + self.above.mm() + self.below.mm(),
            thinnest: ThinnestWood { mm: near.mm - chamfer, ..near },
            ends: [end(0.0), end(leg.length_mm)],
        }
    }

    /// The wood left between the hole and the nearest side at `s`, mm.
    pub fn wood_left_mm(&self, leg: &Leg, s_mm: f64) -> f64 {
        let (a, b) = (leg.a(s_mm), leg.b(s_mm));
        a.min(leg.width_mm - a).min(b).min(leg.depth_mm - b) - self.chamfer_mm()
    }
}

/// Where a side comes closest to the axis, over the finished length: the least offset of each line and the greatest, at
/// the turning points of each cubic, which are roots of a quadratic.
fn nearest_side(leg: &Leg) -> ThinnestWood {
    let mut nearest = ThinnestWood { mm: f64::INFINITY, s_mm: 0.0, side: Side::One };
    for cut in Cut::ALL {
        let across = leg.across_mm(cut);
        // Side 4 is at u = -a and side 2 at u = W - a; side 1 at v = -b and side 3 at v = D - b.
        let [low, high] = match cut {
            Cut::First => [Side::Four, Side::Two],
            Cut::Second => [Side::One, Side::Three],
        };
        for segment in leg.line(cut).finished_segments() {
            let mut places = unit_roots(&rates(&segment).dc);
            places.extend([0.0, 1.0]);
            for t in places {
                let at = segment.eval(t);
                let offset = at.y.clamp(0.0, across);
                for (mm, side) in [(offset, low), (across - offset, high)] {
                    if mm < nearest.mm - 1e-12 {
                        nearest = ThinnestWood { mm, s_mm: at.x, side };
                    }
                }
            }
        }
    }
    nearest
}

//! A blank that is not quite square or parallel, as measured with a square and a rule.

use serde::{Deserialize, Serialize};

use crate::Length;

/// How far a blank is from square and from parallel. Left out, it is true.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct OutOfTrue {
    /// How many degrees the corner at arris 2, between faces 1 and 2, is more than 90. That at arris 4 is the same, those at
    /// 1 and 3 as much less.
    pub corner_deg: f64,
    /// How much narrower face 1 is at the finished foot than at the finished top; below 0 where it is wider there.
    pub taper_width: Length,
    /// The same of face 2.
    pub taper_depth: Length,
}

/// The same as a solved leg has it, in plain numbers.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Untrue {
    /// By how much the corner at arris 2 is more than square, radians.
    pub corner_rad: f64,
    /// How much narrower the blank is at the foot than at the top, across face 1 and across face 2, mm.
    pub taper_mm: [f64; 2],
}

impl OutOfTrue {
    /// Whether the blank is true.
    pub fn is_true(&self) -> bool {
        *self == OutOfTrue::default()
    }

    pub(crate) fn solved(&self) -> Untrue {
        Untrue { corner_rad: self.corner_deg.to_radians(), taper_mm: [self.taper_width.mm(), self.taper_depth.mm()] }
    }
}

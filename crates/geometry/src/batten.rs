//! A batten: pins, and the curve that a thin strip of wood takes along them.
//!
//! The model is a thin elastic strip that slides freely along the pins, so that nothing stretches or pulls it: of all
//! curves through the pins it takes one with less bending ∫ κ² along itself than every curve near it. Between two pins
//! its curvature obeys κ'' + κ³/2 = 0 along the curve (the rectangular elastica), at a pin that holds its position only
//! its curvature does not jump, and beyond the end pins it is straight. Where it lies nearly along the blank it is the
//! natural cubic spline through the pins.

mod band;
mod element;
mod error;
mod relax;
mod solve;

use serde::{Deserialize, Serialize};

use crate::{Length, Point, PointId};

pub use error::BattenError;

/// The most pins that hold one batten.
pub const MAX_PINS: usize = 300;

/// The least distance along the leg between two pins, mm: a real pin's own thickness, or nearly.
pub const MIN_PIN_GAP_MM: f64 = 0.5;

/// How nearly the drawn line is the batten's: twice as many cubics between its pins move it less than this, mm.
pub const BATTEN_ACCURACY_MM: f64 = 1e-3;

/// The pins that a batten lies along, in order from the top.
///
/// In a file it is the list of its pins.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Batten {
    /// The pins, at least two.
    pub pins: Vec<Pin>,
}

/// One pin of a batten.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Pin {
    /// Its name, unique in its batten.
    #[serde(default)]
    pub id: PointId,
    /// Distance from the finished top.
    pub from_top: Length,
    /// Distance from arris 1 (first cut) or arris 2 (second cut), square to the blank.
    pub offset: Length,
    /// What it holds.
    #[serde(default)]
    pub holds: Holds,
}

/// What a pin holds of the batten.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Holds {
    /// Where it is; it may turn about the pin.
    #[default]
    Position,
    /// Where it is and which way it runs, as between two pins side by side.
    Direction {
        /// Offset per length, at the pin.
        slope: f64,
    },
}

impl Holds {
    /// The slope that is held, if one is.
    pub fn slope(self) -> Option<f64> {
        match self {
            Holds::Position => None,
            Holds::Direction { slope } => Some(slope),
        }
    }
}

impl Pin {
    /// A pin that holds its position only, in mm.
    pub fn new(id: u32, from_top_mm: f64, offset_mm: f64) -> Pin {
        Pin { id: PointId(id), from_top: from_top_mm.into(), offset: offset_mm.into(), holds: Holds::Position }
    }
}

impl Batten {
    /// Its pins as points, for the hand: a pin that holds a direction has handles a third of the way to the next pins,
    /// another one has none. They are not the line.
    pub(crate) fn grips(&self) -> Vec<Point> {
        let at = |place: usize| self.pins.get(place).map(|pin| pin.from_top.mm());
        self.pins
            .iter()
            .enumerate()
            .map(|(place, pin)| {
                let here = pin.from_top.mm();
                let gap = |next: Option<f64>| next.map_or(0.0, |next| (next - here).abs() / 3.0);
                let (before, after) = (gap(place.checked_sub(1).and_then(at)), gap(at(place + 1)));
                let [slope, before, after] = pin.holds.slope().map_or([0.0; 3], |slope| [slope, before, after]);
                let (from_top, offset) = (pin.from_top.clone(), pin.offset.clone());
                Point { from_top, offset, ..Point::smooth(pin.id.0, 0.0, 0.0, slope, before, after) }
            })
            .collect()
    }

    /// The batten moved along the leg and across it.
    #[must_use]
    pub fn moved(&self, along_mm: f64, across_mm: f64) -> Batten {
        self.each(|pin| Pin {
            from_top: pin.from_top.changed(pin.from_top.mm() + along_mm),
            offset: pin.offset.changed(pin.offset.mm() + across_mm),
            ..pin.clone()
        })
    }

    /// The batten mirrored on a face `across_mm` wide.
    #[must_use]
    pub fn mirrored_across(&self, across_mm: f64) -> Batten {
        self.each(|pin| Pin {
            offset: pin.offset.changed(across_mm - pin.offset.mm()),
            holds: pin.holds.steeper(-1.0),
            ..pin.clone()
        })
    }

    /// The batten turned end for end on a leg of `length_mm`.
    #[must_use]
    pub fn end_for_end(&self, length_mm: f64) -> Batten {
        let mut turned = self.each(|pin| Pin {
            from_top: pin.from_top.changed(length_mm - pin.from_top.mm()),
            holds: pin.holds.steeper(-1.0),
            ..pin.clone()
        });
        turned.pins.reverse();
        turned
    }

    /// The batten along pins whose distance from a middle line at `about_mm` is taken `factor` times.
    #[must_use]
    pub fn swing_scaled(&self, factor: f64, about_mm: f64) -> Batten {
        self.each(|pin| Pin {
            offset: pin.offset.changed(pin.offset.mm() + (factor - 1.0) * (pin.offset.mm() - about_mm)),
            holds: pin.holds.steeper(factor),
            ..pin.clone()
        })
    }

    /// The batten along pins some of which are moved to `factor` times their distance from a place along the leg.
    pub(crate) fn stretched(&self, about_mm: f64, factor: f64, which: impl Fn(f64) -> bool) -> Batten {
        self.each(|pin| match pin.from_top.mm() {
            at if factor != 1.0 && which(at) => Pin {
                from_top: pin.from_top.changed(about_mm + (at - about_mm) * factor),
                holds: pin.holds.steeper(1.0 / factor),
                ..pin.clone()
            },
            _ => pin.clone(),
        })
    }

    fn each(&self, change: impl Fn(&Pin) -> Pin) -> Batten {
        Batten { pins: self.pins.iter().map(change).collect() }
    }
}

impl Holds {
    /// The direction with its slope taken `factor` times.
    fn steeper(self, factor: f64) -> Holds {
        match self {
            Holds::Position => Holds::Position,
            Holds::Direction { slope } => Holds::Direction { slope: slope * factor },
        }
    }
}

#[cfg(test)]
mod tests;

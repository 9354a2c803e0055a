//! A place of a saw line, found once for all the curves parallel to the line that are asked for there.

use std::cell::Cell;

use kurbo::CubicBez;

use super::cubic::{Rates, bezier, rates};
use super::{LineAt, Located, SawLine, measured};
use crate::polynomial::horner;

/// A line at one distance from the top.
pub(crate) struct Spot<'a> {
    pub(super) line: &'a SawLine,
    /// From the top, mm.
    pub(crate) s: f64,
    /// The line there; at the sharp point, of the part toward the top.
    pub(crate) at: LineAt,
    /// Up to which distance it is known that no bend nearby is too tight for a parallel curve, mm.
    pub(super) smooth_to_mm: Cell<f64>,
    /// The cubic it lies on; none where the line is carried straight on.
    pub(super) cubic: Option<OnCubic<'a>>,
}

/// A place of one cubic.
pub(super) struct OnCubic<'a> {
    segment: &'a CubicBez,
    rates: Rates,
    pub(super) t: f64,
}

impl OnCubic<'_> {
    /// Offset, slope and curvature at a parameter.
    pub(super) fn measured(&self, t: f64) -> LineAt {
        measured(self.segment, &self.rates, t)
    }

    /// The distance from the top at a parameter, mm.
    pub(super) fn s(&self, t: f64) -> f64 {
        let c = self.segment;
        bezier(c.p0.x, c.p1.x, c.p2.x, c.p3.x, t)
    }

    /// By how much that grows with the parameter, mm.
    pub(super) fn rate(&self, t: f64) -> f64 {
        horner(&self.rates.ds, t)
    }
}

impl SawLine {
    /// The place at `s`.
    pub(crate) fn spot(&self, s: f64) -> Spot<'_> {
        match self.locate(s, self.ends.partition_point(|end| *end < s)) {
            Located::Straight { offset, slope } => Spot {
                line: self,
                s,
                at: LineAt { offset, slope, curvature: 0.0 },
                smooth_to_mm: Cell::new(0.0),
                cubic: None,
            },
            Located::On(segment, t) => {
                let cubic = OnCubic { segment, rates: rates(segment), t };
                Spot { line: self, s, at: cubic.measured(t), smooth_to_mm: Cell::new(0.0), cubic: Some(cubic) }
            }
        }
    }
}

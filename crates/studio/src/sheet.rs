//! What the hand works on: the places on screen where a saw line, or the outline that is its mirror, is drawn.

use cornerwise_geometry::{Cut, Side};
use egui::{Pos2, Vec2, pos2};

/// Where a saw line is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Spot {
    /// On its own face of the blank.
    Face,
    /// On a side of the finished leg, as its outline.
    Side(Side, Edge),
    /// On the upright leg, seen square to a side, as its silhouette.
    Leg(Edge),
}

/// One of the two edges of an outline. Both are the saw line's mirror, a blank's width apart: the finished leg fills
/// -a to W - a.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Edge {
    /// At -a, or -b for the second cut.
    Near,
    /// At W - a, or D - b.
    Far,
}

impl Edge {
    /// Both.
    pub const ALL: [Edge; 2] = [Edge::Near, Edge::Far];

    /// Where on the leg the edge lies for an offset, mm: u for the first cut, v for the second.
    pub fn on_leg(self, offset_mm: f64, across_mm: f64) -> f64 {
        match self {
            Edge::Near => -offset_mm,
            Edge::Far => across_mm - offset_mm,
        }
    }
}

/// A saw line on screen: from distance from the top and offset to points, and back. On a face, on a side and on the
/// upright leg alike this is one straight map.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sheet {
    /// Whose line.
    pub cut: Cut,
    /// Where.
    pub spot: Spot,
    /// Where the top of the edge lies that the cut is measured from, points.
    pub origin: [f64; 2],
    /// Points for each millimetre from the top.
    pub along: [f64; 2],
    /// Points for each millimetre of offset.
    pub across: [f64; 2],
}

impl Sheet {
    /// Where a distance from the top and an offset lie.
    pub fn pos(&self, [s, offset]: [f64; 2]) -> Pos2 {
        let at = |i: usize| (self.origin[i] + self.along[i] * s + self.across[i] * offset) as f32;
        pos2(at(0), at(1))
    }

    /// Which distance from the top and which offset lie at a place on screen, mm.
    pub fn place(&self, at: Pos2) -> [f64; 2] {
        let [x, y] = [f64::from(at.x) - self.origin[0], f64::from(at.y) - self.origin[1]];
        let ([ax, ay], [cx, cy]) = (self.along, self.across);
        let determinant = ax * cy - ay * cx;
        [(x * cy - y * cx) / determinant, (ax * y - ay * x) / determinant]
    }

    /// Where it is, as part of the names of what is on it: `, side 1, upper edge`; nothing on a face.
    pub fn place_name(&self) -> String {
        // A growing offset takes both edges down the leg's own axis; the far one lies beyond the near one on it.
        let which = |edge: Edge, across: f64, [less, more]: [&'static str; 2]| {
            if (edge == Edge::Far) == (across < 0.0) { more } else { less }
        };
        match self.spot {
            Spot::Face => String::new(),
            Spot::Side(side, edge) => format!(", {side}, {} edge", which(edge, self.across[1], ["upper", "lower"])),
            Spot::Leg(edge) => format!(", upright leg, {} edge", which(edge, self.across[0], ["left", "right"])),
        }
    }

    /// Points per millimetre along and across.
    pub fn px_per_mm(&self) -> [f64; 2] {
        [self.along, self.across].map(|[x, y]| x.hypot(y))
    }

    /// What an arrow on screen means here: along or across, and which way.
    pub fn way(&self, arrow: Vec2) -> [f64; 2] {
        let dot = |[x, y]: [f64; 2]| f64::from(arrow.x) * x + f64::from(arrow.y) * y;
        let [along, across] = [self.along, self.across].map(dot);
        let [a, c] = self.px_per_mm();
        if (along / a).abs() >= (across / c).abs() { [along.signum(), 0.0] } else { [0.0, across.signum()] }
    }
}

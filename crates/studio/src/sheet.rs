//! What the hand works on: the places on screen where a saw line, or the outline that is its mirror, is drawn.

use cornerwise_geometry::{Cut, Side};
use egui::{Pos2, Vec2, pos2, vec2};

/// Where a saw line is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Spot {
    /// On its own face of the blank.
    Face,
    /// On a side of the finished leg, as its outline above or below the seam.
    Side(Side, Edge),
}

/// One of the two edges of an outline.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Edge {
    /// The upper one.
    Upper,
    /// The lower one.
    Lower,
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

    /// The way across on screen, one point long.
    pub fn across_on_screen(&self) -> Vec2 {
        vec2(self.across[0] as f32, self.across[1] as f32).normalized()
    }
}

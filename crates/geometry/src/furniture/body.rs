//! A body: a stack of convex prisms.

use crate::Piece;

/// What a body is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum BodyPart {
    /// A piece of a leg, or a kept length of it.
    Piece {
        /// The leg's place, from 0.
        place: usize,
        /// Which piece.
        piece: Piece,
        /// Which kept length, from 0 at the top.
        length: usize,
    },
    /// A board, by its place in the list.
    Board(usize),
}

/// A wall of a body, by what it shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Wall {
    /// Planed, at u = 0 of the leg: the neighbour across u is glued to it.
    AcrossU,
    /// Planed, at v = 0.
    AcrossV,
    /// Sawn by the first cut.
    FirstCut,
    /// Sawn by the second cut.
    SecondCut,
    /// The chamfer for the pipe.
    Chamfer,
    /// Of a board.
    Plain,
}

/// Where a leg stands, to go back from the furniture to its blank.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Placed {
    pub(crate) axis: [f64; 2],
    pub(crate) cos: f64,
    pub(crate) sin: f64,
    /// Of the leg's finished top, in the furniture.
    pub(crate) top_s: f64,
    pub(crate) width_mm: f64,
    pub(crate) depth_mm: f64,
    /// Whether it is drawn apart from its neighbours along u and along v: then its planed walls show.
    pub(crate) parted: [bool; 2],
}

impl Placed {
    pub(crate) fn out(&self, [u, v]: [f64; 2]) -> [f64; 2] {
        [self.axis[0] + self.cos * u - self.sin * v, self.axis[1] + self.sin * u + self.cos * v]
    }

    pub(crate) fn back(&self, [u, v]: [f64; 2]) -> [f64; 2] {
        let [du, dv] = [u - self.axis[0], v - self.axis[1]];
        [self.cos * du + self.sin * dv, self.cos * dv - self.sin * du]
    }
}

/// A stack of convex prisms with planar faces: outlines with equally many corners, each level's edges parallel to the
/// next one's.
#[derive(Clone, Debug, PartialEq)]
pub struct Body {
    /// What it is.
    pub part: BodyPart,
    /// Strictly increasing, mm; at least two.
    pub(crate) levels: Vec<f64>,
    /// Corners of one outline.
    pub(crate) corners: usize,
    /// All outlines, one after another, counter-clockwise in (u, v).
    pub(crate) outlines: Vec<[f64; 2]>,
    pub(crate) walls: Vec<Wall>,
    pub(crate) placed: Option<Placed>,
}

impl Body {
    /// A body of plain walls between two outlines of equally many corners, counter-clockwise in (u, v), corner by corner
    /// above one another. None where the outlines do not match, have less than three corners, or the levels are no height.
    pub fn prism(part: BodyPart, span_mm: [f64; 2], upper: &[[f64; 2]], lower: &[[f64; 2]]) -> Option<Body> {
        let corners = upper.len();
        let sound = (3..=200).contains(&corners) && lower.len() == corners && span_mm[1] > span_mm[0];
        sound.then(|| Body {
            part,
            levels: span_mm.to_vec(),
            corners,
            outlines: [upper, lower].concat(),
            walls: vec![Wall::Plain; corners],
            placed: None,
        })
    }

    /// From where to where, mm; above the floor both are below 0.
    pub fn span_mm(&self) -> [f64; 2] {
        [self.levels[0], self.levels[self.levels.len() - 1]]
    }

    /// The levels at which its outline is given, mm.
    pub fn levels_mm(&self) -> &[f64] {
        &self.levels
    }

    /// The outline at a level of this number, counter-clockwise in (u, v); corners may coincide.
    pub fn outline(&self, level: usize) -> &[[f64; 2]] {
        &self.outlines[level * self.corners..(level + 1) * self.corners]
    }

    /// Volume, mm³: exact for prisms between linear outlines.
    pub fn volume_mm3(&self) -> f64 {
        (1..self.levels.len())
            .map(|i| {
                let (upper, lower) = (self.outline(i - 1), self.outline(i));
                let middle: Vec<[f64; 2]> = upper
                    .iter()
                    .zip(lower)
                    .map(|(p, q)| [f64::midpoint(p[0], q[0]), f64::midpoint(p[1], q[1])])
                    .collect();
                (self.levels[i] - self.levels[i - 1]) * (area(upper) + 4.0 * area(&middle) + area(lower)) / 6.0
            })
            .sum()
    }

    /// Where its outline is at any level within it, linear between the levels it has.
    pub(crate) fn outline_at(&self, s: f64) -> Vec<[f64; 2]> {
        let next = self.levels.partition_point(|level| *level < s).clamp(1, self.levels.len() - 1);
        let (from, to) = (self.levels[next - 1], self.levels[next]);
        let share = ((s - from) / (to - from)).clamp(0.0, 1.0);
        let mix = |(p, q): (&[f64; 2], &[f64; 2])| [p[0] + share * (q[0] - p[0]), p[1] + share * (q[1] - p[1])];
        self.outline(next - 1).iter().zip(self.outline(next)).map(mix).collect()
    }

    /// Adds levels, which must lie within it; those it has already are left out.
    pub(crate) fn cut_at(&mut self, cuts: &[f64], same_mm: f64) {
        for &s in cuts {
            let next = self.levels.partition_point(|level| *level < s);
            let near = |i: usize| self.levels.get(i).is_some_and(|level| (level - s).abs() <= same_mm);
            if next == 0 || next >= self.levels.len() || near(next) || near(next - 1) {
                continue;
            }
            let outline = self.outline_at(s);
            self.levels.insert(next, s);
            let at = next * self.corners;
            self.outlines.splice(at..at, outline);
        }
    }

    /// The middle of its first outline.
    pub(crate) fn middle(&self) -> [f64; 2] {
        let sum = self.outline(0).iter().fold([0.0, 0.0], |sum, p| [sum[0] + p[0], sum[1] + p[1]]);
        sum.map(|along| along / self.corners as f64)
    }
}

/// What an outline encloses, mm².
pub(crate) fn area(outline: &[[f64; 2]]) -> f64 {
    let [u0, v0] = outline[0];
    let turn = |i: usize| {
        let (p, q) = (outline[i], outline[(i + 1) % outline.len()]);
        (p[0] - u0) * (q[1] - v0) - (q[0] - u0) * (p[1] - v0)
    };
    (0..outline.len()).map(turn).sum::<f64>() / 2.0
}

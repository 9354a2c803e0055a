//! Boards between legs, as simple bodies with real sizes. They are cut round nothing: their corners meet the axes.

use serde::{Deserialize, Serialize};

/// How aprons meet at the axis.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum ApronJoint {
    /// Two run through from axis to axis, the other two stand between them.
    #[default]
    Butted,
    /// Each ends at the diagonal.
    Mitred,
}

/// What a board is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum BoardKind {
    /// Between two neighbouring legs, upright.
    Apron,
    /// Level, from axis to axis.
    Shelf,
    /// On top of the legs.
    Top,
    /// Under the foot of a column.
    Base,
    /// Of a lamp.
    Shade,
}

impl BoardKind {
    /// Its name in a sentence.
    pub fn name(self) -> &'static str {
        match self {
            BoardKind::Apron => "apron",
            BoardKind::Shelf => "shelf",
            BoardKind::Top => "top",
            BoardKind::Base => "base",
            BoardKind::Shade => "shade",
        }
    }
}

/// Two outlines, corner above corner, and the levels they are at.
#[derive(Clone, Debug, PartialEq)]
pub struct Solid {
    /// From where to where, mm.
    pub span_mm: [f64; 2],
    /// At the upper level, counter-clockwise in (u, v).
    pub upper: Vec<[f64; 2]>,
    /// At the lower level.
    pub lower: Vec<[f64; 2]>,
}

/// A board with its finished size.
#[derive(Clone, Debug, PartialEq)]
pub struct Board {
    /// What it is.
    pub kind: BoardKind,
    /// Where it is.
    pub solid: Solid,
    /// Length, width and thickness as it is ordered, mm.
    pub size_mm: [f64; 3],
}

fn upright(kind: BoardKind, span_mm: [f64; 2], outline: Vec<[f64; 2]>, size_mm: [f64; 3]) -> Board {
    Board { kind, solid: Solid { span_mm, lower: outline.clone(), upper: outline }, size_mm }
}

/// A level board whose corners are the axes of the frame, which it fills.
pub fn shelf_board(frame: &[[f64; 2]], span_mm: [f64; 2]) -> Board {
    let [long, wide] = around(frame);
    upright(BoardKind::Shelf, span_mm, frame.to_vec(), [long, wide, span_mm[1] - span_mm[0]])
}

/// Upright boards along the edges of a frame, their outer faces from axis to axis. Corners that are not square are mitred.
pub fn apron_boards(frame: &[[f64; 2]], span_mm: [f64; 2], thick_mm: f64, joint: ApronJoint) -> Vec<Board> {
    let high = span_mm[1] - span_mm[0];
    let count = frame.len();
    let edge = |i: usize| {
        let (p, q) = (frame[i % count], frame[(i + 1) % count]);
        let long = (q[0] - p[0]).hypot(q[1] - p[1]);
        (p, [(q[0] - p[0]) / long, (q[1] - p[1]) / long], long)
    };
    let mitred = joint == ApronJoint::Mitred || count != 4;
    (0..count)
        .map(|i| {
            let (p, along, long) = edge(i);
            let inward = [-along[1], along[0]]; // to the left of a counter-clockwise edge
            let at = |forward: f64, into: f64| {
                [p[0] + forward * along[0] + into * inward[0], p[1] + forward * along[1] + into * inward[1]]
            };
            let (outer, inner) = if mitred {
                // The mitre runs along the half of the corner's angle.
                let shorter = |corner: usize| {
                    let (_, before, _) = edge(corner + count - 1);
                    let (_, after, _) = edge(corner);
                    let (sin, cos) =
                        (before[0] * after[1] - before[1] * after[0], before[0] * after[0] + before[1] * after[1]);
                    thick_mm / ((std::f64::consts::PI - sin.atan2(cos)) / 2.0).tan()
                };
                ([0.0, long], [shorter(i), long - shorter(i + 1)])
            } else if i % 2 == 0 {
                ([0.0, long], [0.0, long])
            } else {
                ([thick_mm, long - thick_mm], [thick_mm, long - thick_mm])
            };
            let outline = vec![at(outer[0], 0.0), at(outer[1], 0.0), at(inner[1], thick_mm), at(inner[0], thick_mm)];
            upright(BoardKind::Apron, span_mm, outline, [outer[1] - outer[0], high, thick_mm])
        })
        .collect()
}

/// A level board that stands over the frame's edges by `over_mm`, corners square or mitred out.
pub fn overhung(kind: BoardKind, frame: &[[f64; 2]], over_mm: f64, span_mm: [f64; 2]) -> Board {
    let count = frame.len();
    let outline: Vec<[f64; 2]> = (0..count)
        .map(|i| {
            let [before, here, after] = [frame[(i + count - 1) % count], frame[i], frame[(i + 1) % count]];
            let unit = |p: [f64; 2], q: [f64; 2]| {
                let long = (q[0] - p[0]).hypot(q[1] - p[1]);
                [(q[0] - p[0]) / long, (q[1] - p[1]) / long]
            };
            let (arriving, leaving) = (unit(before, here), unit(here, after));
            // Out of a counter-clockwise frame is to the right; where both shifted edges meet.
            let [n, m] = [[arriving[1], -arriving[0]], [leaving[1], -leaving[0]]];
            let share = over_mm / (1.0 + n[0] * m[0] + n[1] * m[1]);
            [here[0] + share * (n[0] + m[0]), here[1] + share * (n[1] + m[1])]
        })
        .collect();
    let [long, wide] = around(&outline);
    upright(kind, span_mm, outline, [long, wide, span_mm[1] - span_mm[0]])
}

/// A regular outline of `count` corners about the middle, `across_mm` from side to side (4) or corner to corner (more).
pub fn regular(count: usize, across_mm: f64) -> Vec<[f64; 2]> {
    let half = across_mm / 2.0;
    if count == 4 {
        return vec![[-half, -half], [half, -half], [half, half], [-half, half]];
    }
    (0..count)
        .map(|i| {
            let (sin, cos) = (std::f64::consts::TAU * i as f64 / count as f64).sin_cos();
            [half * cos, half * sin]
        })
        .collect()
}

/// A round body, wider at one end, as a prism of many walls.
pub fn frustum(kind: BoardKind, span_mm: [f64; 2], across_mm: [f64; 2]) -> Board {
    const WALLS: usize = 48;
    let [upper, lower] = across_mm.map(|across| regular(WALLS, across));
    let widest = across_mm[0].max(across_mm[1]);
    Board { kind, solid: Solid { span_mm, upper, lower }, size_mm: [widest, widest, span_mm[1] - span_mm[0]] }
}

/// Length and width of the least upright rectangle round an outline, the longer first.
fn around(outline: &[[f64; 2]]) -> [f64; 2] {
    let reach = |i: usize| {
        let along = || outline.iter().map(|p| p[i]);
        along().fold(f64::NEG_INFINITY, f64::max) - along().fold(f64::INFINITY, f64::min)
    };
    let (u, v) = (reach(0), reach(1));
    [u.max(v), u.min(v)]
}

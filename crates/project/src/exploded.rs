//! Furniture drawn apart in plan, against the order of assembly: first the legs leave the boards they stand in, each
//! straight away from the middle, and the aprons follow them half as far, square to their own faces; then every leg parts
//! into its two halves, and each half into its two pieces. Nothing passes through anything.

use crate::{Assembly, DesignId, Hand};
use cornerwise_geometry::furniture::{Arrangement, BoardKind, Body};

/// How far the legs are drawn out at most, as a share of the least distance between two axes.
const FARTHEST: f64 = 0.5;
/// How far aprons follow, as a share of the legs' way: less than a diagonal's share of a square, so that a leg's pieces are
/// never caught up by the apron that they stand beside.
const APRONS_FOLLOW: f64 = 0.5;
/// How far halves and pieces part, as a share of the leg's width.
const PIECES_PART: f64 = 0.3;

/// How far furniture is drawn apart.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Apart {
    /// The legs out of the boards, mm.
    pub legs_mm: f64,
    /// The pieces of every leg out of its axis along u and v, mm. Along v alone the halves part: pieces 1 and 2, 3 and 4.
    pub pieces_mm: [f64; 2],
}

impl Assembly {
    /// How far it is drawn apart at a share from 0, together, to 1, in pieces.
    pub fn apart(&self, share: f64) -> Apart {
        let between = match &self.furniture.arrangement {
            Arrangement::Column => 0.0,
            Arrangement::Rectangle { width, depth } => width.mm().min(depth.mm()),
            Arrangement::Circle { radius } => radius.mm(),
            Arrangement::Row { spacing, .. } => spacing.mm(),
        };
        // A leg by itself has no boards to leave: it begins with its halves.
        let [legs, halves, pieces] = if between > 0.0 { [0.0, 0.5, 0.75] } else { [0.0, 0.0, 0.5] };
        let share = share.clamp(0.0, 1.0);
        let stage = |from: f64, to: f64| if to > from { ((share - from) / (to - from)).clamp(0.0, 1.0) } else { 0.0 };
        let widest = self.legs.iter().map(|placed| placed.leg.width_mm.max(placed.leg.depth_mm)).fold(0.0, f64::max);
        let part = PIECES_PART * widest;
        Apart {
            legs_mm: stage(legs, halves) * FARTHEST * between,
            pieces_mm: [stage(pieces, 1.0) * part, stage(halves, pieces) * part],
        }
    }

    /// The boards as they are when it is drawn so far apart.
    #[must_use]
    pub fn drawn_apart(&self, apart: &Apart) -> Assembly {
        let mut drawn = self.clone();
        for board in drawn.boards.iter_mut().filter(|board| board.kind == BoardKind::Apron) {
            let Some(out) = outward(&board.solid.upper) else { continue };
            let way = APRONS_FOLLOW * apart.legs_mm;
            for corner in board.solid.upper.iter_mut().chain(&mut board.solid.lower) {
                *corner = [corner[0] + way * out[0], corner[1] + way * out[1]];
            }
        }
        drawn
    }

    /// All bodies of what [`Assembly::drawn_apart`] gave: legs within `tolerance_mm` of their lines, in slabs no longer than
    /// `longest_mm`.
    pub fn bodies_apart(&self, tolerance_mm: f64, longest_mm: f64, apart: &Apart) -> Vec<Body> {
        self.bodies_parted(tolerance_mm, longest_mm, apart.legs_mm, apart.pieces_mm)
    }

    /// Whether a design stands anywhere with this hand.
    pub fn has(&self, design: DesignId, hand: Hand) -> bool {
        self.legs.iter().any(|placed| placed.design.id == design && placed.hand == hand)
    }
}

/// The unit vector out of an apron's outer face, which is the first edge of its outline.
fn outward(outline: &[[f64; 2]]) -> Option<[f64; 2]> {
    let (p, q) = (outline.first()?, outline.get(1)?);
    let long = (q[0] - p[0]).hypot(q[1] - p[1]);
    (long > 0.0).then(|| [(q[1] - p[1]) / long, (p[0] - q[0]) / long])
}

//! Furniture drawn apart in plan, along the order of assembly: the legs leave the boards they stand in, each straight away
//! from the middle; the aprons follow them half as far, each square to its own face. Nothing passes through anything.

use crate::{Assembly, DesignId, Hand};
use cornerwise_geometry::furniture::{Arrangement, BoardKind};

/// How far the legs are drawn out at most, as a share of the least distance between two axes.
const FARTHEST: f64 = 0.5;
/// How far aprons follow, as a share of the legs' way: less than a diagonal's share of a square, so that a leg's pieces are
/// never caught up by the apron that they stand beside.
const APRONS_FOLLOW: f64 = 0.5;

impl Assembly {
    /// How far legs are drawn out of the boards at a share from 0, together, to 1, mm.
    pub fn apart_mm(&self, share: f64) -> f64 {
        let between = match &self.furniture.arrangement {
            Arrangement::Column => 0.0,
            Arrangement::Rectangle { width, depth } => width.mm().min(depth.mm()),
            Arrangement::Circle { radius } => radius.mm(),
            Arrangement::Row { spacing, .. } => spacing.mm(),
        };
        share.clamp(0.0, 1.0) * FARTHEST * between
    }

    /// The same furniture with its aprons drawn out as they are when its legs are `apart_mm` out.
    #[must_use]
    pub fn with_aprons_drawn_out(&self, apart_mm: f64) -> Assembly {
        let mut drawn = self.clone();
        for board in drawn.boards.iter_mut().filter(|board| board.kind == BoardKind::Apron) {
            let Some(out) = outward(&board.solid.upper) else { continue };
            let way = APRONS_FOLLOW * apart_mm;
            for corner in board.solid.upper.iter_mut().chain(&mut board.solid.lower) {
                *corner = [corner[0] + way * out[0], corner[1] + way * out[1]];
            }
        }
        drawn
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

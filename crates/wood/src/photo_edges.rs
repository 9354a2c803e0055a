//! Both edges of a pair of seams as photos of the faces show them, looked at once for all that is asked about them.

use crate::answer::Tally;
use crate::compare::{Joint, SeamLimits};
use crate::figure::PhotoFigure;
use crate::photo_ring_seams::RingEdges;
use crate::photo_seams::Edges;
use crate::reading::{PairReading, RatingLimits};

/// Edges of timber, whose rings are followed, or of a glue-up, whose lines are looked for.
pub(crate) enum PhotoEdges {
    Timber(RingEdges),
    GluedUp(Edges),
}

impl PhotoEdges {
    pub fn new(joint: &Joint, figure: &PhotoFigure) -> PhotoEdges {
        if figure.is_glued_up() {
            PhotoEdges::GluedUp(Edges::new(joint, figure))
        } else {
            PhotoEdges::Timber(RingEdges::new(joint, figure))
        }
    }

    /// Compares them.
    pub fn compare(&self, limits: &SeamLimits) -> Tally {
        match self {
            PhotoEdges::Timber(edges) => edges.compare(limits),
            PhotoEdges::GluedUp(edges) => edges.compare(limits),
        }
    }

    /// How they look together.
    pub fn read(&self, limits: &SeamLimits, rating: &RatingLimits) -> PairReading {
        match self {
            PhotoEdges::Timber(edges) => edges.read(rating),
            PhotoEdges::GluedUp(edges) => edges.read(limits, rating),
        }
    }

    /// Where lines arrive at each, mm from the top.
    pub fn arrivals(&self) -> [Vec<f64>; 2] {
        match self {
            PhotoEdges::Timber(edges) => edges.arrivals(),
            PhotoEdges::GluedUp(edges) => edges.arrivals(&SeamLimits::default()),
        }
    }
}

/// The stretch of a seam whose edges were both photographed, mm from the top.
pub(crate) fn known_on_both(joint: &Joint, figure: &PhotoFigure) -> Option<[f64; 2]> {
    let [one, other] = joint.cut.seam_faces().map(|face| figure.span_mm(face));
    let ([a, b], [c, d]) = (one?, other?);
    let known = [a.max(c).max(0.0), b.min(d).min(joint.length_mm())];
    (known[1] > known[0]).then_some(known)
}

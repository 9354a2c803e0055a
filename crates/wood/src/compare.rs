//! Comparing the two pieces at each seam.
//!
//! Seams 1 and 3 join the blank's points (0, b(s), s) and (W, b(s), s), seams 2 and 4 (a(s), 0, s) and (a(s), D, s). As
//! drawn, both seams of a pair are the same pair of curves, so a pair belongs to the cut that made its sides and is
//! compared once.

use cornerwise_geometry::{BlankPoint, Cut, Leg, Seam};
use kurbo::CubicBez;

use crate::answer::{Finding, Tally};
use crate::edges::{self, Edge};
use crate::figure::PhotoFigure;
use crate::grid::Grid;
use crate::pattern::Pattern;
use crate::photo_edges::PhotoEdges;
use crate::rings::Rings;
use crate::{PairReading, RatingLimits, SeamAnswer, Wood, block_seams, read_pair, ring_seams};

/// What counts as meeting.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SeamLimits {
    /// Lines of layers meet within this, mm along the leg. Slivers of wood thinner than this are not seen either.
    pub meet_mm: f64,
    /// Ring lines meet where both sides are within this share of a ring of each other, whole rings left out.
    pub ring_share: f64,
    /// Ring lines that turn by more than this at the seam do not carry on, degrees.
    pub kink_deg: f64,
    /// Of photos: colours that differ by more are different woods, and where the colour changes by more within a millimetre
    /// there is a line, CIEDE2000.
    pub differ_colour: f64,
    /// How many places are listed for a seam.
    pub most_places: usize,
}

impl Default for SeamLimits {
    /// Our own choice, judged by eye on painted seams: 0.2 mm, 0.15 of a ring, 20 degrees, a colour's difference of 8. No source and no practice of
    /// the trade says so; the report carries them beside its answers.
    fn default() -> SeamLimits {
        SeamLimits { meet_mm: 0.2, ring_share: 0.15, kink_deg: 20.0, differ_colour: 8.0, most_places: 500 }
    }
}

/// The two curves of the blank that a pair of seams joins.
pub(crate) struct Joint<'a> {
    leg: &'a Leg,
    pub cut: Cut,
    /// The saw line over the finished length, held within the blank: x = s, y = offset.
    pub pieces: Vec<CubicBez>,
    /// W for seams 1 and 3, D for 2 and 4, mm.
    pub apart_mm: f64,
}

impl Joint<'_> {
    pub fn new(leg: &Leg, cut: Cut) -> Joint<'_> {
        let apart_mm = match cut {
            Cut::First => leg.depth_mm,
            Cut::Second => leg.width_mm,
        };
        Joint { leg, cut, pieces: leg.line(cut).pieces_within(0.0, leg.across_mm(cut)), apart_mm }
    }

    /// The point that lies `apart` across from the first of the two curves, where the saw line is at `offset`.
    pub fn point(&self, apart: f64, offset: f64, s: f64) -> BlankPoint {
        match self.cut {
            Cut::First => BlankPoint { x: offset, y: apart, s },
            Cut::Second => BlankPoint { x: apart, y: offset, s },
        }
    }

    pub fn length_mm(&self) -> f64 {
        self.leg.length_mm
    }

    /// How far the saw line's offset reaches, mm: W for the first cut, D for the second.
    pub fn across_mm(&self) -> f64 {
        self.leg.across_mm(self.cut)
    }

    pub fn offset(&self, s: f64) -> f64 {
        match self.cut {
            Cut::First => self.leg.a(s),
            Cut::Second => self.leg.b(s),
        }
    }

    /// A vector's parts (across from curve to curve, along the saw line's offset).
    pub fn across_and_offset(&self, x: f64, y: f64) -> [f64; 2] {
        match self.cut {
            Cut::First => [y, x],
            Cut::Second => [x, y],
        }
    }

    /// The lines between layers that arrive at the seam, at the curve `apart` across.
    fn edges(&self, pattern: &Pattern, apart: f64) -> Vec<Edge> {
        let [x, y, s] = pattern.normal();
        let [across, offset] = self.across_and_offset(x, y);
        let from = pattern.position(BlankPoint::default());
        edges::layer_edges(&self.pieces, pattern.runs(), s, offset, from + across * apart)
    }
}

/// Compares both pieces along all four seams; the answers are in the seams' order.
///
/// Layers: the seam is cut wherever a line between layers arrives from either side.
/// - *The lines meet* in the interval between two such places if each of them is a line of both sides, within
///   [`SeamLimits::meet_mm`]; the ends of the seam always meet.
/// - It is *the same wood* if the woods just inside the blank's two faces are the same.
/// - *The pattern carries on* if the lines meet and the layers, continued past the faces by their own rule, put the same
///   wood on both sides: what would lie just outside the one face is what lies just inside the other, and the other way
///   about. So it carries on everywhere where the faces are a whole number of repeats apart, and where they are not, it
///   still does over those stretches where like happens to go on as like.
///
/// Blocks: see `block_seams`: what lies just inside and just outside both faces.
///
/// Rings: see `ring_seams`: phase and direction instead of lines and woods.
///
/// Photos: see `photo_seams`: the colours along both edges, which lie on photographed faces; of timber `photo_ring_seams`:
/// places within a ring as they are seen across those faces.
///
/// A wood that [`Wood::check`] would refuse is compared with its numbers at their limits.
pub fn compare_seams(leg: &Leg, wood: &Wood, limits: &SeamLimits) -> [SeamAnswer; 4] {
    let [[two, four], [one, three]] = Cut::ALL.map(|cut| compare_both(leg, wood, cut, limits));
    [one, two, three, four]
}

/// Compares both seams of a pair: 2 and 4 for the first cut, 1 and 3 for the second. They follow from the blank and the line of
/// that cut alone.
fn compare_both(leg: &Leg, wood: &Wood, cut: Cut, limits: &SeamLimits) -> [SeamAnswer; 2] {
    of_both(cut, &tally(leg, wood, cut, limits))
}

/// What meets at both seams of a pair, as [`compare_seams`] says it, and what [`read_pair`] says, together: edges that were
/// photographed are looked at once for both.
pub fn compare_and_read(
    leg: &Leg,
    wood: &Wood,
    cut: Cut,
    limits: &SeamLimits,
    rating: &RatingLimits,
) -> ([SeamAnswer; 2], PairReading) {
    if let Wood::Photos(photos) = wood {
        let edges = PhotoEdges::new(&Joint::new(leg, cut), &PhotoFigure::new(photos));
        return (of_both(cut, &edges.compare(limits)), edges.read(limits, rating));
    }
    (compare_both(leg, wood, cut, limits), read_pair(leg, wood, cut, limits, rating))
}

fn of_both(cut: Cut, tally: &Tally) -> [SeamAnswer; 2] {
    match cut {
        Cut::First => [Seam::Two, Seam::Four],
        Cut::Second => [Seam::One, Seam::Three],
    }
    .map(|seam| tally.answer(seam))
}

/// Compares one pair of seams: 2 and 4 for the first cut, 1 and 3 for the second. As drawn both have one answer; it
/// bears the number of the first of the two.
pub fn compare_pair(leg: &Leg, wood: &Wood, cut: Cut, limits: &SeamLimits) -> SeamAnswer {
    tally(leg, wood, cut, limits).answer(match cut {
        Cut::First => Seam::Two,
        Cut::Second => Seam::One,
    })
}

/// Where lines of layers, blocks or rings arrive at a pair of seams, mm from the top: on the face at x = 0 (first cut: y = 0), and
/// on the face opposite. A line that only touches counts twice, there and back.
pub fn seam_edges(leg: &Leg, wood: &Wood, cut: Cut) -> [Vec<f64>; 2] {
    let joint = Joint::new(leg, cut);
    if let Wood::Photos(photos) = wood {
        return PhotoEdges::new(&joint, &PhotoFigure::new(photos)).arrivals();
    }
    [0.0, joint.apart_mm].map(|apart| match wood {
        Wood::Layers(layers) => {
            let edges = joint.edges(&Pattern::new(layers), apart);
            edges.into_iter().map(|edge| edge.s_mm).collect()
        }
        Wood::Blocks(blocks) => block_seams::edges(&joint, &Grid::new(blocks), apart, SeamLimits::default().meet_mm),
        Wood::Timber(timber) => ring_seams::edges(&joint, &Rings::new(timber), apart),
        Wood::Photos(_) => Vec::new(),
    })
}

/// About how many looks comparing both pairs of seams takes: arrivals of lines, or samples among rings. A look costs a few
/// tenths of a microsecond.
pub fn seam_effort(leg: &Leg, wood: &Wood) -> f64 {
    let length = leg.length_mm;
    let per_mm = match wood {
        Wood::Layers(layers) => {
            let pattern = Pattern::new(layers);
            1.0 / pattern.thinnest_mm()
        }
        Wood::Blocks(blocks) => 2.0 / Grid::new(blocks).thinnest_mm(),
        Wood::Timber(timber) => Rings::new(timber).steepest_phase(0.35) / 0.019 + 2.0,
        Wood::Photos(photos) if photos.glued_up => 30.0,
        // Faces are looked at across, with waves of many lengths.
        Wood::Photos(_) => 700.0,
    };
    2.0 * length * per_mm
}

fn tally(leg: &Leg, wood: &Wood, cut: Cut, limits: &SeamLimits) -> Tally {
    let joint = Joint::new(leg, cut);
    match wood {
        Wood::Layers(layers) => compare_layers(&joint, &Pattern::new(layers), limits),
        Wood::Blocks(blocks) => block_seams::compare(&joint, &Grid::new(blocks), limits),
        Wood::Timber(timber) => {
            let sapwood_mm = timber.sapwood_from.as_ref().map(|from| from.mm());
            ring_seams::compare(&joint, &Rings::new(timber), sapwood_mm, limits)
        }
        Wood::Photos(photos) => PhotoEdges::new(&joint, &PhotoFigure::new(photos)).compare(limits),
    }
}

fn compare_layers(joint: &Joint, pattern: &Pattern, limits: &SeamLimits) -> Tally {
    let mut tally = Tally::default();
    let length_mm = joint.leg.length_mm;
    // f64::max drops NaN. Below this, rounding alone would part lines that meet.
    let meet_mm = limits.meet_mm.max(1e-9);
    let [left, right] = [0.0, joint.apart_mm].map(|apart| joint.edges(pattern, apart));
    let mut from = (0.0, true);
    let arrivals = edges::pair_up(&left, &right, meet_mm).into_iter().map(|arrival| {
        // The partner of an edge this near the seam's end may lie beyond it.
        let at_end = arrival.s_mm <= meet_mm || arrival.s_mm >= length_mm - meet_mm;
        (arrival.s_mm, arrival.both || at_end)
    });
    for to in arrivals.chain([(length_mm, true)]) {
        // A pair's middle may come before a single edge in between.
        let to = (to.0.max(from.0), to.1);
        let woods = woods_at(joint, pattern, from.0, to.0, meet_mm);
        let lines_meet = from.1 && to.1;
        let finding =
            Finding { lines_meet, same_wood: woods.same, carries_on: lines_meet && woods.carry_on, rings: false };
        tally.add(from.0, to.0, finding, limits.most_places);
        from = to;
    }
    tally
}

struct Woods {
    same: bool,
    carry_on: bool,
}

/// The woods on both sides of an interval without lines, looked up in its middle, just inside and just outside the faces.
fn woods_at(joint: &Joint, pattern: &Pattern, from: f64, to: f64, meet_mm: f64) -> Woods {
    // Deep enough to look past slivers, not past a whole layer, nor past the lines at the interval's ends.
    let deep = meet_mm.min(0.25 * pattern.thinnest_mm()).min(0.125 * (to - from));
    let s = 0.5 * (from + to);
    let offset = joint.offset(s);
    let wood = |apart: f64| pattern.species(pattern.layer(pattern.position(joint.point(apart, offset, s))));
    let w = joint.apart_mm;
    Woods {
        same: wood(deep) == wood(w - deep),
        carry_on: wood(-deep) == wood(w - deep) && wood(deep) == wood(w + deep),
    }
}

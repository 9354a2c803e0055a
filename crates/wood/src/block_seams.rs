//! Blocks at the seams.
//!
//! Unlike leaning layers, columns end at a seam: with an even count of them lines need not meet there for the pattern to
//! carry on, just as bricks of neighbouring courses do not. So four strips are compared, one just inside and one just
//! outside each of the blank's two faces:
//! - *The lines meet* where the two strips inside have their joints at the same places.
//! - It is *the same wood* where the two strips inside show the same.
//! - *The pattern carries on* where what would lie just outside the one face, by the columns' own rule, shows the same
//!   woods and joints as what lies just inside the other, and the other way about; and where the two faces cut the
//!   columns at the same place, so that no column comes out too wide or too narrow.

use cornerwise_geometry::Cut;

use crate::answer::{Finding, Tally};
use crate::compare::{Joint, SeamLimits};
use crate::edges::{self, Edge};
use crate::grid::Grid;

/// The joints that a curve of the blank crosses a hair to one side of a face.
struct Strip {
    /// How far across the blank, mm.
    apart_mm: f64,
    edges: Vec<Edge>,
}

/// Which axis of the grid runs from curve to curve, and which one the saw line wanders along.
fn axes(cut: Cut) -> [usize; 2] {
    match cut {
        Cut::First => [1, 0],
        Cut::Second => [0, 1],
    }
}

impl Strip {
    fn new(joint: &Joint, grid: &Grid, apart_mm: f64) -> Strip {
        let [apart, along] = axes(joint.cut);
        let fixed = grid.column(apart, apart_mm).number;
        let (columns, shift) = grid.columns(along);
        let crossings = edges::layer_edges(&joint.pieces, columns, 0.0, 1.0, -shift);
        let numbers = |moving: i64| if apart == 0 { (fixed, moving) } else { (moving, fixed) };
        let start = joint.pieces.first().map_or(0.0, |piece| piece.p0.y);
        let mut at = (0.0, grid.column(along, start).number);
        let mut found = Vec::new();
        let ends = crossings.iter().map(|edge| (edge.s_mm, Some(edge))).chain([(joint.length_mm(), None)]);
        for (to, crossing) in ends {
            let (i, j) = numbers(at.1);
            // A joint of blocks in the very line between two columns is one line with it.
            let inner = grid.joints(i, j, at.0, to).into_iter().filter(|s| *s < to || crossing.is_none());
            // Every block below another has a number of its own; these two are told apart from columns' numbers.
            found.extend(inner.enumerate().map(|(k, s_mm)| Edge { s_mm, layers: [k as i64, i64::MAX - k as i64] }));
            if let Some(edge) = crossing {
                found.push(*edge);
                at = (to, edge.layers[1]);
            }
        }
        Strip { apart_mm, edges: found }
    }
}

/// The levels at which joints of blocks or columns arrive at the seam just inside the face `apart` across, mm from the top.
pub(crate) fn edges(joint: &Joint, grid: &Grid, apart: f64, meet_mm: f64) -> Vec<f64> {
    let deep = deep(grid, meet_mm);
    let inside = if apart > 0.0 { apart - deep } else { deep };
    Strip::new(joint, grid, inside).edges.into_iter().map(|edge| edge.s_mm).collect()
}

/// How far from a face its strips run: past slivers, not past a whole column.
fn deep(grid: &Grid, meet_mm: f64) -> f64 {
    meet_mm.min(0.25 * grid.thinnest_mm())
}

/// Compares the two curves of a joint.
pub(crate) fn compare(joint: &Joint, grid: &Grid, limits: &SeamLimits) -> Tally {
    // f64::max drops NaN.
    let meet_mm = limits.meet_mm.max(1e-9);
    let deep = deep(grid, meet_mm);
    let w = joint.apart_mm;
    let [left, right, before, beyond] = [deep, w - deep, -deep, w + deep].map(|apart| Strip::new(joint, grid, apart));
    let length = joint.length_mm();
    // Each pair of strips that is compared, cut where a line arrives on either.
    let pairs = [(&left, &right), (&before, &right), (&left, &beyond)];
    let runs = pairs.map(|(one, other)| stretches(&one.edges, &other.edges, meet_mm, length));
    let axis = axes(joint.cut)[0];
    let [near, far] =
        [(0.0, &left), (w, &beyond)].map(|(face, strip)| face - grid.column(axis, strip.apart_mm).from_mm);
    let whole = (near - far).abs() <= meet_mm;
    let mut ends: Vec<f64> = runs.iter().flatten().map(|stretch| stretch.to_mm).collect();
    ends.sort_by(f64::total_cmp);
    let mut tally = Tally::default();
    let mut from = 0.0;
    for to in ends {
        // What is shorter than lines may be apart is no place of its own.
        if to - from <= meet_mm && to < length {
            continue;
        }
        let s = 0.5 * (from + to);
        let meets = runs.each_ref().map(|run| run.iter().find(|stretch| stretch.to_mm >= s).is_none_or(|at| at.meets));
        let offset = joint.offset(s);
        let same = pairs.map(|(one, other)| {
            let [one, other] = [one, other].map(|strip| grid.find(joint.point(strip.apart_mm, offset, s)).species);
            one == other
        });
        let finding = Finding {
            lines_meet: meets[0],
            same_wood: same[0],
            carries_on: whole && meets[1] && meets[2] && same[1] && same[2],
            rings: false,
        };
        tally.add(from, to, finding, limits.most_places);
        from = to;
    }
    tally
}

/// A stretch of seam without lines, up to `to_mm`: whether the lines at both its ends are lines of both sides.
struct Stretch {
    to_mm: f64,
    meets: bool,
}

fn stretches(one: &[Edge], other: &[Edge], meet_mm: f64, length_mm: f64) -> Vec<Stretch> {
    let mut before = true;
    let mut out = Vec::new();
    for arrival in edges::pair_up(one, other, meet_mm) {
        // The partner of an edge this near the seam's end may lie beyond it.
        let at_end = arrival.s_mm <= meet_mm || arrival.s_mm >= length_mm - meet_mm;
        let both = arrival.both || at_end;
        out.push(Stretch { to_mm: arrival.s_mm, meets: before && both });
        before = both;
    }
    out.push(Stretch { to_mm: length_mm, meets: before });
    out
}

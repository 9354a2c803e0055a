//! Values worth trying, whatever kind of change they are.

use cornerwise_geometry::Cut;
use cornerwise_wood::Wood;

use super::{Changeable, SeamFix, Step, apart_mm, blocks, layers, line, timber};
use crate::{Design, Edit};

/// How many values of one kind of change are tried for a pair at most.
const MOST_TRIES: usize = 64;

/// By how much of its width a blank may become wider or narrower: more, and it is another piece of furniture.
const MOST_WIDER: f64 = 0.5;

/// What a maker would still glue on, as a share of the mean column or layer.
const LEAST_STRIP: f64 = 0.25;

/// A value to try.
#[derive(Clone)]
pub(super) struct Try {
    pub changes: Changeable,
    pub steps: Vec<Step>,
    pub edit: Edit,
    /// See [`SeamFix::size_mm`].
    pub size_mm: f64,
    /// Whether a closed form gives it: then it is tried however many others there are.
    pub sure: bool,
}

/// Which way a change goes: changes that go one way differ only in how far.
pub(super) type Way = (Changeable, Vec<(String, bool)>);

/// The way of a change of these steps.
pub(super) fn way(changes: Changeable, steps: &[Step]) -> Way {
    (changes, steps.iter().map(|step| (step.what.clone(), step.to.number() > step.from.number())).collect())
}

impl SeamFix {
    pub(super) fn way(&self) -> Way {
        way(self.changes, &self.steps)
    }
}

/// What is tried of a kind for a pair, as it is listed there.
pub(super) fn listed(design: &Design, cut: Cut, kind: Changeable) -> Vec<Try> {
    if Changeable::LINE.contains(&kind) {
        return line::tries(design, cut, kind);
    }
    match &design.wood {
        Wood::Layers(layers) => layers::tries(design, layers, cut, kind),
        Wood::Blocks(blocks) => blocks::tries(design, blocks, cut, kind),
        Wood::Timber(timber) => timber::tries(design, timber, cut, kind),
        // Nothing about wood that is there already can be changed.
        Wood::Photos(_) => Vec::new(),
    }
}

/// The same, the smallest first, with their places in the list: what changes nothing is left out, and what nobody would do.
pub(super) fn smallest_first(design: &Design, cut: Cut, kind: Changeable) -> Vec<(usize, Try)> {
    let most = if kind == Changeable::BlankWidth { MOST_WIDER * apart_mm(design, cut) } else { f64::INFINITY };
    let mut tries: Vec<(usize, Try)> = listed(design, cut, kind).into_iter().enumerate().collect();
    tries.retain(|(_, one)| one.size_mm > 1e-9 && one.size_mm.is_finite() && one.size_mm <= most);
    tries.sort_by(|(_, p), (_, q)| p.size_mm.total_cmp(&q.size_mm));
    thin_out(&mut tries, MOST_TRIES);
    tries
}

/// Leaves no more than about so many, over the same range: every second size, or every third. Those of a closed form stay in
/// any case. The answer is whether any had to go.
pub(super) fn thin_out(tries: &mut Vec<(usize, Try)>, most: usize) -> bool {
    let searched = tries.iter().filter(|(_, one)| !one.sure).count();
    let room = most.saturating_sub(tries.len() - searched).max(1);
    if searched <= room {
        return false;
    }
    let every = searched.div_ceil(room);
    let (mut sizes, mut last_mm) = (0, f64::NEG_INFINITY);
    tries.retain(|(_, one)| {
        // One size goes both ways.
        sizes += usize::from(!one.sure && one.size_mm > last_mm + 1e-6);
        last_mm = if one.sure { last_mm } else { one.size_mm };
        one.sure || sizes % every == 0
    });
    true
}

/// The whole numbers from 1 nearest to a count, nearest first, no more than `many`.
pub(super) fn near(count: f64, many: usize) -> Vec<f64> {
    let middle = count.round().clamp(1.0, 1e6);
    let mut all: Vec<f64> = (-6..=6).map(|i| middle + f64::from(i)).filter(|k| *k >= 1.0).collect();
    all.sort_by(|p, q| (p - count).abs().total_cmp(&(q - count).abs()));
    all.truncate(many);
    all
}

/// Whether a list of widths that begins at `shift` and repeats leaves a sliver at 0 or at `apart`, where the blank ends: a
/// part too thin to be glued on, though whole columns or layers may end there.
pub(super) fn leaves_a_sliver(widths: &[f64], shift: f64, apart: f64) -> bool {
    let total: f64 = widths.iter().sum();
    let least = LEAST_STRIP * total / widths.len().max(1) as f64;
    let off = |face: f64| {
        let at = (face - shift).rem_euclid(total);
        let mut line = 0.0;
        let lines = std::iter::once(0.0).chain(widths.iter().map(|width| {
            line += width;
            line
        }));
        lines.map(|line| (line - at).abs()).fold(f64::INFINITY, f64::min)
    };
    [0.0, apart].into_iter().any(|face| (1e-6..least).contains(&off(face)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::DesignId;

    #[test]
    fn what_is_too_much_is_thinned_out_over_the_same_range_both_ways() {
        let one = |size_mm: f64, sure| {
            let edit = Edit::RenameDesign { design: DesignId(1), name: String::new() };
            (0, Try { changes: Changeable::LineAside, steps: Vec::new(), edit, size_mm, sure })
        };
        let mut tries: Vec<_> =
            (1..=24).flat_map(|i| [1, 2].map(|_| one(0.5 * f64::from(i), false))).chain([one(99.0, true)]).collect();
        assert!(!thin_out(&mut tries.clone(), 49));
        assert!(thin_out(&mut tries, 9));
        let sizes: Vec<f64> = tries.iter().map(|(_, one)| one.size_mm).collect();
        assert_eq!(sizes, [3.0, 3.0, 6.0, 6.0, 9.0, 9.0, 12.0, 12.0, 99.0]);
    }
}

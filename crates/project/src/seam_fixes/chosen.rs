//! Which of the changes that were found are told: a few, the smallest, and not the same one in five sizes.

use std::cmp::Ordering;

use cornerwise_geometry::Cut;

use super::{ALL_ALONG, Changeable, Question, SeamFix};

/// How many changes are told for a pair of seams, and how many for both pairs together.
const MOST: usize = 5;

/// How many of them are of one kind, unless there is no other kind.
const MOST_OF_A_KIND: usize = 2;

/// A few for both pairs together, and a few for each; the smallest first.
pub(super) fn few(mut found: Vec<SeamFix>) -> Vec<SeamFix> {
    found.sort_by(order);
    found.dedup_by(|p, q| p.edit == q.edit);
    let (both, one): (Vec<SeamFix>, Vec<SeamFix>) =
        found.into_iter().partition(|fix| Cut::ALL.iter().all(|cut| fix.helps(*cut)));
    let mut few = best(both, &Cut::ALL);
    for cut in Cut::ALL {
        few.extend(best(one.iter().filter(|fix| fix.helps(cut)).cloned().collect(), &[cut]));
    }
    few.sort_by(order);
    few
}

/// Those that take nothing away that is wanted first, and of them the smaller; of two as large the one that changes less, then the one that reaches more.
fn order(p: &SeamFix, q: &SeamFix) -> Ordering {
    let place = |fix: &SeamFix| Changeable::ALL.iter().position(|kind| *kind == fix.changes);
    let reached = |fix: &SeamFix| fix.reaches.iter().flatten().filter(|reached| **reached).count();
    // Sizes that differ by rounding alone are equal.
    let tenth_of_a_micron = |fix: &SeamFix| (fix.size_mm * 1e4).round();
    (p.loses.cmp(&q.loses))
        .then_with(|| tenth_of_a_micron(p).total_cmp(&tenth_of_a_micron(q)))
        .then_with(|| p.steps.len().cmp(&q.steps.len()))
        .then_with(|| reached(q).cmp(&reached(p)))
        .then_with(|| place(p).cmp(&place(q)))
}

/// A few of those that help the same pairs, which come the smallest first.
fn best(found: Vec<SeamFix>, cuts: &[Cut]) -> Vec<SeamFix> {
    let mut taken = vec![false; found.len()];
    // The smallest that does all of it, and the smallest that answers each question all along, are never left out.
    let all = found.iter().position(|fix| fix.reaches_all);
    let each = cuts.iter().flat_map(|cut| Question::ALL.map(|question| (cut.index(), question.index())));
    let each = each.filter_map(|(pair, answer)| {
        let whole = |fix: &&SeamFix| fix.reaches[pair][answer] && fix.after[pair][answer] >= ALL_ALONG;
        let first = found.iter().position(|fix| whole(&fix));
        first.or_else(|| found.iter().position(|fix| fix.reaches[pair][answer]))
    });
    for index in all.into_iter().chain(each) {
        taken[index] = true;
    }
    for most_of_a_kind in [MOST_OF_A_KIND, MOST] {
        for (index, fix) in found.iter().enumerate() {
            let told = || found.iter().zip(&taken).filter(|(_, taken)| **taken).map(|(told, _)| told);
            let of_kind = told().filter(|told| told.changes == fix.changes).count();
            if taken[index]
                || told().count() >= MOST
                || of_kind >= most_of_a_kind
                || told().any(|told| does_as_much(told, fix))
            {
                continue;
            }
            taken[index] = true;
        }
    }
    found.into_iter().zip(taken).filter_map(|(fix, taken)| taken.then_some(fix)).collect()
}

/// Whether one that is told goes the same way and does as much: what is smaller is told first.
fn does_as_much(told: &SeamFix, fix: &SeamFix) -> bool {
    let reaches = |fix: &SeamFix| fix.reaches.into_iter().flatten().collect::<Vec<bool>>();
    told.way() == fix.way() && reaches(told).into_iter().zip(reaches(fix)).all(|(told, it)| told || !it)
}

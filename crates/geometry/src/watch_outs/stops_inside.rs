//! Passes that stop at a sharp point inside the wood: the saw is backed out of them.

use super::{Concern, Limits, WatchOut, Worst, found};
use crate::{Cut, Survey, Units, sharp_point_in_wood};

pub(super) fn check(survey: &Survey, limits: &Limits, units: Units) -> Option<WatchOut> {
    let leg = survey.leg();
    let backed = |cut: Cut| {
        let s = sharp_point_in_wood(leg, cut)?;
        let (from_top, from_foot) = (s + leg.spare_top_mm, leg.length_mm - s + leg.spare_foot_mm);
        Some(if from_top <= from_foot { (cut, s, "top", from_top) } else { (cut, s, "foot", from_foot) })
    };
    let all: Vec<_> = Cut::ALL.into_iter().filter_map(backed).collect();
    // Of two that are backed out of as far the first cut's is told first.
    let (cut, s, _, out) = all.iter().copied().reduce(|most, one| if one.3 > most.3 { one } else { most })?;
    let words = all.iter().map(|(cut, s, end, out)| {
        format!(
            "The {cut} has a sharp point {} from the top: saw in from the {end}, stop a hair short of the point, let the blade \
             stop and back out {}; then come in from the other end and pare what is left.",
            units.show_with_unit(*s),
            units.show_with_unit(*out)
        )
    });
    let verdict = words.collect::<Vec<_>>().join(" ");
    let mut stretches_mm: Vec<[f64; 2]> = all.iter().map(|(_, s, ..)| [*s; 2]).collect();
    stretches_mm.sort_by(|a, b| a[0].total_cmp(&b[0]));
    stretches_mm.dedup();
    let worst = Worst { stretches_mm, ..Worst::at(s, out) };
    found(Concern::StopsInside, worst, limits.backing_mm, Some(cut), verdict)
}

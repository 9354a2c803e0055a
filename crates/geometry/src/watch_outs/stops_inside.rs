//! Passes that stop at a sharp point inside the wood: the saw is backed out of them.

use super::{Concern, Limits, WatchOut, Worst, found};
use crate::{Cut, Survey, Units, sharp_point_in_wood};

pub(super) fn check(survey: &Survey, limits: &Limits, units: Units) -> Option<WatchOut> {
    let leg = survey.leg();
    let backed = |cut: Cut| {
        sharp_point_in_wood(leg, cut).map(|s| (cut, s, s + leg.spare_top_mm, leg.length_mm - s + leg.spare_foot_mm))
    };
    let (cut, s, from_top, from_foot) =
        Cut::ALL.into_iter().filter_map(backed).max_by(|a, b| a.2.min(a.3).total_cmp(&b.2.min(b.3)))?;
    let (end, out) = if from_top <= from_foot { ("top", from_top) } else { ("foot", from_foot) };
    let verdict = format!(
        "The {cut} has a sharp point: saw in from the {end}, stop a hair short of the point, let the blade stop and back \
         out {}; then come in from the other end and pare what is left.",
        units.show_with_unit(out)
    );
    let worst = Worst::at(s, out);
    found(Concern::StopsInside, worst, limits.backing_mm, Some(cut), verdict)
}

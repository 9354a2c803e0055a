//! What kerf and sanding leave of the blank's size.

use super::{Concern, Limits, WatchOut, found, worst};
use crate::survey::{Survey, Surveyed};
use crate::{Cut, Units};

/// The lesser of what is left of the width and of the depth, as a share; 1 as drawn.
pub(super) fn value(at: &Surveyed, survey: &Survey) -> f64 {
    let leg = survey.leg();
    at.sawn.map_or(1.0, |sawn| (sawn.size_mm[0] / leg.width_mm).min(sawn.size_mm[1] / leg.depth_mm))
}

pub(super) fn check(survey: &Survey, limits: &Limits, units: Units) -> Option<WatchOut> {
    survey.saw()?;
    let (leg, limit) = (survey.leg(), limits.kept_share);
    let worst = worst(survey, Concern::KerfLoss, limit, |at| value(at, survey))?;
    let sizes = survey.measure(worst.at_mm).sawn?.size_mm;
    let first = sizes[0] / leg.width_mm <= sizes[1] / leg.depth_mm;
    let cut = if first { Cut::First } else { Cut::Second };
    let verdict = format!(
        "Kerf and sanding of the {cut} leave {} of {}.",
        units.fine().show_with_unit(sizes[cut.index()]),
        units.show_truly(leg.across_mm(cut))
    );
    found(Concern::KerfLoss, worst, limit, Some(cut), verdict)
}

//! How far the foot stands aside from below the top.

use super::{Concern, Limits, WatchOut, Worst, found};
use crate::{Survey, Units};

pub(super) fn check(survey: &Survey, limits: &Limits, units: Units) -> Option<WatchOut> {
    let leg = survey.leg();
    let foot = leg.length_mm;
    let aside = (leg.a(foot) - leg.a(0.0)).hypot(leg.b(foot) - leg.b(0.0));
    let value = aside / leg.width_mm.min(leg.depth_mm);
    let worst = Worst::all_along(survey, foot, value);
    let verdict = format!("The foot stands {} aside from below the top.", units.show_with_unit(aside));
    found(Concern::FootOffset, worst, limits.foot_share, None, verdict)
}

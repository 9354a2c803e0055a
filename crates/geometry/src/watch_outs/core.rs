//! The straight column of unbroken grain from top to foot.

use super::{Concern, Limits, WatchOut, Worst, found};
use crate::{Survey, Units};

pub(super) fn check(survey: &Survey, limits: &Limits, units: Units) -> Option<WatchOut> {
    let leg = survey.leg();
    let [across, deep] = leg.core_mm().map(|mm| mm.max(0.0));
    let (width, depth) = (leg.width_mm, leg.depth_mm);
    let share = across * deep / (width * depth);
    // Of the section modulus, in the way it is weaker.
    let bending =
        (across * deep * deep / (width * depth * depth)).min(across * across * deep / (width * width * depth));
    // The place is where the line that takes most of it stands farthest out.
    let line = if across / width < deep / depth { &leg.first } else { &leg.second };
    let middle = (line.extent().least + line.extent().most) / 2.0;
    let out = |s: f64| (line.offset(s) - middle).abs();
    let at_mm =
        line.crests().into_iter().chain([0.0, leg.length_mm]).fold(0.0, |a, b| if out(b) > out(a) { b } else { a });
    let worst = Worst::all_along(survey, at_mm, share);
    let verdict = if share > 0.0 {
        format!(
            "The straight column of unbroken grain is {} by {}: {:.0} % of the section and {:.0} % of its bending strength.",
            units.show(across),
            units.show_with_unit(deep),
            100.0 * share,
            100.0 * bending
        )
    } else {
        "No fibre runs from top to foot: the leg holds by its glue and by wood across the grain.".to_owned()
    };
    found(Concern::Core, worst, limits.core_share, None, verdict)
}

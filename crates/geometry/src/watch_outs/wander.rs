//! How far the middle of the leg wanders from the straight line between top and foot.

use super::{Concern, Limits, Quantity, WatchOut, found, worst};
use crate::{Survey, Units};

/// How far the middle is from that line at `s`, as a share of the blank's smaller side.
pub(super) fn value(s: f64, survey: &Survey) -> f64 {
    let leg = survey.leg();
    let share = s / leg.length_mm;
    let off = |at: fn(&crate::Leg, f64) -> f64| {
        let (top, foot) = (at(leg, 0.0), at(leg, leg.length_mm));
        at(leg, s) - top - share * (foot - top)
    };
    off(crate::Leg::a).hypot(off(crate::Leg::b)) / leg.width_mm.min(leg.depth_mm)
}

pub(super) fn check(survey: &Survey, limits: &Limits, units: Units) -> Option<WatchOut> {
    let limit = limits.wander_share;
    let worst = worst(survey, Concern::Wander, limit.look, |at| value(at.drawn.s_mm, survey))?;
    let side = survey.leg().width_mm.min(survey.leg().depth_mm);
    let verdict = format!(
        "The middle of the leg is {} from the straight line between top and foot: the farther, the more a load bends it.",
        units.show_with_unit(worst.value * side)
    );
    found(Concern::Wander, &worst, limit, Quantity::Share, None, verdict)
}

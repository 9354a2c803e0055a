//! How far the middle of the leg wanders from the straight line between top and foot, which a load on it runs along.

use super::{Concern, Limits, WatchOut, found, worst};
use crate::{Cut, Survey, Units};

/// How far the middle is from that line at `s`, as a share of the blank: the greater of both ways. At half, the line comes out
/// of the wood.
pub(super) fn value(s: f64, survey: &Survey) -> f64 {
    let [across, deep] = off_mm(s, survey).map(f64::abs);
    (across / survey.leg().width_mm).max(deep / survey.leg().depth_mm)
}

fn off_mm(s: f64, survey: &Survey) -> [f64; 2] {
    let leg = survey.leg();
    let share = s / leg.length_mm;
    [crate::Leg::a, crate::Leg::b].map(|at| {
        let (top, foot) = (at(leg, 0.0), at(leg, leg.length_mm));
        at(leg, s) - top - share * (foot - top)
    })
}

pub(super) fn check(survey: &Survey, limits: &Limits, units: Units) -> Option<WatchOut> {
    let limit = limits.wander_share;
    let worst = worst(survey, Concern::Wander, limit, |at| value(at.drawn.s_mm, survey))?;
    let [across, deep] = off_mm(worst.at_mm, survey).map(f64::abs);
    let first = across / survey.leg().width_mm >= deep / survey.leg().depth_mm;
    let cut = if first { Cut::First } else { Cut::Second };
    let verdict = format!(
        "The straight line from the middle of the top to the middle of the foot runs outside the wood here: the leg is {} \
         aside of it, by the {cut}. The farther, the more a load bends it; tell a load to see what it bears.",
        units.show_with_unit(if first { across } else { deep })
    );
    found(Concern::Wander, worst, limit, Some(cut), verdict)
}

//! Thickness square to the curve at its least.

use super::{Concern, Limits, WatchOut, found, places, worst};
use crate::survey::{Survey, Surveyed};
use crate::{Cut, Units};

/// The lesser of both thicknesses, each as a share of the blank.
pub(super) fn value(at: &Surveyed, survey: &Survey) -> f64 {
    let [across, deep] = at.thickness_mm();
    (across / survey.leg().width_mm).min(deep / survey.leg().depth_mm)
}

pub(super) fn check(survey: &Survey, limits: &Limits, units: Units) -> Option<WatchOut> {
    let limit = limits.thickness_share;
    let worst = worst(survey, Concern::Thickness, limit, |at| value(at, survey))?;
    let [across, deep] = survey.measure(worst.at_mm).thickness_mm();
    let first = across / survey.leg().width_mm <= deep / survey.leg().depth_mm;
    let (cut, mm) = if first { (Cut::First, across) } else { (Cut::Second, deep) };
    let verdict = format!(
        "Square to the curve of the {cut} the leg is {} thick, {:.0} % of the blank.{}",
        units.show_with_unit(mm),
        100.0 * worst.value,
        places(&worst)
    );
    found(Concern::Thickness, worst, limit, Some(cut), verdict)
}

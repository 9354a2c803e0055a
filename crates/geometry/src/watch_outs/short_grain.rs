//! Fibres that run out of the sides: a local risk, not the strength of the leg.

use super::{Concern, Core, Limits, WatchOut, found, places, worst};
use crate::survey::{Survey, Surveyed};
use crate::{Units, bending_left};

/// The share of the bending strength that the slope of grain leaves at a station.
pub(super) fn value(at: &Surveyed) -> f64 {
    bending_left(at.drawn.grain_slope)
}

pub(super) fn check(survey: &Survey, limits: &Limits, units: Units) -> Option<WatchOut> {
    let limit = limits.strength_left;
    let worst = worst(survey, Concern::ShortGrain, limit, value)?;
    let slope = survey.measure(worst.at_mm).drawn.grain_slope;
    let [across, deep] = Core::of_survey(survey).size_mm;
    let core = if across.min(deep) > 0.0 {
        format!("a core of {} by {} carries the leg past it", units.show(across), units.show_with_unit(deep))
    } else {
        "no core carries the leg past it".to_owned()
    };
    let verdict = format!(
        "Fibres run out of the sides at 1 in {:.1}, both cuts together: {:.0} % of the bending strength is left at the \
         surface there. A local risk of snapping; {core}.{}",
        1.0 / slope,
        100.0 * worst.value,
        places(&worst)
    );
    found(Concern::ShortGrain, worst, limit, None, verdict)
}

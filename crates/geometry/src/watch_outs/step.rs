//! Steps at the seams, from a table out of true and from halves that slipped.

use super::{Concern, Limits, WatchOut, found, worst};
use crate::survey::{Survey, Surveyed};
use crate::{Cut, Units};

/// The greatest step at any seam, mm square to the surface; 0 as drawn.
pub(super) fn value(at: &Surveyed) -> f64 {
    at.sawn.map_or(0.0, |sawn| sawn.step_of_mm(Cut::First).max(sawn.step_of_mm(Cut::Second)))
}

pub(super) fn check(survey: &Survey, limits: &Limits, units: Units) -> Option<WatchOut> {
    let saw = survey.saw()?;
    let limit = limits.step_mm;
    let worst = worst(survey, Concern::SeamStep, limit, value)?;
    let sawn = survey.measure(worst.at_mm).sawn?;
    let by_first = sawn.step_of_mm(Cut::First) >= sawn.step_of_mm(Cut::Second);
    let (cut, seams, tilt) = if by_first {
        (Cut::First, "2 and 4", saw.tilt_first_deg)
    } else {
        (Cut::Second, "1 and 3", saw.tilt_second_deg)
    };
    let why = match (tilt != 0.0, !by_first && saw.slip.mm() != 0.0) {
        (true, true) => format!("a blade {:.2}° out of square and halves that slipped", tilt.abs()),
        (false, true) => format!("halves that slipped by {}", units.show_with_unit(saw.slip.mm().abs())),
        _ => format!("a blade {:.2}° out of square", tilt.abs()),
    };
    let sanding = saw.sanding.mm();
    let sanded = if sanding > 0.0 && sanding < worst.value {
        format!(" The sanding allowance, {}, does not take it off.", units.show_with_unit(sanding))
    } else {
        String::new()
    };
    let verdict = format!("A step of {:.2} mm at seams {seams}, from {why} in the {cut}.{sanded}", worst.value);
    found(Concern::SeamStep, worst, limit, Some(cut), verdict)
}

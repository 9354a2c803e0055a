//! Steps at the seams, from a table out of true, from halves that slipped and from a blank out of square.

use super::{Concern, Limits, WatchOut, found, worst};
use crate::sawn::StepCause;
use crate::survey::{Survey, Surveyed};
use crate::{Cut, Units};

/// What makes less than this share of a step is not told as its cause.
const COUNTS: f64 = 0.02;

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
    let fine = units.fine();
    let words = |cause: StepCause| match cause {
        StepCause::Blade => format!("a blade {:.2}° out of square", tilt.abs()),
        StepCause::Slip => format!("halves that slipped by {}", fine.show_with_unit(saw.slip.mm().abs())),
        StepCause::Blank => {
            format!("corners of the blank {:.2}° out of square", survey.leg().untrue.corner_rad.to_degrees().abs())
        }
    };
    // What makes it is what it would be less without.
    let told = survey.sawn()?;
    let less = |cause: &StepCause| {
        told.without(*cause).at(worst.at_mm).step_of_mm(cut) < (1.0 - COUNTS) * sawn.step_of_mm(cut)
    };
    let why = StepCause::ALL.into_iter().filter(less).map(words).collect::<Vec<_>>();
    let why = match why.as_slice() {
        [] => String::new(),
        [rest @ .., last] if !rest.is_empty() => format!(", from {} and {last}", rest.join(", ")),
        [one, ..] => format!(", from {one}"),
    };
    let sanding = saw.sanding.mm();
    let sanded = if sanding > 0.0 && sanding < worst.value {
        format!(" The sanding allowance, {}, does not take it off.", fine.show_with_unit(sanding))
    } else {
        String::new()
    };
    let step = fine.show_with_unit(worst.value);
    let verdict = format!("A step of {step} at seams {seams} in the {cut}{why}.{sanded}");
    found(Concern::SeamStep, worst, limit, Some(cut), verdict)
}

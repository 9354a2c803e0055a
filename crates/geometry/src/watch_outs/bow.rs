//! A blade that bows in deep stock: sides that are hollow or crowned, without a step at their seams.

use super::{Concern, Limits, WatchOut, found, worst};
use crate::survey::{Survey, Surveyed};
use crate::{Cut, Units};

/// How deep the deeper hollow is, mm square to the surface; 0 as drawn.
pub(super) fn value(at: &Surveyed) -> f64 {
    at.sawn.map_or(0.0, |sawn| sawn.hollow_mm[0].max(sawn.hollow_mm[1]))
}

pub(super) fn check(survey: &Survey, limits: &Limits, units: Units) -> Option<WatchOut> {
    let saw = survey.saw()?;
    let limit = limits.bow_mm;
    let worst = worst(survey, Concern::BladeBow, limit, value)?;
    let hollow = survey.measure(worst.at_mm).sawn?.hollow_mm;
    let cut = if hollow[0] >= hollow[1] { Cut::First } else { Cut::Second };
    let (bow, hollow_side, crowned_side) = match cut {
        // Away from arris 1, the wood beyond the line loses what the wood before it keeps.
        Cut::First if saw.bow_first.mm() > 0.0 => (&saw.bow_first, 2, 4),
        Cut::First => (&saw.bow_first, 4, 2),
        Cut::Second if saw.bow_second.mm() > 0.0 => (&saw.bow_second, 3, 1),
        Cut::Second => (&saw.bow_second, 1, 3),
    };
    let fine = units.fine();
    let verdict = format!(
        "The blade bows by {} in the depth of the {cut}: side {hollow_side} is hollow by {} from edge to seam and side \
         {crowned_side} crowned by as much. There is no step at a seam to tell it. More tension, a sharp blade, a slower feed.",
        fine.show_with_unit(bow.mm().abs()),
        fine.show_with_unit(worst.value),
    );
    found(Concern::BladeBow, worst, limit, Some(cut), verdict)
}

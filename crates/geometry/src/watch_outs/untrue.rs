//! A blank that is not square or not parallel: it closes, but its notches are not square and its seams step.

use super::{Concern, Limits, WatchOut, Worst, found};
use crate::{Survey, Units};

pub(super) fn check(survey: &Survey, limits: &Limits, units: Units) -> Option<WatchOut> {
    let leg = survey.leg();
    let corner = leg.untrue.corner_rad.to_degrees();
    let tapers = leg.untrue.taper_mm.map(|mm| (mm / leg.length_mm).atan().to_degrees());
    let taper = if tapers[0].abs() >= tapers[1].abs() { 0 } else { 1 };
    let worst = |value: f64| Worst::all_along(survey, 0.0, value);
    if corner.abs() >= tapers[taper].abs() {
        // Over the deeper face, which is where it is seen with a square.
        let deep = leg.width_mm.max(leg.depth_mm);
        let verdict = format!(
            "Two of the blank's corners are {:.1}° and two {:.1}°. The four pieces still close when they are rotated, but \
             notches and the boards in them meet at those angles: {} out of square over {}. A blade square to its table \
             steps by as much at the seams, unless the table is tilted to the blank: {corner:.2}° in the first cut, {:.2}° in \
             the second.",
            90.0 + corner.abs(),
            90.0 - corner.abs(),
            units.fine().show_with_unit(deep * leg.untrue.corner_rad.tan().abs()),
            units.show_with_unit(deep),
            -corner,
        );
        return found(Concern::OutOfTrue, worst(corner.abs()), limits.true_deg, None, verdict);
    }
    let (face, mm) = (taper + 1, leg.untrue.taper_mm[taper]);
    let verdict = format!(
        "Face {face} is {} {} at the foot than at the top, {:.2}°: the leg is as much {} there, and the shoulders of boards \
         that meet it are out of square by that angle.",
        units.fine().show_with_unit(mm.abs()),
        if mm > 0.0 { "narrower" } else { "wider" },
        tapers[taper].abs(),
        if mm > 0.0 { "thinner" } else { "thicker" },
    );
    found(Concern::OutOfTrue, worst(tapers[taper].abs()), limits.true_deg, None, verdict)
}

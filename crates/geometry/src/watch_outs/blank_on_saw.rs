//! The blank on the saw: height under the guides in both cuts, and the throat.

use super::{Concern, Limit, WatchOut, Weight, Worst, found};
use crate::{Cut, SawKind, Survey, Units};

/// How far above the work the guides stand, mm: school sheets.
const GUIDES_MM: f64 = 6.0;

pub(super) fn check(survey: &Survey, units: Units) -> Option<WatchOut> {
    let (saw, sawn, leg) = (survey.saw()?, survey.sawn()?, survey.leg());
    if saw.kind == SawKind::Hand {
        return None;
    }
    let limit = Limit { look: 0.0, watch: 0.0 };
    // The first cut goes through D, the second through W as the halves lie then.
    let high = [leg.depth_mm, leg.width_mm - sawn.closing_mm()];
    let cut = if high[0] >= high[1] { Cut::First } else { Cut::Second };
    let high = high[cut.index()];
    let room = saw.height.mm() - high - GUIDES_MM;
    if room < 0.0 {
        let verdict = format!(
            "The blank is {} high in the {cut}, and the saw takes {} with the guides {} above the work.",
            units.show_with_unit(high),
            units.show_with_unit(saw.height.mm() - GUIDES_MM),
            units.show_with_unit(GUIDES_MM)
        );
        let worst = Worst { at_mm: 0.0, from_mm: 0.0, to_mm: leg.length_mm, value: room };
        return found(Concern::BlankOnSaw, &worst, limit, Some(cut), verdict);
    }
    let (cut, at_mm, reach) = farthest_reach(survey);
    let room = saw.throat.mm() - reach;
    let verdict = format!(
        "Turned to follow the {cut} here, an end of the blank swings {} aside, and the throat is {}. Try the blank without \
         the blade turning: if it meets the column, saw that stretch from the other end.",
        units.show_with_unit(reach),
        units.show_with_unit(saw.throat.mm())
    );
    let worst = Worst { at_mm, from_mm: at_mm, to_mm: at_mm, value: room };
    // Coming in from the other end swings the blank the other way, so this is something to try, not to stop for.
    found(Concern::BlankOnSaw, &worst, limit, Some(cut), verdict).map(|one| WatchOut { weight: Weight::Look, ..one })
}

/// How far an end of the blank reaches sideways from the blade when the blank is turned to follow the line, at the most.
fn farthest_reach(survey: &Survey) -> (Cut, f64, f64) {
    let leg = survey.leg();
    let mut farthest = (Cut::First, 0.0, 0.0);
    for at in survey.stations() {
        for (cut, slope) in [(Cut::First, at.drawn.a_slope), (Cut::Second, at.drawn.b_slope)] {
            let s = at.drawn.s_mm;
            let end = (s + leg.spare_top_mm).max(leg.length_mm - s + leg.spare_foot_mm);
            let root = slope.hypot(1.0);
            let reach = (end * slope.abs() + leg.across_mm(cut)) / root;
            if reach > farthest.2 {
                farthest = (cut, s, reach);
            }
        }
    }
    farthest
}

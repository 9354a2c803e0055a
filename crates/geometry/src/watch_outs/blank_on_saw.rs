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
        let worst = Worst::all_along(survey, 0.0, room);
        return found(Concern::BlankOnSaw, worst, limit, Some(cut), verdict);
    }
    let long = leg.spare_top_mm + leg.length_mm + leg.spare_foot_mm;
    if saw.kind == SawKind::Scroll {
        return behind_the_blade(survey, long, saw.throat.mm(), units);
    }
    let (cut, at_mm, reach) = farthest_reach(survey);
    let room = saw.throat.mm() - reach;
    if room >= 0.0 {
        return off_the_table(survey, long, saw.table.mm(), units);
    }
    let verdict = format!(
        "Turned to follow the {cut} here, an end of the blank swings {} aside, and the throat is {}. Try the blank without \
         the blade turning: if it meets the column, saw that stretch from the other end.",
        units.show_with_unit(reach),
        units.show_with_unit(saw.throat.mm())
    );
    let worst = Worst::at(at_mm, room);
    // Coming in from the other end swings the blank the other way, so this is something to try, not to stop for.
    found(Concern::BlankOnSaw, worst, limit, Some(cut), verdict).map(|one| WatchOut { weight: Weight::Look, ..one })
}

/// A scroll saw's arm is behind its blade: a blank longer than that goes in from both ends, and one longer than twice that
/// not at all.
fn behind_the_blade(survey: &Survey, long: f64, throat: f64, units: Units) -> Option<WatchOut> {
    let (limit, room) = (Limit { look: 0.0, watch: -throat }, throat - long);
    let how = if room < -throat { "even sawn in from both ends it does not pass" } else { "saw in from both ends" };
    let verdict = format!(
        "The blank is {} long with its spare length, and the arm is {} behind the blade: {how}, unless the blade can be \
         turned sideways.",
        units.show_with_unit(long),
        units.show_with_unit(throat)
    );
    found(Concern::BlankOnSaw, Worst::all_along(survey, 0.0, room), limit, None, verdict)
}

/// How many times as long as the table a blank is that one pair of hands still holds level. Our own choice.
const LEVEL_BY_HAND: f64 = 2.0;

/// A blank that is far longer than the table tips at the beginning and at the end of a pass.
fn off_the_table(survey: &Survey, long: f64, table: f64, units: Units) -> Option<WatchOut> {
    let (limit, room) = (Limit { look: 0.0, watch: f64::NEG_INFINITY }, LEVEL_BY_HAND * table - long);
    let verdict = format!(
        "The blank is {} long with its spare length on a table of {}: {} of it hangs over when a pass begins and when it ends. \
         Hold it level with a stand or a roller, so that the cut stays square.",
        units.show_with_unit(long),
        units.show_with_unit(table),
        units.show_with_unit(long - table / 2.0)
    );
    found(Concern::BlankOnSaw, Worst::all_along(survey, 0.0, room), limit, None, verdict)
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

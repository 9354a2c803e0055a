//! The straight column of unbroken grain from top to foot.

use super::{Concern, Limits, WatchOut, Worst, found};
use crate::{Leg, Survey, Units};

/// The straight column of unbroken grain from top to foot: what a leg is judged by first.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Core {
    /// Its size across and deep, mm; 0 where there is none.
    pub size_mm: [f64; 2],
    /// Its share of the blank's section, 0 to 1.
    pub share: f64,
    /// Its share of the blank's section modulus, in the way it is weaker: of the bending strength, 0 to 1.
    pub bending_share: f64,
}

impl Core {
    /// The core of a leg.
    pub fn of(leg: &Leg) -> Core {
        Core::sized(leg.core_mm().map(|mm| mm.max(0.0)), leg)
    }

    /// The core as the saw gives it: the rectangle that lies within every level section of the four pieces. The blade takes half
    /// a kerf on either side of each line, so on true lines it is a kerf less each way. Nothing where no saw is told.
    pub fn sawn(survey: &Survey) -> Option<Core> {
        survey.sawn()?;
        let mut reach = [[f64::INFINITY; 2]; 4];
        for sawn in survey.stations().iter().filter_map(|at| at.sawn) {
            for (reach, piece) in reach.iter_mut().zip(&sawn.pieces) {
                for (i, reach) in reach.iter_mut().enumerate() {
                    // From the axis to the nearer end of the wall that stands across this direction.
                    let axis = piece[1][i].abs().max(piece[3][i].abs());
                    *reach = reach.min(axis).min(piece[2][i].abs());
                }
            }
        }
        let [one, two, three, four] = reach;
        let across = one[0].min(four[0]) + two[0].min(three[0]);
        let deep = one[1].min(two[1]) + three[1].min(four[1]);
        Some(Core::sized([across, deep], survey.leg()))
    }

    /// As sawn where a saw is told, and as drawn otherwise.
    pub fn of_survey(survey: &Survey) -> Core {
        Core::sawn(survey).unwrap_or_else(|| Core::of(survey.leg()))
    }

    fn sized(size_mm: [f64; 2], leg: &Leg) -> Core {
        let [across, deep] = [size_mm[0] / leg.width_mm, size_mm[1] / leg.depth_mm];
        Core { size_mm, share: across * deep, bending_share: (across * deep * deep).min(across * across * deep) }
    }
}

pub(super) fn check(survey: &Survey, limits: &Limits, units: Units) -> Option<WatchOut> {
    let leg = survey.leg();
    let Core { size_mm: [across, deep], share, bending_share } = Core::of_survey(survey);
    let (width, depth) = (leg.width_mm, leg.depth_mm);
    // The place is where the line that takes most of it stands farthest out.
    let line = if across / width < deep / depth { &leg.first } else { &leg.second };
    let middle = (line.extent().least + line.extent().most) / 2.0;
    let out = |s: f64| (line.offset(s) - middle).abs();
    let at_mm =
        line.crests().into_iter().chain([0.0, leg.length_mm]).fold(0.0, |a, b| if out(b) > out(a) { b } else { a });
    let worst = Worst::all_along(survey, at_mm, share);
    let verdict = if share > 0.0 {
        format!(
            "The straight column of unbroken grain is {} by {}{}: {:.0} % of the section and {:.0} % of its bending strength.",
            units.show(across),
            units.show_with_unit(deep),
            if survey.saw().is_some() { " as sawn" } else { "" },
            100.0 * share,
            100.0 * bending_share
        )
    } else {
        "No fibre runs from top to foot: the leg holds by its glue and by wood across the grain.".to_owned()
    };
    found(Concern::Core, worst, limits.core_share, None, verdict)
}

//! The thinnest wood of a piece.

use super::{Concern, Limits, WatchOut, found, worst};
use crate::survey::{Survey, Surveyed};
use crate::{Cut, Piece, Units};

/// The thinnest wood of any piece at a station, mm; the whole blank where the line is not on the wood, which another
/// watch-out tells.
pub(super) fn value(at: &Surveyed, survey: &Survey) -> f64 {
    thinnest(at, survey, true).1
}

/// The piece with the thinnest wood, by its place, and how much that is, mm, beside the pipe hole where there is one: as sawn
/// where that is wanted and a saw is told, or as drawn.
pub(crate) fn thinnest(at: &Surveyed, survey: &Survey, sawn: bool) -> (usize, f64) {
    let leg = survey.leg();
    let (a, b) = (at.drawn.a_mm, at.drawn.b_mm);
    let across = [a, leg.width_mm - a];
    let deep = [b, leg.depth_mm - b];
    let drawn =
        Piece::ALL.map(|piece| across[usize::from(piece.beyond_first())].min(deep[usize::from(piece.beyond_second())]));
    let wood = at.sawn.filter(|_| sawn).map_or(drawn, |sawn| sawn.wood_mm);
    let out = leg.width_mm.max(leg.depth_mm);
    let told = |i: usize| if survey.leaves_blank() { out } else { (wood[i] - survey.pipe_chamfer_mm()).max(0.0) };
    (0..4).map(|i| (i, told(i))).fold((0, f64::INFINITY), |least, one| if one.1 < least.1 { one } else { least })
}

pub(super) fn check(survey: &Survey, limits: &Limits, units: Units) -> Option<WatchOut> {
    let limit = limits.thin_wood_mm;
    // The wood runs out to nothing where a cut leaves it, and that is what is told.
    if survey.leaves_blank() {
        return None;
    }
    let worst = worst(survey, Concern::ThinWood, limit.look, |at| value(at, survey))?;
    let at = survey.measure(worst.at_mm);
    let (piece, mm) = thinnest(&at, survey, true);
    let edges = [at.drawn.a_mm, survey.leg().width_mm - at.drawn.a_mm];
    let first = edges[0].min(edges[1]) <= at.drawn.b_mm.min(survey.leg().depth_mm - at.drawn.b_mm);
    let cut = if first { Cut::First } else { Cut::Second };
    let pipe = if survey.pipe_chamfer_mm() > 0.0 { " and the pipe hole" } else { "" };
    let verdict =
        format!("Only {} of wood is left in piece {}, beside the {cut}{pipe}.", units.show_with_unit(mm), piece + 1);
    found(Concern::ThinWood, &worst, limit, Some(cut), verdict)
}

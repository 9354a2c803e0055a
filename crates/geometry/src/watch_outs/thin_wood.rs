//! The thinnest wood of a piece.

use super::{Concern, Limits, WatchOut, found, worst};
use crate::survey::{Survey, Surveyed};
use crate::{Cut, Piece, Units};

/// The thinnest wood of any piece at a station, mm; the whole blank where the line is not on the wood, which another
/// watch-out tells.
pub(super) fn value(at: &Surveyed, survey: &Survey) -> f64 {
    thinnest(at, survey, true).1
}

/// The piece with the thinnest wood, by its place, and how much that is, mm.
pub(crate) fn thinnest(at: &Surveyed, survey: &Survey, sawn: bool) -> (usize, f64) {
    let wood = of_pieces(at, survey, sawn);
    (0..4).map(|i| (i, wood[i])).fold((0, f64::INFINITY), |least, one| if one.1 < least.1 { one } else { least })
}

/// The thinnest wood of pieces 1 to 4 at a station, mm, beside the pipe hole where there is one: as sawn where that is wanted
/// and a saw is told, or as drawn.
fn of_pieces(at: &Surveyed, survey: &Survey, sawn: bool) -> [f64; 4] {
    let leg = survey.leg();
    let (a, b) = (at.drawn.a_mm, at.drawn.b_mm);
    let across = [a, leg.width_mm - a];
    let deep = [b, leg.depth_mm - b];
    let drawn =
        Piece::ALL.map(|piece| across[usize::from(piece.beyond_first())].min(deep[usize::from(piece.beyond_second())]));
    let wood = at.sawn.filter(|_| sawn).map_or(drawn, |sawn| sawn.wood_mm);
    let out = leg.width_mm.max(leg.depth_mm);
    wood.map(|mm| if survey.leaves_blank() { out } else { (mm - survey.pipe_chamfer_mm()).max(0.0) })
}

/// (how thin in mm, where from the top in mm) for pieces 1 to 4 at their thinnest, as sawn where a saw is told.
pub(crate) fn thinnest_of_pieces(survey: &Survey) -> [[f64; 2]; 4] {
    let mut least = [[f64::INFINITY, 0.0]; 4];
    for at in survey.stations() {
        for (least, mm) in least.iter_mut().zip(of_pieces(at, survey, true)) {
            if mm < least[0] - 1e-9 {
                *least = [mm, at.drawn.s_mm];
            }
        }
    }
    least
}

pub(super) fn check(survey: &Survey, limits: &Limits, units: Units) -> Option<WatchOut> {
    let limit = limits.thin_wood_mm;
    // The wood runs out to nothing where a cut leaves it, and that is what is told.
    if survey.leaves_blank() {
        return None;
    }
    let worst = worst(survey, Concern::ThinWood, limit, |at| value(at, survey))?;
    let at = survey.measure(worst.at_mm);
    let (piece, mm) = thinnest(&at, survey, true);
    let edges = [at.drawn.a_mm, survey.leg().width_mm - at.drawn.a_mm];
    let first = edges[0].min(edges[1]) <= at.drawn.b_mm.min(survey.leg().depth_mm - at.drawn.b_mm);
    let cut = if first { Cut::First } else { Cut::Second };
    let pipe = if survey.pipe_chamfer_mm() > 0.0 { " and the pipe hole" } else { "" };
    let each = thinnest_of_pieces(survey).map(|[mm, _]| units.fine().show(mm)).join(", ");
    let verdict = format!(
        "Only {} of wood is left in piece {}, beside the {cut}{pipe}. Pieces 1 to 4 have {each} at their thinnest.",
        units.fine().show_with_unit(mm),
        piece + 1
    );
    found(Concern::ThinWood, worst, limit, Some(cut), verdict)
}

//! A bend tighter than half the kerf: the inner side of the slot has no bend left, and the saw takes more than is drawn.

use super::bend::tightest;
use super::{Concern, Limit, WatchOut, Worst, found};
use crate::{Cut, Survey, Units};

pub(super) fn check(survey: &Survey, units: Units) -> Option<WatchOut> {
    let (saw, sawn) = (survey.saw()?, survey.sawn()?);
    let broken = |cut: Cut| sawn.broken(cut).into_iter().map(move |bend| (cut, bend));
    let (cut, bend) = tightest(Cut::ALL.into_iter().flat_map(broken))?;
    let taken = saw.blade.kerf.mm() / 2.0 + saw.sanding.mm();
    let verdict = format!(
        "The {cut} bends to a radius of {}, tighter than what is taken on either side of the line, {}: inside the bend \
         nothing is left of the curve.",
        units.fine().show_with_unit(bend.radius_mm),
        units.fine().show_with_unit(taken)
    );
    let worst = Worst {
        stretches_mm: Cut::ALL.iter().flat_map(|cut| sawn.broken(*cut)).map(|bend| [bend.s_mm; 2]).collect(),
        ..Worst::at(bend.s_mm, bend.radius_mm)
    };
    // A hair above, so that a bend of exactly that radius is told too.
    let limit = taken * (1.0 + 1e-9);
    found(Concern::LineBreaks, worst, Limit { look: limit, watch: limit }, Some(cut), verdict)
}

//! A cut that leaves the blank through a face.

use super::{Concern, Limit, WatchOut, Worst, found};
use crate::{Cut, Survey, Units, run_outs};

/// How many stretches are told one by one.
const TOLD: usize = 3;

pub(super) fn check(survey: &Survey, units: Units) -> Option<WatchOut> {
    let leg = survey.leg();
    let all: Vec<_> = Cut::ALL.iter().flat_map(|cut| run_outs(leg, *cut).into_iter().map(|out| (*cut, out))).collect();
    let beyond = |cut: Cut, s: f64| (-leg.line(cut).offset(s)).max(leg.line(cut).offset(s) - leg.across_mm(cut));
    let mut worst: Option<(Cut, Worst)> = None;
    for (cut, out) in &all {
        let inside = |s: &f64| (out.from_mm..=out.to_mm).contains(s);
        let ends = [out.from_mm, (out.from_mm + out.to_mm) / 2.0, out.to_mm];
        let crests = leg.line(*cut).crests();
        for at_mm in ends.into_iter().chain(crests.into_iter().filter(inside)) {
            let value = beyond(*cut, at_mm);
            if worst.as_ref().is_none_or(|(_, worst)| value > worst.value) {
                worst = Some((*cut, Worst::at(at_mm, value)));
            }
        }
    }
    let (cut, mut worst) = worst?;
    worst.stretches_mm = all.iter().map(|(_, out)| [out.from_mm, out.to_mm]).collect();
    worst.stretches_mm.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let mut words: Vec<String> = Vec::new();
    for (cut, out) in all.iter().take(TOLD) {
        let (pieces, lost) = match (cut, out.beyond) {
            (Cut::First, false) => ("1 and 4", "face 4 is cut into, and the blank lies on it for the second cut"),
            (Cut::First, true) => ("2 and 3", "face 2 is cut into, and the second cut's line with it"),
            (Cut::Second, false) => ("1 and 2", ""),
            (Cut::Second, true) => ("3 and 4", ""),
        };
        let comma = if lost.is_empty() { "" } else { "; " };
        words.push(format!(
            "The {cut} is out at {} from {} to {}: pieces {pieces} are not whole from top to foot{comma}{lost}.",
            out.arris,
            units.show(out.from_mm),
            units.show_with_unit(out.to_mm),
        ));
    }
    if all.len() > TOLD {
        words.push(format!("And {} more places.", all.len() - TOLD));
    }
    found(Concern::LeavesBlank, worst, Limit { look: 0.0, watch: 0.0 }, Some(cut), words.join(" "))
}

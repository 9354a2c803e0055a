//! A cut that leaves the blank through a face: its line, or where a saw is told, its kerf.

use super::{AS_BAD, Concern, Limit, WatchOut, Worst, found};
use crate::run_out::{RunOut, kerf_run_outs};
use crate::{Cut, SawnLeg, Survey, Units};

/// How many stretches are told one by one.
const TOLD: usize = 3;

pub(super) fn check(survey: &Survey, units: Units) -> Option<WatchOut> {
    let leg = survey.leg();
    let taken_mm = survey.sawn().map_or(0.0, SawnLeg::taken_mm);
    let all: Vec<(Cut, RunOut)> = Cut::ALL
        .into_iter()
        .flat_map(|cut| kerf_run_outs(leg, cut, taken_mm).into_iter().map(move |out| (cut, out)))
        .collect();
    // How far the line is beyond the edge, and how far what is taken beside it.
    let line_beyond = |cut: Cut, s: f64| {
        let offset = leg.line(cut).offset(s);
        (-offset).max(offset - leg.across_mm(cut))
    };
    let beyond = |cut: Cut, s: f64| {
        let edge = |distance: f64| leg.line(cut).spot(s).parallel(distance).offset;
        if taken_mm > 0.0 { (-edge(-taken_mm)).max(edge(taken_mm) - leg.across_mm(cut)) } else { line_beyond(cut, s) }
    };
    let mut worst: Option<(Cut, Worst)> = None;
    let mut lines_out = Vec::new();
    for (cut, out) in &all {
        let inside = |s: &f64| (out.from_mm..=out.to_mm).contains(s);
        let ends = [out.from_mm, (out.from_mm + out.to_mm) / 2.0, out.to_mm];
        let crests = leg.line(*cut).crests();
        let mut line_out = false;
        for at_mm in ends.into_iter().chain(crests.into_iter().filter(inside)) {
            let value = beyond(*cut, at_mm);
            line_out |= line_beyond(*cut, at_mm) > 0.0;
            if worst.as_ref().is_none_or(|(_, worst)| value > worst.value + AS_BAD * worst.value.abs()) {
                worst = Some((*cut, Worst::at(at_mm, value)));
            }
        }
        lines_out.push(line_out);
    }
    let (cut, mut worst) = worst?;
    worst.stretches_mm = all.iter().map(|(_, out)| [out.from_mm, out.to_mm]).collect();
    worst.stretches_mm.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let mut words: Vec<String> = Vec::new();
    for ((cut, out), line_out) in all.iter().zip(lines_out).take(TOLD) {
        let (pieces, lost) = match (cut, out.beyond) {
            (Cut::First, false) => ("1 and 4", "face 4 is cut into, and the blank lies on it for the second cut"),
            (Cut::First, true) => ("2 and 3", "face 2 is cut into, and the second cut's line with it"),
            (Cut::Second, false) => ("1 and 2", ""),
            (Cut::Second, true) => ("3 and 4", ""),
        };
        let comma = if lost.is_empty() { "" } else { "; " };
        let what = if line_out { "" } else { "kerf of the " };
        words.push(format!(
            "The {what}{cut} is out at {} from {} to {}: pieces {pieces} are not whole from top to foot{comma}{lost}.",
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

//! What the report says of the leg as sawn, of watch-outs and of the load.

use cornerwise_geometry::{Concern, Core, LOAD_MODEL, Leg, Quantity, Survey, Weight, board_feet};
use cornerwise_project::{Design, Project, SURVEYED};
use serde::Serialize;

/// The leg as the project's saw gives it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SawnReport {
    /// The kerf, mm.
    pub kerf_mm: f64,
    /// The smallest radius the fitted blade goes round, mm: derived.
    pub least_radius_mm: f64,
    /// The widest blade of this body and kerf that goes round the tightest bend of each cut, mm; `null` for a straight line.
    pub widest_blade_mm: [Option<f64>; 2],
    /// Every bend with the blade it needs, the first cut's first, in order from the top.
    pub bends: Vec<BendNeedsReport>,
    /// (how thin in mm, where from the top in mm) for the wood of pieces 1 to 4 at their thinnest.
    pub thinnest_wood_mm: [[f64; 2]; 4],
    /// Volume of the four pieces, mm³.
    pub volume_mm3: f64,
    /// How far the halves are nearer to one another in the second cut than they were in the blank, mm.
    pub closing_mm: f64,
    /// Volume that kerf and sanding take of the finished length, mm³.
    pub lost_mm3: f64,
    /// The straight column of unbroken grain that the saw leaves, mm across and deep.
    pub core_mm: [f64; 2],
    /// The greatest step at seams 1 to 4, mm square to the surface.
    pub most_step_mm: [f64; 4],
    /// Where each is, mm from the top.
    pub most_step_at_mm: [f64; 4],
    /// The widest gap between halves that are closed up, mm.
    pub most_gap_mm: f64,
    /// At the same stations as the drawn leg.
    pub stations: Vec<SawnStationReport>,
}

/// A bend and what goes round it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BendNeedsReport {
    /// 1 or 2.
    pub cut: u8,
    /// From the finished top, mm.
    pub at_mm: f64,
    /// Of the middle of the kerf, mm.
    pub radius_mm: f64,
    /// The widest blade of the fitted one's body and kerf that goes round, derived, mm.
    pub widest_mm: f64,
    /// The widest of the table and of the maker's own that goes round for certain; `null` where none does.
    pub blade: Option<String>,
    /// Whether the fitted one goes round for certain.
    pub goes_round: bool,
}

/// The sawn leg at one distance from the top.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SawnStationReport {
    /// From the finished top, mm.
    pub s_mm: f64,
    /// The least W and D of the level section, mm.
    pub size_mm: [f64; 2],
    /// The same square to each curve, mm.
    pub thickness_mm: [f64; 2],
    /// The step at seams 1 to 4, mm square to the surface, signed.
    pub step_mm: [f64; 4],
    /// The gap left between halves that are closed up after the first cut, mm.
    pub gap_mm: f64,
    /// How hollow the sides from the first and the second cut are, from a blade that bows, mm square to the surface.
    pub hollow_mm: [f64; 2],
    /// The thinnest wood of pieces 1 to 4, mm.
    pub wood_mm: [f64; 4],
    /// The level section: pieces 1 to 4, each a polygon of four corners (u, v), mm.
    pub pieces: [[[f64; 2]; 4]; 4],
}

/// One watch-out.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WatchOutReport {
    /// What it is about, by its name in files.
    pub concern: Concern,
    /// The same in a few words.
    pub title: &'static str,
    /// "have a look" or "watch out".
    pub weight: &'static str,
    /// 1 or 2; `null` where it comes from no one cut.
    pub cut: Option<u8>,
    /// Where it is worst, mm from the top.
    pub at_mm: f64,
    /// Where it begins and ends, mm from the top.
    pub from_to_mm: [f64; 2],
    /// Every stretch that is beyond the limit, mm from the top.
    pub stretches_mm: Vec<[f64; 2]>,
    /// The figure at its worst.
    pub value: f64,
    /// The limit that it is beyond.
    pub limit: f64,
    /// Of both: "mm", "degrees", "share" or "times".
    pub unit: &'static str,
    /// Where the limit comes from.
    pub limit_source: &'static str,
    /// In words.
    pub verdict: String,
    /// The smallest changes that clear it, in words; none for what only asks for a look.
    pub fixes: Vec<String>,
    /// Why the maker has accepted it; `null` where nobody has.
    pub accepted: Option<String>,
}

/// What the leg bears by the model. It compares shapes; it certifies nothing.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LoadReport {
    /// The load down that was asked about, N.
    pub down_n: f64,
    /// The push that was asked about, N.
    pub push_n: f64,
    /// The share of the short-term strength that was taken.
    pub duration: f64,
    /// What loads were multiplied by.
    pub safety: f64,
    /// The load down at which the worst place uses all of its strength, with the push, factors included, N.
    pub bears_n: f64,
    /// What the leg as drawn would bear by the same model, where a saw is told, N.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub drawn_bears_n: Option<f64>,
    /// Where, mm from the top.
    pub worst_mm: f64,
    /// The load at which it would buckle, factors apart, N.
    pub buckles_n: f64,
    /// Length over least radius of gyration.
    pub slenderness: f64,
    /// The model and its limits.
    pub says: &'static str,
    /// The end whose joint takes the moment of the push: "top" or "foot".
    pub held: String,
    /// (from the top in mm, share of the strength used) under the load that was asked about, factors included; empty where
    /// it would buckle.
    pub used: Vec<[f64; 2]>,
    /// (from the top in mm, compression in MPa, bending in MPa) under the same load, the safety factor included.
    pub stress_mpa: Vec<[f64; 3]>,
}

/// The blank as lumber.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LumberReport {
    /// What it weighs, spare length included, at 12 % moisture, kg.
    pub blank_kg: f64,
    /// Board feet, spare length included.
    pub board_feet: f64,
}

/// Everything of this file about one design; `stations` are those of the drawn leg.
pub(super) fn judged(
    project: &Project,
    design: &Design,
    leg: &Leg,
    stations: &[f64],
) -> (Option<SawnReport>, Vec<WatchOutReport>, Option<LoadReport>, LumberReport) {
    let survey = project.survey(design, leg, SURVEYED);
    let watch_outs = project
        .judge(design, &survey)
        .into_iter()
        .map(|one| {
            let found = one.watch_out;
            WatchOutReport {
                concern: found.concern,
                title: found.concern.title(),
                weight: if found.weight == Weight::WatchOut { "watch out" } else { "have a look" },
                cut: found.cut.map(|cut| cut.index() as u8 + 1),
                at_mm: found.at_mm,
                from_to_mm: [found.from_mm, found.to_mm],
                stretches_mm: found.stretches_mm,
                value: found.value,
                limit: found.limit,
                unit: match found.quantity {
                    Quantity::Mm => "mm",
                    Quantity::Degrees => "degrees",
                    Quantity::Share => "share",
                    Quantity::Times => "times",
                },
                limit_source: found.concern.source(),
                verdict: found.verdict,
                fixes: project.fixes(design.id, found.concern).into_iter().map(|fix| fix.words).collect(),
                accepted: one.accepted,
            }
        })
        .collect();
    let load = survey.load().map(|(load, result)| LoadReport {
        down_n: load.down_n,
        push_n: load.push_n,
        duration: load.duration,
        safety: load.safety,
        bears_n: result.bears_n,
        drawn_bears_n: survey.saw().and_then(|_| survey.load_as_drawn()).map(|drawn| drawn.bears_n),
        worst_mm: result.worst_mm,
        buckles_n: result.buckles_n,
        slenderness: result.slenderness,
        says: LOAD_MODEL,
        held: load.held.to_string(),
        used: result.used.clone(),
        stress_mpa: result.stress_mpa.clone(),
    });
    let lumber = LumberReport { blank_kg: design.blank_kg(), board_feet: board_feet(&design.blank) };
    (sawn(project, &survey, stations), watch_outs, load, lumber)
}

fn sawn(project: &Project, survey: &Survey, stations: &[f64]) -> Option<SawnReport> {
    let (saw, sawn) = (project.saw.as_ref()?, survey.sawn()?);
    let tightest = [survey.leg().first.tightest(), survey.leg().second.tightest()];
    let station = |s: &f64| {
        let at = sawn.at(*s);
        SawnStationReport {
            s_mm: at.s_mm,
            size_mm: at.size_mm,
            thickness_mm: at.thickness_mm,
            step_mm: at.step_mm,
            gap_mm: at.gap_mm,
            hollow_mm: at.hollow_mm,
            wood_mm: at.wood_mm,
            pieces: at.pieces,
        }
    };
    let volume_mm3 = sawn.volume_mm3(16);
    let mut most = [[0.0_f64; 2]; 4];
    let mut most_gap_mm = 0.0_f64;
    for at in survey.stations().iter().filter_map(|at| at.sawn) {
        most_gap_mm = most_gap_mm.max(at.gap_mm);
        for (most, step) in most.iter_mut().zip(at.step_mm) {
            // Of places that are alike the first, whatever their last digits.
            if step.abs() > most[0] * (1.0 + 1e-9) + 1e-9 {
                *most = [step.abs(), at.s_mm];
            }
        }
    }
    Some(SawnReport {
        kerf_mm: saw.blade.kerf.mm(),
        // A blade that cannot turn goes round no bend; JSON has no infinity.
        least_radius_mm: saw.blade.least_radius_mm().min(1e9),
        widest_blade_mm: tightest.map(|bend| bend.map(|bend| saw.blade.widest_for_mm(bend.radius_mm))),
        bends: project
            .bend_needs(survey)
            .into_iter()
            .map(|one| BendNeedsReport {
                cut: one.cut.index() as u8 + 1,
                at_mm: one.bend.s_mm,
                radius_mm: one.bend.radius_mm,
                widest_mm: one.widest_mm,
                blade: one.blade,
                goes_round: one.goes_round,
            })
            .collect(),
        thinnest_wood_mm: survey.thinnest_of_pieces(),
        volume_mm3,
        closing_mm: sawn.closing_mm(),
        lost_mm3: survey.leg().volume_mm3() - volume_mm3,
        core_mm: Core::of_survey(survey).size_mm,
        most_step_mm: most.map(|[step, _]| step),
        most_step_at_mm: most.map(|[_, at]| at),
        most_gap_mm,
        stations: stations.iter().map(station).collect(),
    })
}

impl WatchOutReport {
    /// Its figures, to be checked for soundness.
    pub(super) fn figures(&self) -> Vec<f64> {
        let mut all = vec![self.at_mm, self.from_to_mm[0], self.from_to_mm[1], self.value, self.limit];
        all.extend(self.stretches_mm.as_flattened());
        all
    }
}

//! What the paper says of a leg beside its shape: what the saw will give, what to watch out for, and what its maker has
//! accepted.

use super::column::Block;
use cornerwise_geometry::{Core, Cut, Leg, SawnLeg, Survey, Units, Weight};
use cornerwise_project::{Design, Judged, LegLine, Project, SURVEYED};

/// Notes for the paper of one leg. Without any, its shape is all that is printed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Notes {
    /// What the saw gives, each fact with its name; empty where no saw is told.
    pub sawn: Vec<(String, String)>,
    /// What to watch out for that nobody has accepted.
    pub open: Vec<String>,
    /// What its maker has accepted, with the reason.
    pub accepted: Vec<String>,
    /// The lines on either side of each saw line that the saw takes up, mm from it, where they are to be printed.
    pub kerf_edges_mm: Option<f64>,
    /// The leg as the saw gives it, where one is told: for sections of their true size.
    pub as_sawn: Option<SawnLeg>,
}

impl Notes {
    /// The notes of one leg that is made, in the hand that it is made in: what is said of its shape, and of its fit.
    pub fn of_line(project: &Project, line: &LegLine) -> Notes {
        let design = Design { fit: line.fit.clone(), ..Design::clone(&line.design) };
        let mut notes = Notes::of(project, &design, &line.leg);
        let found = design.fit_findings(&line.leg, project.units);
        notes.open.extend(found.into_iter().map(|one| format!("{}. {}", one.what.trim_end_matches('.'), one.fix)));
        notes
    }

    fn of(project: &Project, design: &Design, leg: &Leg) -> Notes {
        let survey = project.survey(design, leg, SURVEYED);
        let judged = project.judge(design, &survey);
        let (accepted, open): (Vec<&Judged>, Vec<&Judged>) = judged.iter().partition(|one| one.accepted.is_some());
        let place = |one: &Judged| {
            let found = &one.watch_out;
            let value = found.figure(project.units);
            let limit = found.limit_words(project.units).map(|limit| format!(", limit {limit}")).unwrap_or_default();
            let at = match found.concern.is_of_the_whole_leg() {
                true => "the whole leg".to_owned(),
                false => format!("{} from TOP", project.units.show_with_unit(found.at_mm)),
            };
            format!("{}: {value}{limit}, {at}", found.concern.title())
        };
        let source = |one: &Judged| format!("Limit: {}.", one.watch_out.concern.source());
        Notes {
            sawn: sawn(&survey, project.units),
            open: open
                .into_iter()
                .filter(|one| one.watch_out.weight == Weight::WatchOut)
                .map(|one| format!("{}. {} {}", place(one), one.watch_out.verdict, source(one)))
                .collect(),
            accepted: accepted
                .into_iter()
                .map(|one| {
                    let reason = one.accepted.as_deref().unwrap_or_default().trim_end_matches('.');
                    format!("{}. Accepted: {reason}. {}", place(one), source(one))
                })
                .collect(),
            kerf_edges_mm: survey.sawn().filter(|_| project.paper.kerf_edges).map(|sawn| sawn.taken_mm()),
            as_sawn: survey.sawn().cloned(),
        }
    }

    /// The notes as blocks of a column, each group under its heading.
    pub(super) fn blocks(&self, width_mm: f64) -> Vec<Vec<Block>> {
        let mut groups = Vec::new();
        if !self.sawn.is_empty() {
            let mut group = vec![Block::heading("As the saw gives it")];
            group.extend(self.sawn.iter().map(|(name, value)| Block::fact(name, value, width_mm)));
            group.push(Block::space(3.0));
            groups.push(group);
        }
        let mut said: Vec<Vec<Block>> = Vec::new();
        said.extend(self.open.iter().map(|words| vec![Block::item("!", "", words, width_mm)]));
        said.extend(self.accepted.iter().map(|words| vec![Block::item("✓", "", words, width_mm)]));
        if let Some(first) = said.first_mut() {
            first.insert(0, Block::heading("Watch out"));
            said.push(vec![Block::space(3.0)]);
        }
        groups.extend(said);
        groups
    }
}

fn sawn(survey: &Survey, units: Units) -> Vec<(String, String)> {
    let (Some(saw), Some(sawn)) = (survey.saw(), survey.sawn()) else { return Vec::new() };
    let mut least = [[f64::INFINITY; 2]; 2];
    let mut steps = [0.0_f64; 2];
    let mut gap = 0.0_f64;
    for at in survey.stations().iter().filter_map(|at| at.sawn) {
        for (least, now) in least.iter_mut().zip([at.size_mm, at.thickness_mm]) {
            *least = [least[0].min(now[0]), least[1].min(now[1])];
        }
        steps = [steps[0].max(at.step_of_mm(Cut::Second)), steps[1].max(at.step_of_mm(Cut::First))];
        gap = gap.max(at.gap_mm);
    }
    let pair = |[across, deep]: [f64; 2]| format!("{} × {}", units.show(across), units.show_with_unit(deep));
    let least_of = |size: [f64; 2]| format!("{} at the least", pair(size));
    let small = |mm: f64| units.fine().show_with_unit(mm);
    let kerf = &saw.blade.kerf;
    let lost = survey.leg().volume_mm3() - sawn.volume_mm3(16);
    vec![
        ("kerf".to_owned(), kerf.text().map_or_else(|| small(kerf.mm()), str::to_owned)),
        ("level size".to_owned(), least_of(least[0])),
        ("thickness".to_owned(), least_of(least[1])),
        ("core".to_owned(), pair(Core::of_survey(survey).size_mm)),
        ("steps".to_owned(), format!("{} at seams 1 and 3, {} at 2 and 4", small(steps[0]), small(steps[1]))),
        ("closed halves".to_owned(), format!("a gap of up to {}", small(gap))),
        ("wood lost".to_owned(), format!("{:.1} % of the leg", 100.0 * lost / survey.leg().volume_mm3())),
    ]
}

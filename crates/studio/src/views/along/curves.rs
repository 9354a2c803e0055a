//! What the graphs show: curves over the stretch in view, and ranges that stay as the stretch changes.

use std::sync::OnceLock;

use cornerwise_geometry::{Along, CurveOf, Cut, Limit, Limits, Survey, Surveyed};

use super::EASY_MM;
use crate::ruler::Axis;
use crate::view::LegAs;

/// The widest gap between the places a curve is drawn through, points.
const GAP_PX: f64 = 2.5;

/// One graph.
pub struct Graph {
    /// What it shows.
    pub along: Along,
    /// Its curves over the stretch in view: (mm from the top, figure).
    pub curves: Vec<(CurveOf, Vec<[f64; 2]>)>,
    /// Its limits, of a cut where they differ between cuts.
    pub limits: Vec<(Option<Cut>, Limit)>,
    /// Least and most that is shown.
    pub range: [f64; 2],
}

/// How far the figures of a leg reach over its whole length, whatever of it is shown: least and most of each quantity, once
/// it has been asked for.
#[derive(Clone, Debug, Default)]
pub struct Ranges([OnceLock<Option<[f64; 2]>>; Along::ALL.len()]);

impl Ranges {
    /// Least and most of a quantity over the leg that these ranges are kept for.
    fn of(&self, along: Along, survey: &Survey) -> Option<[f64; 2]> {
        let place = Along::ALL.iter().position(|one| *one == along)?;
        *self.0[place].get_or_init(|| {
            let curves = along.curves(survey);
            let figures = survey
                .stations()
                .iter()
                .flat_map(|place| curves.iter().filter_map(move |curve| along.at(*curve, place, survey)));
            figures.fold(None, |range: Option<[f64; 2]>, figure| {
                let [least, most] = range.unwrap_or([figure; 2]);
                Some([least.min(figure), most.max(figure)])
            })
        })
    }

    fn shown(&self, along: Along, survey: &Survey, limits: &[(Option<Cut>, Limit)]) -> [f64; 2] {
        let Some([least, most]) = self.of(along, survey) else { return [0.0, 1.0] };
        let leg = survey.leg();
        let [least, most] = match along {
            Along::Thickness => [least.min(0.9 * most), leg.width_mm.max(leg.depth_mm)],
            Along::EdgeAngle => [least.min(80.0), 90.0],
            Along::LineSlope => {
                let steepest = most.abs().max(least.abs()).max(0.1);
                [-steepest, steepest]
            }
            Along::BendRadius => return [0.0, EASY_MM],
            Along::ThinWood => [least.min(most - 1.0), most],
            Along::GrainSlope | Along::StrengthUsed | Along::Lost => [0.0, most.max(0.1)],
            Along::Stress => [0.0, most.max(1.0)],
            Along::SeamStep | Along::Gap => [0.0, most.max(0.02)],
        };
        // A limit that is near is in view; one that is far would press the curve flat.
        let span = most - least;
        let near = |value: f64| value > least - span && value < most + span;
        let limits = limits.iter().flat_map(|(_, limit)| [limit.look, limit.watch]).filter(|value| near(*value));
        limits.fold([least, most], |[least, most], value| [least.min(value), most.max(value)])
    }
}

/// The chosen graphs of what is shown.
pub fn graphs(
    axis: Axis,
    survey: &Survey,
    ranges: &Ranges,
    limits: &Limits,
    chosen: &[Along],
    leg_as: LegAs,
) -> Vec<Graph> {
    let places = places(axis, survey);
    let graph = |along: &Along| {
        let all = along.curves(survey);
        // What only one of both has is shown whichever is asked for.
        let both = all.iter().any(|curve| curve.sawn) && all.iter().any(|curve| !curve.sawn);
        let wanted = |curve: &CurveOf| !both || if curve.sawn { leg_as.sawn() } else { leg_as.drawn() };
        let most = if *along == Along::BendRadius { EASY_MM } else { f64::INFINITY };
        let curves: Vec<(CurveOf, Vec<[f64; 2]>)> = all
            .iter()
            .copied()
            .filter(wanted)
            .map(|curve| {
                let figure = |place: &Surveyed| match along.at(curve, place, survey) {
                    Some(figure) => Some(figure.min(most)),
                    // A straight stretch is drawn at the top.
                    None => (*along == Along::BendRadius).then_some(EASY_MM),
                };
                (curve, places.iter().filter_map(|at| figure(at).map(|figure| [at.drawn.s_mm, figure])).collect())
            })
            .collect();
        let mut told: Vec<(Option<Cut>, Limit)> = Vec::new();
        for curve in all {
            if let Some(limit) = along.limits(curve.cut, survey, limits)
                && told.iter().all(|(_, other)| *other != limit)
            {
                told.push((curve.cut, limit));
            }
        }
        let range = ranges.shown(*along, survey, &told);
        Graph { along: *along, curves, limits: told, range }
    };
    chosen.iter().map(graph).collect()
}

/// The surveyed places in view, and more between them where the ruler is zoomed in.
fn places(axis: Axis, survey: &Survey) -> Vec<Surveyed> {
    let shown = axis.shown();
    let (from, to) = (shown.from_mm.max(0.0), shown.to_mm.min(survey.leg().length_mm));
    if to <= from {
        return Vec::new();
    }
    let inside = survey.stations().iter().filter(|at| (from..=to).contains(&at.drawn.s_mm));
    let mut places: Vec<Surveyed> = Vec::new();
    let mut add = |next: Surveyed| {
        if let Some(last) = places.last().map(|last| last.drawn.s_mm) {
            let gap = next.drawn.s_mm - last;
            let parts = (gap * axis.px_per_mm / GAP_PX).ceil().clamp(1.0, 2000.0) as usize;
            for i in 1..parts {
                places.push(survey.measure(last + gap * i as f64 / parts as f64));
            }
        }
        places.push(next);
    };
    add(survey.measure(from));
    inside.for_each(|at| add(*at));
    add(survey.measure(to));
    places
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ruler::{Ruler, Stretch};
    use cornerwise_geometry::{Load, Saw};
    use cornerwise_project::{Project, SURVEYED};
    use std::sync::Arc;

    #[test]
    fn the_range_beside_a_graph_is_the_same_at_every_zoom_and_holds_both_sides_of_a_sharp_point() {
        for number in 0..crate::start::demo_titles().len() {
            let project = crate::start::demo(number).unwrap();
            for design in &project.designs {
                let leg = design.leg().unwrap();
                let survey = project.survey(design, &leg, SURVEYED);
                let ranges = Ranges::default();
                let blank = Stretch { from_mm: 0.0, to_mm: leg.length_mm };
                let mut ruler = Ruler::Whole;
                let ranges_at = |ruler: &Ruler, px: f32| {
                    let axis = ruler.axis(egui::Rangef::new(0.0, px), blank);
                    let graphs = graphs(axis, &survey, &ranges, &project.limits, &Along::ALL, LegAs::Both);
                    (axis, graphs.into_iter().map(|graph| graph.range).collect::<Vec<_>>())
                };
                let (axis, first) = ranges_at(&ruler, 800.0);
                ruler.zoom(axis, blank, 333.0, 7.3);
                assert_eq!(first, ranges_at(&ruler, 800.0).1);
                assert_eq!(first, ranges_at(&Ruler::Whole, 123.0).1);
                for cut in Cut::ALL {
                    let line = leg.line(cut);
                    for at in line.sharp_point().into_iter().flat_map(|s| [line.at(s), line.at_after(s)]) {
                        assert!(at.slope.abs() <= first[4][1] + 1e-4, "{}", design.name);
                    }
                }
            }
        }
    }

    #[test]
    fn drawn_and_sawn_are_shown_as_they_are_asked_for() {
        let mut project = Project { saw: Some(Saw::default()), ..Project::new() };
        Arc::make_mut(&mut project.designs[0]).load = Some(Load::default());
        let design = &project.designs[0];
        let leg = design.leg().unwrap();
        let survey = project.survey(design, &leg, 65);
        let ranges = Ranges::default();
        let axis = Ruler::Whole.axis(egui::Rangef::new(0.0, 800.0), Stretch { from_mm: 0.0, to_mm: leg.length_mm });
        let curves = |leg_as: LegAs| -> Vec<usize> {
            let all = graphs(axis, &survey, &ranges, &project.limits, &Along::ALL, leg_as);
            all.iter().map(|graph| graph.curves.len()).collect()
        };
        assert_eq!(curves(LegAs::Drawn), [2, 1, 1, 1, 2, 2, 2, 2, 1, 1, 1]);
        assert_eq!(curves(LegAs::Sawn), [2, 1, 1, 1, 2, 2, 2, 2, 1, 1, 1]);
        assert_eq!(curves(LegAs::Both), [4, 2, 1, 1, 2, 4, 2, 2, 1, 2, 2]);
    }
}

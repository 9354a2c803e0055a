//! What is known along the leg, place by place: graphs, tables for other programs and the list of watch-outs all take their
//! figures from here.

use crate::survey::{Survey, Surveyed};
use crate::watch_outs::thin_wood;
use crate::{Concern, Cut, Limit, Limits, LoadResult, bending_left};

/// A quantity that has a figure at every place along the leg.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Along {
    /// Thickness square to each curve, mm.
    Thickness,
    /// The thinnest wood of any piece, mm.
    ThinWood,
    /// The smaller angle at which neighbouring sides meet, degrees.
    EdgeAngle,
    /// How steeply fibres run out of the sides, both cuts together, rise per length.
    GrainSlope,
    /// The slope of each saw line, offset per length.
    LineSlope,
    /// The radius to which each line bends, mm; as sawn, that of the inner wall of the kerf.
    BendRadius,
    /// The step at the seams that come from each cut, mm square to the surface. As sawn only.
    SeamStep,
    /// What kerf and sanding take of W and D, mm across the blank. As sawn only.
    Lost,
    /// The gap between the halves when they are closed up after the first cut, mm. As sawn only.
    Gap,
    /// Compression and bending together in the fibre that is pressed most under the load asked about, its safety factor
    /// included, MPa.
    Stress,
    /// The share of the strength that the load asked about uses, factors included, 0 to 1 and beyond.
    StrengthUsed,
}

/// What the figures of a quantity are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AlongUnit {
    /// Lengths, mm.
    Mm,
    /// Angles, degrees.
    Degrees,
    /// Rise per length.
    Slope,
    /// Stress, MPa.
    Mpa,
    /// A share, 0 to 1 and beyond.
    Share,
}

/// One curve of a quantity.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CurveOf {
    /// The cut it belongs to; none where both have one figure.
    pub cut: Option<Cut>,
    /// As the saw gives it, or as drawn.
    pub sawn: bool,
}

/// The cuts of a quantity that each cut has its own figure of.
const EACH: [Option<Cut>; 2] = [Some(Cut::First), Some(Cut::Second)];
/// Those of one that both share.
const BOTH: [Option<Cut>; 1] = [None];

impl Along {
    /// All of them.
    pub const ALL: [Along; 11] = [
        Along::Thickness,
        Along::ThinWood,
        Along::EdgeAngle,
        Along::GrainSlope,
        Along::LineSlope,
        Along::BendRadius,
        Along::SeamStep,
        Along::Lost,
        Along::Gap,
        Along::Stress,
        Along::StrengthUsed,
    ];

    /// What it is called on screen.
    pub fn name(self) -> &'static str {
        match self {
            Along::Thickness => "Thickness",
            Along::ThinWood => "Thinnest wood",
            Along::EdgeAngle => "Edge angle",
            Along::GrainSlope => "Slope of grain",
            Along::LineSlope => "Slope of lines",
            Along::BendRadius => "Bend radius",
            Along::SeamStep => "Step at seams",
            Along::Lost => "Wood lost",
            Along::Gap => "Gap of halves",
            Along::Stress => "Stress",
            Along::StrengthUsed => "Strength used",
        }
    }

    /// Its name in tables for other programs, without its unit.
    pub fn key(self) -> &'static str {
        match self {
            Along::Thickness => "thickness",
            Along::ThinWood => "thinnest_wood",
            Along::EdgeAngle => "edge_angle",
            Along::GrainSlope => "grain_slope",
            Along::LineSlope => "line_slope",
            Along::BendRadius => "bend_radius",
            Along::SeamStep => "seam_step",
            Along::Lost => "wood_lost",
            Along::Gap => "gap_of_halves",
            Along::Stress => "stress",
            Along::StrengthUsed => "strength_used",
        }
    }

    /// What its figures are.
    pub fn unit(self) -> AlongUnit {
        match self {
            Along::Thickness | Along::ThinWood | Along::BendRadius | Along::SeamStep | Along::Lost | Along::Gap => {
                AlongUnit::Mm
            }
            Along::EdgeAngle => AlongUnit::Degrees,
            Along::GrainSlope | Along::LineSlope => AlongUnit::Slope,
            Along::Stress => AlongUnit::Mpa,
            Along::StrengthUsed => AlongUnit::Share,
        }
    }

    /// Its curves for a surveyed leg: those as sawn only where a saw is told, the strength used only under a load.
    pub fn curves(self, survey: &Survey) -> Vec<CurveOf> {
        let has_saw = survey.saw().is_some();
        let (cuts, drawn, sawn): (&[Option<Cut>], bool, bool) = match self {
            Along::Thickness | Along::BendRadius => (&EACH, true, has_saw),
            Along::ThinWood => (&BOTH, true, has_saw),
            Along::EdgeAngle | Along::GrainSlope => (&BOTH, true, false),
            Along::LineSlope => (&EACH, true, false),
            Along::SeamStep | Along::Lost => (&EACH, false, has_saw),
            Along::Gap => (&BOTH, false, has_saw),
            Along::Stress | Along::StrengthUsed => {
                let bears = |result: &LoadResult| !result.used.is_empty();
                let drawn = survey.load_as_drawn().is_some_and(bears);
                (&BOTH, drawn, has_saw && survey.load().is_some_and(|(_, result)| bears(result)))
            }
        };
        let of = |sawn: bool| cuts.iter().map(move |cut| CurveOf { cut: *cut, sawn });
        let none = std::iter::empty;
        if drawn && sawn {
            of(false).chain(of(true)).collect()
        } else if drawn || sawn {
            of(sawn).chain(none()).collect()
        } else {
            Vec::new()
        }
    }

    /// The figure of one of its curves at a surveyed place; none where there is none, as of a straight line's radius.
    pub fn at(self, curve: CurveOf, place: &Surveyed, survey: &Survey) -> Option<f64> {
        let drawn = &place.drawn;
        let sawn = place.sawn.as_ref();
        let i = curve.cut.map_or(0, Cut::index);
        let figure = match (self, curve.sawn) {
            (Along::Thickness, false) => drawn.thickness_mm[i],
            (Along::Thickness, true) => sawn?.thickness_mm[i],
            (Along::ThinWood, sawn) => thin_wood::thinnest(place, survey, sawn).1,
            (Along::EdgeAngle, _) => drawn.edge_angle_deg,
            (Along::GrainSlope, _) => drawn.grain_slope,
            (Along::LineSlope, _) => [drawn.a_slope, drawn.b_slope][i],
            (Along::BendRadius, sawn) => {
                let curvature = [drawn.a_curvature_per_mm, drawn.b_curvature_per_mm][i].abs();
                let taken = if sawn { survey.sawn()?.taken_mm() } else { 0.0 };
                (curvature > 1e-9).then(|| (1.0 / curvature - taken).max(0.0))?
            }
            (Along::SeamStep, _) => sawn?.step_of_mm(curve.cut?),
            (Along::Lost, _) => survey.leg().across_mm(curve.cut?) - sawn?.size_mm[i],
            (Along::Gap, _) => sawn?.gap_mm,
            (Along::Stress, sawn) => loaded(survey, sawn)?.stress_at_mpa(drawn.s_mm)?,
            (Along::StrengthUsed, sawn) => loaded(survey, sawn)?.used_at(drawn.s_mm)?,
        };
        figure.is_finite().then_some(figure)
    }

    /// The watch-out that its figures are held against a limit for, where there is one.
    pub fn concern(self) -> Option<Concern> {
        match self {
            Along::Thickness => Some(Concern::Thickness),
            Along::ThinWood => Some(Concern::ThinWood),
            Along::EdgeAngle => Some(Concern::EdgeAngle),
            Along::GrainSlope => Some(Concern::ShortGrain),
            Along::BendRadius => Some(Concern::Bend),
            Along::SeamStep => Some(Concern::SeamStep),
            Along::Lost => Some(Concern::KerfLoss),
            Along::StrengthUsed => Some(Concern::Overload),
            Along::LineSlope | Along::Gap | Along::Stress => None,
        }
    }

    /// Its limits in its own unit, for a graph; of the cut where they differ between cuts.
    pub fn limits(self, cut: Option<Cut>, survey: &Survey, limits: &Limits) -> Option<Limit> {
        let across = match cut {
            Some(cut) => survey.leg().across_mm(cut),
            None => survey.leg().width_mm.min(survey.leg().depth_mm),
        };
        let each = |limit: Limit, of: &dyn Fn(f64) -> f64| Limit { look: of(limit.look), watch: of(limit.watch) };
        match self {
            Along::Thickness => Some(each(limits.thickness_share, &|share| share * across)),
            Along::ThinWood => Some(limits.thin_wood_mm),
            Along::EdgeAngle => Some(limits.edge_deg),
            Along::GrainSlope => Some(each(limits.strength_left, &slope_that_leaves)),
            Along::BendRadius => {
                let [least, most] = survey.saw()?.blade.least_radii_mm();
                Some(Limit { look: most, watch: least })
            }
            Along::SeamStep => Some(limits.step_mm),
            Along::Lost => Some(each(limits.kept_share, &|kept| (1.0 - kept) * across)),
            Along::StrengthUsed => Some(each(limits.bears_times, &|times| 1.0 / times.max(1e-6))),
            // What is left of the strength differs from place to place; the share used is held against the limit.
            Along::LineSlope | Along::Gap | Along::Stress => None,
        }
    }
}

/// What the leg bears, as sawn or as drawn.
fn loaded(survey: &Survey, sawn: bool) -> Option<&LoadResult> {
    if sawn { survey.load().map(|(_, result)| result) } else { survey.load_as_drawn() }
}

/// The slope of grain that leaves a share of the bending strength; the steepest that is looked at where none does.
fn slope_that_leaves(share: f64) -> f64 {
    let (mut gentle, mut steep) = (0.0_f64, 50.0_f64);
    for _ in 0..60 {
        let middle = (gentle + steep) / 2.0;
        if bending_left(middle) > share { gentle = middle } else { steep = middle }
    }
    (gentle + steep) / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Blank, Leg, Line, Load, Saw, Shape, ShapeKind, Strengths};

    fn survey(saw: bool) -> Survey {
        let line = Line::Shape(Shape::start(ShapeKind::Waves, 500.0, 50.0));
        let leg = Leg::new(&Blank::square(50.0, 500.0), &line, &line).unwrap();
        let told = Saw { tilt_first_deg: 0.5, ..Saw::default() };
        Survey::new(&leg, saw.then_some(&told), 65)
    }

    #[test]
    fn what_needs_a_saw_or_a_load_has_no_curve_without_one() {
        let curves = |survey: &Survey, along: Along| along.curves(survey).len();
        let (drawn, sawn) = (survey(false), survey(true));
        let counts = |survey: &Survey| Along::ALL.map(|along| curves(survey, along));
        assert_eq!(counts(&drawn), [2, 1, 1, 1, 2, 2, 0, 0, 0, 0, 0]);
        assert_eq!(counts(&sawn), [4, 2, 1, 1, 2, 4, 2, 2, 1, 0, 0]);
        let oak = Strengths { bending_mpa: 99.0, stiffness_mpa: 12_500.0, compression_mpa: 46.6 };
        let loaded = sawn.with_load(Load::default(), &oak);
        assert_eq!([curves(&loaded, Along::Stress), curves(&loaded, Along::StrengthUsed)], [2, 2]);
        for along in Along::ALL {
            for curve in along.curves(&loaded) {
                let figures = loaded.stations().iter().filter_map(|at| along.at(curve, at, &loaded));
                assert!(figures.count() > 60, "{along:?} {curve:?}");
            }
        }
    }

    /// A graph says the same as the watch-out of its concern: where the worst figure is beyond a limit in its own unit, the
    /// watch-out is told, and the other way round.
    #[test]
    fn graphs_and_watch_outs_agree_about_every_limit() {
        let tight = Line::Shape(Shape::Waves {
            waves: 4,
            swing_top: 30.0.into(),
            swing_foot: 30.0.into(),
            shortening: 1.0,
            aside: 0.0.into(),
        });
        let leg = Leg::new(&Blank::square(50.0, 320.0), &tight, &tight).unwrap();
        let saw = Saw { tilt_first_deg: 0.6, sanding: 0.3.into(), ..Saw::default() };
        let survey = Survey::new(&leg, Some(&saw), 257);
        let mut told = 0;
        for along in Along::ALL {
            let Some(concern) = along.concern().filter(|concern| *concern != Concern::Overload) else { continue };
            let limits = Limits::default();
            let sawn = along.curves(&survey).iter().any(|curve| curve.sawn) && along != Along::BendRadius;
            let beyond = along.curves(&survey).into_iter().filter(|curve| curve.sawn == sawn).any(|curve| {
                let limit = along.limits(curve.cut, &survey, &limits).unwrap();
                let less = limit.watch < limit.look;
                let figures = survey.stations().iter().filter_map(|at| along.at(curve, at, &survey));
                figures.into_iter().any(|figure| if less { figure < limit.look } else { figure > limit.look })
            });
            let watched = concern.check(&survey, &limits, crate::Units::Millimetres).is_some();
            assert_eq!(beyond, watched, "{along:?}");
            told += usize::from(watched);
        }
        assert!(told >= 5, "{told}");
    }

    #[test]
    fn a_slope_of_grain_and_what_it_leaves_are_each_others_inverse() {
        for share in [0.9, 0.55, 0.25, 0.14] {
            assert!((bending_left(slope_that_leaves(share)) - share).abs() < 1e-9);
        }
    }
}

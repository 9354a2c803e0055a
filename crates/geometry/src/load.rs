//! What a leg bears, to compare one shape with another. It certifies nothing: licensed practice and local rules decide.
//!
//! The model: the leg is a crooked column, pinned at both ends on the straight line from the middle of its top to the middle
//! of its foot. It is pressed along that line and pushed sideways; the joint at the end that is held takes the moment of the
//! push. Sections are those of the leg square to its curve, a parallelogram where both cuts slope, in a notch the three pieces
//! that are left, and without the pipe hole; what is not symmetric bends sideways too. The whole load and the whole moment are
//! held against them, as if they acted square to the section. The strength of the wood is reduced at every place for the
//! slope of the grain there. Compression and bending are added as shares of their strengths. The factors are the maker's.

use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::fit::{AreaProperties, WoodLeft};
use crate::square_section::square_to_curve;
use crate::{Borne, Column, ColumnLoad, ColumnStation, End, Survey, bending_left, compression_left};

/// How many stations the column has.
const STATIONS: usize = 97;

/// The model in words, with its sources and its limits, as it stands beside every figure that it gives.
pub const LOAD_MODEL: &str = "Crooked column pinned on the line from the middle of the top to the middle of the foot, with a \
    sideways push at a joint that holds; published strengths of clear wood, reduced for slope of grain (Wood Handbook, \
    Table 5-12). It compares shapes and certifies nothing: licensed practice and local rules decide.";

/// A load that a leg is judged by.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Load {
    /// Down on the top, N.
    pub down_n: f64,
    /// Sideways, N, whichever way is worst.
    pub push_n: f64,
    /// The end whose joint takes the moment of the push: the top of a table's leg, the foot of a post in the ground.
    pub held: End,
    /// The share of its short-term strength that wood keeps under a load that stays: about 0.6 for ten years (Wood Handbook,
    /// ch. 5, from memory).
    pub duration: f64,
    /// By how much the loads are multiplied before they are held against the strength. Our own choice: strengths are means
    /// of clear specimens.
    pub safety: f64,
}

/// A figure that no load has.
#[derive(Clone, Debug, PartialEq, Error)]
#[error("the load's {what} is {value}: it must be {least} to {most}")]
pub struct LoadError {
    /// Which figure.
    pub what: &'static str,
    /// What it is.
    pub value: f64,
    /// The least it may be.
    pub least: f64,
    /// The most it may be.
    pub most: f64,
}

/// The published strengths of a wood, means of small clear specimens at 12 % moisture, MPa.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strengths {
    /// Modulus of rupture.
    pub bending_mpa: f64,
    /// Modulus of elasticity.
    pub stiffness_mpa: f64,
    /// Compression along the grain.
    pub compression_mpa: f64,
}

/// What a leg bears.
#[derive(Clone, Debug, PartialEq)]
pub struct LoadResult {
    /// The load down at which the worst place uses all that the factors leave of its strength, N, the push being there too.
    pub bears_n: f64,
    /// Where that place is, mm from the top.
    pub worst_mm: f64,
    /// The load at which the leg would buckle, factors apart, N.
    pub buckles_n: f64,
    /// Length over least radius of gyration.
    pub slenderness: f64,
    /// (from the top in mm, share of the strength used) under the load that was asked about, factors included; nothing where
    /// it would buckle.
    pub used: Vec<[f64; 2]>,
    /// (from the top in mm, compression in MPa, bending in MPa) under the same load, whichever way of the push uses most of
    /// the strength there; nothing where it would buckle.
    pub stress_mpa: Vec<[f64; 3]>,
}

impl LoadResult {
    /// The share of the strength used at a place, straight between the places it was worked out for; nothing where the leg
    /// would buckle.
    pub fn used_at(&self, s_mm: f64) -> Option<f64> {
        between(&self.used, s_mm, |[at, used]| [*at, *used])
    }

    /// Compression and bending together, MPa, in the same way.
    pub fn stress_at_mpa(&self, s_mm: f64) -> Option<f64> {
        between(&self.stress_mpa, s_mm, |[at, pressed, bent]| [*at, pressed + bent])
    }
}

/// The figure at a place, straight between those on either side.
fn between<T>(all: &[T], s_mm: f64, of: impl Fn(&T) -> [f64; 2]) -> Option<f64> {
    let next = all.partition_point(|one| of(one)[0] < s_mm).clamp(1, all.len().checked_sub(1)?.max(1));
    let ([from, before], [to, after]) = (of(all.get(next - 1)?), of(all.get(next)?));
    let share = if to > from { ((s_mm - from) / (to - from)).clamp(0.0, 1.0) } else { 0.0 };
    Some(before + share * (after - before))
}

impl Default for Load {
    fn default() -> Load {
        Load { down_n: 500.0, push_n: 50.0, held: End::Top, duration: 0.6, safety: 3.0 }
    }
}

impl Load {
    /// Checks that every figure is one that a load has.
    ///
    /// # Errors
    /// [`LoadError`] names the first that is not, NaN included.
    pub fn check(&self) -> Result<(), LoadError> {
        let figures = [
            ("load down, in N,", self.down_n, 1.0, 1e6),
            ("push, in N,", self.push_n, 0.0, 1e6),
            ("duration factor", self.duration, 0.05, 1.0),
            ("safety factor", self.safety, 1.0, 20.0),
        ];
        for (what, value, least, most) in figures {
            if !(least..=most).contains(&value) {
                return Err(LoadError { what, value, least, most });
            }
        }
        Ok(())
    }

    /// What the surveyed leg bears, as sawn where a saw is told.
    pub fn on(&self, survey: &Survey, strengths: &Strengths) -> LoadResult {
        self.borne(survey, strengths, survey.saw().is_some())
    }

    /// What the surveyed leg would bear as drawn, whatever saw is told.
    pub fn on_drawn(&self, survey: &Survey, strengths: &Strengths) -> LoadResult {
        self.borne(survey, strengths, false)
    }

    fn borne(&self, survey: &Survey, strengths: &Strengths, sawn: bool) -> LoadResult {
        let column = column(survey, strengths, self.duration, sawn);
        let with = |down_n: f64, plane: usize, sign: f64| {
            let moment = sign * self.safety * self.push_n * column.length_mm;
            let moment_nmm = if plane == 0 { [moment, 0.0] } else { [0.0, moment] };
            ColumnLoad { down_n: self.safety * down_n, moment_nmm, at_foot: self.held == End::Foot }
        };
        let buckles_n = column.buckles_n();
        let ways = [(0, 1.0), (0, -1.0), (1, 1.0), (1, -1.0)];
        let borne = ways.map(|(plane, sign)| column.bears(buckles_n, |down| with(down, plane, sign)));
        // Several ways may bear nothing: of those the one that uses most is told.
        let least =
            |a: Borne, b: Borne| if b.load_n < a.load_n || b.load_n <= a.load_n && b.used > a.used { b } else { a };
        let start = Borne { load_n: f64::INFINITY, station: 0, used: 0.0 };
        let Borne { load_n: bears_n, station: worst, .. } = borne.into_iter().fold(start, least);
        let station = |i: usize| survey.leg().length_mm * i as f64 / (STATIONS - 1) as f64;
        // The share used and the stress, where the push that is worst there makes them.
        let mut most = vec![(0.0_f64, [0.0_f64; 2]); STATIONS];
        for (plane, sign) in ways {
            let load = with(self.down_n, plane, sign);
            if load.down_n >= buckles_n {
                most.clear();
                break;
            }
            let stress = column.stress_below_buckling(&load);
            for (most, one) in most.iter_mut().zip(column.used_under(&stress).into_iter().zip(stress)) {
                if one.0 > most.0 {
                    *most = one;
                }
            }
        }
        let gyration = column
            .stations
            .iter()
            .flat_map(|at| at.inertia_mm4.map(|inertia| (inertia / at.area_mm2).sqrt()))
            .fold(f64::INFINITY, f64::min);
        LoadResult {
            bears_n,
            worst_mm: station(worst),
            buckles_n,
            slenderness: column.length_mm / gyration,
            used: most.iter().enumerate().map(|(i, (used, _))| [station(i), *used]).collect(),
            stress_mpa: most
                .iter()
                .enumerate()
                .map(|(i, (_, [pressed, bent]))| [station(i), *pressed, *bent])
                .collect(),
        }
    }
}

fn column(survey: &Survey, strengths: &Strengths, duration: f64, sawn: bool) -> Column {
    let leg = survey.leg();
    let blank = [leg.width_mm, leg.depth_mm];
    let middle = |s: f64| [leg.width_mm / 2.0 - leg.a(s), leg.depth_mm / 2.0 - leg.b(s)];
    let (top, foot) = (middle(0.0), middle(leg.length_mm));
    let stations = (0..STATIONS)
        .map(|i| {
            let share = i as f64 / (STATIONS - 1) as f64;
            let s = leg.length_mm * share;
            let here = middle(s);
            let (drawn, size_mm) = if sawn {
                let at = survey.measure(s);
                (at.drawn, at.sawn.map_or(blank, |sawn| sawn.size_mm))
            } else {
                (leg.station(s), blank)
            };
            let size_mm = size_mm.map(|mm| mm.max(0.01));
            let slopes = drawn.slopes_within(blank);
            let left = wood_left(survey, s, [size_mm[0] / blank[0], size_mm[1] / blank[1]])
                .unwrap_or_else(|| vec![whole(size_mm)]);
            let left: Vec<Vec<[f64; 2]>> = left.into_iter().map(|outline| square_to_curve(&outline, slopes)).collect();
            let section = AreaProperties::of_polygons(left.iter().map(Vec::as_slice));
            let bending = section.bending(left.iter().flatten().copied());
            // The middle of what is left, from the middle of the whole.
            let off_mm = [0, 1].map(|p| here[p] - top[p] - share * (foot[p] - top[p]) + section.centroid_mm[p]);
            let area_mm2 = section.area_mm2.max(1e-4);
            let inertia_mm4 = bending.stiffness_mm4.map(|mm4| mm4.max(1e-8));
            let modulus_mm3 = bending.modulus_mm3.map(|mm3| mm3.max(1e-6));
            ColumnStation {
                off_mm,
                area_mm2,
                inertia_mm4,
                modulus_mm3,
                bending_left: bending_left(drawn.grain_slope),
                compression_left: compression_left(drawn.grain_slope),
            }
        })
        .collect();
    let run = [0, 1].map(|p| foot[p] - top[p]);
    Column {
        length_mm: leg.length_mm.hypot(run[0].hypot(run[1])),
        stations,
        stiffness_mpa: strengths.stiffness_mpa,
        bending_mpa: duration * strengths.bending_mpa,
        compression_mpa: duration * strengths.compression_mpa,
    }
}

/// A level section of these sizes about its middle.
fn whole([across, deep]: [f64; 2]) -> Vec<[f64; 2]> {
    [[-0.5, -0.5], [0.5, -0.5], [0.5, 0.5], [-0.5, 0.5]].map(|[u, v]| [u * across, v * deep]).to_vec()
}

/// The outlines of the wood that is left of the level section at `s`, about the middle of the whole, each way as much thinner
/// than drawn as `share` says; nothing where nothing is taken out. A notch counts for the station nearest to any of it, so
/// that none is missed between two.
fn wood_left(survey: &Survey, s: f64, share: [f64; 2]) -> Option<Vec<Vec<[f64; 2]>>> {
    let (leg, fit) = (survey.leg(), survey.fit());
    let half = 0.5 * leg.length_mm / (STATIONS - 1) as f64;
    let notched = fit.notches.iter().any(|notch| {
        let [from, to] = notch.span_mm();
        from <= s + half && to >= s - half
    });
    if !notched && fit.pipe.is_none() {
        return None;
    }
    let left = WoodLeft::with(leg, fit, s, notched);
    let middle = [leg.width_mm / 2.0 - leg.a(s), leg.depth_mm / 2.0 - leg.b(s)];
    let about = |corner: [f64; 2]| [0, 1].map(|p| (corner[p] - middle[p]) * share[p]);
    Some(left.pieces.into_iter().map(|(_, outline)| outline.into_iter().map(about).collect()).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Blank, Leg, Line, Shape};

    const OAK: Strengths = Strengths { bending_mpa: 99.0, stiffness_mpa: 12_500.0, compression_mpa: 46.6 };

    fn bears(shape: Shape, load: Load) -> LoadResult {
        let line = Line::Shape(shape);
        let leg = Leg::new(&Blank::square(45.0, 700.0), &line, &line).unwrap();
        load.on(&Survey::new(&leg, None, 129), &OAK)
    }

    fn arch(rise: f64) -> Shape {
        Shape::Arch { rise: rise.into(), crest: 0.5, aside: 0.0.into() }
    }

    /// A straight leg without a push is pressed only: it bears C∥ · A · duration / safety, unless it buckles first.
    #[test]
    fn a_straight_leg_bears_what_its_section_bears() {
        let load = Load { push_n: 0.0, ..Load::default() };
        let straight = bears(Shape::Straight { aside: 0.0.into() }, load);
        let pressed: f64 = 46.6 * 45.0 * 45.0 * 0.6 / 3.0;
        assert!((straight.bears_n / pressed - 1.0).abs() < 1e-6, "{straight:?}");
        let euler = std::f64::consts::PI.powi(2) * 12_500.0 * 45.0_f64.powi(4) / 12.0 / (700.0 * 700.0);
        assert!((straight.buckles_n / euler - 1.0).abs() < 1e-3, "{} {euler}", straight.buckles_n);
        // Under the 500 N of the load, three times: 1500 N on 45 by 45 mm, and nothing bends.
        let [s, pressed, bent] = straight.stress_mpa[40];
        assert!((pressed - 1500.0 / 2025.0).abs() < 1e-9 && bent.abs() < 1e-9 && s > 0.0, "{pressed} {bent}");
        assert!((straight.stress_at_mpa(123.0).unwrap() - 1500.0 / 2025.0).abs() < 1e-9);
        assert!((straight.slenderness - 700.0 / (45.0 / 12.0_f64.sqrt())).abs() < 1e-6);
    }

    #[test]
    fn the_farther_it_wanders_the_less_it_bears_and_the_worst_place_is_the_crest() {
        let load = Load { push_n: 0.0, ..Load::default() };
        let borne = [0.0, 6.0, 12.0, 20.0].map(|rise| bears(arch(rise), load).bears_n);
        assert!(borne.windows(2).all(|pair| pair[1] < 0.8 * pair[0]), "{borne:?}");
        assert!((bears(arch(12.0), load).worst_mm - 350.0).abs() < 60.0);
        let pushed = bears(arch(6.0), Load { push_n: 100.0, ..load });
        assert!(pushed.bears_n < borne[1]);
        // Alone, a push is worst at the joint that holds the leg.
        let most = |held: End| {
            let used = bears(arch(0.0), Load { down_n: 1.0, push_n: 100.0, held, ..load }).used;
            used.into_iter().fold([0.0; 2], |most, one| if one[1] > most[1] { one } else { most })[0]
        };
        assert_eq!([most(End::Top), most(End::Foot)], [0.0, 700.0]);
    }

    /// A straight leg of 50 mm with an L left in a notch, pressed along its middle: the L's own middle is off that line by
    /// e = 50/12 (a square less a quarter: moments), and stress is P/A (1 + e A / S + e A / S), S from unsymmetrical bending.
    #[test]
    fn a_notch_bears_what_its_l_bears() {
        use crate::Piece;
        use crate::fit::{AreaProperties, Fit, Notch};
        let straight = Line::Shape(Shape::Straight { aside: 0.0.into() });
        let leg = Leg::new(&Blank::square(50.0, 400.0), &straight, &straight).unwrap();
        let load = Load { push_n: 0.0, ..Load::default() };
        let survey = Survey::new(&leg, None, 65);
        let plain = load.on(&survey, &OAK);
        let borne = Piece::ALL.map(|inside| {
            let fit = Fit { inside, notches: vec![Notch::shelf(190.0, 18.0, 0.0)], ..Fit::default() };
            let result = load.on(&survey.clone().with_fit(&fit), &OAK);
            assert!((result.worst_mm - 199.0).abs() < 15.0, "in the notch: {result:?}");
            result.bears_n
        });
        assert!(borne.iter().all(|n| (n / borne[0] - 1.0).abs() < 1e-9), "a square has four alike: {borne:?}");
        // Three squares of 25 mm about the whole's middle.
        let squares = [[-25.0, 0.0], [0.0, 0.0], [0.0, -25.0]]
            .map(|[u, v]| [[u, v], [u + 25.0, v], [u + 25.0, v + 25.0], [u, v + 25.0]]);
        let section = AreaProperties::of_polygons(squares.iter().map(|square| square.as_slice()));
        let e = 50.0 / 12.0;
        assert!((section.centroid_mm[0] - e).abs() < 1e-9 && (section.centroid_mm[1] - e).abs() < 1e-9);
        let modulus = section.bending(squares.into_iter().flatten()).modulus_mm3[0];
        let pressed = 1.0 / (46.6 * section.area_mm2);
        let bent = 2.0 * e / (99.0 * modulus);
        let by_hand = 0.6 / 3.0 / (pressed + bent);
        // The leg bends a little more under the load than this counts.
        assert!(borne[0] < by_hand && borne[0] > 0.93 * by_hand, "{} {by_hand}", borne[0]);
        assert!(borne[0] < 0.6 * plain.bears_n, "{} {}", borne[0], plain.bears_n);
    }

    /// Pushed so hard that it bears nothing, the place told is where the share used is greatest with hardly a load down,
    /// whichever way the push is worst: on a blank deeper than wide, curved in one face only.
    #[test]
    fn a_push_that_is_too_much_alone_is_told_where_it_uses_most() {
        let blank = Blank { depth: 62.0.into(), ..Blank::square(45.0, 700.0) };
        let cyma = Line::Shape(Shape::Cyma { swing: 30.0.into(), turn: 0.4, aside: 0.0.into() });
        for (first, second) in [(arch(14.0), arch(0.0)), (arch(0.0), arch(20.0))] {
            for line in [Line::Shape(first), cyma.clone()] {
                for held in End::ALL {
                    let leg = Leg::new(&blank, &line, &Line::Shape(second.clone())).unwrap();
                    let load = Load { down_n: 1.0, push_n: 5000.0, held, ..Load::default() };
                    let result = load.on(&Survey::new(&leg, None, 129), &OAK);
                    let most =
                        result.used.iter().fold([0.0; 2], |most, one| if one[1] > most[1] { *one } else { most });
                    assert_eq!(result.bears_n, 0.0);
                    assert!(most[1] > 1.0 && (result.worst_mm - most[0]).abs() < 1e-9, "{} {most:?}", result.worst_mm);
                }
            }
        }
    }

    #[test]
    fn under_what_it_bears_all_of_its_strength_is_used() {
        let load = Load { down_n: 1.0, ..Load::default() };
        let at_limit = bears(arch(9.0), Load { down_n: bears(arch(9.0), load).bears_n, ..load });
        let most = at_limit.used.iter().map(|[_, used]| *used).fold(0.0, f64::max);
        assert!((most - 1.0).abs() < 1e-6, "{most}");
        assert_eq!(Load { safety: f64::NAN, ..load }.check().unwrap_err().what, "safety factor");
    }
}

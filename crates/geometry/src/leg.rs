//! The finished leg, from the blank and the two saw lines.

use kurbo::CubicBez;
use thiserror::Error;

use crate::saw_line::LineAt;
use crate::{Blank, BlankError, Cut, Face, Line, SawLine, SawLineError, Section, Solved, Untrue};

/// Stations closer than this are one, mm.
const SAME_STATION_MM: f64 = 1e-6;

/// A leg ready to be measured: sizes of its blank, mm, and its two saw lines.
#[derive(Clone, Debug, PartialEq)]
pub struct Leg {
    /// W, mm.
    pub width_mm: f64,
    /// D, mm.
    pub depth_mm: f64,
    /// L, finished, mm.
    pub length_mm: f64,
    /// Spare length beyond the top, mm.
    pub spare_top_mm: f64,
    /// Spare length beyond the foot, mm.
    pub spare_foot_mm: f64,
    /// How far the blank is from square and parallel. The leg as drawn is that of a true blank; the leg as sawn is not.
    pub untrue: Untrue,
    /// a(s).
    pub first: SawLine,
    /// b(s).
    pub second: SawLine,
}

/// Why there is no leg.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum LegError {
    /// The blank has a size that no blank has.
    #[error(transparent)]
    Blank(#[from] BlankError),
    /// The points of a cut make no saw line.
    #[error("{cut}: {source}")]
    Line {
        /// Which cut.
        cut: Cut,
        /// What is wrong with it.
        source: SawLineError,
    },
}

/// The leg at one distance from the top.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Station {
    /// From the top, mm.
    pub s_mm: f64,
    /// First cut's line as drawn, mm from arris 1; outside 0..=W where it leaves the blank.
    pub a_mm: f64,
    /// Second cut's line as drawn, mm from arris 2.
    pub b_mm: f64,
    /// da/ds as drawn.
    pub a_slope: f64,
    /// db/ds as drawn.
    pub b_slope: f64,
    /// Curvature of a as drawn, per mm, with the sign of its second derivative.
    pub a_curvature_per_mm: f64,
    /// Curvature of b as drawn, per mm.
    pub b_curvature_per_mm: f64,
    /// The smaller of the two interior angles at which neighbouring sides meet, degrees; 90 where either is flat.
    pub edge_angle_deg: f64,
    /// W and D of the leg measured square to each curve, mm.
    pub thickness_mm: [f64; 2],
    /// How steeply the fibres run out of the sides, both cuts together: sqrt(a'² + b'²), rise per length, of the lines held
    /// within the blank. Two slopes on neighbouring faces combine so: Wood Handbook (FPL-GTR-190), ch. 5.
    pub grain_slope: f64,
}

impl Station {
    /// da/ds and db/ds of the lines held within a blank of this width and depth: where a line has left it, the surface is the
    /// blank's own flat face.
    pub fn slopes_within(&self, [width_mm, depth_mm]: [f64; 2]) -> [f64; 2] {
        let within = |slope: f64, offset: f64, across: f64| if (0.0..=across).contains(&offset) { slope } else { 0.0 };
        [within(self.a_slope, self.a_mm, width_mm), within(self.b_slope, self.b_mm, depth_mm)]
    }
}

impl Leg {
    /// The leg that two lines give from a blank. The second may be linked to the first.
    ///
    /// # Errors
    /// [`LegError`] where the blank or a line is not sound.
    pub fn new(blank: &Blank, first: &Line, second: &Line) -> Result<Leg, LegError> {
        blank.check()?;
        let (width_mm, depth_mm, length_mm) = (blank.width.mm(), blank.depth.mm(), blank.length.mm());
        let solve = |cut: Cut, line: &Line, across: f64| {
            line.solve(length_mm, across).map_err(|source| LegError::Line { cut, source })
        };
        Ok(Leg {
            width_mm,
            depth_mm,
            length_mm,
            spare_top_mm: blank.spare_top.mm(),
            spare_foot_mm: blank.spare_foot.mm(),
            untrue: blank.out_of_true.solved(),
            first: solve(Cut::First, first, width_mm)?,
            second: solve(Cut::Second, &second.own(first, blank), depth_mm)?,
        })
    }

    /// The line of a cut.
    pub fn line(&self, cut: Cut) -> &SawLine {
        match cut {
            Cut::First => &self.first,
            Cut::Second => &self.second,
        }
    }

    /// How far the face of a cut is across, mm: W for the first cut, D for the second.
    pub fn across_mm(&self, cut: Cut) -> f64 {
        match cut {
            Cut::First => self.width_mm,
            Cut::Second => self.depth_mm,
        }
    }

    /// How far a face is across, mm: W for faces 1 and 3, D for faces 2 and 4.
    pub fn face_mm(&self, face: Face) -> f64 {
        match face {
            Face::One | Face::Three => self.width_mm,
            Face::Two | Face::Four => self.depth_mm,
        }
    }

    /// First cut's offset at `s`, mm, held within the blank.
    pub fn a(&self, s: f64) -> f64 {
        self.first.offset(s).clamp(0.0, self.width_mm)
    }

    /// Second cut's offset at `s`, mm, held within the blank.
    pub fn b(&self, s: f64) -> f64 {
        self.second.offset(s).clamp(0.0, self.depth_mm)
    }

    /// Everything measured at `s`; at a sharp point, of the part toward the top.
    pub fn station(&self, s: f64) -> Station {
        self.station_from(s, self.first.at(s), self.second.at(s))
    }

    /// [`Leg::station`] for a caller that has measured both lines there.
    pub(crate) fn station_from(&self, s: f64, a: LineAt, b: LineAt) -> Station {
        // Where the line has left the blank the surface is the blank's own flat face.
        let slope_within = |slope: f64, offset: f64, across: f64| {
            if (0.0..=across).contains(&offset) { slope } else { 0.0 }
        };
        let a_within = slope_within(a.slope, a.offset, self.width_mm);
        let b_within = slope_within(b.slope, b.offset, self.depth_mm);
        Station {
            s_mm: s,
            a_mm: a.offset,
            b_mm: b.offset,
            a_slope: a.slope,
            b_slope: b.slope,
            a_curvature_per_mm: a.curvature,
            b_curvature_per_mm: b.curvature,
            edge_angle_deg: edge_angle_deg(a_within, b_within),
            thickness_mm: [self.width_mm / a_within.hypot(1.0), self.depth_mm / b_within.hypot(1.0)],
            grain_slope: a_within.hypot(b_within),
        }
    }

    /// The level section at `s`.
    pub fn section(&self, s: f64) -> Section {
        Section::new(self.width_mm, self.depth_mm, self.a(s), self.b(s))
    }

    /// Volume, mm³. Sawing and rotating add and take nothing, so it is the blank's own: every level section is W by D.
    pub fn volume_mm3(&self) -> f64 {
        self.width_mm * self.depth_mm * self.length_mm
    }

    /// Centre of mass of the finished leg (u, v, s), mm, for wood of one density; exact, because the mean of a cubic
    /// chain is a polynomial integral.
    pub fn centre_of_mass_mm(&self) -> [f64; 3] {
        let mean = |line: &SawLine, across: f64| {
            let area: f64 = line.pieces_within(0.0, across).iter().map(area_below).sum();
            area / self.length_mm
        };
        [
            self.width_mm / 2.0 - mean(&self.first, self.width_mm),
            self.depth_mm / 2.0 - mean(&self.second, self.depth_mm),
            self.length_mm / 2.0,
        ]
    }

    /// The straight column of unbroken grain from top to foot: (W - swing of a) by (D - swing of b), mm.
    pub fn core_mm(&self) -> [f64; 2] {
        let left = |line: &SawLine, across: f64| {
            let extent = line.extent();
            across - (extent.most.clamp(0.0, across) - extent.least.clamp(0.0, across))
        };
        [left(&self.first, self.width_mm), left(&self.second, self.depth_mm)]
    }

    /// `count` stations, evenly spaced, both ends among them; at least two.
    pub fn uniform_stations(&self, count: usize) -> Vec<f64> {
        let steps = count.max(2) - 1;
        (0..=steps).map(|i| self.length_mm * (i as f64 / steps as f64)).collect()
    }

    /// Stations between which straight slabs stay within `tolerance_mm` of both lines, measured across the blank: ends,
    /// joints, sharp points and the places where a line leaves the blank among them.
    pub fn stations_within(&self, tolerance_mm: f64) -> Vec<f64> {
        let mut stations = Vec::new();
        for cut in Cut::ALL {
            let line = self.line(cut);
            stations.extend(line.stations(tolerance_mm));
            let extent = line.extent();
            for bound in [0.0, self.across_mm(cut)] {
                if extent.least < bound && extent.most > bound {
                    stations.extend(line.crossings(bound));
                }
            }
        }
        stations.sort_by(f64::total_cmp);
        stations.dedup_by(|next, kept| *next - *kept <= SAME_STATION_MM);
        // Dropping a near-double must never move the foot.
        if let Some(last) = stations.last_mut() {
            *last = self.length_mm;
        }
        stations
    }

    /// The leg as planar slabs between `stations` (strictly increasing, mm from the top).
    pub fn solve(&self, stations: &[f64]) -> Solved {
        Solved {
            width_mm: self.width_mm,
            depth_mm: self.depth_mm,
            s: stations.to_vec(),
            a: stations.iter().map(|s| self.a(*s)).collect(),
            b: stations.iter().map(|s| self.b(*s)).collect(),
        }
    }
}

/// The smaller interior angle, degrees, between neighbouring sides whose lines have these slopes.
fn edge_angle_deg(a_slope: f64, b_slope: f64) -> f64 {
    (a_slope * b_slope / (a_slope.hypot(1.0) * b_slope.hypot(1.0))).abs().min(1.0).acos().to_degrees()
}

/// ∫ offset ds over a cubic, exactly: the integrand c(t) s'(t) has degree 5, and Gauss's rule with three points is exact
/// to that degree.
fn area_below(segment: &CubicBez) -> f64 {
    use kurbo::{ParamCurve, ParamCurveDeriv};
    const HALF_SPAN: f64 = 0.387_298_334_620_741_7; // sqrt(3/5) / 2
    let rate = segment.deriv();
    [(0.5 - HALF_SPAN, 5.0 / 18.0), (0.5, 8.0 / 18.0), (0.5 + HALF_SPAN, 5.0 / 18.0)]
        .iter()
        .map(|(t, weight)| weight * segment.eval(*t).y * rate.eval(*t).x)
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Shape, ShapeKind};
    use approx::assert_relative_eq;

    fn leg(first: ShapeKind, second: ShapeKind) -> Leg {
        let blank = Blank { depth: 40.0.into(), ..Blank::square(50.0, 700.0) };
        Leg::new(
            &blank,
            &Line::Shape(Shape::start(first, 700.0, 50.0)),
            &Line::Shape(Shape::start(second, 700.0, 40.0)),
        )
        .unwrap()
    }

    #[test]
    fn centre_of_mass_agrees_with_fine_slabs() {
        let leg = leg(ShapeKind::Cyma, ShapeKind::Waves);
        let n = 200_000;
        let mean = |f: &dyn Fn(f64) -> f64| {
            (0..n).map(|i| f(700.0 * (f64::from(i) + 0.5) / f64::from(n))).sum::<f64>() / f64::from(n)
        };
        let centre = leg.centre_of_mass_mm();
        assert_relative_eq!(centre[0], 25.0 - mean(&|s| leg.a(s)), epsilon = 1e-8);
        assert_relative_eq!(centre[1], 20.0 - mean(&|s| leg.b(s)), epsilon = 1e-8);
        assert_eq!(centre[2], 350.0);
    }

    #[test]
    fn slabs_hold_the_blanks_volume() {
        let leg = leg(ShapeKind::PostAndKnee, ShapeKind::Arch);
        for n in [2, 3, 17, 512] {
            assert_relative_eq!(
                leg.solve(&leg.uniform_stations(n)).volume_mm3(),
                leg.volume_mm3(),
                max_relative = 1e-12
            );
        }
    }

    #[test]
    fn stations_within_a_tolerance_hold_sharp_points_and_both_ends() {
        let leg = leg(ShapeKind::PostAndKnee, ShapeKind::Cyma);
        let stations = leg.stations_within(0.05);
        let sharp = leg.first.sharp_point().unwrap();
        assert_eq!((stations[0], stations[stations.len() - 1]), (0.0, 700.0));
        assert!(stations.iter().any(|s| (s - sharp).abs() < 1e-9));
        assert!(stations.windows(2).all(|pair| pair[1] > pair[0]));
        let solved = leg.solve(&stations);
        for i in 1..stations.len() {
            let middle = 0.5 * (stations[i - 1] + stations[i]);
            assert!((leg.a(middle) - 0.5 * (solved.a[i - 1] + solved.a[i])).abs() < 0.05);
            assert!((leg.b(middle) - 0.5 * (solved.b[i - 1] + solved.b[i])).abs() < 0.05);
        }
    }

    /// Wood Handbook (FPL-GTR-190), ch. 5, its example of two slopes on neighbouring faces: a spiral of 1 in 12 (seen in the
    /// source) with a diagonal of 1 in 18 (from memory) is 1 in 10 together.
    #[test]
    fn two_slopes_of_grain_combine_as_in_the_handbook() {
        let line = |slope: f64| {
            let points =
                [0.0, 200.0].map(|s| crate::Point::smooth(1 + s as u32, s, 20.0 + slope * s, slope, 60.0, 60.0));
            Line::Points(points.to_vec())
        };
        let leg = Leg::new(&Blank::square(50.0, 200.0), &line(1.0 / 12.0), &line(1.0 / 18.0)).unwrap();
        assert_relative_eq!(leg.station(100.0).grain_slope, 1.0 / 10.0, epsilon = 2e-4);
    }

    #[test]
    fn core_is_what_every_section_shares() {
        let leg = leg(ShapeKind::Cyma, ShapeKind::Arch);
        let (mut least, mut most) = (f64::NEG_INFINITY, f64::INFINITY);
        for s in leg.uniform_stations(20_001) {
            least = least.max(-leg.a(s));
            most = most.min(leg.width_mm - leg.a(s));
        }
        assert_relative_eq!(leg.core_mm()[0], most - least, epsilon = 1e-5);
    }

    #[test]
    fn edge_angles_are_those_of_the_side_normals() {
        let leg = leg(ShapeKind::Cyma, ShapeKind::Waves);
        for s in leg.uniform_stations(50) {
            let at = leg.station(s);
            let (n1, n2) = ([1.0, 0.0, at.a_slope], [0.0, 1.0, at.b_slope]);
            let dot: f64 = n1[2] * n2[2];
            let length = |n: [f64; 3]| n.iter().map(|c| c * c).sum::<f64>().sqrt();
            let between = (dot / (length(n1) * length(n2))).acos().to_degrees();
            assert_relative_eq!(at.edge_angle_deg, between.min(180.0 - between), epsilon = 1e-9);
        }
    }
}

//! The facets of the finished leg as the saw gives it.

use crate::{Facet, FacetCorner, Facets, Leg, SawnLeg};

/// Where the corners of a finished leg's facets lie once it is sawn.
///
/// Every piece stays in its own quadrant round the axis, so what hides what is the same as of the leg as drawn, and its
/// facets are painted in the same order.
#[derive(Clone, Debug, PartialEq)]
pub struct SawnFacets {
    /// For each station of the facets, of each piece: how far it reaches as drawn (u, v), and its four corners as sawn, the
    /// axis first, then that along u, the outer one, and that along v.
    levels: Vec<[Reach; 4]>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
struct Reach {
    drawn: [f64; 2],
    sawn: [[f64; 2]; 4],
}

impl SawnFacets {
    /// For the facets of a finished leg.
    pub fn new(facets: &Facets, leg: &Leg, sawn: &SawnLeg) -> SawnFacets {
        let level = |s: f64| {
            let (drawn, sawn) = (leg.section(s), sawn.at(s));
            let reach = |piece: usize| {
                let [_, p, outer, q] = sawn.pieces[piece];
                // Counter-clockwise from the axis begins along u or along v, quadrant by quadrant.
                let (along_u, along_v) = if outer[0] * outer[1] < 0.0 { (q, p) } else { (p, q) };
                Reach { drawn: drawn.pieces[piece][2], sawn: [[0.0, 0.0], along_u, outer, along_v] }
            };
            [reach(0), reach(1), reach(2), reach(3)]
        };
        SawnFacets { levels: facets.stations().map(level).collect() }
    }

    /// A facet of the finished leg as drawn, moved to where it is as sawn.
    pub fn of(&self, facet: &Facet, facets_s: [f64; 2]) -> Facet {
        let level = |s: f64| {
            let foot = (s - facets_s[0]).abs() > (s - facets_s[1]).abs();
            self.levels.get(facet.slab as usize + usize::from(foot)).map(|level| level[facet.piece.index()])
        };
        let moved = |corner: FacetCorner| {
            let [u, v, s] = corner.at;
            let Some(Reach { drawn, sawn }) = level(s) else { return corner };
            let share = |at: f64, of: f64| if of.abs() > 1e-9 { (at / of).clamp(0.0, 1.0) } else { 0.0 };
            let (p, q) = (share(u, drawn[0]), share(v, drawn[1]));
            let weights = [(1.0 - p) * (1.0 - q), p * (1.0 - q), p * q, (1.0 - p) * q];
            let mixed = |i: usize| weights.iter().zip(sawn).map(|(weight, at)| weight * at[i]).sum::<f64>();
            FacetCorner { at: [mixed(0), mixed(1), s], ..corner }
        };
        Facet { corners: facet.corners.map(moved), ..*facet }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Blank, Camera, Line, Opening, Saw, Shape, ShapeKind, draw_order};

    #[test]
    fn facets_as_sawn_have_their_corners_on_the_sawn_sections() {
        let line = Line::Shape(Shape::start(ShapeKind::Cyma, 500.0, 50.0));
        let leg = Leg::new(&Blank::square(50.0, 500.0), &line, &line).unwrap();
        let saw = Saw { tilt_first_deg: 1.0, tilt_second_deg: -0.5, sanding: 0.4.into(), ..Saw::default() };
        let sawn = SawnLeg::new(&leg, &saw);
        let solved = leg.solve(&leg.uniform_stations(21));
        let facets = Facets::new(&solved, &Opening::new(&solved, 1.0));
        let stations: Vec<f64> = facets.stations().collect();
        let as_sawn = SawnFacets::new(&facets, &leg, &sawn);
        let mut corners = 0;
        for number in draw_order(&facets, &Camera::new(35.0, 12.0)) {
            let facet = facets.get(number).unwrap();
            let slab = facet.slab as usize;
            let moved = as_sawn.of(&facet, [stations[slab], stations[slab + 1]]);
            for (corner, before) in moved.corners.iter().zip(facet.corners) {
                let [u, v, s] = corner.at;
                let section = sawn.at(s).pieces[facet.piece.index()];
                let away = |at: &[f64; 2]| (at[0] - u).hypot(at[1] - v);
                assert!(section.iter().map(away).fold(f64::INFINITY, f64::min) < 1e-9, "{facet:?}");
                assert_eq!(corner.blank, before.blank, "its wood stays its own");
                corners += 1;
            }
        }
        assert!(corners > 300, "{corners}");
    }
}

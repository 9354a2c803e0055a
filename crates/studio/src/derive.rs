//! Everything that follows from the project, each thing kept for as long as its own inputs stay the same: moving a point
//! of the first cut repaints one surface, turning the leg sorts its facets and does nothing else.

use std::sync::Arc;

use cornerwise_geometry::{Camera, Cut, Facets, Leg, LegError, Opening, draw_order};
use cornerwise_project::Design;
use cornerwise_wood::{PairReading, RatingLimits, SeamAnswer, SeamLimits, compare_seams, read_pair};

use crate::atlas::Atlas;
use crate::ghost::Ghosts;
use crate::kept::Kept;
use crate::views::along::Ranges;

/// Slabs are no longer than this share of the leg, so that light runs evenly over them.
const LONGEST_SLAB: f64 = 1.0 / 160.0;

/// The answers about all four seams.
pub type Seams = Arc<[SeamAnswer; 4]>;

/// How the pairs of seams look: 2 and 4, then 1 and 3.
pub type Readings = Arc<[PairReading; 2]>;

/// What is derived, and what from.
#[derive(Default)]
pub struct Derived {
    legs: Kept<Arc<Design>, Result<Arc<Leg>, LegError>>,
    facets: Kept<(Arc<Leg>, f64, f64), Arc<Facets>>,
    order: Kept<(Arc<Facets>, f64, f64), Arc<Vec<u32>>>,
    along: Kept<Arc<Leg>, Arc<Ranges>>,
    seams: Kept<(Arc<Leg>, Arc<Design>), Seams>,
    readings: Kept<(Arc<Leg>, Arc<Design>), Readings>,
    /// The shapes that legs are compared with.
    pub ghosts: Ghosts,
    /// The painted surfaces.
    pub atlas: Atlas,
}

impl Derived {
    /// The leg of a design.
    ///
    /// # Errors
    /// [`LegError`] when the design is not sound, which a checked project's never is.
    pub fn leg(&mut self, design: &Arc<Design>) -> Result<Arc<Leg>, LegError> {
        let same = |a: &Arc<Design>, b: &Arc<Design>| {
            Arc::ptr_eq(a, b) || (a.blank == b.blank && a.first == b.first && a.second == b.second)
        };
        self.legs.get(Arc::clone(design), same, |design| design.leg().map(Arc::new))
    }

    /// What meets at the seams of a leg and what does not.
    pub fn seams(&mut self, leg: &Arc<Leg>, design: &Arc<Design>) -> Seams {
        let same =
            |a: &(Arc<Leg>, Arc<Design>), b: &(Arc<Leg>, Arc<Design>)| Arc::ptr_eq(&a.0, &b.0) && a.1.wood == b.1.wood;
        self.seams.get((Arc::clone(leg), Arc::clone(design)), same, |(leg, design)| {
            Arc::new(compare_seams(leg, &design.wood, &SeamLimits::default()))
        })
    }

    /// How well the seams of a leg look.
    pub fn readings(&mut self, leg: &Arc<Leg>, design: &Arc<Design>) -> Readings {
        let same =
            |a: &(Arc<Leg>, Arc<Design>), b: &(Arc<Leg>, Arc<Design>)| Arc::ptr_eq(&a.0, &b.0) && a.1.wood == b.1.wood;
        self.readings.get((Arc::clone(leg), Arc::clone(design)), same, |(leg, design)| {
            let (limits, rating) = (SeamLimits::default(), RatingLimits::default());
            Arc::new(Cut::ALL.map(|cut| read_pair(leg, &design.wood, cut, &limits, &rating)))
        })
    }

    /// How far the graphs along a leg reach.
    pub fn along(&mut self, leg: &Arc<Leg>) -> Arc<Ranges> {
        self.along.get(Arc::clone(leg), Arc::ptr_eq, |leg| Arc::new(Ranges::of(leg)))
    }

    /// The facets of a leg opened by a share, straight within `tolerance_mm` of its curves.
    pub fn facets(&mut self, leg: &Arc<Leg>, share: f64, tolerance_mm: f64) -> Arc<Facets> {
        let same =
            |a: &(Arc<Leg>, f64, f64), b: &(Arc<Leg>, f64, f64)| Arc::ptr_eq(&a.0, &b.0) && a.1 == b.1 && a.2 == b.2;
        self.facets.get((Arc::clone(leg), share, tolerance_mm), same, |(leg, share, tolerance_mm)| {
            let solved = leg.solve(&slabs(leg, *tolerance_mm));
            Arc::new(Facets::new(&solved, &Opening::new(&solved, *share)))
        })
    }

    /// The order in which a camera paints facets.
    pub fn order(&mut self, facets: &Arc<Facets>, turn_deg: f64, tilt_deg: f64) -> Arc<Vec<u32>> {
        let same = |a: &(Arc<Facets>, f64, f64), b: &(Arc<Facets>, f64, f64)| {
            Arc::ptr_eq(&a.0, &b.0) && a.1 == b.1 && a.2 == b.2
        };
        self.order.get((Arc::clone(facets), turn_deg, tilt_deg), same, |(facets, turn_deg, tilt_deg)| {
            Arc::new(draw_order(facets, &Camera::new(*turn_deg, *tilt_deg)))
        })
    }
}

/// Stations for a tolerance, with more between them where a slab would be long.
fn slabs(leg: &Leg, tolerance_mm: f64) -> Vec<f64> {
    let longest = leg.length_mm * LONGEST_SLAB;
    let mut stations: Vec<f64> = Vec::new();
    for s in leg.stations_within(tolerance_mm) {
        if let Some(last) = stations.last().copied() {
            let parts = ((s - last) / longest).ceil().max(1.0);
            let mut part = 1.0;
            while part < parts {
                stations.push(last + (s - last) * part / parts);
                part += 1.0;
            }
        }
        stations.push(s);
    }
    stations
}

#[cfg(test)]
mod tests {
    use super::*;
    use cornerwise_project::{DesignId, Edit, Project};
    use cornerwise_wood::Species;

    #[test]
    fn each_thing_follows_from_its_own_inputs_only() {
        let project = Project::new();
        let mut derived = Derived::default();
        let leg = derived.leg(&project.designs[0]).unwrap();
        let facets = derived.facets(&leg, 1.0, 0.25);
        let order = derived.order(&facets, 35.0, 12.0);
        // Another wood and another name are the same leg.
        let part = cornerwise_project::WoodPart::Species(Species::Cherry);
        let cherry = project.apply(&Edit::SetWoodPart { design: DesignId(1), part }).unwrap();
        let again = derived.leg(&cherry.designs[0]).unwrap();
        assert!(Arc::ptr_eq(&leg, &again));
        assert!(Arc::ptr_eq(&facets, &derived.facets(&again, 1.0, 0.25)));
        assert!(Arc::ptr_eq(&order, &derived.order(&facets, 35.0, 12.0)));
        assert!(!Arc::ptr_eq(&order, &derived.order(&facets, 36.0, 12.0)));
        // Another line is another leg.
        let points = project.apply(&Edit::ShapeToPoints { design: DesignId(1), cut: Cut::First }).unwrap();
        assert!(!Arc::ptr_eq(&leg, &derived.leg(&points.designs[0]).unwrap()));
    }

    #[test]
    fn slabs_are_short_enough_for_even_light() {
        let leg = Project::new().designs[0].leg().unwrap();
        let stations = slabs(&leg, 0.2);
        assert!(stations.windows(2).all(|pair| pair[1] > pair[0] && pair[1] - pair[0] <= leg.length_mm / 159.0));
        assert_eq!((stations[0], stations[stations.len() - 1]), (0.0, leg.length_mm));
    }
}

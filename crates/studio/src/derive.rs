//! Everything that follows from the project, each thing kept for as long as its own inputs stay the same: moving a point
//! of the first cut repaints one surface, turning the leg sorts its facets and does nothing else.

use std::sync::Arc;

use cornerwise_geometry::{Camera, Concern, Facets, Leg, LegError, Opening, SawnFacets, Survey, Units, draw_order};
use cornerwise_project::{Design, DesignId, FitFinding, Fix, Judged, Project, SURVEYED};

use crate::atlas::Atlas;
use crate::ghost::Ghosts;
use crate::kept::Kept;
use crate::scene::Scene;
use crate::seam_work::Seams;
use crate::views::along::Ranges;

/// Slabs are no longer than this share of the leg, so that light runs evenly over them.
const LONGEST_SLAB: f64 = 1.0 / 160.0;

/// What a survey is made from.
type OfLeg = (Arc<Leg>, Arc<Project>, Arc<Design>);
/// What a survey is judged with.
type OfSurvey = (Arc<Survey>, Arc<Project>, Arc<Design>);

/// What facets as sawn are made from.
type OfFacets = (Arc<Facets>, Arc<Survey>);
/// What is found about a leg's fit is made from.
type OfFit = (Arc<Leg>, Arc<Design>, Units);

/// What is derived, and what from.
#[derive(Default)]
pub struct Derived {
    legs: Kept<Arc<Design>, Result<Arc<Leg>, LegError>>,
    facets: Kept<(Arc<Leg>, f64, f64), Arc<Facets>>,
    order: Kept<(Arc<Facets>, f64, f64), Arc<Vec<u32>>>,
    along: Kept<Arc<Survey>, Arc<Ranges>>,
    sawn_facets: Kept<OfFacets, Option<Arc<SawnFacets>>>,
    /// What is told about the seams.
    pub seams: Seams,
    surveys: Kept<OfLeg, Arc<Survey>>,
    judged: Kept<OfSurvey, Arc<Vec<Judged>>>,
    fixes: Kept<(Arc<Project>, DesignId, Concern), Arc<Vec<Fix>>>,
    fitted: Kept<OfFit, Arc<Vec<FitFinding>>>,
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

    /// The leg measured as drawn, as sawn and under its load.
    pub fn survey(&mut self, scene: &Scene<'_>) -> Arc<Survey> {
        let same = |a: &OfLeg, b: &OfLeg| {
            let wood = a.2.load.is_none() || a.2.wood == b.2.wood;
            // Notches and the inside piece count only for what a load finds.
            let fit = if a.2.load.is_none() { a.2.fit.pipe == b.2.fit.pipe } else { a.2.fit == b.2.fit };
            Arc::ptr_eq(&a.0, &b.0) && a.1.saw == b.1.saw && a.2.load == b.2.load && wood && fit
        };
        let key = (Arc::clone(scene.leg), Arc::clone(scene.project), Arc::clone(scene.design));
        self.surveys.get(key, same, |(leg, project, design)| Arc::new(project.survey(design, leg, SURVEYED)))
    }

    /// What about the leg the maker should look at.
    pub fn judged(&mut self, scene: &Scene<'_>) -> Arc<Vec<Judged>> {
        let same = |a: &OfSurvey, b: &OfSurvey| {
            let limits = a.1.limits == b.1.limits && a.1.units == b.1.units;
            Arc::ptr_eq(&a.0, &b.0) && limits && a.2.accepted == b.2.accepted
        };
        let key = (self.survey(scene), Arc::clone(scene.project), Arc::clone(scene.design));
        self.judged.get(key, same, |(survey, project, design)| Arc::new(project.judge(design, survey)))
    }

    /// The smallest changes that clear a watch-out about the leg.
    pub fn fixes(&mut self, scene: &Scene<'_>, concern: Concern) -> Arc<Vec<Fix>> {
        type Key = (Arc<Project>, DesignId, Concern);
        let same = |a: &Key, b: &Key| Arc::ptr_eq(&a.0, &b.0) && (a.1, a.2) == (b.1, b.2);
        let key = (Arc::clone(scene.project), scene.design.id, concern);
        self.fixes.get(key, same, |(project, design, concern)| Arc::new(project.fixes(*design, *concern)))
    }

    /// Whether something is still worked out off the thread that draws.
    pub fn is_busy(&self) -> bool {
        self.atlas.is_busy() || self.seams.is_busy()
    }

    /// What to watch out for about the fit of the leg. Searching for changes that clear it takes a moment: while something
    /// moves, what was found last stays.
    pub fn fit_findings(&mut self, scene: &Scene<'_>) -> Arc<Vec<FitFinding>> {
        let same = |a: &OfFit, b: &OfFit| {
            let as_it_was = Arc::ptr_eq(&a.0, &b.0) && a.1.fit == b.1.fit && a.2 == b.2;
            a.1.id == b.1.id && (scene.moving || as_it_was)
        };
        let key = (Arc::clone(scene.leg), Arc::clone(scene.design), scene.units());
        self.fitted.get(key, same, |(leg, design, units)| Arc::new(design.fit_findings(leg, *units)))
    }

    /// How far the graphs along a surveyed leg reach.
    pub fn along(&mut self, survey: &Arc<Survey>) -> Arc<Ranges> {
        self.along.get(Arc::clone(survey), Arc::ptr_eq, |_| Arc::default())
    }

    /// Where the facets of a finished leg lie once it is sawn; none without a saw.
    pub fn sawn_facets(&mut self, facets: &Arc<Facets>, survey: &Arc<Survey>) -> Option<Arc<SawnFacets>> {
        let same = |a: &OfFacets, b: &OfFacets| Arc::ptr_eq(&a.0, &b.0) && Arc::ptr_eq(&a.1, &b.1);
        self.sawn_facets.get((Arc::clone(facets), Arc::clone(survey)), same, |(facets, survey)| {
            survey.sawn().map(|sawn| Arc::new(SawnFacets::new(facets, survey.leg(), sawn)))
        })
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
    use cornerwise_geometry::Cut;
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

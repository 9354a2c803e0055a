//! The ghost of a design, ready to be drawn, and where the present shape differs most from it.

use std::sync::Arc;

use cornerwise_geometry::line_tools::greatest_distance;
use cornerwise_geometry::{Cut, Leg, Survey, Units};
use cornerwise_project::{Design, Ghost, SURVEYED};

use crate::kept::Kept;
use crate::views::along::Ranges;

/// How exactly the greatest difference is found, mm: less than is ever shown.
const FOUND_MM: f64 = 2e-3;

/// A ghost's leg.
#[derive(Debug)]
pub struct GhostLeg {
    /// The leg.
    pub leg: Arc<Leg>,
    /// The leg measured, as drawn.
    pub survey: Survey,
    /// How far its graphs reach.
    pub ranges: Ranges,
}

/// The ghost as views draw it.
#[derive(Clone, Debug)]
pub struct Shown {
    /// Its leg.
    pub ghost: Arc<GhostLeg>,
    /// Where its lines and the present ones are farthest apart.
    pub most: Farthest,
}

/// Where two legs are farthest apart.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Farthest {
    /// In which cut.
    pub cut: Cut,
    /// How far, across the blank, mm.
    pub mm: f64,
    /// Where, mm from the top.
    pub s_mm: f64,
    /// Whether the blanks differ in size.
    pub blanks_differ: bool,
}

impl Farthest {
    /// Between two legs.
    pub fn between(leg: &Leg, ghost: &Leg) -> Farthest {
        let [first, second] = Cut::ALL.map(|cut| greatest_distance(leg.line(cut), ghost.line(cut), FOUND_MM));
        let (cut, most) = if second.mm > first.mm { (Cut::Second, second) } else { (Cut::First, first) };
        let size = |leg: &Leg| (leg.width_mm, leg.depth_mm, leg.length_mm);
        Farthest { cut, mm: most.mm, s_mm: most.s_mm, blanks_differ: size(leg) != size(ghost) }
    }

    /// In words.
    pub fn words(&self, units: Units) -> String {
        let lines = if self.mm < 5e-3 {
            "the same lines".to_owned()
        } else {
            let [by, at] = [self.mm, self.s_mm].map(|mm| units.show_with_unit(mm));
            format!("at most {by} off, {at} from top, {}", self.cut)
        };
        if self.blanks_differ { format!("{lines}; another size of blank") } else { lines }
    }
}

/// The ghost, kept for as long as it and the present leg stay the same.
#[derive(Default)]
pub struct Ghosts {
    legs: Kept<Arc<Ghost>, Option<Arc<GhostLeg>>>,
    farthest: Kept<(Arc<GhostLeg>, Arc<Leg>), Farthest>,
}

impl Ghosts {
    /// The ghost of a design beside its leg. None where it has none.
    pub fn shown(&mut self, design: &Design, leg: &Arc<Leg>) -> Option<Shown> {
        let ghost = self.legs.get(
            Arc::clone(design.ghost.as_ref()?),
            |a, b| Arc::ptr_eq(a, b) || a == b,
            |ghost| {
                let leg = Arc::new(ghost.leg().ok()?); // a checked project's ghost is a leg
                let survey = Survey::new(&leg, None, SURVEYED);
                let ranges = Ranges::default();
                Some(Arc::new(GhostLeg { leg, survey, ranges }))
            },
        )?;
        let most = self.farthest.get(
            (Arc::clone(&ghost), Arc::clone(leg)),
            |a, b| Arc::ptr_eq(&a.0, &b.0) && Arc::ptr_eq(&a.1, &b.1),
            |(ghost, leg)| Farthest::between(leg, &ghost.leg),
        );
        Some(Shown { ghost, most })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use cornerwise_project::{DesignId, Edit, Project};

    #[test]
    fn the_greatest_difference_is_told_with_its_place() {
        let design = DesignId(1);
        let project = Project::new().apply(&Edit::ShapeToPoints { design, cut: Cut::Second }).unwrap();
        let before = project.designs[0].leg().unwrap();
        let point = project.designs[0].points(Cut::Second)[1].clone();
        let offset = (point.offset.mm() + 4.25).into();
        let moved =
            Edit::MovePoint { design, cut: Cut::Second, point: point.id, from_top: point.from_top.clone(), offset };
        let after = project.apply(&moved).unwrap().designs[0].leg().unwrap();
        let most = Farthest::between(&after, &before);
        assert_eq!(most.cut, Cut::Second);
        // Every place, against the search.
        let densest =
            (0..=70_000).map(|i| f64::from(i) * 0.01).map(|s| (after.b(s) - before.b(s)).abs()).fold(0.0, f64::max);
        assert!((most.mm - densest).abs() < 3e-3 && most.mm >= 4.249, "{most:?} {densest}");
        assert!(most.words(Units::Millimetres).contains("mm from top, second cut"), "{most:?}");
        assert_eq!(Farthest::between(&before, &before).words(Units::Millimetres), "the same lines");
    }
}

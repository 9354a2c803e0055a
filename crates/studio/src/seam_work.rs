//! All that is told about seams, worked out together: in the frame where that is quick, off the thread that draws where
//! it is not.

use std::sync::Arc;

use cornerwise_geometry::{Cut, Leg};
use cornerwise_project::Design;
use cornerwise_wood::{PairReading, Regularity, SeamAnswer, WoodLimits, compare_and_read, regularity, seam_effort};
use egui::Context;

use crate::later::Later;
use crate::scene::Scene;
use crate::side_by_side::side_by_side;

/// So many looks fit into a frame beside everything else.
const IN_FRAME: f64 = 30_000.0;

/// What is told about the seams of a leg.
#[derive(Clone, Debug, PartialEq)]
pub struct SeamWork {
    /// What meets at each seam.
    pub answers: [SeamAnswer; 4],
    /// How the pairs look: 2 and 4, then 1 and 3.
    pub readings: [PairReading; 2],
    /// How much of a glue-up's regularity survives, in the same order.
    pub regularity: [Option<Regularity>; 2],
}

/// What is told of the two seams of one cut.
type Pair = ([SeamAnswer; 2], PairReading);

impl SeamWork {
    /// Works it out; a pair whose line is as it was `before` is as it was.
    fn new(of: &Of, before: Option<&(Of, Arc<SeamWork>)>) -> SeamWork {
        let Of { leg, design, limits } = of;
        let (meet, rating) = (limits.seams(), limits.rating());
        let pair = |cut: Cut| match before {
            Some((was, work)) if of.same_pair(was, cut) => work.pair(cut),
            _ => compare_and_read(leg, &design.wood, cut, &meet, &rating),
        };
        let is_new = |cut: Cut| before.is_none_or(|(was, _)| !of.same_pair(was, cut));
        let [([two, four], first), ([one, three], second)] = if Cut::ALL.into_iter().all(is_new) {
            // Both at once: a frame waits for them while the whole wood changes under the hand.
            side_by_side(|| pair(Cut::First), || pair(Cut::Second)).into()
        } else {
            Cut::ALL.map(pair)
        };
        SeamWork {
            answers: [one, two, three, four],
            readings: [first, second],
            regularity: Cut::ALL.map(|cut| regularity(leg, &design.wood, cut)),
        }
    }

    fn pair(&self, cut: Cut) -> Pair {
        let [one, two, three, four] = &self.answers;
        let answers = match cut {
            Cut::First => [two, four],
            Cut::Second => [one, three],
        };
        (answers.map(SeamAnswer::clone), self.readings[cut.index()].clone())
    }
}

/// What it follows from.
#[derive(Clone)]
struct Of {
    leg: Arc<Leg>,
    design: Arc<Design>,
    limits: WoodLimits,
}

impl Of {
    fn same(&self, other: &Of) -> bool {
        Arc::ptr_eq(&self.leg, &other.leg) && self.same_wood(other)
    }

    fn same_wood(&self, other: &Of) -> bool {
        self.design.wood == other.design.wood && self.limits == other.limits
    }

    /// Whether all that the seams of a cut follow from is the same.
    fn same_pair(&self, other: &Of, cut: Cut) -> bool {
        let sizes = |of: &Of| [of.leg.width_mm, of.leg.depth_mm, of.leg.length_mm];
        sizes(self) == sizes(other) && self.leg.line(cut) == other.leg.line(cut) && self.same_wood(other)
    }
}

/// The work that is known, and the work under way.
#[derive(Default)]
pub struct Seams {
    known: Option<(Of, Arc<SeamWork>)>,
    coming: Later<Of, SeamWork>,
}

impl Seams {
    /// What is told about the seams of a scene; nothing while it is still worked out.
    pub fn get(&mut self, ctx: &Context, scene: &Scene<'_>) -> Option<Arc<SeamWork>> {
        let of = Of { leg: Arc::clone(scene.leg), design: Arc::clone(scene.design), limits: scene.project.wood_limits };
        if let Some((asked, work)) = self.coming.fetch() {
            self.known = Some((asked, Arc::new(work)));
        }
        if let Some((known, work)) = &self.known
            && known.same(&of)
        {
            return Some(Arc::clone(work));
        }
        if seam_effort(scene.leg, &scene.design.wood) <= IN_FRAME {
            let work = Arc::new(SeamWork::new(&of, self.known.as_ref()));
            self.known = Some((of, Arc::clone(&work)));
            return Some(work);
        }
        // One at a time: what was asked for meanwhile is begun when the one under way is done.
        let (theirs, before) = (of.clone(), self.known.clone());
        self.coming.begin(ctx, "seams", of, move |_| SeamWork::new(&theirs, before.as_ref()));
        None
    }

    /// Whether they are still worked out.
    pub fn is_busy(&self) -> bool {
        self.coming.asked().is_some()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::darkroom::Prints;
    use cornerwise_geometry::{Line, Shape, ShapeKind};
    use cornerwise_project::Project;
    use cornerwise_wood::{Timber, Wood, compare_seams};
    use std::thread;

    /// A leg while a hand moves something.
    fn scene<'a>(
        project: &'a Arc<Project>,
        design: &'a Arc<Design>,
        leg: &'a Arc<Leg>,
        prints: &'a Prints,
    ) -> Scene<'a> {
        Scene { project, design, leg, ghost: None, prints, revision: 0, moving: true }
    }

    /// Ten metres of rings 0.2 mm wide: seconds of work. The frame must not wait for it.
    #[test]
    fn what_takes_long_does_not_hold_up_the_frame_and_comes_later() {
        let project = Arc::new(Project::new());
        let mut design = Design::clone(&project.designs[0]);
        design.blank.length = 3000.0.into();
        let Wood::Timber(timber) = &design.wood else { unreachable!("a new project is timber") };
        design.wood = Wood::Timber(Timber { ring_width: 0.2.into(), ..timber.clone() });
        let (design, ctx) = (Arc::new(design), Context::default());
        let leg = Arc::new(design.leg().unwrap());
        let prints = Prints::default();
        let scene = scene(&project, &design, &leg, &prints);
        let mut seams = Seams::default();
        assert_eq!(seams.get(&ctx, &scene), None);
        assert!(seams.is_busy());
        let work = (0..6000).find_map(|_| {
            thread::sleep(std::time::Duration::from_millis(5));
            seams.get(&ctx, &scene)
        });
        let limits = project.wood_limits.seams();
        assert_eq!(work.expect("it comes").answers, compare_seams(&leg, &design.wood, &limits));
        // An ordinary leg is told in the same frame.
        let usual = &project.designs[0];
        let leg = Arc::new(usual.leg().unwrap());
        let scene = Scene { design: usual, leg: &leg, ..scene };
        assert!(seams.get(&ctx, &scene).is_some());
    }

    /// A line is dragged, then the other, then the wood changes: what is kept of the pair that stayed is what is worked out anew.
    #[test]
    fn what_is_kept_of_a_pair_is_what_would_be_worked_out_again() {
        let project = Arc::new(Project::new());
        let (ctx, prints) = (Context::default(), Prints::default());
        let mut seams = Seams::default();
        let mut design = Design::clone(&project.designs[0]);
        let mut answers = Vec::new();
        for step in 0..4 {
            let shape = |kind| Line::Shape(Shape::start(kind, 700.0, 50.0));
            match step {
                1 => design.first = shape(ShapeKind::Arch),
                2 => design.second = shape(ShapeKind::Waves),
                3 => {
                    let Wood::Timber(timber) = &design.wood else { unreachable!("a new project is timber") };
                    design.wood = Wood::Timber(Timber { ring_width: 5.0.into(), ..timber.clone() });
                }
                _ => {}
            }
            let (design, leg) = (Arc::new(design.clone()), Arc::new(design.leg().unwrap()));
            let limits = project.wood_limits;
            let work = seams.get(&ctx, &scene(&project, &design, &leg, &prints)).unwrap();
            let of = Of { leg: Arc::clone(&leg), design: Arc::clone(&design), limits };
            assert_eq!(*work, SeamWork::new(&of, None), "{step}");
            assert_eq!(work.answers, compare_seams(&leg, &design.wood, &limits.seams()));
            assert!(!answers.contains(&work.answers), "every step changes something");
            answers.push(work.answers.clone());
        }
    }
}

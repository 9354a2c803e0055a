//! Snaps: what a dragged point or handle is caught by. All of it is worked out from what stays where it is while the hand
//! moves, so that a drag out of a snap and back is where it was.

use cornerwise_geometry::{Arris, Cut, Leg, Length, PointId, Units};
use cornerwise_project::Design;

use crate::grip::Grip;

/// How near the hand comes before it is caught, points.
const NEAR_PX: f64 = 7.0;

/// What may catch.
#[derive(Clone, Debug, PartialEq)]
pub struct Snaps {
    /// Whether anything does.
    pub on: bool,
    /// Whether the grid does.
    pub grid: bool,
    /// How far the lines of the grid lie apart, from the finished top and from the arris.
    pub step: Length,
    /// How far from the arrises the margins lie.
    pub margin: Length,
}

impl Snaps {
    /// What is usual in a maker's units: the grid off, 5 mm or a quarter of an inch.
    pub fn usual(units: Units) -> Snaps {
        let step = match units {
            Units::Millimetres => Length::from_mm(5.0),
            Units::Inches(_) => Length::from_mm(25.4 / 4.0),
        };
        Snaps { on: true, grid: false, step: step.clone(), margin: step }
    }
}

/// The least step of a grid and the least margin, mm.
pub const LEAST_STEP_MM: f64 = 0.1;

/// What catches.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum What {
    /// The line halfway between the arrises of the face.
    CentreLine,
    /// The line as far from an arris as the maker keeps from it.
    Margin(Arris),
    /// An arris of the face.
    Arris(Arris),
    /// The finished top.
    Top,
    /// The finished foot.
    Foot,
    /// The end of the spare length beyond the top.
    BlankTop,
    /// The end of the spare length beyond the foot.
    BlankFoot,
    /// The upper edge of a notch, by its number from 1.
    NotchTop(usize),
    /// The lower edge of a notch, where its board stands.
    NotchFoot(usize),
    /// Where the straight length at the top ends.
    Post,
    /// A point of a cut, by its number from 1.
    Point(Cut, usize),
    /// Where a cut turns back.
    Crest(Cut),
    /// The handle's own point: the line runs along the grain.
    Grain,
    /// A line of the grid.
    Grid,
}

impl What {
    /// What it is called, as it stands beside the hand.
    pub fn words(self) -> String {
        match self {
            What::CentreLine => "centre line".to_owned(),
            What::Margin(arris) => format!("margin of {arris}"),
            What::Arris(arris) => arris.to_string(),
            What::Top => "finished top".to_owned(),
            What::Foot => "finished foot".to_owned(),
            What::BlankTop => "upper end of the blank".to_owned(),
            What::BlankFoot => "lower end of the blank".to_owned(),
            What::NotchTop(number) => format!("upper edge of notch {number}"),
            What::NotchFoot(number) => format!("lower edge of notch {number}"),
            What::Post => "end of the post".to_owned(),
            What::Point(cut, number) => format!("point {number} of the {cut}"),
            What::Crest(cut) => format!("crest of the {cut}"),
            What::Grain => "along the grain".to_owned(),
            What::Grid => "grid".to_owned(),
        }
    }
}

/// A place that catches, along the leg or across it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Catch {
    /// From the top or from the edge, mm.
    pub mm: f64,
    /// What is there.
    pub what: What,
}

/// All that catches one grip: along the leg, and across it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Catches(pub [Vec<Catch>; 2]);

impl Catches {
    /// What catches a grip of a design. `moving` says which points move with it, its own among them: what moves with the
    /// hand cannot catch it.
    pub fn of(
        design: &Design,
        leg: &Leg,
        grip: Grip,
        moving: impl Fn(Cut, PointId) -> bool,
        margin: &Length,
    ) -> Catches {
        let cut = grip.cut;
        let across_mm = leg.across_mm(cut);
        let [near, far] = match cut {
            Cut::First => [Arris::One, Arris::Two],
            Cut::Second => [Arris::Two, Arris::Three],
        };
        let margin_mm = margin.mm();
        let mut along = vec![
            (0.0, What::Top),
            (leg.length_mm, What::Foot),
            (-design.blank.spare_top.mm(), What::BlankTop),
            (leg.length_mm + design.blank.spare_foot.mm(), What::BlankFoot),
        ];
        for (notch, number) in design.fit.notches.iter().zip(1..) {
            let [from, to] = notch.span_mm();
            along.extend([(from, What::NotchTop(number)), (to, What::NotchFoot(number))]);
        }
        if design.fit.post.mm() > 0.0 {
            along.push((design.fit.post.mm(), What::Post));
        }
        // What is nearest to what a maker means comes first: where two things lie on one another, it catches.
        let mut across = Vec::new();
        if grip.is_handle()
            && let Some([_, offset]) = grip.of_point().and_then(|of| Grip::point(cut, of.point).place(design))
        {
            across.push((offset, What::Grain));
        }
        across.extend([
            (across_mm / 2.0, What::CentreLine),
            (0.0, What::Arris(near)),
            (across_mm, What::Arris(far)),
            (margin_mm, What::Margin(near)),
            (across_mm - margin_mm, What::Margin(far)),
        ]);
        for of in Cut::ALL {
            let points = design.points(of);
            let is_still = points.iter().all(|point| !moving(of, point.id));
            // Crests first: where a point lies on one, that is what is meant.
            if of != cut && is_still {
                along.extend(leg.line(of).crests().into_iter().map(|s| (s, What::Crest(of))));
            }
            for (point, number) in points.iter().zip(1..).filter(|(point, _)| !moving(of, point.id)) {
                let what = What::Point(of, number);
                if of == cut {
                    across.push((point.offset.mm(), what));
                } else {
                    along.push((point.from_top.mm(), what));
                }
            }
        }
        Catches([along, across].map(|all| all.into_iter().map(|(mm, what)| Catch { mm, what }).collect()))
    }

    /// Where a hand at `to` is caught, along and across, at a zoom of `px_per_mm`: by the nearest thing within a few
    /// points; by the grid only where nothing else is near.
    pub fn nearest(&self, to: [f64; 2], px_per_mm: [f64; 2], snaps: &Snaps) -> [Option<Catch>; 2] {
        if !snaps.on {
            return [None, None];
        }
        std::array::from_fn(|i| {
            let away = |catch: &Catch| (catch.mm - to[i]).abs();
            let near_mm = NEAR_PX / px_per_mm[i];
            let named = self.0[i].iter().copied().filter(|catch| away(catch) <= near_mm);
            let nearest = named.min_by(|a, b| away(a).total_cmp(&away(b)));
            nearest.or_else(|| grid(to[i], snaps).filter(|catch| away(catch) <= near_mm))
        })
    }
}

/// The nearest line of the grid.
fn grid(to_mm: f64, snaps: &Snaps) -> Option<Catch> {
    let step = snaps.step.mm();
    (snaps.grid && step >= LEAST_STEP_MM).then(|| Catch { mm: (to_mm / step).round() * step, what: What::Grid })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::grip::Part;
    use cornerwise_geometry::fit::Notch;
    use cornerwise_project::{DesignId, Edit, FitPart, Handle, Project};

    fn project() -> Project {
        Project::new().apply(&Edit::ShapeToPoints { design: DesignId(1), cut: Cut::First }).unwrap()
    }

    fn catches(project: &Project, grip: Grip) -> Catches {
        let design = &project.designs[0];
        let moving = |cut, point| grip.of_point() == Some(crate::view::Chosen { cut, point });
        Catches::of(design, &design.leg().unwrap(), grip, moving, &Length::from_mm(6.0))
    }

    fn grip(project: &Project, number: usize, handle: Option<Handle>) -> Grip {
        let point = project.designs[0].points(Cut::First)[number - 1].id;
        let part = handle.map_or(Part::Point(point), |handle| Part::Handle(point, handle));
        Grip { cut: Cut::First, part }
    }

    fn snaps() -> Snaps {
        Snaps::usual(Units::Millimetres)
    }

    #[test]
    fn at_every_zoom_the_hand_is_caught_within_the_same_distance_on_screen_and_exactly() {
        let project = project();
        let all = catches(&project, grip(&project, 2, None));
        let mut px_per_mm = 0.05;
        while px_per_mm < 400.0 {
            for i in 0..2 {
                for catch in &all.0[i] {
                    // What is nearest to a place beside it: itself, or something nearer still.
                    for away_px in [-6.9, -1.0, 0.0, 3.0, 6.9] {
                        let mut to = [1e6, 1e6];
                        to[i] = catch.mm + away_px / px_per_mm;
                        let caught = all.nearest(to, [px_per_mm; 2], &snaps());
                        let nearest = caught[i].expect("caught");
                        assert!(all.0[i].contains(&nearest), "exactly what is there, to the last bit");
                        assert!((nearest.mm - to[i]).abs() <= (catch.mm - to[i]).abs());
                        assert_eq!(caught[1 - i], None, "one way does not pull the other");
                    }
                    let mut to = [1e6, 1e6];
                    to[i] = catch.mm + 7.1 / px_per_mm;
                    let beyond = all.nearest(to, [px_per_mm; 2], &snaps())[i];
                    assert!(beyond.is_none_or(|other| (other.mm - to[i]).abs() * px_per_mm <= 7.0));
                }
            }
            px_per_mm *= 1.7;
        }
    }

    #[test]
    fn everything_that_a_maker_lays_a_point_by_catches_it() {
        let project = project();
        let design = &project.designs[0];
        let leg = design.leg().unwrap();
        let all = catches(&project, grip(&project, 2, None));
        let caught = |along: f64, across: f64| all.nearest([along, across], [50.0; 2], &snaps());
        let words = |catch: Option<Catch>| catch.map(|catch| catch.what.words()).unwrap_or_default();
        assert_eq!(words(caught(0.05, 25.05)[0]), "finished top");
        assert_eq!(words(caught(699.95, 25.05)[0]), "finished foot");
        assert_eq!(words(caught(699.95, 25.05)[1]), "centre line");
        assert_eq!(words(caught(99.0, 6.05)[1]), "margin of arris 1");
        assert_eq!(words(caught(99.0, 44.05)[1]), "margin of arris 2");
        assert_eq!(words(caught(99.0, 0.05)[1]), "arris 1");
        let second = design.points(Cut::Second);
        let crest = leg.second.crests()[0];
        let at = second.iter().position(|point| (point.from_top.mm() - crest).abs() > 5.0 && point.from_top.mm() > 1.0);
        let number = at.expect("a point that is no crest") + 1;
        let place = second[number - 1].from_top.mm();
        assert_eq!(words(caught(place + 0.1, 9.0)[0]), format!("point {number} of the second cut"));
        assert!(all.0[0].iter().any(|catch| catch.what == What::Crest(Cut::Second) && catch.mm == crest));
        let other = design.points(Cut::First)[2].offset.mm();
        assert!(all.0[1].iter().any(|catch| catch.what == What::Point(Cut::First, 3) && catch.mm == other));
        assert!(!all.0[1].iter().any(|catch| catch.what == What::Point(Cut::First, 2)), "nothing catches itself");
    }

    #[test]
    fn the_edges_of_a_notch_and_the_end_of_the_post_catch() {
        let design = DesignId(1);
        let post = Edit::SetFit { design, part: FitPart::Post(80.0.into()) };
        let mut project = project().apply(&post).unwrap();
        for notch in [Notch::apron(60.0), Notch::shelf(420.0, 18.0, 0.4)] {
            project = project.apply(&Edit::SetFit { design, part: FitPart::AddNotch(notch) }).unwrap();
        }
        let all = catches(&project, grip(&project, 2, None));
        let words = |along: f64| {
            let caught = all.nearest([along, 9.0], [50.0; 2], &snaps())[0];
            caught.map(|catch| (catch.mm, catch.what.words())).unwrap_or_default()
        };
        assert_eq!(words(80.04), (80.0, "end of the post".to_owned()));
        assert_eq!(words(60.05), (60.0, "lower edge of notch 1".to_owned()));
        assert_eq!(words(419.95), (420.0, "upper edge of notch 2".to_owned()));
        // As long as its board and the clearance.
        assert_eq!(words(438.3), (438.4, "lower edge of notch 2".to_owned()));
    }

    #[test]
    fn what_moves_with_the_hand_does_not_catch_it() {
        let project = project();
        let design = &project.designs[0];
        let all = Catches::of(design, &design.leg().unwrap(), grip(&project, 2, None), |_, _| true, &10.0.into());
        let is_point = |catch: &Catch| matches!(catch.what, What::Point(..) | What::Crest(_));
        assert!(!all.0.iter().flatten().any(is_point));
    }

    #[test]
    fn a_handle_is_caught_along_the_grain() {
        let project = project();
        let held = grip(&project, 2, Some(Handle::After));
        let point = project.designs[0].points(Cut::First)[1].offset.mm();
        let all = catches(&project, held);
        assert!(all.0[1].contains(&Catch { mm: point, what: What::Grain }));
    }

    #[test]
    fn the_grid_catches_where_nothing_else_is_near_and_only_when_it_is_asked_for() {
        let project = project();
        let all = catches(&project, grip(&project, 2, None));
        let grid = Snaps { grid: true, ..snaps() };
        let [along, across] = all.nearest([101.0, 11.0], [3.0, 3.0], &grid);
        assert_eq!(along, Some(Catch { mm: 100.0, what: What::Grid }));
        assert_eq!(across, Some(Catch { mm: 10.0, what: What::Grid }));
        assert_eq!(all.nearest([101.0, 11.0], [3.0, 3.0], &snaps()), [None, None]);
        assert_eq!(
            all.nearest([0.4, 25.3], [3.0, 3.0], &grid).map(|catch| catch.unwrap().what),
            [What::Top, What::CentreLine]
        );
        let off = Snaps { on: false, ..grid };
        assert_eq!(all.nearest([0.4, 25.3], [3.0, 3.0], &off), [None, None]);
        let sixteenths = Snaps { step: Length::from_mm(25.4 / 16.0), grid: true, ..snaps() };
        let mm = all.nearest([333.3, 17.77], [9.0, 9.0], &sixteenths)[0].unwrap().mm;
        assert!((mm / 25.4 * 16.0 - (mm / 25.4 * 16.0).round()).abs() < 1e-9);
    }
}

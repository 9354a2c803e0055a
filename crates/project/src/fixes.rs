//! The smallest changes that clear a watch-out, each found by making it and surveying the leg again.

mod point;

use cornerwise_geometry::{Blank, Concern, Cut, Length, Line, Saw, SawKind, Shape, WatchOut, Weight};

use crate::watch_outs::SURVEYED;
use crate::{BlankSize, Design, DesignId, Edit, LineTool, Project, Stretch, blades};

/// At how many stations a leg is surveyed while a change is looked for; what is found is checked at [`SURVEYED`].
const LOOKED_AT: usize = 129;

/// How often the change is halved.
const HALVED: usize = 10;

/// The longest that a leg is stretched to, times its length.
const LONGEST: f64 = 4.0;

/// A change that clears a watch-out.
#[derive(Clone, Debug, PartialEq)]
pub struct Fix {
    /// What it is, in words: "1.8 times longer, 1260 mm".
    pub words: String,
    /// The change, one step to undo.
    pub edit: Edit,
}

impl Project {
    /// The smallest changes that clear a watch-out about a design, each verified: after its edit the leg raises no such
    /// watch-out above "have a look". Nothing where it is not raised above that now.
    pub fn fixes(&self, design: DesignId, concern: Concern) -> Vec<Fix> {
        let Some(found) = raised(self, design, concern, SURVEYED) else { return Vec::new() };
        let Some(now) = self.design(design) else { return Vec::new() };
        let search = Search { project: self, design: now, concern, found, nor: &[Concern::LeavesBlank] };
        let all = match concern {
            // Back in the blank by a hair, the wood there is too thin; it is only where that cannot be helped.
            Concern::LeavesBlank => {
                let thick = Search { nor: &[Concern::LeavesBlank, Concern::ThinWood], ..search.clone() };
                vec![
                    thick.less_swing().or_else(|| search.less_swing()),
                    thick.nearer_point().or_else(|| search.nearer_point()),
                ]
            }
            Concern::ThinWood | Concern::Wander | Concern::FootOffset | Concern::Core => {
                vec![search.less_swing(), search.nearer_point()]
            }
            Concern::Thickness | Concern::EdgeAngle | Concern::ShortGrain => {
                vec![search.longer(), search.less_swing(), search.moved_point()]
            }
            Concern::Bend | Concern::LineBreaks => {
                vec![search.other_blade(), search.longer(), search.less_swing(), search.moved_point()]
            }
            Concern::KerfLoss => vec![search.finer_kerf(), search.less_sanding()],
            Concern::SeamStep => vec![search.tilted_to_the_blank(), search.truer(), search.squarer()],
            Concern::BladeBow => vec![search.less_bow()],
            Concern::OutOfTrue => vec![search.squarer()],
            Concern::BlankOnSaw => vec![search.smaller_blank(), search.band_saw()],
            Concern::StopsInside => vec![search.smooth_point()],
            Concern::Overload => vec![search.less_swing(), search.stouter()],
        };
        all.into_iter().flatten().collect()
    }
}

/// The watch-out of a concern about a design, if it is above "have a look".
fn raised(project: &Project, design: DesignId, concern: Concern, count: usize) -> Option<WatchOut> {
    told(project, design, concern, count).filter(|found| found.weight == Weight::WatchOut || !watches(concern))
}

/// Whether a concern ever weighs more than "have a look"; one that does not is cleared when it is not told at all.
fn watches(concern: Concern) -> bool {
    concern != Concern::StopsInside
}

fn told(project: &Project, design: DesignId, concern: Concern, count: usize) -> Option<WatchOut> {
    let design = project.design(design)?;
    let leg = design.leg().ok()?;
    let survey = if concern == Concern::Overload {
        project.survey(design, &leg, count)
    } else {
        cornerwise_geometry::Survey::new(&leg, project.saw.as_ref(), count).with_fit(&design.fit)
    };
    concern.check(&survey, &project.limits, project.units)
}

#[derive(Clone)]
struct Search<'a> {
    project: &'a Project,
    design: &'a Design,
    concern: Concern,
    found: WatchOut,
    /// What must not be raised either: a change that only moves the trouble elsewhere is none.
    nor: &'a [Concern],
}

impl Search<'_> {
    fn clears(&self, edit: &Edit, count: usize) -> bool {
        let Ok(next) = self.project.apply(edit) else { return false };
        let gone = |concern: Concern, count: usize| raised(&next, self.design.id, concern, count).is_none();
        // Whether a cut leaves the blank is found without stations.
        let count_of = |concern: Concern| if concern == Concern::LeavesBlank { 2 } else { count };
        gone(self.concern, count) && self.nor.iter().all(|nor| *nor == self.concern || gone(*nor, count_of(*nor)))
    }

    /// The least change that clears, from `none` to `most`, in whole steps; `edit` gives the edit of a change.
    fn least(&self, none: f64, most: f64, step: f64, edit: impl Fn(f64) -> Option<Edit>) -> Option<(f64, Edit)> {
        let clears = |change: f64, count: usize| edit(change).is_some_and(|edit| self.clears(&edit, count));
        if !clears(most, LOOKED_AT) {
            return None;
        }
        let (mut bad, mut good) = (none, most);
        for _ in 0..HALVED {
            let middle = (bad + good) / 2.0;
            if clears(middle, LOOKED_AT) { good = middle } else { bad = middle }
        }
        let way = (most - none).signum();
        // The halving ends a little beyond the least change; a whole step just before it may do.
        let first = none + way * ((good - none).abs() / step - 0.2).ceil() * step;
        // Rounded away from no change; the finer survey may ask for a step more.
        (0..4)
            .map(|more| first + way * step * f64::from(more))
            .map(|change| if (change - none) * way > (most - none) * way { most } else { change })
            .find(|change| clears(*change, SURVEYED))
            .and_then(|change| edit(change).map(|edit| (change, edit)))
    }

    /// A length that is small beside a blank, in words.
    fn small(&self, mm: f64) -> String {
        self.project.units.fine().show_with_unit(mm)
    }

    fn longer(&self) -> Option<Fix> {
        let from = self.design.blank.length.mm();
        // Whole millimetres; rounding alone does not ask for one more.
        let long = |factor: f64| (from * factor - 1e-6).ceil();
        let edit = |factor: f64| {
            let length = Length::from_mm(long(factor));
            Some(Edit::StretchLeg { design: self.design.id, length, keep: Stretch::Everything })
        };
        let (factor, edit) = self.least(1.0, LONGEST, 0.05, edit)?;
        let length = self.project.units.show_with_unit(long(factor));
        Some(Fix { words: format!("{factor:.2} times longer, {length}"), edit })
    }

    /// Less swing of the cut that the watch-out is about, or of both where that alone is not enough.
    fn less_swing(&self) -> Option<Fix> {
        let one = self.found.cut.and_then(|cut| self.less_swing_of(&[cut], &format!("the {cut}")));
        one.or_else(|| self.less_swing_of(&Cut::ALL, "both cuts"))
    }

    fn less_swing_of(&self, cuts: &[Cut], of: &str) -> Option<Fix> {
        let scaled =
            |less: f64, live: bool| self.together(cuts.iter().map(|cut| self.scaled(*cut, 1.0 - less, live)).collect());
        // A live shape keeps its own middle line; where that is what is wrong, the line is scaled about the face's.
        let (less, edit) = self
            .least(0.0, 0.95, 0.01, |less| scaled(less, true))
            .or_else(|| self.least(0.0, 0.95, 0.01, |less| scaled(less, false)))?;
        Some(Fix { words: format!("{:.0} % less swing of {of}", 100.0 * less), edit })
    }

    fn scaled(&self, cut: Cut, factor: f64, live: bool) -> Edit {
        let design = self.design.id;
        match self.design.line(cut) {
            Line::Shape(shape) if live => Edit::SetShape { design, cut, shape: shape_scaled(shape, factor) },
            _ => {
                let about = (self.design.across_mm(cut) / 2.0).into();
                Edit::ReshapeLine { design, cut, tool: LineTool::ScaleSwing { factor, about } }
            }
        }
    }

    /// Several edits as one step.
    fn together(&self, edits: Vec<Edit>) -> Option<Edit> {
        match <[Edit; 1]>::try_from(edits) {
            Ok([edit]) => Some(edit),
            Err(edits) if edits.is_empty() => None,
            Err(edits) => Some(Edit::Together { design: self.design.id, edits }),
        }
    }

    fn with_saw(&self, change: impl FnOnce(&mut Saw)) -> Option<Edit> {
        let mut saw = self.project.saw.clone()?;
        change(&mut saw);
        Some(Edit::SetSaw { saw: Some(Box::new(saw)) })
    }

    fn other_blade(&self) -> Option<Fix> {
        let saw = self.project.saw.as_ref()?;
        let kind = if saw.kind == SawKind::Scroll { SawKind::Scroll } else { SawKind::Band };
        let now = saw.blade.width.mm();
        blades().iter().rev().filter(|row| row.kind == kind && row.width.mm() < now).find_map(|row| {
            let edit = self.with_saw(|saw| saw.blade = row.blade())?;
            self.clears(&edit, SURVEYED).then(|| Fix { words: format!("a {} blade", row.name), edit })
        })
    }

    /// A band saw, whose column stands beside the blade and not behind it.
    fn band_saw(&self) -> Option<Fix> {
        let scroll = self.project.saw.as_ref().filter(|saw| saw.kind == SawKind::Scroll)?;
        let blade = blades().iter().find(|row| row.kind == SawKind::Band)?.blade();
        let saw = Saw { kind: SawKind::Band, blade, sanding: scroll.sanding.clone(), ..Saw::default() };
        let edit = Edit::SetSaw { saw: Some(Box::new(saw)) };
        self.clears(&edit, SURVEYED).then(|| Fix { words: "a band saw".to_owned(), edit })
    }

    /// The table tilted to a leaning blank, so that the blade is square to the faces that it lies between.
    fn tilted_to_the_blank(&self) -> Option<Fix> {
        let corner = self.design.blank.out_of_true.corner_deg;
        if corner == 0.0 {
            return None;
        }
        let edit = self.with_saw(|saw| (saw.tilt_first_deg, saw.tilt_second_deg) = (corner, -corner))?;
        let words =
            format!("the table tilted to the blank, {corner:.2}° in the first cut and {:.2}° in the second", -corner);
        self.clears(&edit, SURVEYED).then_some(Fix { words, edit })
    }

    /// A blank planed nearer to square and parallel.
    fn squarer(&self) -> Option<Fix> {
        let blank = &self.design.blank;
        if blank.out_of_true.is_true() {
            return None;
        }
        let trued = |less: f64| {
            let out = &blank.out_of_true;
            let scaled = |length: &Length| Length::from_mm(length.mm() * (1.0 - less));
            cornerwise_geometry::OutOfTrue {
                corner_deg: out.corner_deg * (1.0 - less),
                taper_width: scaled(&out.taper_width),
                taper_depth: scaled(&out.taper_depth),
            }
        };
        let edit = |less: f64| {
            let blank = Blank { out_of_true: trued(less), ..blank.clone() };
            Some(Edit::SetBlank { design: self.design.id, blank })
        };
        let (less, edit) = self.least(0.0, 1.0, 0.02, edit)?;
        let left = trued(less);
        let taper = left.taper_width.mm().abs().max(left.taper_depth.mm().abs());
        let mut words = Vec::new();
        if left.corner_deg != 0.0 || less == 1.0 {
            words.push(format!("square within {:.2}°", left.corner_deg.abs()));
        }
        if taper > 0.0 {
            words.push(format!("parallel within {}", self.small(taper)));
        }
        Some(Fix { words: format!("the blank planed {}", words.join(" and ")), edit })
    }

    fn less_bow(&self) -> Option<Fix> {
        let saw = self.project.saw.as_ref()?;
        let most = saw.bow_first.mm().abs().max(saw.bow_second.mm().abs());
        let edit = |most: f64| {
            let held = |bow: &Length| Length::from_mm(bow.mm().clamp(-most, most));
            let bows = [held(&saw.bow_first), held(&saw.bow_second)];
            self.with_saw(|saw| [saw.bow_first, saw.bow_second] = bows)
        };
        let (most, edit) = self.least(most, 0.0, 0.02, edit)?;
        Some(Fix {
            words: format!("a bow of no more than {}: more tension, a sharp blade, a slower feed", self.small(most)),
            edit,
        })
    }

    fn finer_kerf(&self) -> Option<Fix> {
        let saw = self.project.saw.as_ref()?;
        let (kerf, body) = (saw.blade.kerf.mm(), saw.blade.thickness.mm());
        let (kerf, edit) = self.least(kerf, body, 0.05, |kerf| self.with_saw(|saw| saw.blade.kerf = kerf.into()))?;
        Some(Fix { words: format!("a kerf of {}", self.small(kerf)), edit })
    }

    fn less_sanding(&self) -> Option<Fix> {
        let sanding = self.project.saw.as_ref()?.sanding.mm();
        if sanding <= 0.0 {
            return None;
        }
        let (left, edit) = self.least(sanding, 0.0, 0.05, |left| self.with_saw(|saw| saw.sanding = left.into()))?;
        Some(Fix { words: format!("a sanding allowance of {}", self.small(left)), edit })
    }

    fn truer(&self) -> Option<Fix> {
        let saw = self.project.saw.as_ref()?;
        let edit = |less: f64| {
            self.with_saw(|saw| {
                saw.tilt_first_deg *= 1.0 - less;
                saw.tilt_second_deg *= 1.0 - less;
                saw.slip = (saw.slip.mm() * (1.0 - less)).into();
            })
        };
        let (less, edit) = self.least(0.0, 1.0, 0.05, edit)?;
        let tilt = saw.tilt_first_deg.abs().max(saw.tilt_second_deg.abs()) * (1.0 - less);
        let mut parts = Vec::new();
        if saw.tilt_first_deg != 0.0 || saw.tilt_second_deg != 0.0 {
            parts.push(format!("the table trued to within {tilt:.2}°"));
        }
        if saw.slip.mm() != 0.0 {
            let slip = self.small((saw.slip.mm() * (1.0 - less)).abs());
            parts.push(format!("ends level within {slip}"));
        }
        Some(Fix { words: parts.join(", "), edit })
    }

    fn smaller_blank(&self) -> Option<Fix> {
        let blank = &self.design.blank;
        let sizes = [(BlankSize::Width, blank.width.mm()), (BlankSize::Depth, blank.depth.mm())];
        let from = sizes[0].1.max(sizes[1].1);
        let edit = |most: f64| {
            let larger = sizes.iter().filter(|(_, mm)| *mm > most);
            let held = |(size, _): &(BlankSize, f64)| Edit::SetBlankSize {
                design: self.design.id,
                size: *size,
                value: most.into(),
            };
            self.together(larger.map(held).collect())
        };
        // As small as the lines still fit on.
        let smallest = [0.2, 0.4, 0.6, 0.8];
        let (most, edit) = smallest.iter().find_map(|share| self.least(from, share * from, 1.0, edit))?;
        let most = self.project.units.show_with_unit(most);
        Some(Fix { words: format!("a blank of no more than {most} either way"), edit })
    }

    fn stouter(&self) -> Option<Fix> {
        // Drawn points would stay where they are, aside from the new middle.
        if Cut::ALL.iter().any(|cut| !matches!(self.design.line(*cut), Line::Shape(_))) {
            return None;
        }
        let blank = &self.design.blank;
        let edit = |more: f64| {
            let size = |size, value: &Length| Edit::SetBlankSize {
                design: self.design.id,
                size,
                value: (value.mm() + more).into(),
            };
            self.together(vec![size(BlankSize::Width, &blank.width), size(BlankSize::Depth, &blank.depth)])
        };
        let (more, edit) = self.least(0.0, blank.width.mm().max(blank.depth.mm()), 1.0, edit)?;
        Some(Fix { words: format!("a blank {} stouter both ways", self.project.units.show_with_unit(more)), edit })
    }

    /// The sharp point smooth that the saw is backed out of, or those of both cuts where one is not enough.
    fn smooth_point(&self) -> Option<Fix> {
        let smooth = |cut: Cut| {
            let points = self.design.points(cut);
            let (place, point) = points.iter().enumerate().find(|(_, point)| point.kind.is_sharp())?;
            let edit = Edit::SetPointKind { design: self.design.id, cut, point: point.id, sharp: false };
            Some((format!("point {} of the {cut}", place + 1), edit))
        };
        let of_cuts = |cuts: &[Cut]| {
            let (names, edits): (Vec<_>, Vec<_>) = cuts.iter().filter_map(|cut| smooth(*cut)).unzip();
            let passes = if names.len() > 1 { "each sawn in one pass" } else { "sawn in one pass" };
            let edit = self.together(edits)?;
            self.clears(&edit, SURVEYED)
                .then(|| Fix { words: format!("{} smooth, {passes}", names.join(" and ")), edit })
        };
        of_cuts(&[self.found.cut?]).or_else(|| of_cuts(&Cut::ALL))
    }
}

/// A starting shape that swings `factor` times as far from its own middle line.
fn shape_scaled(shape: &Shape, factor: f64) -> Shape {
    let times = |length: &Length| Length::from_mm(length.mm() * factor);
    let mut shape = shape.clone();
    match &mut shape {
        Shape::Straight { .. } => {}
        Shape::Cyma { swing, .. } => *swing = times(swing),
        Shape::Arch { rise, .. } => *rise = times(rise),
        Shape::Waves { swing_top, swing_foot, .. } => {
            *swing_top = times(swing_top);
            *swing_foot = times(swing_foot);
        }
        Shape::PostAndKnee { knee, ankle, kick, .. } => {
            *knee = times(knee);
            *ankle = times(ankle);
            *kick *= factor;
        }
    }
    shape
}

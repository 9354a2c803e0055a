//! Watch-outs: what about a leg a maker should look at before it is sawn.
//!
//! Each is a pure function from the surveyed leg to a place, a figure, the limit it is held against and a verdict in plain
//! words. A limit from common practice says so, and every limit that is ours can be set by the maker.

mod bend;
mod blank_on_saw;
mod bow;
mod core;
mod edge;
mod foot;
mod kerf_loss;
mod leaves;
mod limits;
mod line_breaks;
mod overload;
mod short_grain;
mod step;
mod stops_inside;
mod thickness;
pub(crate) mod thin_wood;
mod untrue;
mod wander;

use serde::{Deserialize, Serialize};

use crate::survey::{Survey, Surveyed};
use crate::{Cut, Units};

pub use self::core::Core;
pub use limits::{Limit, Limits, LimitsError};

/// What a watch-out is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Concern {
    /// A cut leaves the blank through a face.
    LeavesBlank,
    /// The straight column of unbroken grain.
    Core,
    /// Thickness square to the curve.
    Thickness,
    /// The thinnest wood of a piece.
    ThinWood,
    /// Sides that meet at a sharp edge.
    EdgeAngle,
    /// Fibres that run out of the sides.
    ShortGrain,
    /// Bends that the blade does not go round.
    Bend,
    /// A bend tighter than half the kerf.
    LineBreaks,
    /// A pass that stops inside the wood and is backed out.
    StopsInside,
    /// The blank on the saw: height and throat.
    BlankOnSaw,
    /// Steps at the seams from a table out of true and from slip.
    SeamStep,
    /// Sides hollow from a blade that bows in deep stock.
    BladeBow,
    /// A blank that is not square or not parallel.
    OutOfTrue,
    /// Wood lost to kerf and sanding.
    KerfLoss,
    /// How far the foot stands from below the top.
    FootOffset,
    /// How far the middle wanders from the straight line between top and foot, which a load runs along.
    Wander,
    /// The load asked about.
    Overload,
}

/// How much a watch-out weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Weight {
    /// Have a look: near a limit, or something to know at the saw.
    Look,
    /// Watch out: beyond a limit.
    WatchOut,
}

/// What a figure of a watch-out is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Quantity {
    /// A length, mm.
    Mm,
    /// An angle, degrees.
    Degrees,
    /// A share of something, 0 to 1 and beyond.
    Share,
    /// So many times.
    Times,
}

/// One watch-out.
#[derive(Clone, Debug, PartialEq)]
pub struct WatchOut {
    /// What it is about.
    pub concern: Concern,
    /// How much it weighs.
    pub weight: Weight,
    /// The cut it comes from, where it comes from one.
    pub cut: Option<Cut>,
    /// Where it is worst, mm from the top.
    pub at_mm: f64,
    /// Where it begins.
    pub from_mm: f64,
    /// Where it ends.
    pub to_mm: f64,
    /// Every stretch beyond that limit, in order from the top: the worst one, from `from_mm` to `to_mm`, is among them.
    pub stretches_mm: Vec<[f64; 2]>,
    /// The figure at its worst.
    pub value: f64,
    /// The limit it is beyond: that of its weight.
    pub limit: f64,
    /// What figure and limit are.
    pub quantity: Quantity,
    /// In plain words, lengths in the maker's units.
    pub verdict: String,
}

impl Concern {
    /// All of them, those a leg is judged by first.
    pub const ALL: [Concern; 17] = [
        Concern::LeavesBlank,
        Concern::Core,
        Concern::Thickness,
        Concern::Overload,
        Concern::ThinWood,
        Concern::LineBreaks,
        Concern::Bend,
        Concern::EdgeAngle,
        Concern::ShortGrain,
        Concern::SeamStep,
        Concern::BladeBow,
        Concern::OutOfTrue,
        Concern::KerfLoss,
        Concern::BlankOnSaw,
        Concern::StopsInside,
        Concern::Wander,
        Concern::FootOffset,
    ];

    /// A few words for a list.
    pub fn title(self) -> &'static str {
        match self {
            Concern::LeavesBlank => "Cut leaves the blank",
            Concern::Core => "Little straight grain",
            Concern::Thickness => "Thin across curve",
            Concern::ThinWood => "Thin wood in a piece",
            Concern::EdgeAngle => "Sharp edge",
            Concern::ShortGrain => "Short grain",
            Concern::Bend => "Bend against blade",
            Concern::LineBreaks => "Bend against kerf",
            Concern::StopsInside => "The saw stops inside",
            Concern::BlankOnSaw => "Blank against saw",
            Concern::SeamStep => "Step at the seams",
            Concern::BladeBow => "The blade bows",
            Concern::OutOfTrue => "Blank out of true",
            Concern::KerfLoss => "Wood lost to the kerf",
            Concern::FootOffset => "Foot aside from the top",
            Concern::Wander => "Load runs outside the wood",
            Concern::Overload => "Load on the leg",
        }
    }

    /// Where its limit comes from.
    pub fn source(self) -> &'static str {
        match self {
            Concern::LeavesBlank => "entering or leaving through a face weakens the leg: common practice, no source",
            Concern::Core => "our own choice: a leg is judged by its core first",
            Concern::Thickness => "our own choice: two thirds of the blank at a slope of 48 degrees",
            Concern::ThinWood => "common practice, no source",
            Concern::EdgeAngle => "edges sharper than this chip: our own choice by eye",
            Concern::ShortGrain => {
                "Wood Handbook (FPL-GTR-190), Table 5-12 and Hankinson's formula; how much must be left is our own choice"
            }
            Concern::Bend => "the blade's published radius, and w² / (8 (kerf - body)) - body / 2, derived",
            Concern::LineBreaks => "half the kerf: geometry",
            Concern::StopsInside => {
                "stop the saw before backing out of any cut over 2 in: a school's sheet on band sawing"
            }
            Concern::BlankOnSaw => {
                "the saw's own height, throat and table; guides 6 mm (1/4 in) above the work: school sheets"
            }
            Concern::SeamStep => "a blade half a degree out shows as a step: common practice, no source",
            Concern::BladeBow => "our own choice: what scraping a side flat takes off",
            Concern::OutOfTrue => "half a degree shows at a seam: common practice, no source",
            Concern::KerfLoss => "our own choice",
            Concern::FootOffset => "our own choice: the foot stands clear of what is below the top",
            Concern::Wander => {
                "geometry: at half the blank the line of load comes out of the wood; what is too far is our own choice"
            }
            Concern::Overload => {
                "the load and the factors you set; published strengths of clear wood. It certifies nothing"
            }
        }
    }

    /// What its figure and its limits are.
    pub fn quantity(self) -> Quantity {
        match self {
            Concern::LeavesBlank
            | Concern::ThinWood
            | Concern::Bend
            | Concern::LineBreaks
            | Concern::StopsInside
            | Concern::BlankOnSaw
            | Concern::SeamStep => Quantity::Mm,
            Concern::BladeBow => Quantity::Mm,
            Concern::EdgeAngle | Concern::OutOfTrue => Quantity::Degrees,
            Concern::Core
            | Concern::Thickness
            | Concern::ShortGrain
            | Concern::KerfLoss
            | Concern::FootOffset
            | Concern::Wander => Quantity::Share,
            Concern::Overload => Quantity::Times,
        }
    }

    /// Whether it is about the leg as a whole and not about a place of it.
    pub fn is_of_the_whole_leg(self) -> bool {
        matches!(self, Concern::Core | Concern::OutOfTrue | Concern::FootOffset | Concern::BlankOnSaw)
    }

    /// Whether its figure and its limits are lengths that are small beside a blank: a fraction of an inch would tell one as
    /// none, or figure and limit as the same.
    pub fn is_small(self) -> bool {
        matches!(
            self,
            Concern::LeavesBlank
                | Concern::ThinWood
                | Concern::Bend
                | Concern::LineBreaks
                | Concern::SeamStep
                | Concern::BladeBow
        )
    }

    /// The units its figure and its limits are told in where the maker's are these.
    pub fn units(self, units: Units) -> Units {
        if self.is_small() { units.fine() } else { units }
    }

    /// A figure with its unit, in the maker's units; of room that is lacking, how much that is.
    pub fn figure(self, units: Units, value: f64) -> String {
        if self == Concern::BlankOnSaw {
            return format!("{} short", self.quantity().show(units, -value));
        }
        self.quantity().show(self.units(units), value)
    }

    /// A limit with its unit; nothing of room that is lacking, which has no other limit than none.
    pub fn limit_words(self, units: Units, limit: f64) -> Option<String> {
        (self != Concern::BlankOnSaw).then(|| self.quantity().show(self.units(units), limit))
    }

    /// Whether a smaller figure is the worse one.
    pub fn less_is_worse(self) -> bool {
        match self {
            Concern::Core
            | Concern::Thickness
            | Concern::ThinWood
            | Concern::EdgeAngle
            | Concern::ShortGrain
            | Concern::Bend
            | Concern::LineBreaks
            | Concern::BlankOnSaw
            | Concern::KerfLoss
            | Concern::Overload => true,
            Concern::LeavesBlank
            | Concern::StopsInside
            | Concern::SeamStep
            | Concern::BladeBow
            | Concern::OutOfTrue
            | Concern::FootOffset
            | Concern::Wander => false,
        }
    }

    /// Whether one figure is worse than another.
    pub fn worse(self, value: f64, than: f64) -> bool {
        if self.less_is_worse() { value < than } else { value > than }
    }

    /// This watch-out about a surveyed leg; none where the leg is sound in it.
    pub fn check(self, survey: &Survey, limits: &Limits, units: Units) -> Option<WatchOut> {
        match self {
            Concern::LeavesBlank => leaves::check(survey, units),
            Concern::Core => core::check(survey, limits, units),
            Concern::Thickness => thickness::check(survey, limits, units),
            Concern::ThinWood => thin_wood::check(survey, limits, units),
            Concern::EdgeAngle => edge::check(survey, limits),
            Concern::ShortGrain => short_grain::check(survey, limits, units),
            Concern::Bend => bend::check(survey, units),
            Concern::LineBreaks => line_breaks::check(survey, units),
            Concern::StopsInside => stops_inside::check(survey, limits, units),
            Concern::BlankOnSaw => blank_on_saw::check(survey, units),
            Concern::SeamStep => step::check(survey, limits, units),
            Concern::BladeBow => bow::check(survey, limits, units),
            Concern::OutOfTrue => untrue::check(survey, limits, units),
            Concern::KerfLoss => kerf_loss::check(survey, limits, units),
            Concern::FootOffset => foot::check(survey, limits, units),
            Concern::Wander => wander::check(survey, limits, units),
            Concern::Overload => overload::check(survey, limits),
        }
    }
}

impl WatchOut {
    /// Its figure with its unit, in the maker's units; of room that is lacking, how much that is.
    pub fn figure(&self, units: Units) -> String {
        self.concern.figure(units, self.value)
    }

    /// The limit that it is beyond, with its unit; nothing of room that is lacking, which has no other limit than none.
    pub fn limit_words(&self, units: Units) -> Option<String> {
        self.concern.limit_words(units, self.limit)
    }
}

impl Quantity {
    /// A figure with its unit, in the maker's units.
    pub fn show(self, units: Units, value: f64) -> String {
        match self {
            Quantity::Mm => units.show_with_unit(value),
            Quantity::Degrees => format!("{value:.1}°"),
            Quantity::Share => format!("{:.0} %", 100.0 * value),
            Quantity::Times if value < 0.95 => format!("{value:.2} times"),
            Quantity::Times => format!("{value:.1} times"),
        }
    }
}

/// Everything about a leg that a maker should look at, the worst first.
pub fn watch_outs(survey: &Survey, limits: &Limits, units: Units) -> Vec<WatchOut> {
    let mut found: Vec<WatchOut> =
        Concern::ALL.iter().filter_map(|concern| concern.check(survey, limits, units)).collect();
    // Those a leg is judged by stand first among equals.
    found.sort_by_key(|one| std::cmp::Reverse(one.weight));
    found
}

/// The worst place, and every stretch that is beyond a limit.
struct Worst {
    at_mm: f64,
    value: f64,
    stretches_mm: Vec<[f64; 2]>,
}

impl Worst {
    /// At one place.
    fn at(s_mm: f64, value: f64) -> Worst {
        Worst { at_mm: s_mm, value, stretches_mm: vec![[s_mm; 2]] }
    }

    /// All along the leg, told at `at_mm`.
    fn all_along(survey: &Survey, at_mm: f64, value: f64) -> Worst {
        Worst { at_mm, value, stretches_mm: vec![[0.0, survey.leg().length_mm]] }
    }
}

/// Figures nearer than this to one another, as a share, are as bad: of waves that are all alike the first is told.
const AS_BAD: f64 = 1e-6;

/// Stations whose figures are nearer than this to the worst, as a share, are of a place that is as bad: waves that are all alike
/// are met by the stations each in another place.
const ALIKE: f64 = 1e-3;

/// The worst of the first run of figures that are alike; where all are, the first.
fn first_of_alike(values: &[f64], alike: impl Fn(f64) -> bool, worse: impl Fn(f64, f64) -> bool) -> Option<usize> {
    let from = values.iter().position(|here| alike(*here))?;
    let run = values.iter().skip(from).take_while(|here| alike(**here)).count();
    if run == values.len() {
        return Some(0);
    }
    (from..from + run).reduce(|worst, i| {
        if worse(values[i], values[worst] * (1.0 + AS_BAD)) && worse(values[i], values[worst] * (1.0 - AS_BAD)) {
            i
        } else {
            worst
        }
    })
}

/// Where a figure is worst, if it is beyond `limit` there: the first of places that are as bad.
fn worst(survey: &Survey, concern: Concern, limit: Limit, value: impl Fn(&Surveyed) -> f64) -> Option<Worst> {
    let values: Vec<f64> = survey.stations().iter().map(value).collect();
    let most = values.iter().copied().reduce(|most, here| if concern.worse(here, most) { here } else { most })?;
    let (_, limit) = weighed(concern, most, limit)?;
    let near = first_of_alike(
        &values,
        |here| (here - most).abs() <= ALIKE * most.abs(),
        |here, than| concern.worse(here, than),
    )?;
    let mut stretches_mm: Vec<[f64; 2]> = Vec::new();
    let mut before = false;
    for (at, here) in survey.stations().iter().zip(&values) {
        let (s, beyond) = (at.drawn.s_mm, concern.worse(*here, limit));
        match stretches_mm.last_mut() {
            Some(last) if beyond && before => last[1] = s,
            _ if beyond => stretches_mm.push([s, s]),
            _ => {}
        }
        before = beyond;
    }
    Some(Worst { at_mm: survey.stations()[near].drawn.s_mm, value: most, stretches_mm })
}

/// " at 9 places" where there are several.
fn places(worst: &Worst) -> String {
    match worst.stretches_mm.len() {
        0 | 1 => String::new(),
        more => format!(" It is so at {more} places."),
    }
}

/// How much a figure weighs against a limit, and the limit it is beyond; nothing where it is within both.
fn weighed(concern: Concern, value: f64, limit: Limit) -> Option<(Weight, f64)> {
    if concern.worse(value, limit.watch) {
        Some((Weight::WatchOut, limit.watch))
    } else if concern.worse(value, limit.look) {
        Some((Weight::Look, limit.look))
    } else {
        None
    }
}

/// A watch-out from where it is worst.
fn found(concern: Concern, worst: Worst, limit: Limit, cut: Option<Cut>, verdict: String) -> Option<WatchOut> {
    let (weight, limit) = weighed(concern, worst.value, limit)?;
    let Worst { at_mm, value, stretches_mm } = worst;
    let holds = |[from, to]: &&[f64; 2]| *from <= at_mm && at_mm <= *to;
    let [from_mm, to_mm] = stretches_mm.iter().find(holds).copied().unwrap_or([at_mm; 2]);
    let quantity = concern.quantity();
    Some(WatchOut { concern, weight, cut, at_mm, from_mm, to_mm, stretches_mm, value, limit, quantity, verdict })
}

#[cfg(test)]
mod tests;

//! The smallest changes that make a pair of seams meet.
//!
//! Where a closed form says which values would do (a whole number of repeats across the blank), those nearest to what is
//! there are tried; elsewhere a fixed list of values is. Every value is tried by making the change and comparing the seams
//! anew, so that what is promised is what will be seen, and the same question has the same answer every time.

use cornerwise_geometry::{Cut, Face};
use cornerwise_wood::{SeamLimits, Wood, compare_pair, seam_effort};

use crate::{Design, Edit};

mod blocks;
mod layers;
mod line;
mod timber;

/// What is asked of a pair of seams.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Question {
    /// Do the lines meet?
    LinesMeet,
    /// Is it the same wood?
    SameWood,
    /// Does the pattern carry on?
    PatternCarriesOn,
}

impl Question {
    /// All three.
    pub const ALL: [Question; 3] = [Question::LinesMeet, Question::SameWood, Question::PatternCarriesOn];

    /// What is wanted, as it stands in a sentence.
    pub fn name(self) -> &'static str {
        match self {
            Question::LinesMeet => "lines meet",
            Question::SameWood => "same wood",
            Question::PatternCarriesOn => "pattern carries on",
        }
    }
}

/// What may be changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Changeable {
    /// How thick the layers are: all alike, or one of them.
    Thickness,
    /// The two angles of layers.
    Angle,
    /// Where layers or columns begin.
    Shift,
    /// How wide the columns are, and with that how many there are.
    Columns,
    /// How much farther each column begins than the one before it.
    Rise,
    /// The blank's width or depth.
    BlankWidth,
    /// Where the pith lies and whether it leans.
    Pith,
    /// How wide the rings are.
    RingWidth,
    /// The saw line, aside.
    LineAside,
    /// The saw line's swing.
    LineSwing,
    /// The saw line, along the leg.
    LineAlong,
}

impl Changeable {
    /// All of them: the wood, the blank, the saw line.
    pub const ALL: [Changeable; 11] = [
        Changeable::Thickness,
        Changeable::Angle,
        Changeable::Shift,
        Changeable::Columns,
        Changeable::Rise,
        Changeable::Pith,
        Changeable::RingWidth,
        Changeable::BlankWidth,
        Changeable::LineAside,
        Changeable::LineSwing,
        Changeable::LineAlong,
    ];

    /// What it is called beside a tick.
    pub fn name(self) -> &'static str {
        match self {
            Changeable::Thickness => "thickness",
            Changeable::Angle => "angle",
            Changeable::Shift => "shift",
            Changeable::Columns => "columns",
            Changeable::Rise => "rise",
            Changeable::BlankWidth => "blank's size",
            Changeable::Pith => "pith",
            Changeable::RingWidth => "ring width",
            Changeable::LineAside => "line aside",
            Changeable::LineSwing => "line's swing",
            Changeable::LineAlong => "line along",
        }
    }

    /// Whether a wood has it.
    pub fn applies_to(self, wood: &Wood) -> bool {
        match self {
            Changeable::Thickness | Changeable::Angle => matches!(wood, Wood::Layers(_)),
            Changeable::Shift => matches!(wood, Wood::Layers(_) | Wood::Blocks(_)),
            Changeable::Columns | Changeable::Rise => matches!(wood, Wood::Blocks(_)),
            Changeable::Pith | Changeable::RingWidth => matches!(wood, Wood::Timber(_)),
            // What was photographed is as large as it is.
            Changeable::BlankWidth => !matches!(wood, Wood::Photos(_)),
            Changeable::LineAside | Changeable::LineSwing | Changeable::LineAlong => true,
        }
    }

    /// What may still move when the blank is glued up or chosen.
    pub const LINE: [Changeable; 3] = [Changeable::LineAside, Changeable::LineSwing, Changeable::LineAlong];
}

/// A quantity before and after a change.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// What it is, as it stands in a sentence.
    pub what: String,
    /// Before.
    pub from: Amount,
    /// After.
    pub to: Amount,
}

/// A quantity with its unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Amount {
    /// mm.
    Length(f64),
    /// Degrees.
    Degrees(f64),
    /// A plain factor.
    Times(f64),
}

/// A change that makes a pair of seams meet.
#[derive(Clone, Debug, PartialEq)]
pub struct SeamFix {
    /// What is changed.
    pub changes: Changeable,
    /// From what to what.
    pub steps: Vec<Step>,
    /// The edit that does it.
    pub edit: Edit,
    /// The share of the seam's length over which the answer is yes now, 0 to 1.
    pub before: f64,
    /// The same once the edit is done: what comparing the changed design's seams gives.
    pub after: f64,
    /// The same two of the other pair of seams, which a change of the wood, or of a line that another follows, changes too.
    pub other: [f64; 2],
}

impl SeamFix {
    /// The design with the change made.
    pub fn done(&self, design: &Design) -> Option<Design> {
        design.with_edit(&self.edit)
    }
}

/// What was found.
#[derive(Clone, Debug, PartialEq)]
pub struct SeamFixes {
    /// The share over which the answer is yes as things are.
    pub now: f64,
    /// The smallest change of each kind that was allowed and helps, the smallest first.
    pub fixes: Vec<SeamFix>,
    /// Why there is none.
    pub why_none: Option<String>,
    /// False where the search was stopped before its end, or ended because there was too much to look at.
    pub complete: bool,
}

/// From this share on a pair counts as meeting all along: a line may miss its partner by the seam's very ends.
const ALL_ALONG: f64 = 0.9995;

/// A search without a closed form may end with less than all, if it is at least this much of the seam.
const WORTH_IT: f64 = 0.95;

/// How many looks at a seam a search may take, all its tries together: about a second of work. It is counted before each
/// try, so that the same question has the same answer on any machine.
const MOST_LOOKS: f64 = 5e6;

/// How many values of one kind of change are tried at most.
const MOST_TRIES: usize = 64;

/// By how much of its width a blank may become wider or narrower: more, and it is another piece of furniture.
const MOST_WIDER: f64 = 0.5;

/// What a maker would still glue on, as a share of the mean column or layer.
const LEAST_STRIP: f64 = 0.25;

/// Whether a list of widths that begins at `shift` and repeats leaves a sliver at 0 or at `apart`, where the blank ends: a
/// part too thin to be glued on, though whole columns or layers may end there.
pub(crate) fn leaves_a_sliver(widths: &[f64], shift: f64, apart: f64) -> bool {
    let total: f64 = widths.iter().sum();
    let least = LEAST_STRIP * total / widths.len().max(1) as f64;
    let off = |face: f64| {
        let at = (face - shift).rem_euclid(total);
        let mut line = 0.0;
        let lines = std::iter::once(0.0).chain(widths.iter().map(|width| {
            line += width;
            line
        }));
        lines.map(|line| (line - at).abs()).fold(f64::INFINITY, f64::min)
    };
    [0.0, apart].into_iter().any(|face| (1e-6..least).contains(&off(face)))
}

/// A value to try.
pub(crate) struct Try {
    pub changes: Changeable,
    pub steps: Vec<Step>,
    pub edit: Edit,
    /// How large a change it is: about how far wood or line move, mm.
    pub effort_mm: f64,
}

/// The smallest changes, one of each kind that may be made, that give the answer yes all along the pair of seams of a cut
/// (the first cut's are 2 and 4, the second's 1 and 3). `stop` is asked between tries.
pub fn seam_fixes(
    design: &Design,
    cut: Cut,
    question: Question,
    may: &[Changeable],
    limits: &SeamLimits,
    stop: &dyn Fn() -> bool,
) -> SeamFixes {
    let now = share(design, cut, question, limits).unwrap_or(0.0);
    let mut found = SeamFixes { now, fixes: Vec::new(), why_none: None, complete: true };
    if let Some(missing) = unknown(design, cut, limits) {
        found.why_none = Some(missing);
        return found;
    }
    if now >= ALL_ALONG {
        found.why_none = Some(format!("{} all along already", capital(question.name())));
        return found;
    }
    let mut efforts = Vec::new();
    let other = match cut {
        Cut::First => Cut::Second,
        Cut::Second => Cut::First,
    };
    let other_now = share(design, other, question, limits).unwrap_or(0.0);
    let looks = design.leg().map_or(1.0, |leg| 0.5 * seam_effort(&leg, &design.wood)).max(1.0);
    let kinds = may.iter().filter(|kind| kind.applies_to(&design.wood)).count();
    let most_tries = (MOST_LOOKS / (looks * kinds.max(1) as f64)).max(1.0) as usize;
    for kind in may {
        let mut tries = tries(design, cut, *kind);
        tries.retain(|one| one.effort_mm > 1e-9 && one.effort_mm.is_finite());
        if *kind == Changeable::BlankWidth {
            let most = MOST_WIDER * apart_mm(design, cut);
            tries.retain(|one| one.effort_mm <= most);
        }
        tries.sort_by(|p, q| p.effort_mm.total_cmp(&q.effort_mm));
        tries.truncate(MOST_TRIES);
        if tries.len() > most_tries {
            tries.truncate(most_tries);
            found.complete = false;
        }
        let mut best: Option<(Try, f64)> = None;
        for one in tries {
            if stop() {
                found.complete = false;
                break;
            }
            let Some(after) = design.with_edit(&one.edit).and_then(|next| share(&next, cut, question, limits)) else {
                continue;
            };
            if best.as_ref().is_none_or(|(_, most)| after > most + 1e-9) {
                let done = after >= ALL_ALONG;
                best = Some((one, after));
                if done {
                    break;
                }
            }
        }
        if let Some((one, after)) = best.filter(|(_, after)| *after >= WORTH_IT && *after > now + 1e-3) {
            let theirs = design.with_edit(&one.edit).and_then(|next| share(&next, other, question, limits));
            let other = [other_now, theirs.unwrap_or(0.0)];
            efforts.push(one.effort_mm);
            let Try { changes, steps, edit, .. } = one;
            found.fixes.push(SeamFix { changes, steps, edit, before: now, after, other });
        }
    }
    let mut order: Vec<usize> = (0..found.fixes.len()).collect();
    order.sort_by(|i, j| efforts[*i].total_cmp(&efforts[*j]));
    found.fixes = order.into_iter().map(|i| found.fixes[i].clone()).collect();
    if found.fixes.is_empty() && found.complete {
        found.why_none = Some(why_none(design, cut, question));
    }
    found
}

/// The share of a pair of seams over which the answer is yes.
fn share(design: &Design, cut: Cut, question: Question, limits: &SeamLimits) -> Option<f64> {
    let limits = SeamLimits { most_places: 0, ..*limits };
    let answer = compare_pair(&design.leg().ok()?, &design.wood, cut, &limits);
    Some(match question {
        Question::LinesMeet => answer.lines_meet,
        Question::SameWood => answer.same_wood,
        Question::PatternCarriesOn => answer.pattern_carries_on,
    })
}

fn tries(design: &Design, cut: Cut, kind: Changeable) -> Vec<Try> {
    if Changeable::LINE.contains(&kind) {
        return line::tries(design, cut, kind);
    }
    match &design.wood {
        Wood::Layers(layers) => layers::tries(design, layers, cut, kind),
        Wood::Blocks(blocks) => blocks::tries(design, blocks, cut, kind),
        Wood::Timber(timber) => timber::tries(design, timber, cut, kind),
        // Nothing about wood that is there already can be changed.
        Wood::Photos(_) => Vec::new(),
    }
}

/// Why nothing is known of a pair of seams, where that is so.
fn unknown(design: &Design, cut: Cut, limits: &SeamLimits) -> Option<String> {
    let photos = design.wood.photos()?;
    let answer = compare_pair(&design.leg().ok()?, &design.wood, cut, &SeamLimits { most_places: 0, ..*limits });
    if answer.unknown < 1.0 {
        return None;
    }
    let faces = match cut {
        Cut::First => [Face::One, Face::Three],
        Cut::Second => [Face::Four, Face::Two],
    };
    let missing = faces.into_iter().find(|face| photos.of(*face).is_none());
    Some(match missing {
        Some(face) => format!("{face} has no photo, so nothing is known of these seams"),
        None => "the photos of these seams' faces are not there, so nothing is known of them".to_owned(),
    })
}

fn why_none(design: &Design, cut: Cut, question: Question) -> String {
    let apart = apart_mm(design, cut);
    match (&design.wood, question) {
        (Wood::Layers(layers), Question::LinesMeet | Question::PatternCarriesOn) => {
            let normal = layers.normal();
            let across = normal[axis(cut)];
            if across.abs() < 1e-9 {
                return "these layers run square across from face to face".to_owned();
            }
            if normal[2].abs() > 1e-9 {
                let jump = apart * (across / normal[2]).abs();
                format!(
                    "the layers jump by {jump:.1} mm along the leg from face to face, wherever the saw line runs: only \
                     their angle, their thickness or the blank's size can make that a whole number of repeats"
                )
            } else {
                "the layers stand, and the blank is not a whole number of repeats across, wherever the saw line runs"
                    .to_owned()
            }
        }
        (Wood::Blocks(_), _) => {
            "the blank is not a whole number of repeats of its columns across, wherever the saw line \
                                 runs: only their width, shift or rise, or the blank's size, can change that"
                .to_owned()
        }
        (Wood::Layers(_), Question::SameWood) => {
            "the outermost layers at both faces are of different woods, and nothing that may change makes them the same"
                .to_owned()
        }
        (Wood::Photos(_), _) => {
            "no place, swing or shift of the saw line that was tried makes these photographed edges alike; turning the blank \
             puts other faces together"
                .to_owned()
        }
        (Wood::Timber(_), _) => {
            let turn = match question {
                Question::PatternCarriesOn => ", and carry on without a turn only where it lies near the saw line too",
                Question::LinesMeet | Question::SameWood => "",
            };
            format!(
                "rings meet all along only where the pith lies as far from both faces and runs along the blank{turn}; \
                 nothing that may change brings them near that"
            )
        }
    }
}

/// How far apart the two faces of a pair are, mm.
pub(crate) fn apart_mm(design: &Design, cut: Cut) -> f64 {
    match cut {
        Cut::First => design.blank.depth.mm(),
        Cut::Second => design.blank.width.mm(),
    }
}

/// The axis from face to face: x for seams 1 and 3, y for 2 and 4.
pub(crate) fn axis(cut: Cut) -> usize {
    match cut {
        Cut::First => 1,
        Cut::Second => 0,
    }
}

/// The whole numbers from 1 nearest to a count, nearest first, no more than `many`.
pub(crate) fn near(count: f64, many: usize) -> Vec<f64> {
    let middle = count.round().clamp(1.0, 1e6);
    let mut all: Vec<f64> = (-6..=6).map(|i| middle + f64::from(i)).filter(|k| *k >= 1.0).collect();
    all.sort_by(|p, q| (p - count).abs().total_cmp(&(q - count).abs()));
    all.truncate(many);
    all
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|c| c.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

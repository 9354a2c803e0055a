//! The smallest changes that make seams meet.
//!
//! Where a closed form says which values would do (a whole number of repeats across the blank), those nearest to what is
//! there are tried; elsewhere a fixed list of values is. Every value is tried by making the change and comparing the seams
//! anew, so that what is promised is what will be seen, and the same question has the same answer every time.

use cornerwise_geometry::Cut;
use cornerwise_wood::SeamLimits;

use crate::{Design, Edit};

mod blocks;
mod changeable;
mod chosen;
mod layers;
mod line;
mod search;
mod timber;
mod tries;
mod why;

pub use changeable::Changeable;

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

    /// Its place in [`Question::ALL`].
    pub fn index(self) -> usize {
        self as usize
    }

    /// What is wanted, as it stands in a sentence.
    pub fn name(self) -> &'static str {
        match self {
            Question::LinesMeet => "lines meet",
            Question::SameWood => "same wood",
            Question::PatternCarriesOn => "pattern carries on",
        }
    }
}

/// Something about each pair of seams and each question: by [`Cut::index`] (the first cut makes seams 2 and 4, the second
/// 1 and 3), then by [`Question::index`].
pub type OfPairs<T> = [[T; 3]; 2];

/// Which pairs of seams shall meet, and in what.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Wanted {
    /// By [`Cut::index`].
    pub pairs: [bool; 2],
    /// By [`Question::index`].
    pub questions: [bool; 3],
}

impl Wanted {
    /// Both pairs, all three questions.
    pub const ALL: Wanted = Wanted { pairs: [true; 2], questions: [true; 3] };

    /// One question about one pair.
    pub fn one(cut: Cut, question: Question) -> Wanted {
        Wanted { pairs: Cut::ALL.map(|c| c == cut), questions: Question::ALL.map(|q| q == question) }
    }

    /// Whether this is asked.
    pub fn has(&self, cut: Cut, question: Question) -> bool {
        self.pairs[cut.index()] && self.questions[question.index()]
    }
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

impl Amount {
    /// The number, whatever its unit.
    pub fn number(self) -> f64 {
        match self {
            Amount::Length(v) | Amount::Degrees(v) | Amount::Times(v) => v,
        }
    }
}

/// A change that makes seams meet.
#[derive(Clone, Debug, PartialEq)]
pub struct SeamFix {
    /// What is changed.
    pub changes: Changeable,
    /// From what to what.
    pub steps: Vec<Step>,
    /// The edit that does it.
    pub edit: Edit,
    /// How large it is, mm: the most by which any one measure of it changes. So that changes of every kind can be compared, an
    /// angle of layers counts as what it moves from face to face of the blank, a ring's width as what rings move from face to
    /// face, a lean of the pith as what it moves from top to foot, a line's swing as the most that the line moves.
    pub size_mm: f64,
    /// The shares of the seams' length over which the answers are yes once the edit is done, 0 to 1: what comparing the
    /// changed design's seams gives.
    pub after: OfPairs<f64>,
    /// Whether lines are seen then, by [`Cut::index`]; see [`SeamFixes::lines_seen`].
    pub lines_seen: [bool; 2],
    /// Which of the wanted answers become yes by it.
    pub reaches: OfPairs<bool>,
    /// Whether all that is wanted is yes by it, what was so already included.
    pub reaches_all: bool,
    /// Whether something that is wanted and is yes now is so no longer.
    pub loses: bool,
}

impl SeamFix {
    /// The design with the change made.
    pub fn done(&self, design: &Design) -> Option<Design> {
        design.with_edit(&self.edit)
    }

    /// Whether it makes something meet at this pair.
    pub fn helps(&self, cut: Cut) -> bool {
        self.reaches[cut.index()].contains(&true)
    }
}

/// What was found.
#[derive(Clone, Debug, PartialEq)]
pub struct SeamFixes {
    /// The shares over which the answers are yes as things are.
    pub now: OfPairs<f64>,
    /// Whether any lines are seen to meet or not, by [`Cut::index`]: in photos they may not be, and then their share means
    /// nothing.
    pub lines_seen: [bool; 2],
    /// A few of the smallest changes for each pair and for both together, the smallest first, and after them those that take
    /// away something that is wanted and is there. Of one kind there are several
    /// only where they go another way: thinner or thicker, all layers or one of them.
    pub fixes: Vec<SeamFix>,
    /// Why nothing makes a wanted answer yes, where nothing was found and not all of it is yes already. Lengths are written in
    /// mm, as [`cornerwise_geometry::Units::told`] reads them.
    pub why_none: OfPairs<Option<String>>,
    /// False where the search was stopped before its end (then no reasons are given), or took wide steps because there was too
    /// much to look at.
    pub complete: bool,
}

/// From this share on a pair counts as meeting all along: a line may miss its partner by the seam's very ends.
pub(crate) const ALL_ALONG: f64 = 0.9995;

/// A search without a closed form may end with less than all, if it is at least this much of the seam.
pub(crate) const WORTH_IT: f64 = 0.95;

/// The smallest changes, of those kinds that may be made, that make what is wanted yes all along the seams. `stop` is asked
/// between tries.
pub fn seam_fixes(
    design: &Design,
    wanted: &Wanted,
    may: &[Changeable],
    limits: &SeamLimits,
    stop: &dyn Fn() -> bool,
) -> SeamFixes {
    search::Search::new(design, wanted, limits, stop).run(may)
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

use cornerwise_geometry::{Arris, Length};
use serde::{Deserialize, Serialize};

/// How the paper of a project is printed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct PaperChoice {
    /// The page the sheets are cut into.
    pub page: PageSize,
    /// Whether the page lies on its long edge. A roll ignores it.
    pub landscape: bool,
    /// How the strip goes round the blank.
    pub layout: StripLayout,
    /// How far a page overlaps the next one, [`crate::OVERLAP_MM`].
    pub overlap: Length,
    /// What the maker measured on a printed check rule.
    pub measured: CheckRule,
    /// Whether the edges of what the saw takes up are printed as fine lines beside the saw line, where a saw is told.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub kerf_edges: bool,
    /// Whether the paper tells which way each side is cleaned up.
    #[serde(skip_serializing_if = "Clone::clone")]
    pub clean_up: bool,
    /// What is printed beside the strip and the caps, each at most once.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub also: Vec<PaperExtra>,
    /// Where the gauge shows the level section, from the finished top; the ends, the quarters and the notches where nothing
    /// is chosen.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub gauge_at: Vec<Length>,
}

/// Paper that is printed when it is wanted. A crosscut strip is always printed where there are notches, and the plan where
/// there is furniture.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum PaperExtra {
    /// The curves of scraps that clamps press on.
    Cauls,
    /// The saw lines with a straight edge, to be glued on hardboard and traced; flipped over for the other hand.
    Master,
    /// The level section at chosen heights.
    Gauge,
    /// Board list, milling notes and glue-up, without furniture too.
    Plan,
}

impl PaperExtra {
    /// All of them, in the order they are printed.
    pub const ALL: [PaperExtra; 4] = [PaperExtra::Cauls, PaperExtra::Master, PaperExtra::Gauge, PaperExtra::Plan];

    /// Its name for the maker.
    pub fn name(self) -> &'static str {
        match self {
            PaperExtra::Cauls => "Cauls",
            PaperExtra::Master => "Flip-over master",
            PaperExtra::Gauge => "Gauge of level sections",
            PaperExtra::Plan => "Plan",
        }
    }
}

impl Default for PaperChoice {
    fn default() -> PaperChoice {
        PaperChoice {
            page: PageSize::A4,
            landscape: false,
            layout: StripLayout::Wrapped,
            overlap: Length::from_mm(15.0),
            measured: CheckRule::default(),
            kerf_edges: false,
            clean_up: true,
            also: Vec::new(),
            gauge_at: Vec::new(),
        }
    }
}

/// A size of page.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum PageSize {
    /// ISO 216 A4, 210 x 297 mm.
    A4,
    /// ISO 216 A3, 297 x 420 mm.
    A3,
    /// ASME Y14.1 A, 8 1/2 x 11 in.
    Letter,
    /// ASME Y14.1 B, 11 x 17 in.
    Tabloid,
    /// One long page cut from a roll of this width.
    Roll {
        /// Across the roll, [`crate::ROLL_WIDTH_MM`].
        width: Length,
    },
}

impl PageSize {
    /// The short edge, or the roll's width, mm.
    pub fn width_mm(&self) -> f64 {
        match self {
            PageSize::A4 => 210.0,
            PageSize::A3 => 297.0,
            PageSize::Letter => 215.9,
            PageSize::Tabloid => 279.4,
            PageSize::Roll { width } => width.mm(),
        }
    }

    /// The long edge, mm; `None` for a roll, which is as long as it needs to be.
    pub fn height_mm(&self) -> Option<f64> {
        match self {
            PageSize::A4 => Some(297.0),
            PageSize::A3 => Some(420.0),
            PageSize::Letter => Some(279.4),
            PageSize::Tabloid => Some(431.8),
            PageSize::Roll { .. } => None,
        }
    }

    /// The name for the maker.
    pub fn name(&self) -> &'static str {
        match self {
            PageSize::A4 => "A4",
            PageSize::A3 => "A3",
            PageSize::Letter => "Letter",
            PageSize::Tabloid => "Tabloid",
            PageSize::Roll { .. } => "Roll",
        }
    }
}

/// How the strip goes round the blank.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum StripLayout {
    /// One strip over face 1 and face 2, folded at arris 2.
    #[default]
    Wrapped,
    /// One strip for each face, each registered to an arris. Measuring from arris 2 on both keeps both lines true to
    /// the corner they share.
    PerFace {
        /// Arris 1 or 2.
        #[serde(default = "arris_two")]
        face_1_by: Arris,
        /// Arris 2 or 3.
        #[serde(default = "arris_two")]
        face_2_by: Arris,
    },
}

fn arris_two() -> Arris {
    Arris::Two
}

/// What the maker measured on one printed check rule, along both edges of the page.
///
/// A rule that measures what it says, in both directions, corrects nothing.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct CheckRule {
    /// Which of the printed rules was measured.
    pub rule: Rule,
    /// Measured along the page's short edge, or across the roll.
    pub across: Length,
    /// Measured along the page's long edge, or along the roll.
    pub along: Length,
}

impl CheckRule {
    /// A rule that came out true.
    pub fn exact(rule: Rule) -> CheckRule {
        let (across, along) = (Length::from_mm(rule.mm()), Length::from_mm(rule.mm()));
        CheckRule { rule, across, along }
    }

    /// What to multiply lengths by before printing, so that they come out true: across and along the page.
    pub fn correction(&self) -> [f64; 2] {
        [self.rule.mm() / self.across.mm(), self.rule.mm() / self.along.mm()]
    }
}

impl Default for CheckRule {
    fn default() -> CheckRule {
        CheckRule::exact(Rule::HundredMillimetres)
    }
}

/// One of the two check rules on every page.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Rule {
    /// 100 mm.
    #[default]
    HundredMillimetres,
    /// 4 in.
    FourInches,
}

impl Rule {
    /// Its true length, mm.
    pub fn mm(self) -> f64 {
        match self {
            Rule::HundredMillimetres => 100.0,
            Rule::FourInches => 4.0 * 25.4,
        }
    }
}

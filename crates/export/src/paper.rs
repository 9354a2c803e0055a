//! The paper of one leg: a cover with steps, cautions and end caps, and the strip at true size over as many pages as it
//! needs.

mod cap;
mod cautions;
mod check_rule;
mod clean_up;
mod column;
mod cover;
mod crossings;
mod face_strip;
mod figure;
mod furniture;
mod joins;
mod key_plan;
mod label;
mod labels;
mod notes;
mod outside;
mod pass_signs;
mod passes;
mod placer;
mod rows;
mod scale_ticks;
mod strip;
mod strip_pages;
mod tiling;

pub use notes::Notes;

use crate::page::PageKind;
use crate::sheets::{Drawing, Sheet, Typeface};
use cornerwise_geometry::{Arris, Face, Leg, LegError, Units};
use cornerwise_project::{
    CHECK_RULE_SHARE, Design, OVERLAP_MM, PageSize, PaperChoice, Project, ROLL_WIDTH_MM, StripLayout,
};
use thiserror::Error;

/// Most pages for one leg: far more than anyone joins, few enough that nothing hangs.
pub const MAX_PAGES: usize = 400;

/// What the pages of a leg are headed with.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LegNames {
    /// The project.
    pub project: String,
    /// The design.
    pub design: String,
    /// The letter of the leg: its pieces are A1, A2 …
    pub letter: char,
}

impl LegNames {
    /// The names of one design of a project.
    pub fn of(project: &Project, design: &Design) -> LegNames {
        LegNames { project: project.name.clone(), design: design.name.clone(), letter: design.letter }
    }
}

impl LegNames {
    /// The names as the letters on paper can write them: `?` for what these lack. A piece called `?1` would be nobody's,
    /// so the letter itself must be one that they have.
    fn printable(&self) -> Result<LegNames, PaperError> {
        let has = |c: char| Typeface::ALL.iter().all(|typeface| typeface.letter(c).glyph != 0);
        if !has(self.letter) || self.letter.is_control() || self.letter.is_whitespace() {
            return Err(PaperError::Letter { letter: self.letter, design: self.design.clone() });
        }
        let written = |name: &str| name.chars().map(|c| if has(c) { c } else { '?' }).collect();
        Ok(LegNames { project: written(&self.project), design: written(&self.design), letter: self.letter })
    }
}

/// Why there is no paper.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum PaperError {
    /// The blank or a line of the design is not sound.
    #[error("{design}: {source}")]
    Leg {
        /// The design's name.
        design: String,
        /// What is wrong with it.
        source: LegError,
    },
    /// The letter of a leg is one that is not to be seen on paper.
    #[error("{design}: the letter {letter:?} cannot be printed: give the leg another one, such as A")]
    Letter {
        /// The letter.
        letter: char,
        /// The design's name.
        design: String,
    },
    /// A length of the leg is not a number.
    #[error("the leg's {0} is not a length")]
    NotALength(&'static str),
    /// What was measured cannot be a check rule of this paper.
    #[error(
        "the check rule was measured as {measured_mm} mm along the {edge} edge: it must be {least_mm:.1} to {most_mm:.1} \
         mm, or the page was scaled on purpose; print it again at 100 %"
    )]
    Measured {
        /// Which edge of the paper: `short` or `long`.
        edge: &'static str,
        /// What was measured, mm.
        measured_mm: f64,
        /// Least that is taken, mm.
        least_mm: f64,
        /// Most that is taken, mm.
        most_mm: f64,
    },
    /// Pages overlap too little to be joined, or too much to carry anything.
    #[error("pages overlap by {overlap_mm} mm: it must be {} to {} mm", OVERLAP_MM[0], OVERLAP_MM[1])]
    Overlap {
        /// The overlap, mm.
        overlap_mm: f64,
    },
    /// No room for the check rules, which every page has.
    #[error(
        "the roll is {width_mm} mm wide: it must be {} mm, to hold the check rules, to {} mm",
        ROLL_WIDTH_MM[0],
        ROLL_WIDTH_MM[1]
    )]
    Roll {
        /// The roll's width, mm.
        width_mm: f64,
    },
    /// A strip cannot be registered to an arris that its face does not have.
    #[error("the strip of {face} cannot be held to {arris}, which is not an edge of it")]
    Registration {
        /// The face.
        face: Face,
        /// The arris.
        arris: Arris,
    },
    /// More pages than anyone will join.
    #[error("this leg needs {pages} pages: the limit is {MAX_PAGES}; choose a larger page or a roll")]
    TooManyPages {
        /// The pages needed.
        pages: usize,
    },
}

/// The paper of every design of a project, leg after leg.
///
/// # Errors
/// [`PaperError`] names the design or the choice that cannot be printed.
pub fn project_sheets(project: &Project) -> Result<Vec<Sheet>, PaperError> {
    let mut sheets = Vec::new();
    for design in &project.designs {
        sheets.extend(design_sheets(project, design)?);
    }
    Ok(sheets)
}

/// The paper of one design of a project, with what the saw gives it and what its maker has accepted.
///
/// # Errors
/// [`PaperError`] names the design or the choice that cannot be printed.
pub fn design_sheets(project: &Project, design: &Design) -> Result<Vec<Sheet>, PaperError> {
    let leg = design.leg().map_err(|source| PaperError::Leg { design: design.name.clone(), source })?;
    let notes = Notes::of(project, design, &leg);
    template_with(&leg, &LegNames::of(project, design), &project.paper, project.units, &notes)
}

/// The paper of one leg: the cover, end caps that do not fit on it, and the strip.
///
/// # Errors
/// [`PaperError`] names the choice that cannot be printed.
pub fn template(leg: &Leg, names: &LegNames, choice: &PaperChoice, units: Units) -> Result<Vec<Sheet>, PaperError> {
    template_with(leg, names, choice, units, &Notes::default())
}

/// The paper of one leg with notes about it.
///
/// # Errors
/// As for [`template`].
pub fn template_with(
    leg: &Leg,
    names: &LegNames,
    choice: &PaperChoice,
    units: Units,
    notes: &Notes,
) -> Result<Vec<Sheet>, PaperError> {
    check_leg(leg)?;
    check_choice(choice)?;
    let names = &names.printable()?;
    let kind = PageKind::of(choice);
    let job = Job { leg, names, choice, units, kind, notes };
    let strip = strip_pages::StripPages::new(&job)?;
    let [mut leaves, last] = cover::leaves(&job, strip.needs_the_cover().then_some(&strip))?;
    leaves.extend(strip.leaves());
    leaves.extend(last);
    if leaves.len() > MAX_PAGES {
        return Err(PaperError::TooManyPages { pages: leaves.len() });
    }
    let of = leaves.len();
    Ok(leaves.into_iter().enumerate().map(|(i, leaf)| furniture::sheet(&job, leaf, i + 1, of)).collect())
}

/// Everything that the paper of one leg is made from.
struct Job<'a> {
    leg: &'a Leg,
    names: &'a LegNames,
    choice: &'a PaperChoice,
    units: Units,
    kind: PageKind,
    notes: &'a Notes,
}

impl Job<'_> {
    /// The name of a piece or a corner, `A1`.
    fn piece(&self, number: u8) -> String {
        format!("{}{number}", self.names.letter)
    }
}

/// A page without its number, which is known when all pages are.
struct Leaf {
    page: crate::page::Page,
    /// What is on it, `strip, part 2 of 3`.
    what: String,
    drawing: Drawing,
}

fn check_leg(leg: &Leg) -> Result<(), PaperError> {
    let lengths = [
        ("width", leg.width_mm, f64::MIN_POSITIVE),
        ("depth", leg.depth_mm, f64::MIN_POSITIVE),
        ("length", leg.length_mm, f64::MIN_POSITIVE),
        ("spare length at the top", leg.spare_top_mm, 0.0),
        ("spare length at the foot", leg.spare_foot_mm, 0.0),
    ];
    // A kilometre keeps the count of pages countable; the count itself is limited further on.
    let bad = lengths.iter().find(|(_, mm, least)| !(*least..=1e6).contains(mm));
    bad.map_or(Ok(()), |(name, ..)| Err(PaperError::NotALength(name)))
}

fn check_choice(choice: &PaperChoice) -> Result<(), PaperError> {
    let rule = choice.measured.rule.mm();
    for (edge, length) in [("short", &choice.measured.across), ("long", &choice.measured.along)] {
        let (measured_mm, least_mm, most_mm) = (length.mm(), CHECK_RULE_SHARE[0] * rule, CHECK_RULE_SHARE[1] * rule);
        if !(least_mm..=most_mm).contains(&measured_mm) {
            return Err(PaperError::Measured { edge, measured_mm, least_mm, most_mm });
        }
    }
    let overlap_mm = choice.overlap.mm();
    if !(OVERLAP_MM[0]..=OVERLAP_MM[1]).contains(&overlap_mm) {
        return Err(PaperError::Overlap { overlap_mm });
    }
    if let PageSize::Roll { width } = &choice.page {
        let width_mm = width.mm();
        if !(ROLL_WIDTH_MM[0]..=ROLL_WIDTH_MM[1]).contains(&width_mm) {
            return Err(PaperError::Roll { width_mm });
        }
    }
    if let StripLayout::PerFace { face_1_by, face_2_by } = choice.layout {
        let held =
            [(Face::One, face_1_by, [Arris::One, Arris::Two]), (Face::Two, face_2_by, [Arris::Two, Arris::Three])];
        for (face, arris, edges) in held {
            if !edges.contains(&arris) {
                return Err(PaperError::Registration { face, arris });
            }
        }
    }
    Ok(())
}

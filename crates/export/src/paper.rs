//! The paper of one leg: a cover with steps, cautions and end caps, and the strip at true size over as many pages as it
//! needs.

mod bench;
mod bench_rows;
mod cap;
mod cautions;
mod check_rule;
mod clean_up;
mod column;
mod cover;
mod crossings;
mod face_strip;
mod figure;
mod fit_facts;
mod furniture;
mod gauge;
mod joins;
mod key_plan;
mod label;
mod labels;
mod notch_marks;
mod notes;
mod outside;
mod pass_signs;
mod passes;
mod placer;
mod places;
mod plan_pages;
mod rows;
mod scale_ticks;
mod strip;
mod strip_pages;
mod tiling;

pub use notes::Notes;

use crate::page::PageKind;
use crate::sheets::{Drawing, Sheet, Typeface};
use cornerwise_geometry::fit::Fit;
use cornerwise_geometry::{Arris, Face, Leg, LegError, Units};
use cornerwise_project::{
    CHECK_RULE_SHARE, Design, Hand, LegLine, OVERLAP_MM, PageSize, PaperChoice, PaperExtra, Project, ROLL_WIDTH_MM,
    StripLayout,
};
use std::sync::Arc;
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
    /// Its hand: the pieces of a mirrored leg are Am1, Am2 …
    pub hand: Hand,
    /// How many legs are made from this paper; 0 where that is not told.
    pub make: usize,
}

impl LegNames {
    /// The names of one design of a project.
    pub fn of(project: &Project, design: &Design) -> LegNames {
        LegNames {
            project: project.name.clone(),
            design: design.name.clone(),
            letter: design.letter,
            hand: Hand::Drawn,
            make: 0,
        }
    }
}

impl LegNames {
    /// What is written on the leg: "A", or "A mirrored".
    pub fn label(&self) -> String {
        self.hand.label(self.letter)
    }

    /// The names as the letters on paper can write them: `?` for what these lack. A piece called `?1` would be nobody's,
    /// so the letter itself must be one that they have.
    fn printable(&self) -> Result<LegNames, PaperError> {
        let has = |c: char| Typeface::ALL.iter().all(|typeface| typeface.letter(c).glyph != 0);
        if !has(self.letter) || self.letter.is_control() || self.letter.is_whitespace() {
            return Err(PaperError::Letter { letter: self.letter, design: self.design.clone() });
        }
        let written = |name: &str| name.chars().map(|c| if has(c) { c } else { '?' }).collect();
        Ok(LegNames { project: written(&self.project), design: written(&self.design), ..self.clone() })
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
    /// A section of the gauge is larger than a page.
    #[error(
        "a section of the gauge needs {:.0} mm by {:.0} mm, and a page holds {:.0} mm by {:.0} mm: choose a larger page, or no \
         gauge", needs_mm[0], needs_mm[1], page_mm[0], page_mm[1]
    )]
    Gauge {
        /// What a page holds, across and up, mm.
        page_mm: [f64; 2],
        /// What a section needs, mm.
        needs_mm: [f64; 2],
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
    let lines = leg_lines(project)?;
    let mut sheets = Vec::new();
    for line in &lines {
        sheets.extend(line_sheets(project, line, &lines)?);
    }
    if let Some(line) = lines.first() {
        sheets.extend(plan_pages::sheets(project, line)?);
    }
    Ok(sheets)
}

/// The paper of one design of a project, every hand of it, with what the saw gives it and what its maker has accepted.
///
/// # Errors
/// [`PaperError`] names the design or the choice that cannot be printed.
pub fn design_sheets(project: &Project, design: &Design) -> Result<Vec<Sheet>, PaperError> {
    let mut sheets = Vec::new();
    let lines = leg_lines(project)?;
    for line in lines.iter().filter(|line| line.design.id == design.id) {
        sheets.extend(line_sheets(project, line, &lines)?);
    }
    Ok(sheets)
}

/// Every leg that has paper of its own.
fn leg_lines(project: &Project) -> Result<Vec<LegLine>, PaperError> {
    project.leg_list_with(|design| {
        design.leg().map(Arc::new).map_err(|source| PaperError::Leg { design: design.name.clone(), source })
    })
}

fn line_sheets(project: &Project, line: &LegLine, all: &[LegLine]) -> Result<Vec<Sheet>, PaperError> {
    let names = LegNames { hand: line.hand, make: line.places.len(), ..LegNames::of(project, &line.design) };
    let mut choice = project.paper.clone();
    // Cauls and the master of the leg as drawn, turned over, do for its mirror.
    let is_drawn = |other: &LegLine| other.design.id == line.design.id && other.hand == Hand::Drawn;
    if line.hand == Hand::Mirrored && all.iter().any(is_drawn) {
        choice.also.retain(|extra| !matches!(extra, PaperExtra::Cauls | PaperExtra::Master));
    }
    let notes = Notes::of_line(project, line);
    sheets_of(&line.leg, &line.fit, &notes, &names, &choice, project.units)
}

/// The paper of one leg that nothing is fitted to: the cover, end caps that do not fit on it, and the strip.
///
/// # Errors
/// [`PaperError`] names the choice that cannot be printed.
pub fn template(leg: &Leg, names: &LegNames, choice: &PaperChoice, units: Units) -> Result<Vec<Sheet>, PaperError> {
    sheets_of(leg, &Fit::default(), &Notes::default(), names, choice, units)
}

/// The paper of one leg: the cover, end caps that do not fit on it, and the strip; then, as far as they are wanted, the
/// crosscut strip, cauls, the flip-over master, the gauge of its level sections, and what the saw gives it.
fn sheets_of(
    leg: &Leg,
    fit: &Fit,
    notes: &Notes,
    names: &LegNames,
    choice: &PaperChoice,
    units: Units,
) -> Result<Vec<Sheet>, PaperError> {
    check_leg(leg)?;
    check_choice(choice)?;
    let names = &names.printable()?;
    let kind = PageKind::of(choice);
    let job = Job { leg, fit, names, choice, units, kind, notes };
    let strip = strip_pages::StripPages::new(&job)?;
    let [mut leaves, last] = cover::leaves(&job, strip.needs_the_cover().then_some(&strip))?;
    leaves.extend(strip.leaves());
    leaves.extend(bench::leaves(&job)?);
    leaves.extend(gauge::leaves(&job)?);
    leaves.extend(last);
    if leaves.len() > MAX_PAGES {
        return Err(PaperError::TooManyPages { pages: leaves.len() });
    }
    let of = leaves.len();
    let title = format!("Leg {}", names.label());
    Ok(leaves.into_iter().enumerate().map(|(i, leaf)| furniture::sheet(&job, &title, leaf, i + 1, of)).collect())
}

/// Everything that the paper of one leg is made from.
struct Job<'a> {
    leg: &'a Leg,
    fit: &'a Fit,
    names: &'a LegNames,
    choice: &'a PaperChoice,
    units: Units,
    kind: PageKind,
    notes: &'a Notes,
}

impl Job<'_> {
    /// The name of a piece or a corner, `A1`.
    fn piece(&self, number: u8) -> String {
        self.names.hand.piece(self.names.letter, number)
    }

    /// The chamfer for the pipe along each face, mm; 0 without a pipe.
    fn chamfer_mm(&self) -> f64 {
        self.fit.chamfer_mm()
    }

    /// Whether it matters which piece is inside: where it is notched, and where the leg stands among others.
    fn inside_is_told(&self) -> bool {
        !self.fit.notches.is_empty() || self.names.make > 1
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

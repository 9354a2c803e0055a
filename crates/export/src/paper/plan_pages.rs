//! The plan as pages: stock, milling, crosscuts, spacers, glue-up, how it stands.

use super::column::{Block, set};
use super::cover::{INSET_MM, leaf};
use super::{Job, LegNames, MAX_PAGES, Notes, PaperError, furniture, places};
use crate::page::PageKind;
use crate::plan::{Section, plan_of};
use crate::sheets::{Mark, Sheet};
use cornerwise_project::{LegLine, PaperExtra, Project};

/// Between columns, mm.
const GAP_MM: f64 = 8.0;
/// The narrowest column, mm.
const COLUMN_MM: f64 = 76.0;

/// The plan of a project, where it is wanted; `line` is any leg of it.
pub(crate) fn sheets(project: &Project, line: &LegLine) -> Result<Vec<Sheet>, PaperError> {
    let choice = &project.paper;
    if project.furniture.is_none() && !choice.also.contains(&PaperExtra::Plan) {
        return Ok(Vec::new());
    }
    let plan = plan_of(project).map_err(|source| PaperError::Leg { design: line.design.name.clone(), source })?;
    let names = LegNames { design: String::new(), ..LegNames::of(project, &line.design) };
    let names = &names.printable()?;
    let kind = PageKind::of(choice);
    let notes = &Notes::default();
    let job = Job { leg: &line.leg, fit: &line.fit, names, choice, units: project.units, kind, notes };
    let [across, highest] = job.kind.most_board().map(|room| room - 2.0 * INSET_MM);
    let columns = ((across + GAP_MM) / (COLUMN_MM + GAP_MM)).floor().clamp(1.0, 4.0);
    let width = (across + GAP_MM) / columns - GAP_MM;
    let made = project.furniture.as_ref().map(|_| project.assemble()).transpose();
    let made = made.map_err(|source| PaperError::Leg { design: line.design.name.clone(), source })?;
    let figure = made.and_then(|made| places::figure(&made, width));
    let mut groups: Vec<Vec<Block>> = plan.sections.iter().flat_map(|section| blocks(section, width)).collect();
    if let (Some(figure), Some(first)) = (figure, groups.first_mut()) {
        first.push(figure);
    }
    let whole: f64 = groups.iter().flatten().map(|block| block.height_mm).sum();
    // On a roll the page ends with the words.
    let room = if kind.is_roll() { (1.15 * whole / columns + 20.0).min(highest) } else { highest };
    let pages = set(&groups, columns as usize, width, GAP_MM, room);
    let of = pages.len();
    if of > MAX_PAGES {
        return Err(PaperError::TooManyPages { pages: of });
    }
    let leaves = pages.iter().map(|page| leaf(&job, page, room, "what to mill, cut and glue"));
    Ok(leaves.enumerate().map(|(i, leaf)| furniture::sheet(&job, "Plan", leaf, i + 1, of)).collect())
}

/// A section in groups: its heading stays with its first line.
fn blocks(section: &Section, width: f64) -> Vec<Vec<Block>> {
    let mut groups: Vec<Vec<Block>> =
        section.items.iter().map(|item| vec![Block::item(&item.sign, "", &item.words, width)]).collect();
    match groups.first_mut() {
        Some(first) => first.insert(0, heading(&section.title, width)),
        None => groups.push(vec![heading(&section.title, width)]),
    }
    groups.push(vec![Block::space(3.0)]);
    groups
}

/// A heading that keeps within its column.
fn heading(words: &str, width: f64) -> Block {
    let mut block = Block::heading(words);
    for mark in &mut block.drawing.marks {
        if let Mark::Text(text) = mark {
            *text = text.clone().fitted(width, 2.2);
        }
    }
    block
}

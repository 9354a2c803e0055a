//! What to mill, what to cut, what to leave out, and in what order to glue, made from the very project: as plain text for
//! the command line, and as sections for the paper.

mod leg;
mod standing;
mod stock;
mod together;

use crate::paper::Notes;
use cornerwise_geometry::LegError;
use cornerwise_project::{LegLine, Project};
use std::sync::Arc;

/// The plan of a project, in its units.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// Over it.
    pub title: String,
    /// In the order of the work.
    pub sections: Vec<Section>,
}

/// Some lines under a heading.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// The heading.
    pub title: String,
    /// The lines, in order.
    pub items: Vec<Item>,
}

/// One line.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// The number of a step; empty elsewhere.
    pub sign: String,
    /// What it says.
    pub words: String,
}

impl Section {
    fn new(title: impl Into<String>) -> Section {
        Section { title: title.into(), items: Vec::new() }
    }

    fn say(&mut self, words: impl Into<String>) {
        self.items.push(Item { sign: String::new(), words: words.into() });
    }

    /// The next step of some that are numbered from 1.
    fn step(&mut self, words: impl Into<String>) {
        let number = self.items.iter().filter(|item| !item.sign.is_empty()).count() + 1;
        self.items.push(Item { sign: number.to_string(), words: words.into() });
    }
}

/// The plan of a project.
///
/// # Errors
/// [`LegError`] where a design makes no leg, which a checked project's never does.
pub fn plan_of(project: &Project) -> Result<Plan, LegError> {
    let solve = |design: &Arc<cornerwise_project::Design>| design.leg().map(Arc::new);
    let lines = project.leg_list_with(solve)?;
    let made = project.furniture.as_ref().map(|_| project.assemble()).transpose()?;
    let mut sections: Vec<Section> = made.iter().filter_map(|made| together::places(project, made)).collect();
    sections.extend(stock::sections(project, &lines, made.as_ref()));
    for line in &lines {
        sections.extend(leg::sections(line, &lines, project.units));
        sections.extend(watch_out(project, line));
    }
    if let Some(made) = &made {
        sections.extend(together::sections(project, made));
    }
    // A leg by itself is no furniture, and is not tilted as if it stood alone.
    sections.extend(made.as_ref().and_then(|made| standing::section(made, project.units)));
    Ok(Plan { title: format!("{}: what to mill, cut and glue", project.name), sections })
}

/// The plan as plain text.
///
/// # Errors
/// Those of [`plan_of`].
pub fn plan(project: &Project) -> Result<String, LegError> {
    let plan = plan_of(project)?;
    let mut out = plan.title + "\n";
    for section in plan.sections {
        out += &format!("\n{}\n", section.title);
        for item in section.items {
            let sign = if item.sign.is_empty() { String::new() } else { format!("{}. ", item.sign) };
            out += &format!("  {sign}{}\n", item.words);
        }
    }
    Ok(out)
}

/// What to watch out for about a leg, and what its maker has accepted: the words of its paper.
fn watch_out(project: &Project, line: &LegLine) -> Option<Section> {
    let notes = Notes::of_line(project, line);
    let mut section = Section::new(format!("Watch out, leg {}", line.label()));
    for words in notes.open.into_iter().chain(notes.accepted) {
        section.say(words);
    }
    (!section.items.is_empty()).then_some(section)
}

#[cfg(test)]
mod tests;

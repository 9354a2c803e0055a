//! The paper of a project as a PDF file.

use std::fs;
use std::path::Path;

use cornerwise_export::paper::{LegNames, project_sheets, template};
use cornerwise_export::pdf;
use cornerwise_project::{Design, Project};

/// The PDF of all legs of a project.
///
/// # Errors
/// What the maker can do something about, as a sentence without a capital.
pub fn pdf(project: &Project) -> Result<Vec<u8>, String> {
    let sheets = project_sheets(project).map_err(|error| error.to_string())?;
    pdf::pdf(&sheets, &project.name).map_err(|error| error.to_string())
}

/// The PDF of one leg of a project.
///
/// # Errors
/// As for [`pdf`](fn@pdf).
pub fn pdf_of(project: &Project, design: &Design) -> Result<Vec<u8>, String> {
    let leg = design.leg().map_err(|error| error.to_string())?;
    let sheets = template(&leg, &LegNames::of(project, design), &project.paper, project.units)
        .map_err(|error| error.to_string())?;
    pdf::pdf(&sheets, &project.name).map_err(|error| error.to_string())
}

/// Writes a file that can be made again at any time.
///
/// # Errors
/// What the system says, with the path last.
pub fn write(path: &Path, bytes: &[u8]) -> Result<(), String> {
    fs::write(path, bytes).map_err(|error| format!("{error}: {}", path.display()))
}

//! The paper of a project as a PDF file.

use std::fs;
use std::path::Path;

use cornerwise_export::files;
use cornerwise_export::paper::{design_sheets, project_sheets};
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
    let sheets = design_sheets(project, design).map_err(|error| error.to_string())?;
    pdf::pdf(&sheets, &project.name).map_err(|error| error.to_string())
}

/// Writes a file, all or nothing; never over `project`, the file of the project it is made from.
///
/// # Errors
/// What is wrong, with the path last.
pub fn write(path: &Path, bytes: &[u8], project: Option<&Path>) -> Result<(), String> {
    if project.is_some_and(|project| same_file(project, path)) {
        return Err(format!(
            "this is the project's own file, which would be lost: choose another name: {}",
            path.display()
        ));
    }
    files::save_bytes(path, bytes).map_err(|error| error.to_string())
}

/// Whether two paths lead to one file, by whatever links.
fn same_file(a: &Path, b: &Path) -> bool {
    if let (Ok(a), Ok(b)) = (a.canonicalize(), b.canonicalize())
        && a == b
    {
        return true;
    }
    #[cfg(unix)]
    if let (Ok(a), Ok(b)) = (fs::metadata(a), fs::metadata(b)) {
        use std::os::unix::fs::MetadataExt;
        return (a.dev(), a.ino()) == (b.dev(), b.ino());
    }
    false
}

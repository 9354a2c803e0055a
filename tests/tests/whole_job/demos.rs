//! The demo projects as files, and what is in them.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use cornerwise_export::files;
use cornerwise_geometry::Cut;
use cornerwise_project::{Design, Project};
use cornerwise_tests::{PlainLine, PlainPoint};

/// Every file of the folder of demo projects.
pub fn all() -> Vec<PathBuf> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../demo-projects");
    let entries = std::fs::read_dir(folder).expect("the folder of demo projects");
    let mut files: Vec<PathBuf> = entries.map(|entry| entry.expect("an entry").path()).collect();
    files.retain(|file| file.extension().is_some_and(|extension| extension == "ron"));
    files.sort();
    assert!(files.len() >= 3, "{files:?}");
    files
}

pub fn project(file: &Path) -> Project {
    files::load(file).unwrap_or_else(|e| panic!("{e}"))
}

/// The line of a cut, evaluated apart from the project from the points in the file; of a batten, from the points that its
/// pins come to.
pub fn plain(design: &Arc<Design>, cut: Cut) -> PlainLine {
    let points = design.cubic_points(cut).expect("a line");
    let points: Vec<PlainPoint> = points
        .iter()
        .map(|point| {
            let ((slope_before, before), (slope_after, after)) = (point.kind.before(), point.kind.after());
            PlainPoint {
                s: point.from_top.mm(),
                offset: point.offset.mm(),
                before: [slope_before, before],
                after: [slope_after, after],
            }
        })
        .collect();
    PlainLine::new(&points).expect("no handle reaches past another")
}

//! The project file: RON text, `format: 1`, plain and meant to be edited by hand as well.
//!
//! [`load`] and [`save`] go by path, and [`save_bytes`] saves any other file as safely; [`read_text`], [`read_bytes`] and [`write_text`] are the same without the disk.
//! Saving and loading give back the same project to the last bit, with lengths as they were typed. Comments in a file
//! are not kept when it is saved again.

mod nesting;
mod read;
mod write;

pub use read::{LoadError, LoadFault, load, read_bytes, read_text};
pub use write::{SaveError, save, save_bytes, write_text};

use cornerwise_project::MOST_INSIDE_BYTES;
use ron::extensions::Extensions;
use ron::options::Options;

/// The largest project file that is read or written, bytes, pictures inside it not counted. Checked before anything is
/// parsed.
pub const MAX_FILE_BYTES: usize = 20_000_000;

/// The same with pictures inside: [`MOST_INSIDE_BYTES`] as base64, which is a third longer.
const MAX_WITH_PICTURES: usize = MAX_FILE_BYTES + MOST_INSIDE_BYTES / 3 * 4 + 1_000;

/// How many bytes of a project's text are pictures inside it.
fn bytes_of_pictures(text: &str) -> usize {
    const OPEN: &str = "Inside(\"";
    let (mut all, mut rest) = (0, text);
    while let Some(at) = rest.find(OPEN) {
        rest = &rest[at + OPEN.len()..];
        let end = rest.find('"').unwrap_or(rest.len());
        all += end;
        rest = &rest[end..];
    }
    all
}

/// How deep brackets may lie in one another: about three times what a project needs.
const DEEPEST: usize = 32;

/// How many brackets a file may open: the most that a project with as many points, designs and layers as it may have
/// needs (two for a point, one for a layer), half as many again, rounded up.
const MOST_BRACKETS: usize = 300_000;

/// `Timber(species: Oak, …)` rather than `Timber((species: Oak, …))`.
fn dialect() -> Options {
    Options::default()
        .with_default_extension(Extensions::UNWRAP_NEWTYPES)
        .with_default_extension(Extensions::UNWRAP_VARIANT_NEWTYPES)
        .with_default_extension(Extensions::IMPLICIT_SOME)
        .with_recursion_limit(DEEPEST)
}

#[cfg(test)]
mod tests;

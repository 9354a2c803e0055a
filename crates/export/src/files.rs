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

use ron::extensions::Extensions;
use ron::options::Options;

/// The largest project file that is read or written, bytes. Checked before anything is parsed.
pub const MAX_FILE_BYTES: usize = 20_000_000;

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

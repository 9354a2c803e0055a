//! What the whole-job checks share: figures worked out again, in plain `f64`, by code that uses nothing of the project.

mod flat;
mod plain_line;
mod slice;

pub use flat::Flat;
pub use plain_line::{PlainLine, PlainPoint};
pub use slice::{Outline, slice};

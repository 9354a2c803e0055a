//! Where a saw line runs out of its face, as the row heads and the faces tell it.

pub use cornerwise_geometry::{RunOut, run_outs};

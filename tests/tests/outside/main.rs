//! Geometry, wood and paper held against things outside the project. Each check names its source.

#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "these are tests, and a panic is how they fail"
)]

mod battens;
mod block_seams;
mod cases;
mod convergence;
mod cubes;
mod curves;
mod finder;
mod fitted;
mod hands;
mod kerf;
mod knots;
mod photo_rings;
mod photos;
mod properties;
mod sawn;
mod seams;
mod solids;
mod trade;

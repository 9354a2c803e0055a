//! Geometry, wood and paper held against things outside the project. Each check names its source.

mod cases;
mod convergence;
mod cubes;
mod curves;
mod hands;
mod properties;
mod sawn;
mod seams;
mod solids;
mod trade;

//! Geometry, wood and paper held against things outside the project. Each check names its source.

mod cases;
mod convergence;
mod curves;
mod hands;
mod properties;
mod sawn;
mod solids;
mod trade;

//! The studio as a maker uses it, in one test program because linking is what takes time.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should say where")]

mod battens;
mod bench;
mod cli;
mod drags;
mod fairness;
mod fields;
mod files;
mod finder;
mod first_start;
mod fitting;
mod furnishing;
mod ground;
mod history;
mod importing;
mod keep;
mod keys;
mod knots;
mod legs;
mod named;
mod outlines;
mod panels;
mod paper;
mod parameters;
mod photos;
mod pictures;
mod reckoning;
mod rows;
mod sawn;
mod selecting;
mod snapping;
mod tracing;
mod typing;
mod watching;
mod wood_seams;
mod zooming;

//! The studio as a maker uses it, in one test program because linking is what takes time.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should say where")]

mod bench;
mod cli;
mod drags;
mod fairness;
mod fields;
mod files;
mod finder;
mod first_start;
mod history;
mod keep;
mod keys;
mod legs;
mod named;
mod outlines;
mod panels;
mod paper;
mod pictures;
mod reckoning;
mod rows;
mod selecting;
mod snapping;
mod typing;
mod watching;
mod wood_seams;
mod zooming;

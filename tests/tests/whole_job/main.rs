//! The whole job, from the demo projects' files through the command line to the report, the paper and the picture, held
//! against readers and sums that are not the project's own.

#![expect(clippy::expect_used, clippy::panic, reason = "these are tests, and a panic is how they fail")]

mod caps;
mod command;
mod demos;
mod files;
mod hands;
mod legs;
mod marks;
mod mutool;
mod paper;
mod report;
mod strip;
mod tools;

//! The whole job, from the demo projects' files through the command line to the report, the paper and the picture, held
//! against readers and sums that are not the project's own.

mod command;
mod demos;
mod marks;
mod mutool;
mod paper;
mod report;
mod strip;
mod tools;

//! Tests of the whole crate.

mod any;
mod any_edit;
mod checking;
mod editing;
mod figures;
mod fitting;
mod fixes;
mod furnishing;
mod ghosts;
mod groups;
mod handles;
mod knots;
mod lines;
mod photos;
mod properties;
mod said;
mod seam_fixes;
mod undoing;
mod whole_lines;

//! What a new project starts from: a built-in demo, or nothing.

use cornerwise_project::Project;

/// The titles of the demos.
pub fn demo_titles() -> Vec<String> {
    Vec::new()
}

/// A demo by its place in the list.
pub fn demo(_number: usize) -> Option<Project> {
    None
}

/// A demo by its name.
pub fn demo_named(_name: &str) -> Option<Project> {
    None
}

/// The names of the demos, as the command line takes them.
pub fn demo_names() -> Vec<&'static str> {
    Vec::new()
}

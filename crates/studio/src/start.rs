//! What a new project starts from: a built-in demo, or nothing.

use std::path::Path;

use cornerwise_export::demo::DEMOS;
use cornerwise_project::Project;

/// What the demos show, in the order they are offered.
pub fn demo_titles() -> Vec<String> {
    DEMOS.iter().map(|demo| demo.shows.to_owned()).collect()
}

/// The names of the demos, as the command line takes them: their files without the ending.
pub fn demo_names() -> Vec<&'static str> {
    DEMOS.iter().map(|demo| name(demo.file_name)).collect()
}

/// A demo by its place in the list.
pub fn demo(number: usize) -> Option<Project> {
    // A test of the demos opens them all, so a place in the list has a project.
    DEMOS.get(number)?.project().ok()
}

/// A demo by its name, with or without the ending of its file.
pub fn demo_named(wanted: &str) -> Option<Project> {
    let number = DEMOS.iter().position(|demo| wanted == demo.file_name || wanted == name(demo.file_name))?;
    demo(number)
}

fn name(file_name: &'static str) -> &'static str {
    Path::new(file_name).file_stem().and_then(|stem| stem.to_str()).unwrap_or(file_name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_demo_is_found_by_its_name() {
        assert_eq!(demo_names().len(), demo_titles().len());
        for (number, name) in demo_names().into_iter().enumerate() {
            assert!(!name.contains('.') && demo_named(name).is_some_and(|found| Some(found) == demo(number)), "{name}");
        }
        assert!(demo_named("no-such-demo").is_none() && demo(99).is_none());
    }
}

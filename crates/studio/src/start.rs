//! What a new project starts from: a built-in demo, or nothing.

use std::path::Path;

use cornerwise_export::demo::DEMOS;
use cornerwise_geometry::{Length, ShapeKind, Unit, Units};
use cornerwise_project::{BlankSize, Edit, Project};

/// A plain new project in a maker's units: a leg of round sizes in them.
pub fn plain(units: Units) -> Project {
    let project = Project { units, ..Project::new() };
    let Some(design) = project.designs.first().map(|design| design.id) else { return project };
    if units == Units::Millimetres {
        return project;
    }
    let sizes = [
        (BlankSize::Width, "2 in"),
        (BlankSize::Depth, "2 in"),
        (BlankSize::Length, "28 in"),
        (BlankSize::SpareTop, "3/4 in"),
        (BlankSize::SpareFoot, "3/4 in"),
    ];
    let with_size = |project: Project, (size, text): (BlankSize, &str)| {
        let value = Length::parse(text, Unit::Inch).ok()?;
        project.apply(&Edit::SetBlankSize { design, size, value }).ok()
    };
    let shape = |project: Project| project.apply(&Edit::StartFrom { design, kind: ShapeKind::Cyma }).ok();
    let in_inches = sizes.into_iter().try_fold(project.clone(), with_size).and_then(shape);
    // A test opens it, so the sizes are taken.
    in_inches.unwrap_or(project)
}

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

/// Whether a project is one of the demos, as it comes.
pub fn is_demo(project: &Project) -> bool {
    (0..DEMOS.len()).filter_map(demo).any(|demo| demo == *project)
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
    fn a_plain_project_has_round_sizes_in_its_makers_units() {
        assert_eq!(plain(Units::Millimetres), Project::new());
        let inches = plain(Units::Inches(cornerwise_geometry::Finest::Sixteenth));
        let blank = &inches.designs[0].blank;
        assert_eq!([&blank.width, &blank.length].map(|length| length.mm()), [50.8, 711.2]);
        assert!(inches.designs[0].leg().is_ok());
    }

    #[test]
    fn every_demo_is_found_by_its_name() {
        assert_eq!(demo_names().len(), demo_titles().len());
        for (number, name) in demo_names().into_iter().enumerate() {
            assert!(!name.contains('.') && demo_named(name).is_some_and(|found| Some(found) == demo(number)), "{name}");
        }
        assert!(demo_named("no-such-demo").is_none() && demo(99).is_none());
    }
}

use crate::files::read_text;
use cornerwise_geometry::{Line, PointId};

#[test]
fn the_readmes_example_is_a_project() {
    let readme = include_str!("../../../../../README.md");
    let example = readme.split("```ron\n").nth(1).and_then(|rest| rest.split("```").next()).expect("an example");
    let project = read_text(example).expect("a sound project");
    assert_eq!(project.designs[0].blank.width.typed(), Some("2 3/4\""));
}

#[test]
fn points_without_an_id_get_one_and_the_others_keep_theirs() {
    let text = "(format: 1, designs: [(blank: (width: 50, depth: 50, length: 300),
        first: Shape(Straight()),
        second: Points([
            (from_top: 0, offset: 25, kind: Smooth(slope: 0, before_mm: 50, after_mm: 50)),
            (id: 7, from_top: 150, offset: 30, kind: Smooth(slope: 0, before_mm: 50, after_mm: 50)),
            (from_top: 300, offset: 25, kind: Smooth(slope: 0, before_mm: 50, after_mm: 50)),
        ]))])";
    let project = read_text(text).expect("a sound project");
    let Line::Points(points) = &project.designs[0].second else { panic!("not points") };
    assert_eq!(points.iter().map(|point| point.id).collect::<Vec<_>>(), [PointId(8), PointId(7), PointId(9)]);
}

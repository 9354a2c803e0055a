//! What is written is read back, and what a maker writes by hand is read.

use super::any;
use crate::files::{read_text, write_text};
use cornerwise_geometry::{Arris, Cut, Finest, Line, Units};
use cornerwise_project::{DesignId, Edit, PageSize, PaperChoice, Project, StripLayout};
use cornerwise_wood::{Species, Wood};
use proptest::prelude::*;

proptest! {
    #![proptest_config(ProptestConfig::with_cases(120))]

    #[test]
    fn saving_and_loading_give_back_the_same_project_and_the_same_text(project in any::project()) {
        let text = write_text(&project).expect("written");
        let again = read_text(&text).map_err(|fault| TestCaseError::fail(format!("{fault}\n{text}")))?;
        prop_assert_eq!(&again, &project);
        prop_assert_eq!(write_text(&again).expect("written"), text.clone());
        prop_assert!(text.ends_with(")\n") && !text.contains('\r'));
    }
}

#[test]
fn a_file_by_hand_may_leave_out_what_has_a_usual_value() {
    let text = r#"
        // a stool, on the back of an envelope
        (
            format: 1,
            designs: [
                (
                    blank: (width: "1 3/4\"", depth: 44, length: "18 in"),
                    first: Shape(Cyma(swing: 14, turn: 0.5)),
                    second: Points([
                        (id: 1, from_top: 0, offset: 22, kind: Smooth(slope: 0, before_mm: 80, after_mm: 80)),
                        (id: 2, from_top: "18 in", offset: 22, kind: Smooth(slope: 0, before_mm: 80, after_mm: 80)),
                    ]),
                ),
                (
                    name: "The other one",
                    letter: 'B',
                    blank: (width: 44, depth: 44, length: 450),
                    first: Shape(Straight()),
                    second: Shape(Arch(rise: "1/4 in", crest: 0.5)),
                    wood: Timber(species: Ash, pith_x: -40, pith_y: 20, ring_width: 2.5),
                ),
            ],
        )
    "#;
    let project = read_text(text).expect("a project");
    assert_eq!((project.units, &project.paper), (Units::Millimetres, &PaperChoice::default()));
    assert_eq!(project.designs.iter().map(|design| design.id).collect::<Vec<_>>(), [DesignId(1), DesignId(2)]);
    let blank = &project.designs[0].blank;
    assert_eq!((blank.width.typed(), blank.width.mm(), blank.length.mm()), (Some("1 3/4\""), 44.45, 457.2));
    assert_eq!((blank.depth.typed(), blank.depth.mm(), blank.spare_foot.mm()), (None, 44.0, 0.0));
    assert!(matches!(&project.designs[0].second, Line::Points(points) if points[1].from_top.typed() == Some("18 in")));
    assert!(matches!(&project.designs[1].wood, Wood::Timber(timber) if timber.species == Species::Ash));
}

#[test]
fn ids_left_out_do_not_clash_with_those_given() {
    let design = "blank: (width: 44, depth: 44, length: 450), first: Shape(Straight()), second: Shape(Straight())";
    let text = format!("(format: 1, designs: [(id: 2, {design}), ({design}), (id: 1, {design}), ({design})])");
    let ids: Vec<u32> = read_text(&text).expect("a project").designs.iter().map(|design| design.id.0).collect();
    assert_eq!(ids, [2, 3, 1, 4]);
}

#[test]
fn the_file_looks_the_way_the_readme_says() {
    let project = Project::new();
    let project = project.apply(&Edit::ShapeToPoints { design: DesignId(1), cut: Cut::First }).expect("an edit");
    let layout = StripLayout::PerFace { face_1_by: Arris::Two, face_2_by: Arris::Three };
    let paper = PaperChoice { page: PageSize::Roll { width: 610.0.into() }, layout, ..PaperChoice::default() };
    let project = project.apply(&Edit::SetPaper { paper }).expect("an edit");
    let project = project.apply(&Edit::SetUnits { units: Units::Inches(Finest::ThirtySecond) }).expect("an edit");
    let text = write_text(&project).expect("written");
    for line in [
        "    format: 1,",
        "    name: \"New project\",",
        "    units: Inches(ThirtySecond),",
        "        page: Roll(",
        "            face_2_by: Three,",
        "            letter: 'A',",
        "            first: Points([",
        "            second: Shape(Cyma(",
        "            wood: Timber(",
    ] {
        assert!(text.lines().any(|found| found == line), "no line {line:?} in\n{text}");
    }
    let points = text.lines().filter(|line| line.trim_start().starts_with("(id: ")).count();
    assert_eq!(points, 5, "one line for each point:\n{text}");
}

#[test]
fn a_quote_a_backslash_and_an_inch_mark_come_back() {
    let name = "5/8\" \\ \"curly\" – Bänkchen 木 😀";
    let project = Project::new().apply(&Edit::RenameProject { name: name.to_owned() }).expect("an edit");
    assert_eq!(read_text(&write_text(&project).expect("written")).expect("read").name, name);
}

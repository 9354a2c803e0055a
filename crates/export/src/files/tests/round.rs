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

#[test]
fn a_length_that_names_the_blank_keeps_its_value_and_its_text() {
    use cornerwise_geometry::{Length, Unit};
    let mut project = Project::new();
    let design = std::sync::Arc::make_mut(&mut project.designs[0]);
    let sizes = design.blank.sizes();
    design.blank.depth = Length::parse_on("W - 1/4\"", Unit::Mm, &sizes).expect("a length");
    design.blank.spare_top = Length::parse("10+5", Unit::Mm).expect("a length");
    let text = write_text(&project).expect("written");
    assert!(text.contains(r#"depth: (mm: 43.65, typed: "W - 1/4\"")"#), "{text}");
    assert!(text.contains(r#"spare_top: "10 mm+5 mm""#), "{text}");
    let again = read_text(&text).expect("read");
    assert_eq!(again, project);
    assert_eq!(write_text(&again).expect("written"), text);
    // The order does not matter, and a bare number in the text is millimetres, as everywhere in a file.
    let turned = text.replace(r#"(mm: 43.65, typed: "W - 1/4\"")"#, r#"(typed: "W-6.35", mm: 43.65)"#);
    assert_eq!(read_text(&turned).expect("read").designs[0].blank.depth.typed(), Some("W-6.35 mm"));
    for (wrong, says) in [
        (r#""W - 1/4 in""#, "needs its value beside it"),
        (r#"(mm: 43.65)"#, "typed is missing"),
        (r#"(mm: 43.65, typed: "W - banana")"#, "banana"),
        (r#"(mm: 43.65, typed: "40 mm")"#, "is 40 mm, and not 43.65 mm"),
        (r#"(mm: inf, typed: "W")"#, "finite"),
        (r#"(mm: 43.65, typed: "W - 1/4 in", really: true)"#, "really"),
    ] {
        let text = text.replace(r#"(mm: 43.65, typed: "W - 1/4\"")"#, wrong);
        let said = read_text(&text).expect_err(wrong).to_string();
        assert!(said.contains(says), "{wrong}: {said}");
    }
    // Text that was one length before there was arithmetic still is, in a file.
    let old = text.replace(r#"(mm: 43.65, typed: "W - 1/4\"")"#, r#""1 - 3/4 in""#);
    assert_eq!(read_text(&old).expect("read").designs[0].blank.depth.mm(), 44.45);
}

use super::*;
use crate::demo::DEMOS;
use cornerwise_geometry::fit::Notch;
use cornerwise_geometry::furniture::Arrangement;
use cornerwise_project::{DesignId, Edit, FitPart, FurniturePart, Hand, Standing};

#[test]
fn the_plan_is_of_this_very_design() {
    let edits = [
        Edit::SetFit { design: DesignId(1), part: FitPart::AddNotch(Notch::shelf(400.0, 18.0, 0.5)) },
        Edit::SetFurniture {
            part: FurniturePart::Arrangement(Arrangement::Rectangle { width: 600.0.into(), depth: 400.0.into() }),
        },
        Edit::SetFurniture {
            part: FurniturePart::Leg { place: 1, standing: Standing { hand: Hand::Mirrored, ..Standing::default() } },
        },
    ];
    let project = edits.iter().fold(Project::new(), |project, edit| project.apply(edit).unwrap());
    let text = plan(&project).unwrap();
    for words in [
        "Leg A: make 3, each blank 56 mm by 56 mm, 765 mm long",
        "Leg A mirrored: make 1",
        "1 × shelf, 600 mm by 400 mm, 18 mm thick",
        "400 mm: keep the wood toward the top",
        "418.5 mm: keep the wood toward the foot",
        "part 2: throw away, 400 mm to 418.5 mm (18.5 mm long)",
        "It is its own mirror",
        "waxed spacer 18.5 mm long",
        "Glue A1 to A2, waxed spacers in every notch, and A3 to A4, each half flat on the bench",
        "Leg A mirrored: crosscut Am2",
        "comparison, not compliance",
    ] {
        assert!(text.contains(words), "{words}: {text}");
    }
    assert!(!text.contains("Pipe hole"));
}

fn of_demo(file: &str) -> String {
    let demo = DEMOS.iter().find(|demo| demo.file_name == file).unwrap();
    plan(&demo.project().unwrap()).unwrap()
}

#[test]
fn spacers_are_spoken_of_only_where_there_are_notches() {
    assert!(!of_demo("desk-lamp.ron").contains("spacer"));
    assert!(!of_demo("reading-table.ron").contains("spacer"));
    assert!(of_demo("shelf-stand.ron").contains("spacer"));
}

#[test]
fn a_single_leg_is_not_tilted_as_if_it_stood_alone() {
    assert!(!of_demo("reading-table.ron").contains("Standing"));
    let lamp = of_demo("desk-lamp.ron");
    assert!(lamp.contains("falls over when tilted") && lamp.contains("UL 153") && lamp.contains("A base at least"));
    // The published tilts are for lamps, and a table is none.
    let table = of_demo("apron-table.ron");
    assert!(table.contains("falls over when tilted") && !table.contains("UL 153"));
    // One leg chosen as a column without a base is still a leg.
    let column = Edit::SetFurniture { part: FurniturePart::Arrangement(Arrangement::Column) };
    assert!(!plan(&Project::new().apply(&column).unwrap()).unwrap().contains("Standing"));
}

#[test]
fn every_design_is_told_with_furniture_and_without() {
    let table = of_demo("apron-table.ron");
    for leg in ["Leg A: Front leg", "Leg A mirrored: Front leg", "Leg B: Back leg", "Leg B mirrored: Back leg"] {
        assert!(table.contains(leg), "{leg}: {table}");
    }
    let mut project = DEMOS[0].project().unwrap();
    project.designs.push(Arc::new(cornerwise_project::Design::new(DesignId(9), 'C')));
    let text = plan(&project).unwrap();
    assert!(
        text.contains("Leg A: make 1") && text.contains("Leg C: make 1") && text.contains("Leg C: glue-up"),
        "{text}"
    );
}

#[test]
fn the_whole_is_told_from_boards_to_assembly() {
    let table = of_demo("apron-table.ron");
    for words in [
        "1 board of 150 mm by 60 mm, 2000 mm long",
        "board 1, row 1: leg A, leg A mirrored, leg B",
        "board 1, row 2: leg B mirrored",
        "offcut, end of row 2 of board 1: 56 mm by 56 mm, 1366.8 mm long",
        "place 2: leg A mirrored, Am2 toward the middle",
        "Aprons, mitred",
        "part 1: throw away, the top end of the blank to 90 mm (110 mm long)",
        "As leg A, step by step, with Am1 to Am4 for A1 to A4",
        "Post: straight for 100 mm",
        "fasten the top so that it can move",
    ] {
        assert!(table.contains(words), "{words}: {table}");
    }
    assert!(!table.contains("glue a shelf"));
    let stand = of_demo("shelf-stand.ron");
    assert!(stand.contains("cannot be slid in") && !stand.contains("Blanks from boards"), "{stand}");
}

#[test]
fn joints_and_what_is_found_of_the_fit_are_told() {
    use cornerwise_geometry::fit::{Joint, PipeHole};
    let joint = Joint {
        side: cornerwise_geometry::Side::Two,
        from_top: 30.0.into(),
        height: 60.0.into(),
        width: 10.0.into(),
        beside: (-8.0).into(),
        depth: 25.0.into(),
    };
    let pipe = PipeHole {
        name: String::new(),
        outside: 44.0.into(),
        clearance: 0.5.into(),
        above: 0.0.into(),
        below: 0.0.into(),
        recess: 0.0.into(),
    };
    let edit = |part| Edit::SetFit { design: DesignId(1), part };
    let project = Project::new().apply(&edit(FitPart::Joints(vec![joint]))).unwrap();
    let text = plan(&project).unwrap();
    let words = "Mortise or dowels 1 in side 2: from 30 mm to 90 mm from the top, 10 mm wide, its middle 8 mm to the left of \
                 seam 2, TOP up, 25 mm deep";
    assert!(text.contains(words), "{text}");
    // A hole too near a side is on the plan and on the cover of the template.
    let project = project.apply(&edit(FitPart::Pipe(Some(pipe)))).unwrap();
    let found = &project.designs[0].fit_findings(&project.designs[0].leg().unwrap(), project.units)[0];
    assert!(plan(&project).unwrap().contains(&found.what), "{}", found.what);
    let sheets = crate::paper::project_sheets(&project).unwrap();
    let cover: Vec<&str> = sheets[0]
        .marks
        .iter()
        .filter_map(|mark| if let crate::sheets::Mark::Text(text) = mark { Some(text.text.as_str()) } else { None })
        .collect();
    assert!(cover.join(" ").contains(&found.what), "{cover:?}: {}", found.what);
}

#[test]
fn the_plan_shows_where_each_leg_stands() {
    let demo = DEMOS.iter().find(|demo| demo.file_name == "apron-table.ron").unwrap();
    let sheets = crate::paper::project_sheets(&demo.project().unwrap()).unwrap();
    let first = sheets.iter().find(|sheet| sheet.label.contains("Plan")).unwrap();
    let at = |words: &str| {
        let found = first.marks.iter().find_map(|mark| match mark {
            crate::sheets::Mark::Text(text) if text.text == words => Some(text.at),
            _ => None,
        });
        found.unwrap_or_else(|| panic!("{words}"))
    };
    // Counter-clockwise from the corner at small u and v, which is at the upper left as seen from above with v down.
    let [a, am, b, bm] = ["A1", "Am2", "B1", "Bm2"].map(at);
    assert!(a.x < am.x && a.y < bm.y && b.x > bm.x && b.y > am.y, "{a:?} {am:?} {b:?} {bm:?}");
}

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

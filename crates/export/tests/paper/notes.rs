//! What the paper says beside the lines: what the saw gives, what is accepted, which way the sides are cleaned up.

use cornerwise_export::demo::DEMOS;
use cornerwise_export::paper::design_sheets;
use cornerwise_export::sheets::{Mark, Pen, Sheet};
use cornerwise_geometry::Concern;
use cornerwise_project::{Accepted, Edit, Project};
use kurbo::ParamCurveNearest;

fn demo(file: &str) -> Project {
    DEMOS.iter().find(|demo| demo.file_name == file).unwrap().project().unwrap()
}

/// All words of some sheets, one line to a space.
fn words(sheets: &[Sheet]) -> String {
    let of = |mark: &Mark| if let Mark::Text(text) = mark { Some(text.text.clone()) } else { None };
    sheets.iter().flat_map(|sheet| sheet.marks.iter().filter_map(of)).collect::<Vec<_>>().join(" ")
}

#[test]
fn what_is_accepted_stands_on_the_paper_with_its_reason() {
    let bad = demo("too-many-waves.ron");
    let design = bad.designs[0].id;
    let reason = "it stands in a corner where nobody touches it";
    let accepted = Accepted { concern: Concern::EdgeAngle, reason: reason.to_owned(), value: 50.0 };
    let taken = bad.apply(&Edit::Accept { design, accepted }).unwrap();
    let said = words(&design_sheets(&taken, &taken.designs[0]).unwrap());
    assert!(said.contains("Sharp edge") && said.contains("Accepted: it stands in a corner"), "{said}");
    assert!(said.contains("Short grain"), "what is not accepted is said too: {said}");
    for part in ["As the saw gives it", "kerf", "wood lost", "steps", "Clean-up", "Scrape and shave with the grain"] {
        assert!(said.contains(part), "no {part:?} in {said}");
    }
    let plan = cornerwise_export::plan::plan(&taken).unwrap();
    assert!(plan.contains("Watch out, leg W") && plan.contains(reason), "{plan}");
}

#[test]
fn a_sound_leg_without_a_saw_has_no_notes_but_its_clean_up() {
    let mut sound = demo("reading-table.ron");
    let said = words(&design_sheets(&sound, &sound.designs[0]).unwrap());
    assert!(!said.contains("As the saw gives it") && !said.contains("Watch out"), "{said}");
    assert!(said.contains("Clean-up"));
    let pages = design_sheets(&sound, &sound.designs[0]).unwrap().len();
    sound.paper.clean_up = false;
    let bare = design_sheets(&sound, &sound.designs[0]).unwrap();
    assert!(!words(&bare).contains("Clean-up") && bare.len() <= pages);
}

/// Half the kerf and the sanding, square to the saw line as it is printed.
#[test]
fn the_edges_of_the_kerf_lie_beside_the_saw_line() {
    let mut project = demo("too-many-waves.ron");
    let count = |project: &Project| {
        let sheets = design_sheets(project, &project.designs[0]).unwrap();
        let edges = |sheet: &Sheet| {
            sheet.marks.iter().filter(|mark| matches!(mark, Mark::Line { pen: Pen::KerfEdge, .. })).count()
        };
        sheets.iter().map(edges).sum::<usize>()
    };
    assert_eq!(count(&project), 0, "only where they are asked for");
    project.paper.kerf_edges = true;
    let saw = project.saw.as_ref().unwrap();
    let taken = saw.blade.kerf.mm() / 2.0 + saw.sanding.mm();
    let (mut near, mut all) = (0, 0);
    for sheet in design_sheets(&project, &project.designs[0]).unwrap() {
        let of = |wanted: &[Pen]| -> Vec<kurbo::BezPath> {
            let line = |mark: &Mark| match mark {
                Mark::Line { path, pen } if wanted.contains(pen) => Some(path.clone()),
                _ => None,
            };
            sheet.marks.iter().filter_map(line).collect()
        };
        let lines = of(&[Pen::FirstCut, Pen::SecondCut]);
        for edge in of(&[Pen::KerfEdge]) {
            for segment in edge.segments() {
                let at = kurbo::ParamCurve::start(&segment);
                let away = lines
                    .iter()
                    .flat_map(|line| line.segments())
                    .map(|line| line.nearest(at, 1e-6).distance_sq.sqrt())
                    .fold(f64::INFINITY, f64::min);
                assert!(away > taken - 0.02, "{away}");
                all += 1;
                // At the edge of a page the line itself ends a hair before.
                near += usize::from(away < taken + 0.02);
            }
        }
    }
    assert!(all > 400 && near * 100 > all * 97, "{near} of {all}");
}

/// Figure, limit and where the limit comes from, for what is open and for what is accepted; a sharp point is met as the screen
/// says: each pass a hair short.
#[test]
fn watch_outs_on_the_paper_say_what_they_are_held_against() {
    let bad = demo("too-many-waves.ron");
    let design = bad.designs[0].id;
    let accepted = Accepted { concern: Concern::EdgeAngle, reason: "out of reach".to_owned(), value: 0.0 };
    let said = words(&design_sheets(&bad, &bad.designs[0]).unwrap());
    assert!(said.contains(", limit 60.0°, ") && said.contains(Concern::EdgeAngle.source()), "{said}");
    let taken = bad.apply(&Edit::Accept { design, accepted }).unwrap();
    let said = words(&design_sheets(&taken, &taken.designs[0]).unwrap());
    let place = said.find("Accepted: out of reach. Limit: edges sharper").is_some();
    assert!(place && said.contains(", limit 60.0°, "), "{said}");
    let steps = DEMOS.iter().filter(|demo| {
        let said = words(&design_sheets(&demo.project().unwrap(), &demo.project().unwrap().designs[0]).unwrap());
        assert!(!said.contains("stop at the point"), "{}", demo.file_name);
        said.contains("stop a hair short of it") && said.contains("pare what is left")
    });
    assert!(steps.count() > 0, "no demo has a sharp point");
}

/// In an inch project what is small stands in decimals of an inch, and nothing in millimetres.
#[test]
fn what_the_saw_gives_is_told_in_the_projects_units() {
    let mut project = demo("too-many-waves.ron");
    project.units = cornerwise_geometry::Units::Inches(cornerwise_geometry::Finest::Sixteenth);
    let saw = project.saw.as_mut().unwrap();
    (saw.tilt_first_deg, saw.bow_first) = (0.5, 0.3.into());
    let notes = words(&design_sheets(&project, &project.designs[0]).unwrap());
    let from = notes.find("As the saw gives it").unwrap();
    let to = notes[from..].find("wood lost").unwrap() + from;
    let said = &notes[from..to];
    assert!(said.contains("at seams 1 and 3, 0.017\"") && said.contains("core"), "{said}");
    assert!(!said.contains(" mm") && !said.contains("up to 0\""), "{said}");
}

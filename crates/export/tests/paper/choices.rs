//! Choices that cannot be printed, and the words that every strip carries.

use crate::legs::{LAYOUTS, lamp_column, leg, measured, names, on, pdf_of, roll, sheets};
use crate::reader::read;
use cornerwise_export::demo::DEMOS;
use cornerwise_export::paper::{LegNames, MAX_PAGES, PaperError, project_sheets, template};
use cornerwise_export::sheets::{Mark, Sheet, Text};
use cornerwise_geometry::{
    Arris, Blank, Finest, Leg, Line, MM_PER_INCH, Point, PointId, PointKind, Shape, ShapeKind, Units,
};
use cornerwise_project::{PageSize, PaperChoice, Project, StripLayout};
use std::collections::BTreeSet;

fn refused(leg: &Leg, choice: &PaperChoice) -> PaperError {
    template(leg, &names(), choice, Units::Millimetres).unwrap_err()
}

#[test]
fn choices_that_cannot_be_printed_are_named() {
    let leg = lamp_column();
    let a4 = || on(PageSize::A4);
    for wrong in [70.0, 130.0, f64::NAN, -100.0, f64::INFINITY] {
        let error = refused(&leg, &PaperChoice { measured: measured(wrong, 100.0), ..a4() });
        assert!(matches!(error, PaperError::Measured { edge: "short", .. }));
        let error = refused(&leg, &PaperChoice { measured: measured(100.0, wrong), ..a4() });
        assert!(matches!(error, PaperError::Measured { edge: "long", .. }));
    }
    for wrong in [0.0, 500.0, f64::NAN] {
        let error = refused(&leg, &PaperChoice { overlap: wrong.into(), ..a4() });
        assert!(matches!(error, PaperError::Overlap { .. }));
    }
    for wrong in [100.0, 1e9, f64::NAN] {
        assert!(matches!(refused(&leg, &on(roll(wrong))), PaperError::Roll { .. }));
    }
    let layout = StripLayout::PerFace { face_1_by: Arris::Three, face_2_by: Arris::Two };
    let error = refused(&leg, &PaperChoice { layout, ..a4() });
    assert_eq!(error.to_string(), "the strip of face 1 cannot be held to arris 3, which is not an edge of it");
}

#[test]
fn a_leg_that_is_no_leg_is_named() {
    for (width_mm, length_mm) in [(f64::NAN, 700.0), (50.0, f64::INFINITY), (0.0, 700.0), (50.0, 1e12)] {
        let leg = Leg { width_mm, length_mm, ..lamp_column() };
        assert!(matches!(refused(&leg, &on(PageSize::A4)), PaperError::NotALength(_)));
    }
}

#[test]
fn too_many_pages_are_counted_not_made() {
    let blank = Blank { spare_top: 0.0.into(), ..Blank::square(1000.0, 10_000.0) };
    let largest = leg(&blank, [ShapeKind::Straight; 2]);
    let error = refused(&largest, &PaperChoice { overlap: 60.0.into(), ..on(PageSize::Letter) });
    let PaperError::TooManyPages { pages } = error else { panic!("{error}") };
    assert!(pages > MAX_PAGES && error.to_string().contains("400"));
    // The same leg on a wide roll is a few pages.
    assert!(sheets(&largest, &on(roll(1067.0))).len() < 20);
}

#[test]
fn every_strip_names_its_ends_faces_arrises_pieces_and_passes() {
    for across in [24.0, 38.0, 50.0, 76.0] {
        for layout in LAYOUTS {
            let leg = leg(&Blank::square(across, 450.0), [ShapeKind::Cyma, ShapeKind::PostAndKnee]);
            let pages = read(&pdf_of(&leg, &PaperChoice { layout, ..on(PageSize::A4) }));
            let strip: Vec<_> = pages.iter().filter(|page| page.says("FACE ")).collect();
            let words: BTreeSet<&str> = strip.iter().flat_map(|p| p.texts.iter().map(|t| t.text.as_str())).collect();
            let mut expected = vec![
                "◀ TOP",
                "FOOT ▶",
                "FACE 1",
                "FACE 2",
                "B1",
                "B2",
                "B3",
                "1",
                "2",
                "3",
                "saw in",
                "saw out",
                "first cut",
                "second cut",
                "passes 2 and 3 stop a hair short",
                "100",
                "450",
                "spare",
            ];
            expected.extend(match layout {
                StripLayout::Wrapped => ["glue this edge to arris 1", "FOLD on arris 2", "glue this edge to arris 3"],
                StripLayout::PerFace { .. } => ["arris 1", "glue this edge to arris 2", "glue this edge to arris 3"],
            });
            for word in expected {
                assert!(words.contains(word), "{word:?} is missing at {across} mm, {layout:?}");
            }
            for (i, page) in strip.iter().enumerate() {
                let part = if strip.len() == 1 {
                    "strip".to_owned()
                } else {
                    format!("strip, part {} of {}", i + 1, strip.len())
                };
                assert!(page.says(&part) && page.says("Lamp column · Village library") && page.says("Leg B"));
            }
        }
    }
}

#[test]
fn ticks_stand_where_their_numbers_say_in_both_units() {
    for (units, step) in [(Units::Millimetres, 50.0), (Units::Inches(Finest::ThirtySecond), MM_PER_INCH)] {
        let sheets = template(&lamp_column(), &names(), &on(roll(914.0)), units).unwrap();
        let pages = read(&cornerwise_export::pdf::pdf(&sheets, "").unwrap());
        let strip = pages.last().unwrap();
        let face = strip.texts.iter().find(|text| text.text == "FACE 1").unwrap();
        let top =
            strip.straight(0.5).into_iter().flatten().map(|p| p.to_vec2().dot(face.along)).fold(f64::MAX, f64::min);
        let ticks: Vec<f64> = strip.straight(0.18).iter().map(|[a, _]| a.to_vec2().dot(face.along) - top).collect();
        let numbers: Vec<f64> = strip.texts.iter().filter_map(|t| t.text.parse().ok()).filter(|n| *n > 3.0).collect();
        assert!(numbers.len() >= 14);
        for number in numbers {
            let s = if units == Units::Millimetres { number } else { number * step };
            assert!(ticks.iter().any(|tick| (tick - s).abs() < 0.005), "no tick at {s}");
        }
    }
}

#[test]
fn the_first_page_carries_the_cautions_and_the_way_of_working() {
    let page = &read(&pdf_of(&lamp_column(), &on(PageSize::A4)))[0];
    let words: String = page.texts.iter().map(|text| text.text.clone() + " ").collect();
    for needed in
        ["manual", "guard", "Keep hands", "eye, ear and dust", "flat face must bear", "tape", "splitting the line"]
    {
        assert!(words.contains(needed), "{needed}");
    }
}

fn demo(file_name: &str, choice: PaperChoice) -> Vec<Sheet> {
    let demo = DEMOS.iter().find(|demo| demo.file_name == file_name).unwrap();
    project_sheets(&Project { paper: choice, ..demo.project().unwrap() }).unwrap()
}

fn texts(sheet: &Sheet) -> impl Iterator<Item = &Text> {
    sheet.marks.iter().filter_map(|mark| if let Mark::Text(text) = mark { Some(text) } else { None })
}

#[test]
fn a_strip_too_wide_for_notes_beside_it_has_the_way_to_join_its_pages_on_page_1() {
    let mut on_the_cover = 0;
    for file in DEMOS.map(|demo| demo.file_name) {
        for layout in LAYOUTS {
            for page in [PageSize::A4, PageSize::Letter, roll(610.0)] {
                let sheets = demo(file, PaperChoice { layout, ..on(page.clone()) });
                let says = |sheet: &Sheet| {
                    let words: Vec<&str> = texts(sheet).map(|text| text.text.as_str()).collect();
                    // The plan names both ends of the blank.
                    words.contains(&"Joining the pages") && words.contains(&"TOP") && words.contains(&"FOOT")
                };
                // Every leg of a project has paper of its own: a first page, and a strip.
                for leg in sheets.chunk_by(|one, next| one.label.split(',').next() == next.label.split(',').next()) {
                    let strip: Vec<&Sheet> = leg.iter().filter(|sheet| sheet.label.contains(": strip")).collect();
                    let each = strip.iter().all(|sheet| says(sheet));
                    let joined = strip.len() > 1;
                    assert_eq!(says(&leg[0]), joined && !each, "{file} {page:?} {layout:?}");
                    on_the_cover += usize::from(joined && !each);
                }
            }
        }
    }
    assert!(on_the_cover > 0);
}

#[test]
fn every_page_of_a_strip_in_inches_says_large_enough_what_its_edges_are_glued_to() {
    for layout in LAYOUTS {
        for page in [PageSize::A4, PageSize::Letter, PageSize::Tabloid, roll(610.0)] {
            let sheets = demo("bench-leg.ron", PaperChoice { layout, ..on(page.clone()) });
            let words = match layout {
                StripLayout::Wrapped => ["glue this edge to arris 1", "FOLD on arris 2", "glue this edge to arris 3"],
                StripLayout::PerFace { .. } => ["glue this edge to arris 2", "glue this edge to arris 3", "arris 1"],
            };
            for sheet in sheets.iter().filter(|sheet| sheet.label.contains("strip")) {
                for word in words {
                    let mut found = texts(sheet).filter(|text| text.text == word).peekable();
                    assert!(found.peek().is_some(), "{word} is missing: {page:?} {layout:?} {}", sheet.label);
                    for text in found {
                        assert!(text.cap_mm >= 2.0, "{word} is {} mm: {page:?} {layout:?}", text.cap_mm);
                    }
                }
            }
        }
    }
}

#[test]
fn a_blank_whose_inches_are_rounded_says_what_it_is_exactly() {
    let first_page = |side_mm: f64| {
        let leg = leg(&Blank::square(side_mm, 700.0), [ShapeKind::Cyma; 2]);
        let sheets = template(&leg, &names(), &on(PageSize::Letter), Units::Inches(Finest::Sixteenth)).unwrap();
        texts(&sheets[0]).map(|text| text.text.clone() + " ").collect::<String>()
    };
    let words = first_page(48.0);
    assert!(words.contains("about 1 7/8\" (48 mm exactly) × about 1 7/8\" (48 mm exactly)"), "{words}");
    let words = first_page(44.45);
    assert!(words.contains("1 3/4\" × 1 3/4\""), "a fraction that is exact stands alone: {words}");
}

#[test]
fn the_first_page_says_that_the_middle_of_a_saw_line_is_the_true_line() {
    let sheets = sheets(&lamp_column(), &on(PageSize::A4));
    let words: String = texts(&sheets[0]).map(|text| text.text.clone() + " ").collect();
    assert!(words.contains("its middle is the true line"), "{words}");
}

#[test]
fn a_project_prints_every_design_and_names_the_one_that_fails() {
    let mut project = Project::new();
    let second = cornerwise_project::Design { letter: 'C', ..(*project.designs[0]).clone() };
    project.designs.push(second.into());
    let sheets = project_sheets(&project).unwrap();
    assert!(
        sheets[0].label.starts_with("Leg A, page 1 of ") && sheets.last().unwrap().label.starts_with("Leg C, page ")
    );

    let broken = cornerwise_project::Design { blank: Blank::square(-1.0, 700.0), ..(*project.designs[0]).clone() };
    project.designs.push(broken.into());
    assert!(matches!(project_sheets(&project), Err(PaperError::Leg { .. })));
}

#[test]
fn a_sharp_point_beyond_the_end_of_the_blank_is_nowhere_to_stop_the_saw() {
    let blank = Blank { spare_top: 20.0.into(), spare_foot: 20.0.into(), ..Blank::square(50.0, 300.0) };
    let point = |id, s: f64, offset: f64, kind| Point {
        id: PointId(id),
        from_top: s.into(),
        offset: offset.into(),
        kind,
        tied: false,
    };
    let smooth = PointKind::Smooth { slope: 0.0, before_mm: 30.0, after_mm: 30.0 };
    let sharp = PointKind::Sharp { slope_before: 0.3, before_mm: 20.0, slope_after: -0.3, after_mm: 20.0 };
    let with_point_at = |s| {
        let points = vec![point(1, 0.0, 20.0, smooth), point(2, 150.0, 25.0, smooth), point(3, s, 30.0, sharp)];
        Leg::new(&blank, &Line::Points(points), &Line::Shape(Shape::Straight { aside: 0.0.into() })).unwrap()
    };
    let words = |leg: &Leg| -> String {
        let pages = read(&pdf_of(leg, &on(PageSize::A4)));
        pages.iter().flat_map(|page| page.texts.iter().map(|text| text.text.clone() + " ")).collect()
    };
    let beyond = words(&with_point_at(400.0));
    assert!(beyond.contains("first cut, from top to foot"), "{beyond}");
    assert!(
        !beyond.contains("400 mm") && !beyond.contains("hair short") && !beyond.contains("sharp point"),
        "{beyond}"
    );
    assert!(beyond.contains("pass 2") && !beyond.contains("pass 3"), "{beyond}");
    // In the spare length there is wood to stop in.
    let inside = words(&with_point_at(310.0));
    assert!(
        inside.contains("from top to a hair short of the sharp point at 310") && inside.contains("pass 3"),
        "{inside}"
    );
}

#[test]
fn a_letter_that_no_typeface_has_is_refused_and_names_show_a_question_mark() {
    let leg = lamp_column();
    let odd = |design: &str, letter| LegNames { project: "Kök".into(), design: design.into(), letter, ..names() };
    let error = template(&leg, &odd("Lamp", '名'), &on(PageSize::A4), Units::Millimetres).unwrap_err();
    let PaperError::Letter { letter: '名', design } = &error else { panic!("{error}") };
    assert!(design == "Lamp" && error.to_string().contains("Lamp") && error.to_string().contains('名'));
    let sheets = template(&leg, &odd("灯 Lamp 🪑", 'B'), &on(PageSize::A4), Units::Millimetres).unwrap();
    let texts = || {
        sheets.iter().flat_map(|sheet| &sheet.marks).filter_map(|mark| match mark {
            Mark::Text(text) => Some(text),
            _ => None,
        })
    };
    assert!(texts().any(|text| text.text == "? Lamp ?"));
    for text in texts() {
        let lacks = text.text.chars().find(|c| text.typeface.letter(*c).glyph == 0);
        assert_eq!(lacks, None, "{:?}", text.text);
    }
}

//! Words that must not be missing: on the narrowest blanks, and where a saw line leaves its face.

use crate::legs::{LAYOUTS, leg, on, pdf_of, roll, sheets};
use crate::reader::read;
use cornerwise_export::sheets::Mark;
use cornerwise_geometry::{Blank, Leg, Line, Shape, ShapeKind};
use cornerwise_project::{PageSize, PaperChoice, StripLayout};

#[test]
fn what_the_work_cannot_do_without_is_on_the_paper_of_the_narrowest_blanks() {
    for across in [8.0, 10.0, 12.0, 15.0] {
        for layout in LAYOUTS {
            for kinds in [[ShapeKind::Cyma, ShapeKind::PostAndKnee], [ShapeKind::Straight, ShapeKind::Waves]] {
                let leg = leg(&Blank::square(across, 450.0), kinds);
                let pages = read(&pdf_of(&leg, &PaperChoice { layout, ..on(PageSize::A4) }));
                let strip = pages.iter().filter(|page| page.says("strip"));
                let words: Vec<&str> = strip.flat_map(|p| p.texts.iter().map(|t| t.text.as_str())).collect();
                let count = |word: &str| words.iter().filter(|text| **text == word).count();
                let passes = if kinds[1] == ShapeKind::PostAndKnee { 3 } else { 2 };
                assert_eq!(count("saw in"), passes, "{across} mm, {layout:?}, {kinds:?}");
                let mut expected = vec!["◀ TOP", "FOOT ▶", "FACE 1", "FACE 2", "B1", "B2", "B3", "1", "2"];
                if passes == 3 {
                    expected.extend(["3", "passes 2 and 3 stop a hair short"]);
                }
                expected.extend(match layout {
                    StripLayout::Wrapped => {
                        ["glue this edge to arris 1", "FOLD on arris 2", "glue this edge to arris 3"]
                    }
                    StripLayout::PerFace { .. } => ["glue this edge to arris 2", "glue this edge to arris 3", "FACE 1"],
                });
                for word in expected {
                    assert!(count(word) > 0, "{word:?} is missing at {across} mm, {layout:?}, {kinds:?}: {words:?}");
                }
                assert_eq!((count("◀ TOP"), count("FOOT ▶")), (2, 2), "on each face: {across} mm, {layout:?}");
            }
        }
    }
}

#[test]
fn a_saw_line_that_leaves_the_blank_through_a_face_says_where_and_where_it_comes_back() {
    // An arch of 60 mm from 18 mm beside the middle of a 44 mm blank.
    let rise = Line::Shape(Shape::Arch { rise: 60.0.into(), crest: 0.5, aside: (-18.0).into() });
    let leg = Leg::new(&Blank::square(44.0, 500.0), &rise, &rise).unwrap();
    let page = sheets(&leg, &on(roll(610.0))).pop().unwrap();
    let mut told = Vec::new();
    for mark in &page.marks {
        let Mark::Text(text) = mark else { continue };
        for (start, slope) in [("leaves the face here, ", 1.0), ("comes back, ", -1.0)] {
            let Some(rest) = text.text.strip_prefix(start) else { continue };
            let (mm, side) = rest.split_once(" mm ").unwrap();
            let s = mm.parse::<f64>().unwrap() * if side == "beyond TOP" { -1.0 } else { 1.0 };
            let at = leg.first.at(s);
            // Told to a tenth of a millimetre along the leg.
            let off = at.offset.abs().min((at.offset - 44.0).abs());
            assert!(off <= 0.06 * at.slope.abs() + 1e-6, "{s}: {off}");
            // Out through either edge, or in: by whether the line is on the blank a little further down.
            let inside = (0.0..=44.0).contains(&leg.first.offset(s + 1.0));
            assert_eq!(inside, slope < 0.0, "{s}");
            told.push(s);
        }
    }
    told.sort_by(f64::total_cmp);
    let crossings = (-200..5200).filter(|i| {
        let on_blank = |s: f64| (0.0..=44.0).contains(&leg.first.offset(s));
        on_blank(f64::from(*i) / 10.0) != on_blank(f64::from(*i + 1) / 10.0)
    });
    let crossings: Vec<f64> = crossings.map(|i| f64::from(i) / 10.0).collect();
    assert!(crossings.len() >= 4 && told.len() == 2 * crossings.len(), "{told:?} for {crossings:?}");
    // On both faces.
    assert!(
        told.iter().zip(crossings.iter().flat_map(|s| [s, s])).all(|(told, s)| (told - s).abs() < 0.2),
        "{told:?} for {crossings:?}"
    );
}

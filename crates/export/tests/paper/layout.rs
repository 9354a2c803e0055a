//! Nothing runs into a margin, and nothing is written over a saw line or over other words.

use crate::legs::{LAYOUTS, leg, measured, on, roll, sheets};
use cornerwise_export::demo::DEMOS;
use cornerwise_export::page::MARGIN_MM;
use cornerwise_export::paper::project_sheets;
use cornerwise_export::sheets::{Mark, Pen, Sheet, Text, clipped};
use cornerwise_geometry::{Blank, Leg, Line, Shape, ShapeKind};
use cornerwise_project::{PageSize, PaperChoice};
use kurbo::Rect;

fn legs() -> Vec<Leg> {
    let rectangular = Blank { depth: 32.0.into(), ..Blank::square(60.0, 420.0) };
    let bare = Blank { spare_top: 0.0.into(), spare_foot: 0.0.into(), ..Blank::square(44.0, 300.0) };
    // Its first cut leaves the blank through a face and comes back.
    let rise = Line::Shape(Shape::Arch { rise: 60.0.into(), crest: 0.5, aside: (-18.0).into() });
    let leaving = Leg::new(&Blank::square(44.0, 500.0), &rise, &rise).unwrap();
    assert!(leaving.first.extent().least < 0.0 || leaving.first.extent().most > 44.0);
    vec![
        leaving,
        leg(&Blank::square(50.0, 700.0), [ShapeKind::Cyma, ShapeKind::Waves]),
        leg(&Blank::square(8.0, 300.0), [ShapeKind::Cyma, ShapeKind::PostAndKnee]),
        leg(&Blank::square(12.0, 450.0), [ShapeKind::Waves, ShapeKind::Arch]),
        leg(&Blank::square(20.0, 300.0), [ShapeKind::Waves, ShapeKind::Arch]),
        leg(&rectangular, [ShapeKind::PostAndKnee, ShapeKind::Cyma]),
        leg(&bare, [ShapeKind::Arch, ShapeKind::Straight]),
        leg(&Blank::square(120.0, 900.0), [ShapeKind::Cyma, ShapeKind::PostAndKnee]),
    ]
}

fn choices() -> Vec<PaperChoice> {
    let mut choices = Vec::new();
    for layout in LAYOUTS {
        for page in [PageSize::A4, PageSize::Letter, PageSize::Tabloid, roll(200.0), roll(610.0)] {
            choices.push(PaperChoice { layout, ..on(page) });
        }
        let a4 = PaperChoice { layout, landscape: true, ..on(PageSize::A4) };
        choices.push(PaperChoice { measured: measured(92.0, 108.0), ..a4.clone() });
        choices.push(a4);
    }
    choices
}

/// Every leg on every choice of paper, and every demo on its own.
fn all() -> impl Iterator<Item = Sheet> {
    let demos = DEMOS.iter().flat_map(|demo| project_sheets(&demo.project().unwrap()).unwrap());
    demos.chain(tried())
}

fn tried() -> impl Iterator<Item = Sheet> {
    legs().into_iter().flat_map(|leg| choices().into_iter().flat_map(move |choice| sheets(&leg, &choice)))
}

fn texts(sheet: &Sheet) -> Vec<&Text> {
    sheet.marks.iter().filter_map(|mark| if let Mark::Text(text) = mark { Some(text) } else { None }).collect()
}

fn overlap(a: Rect, b: Rect) -> bool {
    let both = a.inflate(-0.05, -0.05).intersect(b.inflate(-0.05, -0.05));
    both.width() > 0.0 && both.height() > 0.0
}

#[test]
fn everything_keeps_inside_the_margins_of_the_paper_and_of_the_page() {
    for sheet in all() {
        let paper = sheet.paper();
        // Where the print comes out smaller or larger than the paper, both have their margins.
        let keep =
            |page: f64, paper: f64| (page.max(paper) - paper.min(page)) / 2.0 * f64::from(page > paper) + MARGIN_MM;
        let (x, y) = (keep(paper.width(), sheet.width_mm), keep(paper.height(), sheet.height_mm));
        let room = paper.inflate(-x, -y).inflate(0.15, 0.15);
        for mark in &sheet.marks {
            let bounds = mark.bounds();
            assert!(room.contains_rect(bounds), "{}: {bounds:?} outside {room:?}: {mark:?}", sheet.label);
        }
    }
}

#[test]
fn words_do_not_run_into_one_another() {
    for sheet in all() {
        let texts = texts(&sheet);
        for (i, a) in texts.iter().enumerate() {
            for b in &texts[i + 1..] {
                assert!(!overlap(a.bounds(), b.bounds()), "{}: {:?} and {:?}", sheet.label, a.text, b.text);
            }
        }
    }
}

#[test]
fn no_word_stands_on_a_saw_line_or_a_fold() {
    for sheet in all() {
        for mark in &sheet.marks {
            let Mark::Line { path, pen: pen @ (Pen::FirstCut | Pen::SecondCut | Pen::Fold | Pen::FinishedEnd) } = mark
            else {
                continue;
            };
            for text in texts(&sheet) {
                let crossed = clipped(path, text.bounds());
                assert!(crossed.is_empty(), "{}: {:?} on a {pen:?} line", sheet.label, text.text);
            }
        }
    }
}

#[test]
fn no_leader_runs_through_a_word() {
    let mut leaders = 0;
    for sheet in all() {
        for mark in &sheet.marks {
            let Mark::Line { path, pen: Pen::Leader } = mark else { continue };
            leaders += 1;
            for text in texts(&sheet) {
                let crossed = clipped(path, text.bounds().inflate(-0.05, -0.05));
                assert!(crossed.is_empty(), "{}: a leader through {:?}", sheet.label, text.text);
            }
        }
    }
    assert!(leaders > 20, "narrow blanks need leaders");
}

#[test]
fn what_is_read_at_the_saw_is_large_enough_for_arms_length() {
    // 2.5 mm capitals: common practice for drawings read at arm's length, no source.
    for sheet in sheets(&legs()[1], &on(PageSize::A4)) {
        let is_strip = sheet.label.contains("strip");
        for text in texts(&sheet) {
            let essential =
                ["◀ TOP", "FOOT ▶", "FACE 1", "FACE 2", "B1", "B2", "B3", "B4", "saw in", "saw out", "first cut"];
            let least = if essential.contains(&text.text.as_str()) { 2.5 } else { 1.9 };
            assert!(text.cap_mm >= least, "{:?} is {} mm", text.text, text.cap_mm);
        }
        assert!(!is_strip || texts(&sheet).iter().any(|text| text.text.starts_with("FACE")));
    }
}

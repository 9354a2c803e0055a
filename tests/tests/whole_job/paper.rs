//! The paper, from a project's file to what a reader of PDF finds on the pages.

use std::fs;
use std::path::Path;

use cornerwise_export::files;
use cornerwise_geometry::Cut;
use cornerwise_project::Project;

use crate::legs::{self, LegOnPaper};
use crate::marks::{self, Page};
use crate::{command, demos, mutool, strip, tools};

/// design.md: a length is true within 0.1 mm over 700 mm, on every sheet, across page joins.
const TRUE_MM: f64 = 0.1;

/// The PDF that the command line makes of a project's file.
pub fn of(file: &Path, more: &[&str], folder: &Path) -> Vec<u8> {
    let pdf = folder.join("paper.pdf");
    let mut args = vec!["paper".into(), file.as_os_str().to_owned(), "--out".into(), pdf.as_os_str().to_owned()];
    args.extend(more.iter().map(Into::into));
    command::done(args);
    fs::read(&pdf).expect("the paper")
}

/// Every saw line on the joined pages is the drawn line, true over the whole length and the spare ends, and the faces
/// are as wide and as long as the blank. Gives the worst miss, mm.
fn is_true(pages: &[Page], project: &Project) -> f64 {
    legs::of(pages, project).iter().map(leg_is_true).fold(0.0, f64::max)
}

fn leg_is_true(leg: &LegOnPaper<'_>) -> f64 {
    let design = leg.design;
    let joined = strip::join(&leg.pages);
    let mut worst = joined.crosses_off_mm;
    for (cut, face) in Cut::ALL.into_iter().zip(&joined.faces) {
        let line = leg.line(cut);
        let across = design.across_mm(cut);
        // A strip for each face of a chamfered blank is as wide as the flat, and measured from its edge.
        let c = leg.chamfer_mm();
        let inset =
            if face.across_mm.iter().all(|width| (width - (across - 2.0 * c)).abs() < TRUE_MM) { c } else { 0.0 };
        for width in &face.across_mm {
            worst = worst.max((width - (across - 2.0 * inset)).abs());
        }
        worst = worst.max((face.length_mm - design.blank.length.mm()).abs());
        // The first cut is solid, the second dashed.
        assert!(!face.dashed.is_empty() && face.dashed.iter().all(|dashed| *dashed == (cut == Cut::Second)));
        let mut covered: Vec<[f64; 2]> = Vec::new();
        for run in &face.line {
            covered.push([0, 1].map(|end| run[end * (run.len() - 1)][0]));
            for [s, offset] in run {
                let [drawn, slope] = line(*s);
                worst = worst.max((offset + inset - drawn).abs() / slope.hypot(1.0));
            }
        }
        covered.iter_mut().for_each(|part| part.sort_by(f64::total_cmp));
        covered.sort_by(|p, q| p[0].total_cmp(&q[0]));
        let mut reached = -design.blank.spare_top.mm();
        worst = worst.max((covered[0][0] - reached).abs());
        for [from, to] in covered {
            assert!(from <= reached + TRUE_MM, "{cut}: no line from {reached} to {from}");
            reached = reached.max(to);
        }
        worst = worst.max((reached - design.blank.length.mm() - design.blank.spare_foot.mm()).abs());
    }
    worst
}

#[test]
fn the_saw_lines_on_paper_are_true_on_every_page_size_and_across_joins() {
    let folder = tempfile::tempdir().expect("a folder");
    let (mut most, mut joins) = (0.0_f64, 0);
    for file in demos::all() {
        let project = demos::project(&file);
        for size in ["a4", "a3", "letter", "tabloid", "roll:610"] {
            for more in [&["--layout", "strip"][..], &["--layout", "faces"], &["--layout", "strip", "--on-its-side"]] {
                let pages = marks::read(&of(&file, &[&["--size", size], more].concat(), folder.path()));
                eprintln!("{} on {size} {more:?}", file.display());
                let worst = is_true(&pages, &project);
                assert!(worst < TRUE_MM, "{} on {size} {more:?}: {worst} mm", file.display());
                most = most.max(worst);
                let legs = legs::of(&pages, &project);
                joins += legs.iter().map(|leg| strip::join(&leg.pages).pages - 1).sum::<usize>();
            }
        }
    }
    eprintln!("worst miss on paper {most:.5} mm, over {joins} joins");
    assert!(joins > 50, "{joins}");
}

/// The numbers that pages carry: from 1 up for each leg, and for the plan.
fn numbered(pages: &[Page]) -> Vec<String> {
    let (mut labels, mut last) = (Vec::new(), [0, 0]);
    for page in pages {
        let number = |text: &marks::Text| {
            let (page, of) = text.words.strip_prefix("page ")?.split_once(" of ")?;
            Some([page.parse::<usize>().ok()?, of.parse().ok()?])
        };
        let now = page.texts.iter().find_map(number).expect("a page has its number");
        assert!(now == [last[0] + 1, last[1]] || (last[0] == last[1] && now[0] == 1), "{now:?} after {last:?}");
        labels.push(format!("page {} of {}", now[0], now[1]));
        last = now;
    }
    assert_eq!(last[0], last[1]);
    labels
}

/// The same by mupdf's tools, and the words by poppler's.
#[test]
fn readers_from_outside_agree() {
    let folder = tempfile::tempdir().expect("a folder");
    for file in demos::all() {
        let project = demos::project(&file);
        let bytes = of(&file, &[], folder.path());
        let pdf = folder.path().join("paper.pdf");
        let pdf = pdf.to_str().expect("a path in UTF-8");
        if let Some(pages) = mutool::read(pdf) {
            let worst = is_true(&pages, &project);
            assert!(worst < TRUE_MM, "{}: {worst} mm by mutool", file.display());
            eprintln!("{}: {worst:.5} mm by mutool", file.display());
            assert_eq!(pages.len(), marks::read(&bytes).len());
        }
        if let Some(words) = tools::says("pdftotext", &["-layout", pdf, "-"]) {
            let count = marks::read(&bytes).len();
            let pages: Vec<&str> = words.split('\u{c}').filter(|page| !page.trim().is_empty()).collect();
            assert_eq!(pages.len(), count);
            for ((number, page), label) in pages.iter().enumerate().zip(numbered(&marks::read(&bytes))) {
                for wanted in [label.as_str(), project.name.as_str(), "100 %", "100 mm", "4 in"] {
                    assert!(page.contains(wanted), "{}: page {} lacks {wanted}", file.display(), number + 1);
                }
            }
            for wanted in ["TOP", "FOOT", "FACE 1", "FACE 2"] {
                assert!(words.contains(wanted), "{} lacks {wanted}", file.display());
            }
            let read = marks::read(&bytes);
            let legs = legs::of(&read, &project);
            for name in legs.iter().flat_map(|leg| (1..=4).map(|piece| leg.piece(piece))) {
                assert!(words.contains(&name), "{} lacks {name}", file.display());
            }
        }
        // ISO 32000-1, table 150: a viewer preference that asks for no scaling when printed.
        if let Some(preferences) = tools::says("mutool", &["show", pdf, "trailer/Root/ViewerPreferences/PrintScaling"])
        {
            assert_eq!(preferences.trim(), "/None", "{}", file.display());
        }
        tools::says("qpdf", &["--check", pdf]);
    }
}

/// ISO 216 (A4 210 x 297 mm, A3 297 x 420 mm) and ASME Y14.1 (A 8 1/2 x 11 in, B 11 x 17 in); both from memory.
#[test]
fn pages_have_the_standards_sizes_and_a_check_rule_along_both_edges() {
    let folder = tempfile::tempdir().expect("a folder");
    let inches = |across: f64, up: f64| [across * 25.4, up * 25.4];
    let file = &demos::all()[0];
    for (size, [short, long]) in
        [("a4", [210.0, 297.0]), ("a3", [297.0, 420.0]), ("letter", inches(8.5, 11.0)), ("tabloid", inches(11.0, 17.0))]
    {
        for (more, sizes) in [(&[][..], [short, long]), (&["--on-its-side"], [long, short])] {
            for page in marks::read(&of(file, &[&["--size", size], more].concat(), folder.path())) {
                for (read, wanted) in page.size_mm.iter().zip(sizes) {
                    assert!((read - wanted).abs() < 0.001, "{size}: {:?}", page.size_mm);
                }
                has_check_rules(&page, [1.0, 1.0]);
            }
        }
    }
    for page in marks::read(&of(file, &["--size", "roll:610"], folder.path())) {
        assert!(page.size_mm.iter().any(|mm| (mm - 610.0).abs() < 0.001), "{:?}", page.size_mm);
        has_check_rules(&page, [1.0, 1.0]);
    }
}

/// Lines of exactly 100 mm and 4 in along both edges, once the printer has scaled the page by `scale`.
fn has_check_rules(page: &Page, scale: [f64; 2]) {
    for direction in 0..2 {
        for rule in [100.0, 101.6] {
            let lengths = page.straight().filter_map(|(_, [p, q])| {
                let level = (p[1 - direction] - q[1 - direction]).abs() < 1e-3;
                level.then(|| (p[direction] - q[direction]).abs() * scale[direction])
            });
            let nearest = lengths.map(|length| (length - rule).abs()).fold(f64::INFINITY, f64::min);
            assert!(nearest < 0.01, "the rule of {rule} mm is off by {nearest} mm, direction {direction}");
        }
    }
}

/// A printer that stretches pages by 1.2 % along their long edge and shrinks them by 0.8 % across: with what was measured
/// on the check rule typed into the file, what comes out of it is true.
#[test]
fn paper_for_a_printer_that_scales_comes_out_true() {
    let folder = tempfile::tempdir().expect("a folder");
    for file in demos::all() {
        let mut project = demos::project(&file);
        let rule = project.paper.measured.rule.mm();
        let printer = [0.992, 1.012];
        project.paper.measured.across = (rule * printer[0]).into();
        project.paper.measured.along = (rule * printer[1]).into();
        let copy = folder.path().join("copy.ron");
        files::save(&project, &copy).unwrap_or_else(|e| panic!("{e}"));
        for (more, scale) in [(&[][..], printer), (&["--on-its-side"], [printer[1], printer[0]])] {
            let mut pages = marks::read(&of(&copy, more, folder.path()));
            for page in &mut pages {
                let points = page.strokes.iter_mut().flat_map(|stroke| stroke.runs.iter_mut().flatten());
                for p in points.chain(page.texts.iter_mut().map(|text| &mut text.at)) {
                    *p = [p[0] * scale[0], p[1] * scale[1]];
                }
                // The rule itself is printed too: it is to be true now.
                has_check_rules(page, [1.0, 1.0]);
            }
            let worst = is_true(&pages, &project);
            assert!(worst < TRUE_MM, "{} {more:?}: {worst} mm", file.display());
        }
    }
}

/// The same project and options give the same bytes.
#[test]
fn paper_is_the_same_byte_for_byte() {
    let folder = tempfile::tempdir().expect("a folder");
    for file in demos::all() {
        assert!(of(&file, &[], folder.path()) == of(&file, &[], folder.path()), "{}", file.display());
    }
}

/// The reading above can tell: a page turned over is found out.
#[test]
#[should_panic(expected = "it is a mirror")]
fn a_mirrored_page_is_found_out() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut pages = marks::read(&of(&demos::all()[0], &["--size", "a3"], folder.path()));
    for page in &mut pages {
        let points = page.strokes.iter_mut().flat_map(|stroke| stroke.runs.iter_mut().flatten());
        for p in points.chain(page.texts.iter_mut().map(|text| &mut text.at)) {
            p[0] = page.size_mm[0] - p[0];
        }
    }
    strip::join(&pages);
}

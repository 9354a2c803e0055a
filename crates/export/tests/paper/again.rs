//! Check rules that are measured again, on pages that are already corrected.

use crate::legs::{lamp_column, measured, on, pdf_of};
use crate::reader::{ReadPage, read};
use cornerwise_export::page::measured_again;
use cornerwise_geometry::MM_PER_INCH;
use cornerwise_project::{CheckRule, PageSize, PaperChoice, Rule};
use kurbo::Vec2;

#[test]
fn measuring_a_corrected_page_again_does_not_throw_the_correction_away() {
    // A printer that draws 100 mm as 97 mm across and 101.5 mm up, and what its maker typed first: nothing, the truth, or
    // a measurement that was wrong.
    let printer = [97.0, 101.5];
    for first in [[100.0, 100.0], [97.0, 101.5], [93.0, 104.0]] {
        let print = |[short, long]: [f64; 2]| {
            let choice = PaperChoice { measured: measured(short, long), ..on(PageSize::A4) };
            read(&pdf_of(&lamp_column(), &choice)).remove(0).printed(printer)
        };
        let again = |page: &ReadPage, in_force: [f64; 2]| {
            let now = check_rules(page);
            [0, 1].map(|way| measured_again(in_force[way], now[way], 100.0))
        };
        let found = again(&print(first), first);
        for way in [0, 1] {
            assert!((found[way] - printer[way]).abs() < 0.01, "{found:?} after {first:?}");
            assert!((check_rules(&print(found))[way] - 100.0).abs() < 0.01, "true after one step");
        }
        // A rule that is true stays so.
        let still = again(&print(found), found);
        assert!((0..2).all(|way| (still[way] - found[way]).abs() < 0.01), "{still:?}");
    }
}

/// The lengths of the 100 mm rules on a cover, across and up the page.
fn check_rules(page: &ReadPage) -> [f64; 2] {
    let long: Vec<_> = page.straight(0.2).into_iter().map(|[a, b]| b - a).filter(|d| d.hypot() > 80.0).collect();
    let shortest = |along: fn(&Vec2) -> f64| long.iter().map(along).filter(|mm| *mm > 80.0).fold(f64::MAX, f64::min);
    [shortest(|d| d.x.abs()), shortest(|d| d.y.abs())]
}

#[test]
fn a_corrected_page_says_what_it_is_corrected_by_and_what_to_type() {
    let choice = PaperChoice { measured: measured(97.0, 100.0), ..on(PageSize::A4) };
    for page in &read(&pdf_of(&lamp_column(), &choice)) {
        let says = |words: &str| page.texts.iter().any(|text| text.text.contains(words));
        assert!(says("along the short edge · corrected: your printer drew 100 mm as 97 mm"));
        assert!(says("not true? type 0.97 × what it measures"));
        assert!(says("do not type 100"));
        assert!(!says("…"), "all of it fits");
    }
    let inches =
        CheckRule { rule: Rule::FourInches, across: (3.9 * MM_PER_INCH).into(), along: (4.0 * MM_PER_INCH).into() };
    let choice = PaperChoice { measured: inches, landscape: true, ..on(PageSize::Letter) };
    let page = &read(&pdf_of(&lamp_column(), &choice))[0];
    let says = |words: &str| page.texts.iter().any(|text| text.text.contains(words));
    assert!(says("along the short edge · corrected: your printer drew 4 in as 3.9 in"));
    assert!(says("not true? type 0.975 × what it measures") && says("do not type 4"));
    let plain = &read(&pdf_of(&lamp_column(), &on(PageSize::A4)))[0];
    assert!(!plain.texts.iter().any(|text| text.text.contains("corrected") || text.text.contains("not true?")));
}

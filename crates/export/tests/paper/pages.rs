//! Page sizes, check rules, fonts, the entry against scaling, repeats.

use crate::legs::{lamp_column, measured, on, pdf_of, roll, sheets};
use crate::reader::{ReadPage, read};
use cornerwise_export::pdf::{PdfError, pdf};
use cornerwise_project::{PageSize, PaperChoice};
use hayro_interpret::hayro_syntax::Pdf;
use hayro_interpret::hayro_syntax::object::{Dict, Name, Object};

#[test]
fn pages_are_the_sizes_of_the_standards() {
    // ISO 216: A4 210 x 297, A3 297 x 420 mm. ASME Y14.1: A 8 1/2 x 11, B 11 x 17 in. All from memory.
    let sizes = [
        (PageSize::A4, [210.0, 297.0]),
        (PageSize::A3, [297.0, 420.0]),
        (PageSize::Letter, [215.9, 279.4]),
        (PageSize::Tabloid, [279.4, 431.8]),
    ];
    for (page, [short, long]) in sizes {
        for landscape in [false, true] {
            let choice = PaperChoice { landscape, ..on(page.clone()) };
            let [width, height] = if landscape { [long, short] } else { [short, long] };
            for page in read(&pdf_of(&lamp_column(), &choice)) {
                // A tenth of the 1 mm that ISO 216 allows in cutting; the PDF holds points as single precision.
                assert!((page.width_mm - width).abs() < 0.001 && (page.height_mm - height).abs() < 0.001);
            }
        }
    }
}

#[test]
fn a_roll_is_as_wide_as_it_is_and_as_long_as_it_needs_to_be() {
    let pages = read(&pdf_of(&lamp_column(), &on(roll(610.0))));
    assert_eq!(pages.len(), 2);
    assert!(pages.iter().all(|page| (page.width_mm - 610.0).abs() < 0.001));
    assert!(pages[1].height_mm > 740.0 && pages[1].height_mm < 800.0);
}

/// The lengths of the check rules of a page, across and up: each 100 mm and 4 in.
fn rules(page: &ReadPage) -> [Vec<f64>; 2] {
    let mut found = [Vec::new(), Vec::new()];
    for [from, to] in page.straight(0.2) {
        let way = usize::from((to.x - from.x).abs() < 1e-3);
        let length = from.distance(to);
        if (length - 100.0).abs() < 0.5 || (length - 101.6).abs() < 0.5 {
            found[way].push(length);
        }
    }
    found
}

#[test]
fn every_page_has_both_check_rules_in_both_directions() {
    for choice in [on(PageSize::A4), on(PageSize::Letter), on(roll(420.0))] {
        for page in read(&pdf_of(&lamp_column(), &choice)) {
            for rules in rules(&page) {
                for rule in [100.0, 101.6] {
                    assert!(rules.iter().any(|length| (length - rule).abs() < 0.001), "{rule} in {rules:?}");
                }
            }
            assert!(page.says("Print at 100 %") && page.says("100 mm") && page.says("4 in"));
        }
    }
}

#[test]
fn corrected_check_rules_come_out_true_on_the_printer_that_was_measured() {
    let choice = PaperChoice { measured: measured(96.0, 101.5), ..on(PageSize::A4) };
    let turned = PaperChoice { landscape: true, ..choice.clone() };
    for (choice, printer) in [(choice, [96.0, 101.5]), (turned, [101.5, 96.0])] {
        for page in read(&pdf_of(&lamp_column(), &choice)) {
            assert!(page.says("corrected for your printer"));
            assert!((page.width_mm.min(page.height_mm) - 210.0).abs() < 0.001, "the paper itself is not scaled");
            for rules in rules(&page.printed(printer)) {
                for rule in [100.0, 101.6] {
                    assert!(rules.iter().any(|length| (length - rule).abs() < 0.001), "{rule} in {rules:?}");
                }
            }
        }
    }
}

#[test]
fn the_file_asks_for_no_scaling_and_carries_its_fonts_and_title() {
    let bytes = pdf_of(&lamp_column(), &on(PageSize::A4));
    let pdf = Pdf::new(bytes).unwrap();
    // ISO 32000-1, table 150: PrintScaling in the catalog's viewer preferences.
    let catalog: Dict<'_> = pdf.xref().get(pdf.xref().root_id()).unwrap();
    let preferences: Dict<'_> = catalog.get("ViewerPreferences").unwrap();
    assert_eq!(preferences.get::<Name<'_>>("PrintScaling").unwrap().as_str(), "None");
    let title = pdf.metadata().title.clone().expect("a title");
    assert_eq!(String::from_utf8_lossy(&title), "Lamp column");

    let mut fonts = 0;
    for object in pdf.objects() {
        let Object::Dict(dict) = object else { continue };
        if dict.get::<Name<'_>>("Type").is_some_and(|name| name.as_str() == "FontDescriptor") {
            fonts += 1;
            assert!(dict.contains_key("FontFile2") || dict.contains_key("FontFile3"), "a font is not embedded");
            let name = dict.get::<Name<'_>>("FontName").unwrap().as_str().to_owned();
            assert!(name.contains("DejaVuSans") && name.as_bytes()[6] == b'+', "{name} is not a subset");
        }
    }
    assert_eq!(fonts, 4);
}

#[test]
fn the_same_leg_and_choice_give_the_same_bytes() {
    for choice in [on(PageSize::A4), PaperChoice { measured: measured(97.0, 99.0), ..on(PageSize::Tabloid) }] {
        assert_eq!(pdf_of(&lamp_column(), &choice), pdf_of(&lamp_column(), &choice));
    }
}

#[test]
fn letters_are_set_at_the_widths_they_are_measured_with() {
    let sheets = sheets(&lamp_column(), &on(PageSize::A4));
    let pages = read(&pdf(&sheets, "").unwrap());
    let mut compared = 0;
    for (sheet, page) in sheets.iter().zip(&pages) {
        for mark in &sheet.marks {
            let cornerwise_export::sheets::Mark::Text(text) = mark else { continue };
            let Some((_, all_but_last)) = text.text.chars().next_back().zip(text.text.get(..text.text.len() - 1))
            else {
                continue;
            };
            let read =
                page.texts.iter().find(|read| read.text == text.text && read.start.distance(text.start()) < 0.01);
            let read = read.unwrap_or_else(|| panic!("{:?} is not at its place", text.text));
            let to_last = text.typeface.width_mm(all_but_last, text.cap_mm);
            assert!((read.ends.distance(read.start) - to_last).abs() < 0.02, "{:?}", text.text);
            compared += 1;
        }
    }
    assert!(compared > 100);
}

#[test]
fn nothing_to_write_and_pages_that_no_reader_shows_are_errors() {
    assert!(matches!(pdf(&[], ""), Err(PdfError::NoSheets)));
    let mut sheet = sheets(&lamp_column(), &on(PageSize::A4)).remove(0);
    for size in [f64::NAN, 0.0, -1.0, 1e9] {
        sheet.width_mm = size;
        assert!(matches!(pdf(std::slice::from_ref(&sheet), ""), Err(PdfError::PageSize { .. })));
    }
}

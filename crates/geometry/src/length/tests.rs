//! Lengths as they are typed, kept and shown.

use super::*;

mod arithmetic;
mod generated;

/// Expected values are exact rationals worked by hand: inches times 127/5.
#[test]
fn typed_lengths_are_read() {
    let accepted = [
        ("2 3/4\"", 69.85),
        ("2-3/4\"", 69.85),
        ("2\u{be} in", 69.85),
        ("2 3/4 in.", 69.85),
        ("69.85 mm", 69.85),
        ("69,85 mm", 69.85),
        ("70", 70.0),
        ("70.", 70.0),
        (".5", 0.5),
        ("3/4\"", 19.05),
        ("-1/8\"", -3.175),
        ("\u{2212}1/8\u{2033}", -3.175),
        ("7 cm", 70.0),
        ("1.2m", 1200.0),
        ("2' 3\"", 685.8),
        ("2' 3 1/2\"", 698.5),
        ("2 ft", 609.6),
        ("2.75\"", 69.85),
        ("  12  ", 12.0),
        ("1/64 IN", 0.396875),
        ("0,125\"", 3.175),
        ("1234,125", 1234.125),
    ];
    for (text, mm) in accepted {
        assert_eq!(Length::parse(text, Unit::Mm).map(|l| l.mm()), Ok(mm), "{text}");
    }
    assert_eq!(Length::parse("2 3/4", Unit::Inch).unwrap().mm(), 69.85);
    assert_eq!(Length::parse("2 3/4", Unit::Inch).unwrap().typed(), Some("2 3/4\""));
    assert_eq!(Length::parse("70", Unit::Inch).unwrap().mm(), 1778.0);
}

#[test]
fn what_is_not_a_length_is_refused() {
    for text in [
        "",
        " ",
        "abc",
        "2 3",
        "2 3/",
        "3/0",
        "1//2",
        "2 3/4 4/5",
        "--2",
        "2 3/4 mm mm",
        "1e5",
        "NaN",
        "inf",
        "12345678901234567",
        "2\" 3'",
        "\"",
        "-",
        "5 %",
    ] {
        assert!(Length::parse(text, Unit::Mm).is_err(), "{text:?} was read");
    }
}

#[test]
fn a_comma_that_may_stand_for_thousands_is_asked_about() {
    for text in ["1,200 mm", "69,850", "-1,200"] {
        let said = Length::parse(text, Unit::Mm).unwrap_err().to_string();
        assert!(said.contains("two ways"), "{text}: {said}");
    }
    let said = Length::parse("1,200 mm", Unit::Mm).unwrap_err().to_string();
    assert_eq!(said, "\"1,200\" can be read in two ways: type 1.200 or 1200");
}

#[test]
fn typed_text_comes_back_as_it_was() {
    for text in ["2 3/4\"", "2-3/4 in", "69,85 mm"] {
        let length = Length::parse(text, Unit::Mm).unwrap();
        assert_eq!(length.typed(), Some(text));
        assert_eq!(Length::parse(length.typed().unwrap(), Unit::Inch).unwrap(), length);
    }
}

#[test]
fn inches_are_shown_as_fractions_in_lowest_terms() {
    let sixteenths = Units::Inches(Finest::Sixteenth);
    assert_eq!(sixteenths.show(69.85), "2 3/4");
    assert_eq!(sixteenths.show(25.4), "1");
    assert_eq!(sixteenths.show(-3.175), "-1/8");
    assert_eq!(sixteenths.show(0.1), "0");
    assert_eq!(Units::Inches(Finest::SixtyFourth).show_with_unit(0.396875), "1/64\"");
    assert_eq!(Units::Millimetres.show(69.85), "69.85");
    assert_eq!(Units::Millimetres.show(70.0), "70");
    assert_eq!(Units::Millimetres.show(-0.001), "0");
}

#[test]
fn decimal_inches_are_shown_where_they_are_asked_for_and_nowhere_else() {
    let decimal = Units::Inches(Finest::Thousandth);
    for (mm, shown) in
        [(69.85, "2.75"), (25.4, "1"), (-3.175, "-0.125"), (0.396875, "0.016"), (0.001, "0"), (-0.001, "0")]
    {
        assert_eq!(decimal.show(mm), shown);
    }
    assert_eq!(decimal.show_with_unit(12.7), "0.5\"");
    assert_eq!(decimal.show_exactly(0.396875), "0.016\" \u{2212} 0.0004\"");
    assert_eq!(Finest::ALL.iter().filter(|finest| finest.is_decimal()).count(), 1);
    for finest in Finest::ALL.into_iter().filter(|finest| !finest.is_decimal()) {
        for mm in [0.1, 1.0, 12.7, 69.85, 1000.0 / 3.0] {
            assert!(!Units::Inches(finest).show_with_unit(mm).contains('.'));
        }
    }
}

#[test]
fn what_is_shown_reads_back_to_the_shown_fraction() {
    for finest in Finest::ALL {
        for parts in -200..200 {
            let mm = f64::from(parts) / f64::from(finest.denominator()) * MM_PER_INCH;
            let read = Length::parse(&Units::Inches(finest).show(mm), Unit::Inch).unwrap();
            assert!((read.mm() - mm).abs() < 1e-9, "{parts}/{}", finest.denominator());
        }
    }
}

#[test]
fn what_is_small_is_shown_as_a_decimal_and_what_there_is_at_most_is_never_rounded_up() {
    let inches = Units::Inches(Finest::Sixteenth);
    assert_eq!(inches.fine().show_with_unit(0.44), "0.017\"");
    assert_eq!(Units::Millimetres.fine().show_with_unit(0.444), "0.44 mm");
    assert_eq!([6.35, 5.56].map(|mm| inches.show_truly(mm)), ["1/4\"", "0.219\""]);
    assert_eq!(Units::Millimetres.show_truly(5.56), "5.56 mm");
    assert_eq!([5.56, 6.35].map(|mm| inches.show_at_most(mm)), ["0.218\"", "0.25\""]);
    assert_eq!([5.5599, 5.56].map(|mm| Units::Millimetres.show_at_most(mm)), ["5.55 mm", "5.56 mm"]);
}

//! Arithmetic in a length: what is read, what is refused, what is kept.

use super::super::*;

/// 2 3/4" wide, 45 mm deep, 700 mm long.
const SIZES: BlankSizes = BlankSizes { width_mm: 69.85, depth_mm: 45.0, length_mm: 700.0 };

fn on(text: &str, unit: Unit) -> Result<Length, LengthError> {
    Length::parse_on(text, unit, &SIZES)
}

fn said(text: &str, unit: Unit) -> String {
    on(text, unit).expect_err(text).to_string()
}

/// Exact rationals worked by hand, mm as numerator over denominator; 1 in = 127/5 mm, W = 1397/20 mm. Dividing whole
/// numbers below 2^53 rounds once (IEEE 754), so the quotient is the f64 nearest to the rational.
#[test]
fn arithmetic_is_read_exactly() {
    let accepted: [(&str, Unit, i64, i64); 38] = [
        ("W/2 - 1/8\"", Unit::Mm, 127, 4), // 1397/40 - 127/40
        ("L - 2*3 - 1/2", Unit::Mm, 1387, 2),
        ("W/2 - 3", Unit::Mm, 1277, 40),     // 1397/40 - 120/40
        ("W/2 - 3", Unit::Inch, -1651, 40),  // 1397/40 - 3 * 127/5
        ("L/3 + 1/2\"", Unit::Mm, 7381, 30), // 700/3 + 127/10
        ("2*(W-4)", Unit::Mm, 1317, 10),     // 2 * 1317/20
        ("2*(w - 4)", Unit::Inch, -635, 10), // 2 * (1397/20 - 508/5) = -635/10
        ("W", Unit::Mm, 1397, 20),
        ("-d", Unit::Mm, -45, 1),
        ("L", Unit::Inch, 700, 1),
        ("2/3*L", Unit::Mm, 1400, 3),
        ("L*2/3", Unit::Mm, 1400, 3),
        ("W/L*D", Unit::Mm, 12573, 2800), // 1397/20 * 45 / 700
        ("D*(W/L)", Unit::Mm, 12573, 2800),
        ("10+5", Unit::Mm, 15, 1),
        ("10 + 5", Unit::Inch, 381, 1), // 15 * 127/5
        ("2 - 3", Unit::Mm, -1, 1),
        ("1.5/2", Unit::Mm, 3, 4),
        ("3/1.5", Unit::Mm, 2, 1),
        ("1,5*2", Unit::Mm, 3, 1),
        ("2 3/4\" + 1 mm", Unit::Mm, 1417, 20), // 1397/20 + 1
        ("2 3/4 + 1 mm", Unit::Inch, 1417, 20),
        ("2\" - 3/4\"", Unit::Mm, 127, 4), // 5/4 * 127/5
        ("(2) - 3/4", Unit::Inch, 127, 4),
        ("2 mm - 3/4 mm", Unit::Mm, 5, 4),
        ("W/2 3/4", Unit::Mm, 127, 5), // 1397/20 / (11/4)
        ("W/(3/4)", Unit::Mm, 1397, 15),
        ("(W/3)/4", Unit::Mm, 1397, 240),
        ("W/2/D*D", Unit::Mm, 1397, 40),
        ("W*3/4", Unit::Mm, 4191, 80),
        ("3\"/4", Unit::Mm, 381, 20),
        ("L \u{2212} 2\u{d7}(W \u{f7} 2)", Unit::Mm, 12603, 20), // 700 - 1397/20
        ("L - 2' 3\"", Unit::Mm, 71, 5),                         // 700 - 3429/5
        ("2' - 3 mm", Unit::Mm, 3033, 5),                        // 3048/5 - 3
        ("W - 1\u{bd}\"", Unit::Mm, 127, 4),                     // (11/4 - 3/2) * 127/5
        ("((((W))))", Unit::Mm, 1397, 20),
        ("1/3*1/7*L", Unit::Mm, 100, 3),
        ("L/3*3 - L", Unit::Mm, 0, 1),
    ];
    for (text, unit, top, below) in accepted {
        assert_eq!(on(text, unit).map(|length| length.mm()), Ok(top as f64 / below as f64), "{text} in {unit:?}");
    }
}

/// What was one length before there was arithmetic is the same length still.
#[test]
fn a_mixed_number_stays_a_mixed_number() {
    for (text, mm) in
        [("2-3/4\"", 69.85), ("-2-3/4\"", -69.85), ("2'-3\"", 685.8), ("5/8\"", 15.875), ("2-3/4 ft", 838.2)]
    {
        for read in [Length::parse(text, Unit::Mm), on(text, Unit::Mm)] {
            assert_eq!(read.map(|length| length.mm()), Ok(mm), "{text}");
        }
    }
}

#[test]
fn what_can_be_read_in_two_ways_is_refused_with_both() {
    for (text, says) in [
        ("2 - 3/4\"", "\"2 - 3/4\" can be read in two ways: type 2 3/4 or (2) - 3/4"),
        ("2 -3/4\"", "\"2 -3/4\" can be read in two ways: type 2 3/4 or (2) - 3/4"),
        ("W - 2-3/4\"", "\"2-3/4\" can be read in two ways: type 2 3/4 or (2) - 3/4"),
        ("W-2 - 3/4", "\"2 - 3/4\" can be read in two ways: type 2 3/4 or (2) - 3/4"),
        ("W/2-1/8", "\"2-1/8\" can be read in two ways: type 2 1/8 or (2) - 1/8"),
        ("2' - 3\"", "\"2' - 3\"\" can be read in two ways: type 2' 3\" or (2') - 3\""),
        ("W + 2'-3\"", "\"2'-3\"\" can be read in two ways: type 2' 3\" or (2') - 3\""),
        ("W/3/4", "\"3/4\" can be read in two ways: type (W/3)/4 or W/(3/4)"),
        ("6/2/3", "\"6/2/3\" can be read in two ways: type (6/2)/3 or 6/(2/3)"),
        ("W + 1,200", "\"1,200\" can be read in two ways: type 1.200 or 1200"),
    ] {
        assert_eq!(said(text, Unit::Inch), says, "{text}");
        // Each of the readings offered is taken.
        let offered = says.split_once("type ").unwrap().1.split_once(" or ").unwrap();
        for way in [offered.0, offered.1] {
            assert!(on(way, Unit::Inch).is_ok(), "{way}: {:?}", on(way, Unit::Inch));
        }
    }
}

#[test]
fn what_is_wrong_is_said_in_words() {
    let deep = format!("{}W{}", "(".repeat(13), ")".repeat(13));
    let long = format!("W{}", "+1".repeat(60));
    for (text, says) in [
        ("W*D", "is an area"),
        ("W/D", "a length divided by a length is a plain number"),
        ("3/W", "a number divided by a length (\"W\") is not a length"),
        ("W/D + W", "cannot be added"),
        ("W/0", "\"0\" is 0, and nothing can be divided by 0"),
        ("3/0", "the number below the stroke is 0"),
        ("2 3/0\"", "the number below the stroke is 0"),
        ("L/(D - 45)", "\"(D - 45)\" is 0, and nothing can be divided by 0"),
        ("W/2 -", "missing after \"W/2 -\""),
        ("*2", "missing at the start"),
        ("3*-2", "missing after \"3*\""),
        ("--2", "missing after \"-\""),
        ("W//2", "missing after \"W/\""),
        ("2W", "put +, -, * or / between \"2\" and \"W\""),
        ("2(3)", "put +, -, * or / between \"2\" and \"(3)\""),
        ("W D", "put +, -, * or / between \"W\" and \"D\""),
        ("2 3", "put +, -, * or / between \"2\" and \"3\""),
        ("(W", "opened and never closed"),
        ("W)", "closed that was never opened"),
        ("Width/2", "\"Width/2\" is not part of a length"),
        ("W/2 banana", "\"banana\" is not part of a length"),
        ("5 %", "\"%\" is not part of a length"),
        ("W^2", "\"^2\" is not part of a length"),
        ("1e5", "\"e5\" is not part of a length"),
        ("NaN", "\"NaN\" is not part of a length"),
        ("W*inf", "\"inf\" is not part of a length"),
        ("12345678901234567+W", "too many digits"),
        (&deep, "too many brackets lie in one another"),
        (&long, "too long for one length"),
    ] {
        assert!(said(text, Unit::Mm).contains(says), "{text}: {}", said(text, Unit::Mm));
    }
    assert_eq!(Length::parse("W/2", Unit::Mm), Err(LengthError::NoBlank));
}

#[test]
fn what_was_typed_is_kept_with_the_unit_it_was_meant_in() {
    for (text, unit, kept) in [
        ("W/2 - 3", Unit::Inch, "W/2 - 3\""),
        ("W/2 - 3", Unit::Mm, "W/2 - 3 mm"),
        ("2*(W-4)", Unit::Inch, "2*(W-4\")"),
        ("L/3 + 1/2\"", Unit::Mm, "L/3 + 1/2\""),
        ("W - 2*3", Unit::Inch, "W - 2*3\""),
        ("W - (1+2)/4", Unit::Inch, "W - (1\"+2\")/4"),
        ("W \u{2212} 1\u{bd}", Unit::Inch, "W \u{2212} 1\u{bd}\""),
        ("10+5", Unit::Mm, "10 mm+5 mm"),
        ("W/L*10", Unit::Mm, "W/L*10 mm"),
    ] {
        let length = on(text, unit).unwrap();
        assert_eq!(length.typed(), Some(kept), "{text}");
        // It means the same whatever the project's units are later.
        for later in [Unit::Mm, Unit::Inch] {
            assert_eq!(on(kept, later).unwrap().mm(), length.mm(), "{kept}");
        }
        assert_eq!(length.text_on(&SIZES), Some(kept));
    }
}

#[test]
fn a_text_is_shown_only_while_it_comes_to_the_same() {
    let length = on("W/2 - 3", Unit::Mm).unwrap();
    let units = Units::Millimetres;
    assert_eq!(units.show_length_on(&length, &SIZES), "W/2 - 3 mm");
    let wider = BlankSizes { width_mm: 70.0, ..SIZES };
    assert_eq!(units.show_length_on(&length, &wider), "31.93 mm");
    assert_eq!(units.show_length_on(&length, &BlankSizes { depth_mm: 1.0, ..SIZES }), "W/2 - 3 mm");
    assert_eq!(units.show_length(&length), "31.93 mm", "without the blank nobody knows");
    let own = on("2 3/4\"", Unit::Mm).unwrap();
    assert_eq!((units.show_length(&own), own.text_on(&wider)), ("2 3/4\"".to_owned(), Some("2 3/4\"")));
}

#[test]
fn inches_are_shown_with_what_a_fraction_leaves_over() {
    let sixteenths = Units::Inches(Finest::Sixteenth);
    assert_eq!(sixteenths.show_exactly(69.85), "2 3/4\"");
    assert_eq!(sixteenths.show_exactly(69.85 + 0.004 * MM_PER_INCH), "2 3/4\" + 0.004\"");
    assert_eq!(sixteenths.show_exactly(69.85 - 0.0125 * MM_PER_INCH), "2 3/4\" \u{2212} 0.0125\"");
    assert_eq!(sixteenths.show_exactly(-69.85 - 0.004 * MM_PER_INCH), "-2 3/4\" \u{2212} 0.004\"");
    assert_eq!(Units::Millimetres.show_exactly(69.8512), "69.85 mm");
}

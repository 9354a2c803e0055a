//! Broken files: an error that says where and what, quickly, and never a panic.

use crate::files::{LoadFault, MAX_FILE_BYTES, read_bytes, read_text, write_text};
use cornerwise_project::{DesignId, Edit, Fault, Project};
use proptest::prelude::*;
use std::time::{Duration, Instant};

/// A project file with something put in the place of its first point, and of its blank's length.
fn with(point: &str, length: &str) -> String {
    format!(
        "(format: 1, designs: [(blank: (width: 50, depth: 50, length: {length}),\n\
         first: Points([{point},\n\
         (id: 2, from_top: 400, offset: 20, kind: Smooth(slope: 0, before_mm: 9, after_mm: 9)),\n\
         ]), second: Shape(Straight()))])"
    )
}

const POINT: &str = "(id: 1, from_top: 0, offset: 20, kind: Smooth(slope: 0, before_mm: 9, after_mm: 9))";

fn said(text: &str) -> String {
    match read_text(text) {
        Ok(_) => panic!("this should not be a project: {text}"),
        Err(fault) => fault.to_string(),
    }
}

#[test]
fn what_the_other_tests_break_is_sound() {
    assert_eq!(read_text(&with(POINT, "400")).map(|project| project.designs.len()), Ok(1));
}

#[test]
fn the_place_and_what_was_expected_are_named() {
    let cases = [
        ("", "line 1, column 1: "),
        ("hello", "line 1, column 1: "),
        (
            "(format: 1,\n  name: \"x\",\n  desings: [])",
            "line 3, column 3: desings is not known in Project, only format",
        ),
        ("(format: 1,\n  name: 5,\n", "line 2, column 9: expected a text in double quotes"),
        ("(format: 1,\n name: \"x\n", "line 2, column 8: expected the double quote that ends this text"),
        ("(format: 1,\n name: \"x\")", "line 2, column 11: designs is missing in Project"),
        ("(format: 1, name: \"x\", name: \"y\", designs: [])", "line 1, column 24: name is there twice in Project"),
        ("(format: 1,\n units: Metres, designs: [])", "line 2, column 9: Metres is not one of Millimetres, Inches"),
        ("(format: 1, designs: []) and more", "line 1, column 26: there is something left over"),
        ("(format: 1, designs: [", "line 1, column 22: expected ( to open a Design"),
        ("(format: \"one\", designs: [])", "line 1, column 10: expected a whole number"),
        ("(format: 1, designs: []", "line 1, column 23: expected a comma or a closing bracket"),
    ];
    for (text, expected) in cases {
        let said = said(text);
        assert!(said.starts_with(expected), "{text:?}\n says    {said:?}\n and not {expected:?}");
    }
}

#[test]
fn a_length_that_is_none_is_named_where_it_stands() {
    let said = said(&with(POINT, "\"2 3/4 furlongs\""));
    assert!(said.starts_with("line 1, column 6") && said.contains("furlongs"), "{said}");
    let said = self::said(&with(POINT, "[]"));
    assert!(said.contains("a length: a number of millimetres, or text"), "{said}");
}

#[test]
fn the_format_comes_first_whatever_else_is_in_the_file() {
    let newer =
        "(format: 2, shed: Garden(roses: [1, 2.5, 'x', \"y\", (a: {1: 2}), None, Some(3)]), designs: \"elsewhere\")";
    assert_eq!(read_text(newer), Err(LoadFault::Newer { format: 2 }));
    assert!(
        said(newer).starts_with("the file was made by a newer Cornerwise (its format is 2, this one reads format 1)")
    );
    assert_eq!(read_text("(shed: 1, format: 7)"), Err(LoadFault::Newer { format: 7 }), "not only at the front");
    assert_eq!(read_text("(format: 0)"), Err(LoadFault::NoSuchFormat { format: 0 }));
    for none in ["()", "(name: \"x\", designs: [])"] {
        assert_eq!(read_text(none), Err(LoadFault::NoFormat));
        assert!(said(none).starts_with("the file does not say which format it is"), "{}", said(none));
    }
    assert!(said("(format: 99999999999999999999, designs: [])").starts_with("line 1, column 10: "));
}

#[test]
fn numbers_that_are_not_sound_are_refused() {
    for bad in ["NaN", "inf", "-inf", "1e999", "-1e999"] {
        assert!(said(&with(POINT, bad)).contains("finite"), "{}", said(&with(POINT, bad)));
        let point = POINT.replace("slope: 0", &format!("slope: {bad}"));
        let said = said(&with(&point, "400"));
        assert_eq!(said, "design 1, first cut, point 1: a handle is not a sound number");
        let wood = with(POINT, "400").replace(
            "Straight()))",
            &format!("Straight()), wood: Layers(layers: [(species: Oak, thickness: 3)], lean_deg: {bad}))"),
        );
        assert!(self::said(&wood).starts_with("design 1, wood: "), "{}", self::said(&wood));
        let shape = with(POINT, "400").replace("Straight()", &format!("Cyma(swing: 9, turn: {bad})"));
        assert!(self::said(&shape).starts_with("design 1, second cut: Turn of the cyma is "), "{}", self::said(&shape));
    }
    assert!(said(&with(POINT, "900e6")).starts_with("design 1, blank: the blank's length is 900000000 mm"), "900 km");
    assert!(said(&with(POINT, "\"900 km\"")).contains("\"km\""));
    assert!(said(&with(&POINT.replace("id: 1", "id: -1"), "400")).starts_with("line 2, column "));
    let faraway = with(&POINT.replace("offset: 20", "offset: 1e300"), "400");
    assert_eq!(said(&faraway), "design 1, first cut, point 1: the offset is not a sound number");
}

fn quick<T>(what: &str, run: impl FnOnce() -> T) -> T {
    let start = Instant::now();
    let result = run();
    assert!(start.elapsed() < Duration::from_secs(3), "{what} took {:?}", start.elapsed());
    result
}

#[test]
fn a_file_that_is_far_too_big_is_not_even_parsed() {
    let big = " ".repeat(MAX_FILE_BYTES + 1);
    assert_eq!(quick("size", || read_text(&big)), Err(LoadFault::TooBig));
    assert_eq!(quick("size", || read_bytes(big.as_bytes())), Err(LoadFault::TooBig));
    assert_eq!(LoadFault::TooBig.to_string(), "the file has more than 20 million bytes, and no project needs as many");
}

#[test]
fn a_million_points_are_an_error_and_not_a_wait() {
    let point = "(id:1,from_top:0,offset:20,kind:Smooth(slope:0,before_mm:9,after_mm:9)),";
    let million = with(&point.repeat(1_000_000), "400");
    assert_eq!(quick("a million points", || read_text(&million)), Err(LoadFault::TooBig));
    // As many as fit into the size, and as few as the quick pass lets through.
    let most = with(point.repeat((MAX_FILE_BYTES - 1_000) / point.len()).trim_end_matches(','), "400");
    let said = quick("as many points as fit", || said(&most));
    let expected = "more brackets than a project needs (50000 points and 200 designs at most)";
    assert!(said.starts_with("line 2, column 1") && said.ends_with(expected), "{said}");
    let more = with(point.repeat(50_001).trim_end_matches(','), "400");
    let fault = quick("one point more than a project may have", || read_text(&more)).expect_err("too many");
    assert!(
        matches!(&fault, LoadFault::Project(error) if matches!(error.fault, Fault::TooManyPointsInAll(_))),
        "{fault}"
    );
}

#[test]
fn deep_nesting_is_an_error_and_not_a_crash() {
    for (open, close) in [("(", ")"), ("[", "]"), ("{1:", "}"), ("Some(", ")"), ("/*", "*/"), ("(a:", ")")] {
        let deep = format!("{}{}", open.repeat(200_000), close.repeat(200_000));
        for text in [
            deep.clone(),
            format!("(format: 1, name: {deep}, designs: [])"),
            format!("(format: 1, unknown: {deep}, designs: [])"),
            format!("(format: 2, unknown: {deep})"),
            with(&deep, "400"),
            with(POINT, &deep),
        ] {
            let result = quick(open, || read_text(&text));
            assert!(result.is_err() || open == "/*", "{open}: {result:?}");
        }
    }
    let deep = format!("(format: 1, name: \"x\",\n designs: {})", "[".repeat(200));
    assert_eq!(said(&deep), "line 2, column 42: brackets lie too deep in one another for a project");
    let not_nested =
        format!("(format: 1, name: \"{0}\", // {0}\n /* {0} /* \" */ {0} */ designs: [])", "(".repeat(150));
    assert!(said(&not_nested).contains("it has no designs"), "in texts and comments: {}", said(&not_nested));
}

#[test]
fn megabytes_of_anything_are_not_a_wait() {
    for word in ["(", "Some(", "[", "1", "a", "\"\\n", "'", ",", "/*", "//\n", "r#", "\u{fe0f}", "x:", " ", "-", "#!["]
    {
        let many = word.repeat(2_000_000 / word.len());
        for text in [format!("(format: 1, name: {many}"), format!("(format: 1, name: \"{many}")] {
            let result = quick(word, || read_text(&text));
            assert!(result.is_err(), "{word}");
        }
    }
}

#[test]
fn marks_and_other_encodings_are_named() {
    let file = with(POINT, "400");
    let utf8 = [b"\xef\xbb\xbf", file.as_bytes()].concat();
    assert_eq!(read_bytes(&utf8), Err(LoadFault::ByteOrderMark("UTF-8")));
    let utf16: Vec<u8> = [0xff, 0xfe].into_iter().chain(file.encode_utf16().flat_map(u16::to_le_bytes)).collect();
    assert_eq!(read_bytes(&utf16), Err(LoadFault::ByteOrderMark("UTF-16")));
    let latin1 = b"(format: 1,\n name: \"\xe4\xf6\", designs: [])";
    assert_eq!(read_bytes(latin1), Err(LoadFault::NotUtf8 { line: 2, column: 9 }));
    assert_eq!(read_bytes("äöü\nß\u{0}".as_bytes()[..8].as_ref()), Err(LoadFault::NotUtf8 { line: 2, column: 1 }));
    assert!(read_bytes(b"\0\0\0\0").is_err());
}

#[test]
fn a_file_cut_off_anywhere_is_an_error() {
    let text = write_text(&Project::new()).expect("written");
    let body = text.trim_end();
    for end in 0..body.len() {
        let Some(part) = body.get(..end) else { continue };
        assert!(read_text(part).is_err(), "cut off after {end} bytes:\n{part}");
    }
    assert!(read_text(body).is_ok());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn random_bytes_never_panic(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        prop_assert!(read_bytes(&bytes).is_err());
    }

    #[test]
    fn random_text_of_the_file_s_own_words_never_panics(
        words in prop::collection::vec(
            prop::sample::select(vec![
                "(", ")", "[", "]", ",", ":", "\"", "'", "format: 1", "designs", "Points", "Smooth", "1e9", "-", "NaN",
                "Some", "id", "#![enable(implicit_some)]", "//", "\n", "/*", "*/", "r#", "b'", "0x", "1..2", "\\u{", " ",
            ]),
            0..60,
        ),
    ) {
        let _ = read_text(&words.concat());
        let _ = read_text(&format!("(format: 1, designs: [{}", words.concat()));
    }

    #[test]
    fn a_file_with_a_few_bytes_changed_is_a_sound_project_or_an_error(
        changes in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>(), 0..3_u8), 1..6),
    ) {
        let project = Project::new()
            .apply(&Edit::ShapeToPoints { design: DesignId(1), cut: cornerwise_geometry::Cut::First })
            .expect("an edit");
        let mut bytes = write_text(&project).expect("written").into_bytes();
        for (place, byte, how) in changes {
            let at = place.index(bytes.len());
            // Bytes that mean something to the parser are hit more often than chance would.
            let byte = if byte < 128 { b"()[]{},:'\"0123456789.eE-+ \n/*#!"[usize::from(byte) % 31] } else { byte };
            match how {
                0 => bytes[at] = byte,
                1 => bytes.insert(at, byte),
                _ => drop(bytes.remove(at)),
            }
        }
        if let Ok(read) = read_bytes(&bytes) {
            prop_assert_eq!(read.check(), Ok(()));
        }
    }
}

#[test]
fn a_quote_in_single_quotes_or_a_raw_text_does_not_switch_the_bracket_count_off() {
    let deep = "[".repeat(5_000);
    let hidden = [
        "letter: '\"', ",
        "letter: '\\'', ",
        "letter: '\\u{22}', ",
        "letter: b'\"', ",
        "name: r#\"a \" b\"#, ",
        "name: r\"\\\", ",
        "name: br##\"\"#\"##, ",
        "name: b\"\\\"\", ",
        "r#name: \"x\", ",
        "stray: ' \"a\" , ",
    ];
    for before in hidden {
        let said = said(&format!("(format: 1, {before}x: {deep})"));
        assert!(said.contains("brackets lie too deep"), "{before} hides them: {said}");
    }
    // And the brackets in them do not count.
    for text in ["'('", "r#\"((\"(\"#", "r\"(\"", "b'['", "b\"((\"", "br\"((\""] {
        let many = format!("(format: 1, x: [{}])", format!("{text}, ").repeat(40));
        assert!(!said(&many).contains("too deep"), "{text}: {}", said(&many));
    }
}

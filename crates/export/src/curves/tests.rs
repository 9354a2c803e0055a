//! Curves against the examples of the SVG specification and closed forms.

use super::*;
use cornerwise_geometry::line_tools::{FitLineError, fitted};

fn laid() -> Laid {
    let (upright, end_for_end, mirrored, to_length_mm) = (false, false, false, None);
    Laid { upright, end_for_end, mirrored, to_length_mm, from_top: 0.0.into(), offset: None }
}

/// A drawing whose units are millimetres.
fn drawing(path: &str) -> String {
    format!(
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="1000mm" height="600mm" viewBox="0 0 1000 600"><path d="{path}"/></svg>"#
    )
}

fn one(path: &str) -> Drawn {
    read_svg(&drawing(path)).unwrap().remove(0)
}

/// SVG 2, 9.3.7, example quad01: `M200,300 Q400,50 600,300 T1000,300`. Its first arc is y = 300 - 500 t (1 - t) over x = 200 +
/// 400 t, and the second one its mirror image below.
#[test]
fn the_specifications_quadratic_example_is_two_parabolas() {
    let drawn = one("M200,300 Q400,50 600,300 T1000,300");
    assert!(drawn.corners.is_empty(), "{:?}", drawn.corners);
    for [x, y] in &drawn.places {
        let (t, way) = if *x <= 600.0 { ((x - 200.0) / 400.0, -1.0) } else { ((x - 600.0) / 400.0, 1.0) };
        assert!((y - (300.0 + way * 500.0 * t * (1.0 - t))).abs() < 1e-3, "{x} {y}");
    }
    let placed = drawn.placed(&laid(), 50.0);
    assert_eq!(placed.places[0][0], 0.0);
    assert!((placed.places.last().unwrap()[0] - 800.0).abs() < 1e-9);
    let fit = fitted(&placed.places, placed.corner, 0.05).unwrap();
    assert!(fit.error_mm <= 0.05 && fit.points.len() < 30);
    // Its middle lies in the middle of the face, its swing is the drawing's.
    let offsets = placed.places.iter().map(|place| place[1]);
    let (least, most) = offsets.fold((f64::MAX, f64::MIN), |(a, b), v| (a.min(v), b.max(v)));
    assert!((least + most - 50.0).abs() < 1e-9 && (most - least - 250.0).abs() < 0.01);
}

/// SVG 2, 9.3.6, example cubic01, `M100,200 C100,100 250,100 250,200 S400,300 400,200`: it begins square to its base.
#[test]
fn the_specifications_cubic_example_is_too_steep_at_its_ends_only() {
    let drawn = one("M100,200 C100,100 250,100 250,200 S400,300 400,200");
    // The second curve is the first one's point reflection about (250, 200).
    for [x, y] in &drawn.places {
        let mirrored = [500.0 - x, 400.0 - y];
        let near = drawn.places.iter().map(|p| (p[0] - mirrored[0]).hypot(p[1] - mirrored[1])).fold(f64::MAX, f64::min);
        assert!(near < 0.6, "{x} {y}");
    }
    let placed = drawn.placed(&laid(), 50.0);
    let fit = fitted(&placed.places, None, 1.0);
    // Either no line of cubics follows a slope without end, or the one that does is refused as too steep.
    if let Ok(fit) = fit {
        assert!(fit.points.iter().any(|point| point.kind.before().0.abs() > 4.0));
    }
}

/// SVG 2, 9.3.1, example triangle01, `M 100 100 L 300 100 L 200 300 z`: it runs back.
#[test]
fn the_specifications_triangle_runs_back_and_says_where() {
    let drawn = one("M 100 100 L 300 100 L 200 300 z");
    assert_eq!(drawn.places, [[100.0, 100.0], [300.0, 100.0], [200.0, 300.0], [100.0, 100.0]]);
    let placed = drawn.placed(&laid(), 50.0);
    let error = fitted(&placed.places, None, 0.1).unwrap_err();
    assert_eq!(error, FitLineError::RunsBack { place: 2, at_mm: 200.0 });
    assert_eq!(placed.drawn[2], [200.0, 300.0]);
}

/// SVG 2, 9.3.8, example arcs02: `M600,350 l 50,-25 a25,25 -30 0,1 50,-25 l 50,-25 a25,50 -30 0,1 50,-25 …`. The first
/// arc's chord is longer than its diameter, so it is scaled up to a half circle (9.5.1); its ends are exact.
#[test]
fn the_specifications_arcs_end_where_they_say() {
    let drawn = one("M600,350 l 50,-25 a25,25 -30 0,1 50,-25 l 50,-25 a25,50 -30 0,1 50,-25 l 50,-25");
    let has = |x: f64, y: f64| drawn.places.iter().any(|p| (p[0] - x).hypot(p[1] - y) < 1e-6);
    for (x, y) in [(600.0, 350.0), (650.0, 325.0), (700.0, 300.0), (750.0, 275.0), (800.0, 250.0), (850.0, 225.0)] {
        assert!(has(x, y), "{x} {y}");
    }
    let (radius, middle) = (50_f64.hypot(25.0) / 2.0, [675.0, 312.5]);
    let away = |p: &[f64; 2]| ((p[0] - middle[0]).hypot(p[1] - middle[1]) - radius).abs();
    let arc =
        drawn.places.iter().skip_while(|p| p[0] != 650.0).take_while(|p| (p[0] - 700.0).abs() > 1e-6 || p[1] > 300.1);
    let count = arc.map(|p| assert!(away(p) < 0.01, "{p:?}")).count();
    assert!(count > 10);
    assert_eq!(drawn.corners.len(), 4);
}

/// Upper and lower case, repeated commands and short forms are the same curve (SVG 2, 9.3.2).
#[test]
fn every_way_to_write_a_path_is_the_same_path() {
    let whole = one("M 10 10 H 60 V 40 L 90 60 C 100 70 110 70 120 60 S 140 50 150 60 Q 160 70 170 60 T 190 60");
    for other in [
        "m10,10h50v30l30,20c10,10 20,10 30,0s20-10 30,0q10,10 20,0t20,0",
        "M10 10 60 10 60 40 90 60 C100,70,110,70,120,60,130,50,140,50,150,60 Q160,70,170,60,180,50,190,60",
    ] {
        let other = one(other);
        assert_eq!(other.places.len(), whole.places.len());
        for (a, b) in whole.places.iter().zip(&other.places) {
            assert!((a[0] - b[0]).hypot(a[1] - b[1]) < 1e-9, "{a:?} {b:?}");
        }
    }
}

#[test]
fn a_drawings_sizes_and_transforms_make_millimetres() {
    let svg = |head: &str, inside: &str| {
        let text = format!("<svg xmlns=\"http://www.w3.org/2000/svg\" {head}>{inside}</svg>");
        read_svg(&text).map(|all| all[0].places.clone())
    };
    let line = "<path d=\"M10 0 L 106 0\"/>";
    let length = |head: &str, inside: &str| {
        let places = svg(head, inside).unwrap();
        let [a, b] = [places[0], places[places.len() - 1]];
        (b[0] - a[0]).hypot(b[1] - a[1])
    };
    // 96 px are an inch where nothing else is said.
    assert!((length("", line) - 25.4).abs() < 1e-9);
    assert!((length("viewBox=\"0 0 200 100\"", line) - 25.4).abs() < 1e-9);
    assert!((length("width=\"200mm\" height=\"100mm\" viewBox=\"0 0 200 100\"", line) - 96.0).abs() < 1e-9);
    assert!((length("width=\"20in\" viewBox=\"0 0 200 100\"", line) - 96.0 * 2.54).abs() < 1e-9);
    // Meet: the smaller of the two scales; none: each its own; slice: the larger.
    let both = "width=\"200mm\" height=\"200mm\" viewBox=\"0 0 400 200\"";
    assert!((length(both, line) - 48.0).abs() < 1e-9);
    assert!((length(&format!("{both} preserveAspectRatio=\"xMinYMin slice\""), line) - 96.0).abs() < 1e-9);
    let down = "<path d=\"M0 0 L0 96\"/>";
    assert!((length(&format!("{both} preserveAspectRatio=\"none\""), down) - 96.0).abs() < 1e-9);
    let mm = "width=\"400mm\" viewBox=\"0 0 400 200\"";
    let nested =
        "<g transform=\"translate(5,5)\"><g transform=\"scale(2) rotate(30)\"><path d=\"M0 0 L 10 0\"/></g></g>";
    assert!((length(mm, nested) - 20.0).abs() < 1e-9);
    assert_eq!(svg(mm, nested).unwrap()[0], [5.0, 5.0]);
    // What is only defined or hidden is not drawn.
    let hidden = "<defs><path d=\"M0 0L1 1\"/></defs><g display=\"none\"><path d=\"M0 0L1 1\"/></g>";
    assert!(matches!(svg(mm, hidden), Err(CurveError::NoPath)));
    assert!((length(mm, &format!("{hidden}{line}")) - 96.0).abs() < 1e-9);
}

#[test]
fn a_curve_is_laid_along_a_leg_as_asked() {
    let drawn = one("M 900 100 L 700 100 L 500 140");
    // Drawn from right to left it runs from its left end all the same.
    let placed = drawn.placed(&Laid { offset: Some(20.0.into()), ..laid() }, 50.0);
    assert_eq!(placed.places, [[0.0, 20.0], [200.0, -20.0], [400.0, -20.0]]);
    assert_eq!((placed.corner, placed.corners), (Some(1), 1));
    let ends = drawn.placed(&Laid { end_for_end: true, mirrored: true, from_top: 10.0.into(), ..laid() }, 50.0);
    assert_eq!(ends.places, [[10.0, 45.0], [210.0, 45.0], [410.0, 5.0]]);
    let long = drawn.placed(&Laid { to_length_mm: Some(800.0), ..laid() }, 50.0);
    assert_eq!(long.places, [[0.0, 65.0], [400.0, -15.0], [800.0, -15.0]]);
    // Upright: what is low on the drawing is toward the foot, what is right of it toward the first arris.
    let upright = one("M 100 50 L 120 250 L 100 450").placed(&Laid { upright: true, ..laid() }, 50.0);
    assert_eq!(upright.places, [[0.0, 35.0], [200.0, 15.0], [400.0, 35.0]]);
}

#[test]
fn tables_are_read_in_the_ways_that_people_write_them() {
    let read = |text: &str| read_csv(text, false).unwrap().places;
    let wanted = vec![[0.0, 25.0], [100.0, 27.5], [200.0, 25.0]];
    for text in [
        "0,25\n100,27.5\n200,25\n",
        "s,offset\n0,25\n100,27.5\n200,25",
        "from top;offset\r\n0;25\r\n100;27,5\r\n200;25\r\n",
        "# measured on the bench\n0\t25\n100\t27,5\n\n200\t25\n",
        "0 25\n100   27.5\n200 25",
        "\"x\",\"y\"\n\"0\",\"25\"\n\"100\",\"27.5\"\n\"200\",\"25\"",
        "0;25;\n100;27.5;\n200;25;",
    ] {
        assert_eq!(read(text), wanted, "{text:?}");
    }
    assert_eq!(read("s (in),offset (in)\n0,1\n2,1.25"), [[0.0, 25.4], [50.8, 31.75]]);
    assert_eq!(read_csv("0,1\n2,1.25", true).unwrap().places, [[0.0, 25.4], [50.8, 31.75]]);
    for (text, said) in [
        (
            "0,25\n1,5,27,5\n",
            "line 2: \"1,5,27,5\" has more than one comma: where numbers have decimal commas, part the columns by a semicolon",
        ),
        ("0,25\n100,abc", "line 2: \"abc\" is not a number"),
        ("0,25\n100", "line 2: two numbers are expected, and there are 1 in \"100\""),
        ("0,25\nnan,3", "line 2: \"nan\" is no length"),
        ("nan,3", "line 1: \"nan\" is no length"),
        ("0,25\n1e300,3", "line 2: \"1e300\" is no length"),
        ("1;2;3", "line 1: two numbers are expected, and there are 3 in \"1;2;3\""),
        ("", "there are no points in the table: it has a line for each, two numbers in it"),
        ("x,y\n", "there are no points in the table: it has a line for each, two numbers in it"),
    ] {
        assert_eq!(read_csv(text, false).unwrap_err().to_string(), said, "{text:?}");
    }
    let million: String = (0..1_000_000).map(|i| format!("{i},5\n")).collect();
    assert!(matches!(read_csv(&million, false), Err(CurveError::TooMany)));
}

#[test]
fn a_drawing_that_cannot_be_read_says_why_and_where() {
    let said = |text: &str| read_svg(text).unwrap_err().to_string();
    assert!(said("<svg><path d=").starts_with("the SVG cannot be read"));
    assert_eq!(said("<svg/>"), CurveError::NoPath.to_string());
    assert!(
        said("<svg>\n<path id=\"leg\" d=\"M 0 0 L x y\"/></svg>")
            .starts_with("line 2: the path \"leg\" cannot be read")
    );
    assert_eq!(
        said("<svg>\n\n<path transform=\"spin(3)\" d=\"M0 0L1 1\"/></svg>"),
        "line 3: the transform \"spin(3)\" is not understood"
    );
    assert_eq!(
        said("<svg viewBox=\"0 0 0 9\"><path d=\"M0 0L1 1\"/></svg>"),
        "line 1: viewBox \"0 0 0 9\" is not understood"
    );
    assert!(said("<svg><path d=\"M0 0 L1e400 3\"/></svg>").contains("path 1"));
    // Entities that grow without end are not followed.
    let bomb = "<!DOCTYPE s [<!ENTITY a \"aaaaaaaaaa\"><!ENTITY b \"&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;\"><!ENTITY c \"&b;&b;&b;&b;&b;&b;&b;&b;&b;&b;\"><!ENTITY d \"&c;&c;&c;&c;&c;&c;&c;&c;&c;&c;\"><!ENTITY e \"&d;&d;&d;&d;&d;&d;&d;&d;&d;&d;\">]><svg><path d=\"M0 0 &e;\"/></svg>";
    let _ = said(bomb);
}

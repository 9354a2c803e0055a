//! The end caps on paper.

use crate::legs::{lamp_column, leg, names, on, pdf_of};
use crate::reader::{ReadPage, read};
use cornerwise_export::paper::template;
use cornerwise_geometry::{Blank, ShapeKind, Units};
use cornerwise_project::PageSize;
use kurbo::{Point, Shape};

/// The frames drawn with the pen of glued edges: the ends of the blank, in the order drawn.
fn ends(page: &ReadPage) -> Vec<kurbo::Rect> {
    let frames =
        page.lines.iter().filter(|line| (line.width_mm - 0.25).abs() < 0.02 && line.path.segments().count() == 4);
    frames.map(|line| line.path.bounding_box()).collect()
}

/// The middle of a word inside a rectangle.
fn word(page: &ReadPage, words: &str, inside: kurbo::Rect) -> Point {
    let found = page.texts.iter().find(|text| text.text == words && inside.contains(text.start));
    found.unwrap_or_else(|| panic!("{words} is missing")).start
}

/// Twice the area with its sign: positive runs clockwise on paper, where y is down.
fn turn(corners: [Point; 4]) -> f64 {
    (0..4).map(|i| corners[i].to_vec2().cross(corners[(i + 1) % 4].to_vec2())).sum()
}

#[test]
fn corners_run_clockwise_seen_from_the_top_and_the_other_way_seen_from_the_foot() {
    let page = &read(&pdf_of(&lamp_column(), &on(PageSize::A4)))[0];
    let ends = ends(page);
    let [top, foot] = ends[..] else { panic!("two end caps") };
    for (end, clockwise) in [(top, true), (foot, false)] {
        assert!((end.width() - 50.0).abs() < 0.001 && (end.height() - 44.0).abs() < 0.001, "true size");
        let corners = ["B1", "B2", "B3", "B4"].map(|name| word(page, name, end));
        assert_eq!(turn(corners) > 0.0, clockwise);
        // Face 1, between corners 1 and 2, is up in both.
        assert!(corners[0].y < end.center().y && corners[1].y < end.center().y);
    }
    assert!(page.says("seen from the top") && page.says("seen from the foot") && page.says("roll away from you"));
    // The letters themselves are never mirrored: they stand up on the left of the way they are read.
    assert!(page.texts.iter().all(|text| text.along.cross(text.up) < 0.0));
}

#[test]
fn each_saw_line_starts_on_the_cap_where_it_does_on_the_strip() {
    let leg = lamp_column();
    let page = &read(&pdf_of(&leg, &on(PageSize::A4)))[0];
    let ends = ends(page);
    let stations = [-leg.spare_top_mm, leg.length_mm + leg.spare_foot_mm];
    for (i, (end, s)) in ends.iter().zip(stations).enumerate() {
        let lines: Vec<_> =
            page.straight(0.35).into_iter().filter(|[a, _]| end.inflate(0.1, 0.1).contains(*a)).collect();
        let upright = lines.iter().find(|[a, b]| (a.x - b.x).abs() < 1e-4).expect("the first cut");
        let level = lines.iter().find(|[a, b]| (a.y - b.y).abs() < 1e-4).expect("the second cut");
        let x = if i == 0 { upright[0].x - end.x0 } else { end.x1 - upright[0].x };
        assert!((x - leg.a(s)).abs() < 0.005, "first cut at {x}, not {}", leg.a(s));
        assert!((level[0].y - end.y0 - leg.b(s)).abs() < 0.005);
    }
}

#[test]
fn the_triangle_has_a_part_on_every_piece() {
    for kinds in [[ShapeKind::Cyma, ShapeKind::Waves], [ShapeKind::Arch, ShapeKind::PostAndKnee]] {
        let leg = leg(&Blank::square(50.0, 600.0), kinds);
        let page = &read(&pdf_of(&leg, &on(PageSize::A3)))[0];
        let triangles: Vec<_> = page.lines.iter().filter(|line| (line.width_mm - 0.6).abs() < 0.02).collect();
        assert_eq!(triangles.len(), 2);
        let stations = [-leg.spare_top_mm, leg.length_mm + leg.spare_foot_mm];
        for ((triangle, end), s) in triangles.iter().zip(ends(page)).zip(stations) {
            let x = if s < 0.0 { end.x0 + leg.a(s) } else { end.x1 - leg.a(s) };
            let y = end.y0 + leg.b(s);
            let mut quarters = [false; 4];
            use kurbo::ParamCurve;
            for segment in triangle.path.segments() {
                for i in 0..=40 {
                    let p = segment.eval(f64::from(i) / 40.0);
                    quarters[usize::from(p.x > x + 1.0) + 2 * usize::from(p.y > y + 1.0)] |=
                        (p.x - x).abs() > 1.0 && (p.y - y).abs() > 1.0;
                }
            }
            assert_eq!(quarters, [true; 4]);
        }
    }
}

#[test]
fn caps_too_large_for_the_cover_have_pages_of_their_own() {
    // Beside the words; on one page of their own; on one page each; two by two pages each (332 by 345 mm on 178 by 258).
    for (across, pages) in [(50.0, 0), (72.0, 1), (120.0, 2), (300.0, 8)] {
        let leg = leg(&Blank::square(across, 600.0), [ShapeKind::Cyma; 2]);
        let sheets = template(&leg, &names(), &on(PageSize::A4), Units::Millimetres).unwrap();
        let own = sheets.iter().filter(|sheet| sheet.label.contains(": end cap"));
        assert_eq!(own.count(), pages, "{across} mm");
    }
}

#[test]
fn a_cap_cut_over_several_pages_is_true_when_they_are_joined() {
    let leg = leg(&Blank::square(300.0, 600.0), [ShapeKind::Cyma; 2]);
    let pages = read(&pdf_of(&leg, &on(PageSize::A4)));
    let top: Vec<_> = pages.iter().filter(|page| page.says("end cap, top")).collect();
    // The first cut runs from face 1 to face 3: its parts, page by page, add up once the shared marks are laid together.
    let mut whole = kurbo::Rect::new(f64::MAX, f64::MAX, f64::MIN, f64::MIN);
    let mut known = std::collections::BTreeMap::new();
    for page in top {
        let marks = page.marks();
        let shift = marks.iter().find_map(|(n, p)| known.get(n).map(|at: &Point| *at - *p)).unwrap_or_default();
        known.extend(marks.iter().map(|(n, p)| (*n, *p + shift)));
        for line in page.lines.iter().filter(|line| (line.width_mm - 0.25).abs() < 0.02) {
            let part = line.path.bounding_box() + shift;
            whole = kurbo::Rect::new(
                whole.x0.min(part.x0),
                whole.y0.min(part.y0),
                whole.x1.max(part.x1),
                whole.y1.max(part.y1),
            );
        }
    }
    assert!((whole.width() - 300.0).abs() < 0.01 && (whole.height() - 300.0).abs() < 0.01, "{whole:?}");
}

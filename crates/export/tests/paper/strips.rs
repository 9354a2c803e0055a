//! The saw lines on paper, measured across all joined pages.

use crate::legs::{LAYOUTS, lamp_column, leg, measured, on, pdf_of, roll};
use crate::reader::{ReadLine, ReadPage, read};
use cornerwise_geometry::{Blank, Cut, Leg, ShapeKind};
use cornerwise_project::{PageSize, PaperChoice};
use kurbo::{ParamCurve, Point, Vec2};
use std::collections::BTreeMap;

/// What a maker can trust (design page): true within 0.1 mm over 700 mm, on every sheet, across page joins. The reader's
/// single-precision points leave far less.
const TRUE_MM: f64 = 0.1;
const MEASURED_MM: f64 = 0.005;

/// Where a page lies among the joined pages: its origin on the page, and the directions along and across the blank.
struct Frame {
    origin: Point,
    along: Vec2,
    across: Vec2,
}

impl Frame {
    fn measure(&self, p: Point) -> [f64; 2] {
        let d = p - self.origin;
        [d.dot(self.along), d.dot(self.across)]
    }

    fn on_page(&self, [s, y]: [f64; 2]) -> Point {
        self.origin + s * self.along + y * self.across
    }
}

/// The first page of the strip: its words are read along the blank from the top, and the letters stand up toward arris
/// 1. The finished top's line starts at arris 1.
fn first_frame(page: &ReadPage) -> Frame {
    let face = page.texts.iter().find(|text| text.text == "FACE 1").expect("face 1 is named");
    let (along, across) = (face.along, -face.up);
    // Reading direction, then downward: a quarter turn clockwise on paper, or the paper would be a mirror picture.
    assert!((along.cross(across) - 1.0).abs() < 1e-6);
    let ends = page.straight(0.5).into_iter().flatten();
    let provisional = Frame { origin: Point::ZERO, along, across };
    let key = |p: &Point| provisional.measure(*p).map(|v| (v * 1000.0).round() as i64);
    let origin = ends.min_by_key(key).expect("the finished top is drawn");
    Frame { origin, along, across }
}

/// A saw line's colour is its cut: more blue than red for the first, more red than blue and dashed for the second.
fn cut_of(line: &ReadLine) -> Option<Cut> {
    let [r, _, b] = line.rgb.map(i32::from);
    if (line.width_mm - 0.35).abs() > 0.03 || (r - b).abs() < 40 {
        return None;
    }
    assert_eq!(line.dashed, r > b, "the first cut is solid, the second dashed");
    Some(if b > r { Cut::First } else { Cut::Second })
}

/// Places the strip's pages by their joining marks alone and measures every saw line on them. Gives the worst error, and
/// checks that the lines run from end to end of the blank.
fn worst_error(leg: &Leg, pages: &[ReadPage], face_2_at: f64) -> f64 {
    let strip: Vec<&ReadPage> = pages.iter().filter(|page| page.says("FACE ")).collect();
    let mut frame = first_frame(strip[0]);
    let (mut worst, mut covered) = (0.0_f64, [Vec::new(), Vec::new()]);
    let mut known: BTreeMap<u32, [f64; 2]> = BTreeMap::new();
    for (i, page) in strip.iter().enumerate() {
        let marks = page.marks();
        if i > 0 {
            let shared: Vec<_> = marks.iter().filter_map(|(n, p)| known.get(n).map(|at| (*p, *at))).collect();
            assert!(shared.len() >= 2, "page {i} shares at least two marks with the pages before it");
            let at = shared[0].1;
            frame.origin = shared[0].0 - (frame.on_page(at) - frame.origin);
            for (on_page, at) in shared {
                assert!(frame.on_page(at).distance(on_page) < MEASURED_MM, "marks of one number fall on one another");
            }
        }
        known.extend(marks.iter().map(|(n, p)| (*n, frame.measure(*p))));
        for line in &page.lines {
            let Some(cut) = cut_of(line) else { continue };
            let from = if cut == Cut::First { 0.0 } else { face_2_at };
            for segment in line.path.segments() {
                for step in 0..=24 {
                    let [s, y] = frame.measure(segment.eval(f64::from(step) / 24.0));
                    worst = worst.max((y - from - leg.line(cut).offset(s)).abs());
                    covered[cut.index()].push(s);
                }
            }
        }
    }
    for stations in &mut covered {
        stations.sort_by(f64::total_cmp);
        let (first, last) = (stations[0], stations[stations.len() - 1]);
        assert!((first + leg.spare_top_mm).abs() < 0.01, "from the end of the blank: {first}");
        assert!((last - leg.length_mm - leg.spare_foot_mm).abs() < 0.01, "to the end of the blank: {last}");
        assert!(stations.windows(2).all(|pair| pair[1] - pair[0] < 40.0), "without a gap");
    }
    worst
}

/// On the first page of a strip per face: where face 2 begins, from where its finished top's line does.
fn second_face(page: &ReadPage) -> f64 {
    let frame = first_frame(page);
    let mut starts: Vec<f64> = page
        .straight(0.5)
        .iter()
        .map(|ends| ends.map(|p| frame.measure(p)))
        .filter(|[a, _]| a[0].abs() < 0.01)
        .map(|[a, b]| a[1].min(b[1]))
        .collect();
    starts.sort_by(f64::total_cmp);
    starts[1]
}

fn check(leg: &Leg, choice: &PaperChoice, printer: [f64; 2], pages_of_strip: usize) {
    let pages: Vec<ReadPage> = read(&pdf_of(leg, choice)).into_iter().map(|page| page.printed(printer)).collect();
    let strip: Vec<&ReadPage> = pages.iter().filter(|page| page.says("FACE ")).collect();
    assert_eq!(strip.len(), pages_of_strip, "{:?} {:?}", choice.page, choice.layout);
    let face_2_at = second_face(strip[0]);
    let worst = worst_error(leg, &pages, face_2_at);
    assert!(worst < TRUE_MM, "{worst} mm off");
    assert!(worst < MEASURED_MM, "true, but {worst} mm is more than rounding");
}

#[test]
fn saw_lines_are_true_over_all_joined_pages_in_every_layout_and_size() {
    let sizes = [(PageSize::A4, 3), (PageSize::A3, 2), (PageSize::Letter, 4), (PageSize::Tabloid, 2), (roll(610.0), 1)];
    for layout in LAYOUTS {
        for (page, pages) in &sizes {
            check(&lamp_column(), &PaperChoice { layout, ..on(page.clone()) }, [100.0, 100.0], *pages);
        }
    }
}

#[test]
fn lying_pages_are_as_true_as_upright_ones() {
    for layout in LAYOUTS {
        let choice = PaperChoice { layout, landscape: true, ..on(PageSize::A4) };
        check(&lamp_column(), &choice, [100.0, 100.0], 3);
    }
}

#[test]
fn corrected_paper_is_true_on_the_printer_that_was_measured() {
    for layout in LAYOUTS {
        let corrected = |page| PaperChoice { layout, measured: measured(96.2, 97.5), ..on(page) };
        check(&lamp_column(), &corrected(PageSize::A4), [96.2, 97.5], 4);
        check(&lamp_column(), &corrected(roll(420.0)), [96.2, 97.5], 1);
        let turned = PaperChoice { landscape: true, ..corrected(PageSize::Letter) };
        check(&lamp_column(), &turned, [97.5, 96.2], 4);
    }
}

#[test]
fn a_printer_that_was_not_corrected_for_is_caught_by_this_test() {
    let pages = read(&pdf_of(&lamp_column(), &on(PageSize::A4)));
    let printed: Vec<_> = pages.into_iter().map(|page| page.printed([99.8, 100.0])).collect();
    let strip: Vec<&ReadPage> = printed.iter().filter(|page| page.says("FACE ")).collect();
    let face_2_at = second_face(strip[0]);
    assert!(worst_error(&lamp_column(), &printed, face_2_at) > 0.04);
}

#[test]
fn a_sharp_point_and_a_blank_wider_than_the_page_are_true_too() {
    let sharp = leg(&Blank::square(60.0, 500.0), [ShapeKind::PostAndKnee, ShapeKind::Cyma]);
    check(&sharp, &on(PageSize::A4), [100.0, 100.0], 3);
    // Two rows of pages: face 1 on one, face 2 on the other.
    let wide = leg(&Blank::square(130.0, 500.0), [ShapeKind::Cyma, ShapeKind::Arch]);
    check(&wide, &on(PageSize::A4), [100.0, 100.0], 6);
}

#[test]
fn one_straight_line_runs_through_all_joined_pages() {
    let pages = read(&pdf_of(&lamp_column(), &on(PageSize::A4)));
    let strip: Vec<&ReadPage> = pages.iter().filter(|page| page.says("FACE ")).collect();
    let frame = first_frame(strip[0]);
    for page in strip {
        let marks = page.rings();
        let (along, across) = (frame.along, frame.across);
        let through = page.straight(0.18).into_iter().filter(|[from, to]| {
            let length = (*to - *from).dot(along).abs();
            let window = 230.0;
            length > window && marks.iter().any(|mark| (*mark - *from).dot(across).abs() < MEASURED_MM)
        });
        assert_eq!(through.count(), 1, "it passes through joining marks on every page");
    }
}

//! What fit and furniture add to the paper, read back from the PDF: notches, chamfers, the crosscut strip, cauls, the
//! flip-over master, the gauge, hands, the plan.

use crate::legs::{on, roll};
use crate::reader::{ReadLine, ReadPage, read};
use cornerwise_export::demo::DEMOS;
use cornerwise_export::paper::project_sheets;
use cornerwise_export::pdf::pdf;
use cornerwise_geometry::{Cut, Leg, Piece};
use cornerwise_project::{Edit, FitPart, PageSize, PaperChoice, PaperExtra, Project, StripLayout};
use kurbo::{ParamCurve, Point, Rect, Shape};

/// The promise is 0.1 mm; the reader's single-precision points leave far less.
const MEASURED_MM: f64 = 0.01;
const NOTCH_MM: f64 = 0.3;
const CHAMFER_MM: f64 = 0.22;
const END_MM: f64 = 0.5;

fn demo(file: &str) -> Project {
    DEMOS.iter().find(|demo| demo.file_name == file).unwrap().project().unwrap()
}

/// A project's pages on a roll, where every strip lies whole on one page, top end left.
fn rolled(project: &Project, layout: StripLayout, also: &[PaperExtra]) -> Vec<ReadPage> {
    let paper = PaperChoice { layout, also: also.to_vec(), ..on(roll(1400.0)) };
    pages(&Project { paper, ..project.clone() })
}

fn pages(project: &Project) -> Vec<ReadPage> {
    read(&pdf(&project_sheets(project).unwrap(), "test").unwrap())
}

fn with_inside(mut project: Project, inside: Piece) -> Project {
    for design in project.designs.clone() {
        project = project.apply(&Edit::SetFit { design: design.id, part: FitPart::Inside(inside) }).unwrap();
    }
    project
}

/// Where the finished top and foot are along a page, and how far apart.
fn ends(page: &ReadPage) -> [f64; 2] {
    let across: Vec<f64> =
        page.straight(END_MM).iter().filter(|[p, q]| (p.x - q.x).abs() < 0.01).map(|[p, _]| p.x).collect();
    [across.iter().copied().fold(f64::INFINITY, f64::min), across.into_iter().fold(f64::NEG_INFINITY, f64::max)]
}

fn upright(page: &ReadPage, width_mm: f64) -> Vec<[Point; 2]> {
    page.straight(width_mm).into_iter().filter(|[p, q]| (p.x - q.x).abs() < 0.01 && (p.y - q.y).abs() > 1.0).collect()
}

/// Notch marks are where the crosscut list has them, measured from the finished top, on the strip of the face that carries
/// the inside piece and on the crosscut strip; the latter whichever piece is inside.
#[test]
fn notch_marks_are_true_on_the_strip_and_on_the_crosscut_strip() {
    for inside in Piece::ALL {
        let project = with_inside(demo("shelf-stand.ron"), inside);
        let fit = &project.designs[0].fit;
        let wanted: Vec<f64> = fit.notches.iter().flat_map(|notch| notch.span_mm()).collect();
        let read = rolled(&project, StripLayout::Wrapped, &[]);
        let strip = read.iter().find(|page| page.says("FACE 1")).expect("a strip");
        let crosscut = read.iter().find(|page| page.says("crosscut strip, S")).expect("a crosscut strip");
        for (page, on_it) in [(strip, inside != Piece::Four), (crosscut, true)] {
            let [top, foot] = ends(page);
            assert!((foot - top - 1040.0).abs() < MEASURED_MM, "{}", foot - top);
            let mut marks: Vec<f64> = upright(page, NOTCH_MM).iter().map(|[p, _]| p.x - top).collect();
            marks.sort_by(f64::total_cmp);
            marks.dedup_by(|p, q| (*p - *q).abs() < 0.001);
            if !on_it {
                assert!(marks.is_empty(), "no face carries {inside}");
                continue;
            }
            // Piece 2 is on both faces: its marks run over the fold, and stand twice at one place.
            assert_eq!(marks.len(), wanted.len(), "{inside}: {marks:?}");
            for (mark, wanted) in marks.iter().zip(&wanted) {
                assert!((mark - wanted).abs() < MEASURED_MM, "{mark} for {wanted}");
            }
        }
        assert!(crosscut.says(&format!("S{} inside", inside.number())));
        assert!(crosscut.says(&format!("arris {}", inside.number())), "it is held to the piece's own arris");
        assert!(crosscut.says("2 out") && crosscut.says("11 keep"));
    }
}

/// The curve that is drawn black on a page: those of cauls and masters.
fn curves(page: &ReadPage) -> impl Iterator<Item = &ReadLine> {
    let black = |line: &&ReadLine| line.rgb.iter().all(|part| *part < 0x40);
    page.lines.iter().filter(|line| (line.width_mm - 0.35).abs() < 0.03).filter(black).filter(|line| {
        let bounds = line.path.bounding_box();
        bounds.width() > 50.0 && bounds.height() > 1.0
    })
}

/// Places on a curve, mm from the finished top and down the page.
fn places(line: &ReadLine, top: f64) -> Vec<[f64; 2]> {
    let steps = || (0..=16).map(|i| f64::from(i) / 16.0);
    line.path.segments().flat_map(|segment| steps().map(move |t| segment.eval(t))).map(|p| [p.x - top, p.y]).collect()
}

/// A side stands at -a from the axis and its opposite one width farther, so a caul is the mirrored line: what is above it on
/// paper and the cut's offset come to one figure all along. And a master's curve is as far from its straight edge as the saw
/// line is from its arris.
#[test]
fn cauls_are_the_mirrored_line_and_masters_the_line_itself() {
    for file in ["apron-table.ron", "shelf-stand.ron", "desk-lamp.ron"] {
        let project = demo(file);
        let read = rolled(&project, StripLayout::Wrapped, &[PaperExtra::Cauls, PaperExtra::Master]);
        let leg = project.designs[0].leg().unwrap();
        let of_first: Vec<&ReadPage> =
            read.iter().filter(|page| page.says(&format!("Leg {}", project.designs[0].letter))).collect();
        let (mut cauls, mut masters) = (0, 0);
        for page in of_first.into_iter().filter(|page| page.says("caul of leg") || page.says("flip-over master of leg"))
        {
            let [top, _] = ends(page);
            for line in curves(page) {
                let found = places(line, top);
                let spread = |of: &dyn Fn(&[f64; 2]) -> f64| {
                    let (least, most) = found
                        .iter()
                        .map(of)
                        .fold((f64::INFINITY, f64::NEG_INFINITY), |(p, q), mm| (p.min(mm), q.max(mm)));
                    most - least
                };
                let is = |cut: Cut, sign: f64| spread(&|[s, y]| y + sign * leg.line(cut).offset(*s)) < MEASURED_MM;
                if Cut::ALL.iter().any(|cut| is(*cut, 1.0)) {
                    cauls += 1;
                } else {
                    let cut = Cut::ALL.into_iter().find(|cut| is(*cut, -1.0)).expect("a caul or a master");
                    masters += 1;
                    assert!(straight_edge_is_true(page, &leg, cut, &found), "{file}: the master of the {cut}");
                }
            }
        }
        // One curve on both faces wants one of each.
        let wanted = if file == "shelf-stand.ron" { (1, 1) } else { (2, 2) };
        assert_eq!((cauls, masters), wanted, "{file}");
    }
}

/// Whether some straight edge along a page is as far from a curve as an arris from the saw line.
fn straight_edge_is_true(page: &ReadPage, leg: &Leg, cut: Cut, curve: &[[f64; 2]]) -> bool {
    let edges = page.straight(0.25).into_iter().filter(|[p, q]| (p.y - q.y).abs() < 0.001 && (p.x - q.x).abs() > 100.0);
    let across = leg.across_mm(cut);
    edges.map(|[p, _]| p.y).any(|edge| {
        curve.iter().all(|[s, y]| {
            let offset = leg.line(cut).offset(*s);
            (y - edge - offset).abs() < MEASURED_MM || (edge - y - (across - offset)).abs() < MEASURED_MM
        })
    })
}

/// A strip for each face of a chamfered blank is the flat; a strip round both shows where the chamfers end. The caps show the
/// chamfer's own face, as wide as the hole: for 1/8 pipe 7/16 in, the hole it is sold with (sizes.com, lamp fittings).
#[test]
fn a_chamfered_blank_is_papered_on_its_flats_or_before_it_is_chamfered() {
    let project = demo("desk-lamp.ron");
    let chamfer = 7.0 / 16.0 * 25.4 / 2.0_f64.sqrt();
    let per_face =
        StripLayout::PerFace { face_1_by: cornerwise_geometry::Arris::Two, face_2_by: cornerwise_geometry::Arris::Two };
    for (layout, across, words) in [
        (per_face, 60.0 - 2.0 * chamfer, ["Chamfer first", "lost its arrises", "the edges of the flats"]),
        (StripLayout::Wrapped, 120.0, ["laid out before chamfering", "chamfer to the dashed lines", "dashed lines."]),
    ] {
        let read = rolled(&project, layout, &[]);
        for words in words {
            let all: String = read.iter().flat_map(|page| &page.texts).map(|text| text.text.clone() + " ").collect();
            assert!(all.contains(words), "{words}: {all}");
        }
        let strip = read.iter().find(|page| page.says("FACE 1")).expect("a strip");
        let [top, _] = ends(strip);
        let at_top: Vec<[Point; 2]> =
            upright(strip, END_MM).into_iter().filter(|[p, _]| (p.x - top).abs() < 0.01).collect();
        let reach = at_top.iter().map(|[p, q]| (p.y - q.y).abs());
        if layout == per_face {
            assert!(reach.clone().count() == 2 && reach.clone().all(|mm| (mm - across).abs() < 0.01), "{at_top:?}");
        } else {
            let lines = strip.lines.iter().filter(|line| (line.width_mm - CHAMFER_MM).abs() < 0.02 && line.dashed);
            let bounds: Vec<Rect> = lines.map(|line| line.path.bounding_box()).filter(|b| b.width() > 400.0).collect();
            let arris = at_top.iter().flatten().map(|p| p.y).fold(f64::INFINITY, f64::min);
            let mut found: Vec<f64> = bounds.iter().map(|b| b.y0 - arris).collect();
            found.sort_by(f64::total_cmp);
            let wanted = [chamfer, 60.0 - chamfer, 60.0 + chamfer, 120.0 - chamfer];
            assert_eq!(found.len(), 4);
            assert!(found.iter().zip(wanted).all(|(p, q)| (p - q).abs() < 0.01), "{found:?} {wanted:?}");
        }
        let cap = read.iter().find(|page| page.says("TOP end of leg L")).expect("caps");
        let faces = cap.straight(CHAMFER_MM).into_iter().map(|[p, q]| p.distance(q));
        let faces: Vec<f64> = faces.filter(|mm| (mm - 7.0 / 16.0 * 25.4).abs() < 0.01).collect();
        assert_eq!(faces.len(), 8, "four on either cap");
    }
}

/// The seams on the gauge are where the lines have them, on a square of the blank's own size: common practice, no source,
/// and exact by the geometry.
#[test]
fn every_section_of_the_gauge_is_the_blanks_own_square() {
    let mut project = demo("apron-table.ron");
    project.paper.gauge_at = vec![50.0.into(), 300.0.into(), 512.5.into()];
    let gauge_at = project.paper.gauge_at.clone();
    let paper = PaperChoice { also: vec![PaperExtra::Gauge], gauge_at, ..on(PageSize::A4) };
    let read = pages(&Project { paper, ..project.clone() });
    let page = read.iter().find(|page| page.says("gauge of level sections")).expect("a gauge");
    let leg = project.designs[0].leg().unwrap();
    for s in [50.0, 300.0, 512.5] {
        let units = project.units.show_with_unit(s);
        let title = page.texts.iter().find(|text| text.text == format!("{units} from TOP")).expect("a title").start;
        let squares = page.lines.iter().map(|line| line.path.bounding_box());
        let squares =
            squares.filter(|b| (b.width() - 50.0).abs() < MEASURED_MM && (b.height() - 50.0).abs() < MEASURED_MM);
        let near = |b: &Rect| (b.x0 - title.x).hypot(b.y0 - title.y);
        let square = squares.min_by(|p, q| near(p).total_cmp(&near(q))).expect("a square");
        let seams: Vec<[Point; 2]> = page
            .straight(0.3)
            .into_iter()
            .filter(|[p, q]| square.inflate(0.01, 0.01).contains(*p) && square.inflate(0.01, 0.01).contains(*q))
            .collect();
        assert_eq!(seams.len(), 2);
        for [p, q] in seams {
            let (at, wanted) =
                if (p.x - q.x).abs() < 0.001 { (p.x - square.x0, leg.a(s)) } else { (p.y - square.y0, leg.b(s)) };
            assert!((at - wanted).abs() < MEASURED_MM, "{s}: {at} for {wanted}");
        }
    }
    let note = read.iter().filter(|page| page.says("A1 out")).count();
    assert!(note > 0, "a notched section shows what is left out");
}

/// Where a saw is told the gauge is what it gives: four pieces of the sizes that the kerf leaves, the blank's own square
/// dashed round them, and the sizes in words. By hand: beside a straight line the kerf takes half of itself on either side.
#[test]
fn the_gauge_of_a_leg_whose_saw_is_told_has_the_sizes_that_it_gives() {
    use cornerwise_geometry::{Line, Saw, Shape};
    let mut project = demo("lamp-column.ron");
    let straight = Line::Shape(Shape::Straight { aside: 0.0.into() });
    let design = std::sync::Arc::make_mut(&mut project.designs[0]);
    (design.first, design.second) = (straight.clone(), straight);
    let [width, depth] = [design.blank.width.mm(), design.blank.depth.mm()];
    let mut saw = Saw::default();
    saw.blade.kerf = 1.4.into();
    project.saw = Some(saw);
    let paper = PaperChoice { also: vec![PaperExtra::Gauge], gauge_at: vec![120.0.into()], ..on(PageSize::A4) };
    let read = pages(&Project { paper, ..project.clone() });
    let page = read.iter().find(|page| page.says("gauge of level sections")).expect("a gauge");
    let words = format!("as sawn {} × {}", project.units.show(width - 1.4), project.units.show_with_unit(depth - 1.4));
    assert!(page.says(&words), "no {words}");
    let title = page.texts.iter().find(|text| text.text.ends_with("from TOP")).expect("a title").start;
    let near = |p: Point| (p.x - title.x).hypot(p.y - title.y) < 2.0 * width;
    let cut = page.straight(0.2);
    let of = |mm: f64| cut.iter().filter(|[p, q]| near(*p) && (p.distance(*q) - mm).abs() < MEASURED_MM).count();
    assert!(of((width - 1.4) / 2.0) >= 8 || width != depth, "two outer edges of each piece: {cut:?}");
    let square = page.lines.iter().map(|line| line.path.bounding_box());
    let whole = |b: &Rect| (b.width() - width).abs() < MEASURED_MM && (b.height() - depth).abs() < MEASURED_MM;
    assert!(square.filter(whole).count() >= 1, "the blank's own square stays, dashed");
}

/// Four legs: one strip each where they differ, with names of their own, "make n" where they do not. The mirrored strip is
/// the mirrored line, and no page is turned over for it.
#[test]
fn hands_have_paper_of_their_own_and_like_legs_share_theirs() {
    let table = rolled(&demo("apron-table.ron"), StripLayout::Wrapped, &[]);
    for leg in ["Leg A", "Leg A mirrored", "Leg B", "Leg B mirrored"] {
        let strips = table.iter().filter(|page| page.texts.iter().any(|text| text.text == leg) && page.says("FACE 1"));
        assert_eq!(strips.count(), 1, "{leg}");
    }
    for words in ["Am1", "Bm4", "TOP end of leg B mirrored", "mirrored: its pieces are Am1 to Am4"] {
        assert!(table.iter().any(|page| page.says(words)), "{words}");
    }
    assert!(table.iter().any(|page| page.says("what to mill, cut and glue")), "the plan is printed with furniture");
    let stand = rolled(&demo("shelf-stand.ron"), StripLayout::Wrapped, &[]);
    assert_eq!(stand.iter().filter(|page| page.says("FACE 1")).count(), 1);
    assert!(
        stand[0].texts.iter().any(|text| text.text == "make") && stand[0].texts.iter().any(|text| text.text == "4")
    );
    let plain = rolled(&demo("stool-leg.ron"), StripLayout::Wrapped, &[]);
    for words in ["crosscut", "caul", "chamfer", "mirrored", "notch"] {
        assert!(!plain.iter().any(|page| page.says(words)), "{words} on the paper of a plain leg");
    }
}

/// Words keep clear of the marks of a notch, and of the chamfers.
#[test]
fn no_word_stands_on_a_notch_mark() {
    use cornerwise_export::sheets::{Mark, Pen, clipped};
    for file in ["desk-lamp.ron", "apron-table.ron", "shelf-stand.ron"] {
        for layout in crate::legs::LAYOUTS {
            for page in [PageSize::A4, PageSize::Letter, roll(610.0)] {
                let also = PaperExtra::ALL.to_vec();
                let project = Project { paper: PaperChoice { layout, also, ..on(page) }, ..demo(file) };
                for sheet in project_sheets(&project).unwrap() {
                    let texts = || {
                        sheet
                            .marks
                            .iter()
                            .filter_map(|mark| if let Mark::Text(text) = mark { Some(text) } else { None })
                    };
                    for mark in &sheet.marks {
                        let Mark::Line { path, pen: pen @ (Pen::Notch | Pen::Curve | Pen::FinishedEnd) } = mark else {
                            continue;
                        };
                        for text in texts() {
                            let crossed = clipped(path, text.bounds().inflate(-0.05, -0.05));
                            assert!(crossed.is_empty(), "{file} {}: {:?} on a {pen:?} line", sheet.label, text.text);
                        }
                    }
                    let all: Vec<Rect> = texts().map(|text| text.bounds().inflate(-0.05, -0.05)).collect();
                    for (i, a) in all.iter().enumerate() {
                        assert!(all[i + 1..].iter().all(|b| a.intersect(*b).is_zero_area()), "{file} {}", sheet.label);
                    }
                }
            }
        }
    }
}

//! What [`Project::check`] refuses, and how it says so.

use crate::{
    CheckRule, Design, DesignId, Fault, MAX_DESIGNS, PageSize, PaperChoice, Place, Project, Rule, StripLayout,
};
use cornerwise_geometry::{Arris, Blank, Length, Line, Point, PointId, PointKind, Shape};
use cornerwise_wood::{Layers, Wood};
use std::sync::Arc;

/// A project of two designs, the second one changed.
fn with_second(change: impl FnOnce(&mut Design)) -> Project {
    let mut project = Project::new();
    let mut design = Design::new(DesignId(2), 'B');
    design.first = Line::Points(vec![
        Point::smooth(1, 0.0, 20.0, 0.0, 50.0, 50.0),
        Point::smooth(4, 200.0, 30.0, 0.0, 50.0, 50.0),
        Point::smooth(3, 450.0, 25.0, 0.0, 50.0, 50.0),
        Point::smooth(2, 700.0, 25.0, 0.0, 50.0, 50.0),
    ]);
    change(&mut design);
    project.designs.push(Arc::new(design));
    project
}

fn said(project: &Project) -> String {
    project.check().expect_err("a fault").to_string()
}

fn point(design: &mut Design, place: usize) -> &mut Point {
    match &mut design.first {
        Line::Points(points) => &mut points[place],
        _ => panic!("points"),
    }
}

#[test]
fn new_projects_are_sound() {
    assert_eq!(Project::new().check(), Ok(()));
    assert_eq!(with_second(|_| {}).check(), Ok(()));
}

#[test]
fn a_fault_in_a_line_names_the_design_the_cut_and_the_point_as_counted_from_the_top() {
    let nan = with_second(|design| point(design, 3).offset = f64::NAN.into());
    assert_eq!(said(&nan), "design 2, first cut, point 4: the offset is not a sound number");
    let inf = with_second(|design| {
        point(design, 1).kind = PointKind::Smooth { slope: f64::INFINITY, before_mm: 1.0, after_mm: 1.0 };
    });
    assert_eq!(said(&inf), "design 2, first cut, point 2: a handle is not a sound number");
    let back = with_second(|design| point(design, 2).from_top = 150.0.into());
    assert_eq!(
        said(&back),
        "design 2, first cut, point 3: at 150.00 mm from the top it does not lie beyond the point before it, at \
         200.00 mm: a saw line never runs back"
    );
    let steep = with_second(|design| {
        point(design, 1).kind = PointKind::Smooth { slope: 9.0, before_mm: 1.0, after_mm: 1.0 };
    });
    assert!(said(&steep).starts_with("design 2, first cut, point 2: the line is too steep near here"), "{steep:?}");
    let sharp = |design: &mut Design, place: usize| {
        point(design, place).kind =
            PointKind::Sharp { slope_before: 0.0, before_mm: 9.0, slope_after: 0.1, after_mm: 9.0 };
    };
    let two = with_second(|design| {
        sharp(design, 1);
        sharp(design, 2);
    });
    assert_eq!(
        two.check().expect_err("two sharp points").fault,
        Fault::TwoSharp { first: 2 },
        "named by place, not by id"
    );
    let twice = with_second(|design| point(design, 2).id = PointId(4));
    assert_eq!(said(&twice), "design 2, first cut: two of its points have the id 4");
    let few = with_second(|design| design.second = Line::Points(vec![Point::smooth(1, 0.0, 20.0, 0.0, 9.0, 9.0)]));
    assert_eq!(said(&few), "design 2, second cut: a saw line needs at least two points, and this one has 1");
}

#[test]
fn a_shape_s_parameters_are_held_to_their_limits_even_where_the_line_would_clamp_them() {
    for turn in [f64::NAN, f64::INFINITY, 0.0, 1.0] {
        let project = with_second(|design| {
            design.second = Line::Shape(Shape::Cyma { swing: 9.0.into(), turn, aside: 0.0.into() });
        });
        let error = project.check().expect_err("a fault");
        assert!(matches!(error.fault, Fault::Parameter { name: "Turn", .. }), "{error}");
        assert!(error.to_string().starts_with("design 2, second cut: Turn of the cyma is "), "{error}");
    }
}

#[test]
fn silly_blanks_and_woods_are_named() {
    let long = with_second(|design| design.blank = Blank::square(50.0, 9e8));
    assert_eq!(
        said(&long),
        "design 2, blank: the blank's length is 900000000 mm: it must be 10 mm to 10000 mm",
        "900 km"
    );
    let thin = with_second(|design| design.blank.depth = Length::from_mm(2.0));
    assert!(said(&thin).contains("design 2, blank: the blank's depth is 2 mm"), "{}", said(&thin));
    let layers = Layers::new(Vec::new(), 0.0, 0.0, 0.0.into());
    let bare = with_second(|design| design.wood = Wood::Layers(layers));
    assert!(said(&bare).starts_with("design 2, wood: "), "{}", said(&bare));
}

#[test]
fn names_letters_and_ids_are_checked() {
    let long = with_second(|design| design.name = "木".repeat(201));
    assert!(said(&long).starts_with("design 2: the name has 201 characters"), "{}", said(&long));
    assert_eq!(with_second(|design| design.name = "木".repeat(200)).check(), Ok(()), "characters, not bytes");
    for bad in ["a\nb", "a\u{0}", "\u{202e}gel", "a\u{2028}"] {
        let broken = with_second(|design| design.name = bad.to_owned());
        assert!(matches!(broken.check().expect_err("a fault").fault, Fault::ControlCharacter(_)), "{bad:?}");
    }
    for bad in [' ', '\0', '#', '\u{301}'] {
        assert_eq!(with_second(|design| design.letter = bad).check().expect_err("a fault").fault, Fault::Letter(bad));
    }
    let same = with_second(|design| design.id = DesignId(1));
    assert_eq!(said(&same), "design 2: id 1 is also the id of design 1; leave the id out to get a new one");
    assert_eq!(with_second(|design| design.id = DesignId(0)).check().expect_err("a fault").fault, Fault::NoDesignId);
}

#[test]
fn counts_are_limited() {
    let mut none = Project::new();
    none.designs.clear();
    assert_eq!(none.check().expect_err("a fault").fault, Fault::NoDesigns);
    let mut many = Project::new();
    many.designs = (0..=MAX_DESIGNS).map(|i| Arc::new(Design::new(DesignId(i as u32 + 1), 'A'))).collect();
    assert_eq!(many.check().expect_err("a fault").fault, Fault::TooManyDesigns(MAX_DESIGNS + 1));
    many.designs.pop();
    assert_eq!(many.check(), Ok(()));

    let line = |count: u32| {
        Line::Points((0..count).map(|i| Point::smooth(i, f64::from(i) * 0.3, 25.0, 0.0, 0.1, 0.1)).collect())
    };
    let too_many = with_second(|design| design.first = line(2_001));
    assert_eq!(said(&too_many), "design 2, first cut: it has 2001 points, and at most 2000 are taken");
    let mut in_all = Project::new();
    in_all.designs = (0..13)
        .map(|i| Arc::new(Design { first: line(2_000), second: line(2_000), ..Design::new(DesignId(i + 1), 'A') }))
        .collect();
    assert_eq!(in_all.check().expect_err("a fault").fault, Fault::TooManyPointsInAll(52_000));
}

#[test]
fn paper_is_checked() {
    let with_paper = |paper| Project { paper, ..Project::new() };
    let narrow =
        with_paper(PaperChoice { page: PageSize::Roll { width: Length::from_mm(f64::NAN) }, ..PaperChoice::default() });
    assert_eq!(said(&narrow), "paper, page: NaN mm is not within 200 mm to 2000 mm");
    let overlap = with_paper(PaperChoice { overlap: 0.0.into(), ..PaperChoice::default() });
    assert_eq!(said(&overlap), "paper, overlap: 0 mm is not within 5 mm to 60 mm");
    let layout = StripLayout::PerFace { face_1_by: Arris::Three, face_2_by: Arris::Two };
    let wrong = with_paper(PaperChoice { layout, ..PaperChoice::default() });
    assert_eq!(
        said(&wrong),
        "paper, layout: the strip of face 1 cannot be registered to arris 3, only to arris 1 or 2"
    );
    let shrunk = CheckRule { across: 50.0.into(), ..CheckRule::exact(Rule::HundredMillimetres) };
    let halved = with_paper(PaperChoice { measured: shrunk, ..PaperChoice::default() });
    assert!(said(&halved).contains("print the page again at 100 %"), "{}", said(&halved));
    assert!(matches!(halved.check().expect_err("a fault").place, Place::Paper(_)));
}

#[test]
fn the_correction_makes_a_shrunk_rule_true() {
    let measured = CheckRule { across: 99.0.into(), along: 101.0.into(), ..CheckRule::default() };
    let [across, along] = measured.correction();
    assert!((across * 99.0 - 100.0).abs() < 1e-12 && (along * 101.0 - 100.0).abs() < 1e-12);
    assert_eq!(CheckRule::exact(Rule::FourInches).correction(), [1.0, 1.0]);
}

#[test]
fn page_sizes_are_those_of_the_standards() {
    // ISO 216 and ASME Y14.1, as listed in the project's check values (both from memory there).
    let size = |page: PageSize| (page.width_mm(), page.height_mm());
    assert_eq!(size(PageSize::A4), (210.0, Some(297.0)));
    assert_eq!(size(PageSize::A3), (297.0, Some(420.0)));
    assert_eq!(size(PageSize::Letter), (215.9, Some(279.4)));
    assert_eq!(size(PageSize::Tabloid), (279.4, Some(431.8)));
    assert_eq!(size(PageSize::Roll { width: 610.0.into() }), (610.0, None));
}

//! The legs and choices that the tests print.

use cornerwise_export::paper::{LegNames, template};
use cornerwise_export::pdf::pdf;
use cornerwise_export::sheets::Sheet;
use cornerwise_geometry::{Arris, Blank, Leg, Line, Shape, ShapeKind, Units};
use cornerwise_project::{CheckRule, Hand, PageSize, PaperChoice, Rule, StripLayout};

pub fn leg(blank: &Blank, kinds: [ShapeKind; 2]) -> Leg {
    let length = blank.length.mm();
    let line = |kind, across| Line::Shape(Shape::start(kind, length, across));
    Leg::new(blank, &line(kinds[0], blank.width.mm()), &line(kinds[1], blank.depth.mm())).unwrap()
}

/// A lamp column: 50 x 44 mm, 700 mm long, an S on face 1 and waves on face 2.
pub fn lamp_column() -> Leg {
    let blank = Blank { depth: 44.0.into(), ..Blank::square(50.0, 700.0) };
    leg(&blank, [ShapeKind::Cyma, ShapeKind::Waves])
}

pub fn names() -> LegNames {
    LegNames {
        project: "Village library".into(),
        design: "Lamp column".into(),
        letter: 'B',
        hand: Hand::Drawn,
        make: 0,
    }
}

pub fn sheets(leg: &Leg, choice: &PaperChoice) -> Vec<Sheet> {
    template(leg, &names(), choice, Units::Millimetres).unwrap()
}

pub fn pdf_of(leg: &Leg, choice: &PaperChoice) -> Vec<u8> {
    pdf(&sheets(leg, choice), "Lamp column").unwrap()
}

pub const LAYOUTS: [StripLayout; 2] =
    [StripLayout::Wrapped, StripLayout::PerFace { face_1_by: Arris::Two, face_2_by: Arris::Three }];

pub fn on(page: PageSize) -> PaperChoice {
    PaperChoice { page, ..PaperChoice::default() }
}

pub fn roll(width_mm: f64) -> PageSize {
    PageSize::Roll { width: width_mm.into() }
}

/// What a maker measured along the short and the long edge of the paper.
pub fn measured(short_mm: f64, long_mm: f64) -> CheckRule {
    CheckRule { rule: Rule::HundredMillimetres, across: short_mm.into(), along: long_mm.into() }
}

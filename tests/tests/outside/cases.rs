//! The legs that are checked, and the project's points as plain numbers.

use cornerwise_geometry::{Blank, Cut, Leg, Length, Line, Point, Shape, ShapeKind};
use cornerwise_project::Design;
use cornerwise_tests::{PlainLine, PlainPoint};

/// A leg to check, with both its lines evaluated apart from the project.
pub struct Case {
    pub name: &'static str,
    pub leg: Leg,
    pub first: PlainLine,
    pub second: PlainLine,
}

impl Case {
    pub fn new(name: &'static str, size_mm: [f64; 3], first: Shape, second: Shape) -> Case {
        let [width, depth, length] = size_mm;
        let blank = Blank { depth: depth.into(), ..Blank::square(width, length) };
        let (first, second) = (Line::Shape(first), Line::Shape(second));
        Case {
            name,
            leg: Leg::new(&blank, &first, &second).unwrap_or_else(|e| panic!("{name}: {e}")),
            first: plain(&first.points(length, width)),
            second: plain(&second.points(length, depth)),
        }
    }

    /// A design of a project.
    pub fn of(name: &'static str, design: &Design) -> Case {
        Case {
            name,
            leg: design.leg().unwrap_or_else(|e| panic!("{name}: {e}")),
            first: plain(&design.cubic_points(Cut::First).expect("a line")),
            second: plain(&design.cubic_points(Cut::Second).expect("a line")),
        }
    }

    pub fn size_mm(&self) -> [f64; 3] {
        [self.leg.width_mm, self.leg.depth_mm, self.leg.length_mm]
    }

    /// The two lines as drawn at `s`, by the plain evaluation, held within the blank.
    pub fn held(&self, s: f64) -> [f64; 2] {
        [self.first.offset(s).clamp(0.0, self.leg.width_mm), self.second.offset(s).clamp(0.0, self.leg.depth_mm)]
    }
}

pub fn plain(points: &[Point]) -> PlainLine {
    let points: Vec<PlainPoint> = points
        .iter()
        .map(|point| {
            let ((slope_before, before), (slope_after, after)) = (point.kind.before(), point.kind.after());
            PlainPoint {
                s: point.from_top.mm(),
                offset: point.offset.mm(),
                before: [slope_before, before],
                after: [slope_after, after],
            }
        })
        .collect();
    PlainLine::new(&points).expect("no handle reaches past another")
}

fn mm(mm: f64) -> Length {
    mm.into()
}

/// A square blank with a cyma on both faces.
pub fn cyma() -> Case {
    let shape = Shape::Cyma { swing: mm(22.0), turn: 0.55, aside: mm(1.5) };
    Case::new("cyma", [50.8, 50.8, 711.2], shape.clone(), shape)
}

/// A rectangular blank: waves on its wide face, an arch on its narrow one.
pub fn waves() -> Case {
    let waves = Shape::Waves { waves: 3, swing_top: mm(6.0), swing_foot: mm(24.0), shortening: 0.5, aside: mm(-2.0) };
    let arch = Shape::Arch { rise: mm(11.0), crest: 0.4, aside: mm(-4.0) };
    Case::new("waves", [64.0, 38.0, 450.0], waves, arch)
}

/// A square blank with a sharp point in its first cut.
pub fn post() -> Case {
    let post = Shape::start(ShapeKind::PostAndKnee, 720.0, 45.0);
    let cyma = Shape::Cyma { swing: mm(-14.0), turn: 0.4, aside: mm(0.0) };
    Case::new("post and knee", [45.0, 45.0, 720.0], post, cyma)
}

/// A deep rectangle, straight on one face.
pub fn arch() -> Case {
    let arch = Shape::Arch { rise: mm(-20.0), crest: 0.62, aside: mm(8.0) };
    Case::new("arch", [40.0, 75.0, 380.0], Shape::Straight { aside: mm(3.25) }, arch)
}

/// Waves that leave the blank through both faces.
pub fn leaving() -> Case {
    let waves = Shape::Waves { waves: 2, swing_top: mm(40.0), swing_foot: mm(76.0), shortening: 0.8, aside: mm(3.0) };
    let cyma = Shape::Cyma { swing: mm(30.0), turn: 0.5, aside: mm(9.0) };
    Case::new("leaving the blank", [50.0, 44.0, 500.0], waves, cyma)
}

/// A line that leaves the blank through one face only, so that something of the core is left.
pub fn clipped() -> Case {
    let cyma = Shape::Cyma { swing: mm(30.0), turn: 0.45, aside: mm(16.0) };
    Case::new("clipped", [50.0, 44.0, 500.0], cyma, Shape::Arch { rise: mm(9.0), crest: 0.5, aside: mm(0.0) })
}

/// Waves so steep on both faces that the edges are sharp.
pub fn fierce() -> Case {
    let waves =
        |aside| Shape::Waves { waves: 3, swing_top: mm(24.0), swing_foot: mm(20.0), shortening: 1.2, aside: mm(aside) };
    Case::new("fierce", [50.0, 52.0, 240.0], waves(1.0), waves(-3.0))
}

/// All of them.
pub fn all() -> Vec<Case> {
    vec![cyma(), waves(), post(), arch(), leaving(), clipped(), fierce()]
}

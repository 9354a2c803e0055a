mod hands;
mod notches;
mod pipes;
mod sections;

use crate::{Blank, Leg, Length, Line, Shape, ShapeKind};

fn leg_of(size_mm: [f64; 3], first: &Line, second: &Line) -> Leg {
    let [width, depth, length] = size_mm;
    Leg::new(&Blank { depth: depth.into(), ..Blank::square(width, length) }, first, second).unwrap()
}

fn cyma(swing: f64) -> Line {
    Line::Shape(Shape::Cyma { swing: swing.into(), turn: 0.55, aside: Length::ZERO })
}

fn arch(rise: f64) -> Line {
    Line::Shape(Shape::Arch { rise: rise.into(), crest: 0.4, aside: Length::ZERO })
}

fn straight(aside: f64) -> Line {
    Line::Shape(Shape::Straight { aside: aside.into() })
}

fn start(kind: ShapeKind, length: f64, across: f64) -> Line {
    Line::Shape(Shape::start(kind, length, across))
}

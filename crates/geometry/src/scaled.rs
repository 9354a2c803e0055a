//! Everything in proportion: lengths are multiplied, slopes, shares and counts stay.

use crate::{Batten, Blank, Length, Line, Link, OutOfTrue, ParameterValue, Pin, Point, Shape};

impl Length {
    /// The length `factor` times as long. Its text no longer says it.
    #[must_use]
    pub fn scaled(&self, factor: f64) -> Length {
        if factor == 1.0 { self.clone() } else { Length::from_mm(self.mm() * factor) }
    }
}

impl Blank {
    /// The blank `factor` times as large, spare length included.
    #[must_use]
    pub fn scaled(&self, factor: f64) -> Blank {
        Blank {
            width: self.width.scaled(factor),
            depth: self.depth.scaled(factor),
            length: self.length.scaled(factor),
            spare_top: self.spare_top.scaled(factor),
            spare_foot: self.spare_foot.scaled(factor),
            // A mock-up is milled anew from another piece.
            out_of_true: OutOfTrue::default(),
        }
    }
}

impl Point {
    /// The point of a line `factor` times as large.
    #[must_use]
    pub fn scaled(&self, factor: f64) -> Point {
        let ((slope_before, before_mm), (slope_after, after_mm)) = (self.kind.before(), self.kind.after());
        let kind = self.kind.with_before(slope_before, before_mm * factor).with_after(slope_after, after_mm * factor);
        Point { from_top: self.from_top.scaled(factor), offset: self.offset.scaled(factor), kind, ..self.clone() }
    }
}

impl Shape {
    /// The shape on a blank `factor` times as large. A length of it that would leave its limits is held at them.
    #[must_use]
    pub fn scaled(&self, factor: f64) -> Shape {
        self.parameters().into_iter().enumerate().fold(self.clone(), |shape, (index, parameter)| {
            match parameter.value {
                ParameterValue::Length(length) => {
                    shape.with_parameter(index, &ParameterValue::Length(length.scaled(factor)))
                }
                ParameterValue::Number(_) | ParameterValue::Count(_) => shape,
            }
        })
    }
}

impl Line {
    /// The line on a blank `factor` times as large.
    #[must_use]
    pub fn scaled(&self, factor: f64) -> Line {
        match self {
            Line::Points(points) => Line::Points(points.iter().map(|point| point.scaled(factor)).collect()),
            Line::Shape(shape) => Line::Shape(shape.scaled(factor)),
            Line::Batten(batten) => Line::Batten(batten.scaled(factor)),
            Line::Linked(Link::Shifted { by }) => Line::Linked(Link::Shifted { by: by.scaled(factor) }),
            Line::Linked(link) => Line::Linked(link.clone()),
        }
    }
}

impl Batten {
    /// The batten along pins `factor` times as far apart. The free elastica has no length of its own, so it is a similar
    /// figure.
    #[must_use]
    pub fn scaled(&self, factor: f64) -> Batten {
        let scaled =
            |pin: &Pin| Pin { from_top: pin.from_top.scaled(factor), offset: pin.offset.scaled(factor), ..pin.clone() };
        Batten { pins: self.pins.iter().map(scaled).collect() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Cut, Leg, ShapeKind};

    /// A similar figure: lengths go by the factor, areas by its square, angles and slopes stay (Euclid, Elements, book
    /// VI).
    #[test]
    fn a_scaled_leg_is_a_similar_figure() {
        let blank = Blank { depth: 44.0.into(), ..Blank::square(52.0, 700.0) };
        for kind in ShapeKind::ALL {
            for (factor, drawn) in [(0.5, false), (0.3, true), (2.0, false)] {
                let shape = Shape::start(kind, 700.0, 52.0);
                let line = if drawn { Line::Points(shape.points(700.0, 52.0)) } else { Line::Shape(shape) };
                let leg = Leg::new(&blank, &line, &line).unwrap();
                let small = Leg::new(&blank.scaled(factor), &line.scaled(factor), &line.scaled(factor)).unwrap();
                for i in 0..=100 {
                    let s = f64::from(i) * 7.0;
                    let (large, small) = (leg.station(s), small.station(s * factor));
                    assert!((small.a_mm - factor * large.a_mm).abs() < 1e-9, "{} at {s}", kind.name());
                    assert!((small.a_slope - large.a_slope).abs() < 1e-9, "{} at {s}", kind.name());
                    assert!((small.edge_angle_deg - large.edge_angle_deg).abs() < 1e-6, "{} at {s}", kind.name());
                }
                assert!((small.volume_mm3() / leg.volume_mm3() - factor.powi(3)).abs() < 1e-12);
                assert_eq!(
                    small.line(Cut::First).sharp_point().is_some(),
                    leg.line(Cut::First).sharp_point().is_some()
                );
            }
        }
    }
}

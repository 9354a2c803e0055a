use crate::{Design, EditError};
use cornerwise_geometry::line_tools::{batten_stretched, greatest_distance, stretched};
use cornerwise_geometry::{Cut, Length, Line, Link, SawLine, Shape, Units};

/// What becomes longer or shorter when a leg is stretched.
#[derive(Clone, Debug, PartialEq)]
pub enum Stretch {
    /// All of it.
    Everything,
    /// What lies below the top part; that stays as it is, a post for instance.
    BelowTop {
        /// How long the part is that stays.
        kept: Length,
    },
}

/// How near a live shape or a linked line must come to the stretched line to stay one, mm. Rounding is all that may lie between.
const SAME_LINE_MM: f64 = 1e-6;

impl Stretch {
    pub(crate) fn label(&self, units: Units) -> String {
        match self {
            Stretch::Everything => "Stretch the leg".to_owned(),
            Stretch::BelowTop { kept } => {
                let kept = kept.typed().map_or_else(|| units.show_with_unit(kept.mm()), str::to_owned);
                format!("Stretch the leg below its top {kept}")
            }
        }
    }

    fn kept_mm(&self) -> Option<f64> {
        match self {
            Stretch::Everything => None,
            Stretch::BelowTop { kept } => Some(kept.mm()),
        }
    }
}

impl Design {
    /// The design with another finished length, and both cuts stretched to it. A live shape stays live where, with its
    /// parameters stretched, it is the stretched line; otherwise it becomes points. In the same way a link is kept where
    /// it still gives the stretched line. A batten is bent anew along its stretched pins.
    pub(crate) fn stretched(&self, length: &Length, keep: &Stretch) -> Result<Design, EditError> {
        let mut next = self.clone();
        next.blank.length = length.clone();
        next.blank.check().map_err(EditError::Blank)?;
        for cut in Cut::ALL {
            *next.line_mut(cut) = self.stretched_line(cut, length.mm(), keep)?;
        }
        if let Line::Linked(link) = &self.second {
            let linked = Line::Linked(stretched_link(link, length.mm() / self.blank.length.mm()));
            let follows = linked.own(&next.first, &next.blank);
            if next.same_line(Cut::Second, length.mm(), &follows, &next.second)? {
                next.second = linked;
            }
        }
        Ok(next)
    }

    fn stretched_line(&self, cut: Cut, to_mm: f64, keep: &Stretch) -> Result<Line, EditError> {
        let from_mm = self.blank.length.mm();
        let failed = |error| EditError::tool(cut, error);
        let own = self.own_line(cut);
        if let Line::Batten(batten) = &*own {
            return batten_stretched(batten, from_mm, to_mm, keep.kept_mm()).map(Line::Batten).map_err(failed);
        }
        let points = stretched(&self.points(cut), from_mm, to_mm, keep.kept_mm()).map_err(failed)?;
        let line = Line::Points(points);
        if let Line::Shape(shape) = &*own {
            let live = Line::Shape(stretched_shape(shape, from_mm, to_mm, keep.kept_mm()));
            if self.same_line(cut, to_mm, &live, &line)? {
                return Ok(live);
            }
        }
        Ok(line)
    }

    /// Whether one line of a cut is another, which is known to be sound, on a leg of `length_mm`.
    fn same_line(&self, cut: Cut, length_mm: f64, one: &Line, other: &Line) -> Result<bool, EditError> {
        let solve = |line: &Line| -> Result<SawLine, EditError> {
            line.solve(length_mm, self.across_mm(cut)).map_err(|source| EditError::Line { cut, source })
        };
        if one == other {
            return Ok(true);
        }
        let Ok(one) = solve(one) else { return Ok(false) };
        let accuracy = SAME_LINE_MM / 2.0;
        Ok(greatest_distance(&one, &solve(other)?, accuracy).mm <= accuracy)
    }
}

/// The link with a shift that is stretched with the whole leg.
fn stretched_link(link: &Link, factor: f64) -> Link {
    match link {
        Link::Shifted { by } if factor != 1.0 => Link::Shifted { by: Length::from_mm(by.mm() * factor) },
        same => same.clone(),
    }
}

/// The shape with what it measures along the leg stretched. Shares of the length follow the blank by themselves, so that
/// leaves the post and the slope behind it.
fn stretched_shape(shape: &Shape, from_mm: f64, to_mm: f64, kept_mm: Option<f64>) -> Shape {
    let kept_mm = kept_mm.unwrap_or(0.0);
    let factor = (to_mm - kept_mm) / (from_mm - kept_mm);
    let mut shape = shape.clone();
    if let Shape::PostAndKnee { post, kick, .. } = &mut shape {
        if post.mm() > kept_mm && factor != 1.0 {
            *post = Length::from_mm(kept_mm + (post.mm() - kept_mm) * factor);
        }
        *kick /= factor;
    }
    shape
}

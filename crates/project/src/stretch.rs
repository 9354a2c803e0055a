use crate::{Design, EditError};
use cornerwise_geometry::line_tools::{greatest_distance, stretched};
use cornerwise_geometry::{Cut, Length, Line, Shape, Units};

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

/// How near a live shape must come to the stretched line to stay live, mm. Rounding is all that may lie between.
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
    /// parameters stretched, it is the stretched line; otherwise it becomes points.
    pub(crate) fn stretched(&self, length: &Length, keep: &Stretch) -> Result<Design, EditError> {
        let mut next = self.clone();
        next.blank.length = length.clone();
        next.blank.check().map_err(EditError::Blank)?;
        for cut in Cut::ALL {
            *next.line_mut(cut) = self.stretched_line(cut, length.mm(), keep)?;
        }
        Ok(next)
    }

    fn stretched_line(&self, cut: Cut, to_mm: f64, keep: &Stretch) -> Result<Line, EditError> {
        let from_mm = self.blank.length.mm();
        let points = stretched(&self.points(cut), from_mm, to_mm, keep.kept_mm())
            .map_err(|error| EditError::tool(cut, error))?;
        let line = Line::Points(points);
        if let Line::Shape(shape) = self.line(cut) {
            let live = Line::Shape(stretched_shape(shape, from_mm, to_mm, keep.kept_mm()));
            let solve =
                |line: &Line| line.solve(to_mm, self.across_mm(cut)).map_err(|source| EditError::Line { cut, source });
            if let Ok(solved) = solve(&live)
                && greatest_distance(&solved, &solve(&line)?, SAME_LINE_MM / 2.0).mm <= SAME_LINE_MM / 2.0
            {
                return Ok(live);
            }
        }
        Ok(line)
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

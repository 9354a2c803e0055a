use crate::{Accepted, Ghost, Trace};
use cornerwise_geometry::fit::Fit;
use cornerwise_geometry::{Blank, Cut, Leg, LegError, Line, Load, Point, PointId, SawLineError, Shape, ShapeKind};
use cornerwise_wood::{Figure, Finish, Knot, Species, Timber, Wood};
use serde::{Deserialize, Serialize};
use std::borrow::Cow;
use std::fmt;
use std::sync::Arc;

/// Names a design for as long as it exists, whatever its place in the list.
///
/// In the file it is a bare number. 0 stands for "not given" and is replaced when the file is read
/// ([`crate::Project::number`]).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct DesignId(pub u32);

impl fmt::Display for DesignId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

/// One leg: its blank, its two cuts and its wood.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Design {
    /// Its name inside the program, unique in the project.
    #[serde(default)]
    pub id: DesignId,
    /// Its name for the maker. At most [`crate::MAX_NAME_CHARS`] characters.
    #[serde(default = "new_design_name")]
    pub name: String,
    /// The letter on its paper and its pieces: A1, A2 … for leg A.
    #[serde(default = "letter_a")]
    pub letter: char,
    /// The stock before sawing.
    pub blank: Blank,
    /// The line drawn on face 1, measured from arris 1.
    pub first: Line,
    /// The line drawn on face 2, measured from arris 2.
    pub second: Line,
    /// What the blank is made of.
    #[serde(default = "plain_timber")]
    pub wood: Wood,
    /// Knots and other blemishes of the blank.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub knots: Vec<Knot>,
    /// What is on the wood.
    #[serde(default, skip_serializing_if = "is_bare")]
    pub finish: Finish,
    /// The load it is judged by, where the maker has told one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub load: Option<Load>,
    /// Watch-outs that the maker has accepted.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub accepted: Vec<Accepted>,
    /// The shape that is kept to compare with.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ghost: Option<Arc<Ghost>>,
    /// Pictures under the faces, to be traced.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub traces: Vec<Trace>,
    /// Pipe hole, inside piece, notches and joints.
    #[serde(default, skip_serializing_if = "Fit::is_plain")]
    pub fit: Fit,
}

fn new_design_name() -> String {
    "New leg".to_owned()
}

fn is_bare(finish: &Finish) -> bool {
    *finish == Finish::Bare
}

fn letter_a() -> char {
    'A'
}

/// A board sawn well beside the pith, as most squares are.
fn plain_timber() -> Wood {
    Wood::Timber(Timber::new(Species::Oak, (-60.0).into(), (-80.0).into(), 3.0.into()))
}

impl Design {
    /// A 50 mm square leg, 700 mm long, with a gentle cyma on both faces, in plain oak.
    pub fn new(id: DesignId, letter: char) -> Design {
        let blank = Blank::square(50.0, 700.0);
        let cyma = Line::Shape(Shape::start(ShapeKind::Cyma, blank.length.mm(), blank.width.mm()));
        Design {
            id,
            name: new_design_name(),
            letter,
            blank,
            first: cyma.clone(),
            second: cyma,
            wood: plain_timber(),
            knots: Vec::new(),
            finish: Finish::Bare,
            load: None,
            accepted: Vec::new(),
            ghost: None,
            traces: Vec::new(),
            fit: Fit::default(),
        }
    }

    /// How its blank looks: the wood under its finish, with its knots.
    pub fn figure(&self) -> Figure {
        let size_mm = [self.blank.width.mm(), self.blank.depth.mm()];
        Figure::new(&self.wood).finished(self.finish).with_knots(&self.knots, size_mm)
    }

    /// Whether its blank looks like that of another design of the same size.
    pub fn looks_like(&self, other: &Design) -> bool {
        self.wood == other.wood && self.knots == other.knots && self.finish == other.finish
    }

    /// The line of one cut, as it was drawn: a link where it is one.
    pub fn line(&self, cut: Cut) -> &Line {
        match cut {
            Cut::First => &self.first,
            Cut::Second => &self.second,
        }
    }

    /// The line of one cut, to be changed.
    pub(crate) fn line_mut(&mut self, cut: Cut) -> &mut Line {
        match cut {
            Cut::First => &mut self.first,
            Cut::Second => &mut self.second,
        }
    }

    /// The line of one cut as if nothing were linked: where the second cut follows from the first, the line that follows.
    pub fn own_line(&self, cut: Cut) -> Cow<'_, Line> {
        self.line(cut).own(&self.first, &self.blank)
    }

    /// What of one cut can be taken hold of: its points, those of a live shape or a linked line too, or the pins of a
    /// batten. Taking hold of a point is what ends a live shape or a link.
    pub fn points(&self, cut: Cut) -> Vec<Point> {
        self.own_line(cut).points(self.blank.length.mm(), self.across_mm(cut))
    }

    /// Whether one of [`Design::points`] has handles to take hold of: a pin only while it holds a direction.
    pub fn has_handles(&self, cut: Cut, point: PointId) -> bool {
        match &*self.own_line(cut) {
            Line::Batten(batten) => batten.pins.iter().any(|pin| pin.id == point && pin.holds.slope().is_some()),
            Line::Points(_) | Line::Shape(_) | Line::Linked(_) => true,
        }
    }

    /// Whether [`Design::points`] of one cut are pins.
    pub fn is_batten(&self, cut: Cut) -> bool {
        matches!(&*self.own_line(cut), Line::Batten(_))
    }

    /// The points whose cubics are the line of one cut. Those of a batten are many.
    ///
    /// # Errors
    /// [`SawLineError`] when the line is not sound, which one of a checked project always is.
    pub fn cubic_points(&self, cut: Cut) -> Result<Vec<Point>, SawLineError> {
        self.own_line(cut).cubic_points(self.blank.length.mm(), self.across_mm(cut))
    }

    /// How wide the face of one cut is, mm: W for the first, D for the second.
    pub fn across_mm(&self, cut: Cut) -> f64 {
        match cut {
            Cut::First => self.blank.width.mm(),
            Cut::Second => self.blank.depth.mm(),
        }
    }

    /// The leg this design makes.
    ///
    /// # Errors
    /// [`LegError`] when the blank or one of the lines is not sound, which a checked project never has.
    pub fn leg(&self) -> Result<Leg, LegError> {
        Leg::new(&self.blank, &self.first, &self.second)
    }
}

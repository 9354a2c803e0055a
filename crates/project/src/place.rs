use cornerwise_geometry::Cut;
use std::fmt;

/// A place in a project, as a maker would point at it. Numbers count from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// The project as a whole.
    Project,
    /// The way it is printed.
    Paper(PaperPlace),
    /// The saw.
    Saw,
    /// The limits of watch-outs.
    Limits,
    /// The limits of seams and faces.
    WoodLimits,
    /// A design.
    Design {
        /// Its number in the list.
        design: usize,
    },
    /// The blank of a design.
    Blank {
        /// Its number in the list.
        design: usize,
    },
    /// A saw line.
    Cut {
        /// The number of its design in the list.
        design: usize,
        /// Which of its cuts.
        cut: Cut,
    },
    /// A point of a saw line.
    Point {
        /// The number of its design in the list.
        design: usize,
        /// Which of its cuts.
        cut: Cut,
        /// Its number in the line, from the top.
        point: usize,
    },
    /// The ghost of a design.
    Ghost {
        /// The number of its design in the list.
        design: usize,
        /// Which of its cuts, where it is about one.
        cut: Option<Cut>,
        /// The number of the point in the line, from the top, where it is about one.
        point: Option<usize>,
    },
    /// A pin of a batten.
    Pin {
        /// The number of its design in the list.
        design: usize,
        /// Which of its cuts.
        cut: Cut,
        /// Its number along the batten, from the top.
        pin: usize,
    },
    /// The wood of a design.
    Wood {
        /// The number of its design in the list.
        design: usize,
    },
    /// A wood of the maker's own.
    OwnWood {
        /// Its number in the list.
        number: usize,
    },
    /// A knot of a design's blank.
    Knot {
        /// The number of its design in the list.
        design: usize,
        /// Its number in the list of knots.
        knot: usize,
    },
    /// The fit of a design.
    Fit {
        /// The number of its design in the list.
        design: usize,
    },
    /// A picture of the project.
    Picture {
        /// Its number in the list.
        picture: usize,
    },
    /// The picture under a face.
    Trace {
        /// The number of its design in the list.
        design: usize,
        /// The cut on whose face it lies.
        cut: Cut,
    },
    /// The furniture.
    Furniture,
}

/// A part of the paper choice.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PaperPlace {
    /// The page.
    Page,
    /// The layout of the strip.
    Layout,
    /// The overlap of joined pages.
    Overlap,
    /// The measured check rule.
    Measured,
    /// The heights of the gauge.
    Gauge,
}

impl Place {
    /// The number of the design that the place is in, from 1, where it is in one; and the place in that design or else in
    /// the project, empty for a design as a whole.
    pub(crate) fn parts(self) -> (Option<usize>, String) {
        let point = |of: String, point: Option<usize>| match point {
            Some(point) => format!("{of}, point {point}"),
            None => of,
        };
        match self {
            Place::Project => (None, "the project".to_owned()),
            Place::Paper(PaperPlace::Page) => (None, "paper, page".to_owned()),
            Place::Paper(PaperPlace::Layout) => (None, "paper, layout".to_owned()),
            Place::Paper(PaperPlace::Overlap) => (None, "paper, overlap".to_owned()),
            Place::Paper(PaperPlace::Gauge) => (None, "paper, heights of the gauge".to_owned()),
            Place::Paper(PaperPlace::Measured) => (None, "paper, measured check rule".to_owned()),
            Place::Limits => (None, "limits".to_owned()),
            Place::WoodLimits => (None, "limits of seams and faces".to_owned()),
            Place::Saw => (None, "saw".to_owned()),
            Place::OwnWood { number } => (None, format!("own wood {number}")),
            Place::Picture { picture } => (None, format!("picture {picture}")),
            Place::Furniture => (None, "furniture".to_owned()),
            Place::Design { design } => (Some(design), String::new()),
            Place::Blank { design } => (Some(design), "blank".to_owned()),
            Place::Cut { design, cut } => (Some(design), cut.to_string()),
            Place::Point { design, cut, point } => (Some(design), format!("{cut}, point {point}")),
            Place::Ghost { design, cut, point: at } => {
                let ghost = cut.map_or_else(|| "ghost".to_owned(), |cut| format!("ghost, {cut}"));
                (Some(design), point(ghost, at))
            }
            Place::Pin { design, cut, pin } => (Some(design), format!("{cut}, pin {pin}")),
            Place::Wood { design } => (Some(design), "wood".to_owned()),
            Place::Knot { design, knot } => (Some(design), format!("knot {knot}")),
            Place::Fit { design } => (Some(design), "fit".to_owned()),
            Place::Trace { design, cut } => (Some(design), format!("picture under {}", cut.face())),
        }
    }
}

impl fmt::Display for Place {
    /// As it is found in a file, by number.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.parts() {
            (Some(design), part) if part.is_empty() => write!(f, "design {design}"),
            (Some(design), part) => write!(f, "design {design}, {part}"),
            (None, part) => f.write_str(&part),
        }
    }
}

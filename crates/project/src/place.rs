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

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Place::Project => f.write_str("the project"),
            Place::Paper(PaperPlace::Page) => f.write_str("paper, page"),
            Place::Paper(PaperPlace::Layout) => f.write_str("paper, layout"),
            Place::Paper(PaperPlace::Overlap) => f.write_str("paper, overlap"),
            Place::Paper(PaperPlace::Gauge) => f.write_str("paper, heights of the gauge"),
            Place::Paper(PaperPlace::Measured) => f.write_str("paper, measured check rule"),
            Place::Limits => f.write_str("limits"),
            Place::WoodLimits => f.write_str("limits of seams and faces"),
            Place::Saw => f.write_str("saw"),
            Place::Design { design } => write!(f, "design {design}"),
            Place::Blank { design } => write!(f, "design {design}, blank"),
            Place::Cut { design, cut } => write!(f, "design {design}, {cut}"),
            Place::Point { design, cut, point } => write!(f, "design {design}, {cut}, point {point}"),
            Place::Ghost { design, cut, point } => {
                write!(f, "design {design}, ghost")?;
                if let Some(cut) = cut {
                    write!(f, ", {cut}")?;
                }
                point.map_or(Ok(()), |point| write!(f, ", point {point}"))
            }
            Place::Pin { design, cut, pin } => write!(f, "design {design}, {cut}, pin {pin}"),
            Place::Wood { design } => write!(f, "design {design}, wood"),
            Place::OwnWood { number } => write!(f, "own wood {number}"),
            Place::Knot { design, knot } => write!(f, "design {design}, knot {knot}"),
            Place::Fit { design } => write!(f, "design {design}, fit"),
            Place::Picture { picture } => write!(f, "picture {picture}"),
            Place::Trace { design, cut } => write!(f, "design {design}, picture under {}", cut.face()),
            Place::Furniture => f.write_str("furniture"),
        }
    }
}

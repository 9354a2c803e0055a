use crate::blades::{BladeFault, check_own_blades};
use crate::own_woods::MAX_OWN_WOODS;
use crate::{
    CHECK_RULE_SHARE, Design, FORMAT, MAX_DESIGNS, MAX_NAME_CHARS, MAX_PICTURES, MAX_PLACES, MAX_POINTS_IN_PROJECT,
    MOST_INSIDE_BYTES, OVERLAP_MM, PageSize, PaperChoice, PaperPlace, PictureHash, Place, Project, ROLL_WIDTH_MM,
    StripLayout,
};
use cornerwise_geometry::fit::FitError;
use cornerwise_geometry::{
    Arris, BattenError, BlankError, Cut, Line, MAX_POINTS, MAX_SLOPE, ParameterValue, PointId, SawError, SawLineError,
    Shape,
};
use cornerwise_geometry::{LimitsError, LoadError};
use cornerwise_wood::{MOST_KNOTS, RowError, WoodError};
use thiserror::Error;

/// What is wrong with a project, and where: "design 2, first cut, point 4: the offset is not a sound number".
#[derive(Clone, Debug, PartialEq, Error)]
#[error("{place}: {fault}")]
pub struct ProjectError {
    /// Where.
    pub place: Place,
    /// What.
    pub fault: Fault,
}

/// What can be wrong with a project.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Fault {
    /// Not the format that this program writes.
    #[error("format {0} is not format {FORMAT}")]
    Format(u32),
    /// A name has too many characters.
    #[error("the name has {0} characters, and at most {MAX_NAME_CHARS} are taken")]
    LongName(usize),
    /// A name has a character that does not print, such as a line break.
    #[error("the name has a character that does not print (number {0})")]
    ControlCharacter(usize),
    /// The letter of a leg is neither a letter nor a digit.
    #[error("{0:?} is neither a letter nor a digit, and the pieces are marked with it")]
    Letter(char),
    /// A project needs a leg.
    #[error("it has no designs, and needs at least one")]
    NoDesigns,
    /// Too many designs.
    #[error("it has {0} designs, and at most {MAX_DESIGNS} are taken")]
    TooManyDesigns(usize),
    /// Too many points in all.
    #[error("its saw lines have {0} points in all, and at most {MAX_POINTS_IN_PROJECT} are taken")]
    TooManyPointsInAll(usize),
    /// Two designs share an id.
    #[error("id {0} is also the id of design {1}; leave the id out to get a new one")]
    SameDesignId(u32, usize),
    /// The id 0 stands for "not given".
    #[error("its id is 0, which stands for \"not given\"")]
    NoDesignId,
    /// A length of the paper is out of its range.
    #[error("{mm} mm is not within {least} mm to {most} mm")]
    OutOfRange {
        /// What it is, mm.
        mm: f64,
        /// The least it may be, mm.
        least: f64,
        /// The most it may be, mm.
        most: f64,
    },
    /// The measured check rule is too far from true to be corrected.
    #[error(
        "a rule of {rule_mm} mm cannot have measured {mm} mm: print the page again at 100 % and measure that \
         ({least:.1} mm to {most:.1} mm is taken)"
    )]
    CheckRule {
        /// What was said to be measured, mm.
        mm: f64,
        /// The rule's true length, mm.
        rule_mm: f64,
        /// The least that is taken, mm.
        least: f64,
        /// The most that is taken, mm.
        most: f64,
    },
    /// A strip is registered to an arris that its face does not have.
    #[error("the strip of face {face} cannot be registered to arris {arris}, only to arris {face} or {}", face + 1)]
    WrongArris {
        /// The face.
        face: u8,
        /// The arris.
        arris: u8,
    },
    /// A size of the blank.
    #[error(transparent)]
    Blank(#[from] BlankError),
    /// A line has less than two points.
    #[error("a saw line needs at least two points, and this one has {0}")]
    TooFewPoints(usize),
    /// A line has too many points.
    #[error("it has {0} points, and at most {MAX_POINTS} are taken")]
    TooManyPoints(usize),
    /// A number is NaN, infinite, or beyond any blank.
    #[error("{0} is not a sound number")]
    NotSound(&'static str),
    /// Two points of a line share an id.
    #[error("two of its points have the id {}", .0.0)]
    SamePointId(PointId),
    /// A point does not lie farther from the top than the one before it.
    #[error(
        "at {at_mm:.2} mm from the top it does not lie beyond the point before it, at {before_mm:.2} mm: a saw line \
         never runs back"
    )]
    RunsBack {
        /// Its distance from the top, mm.
        at_mm: f64,
        /// The distance of the point before it, mm.
        before_mm: f64,
    },
    /// A second sharp point.
    #[error("it is a second sharp point, after point {first}: the saw comes in from the two ends, so a cut has one")]
    TwoSharp {
        /// The number of the first one, from 1.
        first: usize,
    },
    /// The line is steeper than a saw line may be.
    #[error("the line is too steep near here, {s_mm:.1} mm from the top: its slope is {slope:.2}, at most {MAX_SLOPE}")]
    TooSteep {
        /// Where, mm from the top.
        s_mm: f64,
        /// Its slope there, offset per length, without sign.
        slope: f64,
    },
    /// The pins of a batten, or the batten along them.
    #[error(transparent)]
    Batten(BattenError),
    /// The first cut is linked.
    #[error("the first cut cannot follow from another one: only the second can be linked")]
    LinkedFirst,
    /// A parameter of a starting shape is out of its range.
    #[error("{name} of the {shape} is {value}, and must be {least} to {most}")]
    Parameter {
        /// The shape.
        shape: &'static str,
        /// The parameter.
        name: &'static str,
        /// Its value: mm for a length, otherwise a plain number.
        value: f64,
        /// The least it may be.
        least: f64,
        /// The most it may be.
        most: f64,
    },
    /// A limit of a watch-out.
    #[error(transparent)]
    Limits(#[from] LimitsError),
    /// A figure of the load.
    #[error(transparent)]
    Load(#[from] LoadError),
    /// An accepted watch-out is there twice, or its figure is no number.
    #[error("the accepted watch-out \"{0}\" is there twice or has no sound figure")]
    Accepted(&'static str),
    /// A blade of the maker's own that is none.
    #[error("blade {number} of the list: {fault}")]
    Blade {
        /// Its place, from 1.
        number: usize,
        /// What is wrong with it.
        fault: Box<BladeFault>,
    },
    /// A figure of the saw.
    #[error(transparent)]
    Saw(#[from] SawError),
    /// The wood.
    #[error(transparent)]
    Wood(#[from] WoodError),
    /// A figure of an own wood.
    #[error(transparent)]
    OwnWood(RowError),
    /// Two woods of one name.
    #[error("there is another wood of the name {0:?}: each needs a name of its own")]
    SameWoodName(String),
    /// An own wood that is not in the list.
    #[error("it is of {0:?}, and the project's own woods have none of that name")]
    NoSuchWood(String),
    /// Too many own woods.
    #[error("it has {0} own woods, and at most {MAX_OWN_WOODS} are taken")]
    TooManyOwnWoods(usize),
    /// Too many knots.
    #[error("it has {0} knots marked, and at most {MOST_KNOTS} are taken")]
    TooManyKnots(usize),
    /// The fit.
    #[error(transparent)]
    Fit(#[from] FitError),
    /// Too many pictures.
    #[error("it has {0} pictures, and at most {MAX_PICTURES} are taken")]
    TooManyPictures(usize),
    /// Too many bytes of pictures inside.
    #[error(
        "its pictures have {} MB inside its file, and at most {} MB are taken: keep large ones beside it",
        .0.div_ceil(1_000_000), MOST_INSIDE_BYTES / 1_000_000
    )]
    PicturesTooBig(usize),
    /// A picture is there twice.
    #[error("it is also picture {0}: a picture is stored once")]
    SamePicture(usize),
    /// A picture without pixels.
    #[error("a picture is at least one pixel wide and high")]
    EmptyPicture,
    /// The path of a picture beside the project is no path.
    #[error("the path of its file is empty, too long, or has a character that does not print")]
    PicturePath,
    /// A design uses a picture that is not there.
    #[error("it uses a picture that the project does not have: {0}")]
    NoSuchPicture(PictureHash),
    /// Two pictures under one face.
    #[error("there is another picture under this face, and one is taken")]
    TwoTraces,
    /// A figure of the picture under a face is out of its range.
    #[error("its {what} is {value}, and must be {least} to {most}")]
    TraceFigure {
        /// Which figure.
        what: &'static str,
        /// What it is.
        value: f64,
        /// The least it may be.
        least: f64,
        /// The most it may be.
        most: f64,
    },
    /// A size of the furniture is out of its range.
    #[error("the {what} is {mm} mm: it must be {least} mm to {most} mm")]
    FurnitureSize {
        /// Which size.
        what: &'static str,
        /// What it is, mm.
        mm: f64,
        /// The least it may be, mm.
        least: f64,
        /// The most it may be, mm.
        most: f64,
    },
    /// Too many legs, or none.
    #[error("it has places for {0} legs, and 1 to {MAX_PLACES} are taken")]
    LegsInRow(u32),
    /// A leg of no design.
    #[error("the leg in place {place} is of design {id}, and no design has that id; leave it out for the first one")]
    NoSuchStanding {
        /// The place, from 1.
        place: usize,
        /// The id.
        id: u32,
    },
}

impl Fault {
    /// This fault at a place.
    pub(crate) fn at(self, place: Place) -> ProjectError {
        ProjectError { place, fault: self }
    }
}

impl Project {
    /// Checks everything: the numbers are finite and within the limits of [`crate`], ids are unique, pages are sound,
    /// and every design makes a leg.
    ///
    /// # Errors
    /// [`ProjectError`] names the first place that is not sound.
    pub fn check(&self) -> Result<(), ProjectError> {
        self.check_frame()?;
        for (place, design) in self.designs.iter().enumerate() {
            design.check(place + 1)?;
        }
        Ok(())
    }

    /// [`Project::check`] without looking into the designs, except for their ids and the count of their points.
    pub(crate) fn check_frame(&self) -> Result<(), ProjectError> {
        if self.format != FORMAT {
            return Err(Fault::Format(self.format).at(Place::Project));
        }
        check_name(&self.name).map_err(|fault| fault.at(Place::Project))?;
        self.paper.check()?;
        self.limits.check().map_err(|error| Fault::from(error).at(Place::Limits))?;
        self.wood_limits.check().map_err(|error| Fault::from(error).at(Place::WoodLimits))?;
        if let Some(saw) = &self.saw {
            saw.check().map_err(|error| Fault::from(error).at(Place::Saw))?;
        }
        check_own_blades(&self.blades)
            .map_err(|(number, fault)| Fault::Blade { number, fault: Box::new(fault) }.at(Place::Project))?;
        self.check_own_woods()?;
        self.check_furniture()?;
        self.check_pictures()?;
        match self.designs.len() {
            0 => return Err(Fault::NoDesigns.at(Place::Project)),
            1..=MAX_DESIGNS => {}
            many => return Err(Fault::TooManyDesigns(many).at(Place::Project)),
        }
        let of = |first: &Line, second: &Line| drawn_points(first) + drawn_points(second);
        let of_ghost = |design: &Design| design.ghost.as_ref().map_or(0, |ghost| of(&ghost.first, &ghost.second));
        let points = self.designs.iter().map(|design| of(&design.first, &design.second) + of_ghost(design)).sum();
        if points > MAX_POINTS_IN_PROJECT {
            return Err(Fault::TooManyPointsInAll(points).at(Place::Project));
        }
        for (place, design) in self.designs.iter().enumerate() {
            if design.id.0 == 0 {
                return Err(Fault::NoDesignId.at(Place::Design { design: place + 1 }));
            }
            if let Some(other) = self.designs[..place].iter().position(|before| before.id == design.id) {
                return Err(Fault::SameDesignId(design.id.0, other + 1).at(Place::Design { design: place + 1 }));
            }
        }
        Ok(())
    }
}

impl Design {
    /// Checks one design; `number` is its place in the list, from 1.
    pub(crate) fn check(&self, number: usize) -> Result<(), ProjectError> {
        let here = Place::Design { design: number };
        check_name(&self.name).map_err(|fault| fault.at(here))?;
        if !self.letter.is_alphanumeric() {
            return Err(Fault::Letter(self.letter).at(here));
        }
        self.check_traces(number)?;
        self.blank.check().map_err(|error| Fault::from(error).at(Place::Blank { design: number }))?;
        for cut in Cut::ALL {
            self.check_line(number, cut)?;
        }
        if let Some(load) = &self.load {
            load.check().map_err(|error| Fault::from(error).at(here))?;
        }
        for (place, accepted) in self.accepted.iter().enumerate() {
            check_name(&accepted.reason).map_err(|fault| fault.at(here))?;
            let twice = self.accepted[..place].iter().any(|one| one.concern == accepted.concern);
            if twice || !accepted.value.is_finite() {
                return Err(Fault::Accepted(accepted.concern.title()).at(here));
            }
        }
        self.wood.check().map_err(|error| Fault::from(error).at(Place::Wood { design: number }))?;
        if self.knots.len() > MOST_KNOTS {
            return Err(Fault::TooManyKnots(self.knots.len()).at(Place::Wood { design: number }));
        }
        for (place, knot) in self.knots.iter().enumerate() {
            let here = Place::Knot { design: number, knot: place + 1 };
            knot.check().map_err(|error| Fault::from(error).at(here))?;
        }
        let fit = self.fit.check(self.blank.length.mm());
        fit.map_err(|error| Fault::from(error).at(Place::Fit { design: number }))?;
        match &self.ghost {
            Some(ghost) => ghost.design(self.id).check(number).map_err(|ProjectError { place, fault }| {
                let (cut, point) = match place {
                    Place::Cut { cut, .. } => (Some(cut), None),
                    Place::Point { cut, point, .. } => (Some(cut), Some(point)),
                    _ => (None, None),
                };
                fault.at(Place::Ghost { design: number, cut, point })
            }),
            None => Ok(()),
        }
    }

    fn check_line(&self, number: usize, cut: Cut) -> Result<(), ProjectError> {
        let here = Place::Cut { design: number, cut };
        if let Line::Shape(shape) = self.line(cut) {
            check_shape(shape).map_err(|fault| fault.at(here))?;
        }
        let line = self.own_line(cut);
        match line.solve(self.blank.length.mm(), self.across_mm(cut)) {
            Ok(_) => Ok(()),
            Err(error) => {
                let (number_in_line, fault) = line_fault(&line, error);
                let place = number_in_line.map_or(here, |point| match &*line {
                    Line::Batten(_) => Place::Pin { design: number, cut, pin: point },
                    _ => Place::Point { design: number, cut, point },
                });
                Err(fault.at(place))
            }
        }
    }
}

/// A line's fault, and the number (from 1) of the point or pin it lies at, where it lies at one that was drawn.
fn line_fault(line: &Line, error: SawLineError) -> (Option<usize>, Fault) {
    let number = |id: PointId| match line {
        Line::Points(points) => points.iter().position(|point| point.id == id).map(|place| place + 1),
        Line::Batten(batten) => batten.pins.iter().position(|pin| pin.id == id).map(|place| place + 1),
        Line::Shape(_) | Line::Linked(_) => None,
    };
    match error {
        SawLineError::TooFew(count) => (None, Fault::TooFewPoints(count)),
        SawLineError::TooMany(count) => (None, Fault::TooManyPoints(count)),
        SawLineError::NotSound { point, what } => (number(point), Fault::NotSound(what)),
        SawLineError::SameId(id) => (None, Fault::SamePointId(id)),
        SawLineError::RunsBack { point, at_mm, before_mm } => (number(point), Fault::RunsBack { at_mm, before_mm }),
        SawLineError::TwoSharp { first, second } => {
            (number(second), Fault::TwoSharp { first: number(first).unwrap_or(1) })
        }
        SawLineError::TooSteep { point, s_mm, slope } => (number(point), Fault::TooSteep { s_mm, slope }),
        SawLineError::Batten(error) => (error.pin().and_then(number), Fault::Batten(error)),
        SawLineError::Linked => (None, Fault::LinkedFirst),
    }
}

/// How many points of a line are stored.
fn drawn_points(line: &Line) -> usize {
    match line {
        Line::Points(points) => points.len(),
        Line::Batten(batten) => batten.pins.len(),
        Line::Shape(_) | Line::Linked(_) => 0,
    }
}

fn check_shape(shape: &Shape) -> Result<(), Fault> {
    for parameter in shape.parameters() {
        let value = match &parameter.value {
            ParameterValue::Length(length) => length.mm(),
            ParameterValue::Count(count) => f64::from(*count),
            ParameterValue::Number(number) => *number,
        };
        let (shape, name, least, most) = (shape.name(), parameter.name, parameter.least, parameter.most);
        if !(least..=most).contains(&value) {
            return Err(Fault::Parameter { shape, name, value, least, most });
        }
    }
    Ok(())
}

pub(crate) fn check_name(name: &str) -> Result<(), Fault> {
    let count = name.chars().count();
    if count > MAX_NAME_CHARS {
        return Err(Fault::LongName(count));
    }
    match name.chars().position(does_not_print) {
        Some(place) => Err(Fault::ControlCharacter(place + 1)),
        None => Ok(()),
    }
}

/// Control characters, and the marks that break a line or turn the direction of the text around them: a name must look
/// the same in a list, on paper and in a file.
fn does_not_print(c: char) -> bool {
    c.is_control() || matches!(c, '\u{2028}' | '\u{2029}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

impl PaperChoice {
    fn check(&self) -> Result<(), ProjectError> {
        if let PageSize::Roll { width } = &self.page {
            within(width.mm(), ROLL_WIDTH_MM, PaperPlace::Page)?;
        }
        if let StripLayout::PerFace { face_1_by, face_2_by } = self.layout {
            for (face, arris, fits) in [
                (1, face_1_by, matches!(face_1_by, Arris::One | Arris::Two)),
                (2, face_2_by, matches!(face_2_by, Arris::Two | Arris::Three)),
            ] {
                if !fits {
                    let fault = Fault::WrongArris { face, arris: arris.number() };
                    return Err(fault.at(Place::Paper(PaperPlace::Layout)));
                }
            }
        }
        within(self.overlap.mm(), OVERLAP_MM, PaperPlace::Overlap)?;
        for at in &self.gauge_at {
            within(at.mm(), GAUGE_MM, PaperPlace::Gauge)?;
        }
        let rule_mm = self.measured.rule.mm();
        let [least, most] = CHECK_RULE_SHARE.map(|share| share * rule_mm);
        for mm in [self.measured.across.mm(), self.measured.along.mm()] {
            if !(least..=most).contains(&mm) {
                let fault = Fault::CheckRule { mm, rule_mm, least, most };
                return Err(fault.at(Place::Paper(PaperPlace::Measured)));
            }
        }
        Ok(())
    }
}

/// Where a section of the gauge may be asked for, mm from the top: one beyond the foot is drawn at the foot.
const GAUGE_MM: [f64; 2] = [0.0, 1e5];

fn within(mm: f64, [least, most]: [f64; 2], place: PaperPlace) -> Result<(), ProjectError> {
    if (least..=most).contains(&mm) {
        Ok(())
    } else {
        Err(Fault::OutOfRange { mm, least, most }.at(Place::Paper(place)))
    }
}

//! What can be wrong with a wood.

use cornerwise_geometry::Face;
use thiserror::Error;

/// A wood that cannot be built, with the number the maker gave.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum WoodError {
    /// The list of layers is empty.
    #[error("the list of layers is empty: it needs one layer at least")]
    NoLayers,
    /// More layers than [`MOST_LAYERS`](crate::MOST_LAYERS).
    #[error("the list has {count} layers: {most} is the most")]
    TooManyLayers {
        /// How many there are.
        count: usize,
        /// How many there may be.
        most: usize,
    },
    /// A layer too thin or too thick to be one.
    #[error("layer {number} is {mm} mm thick: it must be {least} mm to {most} mm")]
    Thickness {
        /// Which layer of the list, from 1.
        number: usize,
        /// What it is, mm.
        mm: f64,
        /// The least it may be, mm.
        least: f64,
        /// The most it may be, mm.
        most: f64,
    },
    /// No columns, or too many.
    #[error("there are {count} columns {what}: there must be 1 to {most}")]
    ColumnCount {
        /// Which way.
        what: &'static str,
        /// How many there are.
        count: usize,
        /// How many there may be.
        most: usize,
    },
    /// A column too narrow or too wide to be one.
    #[error("column {number} {what} is {mm} mm wide: it must be {least} mm to {most} mm")]
    ColumnWidth {
        /// Which way.
        what: &'static str,
        /// Which column of the list, from 1.
        number: usize,
        /// What it is, mm.
        mm: f64,
        /// The least it may be, mm.
        least: f64,
        /// The most it may be, mm.
        most: f64,
    },
    /// Not one stack of blocks for each column.
    #[error(
        "there {} of blocks, and {across} columns across face 1 by {deep} across face 2 need {}",
        if *.count == 1 { "is 1 stack".to_owned() } else { format!("are {count} stacks") },
        across * deep
    )]
    Columns {
        /// How many stacks there are.
        count: usize,
        /// How many columns are listed across face 1.
        across: usize,
        /// How many are listed across face 2.
        deep: usize,
    },
    /// A column without blocks, or with too many.
    #[error("column {column} has {count} blocks: it must have 1 to {most}")]
    BlockCount {
        /// Which stack of the list, from 1.
        column: usize,
        /// How many blocks it has.
        count: usize,
        /// How many it may have.
        most: usize,
    },
    /// A block too low or too high to be one.
    #[error("block {block} of column {column} is {mm} mm high: it must be {least} mm to {most} mm")]
    BlockHeight {
        /// Which stack of the list, from 1.
        column: usize,
        /// Which of its blocks, from 1.
        block: usize,
        /// What it is, mm.
        mm: f64,
        /// The least it may be, mm.
        least: f64,
        /// The most it may be, mm.
        most: f64,
    },
    /// Two photos of one face.
    #[error("{face} has two photos: it can have one")]
    TwoPhotos {
        /// Which face.
        face: Face,
    },
    /// Corners that are not those of a photographed face.
    #[error(
        "the corners of the photo of {face} make no face: they must lie in the picture and go round clockwise from the \
         top end's upper one, none folded in"
    )]
    PhotoCorners {
        /// Which face.
        face: Face,
    },
    /// A share that is not a number or out of its range.
    #[error("{what} is {value}: it must be {least} to {most}")]
    Share {
        /// Which share.
        what: &'static str,
        /// What it is.
        value: f64,
        /// The least it may be.
        least: f64,
        /// The most it may be.
        most: f64,
    },
    /// A limit of seams or faces that is not a number or out of its range.
    #[error(transparent)]
    Limit(Box<LimitError>),
    /// An angle that is not a number or out of its range.
    #[error("{what} is {deg} degrees: it must be {least} to {most} degrees")]
    Angle {
        /// Which angle.
        what: &'static str,
        /// What it is, degrees.
        deg: f64,
        /// The least it may be, degrees.
        least: f64,
        /// The most it may be, degrees.
        most: f64,
    },
    /// A length that is not a number or out of its range.
    #[error("{what} is {mm} mm: it must be {least} mm to {most} mm")]
    Size {
        /// Which length.
        what: &'static str,
        /// What it is, mm.
        mm: f64,
        /// The least it may be, mm.
        least: f64,
        /// The most it may be, mm.
        most: f64,
    },
}

/// A limit of seams or faces that does not fit.
#[derive(Clone, Debug, PartialEq, Error)]
#[error(
    "{what} is {value}{unit}: it must be {least}{unit} to {most}{unit}{}",
    if because.is_empty() { String::new() } else { format!(" ({because})") }
)]
pub struct LimitError {
    /// Which limit, as it is called on screen.
    pub what: &'static str,
    /// What it is.
    pub value: f64,
    /// The least it may be.
    pub least: f64,
    /// The most it may be.
    pub most: f64,
    /// What it is measured in, as it stands behind a number.
    pub unit: &'static str,
    /// What bounds it, where another limit does.
    pub because: &'static str,
}

pub(crate) fn size(what: &'static str, mm: f64, least: f64, most: f64) -> Result<(), WoodError> {
    // NaN is in no range, so it is refused here too.
    if (least..=most).contains(&mm) { Ok(()) } else { Err(WoodError::Size { what, mm, least, most }) }
}

pub(crate) fn share(what: &'static str, value: f64, least: f64, most: f64) -> Result<(), WoodError> {
    if (least..=most).contains(&value) { Ok(()) } else { Err(WoodError::Share { what, value, least, most }) }
}

pub(crate) fn angle(what: &'static str, deg: f64, least: f64, most: f64) -> Result<(), WoodError> {
    if (least..=most).contains(&deg) { Ok(()) } else { Err(WoodError::Angle { what, deg, least, most }) }
}

/// `v` held within a range, NaN at its least: what is used where a number was never checked.
pub(crate) fn held(v: f64, least: f64, most: f64) -> f64 {
    if v > least { v.min(most) } else { least }
}

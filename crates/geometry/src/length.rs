//! A length as the maker typed it, and how lengths are shown.

mod arithmetic;
mod parse;
mod rational;
mod sizes;
mod told;
mod units;

use std::fmt;
use std::sync::Arc;

use serde::de::{self, MapAccess, Visitor};
use serde::ser::SerializeStruct;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use thiserror::Error;

use parse::Origin;
pub use sizes::BlankSizes;
pub use units::{Finest, Units};

/// Millimetres in an inch, exactly (international yard and pound agreement, 1959).
pub const MM_PER_INCH: f64 = 25.4;

/// A length in millimetres that remembers the text it was typed as, so that `2 3/4"` stays `2 3/4"`.
///
/// In a file it is a bare number of millimetres, or the typed text as a string. Text that names a size of the blank, such
/// as `W/2 - 3 mm`, says nothing without the blank: it stands in the file beside its value,
/// `(mm: 22.0, typed: "W/2 - 3 mm")`, and the value counts. It does not follow the blank.
#[derive(Clone, Debug, Default)]
pub struct Length {
    mm: f64,
    typed: Option<Arc<str>>,
    /// Whether the typed text names a size of the blank.
    of_blank: bool,
}

/// The unit that a bare number is taken in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Unit {
    /// Millimetres.
    Mm,
    /// Inches.
    Inch,
}

/// Why a text is not a length.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum LengthError {
    /// Nothing was typed.
    #[error("a length is missing: type a number such as 70, 69.85 mm or 2 3/4\"")]
    Empty,
    /// The text is far too long to be one length.
    #[error("this is too long for one length (at most {} characters)", parse::LONGEST_TEXT)]
    TooLong,
    /// A part of the text is not understood.
    #[error("\"{part}\" is not part of a length: type a number such as 70, 69.85 mm or 2 3/4\"")]
    NotUnderstood {
        /// The part that was not understood.
        part: String,
    },
    /// A whole number, a hyphen and a fraction, or one stroke after another.
    #[error("\"{part}\" can be read in two ways: type {one} or {two}")]
    TwoWays {
        /// What can be read in two ways.
        part: String,
        /// How to type the one reading.
        one: String,
        /// How to type the other.
        two: String,
    },
    /// A size of the blank where there is no blank.
    #[error("W, D and L stand for the blank's width, depth and length, and mean nothing here")]
    NoBlank,
    /// Something to reckon with is missing.
    #[error("a number, W, D or L is missing {}", if after.is_empty() { "at the start".to_owned() } else { format!("after \"{after}\"") })]
    Missing {
        /// What stands before it.
        after: String,
    },
    /// Two quantities in a row.
    #[error("put +, -, * or / between \"{before}\" and \"{after}\"")]
    NotJoined {
        /// The first, and what stands before it.
        before: String,
        /// The second, and what follows it.
        after: String,
    },
    /// Brackets that do not pair.
    #[error("a bracket is {what}")]
    Bracket {
        /// What is wrong with it.
        what: &'static str,
    },
    /// Brackets in brackets in brackets.
    #[error("too many brackets lie in one another")]
    TooDeep,
    /// A length times a length.
    #[error("a length times a length is an area: divide first, as in W / L * D")]
    Area,
    /// A number over a length.
    #[error("a number divided by a length (\"{divisor}\") is not a length")]
    OverLength {
        /// What it was divided by.
        divisor: String,
    },
    /// Something over nothing.
    #[error("\"{divisor}\" is 0, and nothing can be divided by 0")]
    OverNothing {
        /// What it was divided by.
        divisor: String,
    },
    /// A length over a length, and nothing else.
    #[error("a length divided by a length is a plain number: multiply it by a length, as in W / L * D")]
    NotALength,
    /// A length and a ratio of lengths added.
    #[error("a length and a plain number cannot be added")]
    NotAlike,
    /// A fraction has nothing below its stroke.
    #[error("a fraction of nothing: the number below the stroke is 0")]
    OverZero,
    /// A comma with three digits after it: tenths to one maker, thousands to another.
    #[error("\"{number}\" can be read in two ways: type {} or {}", number.replace(',', "."), number.replace(',', ""))]
    TwoReadings {
        /// The number.
        number: String,
    },
    /// The number is not finite or has too many digits.
    #[error("this number has too many digits for a length")]
    TooManyDigits,
}

impl LengthError {
    fn two_ways(part: &str, one: &str, two: &str) -> LengthError {
        LengthError::TwoWays { part: part.trim().to_owned(), one: one.to_owned(), two: two.to_owned() }
    }
}

impl Length {
    /// Nothing long.
    pub const ZERO: Length = Length::from_mm(0.0);

    /// A length that was not typed: dragged, computed or read as a number.
    pub const fn from_mm(mm: f64) -> Length {
        Length { mm, typed: None, of_blank: false }
    }

    /// Its value in millimetres.
    pub fn mm(&self) -> f64 {
        self.mm
    }

    /// The text it was typed as, with its unit, where it was typed.
    pub fn typed(&self) -> Option<&str> {
        self.typed.as_deref()
    }

    /// The text it was typed as, where that means the same everywhere: it names no size of a blank.
    pub fn text(&self) -> Option<&str> {
        self.typed().filter(|_| !self.of_blank)
    }

    /// The text it was typed as, where on a blank of these sizes it still comes to its value.
    pub fn text_on(&self, sizes: &BlankSizes) -> Option<&str> {
        let typed = self.typed()?;
        let still = !self.of_blank || Length::parse_on(typed, Unit::Mm, sizes).is_ok_and(|now| now.mm == self.mm);
        still.then_some(typed)
    }

    /// This length at a new value: with the text it was typed as where that is still its value.
    #[must_use]
    pub(crate) fn changed(&self, mm: f64) -> Length {
        if self.mm == mm { self.clone() } else { Length::from_mm(mm) }
    }

    /// Reads a typed length: a decimal number, a fraction or a mixed number (`2 3/4`, `2-3/4`), then a unit (`mm`, `cm`,
    /// `m`, `in`, `"`, `ft`, `'`); feet may be followed by inches. A bare number is in `unit_if_none`. Or arithmetic
    /// with such lengths and plain numbers, `2*(1 1/2" + 3)`. The value is the nearest f64 to the exact rational.
    ///
    /// Text that is one length is read as one: `2-3/4"` is a mixed number. With room round the hyphen it could as well
    /// be a subtraction, and both are offered.
    ///
    /// # Errors
    /// [`LengthError`] says what is not understood, and how to type what is ambiguous.
    pub fn parse(text: &str, unit_if_none: Unit) -> Result<Length, LengthError> {
        Length::read(text, unit_if_none, None, Origin::Typed)
    }

    /// As [`Length::parse`], with `W`, `D` and `L` for the sizes of a blank, each taken as the decimal number it is
    /// shown as (69.85, not the f64 beside it). The value is exact as long as the digits allow it.
    ///
    /// # Errors
    /// [`LengthError`] says what is not understood, and how to type what is ambiguous.
    pub fn parse_on(text: &str, unit_if_none: Unit, sizes: &BlankSizes) -> Result<Length, LengthError> {
        Length::read(text, unit_if_none, Some(sizes), Origin::Typed)
    }

    fn read(text: &str, unit_if_none: Unit, sizes: Option<&BlankSizes>, origin: Origin) -> Result<Length, LengthError> {
        let parse::Read { mm, typed, of_blank } = parse::parse(text, unit_if_none, sizes, origin)?;
        Ok(Length { mm, typed, of_blank })
    }

    /// The length of a file that gives its value and its text.
    fn of_file(mm: f64, typed: &str) -> Result<Length, String> {
        /// No real blank: whether the text is sound does not depend on the sizes.
        const SOME: BlankSizes = BlankSizes { width_mm: 51.3, depth_mm: 47.9, length_mm: 703.7 };
        if !mm.is_finite() {
            return Err("a length must be a finite number".to_owned());
        }
        match parse::parse(typed, Unit::Mm, Some(&SOME), Origin::File) {
            Ok(read) if !read.of_blank && read.mm != mm => {
                Err(format!("\"{typed}\" is {} mm, and not {mm} mm: leave one of them out", read.mm))
            }
            Ok(read) => Ok(Length { mm, typed: read.typed, of_blank: read.of_blank }),
            // On another blank it may have been something.
            Err(LengthError::OverNothing { .. }) => Ok(Length { mm, typed: Some(Arc::from(typed)), of_blank: true }),
            Err(error) => Err(error.to_string()),
        }
    }
}

impl From<f64> for Length {
    fn from(mm: f64) -> Length {
        Length::from_mm(mm)
    }
}

impl PartialEq for Length {
    fn eq(&self, other: &Length) -> bool {
        self.mm == other.mm && self.typed == other.typed
    }
}

impl Serialize for Length {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match &self.typed {
            Some(text) if self.of_blank => {
                let mut both = serializer.serialize_struct("Length", 2)?;
                both.serialize_field("mm", &self.mm)?;
                both.serialize_field("typed", &**text)?;
                both.end()
            }
            Some(text) => serializer.serialize_str(text),
            None => serializer.serialize_f64(self.mm),
        }
    }
}

impl<'de> Deserialize<'de> for Length {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Length, D::Error> {
        struct LengthVisitor;
        /// What stands in a file for a length that depends on the blank.
        #[derive(Deserialize)]
        #[serde(field_identifier, rename_all = "snake_case")]
        enum Part {
            Mm,
            Typed,
        }
        impl<'de> Visitor<'de> for LengthVisitor {
            type Value = Length;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a length: a number of millimetres, or text such as \"2 3/4 in\"")
            }

            fn visit_f64<E: de::Error>(self, mm: f64) -> Result<Length, E> {
                if mm.is_finite() {
                    Ok(Length::from_mm(mm))
                } else {
                    Err(E::custom("a length must be a finite number"))
                }
            }

            #[expect(clippy::cast_precision_loss, reason = "whole millimetres beyond 2^53 are refused by every check")]
            fn visit_i64<E: de::Error>(self, mm: i64) -> Result<Length, E> {
                self.visit_f64(mm as f64)
            }

            #[expect(clippy::cast_precision_loss, reason = "whole millimetres beyond 2^53 are refused by every check")]
            fn visit_u64<E: de::Error>(self, mm: u64) -> Result<Length, E> {
                self.visit_f64(mm as f64)
            }

            fn visit_str<E: de::Error>(self, text: &str) -> Result<Length, E> {
                Length::read(text, Unit::Mm, None, Origin::File).map_err(|error| match error {
                    LengthError::NoBlank => E::custom(format!(
                        "\"{text}\" needs its value beside it, since it depends on the blank: (mm: 22.0, typed: \"{text}\")"
                    )),
                    error => E::custom(error),
                })
            }

            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Length, A::Error> {
                let (mut mm, mut typed) = (None::<f64>, None::<String>);
                while let Some(key) = map.next_key::<Part>()? {
                    match key {
                        Part::Mm if mm.is_none() => mm = Some(map.next_value()?),
                        Part::Typed if typed.is_none() => typed = Some(map.next_value()?),
                        Part::Mm => return Err(de::Error::duplicate_field("mm")),
                        Part::Typed => return Err(de::Error::duplicate_field("typed")),
                    }
                }
                let mm = mm.ok_or_else(|| de::Error::missing_field("mm"))?;
                let typed = typed.ok_or_else(|| de::Error::missing_field("typed"))?;
                Length::of_file(mm, &typed).map_err(de::Error::custom)
            }
        }
        deserializer.deserialize_any(LengthVisitor)
    }
}

#[cfg(test)]
mod tests;

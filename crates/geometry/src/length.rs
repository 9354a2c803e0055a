//! A length as the maker typed it, and how lengths are shown.

mod parse;
mod units;

use std::fmt;
use std::sync::Arc;

use serde::de::{self, Visitor};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use thiserror::Error;

pub use units::{Finest, Units};

/// Millimetres in an inch, exactly (international yard and pound agreement, 1959).
pub const MM_PER_INCH: f64 = 25.4;

/// A length in millimetres that remembers the text it was typed as, so that `2 3/4"` stays `2 3/4"`.
///
/// In a file it is a bare number of millimetres, or the typed text as a string.
#[derive(Clone, Debug, Default)]
pub struct Length {
    mm: f64,
    typed: Option<Arc<str>>,
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

impl Length {
    /// Nothing long.
    pub const ZERO: Length = Length::from_mm(0.0);

    /// A length that was not typed: dragged, computed or read as a number.
    pub const fn from_mm(mm: f64) -> Length {
        Length { mm, typed: None }
    }

    /// Its value in millimetres.
    pub fn mm(&self) -> f64 {
        self.mm
    }

    /// The text it was typed as, with its unit, where it was typed.
    pub fn typed(&self) -> Option<&str> {
        self.typed.as_deref()
    }

    /// Reads a typed length: a decimal number, a fraction or a mixed number (`2 3/4`, `2-3/4`), then a unit (`mm`, `cm`,
    /// `m`, `in`, `"`, `ft`, `'`); feet may be followed by inches. A bare number is in `unit_if_none`. The value is
    /// the nearest f64 to the exact rational.
    ///
    /// # Errors
    /// [`LengthError`] names the part that is not understood.
    pub fn parse(text: &str, unit_if_none: Unit) -> Result<Length, LengthError> {
        let (mm, typed) = parse::parse(text, unit_if_none)?;
        Ok(Length { mm, typed })
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
            Some(text) => serializer.serialize_str(text),
            None => serializer.serialize_f64(self.mm),
        }
    }
}

impl<'de> Deserialize<'de> for Length {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Length, D::Error> {
        struct LengthVisitor;
        impl Visitor<'_> for LengthVisitor {
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
                Length::parse(text, Unit::Mm).map_err(E::custom)
            }
        }
        deserializer.deserialize_any(LengthVisitor)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Expected values are exact rationals worked by hand: inches times 127/5.
    #[test]
    fn typed_lengths_are_read() {
        let accepted = [
            ("2 3/4\"", 69.85),
            ("2-3/4\"", 69.85),
            ("2\u{be} in", 69.85),
            ("2 3/4 in.", 69.85),
            ("69.85 mm", 69.85),
            ("69,85 mm", 69.85),
            ("70", 70.0),
            ("70.", 70.0),
            (".5", 0.5),
            ("3/4\"", 19.05),
            ("-1/8\"", -3.175),
            ("\u{2212}1/8\u{2033}", -3.175),
            ("7 cm", 70.0),
            ("1.2m", 1200.0),
            ("2' 3\"", 685.8),
            ("2' 3 1/2\"", 698.5),
            ("2 ft", 609.6),
            ("2.75\"", 69.85),
            ("  12  ", 12.0),
            ("1/64 IN", 0.396875),
            ("0,125\"", 3.175),
            ("1234,125", 1234.125),
        ];
        for (text, mm) in accepted {
            assert_eq!(Length::parse(text, Unit::Mm).map(|l| l.mm()), Ok(mm), "{text}");
        }
        assert_eq!(Length::parse("2 3/4", Unit::Inch).unwrap().mm(), 69.85);
        assert_eq!(Length::parse("2 3/4", Unit::Inch).unwrap().typed(), Some("2 3/4\""));
        assert_eq!(Length::parse("70", Unit::Inch).unwrap().mm(), 1778.0);
    }

    #[test]
    fn what_is_not_a_length_is_refused() {
        for text in [
            "",
            " ",
            "abc",
            "2 3",
            "2 3/",
            "3/0",
            "1//2",
            "2 3/4 4/5",
            "1.5/2",
            "--2",
            "2 3/4 mm mm",
            "1e5",
            "NaN",
            "inf",
            "12345678901234567",
            "2\" 3'",
            "\"",
            "-",
            "5 %",
        ] {
            assert!(Length::parse(text, Unit::Mm).is_err(), "{text:?} was read");
        }
    }

    #[test]
    fn a_comma_that_may_stand_for_thousands_is_asked_about() {
        for text in ["1,200 mm", "69,850", "-1,200"] {
            let said = Length::parse(text, Unit::Mm).unwrap_err().to_string();
            assert!(said.contains("two ways"), "{text}: {said}");
        }
        let said = Length::parse("1,200 mm", Unit::Mm).unwrap_err().to_string();
        assert_eq!(said, "\"1,200\" can be read in two ways: type 1.200 or 1200");
    }

    #[test]
    fn typed_text_comes_back_as_it_was() {
        for text in ["2 3/4\"", "2-3/4 in", "69,85 mm"] {
            let length = Length::parse(text, Unit::Mm).unwrap();
            assert_eq!(length.typed(), Some(text));
            assert_eq!(Length::parse(length.typed().unwrap(), Unit::Inch).unwrap(), length);
        }
    }

    #[test]
    fn inches_are_shown_as_fractions_in_lowest_terms() {
        let sixteenths = Units::Inches(Finest::Sixteenth);
        assert_eq!(sixteenths.show(69.85), "2 3/4");
        assert_eq!(sixteenths.show(25.4), "1");
        assert_eq!(sixteenths.show(-3.175), "-1/8");
        assert_eq!(sixteenths.show(0.1), "0");
        assert_eq!(Units::Inches(Finest::SixtyFourth).show_with_unit(0.396875), "1/64\"");
        assert_eq!(Units::Millimetres.show(69.85), "69.85");
        assert_eq!(Units::Millimetres.show(70.0), "70");
        assert_eq!(Units::Millimetres.show(-0.001), "0");
    }

    #[test]
    fn what_is_shown_reads_back_to_the_shown_fraction() {
        for finest in Finest::ALL {
            for parts in -200..200 {
                let mm = f64::from(parts) / f64::from(finest.denominator()) * MM_PER_INCH;
                let read = Length::parse(&Units::Inches(finest).show(mm), Unit::Inch).unwrap();
                assert!((read.mm() - mm).abs() < 1e-9, "{parts}/{}", finest.denominator());
            }
        }
    }
}

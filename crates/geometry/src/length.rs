//! A length as the maker typed it, and how lengths are shown.

use std::fmt;
use std::sync::Arc;

use serde::de::{self, Visitor};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use thiserror::Error;

/// Millimetres in an inch, exactly (international yard and pound agreement, 1959).
pub const MM_PER_INCH: f64 = 25.4;

/// The longest text that is read as a length.
const LONGEST_TEXT: usize = 40;

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

/// The finest fraction of an inch that is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Finest {
    /// 1/16 in.
    #[default]
    Sixteenth,
    /// 1/32 in.
    ThirtySecond,
    /// 1/64 in.
    SixtyFourth,
}

/// The units a project is shown in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Units {
    /// Millimetres, to a hundredth.
    #[default]
    Millimetres,
    /// Inches as fractions.
    Inches(Finest),
}

/// Why a text is not a length.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum LengthError {
    /// Nothing was typed.
    #[error("a length is missing: type a number such as 70, 69.85 mm or 2 3/4\"")]
    Empty,
    /// The text is far too long to be one length.
    #[error("this is too long for one length (at most {LONGEST_TEXT} characters)")]
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
        let text = text.trim();
        if text.is_empty() {
            return Err(LengthError::Empty);
        }
        if text.chars().count() > LONGEST_TEXT {
            return Err(LengthError::TooLong);
        }
        let plain = plain_characters(text);
        let (sign, body) = match plain.trim_start().strip_prefix('-') {
            Some(rest) => (-1, rest),
            None => (1, plain.trim_start().strip_prefix('+').unwrap_or(&plain)),
        };
        let (quantity, rest) = read_quantity(body)?;
        let (unit, rest) = read_unit(rest);
        let mut total = quantity.times(unit.unwrap_or(unit_if_none.into()).tenths_of_mm())?;
        let mut rest = rest.trim();
        if unit == Some(TypedUnit::Foot) && !rest.is_empty() {
            let (inches, after) = read_quantity(rest.trim_start_matches('-'))?;
            let (inch, after) = read_unit(after);
            if !matches!(inch, Some(TypedUnit::Inch) | None) {
                return Err(LengthError::NotUnderstood { part: rest.to_owned() });
            }
            total = total.plus(inches.times(TypedUnit::Inch.tenths_of_mm())?)?;
            rest = after.trim();
        }
        if !rest.is_empty() {
            return Err(LengthError::NotUnderstood { part: rest.to_owned() });
        }
        let mm = f64::from(sign) * total.over_ten();
        let typed = match (unit, unit_if_none) {
            (Some(_), _) => Some(Arc::from(text)),
            (None, Unit::Inch) => Some(Arc::from(format!("{text}\""))),
            (None, Unit::Mm) if text.contains('/') => Some(Arc::from(format!("{text} mm"))),
            (None, Unit::Mm) => None,
        };
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

impl Finest {
    /// Every choice, coarsest first.
    pub const ALL: [Finest; 3] = [Finest::Sixteenth, Finest::ThirtySecond, Finest::SixtyFourth];

    /// The number below the stroke.
    pub fn denominator(self) -> u32 {
        match self {
            Finest::Sixteenth => 16,
            Finest::ThirtySecond => 32,
            Finest::SixtyFourth => 64,
        }
    }
}

impl Units {
    /// The unit a bare number is taken in.
    pub fn unit(self) -> Unit {
        match self {
            Units::Millimetres => Unit::Mm,
            Units::Inches(_) => Unit::Inch,
        }
    }

    /// `mm` as text without a unit: `69.85`, or the nearest fraction `2 3/4`.
    pub fn show(self, mm: f64) -> String {
        match self {
            Units::Millimetres => {
                let text = format!("{mm:.2}");
                let text = text.trim_end_matches('0').trim_end_matches('.');
                if text == "-0" { "0".to_owned() } else { text.to_owned() }
            }
            Units::Inches(finest) => show_inches(mm / MM_PER_INCH, finest.denominator()),
        }
    }

    /// `mm` as text with its unit: `69.85 mm`, or `2 3/4"`.
    pub fn show_with_unit(self, mm: f64) -> String {
        match self {
            Units::Millimetres => format!("{} mm", self.show(mm)),
            Units::Inches(_) => format!("{}\"", self.show(mm)),
        }
    }

    /// What stands in a field for `length`: the text as it was typed, or its value in these units.
    pub fn show_length(self, length: &Length) -> String {
        length.typed().map_or_else(|| self.show_with_unit(length.mm()), str::to_owned)
    }
}

/// `inches` to the nearest `1/denominator`, as a mixed number in lowest terms.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "lengths are checked to be under 100 km")]
fn show_inches(inches: f64, denominator: u32) -> String {
    let parts = (inches.abs() * f64::from(denominator)).round() as u64;
    let (whole, mut top, mut below) = (parts / u64::from(denominator), parts % u64::from(denominator), denominator);
    while top > 0 && top % 2 == 0 {
        top /= 2;
        below /= 2;
    }
    let sign = if inches < 0.0 && parts > 0 { "-" } else { "" };
    match (whole, top) {
        (whole, 0) => format!("{sign}{whole}"),
        (0, top) => format!("{sign}{top}/{below}"),
        (whole, top) => format!("{sign}{whole} {top}/{below}"),
    }
}

#[derive(Clone, Copy, PartialEq)]
enum TypedUnit {
    Mm,
    Cm,
    Metre,
    Inch,
    Foot,
}

impl TypedUnit {
    fn tenths_of_mm(self) -> i128 {
        match self {
            TypedUnit::Mm => 10,
            TypedUnit::Cm => 100,
            TypedUnit::Metre => 10_000,
            TypedUnit::Inch => 254,
            TypedUnit::Foot => 12 * 254,
        }
    }
}

impl From<Unit> for TypedUnit {
    fn from(unit: Unit) -> TypedUnit {
        match unit {
            Unit::Mm => TypedUnit::Mm,
            Unit::Inch => TypedUnit::Inch,
        }
    }
}

/// An exact fraction, never negative.
#[derive(Clone, Copy)]
struct Rational {
    top: i128,
    below: i128,
}

impl Rational {
    fn plus(self, other: Rational) -> Result<Rational, LengthError> {
        let top = (|| self.top.checked_mul(other.below)?.checked_add(other.top.checked_mul(self.below)?))();
        let below = self.below.checked_mul(other.below);
        top.zip(below).map(|(top, below)| Rational { top, below }).ok_or(LengthError::TooManyDigits)
    }

    fn times(self, factor: i128) -> Result<Rational, LengthError> {
        let top = self.top.checked_mul(factor).ok_or(LengthError::TooManyDigits)?;
        Ok(Rational { top, below: self.below })
    }

    /// A tenth of the value, rounded once: both numbers are reduced first, and are whole below 2^53 in practice.
    #[expect(clippy::cast_precision_loss, reason = "reduced to lowest terms first; longer numbers round")]
    fn over_ten(self) -> f64 {
        let below = self.below * 10;
        let divisor = greatest_common_divisor(self.top, below).max(1);
        (self.top / divisor) as f64 / (below / divisor) as f64
    }
}

fn greatest_common_divisor(a: i128, b: i128) -> i128 {
    if b == 0 { a } else { greatest_common_divisor(b, a % b) }
}

/// Typographic strokes, primes, minus signs and built fractions as the plain characters they stand for.
fn plain_characters(text: &str) -> String {
    let mut plain = String::with_capacity(text.len() + 8);
    for c in text.chars() {
        match c {
            '\u{2033}' | '\u{201d}' | '\u{201c}' => plain.push('"'),
            '\u{2032}' | '\u{2019}' => plain.push('\''),
            '\u{2212}' | '\u{2013}' | '\u{2010}' | '\u{2011}' => plain.push('-'),
            '\u{2044}' | '\u{2215}' => plain.push('/'),
            '\u{a0}' | '\u{202f}' | '\u{2009}' | '\t' => plain.push(' '),
            '\u{bc}' => plain.push_str(" 1/4"),
            '\u{bd}' => plain.push_str(" 1/2"),
            '\u{be}' => plain.push_str(" 3/4"),
            '\u{215b}' => plain.push_str(" 1/8"),
            '\u{215c}' => plain.push_str(" 3/8"),
            '\u{215d}' => plain.push_str(" 5/8"),
            '\u{215e}' => plain.push_str(" 7/8"),
            other => plain.push(other),
        }
    }
    plain
}

/// Reads a decimal number, a fraction or a mixed number from the start of `text`.
fn read_quantity(text: &str) -> Result<(Rational, &str), LengthError> {
    let (first, rest, whole) = read_number(text.trim_start())?;
    let after = rest.trim_start();
    if let Some(below) = after.strip_prefix('/') {
        return read_below(first, whole, below, text);
    }
    // A mixed number: a whole number, then a space or a hyphen, then a fraction.
    let gap = after.strip_prefix('-').or_else(|| (after.len() < rest.len()).then_some(after));
    if let Some(fraction) = gap.map(str::trim_start).filter(|f| whole && f.starts_with(|c: char| c.is_ascii_digit())) {
        let (top, below, top_whole) = read_number(fraction)?;
        let Some(below) = below.trim_start().strip_prefix('/') else {
            return Err(LengthError::NotUnderstood { part: fraction.trim_end().to_owned() });
        };
        let (part, rest) = read_below(top, top_whole, below, fraction)?;
        return Ok((first.plus(part)?, rest));
    }
    Ok((first, rest))
}

/// Reads what stands below the stroke of a fraction.
fn read_below<'a>(
    top: Rational,
    top_whole: bool,
    text: &'a str,
    fraction: &str,
) -> Result<(Rational, &'a str), LengthError> {
    let (below, rest, below_whole) = read_number(text.trim_start())?;
    if !(top_whole && below_whole) {
        return Err(LengthError::NotUnderstood { part: fraction.trim().to_owned() });
    }
    if below.top == 0 {
        return Err(LengthError::OverZero);
    }
    Ok((Rational { top: top.top, below: below.top }, rest))
}

/// Reads digits with at most one decimal point or comma. The flag says whether the number is whole.
fn read_number(text: &str) -> Result<(Rational, &str, bool), LengthError> {
    let mut value = Rational { top: 0, below: 1 };
    let (mut digits, mut decimal, mut end) = (0, false, 0);
    for (at, c) in text.char_indices() {
        if let Some(digit) = c.to_digit(10) {
            digits += 1;
            if digits > 15 {
                return Err(LengthError::TooManyDigits);
            }
            value.top = value.top * 10 + i128::from(digit);
            value.below *= if decimal { 10 } else { 1 };
        } else if matches!(c, '.' | ',') && !decimal {
            decimal = true;
        } else {
            break;
        }
        end = at + c.len_utf8();
    }
    if digits == 0 {
        let part = if text.is_empty() { "nothing after it".to_owned() } else { text.trim_end().to_owned() };
        return Err(LengthError::NotUnderstood { part });
    }
    Ok((value, &text[end..], !decimal))
}

/// Reads a unit from the start of `text`, where one stands there.
fn read_unit(text: &str) -> (Option<TypedUnit>, &str) {
    const NAMES: [(&str, TypedUnit); 14] = [
        ("millimetres", TypedUnit::Mm),
        ("millimeters", TypedUnit::Mm),
        ("mm", TypedUnit::Mm),
        ("cm", TypedUnit::Cm),
        ("inches", TypedUnit::Inch),
        ("inch", TypedUnit::Inch),
        ("in", TypedUnit::Inch),
        ("''", TypedUnit::Inch),
        ("\"", TypedUnit::Inch),
        ("feet", TypedUnit::Foot),
        ("foot", TypedUnit::Foot),
        ("ft", TypedUnit::Foot),
        ("'", TypedUnit::Foot),
        ("m", TypedUnit::Metre),
    ];
    let text = text.trim_start();
    for (name, unit) in NAMES {
        if text.get(..name.len()).is_some_and(|start| start.eq_ignore_ascii_case(name)) {
            let rest = &text[name.len()..];
            let rest = if name == "in" || name == "ft" { rest.strip_prefix('.').unwrap_or(rest) } else { rest };
            return (Some(unit), rest);
        }
    }
    (None, text)
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

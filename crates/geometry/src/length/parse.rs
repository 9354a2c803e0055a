//! Reading a typed length, exactly.

use std::sync::Arc;

use super::rational::Rational;
use super::{BlankSizes, LengthError, Unit, arithmetic};

/// The longest text that is read as a length.
pub(super) const LONGEST_TEXT: usize = 80;

/// Where a text comes from. A file keeps the meaning that it always had; what is typed now is asked about where it could
/// be meant in two ways.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Origin {
    Typed,
    File,
}

/// A text that was read: its value, the text to keep, and whether that names a size of the blank.
pub(super) struct Read {
    pub mm: f64,
    pub typed: Option<Arc<str>>,
    pub of_blank: bool,
}

/// One length, or arithmetic where it is not one.
pub(super) fn parse(
    text: &str,
    unit_if_none: Unit,
    sizes: Option<&BlankSizes>,
    origin: Origin,
) -> Result<Read, LengthError> {
    let text = text.trim();
    if text.is_empty() {
        return Err(LengthError::Empty);
    }
    if text.chars().count() > LONGEST_TEXT {
        return Err(LengthError::TooLong);
    }
    let plain = Plain::new(text);
    match one_length(text, &plain.text, unit_if_none, origin) {
        Ok(read) => Ok(read),
        Err(error @ LengthError::TwoWays { .. }) => Err(error),
        Err(_) => arithmetic::parse(text, &plain, unit_if_none, sizes),
    }
}

/// A sign and one quantity with its unit: the whole text has always meant that, so arithmetic does not get to see it.
fn one_length(text: &str, plain: &str, unit_if_none: Unit, origin: Origin) -> Result<Read, LengthError> {
    let (negative, body) = match plain.trim_start().strip_prefix('-') {
        Some(rest) => (true, rest),
        None => (false, plain.trim_start().strip_prefix('+').unwrap_or(plain)),
    };
    let (quantity, rest) = read_quantity(body, origin)?;
    let (unit, rest) = read_unit(rest);
    let mut total = times(quantity, unit.unwrap_or(unit_if_none.into()).mm())?;
    let mut rest = rest;
    if unit == Some(TypedUnit::Foot) && !rest.trim().is_empty() {
        let after_hyphen = rest.trim_start().trim_start_matches('-');
        let (inches, after) = read_quantity(after_hyphen, origin)?;
        let (inch, after) = read_unit(after);
        if !matches!(inch, Some(TypedUnit::Inch) | None) {
            return Err(LengthError::NotUnderstood { part: rest.trim().to_owned() });
        }
        let hyphen = after_hyphen.len() < rest.trim_start().len();
        if hyphen && origin == Origin::Typed && (rest.starts_with(' ') || after_hyphen.starts_with(' ')) {
            let (feet, inches) = (upto(body, rest).trim(), upto(after_hyphen, after).trim());
            return Err(LengthError::two_ways(body, &format!("{feet} {inches}"), &format!("({feet}) - {inches}")));
        }
        total = plus(total, times(inches, TypedUnit::Inch.mm())?)?;
        rest = after;
    }
    let rest = rest.trim();
    if !rest.is_empty() {
        return Err(LengthError::NotUnderstood { part: rest.to_owned() });
    }
    let total = if negative { total.negated() } else { total };
    let typed = match (unit, unit_if_none) {
        (Some(_), _) => Some(Arc::from(text)),
        (None, Unit::Inch) => Some(Arc::from(format!("{text}\""))),
        (None, Unit::Mm) if text.contains('/') => Some(Arc::from(format!("{text} mm"))),
        (None, Unit::Mm) => None,
    };
    Ok(Read { mm: total.nearest(), typed, of_blank: false })
}

/// What stands in `text` before `rest`, which is its end.
pub(super) fn upto<'a>(text: &'a str, rest: &str) -> &'a str {
    text.get(..text.len().saturating_sub(rest.len())).unwrap_or(text)
}

fn plus(a: Rational, b: Rational) -> Result<Rational, LengthError> {
    a.plus(b).ok_or(LengthError::TooManyDigits)
}

pub(super) fn times(a: Rational, b: Rational) -> Result<Rational, LengthError> {
    a.times(b).ok_or(LengthError::TooManyDigits)
}

#[derive(Clone, Copy, PartialEq)]
pub(super) enum TypedUnit {
    Mm,
    Cm,
    Metre,
    Inch,
    Foot,
}

impl TypedUnit {
    /// Millimetres in it.
    pub fn mm(self) -> Rational {
        let tenths = match self {
            TypedUnit::Mm => 10,
            TypedUnit::Cm => 100,
            TypedUnit::Metre => 10_000,
            TypedUnit::Inch => 254,
            TypedUnit::Foot => 12 * 254,
        };
        Rational::new(tenths, 10).unwrap_or(Rational::ONE)
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

/// A text with typographic strokes, primes, minus signs and built fractions as the plain characters they stand for.
pub(super) struct Plain {
    pub text: String,
    /// For each byte of `text`, where the character that it came from ends in the original.
    ends: Vec<usize>,
}

impl Plain {
    fn new(original: &str) -> Plain {
        let mut plain = Plain { text: String::with_capacity(original.len() + 8), ends: Vec::new() };
        for (at, c) in original.char_indices() {
            match plain_character(c) {
                Some(text) => plain.text.push_str(text),
                None => plain.text.push(c),
            }
            plain.ends.resize(plain.text.len(), at + c.len_utf8());
        }
        plain
    }

    /// Where in the original the first `bytes` of the plain text end.
    pub fn original_end(&self, bytes: usize) -> usize {
        bytes.checked_sub(1).and_then(|last| self.ends.get(last)).copied().unwrap_or(0)
    }
}

fn plain_character(c: char) -> Option<&'static str> {
    Some(match c {
        '\u{2033}' | '\u{201d}' | '\u{201c}' => "\"",
        '\u{2032}' | '\u{2019}' => "'",
        '\u{2212}' | '\u{2013}' | '\u{2010}' | '\u{2011}' => "-",
        '\u{2044}' | '\u{2215}' | '\u{f7}' => "/",
        '\u{d7}' | '\u{b7}' | '\u{22c5}' => "*",
        '\u{a0}' | '\u{202f}' | '\u{2009}' | '\t' => " ",
        '\u{bc}' => " 1/4",
        '\u{bd}' => " 1/2",
        '\u{be}' => " 3/4",
        '\u{215b}' => " 1/8",
        '\u{215c}' => " 3/8",
        '\u{215d}' => " 5/8",
        '\u{215e}' => " 7/8",
        _ => return None,
    })
}

/// Reads a decimal number, a fraction or a mixed number from the start of `text`.
fn read_quantity(text: &str, origin: Origin) -> Result<(Rational, &str), LengthError> {
    let text = text.trim_start();
    let (first, rest, whole) = read_number(text)?;
    let after = rest.trim_start();
    if let Some(below) = after.strip_prefix('/') {
        return read_below(first, whole, below, text);
    }
    // A mixed number: a whole number, then a space or a hyphen, then a fraction.
    let spaced = after.len() < rest.len();
    let hyphen = after.strip_prefix('-');
    let gap = hyphen.or_else(|| spaced.then_some(after));
    if let Some(fraction) = gap.map(str::trim_start).filter(|f| whole && f.starts_with(|c: char| c.is_ascii_digit())) {
        let (top, below, top_whole) = read_number(fraction)?;
        let Some(below) = below.trim_start().strip_prefix('/') else {
            return Err(LengthError::NotUnderstood { part: fraction.trim_end().to_owned() });
        };
        let (part, rest) = read_below(top, top_whole, below, fraction)?;
        // Tight, it is how a mixed number is written; with room round the hyphen it looks like a subtraction.
        if origin == Origin::Typed && hyphen.is_some_and(|after| spaced || after.starts_with(' ')) {
            return Err(mixed_or_less(text, fraction, rest));
        }
        return Ok((plus(first, part)?, rest));
    }
    Ok((first, rest))
}

/// That a whole number, a hyphen and a fraction (up to `rest`) may be one number or two.
pub(super) fn mixed_or_less(text: &str, fraction: &str, rest: &str) -> LengthError {
    let whole = text.split('-').next().unwrap_or_default().trim();
    let fraction = upto(fraction, rest).trim();
    LengthError::two_ways(upto(text, rest), &format!("{whole} {fraction}"), &format!("({whole}) - {fraction}"))
}

/// Reads what stands below the stroke of a fraction.
pub(super) fn read_below<'a>(
    top: Rational,
    top_whole: bool,
    text: &'a str,
    fraction: &str,
) -> Result<(Rational, &'a str), LengthError> {
    let (below, rest, below_whole) = read_number(text.trim_start())?;
    if !(top_whole && below_whole) {
        return Err(LengthError::NotUnderstood { part: fraction.trim().to_owned() });
    }
    Ok((top.over(below).ok_or(LengthError::OverZero)?, rest))
}

/// Reads digits with at most one decimal point or comma. The flag says whether the number is whole.
pub(super) fn read_number(text: &str) -> Result<(Rational, &str, bool), LengthError> {
    let (mut top, mut below) = (0_i128, 1_i128);
    let (mut digits, mut decimal, mut end) = (0, false, 0);
    for (at, c) in text.char_indices() {
        if let Some(digit) = c.to_digit(10) {
            digits += 1;
            if digits > 15 {
                return Err(LengthError::TooManyDigits);
            }
            top = top * 10 + i128::from(digit);
            below *= if decimal { 10 } else { 1 };
        } else if matches!(c, '.' | ',') && !decimal {
            decimal = true;
        } else {
            break;
        }
        end = at + c.len_utf8();
    }
    let number = &text[..end];
    if let Some((whole, tenths)) = number.split_once(',')
        && tenths.len() == 3
        && (1..=3).contains(&whole.len())
        && !whole.starts_with('0')
    {
        return Err(LengthError::TwoReadings { number: number.to_owned() });
    }
    if digits == 0 {
        let part = if text.is_empty() { "nothing after it".to_owned() } else { text.trim_end().to_owned() };
        return Err(LengthError::NotUnderstood { part });
    }
    let value = Rational::new(top, below).ok_or(LengthError::TooManyDigits)?;
    Ok((value, &text[end..], !decimal))
}

/// Reads a unit from the start of `text`, where one stands there.
pub(super) fn read_unit(text: &str) -> (Option<TypedUnit>, &str) {
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

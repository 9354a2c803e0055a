//! Reading a typed length, exactly.

use std::sync::Arc;

use super::{LengthError, Unit};

/// The longest text that is read as a length.
pub(super) const LONGEST_TEXT: usize = 40;

/// Millimetres, and the text to keep.
pub(super) fn parse(text: &str, unit_if_none: Unit) -> Result<(f64, Option<Arc<str>>), LengthError> {
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
    Ok((mm, typed))
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

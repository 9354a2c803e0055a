//! Arithmetic in a length field: `W/2 - 3`, `L/3 + 1/2"`, `2*(W-4)`.
//!
//! ```text
//! sum     = ["+" | "-"] product { ("+" | "-") product }
//! product = part { ("*" | "/") part }
//! part    = quantity [unit] | "W" | "D" | "L" | "(" sum ")"
//! ```
//!
//! A quantity is what a single length is made of: a decimal number, a fraction `3/4` or a mixed number `2 3/4`; feet may
//! be followed by inches. A plain number that a length is added to, or that is all there is, is in the unit of a bare
//! number. Text that has always been one length does not come here, so `2-3/4"` stays a mixed number; here, where it
//! could be meant in two ways, it is asked about, and so is a stroke after a stroke. Only a factor or a divisor with room
//! round the hyphen is clear: `W/2 - 1/8"`.

use std::sync::Arc;

use super::parse::{Plain, Read, TypedUnit, mixed_or_less, read_below, read_number, read_unit, times, upto};
use super::rational::{Number, Rational};
use super::{BlankSizes, LengthError, Unit};

/// How many brackets may lie in one another.
const DEEPEST: usize = 12;

/// What is known of a part of the text.
enum Value {
    /// A number of the maker's; the places in the plain text where a unit would make it a length.
    Plain(Number, Vec<usize>),
    /// A length over a length.
    Ratio(Number),
    /// Millimetres.
    Length(Number),
}

/// What stands before a part.
#[derive(Clone, Copy, PartialEq)]
enum After {
    Nothing,
    Times,
    /// What stands here divides, so a fraction would be a stroke after a stroke.
    Stroke,
}

struct Reader<'a> {
    plain: &'a str,
    rest: &'a str,
    unit: Unit,
    sizes: Option<&'a BlankSizes>,
    of_blank: bool,
    /// Where a unit is to be written, in the plain text.
    units_at: Vec<usize>,
}

/// Reads `text`, which is not one length.
pub(super) fn parse(text: &str, plain: &Plain, unit: Unit, sizes: Option<&BlankSizes>) -> Result<Read, LengthError> {
    let mut reader =
        Reader { plain: &plain.text, rest: &plain.text, unit, sizes, of_blank: false, units_at: Vec::new() };
    let value = reader.sum(0)?;
    let rest = reader.rest.trim();
    if rest.starts_with(')') {
        return Err(LengthError::Bracket { what: "closed that was never opened" });
    }
    if !rest.is_empty() {
        return Err(reader.not_joined());
    }
    let mm = match value {
        Value::Length(mm) => mm,
        Value::Plain(number, places) => reader.as_length(number, places),
        Value::Ratio(_) => return Err(LengthError::NotALength),
    };
    let mut typed = text.to_owned();
    reader.units_at.sort_unstable_by(|a, b| b.cmp(a));
    for place in &reader.units_at {
        let unit = if unit == Unit::Inch { "\"" } else { " mm" };
        typed.insert_str(plain.original_end(*place), unit);
    }
    Ok(Read { mm: mm.nearest()?, typed: Some(Arc::from(typed)), of_blank: reader.of_blank })
}

impl<'a> Reader<'a> {
    fn next_is(&mut self, c: char) -> bool {
        match self.rest.trim_start().strip_prefix(c) {
            Some(rest) => {
                self.rest = rest;
                true
            }
            None => false,
        }
    }

    /// How much of the plain text has been read.
    fn read(&self) -> usize {
        self.plain.len() - self.rest.len()
    }

    fn sum(&mut self, depth: usize) -> Result<Value, LengthError> {
        let negative = self.next_is('-');
        if !negative {
            self.next_is('+');
        }
        let mut value = self.product(depth)?;
        if negative {
            value = match value {
                Value::Plain(number, places) => Value::Plain(number.negated(), places),
                Value::Ratio(number) => Value::Ratio(number.negated()),
                Value::Length(mm) => Value::Length(mm.negated()),
            };
        }
        loop {
            let less = self.next_is('-');
            if !less && !self.next_is('+') {
                return Ok(value);
            }
            let other = self.product(depth)?;
            value = self.added(value, other, less)?;
        }
    }

    fn added(&mut self, a: Value, b: Value, less: bool) -> Result<Value, LengthError> {
        let sum = |a: Number, b: Number| a.plus(if less { b.negated() } else { b });
        Ok(match (a, b) {
            (Value::Length(a), Value::Length(b)) => Value::Length(sum(a, b)),
            (Value::Length(a), Value::Plain(b, places)) => Value::Length(sum(a, self.as_length(b, places))),
            (Value::Plain(a, places), Value::Length(b)) => Value::Length(sum(self.as_length(a, places), b)),
            (Value::Plain(a, mut places), Value::Plain(b, more)) => {
                places.extend(more);
                Value::Plain(sum(a, b), places)
            }
            (Value::Ratio(a), Value::Ratio(b) | Value::Plain(b, _)) | (Value::Plain(a, _), Value::Ratio(b)) => {
                Value::Ratio(sum(a, b))
            }
            (Value::Ratio(_), Value::Length(_)) | (Value::Length(_), Value::Ratio(_)) => {
                return Err(LengthError::NotAlike);
            }
        })
    }

    /// A plain number in the unit of a bare number, mm; the unit is to be written where it stands.
    fn as_length(&mut self, number: Number, places: Vec<usize>) -> Number {
        self.units_at.extend(places);
        number.times(Number::exact(TypedUnit::from(self.unit).mm()))
    }

    fn product(&mut self, depth: usize) -> Result<Value, LengthError> {
        let mut value = self.part(depth, After::Nothing)?;
        loop {
            if self.next_is('*') {
                let other = self.part(depth, After::Times)?;
                value = multiplied(value, other)?;
            } else if self.next_is('/') {
                let from = self.rest;
                let other = self.part(depth, After::Stroke)?;
                value = divided(value, other, upto(from, self.rest).trim())?;
            } else {
                return Ok(value);
            }
        }
    }

    fn part(&mut self, depth: usize, after: After) -> Result<Value, LengthError> {
        self.rest = self.rest.trim_start();
        let Some(first) = self.rest.chars().next() else {
            return Err(LengthError::Missing { after: upto(self.plain, self.rest).trim().to_owned() });
        };
        let name: &str = upto(self.rest, self.rest.trim_start_matches(char::is_alphabetic));
        let size = match name {
            "W" | "w" => Some(0),
            "D" | "d" => Some(1),
            "L" | "l" => Some(2),
            _ => None,
        };
        if let Some(size) = size {
            self.rest = &self.rest[name.len()..];
            self.of_blank = true;
            let sizes = self.sizes.ok_or(LengthError::NoBlank)?;
            let mm = [sizes.width_mm, sizes.depth_mm, sizes.length_mm][size];
            Ok(Value::Length(Number::of_size(mm)))
        } else if first == '(' {
            if depth >= DEEPEST {
                return Err(LengthError::TooDeep);
            }
            self.rest = &self.rest[1..];
            let value = self.sum(depth + 1)?;
            if self.next_is(')') {
                Ok(value)
            } else if self.rest.trim().is_empty() {
                Err(LengthError::Bracket { what: "opened and never closed" })
            } else {
                Err(self.not_joined())
            }
        } else if first.is_ascii_digit() || matches!(first, '.' | ',') {
            self.quantity(after)
        } else {
            let before = upto(self.plain, self.rest).trim_end();
            if "+-*/)".contains(first) {
                return Err(LengthError::Missing { after: before.trim_start().to_owned() });
            }
            Err(LengthError::NotUnderstood { part: self.rest.trim().to_owned() })
        }
    }

    /// A number or fraction with its unit, if it has one.
    fn quantity(&mut self, after: After) -> Result<Value, LengthError> {
        let start = self.rest;
        let (value, rest) = self.number(after)?;
        self.rest = rest;
        let end = self.read();
        let (unit, rest) = read_unit(rest);
        let Some(unit) = unit else { return Ok(Value::Plain(Number::exact(value), vec![end])) };
        self.rest = rest;
        let mut mm = times(value, unit.mm())?;
        if unit == TypedUnit::Foot {
            let following = rest.trim_start();
            let digit = |text: &str| text.trim_start().starts_with(|c: char| c.is_ascii_digit());
            if digit(following) {
                let (inches, rest) = self.number_at(following, After::Nothing)?;
                let (inch, rest) = read_unit(rest);
                if !matches!(inch, Some(TypedUnit::Inch) | None) {
                    return Err(LengthError::NotUnderstood { part: following.trim_end().to_owned() });
                }
                self.rest = rest;
                mm = mm.plus(times(inches, TypedUnit::Inch.mm())?).ok_or(LengthError::TooManyDigits)?;
            } else if let Some(less) = following.strip_prefix('-').filter(|less| digit(less)) {
                let (_, rest) = self.number_at(less.trim_start(), After::Nothing)?;
                let (inch, rest) = read_unit(rest);
                if matches!(inch, Some(TypedUnit::Inch) | None) {
                    let (feet, inches) = (upto(start, following).trim(), upto(less, rest).trim());
                    let (one, two) = (format!("{feet} {inches}"), format!("({feet}) - {inches}"));
                    return Err(LengthError::two_ways(upto(start, rest), &one, &two));
                }
            }
        }
        Ok(Value::Length(Number::exact(mm)))
    }

    fn number(&self, after: After) -> Result<(Rational, &'a str), LengthError> {
        self.number_at(self.rest, after)
    }

    /// A decimal number, a fraction or a mixed number, and what follows it.
    fn number_at(&self, text: &'a str, after: After) -> Result<(Rational, &'a str), LengthError> {
        let (first, rest, whole) = read_number(text)?;
        let following = rest.trim_start();
        let digits = |text: &str| text.starts_with(|c: char| c.is_ascii_digit());
        if let Some(below) = following.strip_prefix('/').map(str::trim_start).filter(|below| whole && digits(below)) {
            let (_, _, below_whole) = read_number(below)?;
            if !below_whole {
                return Ok((first, rest));
            }
            let (value, rest) = read_below(first, whole, below, text)?;
            if after == After::Stroke {
                let (top, below) = (upto(text, following).trim(), upto(below, rest).trim());
                let before = upto(self.plain, text).trim();
                let before = before.trim_end_matches('/').trim_end();
                let one = format!("({before}/{top})/{below}");
                return Err(LengthError::two_ways(upto(text, rest), &one, &format!("{before}/({top}/{below})")));
            }
            if let Some(next) = rest.trim_start().strip_prefix('/').map(str::trim_start).filter(|next| digits(next)) {
                let (fraction, last) = (upto(text, rest).trim(), upto(next, read_number(next)?.1));
                let (top, below) = fraction.split_once('/').unwrap_or((fraction, ""));
                let (top, below) = (top.trim(), below.trim());
                let (one, two) = (format!("({top}/{below})/{last}"), format!("{top}/({below}/{last})"));
                return Err(LengthError::two_ways(&format!("{fraction}/{last}"), &one, &two));
            }
            return Ok((value, rest));
        }
        let hyphen = following.strip_prefix('-').map(str::trim_start).filter(|next| whole && digits(next));
        let spaced = Some(following).filter(|next| next.len() < rest.len() && whole && digits(next));
        if let Some(fraction) = hyphen.or(spaced) {
            let (top, below, top_whole) = read_number(fraction)?;
            let stroke = below.trim_start().strip_prefix('/').map(str::trim_start).filter(|below| digits(below));
            if let Some(below) = stroke.filter(|below| top_whole && read_number(below).is_ok_and(|(.., whole)| whole)) {
                let (part, end) = read_below(top, top_whole, below, fraction)?;
                let spaced = rest.starts_with(' ') && following.starts_with("- ");
                if hyphen.is_some() && spaced && after != After::Nothing {
                    // `W/2 - 1/8`: nobody means W over 2 1/8.
                    return Ok((first, rest));
                }
                if hyphen.is_some() {
                    return Err(mixed_or_less(text, fraction, end));
                }
                return Ok((first.plus(part).ok_or(LengthError::TooManyDigits)?, end));
            }
        }
        Ok((first, rest))
    }

    /// What follows is not joined to what stands before it.
    fn not_joined(&self) -> LengthError {
        let (before, after) = (upto(self.plain, self.rest).trim(), self.rest.trim());
        if after.starts_with(|c: char| c.is_alphanumeric() || "(.,".contains(c)) {
            let name = after.trim_start_matches(char::is_alphabetic);
            if after.starts_with(char::is_alphabetic) && !matches!(upto(after, name), "W" | "D" | "L" | "w" | "d" | "l")
            {
                return LengthError::NotUnderstood { part: after.to_owned() };
            }
            return LengthError::NotJoined { before: before.to_owned(), after: after.to_owned() };
        }
        LengthError::NotUnderstood { part: after.to_owned() }
    }
}

fn multiplied(a: Value, b: Value) -> Result<Value, LengthError> {
    Ok(match (a, b) {
        (Value::Length(_), Value::Length(_)) => return Err(LengthError::Area),
        (Value::Length(a), Value::Plain(b, _) | Value::Ratio(b))
        | (Value::Plain(a, _) | Value::Ratio(a), Value::Length(b)) => Value::Length(a.times(b)),
        (Value::Ratio(a), Value::Ratio(b)) => Value::Ratio(a.times(b)),
        (Value::Ratio(a), Value::Plain(b, places)) | (Value::Plain(a, places), Value::Ratio(b)) => {
            Value::Plain(a.times(b), places)
        }
        // Of two plain numbers one would be a length: the one written last.
        (Value::Plain(a, _), Value::Plain(b, places)) => Value::Plain(a.times(b), places),
    })
}

fn divided(a: Value, b: Value, divisor: &str) -> Result<Value, LengthError> {
    let (Value::Plain(number, _) | Value::Ratio(number) | Value::Length(number)) = &b;
    if number.is_zero() {
        return Err(LengthError::OverNothing { divisor: divisor.to_owned() });
    }
    Ok(match (a, b) {
        (Value::Length(a), Value::Length(b)) => Value::Ratio(a.over(b)),
        (Value::Length(a), Value::Plain(b, _) | Value::Ratio(b)) => Value::Length(a.over(b)),
        (Value::Plain(..) | Value::Ratio(_), Value::Length(_)) => {
            return Err(LengthError::OverLength { divisor: divisor.to_owned() });
        }
        (Value::Plain(a, places), Value::Plain(b, _) | Value::Ratio(b)) => Value::Plain(a.over(b), places),
        (Value::Ratio(a), Value::Plain(b, _) | Value::Ratio(b)) => Value::Ratio(a.over(b)),
    })
}

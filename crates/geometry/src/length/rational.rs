use super::LengthError;

/// An exact fraction in lowest terms; `below` is positive.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Rational {
    top: i128,
    below: i128,
}

/// How many decimal digits of a quotient are found before the rest is only known to be more than nothing: beyond what
/// decides how an f64 rounds.
const DIGITS: usize = 30;

impl Rational {
    pub const ONE: Rational = Rational { top: 1, below: 1 };

    /// `top / below`; nothing over 0 is nothing.
    pub fn new(top: i128, below: i128) -> Option<Rational> {
        let divisor = i128::try_from(greatest_common_divisor(top.unsigned_abs(), below.unsigned_abs())).ok()?;
        if below == 0 {
            return None;
        }
        let sign = below.signum();
        Some(Rational { top: (top / divisor).checked_mul(sign)?, below: (below / divisor).checked_mul(sign)? })
    }

    /// The decimal number that a computer's number is written as: 69.85 is 6985/100, although no f64 is exactly that.
    /// So arithmetic with a size starts from what the maker reads.
    pub fn of_decimal(number: f64) -> Option<Rational> {
        let text = number.to_string();
        let (whole, after) = text.split_once('.').unwrap_or((&text, ""));
        let digits: i128 = format!("{whole}{after}").parse().ok()?;
        Rational::new(digits, 10_i128.checked_pow(after.len().try_into().ok()?)?)
    }

    pub fn is_zero(self) -> bool {
        self.top == 0
    }

    pub fn negated(self) -> Rational {
        Rational { top: -self.top, below: self.below }
    }

    pub fn plus(self, other: Rational) -> Option<Rational> {
        // Over the least common multiple, so that long decimals do not run out of digits at once.
        let shared =
            i128::try_from(greatest_common_divisor(self.below.unsigned_abs(), other.below.unsigned_abs())).ok()?;
        let (own, others) = (other.below / shared, self.below / shared);
        let top = self.top.checked_mul(own)?.checked_add(other.top.checked_mul(others)?)?;
        Rational::new(top, self.below.checked_mul(own)?)
    }

    pub fn times(self, other: Rational) -> Option<Rational> {
        // Each numerator loses what it shares with the other's denominator first, so that less overflows.
        let (a, b) = (Rational::new(self.top, other.below)?, Rational::new(other.top, self.below)?);
        Rational::new(a.top.checked_mul(b.top)?, a.below.checked_mul(b.below)?)
    }

    pub fn over(self, other: Rational) -> Option<Rational> {
        self.times(Rational::new(other.below, other.top)?)
    }

    /// The f64 nearest to it: the quotient is written out until it decides how to round, and read as a decimal number,
    /// which the standard library rounds once and correctly.
    pub fn nearest(self) -> f64 {
        let (mut rest, below) = (self.top.unsigned_abs(), self.below.unsigned_abs());
        let mut text = format!("{}.", rest / below);
        let mut digits = if rest < below { 0 } else { text.len() - 1 };
        rest %= below;
        while rest > 0 && digits < DIGITS {
            let (next, over) = match rest.checked_mul(10) {
                Some(tenfold) => (tenfold / below, tenfold % below),
                None => return self.roughly(),
            };
            digits += usize::from(next > 0 || digits > 0);
            text.push(char::from(b'0' + u8::try_from(next).unwrap_or(9)));
            rest = over;
        }
        if rest > 0 {
            text.push('1');
        }
        let size: f64 = text.parse().unwrap_or_else(|_| self.roughly().abs());
        if self.top < 0 { -size } else { size }
    }

    #[expect(clippy::cast_precision_loss, reason = "only where the exact quotient has too many digits")]
    fn roughly(self) -> f64 {
        self.top as f64 / self.below as f64
    }
}

/// A number that is exact where its digits allow it, and near otherwise.
#[derive(Clone, Copy, Debug)]
pub(super) struct Number {
    exact: Option<Rational>,
    near: f64,
}

impl Number {
    pub fn exact(value: Rational) -> Number {
        Number { exact: Some(value), near: value.nearest() }
    }

    /// A size of the blank, as the decimal number it is written as.
    pub fn of_size(mm: f64) -> Number {
        Number { exact: Rational::of_decimal(mm), near: mm }
    }

    pub fn is_zero(self) -> bool {
        self.exact.map_or(self.near == 0.0, Rational::is_zero)
    }

    pub fn negated(self) -> Number {
        Number { exact: self.exact.map(Rational::negated), near: -self.near }
    }

    pub fn plus(self, other: Number) -> Number {
        self.with(other, Rational::plus, self.near + other.near)
    }

    pub fn times(self, other: Number) -> Number {
        self.with(other, Rational::times, self.near * other.near)
    }

    pub fn over(self, other: Number) -> Number {
        self.with(other, Rational::over, self.near / other.near)
    }

    fn with(self, other: Number, how: fn(Rational, Rational) -> Option<Rational>, near: f64) -> Number {
        let exact = self.exact.zip(other.exact).and_then(|(a, b)| how(a, b));
        Number { exact, near }
    }

    /// The f64 nearest to it.
    ///
    /// # Errors
    /// [`LengthError::TooManyDigits`] where it is no finite number.
    pub fn nearest(self) -> Result<f64, LengthError> {
        let number = self.exact.map_or(self.near, Rational::nearest);
        if number.is_finite() { Ok(number) } else { Err(LengthError::TooManyDigits) }
    }
}

fn greatest_common_divisor(a: u128, b: u128) -> u128 {
    let (mut a, mut b) = (a, b);
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a.max(1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_quotient_is_rounded_once() {
        let third = Rational::new(1, 3).unwrap();
        assert_eq!(third.nearest(), 1.0 / 3.0);
        // 2^53 + 1 lies midway between two f64: to the even one. A hair more goes up.
        let midway = Rational::new(9_007_199_254_740_993, 1).unwrap();
        assert_eq!(midway.nearest(), 9_007_199_254_740_992.0);
        let more = Rational::new(9_007_199_254_740_993 * 1_000_000_007 + 1, 1_000_000_007).unwrap();
        assert_eq!(more.nearest(), 9_007_199_254_740_994.0);
        assert_eq!(Rational::new(-127, 40).unwrap().nearest(), -3.175);
    }

    proptest! {
        /// Whole numbers below 2^53 divide with one rounding in IEEE 754, so the processor is the reference.
        #[test]
        fn quotients_are_the_processors(top in -9_007_199_254_740_992_i64..9_007_199_254_740_992, below in 1_i64..9_007_199_254_740_992) {
            let value = Rational::new(top.into(), below.into()).unwrap().nearest();
            prop_assert_eq!(value, top as f64 / below as f64);
        }

        #[test]
        fn a_size_comes_back_from_its_decimal(mm in 0.0..10_000.0) {
            prop_assert_eq!(Rational::of_decimal(mm).map(Rational::nearest), Some(mm));
        }
    }
}

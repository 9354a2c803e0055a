//! Arithmetic that no one thought of, against an independent exact reckoning.

use super::super::*;
use proptest::prelude::*;

const SIZES: BlankSizes = BlankSizes { width_mm: 69.85, depth_mm: 45.2, length_mm: 703.25 };

/// A fraction reckoned by the school's rules and reduced by trial of Euclid's steps: no code of the parser.
#[derive(Clone, Copy, Debug)]
struct Fraction(i128, i128);

impl Fraction {
    fn reduced(top: i128, below: i128) -> Fraction {
        let (mut a, mut b) = (top.abs(), below.abs());
        while b > 0 {
            (a, b) = (b, a % b);
        }
        let by = a.max(1) * below.signum();
        Fraction(top / by, below / by)
    }

    fn plus(self, o: Fraction) -> Fraction {
        Fraction::reduced(self.0 * o.1 + o.0 * self.1, self.1 * o.1)
    }

    fn times(self, o: Fraction) -> Fraction {
        Fraction::reduced(self.0 * o.0, self.1 * o.1)
    }
}

/// A length of the generator: its text, its value in mm, and whether it is a sum (which needs brackets to be a factor).
#[derive(Clone, Debug)]
struct Made(String, Fraction, bool);

fn bracketed(made: &Made) -> String {
    if made.2 { format!("({})", made.0) } else { made.0.clone() }
}

fn leaf() -> impl Strategy<Value = Made> {
    prop_oneof![
        Just(Made("W".into(), Fraction(6985, 100), false)),
        Just(Made("D".into(), Fraction(452, 10), false)),
        Just(Made("L".into(), Fraction(70_325, 100), false)),
        (0_i128..500, 0_i128..100).prop_map(|(w, h)| Made(format!("{w}.{h:02} mm"), Fraction(100 * w + h, 100), false)),
        (0_i128..40, 1_i128..16)
            .prop_map(|(w, t)| { Made(format!("{w} {t}/16\""), Fraction::reduced((16 * w + t) * 127, 16 * 5), false) }),
        (0_i128..300).prop_map(|n| Made(n.to_string(), Fraction(n, 1), false)),
    ]
}

fn made() -> impl Strategy<Value = Made> {
    leaf().prop_recursive(4, 12, 2, |inner| {
        prop_oneof![
            (inner.clone(), inner.clone()).prop_map(|(a, b)| Made(
                format!("{} + {}", a.0, bracketed(&b)),
                a.1.plus(b.1),
                true
            )),
            (inner.clone(), inner.clone()).prop_map(|(a, b)| Made(
                format!("{} - {}", a.0, bracketed(&b)),
                a.1.plus(b.1.times(Fraction(-1, 1))),
                true
            )),
            (inner.clone(), 1_i128..12).prop_map(|(a, n)| Made(
                format!("{n} * {}", bracketed(&a)),
                a.1.times(Fraction(n, 1)),
                false
            )),
            (inner, 1_i128..12).prop_map(|(a, n)| Made(format!("({}) / {n}", a.0), a.1.times(Fraction(1, n)), false)),
        ]
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2_000))]

    /// In millimetres a plain number and a length are the same, so one fraction says what is meant. Quotients of whole
    /// numbers below 2^53 round once (IEEE 754).
    #[test]
    fn every_sum_comes_to_its_exact_rational(made in made()) {
        let Made(text, Fraction(top, below), _) = made;
        prop_assume!(text.chars().count() <= 80 && top.abs() < 1 << 53 && below < 1 << 53);
        let length = Length::parse_on(&text, Unit::Mm, &SIZES);
        let length = match length {
            // The generator also makes what a maker would be asked about: 3 / 4 after a stroke.
            Err(LengthError::TwoWays { .. }) => return Ok(()),
            other => other,
        };
        let length = length.map_err(|error| TestCaseError::fail(format!("{text}: {error}")))?;
        prop_assert_eq!(length.mm(), top as f64 / below as f64, "{}", text);
        // What is kept comes back from a file, and from the field, as the same length.
        if let Some(kept) = length.typed() {
            let again = Length::parse_on(kept, Unit::Inch, &SIZES).map_err(|e| TestCaseError::fail(format!("{kept}: {e}")))?;
            prop_assert_eq!(again.mm(), length.mm(), "{}", kept);
            prop_assert_eq!(again.typed(), Some(kept));
        }
    }

    #[test]
    fn no_text_panics_and_what_is_read_is_finite(text in "[WDL0-9 +*/().,'\"\u{bd}\u{d7}mfint-]{0,40}") {
        for unit in [Unit::Mm, Unit::Inch] {
            if let Ok(length) = Length::parse_on(&text, unit, &SIZES) {
                prop_assert!(length.mm().is_finite());
                prop_assert!(length.text_on(&SIZES).is_some() || length.typed().is_none(), "{}", text);
            }
        }
    }

    /// Text that is read without a blank is read the same with one.
    #[test]
    fn a_blank_changes_nothing_for_plain_lengths(text in "[0-9]{1,3}( [1-9]/[1-9]{1,2})?( ?(mm|in|\"|ft))?") {
        prop_assert_eq!(Length::parse(&text, Unit::Inch), Length::parse_on(&text, Unit::Inch, &SIZES));
    }
}

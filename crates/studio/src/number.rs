//! Plain numbers and slopes as makers type them.

/// A decimal number or a fraction, `0.55`, `-1/3`.
///
/// # Errors
/// What is wrong, in words.
pub fn parse(text: &str) -> Result<f64, String> {
    let text = text.trim().replace(',', ".").replace(['\u{2212}', '\u{2013}'], "-");
    let not = || format!("\"{}\" is not a number: type one such as 0.2 or 1/5", text.trim());
    let decimal = |text: &str| -> Result<f64, String> {
        let text = text.trim();
        let plain = text.chars().all(|c| c.is_ascii_digit() || "+-.".contains(c));
        text.parse().ok().filter(|number: &f64| plain && number.is_finite()).ok_or_else(not)
    };
    match text.split_once(['/', ':']) {
        Some((_, below)) if decimal(below)? == 0.0 => Err("nothing can be divided by 0".to_owned()),
        Some((top, below)) => Ok(decimal(top)? / decimal(below)?),
        None => decimal(&text),
    }
}

/// A slope, offset per length: `0.2`, `1:5`, `1/5`, or an angle off the length of the leg, `11°` or `11 deg`.
///
/// # Errors
/// What is wrong, in words.
pub fn parse_slope(text: &str) -> Result<f64, String> {
    let text = text.trim();
    match ["°", "degrees", "deg"].iter().find_map(|unit| text.strip_suffix(unit)) {
        Some(degrees) => {
            let degrees = parse(degrees)?;
            if degrees.abs() < 90.0 {
                Ok(degrees.to_radians().tan())
            } else {
                Err("an angle off the length of the leg is less than 90°".to_owned())
            }
        }
        None => parse(text),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_and_slopes_are_read_as_makers_write_them() {
        for (text, value) in [("0.55", 0.55), (" -0,5 ", -0.5), ("1/4", 0.25), ("1:8", 0.125), ("\u{2212}3/4", -0.75)] {
            assert_eq!(parse(text), Ok(value), "{text}");
            assert_eq!(parse_slope(text), Ok(value), "{text}");
        }
        // tan 45° is 1; tan 11.3099° is 1/5 (any table of tangents).
        for (text, value) in [("45°", 1.0), ("-45 deg", -1.0), ("11.3099 degrees", 0.2), ("0°", 0.0)] {
            assert!((parse_slope(text).unwrap() - value).abs() < 1e-6, "{text}");
        }
        for text in ["", "banana", "1e5", "inf", "NaN", "1/0", "1:0", "1/2/3", "--1", "2 3", "°", "90°", "-91°"] {
            assert!(parse_slope(text).is_err(), "{text}");
        }
    }
}

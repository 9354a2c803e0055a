//! A table of points.

use super::{CurveError, Drawn, MOST_PLACES};
use cornerwise_geometry::MM_PER_INCH;

/// Reads a table: a point a line, two numbers in it, parted by a comma, a semicolon, a tab or spaces. A number may have a
/// decimal comma where something else parts the columns. The first line may be a heading; `(mm)` or `(in)` in it says the
/// unit, and `inches` does where it does not. Empty lines and those that begin with `#` are passed over.
///
/// # Errors
/// [`CurveError`] names the line.
pub fn read_csv(text: &str, inches: bool) -> Result<Drawn, CurveError> {
    let mut unit_mm = if inches { MM_PER_INCH } else { 1.0 };
    let mut places: Vec<[f64; 2]> = Vec::new();
    let mut heading = true;
    for (number, line) in text.lines().enumerate() {
        let (line, number) = (line.trim(), number + 1);
        if line.is_empty() || line.starts_with('#') {
            continue;
        }
        if std::mem::take(&mut heading) && line.contains(char::is_alphabetic) && !is_odd_number(line) {
            unit_mm = unit(line).unwrap_or(unit_mm);
            continue;
        }
        let wrong = |why: String| CurveError::Line { line: number, why };
        let [x, y] = pair(line).map_err(wrong)?;
        if places.len() >= MOST_PLACES {
            return Err(CurveError::TooMany);
        }
        places.push([x * unit_mm, y * unit_mm]);
    }
    // The same point twice says nothing more.
    places.dedup();
    if places.is_empty() {
        return Err(CurveError::NoPoints);
    }
    Ok(Drawn { name: "points".to_owned(), places, corners: Vec::new() })
}

/// `nan` and `inf` are letters, but no heading.
fn is_odd_number(line: &str) -> bool {
    line.split([',', ';', '\t', ' ']).all(|word| word.trim().is_empty() || word.trim().parse::<f64>().is_ok())
}

fn unit(heading: &str) -> Option<f64> {
    let heading = heading.to_lowercase();
    let mut words = heading.split(|c: char| !c.is_alphabetic());
    words.find_map(|word| match word {
        "mm" | "millimetres" | "millimeters" => Some(1.0),
        "cm" => Some(10.0),
        "in" | "inch" | "inches" => Some(MM_PER_INCH),
        _ => None,
    })
}

fn pair(line: &str) -> Result<[f64; 2], String> {
    let (fields, comma): (Vec<&str>, bool) = if line.contains(';') {
        (line.split(';').collect(), true)
    } else if line.contains('\t') {
        (line.split('\t').collect(), true)
    } else if line.contains(',') && line.split(',').count() == 2 {
        (line.split(',').collect(), false)
    } else if line.contains(',') && line.split_whitespace().count() < 2 {
        return Err(format!(
            "\"{}\" has more than one comma: where numbers have decimal commas, part the columns by a semicolon",
            short(line)
        ));
    } else {
        (line.split_whitespace().collect(), true)
    };
    let fields: Vec<&str> = fields.into_iter().map(str::trim).collect();
    let fields = match fields.as_slice() {
        [all @ .., ""] if all.len() == 2 => all, // a line that ends with what parts columns
        all => all,
    };
    let [x, y] = fields else {
        return Err(format!("two numbers are expected, and there are {} in \"{}\"", fields.len(), short(line)));
    };
    Ok([value(x, comma)?, value(y, comma)?])
}

fn value(text: &str, comma: bool) -> Result<f64, String> {
    let plain = text.trim_matches('"');
    let plain = if comma && !plain.contains('.') { plain.replacen(',', ".", 1) } else { plain.to_owned() };
    match plain.parse::<f64>() {
        Ok(value) if value.abs() <= 1e6 => Ok(value),
        Ok(_) => Err(format!("\"{}\" is no length", short(text))),
        Err(_) => Err(format!("\"{}\" is not a number", short(text))),
    }
}

fn short(text: &str) -> String {
    const MOST: usize = 40;
    let cut: String = text.chars().take(MOST).collect();
    if cut.len() < text.len() { cut + "…" } else { cut }
}

//! The table of pipes to start from.

use cornerwise_geometry::Length;
use cornerwise_geometry::fit::{Fit, FitError, PipeHole};
use serde::Deserialize;
use std::sync::LazyLock;
use thiserror::Error;

/// The file that the rows stand in.
const FILE: &str = include_str!("../../../assets/pipes.ron");

/// One pipe to start from: its real outside diameter, which its trade name is not.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PipeRow {
    /// The trade name.
    pub name: String,
    /// The outside diameter.
    pub outside: Length,
    /// The hole that is left for it.
    pub hole: Length,
    /// Its thread, in words; empty where the source does not tell.
    #[serde(default)]
    pub thread: String,
    /// Where the figures are from; the file says what the letters stand for.
    pub source: String,
}

impl PipeRow {
    /// The hole for this pipe, as the project keeps it; it ends level with the top and the foot.
    pub fn pipe_hole(&self) -> PipeHole {
        PipeHole {
            name: self.name.clone(),
            outside: self.outside.clone(),
            clearance: self.clearance(),
            above: Length::ZERO,
            below: Length::ZERO,
            recess: Length::ZERO,
        }
    }

    /// How much wider the hole is than the pipe, to a thousandth of a millimetre.
    fn clearance(&self) -> Length {
        let mm = self.hole.mm() - self.outside.mm();
        Length::from_mm((1000.0 * mm).round() / 1000.0)
    }

    fn check(&self) -> Result<(), PipeFault> {
        if self.name.trim().is_empty() {
            return Err(PipeFault::NoName);
        }
        if self.source.trim().is_empty() {
            return Err(PipeFault::NoSource);
        }
        if self.hole.mm() <= self.outside.mm() {
            return Err(PipeFault::Hole { hole_mm: self.hole.mm(), outside_mm: self.outside.mm() });
        }
        let length_mm = 1000.0;
        Ok(Fit { pipe: Some(self.pipe_hole()), ..Fit::default() }.check(length_mm)?)
    }
}

/// What is wrong with a row.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum PipeFault {
    /// Nobody could choose it.
    #[error("it has no name")]
    NoName,
    /// Nobody could check it.
    #[error("it does not say where its figures are from")]
    NoSource,
    /// A hole that the pipe does not pass.
    #[error("its hole of {hole_mm} mm does not let a pipe of {outside_mm} mm through")]
    Hole {
        /// The hole, mm.
        hole_mm: f64,
        /// The pipe, mm.
        outside_mm: f64,
    },
    /// A name that another row has already.
    #[error("another row has the same name")]
    Twice,
    /// A size out of reach.
    #[error(transparent)]
    Fit(#[from] FitError),
}

/// Why a table of pipes is not read.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum PipeTableError {
    /// The text is not a table.
    #[error("line {line}, column {column}: {message}")]
    Text {
        /// From 1.
        line: usize,
        /// From 1.
        column: usize,
        /// What was expected.
        message: String,
    },
    /// A row that no hole can be made from.
    #[error("pipe {number}, \"{name}\": {fault}")]
    Row {
        /// Its place, from 1.
        number: usize,
        /// Its trade name.
        name: String,
        /// What is wrong with it.
        fault: PipeFault,
    },
}

/// Reads a table of pipes.
///
/// # Errors
/// [`PipeTableError`] names the place in the text, or the row, and what is wrong with it.
pub fn read_pipes(text: &str) -> Result<Vec<PipeRow>, PipeTableError> {
    let rows: Vec<PipeRow> = ron::from_str(text).map_err(|error| PipeTableError::Text {
        line: error.span.start.line,
        column: error.span.start.col,
        message: error.code.to_string(),
    })?;
    for (i, row) in rows.iter().enumerate() {
        let twice = rows[..i].iter().any(|other| other.name == row.name);
        let checked = if twice { Err(PipeFault::Twice) } else { row.check() };
        checked.map_err(|fault| PipeTableError::Row { number: i + 1, name: row.name.clone(), fault })?;
    }
    Ok(rows)
}

/// All rows of the built-in table, in the order they are offered.
pub fn pipes() -> &'static [PipeRow] {
    // A test reads every row; were the file broken all the same, diameters would have to be typed.
    static ROWS: LazyLock<Vec<PipeRow>> = LazyLock::new(|| read_pipes(FILE).unwrap_or_default());
    &ROWS
}

#[cfg(test)]
mod tests {
    use super::*;
    use cornerwise_geometry::MM_PER_INCH;

    /// Outside diameters of lamp pipe by trade name, inches: sizes.com, lamp fittings; a lamp parts supplier's thread chart
    /// has the same. ASME B1.20.1 gives 0.405 for 1/8 too. The hole for 1/8 is 7/16 in by the first of them.
    #[test]
    fn outside_diameters_are_those_published_and_not_the_trade_names() {
        let rows = read_pipes(FILE).expect("the table");
        assert_eq!(rows, pipes());
        for (name, outside_in, trade_in) in
            [("1/8 IP", 0.405, 0.125), ("1/4 IP", 0.540, 0.25), ("3/8 IP", 0.675, 0.375)]
        {
            let row = rows.iter().find(|row| row.name == name).expect(name);
            assert!((row.outside.mm() - outside_in * MM_PER_INCH).abs() < 1e-9, "{row:?}");
            assert!(row.outside.mm() > 1.5 * trade_in * MM_PER_INCH, "{row:?}");
        }
        let eighth = &rows[0];
        assert!((eighth.outside.mm() - 10.29).abs() < 0.005, "{eighth:?}");
        assert!((eighth.pipe_hole().hole_mm() - 7.0 / 16.0 * MM_PER_INCH).abs() < 0.001);
        // Its chamfer is 0.309 in, worked out from 7/16 in by hand.
        assert!((eighth.pipe_hole().chamfer_mm() / MM_PER_INCH - 0.309).abs() < 0.0005);
        let metric = rows.iter().find(|row| row.name == "M10 x 1").expect("the metric tube");
        assert_eq!((metric.outside.mm(), metric.pipe_hole().hole_mm()), (10.0, 10.5));
        assert!((metric.pipe_hole().chamfer_mm() - 7.42).abs() < 0.005);
    }

    #[test]
    fn a_bad_row_is_named() {
        let row = |name: &str, outside: &str, hole: &str, source: &str| {
            format!("(name: \"{name}\", outside: {outside}, hole: {hole}, source: \"{source}\"),")
        };
        let good = row("good", "10", "10.5", "measured");
        let told = |bad: &str| read_pipes(&format!("[{good}{bad}]")).expect_err(bad).to_string();
        assert_eq!(told(&row("", "8", "9", "x")), "pipe 2, \"\": it has no name");
        assert_eq!(told(&row("thin", "8", "9", "")), "pipe 2, \"thin\": it does not say where its figures are from");
        assert!(told(&row("tight", "8", "8", "x")).contains("\"tight\": its hole of 8 mm does not let a pipe of 8 mm"));
        assert!(told(&row("good", "8", "9", "x")).contains("another row has the same name"));
        assert!(told(&row("huge", "500", "501", "x")).contains("\"huge\": the pipe's outside diameter is 500 mm"));
        assert!(told("\n(name: 3)").starts_with("line 2, column"), "{}", told("\n(name: 3)"));
        assert!(read_pipes("[]").expect("no rows").is_empty());
    }
}

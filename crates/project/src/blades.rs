//! The table of blades to start from, and blades of the maker's own.

use crate::MAX_NAME_CHARS;
use cornerwise_geometry::{Blade, Length, Saw, SawError, SawKind};
use serde::{Deserialize, Serialize};
use std::sync::LazyLock;
use thiserror::Error;

/// The file that the rows stand in.
const FILE: &str = include_str!("../../../assets/blades.ron");

/// One blade to start from: its body and kerf are common practice, to be measured; its radius is published.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BladeRow {
    /// What it is called.
    pub name: String,
    /// The saw it is for.
    pub kind: SawKind,
    /// From the tips of the teeth to the back.
    pub width: Length,
    /// Of the body.
    pub thickness: Length,
    /// The slot it takes.
    pub kerf: Length,
    /// The least and the most of the smallest radius that is published for this width.
    pub published: Option<(Length, Length)>,
    /// Which tables; the file says what the letters stand for.
    pub source: String,
}

impl BladeRow {
    /// The blade of this row.
    pub fn blade(&self) -> Blade {
        Blade {
            width: self.width.clone(),
            thickness: self.thickness.clone(),
            kerf: self.kerf.clone(),
            teeth_per_inch: None,
            published_radius: self.published.clone().map(|(least, most)| [least, most]),
        }
    }
}

/// What is wrong with a row of the table, or with a blade of the maker's own.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum BladeFault {
    /// Nobody could choose it.
    #[error("it has no name")]
    NoName,
    /// A name too long to be shown.
    #[error("its name is longer than {MAX_NAME_CHARS} characters")]
    LongName,
    /// A name that another one has already.
    #[error("another one has the same name")]
    Twice,
    /// Nobody could check it.
    #[error("it does not say where its figures are from")]
    NoSource,
    /// A figure that no blade has.
    #[error(transparent)]
    Blade(#[from] SawError),
}

/// Why a table of blades is not read.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum BladeTableError {
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
    /// A row that is no blade.
    #[error("blade {number}, \"{name}\": {fault}")]
    Row {
        /// Its place, from 1.
        number: usize,
        /// What it is called.
        name: String,
        /// What is wrong with it.
        fault: BladeFault,
    },
}

/// Reads a table of blades.
///
/// # Errors
/// [`BladeTableError`] names the place in the text, or the row, and what is wrong with it.
pub fn read_blades(text: &str) -> Result<Vec<BladeRow>, BladeTableError> {
    let rows: Vec<BladeRow> = ron::from_str(text).map_err(|error| BladeTableError::Text {
        line: error.span.start.line,
        column: error.span.start.col,
        message: error.code.to_string(),
    })?;
    for (place, row) in rows.iter().enumerate() {
        let twice = rows[..place].iter().any(|before| before.name == row.name);
        let sourced = if row.source.trim().is_empty() { Err(BladeFault::NoSource) } else { Ok(()) };
        sourced.and_then(|()| check_blade(&row.name, &row.blade(), twice)).map_err(|fault| BladeTableError::Row {
            number: place + 1,
            name: row.name.clone(),
            fault,
        })?;
    }
    Ok(rows)
}

/// All rows, narrow to wide for every kind of saw.
pub fn blades() -> &'static [BladeRow] {
    // A test reads every row; were the file broken all the same, blades would have to be typed.
    static ROWS: LazyLock<Vec<BladeRow>> = LazyLock::new(|| read_blades(FILE).unwrap_or_default());
    &ROWS
}

/// A blade that the maker owns, as it was measured.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OwnBlade {
    /// What its maker calls it, unique in the project.
    pub name: String,
    /// The saw it is for.
    #[serde(default)]
    pub kind: SawKind,
    /// The blade.
    pub blade: Blade,
}

/// Checks a list of blades of the maker's own. The answer is the first that is not sound, by its place from 1, and why.
pub(crate) fn check_own_blades(blades: &[OwnBlade]) -> Result<(), (usize, BladeFault)> {
    for (place, own) in blades.iter().enumerate() {
        let twice = blades[..place].iter().any(|before| before.name == own.name);
        check_blade(&own.name, &own.blade, twice).map_err(|fault| (place + 1, fault))?;
    }
    Ok(())
}

fn check_blade(name: &str, blade: &Blade, twice: bool) -> Result<(), BladeFault> {
    match name.trim() {
        "" => Err(BladeFault::NoName),
        name if name.chars().count() > MAX_NAME_CHARS => Err(BladeFault::LongName),
        _ if twice => Err(BladeFault::Twice),
        _ => Ok(Saw { blade: blade.clone(), ..Saw::default() }.check()?),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    /// The published tables do not agree with one another; the derived radius stays within their spread, widened by a tenth
    /// where they happen to agree.
    #[test]
    fn derived_radii_lie_within_the_published_spread() {
        let rows = read_blades(FILE).expect("the table");
        assert!(rows.len() >= 8);
        for row in &rows {
            let blade = row.blade();
            assert_eq!(Saw { blade: blade.clone(), ..Saw::default() }.check(), Ok(()), "{}", row.name);
            let derived = blade.least_radius_mm();
            if let Some([least, most]) = &blade.published_radius {
                let within = 0.9 * least.mm()..=1.1 * most.mm();
                assert!(within.contains(&derived), "{}: {derived} mm, published {within:?}", row.name);
            }
        }
        for pair in rows.windows(2).filter(|pair| pair[0].kind == pair[1].kind) {
            assert!(pair[0].width.mm() < pair[1].width.mm());
            assert!(pair[0].blade().least_radius_mm() < pair[1].blade().least_radius_mm(), "{}", pair[1].name);
        }
    }

    #[test]
    fn a_bad_row_is_named_with_what_is_wrong() {
        let row = |name: &str, kerf: &str, source: &str| {
            format!(
                "(name: \"{name}\", kind: Band, width: \"1/4 in\", thickness: \"0.025 in\", kerf: \"{kerf}\", published: None, \
                 source: \"{source}\")"
            )
        };
        let read =
            |rows: &[String]| read_blades(&format!("[{}]", rows.join(", "))).map(|_| ()).map_err(|e| e.to_string());
        let sound = row("fine", "0.0375 in", "A");
        assert_eq!(read(std::slice::from_ref(&sound)), Ok(()));
        let said = |bad: String| read(&[sound.clone(), bad]).unwrap_err();
        assert!(said(row("thin", "0.01 in", "A")).starts_with("blade 2, \"thin\": the saw's kerf is 0.254"), "{sound}");
        assert_eq!(said(row("", "0.0375 in", "A")), "blade 2, \"\": it has no name");
        assert_eq!(said(row("fine", "0.0375 in", "A")), "blade 2, \"fine\": another one has the same name");
        assert_eq!(said(row("odd", "0.0375 in", " ")), "blade 2, \"odd\": it does not say where its figures are from");
        assert!(said(row("wide", "a lot", "A")).starts_with("line 1, column "), "{}", said(row("wide", "a lot", "A")));
    }

    #[test]
    fn own_blades_are_kept_with_the_project_and_a_bad_one_is_named() {
        use crate::{Edit, Project};
        let own = |name: &str, kerf_mm: f64| OwnBlade {
            name: name.to_owned(),
            kind: SawKind::Band,
            blade: Blade { kerf: kerf_mm.into(), ..Blade::default() },
        };
        let project = Project::new();
        let kept =
            project.apply(&Edit::SetBlades { blades: vec![own("resaw", 1.1), own("old quarter", 0.9)] }).unwrap();
        assert_eq!(kept.blades.len(), 2);
        let twice = project.apply(&Edit::SetBlades { blades: vec![own("resaw", 1.1), own("resaw", 0.9)] }).unwrap_err();
        assert!(twice.to_string().contains("blade 2") && twice.to_string().contains("same name"), "{twice}");
        let thin = project.apply(&Edit::SetBlades { blades: vec![own("resaw", 0.1)] }).unwrap_err();
        assert!(thin.to_string().contains("blade 1") && thin.to_string().contains("kerf"), "{thin}");
    }
}

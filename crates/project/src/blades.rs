//! The table of blades to start from.

use cornerwise_geometry::{Blade, Length, SawKind};
use serde::Deserialize;
use std::sync::LazyLock;

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

/// All rows, narrow to wide for every kind of saw.
pub fn blades() -> &'static [BladeRow] {
    // A test reads every row; were the file broken all the same, blades would have to be typed.
    static ROWS: LazyLock<Vec<BladeRow>> = LazyLock::new(|| ron::from_str(FILE).unwrap_or_default());
    &ROWS
}

#[cfg(test)]
mod tests {
    use super::*;
    use cornerwise_geometry::Saw;

    /// The published tables do not agree with one another; the derived radius stays within their spread, widened by a tenth
    /// where they happen to agree.
    #[test]
    fn derived_radii_lie_within_the_published_spread() {
        let rows: Vec<BladeRow> = ron::from_str(FILE).expect("the table");
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
}

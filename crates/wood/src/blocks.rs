//! Blocks: columns across the blank both ways, each a stack of blocks.

use cornerwise_geometry::Length;
use serde::{Deserialize, Serialize};

use crate::{Species, THICKEST_LAYER_MM, THINNEST_LAYER_MM, WoodError, error};

/// The most columns that are listed one way.
pub const MOST_COLUMNS: usize = 40;

/// The most blocks that are listed for a column.
pub const MOST_BLOCKS: usize = 100;

/// Columns that stand side by side across the blank in both directions, each a stack of blocks.
///
/// All lists repeat without end both ways: what is listed is the pattern, and the blank is cut from it. Column (i, j) is
/// number i across face 1 and j across face 2, counted from 0 and, beyond the lists, on and back below 0. Its blocks are
/// those of `columns[i mod widths + widths * (j mod depths)]`, and its list begins at
/// `shift + i * rise_across + j * rise_deep` from the top.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Blocks {
    /// How wide the columns are across face 1, from arris 1.
    pub widths: Vec<Length>,
    /// How wide they are across face 2, from arris 2.
    pub depths: Vec<Length>,
    /// Where the list of widths begins, from arris 1.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub shift_across: Length,
    /// Where the list of depths begins, from arris 2.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub shift_deep: Length,
    /// How much farther from the top each column begins than the one before it across face 1.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub rise_across: Length,
    /// How much farther from the top each column begins than the one before it across face 2.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub rise_deep: Length,
    /// The columns: first all across face 1, then the next row of them.
    pub columns: Vec<Column>,
}

/// A stack of blocks.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Column {
    /// The blocks from the top. One alone is a stave: a single piece from end to end.
    pub blocks: Vec<Block>,
    /// Where the list begins, from the top.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub shift: Length,
}

/// One block of a column.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Block {
    /// Its wood.
    pub species: Species,
    /// How long it is along the leg.
    pub height: Length,
}

fn is_zero(length: &Length) -> bool {
    *length == Length::ZERO
}

impl Blocks {
    /// Columns of these widths both ways, without shifts and rises.
    pub fn new(widths: Vec<Length>, depths: Vec<Length>, columns: Vec<Column>) -> Blocks {
        let none = Length::ZERO;
        Blocks {
            widths,
            depths,
            shift_across: none.clone(),
            shift_deep: none.clone(),
            rise_across: none.clone(),
            rise_deep: none,
            columns,
        }
    }

    /// Checks counts, sizes, shifts and rises.
    ///
    /// # Errors
    /// [`WoodError`] names the first list, column, block or number that does not fit, NaN and infinities included.
    pub fn check(&self) -> Result<(), WoodError> {
        let (least, most) = (THINNEST_LAYER_MM, THICKEST_LAYER_MM);
        for (what, list) in [("across face 1", &self.widths), ("across face 2", &self.depths)] {
            if list.is_empty() || list.len() > MOST_COLUMNS {
                return Err(WoodError::ColumnCount { what, count: list.len(), most: MOST_COLUMNS });
            }
            for (index, width) in list.iter().enumerate() {
                if !(least..=most).contains(&width.mm()) {
                    return Err(WoodError::ColumnWidth { what, number: index + 1, mm: width.mm(), least, most });
                }
            }
        }
        let [across, deep] = [self.widths.len(), self.depths.len()];
        if self.columns.len() != across * deep {
            return Err(WoodError::Columns { count: self.columns.len(), across, deep });
        }
        for (what, mm) in [
            ("the columns' shift across face 1", &self.shift_across),
            ("the columns' shift across face 2", &self.shift_deep),
            ("the columns' rise across face 1", &self.rise_across),
            ("the columns' rise across face 2", &self.rise_deep),
        ] {
            error::size(what, mm.mm(), -most, most)?;
        }
        for (index, column) in self.columns.iter().enumerate() {
            let number = index + 1;
            if column.blocks.is_empty() || column.blocks.len() > MOST_BLOCKS {
                return Err(WoodError::BlockCount { column: number, count: column.blocks.len(), most: MOST_BLOCKS });
            }
            error::size("the shift of a column", column.shift.mm(), -most, most)?;
            for (block, listed) in column.blocks.iter().enumerate() {
                let mm = listed.height.mm();
                if !(least..=most).contains(&mm) {
                    return Err(WoodError::BlockHeight { column: number, block: block + 1, mm, least, most });
                }
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn blocks() -> Blocks {
        let block = |species| Block { species, height: 10.0.into() };
        let column = |species| Column { blocks: vec![block(species)], shift: 0.0.into() };
        let columns = vec![column(Species::Maple), column(Species::Walnut)];
        Blocks::new(vec![10.0.into(), 12.0.into()], vec![10.0.into()], columns)
    }

    #[test]
    fn bad_rows_are_named() {
        assert_eq!(blocks().check(), Ok(()));
        let says = |change: fn(&mut Blocks)| {
            let mut bad = blocks();
            change(&mut bad);
            bad.check().unwrap_err().to_string()
        };
        assert_eq!(says(|b| b.widths.clear()), "there are 0 columns across face 1: there must be 1 to 40");
        assert_eq!(
            says(|b| b.widths[1] = 0.0.into()),
            "column 2 across face 1 is 0 mm wide: it must be 0.2 mm to 10000 mm"
        );
        assert_eq!(
            says(|b| {
                b.columns.pop();
            }),
            "there is 1 stack of blocks, and 2 columns across face 1 by 1 across face 2 need 2"
        );
        assert_eq!(says(|b| b.columns[1].blocks.clear()), "column 2 has 0 blocks: it must have 1 to 100");
        assert_eq!(
            says(|b| b.columns[1].blocks[0].height = f64::NAN.into()),
            "block 1 of column 2 is NaN mm high: it must be 0.2 mm to 10000 mm"
        );
        assert!(says(|b| b.rise_across = f64::INFINITY.into()).contains("the columns' rise across face 1"));
        assert!(says(|b| b.columns[0].shift = 1e9.into()).contains("the shift of a column"));
    }
}

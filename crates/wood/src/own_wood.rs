//! A maker's own woods: rows like those of the built-in table, known by their names.

use std::fmt;
use std::hash::{Hash, Hasher};
use std::sync::{LazyLock, Mutex, PoisonError};

use serde::{Deserialize, Deserializer, Serialize, Serializer};

use crate::SpeciesRow;
use crate::species_table::unknown;

/// A handle to a row of a maker's own, as small as the name of a built-in wood. In files it is the row's name; the row
/// itself stands in the project's list.
///
/// Rows that were ever used are kept until the program ends: equal rows share one, and one is a few hundred bytes.
#[derive(Clone, Copy)]
pub struct OwnWood(&'static SpeciesRow);

static ROWS: LazyLock<Mutex<Vec<&'static SpeciesRow>>> = LazyLock::new(|| Mutex::new(Vec::new()));

impl OwnWood {
    /// The handle of a row.
    pub fn new(row: &SpeciesRow) -> OwnWood {
        let mut rows = ROWS.lock().unwrap_or_else(PoisonError::into_inner);
        let known = rows.iter().find(|known| **known == row);
        OwnWood(known.copied().unwrap_or_else(|| {
            let kept: &'static SpeciesRow = Box::leak(Box::new(row.clone()));
            rows.push(kept);
            kept
        }))
    }

    /// A wood of which only the name is known yet: grey, and without strength.
    pub fn named(name: &str) -> OwnWood {
        OwnWood::new(&SpeciesRow { name: name.to_owned(), ..unknown() })
    }

    /// Its row.
    pub fn row(self) -> &'static SpeciesRow {
        self.0
    }
}

impl PartialEq for OwnWood {
    fn eq(&self, other: &OwnWood) -> bool {
        // Equal rows are one and the same.
        std::ptr::eq(self.0, other.0)
    }
}

impl Eq for OwnWood {}

impl PartialOrd for OwnWood {
    fn partial_cmp(&self, other: &OwnWood) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for OwnWood {
    fn cmp(&self, other: &OwnWood) -> std::cmp::Ordering {
        let address = |wood: &OwnWood| std::ptr::from_ref(wood.0) as usize;
        self.0.name.cmp(&other.0.name).then_with(|| address(self).cmp(&address(other)))
    }
}

impl Hash for OwnWood {
    fn hash<H: Hasher>(&self, state: &mut H) {
        std::ptr::hash(self.0, state);
    }
}

impl fmt::Debug for OwnWood {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:?}", self.0.name)
    }
}

impl Serialize for OwnWood {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.0.name)
    }
}

impl<'de> Deserialize<'de> for OwnWood {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<OwnWood, D::Error> {
        Ok(OwnWood::named(&String::deserialize(deserializer)?))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Species;

    #[test]
    fn equal_rows_share_one_handle_and_others_do_not() {
        let row = SpeciesRow { name: "bog oak".to_owned(), ..Species::Oak.row().clone() };
        assert_eq!(OwnWood::new(&row), OwnWood::new(&row.clone()));
        assert_ne!(OwnWood::new(&row), OwnWood::new(&SpeciesRow { rays: 0.5, ..row.clone() }));
        let species = Species::Own(OwnWood::new(&row));
        assert_eq!((species.name(), species.row()), ("bog oak", &row));
        let text = ron::to_string(&species).unwrap();
        assert_eq!(text, "Own(\"bog oak\")");
        let read: Species = ron::from_str(&text).unwrap();
        assert_eq!(read.name(), "bog oak");
        assert_ne!(read, species, "its row is not known yet");
    }
}

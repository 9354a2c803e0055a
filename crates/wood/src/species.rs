//! The woods by name.

use std::fmt;

use serde::{Deserialize, Serialize};

use crate::OwnWood;
use crate::species_table::{self, SpeciesRow};

/// A furniture wood. In files it stands by this name, `Walnut`.
///
/// How it looks and what it bears stands in its row of the table, [`Species::row`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Species {
    /// Cream, very faint rings.
    Maple,
    /// Pale straw, faint rings.
    Birch,
    /// Pale straw with coarse open early wood.
    Ash,
    /// Honey with hard orange late wood.
    Pine,
    /// Grey-green.
    Poplar,
    /// Pinkish tan with short flecks.
    Beech,
    /// Orange tan with hard red late wood.
    DouglasFir,
    /// Mid brown with open early wood.
    Oak,
    /// Reddish brown with open early wood.
    RedOak,
    /// Red-brown, faint rings.
    Cherry,
    /// Red-brown with ribbons of streaks.
    Sapele,
    /// Deep red-brown.
    Mahogany,
    /// Dark chocolate with darker streaks.
    Walnut,
    /// One of the maker's own, with a row of the maker's; in files by its name, `Own("bog oak")`.
    Own(OwnWood),
}

impl Species {
    /// All built-in ones, lightest first.
    pub const ALL: [Species; 13] = [
        Species::Maple,
        Species::Birch,
        Species::Ash,
        Species::Pine,
        Species::Poplar,
        Species::Beech,
        Species::DouglasFir,
        Species::Oak,
        Species::RedOak,
        Species::Cherry,
        Species::Sapele,
        Species::Mahogany,
        Species::Walnut,
    ];

    /// Its row, of the built-in table or the maker's own: colours, weight, strength, where the figures are from.
    pub fn row(self) -> &'static SpeciesRow {
        match self {
            Species::Own(own) => own.row(),
            built_in => species_table::built_in(built_in),
        }
    }

    /// Its name as it stands in a sentence.
    pub fn name(self) -> &'static str {
        &self.row().name
    }

    /// Early wood (or light streaks), sRGB.
    pub fn early_colour(self) -> [u8; 3] {
        self.row().early
    }

    /// Late wood (or dark streaks), sRGB; always darker than the early wood.
    pub fn late_colour(self) -> [u8; 3] {
        self.row().late
    }

    /// The colour a swatch of this wood shows, see [`SpeciesRow::colour`].
    pub fn colour(self) -> [u8; 3] {
        self.row().colour()
    }
}

impl fmt::Display for Species {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

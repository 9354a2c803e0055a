use crate::{DesignId, Project};
use cornerwise_geometry::furniture::{ApronJoint, Arrangement};
use cornerwise_geometry::{Length, Piece};
use cornerwise_wood::Species;
use serde::{Deserialize, Serialize};

/// Whether a leg is made from its template or from the mirrored one.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Hand {
    /// As it is drawn.
    #[default]
    Drawn,
    /// From mirrored saw lines, with a template and a label of its own.
    Mirrored,
}

impl Hand {
    /// The other one.
    #[must_use]
    pub fn other(self) -> Hand {
        match self {
            Hand::Drawn => Hand::Mirrored,
            Hand::Mirrored => Hand::Drawn,
        }
    }

    /// What is written on a leg of this letter: "A", or "A mirrored".
    pub fn label(self, letter: char) -> String {
        match self {
            Hand::Drawn => letter.to_string(),
            Hand::Mirrored => format!("{letter} mirrored"),
        }
    }

    /// What is written on a piece of a leg of this letter: "A1"; of a mirrored leg "Am1".
    pub fn piece(self, letter: char, number: u8) -> String {
        match self {
            Hand::Drawn => format!("{letter}{number}"),
            Hand::Mirrored => format!("{letter}m{number}"),
        }
    }
}

/// A leg in its place.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Standing {
    /// Its design; 0 stands for the project's first.
    pub design: DesignId,
    /// The piece that faces the middle here; the design's own where it is left out. Of a mirrored leg it is the piece of
    /// the design as drawn.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub inside: Option<Piece>,
    /// Its hand.
    pub hand: Hand,
}

/// Upright boards in notches that take aprons.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Aprons {
    /// How thick they are.
    pub thickness: Length,
    /// How they meet.
    pub joint: ApronJoint,
}

impl Default for Aprons {
    fn default() -> Aprons {
        Aprons { thickness: Length::from_mm(20.0), joint: ApronJoint::Butted }
    }
}

/// A board on top of the legs.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Top {
    /// How thick it is.
    pub thickness: Length,
    /// How far it stands over the legs' axes.
    #[serde(default)]
    pub overhang: Length,
}

/// A plate under the foot of a column.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Base {
    /// From side to side.
    pub across: Length,
    /// How thick it is.
    pub thickness: Length,
    /// Whether it is round; square otherwise.
    #[serde(default)]
    pub round: bool,
}

/// The shade of a lamp.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Shade {
    /// Across at its upper edge.
    pub across_top: Length,
    /// Across at its lower edge.
    pub across_foot: Length,
    /// How high it is.
    pub height: Length,
    /// Its lower edge above the leg's top.
    pub above: Length,
}

/// What is added to a blank's finished sizes when stock is bought.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Rough {
    /// To width and to depth.
    pub across: Length,
    /// To the length, spare length not counted.
    pub along: Length,
    /// The board that blanks are cut from, where they come from boards of one size.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub board: Option<StockBoard>,
}

/// A board as it is bought.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StockBoard {
    /// Along the grain.
    pub length: Length,
    /// Across it.
    pub width: Length,
    /// How thick it is.
    pub thickness: Length,
}

impl StockBoard {
    /// Length, width, thickness, mm.
    pub fn sizes_mm(&self) -> [f64; 3] {
        [self.length.mm(), self.width.mm(), self.thickness.mm()]
    }
}

impl Default for StockBoard {
    fn default() -> StockBoard {
        // Our own choice: a length that is carried home, wide and thick enough for two squares.
        StockBoard { length: 2000.0.into(), width: 150.0.into(), thickness: 60.0.into() }
    }
}

impl Default for Rough {
    fn default() -> Rough {
        // Common practice, no source: enough to mill a twist out of a short square.
        Rough { across: Length::from_mm(6.0), along: Length::from_mm(25.0), board: None }
    }
}

/// Legs and boards together. What stands in the notches follows from the notches themselves: the apron's height and the
/// shelf's thickness are the notch's.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Furniture {
    /// Where the legs stand.
    pub arrangement: Arrangement,
    /// One for each place, in order; places beyond the list have the project's first design.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub legs: Vec<Standing>,
    /// Upright boards in the notches that take them.
    #[serde(default)]
    pub aprons: Aprons,
    /// A board on top.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub top: Option<Top>,
    /// A plate under a column's foot.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub base: Option<Base>,
    /// A lamp's shade.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shade: Option<Shade>,
    /// What the boards are made of.
    #[serde(default = "oak")]
    pub boards: Species,
    /// What is added to blanks when stock is bought.
    #[serde(default)]
    pub rough: Rough,
}

fn oak() -> Species {
    Species::Oak
}

impl Furniture {
    /// One leg by itself.
    pub fn column() -> Furniture {
        Furniture {
            arrangement: Arrangement::Column,
            legs: Vec::new(),
            aprons: Aprons::default(),
            top: None,
            base: None,
            shade: None,
            boards: oak(),
            rough: Rough::default(),
        }
    }

    /// The leg in a place.
    pub fn standing(&self, place: usize) -> Standing {
        self.legs.get(place).copied().unwrap_or_default()
    }
}

/// What changes of the furniture.
#[derive(Clone, Debug, PartialEq)]
pub enum FurniturePart {
    /// How the legs stand.
    Arrangement(Arrangement),
    /// The leg in one place, from 0.
    Leg {
        /// The place.
        place: usize,
        /// What stands there.
        standing: Standing,
    },
    /// The legs in all places, in order.
    Legs(Vec<Standing>),
    /// The aprons.
    Aprons(Aprons),
    /// The top.
    Top(Option<Top>),
    /// The base.
    Base(Option<Base>),
    /// The shade.
    Shade(Option<Shade>),
    /// What the boards are made of.
    Boards(Species),
    /// What is added to blanks.
    Rough(Rough),
}

impl FurniturePart {
    /// What the change is called in the history.
    pub(crate) fn label(&self, before: &Project) -> String {
        match self {
            FurniturePart::Arrangement(arrangement) => match arrangement {
                Arrangement::Column => "Place one leg".to_owned(),
                Arrangement::Rectangle { .. } => "Place four legs".to_owned(),
                Arrangement::Circle { .. } => "Place three legs round a circle".to_owned(),
                Arrangement::Row { .. } => "Place legs in a row".to_owned(),
            },
            FurniturePart::Leg { place, standing } => {
                let was = before.furniture.as_ref().map(|f| f.standing(*place)).unwrap_or_default();
                let what = if was.hand != standing.hand {
                    "Swap the hand of"
                } else if was.inside != standing.inside {
                    "Choose the inside piece of"
                } else {
                    "Choose"
                };
                format!("{what} the leg in place {}", place + 1)
            }
            FurniturePart::Legs(_) => "Change the hands of the legs".to_owned(),
            FurniturePart::Aprons(_) => "Change the aprons".to_owned(),
            FurniturePart::Top(_) => "Change the top".to_owned(),
            FurniturePart::Base(_) => "Change the base".to_owned(),
            FurniturePart::Shade(_) => "Change the shade".to_owned(),
            FurniturePart::Boards(species) => format!("Make the boards of {}", species.name()),
            FurniturePart::Rough(_) => "Change the rough allowance".to_owned(),
        }
    }

    /// The furniture with this part of it changed; a project without furniture begins with one leg by itself.
    pub(crate) fn done_to(&self, furniture: Option<&Furniture>) -> Furniture {
        let mut next = furniture.cloned().unwrap_or_else(Furniture::column);
        match self {
            FurniturePart::Arrangement(arrangement) => next.arrangement = arrangement.clone(),
            FurniturePart::Leg { place, standing } => {
                if next.legs.len() <= *place && *place < MAX_PLACES {
                    next.legs.resize(place + 1, Standing::default());
                }
                if let Some(slot) = next.legs.get_mut(*place) {
                    *slot = *standing;
                }
            }
            FurniturePart::Legs(legs) => next.legs.clone_from(legs),
            FurniturePart::Aprons(aprons) => next.aprons = aprons.clone(),
            FurniturePart::Top(top) => next.top.clone_from(top),
            FurniturePart::Base(base) => next.base.clone_from(base),
            FurniturePart::Shade(shade) => next.shade.clone_from(shade),
            FurniturePart::Boards(species) => next.boards = *species,
            FurniturePart::Rough(rough) => next.rough = rough.clone(),
        }
        next
    }
}

/// The most places for legs.
pub const MAX_PLACES: usize = 12;

//! Left and right legs for the four corners of a rectangle, and what is said of them.

use crate::assembly::PlacedLeg;
use crate::{Assembly, Hand, Standing};
use cornerwise_geometry::fit::{Mirror, mirror};
use cornerwise_geometry::furniture::Arrangement;

impl PlacedLeg {
    /// What stands there, as the project has it: of a mirrored leg the inside piece of the design as drawn.
    pub fn standing(&self) -> Standing {
        let inside = match self.hand {
            Hand::Drawn => self.fit.inside,
            Hand::Mirrored => self.fit.inside.mirrored(),
        };
        Standing { design: self.design.id, inside: Some(inside), hand: self.hand }
    }

    /// What stands as this leg's mirror.
    pub fn mirror_standing(&self) -> Standing {
        let own = self.standing();
        match mirror(&self.leg, self.fit.inside) {
            Mirror::Itself => own,
            // Of a mirrored leg, the piece of the design as drawn.
            Mirror::WithInside(piece) => Standing {
                inside: Some(match self.hand {
                    Hand::Drawn => piece,
                    Hand::Mirrored => piece.mirrored(),
                }),
                ..own
            },
            Mirror::OtherHand => Standing { hand: own.hand.other(), ..own },
        }
    }
}

impl Assembly {
    /// What stands in the four places of a rectangle so that they mirror one another across the middle both ways, after
    /// the leg in place 1. None for another arrangement.
    pub fn left_and_right(&self) -> Option<Vec<Standing>> {
        let (own, mirrored) = (self.legs.first()?.standing(), self.legs.first()?.mirror_standing());
        self.is_rectangle().then(|| vec![own, mirrored, own, mirrored])
    }

    /// What stands in all places so that each is the leg in place 1, turned.
    pub fn all_alike(&self) -> Option<Vec<Standing>> {
        Some(vec![self.legs.first()?.standing(); self.legs.len()])
    }

    /// Whether all places have the same leg.
    pub fn are_alike(&self) -> bool {
        let mut all = self.legs.iter().map(PlacedLeg::standing);
        all.next().is_none_or(|first| all.all(|other| other == first))
    }

    /// What the legs make together, a sentence; nothing for a single leg.
    pub fn hands_in_words(&self) -> Option<String> {
        let first = self.legs.first()?;
        let words = match self.mirrored_across() {
            Some([true, true]) => "The four legs mirror one another across the middle, both ways.".to_owned(),
            Some([true, false]) => {
                "The legs mirror one another from left to right, but not from front to back.".to_owned()
            }
            Some([false, true]) => {
                "The legs mirror one another from front to back, but not from left to right.".to_owned()
            }
            Some([false, false]) if self.are_alike() => {
                "Four legs alike: they turn into one another, like a pinwheel, and do not mirror.".to_owned()
            }
            Some([false, false]) => "The legs neither mirror one another nor are they all alike.".to_owned(),
            None if self.legs.len() < 2 => return None,
            None if self.are_alike() => "All legs are alike; round the middle they turn into one another.".to_owned(),
            None => "The legs differ.".to_owned(),
        };
        let mirrored = match mirror(&first.leg, first.fit.inside) {
            Mirror::Itself => format!("Leg {} is its own mirror as it stands in place 1.", first.label()),
            Mirror::WithInside(piece) => {
                format!(
                    "The mirror of leg {} is the same leg with {piece} inside: one template makes both.",
                    first.label()
                )
            }
            Mirror::OtherHand => {
                format!(
                    "The mirror of leg {} needs mirrored saw lines, with a template and a label of its own.",
                    first.label()
                )
            }
        };
        Some(format!("{words} {mirrored}"))
    }

    fn is_rectangle(&self) -> bool {
        matches!(self.furniture.arrangement, Arrangement::Rectangle { .. }) && self.legs.len() == 4
    }
}

//! Which legs differ, and how many are made of each.

use crate::{Assembly, Design, Hand, PlacedLeg, Project};
use cornerwise_geometry::fit::Fit;
use cornerwise_geometry::{Leg, Piece};
use std::sync::Arc;

/// Legs that are made alike: one design, one hand, and, where the inside piece is notched, one inside piece.
#[derive(Clone, Debug, PartialEq)]
pub struct LegLine {
    /// The design.
    pub design: Arc<Design>,
    /// The hand.
    pub hand: Hand,
    /// The leg, mirrored already where it is of the other hand.
    pub leg: Arc<Leg>,
    /// Its fit, mirrored with it; its inside piece is that of the first place.
    pub fit: Fit,
    /// Where such a leg stands, places from 0, with its inside piece there; none where furniture does not use the design.
    pub places: Vec<(usize, Piece)>,
}

impl LegLine {
    /// What is written on it: "A", or "A mirrored".
    pub fn label(&self) -> String {
        self.hand.label(self.design.letter)
    }

    /// How many are made: one at least.
    pub fn count(&self) -> usize {
        self.places.len().max(1)
    }

    /// The inside pieces, each once, in the order of the places.
    pub fn insides(&self) -> Vec<Piece> {
        let mut insides = vec![self.fit.inside];
        for (_, inside) in &self.places {
            if !insides.contains(inside) {
                insides.push(*inside);
            }
        }
        insides
    }

    fn makes(&self, placed: &PlacedLeg) -> bool {
        let as_notched = self.fit.notches.is_empty() || self.fit.inside == placed.fit.inside;
        self.design.id == placed.design.id && self.hand == placed.hand && as_notched
    }
}

impl Assembly {
    /// The legs, alike ones together, in the order of their first places.
    pub fn leg_list(&self) -> Vec<LegLine> {
        let mut lines: Vec<LegLine> = Vec::new();
        for (place, placed) in self.legs.iter().enumerate() {
            let at = (place, placed.fit.inside);
            match lines.iter_mut().find(|line| line.makes(placed)) {
                Some(line) => line.places.push(at),
                None => lines.push(LegLine {
                    design: Arc::clone(&placed.design),
                    hand: placed.hand,
                    leg: Arc::clone(&placed.leg),
                    fit: placed.fit.clone(),
                    places: vec![at],
                }),
            }
        }
        lines
    }
}

impl Project {
    /// Every leg that has paper of its own: without furniture each design once; with it the legs as they stand, then
    /// designs that stand nowhere.
    ///
    /// # Errors
    /// What `solve` says of a design.
    pub fn leg_list_with<E>(
        &self,
        mut solve: impl FnMut(&Arc<Design>) -> Result<Arc<Leg>, E>,
    ) -> Result<Vec<LegLine>, E> {
        let mut lines = match &self.furniture {
            Some(_) => self.assemble_with(&mut solve)?.leg_list(),
            None => Vec::new(),
        };
        for design in &self.designs {
            if !lines.iter().any(|line| Arc::ptr_eq(&line.design, design)) {
                let (leg, fit) = (solve(design)?, design.fit.clone());
                let design = Arc::clone(design);
                lines.push(LegLine { design, hand: Hand::Drawn, leg, fit, places: Vec::new() });
            }
        }
        let order = |line: &LegLine| self.designs.iter().position(|design| Arc::ptr_eq(design, &line.design));
        lines.sort_by_key(|line| (order(line), line.hand));
        Ok(lines)
    }
}

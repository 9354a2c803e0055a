//! What edits do to the knots of a blank, and to a blank that is laid on the table another way.

use cornerwise_wood::{Knot, MOST_KNOTS};

use crate::{Design, EditError, Turn};

impl Design {
    pub(crate) fn add_knot(&mut self, knot: &Knot) -> Result<(), EditError> {
        if self.knots.len() >= MOST_KNOTS {
            return Err(EditError::TooManyKnots);
        }
        self.knots.push(knot.clone());
        Ok(())
    }

    pub(crate) fn set_knot(&mut self, index: usize, knot: &Knot) -> Result<(), EditError> {
        let count = self.knots.len();
        let slot = self.knots.get_mut(index);
        *slot.ok_or(EditError::NoSuchKnot { knot: index.saturating_add(1), count })? = knot.clone();
        Ok(())
    }

    pub(crate) fn delete_knot(&mut self, index: usize) -> Result<(), EditError> {
        let count = self.knots.len();
        if index >= count {
            return Err(EditError::NoSuchKnot { knot: index.saturating_add(1), count });
        }
        self.knots.remove(index);
        Ok(())
    }

    /// The wood and the knots go with the blank; the lines stay.
    pub(crate) fn turn_blank(&mut self, turn: Turn) -> Result<(), EditError> {
        let [width, depth, length] = [&self.blank.width, &self.blank.depth, &self.blank.length].map(|size| size.mm());
        match turn {
            Turn::Quarter if (width - depth).abs() > 1e-9 => return Err(EditError::NotSquare),
            Turn::Quarter => self.roll(width),
            Turn::Half => {
                self.roll(width);
                self.roll(depth);
            }
            Turn::EndForEnd => {
                self.wood = self.wood.end_for_end(width, length);
                self.knots.iter_mut().for_each(|knot| *knot = knot.end_for_end([width, depth], length));
            }
        }
        Ok(())
    }

    fn roll(&mut self, width_mm: f64) {
        self.wood = self.wood.rolled(width_mm);
        self.knots.iter_mut().for_each(|knot| *knot = knot.rolled());
    }
}

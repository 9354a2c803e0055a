use crate::{Design, DesignId};
use cornerwise_geometry::{Blank, Leg, LegError, Line};
use serde::{Deserialize, Serialize};
use std::sync::Arc;

/// A shape of a leg that is kept beside the present one to compare with. It has no wood of its own.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Ghost {
    /// Its blank.
    pub blank: Blank,
    /// Its line on face 1.
    pub first: Line,
    /// Its line on face 2.
    pub second: Line,
}

impl Ghost {
    /// The present shape of a design.
    pub fn of(design: &Design) -> Ghost {
        Ghost { blank: design.blank.clone(), first: design.first.clone(), second: design.second.clone() }
    }

    /// A design of this shape, so that its lines mean the same as those of any design.
    pub(crate) fn design(&self, id: DesignId) -> Design {
        let Ghost { blank, first, second } = self.clone();
        Design { blank, first, second, ..Design::new(id, 'A') }
    }

    /// The leg that this shape makes.
    ///
    /// # Errors
    /// [`LegError`] when the blank or one of the lines is not sound, which a checked project never has.
    pub fn leg(&self) -> Result<Leg, LegError> {
        self.design(DesignId(1)).leg()
    }
}

impl Design {
    /// The design with its present shape pinned as its ghost.
    pub(crate) fn with_ghost(&self) -> Design {
        Design { ghost: Some(Arc::new(Ghost::of(self))), ..self.clone() }
    }

    /// The design in the shape of its ghost, which takes the present one; nothing where there is none.
    pub(crate) fn swapped_with_ghost(&self) -> Option<Design> {
        let Ghost { blank, first, second } = Ghost::clone(self.ghost.as_deref()?);
        Some(Design { blank, first, second, ghost: Some(Arc::new(Ghost::of(self))), ..self.clone() })
    }
}

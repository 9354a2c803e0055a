//! What is looked at in the place Furniture.

use cornerwise_geometry::Camera;

use crate::view::{START_TILT_DEG, START_TURN_DEG};

/// From where furniture is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Seen {
    /// From anywhere, by hand.
    Turning,
    /// From straight above.
    Plan,
    /// Places 1 and 2 in front.
    Front,
    /// Places 2 and 3 in front.
    Side,
}

impl Seen {
    /// All, as they stand in a row.
    pub const ALL: [Seen; 4] = [Seen::Turning, Seen::Plan, Seen::Front, Seen::Side];

    /// What it is called.
    pub fn name(self) -> &'static str {
        match self {
            Seen::Turning => "Turning",
            Seen::Plan => "Plan",
            Seen::Front => "Front",
            Seen::Side => "Side",
        }
    }
}

/// What is told beside the furniture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Told {
    /// How it stands, and what to watch out for.
    Standing,
    /// Blanks and boards to buy and to mill.
    Stock,
    /// What to mill, crosscut and glue, in order.
    Plan,
}

impl Told {
    /// All, as they stand in a row.
    pub const ALL: [Told; 3] = [Told::Standing, Told::Stock, Told::Plan];

    /// What it is called.
    pub fn name(self) -> &'static str {
        match self {
            Told::Standing => "Standing",
            Told::Stock => "Stock",
            Told::Plan => "Glue-up plan",
        }
    }
}

/// The view of furniture: nothing of it is the project.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FurnitureView {
    /// The place whose leg is chosen, from 0.
    pub place: Option<usize>,
    /// From where it is looked at.
    pub seen: Seen,
    /// How far it is turned, degrees.
    pub turn_deg: f64,
    /// From how far above it is looked at, degrees.
    pub tilt_deg: f64,
    /// How far it is drawn apart, 0 to 1.
    pub apart: f64,
    /// Whether the top is left out of the picture.
    pub without_top: bool,
    /// Whether the faces of the chosen leg are unfolded below the picture.
    pub faces: bool,
    /// What is told beside it.
    pub told: Told,
}

impl Default for FurnitureView {
    fn default() -> FurnitureView {
        FurnitureView {
            place: None,
            seen: Seen::Turning,
            turn_deg: START_TURN_DEG,
            tilt_deg: START_TILT_DEG + 8.0,
            apart: 0.0,
            without_top: false,
            faces: false,
            told: Told::Standing,
        }
    }
}

impl FurnitureView {
    /// The camera.
    pub fn camera(&self) -> Camera {
        let [turn, tilt] = self.angles_deg();
        Camera::new(turn, tilt)
    }

    /// How far the camera has gone round and up, degrees.
    pub fn angles_deg(&self) -> [f64; 2] {
        match self.seen {
            Seen::Turning => [self.turn_deg, self.tilt_deg],
            Seen::Plan => [0.0, 90.0],
            Seen::Front => [0.0, 0.0],
            Seen::Side => [90.0, 0.0],
        }
    }
}

//! Several legs and their boards together: where they stand, what bodies they are, and the exact order in which they are
//! painted.
//!
//! The frame of furniture: u and v across the floor, s down from above, so that (u, v, s) is right-handed as it is for a
//! leg; the floor is at s = 0 and everything stands above it, at s below 0.

mod arrangement;
mod boards;
mod body;
mod scene;
mod separate;
mod stability;
mod standing;

pub use arrangement::{Arrangement, Spot};
pub use boards::{ApronJoint, Board, BoardKind, Solid, apron_boards, frustum, overhung, regular, shelf_board};
pub use body::{Body, BodyPart};
pub use scene::{BodyFacet, FacetWood, Overlap, Scene};
pub use stability::{Stability, TiltTest, TippingEdge, convex_hull, tilt_tests};
pub use standing::{StandingLeg, leg_bodies, leg_bodies_parted, leg_levels};

#[cfg(test)]
mod tests;

//! How the blank's faces are sawn, as its end grain shows it.

use cornerwise_geometry::Face;
use cornerwise_project::Design;
use cornerwise_wood::{Sawn, Wood};
use serde::Serialize;

/// How a face of timber is sawn.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FaceSawnReport {
    /// The face, 1 to 4.
    pub face: u8,
    /// The angle between rings and face in its middle at the top end, 0 to 90 degrees.
    pub ring_angle_deg: f64,
    /// Its name by the project's limits: flat, rift or quarter.
    pub name: String,
}

/// The faces of timber in order; nothing of a glue-up, whose parts are sawn each in its own way.
pub(super) fn faces_sawn(design: &Design, limits_deg: [f64; 2]) -> Option<Vec<FaceSawnReport>> {
    let Wood::Timber(timber) = &design.wood else { return None };
    let size = [design.blank.width.mm(), design.blank.depth.mm()];
    let face = |face: Face| {
        let ring_angle_deg = timber.ring_angle_deg(face, size, 0.0);
        FaceSawnReport {
            face: face.number(),
            ring_angle_deg,
            name: Sawn::of(ring_angle_deg, limits_deg).name().to_owned(),
        }
    };
    Some([Face::One, Face::Two, Face::Three, Face::Four].map(face).into())
}

/// "1 flat (12°), 2 quarter (78°), …".
pub(super) fn in_words(faces: &[FaceSawnReport]) -> String {
    let one = |face: &FaceSawnReport| format!("{} {} ({:.0}°)", face.face, face.name, face.ring_angle_deg);
    format!("face {}", faces.iter().map(one).collect::<Vec<_>>().join(", "))
}

//! How the faces of a blank of timber are sawn: by the angle between the rings and the face.

use cornerwise_geometry::{BlankPoint, Face};

use crate::Timber;
use crate::rings::Rings;

/// What a face is called by its ring angle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sawn {
    /// Rings nearly along the face.
    Flat,
    /// Between the two.
    Rift,
    /// Rings nearly square to the face.
    Quarter,
}

/// The ring angles at which flat ends and quarter begins, degrees: the usual ones of the US trade; mills and handbooks draw
/// them elsewhere (0 to 45 and 75 to 90 in one mill's catalogue).
pub const SAWN_LIMITS_DEG: [f64; 2] = [30.0, 60.0];

impl Sawn {
    /// By ring angle, 0 to 90 degrees, and the angles where flat ends and quarter begins.
    pub fn of(ring_angle_deg: f64, [flat, quarter]: [f64; 2]) -> Sawn {
        if ring_angle_deg < flat {
            Sawn::Flat
        } else if ring_angle_deg < quarter {
            Sawn::Rift
        } else {
            Sawn::Quarter
        }
    }

    /// Its name as it stands in a sentence.
    pub fn name(self) -> &'static str {
        match self {
            Sawn::Flat => "flat",
            Sawn::Rift => "rift",
            Sawn::Quarter => "quarter",
        }
    }
}

impl Timber {
    /// The angle between the rings and a face of a blank `width_mm` by `depth_mm`, 0 to 90 degrees: in the middle of the
    /// face, `s_mm` from the top, as the end grain there shows it.
    pub fn ring_angle_deg(&self, face: Face, [width_mm, depth_mm]: [f64; 2], s_mm: f64) -> f64 {
        let along_y = matches!(face, Face::Two | Face::Four);
        let middle = face.point(s_mm, 0.5 * if along_y { depth_mm } else { width_mm }, [width_mm, depth_mm]);
        let BlankPoint { x, y, .. } = middle;
        let rings = Rings::new(self);
        let [px, py] = rings.pith_at(s_mm);
        let out = rings.out_mm(middle);
        // Rings run square to the way from the pith; a face runs square to its own normal.
        let [along, across] = if along_y { [y - py, x - px] } else { [x - px, y - py] };
        if out < 1e-9 { 90.0 } else { along.abs().atan2(across.abs()).to_degrees() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Species;

    fn timber(x: f64, y: f64) -> Timber {
        Timber::new(Species::Oak, x.into(), y.into(), 3.0.into())
    }

    /// Usual US trade: flat or plain 0 to 30 degrees, rift 30 to 60, quarter 60 to 90 (archtoolbox.com, lumber cuts;
    /// goosebaylumber.net). A mill's catalogue draws the lines at 45 and 75 (hardwoodind.com, red oak).
    #[test]
    fn classes_are_the_published_ones() {
        let usual = |deg| Sawn::of(deg, SAWN_LIMITS_DEG);
        assert_eq!([0.0, 29.9].map(usual), [Sawn::Flat; 2]);
        assert_eq!([30.0, 45.0, 59.9].map(usual), [Sawn::Rift; 3]);
        assert_eq!([60.0, 90.0].map(usual), [Sawn::Quarter; 2]);
        assert_eq!([44.0, 74.0, 76.0].map(|deg| Sawn::of(deg, [45.0, 75.0])), [Sawn::Flat, Sawn::Rift, Sawn::Quarter]);
    }

    #[test]
    fn a_pith_straight_below_a_face_makes_it_flat_and_one_beside_it_quarter() {
        let size = [50.0, 40.0];
        assert_eq!(timber(25.0, 300.0).ring_angle_deg(Face::One, size, 0.0), 0.0);
        assert_eq!(timber(-300.0, 0.0).ring_angle_deg(Face::One, size, 0.0), 90.0);
        // Far away at 45 degrees: rift on all four.
        for face in [Face::One, Face::Two, Face::Three, Face::Four] {
            let deg = timber(-9000.0, -9000.0).ring_angle_deg(face, size, 0.0);
            assert!((deg - 45.0).abs() < 0.3, "{face}: {deg}");
        }
    }

    /// On a square blank with a far pith the angles on neighbouring faces are complementary.
    #[test]
    fn angles_on_neighbouring_faces_add_up_to_a_right_angle() {
        for deg in [0.0_f64, 10.0, 33.0, 71.0, 90.0] {
            let (sin, cos) = deg.to_radians().sin_cos();
            let far = timber(25.0 + 9000.0 * cos, 25.0 + 9000.0 * sin);
            let angle = |face| far.ring_angle_deg(face, [50.0, 50.0], 0.0);
            assert!((angle(Face::One) + angle(Face::Two) - 90.0).abs() < 0.5, "{deg}");
        }
    }
}

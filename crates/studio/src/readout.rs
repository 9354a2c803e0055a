//! Figures of a place on a saw line, in the project's units.

use cornerwise_geometry::{LineAt, Units};

/// A radius beyond this is a straight line to the eye and the saw, mm.
const STRAIGHT_MM: f64 = 100_000.0;

/// `0.12`: a slope, offset per length. What rounds to nothing has no sign.
pub fn slope_figure(slope: f64) -> String {
    let text = format!("{slope:.2}");
    if text == "-0.00" { "0.00".to_owned() } else { text }
}

/// `slope 0.12 (7°)`: offset per length, and the angle to the grain.
pub fn slope(at: &LineAt) -> String {
    format!("slope {} ({:.1}°)", slope_figure(at.slope), at.slope.abs().atan().to_degrees())
}

/// `bend radius 214 mm`, or `straight`.
pub fn bend(at: &LineAt, units: Units) -> String {
    let radius_mm = 1.0 / at.curvature.abs();
    if radius_mm.is_finite() && radius_mm < STRAIGHT_MM {
        format!("bend radius {}", units.show_with_unit(radius_mm))
    } else {
        "straight".to_owned()
    }
}

/// What stands beside the pointer while a point is dragged, line by line.
pub fn dragged(from_top_mm: f64, offset_mm: f64, at: &LineAt, units: Units) -> [String; 4] {
    [
        format!("{} from top", units.show_with_unit(from_top_mm)),
        format!("offset {}", units.show_with_unit(offset_mm)),
        slope(at),
        bend(at, units),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use cornerwise_geometry::Finest;

    #[test]
    fn figures_are_in_the_makers_units() {
        let at = LineAt { offset: 20.0, slope: -0.25, curvature: -1.0 / 254.0 };
        let mm = dragged(312.4, 20.0, &at, Units::Millimetres);
        assert_eq!(mm, ["312.4 mm from top", "offset 20 mm", "slope -0.25 (14.0°)", "bend radius 254 mm"]);
        let inch = dragged(69.85, 25.4, &at, Units::Inches(Finest::Sixteenth));
        assert_eq!(inch[0], "2 3/4\" from top");
        assert_eq!(inch[3], "bend radius 10\"");
        let odd = LineAt { curvature: 1.0 / 1234.56, ..at };
        assert_eq!(bend(&odd, Units::Millimetres), "bend radius 1234.56 mm", "the figure itself, not a rounder one");
        assert_eq!(bend(&LineAt { curvature: 0.0, ..at }, Units::Millimetres), "straight");
        assert_eq!(slope(&LineAt { slope: -1e-9, ..at }), "slope 0.00 (0.0°)");
        assert_eq!([-0.004, 0.004, -0.006].map(slope_figure), ["0.00", "0.00", "-0.01"]);
    }
}

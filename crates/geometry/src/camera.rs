//! Where the leg is looked at from.

/// An orthographic view of the upright leg, TOP up (s runs down the picture).
///
/// The directions right, up and toward the viewer are a right-handed frame, as (u, v, s) is: the picture is never a
/// mirror.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Camera {
    right: [f64; 3],
    up: [f64; 3],
    toward: [f64; 3],
}

impl Camera {
    /// A camera that has gone `turn_deg` round the leg and `tilt_deg` up.
    ///
    /// Turn 0 looks squarely at side 1, 90 at side 2, 180 at side 3, 270 at side 4 (before the pieces are rotated: at
    /// the faces of those numbers), so a growing turn moves what is near to the right. Any turn is allowed.
    /// Tilt 0 is level, 90 looks straight down on the top, -90 straight up at the foot; it is kept to -90..=90.
    /// What is not a number counts as 0.
    pub fn new(turn_deg: f64, tilt_deg: f64) -> Camera {
        let (turn_sin, turn_cos) = sin_cos(turn_deg);
        let (tilt_sin, tilt_cos) = sin_cos(tilt_deg.clamp(-90.0, 90.0));
        // The level direction toward the viewer is -v at turn 0 and +u at 90; s = u × v points down.
        let level = [turn_sin, -turn_cos];
        Camera {
            right: [-turn_cos, -turn_sin, 0.0],
            up: [-tilt_sin * level[0], -tilt_sin * level[1], -tilt_cos],
            toward: [tilt_cos * level[0], tilt_cos * level[1], -tilt_sin],
        }
    }

    /// A shown position (u, v, s) as the viewer has it: right, up, toward the viewer, all mm.
    pub fn view(&self, at: [f64; 3]) -> [f64; 3] {
        [dot(self.right, at), dot(self.up, at), dot(self.toward, at)]
    }

    /// The unit vector in (u, v, s) that points to the right in the picture.
    pub fn right(&self) -> [f64; 3] {
        self.right
    }

    /// The unit vector in (u, v, s) that points up in the picture.
    pub fn up(&self) -> [f64; 3] {
        self.up
    }

    /// The unit vector in (u, v, s) that points out of the picture, toward the viewer.
    pub fn toward(&self) -> [f64; 3] {
        self.toward
    }
}

/// Sine and cosine of degrees, exact at whole quarters: a camera straight above must not see the sides by rounding.
pub(crate) fn sin_cos(deg: f64) -> (f64, f64) {
    if !deg.is_finite() {
        return (0.0, 1.0);
    }
    let quarters = (deg / 90.0).round();
    let (sin, cos) = (deg - quarters * 90.0).to_radians().sin_cos();
    match quarters.rem_euclid(4.0) {
        1.0 => (cos, -sin),
        2.0 => (-sin, -cos),
        3.0 => (-cos, sin),
        _ => (sin, cos),
    }
}

fn dot(p: [f64; 3], q: [f64; 3]) -> f64 {
    p[0] * q[0] + p[1] * q[1] + p[2] * q[2]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cross(p: [f64; 3], q: [f64; 3]) -> [f64; 3] {
        [p[1] * q[2] - p[2] * q[1], p[2] * q[0] - p[0] * q[2], p[0] * q[1] - p[1] * q[0]]
    }

    #[test]
    fn never_a_mirror() {
        for turn in [-725.0, -90.0, 0.0, 33.0, 90.0, 151.0, 180.0, 270.0, 361.0] {
            for tilt in [-90.0, -41.0, 0.0, 12.0, 90.0] {
                let camera = Camera::new(turn, tilt);
                let rows = [camera.right, camera.up, camera.toward];
                for (i, row) in rows.iter().enumerate() {
                    for (j, other) in rows.iter().enumerate() {
                        let expected = if i == j { 1.0 } else { 0.0 };
                        assert!((dot(*row, *other) - expected).abs() < 1e-15);
                    }
                }
                let determinant = dot(cross(camera.right, camera.up), camera.toward);
                assert!((determinant - 1.0).abs() < 1e-15, "turn {turn}, tilt {tilt}: {determinant}");
                assert!(camera.view([0.0, 0.0, 1.0])[1] <= 0.0, "the foot is above the top");
            }
        }
    }

    /// A row of the window (top end left, the side's own direction down) rotated a quarter is what the camera sees of
    /// that side. Directions down the rows as design.md sets them: +u, +v, -u, -v.
    #[test]
    fn a_side_seen_squarely_is_its_row_on_end() {
        let rows = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [-1.0, 0.0, 0.0], [0.0, -1.0, 0.0]];
        for (side, down) in rows.into_iter().enumerate() {
            let camera = Camera::new(90.0 * side as f64, 0.0);
            // Rotated a quarter clockwise, left becomes up and down becomes left.
            assert_eq!(camera.view([0.0, 0.0, 1.0]), [0.0, -1.0, 0.0]);
            assert_eq!(camera.view(down), [-1.0, 0.0, 0.0]);
            let outward = cross([0.0, 0.0, 1.0], [-down[0], -down[1], 0.0]);
            assert_eq!(camera.toward, outward, "right × up of the row");
        }
    }

    #[test]
    fn a_growing_turn_moves_what_is_near_to_the_right() {
        let near = Camera::new(40.0, 0.0).toward;
        assert!(Camera::new(50.0, 0.0).view(near)[0] > 0.1);
    }

    #[test]
    fn straight_down_is_exact() {
        for turn in [0.0, 45.0, 123.0] {
            assert_eq!(Camera::new(turn, 90.0).toward, [0.0, 0.0, -1.0]);
            assert_eq!(Camera::new(turn, 120.0), Camera::new(turn, 90.0));
        }
        assert_eq!(Camera::new(f64::NAN, f64::INFINITY).toward, Camera::new(0.0, 90.0).toward);
    }
}

//! Squaring up: the projective map from a flat rectangle to the four places where its corners lie in a picture.

/// From a rectangle, each way as a share of its size, to a picture of it.
///
/// The map from the unit square to four corners is a closed form: P. S. Heckbert, "Fundamentals of Texture Mapping and Image
/// Warping", University of California, Berkeley, 1989, section 2.2.3.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Squaring {
    /// Rows of the matrix that takes (u, v, 1) to the picture, up to a factor.
    rows: [[f64; 3]; 3],
}

/// Corners must span at least this much of the picture's area in each of their four triangles.
const LEAST_TRIANGLE: f64 = 1e-6;

impl Squaring {
    /// With the rectangle's corners (0, 0), (1, 0), (1, 1) and (0, 1) at these places of the picture, y down. Nothing where
    /// they do not go round clockwise as the four corners of a rectangle seen from its own side do: crossed, folded in,
    /// mirrored, or all but in one line.
    pub fn new(corners: [[f64; 2]; 4]) -> Option<Squaring> {
        let turns = |i: usize| {
            let [p, q, r] = [0, 1, 2].map(|k| corners[(i + k) % 4]);
            (q[0] - p[0]) * (r[1] - q[1]) - (q[1] - p[1]) * (r[0] - q[0])
        };
        // NaN is not above anything.
        if !(0..4).all(|i| turns(i) > LEAST_TRIANGLE) {
            return None;
        }
        let [p0, p1, p2, p3] = corners;
        let [sx, sy] = [0, 1].map(|i| p0[i] - p1[i] + p2[i] - p3[i]);
        let [x1, y1] = [0, 1].map(|i| p1[i] - p2[i]);
        let [x2, y2] = [0, 1].map(|i| p3[i] - p2[i]);
        let whole = x1 * y2 - x2 * y1;
        let (g, h) = ((sx * y2 - x2 * sy) / whole, (x1 * sy - sx * y1) / whole);
        let row = |i: usize| [p1[i] - p0[i] + g * p1[i], p3[i] - p0[i] + h * p3[i], p0[i]];
        let rows = [row(0), row(1), [g, h, 1.0]];
        rows.as_flattened().iter().all(|v| v.is_finite()).then_some(Squaring { rows })
    }

    /// Where a place of the rectangle lies in the picture.
    pub fn picture(&self, [u, v]: [f64; 2]) -> [f64; 2] {
        let [x, y, w] = self.rows.map(|[a, b, c]| a * u + b * v + c);
        [x / w, y / w]
    }

    /// The rows for a rectangle measured from `from`, `per` of its size for each unit, in a picture of `size`.
    pub(crate) fn scaled(&self, from: [f64; 2], per: [f64; 2], size: [f64; 2]) -> [[f64; 3]; 3] {
        let scale = [size[0], size[1], 1.0];
        [0, 1, 2].map(|i| {
            let [a, b, c] = self.rows[i];
            let (a, b) = (a * per[0], b * per[1]);
            [a, b, c - a * from[0] - b * from[1]].map(|v| v * scale[i])
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn corners_go_to_corners_and_a_rectangle_stays_straight() {
        let corners = [[0.1, 0.2], [0.9, 0.15], [0.95, 0.8], [0.05, 0.7]];
        let squaring = Squaring::new(corners).unwrap();
        for (at, wanted) in [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]].into_iter().zip(corners) {
            let [x, y] = squaring.picture(at);
            assert!((x - wanted[0]).hypot(y - wanted[1]) < 1e-12, "{at:?}");
        }
        let flat = Squaring::new([[0.2, 0.3], [0.8, 0.3], [0.8, 0.6], [0.2, 0.6]]).unwrap();
        let [x, y] = flat.picture([0.25, 0.5]);
        assert!((x - 0.35).abs() < 1e-12 && (y - 0.45).abs() < 1e-12);
        // Measured in mm into pixels.
        let rows = flat.scaled([-20.0, 0.0], [1.0 / 700.0, 1.0 / 50.0], [6000.0, 4000.0]);
        let [x, y, w] = rows.map(|[a, b, c]| a * 155.0 + b * 25.0 + c);
        assert!((x / w - 2100.0).abs() < 1e-9 && (y / w - 1800.0).abs() < 1e-9);
    }

    #[test]
    fn what_is_no_picture_of_a_rectangle_is_refused() {
        let good = [[0.1, 0.1], [0.9, 0.1], [0.9, 0.9], [0.1, 0.9]];
        assert!(Squaring::new(good).is_some());
        let [p, q, r, s] = good;
        for bad in [[p, r, q, s], [p, s, r, q], [p, q, [0.3, 0.3], s], [p, q, q, s], [p, q, [f64::NAN, 0.9], s]] {
            assert_eq!(Squaring::new(bad), None, "{bad:?}");
        }
        // A quarter round it is another picture, and a sound one.
        assert!(Squaring::new([q, r, s, p]).is_some());
    }
}

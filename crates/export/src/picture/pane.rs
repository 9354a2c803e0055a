//! A facet laid on the picture: where it is, how it is lit, and which point of the blank each sample shows.

use cornerwise_geometry::{BlankPoint, Camera, Facet, Facets, Piece, Surface};
use cornerwise_wood::Steps;

use super::{MARGIN, SAMPLES};

/// From the camera's millimetres to samples: columns from the left, rows from the top; sample (0, 0) has its middle at
/// (0, 0).
pub(super) struct Screen {
    samples_per_mm: f64,
    /// The camera's (right, up) in the middle of the picture.
    middle: [f64; 2],
    /// Where that is, in samples.
    at: [f64; 2],
}

impl Screen {
    /// As large as the picture holds the facets, in the middle.
    pub(super) fn fit(facets: &Facets, camera: &Camera, size_px: [usize; 2]) -> Screen {
        let [least, most] = facets.seen_within(camera).unwrap_or([[0.0; 2]; 2]);
        let size = size_px.map(|side| (side * SAMPLES) as f64);
        let margin = 2.0 * MARGIN * size[0].min(size[1]);
        let scale = |axis: usize| (size[axis] - margin) / (most[axis] - least[axis]).max(1e-6);
        Screen {
            samples_per_mm: scale(0).min(scale(1)),
            middle: [0.5 * (least[0] + most[0]), 0.5 * (least[1] + most[1])],
            at: [0.5 * size[0] - 0.5, 0.5 * size[1] - 0.5],
        }
    }

    pub(super) fn samples_per_mm(&self) -> f64 {
        self.samples_per_mm
    }

    fn place(&self, [right, up, _]: [f64; 3]) -> [f64; 2] {
        [
            self.at[0] + self.samples_per_mm * (right - self.middle[0]),
            self.at[1] - self.samples_per_mm * (up - self.middle[1]),
        ]
    }
}

/// A facet on the picture. Everything on it is linear in column and row, exactly, because the facet is flat and the
/// camera has no vanishing point.
pub(super) struct Pane {
    pub(super) piece: Piece,
    pub(super) surface: Surface,
    /// Columns and rows, not rounded.
    pub(super) corners: [[f64; 2]; 4],
    /// The direction out of the wood, as the camera has it.
    outward: [f64; 3],
    /// How much light it sends back, by red, green and blue.
    pub(super) light: [f64; 3],
    /// How much the finish on it shines, whatever the wood, of 255.
    pub(super) sheen: f64,
    /// From one sample to the next, in the blank.
    pub(super) steps: Steps,
    /// Value at (0, 0), by column, by row: x, y and s in the blank, and depth toward the viewer, mm.
    linear: [[f64; 3]; 4],
}

impl Pane {
    /// None where the facet is seen so nearly edge-on that it covers nothing.
    pub(super) fn new(facet: &Facet, camera: &Camera, screen: &Screen) -> Option<Pane> {
        let viewed = facet.corners.map(|corner| camera.view(corner.at));
        let corners = viewed.map(|corner| screen.place(corner));
        let diagonals = [from_to(corners[0], corners[2]), from_to(corners[1], corners[3])];
        let twice_area = diagonals[0][0] * diagonals[1][1] - diagonals[0][1] * diagonals[1][0];
        if twice_area.abs() < 1e-9 {
            return None;
        }
        let value = |corner: usize| {
            let BlankPoint { x, y, s } = facet.corners[corner].blank;
            [x, y, s, viewed[corner][2]]
        };
        let values = [value(0), value(1), value(2), value(3)];
        let linear = [0, 1, 2, 3].map(|i| {
            let rise = [values[2][i] - values[0][i], values[3][i] - values[1][i]];
            let by_column = (rise[0] * diagonals[1][1] - rise[1] * diagonals[0][1]) / twice_area;
            let by_row = (rise[1] * diagonals[0][0] - rise[0] * diagonals[1][0]) / twice_area;
            [values[0][i] - by_column * corners[0][0] - by_row * corners[0][1], by_column, by_row]
        });
        let steps = Steps::new([0, 1, 2].map(|i| linear[i][1]), [0, 1, 2].map(|i| linear[i][2]));
        let outward = camera.view(facet.outward());
        let (light, sheen) = (light(outward), sheen(outward));
        Some(Pane { piece: facet.piece, surface: facet.surface, corners, outward, light, sheen, steps, linear })
    }

    /// The point of the blank that a sample shows.
    pub(super) fn blank(&self, column: f64, row: f64) -> BlankPoint {
        let [x, y, s] = [0, 1, 2].map(|i| self.value(i, column, row));
        BlankPoint { x, y, s }
    }

    /// How near to the viewer its plane is, mm.
    pub(super) fn depth(&self, column: f64, row: f64) -> f64 {
        self.value(3, column, row)
    }

    /// The cosine of the angle between two panes' outward directions.
    pub(super) fn bend(&self, other: &Pane) -> f64 {
        dot(self.outward, other.outward)
    }

    fn value(&self, which: usize, column: f64, row: f64) -> f64 {
        let [at_origin, by_column, by_row] = self.linear[which];
        at_origin + by_column * column + by_row * row
    }
}

/// The direction to a window high up on the left, as the camera has it.
const WINDOW: [f64; 3] = [-0.47, 0.52, 0.71];

/// The window's light in a bright room. Shade keeps some red: pale woods would turn olive.
pub(super) fn light(outward: [f64; 3]) -> [f64; 3] {
    let light = 0.74 + 0.36 * dot(outward, WINDOW).max(0.0);
    [light + 0.08 * (1.0 - light), light, light]
}

/// A dull shine where the window is nearly mirrored toward the viewer: it keeps the form of dark woods readable.
pub(super) fn sheen(outward: [f64; 3]) -> f64 {
    const HALF_WAY: [f64; 3] = [-0.254, 0.281, 0.925];
    let mirrored = dot(outward, HALF_WAY).max(0.0).powi(4);
    16.0 * mirrored
}

fn from_to(from: [f64; 2], to: [f64; 2]) -> [f64; 2] {
    [to[0] - from[0], to[1] - from[1]]
}

fn dot(p: [f64; 3], q: [f64; 3]) -> f64 {
    p[0] * q[0] + p[1] * q[1] + p[2] * q[2]
}

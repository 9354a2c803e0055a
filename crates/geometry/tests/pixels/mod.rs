//! Pixel pictures that know nothing of a drawing order: flat numbers, pixel centres, no smoothing, one rule for which
//! pixels a polygon covers. Where a painted picture and a depth test differ and the surfaces are not at one depth, a pixel
//! is wrong.

use std::io::Write;

use cornerwise_geometry::Camera;

/// Surfaces this close in depth touch: either may be on top.
const TOUCHING_MM: f64 = 1e-6;

/// What is seen at each pixel: a number and its depth toward the viewer.
pub struct Picture {
    origin: [f64; 2],
    px_per_mm: f64,
    columns: usize,
    rows: usize,
    seen: Vec<Option<(u32, f64)>>,
}

impl Picture {
    /// An empty picture of what is seen within two corners.
    pub fn new([least, most]: [[f64; 2]; 2], px_per_mm: f64) -> Picture {
        let across = |i: usize| ((most[i] - least[i]) * px_per_mm).ceil() as usize + 2;
        let (columns, rows) = (across(0), across(1));
        // Pixel centres lie nowhere in particular, so that no edge runs through a row of them.
        let origin = [least[0] - 0.71 + 1e-3 * 2f64.sqrt(), least[1] - 0.71 + 1e-3 * 3f64.sqrt()];
        Picture { origin, px_per_mm, columns, rows, seen: vec![None; columns * rows] }
    }

    /// Calls `put` with each pixel whose centre a planar convex polygon of three or four corners covers, and its depth.
    fn cover<const N: usize>(
        &mut self,
        polygon: [[f64; 3]; N],
        camera: &Camera,
        mut put: impl FnMut(&mut Option<(u32, f64)>, f64),
    ) {
        let corners = polygon.map(|corner| camera.view(corner));
        let at = corners.map(|[right, up, _]| {
            [(right - self.origin[0]) * self.px_per_mm - 0.5, (up - self.origin[1]) * self.px_per_mm - 0.5]
        });
        // Two directions in its plane: of four corners the diagonals, of three two edges.
        let along = |from: usize, to: usize| [at[to][0] - at[from][0], at[to][1] - at[from][1]];
        let (e, f) = (along(0, 2), along(1, N - 1));
        let twice_area = e[0] * f[1] - e[1] * f[0];
        if twice_area.abs() < 1e-9 {
            return; // seen edge-on
        }
        let rise = [corners[2][2] - corners[0][2], corners[N - 1][2] - corners[1][2]];
        let slope = [(rise[0] * f[1] - rise[1] * e[1]) / twice_area, (rise[1] * e[0] - rise[0] * f[0]) / twice_area];
        let span = |axis: usize, count: usize| {
            let least = at.iter().fold(f64::INFINITY, |least, corner| least.min(corner[axis])).ceil().max(0.0);
            let most = at.iter().fold(f64::NEG_INFINITY, |most, corner| most.max(corner[axis])).floor();
            least as usize..((most + 1.0).max(0.0) as usize).min(count)
        };
        for row in span(1, self.rows) {
            for column in span(0, self.columns) {
                let (x, y) = (column as f64, row as f64);
                let inside = (0..N).all(|i| {
                    let (from, to) = (at[i], at[(i + 1) % N]);
                    let left = (to[0] - from[0]) * (y - from[1]) - (to[1] - from[1]) * (x - from[0]);
                    left * twice_area >= 0.0
                });
                if inside {
                    let depth = corners[0][2] + slope[0] * (x - at[0][0]) + slope[1] * (y - at[0][1]);
                    put(&mut self.seen[row * self.columns + column], depth);
                }
            }
        }
    }

    /// Of all polygons the nearest at each pixel.
    pub fn nearest<const N: usize>(&mut self, number: u32, polygon: [[f64; 3]; N], camera: &Camera) {
        self.cover(polygon, camera, |seen, depth| {
            if seen.is_none_or(|(_, nearest)| depth > nearest) {
                *seen = Some((number, depth));
            }
        });
    }

    /// Painted over what is there.
    pub fn over<const N: usize>(&mut self, number: u32, polygon: [[f64; 3]; N], camera: &Camera) {
        self.cover(polygon, camera, |seen, depth| *seen = Some((number, depth)));
    }
}

/// How pictures compare.
#[derive(Default)]
pub struct Tally {
    pub pictures: usize,
    pub compared: usize,
    pub wrong: usize,
    pub touching: usize,
    /// A centre that only one of the two covers: within rounding of a silhouette where they are made of other polygons.
    pub silhouette: usize,
}

impl Tally {
    /// Compares the pixels that either picture covers.
    pub fn add(&mut self, by_depth: &Picture, painted: &Picture) {
        self.pictures += 1;
        for pair in by_depth.seen.iter().zip(&painted.seen) {
            match pair {
                (None, None) => continue,
                (Some((nearest, _)), Some((number, _))) if nearest == number => {}
                (Some((_, nearest)), Some((_, depth))) if (nearest - depth).abs() < TOUCHING_MM => self.touching += 1,
                (None, Some(_)) | (Some(_), None) => self.silhouette += 1,
                _ => self.wrong += 1,
            }
            self.compared += 1;
        }
    }

    /// Tells what came out, the share of what is undecided too.
    pub fn report(&self, what: &str) {
        let Tally { pictures, compared, wrong, touching, silhouette } = self;
        let share = |part: &usize| 100.0 * *part as f64 / (*compared).max(1) as f64;
        let _ = writeln!(
            std::io::stderr(),
            "{what}: {compared} pixels of {pictures} pictures, {wrong} wrong ({:.4} %), {touching} touch ({:.4} %), \
             {silhouette} on a silhouette",
            share(wrong),
            share(touching)
        );
    }
}

//! Whether it stands: the footprint, tipping loads, and the tilt it bears. Figures to compare; they certify nothing.

pub use super::separate::hull as convex_hull;

/// An edge of the top, and the load that tips the furniture there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TippingEdge {
    /// The middle of the edge, mm.
    pub at_mm: [f64; 2],
    /// The load at its middle that lifts the far feet, as a share of the furniture's own weight; none where the edge lies
    /// within the footprint, and no load there tips it.
    pub load_share: Option<f64>,
}

/// How furniture stands on a level floor.
#[derive(Clone, Debug, PartialEq)]
pub struct Stability {
    /// The outline of its feet, counter-clockwise, mm.
    pub footprint_mm: Vec<[f64; 2]>,
    /// Its centre of mass (u, v) and the height above the floor, mm.
    pub centre_mm: [f64; 3],
    /// The least distance from below the centre of mass to an edge of the footprint, mm; below 0 it falls over.
    pub margin_mm: f64,
    /// The tilt at which it falls over, in the worst direction, degrees.
    pub tilt_deg: f64,
}

impl Stability {
    /// Of feet whose outlines lie on the floor and a body whose centre of mass is at (u, v, height), mm. None where the
    /// feet have no outline.
    pub fn new(feet: &[[f64; 2]], centre_mm: [f64; 3]) -> Option<Stability> {
        let footprint_mm = convex_hull(feet);
        let margin_mm = edges(&footprint_mm)
            .map(|(from, outward)| outward[0] * (from[0] - centre_mm[0]) + outward[1] * (from[1] - centre_mm[1]))
            .reduce(f64::min)?;
        let tilt_deg = margin_mm.atan2(centre_mm[2]).to_degrees();
        Some(Stability { footprint_mm, centre_mm, margin_mm, tilt_deg })
    }

    /// The load at (u, v), straight down, that tips it, as a share of its own weight: moments about each edge of the
    /// footprint that the load lies outside of. None where no load there tips it.
    pub fn tipping_share(&self, at_mm: [f64; 2]) -> Option<f64> {
        edges(&self.footprint_mm)
            .filter_map(|(from, outward)| {
                let beyond = |p: [f64; 2]| outward[0] * (p[0] - from[0]) + outward[1] * (p[1] - from[1]);
                let (load, weight) = (beyond(at_mm), -beyond([self.centre_mm[0], self.centre_mm[1]]));
                (load > 1e-9).then(|| weight.max(0.0) / load)
            })
            .reduce(f64::min)
    }

    /// Each edge of a top, loaded at its middle.
    pub fn tipping_edges(&self, top: &[[f64; 2]]) -> Vec<TippingEdge> {
        (0..top.len())
            .map(|i| {
                let (p, q) = (top[i], top[(i + 1) % top.len()]);
                let at_mm = [f64::midpoint(p[0], q[0]), f64::midpoint(p[1], q[1])];
                TippingEdge { at_mm, load_share: self.tipping_share(at_mm) }
            })
            .collect()
    }
}

/// Edges of a counter-clockwise outline: where each begins, and the unit vector out of it.
fn edges(outline: &[[f64; 2]]) -> impl Iterator<Item = ([f64; 2], [f64; 2])> + '_ {
    (0..outline.len()).filter_map(|i| {
        let (p, q) = (outline[i], outline[(i + 1) % outline.len()]);
        let long = (q[0] - p[0]).hypot(q[1] - p[1]);
        (long > 1e-9).then(|| (p, [(q[1] - p[1]) / long, (p[0] - q[0]) / long]))
    })
}

/// A published tilt test.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TiltTest {
    /// What is tested, and where it is published.
    pub name: &'static str,
    /// The angle, degrees.
    pub deg: f64,
}

/// Published tilt tests of lamps, to compare with: passing a number here is not compliance.
pub fn tilt_tests() -> [TiltTest; 3] {
    [
        TiltTest { name: "IEC 60598-2-4, portable lamps on a non-slip plane", deg: 6.0 },
        TiltTest { name: "UL 153, portable lamps with shade, worst direction", deg: 8.0 },
        TiltTest { name: "UL 153 toy-like lamps; IEC 60598-2-7 and -2-10 garden and children's lamps", deg: 15.0 },
    ]
}

//! A triangle mesh cut by a level plane.

/// What a level plane leaves of a closed mesh.
#[derive(Clone, Debug, Default)]
pub struct Outline {
    /// Directed edges in the plane, wood on their left seen against the axis.
    pub edges: Vec<[[f64; 2]; 2]>,
}

impl Outline {
    /// What the edges enclose, mm².
    pub fn area(&self) -> f64 {
        self.edges.iter().map(|[p, q]| 0.5 * (p[0] * q[1] - q[0] * p[1])).sum()
    }

    /// The least and the most of either coordinate, mm.
    pub fn bounds(&self) -> ([f64; 2], [f64; 2]) {
        let start = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]);
        self.edges
            .iter()
            .flatten()
            .fold(start, |(least, most), p| ([0, 1].map(|i| least[i].min(p[i])), [0, 1].map(|i| most[i].max(p[i]))))
    }

    /// How far the point farthest from the border of the rectangle `least..most` is from it, mm; and how far the
    /// rectangle's worst corner is from the nearest point of the outline. Both are 0 where the outline is the rectangle.
    pub fn off_rectangle(&self, least: [f64; 2], most: [f64; 2]) -> f64 {
        let points = || self.edges.iter().flatten().copied();
        let from_border = |p: [f64; 2]| {
            let outside = [0, 1].map(|i| (least[i] - p[i]).max(p[i] - most[i]).max(0.0));
            let inside = [0, 1].map(|i| (p[i] - least[i]).min(most[i] - p[i]));
            if outside[0] > 0.0 || outside[1] > 0.0 { outside[0].hypot(outside[1]) } else { inside[0].min(inside[1]) }
        };
        let outline = points().map(from_border).fold(0.0, f64::max);
        let corners = [least, [most[0], least[1]], most, [least[0], most[1]]];
        let nearest = |c: [f64; 2]| points().map(|p| (p[0] - c[0]).hypot(p[1] - c[1])).fold(f64::INFINITY, f64::min);
        corners.into_iter().map(nearest).fold(outline, f64::max)
    }
}

/// The mesh of `triangles` (x, y, s; counter-clockwise from outside) cut at `level`. Corners in the plane itself count
/// as below it, or above it with `from_below`: the outline just beside the plane, on either side.
pub fn slice(triangles: impl Iterator<Item = [[f64; 3]; 3]>, level: f64, from_below: bool) -> Outline {
    let mut outline = Outline::default();
    for triangle in triangles {
        let above = triangle.map(|p| if from_below { p[2] >= level } else { p[2] > level });
        let (mut enters, mut leaves) = (None, None);
        for i in 0..3 {
            let j = (i + 1) % 3;
            if above[i] == above[j] {
                continue;
            }
            let (p, q) = if above[i] { (triangle[j], triangle[i]) } else { (triangle[i], triangle[j]) };
            let share = (level - p[2]) / (q[2] - p[2]);
            let crossing = [p[0] + share * (q[0] - p[0]), p[1] + share * (q[1] - p[1])];
            if above[j] { enters = Some(crossing) } else { leaves = Some(crossing) }
        }
        if let (Some(enters), Some(leaves)) = (enters, leaves) {
            outline.edges.push([leaves, enters]);
        }
    }
    outline
}

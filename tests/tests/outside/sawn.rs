//! The leg as the maker makes it, by a general-purpose solid library: `boolmesh`, booleans on triangle meshes in `f64`.
//! Two parts of its surface closer than 1e-12 of its size, about 1e-9 mm here, are one to it.

use boolmesh::prelude::{Manifold, OpType, compute_boolean};
use cornerwise_tests::{Outline, slice};

/// How far a saw passes beyond the wood, mm.
const BEYOND_MM: f64 = 7.0;

/// A solid body; (x, y, s) in mm.
#[derive(Clone)]
pub struct Solid(Manifold);

impl Solid {
    fn new(corners: &[[f64; 3]], triangles: &[[usize; 3]]) -> Solid {
        let mesh = Manifold::new(corners.as_flattened(), triangles.as_flattened());
        Solid(mesh.unwrap_or_else(|e| panic!("{e}: {} corners", corners.len())))
    }

    /// A box with one corner at the origin.
    pub fn blank(size_mm: [f64; 3]) -> Solid {
        Solid::bar([0.0; 3], size_mm)
    }

    /// A box between two corners.
    pub fn bar(least: [f64; 3], most: [f64; 3]) -> Solid {
        let line = [[least[2], most[0]], [most[2], most[0]]];
        Solid::swept(least[0], &line, [least[1], most[1]])
    }

    /// A column over a convex outline, counter-clockwise seen against the axis s, between two levels.
    pub fn column(outline: &[[f64; 2]], levels: [f64; 2]) -> Solid {
        let count = outline.len();
        let corners: Vec<[f64; 3]> = levels.iter().flat_map(|s| outline.iter().map(|[x, y]| [*x, *y, *s])).collect();
        let mut triangles = Vec::new();
        for i in 0..count {
            let j = (i + 1) % count;
            triangles.extend([[i, j, count + j], [i, count + j, count + i]]);
        }
        for i in 1..count - 1 {
            triangles.extend([[0, i + 1, i], [count, count + i, count + i + 1]]);
        }
        Solid::new(&corners, &triangles)
    }

    /// Its least and its most of every coordinate.
    pub fn extent(&self) -> ([f64; 3], [f64; 3]) {
        let corners = || self.triangles().flatten();
        let of = |pick: fn(f64, f64) -> f64, start: f64| {
            corners().fold([start; 3], |found, c| [0, 1, 2].map(|i| pick(found[i], c[i])))
        };
        (of(f64::min, f64::INFINITY), of(f64::max, f64::NEG_INFINITY))
    }

    /// What a saw takes that follows `line`, (s, x) in order of s, through a blank `deep_mm` deep: everything on the
    /// side of small x, and more than the blank in the other directions.
    fn saw_side(line: &[[f64; 2]], deep_mm: f64) -> Solid {
        let (first, last) = (line[0], line[line.len() - 1]);
        let mut longer = vec![[first[0] - BEYOND_MM, first[1]]];
        longer.extend_from_slice(line);
        longer.push([last[0] + BEYOND_MM, last[1]]);
        let least = line.iter().map(|p| p[1]).fold(0.0, f64::min) - BEYOND_MM;
        Solid::swept(least, &longer, [-BEYOND_MM, deep_mm + BEYOND_MM])
    }

    /// [`Solid::saw_side`] of a blade that leans: `line` gives (s, x) at a depth, as many places at every depth.
    pub fn leaning_side(line: impl Fn(f64) -> Vec<[f64; 2]>, deep_mm: f64) -> Solid {
        let y = [-BEYOND_MM, deep_mm + BEYOND_MM];
        let lines = y.map(line);
        let least = lines.iter().flatten().map(|p| p[1]).fold(0.0, f64::min) - BEYOND_MM;
        Solid::ruled(least, [&lines[0], &lines[1]], y)
    }

    /// The area between x = `from_x` and a line of (s, x), swept along y.
    fn swept(from_x: f64, line: &[[f64; 2]], y: [f64; 2]) -> Solid {
        Solid::ruled(from_x, [line, line], y)
    }

    /// What lies between x = `from_x` and a wall that is ruled from one line of (s, x) to another.
    fn ruled(from_x: f64, lines: [&[[f64; 2]]; 2], y: [f64; 2]) -> Solid {
        let mut corners = Vec::new();
        let line = lines[0];
        for ([s, x], [t, z]) in line.iter().zip(lines[1]) {
            corners.extend([[from_x, y[0], *s], [*x, y[0], *s], [*z, y[1], *t], [from_x, y[1], *t]]);
        }
        let mut triangles = vec![[0, 2, 1], [0, 3, 2]];
        for level in 1..line.len() {
            let (upper, lower) = (4 * (level - 1), 4 * level);
            for i in 0..4 {
                let j = (i + 1) % 4;
                triangles.extend([[upper + i, upper + j, lower + j], [upper + i, lower + j, lower + i]]);
            }
        }
        let end = 4 * (line.len() - 1);
        triangles.extend([[end, end + 1, end + 2], [end, end + 2, end + 3]]);
        Solid::new(&corners, &triangles)
    }

    /// The solid moved; `place` must turn and shift, not mirror.
    pub fn moved(&self, place: impl Fn([f64; 3]) -> [f64; 3]) -> Solid {
        let corners: Vec<[f64; 3]> = self.0.ps.iter().map(|p| place(p.to_array())).collect();
        let triangles: Vec<[usize; 3]> = self.0.hs.chunks(3).map(|t| [t[0].tail, t[1].tail, t[2].tail]).collect();
        Solid::new(&corners, &triangles)
    }

    fn with(&self, other: &Solid, how: &OpType) -> Solid {
        let how = match how {
            OpType::Add => OpType::Add,
            OpType::Subtract => OpType::Subtract,
            OpType::Intersect => OpType::Intersect,
        };
        Solid(compute_boolean(&self.0, &other.0, how).unwrap_or_else(|e| panic!("{e}")))
    }

    pub fn and(&self, other: &Solid) -> Solid {
        self.with(other, &OpType::Add)
    }

    pub fn without(&self, other: &Solid) -> Solid {
        self.with(other, &OpType::Subtract)
    }

    pub fn shared_with(&self, other: &Solid) -> Solid {
        self.with(other, &OpType::Intersect)
    }

    /// The volume that two solids have in common, mm³. The library has no solid without corners: nothing in common is an
    /// error of that name.
    pub fn volume_shared_with(&self, other: &Solid) -> f64 {
        match compute_boolean(&self.0, &other.0, OpType::Intersect) {
            Ok(shared) => Solid(shared).volume(),
            Err(error) if error.contains("empty") => 0.0,
            Err(error) => panic!("{error}"),
        }
    }

    pub fn triangles(&self) -> impl Iterator<Item = [[f64; 3]; 3]> {
        let corner = |half: &boolmesh::Vec3| half.to_array();
        self.0.hs.chunks(3).map(move |t| [t[0].tail, t[1].tail, t[2].tail].map(|v| corner(&self.0.ps[v])))
    }

    pub fn volume(&self) -> f64 {
        self.triangles().map(|t| six_volumes(&t) / 6.0).sum()
    }

    /// Volume times centre of mass.
    pub fn moment(&self) -> [f64; 3] {
        let mut sum = [0.0; 3];
        for t in self.triangles() {
            for (i, sum) in sum.iter_mut().enumerate() {
                *sum += six_volumes(&t) / 24.0 * (t[0][i] + t[1][i] + t[2][i]);
            }
        }
        sum
    }

    /// The outline at a level of s; at the top the level just below it, elsewhere the one just above.
    pub fn section(&self, level: f64) -> Outline {
        slice(self.triangles(), level, level > 0.0)
    }
}

fn six_volumes(t: &[[f64; 3]; 3]) -> f64 {
    let [p, q, r] = t;
    p[0] * (q[1] * r[2] - q[2] * r[1]) + p[1] * (q[2] * r[0] - q[0] * r[2]) + p[2] * (q[0] * r[1] - q[1] * r[0])
}

/// The four pieces of the leg, where they lie in the finished leg: (u, v, s).
///
/// Lines are (s, offset) as drawn, in order of s, top and foot among them. Every step is one of the maker's: saw along
/// the first line, close, roll a quarter away, saw along the second, roll back, rotate each piece half round, bring the
/// corner it holds to the axis.
pub fn pieces(size_mm: [f64; 3], first: &[[f64; 2]], second: &[[f64; 2]]) -> [Solid; 4] {
    pieces_of(&Solid::blank(size_mm), size_mm, first, second)
}

/// The same of a blank that has been worked on before: chamfered, say.
pub fn pieces_of(blank: &Solid, size_mm: [f64; 3], first: &[[f64; 2]], second: &[[f64; 2]]) -> [Solid; 4] {
    let [width, depth, _] = size_mm;
    // On the saw table: x from the far arris toward the maker, y down, s along; top end left.
    let saw = Solid::saw_side(first, depth);
    let (far, near) = (blank.shared_with(&saw), blank.without(&saw));
    // Rolled away from the maker, face 2 comes up and arris 2, which was near, is far.
    let rolled = |p: [f64; 3]| [p[1], width - p[0], p[2]];
    let back = |p: [f64; 3]| [width - p[1], p[0], p[2]];
    let saw = Solid::saw_side(second, width);
    let [far, near] = [far, near].map(|half| half.moved(rolled));
    let sawn = [far.shared_with(&saw), near.shared_with(&saw), near.without(&saw), far.without(&saw)];
    // Arrises 1 to 4 of the blank, clockwise seen from the top end.
    let corners = [[0.0, 0.0], [width, 0.0], [width, depth], [0.0, depth]];
    let mut corners = corners.into_iter();
    sawn.map(|piece| {
        let [x, y] = corners.next().unwrap();
        let half_round = |p: [f64; 3]| [-p[0], -p[1], p[2]];
        piece.moved(back).moved(|p| half_round([p[0] - x, p[1] - y, p[2]]))
    })
}

/// The four pieces as a saw with a kerf gives them, where they lie in the finished leg. `first` and `second` give the two
/// walls of a cut (small offsets first) as (s, offset) at a depth below the face it is drawn on; `closing_mm` is how much
/// nearer the halves lie in the second cut than they did in the blank.
pub fn pieces_with_kerf(
    size_mm: [f64; 3],
    first: impl Fn(usize, f64) -> Vec<[f64; 2]>,
    second: impl Fn(usize, f64) -> Vec<[f64; 2]>,
    closing_mm: f64,
) -> [Solid; 4] {
    let [width, depth, _] = size_mm;
    let blank = Solid::blank(size_mm);
    let saws = [0, 1].map(|wall| Solid::leaning_side(|y| first(wall, y), depth));
    let (far, near) = (blank.shared_with(&saws[0]), blank.without(&saws[1]));
    // Face 2 comes up; the half without it comes nearer to it.
    let rolled = |closer: f64| move |p: [f64; 3]| [p[1], width - closer - p[0], p[2]];
    let back = |closer: f64| move |p: [f64; 3]| [width - closer - p[1], p[0], p[2]];
    let saws = [0, 1].map(|wall| Solid::leaning_side(|y| second(wall, y), width));
    let (far, near) = (far.moved(rolled(closing_mm)), near.moved(rolled(0.0)));
    let sawn = [
        (far.shared_with(&saws[0]), closing_mm),
        (near.shared_with(&saws[0]), 0.0),
        (near.without(&saws[1]), 0.0),
        (far.without(&saws[1]), closing_mm),
    ];
    let corners = [[0.0, 0.0], [width, 0.0], [width, depth], [0.0, depth]];
    let mut corners = corners.into_iter();
    sawn.map(|(piece, closer)| {
        let [x, y] = corners.next().unwrap();
        let half_round = |p: [f64; 3]| [-p[0], -p[1], p[2]];
        piece.moved(back(closer)).moved(|p| half_round([p[0] - x, p[1] - y, p[2]]))
    })
}

/// The corners of a solid's outline at a level.
pub fn slice_corners(solid: &Solid, level: f64) -> Vec<[f64; 2]> {
    solid.section(level).edges.into_iter().flatten().collect()
}

//! A saw line evaluated the slow and simple way: de Casteljau's construction and bisection.

/// A point of a line: where it is, and the slope and reach of its two handles, all as a project file has them.
#[derive(Clone, Copy, Debug)]
pub struct PlainPoint {
    /// From the top, mm.
    pub s: f64,
    /// From the arris, mm.
    pub offset: f64,
    /// Slope and reach (mm along the leg) toward the top.
    pub before: [f64; 2],
    /// Slope and reach (mm along the leg) toward the foot.
    pub after: [f64; 2],
}

/// A chain of cubic Béziers through points, straight beyond them.
#[derive(Clone, Debug)]
pub struct PlainLine {
    segments: Vec<[[f64; 2]; 4]>,
    first: PlainPoint,
    last: PlainPoint,
}

impl PlainLine {
    /// The line through `points`, at least two. None where handles reach past one another: what happens to them then is
    /// the project's own rule, and this code does not know it.
    pub fn new(points: &[PlainPoint]) -> Option<PlainLine> {
        let (first, last) = (*points.first()?, *points.last()?);
        let mut segments = Vec::new();
        for pair in points.windows(2) {
            let ([slope0, reach0], [slope3, reach3]) = (pair[0].after, pair[1].before);
            let gap = pair[1].s - pair[0].s;
            let sound = reach0 >= 1e-3 * gap && reach3 >= 1e-3 * gap && reach0 + reach3 <= gap * (1.0 + 1e-12);
            if !sound {
                return None;
            }
            segments.push([
                [pair[0].s, pair[0].offset],
                [pair[0].s + reach0, pair[0].offset + slope0 * reach0],
                [pair[1].s - reach3, pair[1].offset - slope3 * reach3],
                [pair[1].s, pair[1].offset],
            ]);
        }
        (!segments.is_empty()).then_some(PlainLine { segments, first, last })
    }

    /// Offset at `s`, mm.
    pub fn offset(&self, s: f64) -> f64 {
        self.measured(s)[0]
    }

    /// d offset / d s at `s`; at a joint, of the part toward the top.
    pub fn slope(&self, s: f64) -> f64 {
        self.measured(s)[1]
    }

    /// Offset, slope, and curvature over the usual denominator, with the sign of the second derivative.
    pub fn measured(&self, s: f64) -> [f64; 3] {
        for (end, [slope, _]) in [(self.first, self.first.before), (self.last, self.last.after)] {
            let beyond = if end.s == self.first.s { s < end.s } else { s > end.s };
            if beyond {
                return [end.offset + slope * (s - end.s), slope, 0.0];
            }
        }
        let held = self.segments.iter().find(|segment| s <= segment[3][0]).or(self.segments.last());
        held.map_or([f64::NAN; 3], |segment| on(segment, bisected(segment, s)))
    }

    /// Stations where one cubic ends and the next begins, mm from the top.
    pub fn joints(&self) -> Vec<f64> {
        let mut joints: Vec<f64> = self.segments.iter().map(|segment| segment[0][0]).collect();
        joints.push(self.last.s);
        joints
    }
}

/// The parameter at which a cubic that never runs back reaches `s`: halving until nothing is left to halve.
fn bisected(segment: &[[f64; 2]; 4], s: f64) -> f64 {
    let (mut lo, mut hi) = (0.0, 1.0);
    for _ in 0..60 {
        let middle = 0.5 * (lo + hi);
        if point(segment, middle)[0] < s { lo = middle } else { hi = middle }
    }
    0.5 * (lo + hi)
}

fn between(p: [f64; 2], q: [f64; 2], t: f64) -> [f64; 2] {
    [p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])]
}

/// De Casteljau's construction: the two points whose chord is the tangent, after the three of the parabola below.
fn construction(c: &[[f64; 2]; 4], t: f64) -> ([[f64; 2]; 3], [[f64; 2]; 2]) {
    let three = [between(c[0], c[1], t), between(c[1], c[2], t), between(c[2], c[3], t)];
    (three, [between(three[0], three[1], t), between(three[1], three[2], t)])
}

fn point(c: &[[f64; 2]; 4], t: f64) -> [f64; 2] {
    let (_, [p, q]) = construction(c, t);
    between(p, q, t)
}

fn on(c: &[[f64; 2]; 4], t: f64) -> [f64; 3] {
    let (three, [p, q]) = construction(c, t);
    let first = [3.0 * (q[0] - p[0]), 3.0 * (q[1] - p[1])];
    let second = [0, 1].map(|i| 6.0 * (three[2][i] - 2.0 * three[1][i] + three[0][i]));
    let cross = first[0] * second[1] - first[1] * second[0];
    [between(p, q, t)[1], first[1] / first[0], cross / first[0].hypot(first[1]).powi(3)]
}

//! A blank that is really cut into small cubes, and the leg that they make. Nothing here knows how the project compares
//! seams: cubes are sawn apart, each piece is rotated half round and its corner brought to the axis, and what then
//! touches is read off. Of the project only the wood at a point is asked.

use cornerwise_geometry::{BlankPoint, Cut, Surface};
use cornerwise_wood::{Figure, Species, Steps, View, Wood};

use crate::cases::Case;

/// One level of the leg in cubes: which cube of the blank lies in each place.
struct Floor {
    count: [usize; 2],
    places: Vec<Option<BlankPoint>>,
}

/// What touches at one seam on one level, the piece at the smaller u or v first.
#[derive(Clone, Copy, Debug)]
pub struct Touching {
    /// Middle of the level, mm from the top.
    pub s: f64,
    /// Middles of the two cubes as they lay in the blank.
    pub cubes: [BlankPoint; 2],
    /// From a cube's middle, in the blank, to that of the next cube away from the seam.
    pub inward: [[f64; 2]; 2],
}

/// All levels of one seam, from the top.
pub struct Seam {
    pub touching: Vec<Touching>,
}

/// Cuts the blank into cubes of about `cube_mm`, saws, rotates, and reads off what touches along all four seams.
pub fn seams(case: &Case, cube_mm: f64) -> [Seam; 4] {
    let [width, depth, length] = case.size_mm();
    let count = [width, depth, length].map(|size| (size / cube_mm).round() as usize);
    let [wide, deep, tall] = [0, 1, 2].map(|i| case.size_mm()[i] / count[i] as f64);
    let mut seams = [0; 4].map(|_| Seam { touching: Vec::new() });
    for level in 0..count[2] {
        let s = (level as f64 + 0.5) * tall;
        let floor = floor(case, [count[0], count[1]], [wide, deep], s);
        for (number, seam) in seams.iter_mut().enumerate() {
            seam.touching.extend(touching(&floor, number, s, [wide, deep]));
        }
    }
    seams
}

/// Saws one level apart and puts the leg together from it. Places are counted from -W (or -D) up, so that the axis lies
/// between place `count` - 1 and place `count`.
fn floor(case: &Case, count: [usize; 2], cube: [f64; 2], s: f64) -> Floor {
    let [a, b] = case.held(s);
    let [width, depth, _] = case.size_mm();
    let mut floor = Floor { count, places: vec![None; 4 * count[0] * count[1]] };
    for i in 0..count[0] {
        for j in 0..count[1] {
            let (x, y) = ((i as f64 + 0.5) * cube[0], (j as f64 + 0.5) * cube[1]);
            let corner = [if x < a { 0.0 } else { width }, if y < b { 0.0 } else { depth }];
            // Half round about the corner that the piece holds, which comes to the axis.
            let (u, v) = (-(x - corner[0]), -(y - corner[1]));
            let place =
                [(u / cube[0]).floor() as i64 + count[0] as i64, (v / cube[1]).floor() as i64 + count[1] as i64];
            let at = floor.index([place[0] as usize, place[1] as usize]);
            assert!(floor.places[at].is_none(), "two cubes in one place at {u}, {v}, {s}");
            floor.places[at] = Some(BlankPoint { x, y, s });
        }
    }
    floor
}

impl Floor {
    fn index(&self, place: [usize; 2]) -> usize {
        place[0] * 2 * self.count[1] + place[1]
    }

    fn at(&self, place: [usize; 2]) -> Option<BlankPoint> {
        self.places[self.index(place)]
    }
}

/// The outermost pair of cubes on both sides of a seam. None where only one piece is left there.
fn touching(floor: &Floor, seam: usize, s: f64, cube: [f64; 2]) -> Option<Touching> {
    // Seams 1 and 3 lie on u = 0, where v is least and most; seams 2 and 4 on v = 0, where u is most and least.
    let along_v = seam.is_multiple_of(2);
    let outward_grows = seam == 1 || seam == 2;
    let (across, out) = if along_v { (0, 1) } else { (1, 0) };
    let sides = [floor.count[across] - 1, floor.count[across]];
    let outermost = |side: usize| {
        let place = |i: usize| if along_v { [side, i] } else { [i, side] };
        let mut filled = (0..2 * floor.count[out]).filter(|i| floor.at(place(*i)).is_some());
        let last = if outward_grows { filled.next_back() } else { filled.next() };
        last.and_then(|i| Some((i, floor.at(place(i))?)))
    };
    let (first, second) = (outermost(sides[0])?, outermost(sides[1])?);
    assert_eq!(first.0, second.0, "seam {} steps at {s}", seam + 1);
    // On the axis' plane both pieces have a planed face, and they were opposite faces of the blank.
    let step = |toward: f64| if along_v { [toward * cube[0], 0.0] } else { [0.0, toward * cube[1]] };
    Some(Touching { s, cubes: [first.1, second.1], inward: [step(1.0), step(-1.0)] })
}

/// A side of the finished leg in cubes: for each level, the cubes that show on it, as they lay in the blank.
pub struct SideOfCubes {
    pub levels: Vec<(f64, Vec<BlankPoint>)>,
}

/// Saws and rotates as [`seams`] does, and looks at all four sides square on: of each column of places across a side, the
/// outermost cube shows.
pub fn sides(case: &Case, cube_mm: f64) -> [SideOfCubes; 4] {
    let size = case.size_mm();
    let count = size.map(|size| (size / cube_mm).round() as usize);
    let [wide, deep, tall] = [0, 1, 2].map(|i| size[i] / count[i] as f64);
    let mut sides = [0; 4].map(|_| SideOfCubes { levels: Vec::new() });
    for level in 0..count[2] {
        let s = (level as f64 + 0.5) * tall;
        let floor = floor(case, [count[0], count[1]], [wide, deep], s);
        for (number, side) in sides.iter_mut().enumerate() {
            let along_v = number.is_multiple_of(2);
            let outward_grows = number == 1 || number == 2;
            let (across, out) = if along_v { (0, 1) } else { (1, 0) };
            let shown = (0..2 * count[across]).filter_map(|i| {
                let place = |k: usize| if along_v { [i, k] } else { [k, i] };
                let mut filled = (0..2 * count[out]).filter_map(|k| floor.at(place(k)));
                if outward_grows { filled.next_back() } else { filled.next() }
            });
            side.levels.push((s, shown.collect()));
        }
    }
    sides
}

/// Wood at cubes.
pub struct Stock {
    figure: Figure,
    view: View,
    /// Where the pith is at the top, and how fast it leans.
    pith: Option<[[f64; 2]; 2]>,
    /// Where the sapwood begins, mm from the pith.
    sapwood_mm: f64,
}

impl Stock {
    pub fn new(wood: &Wood) -> Stock {
        let figure = Figure::new(wood);
        // Cubes are looked up at their middles, so no surface has a say in which wood it is.
        let view = figure.view(Surface::Cut(Cut::First));
        let pith = match wood {
            Wood::Timber(timber) => Some([[timber.pith_x.mm(), timber.pith_y.mm()], [timber.lean_x, timber.lean_y]]),
            Wood::Layers(_) | Wood::Blocks(_) | Wood::Photos(_) => None,
        };
        let sapwood = match wood {
            Wood::Timber(timber) => timber.sapwood_from.as_ref().map(|from| from.mm()),
            Wood::Layers(_) | Wood::Blocks(_) | Wood::Photos(_) => None,
        };
        Stock { figure, view, pith, sapwood_mm: sapwood.unwrap_or(f64::INFINITY) }
    }

    /// Whether a point of timber is heartwood: it lies nearer to the pith than the sapwood begins.
    pub fn is_heart(&self, p: BlankPoint) -> bool {
        let [at_top, lean] = self.pith.expect("timber has a pith");
        let [px, py] = [0, 1].map(|i| at_top[i] + lean[i] * p.s);
        (p.x - px).hypot(p.y - py) < self.sapwood_mm
    }

    /// How many rings out from the pith a point of timber lies, by feeling for the ring's own two lines: step away from
    /// the pith and toward it until the ring's number changes, then halve.
    pub fn place(&self, p: BlankPoint) -> f64 {
        let [at_top, lean] = self.pith.expect("timber has a pith");
        let [px, py] = [0, 1].map(|i| at_top[i] + lean[i] * p.s);
        let out = (p.x - px).hypot(p.y - py);
        let ring =
            |at: f64| self.at(BlankPoint { x: px + (p.x - px) / out * at, y: py + (p.y - py) / out * at, s: p.s }).1;
        let number = ring(out);
        let line = |step: f64| {
            let mut beyond = out + step;
            while ring(beyond) == number {
                beyond += step;
            }
            let (mut within, mut beyond) = (beyond - step, beyond);
            for _ in 0..30 {
                let middle = 0.5 * (within + beyond);
                if ring(middle) == number { within = middle } else { beyond = middle }
            }
            within
        };
        let (from, to) = (line(-0.2), line(0.2));
        number as f64 + (out - from) / (to - from)
    }

    /// The number of the wood and of the layer or ring.
    pub fn at(&self, p: BlankPoint) -> (u8, i64) {
        let grain = self.figure.at(&self.view, p, &Steps::POINT);
        let number = Species::ALL.iter().position(|species| *species == grain.species);
        (number.expect("a built-in wood") as u8, grain.line)
    }
}

impl Touching {
    /// The middles of the two sides that touch, as they lay in the blank; a hundredth of a cube within it, so that a line
    /// in the very face is no matter of rounding.
    pub fn faces(&self) -> [BlankPoint; 2] {
        [self.cubes_on(0, -0.49), self.cubes_on(1, -0.49)]
    }

    /// What lies `cubes` cubes away from the middle of the cube at the seam.
    fn cubes_on(&self, side: usize, cubes: f64) -> BlankPoint {
        let (from, [x, y]) = (self.cubes[side], self.inward[side]);
        BlankPoint { x: from.x + cubes * x, y: from.y + cubes * y, s: from.s }
    }

    /// Wood and line where they touch.
    pub fn wood(&self, stock: &Stock) -> [(u8, i64); 2] {
        self.faces().map(|face| stock.at(face))
    }

    /// The wood `deep_mm` from where they touch, on one side; below 0 what would lie there if the blank of that piece went
    /// on beyond its face by the same rule.
    pub fn within(&self, stock: &Stock, side: usize, deep_mm: f64) -> u8 {
        self.grain(stock, side, deep_mm).0
    }

    /// The same, with the number of its layer or block.
    pub fn grain(&self, stock: &Stock, side: usize, deep_mm: f64) -> (u8, i64) {
        let [x, y] = self.inward[side];
        stock.at(self.cubes_on(side, deep_mm / x.hypot(y) - 0.5))
    }

    /// The wood `cubes` cubes from the seam on one side, counted from 0; below 0 it is what would lie there if the blank
    /// went on beyond its face.
    pub fn row(&self, stock: &Stock, side: usize, cubes: i32) -> u8 {
        stock.at(self.cubes_on(side, f64::from(cubes))).0
    }
}

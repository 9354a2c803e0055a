//! The leg as the saw will really give it, beside the leg as drawn.
//!
//! The kerf is taken half on either side of the saw line, so the two sides of a cut are the curves parallel to it at
//! ± k / 2 (and further in by what is sanded off). A blade out of square by an angle t leans square to the saw line: at a
//! depth y below the face that was drawn on, the curve is moved by y·tan t square to itself. After the first cut the
//! halves are closed up or packed out with a shim, and may have slipped along; the second cut is made through both.
//!
//! A blade that bows in deep stock enters and leaves true and is off in between: a hollow, or a crown, without a step.
//!
//! A blank whose corners lean by an angle t from square still closes when its pieces are rotated, because opposite corners are
//! equal; but a blade square to the face that was drawn on leans by t against the faces beside it, so each cut steps by its
//! depth times sin t across the blank, the other way in the second cut than in the first. The leaning section is worked out
//! along the blank's own two directions, and told in true right-angled (u, v).

use crate::saw_line::{LineAt, Spot};
use crate::{Bend, Between, Cut, Leg, Piece, Saw};

/// Among how many stations the place is looked for where closed halves touch.
const TOUCHING: usize = 129;

/// A leg and the saw it goes through.
#[derive(Clone, Debug, PartialEq)]
pub struct SawnLeg {
    leg: Leg,
    half_kerf_mm: f64,
    sanding_mm: f64,
    /// The blade's error from square as a slope, in both cuts.
    lean: [f64; 2],
    slip_mm: f64,
    /// How far the blade bows in the middle of each cut's depth, mm square to the line.
    bow_mm: [f64; 2],
    /// How far the halves are nearer to one another in the second cut than they were in the blank, mm.
    closing_mm: f64,
    /// How far they must come to touch, mm.
    touching_mm: f64,
    /// Of the angle by which the blank's corners lean from square.
    corner_sine: f64,
    corner_cosine: f64,
}

/// The sawn leg at one distance from the top.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SawnStation {
    /// From the top, mm.
    pub s_mm: f64,
    /// The level section: (u, v) of each corner of pieces 1 to 4, mm, counter-clockwise from the axis. A wall between two
    /// corners is straight within a few micrometres (a leaning blade follows the curve at every depth).
    pub pieces: [[[f64; 2]; 4]; 4],
    /// The least W and D of the level section, mm.
    pub size_mm: [f64; 2],
    /// The same measured square to each curve, mm.
    pub thickness_mm: [f64; 2],
    /// The thinnest wood of each piece, mm: from the axis to the nearer of its two sawn walls.
    pub wood_mm: [f64; 4],
    /// The step from one side of each seam to the other, mm, square to the surface: above 0 where the piece named second
    /// by [`crate::Side::pieces`] stands farther out.
    pub step_mm: [f64; 4],
    /// The gap left between the halves when they are closed up after the first cut, mm across the blank.
    pub gap_mm: f64,
    /// How deep the sides from each cut are hollow at their outer edges against a straightedge from seam to seam, or crowned on
    /// the other side, mm square to the surface.
    pub hollow_mm: [f64; 2],
}

/// What can make a step at a seam.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum StepCause {
    /// A blade out of square to its table.
    Blade,
    /// Halves that slipped along one another before the second cut.
    Slip,
    /// A blank whose corners are out of square.
    Blank,
}

impl StepCause {
    /// All of them.
    pub(crate) const ALL: [StepCause; 3] = [StepCause::Blade, StepCause::Slip, StepCause::Blank];
}

/// One side of a cut at one level, mm from the arris: at the face that was drawn on, in the middle of the depth, and at the face
/// where the blade comes out.
#[derive(Clone, Copy, Debug)]
struct Wall([f64; 3]);

impl Wall {
    /// At a share of the depth.
    fn at(&self, share: f64) -> f64 {
        let [from, _, to] = self.0;
        from + share * (to - from) + 4.0 * share * (1.0 - share) * self.bulge()
    }

    /// How far its middle is off the straight line between its ends, mm.
    fn bulge(&self) -> f64 {
        let [from, middle, to] = self.0;
        middle - (from + to) / 2.0
    }

    fn ends(&self) -> [f64; 2] {
        [self.0[0], self.0[2]]
    }
}

/// The two walls of a cut at one level.
#[derive(Clone, Copy, Debug)]
struct Walls {
    /// On the side of small offsets.
    near: Wall,
    /// On the side of large offsets.
    far: Wall,
}

impl SawnLeg {
    /// The leg as this saw gives it.
    pub fn new(leg: &Leg, saw: &Saw) -> SawnLeg {
        let mut sawn = SawnLeg {
            leg: leg.clone(),
            half_kerf_mm: saw.blade.kerf.mm() / 2.0,
            sanding_mm: saw.sanding.mm(),
            lean: saw.lean(),
            bow_mm: [saw.bow_first.mm(), saw.bow_second.mm()],
            slip_mm: saw.slip.mm(),
            closing_mm: 0.0,
            touching_mm: 0.0,
            corner_sine: leg.untrue.corner_rad.sin(),
            corner_cosine: leg.untrue.corner_rad.cos(),
        };
        let (from, to) = (-leg.spare_top_mm, leg.length_mm + leg.spare_foot_mm);
        let stations = (0..TOUCHING).map(|i| from + (to - from) * i as f64 / (TOUCHING - 1) as f64);
        sawn.touching_mm = stations.chain(leg.first.crests()).map(|s| sawn.opening_mm(s)).fold(f64::INFINITY, f64::min);
        let shim_mm = match &saw.between {
            Between::ClosedUp => 0.0,
            Between::Packed(shim) => shim.mm(),
        };
        sawn.closing_mm = sawn.touching_mm - shim_mm;
        sawn
    }

    /// The same leg without one of the things that make steps.
    pub(crate) fn without(&self, cause: StepCause) -> SawnLeg {
        let sawn = self.clone();
        match cause {
            StepCause::Blade => SawnLeg { lean: [0.0; 2], ..sawn },
            StepCause::Slip => SawnLeg { slip_mm: 0.0, ..sawn },
            StepCause::Blank => SawnLeg { corner_sine: 0.0, corner_cosine: 1.0, ..sawn },
        }
    }

    /// The leg as drawn.
    pub fn leg(&self) -> &Leg {
        &self.leg
    }

    /// What is taken on either side of the saw line, square to it, mm: half the kerf and what is sanded off.
    pub fn taken_mm(&self) -> f64 {
        self.half_kerf_mm + self.sanding_mm
    }

    /// How far the halves are nearer to one another in the second cut than they were in the blank, mm.
    pub fn closing_mm(&self) -> f64 {
        self.closing_mm
    }

    /// The slot of the first cut across the blank, mm, on the face that was drawn on: k·sqrt(1 + a'²) but for the bend.
    pub fn opening_mm(&self, s: f64) -> f64 {
        self.opening_mm_from(&self.leg.first.spot(s))
    }

    /// W and D of the blank at a level, mm: less than at the top where it tapers.
    fn sizes_mm(&self, s: f64) -> [f64; 2] {
        let [width, depth] = self.leg.untrue.taper_mm.map(|taper| taper * s / self.leg.length_mm);
        [self.leg.width_mm - width, self.leg.depth_mm - depth]
    }

    /// Both walls of the first cut at a level, in the blank.
    fn first_walls(&self, here: &Spot<'_>) -> Walls {
        let [width, depth] = self.sizes_mm(here.s);
        self.walls(Cut::First, here, [0.0, depth], width)
    }

    /// Both walls of the second cut at a level: in the half that has face 2 (or the other), at x = W and at x = 0.
    fn second_walls(&self, here: &Spot<'_>, with_face_2: bool) -> Walls {
        let [width, depth] = self.sizes_mm(here.s);
        // The half without face 2 lies deeper under the blade by as much as the halves are apart.
        let nearer = if with_face_2 { 0.0 } else { self.closing_mm };
        self.walls(Cut::Second, here, [-nearer, width - nearer], depth)
    }

    fn walls(&self, cut: Cut, here: &Spot<'_>, depths_mm: [f64; 2], across_mm: f64) -> Walls {
        let (lean, bow) = (self.lean[cut.index()], self.bow_mm[cut.index()]);
        // Across the blank's own leaning direction, what is square to the face that was drawn on runs off by this.
        let sheared = match cut {
            Cut::First => -self.corner_sine,
            Cut::Second => self.corner_sine,
        };
        let [from, to] = depths_mm;
        let wall = |side: f64| {
            let taken = side * self.taken_mm();
            let at = |depth: f64, bow: f64| {
                let distance = taken + depth * self.corner_cosine * lean + bow;
                (here.parallel(distance).offset + depth * sheared).clamp(0.0, across_mm)
            };
            if lean == 0.0 && bow == 0.0 && sheared == 0.0 {
                return Wall([at(0.0, 0.0); 3]);
            }
            let ends = [at(from, 0.0), at(to, 0.0)];
            // Without a bow the wall is straight within a few micrometres.
            let middle = if bow == 0.0 { (ends[0] + ends[1]) / 2.0 } else { at((from + to) / 2.0, bow) };
            Wall([ends[0], middle, ends[1]])
        };
        Walls { near: wall(-1.0), far: wall(1.0) }
    }

    /// Everything at `s`; at a sharp point, of the part toward the top.
    pub fn at(&self, s: f64) -> SawnStation {
        self.at_spots(&self.leg.first.spot(s), &self.leg.second.spot(s))
    }

    /// [`SawnLeg::at`] for a caller that has found the place on both lines.
    pub(crate) fn at_spots(&self, a: &Spot<'_>, b: &Spot<'_>) -> SawnStation {
        let s = a.s;
        let [width, depth] = self.sizes_mm(s);
        let first = self.first_walls(a);
        let with = self.second_walls(b, true);
        let same = self.slip_mm == 0.0 && self.lean[1] == 0.0 && self.corner_sine == 0.0;
        let without = if same {
            with
        } else {
            // What had slipped toward the foot is put back: its wood at s was under the line of s + slip.
            let slipped = if self.slip_mm == 0.0 { None } else { Some(self.leg.second.spot(s + self.slip_mm)) };
            self.second_walls(slipped.as_ref().unwrap_or(b), false)
        };
        let mut hollow_mm = [0.0_f64; 2];
        let corners = Piece::ALL.map(|piece| {
            let first_wall = if piece.beyond_first() { first.far } else { first.near };
            let second = if piece.beyond_first() { with } else { without };
            let second_wall = if piece.beyond_second() { second.far } else { second.near };
            let [x_corner, y_corner] = piece.corner(width, depth);
            // The first wall at the planed face the corner lies on; the second at the other planed face.
            let x = first_wall.ends()[usize::from(piece.beyond_second())];
            let y = second_wall.ends()[usize::from(!piece.beyond_first())];
            let inner = meeting(&first_wall, depth, &second_wall, width);
            let hollow = |wall: &Wall, share: f64| (4.0 * share * (1.0 - share) * wall.bulge()).abs();
            let both = [hollow(&first_wall, inner[1] / depth), hollow(&second_wall, 1.0 - inner[0] / width)];
            hollow_mm = [hollow_mm[0].max(both[0]), hollow_mm[1].max(both[1])];
            let leg = |x: f64, y: f64| [x_corner - x, y_corner - y];
            [[0.0, 0.0], leg(x, y_corner), leg(inner[0], inner[1]), leg(x_corner, y)]
        });
        self.station(a, b, corners, hollow_mm)
    }

    fn station(&self, a: &Spot<'_>, b: &Spot<'_>, corners: [[[f64; 2]; 4]; 4], hollow_mm: [f64; 2]) -> SawnStation {
        let steepness = |at: LineAt, across: f64| {
            if (0.0..=across).contains(&at.offset) { (at.slope * at.slope + 1.0).sqrt() } else { 1.0 }
        };
        let (a_root, b_root) = (steepness(a.at, self.leg.width_mm), steepness(b.at, self.leg.depth_mm));
        let [one, two, three, four] = &corners;
        // Sides 1 and 3 are sawn by the second cut; on the axis of each the two pieces stand out by these.
        let out = [one[3][1].abs(), two[3][1].abs(), four[3][1].abs(), three[3][1].abs()];
        let aside = [two[1][0].abs(), three[1][0].abs(), one[1][0].abs(), four[1][0].abs()];
        let step_mm = [
            (out[1] - out[0]) / b_root,
            (aside[1] - aside[0]) / a_root,
            (out[3] - out[2]) / b_root,
            (aside[3] - aside[2]) / a_root,
        ];
        let least = |one: f64, other: f64| one.min(other);
        let across = least(one[1][0].abs() + two[1][0].abs(), four[1][0].abs() + three[1][0].abs());
        let deep = least(one[3][1].abs() + four[3][1].abs(), two[3][1].abs() + three[3][1].abs());
        let wood_mm = corners.map(|c| least(least(c[1][0].abs(), c[2][0].abs()), least(c[2][1].abs(), c[3][1].abs())));
        SawnStation {
            s_mm: a.s,
            pieces: corners.map(|piece| counter_clockwise(piece.map(|at| self.right_angled(at)))),
            size_mm: [across, deep],
            thickness_mm: [across / a_root, deep / b_root],
            wood_mm,
            step_mm,
            gap_mm: (self.opening_mm_from(a) - self.touching_mm).max(0.0),
            hollow_mm: [hollow_mm[0] / a_root, hollow_mm[1] / b_root],
        }
    }

    /// A point along the blank's own two directions, which lean, as true right-angled (u, v).
    fn right_angled(&self, [u, v]: [f64; 2]) -> [f64; 2] {
        [u + v * self.corner_sine, v * self.corner_cosine]
    }

    fn opening_mm_from(&self, here: &Spot<'_>) -> f64 {
        let side = |distance: f64| here.parallel(distance).offset;
        side(self.half_kerf_mm) - side(-self.half_kerf_mm)
    }

    /// Volume of the four pieces over the finished length, mm³, by Simpson's rule over `count` spans between neighbouring
    /// joints and crests of both lines.
    pub fn volume_mm3(&self, count: usize) -> f64 {
        let mut stops: Vec<f64> = vec![0.0, self.leg.length_mm];
        for cut in Cut::ALL {
            stops.extend(self.leg.line(cut).finished_segments().iter().map(|segment| segment.p3.x));
        }
        stops.retain(|s| (0.0..=self.leg.length_mm).contains(s));
        stops.sort_by(f64::total_cmp);
        let spans = count.max(1);
        let mut volume = 0.0;
        for pair in stops.windows(2).filter(|pair| pair[1] - pair[0] > 1e-9) {
            let h = (pair[1] - pair[0]) / spans as f64;
            for i in 0..spans {
                let from = pair[0] + h * i as f64;
                let area = |s: f64| self.at(s).area_mm2();
                volume += h / 6.0 * (area(from) + 4.0 * area(from + h / 2.0) + area(from + h));
            }
        }
        volume
    }

    /// Where a cut bends as tight as half its kerf or tighter, so that the inner side of the kerf has no bend left:
    /// the bends, tightest first.
    pub fn broken(&self, cut: Cut) -> Vec<Bend> {
        let least_mm = self.half_kerf_mm + self.sanding_mm;
        let mut bends = self.leg.line(cut).bends();
        bends.retain(|bend| bend.radius_mm <= least_mm);
        bends.sort_by(|a, b| a.radius_mm.total_cmp(&b.radius_mm));
        bends
    }
}

impl SawnStation {
    /// The greater step, mm square to the surface, without its sign, of the two seams that a cut's surfaces meet at: 2 and 4
    /// of the first cut, 1 and 3 of the second.
    pub fn step_of_mm(&self, cut: Cut) -> f64 {
        let [one, other] = match cut {
            Cut::First => [1, 3],
            Cut::Second => [0, 2],
        };
        self.step_mm[one].abs().max(self.step_mm[other].abs())
    }

    /// What the four pieces fill of the level, mm².
    pub fn area_mm2(&self) -> f64 {
        self.pieces
            .iter()
            .map(|p| 0.5 * (0..4).map(|i| p[i][0] * p[(i + 1) % 4][1] - p[(i + 1) % 4][0] * p[i][1]).sum::<f64>())
            .sum()
    }
}

/// Where x = first(y / depth) meets y = second(1 - x / width).
fn meeting(first: &Wall, depth: f64, second: &Wall, width: f64) -> [f64; 2] {
    let ([x0, x1], [y0, y1]) = (first.ends(), second.ends());
    let (first_rate, second_rate) = ((x1 - x0) / depth, (y0 - y1) / width);
    let mut x = (x0 + first_rate * y1) / (1.0 - first_rate * second_rate);
    let mut y = y1 + second_rate * x;
    if first.bulge() != 0.0 || second.bulge() != 0.0 {
        // Both walls are nearly straight and nearly square to one another: each round brings it a hundred times nearer.
        for _ in 0..8 {
            x = first.at(y / depth);
            y = second.at(1.0 - x / width);
        }
    }
    [x, y]
}

fn counter_clockwise(c: [[f64; 2]; 4]) -> [[f64; 2]; 4] {
    if c[2][0] * c[2][1] < 0.0 { [c[0], c[3], c[2], c[1]] } else { c }
}

#[cfg(test)]
mod tests;

//! All the facets of the leg, between stations.

use std::ops::Range;

use crate::prism::{Part, Rectangle};
use crate::{BlankPoint, Camera, Cut, End, Face, Facet, FacetCorner, Opening, Piece, Solved, Stage, Surface};

/// Every facet that can be seen, whatever the camera: the sawn and planed surfaces of each piece between stations and at
/// the ends.
///
/// Left out are the sawn surfaces inside the closed blank and the planed ones inside the finished leg, but for places
/// where the saw line has left the blank and there is no neighbour to cover them; and a piece where nothing is left of
/// it. They are numbered slab by slab from the top, and within a slab piece by piece.
///
/// Facets are written out as they are asked for: what is kept is the solved leg and one small key per facet.
#[derive(Clone, Debug, PartialEq)]
pub struct Facets {
    opening: Opening,
    width_mm: f64,
    depth_mm: f64,
    levels: Vec<Level>,
    keys: Vec<Key>,
    /// Where the facets of a piece in a slab begin, at 4 · slab + piece; one more entry at the end.
    begins: Vec<u32>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
struct Level {
    s: f64,
    a: f64,
    b: f64,
}

#[derive(Clone, Copy, Debug, PartialEq)]
struct Key {
    slab: u32,
    piece: Piece,
    part: Part,
}

impl Facets {
    /// The facets of a solved leg, its pieces placed as `opening` has them.
    pub fn new(solved: &Solved, opening: &Opening) -> Facets {
        let levels: Vec<Level> =
            solved.s.iter().zip(&solved.a).zip(&solved.b).map(|((&s, &a), &b)| Level { s, a, b }).collect();
        let slabs = levels.len().saturating_sub(1);
        let mut facets = Facets {
            opening: opening.clone(),
            width_mm: solved.width_mm,
            depth_mm: solved.depth_mm,
            levels,
            keys: Vec::with_capacity(16 * slabs + 8),
            begins: Vec::with_capacity(4 * slabs + 1),
        };
        for slab in 0..slabs {
            facets.add_slab(slab, slabs);
        }
        facets.begins.push(facets.keys.len() as u32);
        facets
    }

    fn add_slab(&mut self, slab: usize, slabs: usize) {
        let (upper, lower) = (self.levels[slab], self.levels[slab + 1]);
        // A piece has wood in the slab unless it is a mere sheet, at both stations, along x or along y.
        let wood = Piece::ALL.map(|piece| {
            let (above, below) = (self.section(upper, piece), self.section(lower, piece));
            (above.is_wide() || below.is_wide()) && (above.is_deep() || below.is_deep())
        });
        for piece in Piece::ALL {
            self.begins.push(self.keys.len() as u32);
            if !wood[piece.index()] {
                continue;
            }
            let ends = [self.section(upper, piece), self.section(lower, piece)].map(|s| s.is_wide() && s.is_deep());
            let mut add = |part| self.keys.push(Key { slab: slab as u32, piece, part });
            for part in Part::AROUND {
                let covered_when = match part.surface(piece) {
                    Surface::Cut(_) => Stage::Blank,
                    Surface::Face(_) | Surface::End(_) => Stage::Finished,
                };
                let has_neighbour = part.neighbour(piece).is_some_and(|neighbour| wood[neighbour.index()]);
                if !(has_neighbour && self.opening.stage() == covered_when) {
                    add(part);
                }
            }
            if slab == 0 && ends[0] {
                add(Part::Top);
            }
            if slab + 1 == slabs && ends[1] {
                add(Part::Foot);
            }
        }
    }

    /// How many facets there are.
    pub fn len(&self) -> usize {
        self.keys.len()
    }

    /// Whether there are none: the solved leg has fewer than two stations.
    pub fn is_empty(&self) -> bool {
        self.keys.is_empty()
    }

    /// The stations between which its slabs lie, mm from the top.
    pub fn stations(&self) -> impl ExactSizeIterator<Item = f64> + '_ {
        self.levels.iter().map(|level| level.s)
    }

    /// How many slabs there are between stations.
    pub fn slabs(&self) -> usize {
        self.levels.len().saturating_sub(1)
    }

    /// How the pieces are placed.
    pub fn opening(&self) -> &Opening {
        &self.opening
    }

    /// The numbers of the facets of one piece in one slab; empty where there are none.
    pub fn of_piece(&self, slab: usize, piece: Piece) -> Range<u32> {
        let body = 4 * slab + piece.index();
        match (self.begins.get(body), self.begins.get(body + 1)) {
            (Some(&begin), Some(&end)) => begin..end,
            _ => 0..0,
        }
    }

    /// The facet of a number, as [`draw_order`](crate::draw_order) gives it.
    pub fn get(&self, number: u32) -> Option<Facet> {
        self.keys.get(number as usize).map(|&key| self.facet(key))
    }

    /// All facets, in the order of their numbers.
    pub fn iter(&self) -> impl ExactSizeIterator<Item = Facet> + '_ {
        self.keys.iter().map(|&key| self.facet(key))
    }

    /// What the camera sees of the leg: least right and up, most right and up, mm. None if there are no facets.
    pub fn seen_within(&self, camera: &Camera) -> Option<[[f64; 2]; 2]> {
        let mut seen: Option<[[f64; 2]; 2]> = None;
        for corner in self.iter().flat_map(|facet| facet.corners) {
            let [right, up, _] = camera.view(corner.at);
            let [least, most] = seen.unwrap_or([[right, up]; 2]);
            seen = Some([[least[0].min(right), least[1].min(up)], [most[0].max(right), most[1].max(up)]]);
        }
        seen
    }

    /// Whether a facet is turned toward the viewer; `toward` is the direction to the viewer as it lies in the blank.
    ///
    /// Worked out from the slope of the saw line, so that a surface that does not lean is judged without rounding.
    pub(crate) fn faces(&self, number: u32, toward: [f64; 3]) -> bool {
        let Some(&Key { slab, piece, part }) = self.keys.get(number as usize) else { return false };
        let [x, y, s] = toward;
        match part.surface(piece) {
            Surface::Cut(cut) => {
                let beyond = self.beyond(cut, slab as usize, toward);
                if matches!(part, Part::MostX | Part::MostY) { beyond > 0.0 } else { beyond < 0.0 }
            }
            Surface::Face(Face::One) => y < 0.0,
            Surface::Face(Face::Two) => x > 0.0,
            Surface::Face(Face::Three) => y > 0.0,
            Surface::Face(Face::Four) => x < 0.0,
            Surface::End(End::Top) => s < 0.0,
            Surface::End(End::Foot) => s > 0.0,
        }
    }

    /// How far a direction of the blank (x, y, s) leads beyond the plane of a cut in a slab, to the side of growing x
    /// (first cut) or y (second): above 0 if it leaves the plane on that side.
    pub(crate) fn beyond(&self, cut: Cut, slab: usize, direction: [f64; 3]) -> f64 {
        let (Some(upper), Some(lower)) = (self.levels.get(slab), self.levels.get(slab + 1)) else { return 0.0 };
        let [x, y, s] = direction;
        match cut {
            Cut::First => x * (lower.s - upper.s) - s * (lower.a - upper.a),
            Cut::Second => y * (lower.s - upper.s) - s * (lower.b - upper.b),
        }
    }

    /// The level section of a piece, a rectangle of the blank.
    fn section(&self, level: Level, piece: Piece) -> Rectangle {
        Rectangle {
            x: if piece.beyond_first() { [level.a, self.width_mm] } else { [0.0, level.a] },
            y: if piece.beyond_second() { [level.b, self.depth_mm] } else { [0.0, level.b] },
        }
    }

    fn facet(&self, Key { slab, piece, part }: Key) -> Facet {
        let levels = [self.levels[slab as usize], self.levels[slab as usize + 1]];
        let sections = levels.map(|level| self.section(level, piece));
        // Upper or lower; least or most x; least or most y.
        let corner = |lower: usize, x: usize, y: usize| {
            let blank = BlankPoint { x: sections[lower].x[x], y: sections[lower].y[y], s: levels[lower].s };
            FacetCorner { at: self.opening.place(piece, blank), blank }
        };
        let corners = match part {
            Part::LeastY => [corner(0, 0, 0), corner(0, 1, 0), corner(1, 1, 0), corner(1, 0, 0)],
            Part::MostX => [corner(0, 1, 0), corner(0, 1, 1), corner(1, 1, 1), corner(1, 1, 0)],
            Part::MostY => [corner(0, 1, 1), corner(0, 0, 1), corner(1, 0, 1), corner(1, 1, 1)],
            Part::LeastX => [corner(0, 0, 1), corner(0, 0, 0), corner(1, 0, 0), corner(1, 0, 1)],
            Part::Top => [corner(0, 0, 0), corner(0, 0, 1), corner(0, 1, 1), corner(0, 1, 0)],
            Part::Foot => [corner(1, 0, 0), corner(1, 1, 0), corner(1, 1, 1), corner(1, 0, 1)],
        };
        Facet { piece, surface: part.surface(piece), slab, corners }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Side;

    /// A stout leg whose first line runs out of the blank through both faces.
    fn solved() -> Solved {
        let s: Vec<f64> = (0..=30).map(|i| 10.0 * f64::from(i)).collect();
        let a = s.iter().map(|s| (25.0 - 32.0 * (s / 40.0).sin()).clamp(0.0, 50.0)).collect();
        let b = s.iter().map(|s| 20.0 + 15.0 * (s / 60.0).cos()).collect();
        Solved { width_mm: 50.0, depth_mm: 40.0, s, a, b }
    }

    /// What the facets enclose, by the divergence theorem; also fails if the corners go round the wrong way.
    fn enclosed_mm3(facets: impl Iterator<Item = Facet>) -> f64 {
        facets
            .map(|facet| {
                let [p, q, r, t] = facet.corners.map(|corner| corner.at);
                let triple = |p: [f64; 3], q: [f64; 3], r: [f64; 3]| {
                    p[0] * (q[1] * r[2] - q[2] * r[1])
                        + p[1] * (q[2] * r[0] - q[0] * r[2])
                        + p[2] * (q[0] * r[1] - q[1] * r[0])
                };
                (triple(p, q, r) + triple(p, r, t)) / 6.0
            })
            .sum()
    }

    #[test]
    fn closed_surfaces_enclose_the_wood() {
        let solved = solved();
        let stock = 50.0 * 40.0 * 300.0;
        for share in [0.0, 0.15, 0.45, 0.6, 0.9, 1.0] {
            let facets = Facets::new(&solved, &Opening::new(&solved, share));
            let whole = enclosed_mm3(facets.iter());
            assert!((whole - stock).abs() < 1e-6, "{whole} mm³ at share {share}");
            if share > 0.0 && share < 1.0 {
                for (piece, volume) in Piece::ALL.into_iter().zip(solved.piece_volumes_mm3()) {
                    let one = enclosed_mm3(facets.iter().filter(|facet| facet.piece == piece));
                    assert!((one - volume).abs() < 1e-6, "{one} mm³ in {piece}");
                }
            }
        }
    }

    #[test]
    fn flat_and_turned_outward() {
        let solved = solved();
        for share in [0.0, 0.2, 0.4, 0.5, 0.65, 0.8, 1.0] {
            let facets = Facets::new(&solved, &Opening::new(&solved, share));
            for facet in facets.iter() {
                let normal = facet.outward();
                let along = facet.corners.map(|c| c.at[0] * normal[0] + c.at[1] * normal[1] + c.at[2] * normal[2]);
                assert!(along.iter().all(|at| (at - along[0]).abs() < 1e-9), "{facet:?}");
                // The piece's wood lies behind: its prism is convex, so every other corner of it does too.
                for other in facets.of_piece(facet.slab as usize, facet.piece).filter_map(|i| facets.get(i)) {
                    for c in other.corners {
                        let at = c.at[0] * normal[0] + c.at[1] * normal[1] + c.at[2] * normal[2];
                        assert!(at < along[0] + 1e-9, "{facet:?} {c:?}");
                    }
                }
            }
        }
    }

    #[test]
    fn turned_toward_the_viewer_as_its_corners_say() {
        let solved = solved();
        for share in [0.0, 0.2, 0.5, 1.0] {
            let facets = Facets::new(&solved, &Opening::new(&solved, share));
            for (turn, tilt) in [(0.0, 0.0), (20.0, 10.0), (140.0, -35.0), (250.0, 70.0), (0.0, 90.0)] {
                let toward = Camera::new(turn, tilt).toward();
                let in_blank = facets.opening().in_blank(toward);
                for (number, facet) in facets.iter().enumerate() {
                    let normal = facet.outward();
                    let facing = normal[0] * toward[0] + normal[1] * toward[1] + normal[2] * toward[2];
                    if facing.abs() > 1e-12 {
                        assert_eq!(facets.faces(number as u32, in_blank), facing > 0.0, "{facet:?}");
                    }
                }
            }
        }
    }

    #[test]
    fn corners_lie_on_the_surface_they_show() {
        let solved = solved();
        let facets = Facets::new(&solved, &Opening::new(&solved, 0.5));
        let mut shown = [0; 8];
        for facet in facets.iter() {
            shown[facet.surface.index()] += 1;
            for FacetCorner { blank: p, at } in facet.corners {
                let station = solved.s.iter().position(|&s| s == p.s).unwrap();
                match facet.surface {
                    Surface::Cut(Cut::First) => assert_eq!(p.x, solved.a[station]),
                    Surface::Cut(Cut::Second) => assert_eq!(p.y, solved.b[station]),
                    Surface::Face(Face::One) => assert_eq!(p.y, 0.0),
                    Surface::Face(Face::Two) => assert_eq!(p.x, 50.0),
                    Surface::Face(Face::Three) => assert_eq!(p.y, 40.0),
                    Surface::Face(Face::Four) => assert_eq!(p.x, 0.0),
                    Surface::End(End::Top) => assert_eq!(p.s, 0.0),
                    Surface::End(End::Foot) => assert_eq!(p.s, 300.0),
                }
                assert_eq!(at, facets.opening().place(facet.piece, p));
            }
        }
        assert!(shown.iter().all(|&count| count >= 2), "{shown:?}");
    }

    /// The outline at a level is [-a, W - a] by [-b, D - b], and which side it is follows from that.
    #[test]
    fn sides_of_the_finished_leg() {
        let solved = solved();
        let facets = Facets::new(&solved, &Opening::new(&solved, 1.0));
        for facet in facets.iter() {
            for FacetCorner { at: [u, v, s], .. } in facet.corners {
                let station = solved.s.iter().position(|&known| known == s).unwrap();
                let (a, b) = (solved.a[station], solved.b[station]);
                match facet.side() {
                    Some(Side::One) => assert_eq!(v, -b),
                    Some(Side::Two) => assert_eq!(u, 50.0 - a),
                    Some(Side::Three) => assert_eq!(v, 40.0 - b),
                    Some(Side::Four) => assert_eq!(u, -a),
                    None => {}
                }
            }
        }
    }

    #[test]
    fn what_is_covered_or_gone_is_left_out() {
        let straight =
            Solved { width_mm: 50.0, depth_mm: 50.0, s: vec![0.0, 100.0, 200.0], a: vec![25.0; 3], b: vec![25.0; 3] };
        let count = |solved: &Solved, share| Facets::new(solved, &Opening::new(solved, share)).len();
        // Two slabs, four pieces, two walls of each, eight ends; twice the walls while it is open.
        assert_eq!([0.0, 0.5, 1.0].map(|share| count(&straight, share)), [24, 40, 24]);
        // With the first line outside the blank there are two pieces, and nothing covers their planed face there.
        let outside = Solved { a: vec![0.0; 3], ..straight.clone() };
        assert_eq!([0.0, 0.5, 1.0].map(|share| count(&outside, share)), [16, 20, 16]);
        let facets = Facets::new(&outside, &Opening::new(&outside, 1.0));
        let uncovered = facets.iter().filter(|facet| facet.surface == Surface::Face(Face::Two)).count();
        assert_eq!((uncovered, facets.of_piece(0, Piece::One).len(), facets.of_piece(9, Piece::One).len()), (4, 0, 0));
        let short = Solved { s: vec![0.0], a: vec![1.0], b: vec![1.0], ..straight };
        let facets = Facets::new(&short, &Opening::new(&short, 1.0));
        assert!(facets.is_empty() && facets.get(0).is_none() && facets.seen_within(&Camera::new(0.0, 0.0)).is_none());
    }
}

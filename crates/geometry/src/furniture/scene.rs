//! Bodies ready to be painted: cut into runs of slabs within which one order of bodies holds, whatever the camera.
//!
//! Between two neighbouring ends of bodies the same bodies are there. If the outlines that they sweep over that run can be
//! parted by lines, those lines are upright planes that part the bodies, and one order holds over the whole run; else the
//! run is halved, down to single slabs. So a body needs cutting only where a run ends. Runs go by the view direction's
//! share along s. Within a run, a body is behind another only if their shadows across the view direction overlap and the
//! plane between them has it on the far side: disjoint convex outlines never make a ring of that.

use std::ops::Range;

use super::body::{Body, BodyPart, Placed, Wall, area};
use super::separate::{TOUCHING_MM, between, hull, shadow};
use crate::{BlankPoint, Camera, Cut, End, Face, Piece, Surface};

/// Levels closer than this are one, mm.
const SAME_LEVEL_MM: f64 = 1e-9;
/// A run is not halved below this, mm.
const SHORTEST_RUN_MM: f64 = 1e-3;

/// Two bodies in one place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Overlap {
    /// The two.
    pub parts: [BodyPart; 2],
    /// Where, mm: s of the furniture.
    pub span_mm: [f64; 2],
}

/// What of the wood of a leg a facet shows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FacetWood {
    /// The leg's place, from 0.
    pub place: usize,
    /// The piece.
    pub piece: Piece,
    /// The surface of the blank; none for the chamfer of the pipe.
    pub surface: Option<Surface>,
    /// Its corners in the blank.
    pub blank: [BlankPoint; 4],
}

/// A planar facet of a body.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BodyFacet {
    /// The body, by its number.
    pub body: usize,
    /// What the body is.
    pub part: BodyPart,
    /// Counter-clockwise seen from outside, mm. The last two coincide in a triangle.
    pub corners: [[f64; 3]; 4],
    /// Its unit normal, out of the body.
    pub outward: [f64; 3],
    /// The wood it shows; none for a board.
    pub wood: Option<FacetWood>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Part {
    Wall(u8),
    Top(u8),
    Foot(u8),
}

#[derive(Clone, Copy, Debug, PartialEq)]
struct Key {
    body: u32,
    slab: u32,
    part: Part,
    outward: [f64; 3],
}

#[derive(Clone, Debug, PartialEq)]
struct Member {
    body: u32,
    slabs: Range<u32>,
    /// Facets of each slab begin here; one more entry at the end.
    begins: Vec<u32>,
    swept: Vec<[f64; 2]>,
}

#[derive(Clone, Debug, PartialEq)]
struct Run {
    members: Vec<Member>,
    /// Two members and the direction from the first to the second, square to the plane between them.
    parted: Vec<(u16, u16, [f64; 2])>,
}

/// Bodies ready to be painted from anywhere.
#[derive(Clone, Debug, PartialEq)]
pub struct Scene {
    bodies: Vec<Body>,
    runs: Vec<Run>,
    keys: Vec<Key>,
    overlaps: Vec<Overlap>,
}

impl Scene {
    /// The scene of some bodies.
    pub fn new(mut bodies: Vec<Body>) -> Scene {
        let (spans, overlaps) = runs(&bodies);
        let ends: Vec<f64> = spans.iter().flatten().copied().collect();
        for body in &mut bodies {
            let [from, to] = body.span_mm();
            let within: Vec<f64> = ends.iter().copied().filter(|s| *s > from && *s < to).collect();
            body.cut_at(&within, SAME_LEVEL_MM);
        }
        let mut scene = Scene { bodies, runs: Vec::with_capacity(spans.len()), keys: Vec::new(), overlaps };
        for span in spans {
            scene.add_run(span);
        }
        scene
    }

    /// The bodies, cut where runs end.
    pub fn bodies(&self) -> &[Body] {
        &self.bodies
    }

    /// Bodies that are in one another's place; their order is a guess.
    pub fn overlaps(&self) -> &[Overlap] {
        &self.overlaps
    }

    /// How many runs there are.
    pub fn runs(&self) -> usize {
        self.runs.len()
    }

    /// How many facets there are.
    pub fn len(&self) -> usize {
        self.keys.len()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.keys.is_empty()
    }

    fn add_run(&mut self, span: [f64; 2]) {
        let mut members: Vec<Member> = Vec::new();
        for (number, body) in self.bodies.iter().enumerate() {
            if !covers(body, span) {
                continue;
            }
            let at = |s: f64| {
                let next = body.levels.partition_point(|level| *level < s - SAME_LEVEL_MM);
                next.min(body.levels.len() - 1) as u32
            };
            let slabs = at(span[0])..at(span[1]);
            let swept = swept(body, slabs.start as usize, slabs.end as usize);
            members.push(Member { body: number as u32, slabs, begins: Vec::new(), swept });
        }
        for i in 0..members.len() {
            let body = members[i].body as usize;
            for slab in members[i].slabs.clone() {
                let begin = self.keys.len() as u32;
                members[i].begins.push(begin);
                self.add_slab(body, slab as usize, &members);
            }
            members[i].begins.push(self.keys.len() as u32);
        }
        let mut parted = Vec::new();
        for i in 0..members.len() {
            for j in i + 1..members.len() {
                let (p, q) = (&members[i], &members[j]);
                // Where they overlap the order is a guess: by the middles of their outlines.
                let way = between(&p.swept, &q.swept).unwrap_or_else(|| {
                    let (p, q) = (self.bodies[p.body as usize].middle(), self.bodies[q.body as usize].middle());
                    [q[0] - p[0], q[1] - p[1]]
                });
                parted.push((i as u16, j as u16, way));
            }
        }
        self.runs.push(Run { members, parted });
    }

    fn add_slab(&mut self, number: usize, slab: usize, members: &[Member]) {
        let body = &self.bodies[number];
        let (upper, lower) = (body.outline(slab), body.outline(slab + 1));
        if area(upper) <= 0.0 && area(lower) <= 0.0 {
            return;
        }
        let mut keys = Vec::with_capacity(body.corners + 4);
        for (i, wall) in body.walls.iter().enumerate() {
            if !self.covered(body, *wall, slab, members) {
                keys.push(Part::Wall(i as u8));
            }
        }
        // A fan of quadrilaterals from the first corner.
        let fans = (body.corners - 1) / 2;
        if slab == 0 {
            keys.extend((0..fans).map(|i| Part::Top(i as u8)));
        }
        if slab + 2 == body.levels.len() {
            keys.extend((0..fans).map(|i| Part::Foot(i as u8)));
        }
        for part in keys {
            let corners = self.corners(number, slab, part);
            if let Some(outward) = normal(&corners) {
                self.keys.push(Key { body: number as u32, slab: slab as u32, part, outward });
            }
        }
    }

    /// Whether a planed wall is glued to its neighbour in this slab: the neighbour's wall is just as large.
    fn covered(&self, body: &Body, wall: Wall, slab: usize, members: &[Member]) -> bool {
        let BodyPart::Piece { place, piece, .. } = body.part else { return false };
        let [parted_u, parted_v] = body.placed.map_or([false; 2], |placed| placed.parted);
        let neighbour = match wall {
            Wall::AcrossU if !parted_u => piece.mirrored(),
            Wall::AcrossV if !parted_v => piece.mirrored().opposite(),
            _ => return false,
        };
        let (from, to) = (body.levels[slab], body.levels[slab + 1]);
        members.iter().map(|member| &self.bodies[member.body as usize]).any(|other| {
            let is = matches!(other.part, BodyPart::Piece { place: p, piece: q, .. } if p == place && q == neighbour);
            is && area(&other.outline_at(from)).max(area(&other.outline_at(to))) > 0.0
        })
    }

    fn corners(&self, number: usize, slab: usize, part: Part) -> [[f64; 3]; 4] {
        let body = &self.bodies[number];
        let level = |i: usize| {
            let (s, outline) = (body.levels[i], body.outline(i));
            move |corner: usize| {
                let [u, v] = outline[corner];
                [u, v, s]
            }
        };
        let (upper, lower) = (level(slab), level(slab + 1));
        match part {
            // Seen from outside, with s down, the outline runs to the left.
            Part::Wall(i) => {
                let (i, j) = (i as usize, (i as usize + 1) % body.corners);
                [upper(i), upper(j), lower(j), lower(i)]
            }
            Part::Top(i) | Part::Foot(i) => {
                let first = 2 * i as usize + 1;
                let [p, q, r] = [first, first + 1, (first + 2).min(body.corners - 1)];
                match part {
                    Part::Foot(_) => [lower(0), lower(p), lower(q), lower(r)],
                    _ => [upper(0), upper(r), upper(q), upper(p)],
                }
            }
        }
    }

    /// The facet of a number, as [`Scene::draw_order`] gives it.
    pub fn get(&self, number: u32) -> Option<BodyFacet> {
        let key = self.keys.get(number as usize)?;
        let body = &self.bodies[key.body as usize];
        let corners = self.corners(key.body as usize, key.slab as usize, key.part);
        let wood = match (body.part, body.placed) {
            (BodyPart::Piece { place, piece, .. }, Some(placed)) => Some(FacetWood {
                place,
                piece,
                surface: surface(body, piece, key.part),
                blank: corners.map(|corner| in_blank(&placed, piece, corner)),
            }),
            _ => None,
        };
        Some(BodyFacet { body: key.body as usize, part: body.part, corners, outward: key.outward, wood })
    }

    /// The numbers of the facets that face the camera, back to front.
    pub fn draw_order(&self, camera: &Camera) -> Vec<u32> {
        let toward = camera.toward();
        let mut order = Vec::with_capacity(self.keys.len() / 2 + 8);
        let downward = toward[2] < 0.0; // seen from above, the foot is farthest
        let mut add = |run: &Run| {
            for member in back_to_front(run, [toward[0], toward[1]]) {
                let member = &run.members[member];
                let mut add_slab = |slab: usize| {
                    let facets = member.begins[slab]..member.begins[slab + 1];
                    order.extend(facets.filter(|number| {
                        self.keys.get(*number as usize).is_some_and(|key| {
                            let [u, v, s] = key.outward;
                            u * toward[0] + v * toward[1] + s * toward[2] > 0.0
                        })
                    }));
                };
                let slabs = member.begins.len() - 1;
                if downward {
                    (0..slabs).rev().for_each(&mut add_slab);
                } else {
                    (0..slabs).for_each(&mut add_slab);
                }
            }
        };
        if downward {
            self.runs.iter().rev().for_each(&mut add);
        } else {
            self.runs.iter().for_each(&mut add);
        }
        order
    }

    /// What the camera sees: least right and up, most right and up, mm. None if there is nothing.
    pub fn seen_within(&self, camera: &Camera) -> Option<[[f64; 2]; 2]> {
        let mut seen: Option<[[f64; 2]; 2]> = None;
        for body in &self.bodies {
            for (i, s) in body.levels.iter().enumerate() {
                for [u, v] in body.outline(i) {
                    let [right, up, _] = camera.view([*u, *v, *s]);
                    let [least, most] = seen.unwrap_or([[right, up]; 2]);
                    seen = Some([[least[0].min(right), least[1].min(up)], [most[0].max(right), most[1].max(up)]]);
                }
            }
        }
        seen
    }
}

/// Members of a run from the farthest to the nearest.
fn back_to_front(run: &Run, toward: [f64; 2]) -> Vec<usize> {
    let count = run.members.len();
    let plan = toward[0].hypot(toward[1]);
    if plan == 0.0 {
        return (0..count).collect();
    }
    let across = [-toward[1] / plan, toward[0] / plan];
    let shadows: Vec<[f64; 2]> = run.members.iter().map(|member| shadow(&member.swept, across)).collect();
    let mut nearer: Vec<Vec<usize>> = vec![Vec::new(); count];
    let mut behind = vec![0_usize; count];
    for &(i, j, way) in &run.parted {
        let (i, j) = (i as usize, j as usize);
        if shadows[i][1].min(shadows[j][1]) - shadows[i][0].max(shadows[j][0]) <= TOUCHING_MM {
            continue;
        }
        let facing = way[0] * toward[0] + way[1] * toward[1];
        let (far, near) = if facing > 0.0 { (i, j) } else { (j, i) };
        nearer[far].push(near);
        behind[near] += 1;
    }
    let mut order = Vec::with_capacity(count);
    let mut taken = vec![false; count];
    while order.len() < count {
        // Bodies that are disjoint never make a ring; those that overlap may, and then the least covered one goes first.
        let next = (0..count).filter(|i| !taken[*i]).min_by_key(|i| behind[*i]);
        let Some(next) = next else { break };
        taken[next] = true;
        order.push(next);
        for &near in &nearer[next] {
            behind[near] = behind[near].saturating_sub(1);
        }
    }
    order
}

fn covers(body: &Body, span: [f64; 2]) -> bool {
    let [from, to] = body.span_mm();
    from <= span[0] + SAME_LEVEL_MM && to >= span[1] - SAME_LEVEL_MM
}

/// The spans of the runs, in order, and the bodies that no plane parts.
fn runs(bodies: &[Body]) -> (Vec<[f64; 2]>, Vec<Overlap>) {
    let mut ends: Vec<f64> = bodies.iter().flat_map(Body::span_mm).collect();
    ends.sort_by(f64::total_cmp);
    ends.dedup_by(|next, kept| *next - *kept <= SAME_LEVEL_MM);
    let mut spans = Vec::new();
    let mut overlaps = Vec::new();
    for pair in ends.windows(2) {
        let span = [pair[0], pair[1]];
        let here: Vec<&Body> = bodies.iter().filter(|body| covers(body, span)).collect();
        if !here.is_empty() {
            split(&here, span, &mut spans, &mut overlaps);
        }
    }
    (spans, overlaps)
}

/// A run, or its halves where outlines swept over the whole of it overlap.
fn split(here: &[&Body], span: [f64; 2], spans: &mut Vec<[f64; 2]>, overlaps: &mut Vec<Overlap>) {
    let swept: Vec<Vec<[f64; 2]>> = here.iter().map(|body| swept_over(body, span)).collect();
    let mut tangled = Vec::new();
    for i in 0..here.len() {
        for j in i + 1..here.len() {
            if between(&swept[i], &swept[j]).is_none() {
                tangled.push([i, j]);
            }
        }
    }
    if tangled.is_empty() {
        spans.push(span);
        return;
    }
    let inner: Vec<f64> = {
        let levels = tangled.iter().flatten().flat_map(|i| here[*i].levels.iter().copied());
        let mut inner: Vec<f64> =
            levels.filter(|s| *s > span[0] + SAME_LEVEL_MM && *s < span[1] - SAME_LEVEL_MM).collect();
        inner.sort_by(f64::total_cmp);
        inner
    };
    let middle = inner.get(inner.len() / 2).copied().unwrap_or(f64::midpoint(span[0], span[1]));
    // Within one slab, what overlaps at one of its ends is really in one place; else the middle may part it.
    let at_an_end = |[i, j]: &[usize; 2]| {
        span.iter().any(|s| {
            let [p, q] = [here[*i], here[*j]].map(|body| swept_over(body, [*s, *s]));
            between(&p, &q).is_none()
        })
    };
    if inner.is_empty() && (tangled.iter().any(at_an_end) || span[1] - span[0] <= SHORTEST_RUN_MM) {
        for [i, j] in &tangled {
            let parts = [here[*i].part, here[*j].part];
            // One finding for one place, however many slabs it takes.
            match overlaps.iter_mut().find(|o| o.parts == parts && (o.span_mm[1] - span[0]).abs() <= SAME_LEVEL_MM) {
                Some(longer) => longer.span_mm[1] = span[1],
                None => overlaps.push(Overlap { parts, span_mm: span }),
            }
        }
        spans.push(span);
        return;
    }
    split(here, [span[0], middle], spans, overlaps);
    split(here, [middle, span[1]], spans, overlaps);
}

/// A convex outline that holds all of a body's outlines over a span.
fn swept_over(body: &Body, span: [f64; 2]) -> Vec<[f64; 2]> {
    let mut points = body.outline_at(span[0]);
    points.extend(body.outline_at(span[1]));
    let first = body.levels.partition_point(|level| *level <= span[0]);
    let last = body.levels.partition_point(|level| *level < span[1]);
    points.extend((first..last.max(first)).flat_map(|i| body.outline(i)));
    enclosed(body, points)
}

/// The same over levels of the body, by their numbers.
fn swept(body: &Body, first: usize, last: usize) -> Vec<[f64; 2]> {
    enclosed(body, (first..=last).flat_map(|i| body.outline(i)).copied().collect())
}

fn enclosed(body: &Body, points: Vec<[f64; 2]>) -> Vec<[f64; 2]> {
    // Pieces keep to their quadrant of the leg: a rectangle from the axis holds them, and its edges part them exactly.
    match (body.part, body.placed) {
        (BodyPart::Piece { piece, .. }, Some(placed)) => {
            let [sign_u, sign_v] = piece.quadrant();
            let mut far = [0.0_f64, 0.0_f64];
            for point in points {
                let [u, v] = placed.back(point);
                far = [far[0].max(sign_u * u), far[1].max(sign_v * v)];
            }
            let corners = [[0.0, 0.0], [far[0], 0.0], far, [0.0, far[1]]];
            let mut outline: Vec<[f64; 2]> =
                corners.into_iter().map(|[u, v]| placed.out([sign_u * u, sign_v * v])).collect();
            if sign_u * sign_v < 0.0 {
                outline.reverse();
            }
            outline
        }
        _ => hull(&points),
    }
}

fn surface(body: &Body, piece: Piece, part: Part) -> Option<Surface> {
    match part {
        Part::Top(_) => Some(Surface::End(End::Top)),
        Part::Foot(_) => Some(Surface::End(End::Foot)),
        Part::Wall(i) => match body.walls.get(i as usize)? {
            Wall::FirstCut => Some(Surface::Cut(Cut::First)),
            Wall::SecondCut => Some(Surface::Cut(Cut::Second)),
            Wall::AcrossU => Some(Surface::Face(if piece.beyond_first() { Face::Two } else { Face::Four })),
            Wall::AcrossV => Some(Surface::Face(if piece.beyond_second() { Face::Three } else { Face::One })),
            Wall::Chamfer | Wall::Plain => None,
        },
    }
}

fn in_blank(placed: &Placed, piece: Piece, [u, v, s]: [f64; 3]) -> BlankPoint {
    let [u, v] = placed.back([u, v]);
    let point = crate::LegPoint { u, v, s: s - placed.top_s };
    piece.in_blank(placed.width_mm, placed.depth_mm, point)
}

/// The unit normal of a quadrilateral, from its diagonals; none where it is a mere line.
fn normal(corners: &[[f64; 3]; 4]) -> Option<[f64; 3]> {
    let [p, q, r, t] = corners;
    let [e, f] = [[r[0] - p[0], r[1] - p[1], r[2] - p[2]], [t[0] - q[0], t[1] - q[1], t[2] - q[2]]];
    let cross = [e[1] * f[2] - e[2] * f[1], e[2] * f[0] - e[0] * f[2], e[0] * f[1] - e[1] * f[0]];
    let size = (cross[0] * cross[0] + cross[1] * cross[1] + cross[2] * cross[2]).sqrt();
    (size > 1e-9).then(|| cross.map(|along| along / size))
}

impl Piece {
    /// The piece across both seams.
    pub fn opposite(self) -> Piece {
        match self {
            Piece::One => Piece::Three,
            Piece::Two => Piece::Four,
            Piece::Three => Piece::One,
            Piece::Four => Piece::Two,
        }
    }
}

//! Where a knot ends up once the blank is sawn and its pieces are rotated: the blank's faces become glue faces, so what is
//! near them is glued inside, and what a cut goes through shows on the two sides which that cut makes.

use cornerwise_geometry::{BlankPoint, Cut, Leg, Piece, Side};

use crate::knot::{Knot, KnotBody};

/// Ends of what shows are found to this, mm along the leg.
const PLACE_MM: f64 = 1e-6;

/// A knot is looked at this often at least, mm along the leg, so that nothing longer is overlooked.
const STEP_MM: f64 = 0.1;

/// A stretch of a side on which a knot shows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KnotShows {
    /// The side.
    pub side: Side,
    /// Where it begins, mm from the top.
    pub from_mm: f64,
    /// Where it ends, mm from the top.
    pub to_mm: f64,
    /// How near to the side's seam it comes, and how far from it, mm across the side.
    pub from_seam_mm: [f64; 2],
    /// Whether it touches an edge of the side.
    pub at_edge: bool,
}

impl KnotShows {
    /// Whether it reaches the seam.
    pub fn at_seam(&self) -> bool {
        self.from_seam_mm[0] < 1e-6
    }
}

/// Where a knot ends up.
#[derive(Clone, Debug, PartialEq)]
pub struct KnotEnds {
    /// Every stretch of every side on which it shows, by side and then from the top.
    pub shows: Vec<KnotShows>,
    /// The cuts that go through it.
    pub sawn_by: Vec<Cut>,
    /// The pieces that hold some of it within the finished length.
    pub pieces: Vec<Piece>,
    /// Whether some of it lies in the length that is trimmed off, or beyond.
    pub trimmed: bool,
}

impl KnotEnds {
    /// Whether it is out of sight: glued inside, or trimmed off.
    pub fn is_hidden(&self) -> bool {
        self.shows.is_empty()
    }

    /// Where it ends up, in a few words.
    pub fn in_words(&self) -> String {
        if self.pieces.is_empty() {
            return "trimmed off".to_owned();
        }
        if self.is_hidden() {
            let pieces: Vec<String> = self.pieces.iter().map(|piece| piece.number().to_string()).collect();
            let word = if pieces.len() == 1 { "piece" } else { "pieces" };
            return format!("glued inside, in {word} {}", pieces.join(" and "));
        }
        let mut sides: Vec<Side> = self.shows.iter().map(|shows| shows.side).collect();
        sides.dedup();
        let sides: Vec<String> = sides.iter().map(|side| side.number().to_string()).collect();
        let mut words = format!("shows on side{} {}", if sides.len() == 1 { "" } else { "s" }, sides.join(", "));
        if self.shows.iter().any(|shows| shows.at_edge) {
            words += ", at an edge";
        }
        if self.shows.iter().any(KnotShows::at_seam) {
            words += ", at a seam";
        }
        match self.sawn_by.as_slice() {
            [cut] => words += &format!("; the {cut} goes through it"),
            [_, _] => words += "; both cuts go through it",
            _ => {}
        }
        words
    }
}

impl Knot {
    /// Where it ends up in a leg.
    ///
    /// At every level a cut meets the blank in one straight line, and a knot is a quadric: the chord is exact. Levels are
    /// looked at every tenth of a millimetre; where the chord begins and ends along the leg is found by halving.
    pub fn ends(&self, leg: &Leg) -> KnotEnds {
        let body = KnotBody::new(self, [leg.width_mm, leg.depth_mm]);
        let [first, last] = body.reach_s();
        let (from, to) = (first.max(0.0), last.min(leg.length_mm));
        let trimmed = first < 0.0 || last > leg.length_mm;
        let mut ends = KnotEnds { shows: Vec::new(), sawn_by: Vec::new(), pieces: Vec::new(), trimmed };
        if from > to {
            return ends;
        }
        for side in Side::ALL {
            let before = ends.shows.len();
            on_side(&body, leg, side, [from, to], &mut ends.shows);
            if ends.shows.len() > before && !ends.sawn_by.contains(&side.cut()) {
                ends.sawn_by.push(side.cut());
            }
        }
        ends.sawn_by.sort();
        ends.pieces = pieces(&body, leg, [from, to]);
        ends
    }
}

/// The line in which a cut meets a level of the blank: along which coordinate it runs, where, how long it is, and where
/// the other cut crosses it.
fn line(leg: &Leg, cut: Cut, s: f64) -> (usize, f64, f64, f64) {
    match cut {
        Cut::First => (1, leg.a(s), leg.depth_mm, leg.b(s)),
        Cut::Second => (0, leg.b(s), leg.width_mm, leg.a(s)),
    }
}

/// What of a knot lies on one half of a side at a level: how near to the seam it comes and how far from it, and whether it
/// touches the edge. Halves are the sides' two pieces: before the other cut's line and beyond it.
fn on_half(body: &KnotBody, leg: &Leg, cut: Cut, beyond: bool, s: f64) -> Option<([f64; 2], bool)> {
    let (axis, at, length, crossing) = line(leg, cut, s);
    let [low, high] = body.chord(axis, at, s)?;
    let [from, to] = if beyond { [crossing, length] } else { [0.0, crossing] };
    let (low, high) = (low.max(from), high.min(to));
    if low > high {
        return None;
    }
    let from_seam = if beyond { [length - high, length - low] } else { [low, high] };
    let at_edge = if beyond { low <= crossing + 1e-9 } else { high >= crossing - 1e-9 };
    Some((from_seam, at_edge))
}

fn on_side(body: &KnotBody, leg: &Leg, side: Side, [from, to]: [f64; 2], shows: &mut Vec<KnotShows>) {
    // Both faces of a cut show the same of the knot, each on its own side.
    let cut = side.cut();
    let look = |s: f64| {
        let halves = [false, true].map(|beyond| on_half(body, leg, cut, beyond, s));
        let found = halves.into_iter().flatten();
        found.reduce(|([a, b], edge), ([c, d], other)| ([a.min(c), b.max(d)], edge || other))
    };
    let steps = ((to - from) / STEP_MM).ceil().clamp(1.0, 1e5) as usize;
    let ending = |inside: f64, outside: f64| {
        let (mut inside, mut outside) = (inside, outside);
        while (outside - inside).abs() > PLACE_MM {
            let middle = 0.5 * (inside + outside);
            if look(middle).is_some() { inside = middle } else { outside = middle }
        }
        inside
    };
    let mut open: Option<KnotShows> = None;
    let mut last = from;
    for i in 0..=steps {
        let s = from + (to - from) * i as f64 / steps as f64;
        match (look(s), &mut open) {
            (Some(([near, far], edge)), Some(shown)) => {
                shown.to_mm = s;
                shown.from_seam_mm = [shown.from_seam_mm[0].min(near), shown.from_seam_mm[1].max(far)];
                shown.at_edge |= edge;
            }
            (Some((from_seam_mm, at_edge)), None) => {
                let begins = if i == 0 { s } else { ending(s, last) };
                open = Some(KnotShows { side, from_mm: begins, to_mm: s, from_seam_mm, at_edge });
            }
            (None, Some(shown)) => {
                shown.to_mm = ending(last, s);
                shows.extend(open.take());
            }
            (None, None) => {}
        }
        last = s;
    }
    shows.extend(open);
}

/// The pieces that hold some of a knot: at many levels, the four quarters of the level section are asked.
fn pieces(body: &KnotBody, leg: &Leg, [from, to]: [f64; 2]) -> Vec<Piece> {
    let steps = ((to - from) / STEP_MM).ceil().clamp(1.0, 1e5) as usize;
    let mut held = [false; 4];
    let deep = 1 - body.across;
    let [low, high] = body.reach()[deep];
    for i in 0..=steps {
        let s = from + (to - from) * i as f64 / steps as f64;
        let cuts = [leg.a(s), leg.b(s)];
        let through = [leg.width_mm, leg.depth_mm];
        // Lines across the knot, at several depths and at the cut itself.
        for k in 0..=16 {
            let inward = low + (high - low) * f64::from(k) / 16.0;
            let Some([a, b]) = body.chord(body.across, inward, s) else { continue };
            let (a, b) = (a.max(0.0), b.min(through[body.across]));
            if a >= b {
                continue;
            }
            let cut = cuts[body.across];
            for (has, at) in [(a < cut, a), (b > cut, b)] {
                if has {
                    let p = if body.across == 0 { [at, inward] } else { [inward, at] };
                    let held_by = piece_at(cuts, p);
                    held[held_by.index()] = true;
                }
            }
        }
    }
    Piece::ALL.into_iter().filter(|piece| held[piece.index()]).collect()
}

/// The piece at a point of a level.
fn piece_at([a, b]: [f64; 2], [x, y]: [f64; 2]) -> Piece {
    match (x > a, y > b) {
        (false, false) => Piece::One,
        (true, false) => Piece::Two,
        (true, true) => Piece::Three,
        (false, true) => Piece::Four,
    }
}

/// Whether a point of the blank lies in a knot: for checks from outside.
pub fn in_knot(knot: &Knot, leg: &Leg, p: BlankPoint) -> bool {
    KnotBody::new(knot, [leg.width_mm, leg.depth_mm]).share(p) <= 1.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tests::cyma_leg;
    use cornerwise_geometry::Face;

    fn knot(face: Face, s: f64, across: f64, depth: f64) -> Knot {
        Knot::new(face, s.into(), across.into(), depth.into())
    }

    #[test]
    fn a_shallow_knot_at_a_face_is_glued_inside_and_a_deep_one_shows_on_two_sides() {
        let leg = cyma_leg(50.0, 50.0, 200.0, 8.0, 0.5);
        let shallow = knot(Face::One, 100.0, 10.0, 12.0).ends(&leg);
        assert!(shallow.is_hidden());
        assert_eq!(shallow.in_words(), "glued inside, in piece 1");
        // Straight through: the second cut meets it, on sides 1 and 3.
        let through = knot(Face::One, 100.0, 10.0, 50.0).ends(&leg);
        assert_eq!(through.sawn_by, [Cut::Second]);
        assert_eq!(through.shows.iter().map(|shows| shows.side).collect::<Vec<_>>(), [Side::One, Side::Three]);
        for shows in &through.shows {
            assert!((shows.to_mm - shows.from_mm - 10.0).abs() < 1e-3, "{shows:?}");
            assert!((shows.from_seam_mm[0] - 5.0).abs() < 1e-3 && (shows.from_seam_mm[1] - 15.0).abs() < 1e-3);
            assert!(!shows.at_edge && !shows.at_seam());
        }
        assert_eq!(through.pieces, [Piece::One, Piece::Four]);
        assert_eq!(through.in_words(), "shows on sides 1, 3; the second cut goes through it");
    }

    #[test]
    fn a_knot_through_the_middle_of_the_blank_lies_at_the_legs_edges_and_one_at_an_arris_at_a_seam() {
        let leg = cyma_leg(50.0, 50.0, 200.0, 8.0, 0.5);
        let middle = knot(Face::One, 100.0, leg.a(100.0), 50.0).ends(&leg);
        assert_eq!(middle.sawn_by, Cut::ALL);
        assert!(middle.in_words().contains("at an edge") && middle.in_words().contains("both cuts"));
        assert_eq!(middle.pieces, Piece::ALL);
        // On face 4, where the second cut comes out: the seam of sides 1 and 3.
        let seam = knot(Face::Four, 60.0, leg.depth_mm - leg.b(60.0), 5.0).ends(&leg);
        assert!(
            seam.in_words().contains("at a seam") && !seam.in_words().contains("at an edge"),
            "{}",
            seam.in_words()
        );
    }

    #[test]
    fn a_knot_in_the_spare_length_is_trimmed_off() {
        let leg = cyma_leg(50.0, 50.0, 200.0, 8.0, 0.5);
        let off = knot(Face::Two, -20.0, 25.0, 50.0).ends(&leg);
        assert_eq!((off.in_words().as_str(), off.trimmed), ("trimmed off", true));
    }
}

//! How well a pair of seams looks, place by place: good, doubtful or bad, and where the worst is.
//!
//! Glue-ups are read from the exact places of [`crate::compare_seams`]. Rings are read every half millimetre by two things
//! the eye sees: how far ring lines jump, measured across the seam against the rings' spacing there (along the seam it would
//! blow up where rings run nearly parallel to it), and how much the colours of the two edges differ, CIEDE2000 of the wood
//! averaged over a millimetre, its streaks and pores left out. Where a rating changes is found by halving.

use cornerwise_geometry::{BlankPoint, Cut, Leg};
use palette::color_difference::Ciede2000;
use palette::{IntoColor, Lab, Srgb};

use crate::compare::Joint;
use crate::figure::PhotoFigure;
use crate::photo_edges::PhotoEdges;
use crate::rings::Rings;
use crate::{Figure, Mismatch, SeamLimits, Wood, compare_pair, error, seam_edges};

/// Rings are looked at this often, mm along the leg.
const STEP_MM: f64 = 0.5;

/// A rating's end is found to this, mm along the leg.
const PLACE_MM: f64 = 1e-4;

/// What was looked at this near a place tells of it, mm along the leg.
const REACHES_MM: f64 = 1.0;

/// The size of the patch whose colour stands for an edge, mm.
const PATCH_MM: f64 = 1.0;

/// How a place of a seam looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Rating {
    /// Nothing catches the eye.
    Good,
    /// Seen from near.
    Doubtful,
    /// Seen from afar.
    Bad,
}

impl Rating {
    /// All of them, best first.
    pub const ALL: [Rating; 3] = [Rating::Good, Rating::Doubtful, Rating::Bad];

    /// Its word.
    pub fn name(self) -> &'static str {
        match self {
            Rating::Good => "good",
            Rating::Doubtful => "doubtful",
            Rating::Bad => "bad",
        }
    }

    /// What a finding of a glue-up looks like: where the pattern carries on, good; where only it breaks, doubtful; where
    /// lines jump, bad.
    pub fn of(what: Mismatch) -> Rating {
        if what.pattern_carries_on() {
            Rating::Good
        } else if what.lines_meet() {
            Rating::Doubtful
        } else {
            Rating::Bad
        }
    }
}

/// Where good ends and bad begins for rings. Our own choice, judged by eye; no source.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RatingLimits {
    /// Ring lines that jump by no more than this share of a ring are good.
    pub good_jump: f64,
    /// Those that jump by more than this are bad; half a ring is the most there is.
    pub bad_jump: f64,
    /// Colours that differ by no more than this are good, CIEDE2000.
    pub good_colour: f64,
    /// Those that differ by more are bad.
    pub bad_colour: f64,
}

impl Default for RatingLimits {
    fn default() -> RatingLimits {
        RatingLimits { good_jump: 0.15, bad_jump: 0.3, good_colour: 3.0, bad_colour: 8.0 }
    }
}

impl RatingLimits {
    /// How ring lines look that jump by this share of a ring between colours that differ so much, CIEDE2000.
    pub(crate) fn of_rings(&self, share: f64, colour: f64) -> Rating {
        let [good_jump, bad_jump] = [self.good_jump, self.bad_jump].map(|share| error::held(share, 0.0, 0.5));
        if share <= good_jump && colour <= self.good_colour {
            Rating::Good
        } else if share > bad_jump || colour > self.bad_colour {
            Rating::Bad
        } else {
            Rating::Doubtful
        }
    }
}

/// A stretch of seam with one rating.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rated {
    /// Where it begins, mm from the top.
    pub from_mm: f64,
    /// Where it ends, mm from the top.
    pub to_mm: f64,
    /// How it looks.
    pub rating: Rating,
}

/// The worst jump of a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Jump {
    /// How far: of layers and blocks along the leg, of rings across the seam, mm.
    pub mm: f64,
    /// Of rings, as a share of the ring's width there.
    pub ring_share: Option<f64>,
    /// Where, mm from the top.
    pub at_mm: f64,
}

impl Jump {
    /// Those of lines that arrive from both sides between two places, mm from the top, from the top. A line jumps as far as
    /// the nearest line of the other side is away.
    pub(crate) fn all(sides: &[Vec<f64>; 2], [from, to]: [f64; 2]) -> Vec<Jump> {
        let mut all = Vec::new();
        for (one, other) in [(0, 1), (1, 0)] {
            for s in &sides[one] {
                let after = sides[other].partition_point(|there| there < s);
                let near =
                    [after.checked_sub(1), Some(after)].into_iter().flatten().filter_map(|i| sides[other].get(i));
                let mm = near.map(|there| (there - s).abs()).fold(f64::INFINITY, f64::min);
                // What has no partner within the leg may have one beyond its end.
                let mm = mm.min(s - from).min(to - s);
                all.push(Jump { mm, ring_share: None, at_mm: *s });
            }
        }
        all.sort_by(|p, q| p.at_mm.total_cmp(&q.at_mm));
        all
    }

    /// How bad it is: of rings the share of a ring, whose width does not matter to the eye; else the distance.
    fn weight(&self) -> f64 {
        self.ring_share.unwrap_or(self.mm)
    }
}

/// What a pair of seams looks like.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PairReading {
    /// From top to foot; neighbours differ. There is no gap but where, of photos, nothing is known.
    pub places: Vec<Rated>,
    /// Every jump that was looked at, from the top: of rings every half millimetre, else where a line arrives.
    pub jumps: Vec<Jump>,
    /// Rings and photos: differences of colour, CIEDE2000, and where, mm from the top.
    pub colours: Vec<[f64; 2]>,
}

impl PairReading {
    /// The share of the length with a rating, 0 to 1; of photos, of the length of which anything is known.
    pub fn share(&self, rating: Rating) -> f64 {
        let length = self.places.iter().map(|place| place.to_mm - place.from_mm).sum::<f64>().max(1e-9);
        let places = self.places.iter().filter(|place| place.rating == rating);
        // From 0, because the sum of nothing is -0.
        places.fold(0.0, |sum, place| sum + place.to_mm - place.from_mm) / length
    }

    /// The longest good place.
    pub fn longest_good(&self) -> Option<Rated> {
        let good = self.places.iter().filter(|place| place.rating == Rating::Good);
        good.max_by(|p, q| (p.to_mm - p.from_mm).total_cmp(&(q.to_mm - q.from_mm))).copied()
    }

    /// The worst jump, the first of several, where any line arrives at all.
    pub fn worst_jump(&self) -> Option<Jump> {
        let worse = |worst: Jump, jump: &Jump| if jump.weight() > worst.weight() { *jump } else { worst };
        self.jumps.first().map(|first| self.jumps.iter().fold(*first, worse))
    }

    /// Rings and photos: the largest difference of colour, CIEDE2000, and where, mm from the top.
    pub fn worst_colour(&self) -> Option<[f64; 2]> {
        let worse = |worst: [f64; 2], here: &[f64; 2]| if here[0] > worst[0] { *here } else { worst };
        self.colours.first().map(|first| self.colours.iter().fold(*first, worse))
    }

    /// The jump at a place: the nearest that reaches there.
    pub fn jump_at(&self, s_mm: f64) -> Option<Jump> {
        let near = nearest(&self.jumps, s_mm, |jump| jump.at_mm)?;
        ((near.at_mm - s_mm).abs() <= near.mm.max(REACHES_MM)).then_some(*near)
    }

    /// The difference of colour at a place, CIEDE2000.
    pub fn colour_at(&self, s_mm: f64) -> Option<f64> {
        let [colour, at_mm] = nearest(&self.colours, s_mm, |[_, at_mm]| *at_mm)?;
        ((at_mm - s_mm).abs() <= REACHES_MM).then_some(*colour)
    }

    pub(crate) fn add(&mut self, from_mm: f64, to_mm: f64, rating: Rating) {
        match self.places.last_mut() {
            _ if to_mm <= from_mm => {}
            Some(last) if last.rating == rating && last.to_mm == from_mm => last.to_mm = to_mm,
            _ => self.places.push(Rated { from_mm, to_mm, rating }),
        }
    }
}

/// The nearest to a place of what is sorted by its place.
fn nearest<T>(all: &[T], s_mm: f64, at_mm: impl Fn(&T) -> f64) -> Option<&T> {
    let after = all.partition_point(|one| at_mm(one) < s_mm);
    let near = [after.checked_sub(1), Some(after)].into_iter().flatten().filter_map(|i| all.get(i));
    near.min_by(|p, q| (at_mm(p) - s_mm).abs().total_cmp(&(at_mm(q) - s_mm).abs()))
}

/// The difference of two sRGB colours (0 to 255), CIEDE2000 under daylight D65.
pub fn colour_difference(one: [f32; 3], other: [f32; 3]) -> f64 {
    let lab = |c: [f32; 3]| -> Lab<palette::white_point::D65, f64> {
        let [r, g, b] = c.map(|v| f64::from(v) / 255.0);
        Srgb::new(r, g, b).into_color()
    };
    lab(one).difference(lab(other))
}

/// Reads a pair of seams: 2 and 4 for the first cut, 1 and 3 for the second. As drawn both look the same.
pub fn read_pair(leg: &Leg, wood: &Wood, cut: Cut, limits: &SeamLimits, rating: &RatingLimits) -> PairReading {
    match wood {
        Wood::Timber(timber) => {
            let joint = Joint::new(leg, cut);
            let (rings, figure) = (Rings::new(timber), Figure::new(wood));
            read_rings(&joint, &rings, &figure, rating)
        }
        Wood::Photos(photos) => PhotoEdges::new(&Joint::new(leg, cut), &PhotoFigure::new(photos)).read(limits, rating),
        Wood::Layers(_) | Wood::Blocks(_) => read_lines(leg, wood, cut, limits),
    }
}

fn read_lines(leg: &Leg, wood: &Wood, cut: Cut, limits: &SeamLimits) -> PairReading {
    let answer = compare_pair(leg, wood, cut, &SeamLimits { most_places: usize::MAX, ..*limits });
    let mut reading = PairReading::default();
    let mut at = 0.0;
    for place in &answer.places {
        reading.add(at, place.from_mm, Rating::Good);
        reading.add(place.from_mm, place.to_mm, Rating::of(place.what));
        at = place.to_mm;
    }
    reading.add(at, leg.length_mm, Rating::Good);
    reading.jumps = Jump::all(&seam_edges(leg, wood, cut), [0.0, leg.length_mm]);
    reading
}

/// What is seen at one level.
#[derive(Clone, Copy)]
struct Look {
    jump: Jump,
    colour: f64,
    rating: Rating,
}

fn read_rings(joint: &Joint, rings: &Rings, figure: &Figure, limits: &RatingLimits) -> PairReading {
    let look = |s: f64| {
        let offset = joint.offset(s);
        let ends = [0.0, joint.apart_mm].map(|apart| joint.point(apart, offset, s));
        let [one, other] = ends.map(|p| rings.ring(rings.even(p)).phase());
        let share = ((one - other) - (one - other).round()).abs();
        let spacing_mm = 0.5 * (spacing_mm(joint, rings, ends[0]) + spacing_mm(joint, rings, ends[1]));
        let [this, that] = ends.map(|p| figure.calm_colour(p, PATCH_MM));
        let colour = colour_difference(this, that);
        let rating = limits.of_rings(share, colour);
        Look { jump: Jump { mm: share * spacing_mm, ring_share: Some(share), at_mm: s }, colour, rating }
    };
    let length = joint.length_mm();
    let steps = (length / STEP_MM).ceil().clamp(1.0, 1e5) as usize;
    let (mut from, mut last) = (0.0, look(0.0));
    let mut reading = PairReading { places: Vec::new(), jumps: vec![last.jump], colours: vec![[last.colour, 0.0]] };
    for step in 1..=steps {
        let s = length * step as f64 / steps as f64;
        let now = look(s);
        reading.jumps.push(now.jump);
        reading.colours.push([now.colour, s]);
        if now.rating != last.rating {
            let (mut low, mut high) = (last.jump.at_mm, s);
            while high - low > PLACE_MM {
                let middle = 0.5 * (low + high);
                if look(middle).rating == last.rating { low = middle } else { high = middle }
            }
            reading.add(from, high, last.rating);
            from = high;
        }
        last = now;
    }
    reading.add(from, length, last.rating);
    reading
}

/// How far apart ring lines are across a seam, mm; no more than the blank where they run along it.
fn spacing_mm(joint: &Joint, rings: &Rings, p: BlankPoint) -> f64 {
    let [x, y, _] = rings.gradient(p);
    let [across, _] = joint.across_and_offset(x, y);
    (1.0 / across.abs().max(1e-9)).min(joint.apart_mm)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Sharma, Wu, Dalal 2005, "The CIEDE2000 color-difference formula", Color Research and Application 30, table 1: all 34
    /// pairs (part read in public repositories, the rest from memory; another implementation gives them to four decimals).
    #[test]
    fn colour_differences_are_those_of_the_published_pairs() {
        let blue = [50.0, 0.0, -82.7485];
        let red = [50.0, 2.5, 0.0];
        let pairs: [([f64; 3], [f64; 3], f64); 34] = [
            ([50.0, 2.6772, -79.7751], blue, 2.0425),
            ([50.0, 3.1571, -77.2803], blue, 2.8615),
            ([50.0, 2.8361, -74.0200], blue, 3.4412),
            ([50.0, -1.3802, -84.2814], blue, 1.0),
            ([50.0, -1.1848, -84.8006], blue, 1.0),
            ([50.0, -0.9009, -85.5211], blue, 1.0),
            ([50.0, 0.0, 0.0], [50.0, -1.0, 2.0], 2.3669),
            ([50.0, -1.0, 2.0], [50.0, 0.0, 0.0], 2.3669),
            ([50.0, 2.49, -0.001], [50.0, -2.49, 0.0009], 7.1792),
            ([50.0, 2.49, -0.001], [50.0, -2.49, 0.0010], 7.1792),
            ([50.0, 2.49, -0.001], [50.0, -2.49, 0.0011], 7.2195),
            ([50.0, 2.49, -0.001], [50.0, -2.49, 0.0012], 7.2195),
            ([50.0, -0.001, 2.49], [50.0, 0.0009, -2.49], 4.8045),
            ([50.0, -0.001, 2.49], [50.0, 0.0010, -2.49], 4.8045),
            ([50.0, -0.001, 2.49], [50.0, 0.0011, -2.49], 4.7461),
            (red, [50.0, 0.0, -2.5], 4.3065),
            (red, [73.0, 25.0, -18.0], 27.1492),
            (red, [61.0, -5.0, 29.0], 22.8977),
            (red, [56.0, -27.0, -3.0], 31.9030),
            (red, [58.0, 24.0, 15.0], 19.4535),
            (red, [50.0, 3.1736, 0.5854], 1.0),
            (red, [50.0, 3.2972, 0.0], 1.0),
            (red, [50.0, 1.8634, 0.5757], 1.0),
            (red, [50.0, 3.2592, 0.3350], 1.0),
            ([60.2574, -34.0099, 36.2677], [60.4626, -34.1751, 39.4387], 1.2644),
            ([63.0109, -31.0961, -5.8663], [62.8187, -29.7946, -4.0864], 1.2630),
            ([61.2901, 3.7196, -5.3901], [61.4292, 2.2480, -4.9620], 1.8731),
            ([35.0831, -44.1164, 3.7933], [35.0232, -40.0716, 1.5901], 1.8645),
            ([22.7233, 20.0904, -46.6940], [23.0331, 14.9730, -42.5619], 2.0373),
            ([36.4612, 47.8580, 18.3852], [36.2715, 50.5065, 21.2231], 1.4146),
            ([90.8027, -2.0831, 1.4410], [91.1528, -1.6435, 0.0447], 1.4441),
            ([90.9257, -0.5406, -0.9208], [88.6381, -0.8985, -0.7239], 1.5381),
            ([6.7747, -0.2908, -2.4247], [5.8714, -0.0985, -2.2286], 0.6377),
            ([2.0776, 0.0795, -1.1350], [0.9033, -0.0636, -0.5514], 0.9082),
        ];
        for (one, other, wanted) in pairs {
            let lab = |[l, a, b]: [f64; 3]| Lab::<palette::white_point::D65, f64>::new(l, a, b);
            let got = lab(one).difference(lab(other));
            assert!((got - wanted).abs() < 6e-5, "{one:?} {other:?}: {got} for {wanted}");
        }
        assert_eq!(colour_difference([120.0, 80.0, 40.0], [120.0, 80.0, 40.0]), 0.0);
        // White to black is a difference of lightness alone, 100.
        assert!((colour_difference([255.0; 3], [0.0; 3]) - 100.0).abs() < 0.01);
    }
}

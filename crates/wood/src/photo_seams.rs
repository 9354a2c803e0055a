//! Photographed faces at the seams.
//!
//! Of timber, `photo_ring_seams` follows the rings; the rest here is of blanks that were glued up of layers or blocks.
//!
//! Both edges of a seam are places on faces of the blank: seams 1 and 3 join faces 4 and 2, seams 2 and 4 join faces 1 and
//! 3. So where both faces were photographed, what meets is known exactly, as exactly as the photos were squared up.
//! - A *line* arrives where the colour along an edge changes by more than a limit within a millimetre (CIEDE2000). Lines meet
//!   where one arrives from both sides, within the limit for layers or a pixel, whichever is more, or within a quarter of
//!   their blur where the edge crosses them at a slant, half of it where another line arrives beside; as with layers, a
//!   stretch between two arrivals meets if both do. Of two lines nearer than a line's change is long (0.7 mm, three pixels)
//!   one may be seen in one photo only: it counts with the one that meets.
//! - It is *the same wood* where the colours on both sides, averaged over a millimetre, differ by no more than that limit.
//! - *The pattern carries on* where the lines meet and it is the same wood. What lies beyond a face cannot be seen: a
//!   pattern of unlike woods that would carry on is not known to.
//!
//! Where one of the two faces was not photographed nothing is known, and that is said.

use palette::color_difference::Ciede2000;
use palette::{IntoColor, Lab, Srgb};

use crate::answer::{Finding, Tally};
use crate::compare::{Joint, SeamLimits};
use crate::edges::{self, Edge};
use crate::figure::PhotoFigure;
use crate::photo_edges::known_on_both;
use crate::reading::{Jump, PairReading, Rating, RatingLimits};

/// Edges are looked at this often, mm along the leg.
const STEP_MM: f64 = 0.1;

/// How much wood across the edge counts, mm: pores and dust are left out, lines that lean are not.
const ACROSS_MM: f64 = 0.4;

/// A line's change of colour is taken over so much to either side of it, mm.
const REACH_MM: f64 = 0.5;

/// A line's change is taken together for as far as it is more than this share of its steepest, and no farther than so many
/// steps to either side: a line that the edge crosses at a slant changes slowly.
const RAMP: f64 = 0.15;
const RAMP_STEPS: usize = 40;

/// How far colours are smoothed along before lines are looked for, steps to either side.
const SMOOTH: usize = 2;

/// A line arriving from one side.
#[derive(Clone, Copy, Debug)]
struct Line {
    s_mm: f64,
    /// How long its change takes along the edge, mm.
    blur_mm: f64,
    /// By how much the colour changes within a millimetre.
    change: f64,
    /// Whether its partner arrives from the other side.
    met: bool,
}

/// The partner of a line may change by so much less than the limit: the same line may look fainter from the other side.
const FAINTER: f64 = 0.6;

/// Lines meet within this share of their blur: one that the edge crosses at a slant arrives over a stretch. Where another
/// line arrives within that stretch, their changes run into each other, and the middle of either is known half as well.
const BLUR_SHARE: f64 = 0.25;
const CROWDED_SHARE: f64 = 0.5;

/// Within which stretch a line is known to arrive, mm.
fn known_mm(line: &Line, side: &[Line]) -> f64 {
    let beside =
        |other: &&Line| other.s_mm != line.s_mm && (other.s_mm - line.s_mm).abs() < 0.5 * line.blur_mm + REACH_MM;
    let share = if side.iter().any(|other| beside(&other)) { CROWDED_SHARE } else { BLUR_SHARE };
    share * line.blur_mm
}

type Colour = Lab<palette::white_point::D65, f64>;

/// The colours along both edges of a seam, as far as they are known.
pub(crate) struct Edges {
    length_mm: f64,
    step_mm: f64,
    /// Sums from the top of lightness, red to green, yellow to blue, one more than there are steps; of both sides.
    sums: [Vec<[f64; 3]>; 2],
    /// From which step to which the two photos reach.
    known: [usize; 2],
    count: usize,
    pixel_mm: f64,
}

impl Edges {
    pub fn new(joint: &Joint, figure: &PhotoFigure) -> Edges {
        let length = joint.length_mm();
        let count = (length / STEP_MM).ceil().clamp(1.0, 1e6) as usize;
        let step_mm = length / count as f64;
        let faces = joint.cut.seam_faces();
        // A step counts where its middle was photographed on both faces.
        let known = known_on_both(joint, figure).map_or([0, 0], |known| {
            let [from, to] = known.map(|mm| (mm / step_mm).clamp(0.0, count as f64));
            [(from - 0.5).ceil().max(0.0) as usize, ((to + 0.5).floor() as usize).min(count)]
        });
        let known = if known[1] > known[0] { known } else { [0, 0] };
        let sums = [0, 1].map(|side| {
            let apart = if side == 0 { 0.0 } else { joint.apart_mm };
            let mut sums = vec![[0.0; 3]; count + 1];
            for i in 0..count {
                let mut lab = [0.0; 3];
                if (known[0]..known[1]).contains(&i) {
                    let s = (i as f64 + 0.5) * step_mm;
                    let p = joint.point(apart, joint.offset(s), s);
                    let across = figure.across(faces[side], p);
                    let [red, green, blue] = figure
                        .photographed(faces[side], s, across, [step_mm, ACROSS_MM])
                        .unwrap_or_default()
                        .map(|v| f64::from(v) / 255.0);
                    let colour: Colour = Srgb::new(red, green, blue).into_color();
                    lab = [colour.l, colour.a, colour.b];
                }
                sums[i + 1] = [0, 1, 2].map(|k| sums[i][k] + lab[k]);
            }
            sums
        });
        let pixel_mm = faces.map(|face| figure.pixel_mm(face).unwrap_or(0.0));
        Edges { length_mm: length, step_mm, sums, known, count, pixel_mm: pixel_mm[0].max(pixel_mm[1]) }
    }

    /// The mean colour of a side from one step to another, no matter which way.
    fn mean(&self, side: usize, from: usize, to: usize) -> Colour {
        let [from, to] = [from, to].map(|i| i.clamp(self.known[0], self.known[1]));
        let (from, to) = if from < to { (from, to) } else { (to.min(self.count - 1), to.min(self.count - 1) + 1) };
        let [l, a, b] = [0, 1, 2].map(|k| (self.sums[side][to][k] - self.sums[side][from][k]) / (to - from) as f64);
        Lab::new(l, a, b)
    }

    /// The lines that arrive from one side, from the top.
    fn lines(&self, side: usize, limit: f64) -> Vec<Line> {
        let [from, to] = self.known;
        let reach = (REACH_MM / self.step_mm).round().max(1.0) as usize;
        // How fast the colour changes at the line between steps i - 1 and i.
        let change = |i: usize| -> f64 {
            let (above, below) = (self.mean(side, i.saturating_sub(SMOOTH), i), self.mean(side, i, i + SMOOTH));
            ((above.l - below.l).powi(2) + (above.a - below.a).powi(2) + (above.b - below.b).powi(2)).sqrt()
        };
        let changes: Vec<f64> =
            (from..to + 1).map(|i| if i < from + SMOOTH || i + SMOOTH > to { 0.0 } else { change(i) }).collect();
        let mut lines = Vec::new();
        for k in 1..changes.len().saturating_sub(1) {
            let around = &changes[k.saturating_sub(reach)..(k + reach + 1).min(changes.len())];
            let highest = around.iter().copied().fold(0.0, f64::max);
            // Of equal ones the first.
            if changes[k] < highest || changes[k] <= changes[k - 1] || highest <= 0.0 {
                continue;
            }
            let i = from + k;
            let (above, below) =
                (self.mean(side, i.saturating_sub(reach + 1), i - 1), self.mean(side, i + 1, i + 1 + reach));
            let strength = above.difference(below);
            if strength <= limit {
                continue;
            }
            // The middle of what changes about the steepest place.
            let still = |j: &usize| changes[*j] > RAMP * changes[k];
            let begin = (k.saturating_sub(RAMP_STEPS)..k).rev().take_while(still).last().unwrap_or(k);
            let end = (k + 1..changes.len().min(k + RAMP_STEPS)).take_while(still).last().unwrap_or(k);
            let (mut sum, mut moment) = (0.0, 0.0);
            for (j, change) in changes.iter().enumerate().take(end + 1).skip(begin) {
                sum += change;
                moment += change * (from + j) as f64;
            }
            let blur_mm = (end - begin + 1) as f64 * self.step_mm;
            let s_mm = moment / sum * self.step_mm;
            // A slow change may be steepest at several places, and is one line.
            if lines.last().is_some_and(|last: &Line| s_mm - last.s_mm < REACH_MM) {
                continue;
            }
            lines.push(Line { s_mm, blur_mm, change: strength, met: false });
        }
        lines
    }

    /// Where lines arrive from both sides, mm from the top; two that meet at one place, halfway.
    pub fn arrivals(&self, limits: &SeamLimits) -> [Vec<f64>; 2] {
        let limit = limits.differ_colour;
        let mut sides = [0, 1].map(|side| self.lines(side, FAINTER * limit));
        let known = sides.each_ref().map(|side| side.iter().map(|line| known_mm(line, side)).collect::<Vec<_>>());
        let [left, right] = &mut sides;
        for (i, one) in left.iter_mut().enumerate() {
            let near = |line: &Line| (line.s_mm - one.s_mm).abs();
            let other = right.iter_mut().enumerate().filter(|(_, other)| !other.met);
            let Some((j, other)) = other.min_by(|p, q| near(p.1).total_cmp(&near(q.1))) else { continue };
            let within = self.meet_mm(limits).max(known[0][i].max(known[1][j]));
            if (other.s_mm - one.s_mm).abs() <= within && one.change.max(other.change) > limit {
                let middle = 0.5 * (one.s_mm + other.s_mm);
                for line in [one, other] {
                    (line.s_mm, line.met) = (middle, true);
                }
            }
        }
        // A sliver of wood about as thin as a line's change is long may be two lines in one photo and one in the other.
        let close_mm = (1.4 * REACH_MM).max(3.0 * self.pixel_mm);
        sides.map(|lines| {
            let sure: Vec<f64> = lines.iter().filter(|line| line.met).map(|line| line.s_mm).collect();
            let counts = |line: &&Line| {
                line.met || line.change > limit && sure.iter().all(|there| (there - line.s_mm).abs() > close_mm)
            };
            let mut all: Vec<f64> = lines.iter().filter(counts).map(|line| line.s_mm).collect();
            all.sort_by(f64::total_cmp);
            all
        })
    }

    fn pair_up(&self, limits: &SeamLimits) -> Vec<edges::Arrival> {
        // Numbers that never turn back: every line counts.
        let edge = |(k, s_mm): (usize, f64)| Edge { s_mm, layers: [k as i64, k as i64 + 1] };
        let [left, right] =
            self.arrivals(limits).map(|lines| lines.into_iter().enumerate().map(edge).collect::<Vec<_>>());
        edges::pair_up(&left, &right, self.meet_mm(limits))
    }

    /// Within which lines meet, mm.
    pub fn meet_mm(&self, limits: &SeamLimits) -> f64 {
        limits.meet_mm.max(self.pixel_mm).max(1e-9)
    }

    /// What is known, mm from the top; nothing where nothing is.
    fn known_mm(&self) -> Option<[f64; 2]> {
        let [from, to] = self.known;
        let end = if to == self.count { self.step_mm * self.count as f64 } else { to as f64 * self.step_mm };
        (to > from).then_some([from as f64 * self.step_mm, end])
    }

    /// Every known step with whether its lines meet and how much its colours differ.
    fn walk(&self, limits: &SeamLimits, mut step: impl FnMut(f64, f64, bool, f64)) {
        let Some([begin, end]) = self.known_mm() else { return };
        let meet_mm = self.meet_mm(limits);
        let mut from = (begin, true);
        let arrivals = self.pair_up(limits).into_iter().map(|arrival| {
            let at_end = arrival.s_mm <= begin + meet_mm || arrival.s_mm >= end - meet_mm;
            (arrival.s_mm, arrival.both || at_end)
        });
        for to in arrivals.chain([(end, true)]) {
            let to = (to.0.max(from.0), to.1);
            let meet = from.1 && to.1;
            // Away from its ends, so that a line's own blur is not taken for another wood.
            let margin = REACH_MM.min(0.25 * (to.0 - from.0));
            let mut s = from.0;
            while s < to.0 {
                let next = ((s / self.step_mm + 1.0 + 1e-9).floor() * self.step_mm).min(to.0);
                let next = if next > s { next } else { to.0 };
                let middle =
                    (0.5 * (s + next)).max(from.0 + 2.0 * margin).min((to.0 - 2.0 * margin).max(0.5 * (from.0 + to.0)));
                let steps = [middle - margin, middle + margin].map(|mm| (mm / self.step_mm).round().max(0.0) as usize);
                let [one, other] = [0, 1].map(|side| self.mean(side, steps[0], steps[1].max(steps[0] + 1)));
                step(s, next, meet, one.difference(other));
                s = next;
            }
            from = to;
        }
    }
    /// Compares both edges.
    pub fn compare(&self, limits: &SeamLimits) -> Tally {
        let [begin, end] = self.known_mm().unwrap_or([self.length_mm; 2]);
        let mut tally = Tally::default();
        tally.add_unknown(0.0, begin, limits.most_places);
        self.walk(limits, |from, to, lines_meet, colour| {
            let same_wood = colour <= limits.differ_colour;
            let finding = Finding { lines_meet, same_wood, carries_on: lines_meet && same_wood, rings: false };
            tally.add(from, to, finding, limits.most_places);
        });
        tally.add_unknown(end, self.length_mm, limits.most_places);
        tally
    }

    /// How they look together. Colours that differ by more than the limit are bad; lines that jump between colours that do not
    /// are doubtful. What is not known has no place in it.
    pub fn read(&self, limits: &SeamLimits, rating: &RatingLimits) -> PairReading {
        let mut reading = PairReading::default();
        self.walk(limits, |from, to, lines_meet, colour| {
            let looks = if colour > rating.bad_colour {
                Rating::Bad
            } else if colour > rating.good_colour || !lines_meet {
                Rating::Doubtful
            } else {
                Rating::Good
            };
            reading.add(from, to, looks);
            reading.colours.push([colour, 0.5 * (from + to)]);
        });
        if let Some(known) = self.known_mm() {
            reading.jumps = Jump::all(&self.arrivals(limits), known);
        }
        reading
    }
}

//! A saw line along places that come from elsewhere: a drawing, or measured points.

use thiserror::Error;

use crate::{Point, PointId, PointKind};

/// The most places that a line is fitted along.
pub const MOST_PLACES: usize = 200_000;

/// The finest and the coarsest tolerance, mm: finer than wood is sawn, and coarser than anyone would call fitted.
pub const FIT_TOLERANCE_MM: [f64; 2] = [1e-3, 100.0];

/// The most points that a fitted line has.
const MOST_POINTS: usize = 500;

/// Points lie no nearer to each other than this, mm along the leg.
const NEAREST_MM: f64 = 1.0;

/// Places of each stretch that the least squares look at.
const LOOKS: usize = 24;

/// A saw line along given places.
#[derive(Clone, Debug, PartialEq)]
pub struct Fitted {
    /// Its points, smooth but for one corner.
    pub points: Vec<Point>,
    /// How far it lies at most from the straight lines between the places, measured across the leg on the line itself, mm.
    pub error_mm: f64,
    /// Where that is, from the top, mm.
    pub at_mm: f64,
}

/// Why no saw line follows the places. Places count from 0.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum FitLineError {
    /// Less than two places.
    #[error("a curve needs two places at least, and there are {0}")]
    TooFew(usize),
    /// More than [`MOST_PLACES`].
    #[error("there are {0} places, and at most {MOST_PLACES} are taken: leave out most of them")]
    TooMany(usize),
    /// NaN or infinite.
    #[error("place {} has no sound figures", .0.saturating_add(1))]
    NotSound(usize),
    /// A place does not lie farther along the leg than the one before it.
    #[error("it runs back along the leg at {at_mm:.2} mm from the top, and a saw line never does")]
    RunsBack {
        /// Which place.
        place: usize,
        /// Where, from the top, mm: that of the place before it.
        at_mm: f64,
    },
    /// The tolerance is out of [`FIT_TOLERANCE_MM`].
    #[error("the tolerance is {0} mm: it must be {least} mm to {most} mm", least = FIT_TOLERANCE_MM[0], most = FIT_TOLERANCE_MM[1])]
    Tolerance(f64),
    /// No line with so many points stays within the tolerance.
    #[error(
        "no smooth line stays within {tolerance_mm} mm of it near {at_mm:.1} mm from the top: it strays {error_mm:.2} mm \
         there. Allow that much, or smooth the curve first"
    )]
    TooRough {
        /// The tolerance, mm.
        tolerance_mm: f64,
        /// How far the best line strays, mm.
        error_mm: f64,
        /// Where, from the top, mm.
        at_mm: f64,
    },
}

/// A saw line along places, (distance from the top, offset), mm, in order from the top; straight between them. No place of
/// it, nor of the straight lines, is farther from the other than `tolerance_mm` across the leg: measured, not assumed. At
/// `corner`, a place of the list, the line may change direction.
///
/// Between its points the line is a cubic over the distance from the top, by least squares over all of it at once;
/// stretches that stray farther get another point until none does.
///
/// # Errors
/// [`FitLineError`] says why not and where.
pub fn fitted(places: &[[f64; 2]], corner: Option<usize>, tolerance_mm: f64) -> Result<Fitted, FitLineError> {
    check(places, tolerance_mm)?;
    let last = places.len() - 1;
    let corner = corner.filter(|at| *at > 0 && *at < last).map(|at| places[at][0]);
    let mut knots = vec![places[0][0], places[last][0]];
    if let Some(s) = corner {
        knots.insert(1, s);
    }
    loop {
        let line = Spline::through(places, &knots, corner);
        let worst = line.errors(places);
        let most = worst.iter().copied().max_by(|a, b| a.0.total_cmp(&b.0)).unwrap_or((0.0, knots[0]));
        if most.0 <= tolerance_mm {
            return Ok(Fitted { points: line.points(corner), error_mm: most.0, at_mm: most.1 });
        }
        let mut next = Vec::with_capacity(2 * knots.len());
        for (pair, (error, at)) in knots.windows(2).zip(&worst) {
            next.push(pair[0]);
            let length = pair[1] - pair[0];
            if *error > tolerance_mm && length >= 2.0 * NEAREST_MM {
                // Where it strays most, but not so that a sliver is left.
                let room = (0.25 * length).max(NEAREST_MM);
                next.push(at.max(pair[0] + room).min(pair[1] - room));
            }
        }
        next.extend(knots.last());
        if next.len() == knots.len() || next.len() > MOST_POINTS {
            return Err(FitLineError::TooRough { tolerance_mm, error_mm: most.0, at_mm: most.1 });
        }
        knots = next;
    }
}

fn check(places: &[[f64; 2]], tolerance_mm: f64) -> Result<(), FitLineError> {
    match places.len() {
        few @ 0..=1 => return Err(FitLineError::TooFew(few)),
        2..=MOST_PLACES => {}
        many => return Err(FitLineError::TooMany(many)),
    }
    let [least, most] = FIT_TOLERANCE_MM;
    if !(least..=most).contains(&tolerance_mm) {
        return Err(FitLineError::Tolerance(tolerance_mm));
    }
    // Figures beyond every blank would only lose their digits.
    let sound = |place: &[f64; 2]| place.iter().all(|v| v.abs() <= 1e6);
    if let Some(place) = places.iter().position(|place| !sound(place)) {
        return Err(FitLineError::NotSound(place));
    }
    match places.windows(2).position(|pair| pair[1][0] <= pair[0][0]) {
        Some(before) => Err(FitLineError::RunsBack { place: before + 1, at_mm: places[before][0] }),
        None => Ok(()),
    }
}

/// The offset on the straight lines between the places, asked in growing order.
struct Walk<'a> {
    places: &'a [[f64; 2]],
    at: usize,
}

impl Walk<'_> {
    fn offset(&mut self, s: f64) -> f64 {
        while self.at + 2 < self.places.len() && self.places[self.at + 1][0] <= s {
            self.at += 1;
        }
        let [one, other] = [self.places[self.at], self.places[self.at + 1]];
        one[1] + (other[1] - one[1]) * (s - one[0]) / (other[0] - one[0])
    }
}

/// A chain of cubics over the distance from the top: at each knot an offset and a slope, at the corner two.
struct Spline<'a> {
    knots: &'a [f64],
    /// Offset, slope arriving, slope leaving.
    at: Vec<[f64; 3]>,
}

/// Shares of Hermite's cubic: what each end's offset and slope (times the length) give at a share of the stretch.
fn hermite(t: f64) -> [f64; 4] {
    let u = 1.0 - t;
    [u * u * (1.0 + 2.0 * t), u * u * t, t * t * (3.0 - 2.0 * t), -t * t * u]
}

impl Spline<'_> {
    fn through<'a>(places: &[[f64; 2]], knots: &'a [f64], corner: Option<f64>) -> Spline<'a> {
        // Unknowns in order along the leg: offset and slope of each knot, two slopes at the corner.
        let mut first = Vec::with_capacity(knots.len());
        let mut count = 0;
        for s in knots {
            first.push(count);
            count += if corner == Some(*s) { 3 } else { 2 };
        }
        let leaving = |knot: usize| first[knot] + if corner == Some(knots[knot]) { 2 } else { 1 };
        let mut band = Band::new(count);
        let mut walk = Walk { places, at: 0 };
        for (knot, pair) in knots.windows(2).enumerate() {
            let length = pair[1] - pair[0];
            let unknowns = [first[knot], leaving(knot), first[knot + 1], first[knot + 1] + 1];
            for look in 0..LOOKS {
                // Thicker toward the ends, as Chebyshev's points are: what strays there strays most.
                let t = 0.5 - 0.5 * (std::f64::consts::PI * (look as f64 + 0.5) / LOOKS as f64).cos();
                let [a, b, c, d] = hermite(t);
                let shares = [a, b * length, c, d * length];
                band.add(unknowns, shares, walk.offset(pair[0] + t * length), length);
            }
        }
        let solved = band.solve();
        let value = |i: usize| solved.get(i).copied().unwrap_or_default();
        let at = (0..knots.len()).map(|k| [value(first[k]), value(first[k] + 1), value(leaving(k))]).collect();
        Spline { knots, at }
    }

    /// The greatest distance on each stretch, and where.
    fn errors(&self, places: &[[f64; 2]]) -> Vec<(f64, f64)> {
        let mut from = 0;
        let mut all = Vec::with_capacity(self.knots.len());
        for (knot, pair) in self.knots.windows(2).enumerate() {
            let [y0, _, d0] = self.at[knot];
            let [y1, d1, _] = self.at[knot + 1];
            let (s0, length) = (pair[0], pair[1] - pair[0]);
            // As a polynomial of the share of the stretch.
            let (d0, d1) = (d0 * length, d1 * length);
            let poly = [y0, d0, 3.0 * (y1 - y0) - 2.0 * d0 - d1, 2.0 * (y0 - y1) + d0 + d1];
            let offset = |t: f64| poly[0] + t * (poly[1] + t * (poly[2] + t * poly[3]));
            while from > 0 && places[from][0] > s0 {
                from -= 1;
            }
            let mut worst = (0.0, s0);
            while from + 1 < places.len() && places[from][0] < pair[1] {
                let [one, other] = [places[from], places[from + 1]];
                let steep = (other[1] - one[1]) / (other[0] - one[0]);
                let share = |s: f64| ((s - s0) / length).clamp(0.0, 1.0);
                let (t0, t1) = (share(one[0]), share(other[0]));
                let apart = |t: f64| (offset(t) - one[1] - steep * (s0 + t * length - one[0])).abs();
                // Against a straight line a cubic is farthest at an end or where it runs along it.
                let turns = kurbo::common::solve_quadratic(poly[1] - steep * length, 2.0 * poly[2], 3.0 * poly[3]);
                for t in turns.into_iter().filter(|t| *t > t0 && *t < t1).chain([t0, t1]) {
                    if apart(t) > worst.0 {
                        worst = (apart(t), s0 + t * length);
                    }
                }
                if other[0] > pair[1] {
                    break; // this straight line goes on into the next stretch
                }
                from += 1;
            }
            all.push(worst);
        }
        all
    }

    fn points(&self, corner: Option<f64>) -> Vec<Point> {
        let reach = |a: f64, b: f64| (b - a) / 3.0;
        let mut points = Vec::with_capacity(self.knots.len());
        for (i, (s, [offset, arriving, leaving])) in self.knots.iter().zip(&self.at).enumerate() {
            let before = i.checked_sub(1).map(|i| reach(self.knots[i], *s));
            let after = self.knots.get(i + 1).map(|next| reach(*s, *next));
            let before_mm = before.or(after).unwrap_or(1.0);
            let after_mm = after.or(before).unwrap_or(1.0);
            let kind = if corner == Some(*s) {
                PointKind::Sharp { slope_before: *arriving, before_mm, slope_after: *leaving, after_mm }
            } else {
                PointKind::Smooth { slope: *arriving, before_mm, after_mm }
            };
            let id = PointId(i as u32 + 1);
            points.push(Point { id, from_top: (*s).into(), offset: (*offset).into(), kind, tied: false });
        }
        points
    }
}

/// Half the width of the band of normal equations: a stretch's unknowns lie at most so far apart.
const BAND: usize = 5;

/// Normal equations of least squares whose unknowns meet only near neighbours.
struct Band {
    /// For each unknown, its products with itself and with those after it.
    rows: Vec<[f64; BAND]>,
    right: Vec<f64>,
}

impl Band {
    fn new(count: usize) -> Band {
        Band { rows: vec![[0.0; BAND]; count], right: vec![0.0; count] }
    }

    fn add(&mut self, unknowns: [usize; 4], shares: [f64; 4], value: f64, weight: f64) {
        for (i, a) in unknowns.iter().zip(shares) {
            self.right[*i] += weight * a * value;
            for (j, b) in unknowns.iter().zip(shares).filter(|(j, _)| *j >= i) {
                self.rows[*i][j - i] += weight * a * b;
            }
        }
    }

    /// By Cholesky's method, in place.
    fn solve(mut self) -> Vec<f64> {
        let count = self.rows.len();
        for i in 0..count {
            let pivot = self.rows[i][0].max(1e-300).sqrt();
            for j in 0..BAND {
                self.rows[i][j] /= pivot;
            }
            self.right[i] /= pivot;
            for j in 1..BAND.min(count - i) {
                let share = self.rows[i][j];
                for k in j..BAND {
                    self.rows[i + j][k - j] -= share * self.rows[i][k];
                }
                self.right[i + j] -= share * self.right[i];
            }
        }
        for i in (0..count).rev() {
            let later: f64 = (1..BAND.min(count - i)).map(|j| self.rows[i][j] * self.right[i + j]).sum();
            self.right[i] = (self.right[i] - later) / self.rows[i][0];
        }
        self.right
    }
}

//! Growth rings made ready for reading: which ring lies where, and how far into it.
//!
//! Without wobble everything here depends on the distance from the pith and on s alone, never on the direction from the
//! pith. So two points equally far from the pith at one level lie at the same place of the same ring, however the rings
//! vary: that is what lets a seam of two such points be read exactly.

use cornerwise_geometry::BlankPoint;

use crate::timber::{FARTHEST_PITH_MM, MOST_VARIATION, MOST_WOBBLE, NARROWEST_RING_MM, STEEPEST_PITH, WIDEST_RING_MM};
use crate::{Timber, error, noise};

/// Drift of all rings along the log: (length of a step in mm, how far in rings).
const DRIFTS: [(f64, f64); 2] = [(160.0, 0.55), (47.0, 0.10)];

/// After what length the wobble has become another: across, across, and along the log, mm.
const WOBBLE_MM: [f64; 3] = [31.0, 31.0, 170.0];

/// A place among the rings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct InRing {
    /// The ring's number, 0 at the pith.
    pub ring: i64,
    /// How far through it, 0 at its early wood up to 1 at the end of its late wood.
    pub share: f64,
    /// How wide this ring is, as a share of the mean.
    pub width: f64,
}

impl InRing {
    /// Rings and parts of a ring from the pith: continuous, growing outward.
    pub fn phase(self) -> f64 {
        self.ring as f64 + self.share
    }
}

/// The rings of a timber.
#[derive(Clone, Debug)]
pub(crate) struct Rings {
    pith: [f64; 2],
    lean: [f64; 2],
    taper: f64,
    per_mm: f64,
    /// How much the line between two rings strays outward from its even place, at most, as a share of a ring.
    stray: f64,
    wobble: f64,
}

impl Rings {
    /// Numbers that [`Timber::check`] would refuse are taken at the nearest limit.
    pub fn new(timber: &Timber) -> Rings {
        let within = |v: f64, most: f64| if v.is_finite() { v.clamp(-most, most) } else { 0.0 };
        let width_mm = error::held(timber.ring_width.mm(), NARROWEST_RING_MM, WIDEST_RING_MM);
        Rings {
            pith: [&timber.pith_x, &timber.pith_y].map(|mm| within(mm.mm(), FARTHEST_PITH_MM)),
            lean: [timber.lean_x, timber.lean_y].map(|slope| within(slope, STEEPEST_PITH)),
            taper: within(timber.taper, STEEPEST_PITH),
            per_mm: 1.0 / width_mm,
            stray: error::held(timber.variation, 0.0, MOST_VARIATION),
            wobble: error::held(timber.wobble, 0.0, MOST_WOBBLE),
        }
    }

    /// How fast the pith leans along x and y.
    pub fn lean(&self) -> [f64; 2] {
        self.lean
    }

    /// How fast rings move away from the pith.
    pub fn taper(&self) -> f64 {
        self.taper
    }

    /// How far the rings waver at most, in mean rings.
    pub fn most_wobble(&self) -> f64 {
        self.wobble
    }

    /// Mean rings per mm.
    pub fn per_mm(&self) -> f64 {
        self.per_mm
    }

    /// The pith's (x, y) at a distance from the top, mm.
    #[inline]
    pub fn pith_at(&self, s: f64) -> [f64; 2] {
        [self.pith[0] + self.lean[0] * s, self.pith[1] + self.lean[1] * s]
    }

    /// How far all rings have moved outward at s by drift and taper, in mean rings.
    #[inline]
    pub fn moved(&self, s: f64) -> f64 {
        Self::drift(s).0 - self.taper * s * self.per_mm
    }

    /// How far all rings have drifted outward at s, in mean rings, and the slope of that per mm.
    fn drift(s: f64) -> (f64, f64) {
        DRIFTS.iter().fold((0.0, 0.0), |(sum, slope), (step_mm, rings)| {
            let (value, steep) = noise::smooth1(s / step_mm + 0.5);
            (sum + rings * value, slope + rings * steep / step_mm)
        })
    }

    /// How far the rings waver at a point, in mean rings.
    #[inline]
    pub fn wobble_at(&self, p: BlankPoint) -> f64 {
        if self.wobble == 0.0 { 0.0 } else { self.wobble * wobble_noise(p).0 }
    }

    /// How far a point lies from the pith, mm.
    #[inline]
    pub fn out_mm(&self, p: BlankPoint) -> f64 {
        let [px, py] = self.pith_at(p.s);
        let (dx, dy) = (p.x - px, p.y - py);
        (dx * dx + dy * dy).sqrt()
    }

    /// How far out a point lies, in mean rings, with drift, taper and wobble.
    #[inline]
    pub fn even(&self, p: BlankPoint) -> f64 {
        self.out_mm(p) * self.per_mm + self.moved(p.s) + self.wobble_at(p)
    }

    /// How fast [`Rings::even`] grows along x, y and s, mean rings per mm.
    pub fn gradient(&self, p: BlankPoint) -> [f64; 3] {
        let [px, py] = self.pith_at(p.s);
        let out = self.out_mm(p).max(1e-9);
        let [ux, uy] = [(p.x - px) / out * self.per_mm, (p.y - py) / out * self.per_mm];
        let along = Self::drift(p.s).1 - self.taper * self.per_mm - ux * self.lean[0] - uy * self.lean[1];
        let waver = if self.wobble == 0.0 { [0.0; 3] } else { wobble_noise(p).1.map(|v| v * self.wobble) };
        [ux + waver[0], uy + waver[1], along + waver[2]]
    }

    /// How fast rings go by without drift and wobble, along x, y and s, mean rings per mm, `out_mm` from the pith.
    #[inline]
    pub fn flow(&self, p: BlankPoint, out_mm: f64) -> [f64; 3] {
        let [px, py] = self.pith_at(p.s);
        let scale = self.per_mm / out_mm.max(1e-9);
        let [x, y] = [(p.x - px) * scale, (p.y - py) * scale];
        [x, y, -self.taper * self.per_mm - x * self.lean[0] - y * self.lean[1]]
    }

    /// The direction of the pith, a unit vector (x, y, s): that of the fibres but for the rings' taper.
    pub fn along(&self) -> [f64; 3] {
        let [x, y] = self.lean;
        let length = (x * x + y * y + 1.0).sqrt();
        [x / length, y / length, 1.0 / length]
    }

    /// Where the fibre through a point runs at the top, as (x, y), and its slopes toward the foot.
    pub fn fibre(&self, p: BlankPoint) -> ([f64; 2], [f64; 2]) {
        let [px, py] = self.pith_at(p.s);
        let [dx, dy] = [p.x - px, p.y - py];
        let out = (dx * dx + dy * dy).sqrt().max(1e-9);
        let [ux, uy] = [dx / out, dy / out];
        let (back, [lean_x, lean_y]) = (self.back_mm(out, p.s), self.lean);
        let at_top = [p.x - lean_x * p.s - ux * back, p.y - lean_y * p.s - uy * back];
        (at_top, [lean_x + self.taper * ux, lean_y + self.taper * uy])
    }

    /// How much nearer to the pith a fibre runs at the top than at s, where it is `out_mm` from it, mm: by the taper. Nearer
    /// the pith than the taper reaches there is no way back to the top; it is taken to end at the pith.
    #[inline]
    pub fn back_mm(&self, out_mm: f64, s: f64) -> f64 {
        (self.taper * s).min(out_mm)
    }

    /// Whether fibres run along the blank everywhere.
    pub fn is_straight(&self) -> bool {
        self.lean == [0.0; 2] && self.taper == 0.0
    }

    /// The ring at a distance of `even` mean rings.
    #[inline]
    pub fn ring(&self, even: f64) -> InRing {
        // A line strays outward only, so the ring that begins at or below `even` is this one or the one before.
        let whole = noise::below(even);
        let back = i64::from(even < self.line(whole));
        let ring = whole.wrapping_sub(back);
        let (from, to) = (self.line(ring), self.line(ring.wrapping_add(1)));
        // Rounding could bring the share to 1, where the next ring begins.
        let share = ((even - from) / (to - from)).clamp(0.0, 1.0 - f64::EPSILON);
        InRing { ring, share, width: to - from }
    }

    /// Where a ring begins, in mean rings.
    #[inline]
    pub fn line(&self, ring: i64) -> f64 {
        ring as f64 + self.stray * noise::share(ring)
    }

    /// The most that the phase of [`InRing::phase`] changes along one mm of s on a surface whose slope across the rings is
    /// at most `slope`.
    pub fn steepest_phase(&self, slope: f64) -> f64 {
        let drift: f64 = DRIFTS.iter().map(|(step_mm, rings)| rings * noise::STEEPEST1 / step_mm).sum();
        let lean = self.lean[0].hypot(self.lean[1]) + self.taper.abs();
        let [across, _, along] = WOBBLE_MM.map(|mm| self.wobble * noise::STEEPEST1 / mm);
        let steepest = slope.abs() * (self.per_mm + across) + lean * self.per_mm + drift + along;
        steepest / (1.0 - self.stray)
    }
}

/// Smooth noise in the blank, -1 to 1, and how fast it grows along x, y and s, per mm.
fn wobble_noise(p: BlankPoint) -> (f64, [f64; 3]) {
    let [x, y, s] = WOBBLE_MM;
    let (value, slope) = noise::smooth3([p.x / x + 0.3, p.y / y + 0.7, p.s / s + 0.1]);
    (value, [slope[0] / x, slope[1] / y, slope[2] / s])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Species;

    fn rings(pith_x: f64, pith_y: f64, width: f64) -> Rings {
        Rings::new(&Timber::new(Species::Pine, pith_x.into(), pith_y.into(), width.into()))
    }

    #[test]
    fn phase_grows_outward_without_a_jump_and_as_fast_as_promised_at_most() {
        let (d, r) = (1e-4, rings(0.0, 0.0, 1.0));
        let mut last = r.ring(-3.0).phase();
        for i in 1..200_000 {
            let now = r.ring(-3.0 + f64::from(i) * d).phase();
            assert!(now > last && now - last <= d / (1.0 - r.stray) + 1e-9, "{i}: {last} {now}");
            last = now;
        }
    }

    #[test]
    fn rings_average_their_width() {
        let r = rings(0.0, 0.0, 1.0);
        for ring in [1, 10, 100, 1000] {
            assert!((0.0..=r.stray).contains(&(r.line(ring) - ring as f64)));
        }
        let widths: Vec<f64> = (0..2000).map(|ring| r.line(ring + 1) - r.line(ring)).collect();
        let mean = widths.iter().sum::<f64>() / 2000.0;
        assert!((mean - 1.0).abs() < 1e-3, "{mean}");
        assert!(widths.iter().all(|w| (1.0 - r.stray..=1.0 + r.stray).contains(w)));
        assert!(widths.iter().any(|w| *w < 0.85) && widths.iter().any(|w| *w > 1.15));
    }

    #[test]
    fn points_equally_far_from_the_pith_at_one_level_lie_in_one_place_of_a_ring() {
        let r = rings(25.0, 20.0, 2.7);
        for i in 0..500 {
            let (y, s) = (f64::from(i) * 0.1, f64::from(i) * 1.7);
            let left = r.ring(r.even(BlankPoint { x: 0.0, y, s }));
            let right = r.ring(r.even(BlankPoint { x: 50.0, y, s }));
            assert_eq!(left, right);
        }
    }

    #[test]
    fn refused_numbers_still_make_rings() {
        let r = rings(f64::NAN, f64::INFINITY, f64::NAN);
        assert!(r.even(BlankPoint { x: 1.0, y: 1.0, s: 1.0 }).is_finite());
        assert!(rings(0.0, 0.0, 0.0).per_mm() <= 1.0 / NARROWEST_RING_MM);
    }

    fn crooked() -> Rings {
        Rings::new(&Timber {
            lean_x: 0.02,
            lean_y: -0.035,
            taper: 0.01,
            wobble: 0.6,
            ..Timber::new(Species::Pine, (-20.0).into(), 60.0.into(), 2.7.into())
        })
    }

    #[test]
    fn the_gradient_is_how_fast_rings_go_by_and_no_faster_than_promised() {
        let r = crooked();
        let d = 1e-5;
        for i in 0..2000 {
            let at = f64::from(i);
            let p = BlankPoint { x: 0.025 * at, y: 50.0 - 0.02 * at, s: 0.37 * at };
            let by = |q: BlankPoint| (r.even(q) - r.even(p)) / d;
            let felt = [
                by(BlankPoint { x: p.x + d, ..p }),
                by(BlankPoint { y: p.y + d, ..p }),
                by(BlankPoint { s: p.s + d, ..p }),
            ];
            for (told, felt) in r.gradient(p).into_iter().zip(felt) {
                assert!((told - felt).abs() < 1e-4, "{told} {felt} at {p:?}");
            }
            let [x, y, s] = r.gradient(p);
            assert!((0.3 * x + s).abs().max((0.3 * y + s).abs()) <= r.steepest_phase(0.3) * (1.0 - r.stray) + 1e-9);
        }
    }

    /// Fibres lie in their ring: along one, only drift and wobble move the rings by.
    #[test]
    fn fibres_run_along_their_rings() {
        let r = Rings { wobble: 0.0, ..crooked() };
        for i in 0..200 {
            let p = BlankPoint { x: 0.25 * f64::from(i), y: 13.0, s: 3.0 * f64::from(i) };
            let ([x, y], [slope_x, slope_y]) = r.fibre(p);
            let top = BlankPoint { x, y, s: 0.0 };
            let rings_by = (r.even(p) - Rings::drift(p.s).0) - (r.even(top) - Rings::drift(0.0).0);
            assert!(rings_by.abs() < 1e-9, "{rings_by} at {p:?}");
            let on = BlankPoint { x: p.x + slope_x, y: p.y + slope_y, s: p.s + 1.0 };
            let ([x1, y1], _) = r.fibre(on);
            assert!((x1 - x).hypot(y1 - y) < 1e-6, "{p:?}");
        }
    }
}

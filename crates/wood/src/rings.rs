//! Growth rings made ready for reading: which ring lies where, and how far into it.
//!
//! Everything here depends on the distance from the pith and on s alone, never on the direction from the pith. So two
//! points equally far from the pith at one level lie at the same place of the same ring, however the rings vary: that is
//! what lets a seam of two such points be read exactly.

use cornerwise_geometry::BlankPoint;

use crate::timber::{FARTHEST_PITH_MM, NARROWEST_RING_MM, WIDEST_RING_MM};
use crate::{Timber, error, noise};

/// How much the line between two rings strays outward from its even place, at most, as a share of a ring.
/// A ring is then between 1 - this and 1 + this of the mean width, in practice nearer the middle.
const STRAY: f64 = 0.4;

/// Drift of all rings along the log: (length of a step in mm, how far in rings).
const DRIFTS: [(f64, f64); 2] = [(160.0, 0.55), (47.0, 0.10)];

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
    per_mm: f64,
}

impl Rings {
    /// Numbers that [`Timber::check`] would refuse are taken at the nearest limit.
    pub fn new(timber: &Timber) -> Rings {
        let place = |v: f64| if v.is_finite() { v.clamp(-FARTHEST_PITH_MM, FARTHEST_PITH_MM) } else { 0.0 };
        let width_mm = error::held(timber.ring_width.mm(), NARROWEST_RING_MM, WIDEST_RING_MM);
        Rings { pith: [place(timber.pith_x.mm()), place(timber.pith_y.mm())], per_mm: 1.0 / width_mm }
    }

    /// Mean rings per mm.
    pub fn per_mm(&self) -> f64 {
        self.per_mm
    }

    /// The pith's (x, y), mm.
    pub fn pith(&self) -> [f64; 2] {
        self.pith
    }

    /// How far all rings have drifted outward at s, in mean rings, and the slope of that per mm.
    pub fn drift(s: f64) -> (f64, f64) {
        DRIFTS.iter().fold((0.0, 0.0), |(sum, slope), (step_mm, rings)| {
            let (value, steep) = noise::smooth1(s / step_mm + 0.5);
            (sum + rings * value, slope + rings * steep / step_mm)
        })
    }

    /// How far a point lies from the pith, mm.
    #[inline]
    pub fn out_mm(&self, x: f64, y: f64) -> f64 {
        let (dx, dy) = (x - self.pith[0], y - self.pith[1]);
        (dx * dx + dy * dy).sqrt()
    }

    /// How far out a point lies, in mean rings, drift included.
    pub fn even(&self, p: BlankPoint) -> f64 {
        self.out_mm(p.x, p.y) * self.per_mm + Self::drift(p.s).0
    }

    /// The ring at a distance of `even` mean rings.
    #[inline]
    pub fn ring(even: f64) -> InRing {
        // A line strays outward only, so the ring that begins at or below `even` is this one or the one before.
        let whole = noise::below(even);
        let back = i64::from(even < line(whole));
        let ring = whole.wrapping_sub(back);
        let (from, to) = (line(ring), line(ring.wrapping_add(1)));
        // Rounding could bring the share to 1, where the next ring begins.
        let share = ((even - from) / (to - from)).clamp(0.0, 1.0 - f64::EPSILON);
        InRing { ring, share, width: to - from }
    }

    /// The most that the phase of [`InRing::phase`] changes along one mm of s on a surface whose slope across the rings is
    /// at most `slope`.
    pub fn steepest_phase(&self, slope: f64) -> f64 {
        let drift: f64 = DRIFTS.iter().map(|(step_mm, rings)| rings * noise::STEEPEST1 / step_mm).sum();
        (slope.abs() * self.per_mm + drift) / (1.0 - STRAY)
    }
}

/// Where a ring begins, in mean rings.
#[inline]
fn line(ring: i64) -> f64 {
    ring as f64 + STRAY * noise::share(ring)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Species;

    fn rings(pith_x: f64, pith_y: f64, width: f64) -> Rings {
        Rings::new(&Timber {
            species: Species::Pine,
            pith_x: pith_x.into(),
            pith_y: pith_y.into(),
            ring_width: width.into(),
        })
    }

    #[test]
    fn phase_grows_outward_without_a_jump_and_as_fast_as_promised_at_most() {
        let d = 1e-4;
        let mut last = Rings::ring(-3.0).phase();
        for i in 1..200_000 {
            let now = Rings::ring(-3.0 + f64::from(i) * d).phase();
            assert!(now > last && now - last <= d / (1.0 - STRAY) + 1e-9, "{i}: {last} {now}");
            last = now;
        }
    }

    #[test]
    fn rings_average_their_width() {
        for ring in [1, 10, 100, 1000] {
            assert!((0.0..=STRAY).contains(&(line(ring) - ring as f64)));
        }
        let widths: Vec<f64> = (0..2000).map(|ring| line(ring + 1) - line(ring)).collect();
        let mean = widths.iter().sum::<f64>() / 2000.0;
        assert!((mean - 1.0).abs() < 1e-3, "{mean}");
        assert!(widths.iter().all(|w| (1.0 - STRAY..=1.0 + STRAY).contains(w)));
        assert!(widths.iter().any(|w| *w < 0.85) && widths.iter().any(|w| *w > 1.15));
    }

    #[test]
    fn points_equally_far_from_the_pith_at_one_level_lie_in_one_place_of_a_ring() {
        let r = rings(25.0, 20.0, 2.7);
        for i in 0..500 {
            let (y, s) = (f64::from(i) * 0.1, f64::from(i) * 1.7);
            let left = Rings::ring(r.even(BlankPoint { x: 0.0, y, s }));
            let right = Rings::ring(r.even(BlankPoint { x: 50.0, y, s }));
            assert_eq!(left, right);
        }
    }

    #[test]
    fn refused_numbers_still_make_rings() {
        let r = rings(f64::NAN, f64::INFINITY, f64::NAN);
        assert!(r.even(BlankPoint { x: 1.0, y: 1.0, s: 1.0 }).is_finite());
        assert!(rings(0.0, 0.0, 0.0).per_mm() <= 1.0 / NARROWEST_RING_MM);
    }
}

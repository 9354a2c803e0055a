//! Where the lines between the rings of a timber lie, to be drawn.

use crate::Timber;
use crate::rings::Rings;

impl Timber {
    /// How far from the pith, mm, the lines between rings lie at `s_mm` from the top, those of `within` outward, of every
    /// `every`th ring: where each begins, its waver left out. No more than `most` of them.
    pub fn ring_lines_mm(&self, s_mm: f64, within: [f64; 2], every: u32, most: usize) -> Vec<f64> {
        let rings = Rings::new(self);
        let (per_mm, moved, every) = (rings.per_mm(), rings.moved(s_mm), i64::from(every.max(1)));
        let [from, to] = within.map(|mm| if mm.is_finite() { mm.max(0.0) } else { 0.0 });
        let first = rings.ring(from * per_mm + moved).ring.div_euclid(every) * every;
        let lines = (0..).map(|i| (rings.line(first.saturating_add(i * every)) - moved) / per_mm);
        // The first may lie before the beginning.
        let lines = lines.take_while(|mm| *mm <= to).take(most.saturating_add(1));
        lines.filter(|mm| *mm >= from).take(most).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Species;
    use cornerwise_geometry::BlankPoint;

    #[test]
    fn at_every_line_a_ring_begins_and_none_is_left_out() {
        let timber = Timber::new(Species::Oak, (-12.0).into(), 7.0.into(), 3.0.into());
        let rings = Rings::new(&timber);
        let at = |out: f64| rings.ring(rings.even(BlankPoint { x: -12.0 + out, y: 7.0, s: 80.0 })).ring;
        let lines = timber.ring_lines_mm(80.0, [20.0, 90.0], 1, 1000);
        assert!(lines.is_sorted() && (20..28).contains(&lines.len()), "{lines:?}");
        for mm in &lines {
            assert_eq!(at(mm + 1e-6), at(mm - 1e-6) + 1, "{mm}");
        }
        assert_eq!(at(89.999) - at(20.001), lines.len() as i64);
        // Every third of them is among them, and no more are given than asked for.
        let third = timber.ring_lines_mm(80.0, [20.0, 90.0], 3, 1000);
        assert!(third.len().abs_diff(lines.len() / 3) <= 1 && third.iter().all(|mm| lines.contains(mm)));
        assert_eq!(timber.ring_lines_mm(80.0, [20.0, 90.0], 1, 5).len(), 5);
        assert!(timber.ring_lines_mm(80.0, [f64::NAN, f64::INFINITY], 1, 10).len() <= 10);
    }
}

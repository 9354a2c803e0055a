//! The scale along the blank, from the finished top, in the project's units.

use cornerwise_geometry::{MM_PER_INCH, Units};

/// How long a tick is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Rank {
    /// Every 10 mm, or quarter inch.
    Short,
    /// Every 50 mm, or half inch.
    Middle,
    /// Every 100 mm, or inch.
    Long,
}

impl Rank {
    /// Length of the tick on a face of a width, mm.
    pub fn length_mm(self, across_mm: f64) -> f64 {
        let share = match self {
            Rank::Short => 0.5,
            Rank::Middle => 0.75,
            Rank::Long => 1.0,
        };
        share * longest_tick_mm(across_mm)
    }
}

/// The longest tick on a face: 4 mm, less on a narrow one.
pub(crate) fn longest_tick_mm(across_mm: f64) -> f64 {
    (0.09 * across_mm).clamp(0.5, 4.0)
}

/// One tick of the scale.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Tick {
    /// From the finished top, mm.
    pub s: f64,
    pub rank: Rank,
    /// What is written at it.
    pub number: Option<String>,
}

/// The ticks from `from` to `to`, mm from the top, over the finished length.
pub(crate) fn ticks(units: Units, length_mm: f64, from: f64, to: f64) -> Vec<Tick> {
    // Steps, and how many of them make a middle and a long tick.
    let (step, middle, long) = match units {
        Units::Millimetres => (10.0, 5, 10),
        Units::Inches(_) => (MM_PER_INCH / 4.0, 2, 4),
    };
    let (first, last) = ((from.max(0.0) / step).ceil() as i64, (to.min(length_mm) / step + 1e-9).floor() as i64);
    (first..=last)
        .map(|i| {
            let s = i as f64 * step;
            let rank = if i % long == 0 {
                Rank::Long
            } else if i % middle == 0 {
                Rank::Middle
            } else {
                Rank::Short
            };
            let number = match units {
                Units::Millimetres => (rank != Rank::Short).then(|| format!("{}", i * 10)),
                Units::Inches(_) => (rank == Rank::Long).then(|| format!("{}", i / 4)),
            };
            Tick { s, rank, number: number.filter(|_| i != 0) }
        })
        .collect()
}

/// What the numbers are, for the strip.
pub(crate) fn scale_words(units: Units) -> &'static str {
    match units {
        Units::Millimetres => "mm from TOP",
        Units::Inches(_) => "inches from TOP",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use cornerwise_geometry::Finest;

    #[test]
    fn millimetres_are_numbered_every_fifty() {
        let ticks = ticks(Units::Millimetres, 700.0, -20.0, 720.0);
        assert_eq!((ticks[0].s, ticks.last().map(|t| t.s)), (0.0, Some(700.0)));
        let numbers: Vec<_> = ticks.iter().filter_map(|t| t.number.as_deref()).collect();
        assert_eq!((numbers[0], numbers[1], numbers.len()), ("50", "100", 14));
    }

    #[test]
    fn inches_are_numbered_every_inch_and_end_with_the_leg() {
        let ticks = ticks(Units::Inches(Finest::Sixteenth), 28.0 * MM_PER_INCH, 0.0, 1000.0);
        let numbered: Vec<_> = ticks.iter().filter(|t| t.number.is_some()).collect();
        assert_eq!(numbered.len(), 28);
        assert!(numbered.iter().all(|t| {
            let inches: f64 = t.number.as_ref().unwrap().parse().unwrap();
            (t.s - inches * MM_PER_INCH).abs() < 1e-9 && t.rank == Rank::Long
        }));
    }
}

//! Lengths in a list that repeats without end both ways: layers along their normal, columns across the blank, blocks
//! along a column.

use crate::noise;

/// A point this close to the line between two lengths lies on it, and belongs to the later one, mm. Sums of lengths and
/// products of sines round differently; this keeps a layer from flickering at its own line.
pub(crate) const SNAP_MM: f64 = 1e-9;

/// A list of lengths, with the sums worked out.
#[derive(Clone, Debug)]
pub(crate) struct Runs {
    /// Where each length of the list begins, mm from the start of the list; the first is 0.
    starts: Vec<f64>,
    repeat_mm: f64,
    /// Repeats per mm.
    per_mm: f64,
}

/// One length found at a position.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Run {
    /// 0 for the first of the list, counting on, repeat after repeat, and back below 0.
    pub number: i64,
    /// Its place in the list.
    pub index: usize,
    /// Where it begins, mm.
    pub from_mm: f64,
    /// Where the next one begins.
    pub to_mm: f64,
}

impl Run {
    /// Whether a position surely lies in this run; very near its ends it is not said.
    #[inline]
    pub fn holds(&self, position: f64) -> bool {
        position > self.from_mm + 10.0 * SNAP_MM && position < self.to_mm - 10.0 * SNAP_MM
    }
}

impl Runs {
    /// Of lengths that are all more than 0, mm. An empty list is one very long run.
    pub fn new(lengths_mm: impl IntoIterator<Item = f64>) -> Runs {
        let mut starts = Vec::new();
        let mut repeat_mm = 0.0;
        for length in lengths_mm {
            starts.push(repeat_mm);
            repeat_mm += length;
        }
        if starts.is_empty() {
            starts.push(0.0);
            repeat_mm = crate::THICKEST_LAYER_MM;
        }
        Runs { starts, repeat_mm, per_mm: 1.0 / repeat_mm }
    }

    /// How many lengths the list has.
    pub fn count(&self) -> usize {
        self.starts.len()
    }

    /// After what length the list begins anew, mm.
    #[cfg(test)]
    pub fn repeat_mm(&self) -> f64 {
        self.repeat_mm
    }

    /// The shortest length, mm.
    pub fn shortest_mm(&self) -> f64 {
        let ends = self.starts.iter().skip(1).chain([&self.repeat_mm]);
        self.starts.iter().zip(ends).map(|(from, to)| to - from).fold(f64::INFINITY, f64::min)
    }

    /// What lies at a position.
    #[inline]
    pub fn find(&self, position: f64) -> Run {
        let at = position + SNAP_MM;
        let mut repeat = noise::below(at * self.per_mm);
        let mut within = at - repeat as f64 * self.repeat_mm;
        // The product may round to the wrong side of a whole repeat.
        if within < 0.0 {
            repeat = repeat.wrapping_sub(1);
            within = at - repeat as f64 * self.repeat_mm;
        } else if within >= self.repeat_mm {
            repeat = repeat.wrapping_add(1);
            within = at - repeat as f64 * self.repeat_mm;
        }
        // It can still lie a hair outside 0..repeat, and then counts as its end.
        let index = self.starts.partition_point(|start| *start <= within).max(1) - 1;
        let from = repeat as f64 * self.repeat_mm;
        Run {
            // Wrapping, so that points absurdly far away give something.
            number: repeat.wrapping_mul(self.starts.len() as i64).wrapping_add(index as i64),
            index,
            from_mm: from + self.starts[index],
            to_mm: from + self.starts.get(index + 1).copied().unwrap_or(self.repeat_mm),
        }
    }

    /// Where the run of a number begins, mm.
    pub fn start(&self, number: i64) -> f64 {
        let count = self.starts.len() as i64;
        number.div_euclid(count) as f64 * self.repeat_mm + self.starts[number.rem_euclid(count) as usize]
    }

    /// The place in the list of the run of a number.
    pub fn index(&self, number: i64) -> usize {
        number.rem_euclid(self.starts.len() as i64) as usize
    }
}

//! Finds room for labels on a strip, clear of the saw line and of one another.

use kurbo::Rect;

/// Least distance of a label from the saw line and from other labels, along and across the blank, mm.
const CLEAR_MM: [f64; 2] = [1.8, 0.9];

/// The labels of one face within one window. Coordinates are the strip's, x along and y across.
pub(crate) struct Placer {
    room: Rect,
    taken: Vec<Rect>,
    /// The saw line close together, in order along the blank.
    line: Vec<[f64; 2]>,
}

impl Placer {
    /// Labels go in `room`, clear of `line`, whose points lie in order along the blank.
    pub fn new(room: Rect, line: Vec<[f64; 2]>) -> Placer {
        Placer { room, taken: Vec::new(), line }
    }

    /// Keeps labels off a rectangle.
    pub fn take(&mut self, rect: Rect) {
        self.taken.push(rect);
    }

    /// Whether a label may lie here.
    pub fn is_free(&self, rect: Rect) -> bool {
        let clear = rect.inflate(CLEAR_MM[0], CLEAR_MM[1]);
        let inside =
            rect.x0 >= self.room.x0 && rect.x1 <= self.room.x1 && rect.y0 >= self.room.y0 && rect.y1 <= self.room.y1;
        inside && self.taken.iter().all(|taken| taken.intersect(clear).is_zero_area()) && {
            let from = self.line.partition_point(|p| p[0] < clear.x0);
            self.line[from..].iter().take_while(|p| p[0] <= clear.x1).all(|p| p[1] < clear.y0 || p[1] > clear.y1)
        }
    }

    /// Whether a rectangle runs into a label or anything else that is taken.
    pub fn is_taken(&self, rect: Rect) -> bool {
        self.taken.iter().any(|taken| !taken.intersect(rect).is_zero_area())
    }

    /// Takes the first of the wished corners (upper left) where a label of this size may lie.
    pub fn place(&mut self, size: [f64; 2], wishes: impl IntoIterator<Item = [f64; 2]>) -> Option<Rect> {
        let found = wishes
            .into_iter()
            .map(|[x, y]| Rect::new(x, y, x + size[0], y + size[1]))
            .find(|rect| self.is_free(*rect))?;
        self.take(found);
        Some(found)
    }

    /// The saw line's offset nearest to a distance along the blank.
    pub fn line_at(&self, x: f64) -> Option<f64> {
        let after = self.line.partition_point(|p| p[0] < x);
        self.line.get(after).or(self.line.last()).map(|p| p[1])
    }
}

/// 0, then alternately on and back by growing steps up to `reach`.
pub(crate) fn outward(step: f64, reach: f64) -> impl Iterator<Item = f64> + Clone {
    let steps = (reach / step).max(0.0) as i32;
    (0..=2 * steps).map(move |i| {
        let distance = f64::from((i + 1) / 2) * step;
        if i % 2 == 1 { distance } else { -distance }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_keep_off_the_line_and_one_another() {
        let line = (0..=1000).map(|i| f64::from(i) / 10.0).map(|x| [x, 10.0]).collect();
        let mut placer = Placer::new(Rect::new(0.0, 0.0, 100.0, 20.0), line);
        let wishes = || outward(1.0, 10.0).map(|d| [50.0, 8.0 + d]);
        let first = placer.place([10.0, 4.0], wishes()).unwrap();
        let second = placer.place([10.0, 4.0], wishes()).unwrap();
        assert!(first.intersect(second).is_zero_area());
        for label in [first, second] {
            assert!(label.y1 < 10.0 || label.y0 > 10.0);
        }
        assert!(!placer.is_free(Rect::new(95.0, 1.0, 101.0, 4.0)));
    }
}

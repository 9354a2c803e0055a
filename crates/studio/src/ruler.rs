//! The one ruler that all rows share: which stretch of the blank is shown, and where a distance from the top lies on
//! screen.

use cornerwise_geometry::{MM_PER_INCH, Units};
use egui::Rangef;

/// The farthest the ruler zooms in, points per millimetre.
const MOST_PX_PER_MM: f64 = 400.0;

/// How much of the width a stretch takes that is zoomed to.
const SHOWN_SHARE: f64 = 0.8;

/// A stretch of the blank, mm from the finished top.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// Its beginning.
    pub from_mm: f64,
    /// Its end.
    pub to_mm: f64,
}

impl Stretch {
    /// How long it is, mm.
    pub fn length_mm(&self) -> f64 {
        self.to_mm - self.from_mm
    }
}

/// What the ruler shows.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Ruler {
    /// The whole blank, spare length included.
    #[default]
    Whole,
    /// What the maker zoomed and scrolled to.
    Part {
        /// At the left edge of the rows, mm from the top.
        left_mm: f64,
        /// Points per millimetre.
        px_per_mm: f64,
    },
    /// As [`Ruler::Part`], but a blank that is smaller than its row is left as small: true size on the screen.
    Size {
        /// At the left edge of the rows, mm from the top.
        left_mm: f64,
        /// Points per millimetre.
        px_per_mm: f64,
    },
}

/// The ruler on screen: x in points from s in millimetres, and back.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Axis {
    /// Left edge, points.
    pub left_px: f32,
    /// Right edge, points.
    pub right_px: f32,
    /// Distance from the top at the left edge, mm.
    pub left_mm: f64,
    /// Points per millimetre.
    pub px_per_mm: f64,
}

impl Axis {
    /// Where a distance from the top lies, points.
    pub fn x(&self, s_mm: f64) -> f32 {
        // In f64 until the last step, so that lines stay put at any zoom.
        (f64::from(self.left_px) + (s_mm - self.left_mm) * self.px_per_mm) as f32
    }

    /// Which distance from the top lies at `x`, mm.
    pub fn s(&self, x: f32) -> f64 {
        self.left_mm + (f64::from(x) - f64::from(self.left_px)) / self.px_per_mm
    }

    /// What is shown.
    pub fn shown(&self) -> Stretch {
        Stretch { from_mm: self.left_mm, to_mm: self.s(self.right_px) }
    }
}

impl Ruler {
    /// The ruler over the points `across`, for a blank that takes up `blank`.
    pub fn axis(&self, across: Rangef, blank: Stretch) -> Axis {
        let whole = whole(across, blank);
        match *self {
            Ruler::Whole => whole,
            Ruler::Part { left_mm, px_per_mm } => {
                Axis { left_mm, px_per_mm: px_per_mm.max(whole.px_per_mm), ..whole }.held(blank)
            }
            Ruler::Size { left_mm, px_per_mm } => Axis { left_mm, px_per_mm, ..whole }.held(blank),
        }
    }

    /// Zooms by `factor`, leaving what lies at `x` where it is. Zoomed out all the way, it shows the whole blank.
    pub fn zoom(&mut self, axis: Axis, blank: Stretch, x: f32, factor: f64) {
        let least = whole(Rangef::new(axis.left_px, axis.right_px), blank).px_per_mm;
        if factor < 1.0 && axis.px_per_mm < least {
            return; // at true size a small blank is smaller than that already
        }
        let px_per_mm = (axis.px_per_mm * factor).min(MOST_PX_PER_MM).max(least);
        *self = if px_per_mm <= least * (1.0 + 1e-9) {
            Ruler::Whole
        } else {
            let left_mm = axis.s(x) - (f64::from(x) - f64::from(axis.left_px)) / px_per_mm;
            Ruler::Part { left_mm: Axis { left_mm, px_per_mm, ..axis }.held(blank).left_mm, px_per_mm }
        };
    }

    /// Scrolls just so far that a distance from the top is in sight, a little off the edge.
    pub fn bring(&mut self, axis: Axis, blank: Stretch, s_mm: f64) {
        let (x, off) = (axis.x(s_mm), (axis.right_px - axis.left_px) * 0.1);
        if x < axis.left_px + off {
            self.scroll(axis, blank, axis.left_px + off - x);
        } else if x > axis.right_px - off {
            self.scroll(axis, blank, axis.right_px - off - x);
        }
    }

    /// Shows a stretch as large as it fits, with some room beside it.
    pub fn show(&mut self, axis: Axis, blank: Stretch, stretch: Stretch) {
        let across = Rangef::new(axis.left_px, axis.right_px);
        let px_per_mm = (f64::from(across.span()) * SHOWN_SHARE / stretch.length_mm().max(1e-6)).min(MOST_PX_PER_MM);
        *self = if px_per_mm <= whole(across, blank).px_per_mm {
            Ruler::Whole
        } else {
            let middle = f64::midpoint(stretch.from_mm, stretch.to_mm);
            Ruler::Part { left_mm: middle - f64::from(across.span()) / 2.0 / px_per_mm, px_per_mm }
        };
    }

    /// Shows everything at a size, with a place in the middle as far as the blank reaches there.
    pub fn size(&mut self, axis: Axis, blank: Stretch, middle_mm: f64, px_per_mm: f64) {
        let left_mm = middle_mm - f64::from(axis.right_px - axis.left_px) / 2.0 / px_per_mm;
        *self = Ruler::Size { left_mm: Axis { left_mm, px_per_mm, ..axis }.held(blank).left_mm, px_per_mm };
    }

    /// Scrolls so that what is shown moves by `px` points to the right.
    pub fn scroll(&mut self, axis: Axis, blank: Stretch, px: f32) {
        if let Ruler::Part { left_mm, .. } | Ruler::Size { left_mm, .. } = self {
            let to_mm = axis.left_mm - f64::from(px) / axis.px_per_mm;
            *left_mm = Axis { left_mm: to_mm, ..axis }.held(blank).left_mm;
        }
    }
}

fn whole(across: Rangef, blank: Stretch) -> Axis {
    let margin_px = f64::from((across.span() * 0.02).clamp(8.0, 24.0));
    let room = (f64::from(across.span()) - 2.0 * margin_px).max(1.0);
    let px_per_mm = room / blank.length_mm().max(1.0);
    Axis { left_px: across.min, right_px: across.max, left_mm: blank.from_mm - margin_px / px_per_mm, px_per_mm }
}

impl Axis {
    /// The same axis, scrolled back where it ran off the blank.
    fn held(self, blank: Stretch) -> Axis {
        let shown = f64::from(self.right_px - self.left_px) / self.px_per_mm;
        let margin = 24.0 / self.px_per_mm;
        let (least, most) = (blank.from_mm - margin, blank.to_mm + margin - shown);
        let left_mm = if most < least { (least + most) / 2.0 } else { self.left_mm.clamp(least, most) };
        Axis { left_mm, ..self }
    }
}

/// A tick of the ruler.
#[derive(Clone, Debug, PartialEq)]
pub struct Tick {
    /// From the top, mm.
    pub s_mm: f64,
    /// What stands at it.
    pub label: Option<String>,
}

/// The ticks between two distances from the top, for a scale of `px_per_mm`: labels at least 64 points apart, ticks at
/// least 6.
pub fn ticks(shown: Stretch, px_per_mm: f64, units: Units) -> Vec<Tick> {
    let [minor, major] = steps(px_per_mm, units);
    // A hundred inches at 1/64 would be thousands of ticks; the least distance between them prevents it.
    let first = (shown.from_mm / minor - 1e-6).ceil();
    let count = ((shown.to_mm / minor + 1e-6).floor() - first).clamp(-1.0, 4000.0) as i64;
    let per_label = (major / minor).round() as i64;
    (0..=count)
        .map(|i| {
            let number = first as i64 + i;
            let s_mm = number as f64 * minor;
            Tick { s_mm, label: (number % per_label == 0).then(|| units.show(s_mm)) }
        })
        .collect()
}

/// Distance between ticks and between labels, mm.
fn steps(px_per_mm: f64, units: Units) -> [f64; 2] {
    let choices: Vec<f64> = match units {
        Units::Millimetres => (-1..4).flat_map(|e| [1.0, 2.0, 5.0].map(|m| m * 10_f64.powi(e))).collect(),
        Units::Inches(finest) if finest.is_decimal() => {
            (-2..3).flat_map(|e| [1.0, 2.0, 5.0].map(|m| m * 10_f64.powi(e) * MM_PER_INCH)).collect()
        }
        Units::Inches(_) => [1.0 / 64.0, 1.0 / 32.0, 1.0 / 16.0, 0.125, 0.25, 0.5, 1.0, 2.0, 4.0, 12.0, 24.0, 48.0]
            .map(|inches| inches * MM_PER_INCH)
            .to_vec(),
    };
    let at_least = |px: f64| choices.iter().copied().find(|mm| mm * px_per_mm >= px);
    let coarsest = choices.last().copied().unwrap_or(1000.0);
    let major = at_least(64.0).unwrap_or(coarsest);
    // A minor tick divides a major one.
    let minor = choices
        .iter()
        .copied()
        .find(|mm| mm * px_per_mm >= 6.0 && ((major / mm) - (major / mm).round()).abs() < 1e-9)
        .unwrap_or(major);
    [minor, major]
}

#[cfg(test)]
mod tests {
    use super::*;
    use cornerwise_geometry::Finest;

    const BLANK: Stretch = Stretch { from_mm: -20.0, to_mm: 720.0 };

    fn axis() -> Axis {
        Ruler::Whole.axis(Rangef::new(240.0, 1000.0), BLANK)
    }

    #[test]
    fn screen_and_leg_are_inverse_to_each_other() {
        let axis = axis();
        for s in [-20.0, 0.0, 1.0 / 3.0, 350.0, 720.0] {
            assert!((axis.s(axis.x(s)) - s).abs() < 1e-4);
        }
        assert!(axis.x(-20.0) > 240.0 && axis.x(720.0) < 1000.0, "the whole blank is shown");
    }

    #[test]
    fn zooming_leaves_what_is_under_the_pointer_and_comes_back_to_the_whole() {
        let mut ruler = Ruler::Whole;
        let pointer = 600.0;
        let under = axis().s(pointer);
        let mut now = axis();
        for _ in 0..20 {
            ruler.zoom(now, BLANK, pointer, 1.25);
            now = ruler.axis(Rangef::new(240.0, 1000.0), BLANK);
            assert!((now.s(pointer) - under).abs() < 1e-3, "{} for {under}", now.s(pointer));
        }
        for _ in 0..40 {
            ruler.zoom(now, BLANK, pointer, 0.8);
            now = ruler.axis(Rangef::new(240.0, 1000.0), BLANK);
        }
        assert_eq!(ruler, Ruler::Whole);
    }

    #[test]
    fn a_stretch_is_shown_whole_and_in_the_middle() {
        let across = Rangef::new(240.0, 1000.0);
        for (from_mm, to_mm) in [(100.0, 200.0), (0.0, 30.0), (650.0, 700.0), (300.0, 300.5)] {
            let mut ruler = Ruler::Whole;
            ruler.show(axis(), BLANK, Stretch { from_mm, to_mm });
            let now = ruler.axis(across, BLANK);
            assert!(now.px_per_mm > axis().px_per_mm);
            assert!(now.shown().from_mm < from_mm && now.shown().to_mm > to_mm, "{:?}", now.shown());
        }
        let mut ruler = Ruler::Whole;
        ruler.show(axis(), BLANK, BLANK);
        assert_eq!(ruler, Ruler::Whole);
    }

    #[test]
    fn true_size_is_the_size_that_was_measured_for_a_small_blank_too() {
        let across = Rangef::new(240.0, 1000.0);
        for (blank, px_per_mm) in [(BLANK, 3.78), (Stretch { from_mm: -5.0, to_mm: 100.0 }, 3.78), (BLANK, 0.9)] {
            let mut ruler = Ruler::Whole;
            ruler.size(ruler.axis(across, blank), blank, 60.0, px_per_mm);
            let now = ruler.axis(across, blank);
            assert!((now.px_per_mm - px_per_mm).abs() < 1e-12);
            assert!(now.shown().to_mm > blank.from_mm && now.shown().from_mm < blank.to_mm);
            // The wheel goes on from there.
            ruler.zoom(now, blank, 600.0, 1.5);
            assert_ne!(ruler.axis(across, blank).px_per_mm, px_per_mm);
        }
    }

    #[test]
    fn scrolling_never_loses_the_blank() {
        let mut ruler = Ruler::Whole;
        ruler.zoom(axis(), BLANK, 600.0, 10.0);
        for px in [1e6_f32, -1e6, 1e6] {
            let now = ruler.axis(Rangef::new(240.0, 1000.0), BLANK);
            ruler.scroll(now, BLANK, px);
            let shown = ruler.axis(Rangef::new(240.0, 1000.0), BLANK).shown();
            assert!(shown.to_mm > BLANK.from_mm && shown.from_mm < BLANK.to_mm, "{shown:?}");
        }
    }

    #[test]
    fn labels_are_apart_and_divided_by_ticks() {
        for units in [Units::Millimetres, Units::Inches(Finest::Sixteenth), Units::Inches(Finest::Thousandth)] {
            let mut px_per_mm = 0.05;
            while px_per_mm < 300.0 {
                let shown = Stretch { from_mm: -30.0, to_mm: -30.0 + 760.0 / px_per_mm };
                let ticks = ticks(shown, px_per_mm, units);
                let labels: Vec<f64> = ticks.iter().filter(|t| t.label.is_some()).map(|t| t.s_mm).collect();
                for pair in labels.windows(2) {
                    assert!((pair[1] - pair[0]) * px_per_mm >= 63.9 || pair[1] - pair[0] >= 1200.0);
                }
                for pair in ticks.windows(2) {
                    assert!((pair[1].s_mm - pair[0].s_mm) * px_per_mm >= 5.9);
                }
                px_per_mm *= 1.3;
            }
        }
    }
}

//! Where a saw line runs out of its face: the cut leaves the blank there and there is nothing to guide the blade.

use crate::{Arris, Cut, Leg, Units};

/// A stretch of the finished length over which a saw line is beside its face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RunOut {
    /// The arris that the line crosses.
    pub arris: Arris,
    /// Whether it lies beyond the far edge of its face; before the edge it is measured from otherwise.
    pub beyond: bool,
    /// Where it leaves, mm from the top; 0 where it is out from the top on.
    pub from_mm: f64,
    /// Where it comes back, mm from the top; the length where it does not.
    pub to_mm: f64,
}

/// Where the line of a cut runs out, from the top; lines that only touch an edge do not.
pub fn run_outs(leg: &Leg, cut: Cut) -> Vec<RunOut> {
    outside(leg, cut, 0.0)
}

/// Where what a saw takes on either side of the line, `taken_mm`, runs out, from the top. Where the line runs along an edge, and
/// at its crests, that is where it is nearer to it; at the ends the curve parallel to it is what counts.
pub(crate) fn kerf_run_outs(leg: &Leg, cut: Cut, taken_mm: f64) -> Vec<RunOut> {
    let (line, across_mm) = (leg.line(cut), leg.across_mm(cut));
    let mut found = outside(leg, cut, taken_mm);
    let out = |s: f64, beyond: bool| {
        let edge = |distance: f64| line.spot(s).parallel(distance).offset;
        if beyond { edge(taken_mm) > across_mm + NEAR_MM } else { edge(-taken_mm) < -NEAR_MM }
    };
    for beyond in [false, true] {
        for (end, way) in [(0.0, 1.0), (leg.length_mm, -1.0)] {
            let told = |one: &RunOut| one.beyond == beyond && (one.from_mm..=one.to_mm).contains(&end);
            if found.iter().any(told) || !out(end, beyond) {
                continue;
            }
            let steps = (1..=END_STEPS).map(|i| end + way * leg.length_mm * f64::from(i) / f64::from(END_STEPS));
            let back = steps.take_while(|s| out(*s, beyond)).last().unwrap_or(end);
            let [from_mm, to_mm] = [end.min(back), end.max(back)];
            found.push(RunOut { arris: arris(cut, beyond), beyond, from_mm, to_mm });
        }
    }
    found.sort_by(|a, b| a.from_mm.total_cmp(&b.from_mm));
    found
}

/// Nearer than this to an edge is on it, mm.
const NEAR_MM: f64 = 1e-9;
/// In so many steps along the leg the end of a stretch is looked for that begins at an end.
const END_STEPS: u32 = 512;

/// Where a line is out of its face or nearer than `margin_mm` to its edges.
fn outside(leg: &Leg, cut: Cut, margin_mm: f64) -> Vec<RunOut> {
    let (line, across_mm) = (leg.line(cut), leg.across_mm(cut));
    let extent = line.extent();
    let [least, most] = [margin_mm, across_mm - margin_mm];
    if extent.least >= least && extent.most <= most {
        return Vec::new();
    }
    let mut stops = vec![0.0, leg.length_mm];
    for edge_mm in [least, most] {
        stops.extend(line.crossings(edge_mm));
    }
    stops.sort_by(f64::total_cmp);
    let mut found: Vec<RunOut> = Vec::new();
    for pair in stops.windows(2) {
        let (from_mm, to_mm) = (pair[0], pair[1]);
        let middle = line.offset((from_mm + to_mm) / 2.0);
        let beyond = middle > most;
        if to_mm <= from_mm || !(beyond || middle < least) {
            continue;
        }
        match found.last_mut() {
            // It touched the edge from outside and went on.
            Some(last) if last.beyond == beyond && last.to_mm == from_mm => last.to_mm = to_mm,
            _ => found.push(RunOut { arris: arris(cut, beyond), beyond, from_mm, to_mm }),
        }
    }
    found
}

fn arris(cut: Cut, beyond: bool) -> Arris {
    match (cut, beyond) {
        (Cut::First, false) => Arris::One,
        (Cut::First, true) | (Cut::Second, false) => Arris::Two,
        (Cut::Second, true) => Arris::Three,
    }
}

impl RunOut {
    /// In words: `runs out at arris 2, 12 to 138 mm`.
    pub fn words(&self, units: Units) -> String {
        format!("runs out at {}, {} to {}", self.arris, units.show(self.from_mm), units.show_with_unit(self.to_mm))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Blank, Line, Point, PointId, PointKind, Shape, ShapeKind};

    /// A straight line from one offset at the top to another at the foot.
    fn leaning(from_mm: f64, to_mm: f64) -> Line {
        let slope = (to_mm - from_mm) / 700.0;
        let point = |id, s: f64, offset: f64| Point {
            id: PointId(id),
            from_top: s.into(),
            offset: offset.into(),
            kind: PointKind::Smooth { slope, before_mm: 200.0, after_mm: 200.0 },
            tied: false,
        };
        Line::Points(vec![point(1, 0.0, from_mm), point(2, 700.0, to_mm)])
    }

    #[test]
    fn a_cut_that_leaves_its_face_is_told_with_the_arris_and_the_stretch() {
        let whole = Line::Shape(Shape::start(ShapeKind::Cyma, 700.0, 50.0));
        let leg = Leg::new(&Blank::square(50.0, 700.0), &leaning(-10.0, 60.0), &whole).unwrap();
        let words = |cut| run_outs(&leg, cut).iter().map(|out| out.words(Units::Millimetres)).collect::<Vec<_>>();
        // y = s / 10 - 10 mm is 0 at 100 mm and 50 at 600 mm.
        assert_eq!(words(Cut::First), ["runs out at arris 1, 0 to 100 mm", "runs out at arris 2, 600 to 700 mm"]);
        assert!(words(Cut::Second).is_empty(), "it stays on its face");
        let leg = Leg::new(&Blank::square(50.0, 700.0), &whole, &leaning(0.0, 50.0)).unwrap();
        assert!(run_outs(&leg, Cut::Second).is_empty(), "from arris to arris it is on its face");
        let leg = Leg::new(&Blank::square(50.0, 700.0), &whole, &leaning(0.0, 70.0)).unwrap();
        assert_eq!(run_outs(&leg, Cut::Second).iter().map(|out| out.arris).collect::<Vec<_>>(), [Arris::Three]);
    }
}

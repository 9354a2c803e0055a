//! Where a live shape can be taken hold of, and what it becomes when it is put somewhere else.

use super::{Shape, shrinking};
use crate::ParameterValue;

/// A handle of a live shape: a place of its line that stands for one or two of its parameters.
#[derive(Clone, Debug, PartialEq)]
pub struct ShapeHandle {
    /// What it changes: `crest and rise`.
    pub name: String,
    /// Where it is, mm from the finished top and from arris 1 or 2. It lies on the line.
    pub at: [f64; 2],
    /// The parameter that changes when it is moved along the leg, an index into [`Shape::parameters`].
    pub along: Option<usize>,
    /// The parameter that changes when it is moved across the face.
    pub across: Option<usize>,
}

/// What a dragged parameter is rounded to, mm or a plain number: far below what a hand or a saw can follow, so that 12.3
/// is 12.3 and not 12.299999999999999.
const ROUND: f64 = 1e-6;

/// How often the shortening of waves is halved in on.
const HALVINGS: u32 = 60;

impl Shape {
    /// Its handles on a face of `across_mm` by `length_mm`. A whole number, such as the count of waves, has none.
    pub fn handles(&self, length_mm: f64, across_mm: f64) -> Vec<ShapeHandle> {
        let length_mm = length_mm.max(1.0);
        let handle = |s: f64, offset: f64, along: Option<usize>, across: Option<usize>| ShapeHandle {
            name: self.names(along, across),
            at: [s, offset],
            along,
            across,
        };
        let half_face = across_mm / 2.0;
        match self {
            Shape::Straight { aside } => vec![handle(length_mm / 2.0, half_face + aside.mm(), None, Some(0))],
            Shape::Cyma { swing, turn, aside } => {
                let (middle, turn) = (half_face + aside.mm(), turn.clamp(0.1, 0.9) * length_mm);
                vec![
                    handle(turn / 2.0, middle + swing.mm() / 2.0, None, Some(0)),
                    handle(turn, middle, Some(1), Some(2)),
                ]
            }
            Shape::Arch { rise, crest, aside } => {
                let (middle, crest) = (half_face + aside.mm(), crest.clamp(0.1, 0.9) * length_mm);
                vec![handle(crest, middle + rise.mm(), Some(1), Some(0)), handle(0.0, middle, None, Some(2))]
            }
            Shape::Waves { swing_top, swing_foot, aside, .. } => {
                let (crossings, middle) = (self.crossings(length_mm), half_face + aside.mm());
                let crest = |half: usize| {
                    let s = f64::midpoint(crossings[half], crossings[half + 1]);
                    let swing = swing_top.mm() + s / length_mm * (swing_foot.mm() - swing_top.mm());
                    (s, if half.is_multiple_of(2) { swing / 2.0 } else { -swing / 2.0 })
                };
                let ((first, up), (last, down)) = (crest(0), crest(crossings.len() - 2));
                vec![
                    handle(first, middle + up, None, Some(1)),
                    handle(last, middle + down, None, Some(2)),
                    handle(crossings[1], middle, Some(3), Some(4)),
                ]
            }
            Shape::PostAndKnee { knee, ankle, aside, .. } => {
                let line = half_face + aside.mm();
                let [post, to_knee, ankle_at] = self.knee_stations(length_mm);
                vec![
                    handle(post, line, Some(0), Some(4)),
                    handle(post + to_knee, line + knee.mm(), Some(3), Some(1)),
                    handle(ankle_at, line - ankle.mm(), None, Some(2)),
                ]
            }
        }
    }

    /// The shape with handle `handle` (of [`Shape::handles`]) put to a place, as near as its parameters' limits let it. A
    /// handle put where it is changes nothing; nor does a place that is not finite, or a handle that is not there.
    #[must_use]
    pub fn with_handle(&self, handle: usize, to: [f64; 2], length_mm: f64, across_mm: f64) -> Shape {
        let length_mm = length_mm.max(1.0);
        let Some(was) = self.handles(length_mm, across_mm).into_iter().nth(handle) else { return self.clone() };
        if to == was.at || to.iter().any(|mm| !mm.is_finite()) {
            return self.clone();
        }
        let mut shape = self.clone();
        // Across first: how far along a knee lies depends on how far it stands out.
        if let Some(index) = was.across.filter(|_| to[1] != was.at[1]) {
            shape = shape.with_number(index, self.across_value(index, was.at, to[1], length_mm, across_mm));
        }
        if let Some(index) = was.along {
            let moved = shape.handles(length_mm, across_mm).get(handle).is_some_and(|now| now.at[0] != to[0]);
            if moved {
                shape = shape.with_number(index, shape.along_value(index, to[0], length_mm));
            }
        }
        shape
    }

    /// The value of a parameter with which its handle lies at `offset`.
    fn across_value(&self, index: usize, was: [f64; 2], offset: f64, length_mm: f64, across_mm: f64) -> f64 {
        let half_face = across_mm / 2.0;
        match (self, index) {
            (Shape::Cyma { aside, .. }, 0) => 2.0 * (offset - half_face - aside.mm()),
            (Shape::Arch { aside, .. }, 0) => offset - half_face - aside.mm(),
            (Shape::Waves { swing_foot, aside, .. }, 1) => {
                let share = was[0] / length_mm;
                (2.0 * (offset - half_face - aside.mm()) - share * swing_foot.mm()) / (1.0 - share)
            }
            // The last half wave is an even one from the top, and goes the other way.
            (Shape::Waves { swing_top, aside, .. }, 2) => {
                let share = was[0] / length_mm;
                (2.0 * (half_face + aside.mm() - offset) - (1.0 - share) * swing_top.mm()) / share
            }
            (Shape::PostAndKnee { aside, .. }, 1) => offset - half_face - aside.mm(),
            (Shape::PostAndKnee { aside, .. }, 2) => half_face + aside.mm() - offset,
            // All others are moved aside.
            (
                Shape::Straight { aside }
                | Shape::Cyma { aside, .. }
                | Shape::Arch { aside, .. }
                | Shape::Waves { aside, .. }
                | Shape::PostAndKnee { aside, .. },
                _,
            ) => aside.mm() + offset - was[1],
        }
    }

    /// The value of a parameter with which its handle lies `s` from the top.
    fn along_value(&self, index: usize, s: f64, length_mm: f64) -> f64 {
        match self {
            Shape::Waves { .. } => {
                let halves = self.crossings(length_mm).len() as u32 - 1;
                shortening_for(s / length_mm, halves)
            }
            Shape::PostAndKnee { knee, .. } if index == 3 => {
                let [post, ..] = self.knee_stations(length_mm);
                let rest = length_mm - post;
                2.0 * knee.mm().abs() / (s - post).clamp(0.08 * rest, 0.35 * rest)
            }
            Shape::PostAndKnee { .. } => s,
            Shape::Straight { .. } | Shape::Cyma { .. } | Shape::Arch { .. } => s / length_mm,
        }
    }

    /// A length or a plain number as a parameter, rounded.
    fn with_number(&self, index: usize, value: f64) -> Shape {
        let value = (value / ROUND).round() * ROUND;
        // Through its decimal digits, so that it is the number that is written so.
        let value: f64 = format!("{value:.6}").parse().unwrap_or(value);
        let kind = self.parameters().into_iter().nth(index).map(|parameter| parameter.value);
        match kind {
            Some(ParameterValue::Length(_)) => self.with_parameter(index, &ParameterValue::Length(value.into())),
            Some(ParameterValue::Number(_)) => self.with_parameter(index, &ParameterValue::Number(value)),
            Some(ParameterValue::Count(_)) | None => self.clone(),
        }
    }

    fn names(&self, along: Option<usize>, across: Option<usize>) -> String {
        let parameters = self.parameters();
        let names = [along, across].into_iter().flatten().filter_map(|index| parameters.get(index));
        names.map(|parameter| parameter.name.to_lowercase()).collect::<Vec<_>>().join(" and ")
    }
}

/// The ratio of the last half wave's length to the first's with which the first takes up `share` of the whole.
fn shortening_for(share: f64, halves: u32) -> f64 {
    let first = |ratio: f64| shrinking(halves, ratio, 1.0)[1];
    // The more they shorten, the longer is the first.
    let (mut least, mut most) = (0.05_f64.ln(), 20.0_f64.ln());
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(least, most);
        if first(middle.exp()) > share { least = middle } else { most = middle }
    }
    f64::midpoint(least, most).exp()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{SawLine, ShapeKind};

    const FACES: [(f64, f64); 4] = [(700.0, 50.0), (400.0, 75.0), (1100.0, 45.0), (120.0, 20.0)];

    fn line(shape: &Shape, length: f64, across: f64) -> SawLine {
        SawLine::from_points(&shape.points(length, across), length).unwrap()
    }

    #[test]
    fn every_handle_lies_on_its_line_and_stands_for_a_parameter() {
        for (kind, (length, across)) in ShapeKind::ALL.into_iter().flat_map(|kind| FACES.map(|face| (kind, face))) {
            let shape = Shape::start(kind, length, across);
            let handles = shape.handles(length, across);
            for handle in &handles {
                let on = line(&shape, length, across).offset(handle.at[0]);
                assert!((on - handle.at[1]).abs() < 1e-9, "{} of {}: {on} {:?}", handle.name, kind.name(), handle.at);
            }
            let mut stood_for: Vec<usize> = handles.iter().flat_map(|h| [h.along, h.across]).flatten().collect();
            stood_for.sort_unstable();
            let parameters = shape.parameters();
            let counts = parameters.iter().filter(|p| matches!(p.value, ParameterValue::Count(_))).count();
            assert_eq!(stood_for.len() + counts, parameters.len(), "{}: each once", kind.name());
            stood_for.dedup();
            assert_eq!(stood_for.len() + counts, parameters.len(), "{}", kind.name());
        }
        let arch = Shape::start(ShapeKind::Arch, 700.0, 50.0);
        assert_eq!(arch.handles(700.0, 50.0)[0].name, "crest and rise");
    }

    #[test]
    fn a_handle_put_where_it_is_changes_nothing() {
        for (kind, (length, across)) in ShapeKind::ALL.into_iter().flat_map(|kind| FACES.map(|face| (kind, face))) {
            let shape = Shape::start(kind, length, across);
            for (i, handle) in shape.handles(length, across).into_iter().enumerate() {
                assert_eq!(shape.with_handle(i, handle.at, length, across), shape, "{}", handle.name);
                assert_eq!(shape.with_handle(i, [f64::NAN, 3.0], length, across), shape, "{}", handle.name);
            }
            assert_eq!(shape.with_handle(9, [3.0, 3.0], length, across), shape);
        }
    }

    #[test]
    fn the_line_goes_where_the_hand_goes() {
        for (kind, (length, across)) in ShapeKind::ALL.into_iter().flat_map(|kind| FACES.map(|face| (kind, face))) {
            let shape = Shape::start(kind, length, across);
            for (i, handle) in shape.handles(length, across).into_iter().enumerate() {
                for by in [[0.0, 1.7], [0.0, -2.3], [0.011, 0.0], [-0.013, 0.9], [0.02, -1.1]] {
                    let free = |parameter: Option<usize>, by: f64| if parameter.is_some() { by } else { 0.0 };
                    let to = [
                        handle.at[0] + free(handle.along, by[0] * length),
                        handle.at[1] + free(handle.across, by[1] * across / 50.0),
                    ];
                    let moved = shape.with_handle(i, to, length, across);
                    let at = moved.handles(length, across)[i].at;
                    let what = format!("{} of {} by {by:?} on {length}", handle.name, kind.name());
                    let s = match (&shape, i) {
                        (Shape::PostAndKnee { post, .. }, 1) => {
                            let rest = length - post.mm();
                            to[0].clamp(post.mm() + 0.08 * rest, post.mm() + 0.35 * rest)
                        }
                        _ => to[0],
                    };
                    assert!((at[0] - s).abs() < 0.01, "{what}: {at:?} for {to:?}");
                    assert!((at[1] - to[1]).abs() < 1e-5, "{what}: {at:?} for {to:?}");
                    let on = line(&moved, length, across).offset(at[0]);
                    assert!((on - at[1]).abs() < 1e-9, "{what}");
                    // What it does not stand for stays.
                    let stays = |index: &usize| Some(*index) != handle.along && Some(*index) != handle.across;
                    for index in (0..shape.parameters().len()).filter(stays) {
                        assert_eq!(moved.parameters()[index], shape.parameters()[index], "{what}");
                    }
                }
            }
        }
    }

    #[test]
    fn beyond_its_limits_a_handle_stops() {
        let cyma = Shape::start(ShapeKind::Cyma, 700.0, 50.0);
        let far = cyma.with_handle(1, [5000.0, 25.0], 700.0, 50.0);
        assert_eq!(far.handles(700.0, 50.0)[1].at, [0.9 * 700.0, 25.0]);
        let post = Shape::start(ShapeKind::PostAndKnee, 700.0, 50.0);
        let through = post.with_handle(1, [0.0, 25.0], 700.0, 50.0);
        assert!(SawLine::from_points(&through.points(700.0, 50.0), 700.0).is_ok());
        let waves = Shape::start(ShapeKind::Waves, 700.0, 50.0);
        for s in [-100.0, 0.0, 699.0, 1e9] {
            let moved = waves.with_handle(2, [s, 25.0], 700.0, 50.0);
            let parameter = &moved.parameters()[3];
            let ParameterValue::Number(shortening) = parameter.value else { panic!("a number") };
            assert!((parameter.least..=parameter.most).contains(&shortening));
        }
    }

    #[test]
    fn dragged_parameters_are_round_where_the_hand_is() {
        let cyma = Shape::start(ShapeKind::Cyma, 700.0, 50.0);
        let moved = cyma.with_handle(0, [0.0, 37.3], 700.0, 50.0);
        assert_eq!(moved.parameters()[0].value, ParameterValue::Length(24.6.into()));
    }
}

//! The starting shapes: saw lines with a few named parameters.

mod handles;

use std::f64::consts::PI;

use serde::{Deserialize, Serialize};

use crate::{Length, Point, PointId, PointKind};

pub use handles::ShapeHandle;

/// A starting shape. Offsets are taken from the middle of the face, moved `aside` from it; a negative swing veers the
/// other way.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Shape {
    /// No curve: a plain square leg on this face.
    Straight {
        /// Of the line from the middle of the face.
        #[serde(default)]
        aside: Length,
    },
    /// The S: one crest to each side.
    Cyma {
        /// From crest to crest, across.
        swing: Length,
        /// Where it crosses the middle, as a share of the length.
        turn: f64,
        /// Of the middle of the S from the middle of the face.
        #[serde(default)]
        aside: Length,
    },
    /// One bow.
    Arch {
        /// Of the crest over the ends.
        rise: Length,
        /// Where the crest is, as a share of the length.
        crest: f64,
        /// Of the ends from the middle of the face.
        #[serde(default)]
        aside: Length,
    },
    /// Waves that grow as they shorten, or the other way about.
    Waves {
        /// How many whole waves.
        waves: u32,
        /// Swing, crest to crest, at the top.
        swing_top: Length,
        /// Swing, crest to crest, at the foot.
        swing_foot: Length,
        /// Length of the last half wave as a share of the first.
        shortening: f64,
        /// Of the middle of the waves from the middle of the face.
        #[serde(default)]
        aside: Length,
    },
    /// A straight post from the top, a sharp point, then an S down to the foot: sawn in two passes.
    PostAndKnee {
        /// Length of the straight post.
        post: Length,
        /// How far the knee stands out from the post.
        knee: Length,
        /// How far the ankle stands back from the post.
        ankle: Length,
        /// Slope with which the line leaves the sharp point, offset per length.
        kick: f64,
        /// Of the post from the middle of the face.
        #[serde(default)]
        aside: Length,
    },
}

/// The starting shapes by kind, in the order they are offered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ShapeKind {
    /// [`Shape::Straight`]
    Straight,
    /// [`Shape::Cyma`]
    Cyma,
    /// [`Shape::Arch`]
    Arch,
    /// [`Shape::Waves`]
    Waves,
    /// [`Shape::PostAndKnee`]
    PostAndKnee,
}

/// One parameter of a starting shape.
#[derive(Clone, Debug, PartialEq)]
pub struct Parameter {
    /// What it is called.
    pub name: &'static str,
    /// Its value.
    pub value: ParameterValue,
    /// The least it may be, in the value's own unit (mm, or a plain number).
    pub least: f64,
    /// The most it may be.
    pub most: f64,
}

/// The value of a parameter.
#[derive(Clone, Debug, PartialEq)]
pub enum ParameterValue {
    /// A length.
    Length(Length),
    /// A whole number of things.
    Count(u32),
    /// A share of something, or a slope.
    Number(f64),
}

/// Handle reaches, as shares of a quarter wave, with which one cubic follows a quarter of a sine within 0.1 % of its
/// height; from matching position, slope, and area (fitted here, checked by a test).
const REACH_AT_CROSSING: f64 = 0.3261;
const REACH_AT_CREST: f64 = 0.3619;

/// The gentlest a line may leave a sharp point; below it nobody would see the point.
const LEAST_KICK: f64 = 0.01;

impl ShapeKind {
    /// All of them, as offered.
    pub const ALL: [ShapeKind; 5] =
        [ShapeKind::Straight, ShapeKind::Cyma, ShapeKind::Arch, ShapeKind::Waves, ShapeKind::PostAndKnee];

    /// What it is called.
    pub fn name(self) -> &'static str {
        match self {
            ShapeKind::Straight => "straight",
            ShapeKind::Cyma => "cyma",
            ShapeKind::Arch => "arch",
            ShapeKind::Waves => "swelling waves",
            ShapeKind::PostAndKnee => "post and knee",
        }
    }
}

impl Shape {
    /// A shape of this kind in fair proportion to a face of `across_mm` by `length_mm`.
    pub fn start(kind: ShapeKind, length_mm: f64, across_mm: f64) -> Shape {
        // Whole millimetres, so that the fields start with plain numbers.
        let of_across = |share: f64| Length::from_mm((share * across_mm).round().max(1.0));
        let aside = Length::ZERO;
        match kind {
            ShapeKind::Straight => Shape::Straight { aside },
            ShapeKind::Cyma => Shape::Cyma { swing: of_across(0.4), turn: 0.55, aside },
            ShapeKind::Arch => Shape::Arch { rise: of_across(0.25), crest: 0.5, aside },
            ShapeKind::Waves => Shape::Waves {
                waves: 2,
                swing_top: of_across(0.16),
                swing_foot: of_across(0.4),
                shortening: 0.6,
                aside,
            },
            ShapeKind::PostAndKnee => Shape::PostAndKnee {
                post: Length::from_mm((0.22 * length_mm).round()),
                knee: of_across(0.18),
                ankle: of_across(0.2),
                kick: 0.2,
                aside,
            },
        }
    }

    /// Its kind.
    pub fn kind(&self) -> ShapeKind {
        match self {
            Shape::Straight { .. } => ShapeKind::Straight,
            Shape::Cyma { .. } => ShapeKind::Cyma,
            Shape::Arch { .. } => ShapeKind::Arch,
            Shape::Waves { .. } => ShapeKind::Waves,
            Shape::PostAndKnee { .. } => ShapeKind::PostAndKnee,
        }
    }

    /// What it is called.
    pub fn name(&self) -> &'static str {
        self.kind().name()
    }

    /// Its points on a face of `across_mm` by `length_mm`, ids from 1 in order from the top.
    pub fn points(&self, length_mm: f64, across_mm: f64) -> Vec<Point> {
        // A length that no blank has (zero, negative, NaN) is refused by the blank's own check; here it must not panic.
        let length_mm = length_mm.max(1.0);
        let middle = |aside: &Length| across_mm / 2.0 + aside.mm();
        match self {
            Shape::Straight { aside } => {
                let third = length_mm / 3.0;
                vec![
                    Point::smooth(1, 0.0, middle(aside), 0.0, third, third),
                    Point::smooth(2, length_mm, middle(aside), 0.0, third, third),
                ]
            }
            Shape::Cyma { swing, turn, aside } => {
                let turn = turn.clamp(0.1, 0.9) * length_mm;
                let half = swing.mm() / 2.0;
                half_waves(&[0.0, turn, length_mm], &[half, -half], middle(aside))
            }
            Shape::Arch { rise, crest, aside } => {
                let crest = crest.clamp(0.1, 0.9) * length_mm;
                let middle = middle(aside);
                let (up, down) = (crest, length_mm - crest);
                let slope = |quarter: f64| rise.mm() * PI / (2.0 * quarter);
                vec![
                    Point::smooth(1, 0.0, middle, slope(up), REACH_AT_CROSSING * up, REACH_AT_CROSSING * up),
                    Point::smooth(2, crest, middle + rise.mm(), 0.0, REACH_AT_CREST * up, REACH_AT_CREST * down),
                    Point::smooth(
                        3,
                        length_mm,
                        middle,
                        -slope(down),
                        REACH_AT_CROSSING * down,
                        REACH_AT_CROSSING * down,
                    ),
                ]
            }
            Shape::Waves { swing_top, swing_foot, aside, .. } => {
                let crossings = self.crossings(length_mm);
                let crests: Vec<f64> = crossings
                    .windows(2)
                    .enumerate()
                    .map(|(i, pair)| {
                        let share = (pair[0] + pair[1]) / (2.0 * length_mm);
                        let swing = swing_top.mm() + share * (swing_foot.mm() - swing_top.mm());
                        if i % 2 == 0 { swing / 2.0 } else { -swing / 2.0 }
                    })
                    .collect();
                half_waves(&crossings, &crests, middle(aside))
            }
            Shape::PostAndKnee { knee, ankle, kick, aside, .. } => {
                let [post, to_knee, ankle_at] = self.knee_stations(length_mm);
                let (line, knee_at) = (middle(aside), post + to_knee);
                let kick = kick.abs().clamp(LEAST_KICK, 3.0) * knee.mm().signum();
                let (quarter, last) = ((ankle_at - knee_at) / 2.0, length_mm - ankle_at);
                let fall = -(knee.mm() + ankle.mm()) / 2.0 * (PI / 2.0) / quarter;
                let (crest, crossing) = (REACH_AT_CREST * quarter, REACH_AT_CROSSING * quarter);
                let middle = line + (knee.mm() - ankle.mm()) / 2.0;
                let (third, foot_slope) = (to_knee / 3.0, ankle.mm() * (PI / 2.0) / last);
                vec![
                    Point::smooth(1, 0.0, line, 0.0, post / 3.0, post / 3.0),
                    Point {
                        kind: PointKind::Sharp {
                            slope_before: 0.0,
                            before_mm: post / 3.0,
                            slope_after: kick,
                            after_mm: third,
                        },
                        ..Point::smooth(2, post, line, 0.0, 0.0, 0.0)
                    },
                    Point::smooth(3, knee_at, line + knee.mm(), 0.0, third, crest),
                    Point::smooth(4, knee_at + quarter, middle, fall, crossing, crossing),
                    Point::smooth(5, ankle_at, line - ankle.mm(), 0.0, crest, REACH_AT_CREST * last),
                    Point::smooth(6, length_mm, line, foot_slope, REACH_AT_CROSSING * last, REACH_AT_CROSSING * last),
                ]
            }
        }
    }

    /// Where waves cross their middle, from the top to the foot, mm; of other shapes the two ends.
    fn crossings(&self, length_mm: f64) -> Vec<f64> {
        match self {
            Shape::Waves { waves, shortening, .. } => {
                shrinking(2 * (*waves).clamp(1, 20), shortening.clamp(0.05, 20.0), length_mm)
            }
            _ => vec![0.0, length_mm],
        }
    }

    /// The length of the post, from there to the knee, and from the top to the ankle, mm; of other shapes nothing.
    fn knee_stations(&self, length_mm: f64) -> [f64; 3] {
        let Shape::PostAndKnee { post, knee, kick, .. } = self else { return [0.0; 3] };
        let post = post.mm().clamp(0.02 * length_mm, 0.9 * length_mm);
        let rest = length_mm - post;
        // A parabola leaves with slope `kick` and has risen to `knee` after twice knee / kick.
        let to_knee = (2.0 * knee.mm() / kick.abs().clamp(LEAST_KICK, 3.0)).abs().clamp(0.08 * rest, 0.35 * rest);
        [post, to_knee, post + 0.78 * rest]
    }

    /// Its parameters, in the order they are shown.
    pub fn parameters(&self) -> Vec<Parameter> {
        let length = |name, value: &Length, least, most| Parameter {
            name,
            value: ParameterValue::Length(value.clone()),
            least,
            most,
        };
        let number =
            |name, value: f64, least, most| Parameter { name, value: ParameterValue::Number(value), least, most };
        let aside = |value| length("Aside", value, -500.0, 500.0);
        match self {
            Shape::Straight { aside: value } => vec![aside(value)],
            Shape::Cyma { swing, turn, aside: value } => {
                vec![length("Swing", swing, -1000.0, 1000.0), number("Turn", *turn, 0.1, 0.9), aside(value)]
            }
            Shape::Arch { rise, crest, aside: value } => {
                vec![length("Rise", rise, -1000.0, 1000.0), number("Crest", *crest, 0.1, 0.9), aside(value)]
            }
            Shape::Waves { waves, swing_top, swing_foot, shortening, aside: value } => vec![
                Parameter { name: "Waves", value: ParameterValue::Count(*waves), least: 1.0, most: 20.0 },
                length("Swing at top", swing_top, -1000.0, 1000.0),
                length("Swing at foot", swing_foot, -1000.0, 1000.0),
                number("Shortening", *shortening, 0.05, 20.0),
                aside(value),
            ],
            Shape::PostAndKnee { post, knee, ankle, kick, aside: value } => vec![
                length("Post", post, 1.0, 9000.0),
                length("Knee", knee, -500.0, 500.0),
                length("Ankle", ankle, -500.0, 500.0),
                number("Kick", *kick, LEAST_KICK, 3.0),
                aside(value),
            ],
        }
    }

    /// The shape with parameter `index` (of [`Shape::parameters`]) set, held within its limits. A value of another sort,
    /// one that is not finite, or an index beyond the list changes nothing.
    #[must_use]
    pub fn with_parameter(&self, index: usize, value: &ParameterValue) -> Shape {
        let mut shape = self.clone();
        let Some(parameter) = self.parameters().into_iter().nth(index) else {
            return shape;
        };
        match value {
            ParameterValue::Length(length) if length.mm().is_finite() => {
                let held = length.mm().clamp(parameter.least, parameter.most);
                let held = if held == length.mm() { length.clone() } else { held.into() };
                if let Some(slot) = shape.length_slot(index) {
                    *slot = held;
                }
            }
            ParameterValue::Number(number) if number.is_finite() => {
                if let Some(slot) = shape.number_slot(index) {
                    *slot = number.clamp(parameter.least, parameter.most);
                }
            }
            ParameterValue::Count(count) => {
                if let (Shape::Waves { waves, .. }, 0) = (&mut shape, index) {
                    *waves = (*count).clamp(1, 20);
                }
            }
            _ => {}
        }
        shape
    }

    fn length_slot(&mut self, index: usize) -> Option<&mut Length> {
        match (self, index) {
            (Shape::Straight { aside }, 0)
            | (Shape::Cyma { aside, .. } | Shape::Arch { aside, .. }, 2)
            | (Shape::Waves { aside, .. } | Shape::PostAndKnee { aside, .. }, 4) => Some(aside),
            (Shape::Cyma { swing, .. }, 0) => Some(swing),
            (Shape::Arch { rise, .. }, 0) => Some(rise),
            (Shape::Waves { swing_top, .. }, 1) => Some(swing_top),
            (Shape::Waves { swing_foot, .. }, 2) => Some(swing_foot),
            (Shape::PostAndKnee { post, .. }, 0) => Some(post),
            (Shape::PostAndKnee { knee, .. }, 1) => Some(knee),
            (Shape::PostAndKnee { ankle, .. }, 2) => Some(ankle),
            _ => None,
        }
    }

    fn number_slot(&mut self, index: usize) -> Option<&mut f64> {
        match (self, index) {
            (Shape::Cyma { turn, .. }, 1) => Some(turn),
            (Shape::Arch { crest, .. }, 1) => Some(crest),
            (Shape::Waves { shortening, .. }, 3) => Some(shortening),
            (Shape::PostAndKnee { kick, .. }, 3) => Some(kick),
            _ => None,
        }
    }
}

/// The stations that divide `length_mm` into `count` lengths in geometric progression, the last `ratio` times the first.
fn shrinking(count: u32, ratio: f64, length_mm: f64) -> Vec<f64> {
    let step = ratio.powf(1.0 / f64::from(count - 1).max(1.0));
    let lengths: Vec<f64> = (0..count).map(|i| step.powi(i.cast_signed())).collect();
    let total: f64 = lengths.iter().sum();
    let mut at = vec![0.0];
    let mut sum = 0.0;
    for length in lengths {
        sum += length;
        at.push(sum / total * length_mm);
    }
    at
}

/// Half waves between `crossings` with the given crest heights about `middle`, each close to half a sine. Where two
/// half waves of different length or height meet, the line takes the mean of their slopes.
fn half_waves(crossings: &[f64], crests: &[f64], middle: f64) -> Vec<Point> {
    let length = |i: usize| crossings[i + 1] - crossings[i];
    let slope_out = |i: usize| crests[i] * PI / length(i);
    let mut points: Vec<Point> = Vec::with_capacity(2 * crossings.len());
    for (i, s) in crossings.iter().enumerate() {
        let (before, after) = (i.checked_sub(1), (i < crests.len()).then_some(i));
        let slope = match (before, after) {
            (Some(before), Some(after)) => (slope_out(after) - slope_out(before)) / 2.0,
            (None, Some(after)) => slope_out(after),
            (Some(before), None) => -slope_out(before),
            (None, None) => 0.0,
        };
        let reach = |half: Option<usize>| REACH_AT_CROSSING * length(half.or(before).or(after).unwrap_or(0)) / 2.0;
        points.push(Point::smooth(0, *s, middle, slope, reach(before), reach(after)));
        if let Some(half) = after {
            let reach = REACH_AT_CREST * length(half) / 2.0;
            points.push(Point::smooth(0, s + length(half) / 2.0, middle + crests[half], 0.0, reach, reach));
        }
    }
    for (point, id) in points.iter_mut().zip(1..) {
        point.id = PointId(id);
    }
    points
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::SawLine;

    #[test]
    fn every_starting_shape_is_a_sound_line_within_the_blank() {
        for kind in ShapeKind::ALL {
            for (length, across) in [(700.0, 50.0), (400.0, 75.0), (1100.0, 45.0), (120.0, 20.0)] {
                let shape = Shape::start(kind, length, across);
                let line = SawLine::from_points(&shape.points(length, across), length)
                    .unwrap_or_else(|e| panic!("{} on {across} by {length}: {e}", kind.name()));
                let extent = line.extent();
                assert!(extent.least > 0.1 * across && extent.most < 0.9 * across, "{} {extent:?}", kind.name());
            }
        }
    }

    #[test]
    fn an_even_wave_is_close_to_a_sine() {
        let shape = Shape::Waves {
            waves: 2,
            swing_top: 20.0.into(),
            swing_foot: 20.0.into(),
            shortening: 1.0,
            aside: Length::ZERO,
        };
        let line = SawLine::from_points(&shape.points(600.0, 50.0), 600.0).unwrap();
        for i in 0..=600 {
            let s = f64::from(i);
            let sine = 25.0 + 10.0 * (2.0 * PI * s / 300.0).sin();
            assert!((line.offset(s) - sine).abs() < 0.01, "{s}: {} for {sine}", line.offset(s));
        }
    }

    #[test]
    fn every_parameter_can_be_set_and_changes_the_line() {
        for kind in ShapeKind::ALL {
            let shape = Shape::start(kind, 700.0, 50.0);
            for (i, parameter) in shape.parameters().iter().enumerate() {
                let other = match &parameter.value {
                    ParameterValue::Length(l) => ParameterValue::Length((l.mm() + 3.0).into()),
                    ParameterValue::Count(n) => ParameterValue::Count(n + 1),
                    ParameterValue::Number(x) => ParameterValue::Number(x * 0.9),
                };
                let changed = shape.with_parameter(i, &other);
                assert_eq!(changed.parameters()[i].value, other, "{} of {}", parameter.name, kind.name());
                assert_ne!(
                    changed.points(700.0, 50.0),
                    shape.points(700.0, 50.0),
                    "{} of {}",
                    parameter.name,
                    kind.name()
                );
            }
        }
    }

    #[test]
    fn a_post_and_knee_has_one_sharp_point_at_the_end_of_its_post() {
        let shape = Shape::start(ShapeKind::PostAndKnee, 700.0, 50.0);
        let line = SawLine::from_points(&shape.points(700.0, 50.0), 700.0).unwrap();
        assert_eq!(line.sharp_point(), Some(154.0));
        assert_eq!(line.at(100.0).slope, 0.0);
    }
}

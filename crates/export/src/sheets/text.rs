//! A line of text on a sheet.

use super::{Ink, Typeface};
use kurbo::{Affine, Point, Rect, Vec2};

/// Which point of a line of text is placed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Anchor {
    /// Its start.
    #[default]
    Start,
    /// Its middle.
    Middle,
    /// Its end.
    End,
}

/// A line of text. Its size is the height of its capitals, which is what one reads at arm's length.
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    /// What it says.
    pub text: String,
    /// Where its anchor is on the base line, mm.
    pub at: Point,
    /// The direction it is read in: clockwise from rightwards, degrees.
    pub turn_deg: f64,
    /// Height of its capitals, mm.
    pub cap_mm: f64,
    /// Its letters.
    pub typeface: Typeface,
    /// Which point of it stands at `at`.
    pub anchor: Anchor,
    /// Its colour.
    pub ink: Ink,
}

/// How far letters such as g and p, and brackets, hang below the base line, as a share of the capitals' height.
const BELOW: f64 = 0.33;

impl Text {
    /// Black text in the plain typeface, its start at `at`.
    pub fn new(text: impl Into<String>, at: Point, cap_mm: f64) -> Text {
        Text {
            text: text.into(),
            at,
            turn_deg: 0.0,
            cap_mm,
            typeface: Typeface::Sans,
            anchor: Anchor::Start,
            ink: Ink::Black,
        }
    }

    /// The same text in other letters.
    pub fn typeface(self, typeface: Typeface) -> Text {
        Text { typeface, ..self }
    }

    /// The same text in another colour.
    pub fn ink(self, ink: Ink) -> Text {
        Text { ink, ..self }
    }

    /// The same text placed by another of its points.
    pub fn anchor(self, anchor: Anchor) -> Text {
        Text { anchor, ..self }
    }

    /// The same text read in another direction, degrees clockwise.
    pub fn turned(self, turn_deg: f64) -> Text {
        Text { turn_deg, ..self }
    }

    /// The same text, its capitals no taller than now, made smaller to fit `width_mm`, but not smaller than `least_mm`;
    /// what is still too long ends in an ellipsis.
    pub fn fitted(self, width_mm: f64, least_mm: f64) -> Text {
        let room = (width_mm / self.width_mm().max(f64::MIN_POSITIVE)).min(1.0);
        let cap_mm = (self.cap_mm * room).max(least_mm).min(self.cap_mm);
        let mut text = Text { cap_mm, ..self };
        if text.width_mm() > width_mm + 1e-9 {
            let mut letters: Vec<char> = text.text.chars().collect();
            while letters.pop().is_some() {
                text.text = letters.iter().collect::<String>().trim_end().to_owned() + "…";
                if text.width_mm() <= width_mm {
                    break;
                }
            }
        }
        text
    }

    /// Its length as set, mm.
    pub fn width_mm(&self) -> f64 {
        self.typeface.width_mm(&self.text, self.cap_mm)
    }

    /// Where its start is on the base line, mm.
    pub fn start(&self) -> Point {
        let back = match self.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => 0.5,
            Anchor::End => 1.0,
        };
        self.at - Vec2::from_angle(self.turn_deg.to_radians()) * (back * self.width_mm())
    }

    /// The same text, moved and rotated.
    pub fn placed(&self, sheet_from_drawing: Affine) -> Text {
        let [a, b, ..] = sheet_from_drawing.as_coeffs();
        let turn_deg = self.turn_deg + b.atan2(a).to_degrees();
        Text { at: sheet_from_drawing * self.at, turn_deg, ..self.clone() }
    }

    /// The upright rectangle round it, mm: from below the longest letters to the top of the capitals.
    pub fn bounds(&self) -> Rect {
        let flat = Rect::new(0.0, -self.cap_mm, self.width_mm(), BELOW * self.cap_mm);
        let turned = Affine::translate(self.start().to_vec2()) * Affine::rotate(self.turn_deg.to_radians());
        turned.transform_rect_bbox(flat)
    }
}

use crate::PictureHash;
use cornerwise_geometry::{Cut, Length};
use serde::{Deserialize, Serialize};

/// How strongly a picture shows at first.
const START_STRENGTH: f64 = 0.6;

/// A picture laid under the saw line of a face, to be traced.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Trace {
    /// The cut on whose face it lies. Each face has one picture at most.
    pub cut: Cut,
    /// Which picture of the project.
    pub picture: PictureHash,
    /// Where its middle lies, from the finished top.
    pub from_top: Length,
    /// Where its middle lies, from arris 1 or 2.
    pub offset: Length,
    /// How wide the picture is on the face, along its own lower edge.
    pub width: Length,
    /// How far it is turned, degrees clockwise as the face is seen with its top end left.
    #[serde(default)]
    pub turn_deg: f64,
    /// How strongly it shows: 0 not at all, 1 fully.
    #[serde(default = "start_strength")]
    pub strength: f64,
    /// Whether it stays as it is: neither moved nor scaled nor turned.
    #[serde(default, skip_serializing_if = "is_no")]
    pub locked: bool,
    /// Whether it is out of sight.
    #[serde(default, skip_serializing_if = "is_no")]
    pub hidden: bool,
}

fn start_strength() -> f64 {
    START_STRENGTH
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde asks it so")]
fn is_no(yes: &bool) -> bool {
    !*yes
}

impl Trace {
    /// The least and the most that a picture may be wide on a face, mm.
    pub const WIDTH_MM: [f64; 2] = [1.0, 100_000.0];
    /// How far from the top or the arris the middle of a picture may lie, mm.
    pub const FARTHEST_MM: f64 = 100_000.0;

    /// A picture as it is first laid: in the middle of a leg `length_mm` long with a face `across_mm` wide, its longer
    /// side as long as the leg.
    pub fn start(cut: Cut, picture: PictureHash, size_px: [u32; 2], length_mm: f64, across_mm: f64) -> Trace {
        let [width, height] = size_px.map(|px| f64::from(px.max(1)));
        // One that stands is laid down, so that the leg in it lies as it lies on the saw table.
        let (width_mm, turn_deg) = if height > width { (length_mm * width / height, -90.0) } else { (length_mm, 0.0) };
        let [least, most] = Trace::WIDTH_MM;
        Trace {
            cut,
            picture,
            from_top: Length::from_mm(length_mm / 2.0),
            offset: Length::from_mm(across_mm / 2.0),
            width: Length::from_mm(width_mm.max(least).min(most)),
            turn_deg,
            strength: START_STRENGTH,
            locked: false,
            hidden: false,
        }
    }

    /// Where a place of the picture lies on the face, (from top, offset), mm. Places on the picture are shares of its
    /// width and height from its upper left corner; `size_px` is its size.
    pub fn face_from_picture(&self, [x, y]: [f64; 2], size_px: [u32; 2]) -> [f64; 2] {
        let [width, height] = size_px.map(|px| f64::from(px.max(1)));
        let across = self.width.mm();
        let (right, down) = ((x - 0.5) * across, (y - 0.5) * across * height / width);
        let (sin, cos) = self.turn_deg.to_radians().sin_cos();
        [self.from_top.mm() + cos * right - sin * down, self.offset.mm() + sin * right + cos * down]
    }

    /// The picture scaled so that two places of the face, which mark two places of the picture, come to lie `distance`
    /// apart; the first of them stays where it is. Nothing where they are one place.
    ///
    /// Figures that come out beyond [`Trace::WIDTH_MM`] are left for the project to refuse.
    pub fn scaled(&self, [one, other]: [[f64; 2]; 2], distance: &Length) -> Option<Trace> {
        let factor = distance.mm() / (other[0] - one[0]).hypot(other[1] - one[1]);
        if !factor.is_finite() || factor <= 0.0 {
            return None;
        }
        let away = |from: f64, at: f64| Length::from_mm(from + (at - from) * factor);
        Some(Trace {
            from_top: away(one[0], self.from_top.mm()),
            offset: away(one[1], self.offset.mm()),
            width: Length::from_mm(self.width.mm() * factor),
            ..self.clone()
        })
    }

    /// The picture turned about the first of two places until the way from it to the other runs along the leg. Nothing
    /// where they are one place.
    pub fn laid_along(&self, [one, other]: [[f64; 2]; 2]) -> Option<Trace> {
        let [along, across] = [other[0] - one[0], other[1] - one[1]];
        if along == 0.0 && across == 0.0 {
            return None;
        }
        // The shorter way round: whichever of the two was nearer the top stays so.
        let by = if along < 0.0 { -(-across).atan2(-along) } else { -across.atan2(along) };
        let (sin, cos) = by.sin_cos();
        let [s, o] = [self.from_top.mm() - one[0], self.offset.mm() - one[1]];
        Some(Trace {
            from_top: Length::from_mm(one[0] + cos * s - sin * o),
            offset: Length::from_mm(one[1] + sin * s + cos * o),
            turn_deg: turned(self.turn_deg + by.to_degrees()),
            ..self.clone()
        })
    }

    /// The picture on a leg `factor` times as large.
    #[must_use]
    pub(crate) fn in_proportion(&self, factor: f64) -> Trace {
        Trace {
            from_top: self.from_top.scaled(factor),
            offset: self.offset.scaled(factor),
            width: self.width.scaled(factor),
            ..self.clone()
        }
    }

    /// Whether it lies as another one does.
    pub(crate) fn lies_as(&self, other: &Trace) -> bool {
        (self.cut, &self.from_top, &self.offset, &self.width)
            == (other.cut, &other.from_top, &other.offset, &other.width)
            && self.turn_deg == other.turn_deg
    }
}

/// An angle between -180 (left out) and 180 degrees.
fn turned(deg: f64) -> f64 {
    let deg = deg.rem_euclid(360.0);
    if deg > 180.0 { deg - 360.0 } else { deg }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn trace() -> Trace {
        Trace::start(Cut::First, PictureHash([7; 32]), [400, 300], 700.0, 50.0)
    }

    #[test]
    fn two_places_come_to_lie_as_far_apart_as_typed_and_the_first_stays() {
        for (turn_deg, one, other) in
            [(0.0, [0.1, 0.2], [0.9, 0.2]), (33.0, [0.5, 0.0], [0.2, 1.0]), (-90.0, [0.0, 0.0], [1.0, 1.0])]
        {
            let was = Trace { turn_deg, ..trace() };
            let size = [400, 300];
            let ends = [one, other].map(|place| was.face_from_picture(place, size));
            let is = was.scaled(ends, &Length::from_mm(123.0)).unwrap();
            let [a, b] = [one, other].map(|place| is.face_from_picture(place, size));
            assert!((a[0] - ends[0][0]).hypot(a[1] - ends[0][1]) < 1e-9);
            assert!(((b[0] - a[0]).hypot(b[1] - a[1]) - 123.0).abs() < 1e-9);
            // The way from one to the other is the same.
            let way = |[a, b]: [[f64; 2]; 2]| (b[1] - a[1]).atan2(b[0] - a[0]);
            assert!((way([a, b]) - way(ends)).abs() < 1e-12);
            let along = was.laid_along(ends).unwrap();
            let [a, b] = [one, other].map(|place| along.face_from_picture(place, size));
            assert!((a[0] - ends[0][0]).hypot(a[1] - ends[0][1]) < 1e-9);
            assert!((b[1] - a[1]).abs() < 1e-9, "{a:?} {b:?}");
        }
        let here = [10.0, 10.0];
        assert_eq!(trace().scaled([here, here], &Length::from_mm(5.0)), None);
        assert_eq!(trace().laid_along([here, here]), None);
    }

    #[test]
    fn a_picture_that_stands_is_laid_down() {
        let stands = Trace::start(Cut::Second, PictureHash([1; 32]), [300, 600], 700.0, 50.0);
        let [top, foot] = [[0.5, 0.0], [0.5, 1.0]].map(|place| stands.face_from_picture(place, [300, 600]));
        assert!((top[0]).abs() < 1e-9 && (foot[0] - 700.0).abs() < 1e-9);
        assert!((top[1] - 25.0).abs() < 1e-9 && (foot[1] - 25.0).abs() < 1e-9);
    }
}

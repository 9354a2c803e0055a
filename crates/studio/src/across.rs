//! How far rows are stretched across: a 700 by 50 mm face fitted to the window is a thin band.

use crate::ruler::Axis;
use crate::sheet::{Sheet, Spot};
use cornerwise_geometry::{Cut, Leg};
use egui::{Pos2, Rect, pos2};

/// How the faces and the sides are stretched across.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Across {
    /// To fill their row.
    #[default]
    Fill,
    /// Not at all: true shape.
    True,
    /// By a factor of the maker's own.
    Times(f64),
}

/// The most that rows are stretched to fill: beyond it, every curve looks wild.
const MOST_FILLED: f64 = 6.0;
/// The most that is stretched.
const MOST: f64 = 20.0;

impl Across {
    /// Points per millimetre across, where a row has `room_px` for `across_mm`.
    pub fn px_per_mm(self, axis: Axis, room_px: f32, across_mm: f64) -> f64 {
        let fill = (f64::from(room_px) / across_mm.max(1e-3)).max(1e-3);
        match self {
            Across::Fill => fill.min(axis.px_per_mm * MOST_FILLED),
            Across::True => axis.px_per_mm,
            Across::Times(factor) => axis.px_per_mm * factor.clamp(1.0, MOST),
        }
    }

    /// Stretched more or less than `now` times.
    pub fn changed(now: f64, factor: f64) -> Across {
        let times = (now * factor).clamp(1.0, MOST);
        if times <= 1.0 + 1e-9 { Across::True } else { Across::Times(times) }
    }
}

/// How many times rows are stretched across, in words.
pub fn stretch_words(stretch: f64) -> String {
    if (stretch - 1.0).abs() < 5e-3 {
        "true shape".to_owned()
    } else if stretch < 1.0 {
        format!("across × {stretch:.2}")
    } else {
        format!("across × {stretch:.1}")
    }
}

/// The two faces on screen, face 1 above face 2, arris 2 between them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ScreenFromFaces {
    /// Along.
    pub axis: Axis,
    /// Where arris 2 lies, points.
    pub arris_2_px: f32,
    /// Points per millimetre across.
    pub px_per_mm: f64,
    /// W, mm.
    pub width_mm: f64,
    /// D, mm.
    pub depth_mm: f64,
}

impl ScreenFromFaces {
    /// Both faces in the middle of `rect`, with room for lines that leave the blank; moved down by `shift_px` as far as
    /// they do not fit.
    pub fn new(axis: Axis, across: Across, rect: Rect, leg: &Leg, shift_px: f32) -> ScreenFromFaces {
        let (width_mm, depth_mm) = (leg.width_mm, leg.depth_mm);
        let room = (rect.height() - 2.0 * 26.0).max(20.0);
        let px_per_mm = across.px_per_mm(axis, room, width_mm + depth_mm);
        let hidden = (((width_mm + depth_mm) * px_per_mm) as f32 - room).max(0.0) / 2.0;
        let middle =
            f64::from(rect.center().y + shift_px.clamp(-hidden, hidden)) + (width_mm - depth_mm) / 2.0 * px_per_mm;
        ScreenFromFaces { axis, arris_2_px: middle.round() as f32, px_per_mm, width_mm, depth_mm }
    }

    /// Where arris 1 (of the first cut) or 2 (of the second) lies: the edge that a cut is measured from.
    fn edge_px(&self, cut: Cut) -> f64 {
        match cut {
            Cut::First => f64::from(self.arris_2_px) - self.width_mm * self.px_per_mm,
            Cut::Second => f64::from(self.arris_2_px),
        }
    }

    /// Where a place on the face of a cut lies on screen.
    pub fn pos(&self, cut: Cut, s_mm: f64, offset_mm: f64) -> Pos2 {
        pos2(self.axis.x(s_mm), (self.edge_px(cut) + offset_mm * self.px_per_mm) as f32)
    }

    /// Which distance from the top and from the edge lies at a place on screen, mm.
    pub fn place(&self, cut: Cut, at: Pos2) -> [f64; 2] {
        [self.axis.s(at.x), (f64::from(at.y) - self.edge_px(cut)) / self.px_per_mm]
    }

    /// How far the face of a cut is across, mm.
    pub fn across_mm(&self, cut: Cut) -> f64 {
        match cut {
            Cut::First => self.width_mm,
            Cut::Second => self.depth_mm,
        }
    }

    /// The face of a cut between two distances from the top.
    pub fn rect(&self, cut: Cut, from_mm: f64, to_mm: f64) -> Rect {
        Rect::from_min_max(self.pos(cut, from_mm, 0.0), self.pos(cut, to_mm, self.across_mm(cut)))
    }

    /// The face of a cut as a sheet for the hand.
    pub fn sheet(&self, cut: Cut) -> Sheet {
        let top = f64::from(self.axis.left_px) - self.axis.left_mm * self.axis.px_per_mm;
        Sheet {
            cut,
            spot: Spot::Face,
            origin: [top, self.edge_px(cut)],
            along: [self.axis.px_per_mm, 0.0],
            across: [0.0, self.px_per_mm],
        }
    }

    /// How many times the faces are stretched across.
    pub fn stretch(&self) -> f64 {
        self.px_per_mm / self.axis.px_per_mm
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ruler::{Ruler, Stretch};
    use cornerwise_geometry::{Blank, Line, Shape, ShapeKind};
    use egui::Rangef;

    fn faces(across: Across, height: f32) -> ScreenFromFaces {
        let blank = Blank { depth: 30.0.into(), ..Blank::square(50.0, 700.0) };
        let line = |mm| Line::Shape(Shape::start(ShapeKind::Cyma, 700.0, mm));
        let leg = Leg::new(&blank, &line(50.0), &line(30.0)).unwrap();
        let axis = Ruler::Whole.axis(Rangef::new(240.0, 980.0), Stretch { from_mm: -20.0, to_mm: 720.0 });
        let rect = Rect::from_min_max(pos2(240.0, 80.0), pos2(980.0, 80.0 + height));
        ScreenFromFaces::new(axis, across, rect, &leg, 0.0)
    }

    #[test]
    fn face_1_lies_above_face_2_and_they_share_arris_2() {
        let faces = faces(Across::Fill, 500.0);
        assert_eq!(faces.pos(Cut::First, 100.0, 50.0), faces.pos(Cut::Second, 100.0, 0.0));
        assert!(faces.pos(Cut::First, 100.0, 0.0).y < faces.pos(Cut::First, 100.0, 50.0).y, "arris 1 is up, away");
        assert!(faces.pos(Cut::Second, 100.0, 30.0).y > faces.arris_2_px, "arris 3 is down");
        assert!(faces.pos(Cut::First, 0.0, 0.0).x < faces.pos(Cut::First, 700.0, 0.0).x, "the top is left");
    }

    #[test]
    fn places_come_back() {
        for across in [Across::Fill, Across::True, Across::Times(2.5)] {
            let faces = faces(across, 420.0);
            for cut in Cut::ALL {
                for [s, offset] in [[0.0, 0.0], [123.4, 17.5], [-20.0, -3.0], [700.0, 50.0]] {
                    let back = faces.place(cut, faces.pos(cut, s, offset));
                    assert!((back[0] - s).abs() < 1e-3 && (back[1] - offset).abs() < 1e-3);
                    let sheet = faces.sheet(cut);
                    let at = sheet.pos([s, offset]);
                    assert!((at - faces.pos(cut, s, offset)).length() < 1e-3, "the hand works on what is drawn");
                    let back = sheet.place(at);
                    assert!((back[0] - s).abs() < 1e-3 && (back[1] - offset).abs() < 1e-3);
                }
            }
        }
    }

    #[test]
    fn true_shape_is_not_stretched_and_the_factor_says_so() {
        assert_eq!(faces(Across::True, 500.0).stretch(), 1.0);
        assert_eq!(faces(Across::Times(2.5), 500.0).stretch(), 2.5);
        assert!(faces(Across::Fill, 500.0).stretch() > 4.0);
        assert_eq!(Across::changed(1.2, 0.5), Across::True);
    }
}

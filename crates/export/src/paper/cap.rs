//! The end caps: the two ends of the blank at true size, each seen from outside.

use super::Job;
use super::face_strip::{saw_ink, saw_pen};
use super::pass_signs::badge;
use super::passes::{Pass, passes};
use crate::sheets::{Anchor, Drawing, Ink, Pen, Text, Typeface};
use cornerwise_geometry::{Cut, End, Face, Leg, Piece};
use kurbo::{BezPath, Point, Rect};

/// Paper round the end itself, for what is read before the cap is cut out: left and right, above, below, mm.
const MARGIN_MM: [f64; 3] = [13.0, 18.0, 7.0];

/// One end of the blank on paper. Coordinates are mm from the upper left corner of the end, face 1 up.
pub(crate) struct Cap<'a> {
    job: &'a Job<'a>,
    end: End,
}

impl<'a> Cap<'a> {
    pub fn new(job: &'a Job<'a>, end: End) -> Cap<'a> {
        Cap { job, end }
    }

    /// The paper it takes, notes included.
    pub fn extent(&self) -> Rect {
        self.around().union(self.draw().bounds().inflate(1.0, 1.0))
    }

    /// The end with even room round it.
    fn around(&self) -> Rect {
        let [side, above, below] = MARGIN_MM;
        let leg = self.job.leg;
        Rect::new(-side, -above, leg.width_mm + side, leg.depth_mm + below)
    }

    /// Where a point of the blank's end lies on paper. Seen from the foot, arris 1 is right: the blank is looked at from
    /// the other end, with face 1 still up; the paper is not mirrored.
    pub fn at(&self, x: f64, y: f64) -> Point {
        match self.end {
            End::Top => Point::new(x, y),
            End::Foot => Point::new(self.job.leg.width_mm - x, y),
        }
    }

    /// 1 where x across face 1 runs right on paper, -1 where it runs left.
    fn right(&self) -> f64 {
        match self.end {
            End::Top => 1.0,
            End::Foot => -1.0,
        }
    }

    /// Which end it is, for the page's head.
    pub fn words(&self) -> &'static str {
        match self.end {
            End::Top => "top",
            End::Foot => "foot",
        }
    }

    pub fn draw(&self) -> Drawing {
        let leg = self.job.leg;
        let (width, depth) = (leg.width_mm, leg.depth_mm);
        let mut drawing = Drawing::new();
        drawing.frame(Pen::GlueEdge, Rect::new(0.0, 0.0, width, depth));
        self.title(&mut drawing);
        self.faces(&mut drawing);
        self.roll_arrow(&mut drawing);
        self.triangle(&mut drawing);
        for cut in Cut::ALL {
            self.cut(cut, &mut drawing);
        }
        self.chamfers(&mut drawing);
        self.corners(&mut drawing);
        drawing
    }

    fn title(&self, drawing: &mut Drawing) {
        let words =
            format!("{} end of leg {}", if self.end == End::Top { "TOP" } else { "FOOT" }, self.job.names.label());
        let around = self.around();
        let at = Point::new(around.x0, around.y0 + 3.2);
        let title = Text::new(words, at, 2.8).typeface(Typeface::SansBold);
        let seen = format!("seen from the {}", self.end);
        let seen = Text::new(seen, Point::new(at.x + title.width_mm() + 2.5, at.y), 2.2).typeface(Typeface::Condensed);
        drawing.text(title);
        drawing.text(seen);
    }

    fn faces(&self, drawing: &mut Drawing) {
        let (width, depth) = (self.job.leg.width_mm, self.job.leg.depth_mm);
        let [x, y] = self.middle();
        let mut face = |words: String, at: Point, turn_deg: f64, anchor: Anchor| {
            let text = Text::new(words, at, 2.0).typeface(Typeface::Condensed);
            drawing.text(text.turned(turn_deg).anchor(anchor));
        };
        // Words on the faces that are drawn on start beside the number of the pass and run away from the roll arrow.
        // Face 2 is toward the maker, on the right seen from the top; its words read down there, up on the other side.
        let (near_x, far_x) = (self.at(width, 0.0).x + 1.8 * self.right(), self.at(0.0, 0.0).x - 1.8 * self.right());
        let near_turn = 90.0 * self.right();
        let (one, two) = match self.end {
            End::Top => (Anchor::End, Anchor::Start),
            End::Foot => (Anchor::Start, Anchor::End),
        };
        face(format!("{}, up", Face::One), self.at(x, 0.0) + (-3.4 * self.right(), -1.6), 0.0, one);
        face(format!("{}, toward you", Face::Two), Point::new(near_x, y + 3.4), near_turn, two);
        face(Face::Three.to_string(), Point::new(width / 2.0, depth + 3.6), 0.0, Anchor::Middle);
        face(Face::Four.to_string(), Point::new(far_x, depth / 2.0), -near_turn, Anchor::Middle);
    }

    /// The way to roll the blank for the second cut: face 2, toward the maker, comes up.
    fn roll_arrow(&self, drawing: &mut Drawing) {
        let leg = self.job.leg;
        let right = self.right();
        // Round the corner of arris 2, outside the end.
        let corner = self.at(leg.width_mm, 0.0);
        let reach = 9.0;
        let mut arc = BezPath::new();
        let (from, to) = (corner + (right * reach, 8.0), corner + (right * -8.0, -reach));
        let turn = corner + (right * reach, -reach);
        arc.move_to(from);
        arc.quad_to(turn, to);
        drawing.path(Pen::Figure, arc);
        drawing.arrow_head(Ink::Black, to, if right > 0.0 { 180.0 } else { 0.0 }, 3.2);
        let words = Text::new("roll away from you", Point::new(to.x - right * 4.5, to.y + 0.9), 2.0);
        let words = words.typeface(Typeface::CondensedBold);
        drawing.text(words.anchor(if right > 0.0 { Anchor::End } else { Anchor::Start }));
    }

    /// Where the two saw lines meet this end of the blank, (x, y).
    fn middle(&self) -> [f64; 2] {
        let s = end_of_blank(self.job.leg, self.end);
        [self.job.leg.a(s), self.job.leg.b(s)]
    }

    /// The triangle across all four pieces, its tip toward face 1: it comes together again only when every piece is
    /// back in its place.
    fn triangle(&self, drawing: &mut Drawing) {
        let (width, depth) = (self.job.leg.width_mm, self.job.leg.depth_mm);
        let [x, y] = self.middle();
        let reach = 0.5 * [x, width - x, y, depth - y].into_iter().fold(f64::INFINITY, f64::min);
        if reach < 1.0 {
            return;
        }
        let at = |dx: f64, dy: f64| self.at(x + dx * reach, y + dy * reach);
        drawing.outline(Pen::Triangle, &[at(0.0, -1.1), at(1.0, 0.8), at(-1.0, 0.8)]);
    }

    /// One cut across the end, and the pass that enters or leaves here.
    fn cut(&self, cut: Cut, drawing: &mut Drawing) {
        let (width, depth) = (self.job.leg.width_mm, self.job.leg.depth_mm);
        let [x, y] = self.middle();
        let right = self.right();
        // From the face it is drawn on to the opposite one.
        let (from, to, out) = match cut {
            Cut::First => (self.at(x, 0.0), self.at(x, depth), (0.0, -1.0)),
            Cut::Second => (self.at(width, y), self.at(0.0, y), (right, 0.0)),
        };
        drawing.line(saw_pen(cut), from, to);
        let Some(pass) = entering(self.job.leg, cut, self.end) else {
            return;
        };
        let away = |mm: f64| Point::new(from.x + out.0 * mm, from.y + out.1 * mm);
        let toward = f64::atan2(-out.1, -out.0).to_degrees();
        drawing.arrow_head(saw_ink(cut), away(0.3), toward, 1.9);
        badge(drawing, away(4.6), 4.2, pass.number);
    }

    /// The chamfer of a pipe hole across each corner, as far along both faces.
    fn chamfers(&self, drawing: &mut Drawing) {
        let (width, depth, c) = (self.job.leg.width_mm, self.job.leg.depth_mm, self.job.chamfer_mm());
        if c <= 0.0 {
            return;
        }
        for [x, y] in Piece::ALL.map(|piece| piece.corner(width, depth)) {
            let inward = |at: f64, across: f64| if at < across / 2.0 { at + c } else { at - c };
            drawing.line(Pen::Chamfer, self.at(inward(x, width), y), self.at(x, inward(y, depth)));
        }
    }

    fn corners(&self, drawing: &mut Drawing) {
        let (width, depth) = (self.job.leg.width_mm, self.job.leg.depth_mm);
        let cap = (0.09 * width.min(depth)).clamp(1.0, 4.5);
        let chamfer = self.job.chamfer_mm();
        // Clear of the chamfer, which goes from leg to leg across the corner.
        let inset = if chamfer > 0.0 { 0.5 * chamfer + 0.9 } else { 0.45 * cap + 0.6 };
        for piece in Piece::ALL {
            let corner = piece.corner(width, depth);
            let at = self.at(corner[0], corner[1]);
            let left = at.x < width / 2.0;
            let up = at.y < depth / 2.0;
            let base = if up { at.y + inset + cap } else { at.y - inset };
            let x = if left { at.x + inset } else { at.x - inset };
            let text = Text::new(self.job.piece(piece.number()), Point::new(x, base), cap);
            let anchor = if left { Anchor::Start } else { Anchor::End };
            // A long name keeps off the cut.
            let [reach, _] = piece.reach(width, depth, self.middle()[0], self.middle()[1]).map(f64::abs);
            let text = text.typeface(Typeface::SansBold).anchor(anchor).fitted((reach - inset - 1.0).max(1.0), 0.6);
            drawing.text(text);
            if self.job.inside_is_told() && piece == self.job.fit.inside {
                let base = if up { base + 0.95 * cap } else { base - 1.45 * cap };
                let inside = Text::new("inside", Point::new(x, base), 0.45 * cap).typeface(Typeface::Condensed);
                drawing.text(inside.anchor(anchor));
            }
        }
    }
}

/// From the top to an end of the blank, spare length included, mm.
fn end_of_blank(leg: &Leg, end: End) -> f64 {
    match end {
        End::Top => -leg.spare_top_mm,
        End::Foot => leg.length_mm + leg.spare_foot_mm,
    }
}

/// The pass of a cut that enters at an end.
fn entering(leg: &Leg, cut: Cut, end: End) -> Option<Pass> {
    passes(leg).into_iter().find(|pass| pass.cut == cut && pass.enters == end)
}

//! Labels that find no room on a narrow face: written on the paper beside it, with a line to what they name.

use super::label::Label;
use super::placer::{Placer, outward};
use super::strip::{EDGE_ROOM_MM, FaceStrip, Strip};
use crate::sheets::{Drawing, Ink, Pen};
use cornerwise_geometry::Cut;
use kurbo::{Affine, ParamCurve, Point, Rect};

/// From the strip's edge to the nearest label beside it, mm.
const AIR_MM: f64 = 0.8;
/// Labels are tried smaller down to this share: the strip's joining marks leave little height.
const SMALLER: [f64; 3] = [1.0, 0.8, 0.64];
/// A leader keeps this far from words, mm.
const LEADER_CLEAR_MM: f64 = 0.3;
/// The dot at a leader's end, mm across its half.
const DOT_MM: f64 = 0.35;

/// The paper beside one face: above face 1, below face 2.
pub(crate) struct Outside {
    placer: Placer,
    cut: Cut,
    /// The face's edge on that side, mm across the strip.
    edge_y: f64,
    /// How deep the paper is there, mm.
    deep: f64,
}

impl Outside {
    /// The room beside a face within the part of the strip that is a page's own, clear of what is drawn there already.
    pub fn new(strip: &Strip<'_>, face: &FaceStrip, own: Rect, drawn: &Drawing) -> Outside {
        let [from, to] = strip.ends();
        let (edge_y, y0, y1) = match face.cut {
            Cut::First => (face.first(), face.first() - EDGE_ROOM_MM, face.first() - AIR_MM),
            Cut::Second => (face.last(), face.last() + AIR_MM, strip.last_y() + EDGE_ROOM_MM),
        };
        let room = Rect::new(from, y0, to, y1).intersect(own.inflate(-0.8, -0.4));
        let mut placer = Placer::new(room, Vec::new());
        for mark in &drawn.marks {
            placer.take(mark.bounds());
        }
        Outside { placer, cut: face.cut, edge_y, deep: (y1 - y0).max(0.0) }
    }

    /// Writes a label near `start` with a leader to what it names, which may depend on where the label's middle comes to
    /// lie, and keeps later labels off the leader. Gives what is drawn, or nothing where there is no room.
    pub fn put(
        &mut self,
        on_face: &mut Placer,
        make: impl Fn(f64) -> Label,
        start: impl Fn(&Label) -> f64,
        reach: f64,
        target: impl Fn(f64) -> Option<Point>,
    ) -> Option<Drawing> {
        for share in SMALLER {
            let label = make(share);
            let [width, height] = label.size;
            for along in outward(2.0, reach) {
                let x = start(&label) + along;
                let Some(target) = target(x + width / 2.0) else { continue };
                for row in 0..=(self.deep - height).max(0.0) as usize {
                    let off = AIR_MM + row as f64;
                    let y = if self.cut == Cut::First { self.edge_y - off - height } else { self.edge_y + off };
                    let rect = Rect::new(x, y, x + width, y + height);
                    let leader = self.leader(rect, target);
                    // The label lies farther out than what it names.
                    let beyond = if self.cut == Cut::First { leader.p0.y <= target.y } else { leader.p0.y >= target.y };
                    if beyond && self.placer.is_free(rect) && self.is_clear(on_face, leader) {
                        self.placer.take(rect);
                        for spot in spots(leader) {
                            self.placer.take(spot);
                            on_face.take(spot);
                        }
                        let mut drawing = Drawing::new();
                        drawing.add(&label.drawing, Affine::translate((x, y)));
                        drawing.line(Pen::Leader, leader.p0, leader.p1);
                        drawing.dot(Ink::Black, leader.p1, DOT_MM);
                        return Some(drawing);
                    }
                }
            }
        }
        None
    }

    /// From the label's edge toward the face, as straight across as may be.
    fn leader(&self, label: Rect, target: Point) -> kurbo::Line {
        let y = if self.cut == Cut::First { label.y1 + 0.2 } else { label.y0 - 0.2 };
        kurbo::Line::new((target.x.clamp(label.x0, label.x1), y), target)
    }

    fn is_clear(&self, on_face: &Placer, leader: kurbo::Line) -> bool {
        // Its own end may touch what it names, such as the line of a finished end.
        spots(leader)
            .filter(|spot| spot.center().distance(leader.p1) > 1.0)
            .all(|spot| !self.placer.is_taken(spot) && !on_face.is_taken(spot))
    }
}

/// Small squares along a leader.
fn spots(leader: kurbo::Line) -> impl Iterator<Item = Rect> {
    let steps = (leader.p0.distance(leader.p1) / LEADER_CLEAR_MM).ceil().max(1.0) as usize;
    (0..=steps).map(move |i| {
        let at = leader.eval(i as f64 / steps as f64);
        Rect::from_center_size(at, (2.0 * LEADER_CLEAR_MM, 2.0 * LEADER_CLEAR_MM))
    })
}

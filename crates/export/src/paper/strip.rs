//! The strip: face 1 and face 2 at true size. Its coordinates are x from the finished top along the blank and y across
//! it from arris 1, as on screen: top end left, face 1 above face 2.

use super::passes::{Pass, passes};
use super::{Job, face_strip, labels};
use crate::sheets::{Drawing, Pen, clipped};
use cornerwise_geometry::{Arris, Cut};
use cornerwise_project::StripLayout;
use kurbo::{Rect, Shape};

/// Paper beyond the strip's edges across the blank, for the straightedge line and the joining marks, mm.
pub(crate) const EDGE_ROOM_MM: f64 = 10.0;
/// Paper beyond the ends of the blank, mm.
pub(crate) const END_ROOM_MM: f64 = 3.0;
/// Paper between two strips that are cut out separately, mm.
const BETWEEN_MM: f64 = 12.0;

/// One face of the strip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct FaceStrip {
    /// The cut that is drawn on it.
    pub cut: Cut,
    /// Where its first arris lies, mm across the strip.
    pub y0: f64,
    /// From arris to arris, mm.
    pub across: f64,
    /// How far inside its arrises the paper ends, mm: on a chamfered blank, where the flat does.
    pub inset: f64,
    /// Its two edges, the one nearer arris 1 first.
    pub edges: [Edge; 2],
}

impl FaceStrip {
    /// Where its paper begins, mm across the strip.
    pub fn first(&self) -> f64 {
        self.y0 + self.inset
    }

    /// Where chamfers of this leg end on the face, as far as the paper shows it: none where the paper ends there.
    pub fn chamfer_lines(&self, chamfer_mm: f64) -> Vec<f64> {
        let shown = chamfer_mm > 0.0 && self.inset == 0.0;
        if shown { vec![self.y0 + chamfer_mm, self.y0 + self.across - chamfer_mm] } else { Vec::new() }
    }

    /// Where its paper ends, mm across the strip.
    pub fn last(&self) -> f64 {
        self.y0 + self.across - self.inset
    }
}

/// An edge of a face on paper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Edge {
    pub arris: Arris,
    pub kind: EdgeKind,
}

/// What becomes of an edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum EdgeKind {
    /// The paper goes on over the arris.
    Fold,
    /// Cut out exactly and laid on the arris.
    Glue,
    /// Cut out; the arris may lie a little inside or outside, as the blank does.
    Loose,
}

/// The whole strip of a leg.
pub(crate) struct Strip<'a> {
    pub job: &'a Job<'a>,
    pub faces: [FaceStrip; 2],
    pub passes: Vec<Pass>,
}

impl<'a> Strip<'a> {
    /// The strip in the layout of the maker's choice.
    pub fn new(job: &'a Job<'a>) -> Strip<'a> {
        let (width, depth) = (job.leg.width_mm, job.leg.depth_mm);
        let edge = |arris, kind| Edge { arris, kind };
        let held = |arris, by| edge(arris, if arris == by { EdgeKind::Glue } else { EdgeKind::Loose });
        // A chamfered blank has lost its arrises: a strip of its own for each face goes on the flat that is left. A strip
        // round both is laid out before chamfering.
        let inset = match job.choice.layout {
            StripLayout::Wrapped => 0.0,
            StripLayout::PerFace { .. } => job.chamfer_mm().min(0.4 * width.min(depth)),
        };
        let (between, edges) = match job.choice.layout {
            StripLayout::Wrapped => {
                let fold = edge(Arris::Two, EdgeKind::Fold);
                let outer = |arris| edge(arris, EdgeKind::Glue);
                (0.0, [[outer(Arris::One), fold], [fold, outer(Arris::Three)]])
            }
            StripLayout::PerFace { face_1_by, face_2_by } => (
                BETWEEN_MM,
                [
                    [held(Arris::One, face_1_by), held(Arris::Two, face_1_by)],
                    [held(Arris::Two, face_2_by), held(Arris::Three, face_2_by)],
                ],
            ),
        };
        let faces = [
            FaceStrip { cut: Cut::First, y0: 0.0, across: width, inset, edges: edges[0] },
            FaceStrip { cut: Cut::Second, y0: width + between, across: depth, inset, edges: edges[1] },
        ];
        Strip { job, faces, passes: passes(job.leg) }
    }

    /// From the end of the blank beyond the top to the end beyond the foot, mm from the top.
    pub fn ends(&self) -> [f64; 2] {
        [-self.job.leg.spare_top_mm, self.job.leg.length_mm + self.job.leg.spare_foot_mm]
    }

    /// The paper that the strip takes, marks round it included.
    pub fn extent(&self) -> Rect {
        let [from, to] = self.ends();
        Rect::new(
            from - END_ROOM_MM,
            self.faces[0].first() - EDGE_ROOM_MM,
            to + END_ROOM_MM,
            self.last_y() + EDGE_ROOM_MM,
        )
    }

    /// The last edge across the strip, mm.
    pub fn last_y(&self) -> f64 {
        let [_, last] = &self.faces;
        last.last()
    }

    /// The rectangle of one face's paper.
    pub fn rect(&self, face: &FaceStrip) -> Rect {
        let [from, to] = self.ends();
        Rect::new(from, face.first(), to, face.last())
    }

    /// Everything of the strip in a window. Labels lie in the part of it that is this page's own once pages are joined,
    /// those beside the strip clear of what is `drawn` there.
    pub fn draw(&self, window: Rect, own: Rect, drawn: &Drawing) -> Drawing {
        let mut drawing = Drawing::new();
        self.outline(&mut drawing, window);
        for face in &self.faces {
            face_strip::draw(self, face, window, &mut drawing);
        }
        for face in &self.faces {
            labels::draw(self, face, own, drawn, &mut drawing);
        }
        drawing
    }

    fn outline(&self, drawing: &mut Drawing, window: Rect) {
        let [from, to] = self.ends();
        let mut line = |pen: Pen, from: (f64, f64), to: (f64, f64)| {
            drawing.path(pen, clipped(&kurbo::Line::new(from, to).to_path(0.1), window));
        };
        for face in &self.faces {
            let rect = self.rect(face);
            for (edge, y) in face.edges.iter().zip([rect.y0, rect.y1]) {
                let pen = match edge.kind {
                    EdgeKind::Glue => Pen::GlueEdge,
                    EdgeKind::Loose => Pen::CutOut,
                    // Both faces have the fold; it is drawn once.
                    EdgeKind::Fold if face.cut == Cut::First => Pen::Fold,
                    EdgeKind::Fold => continue,
                };
                line(pen, (from, y), (to, y));
            }
            for x in [from, to] {
                line(Pen::CutOut, (x, rect.y0), (x, rect.y1));
            }
        }
    }
}

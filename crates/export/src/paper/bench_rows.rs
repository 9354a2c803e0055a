//! Strips for the bench beside the template: the crosscut strip of the inside piece, cauls, and the flip-over master. Their
//! coordinates are x from the finished top along the leg, and y across the paper.

use super::Job;
use crate::sheets::{Drawing, Pen, clipped};
use cornerwise_geometry::fit::SAME_LINE_MM;
use cornerwise_geometry::{Arris, Cut, Face, Leg, Piece};
use kurbo::{Affine, BezPath, Rect, Shape};

/// Wood beyond the curve of a caul on either side, mm: what a clamp wants. Common practice, no source.
const CAUL_MM: f64 = 20.0;
/// The widest and the narrowest crosscut strip, mm.
const CROSSCUT_MM: [f64; 2] = [16.0, 4.0];
/// Places along the leg that are looked at for its narrowest.
const PLACES: usize = 401;

/// What a strip is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum What {
    /// For the inside piece, on a face of the blank that it carries, along its own arris.
    Crosscut {
        /// The face.
        face: Face,
    },
    /// For two opposite sides; for all four where both cuts are one curve.
    Caul {
        /// The cut that sawed them.
        cut: Cut,
        /// Whether the other cut is the same curve.
        both: bool,
    },
    /// The saw line with a straight edge, to be traced.
    Master {
        /// The cut.
        cut: Cut,
        /// Whether the other cut is the same curve.
        both: bool,
        /// Whether the straight edge is the face's first arris.
        first_side: bool,
    },
}

/// One strip.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Row {
    pub what: What,
    /// Where it begins across the paper, mm.
    pub y0: f64,
    /// Its width, mm.
    pub high: f64,
    /// From where to where along the leg, mm from the top.
    pub span: [f64; 2],
}

/// The crosscut strip, where anything is notched.
pub(crate) fn crosscut(job: &Job<'_>) -> Option<Row> {
    if job.fit.notches.is_empty() {
        return None;
    }
    let (leg, piece) = (job.leg, job.fit.inside);
    // The piece holds its own arris between two faces; the strip goes on the one that it has more of.
    let width = |face: Face| {
        let reach = |s: f64| {
            let [u, v] = piece.reach(leg.width_mm, leg.depth_mm, leg.a(s), leg.b(s)).map(f64::abs);
            if matches!(face, Face::One | Face::Three) { u } else { v }
        };
        leg.uniform_stations(PLACES).into_iter().map(reach).fold(f64::INFINITY, f64::min)
    };
    let [own, other] = faces_of(piece);
    let face = if width(own) >= width(other) { own } else { other };
    let [most, least] = CROSSCUT_MM;
    let high = (width(face) - job.chamfer_mm() - 1.0).clamp(least, most);
    Some(Row { what: What::Crosscut { face }, y0: 0.0, high, span: blank(leg) })
}

/// The two faces of the blank that meet at a piece's arris.
pub(crate) fn faces_of(piece: Piece) -> [Face; 2] {
    match piece {
        Piece::One => [Face::One, Face::Four],
        Piece::Two => [Face::Two, Face::One],
        Piece::Three => [Face::Three, Face::Two],
        Piece::Four => [Face::Four, Face::Three],
    }
}

/// The cauls: one for each cut, one alone where both are one curve.
pub(crate) fn cauls(job: &Job<'_>) -> Vec<Row> {
    let both = is_one_curve(job.leg);
    let cuts: &[Cut] = if both { &[Cut::First] } else { &Cut::ALL };
    let row = |cut: &Cut| {
        let extent = job.leg.line(*cut).extent();
        let high = extent.most - extent.least + 2.0 * CAUL_MM;
        Row { what: What::Caul { cut: *cut, both }, y0: 0.0, high, span: [0.0, job.leg.length_mm] }
    };
    cuts.iter().map(row).collect()
}

/// The masters: one for each cut, one alone where both are one curve.
pub(crate) fn masters(job: &Job<'_>) -> Vec<Row> {
    let both = is_one_curve(job.leg);
    let cuts: &[Cut] = if both { &[Cut::First] } else { &Cut::ALL };
    let row = |cut: &Cut| {
        let (extent, across) = (job.leg.line(*cut).extent(), job.leg.across_mm(*cut));
        // From the arris that leaves the stiffer master.
        let first_side = extent.least >= across - extent.most;
        let high = if first_side { extent.most } else { across - extent.least };
        let what = What::Master { cut: *cut, both, first_side };
        Row { what, y0: 0.0, high: high.max(1.0), span: blank(job.leg) }
    };
    cuts.iter().map(row).collect()
}

/// Whether both cuts are one curve on faces of one width.
fn is_one_curve(leg: &Leg) -> bool {
    let same = |s: &f64| (leg.a(*s) - leg.b(*s)).abs() <= SAME_LINE_MM;
    (leg.width_mm - leg.depth_mm).abs() <= SAME_LINE_MM && leg.uniform_stations(PLACES).iter().all(same)
}

fn blank(leg: &Leg) -> [f64; 2] {
    [-leg.spare_top_mm, leg.length_mm + leg.spare_foot_mm]
}

impl Row {
    /// Its paper.
    pub fn rect(&self) -> Rect {
        Rect::new(self.span[0], self.y0, self.span[1], self.y0 + self.high)
    }

    /// What the pages are called, `crosscut strip`.
    pub fn name(&self) -> &'static str {
        match self.what {
            What::Crosscut { .. } => "crosscut strip",
            What::Caul { .. } => "cauls",
            What::Master { .. } => "flip-over master",
        }
    }

    /// From the cut's offset to the paper: how much is added, and whether the offset is taken off. A caul is the mirrored
    /// line: the side stands at -a from the axis, and its opposite one width farther.
    fn curve(&self, leg: &Leg) -> Option<(Cut, f64, f64)> {
        match self.what {
            What::Crosscut { .. } => None,
            What::Caul { cut, .. } => Some((cut, self.y0 + CAUL_MM + leg.line(cut).extent().most, -1.0)),
            What::Master { cut, first_side: true, .. } => Some((cut, self.y0, 1.0)),
            What::Master { cut, first_side: false, .. } => Some((cut, self.y0 + self.high - leg.across_mm(cut), 1.0)),
        }
    }

    /// Where its curve is across the paper at `s`, mm; none on a crosscut strip.
    pub fn curve_at(&self, leg: &Leg, s: f64) -> Option<f64> {
        self.curve(leg).map(|(cut, from, sign)| from + sign * leg.line(cut).offset(s))
    }

    /// The lines of the strip within a window.
    pub fn draw(&self, job: &Job<'_>, window: Rect, drawing: &mut Drawing) {
        let (rect, [from, to]) = (self.rect(), self.span);
        let mut line = |pen: Pen, from: (f64, f64), to: (f64, f64)| {
            drawing.path(pen, clipped(&kurbo::Line::new(from, to).to_path(0.1), window));
        };
        let curve_at = |s: f64| self.curve_at(job.leg, s).unwrap_or(rect.y1);
        match self.what {
            What::Crosscut { .. } => {
                line(Pen::GlueEdge, (from, rect.y0), (to, rect.y0));
                line(Pen::CutOut, (from, rect.y1), (to, rect.y1));
                line(Pen::CutOut, (from, rect.y0), (from, rect.y1));
                line(Pen::CutOut, (to, rect.y0), (to, rect.y1));
            }
            What::Caul { .. } => {
                for y in [rect.y0, rect.y1] {
                    line(Pen::CutOut, (from, y), (to, y));
                }
                for x in [from, to] {
                    line(Pen::FinishedEnd, (x, rect.y0), (x, rect.y1));
                }
            }
            What::Master { first_side, .. } => {
                let straight = if first_side { rect.y0 } else { rect.y1 };
                line(Pen::GlueEdge, (from, straight), (to, straight));
                for x in [from, to] {
                    line(Pen::CutOut, (x, straight), (x, curve_at(x)));
                }
                for x in [0.0, job.leg.length_mm] {
                    line(Pen::FinishedEnd, (x, straight), (x, curve_at(x)));
                }
            }
        }
        if matches!(self.what, What::Crosscut { .. }) {
            for x in [0.0, job.leg.length_mm] {
                line(Pen::FinishedEnd, (x, rect.y0), (x, rect.y1));
            }
        }
        drawing.path(Pen::Curve, self.path(job.leg, window));
    }

    /// Its curve within a window, at true size.
    fn path(&self, leg: &Leg, window: Rect) -> BezPath {
        let Some((cut, from, sign)) = self.curve(leg) else { return BezPath::new() };
        let (x0, x1) = (self.span[0].max(window.x0), self.span[1].min(window.x1));
        if x1 <= x0 {
            return BezPath::new();
        }
        let line = leg.line(cut).path(x0, x1);
        clipped(
            &(Affine::new([1.0, 0.0, 0.0, sign, 0.0, from]) * line),
            self.rect().inflate(1e-6, 1e-6).intersect(window),
        )
    }

    /// What is written on it, what it is first.
    pub fn words(&self, job: &Job<'_>) -> Vec<String> {
        let show = |mm: f64| job.units.show_with_unit(mm);
        let label = job.names.label();
        match self.what {
            What::Crosscut { face } => {
                let piece = job.fit.inside;
                let arris = Arris::ALL[piece.index()];
                let edge = if job.chamfer_mm() > 0.0 { "the flat's edge beside" } else { "" };
                vec![
                    format!("crosscut strip, {} inside", job.piece(piece.number())),
                    format!("glue this edge to {edge} {arris}, on {face}").replace("  ", " "),
                ]
            }
            What::Caul { cut, both } => {
                let thick = match cut {
                    Cut::First => job.leg.depth_mm,
                    Cut::Second => job.leg.width_mm,
                };
                let sides = match (cut, both) {
                    (_, true) => "all four sides: saw two",
                    (Cut::First, _) => "sides 4 and 2, seen from side 1",
                    (Cut::Second, _) => "sides 1 and 3, seen from side 2",
                };
                vec![
                    format!("caul of leg {label}, {sides}"),
                    format!("scrap {} thick, sawn on the line; pad it", show(thick)),
                ]
            }
            What::Master { cut, both, first_side } => {
                let arris = |cut: Cut, first: bool| match (cut, first) {
                    (Cut::First, true) => Arris::One,
                    (Cut::First, false) | (Cut::Second, true) => Arris::Two,
                    (Cut::Second, false) => Arris::Three,
                };
                let [here, flipped] = [arris(cut, first_side), arris(cut, !first_side)];
                let face = cut.face();
                let which = if both { "both cuts".to_owned() } else { cut.to_string() };
                let mut words = vec![
                    format!("flip-over master of leg {label}, {which}"),
                    format!("straight edge on {here} of {face}; flipped over, on {flipped}, it draws the mirrored leg"),
                    "glue on hardboard, saw out, trace".to_owned(),
                ];
                if both {
                    let second = arris(Cut::Second, first_side);
                    words.push(format!("the same on face 2, straight edge on {second}"));
                }
                words
            }
        }
    }

    /// What the two parts of a caul press on, above its curve and below.
    pub fn beside(&self) -> Option<[&'static str; 2]> {
        match self.what {
            What::Caul { both: true, .. } => Some(["presses sides 4 and 1", "presses sides 2 and 3"]),
            What::Caul { cut: Cut::First, .. } => Some(["presses side 4", "presses side 2"]),
            What::Caul { cut: Cut::Second, .. } => Some(["presses side 1", "presses side 3"]),
            _ => None,
        }
    }
}

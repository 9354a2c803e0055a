//! What is written on one face of the strip. Every label keeps clear of the saw line, of the ticks and of the others.

use super::face_strip::saw_ink;
use super::pass_signs::{entry_sign, exit_sign};
use super::passes::Pass;
use super::placer::{Placer, outward};
use super::scale_ticks::{Rank, longest_tick_mm, scale_words, ticks};
use super::strip::{EdgeKind, FaceStrip, Strip};
use crate::sheets::{Drawing, Mark, Text, Typeface};
use cornerwise_geometry::{Cut, End, Piece};
use kurbo::{Affine, Point, Rect};

/// Capitals of what must be read at arm's length, mm.
const ESSENTIAL_MM: f64 = 3.2;
/// Capitals of piece numbers, mm.
const PIECE_MM: f64 = 4.2;
/// Capitals of everything else, mm.
const SMALL_MM: f64 = 2.5;
/// On a narrow face a label that finds no room is tried smaller, as shares of its size.
const SMALLER: [f64; 4] = [1.0, 0.8, 0.64, 0.5];
/// A label of each kind at least this often along the strip, mm.
const EVERY_MM: f64 = 130.0;
/// Points of the saw line this close, mm, keep labels off it.
const LINE_STEP_MM: f64 = 0.5;

/// Writes the labels of one face within the part of the strip that is a page's own.
pub(crate) fn draw(strip: &Strip<'_>, face: &FaceStrip, own: Rect, drawing: &mut Drawing) {
    let part = strip.rect(face).intersect(own);
    if part.is_zero_area() {
        return;
    }
    let mut writer = Writer::new(strip, face, part);
    writer.numbers();
    writer.finished_ends();
    for pass in strip.passes.iter().filter(|pass| pass.cut == face.cut) {
        writer.pass(pass);
    }
    writer.sharp_point();
    writer.edges();
    writer.pieces();
    writer.face_and_cut();
    writer.names();
    drawing.marks.extend(writer.drawing.marks);
}

struct Writer<'a> {
    strip: &'a Strip<'a>,
    face: &'a FaceStrip,
    part: Rect,
    placer: Placer,
    drawing: Drawing,
    /// The longest tick, mm.
    tick: f64,
}

/// A label with its upper left corner at the origin.
pub(crate) struct Label {
    pub drawing: Drawing,
    /// Along and across, mm.
    pub size: [f64; 2],
}

impl Label {
    fn text(text: Text) -> Label {
        let size = [text.width_mm(), 1.3 * text.cap_mm];
        let text = Text { at: Point::new(0.0, text.cap_mm), ..text };
        Label { drawing: Drawing { marks: vec![Mark::Text(text)] }, size }
    }
}

/// Where a label lies across the face.
#[derive(Clone, Copy)]
enum Row {
    /// Above the saw line, clear of it by this many mm.
    AboveLine(f64),
    /// Below the saw line.
    BelowLine(f64),
    /// Half-way between the first edge and the line.
    MiddleAbove,
    /// Half-way between the line and the last edge.
    MiddleBelow,
    /// Inside the ticks of the first edge.
    FirstEdge,
    /// Inside the ticks of the last edge.
    LastEdge,
}

/// Close to the saw line, whichever side has room.
const AT_LINE: [Row; 6] = [
    Row::BelowLine(1.1),
    Row::AboveLine(1.1),
    Row::BelowLine(2.2),
    Row::AboveLine(2.2),
    Row::BelowLine(4.0),
    Row::AboveLine(4.0),
];
/// Anywhere, clear of the line first.
const ANYWHERE: [Row; 6] =
    [Row::MiddleBelow, Row::MiddleAbove, Row::BelowLine(1.2), Row::AboveLine(1.2), Row::FirstEdge, Row::LastEdge];

impl<'a> Writer<'a> {
    fn new(strip: &'a Strip<'a>, face: &'a FaceStrip, part: Rect) -> Writer<'a> {
        let line = strip.job.leg.line(face.cut);
        let steps = ((part.width() / LINE_STEP_MM).ceil() as usize).max(1);
        let samples = (0..=steps)
            .map(|i| part.x0 + part.width() * i as f64 / steps as f64)
            .map(|s| [s, face.y0 + line.offset(s)])
            .collect();
        let mut placer = Placer::new(part.inflate(-0.8, -0.4), samples);
        for s in [0.0, strip.job.leg.length_mm] {
            placer.take(Rect::new(s - 0.25, part.y0, s + 0.25, part.y1));
        }
        if let Some(s) = line.sharp_point() {
            placer.take(Rect::from_center_size((s, face.y0 + line.offset(s)), (3.2, 3.2)));
        }
        Writer { strip, face, part, placer, drawing: Drawing::new(), tick: longest_tick_mm(face.across) }
    }

    /// Whether the part holds a place along the blank.
    fn holds(&self, s: f64) -> bool {
        (self.part.x0 - 1e-9..=self.part.x1 + 1e-9).contains(&s)
    }

    /// Places a label as large as finds room within `reach` of where its start is wished, or leaves it out.
    fn put(&mut self, make: impl Fn(f64) -> Label, start: impl Fn(&Label) -> f64, reach: f64, rows: &[Row]) {
        for share in SMALLER {
            let label = make(share);
            let wishes = self.near(start(&label), label.size, reach, rows);
            if let Some(rect) = self.placer.place(label.size, wishes) {
                self.drawing.add(&label.drawing, Affine::translate((rect.x0, rect.y0)));
                return;
            }
        }
    }

    /// Corners for a label of a size near `s`, between the ticks.
    fn near(&self, s: f64, size: [f64; 2], reach: f64, rows: &[Row]) -> Vec<[f64; 2]> {
        let (top, bottom) = (self.face.y0 + self.tick + 0.8, self.face.y0 + self.face.across - self.tick - 0.8);
        let mut wishes = Vec::new();
        for along in outward(2.0, reach) {
            let x = s + along;
            let Some(line) = self.placer.line_at(x + size[0] / 2.0) else { continue };
            let line = line.clamp(self.face.y0, self.face.y0 + self.face.across);
            for row in rows {
                let y = match row {
                    Row::AboveLine(gap) => line - gap - size[1],
                    Row::BelowLine(gap) => line + gap,
                    Row::MiddleAbove => (top + line - size[1]) / 2.0,
                    Row::MiddleBelow => (line + bottom - size[1]) / 2.0,
                    Row::FirstEdge => top,
                    Row::LastEdge => bottom - size[1],
                };
                if y >= top - 1e-9 && y + size[1] <= bottom + 1e-9 {
                    wishes.push([x, y]);
                }
            }
        }
        wishes
    }

    /// The numbers of the scale, beside their ticks on the edge away from the other face, or on the other edge.
    fn numbers(&mut self) {
        let cap = (0.09 * self.face.across).clamp(1.2, 2.3);
        let length = self.strip.job.leg.length_mm;
        for tick in ticks(self.strip.job.units, length, self.part.x0, self.part.x1) {
            let Some(number) = tick.number else { continue };
            let typeface = if tick.rank == Rank::Long { Typeface::CondensedBold } else { Typeface::Condensed };
            let label = Label::text(Text::new(number, Point::ZERO, cap).typeface(typeface));
            let width = label.size[0];
            let first = self.face.y0 + self.tick + 0.5;
            let last = self.face.y0 + self.face.across - self.tick - 0.7 - cap;
            let rows = if self.face.cut == Cut::First { [first, last] } else { [last, first] };
            let wishes = [-0.5 * width, 2.2, -width - 2.2].into_iter().flat_map(|x| rows.map(|y| [tick.s + x, y]));
            if let Some(rect) = self.placer.place(label.size, wishes) {
                self.drawing.add(&label.drawing, Affine::translate((rect.x0, rect.y0)));
            }
        }
    }

    fn finished_ends(&mut self) {
        let leg = self.strip.job.leg;
        let (top, foot) = (0.0, leg.length_mm);
        let bold = |words: &'static str, cap: f64| {
            move |share: f64| Label::text(Text::new(words, Point::ZERO, cap * share).typeface(Typeface::SansBold))
        };
        if self.holds(top) {
            self.put(bold("◀ TOP", ESSENTIAL_MM), |_| top + 2.1, 30.0, &ANYWHERE);
        }
        if self.holds(foot) {
            self.put(bold("FOOT ▶", ESSENTIAL_MM), |label| foot - 2.1 - label.size[0], 30.0, &ANYWHERE);
        }
        let [from, to] = self.strip.ends();
        for (from, to) in [(from, top), (foot, to)] {
            let middle = (from + to) / 2.0;
            let spare =
                |share: f64| Label::text(Text::new("spare", Point::ZERO, 2.2 * share).typeface(Typeface::Condensed));
            if self.holds(middle) && to - from > spare(1.0).size[0] + 4.0 {
                let rows = [Row::FirstEdge, Row::LastEdge];
                self.put(spare, |label| middle - label.size[0] / 2.0, 0.0, &rows);
            }
        }
    }

    /// Where the saw enters, with the number of the pass, and where it leaves.
    fn pass(&mut self, pass: &Pass) {
        let [from, to] = self.strip.ends();
        let at = |end: End, label: &Label| match end {
            End::Top => from + 2.0,
            End::Foot => to - 2.0 - label.size[0],
        };
        if self.holds(if pass.enters == End::Top { from } else { to }) {
            self.put(|share| entry_sign(pass, SMALL_MM * share), |label| at(pass.enters, label), 60.0, &AT_LINE);
        }
        let (leaves, end) = if pass.enters == End::Top { (End::Foot, to) } else { (End::Top, from) };
        if pass.stops_at.is_none() && self.holds(end) {
            self.put(|share| exit_sign(pass, SMALL_MM * share), |label| at(leaves, label), 60.0, &AT_LINE);
        }
    }

    fn sharp_point(&mut self) {
        let Some(s) = self.strip.job.leg.line(self.face.cut).sharp_point() else { return };
        if !self.holds(s) {
            return;
        }
        let of_face = self.strip.passes.iter().filter(|pass| pass.cut == self.face.cut);
        let numbers: Vec<String> = of_face.map(|pass| pass.number.to_string()).collect();
        let words = format!("passes {} stop here", numbers.join(" and "));
        let ink = saw_ink(self.face.cut);
        let label = |share: f64| {
            let text = Text::new(words.as_str(), Point::ZERO, SMALL_MM * share);
            Label::text(text.typeface(Typeface::CondensedBold).ink(ink))
        };
        let rows = [Row::BelowLine(2.6), Row::AboveLine(2.6), Row::BelowLine(4.5), Row::AboveLine(4.5)];
        self.put(label, |label| s - label.size[0] / 2.0, 40.0, &rows);
    }

    /// Which piece lies on each side of the line.
    fn pieces(&mut self) {
        // Face 1 is y = 0: pieces 1 and 2. Face 2 is x = W: pieces 2 and 3. The first of each lies nearer arris 1 or 2.
        let pieces = match self.face.cut {
            Cut::First => [Piece::One, Piece::Two],
            Cut::Second => [Piece::Two, Piece::Three],
        };
        let rows = [[Row::MiddleAbove, Row::AboveLine(1.1)], [Row::MiddleBelow, Row::BelowLine(1.1)]];
        for (piece, rows) in pieces.into_iter().zip(rows) {
            let name = self.strip.job.piece(piece.number());
            for s in self.spread(0.62) {
                let label = |share: f64| {
                    let text = Text::new(name.as_str(), Point::ZERO, PIECE_MM * share);
                    Label::text(text.typeface(Typeface::SansBold))
                };
                self.put(label, |_| s, 0.45 * EVERY_MM, &rows);
            }
        }
    }

    fn face_and_cut(&mut self) {
        let (face, cut) = (self.face.cut.face(), self.face.cut);
        for s in self.spread(0.3) {
            let label = |share: f64| {
                let text = Text::new(format!("FACE {}", face.number()), Point::ZERO, ESSENTIAL_MM * share);
                Label::text(text.typeface(Typeface::SansBold))
            };
            self.put(label, |_| s, 0.45 * EVERY_MM, &ANYWHERE);
        }
        for s in self.spread(0.45) {
            let label = |share: f64| {
                let text = Text::new(cut.to_string(), Point::ZERO, SMALL_MM * share);
                Label::text(text.typeface(Typeface::CondensedBold).ink(saw_ink(cut)))
            };
            self.put(label, |_| s, 0.45 * EVERY_MM, &AT_LINE);
        }
    }

    /// What each edge of the paper is laid on.
    fn edges(&mut self) {
        for (edge, row) in self.face.edges.into_iter().zip([Row::FirstEdge, Row::LastEdge]) {
            let (words, typeface) = match edge.kind {
                EdgeKind::Fold if self.face.cut == Cut::First => {
                    (format!("FOLD on {}", edge.arris), Typeface::CondensedBold)
                }
                EdgeKind::Fold => continue,
                EdgeKind::Glue => (format!("glue this edge to {}", edge.arris), Typeface::CondensedBold),
                EdgeKind::Loose => (edge.arris.to_string(), Typeface::Condensed),
            };
            for s in self.spread(0.08) {
                let label =
                    |share: f64| Label::text(Text::new(words.as_str(), Point::ZERO, 2.3 * share).typeface(typeface));
                self.put(label, |_| s, 0.8 * EVERY_MM, &[row]);
            }
        }
    }

    /// Which leg this is, and what the numbers are.
    fn names(&mut self) {
        let names = self.strip.job.names;
        let words = format!("leg {} · {} · {}", names.letter, names.design, scale_words(self.strip.job.units));
        let (width, start) = (self.part.width(), self.part.x0);
        let label = |share: f64| {
            let text = Text::new(words.as_str(), Point::ZERO, 2.2 * share).typeface(Typeface::Condensed);
            Label::text(text.fitted((0.6 * width).min(110.0), 2.2 * share))
        };
        let rows = [Row::LastEdge, Row::FirstEdge, Row::MiddleBelow, Row::MiddleAbove];
        self.put(label, |label| start + 0.5 * (width - label.size[0]), 0.4 * width, &rows);
    }

    /// Places along the part, one for every [`EVERY_MM`], each at `share` of its stretch.
    fn spread(&self, share: f64) -> Vec<f64> {
        let count = (self.part.width() / EVERY_MM).floor().max(1.0);
        let each = self.part.width() / count;
        (0..count as usize).map(|i| self.part.x0 + each * (i as f64 + share)).collect()
    }
}

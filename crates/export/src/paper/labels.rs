//! What is written on one face of the strip. Every label keeps clear of the saw line, of the ticks and of the others.

mod fitted;

use super::crossings::{Crossing, crossings};
use super::face_strip::{RING_MM, saw_ink};
use super::label::Label;
use super::outside::Outside;
use super::pass_signs::{entry_sign, exit_sign};
use super::passes::{Pass, sharp_point};
use super::placer::{Placer, outward};
use super::rows::{ANYWHERE, AT_LINE, Row};
use super::scale_ticks::{Rank, longest_tick_mm, scale_words, ticks};
use super::strip::{EdgeKind, FaceStrip, Strip};
use crate::sheets::{Drawing, Pen, Text, Typeface};
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
/// What an edge is laid on is read on every page, or the paper goes on the wrong way round: not under 2 mm.
const EDGE_SHARES: [f64; 2] = [1.0, 0.9];
/// A label of each kind at least this often along the strip, mm.
const EVERY_MM: f64 = 130.0;
/// The tick at a crossing of the saw line and an edge, to each side of the edge, mm.
const CROSSING_TICK_MM: f64 = 1.6;
/// Points of the saw line this close, mm, keep labels off it.
const LINE_STEP_MM: f64 = 0.5;

/// Writes the labels of one face within the part of the strip that is a page's own.
pub(crate) fn draw(strip: &Strip<'_>, face: &FaceStrip, own: Rect, drawn: &Drawing, drawing: &mut Drawing) {
    let part = strip.rect(face).intersect(own);
    if part.is_zero_area() {
        return;
    }
    let mut writer = Writer::new(strip, face, part, Outside::new(strip, face, own, drawn));
    writer.numbers();
    writer.finished_ends();
    writer.notches();
    writer.chamfers();
    for pass in strip.passes.iter().filter(|pass| pass.cut == face.cut) {
        writer.pass(pass);
    }
    writer.sharp_point();
    writer.crossings();
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
    outside: Outside,
    /// Where the saw line crosses the face's edges in this part.
    crossings: Vec<Crossing>,
    drawing: Drawing,
    /// The longest tick, mm.
    tick: f64,
}

impl<'a> Writer<'a> {
    fn new(strip: &'a Strip<'a>, face: &'a FaceStrip, part: Rect, outside: Outside) -> Writer<'a> {
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
        if let Some(s) = sharp_point(strip.job.leg, face.cut) {
            placer.take(Rect::from_center_size((s, face.y0 + line.offset(s)), (2.0 * RING_MM, 2.0 * RING_MM)));
        }
        let crossings: Vec<Crossing> =
            crossings(strip, face).into_iter().filter(|c| part.x0 <= c.at.x && c.at.x <= part.x1).collect();
        for Crossing { at, .. } in &crossings {
            placer.take(Rect::from_center_size(*at, (1.0, 2.0 * CROSSING_TICK_MM)));
        }
        fitted::keep_clear(strip, face, part, &mut placer);
        Writer {
            strip,
            face,
            part,
            placer,
            outside,
            crossings,
            drawing: Drawing::new(),
            tick: longest_tick_mm(face.across),
        }
    }

    /// A place on the edge that has the free paper beside it.
    fn edge_point(&self, s: f64) -> Point {
        let y = if self.face.cut == Cut::First { self.face.first() } else { self.face.last() };
        Point::new(s, y)
    }

    /// A place on the saw line, held to the face.
    fn line_point(&self, s: f64) -> Point {
        let offset = self.strip.job.leg.line(self.face.cut).offset(s);
        Point::new(s, (self.face.y0 + offset).clamp(self.face.first(), self.face.last()))
    }

    /// Whether the part holds a place along the blank.
    fn holds(&self, s: f64) -> bool {
        (self.part.x0 - 1e-9..=self.part.x1 + 1e-9).contains(&s)
    }

    /// Places a label as large as finds room within `reach` of where its start is wished, or leaves it out and says so.
    fn put(&mut self, make: impl Fn(f64) -> Label, start: impl Fn(&Label) -> f64, reach: f64, rows: &[Row]) -> bool {
        self.put_in(&SMALLER, make, start, reach, rows)
    }

    /// Places a label that the work cannot do without: on the face while it can be read there, else beside the face with
    /// a leader to what it names, else on the face as small as it must be.
    fn put_essential(
        &mut self,
        make: impl Fn(f64) -> Label,
        start: impl Fn(&Label) -> f64,
        reach: f64,
        rows: &[Row],
        target: impl Fn(f64) -> Option<Point>,
    ) {
        let (readable, tiny) = SMALLER.split_at(3);
        if !self.put_in(readable, &make, &start, reach, rows) && !self.put_outside(&make, &start, target) {
            self.put_in(tiny, make, start, reach, rows);
        }
    }

    fn put_outside(
        &mut self,
        make: impl Fn(f64) -> Label,
        start: impl Fn(&Label) -> f64,
        target: impl Fn(f64) -> Option<Point>,
    ) -> bool {
        let written = self.outside.put(&mut self.placer, make, start, self.part.width(), target);
        written.map(|written| self.drawing.marks.extend(written.marks)).is_some()
    }

    fn put_in(
        &mut self,
        shares: &[f64],
        make: impl Fn(f64) -> Label,
        start: impl Fn(&Label) -> f64,
        reach: f64,
        rows: &[Row],
    ) -> bool {
        for share in shares.iter().copied() {
            let label = make(share);
            let wishes = self.near(start(&label), label.size, reach, rows);
            if let Some(rect) = self.placer.place(label.size, wishes) {
                self.drawing.add(&label.drawing, Affine::translate((rect.x0, rect.y0)));
                return true;
            }
        }
        false
    }

    /// Corners for a label of a size near `s`, between the ticks.
    fn near(&self, s: f64, size: [f64; 2], reach: f64, rows: &[Row]) -> Vec<[f64; 2]> {
        let (top, bottom) = (self.face.first() + self.tick + 0.8, self.face.last() - self.tick - 0.8);
        let mut wishes = Vec::new();
        for along in outward(2.0, reach) {
            let x = s + along;
            let Some(line) = self.placer.line_at(x + size[0] / 2.0) else { continue };
            let line = line.clamp(self.face.first(), self.face.last());
            for row in rows {
                let y = match row {
                    Row::AboveLine(gap) => line - gap - size[1],
                    Row::BelowLine(gap) => line + gap,
                    Row::MiddleAbove => (top + line - size[1]) / 2.0,
                    Row::MiddleBelow => (line + bottom - size[1]) / 2.0,
                    Row::FirstEdge => top,
                    Row::LastEdge => bottom - size[1],
                    Row::InFromFirst(mm) => top + mm,
                    Row::InFromLast(mm) => bottom - size[1] - mm,
                };
                if y >= top - 1e-9 && y + size[1] <= bottom + 1e-9 {
                    wishes.push([x, y]);
                }
            }
        }
        wishes
    }

    /// Capitals of the scale's numbers, mm.
    fn number_mm(&self) -> f64 {
        (0.09 * self.face.across).clamp(1.2, 2.3)
    }

    /// The numbers of the scale, beside their ticks on the edge away from the other face, or on the other edge.
    fn numbers(&mut self) {
        let cap = self.number_mm();
        let length = self.strip.job.leg.length_mm;
        for tick in ticks(self.strip.job.units, length, self.part.x0, self.part.x1) {
            let Some(number) = tick.number else { continue };
            let typeface = if tick.rank == Rank::Long { Typeface::CondensedBold } else { Typeface::Condensed };
            let label = Label::text(Text::new(number, Point::ZERO, cap).typeface(typeface));
            let width = label.size[0];
            let first = self.face.first() + self.tick + 0.5;
            let last = self.face.last() - self.tick - 0.7 - cap;
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
            let at = self.edge_point(top);
            self.put_essential(bold("◀ TOP", ESSENTIAL_MM), |_| top + 2.1, 30.0, &ANYWHERE, |_| Some(at));
        }
        if self.holds(foot) {
            let (at, start) = (self.edge_point(foot), |label: &Label| foot - 2.1 - label.size[0]);
            self.put_essential(bold("FOOT ▶", ESSENTIAL_MM), start, 30.0, &ANYWHERE, |_| Some(at));
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
            let target = self.line_point(if pass.enters == End::Top { from + 0.6 } else { to - 0.6 });
            let (sign, start) = (|share| entry_sign(pass, SMALL_MM * share), |label: &Label| at(pass.enters, label));
            self.put_essential(sign, start, 60.0, &AT_LINE, |_| Some(target));
        }
        let (leaves, end) = if pass.enters == End::Top { (End::Foot, to) } else { (End::Top, from) };
        if pass.stops_at.is_none() && self.holds(end) {
            self.put(|share| exit_sign(pass, SMALL_MM * share), |label| at(leaves, label), 60.0, &AT_LINE);
        }
    }

    fn sharp_point(&mut self) {
        let Some(s) = sharp_point(self.strip.job.leg, self.face.cut) else { return };
        if !self.holds(s) {
            return;
        }
        let of_face = self.strip.passes.iter().filter(|pass| pass.cut == self.face.cut);
        let numbers: Vec<String> = of_face.map(|pass| pass.number.to_string()).collect();
        let words = format!("passes {} stop a hair short", numbers.join(" and "));
        let ink = saw_ink(self.face.cut);
        let label = |share: f64| {
            let text = Text::new(words.as_str(), Point::ZERO, SMALL_MM * share);
            Label::text(text.typeface(Typeface::CondensedBold).ink(ink))
        };
        let rows = [Row::BelowLine(2.6), Row::AboveLine(2.6), Row::BelowLine(4.5), Row::AboveLine(4.5)];
        // A leader ends at the ring round the point.
        let (point, edge) = (self.line_point(s), self.edge_point(s));
        let toward_edge = (edge.y - point.y).clamp(-RING_MM, RING_MM);
        let target = Point::new(s, point.y + toward_edge);
        self.put_essential(label, |label| s - label.size[0] / 2.0, 40.0, &rows, |_| Some(target));
    }

    /// Where the saw leaves the face before the end of the blank, and where it comes back.
    fn crossings(&mut self) {
        for crossing in self.crossings.clone() {
            let (at, ink) = (crossing.at, saw_ink(self.face.cut));
            self.drawing.line(Pen::Figure, at - (0.0, CROSSING_TICK_MM), at + (0.0, CROSSING_TICK_MM));
            let words = crossing.words(self.strip.job.units);
            let label = |share: f64| {
                let text = Text::new(words.as_str(), Point::ZERO, SMALL_MM * share);
                Label::text(text.typeface(Typeface::CondensedBold).ink(ink))
            };
            // Beside the tick, along the edge that is crossed.
            let row = if at.y < self.face.y0 + 0.5 * self.face.across { Row::FirstEdge } else { Row::LastEdge };
            let start = |label: &Label| if crossing.leaves { at.x + 2.0 } else { at.x - label.size[0] - 2.0 };
            let target =
                at + if self.face.cut == Cut::First { (0.0, -CROSSING_TICK_MM) } else { (0.0, CROSSING_TICK_MM) };
            self.put_essential(label, start, 70.0, &[row], |_| Some(target));
        }
    }

    /// Which piece lies on each side of the line.
    fn pieces(&mut self) {
        // Face 1 is y = 0: pieces 1 and 2. Face 2 is x = W: pieces 2 and 3. The first of each lies nearer arris 1 or 2.
        let pieces = match self.face.cut {
            Cut::First => [Piece::One, Piece::Two],
            Cut::Second => [Piece::Two, Piece::Three],
        };
        let rows = [[Row::MiddleAbove, Row::AboveLine(1.1)], [Row::MiddleBelow, Row::BelowLine(1.1)]];
        for (i, (piece, rows)) in pieces.into_iter().zip(rows).enumerate() {
            let name = self.strip.job.piece(piece.number());
            let label = |share: f64| {
                let text = Text::new(name.as_str(), Point::ZERO, PIECE_MM * share);
                Label::text(text.typeface(Typeface::SansBold))
            };
            let mut written = false;
            for s in self.spread(0.62) {
                written |= self.put(label, |_| s, 0.45 * EVERY_MM, &rows);
            }
            if !written {
                let (s, face, line) = (self.part.center().x, *self.face, self.strip.job.leg.line(self.face.cut));
                // The middle of the piece on this face, where there is any of it.
                let target = |x: f64| {
                    let at = (face.y0 + line.offset(x)).clamp(face.first(), face.last());
                    let (from, to) = if i == 0 { (face.first(), at) } else { (at, face.last()) };
                    (to - from > 0.4).then(|| Point::new(x, 0.5 * (from + to)))
                };
                self.put_outside(label, |_| s, target);
            }
        }
    }

    fn face_and_cut(&mut self) {
        let (face, cut) = (self.face.cut.face(), self.face.cut);
        let name = |share: f64| {
            let text = Text::new(format!("FACE {}", face.number()), Point::ZERO, ESSENTIAL_MM * share);
            Label::text(text.typeface(Typeface::SansBold))
        };
        let mut written = false;
        for s in self.spread(0.3) {
            written |= self.put(name, |_| s, 0.45 * EVERY_MM, &ANYWHERE);
        }
        if !written {
            let (s, inside) = (self.part.x0 + 0.3 * self.part.width(), if cut == Cut::First { 0.8 } else { -0.8 });
            let y = self.edge_point(s).y + inside;
            self.put_outside(name, |_| s, |x| Some(Point::new(x, y)));
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
        // The numbers of the scale stand along an edge, in inches so close that nothing else goes between them: the next
        // line in is for what the edge is.
        let own_line = 1.3 * self.number_mm() + 0.8;
        let rows = [[Row::FirstEdge, Row::InFromFirst(own_line)], [Row::LastEdge, Row::InFromLast(own_line)]];
        for (edge, rows) in self.face.edges.into_iter().zip(rows) {
            let (words, typeface) = match edge.kind {
                EdgeKind::Fold if self.face.cut == Cut::First => {
                    (format!("FOLD on {}", edge.arris), Typeface::CondensedBold)
                }
                EdgeKind::Fold => continue,
                EdgeKind::Glue if self.face.inset > 0.0 => {
                    (format!("this edge on the flat's, beside {}", edge.arris), Typeface::CondensedBold)
                }
                EdgeKind::Glue => (format!("glue this edge to {}", edge.arris), Typeface::CondensedBold),
                EdgeKind::Loose if self.face.inset > 0.0 => (format!("beside {}", edge.arris), Typeface::Condensed),
                EdgeKind::Loose => (edge.arris.to_string(), Typeface::Condensed),
            };
            let label =
                |share: f64| Label::text(Text::new(words.as_str(), Point::ZERO, 2.3 * share).typeface(typeface));
            let mut written = false;
            let readable = EDGE_SHARES.as_slice();
            for s in self.spread(0.08) {
                written |= self.put_in(readable, label, |_| s, 0.8 * EVERY_MM, &rows);
            }
            let s = self.part.x0 + 0.08 * self.part.width();
            if !written && edge.kind != EdgeKind::Loose {
                let y = if matches!(rows[0], Row::FirstEdge) { self.face.first() } else { self.face.last() };
                // Anywhere along this page, else beside the face.
                written = self.put_in(readable, label, |_| s, self.part.width(), &rows)
                    || self.put_outside(label, |_| s, |x| Some(Point::new(x, y)));
            }
            if !written {
                self.put(label, |_| s, 0.8 * EVERY_MM, &rows);
            }
        }
    }

    /// Which leg this is, and what the numbers are.
    fn names(&mut self) {
        let names = self.strip.job.names;
        let words = format!("leg {} · {} · {}", names.label(), names.design, scale_words(self.strip.job.units));
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

//! The pages of the strips for the bench, several beside one another where the page is wide enough.

use super::bench_rows::{Row, What, cauls, crosscut, masters};
use super::joins::Joins;
use super::label::Label;
use super::notch_marks::kerf_ticks;
use super::placer::{Placer, outward};
use super::scale_ticks;
use super::strip::{EDGE_ROOM_MM, END_ROOM_MM};
use super::tiling::{Grid, Lie};
use super::{Job, Leaf, PaperError};
use crate::sheets::{Drawing, Ink, Pen, Text, Typeface};
use cornerwise_project::PaperExtra;
use kurbo::{Affine, Point, Rect};

/// Between strips that are cut out separately, mm.
const BETWEEN_MM: f64 = 8.0;
/// Points of a curve this close, mm, keep labels off it.
const LINE_STEP_MM: f64 = 0.5;
/// Capitals, mm.
const NAME_MM: f64 = 2.6;
const SMALL_MM: f64 = 2.2;
/// A label that finds no room is tried smaller.
const SMALLER: [f64; 3] = [1.0, 0.85, 0.7];

/// The pages, where anything is notched or wanted.
pub(crate) fn leaves(job: &Job<'_>) -> Result<Vec<Leaf>, PaperError> {
    let mut rows: Vec<Row> = crosscut(job).into_iter().collect();
    if job.choice.also.contains(&PaperExtra::Cauls) {
        rows.extend(cauls(job));
    }
    if job.choice.also.contains(&PaperExtra::Master) {
        rows.extend(masters(job));
    }
    let mut leaves = Vec::new();
    for board in boards(job, rows) {
        leaves.extend(board.leaves()?);
    }
    Ok(leaves)
}

/// Strips that lie beside one another on the same pages.
struct Board<'a> {
    job: &'a Job<'a>,
    rows: Vec<Row>,
}

/// As many strips to a board as one page holds across them.
fn boards<'a>(job: &'a Job<'a>, rows: Vec<Row>) -> Vec<Board<'a>> {
    let [across, up] = job.kind.most_board();
    let room = across.min(up) - 2.0 * EDGE_ROOM_MM;
    let mut boards: Vec<Board<'a>> = Vec::new();
    for mut row in rows {
        let below = boards.last().and_then(|board| board.rows.last()).map(|last| last.rect().y1 + BETWEEN_MM);
        match (boards.last_mut(), below) {
            (Some(board), Some(y0)) if y0 + row.high <= room => {
                row.y0 = y0;
                board.rows.push(row);
            }
            _ => boards.push(Board { job, rows: vec![row] }),
        }
    }
    boards
}

impl Board<'_> {
    fn extent(&self) -> Rect {
        let whole = self.rows.iter().map(Row::rect).reduce(|a, b| a.union(b)).unwrap_or_default();
        whole.inflate(END_ROOM_MM, EDGE_ROOM_MM)
    }

    fn leaves(&self) -> Result<Vec<Leaf>, PaperError> {
        let job = self.job;
        let room = job.kind.most_board();
        let rather = if job.kind.is_roll() { Lie::Lying } else { Lie::along(room) };
        let grid = Grid::new(self.extent(), room, job.choice.overlap.mm(), rather)?;
        let joins = Joins::new(&grid);
        let of = grid.len();
        let mut names: Vec<&str> = self.rows.iter().map(Row::name).collect();
        names.dedup();
        let names = names.join(", ");
        let leaf = |(i, place): (usize, [usize; 2])| {
            let window = grid.window(place);
            let [width, height] = grid.size_on_page(window);
            let page = job.kind.page_for(height);
            let corner = [page.board.x0 + (page.board.width() - width).clamp(0.0, 3.0), page.board.y0];
            let mut board = joins.draw(&grid, place);
            let own = joins.own(&grid, place);
            for row in &self.rows {
                row.draw(job, window, &mut board);
                if row.what_is_crosscut() {
                    marks(job, row, window, &mut board);
                }
                write(job, row, own, &mut board);
            }
            let mut drawing = Drawing::new();
            drawing.add(&board, grid.page_from_board(window, corner));
            let what = if of == 1 { names.clone() } else { format!("{names}, part {} of {of}", i + 1) };
            Leaf { page, what, drawing }
        };
        Ok(grid.places().enumerate().map(leaf).collect())
    }
}

impl Row {
    fn what_is_crosscut(&self) -> bool {
        matches!(self.what, What::Crosscut { .. })
    }
}

/// The marks of the crosscut strip, and its scale.
fn marks(job: &Job<'_>, row: &Row, window: Rect, drawing: &mut Drawing) {
    let rect = row.rect();
    let list = job.fit.crosscut(job.leg);
    let mut shaded = Drawing::new();
    for part in list.parts.iter().filter(|part| !part.kept) {
        let area = Rect::new(part.span_mm[0], rect.y0, part.span_mm[1], rect.y1).intersect(window);
        if !area.is_zero_area() {
            shaded.polygon(Ink::Pale, &super::key_plan::corners(area));
        }
    }
    // Below everything that is drawn.
    shaded.marks.append(&mut drawing.marks);
    drawing.marks = shaded.marks;
    for mark in &list.marks {
        let s = mark.from_top_mm;
        let other = mark.blade_mm.into_iter().find(|end| (end - s).abs() > 1e-9).unwrap_or(s);
        if (window.x0..=window.x1).contains(&s) {
            let (from, to) = (rect.y0.max(window.y0), rect.y1.min(window.y1));
            drawing.line(Pen::Notch, (s, from), (s, to));
            kerf_ticks(drawing, window, [s, other], [rect.y0, rect.y1]);
        }
    }
    for tick in scale_ticks::ticks(job.units, job.leg.length_mm, window.x0, window.x1) {
        if (window.y0..=window.y1).contains(&rect.y1) {
            drawing.line(Pen::Tick, (tick.s, rect.y1), (tick.s, rect.y1 - 0.6 * tick.rank.length_mm(row.high)));
        }
    }
}

/// What is written on a strip within the part of it that is a page's own.
fn write(job: &Job<'_>, row: &Row, own: Rect, drawing: &mut Drawing) {
    let part = row.rect().intersect(own);
    if part.is_zero_area() {
        return;
    }
    let steps = ((part.width() / LINE_STEP_MM).ceil() as usize).max(1);
    let samples: Vec<[f64; 2]> = (0..=steps)
        .map(|i| part.x0 + part.width() * i as f64 / steps as f64)
        .filter_map(|s| row.curve_at(job.leg, s).map(|y| [s, y]))
        .collect();
    let mut writer = Writer { placer: Placer::new(part.inflate(-0.8, -0.5), samples), part, row, job, drawing };
    for s in [0.0, job.leg.length_mm] {
        writer.placer.take(Rect::new(s - 0.3, part.y0, s + 0.3, part.y1));
    }
    if row.what_is_crosscut() {
        writer.crosscut();
    }
    writer.ends();
    for (i, words) in row.words(job).into_iter().enumerate() {
        let typeface = if i == 0 { Typeface::CondensedBold } else { Typeface::Condensed };
        let cap = if i == 0 { NAME_MM } else { SMALL_MM };
        writer.put(&words, typeface, cap, part.x0 + 0.32 * part.width(), 0.5 * part.width());
    }
    if let Some(beside) = row.beside() {
        for (words, above) in beside.into_iter().zip([true, false]) {
            writer.put_beside(words, above);
        }
    }
}

struct Writer<'a> {
    placer: Placer,
    part: Rect,
    row: &'a Row,
    job: &'a Job<'a>,
    drawing: &'a mut Drawing,
}

impl Writer<'_> {
    /// Places words near a middle along the strip, wherever across it they find room on the strip itself.
    fn put(&mut self, words: &str, typeface: Typeface, cap_mm: f64, middle: f64, reach: f64) -> bool {
        for share in SMALLER {
            let label = Label::text(Text::new(words, Point::ZERO, cap_mm * share).typeface(typeface));
            let [width, height] = label.size;
            let room = self.part.height() - height;
            let rows = [0.5, 0.3, 0.7, 0.12, 0.88, 0.0, 1.0].map(|at| self.part.y0 + at * room);
            let wishes = outward(2.0, reach).flat_map(|along| rows.map(|y| [middle - 0.5 * width + along, y]));
            // A master ends at its curve: words beyond it would be cut off.
            let inside = |[x, y]: &[f64; 2]| self.on_the_strip(*x, *y, width, height);
            let wishes: Vec<[f64; 2]> = wishes.filter(inside).collect();
            if self.place(&label, wishes) {
                return true;
            }
        }
        false
    }

    /// Places words close to a caul's curve, on one side of it.
    fn put_beside(&mut self, words: &str, above: bool) {
        let label = Label::text(Text::new(words, Point::ZERO, SMALL_MM).typeface(Typeface::Condensed));
        let [width, height] = label.size;
        let middle = self.part.x0 + 0.68 * self.part.width();
        let wishes: Vec<[f64; 2]> = outward(2.0, 0.45 * self.part.width())
            .filter_map(|along| {
                let x = middle + along - 0.5 * width;
                let at = [0.0, 0.5, 1.0].map(|share| self.row.curve_at(self.job.leg, x + share * width));
                let [Some(p), Some(q), Some(r)] = at else { return None };
                let y = if above { p.min(q).min(r) - 1.6 - height } else { p.max(q).max(r) + 1.6 };
                Some([x, y])
            })
            .collect();
        self.place(&label, wishes);
    }

    fn place(&mut self, label: &Label, wishes: Vec<[f64; 2]>) -> bool {
        let Some(rect) = self.placer.place(label.size, wishes) else { return false };
        self.drawing.add(&label.drawing, Affine::translate((rect.x0, rect.y0)));
        true
    }

    fn on_the_strip(&self, x: f64, y: f64, width: f64, height: f64) -> bool {
        let What::Master { first_side, .. } = self.row.what else { return true };
        [0.0, 0.25, 0.5, 0.75, 1.0].into_iter().all(|share| {
            self.row
                .curve_at(self.job.leg, x + share * width)
                .is_none_or(|at| if first_side { y + height < at } else { y > at })
        })
    }

    fn ends(&mut self) {
        let cap = if self.row.what_is_crosscut() { 0.2 * self.row.high } else { 3.2 };
        let cap = cap.clamp(1.4, 3.2);
        for (s, words, after) in [(0.0, "◀ TOP", true), (self.job.leg.length_mm, "FOOT ▶", false)] {
            if !(self.part.x0..=self.part.x1).contains(&s) {
                continue;
            }
            let width = Typeface::SansBold.width_mm(words, cap);
            let middle = if after { s + 2.6 + 0.5 * width } else { s - 2.6 - 0.5 * width };
            self.put(words, Typeface::SansBold, cap, middle, 20.0);
        }
    }

    /// Parts and marks of the crosscut strip.
    fn crosscut(&mut self) {
        let (job, part) = (self.job, self.part);
        let list = job.fit.crosscut(job.leg);
        for mark in &list.marks {
            let [from, to] = [mark.blade_mm[0].min(mark.from_top_mm), mark.blade_mm[1].max(mark.from_top_mm)];
            self.placer.take(Rect::new(from - 0.15, part.y0, to + 0.15, part.y1));
        }
        self.placer.take(Rect::new(
            part.x0,
            part.y1 - 0.6 * scale_ticks::longest_tick_mm(self.row.high),
            part.x1,
            part.y1,
        ));
        for piece in &list.parts {
            let (from, to) = (piece.span_mm[0].max(part.x0), piece.span_mm[1].min(part.x1));
            if to <= from {
                continue;
            }
            let what = if piece.kept { "keep" } else { "out" };
            let words = format!("{} {what}", piece.number);
            self.put(&words, Typeface::CondensedBold, NAME_MM, f64::midpoint(from, to), 0.4 * (to - from));
        }
        for mark in &list.marks {
            if (part.x0..=part.x1).contains(&mark.from_top_mm) {
                let words = job.units.show_with_unit(mark.from_top_mm);
                let width = Typeface::Condensed.width_mm(&words, SMALL_MM);
                // On the side that is kept.
                let off = 2.2 + 0.5 * width;
                let kept = if mark.keep == cornerwise_geometry::fit::Keep::TowardTop { -off } else { off };
                self.put(&words, Typeface::Condensed, SMALL_MM, mark.from_top_mm + kept, 14.0);
            }
        }
    }
}

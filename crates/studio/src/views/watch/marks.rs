//! Where watch-outs are, on the ruler and over the rows that share it.

use cornerwise_geometry::{Concern, Weight};
use cornerwise_project::Judged;
use egui::{Painter, Rect, Shape, Stroke, pos2, vec2};

use crate::ruler::Axis;
use crate::tokens::Tokens;

/// The least width of a stretch, points: a bend is at one place.
const LEAST_PX: f32 = 3.0;
/// Height of the bar on the ruler, points.
const BAR_PX: f32 = 4.0;
/// How strongly a stretch is washed over a row.
const WASH: f32 = 0.10;

/// Marks on the ruler: a triangle where each open watch-out is worst, and bars over every stretch of the one that is chosen.
pub fn on_ruler(painter: &Painter, t: &Tokens, rect: Rect, axis: Axis, judged: &[Judged], chosen: Option<Concern>) {
    let painter = painter.with_clip_rect(rect.intersect(painter.clip_rect()));
    for one in judged.iter().filter(|one| chosen == Some(one.watch_out.concern)) {
        for stretch in &one.watch_out.stretches_mm {
            let x = on_screen(axis, *stretch);
            let bar = Rect::from_x_y_ranges(x, rect.bottom() - BAR_PX..=rect.bottom() - 0.5);
            painter.rect_filled(bar, 0.0, if one.watch_out.weight == Weight::WatchOut { t.wrong } else { t.soft });
        }
    }
    for one in judged.iter().filter(|one| one.is_open()) {
        let tip = pos2(axis.x(one.watch_out.at_mm), rect.bottom() - 1.0);
        let corners = vec![tip, tip + vec2(-4.0, -7.0), tip + vec2(4.0, -7.0)];
        painter.add(Shape::convex_polygon(corners, t.wrong, Stroke::new(1.0, t.ground)));
    }
}

/// Every stretch of the watch-out that is chosen, washed over a row. One that is all along the leg is not: it says no place.
pub fn over_row(painter: &Painter, t: &Tokens, rect: Rect, axis: Axis, judged: &[Judged], chosen: Option<Concern>) {
    let painter = painter.with_clip_rect(rect.intersect(painter.clip_rect()));
    for one in judged.iter().filter(|one| chosen == Some(one.watch_out.concern)) {
        let found = &one.watch_out;
        if found.concern.is_of_the_whole_leg() {
            continue;
        }
        let colour = if found.weight == Weight::WatchOut { t.wrong } else { t.soft };
        for stretch in &found.stretches_mm {
            let x = on_screen(axis, *stretch);
            painter.rect_filled(Rect::from_x_y_ranges(x, rect.y_range()), 0.0, colour.gamma_multiply(WASH));
        }
    }
}

fn on_screen(axis: Axis, [from, to]: [f64; 2]) -> egui::Rangef {
    let (from, to) = (axis.x(from), axis.x(to));
    let more = ((LEAST_PX - (to - from)) / 2.0).max(0.0);
    egui::Rangef::new(from - more, to + more)
}

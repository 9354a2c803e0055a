//! The leg as the saw gives it, drawn over the leg as drawn or in its place: on the sides and on the upright leg. The level
//! section and the graphs have their own.

use cornerwise_geometry::{Side, Survey, Units};
use egui::{Align2, Painter, Pos2, Rect, Shape, Stroke, Ui, vec2};

use super::{ghost, leg, sides};
use crate::paint;
use crate::scene::Scene;
use crate::tokens::{self, Tokens};
use crate::view::{LegAs, View};

/// The least distance along a side between two places an outline is drawn through, points.
const APART_PX: f32 = 3.0;
/// How many places along the upright leg its edges are drawn through.
const PLACES: usize = 121;
/// Steps smaller than this are not marked on the sides, mm: scraping takes them off. Our own choice.
const FELT_MM: f64 = 0.1;

/// The outlines as sawn on the four sides: over their wood, and under what the hand takes hold of.
pub fn on_sides(
    painter: &Painter,
    t: &Tokens,
    screen: &sides::Screen,
    scene: &Scene<'_>,
    survey: &Survey,
    view: &View,
) {
    if survey.sawn().is_none() || !view.leg_as.sawn() {
        return;
    }
    for side in Side::ALL {
        // Along u on sides 1 and 3, along v on 2 and 4.
        let axis = match side {
            Side::One | Side::Three => 0,
            Side::Two | Side::Four => 1,
        };
        for (edge, piece) in side.pieces().into_iter().enumerate() {
            let mut sawn: Vec<Pos2> = Vec::new();
            let mut drawn: Vec<Pos2> = Vec::new();
            for at in survey.stations() {
                let s = at.drawn.s_mm;
                let Some(station) = at.sawn else { continue };
                let down = |along: f64| if matches!(side, Side::One | Side::Two) { along } else { -along };
                let next = screen.pos(side, s, down(station.pieces[piece.index()][2][axis]));
                let last = sawn.last().map_or(f32::NEG_INFINITY, |last| last.x);
                if next.x - last < APART_PX && s < scene.leg.length_mm {
                    continue;
                }
                sawn.push(next);
                // Rows 1 and 2 have the growing coordinate downward, so the first piece above the seam; 3 and 4 the other.
                let upper = (edge == 0) == matches!(side, Side::One | Side::Two);
                drawn.push(screen.pos(side, s, sides::outline_of(scene.leg, side, s)[usize::from(!upper)]));
            }
            if view.leg_as == LegAs::Sawn {
                covered(painter, t, &sawn, &drawn);
            }
            painter.add(Shape::line(sawn, Stroke::new(1.0, if view.leg_as == LegAs::Sawn { t.ink } else { t.soft })));
        }
    }
}

/// The greatest step at each seam, marked on the sides.
pub fn steps_on_sides(ui: &Ui, rect: Rect, screen: &sides::Screen, scene: &Scene<'_>, survey: &Survey, view: &View) {
    if survey.sawn().is_none() || !view.leg_as.sawn() {
        return;
    }
    for side in Side::ALL {
        greatest_step(&ui.painter_at(rect), Tokens::here(ui), screen, side, survey, scene.units());
    }
}

/// Takes the strip between the outline as sawn and the one as drawn out of the picture.
fn covered(painter: &Painter, t: &Tokens, sawn: &[Pos2], drawn: &[Pos2]) {
    for (inner, outer) in sawn.windows(2).zip(drawn.windows(2)) {
        // A hair beyond the drawn outline, which has a width.
        let beyond = vec2(0.0, (outer[0].y - inner[0].y).signum() * 1.2);
        let corners = vec![inner[0], inner[1], outer[1] + beyond, outer[0] + beyond];
        painter.add(Shape::convex_polygon(corners, t.sheet, Stroke::NONE));
    }
}

/// Where the step at a seam is greatest: a step drawn, and how much it is.
fn greatest_step(painter: &Painter, t: &Tokens, screen: &sides::Screen, side: Side, survey: &Survey, units: Units) {
    let step = |at: &cornerwise_geometry::Surveyed| at.sawn.map_or(0.0, |sawn| sawn.step_mm[side.index()].abs());
    // Of places that are alike the first.
    let more = |one: f64, than: f64| one > than * (1.0 + 1e-3);
    let all = survey.stations().iter();
    let Some(worst) = all.reduce(|worst, at| if more(step(at), step(worst)) { at } else { worst }) else { return };
    if step(worst) < FELT_MM {
        return;
    }
    let at = screen.pos(side, worst.drawn.s_mm, 0.0);
    let clip = painter.clip_rect();
    let at = egui::pos2(at.x.clamp(clip.left() + 20.0, (clip.right() - 110.0).max(clip.left() + 20.0)), at.y + 9.0);
    let glyph = [vec2(-9.0, -3.0), vec2(0.0, -3.0), vec2(0.0, 3.0), vec2(9.0, 3.0)].map(|by| at + by);
    let words = format!("step {}", units.fine().show_with_unit(step(worst)));
    let beside = at + vec2(13.0, 0.0);
    paint::label(painter, t, beside, Align2::LEFT_CENTER, &words, tokens::small(), t.ink);
    painter.add(Shape::line(glyph.to_vec(), Stroke::new(4.0, t.halo)));
    painter.add(Shape::line(glyph.to_vec(), Stroke::new(1.6, t.ink)));
}

/// The edges as sawn on the upright finished leg, where both are shown; as sawn alone, the leg itself is drawn so.
pub fn on_leg(ui: &Ui, rect: Rect, screen: &leg::Screen, scene: &Scene<'_>, survey: &Survey, view: &View) {
    let Some(sawn) = survey.sawn().filter(|_| view.leg_as == LegAs::Both && view.opening >= 1.0) else { return };
    let t = Tokens::here(ui);
    let painter = ui.painter_at(rect);
    let length = scene.leg.length_mm;
    let places = (0..PLACES).map(|i| length * i as f64 / (PLACES - 1) as f64);
    let ring: Vec<(f64, [[f64; 2]; 4])> = places.map(|s| (s, sawn.at(s).pieces.map(|piece| piece[2]))).collect();
    for points in ghost::seen_edges(scene.leg, &ring, screen.camera(), |at| screen.pos(at)) {
        painter.add(Shape::line(points, Stroke::new(1.0, t.ink)));
    }
}

//! The comb of the bends, the tightest bend, and crests, flats and inflections, drawn on the faces.

use cornerwise_geometry::{Bend, Cut, LineMark, MarkKind, Units};
use egui::{Align2, Id, Painter, Pos2, Rect, Role, Sense, Shape, Stroke, Ui, Vec2, WidgetInfo, vec2};

use crate::across::ScreenFromFaces;
use crate::paint;
use crate::scene::Scene;
use crate::tokens::{self, Tokens};
use crate::view::View;

/// How far quills stand apart, points.
const QUILLS_APART_PX: f64 = 6.0;
/// Half the size of a mark, points.
const MARK_PX: f32 = 5.0;
/// From the line to its marks: clear of the points that lie on it.
const OFF_PX: f32 = 9.0;
/// How far from its line a figure may stand, in steps.
const FARTHEST_STEPS: u32 = 3;

/// Draws what is asked for. Figures keep clear of one another and of the lines.
pub fn show(ui: &Ui, painter: &Painter, faces: &ScreenFromFaces, scene: &Scene<'_>, view: &View) {
    let t = Tokens::here(ui);
    let asked = view.fairness;
    let both =
        faces.rect(Cut::First, 0.0, scene.leg.length_mm).union(faces.rect(Cut::Second, 0.0, scene.leg.length_mm));
    let mut figures =
        Figures { room: both.expand2(vec2(0.0, 2.0)).intersect(painter.clip_rect().shrink(4.0)), taken: Vec::new() };
    if asked.comb {
        let scale = asked.scale(scene.leg);
        Cut::ALL.into_iter().for_each(|cut| comb(painter, t, faces, scene, cut, scale));
        legend(painter, t, faces, scene.units(), scale);
    }
    for cut in Cut::ALL {
        if let Some(bend) = scene.leg.line(cut).tightest().filter(|_| asked.tightest) {
            tightest(ui, painter, t, faces, scene, cut, bend, &mut figures);
        }
    }
    if asked.marks {
        for cut in Cut::ALL {
            for mark in scene.leg.line(cut).marks() {
                one_mark(ui, painter, t, faces, scene, cut, &mark, &mut figures);
            }
        }
    }
}

fn comb(painter: &Painter, t: &Tokens, faces: &ScreenFromFaces, scene: &Scene<'_>, cut: Cut, scale_mm2: f64) {
    let shown = faces.axis.shown();
    let line = scene.leg.line(cut);
    let colour = t.cut(cut).gamma_multiply(0.65);
    let mut tips: Vec<Pos2> = Vec::new();
    let finish = |tips: &mut Vec<Pos2>| {
        painter.add(Shape::line(std::mem::take(tips), Stroke::new(1.4, t.cut(cut))));
    };
    let mut last: Option<f64> = None;
    for quill in line.quills(shown.from_mm, shown.to_mm, QUILLS_APART_PX / faces.axis.px_per_mm) {
        // The comb ends at the sharp point and begins anew below it.
        if last.is_some_and(|last| last == quill.s_mm) && line.sharp_point() == last {
            finish(&mut tips);
        }
        last = Some(quill.s_mm);
        let foot = faces.pos(cut, quill.s_mm, quill.at.offset);
        let [s, offset] = quill.tip(scale_mm2);
        let tip = faces.pos(cut, s, offset);
        painter.line_segment([foot, tip], Stroke::new(1.0, colour));
        tips.push(tip);
    }
    finish(&mut tips);
}

/// What a quill's length says.
fn legend(painter: &Painter, t: &Tokens, faces: &ScreenFromFaces, units: Units, scale_mm2: f64) {
    let long = match units {
        Units::Millimetres => 10.0,
        Units::Inches(_) => cornerwise_geometry::MM_PER_INCH / 2.0,
    };
    let [long_words, radius] = [long, round_figure(scale_mm2 / long)].map(|mm| units.show_with_unit(mm));
    let words = format!("comb: {long_words} of quill is a radius of {radius}");
    let at = painter.clip_rect().right_top() + vec2(-8.0, 6.0);
    paint::label(painter, t, at, Align2::RIGHT_TOP, &words, tokens::small(), t.ink);
    let right = painter.clip_rect().right() - 8.0;
    let sample = (long * faces.px_per_mm) as f32;
    painter.vline(right, at.y + 18.0..=at.y + 18.0 + sample, Stroke::new(1.4, t.ink));
}

/// Three figures of a length, which is all that a comb's scale needs.
fn round_figure(mm: f64) -> f64 {
    let step = 10_f64.powf(mm.abs().max(1e-9).log10().floor() - 2.0);
    (mm / step).round() * step
}

#[expect(clippy::too_many_arguments, reason = "a mark, where it is drawn and what it keeps clear of")]
fn tightest(
    ui: &Ui,
    painter: &Painter,
    t: &Tokens,
    faces: &ScreenFromFaces,
    scene: &Scene<'_>,
    cut: Cut,
    bend: Bend,
    figures: &mut Figures,
) {
    let line = scene.leg.line(cut);
    // At a joint either part may be the tighter one.
    let [above, below] = [line.at(bend.s_mm), line.at_after(bend.s_mm)];
    let at = if below.curvature.abs() > above.curvature.abs() { below } else { above };
    // The circle that the bend is a part of, as far as the eye compares it with the line.
    let square = (1.0 + at.slope * at.slope).sqrt();
    let side = at.curvature.signum();
    let middle = [bend.s_mm - side * bend.radius_mm * at.slope / square, at.offset + side * bend.radius_mm / square];
    let half = (0.08 * scene.leg.length_mm / bend.radius_mm).min(0.9);
    let straight_out = (at.offset - middle[1]).atan2(bend.s_mm - middle[0]);
    let arc: Vec<Pos2> = (-24..=24)
        .map(|i| straight_out + half * f64::from(i) / 24.0)
        .map(|angle| faces.pos(cut, middle[0] + bend.radius_mm * angle.cos(), middle[1] + bend.radius_mm * angle.sin()))
        .collect();
    let pos = faces.pos(cut, bend.s_mm, at.offset);
    painter.add(Shape::line(arc.clone(), Stroke::new(4.5, t.halo)));
    painter.extend(Shape::dashed_line(&arc, Stroke::new(1.6, t.ink), 3.0, 3.0));
    painter.circle_filled(pos, 3.0, t.ink);
    let units = scene.units();
    let words = format!(
        "tightest bend, radius {}, {} from top",
        units.show_with_unit(bend.radius_mm),
        units.show_with_unit(bend.s_mm)
    );
    node(ui, cut, &words, pos);
    // On the inside of the bend, where the comb is not.
    let way = if at.curvature > 0.0 { 1.0 } else { -1.0 };
    figures.place(painter, t, faces, scene, pos, way, &words);
}

#[expect(clippy::too_many_arguments, reason = "a mark, where it is drawn and what it keeps clear of")]
fn one_mark(
    ui: &Ui,
    painter: &Painter,
    t: &Tokens,
    faces: &ScreenFromFaces,
    scene: &Scene<'_>,
    cut: Cut,
    mark: &LineMark,
    figures: &mut Figures,
) {
    let s = mark.middle_mm();
    let pos = faces.pos(cut, s, scene.leg.line(cut).offset(s));
    let colour = t.cut(cut);
    let way = if mark.kind == MarkKind::CrestNear { -1.0 } else { 1.0 };
    let (fill, halo) = (Stroke::new(1.8, colour), Stroke::new(5.0, t.halo));
    match mark.kind {
        // Outside the crest, its tip toward it.
        MarkKind::CrestFar | MarkKind::CrestNear => {
            let tip = pos + vec2(0.0, way * OFF_PX);
            let head = |grown: f32| {
                let base = tip + vec2(0.0, way * (9.0 + grown));
                let out = MARK_PX + grown;
                vec![tip - vec2(0.0, way * grown), base + vec2(out, 0.0), base - vec2(out, 0.0)]
            };
            painter.add(Shape::convex_polygon(head(2.0), t.halo, Stroke::NONE));
            painter.add(Shape::convex_polygon(head(0.0), colour, Stroke::NONE));
        }
        MarkKind::Inflection => {
            for (stroke, size) in [(halo, MARK_PX + 1.0), (fill, MARK_PX)] {
                let slant = Vec2::splat(size);
                painter.line_segment([pos - slant, pos + slant], stroke);
                let slant = vec2(size, -size);
                painter.line_segment([pos - slant, pos + slant], stroke);
            }
        }
        MarkKind::Flat => {
            let ends = [mark.from_mm, mark.to_mm].map(|s| faces.pos(cut, s, scene.leg.line(cut).offset(s)));
            let ends = [ends[0] - vec2(2.0, OFF_PX), ends[1] + vec2(2.0, -OFF_PX)];
            for stroke in [halo, fill] {
                painter.line_segment(ends, stroke);
                for end in ends {
                    painter.vline(end.x, end.y - 3.0..=end.y + 3.0, stroke);
                }
            }
        }
    }
    let units = scene.units();
    let level = mark.to_mm > mark.from_mm;
    let place = if level {
        format!("{} to {}", units.show(mark.from_mm), units.show_with_unit(mark.to_mm))
    } else {
        units.show_with_unit(s)
    };
    let name = match mark.kind {
        MarkKind::CrestFar | MarkKind::CrestNear => "crest",
        MarkKind::Flat => "flat",
        MarkKind::Inflection => "inflection",
    };
    node(ui, cut, &format!("{name}, {place} from top"), pos);
    let way = if mark.kind == MarkKind::Flat { -1.0 } else { way };
    figures.place(painter, t, faces, scene, pos + vec2(0.0, way * 10.0), way, &format!("{name} {place}"));
}

/// What a mark is called by whoever cannot see it.
fn node(ui: &Ui, cut: Cut, words: &str, at: Pos2) {
    let area = Rect::from_center_size(at, Vec2::splat(4.0));
    let response = ui.interact(area, Id::unique(("mark", cut.index(), words)), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::GraphicsObject, true, format!("{cut}, {words}")));
}

/// Where figures stand, so that the next one keeps clear of them.
struct Figures {
    room: Rect,
    taken: Vec<Rect>,
}

impl Figures {
    /// Writes a figure beside a place: `way` up (-1) or down (1) of it where there is room, else on the other side,
    /// else farther off. Not at all where it would hide another: the mark is there, and zooming in makes room.
    #[expect(clippy::too_many_arguments, reason = "a figure, where it stands and what it keeps clear of")]
    fn place(
        &mut self,
        painter: &Painter,
        t: &Tokens,
        faces: &ScreenFromFaces,
        scene: &Scene<'_>,
        at: Pos2,
        way: f32,
        words: &str,
    ) {
        if !painter.clip_rect().x_range().contains(at.x) {
            return;
        }
        let size = painter.layout_no_wrap(words.to_owned(), tokens::small(), t.ink).size();
        let steps = (0..FARTHEST_STEPS).flat_map(|step| [(way, step), (-way, step)]);
        for (way, step) in steps {
            let middle = at + vec2(0.0, way * (14.0 + size.y / 2.0 + step as f32 * (size.y + 3.0)));
            let half = size.x / 2.0 + 4.0;
            // Near an end of the face it moves aside.
            let x = middle.x.min(self.room.right() - half).max(self.room.left() + half);
            let rect = Rect::from_center_size(Pos2::new(x, middle.y), size).expand2(vec2(4.0, 1.0));
            let free = self.room.contains_rect(rect) && self.taken.iter().all(|taken| !taken.intersects(rect));
            if free && !on_a_line(faces, scene, rect) {
                let at = rect.center();
                paint::label(painter, t, at, Align2::CENTER_CENTER, words, tokens::small(), t.ink);
                self.taken.push(rect);
                return;
            }
        }
    }
}

/// Whether a saw line runs through a rectangle.
fn on_a_line(faces: &ScreenFromFaces, scene: &Scene<'_>, rect: Rect) -> bool {
    const LOOKS: u32 = 12;
    Cut::ALL.into_iter().any(|cut| {
        (0..=LOOKS).any(|i| {
            let x = rect.left() + rect.width() * i as f32 / LOOKS as f32;
            let s = faces.axis.s(x);
            rect.expand(2.0).contains(faces.pos(cut, s, scene.leg.line(cut).offset(s)))
        })
    })
}

#[cfg(test)]
mod tests {
    use super::round_figure;

    #[test]
    fn a_scale_has_three_figures() {
        assert_eq!(
            [1234.5, 0.456_78, 99.96].map(round_figure).map(|mm| format!("{mm:.4}")),
            ["1230.0000", "0.4570", "100.0000"]
        );
    }
}

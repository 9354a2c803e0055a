//! Graphs along the leg, those the maker has chosen, on the ruler that all rows share: as drawn and as sawn together, their
//! limits as lines.

mod choice;
mod curves;

use cornerwise_geometry::{Along, AlongUnit, Cut, Survey, Units};
use egui::{Align2, Id, Painter, Rect, Role, ScrollArea, Sense, Shape, Stroke, Ui, UiBuilder, WidgetInfo, pos2, vec2};
use egui_plot::{GridMark, Line, LineStyle, MarkerShape, Plot, PlotBounds, PlotPoints, Points};

use crate::paint;
use crate::readout;
use crate::ruler::{Axis, ticks};
use crate::scene::Scene;
use crate::tokens::{self, Tokens};
use crate::view::View;

pub use choice::show as choice;
pub use curves::{Graph, Ranges, graphs};

/// From mark to mark on a curve as sawn, points.
const MARKS_PX: f64 = 44.0;
/// Bends easier than this are drawn at the graph's top, mm: no blade minds them.
const EASY_MM: f64 = 1000.0;

/// Room for the bar that scrolls, points.
const BAR_PX: f32 = 10.0;
/// The least height of a graph, points: its name, its figures and the ends of its range.
const LEAST_PX: f32 = 46.0;

/// Shows the graphs in `rect`.
///
/// Those of the ghost, where there is one, are fine lines on the same scale.
///
/// Where there are more than fit, the row is scrolled so far, points.
pub fn show(
    ui: &mut Ui,
    (rect, scrolled_px): (Rect, f32),
    axis: Axis,
    graphs: Vec<Graph>,
    ghost: Option<Vec<Graph>>,
    scene: &Scene<'_>,
    view: &View,
) {
    let t = Tokens::here(ui);
    ui.painter_at(rect).rect_filled(rect, 0.0, t.sheet);
    let ground = ui.interact(rect, Id::unique("along the leg"), Sense::hover());
    ground.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, "graphs along the leg"));
    let height = height_px(rect, graphs.len());
    let mut inside = ui.new_child(UiBuilder::new().max_rect(rect).id_salt("graphs"));
    inside.set_clip_rect(rect.intersect(ui.clip_rect()));
    let mut ghosts = ghost.into_iter().flatten();
    for (i, graph) in graphs.into_iter().enumerate() {
        let top = rect.top() + height * i as f32 - scrolled_px;
        let area = Rect::from_min_max(pos2(rect.left(), top), pos2(rect.right(), top + height));
        one(&mut inside, area, axis, scene, graph, ghosts.next());
    }
    paint::cursor(&ui.painter_at(rect), t, axis, rect, view.cursor_mm);
}

/// How high each of so many graphs is: as there is room, and never so low that its words run into the next.
fn height_px(row: Rect, count: usize) -> f32 {
    (row.height() / count.max(1) as f32).max(LEAST_PX)
}

/// A figure of a quantity, with its unit. Steps, gaps and what is lost are small: no fractions of an inch.
pub fn figure(along: Along, units: Units, value: f64) -> String {
    match (along, along.unit()) {
        (Along::SeamStep | Along::Lost | Along::Gap, _) => units.fine().show_with_unit(value),
        (Along::BendRadius, _) if value >= 10.0 * EASY_MM => "straight".to_owned(),
        // What no blade minds is told roughly.
        (Along::BendRadius, _) if value >= EASY_MM => units.show_with_unit(10.0 * (value / 10.0).round()),
        (_, AlongUnit::Mm) => units.show_with_unit(value),
        (_, AlongUnit::Mpa) => format!("{value:.1} MPa"),
        (_, AlongUnit::Degrees) => format!("{value:.1}°"),
        (_, AlongUnit::Slope) => readout::slope_figure(value),
        (_, AlongUnit::Share) => format!("{:.0} %", 100.0 * value),
    }
}

fn one(ui: &mut Ui, area: Rect, axis: Axis, scene: &Scene<'_>, graph: Graph, ghost: Option<Graph>) {
    let t = Tokens::here(ui);
    let shown = axis.shown();
    let [least, most] = graph.range;
    let air = 0.12 * (most - least).max(1e-9);
    let marks: Vec<f64> = ticks(shown, axis.px_per_mm, scene.units())
        .into_iter()
        .filter(|tick| tick.label.is_some())
        .map(|tick| tick.s_mm)
        .collect();
    let step = marks.windows(2).map(|pair| pair[1] - pair[0]).next().unwrap_or(100.0);
    let along = graph.along;
    let name = along.name();
    let mut inside = ui.new_child(UiBuilder::new().max_rect(area).id_salt(name));
    inside.set_clip_rect(area.intersect(ui.clip_rect()));
    let painter = ui.painter_at(area);
    if graph.curves.is_empty() {
        let words = match graph.along {
            Along::Stress | Along::StrengthUsed => "Tell a load, below the watch-outs, to see this",
            _ => "Tell the saw, below the watch-outs, to see this",
        };
        painter.text(area.center(), Align2::CENTER_CENTER, words, tokens::small(), t.soft);
        painter.hline(area.x_range(), area.bottom() - 0.5, Stroke::new(1.0, t.hair));
        return;
    }
    let plot = Plot::new(name)
        .id(Id::unique(("graph", name)))
        .width(area.width())
        .height(area.height())
        .min_size(vec2(10.0, 10.0))
        .show_axes([false, false])
        .show_grid([true, false])
        .x_grid_spacer(move |_| marks.iter().map(|value| GridMark { value: *value, step_size: step }).collect())
        .grid_color(t.hair)
        .show_background(false)
        .show_crosshair(false)
        .show_x(false)
        .show_y(false)
        .label_formatter(|_| None)
        .allow_zoom(false)
        .allow_drag(false)
        .allow_scroll(false)
        .allow_boxed_zoom(false)
        .allow_double_click_reset(false)
        .allow_axis_zoom_drag(false)
        .sense(Sense::hover());
    let [low, high] = [least - air, most + air];
    let y = |value: f64| area.bottom() - (area.height() as f64 * (value - low) / (high - low)) as f32;
    let said = limit_lines(&painter, t, area, &graph, y);
    let bounds = PlotBounds::from_min_max([shown.from_mm, low], [shown.to_mm, high]);
    plot.show(&mut inside, |plot| {
        plot.set_plot_bounds(bounds);
        for (curve, points) in ghost.into_iter().flat_map(|ghost| ghost.curves) {
            let colour = curve.cut.map_or(t.ink, |cut| t.cut(cut)).gamma_multiply(0.7);
            let line = Line::new("ghost", PlotPoints::from(points)).stroke(Stroke::new(1.2, colour));
            plot.line(line.style(LineStyle::Dotted { spacing: 4.0 }).allow_hover(false));
        }
        for (curve, points) in graph.curves {
            let (colour, style, name) = match curve.cut {
                Some(Cut::First) => (t.first, LineStyle::Solid, "first cut"),
                Some(Cut::Second) => (t.second, LineStyle::Dashed { length: tokens::DASH[0] }, "second cut"),
                None => (t.ink, LineStyle::Solid, "both cuts"),
            };
            // As sawn: a finer line with small marks on it.
            let width = if curve.sawn { 1.0 } else { 1.8 };
            if curve.sawn {
                let shape = if curve.cut == Some(Cut::Second) { MarkerShape::Square } else { MarkerShape::Circle };
                let at = marked(&points, axis, curve.cut == Some(Cut::Second));
                let points = Points::new(name, PlotPoints::from(at)).shape(shape).radius(2.6).color(colour);
                plot.points(points.filled(false).allow_hover(false));
            }
            let line = Line::new(name, PlotPoints::from(points)).stroke(Stroke::new(width, colour)).style(style);
            plot.line(line.allow_hover(false));
        }
    });
    // Over the curves, so that they can be read.
    for Said { at, watch, value } in said {
        let words = if watch { "watch out" } else { "look" };
        let words = format!("{words} {}", figure(along, scene.units(), value));
        let align = if at - area.top() < 16.0 { Align2::RIGHT_TOP } else { Align2::RIGHT_BOTTOM };
        let colour = if watch { t.wrong } else { t.soft };
        paint::label(&painter, t, pos2(area.right() - 6.0, at), align, &words, tokens::small(), colour);
    }
    painter.hline(area.x_range(), area.bottom() - 0.5, Stroke::new(1.0, t.hair));
}

/// Every so many points along a curve, those of the second cut between those of the first.
fn marked(points: &[[f64; 2]], axis: Axis, between: bool) -> Vec<[f64; 2]> {
    let step = MARKS_PX / axis.px_per_mm;
    let mut next = points.first().map_or(0.0, |first| first[0]) + if between { step } else { 0.5 * step };
    let mut found = Vec::new();
    for at in points {
        if at[0] >= next {
            found.push(*at);
            next = at[0] + step;
        }
    }
    found
}

/// A limit that is said in words.
struct Said {
    at: f32,
    watch: bool,
    value: f64,
}

/// The limits of a graph: "have a look" dotted, "watch out" firm. The answer is where their words go, at the right edge.
fn limit_lines(painter: &Painter, t: &Tokens, area: Rect, graph: &Graph, y: impl Fn(f64) -> f32) -> Vec<Said> {
    let mut said: Vec<Said> = Vec::new();
    for (_, limit) in &graph.limits {
        for (value, watch) in [(limit.watch, true), (limit.look, false)] {
            let at = y(value);
            // Where both steps of a limit are one, it is told once.
            if !(area.top() + 2.0..area.bottom() - 2.0).contains(&at) || (!watch && limit.look == limit.watch) {
                continue;
            }
            let ends = [pos2(area.left(), at), pos2(area.right(), at)];
            if watch {
                painter.hline(area.x_range(), at, Stroke::new(1.2, t.wrong));
            } else {
                painter.extend(Shape::dotted_line(&ends, t.soft, 5.0, 0.9));
            }
            // Near the top words stand below their line, elsewhere above it: between two such lines there must be room for both.
            let flips = |at: f32| at - area.top() < 16.0;
            let apart = |other: &Said| if flips(other.at) == flips(at) { 13.0 } else { 28.0 };
            if said.iter().all(|other| (other.at - at).abs() > apart(other)) {
                said.push(Said { at, watch, value });
            }
        }
    }
    said
}

/// The row head: what each graph shows, the figures at the cursor, and the range of the graph at its edge. Where there are more
/// than fit, the head is what is scrolled; the answer is how far, points.
pub fn head(ui: &mut Ui, rect: Rect, graphs: &[Graph], scene: &Scene<'_>, survey: &Survey, view: &View) -> f32 {
    let mut inside = ui.new_child(UiBuilder::new().max_rect(rect).id_salt("heads of graphs"));
    inside.set_clip_rect(rect.intersect(ui.clip_rect()));
    let all = height_px(rect, graphs.len()) * graphs.len() as f32;
    if all <= rect.height() + 0.5 {
        heads(&inside, rect, graphs, scene, survey, view);
        return 0.0;
    }
    let area = ScrollArea::vertical().id_salt("graphs").auto_shrink([false, false]);
    let scrolled = area.show(&mut inside, |ui| {
        let (content, response) = ui.allocate_exact_size(vec2(rect.width() - BAR_PX, all), Sense::hover());
        heads(ui, content, graphs, scene, survey, view);
        response.on_hover_text("Roll the wheel here, or drag the bar, for the other graphs");
    });
    scrolled.state.unclamped_offset().y
}

fn heads(ui: &Ui, rect: Rect, graphs: &[Graph], scene: &Scene<'_>, survey: &Survey, view: &View) {
    let t = Tokens::here(ui);
    let units = scene.units();
    let at = survey.measure(view.cursor_mm.clamp(0.0, scene.leg.length_mm));
    let height = height_px(rect, graphs.len());
    let painter = ui.painter_at(rect);
    for (i, graph) in graphs.iter().enumerate() {
        let area = Rect::from_min_size(rect.min + vec2(0.0, height * i as f32), vec2(rect.width(), height));
        let left = area.left() + 12.0;
        let name =
            painter.text(pos2(left, area.top() + 3.0), Align2::LEFT_TOP, graph.along.name(), tokens::small(), t.soft);
        let mut said = Vec::new();
        for sawn in [false, true] {
            let curves = graph.curves.iter().map(|(curve, _)| *curve).filter(|curve| curve.sawn == sawn);
            let figures: Vec<_> = curves
                .map(|curve| {
                    let value = graph.along.at(curve, &at, survey);
                    (curve.cut, value.map_or("straight".to_owned(), |value| figure(graph.along, units, value)))
                })
                .collect();
            if !figures.is_empty() {
                said.push((sawn, figures));
            }
        }
        // One line of figures where there is no room for two.
        let lines = if height < 58.0 { 1 } else { 2 };
        for (line, (sawn, figures)) in said.iter().take(lines).enumerate() {
            let middle = area.top() + 27.0 + 17.0 * line as f32;
            let mut x = left;
            for (cut, words) in figures {
                let colour = cut.map_or(t.ink, |cut| t.cut(cut));
                x = painter.text(pos2(x, middle), Align2::LEFT_CENTER, words, tokens::body(), colour).right() + 10.0;
            }
            if *sawn {
                painter.text(pos2(x, middle), Align2::LEFT_CENTER, "sawn", tokens::small(), t.soft);
            }
        }
        if !graph.curves.is_empty() {
            let right = area.right() - 6.0;
            let open_above = graph.along == Along::BendRadius && graph.range[1] >= EASY_MM;
            let most = figure(graph.along, units, graph.range[1]) + if open_above { "+" } else { "" };
            painter.text(pos2(right, area.top() + 3.0), Align2::RIGHT_TOP, most, tokens::small(), t.soft);
            let least = figure(graph.along, units, graph.range[0]);
            if area.bottom() - 18.0 > name.bottom() {
                painter.text(pos2(right, area.bottom() - 3.0), Align2::RIGHT_BOTTOM, least, tokens::small(), t.soft);
            }
        }
        painter.hline(area.x_range(), area.bottom() - 0.5, Stroke::new(1.0, t.hair));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// However many graphs are chosen, each keeps room for its name and its figures, and few of them share all there is.
    #[test]
    fn graphs_keep_room_for_their_words() {
        let row = Rect::from_min_size(egui::Pos2::ZERO, vec2(900.0, 250.0));
        assert_eq!(height_px(row, 4), 62.5);
        assert_eq!(height_px(row, Along::ALL.len()), LEAST_PX);
        assert_eq!(height_px(row, 0), 250.0);
    }

    #[test]
    fn small_figures_are_decimals_of_an_inch() {
        let inches = Units::Inches(cornerwise_geometry::Finest::Sixteenth);
        assert_eq!(figure(Along::SeamStep, inches, 0.44), "0.017\"");
        assert_eq!(figure(Along::Gap, Units::Millimetres, 0.444), "0.44 mm");
    }
}

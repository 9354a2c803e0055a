//! Graphs along the leg: thickness square to the curve, edge angle, slope and radius, on the ruler that all rows share.

use cornerwise_geometry::{Cut, Leg, Station, Units};
use egui::{Align2, Id, Rect, Role, Sense, Stroke, Ui, UiBuilder, WidgetInfo, pos2, vec2};
use egui_plot::{GridMark, Line, LineStyle, Plot, PlotBounds, PlotPoints};

use crate::paint;
use crate::readout;
use crate::ruler::{Axis, ticks};
use crate::scene::Scene;
use crate::tokens::{self, Tokens};
use crate::view::View;

/// How many stations a graph is drawn through, per point across.
const STATIONS_PER_PX: f64 = 0.5;
/// How many stations, evenly spaced, the ranges of a leg are taken from, beside those where something turns.
const EVEN: usize = 1001;
/// Bends easier than this are drawn at the graph's top, mm: no blade minds them.
const EASY_MM: f64 = 1000.0;

/// Rows lower than this have one line of words only, points.
const LOW_PX: f32 = 44.0;
/// How long the sample of a line before its figure is, points.
const SAMPLE_PX: f32 = 20.0;

/// One graph.
pub struct Graph {
    name: &'static str,
    /// One line for each cut, or a single one for both.
    lines: Vec<(Option<Cut>, Vec<[f64; 2]>)>,
    /// Least and most that is shown.
    range: [f64; 2],
    show: fn(Units, f64) -> String,
    /// Whether values above the range are drawn at its top.
    open_above: bool,
}

/// Shows the graphs in `rect`.
///
/// Those of the ghost, where there is one, are fine lines on the same scale.
pub fn show(
    ui: &mut Ui,
    rect: Rect,
    axis: Axis,
    graphs: [Graph; 4],
    ghost: Option<[Graph; 4]>,
    scene: &Scene<'_>,
    view: &View,
) {
    let t = Tokens::here(ui);
    ui.painter_at(rect).rect_filled(rect, 0.0, t.sheet);
    let ground = ui.interact(rect, Id::unique("along the leg"), Sense::hover());
    ground.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, "graphs along the leg"));
    let height = rect.height() / graphs.len() as f32;
    let mut ghosts = ghost.into_iter().flatten();
    for (i, graph) in graphs.into_iter().enumerate() {
        let top = rect.top() + height * i as f32;
        let area = Rect::from_min_max(pos2(rect.left(), top), pos2(rect.right(), top + height));
        one(ui, area, axis, scene, graph, ghosts.next());
    }
    paint::cursor(&ui.painter_at(rect), t, axis, rect, view.cursor_mm);
}

/// How far the graphs of a leg reach, over its whole length, whatever of it is shown.
#[derive(Clone, Debug, PartialEq)]
pub struct Ranges {
    thinnest_mm: f64,
    least_edge_angle_deg: f64,
    steepest: f64,
    /// Stations at which something turns or breaks, mm from the top: crests, joints, tightest bends, and both sides of
    /// sharp points.
    telling: Vec<f64>,
}

impl Ranges {
    /// The ranges of a leg.
    pub fn of(leg: &Leg) -> Ranges {
        let telling = telling(leg);
        let all: Vec<Station> =
            leg.uniform_stations(EVEN).into_iter().chain(telling.iter().copied()).map(|s| leg.station(s)).collect();
        let least = |of: &dyn Fn(&Station) -> f64| all.iter().map(of).fold(f64::INFINITY, f64::min);
        Ranges {
            thinnest_mm: least(&|at| at.thickness_mm[0].min(at.thickness_mm[1])),
            least_edge_angle_deg: least(&|at| at.edge_angle_deg),
            steepest: -least(&|at| -at.a_slope.abs().max(at.b_slope.abs())),
            telling,
        }
    }
}

fn telling(leg: &Leg) -> Vec<f64> {
    let mut stations = Vec::new();
    for cut in Cut::ALL {
        let line = leg.line(cut);
        stations.extend(line.crests());
        stations.extend(line.finished_segments().iter().flat_map(|joint| [joint.p0.x, joint.p3.x, after(joint.p3.x)]));
        stations.extend(line.tightest().map(|bend| bend.s_mm));
        stations.extend(line.sharp_point().into_iter().flat_map(|s| [s, after(s)]));
    }
    stations.retain(|s| (0.0..=leg.length_mm).contains(s));
    stations.sort_by(f64::total_cmp);
    stations.dedup();
    stations
}

/// Just below a place: a station on a joint is measured above it.
fn after(s: f64) -> f64 {
    s + 1e-6
}

/// The four graphs of what is shown.
pub fn graphs(axis: Axis, scene: &Scene<'_>, ranges: &Ranges) -> [Graph; 4] {
    let leg = scene.leg;
    let shown = axis.shown();
    let (from, to) = (shown.from_mm.max(0.0), shown.to_mm.min(leg.length_mm).max(shown.from_mm.max(0.0)));
    let count = ((to - from) * axis.px_per_mm * STATIONS_PER_PX).clamp(2.0, 4000.0) as usize;
    let mut places: Vec<f64> = (0..=count).map(|i| from + (to - from) * i as f64 / count as f64).collect();
    places.extend(ranges.telling.iter().filter(|s| (from..=to).contains(*s)));
    places.sort_by(f64::total_cmp);
    let stations: Vec<Station> = places.into_iter().map(|s| leg.station(s)).collect();
    let line = |of: &dyn Fn(&Station) -> f64| stations.iter().map(|at| [at.s_mm, of(at)]).collect::<Vec<_>>();
    let both = |of: [&dyn Fn(&Station) -> f64; 2]| {
        Cut::ALL.into_iter().zip(of).map(|(cut, of)| (Some(cut), line(of))).collect::<Vec<_>>()
    };
    let radius = |curvature: f64| (1.0 / curvature.abs().max(1e-12)).min(EASY_MM);
    let most_across = leg.width_mm.max(leg.depth_mm);
    let steepest = ranges.steepest.max(0.1);
    [
        Graph {
            name: "Thickness",
            lines: both([&|at| at.thickness_mm[0], &|at| at.thickness_mm[1]]),
            range: [ranges.thinnest_mm.min(0.9 * most_across), most_across],
            show: |units, mm| units.show_with_unit(mm),
            open_above: false,
        },
        Graph {
            name: "Edge angle",
            lines: vec![(None, line(&|at| at.edge_angle_deg))],
            range: [ranges.least_edge_angle_deg.min(80.0), 90.0],
            show: |_, deg| format!("{deg:.0}°"),
            open_above: false,
        },
        Graph {
            name: "Slope",
            lines: both([&|at| at.a_slope, &|at| at.b_slope]),
            range: [-steepest, steepest],
            show: |_, slope| readout::slope_figure(slope),
            open_above: false,
        },
        Graph {
            name: "Bend radius",
            lines: both([&|at| radius(at.a_curvature_per_mm), &|at| radius(at.b_curvature_per_mm)]),
            range: [0.0, EASY_MM],
            show: |units, mm| units.show_with_unit(mm),
            open_above: true,
        },
    ]
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
    let mut inside = ui.new_child(UiBuilder::new().max_rect(area).id_salt(graph.name));
    inside.set_clip_rect(area.intersect(ui.clip_rect()));
    let plot = Plot::new(graph.name)
        .id(Id::unique(("graph", graph.name)))
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
    let bounds = PlotBounds::from_min_max([shown.from_mm, least - air], [shown.to_mm, most + air]);
    let lines = graph.lines;
    plot.show(&mut inside, |plot| {
        plot.set_plot_bounds(bounds);
        for (cut, points) in ghost.into_iter().flat_map(|ghost| ghost.lines) {
            let colour = cut.map_or(t.ink, |cut| t.cut(cut)).gamma_multiply(0.7);
            let line = Line::new("ghost", PlotPoints::from(points)).stroke(Stroke::new(1.2, colour));
            plot.line(line.style(LineStyle::Dotted { spacing: 4.0 }).allow_hover(false));
        }
        for (cut, points) in lines {
            let (colour, style, name) = match cut {
                Some(Cut::First) => (t.first, LineStyle::Solid, "first cut"),
                Some(Cut::Second) => (t.second, LineStyle::Dashed { length: tokens::DASH[0] }, "second cut"),
                None => (t.ink, LineStyle::Solid, "both cuts"),
            };
            let line = Line::new(name, PlotPoints::from(points)).stroke(Stroke::new(1.8, colour)).style(style);
            plot.line(line.allow_hover(false));
        }
    });
    ui.painter_at(area).hline(area.x_range(), area.bottom() - 0.5, Stroke::new(1.0, t.hair));
}

/// The row head: what each graph shows, the figures at the cursor, and the range of the graph at its edge.
pub fn head(ui: &mut Ui, rect: Rect, graphs: &[Graph; 4], scene: &Scene<'_>, view: &View) {
    let t = Tokens::here(ui);
    let units = scene.units();
    let at = scene.leg.station(view.cursor_mm.clamp(0.0, scene.leg.length_mm));
    let radius = |curvature: f64| {
        let mm = 1.0 / curvature.abs().max(1e-12);
        if mm >= 10.0 * EASY_MM { "straight".to_owned() } else { units.show_with_unit(mm) }
    };
    let figures = [
        at.thickness_mm.map(|mm| units.show_with_unit(mm)),
        [format!("{:.1}°", at.edge_angle_deg), String::new()],
        [at.a_slope, at.b_slope].map(readout::slope_figure),
        [radius(at.a_curvature_per_mm), radius(at.b_curvature_per_mm)],
    ];
    let height = rect.height() / graphs.len() as f32;
    let painter = ui.painter_at(rect);
    for (i, (graph, [first, second])) in graphs.iter().zip(figures).enumerate() {
        let area = Rect::from_min_size(rect.min + vec2(0.0, height * i as f32), vec2(rect.width(), height));
        let left = area.left() + 12.0;
        painter.hline(area.x_range(), area.bottom() - 0.5, Stroke::new(1.0, t.hair));
        painter.text(pos2(left, area.top() + 4.0), Align2::LEFT_TOP, graph.name, tokens::small(), t.soft);
        // A low row has its figures beside its name, not below it.
        let low = height < LOW_PX;
        let (mut x, y) = if low { (left + 78.0, area.top() + 11.0) } else { (left, area.top() + 32.0) };
        let font = if low { tokens::small() } else { tokens::body() };
        let single = second.is_empty();
        for (cut, figure) in Cut::ALL.into_iter().zip([first, second]).take(if single { 1 } else { 2 }) {
            // Whose figure it is, by its line as it is drawn everywhere: not by colour alone.
            if !single && !low {
                let sample = vec![pos2(x, y), pos2(x + SAMPLE_PX, y)];
                paint::saw_line(&painter, t, cut, sample);
                x += SAMPLE_PX + 4.0;
            }
            let colour = if single { t.ink } else { t.cut(cut) };
            x = painter.text(pos2(x, y), Align2::LEFT_CENTER, figure, font.clone(), colour).right() + 10.0;
        }
        let right = area.right() - 6.0;
        let most = (graph.show)(units, graph.range[1]) + if graph.open_above { "+" } else { "" };
        if low {
            continue; // no room for the range
        }
        painter.text(pos2(right, area.top() + 4.0), Align2::RIGHT_TOP, most, tokens::small(), t.soft);
        let least = (graph.show)(units, graph.range[0]);
        painter.text(pos2(right, area.bottom() - 3.0), Align2::RIGHT_BOTTOM, least, tokens::small(), t.soft);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ruler::{Ruler, Stretch};
    use std::sync::Arc;

    #[test]
    fn the_range_beside_a_graph_is_the_same_at_every_zoom_and_holds_both_sides_of_a_sharp_point() {
        for number in 0..crate::start::demo_titles().len() {
            let project = Arc::new(crate::start::demo(number).unwrap());
            for design in &project.designs {
                let leg = Arc::new(design.leg().unwrap());
                let scene = Scene { project: &project, design, leg: &leg, ghost: None, revision: 0, moving: false };
                let ranges = Ranges::of(&leg);
                let blank = Stretch { from_mm: 0.0, to_mm: leg.length_mm };
                let mut ruler = Ruler::Whole;
                let ranges_at = |ruler: &Ruler, px: f32| {
                    let axis = ruler.axis(egui::Rangef::new(0.0, px), blank);
                    (axis, graphs(axis, &scene, &ranges).map(|graph| graph.range))
                };
                let (axis, first) = ranges_at(&ruler, 800.0);
                ruler.zoom(axis, blank, 333.0, 7.3);
                assert_eq!(first, ranges_at(&ruler, 800.0).1);
                assert_eq!(first, ranges_at(&Ruler::Whole, 123.0).1);
                for cut in Cut::ALL {
                    let line = leg.line(cut);
                    for at in line.sharp_point().into_iter().flat_map(|s| [line.at(s), line.at_after(s)]) {
                        assert!(at.slope.abs() <= first[2][1] + 1e-4, "{}", design.name);
                    }
                }
            }
        }
    }
}

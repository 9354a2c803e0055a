//! Graphs along the leg: thickness square to the curve, edge angle, slope and radius, on the ruler that all rows share.

use cornerwise_geometry::{Cut, Station, Units};
use egui::{Align2, Id, Rect, RichText, Role, Sense, Stroke, Ui, UiBuilder, WidgetInfo, pos2, vec2};
use egui_plot::{GridMark, Line, LineStyle, Plot, PlotBounds, PlotPoints};

use crate::paint;
use crate::ruler::{Axis, ticks};
use crate::scene::Scene;
use crate::tokens::{self, Tokens};
use crate::view::View;

/// How many stations a graph is drawn through, per point across.
const STATIONS_PER_PX: f64 = 0.5;
/// Bends easier than this are drawn at the graph's top, mm: no blade minds them.
const EASY_MM: f64 = 1000.0;

/// One graph.
struct Graph {
    name: &'static str,
    /// One line for each cut, or a single one for both.
    lines: Vec<(Option<Cut>, Vec<[f64; 2]>)>,
    /// Least and most that is shown.
    range: [f64; 2],
    show: fn(Units, f64) -> String,
}

/// Shows the graphs in `rect`.
pub fn show(ui: &mut Ui, rect: Rect, axis: Axis, scene: &Scene<'_>, view: &View) {
    let t = Tokens::here(ui);
    ui.painter_at(rect).rect_filled(rect, 0.0, t.sheet);
    let ground = ui.interact(rect, Id::unique("along the leg"), Sense::hover());
    ground.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, "graphs along the leg"));
    let graphs = graphs(axis, scene);
    let height = rect.height() / graphs.len() as f32;
    for (i, graph) in graphs.into_iter().enumerate() {
        let top = rect.top() + height * i as f32;
        let area = Rect::from_min_max(pos2(rect.left(), top), pos2(rect.right(), top + height));
        one(ui, area, axis, scene, graph);
    }
    paint::cursor(&ui.painter_at(rect), t, axis, rect, view.cursor_mm);
}

fn graphs(axis: Axis, scene: &Scene<'_>) -> [Graph; 4] {
    let leg = scene.leg;
    let shown = axis.shown();
    let (from, to) = (shown.from_mm.max(0.0), shown.to_mm.min(leg.length_mm).max(shown.from_mm.max(0.0)));
    let count = ((to - from) * axis.px_per_mm * STATIONS_PER_PX).clamp(2.0, 4000.0) as usize;
    let stations: Vec<Station> =
        (0..=count).map(|i| leg.station(from + (to - from) * i as f64 / count as f64)).collect();
    let line = |of: &dyn Fn(&Station) -> f64| stations.iter().map(|at| [at.s_mm, of(at)]).collect::<Vec<_>>();
    let both = |of: [&dyn Fn(&Station) -> f64; 2]| {
        Cut::ALL.into_iter().zip(of).map(|(cut, of)| (Some(cut), line(of))).collect::<Vec<_>>()
    };
    let radius = |curvature: f64| (1.0 / curvature.abs().max(1e-12)).min(EASY_MM);
    let most_across = leg.width_mm.max(leg.depth_mm);
    let thickness = both([&|at| at.thickness_mm[0], &|at| at.thickness_mm[1]]);
    let thinnest = least(&thickness).min(0.9 * most_across);
    let slopes = both([&|at| at.a_slope, &|at| at.b_slope]);
    let steepest = slopes.iter().flat_map(|(_, line)| line).fold(0.1_f64, |most, [_, y]| most.max(y.abs()));
    let radii = both([&|at| radius(at.a_curvature_per_mm), &|at| radius(at.b_curvature_per_mm)]);
    let sharpest = line(&|at| at.edge_angle_deg);
    let least_angle = sharpest.iter().fold(80.0_f64, |least, [_, y]| least.min(*y));
    [
        Graph {
            name: "thickness, square to the curve",
            lines: thickness,
            range: [thinnest, most_across],
            show: |units, mm| units.show_with_unit(mm),
        },
        Graph {
            name: "edge angle",
            lines: vec![(None, sharpest)],
            range: [least_angle, 90.0],
            show: |_, deg| format!("{deg:.0}°"),
        },
        Graph { name: "slope", lines: slopes, range: [-steepest, steepest], show: |_, slope| format!("{slope:.2}") },
        Graph {
            name: "bend radius",
            lines: radii,
            range: [0.0, EASY_MM],
            show: |units, mm| units.show_with_unit(mm),
        },
    ]
}

fn least(lines: &[(Option<Cut>, Vec<[f64; 2]>)]) -> f64 {
    lines.iter().flat_map(|(_, line)| line).fold(f64::INFINITY, |least, [_, y]| least.min(*y))
}

fn one(ui: &mut Ui, area: Rect, axis: Axis, scene: &Scene<'_>, graph: Graph) {
    let t = Tokens::here(ui);
    let units = scene.units();
    let shown = axis.shown();
    let [least, most] = graph.range;
    let air = 0.12 * (most - least).max(1e-9);
    let marks: Vec<f64> =
        ticks(shown, axis.px_per_mm, units).into_iter().filter(|tick| tick.label.is_some()).map(|tick| tick.s_mm).collect();
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
    let painter = ui.painter_at(area);
    painter.hline(area.x_range(), area.bottom() - 0.5, Stroke::new(1.0, t.hair));
    let name_at = area.left_top() + vec2(8.0, 3.0);
    paint::label(&painter, t, name_at, Align2::LEFT_TOP, graph.name, tokens::small(), t.ink);
    let capped = graph.name == "bend radius";
    let most_text = (graph.show)(units, most) + if capped { " or more" } else { "" };
    let right = [
        (area.right_top() + vec2(-8.0, 3.0), Align2::RIGHT_TOP, most_text),
        (area.right_bottom() + vec2(-8.0, -3.0), Align2::RIGHT_BOTTOM, (graph.show)(units, least)),
    ];
    for (at, align, text) in right {
        paint::label(&painter, t, at, align, &text, tokens::small(), t.soft);
    }
}

/// The row head: the same figures at the cursor, beside their graphs.
pub fn head(ui: &mut Ui, rect: Rect, scene: &Scene<'_>, view: &View) {
    let t = Tokens::here(ui);
    let units = scene.units();
    let at = scene.leg.station(view.cursor_mm.clamp(0.0, scene.leg.length_mm));
    let radius = |curvature: f64| {
        let mm = 1.0 / curvature.abs().max(1e-12);
        if mm >= 10.0 * EASY_MM { "straight".to_owned() } else { units.show_with_unit(mm.round()) }
    };
    let figures = [
        ("Thickness", units.show(at.thickness_mm[0]), units.show_with_unit(at.thickness_mm[1])),
        ("Edge angle", format!("{:.1}°", at.edge_angle_deg), String::new()),
        ("Slope", format!("{:.2}", at.a_slope), format!("{:.2}", at.b_slope)),
        ("Bend radius", radius(at.a_curvature_per_mm), radius(at.b_curvature_per_mm)),
    ];
    let height = rect.height() / figures.len() as f32;
    for (i, (name, first, second)) in figures.into_iter().enumerate() {
        let top = rect.top() + height * i as f32 + 3.0;
        let area = Rect::from_min_max(pos2(rect.left() + 12.0, top), pos2(rect.right() - 12.0, top + height - 3.0));
        let mut ui = ui.new_child(UiBuilder::new().max_rect(area).id_salt(name));
        ui.set_clip_rect(area.intersect(ui.clip_rect()));
        ui.spacing_mut().item_spacing.y = 1.0;
        ui.label(RichText::new(name).font(tokens::small()).color(t.soft));
        ui.horizontal(|ui| {
            let single = second.is_empty();
            for (text, colour) in [(first, if single { t.ink } else { t.first }), (second, t.second)] {
                if !text.is_empty() {
                    ui.label(RichText::new(text).color(colour));
                }
            }
        });
    }
}

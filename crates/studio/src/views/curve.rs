//! A curve from a drawing or a table: laid along the face, seen on it, and taken for a saw line.

use std::path::Path;
use std::sync::Arc;

use cornerwise_export::curves::{Drawn, Laid, load_curves};
use cornerwise_geometry::line_tools::{FitLineError, fitted};
use cornerwise_geometry::{Cut, Length, SawLine};
use cornerwise_project::{Design, Edit};
use egui::{Button, ComboBox, Context, Id, RichText, Ui};

use super::head::row;
use crate::length_field::Field;
use crate::scene::{Ask, Scene};
use crate::tokens::{self, Tokens};
use crate::view::View;

/// Curves that were read from a file, and how one of them is to be laid.
#[derive(Clone, Debug)]
pub struct Import {
    /// The file's name.
    pub name: String,
    curves: Arc<Vec<Drawn>>,
    chosen: usize,
    /// The cut whose line it is to be.
    pub cut: Cut,
    laid: Laid,
    /// Whether it is scaled to the leg's length, or keeps its own.
    to_length: bool,
    tolerance: Length,
}

impl Import {
    /// Reads a file's curves, to be laid along a design's leg.
    ///
    /// # Errors
    /// What is wrong with the file, and where.
    pub fn load(path: &Path, design: &Design, cut: Cut, inches: bool) -> Result<Import, String> {
        let curves = load_curves(path, inches).map_err(|error| error.to_string())?;
        // The longest one is meant most likely; it runs along the leg the way it is longer.
        let size = |drawn: &Drawn| {
            [0, 1].map(|k| {
                let all = drawn.places.iter().map(|place| place[k]);
                all.clone().fold(f64::NEG_INFINITY, f64::max) - all.fold(f64::INFINITY, f64::min)
            })
        };
        let long = |drawn: &Drawn| size(drawn).into_iter().fold(0.0, f64::max);
        let longest = curves.iter().enumerate().max_by(|a, b| long(a.1).total_cmp(&long(b.1)));
        let (chosen, [wide, high]) = longest.map_or((0, [1.0, 0.0]), |(i, drawn)| (i, size(drawn)));
        // What is far from the leg's length is scaled to it at first.
        let near = (0.5..2.0).contains(&(wide.max(high) / design.blank.length.mm()));
        let laid = Laid {
            upright: high > wide,
            end_for_end: false,
            mirrored: false,
            to_length_mm: None,
            from_top: 0.0.into(),
            offset: None,
        };
        let name = path.file_name().unwrap_or(path.as_os_str()).to_string_lossy().into_owned();
        let tolerance = 0.1.into();
        Ok(Import { name, curves: Arc::new(curves), chosen, cut, laid, to_length: !near, tolerance })
    }
}

/// What became of it.
#[derive(Clone)]
struct Tried {
    of: Arc<Design>,
    key: (usize, Laid, Cut, f64),
    made: Result<Made, String>,
}

#[derive(Clone)]
struct Made {
    edit: Edit,
    line: Arc<SawLine>,
    points: usize,
    error_mm: f64,
    at_mm: f64,
    corners: usize,
}

fn tried(ctx: &Context, scene: &Scene<'_>, import: &Import) -> Option<Tried> {
    let laid = Laid { to_length_mm: import.to_length.then_some(scene.leg.length_mm), ..import.laid.clone() };
    let key = (import.chosen, laid, import.cut, import.tolerance.mm());
    let kept = Id::unique("curve, tried");
    let known = ctx.data(|data| data.get_temp::<(Arc<Vec<Drawn>>, Tried)>(kept));
    if let Some((_, known)) = known.filter(|(curves, known)| {
        Arc::ptr_eq(curves, &import.curves) && Arc::ptr_eq(&known.of, scene.design) && known.key == key
    }) {
        return Some(known);
    }
    if scene.moving {
        return None;
    }
    let made = make(scene, import, &key.1);
    let tried = Tried { of: Arc::clone(scene.design), key, made };
    ctx.data_mut(|data| data.insert_temp(kept, (Arc::clone(&import.curves), tried.clone())));
    Some(tried)
}

fn make(scene: &Scene<'_>, import: &Import, laid: &Laid) -> Result<Made, String> {
    let drawn = import.curves.get(import.chosen).ok_or("there is no such curve")?;
    let placed = drawn.placed(laid, scene.leg.across_mm(import.cut));
    let units = scene.units();
    let fit = fitted(&placed.places, placed.corner, import.tolerance.mm()).map_err(|error| match error {
        // A maker finds the place on the drawing, not by its number.
        FitLineError::RunsBack { place, at_mm } => {
            let at = placed.drawn.get(place).copied().unwrap_or_default();
            let [x, y] = at.map(|mm| units.show(mm));
            format!(
                "it runs back along the leg, {} from its beginning ({x} across and {y} down on the drawing): a saw line never \
                 does. Try the other axis, or leave that part out",
                units.show_with_unit((at_mm - laid.from_top.mm()).abs())
            )
        }
        other => other.to_string(),
    })?;
    let (design, cut, points) = (scene.design.id, import.cut, fit.points.len());
    let edit = Edit::TakeCurve { design, cut, points: fit.points };
    let project = scene.project.apply(&edit).map_err(|error| error.to_string())?;
    let design = project.design(design).ok_or("the leg is gone")?;
    let line = design.leg().map_err(|error| error.to_string())?.line(cut).clone();
    let (error_mm, at_mm, corners) = (fit.error_mm, fit.at_mm, placed.corners);
    Ok(Made { edit, line: Arc::new(line), points, error_mm, at_mm, corners })
}

/// The line as it would be, to be shown beside the one there is.
pub fn preview(ctx: &Context, scene: &Scene<'_>, view: &View, cut: Cut) -> Option<Arc<SawLine>> {
    let import = view.import.as_ref().filter(|import| import.cut == cut)?;
    tried(ctx, scene, import)?.made.ok().map(|made| made.line)
}

fn small(ui: &mut Ui, words: &str) {
    let t = Tokens::here(ui);
    ui.label(RichText::new(words).font(tokens::small()).color(t.soft));
}

/// Shows how it is laid.
pub fn show(ui: &mut Ui, scene: &Scene<'_>, view: &mut View, asks: &mut Vec<Ask>) {
    let Some(mut import) = view.import.take() else { return };
    ui.set_width(300.0);
    let t = Tokens::here(ui);
    ui.add(egui::Label::new(RichText::new(&import.name).color(t.ink)).truncate());
    if import.curves.len() > 1 {
        let now = import.curves.get(import.chosen).map_or("", |drawn| &drawn.name).to_owned();
        let choice = ComboBox::from_id_salt("which curve").width(280.0).selected_text(now).show_ui(ui, |ui| {
            // As many as anyone would look through.
            for (i, drawn) in import.curves.iter().enumerate().take(200) {
                ui.selectable_value(&mut import.chosen, i, &drawn.name);
            }
        });
        choice.response.accessible_name("which curve");
    }
    choice(ui, "For", &mut import.cut, &[(Cut::First, "First cut"), (Cut::Second, "Second cut")]);
    choice(ui, "Along the leg", &mut import.laid.upright, &[(false, "Its x"), (true, "Its y")]);
    choice(ui, "Size", &mut import.to_length, &[(false, "Its own"), (true, "To the leg's length")]);
    ui.horizontal(|ui| {
        ui.checkbox(&mut import.laid.end_for_end, "End for end");
        ui.checkbox(&mut import.laid.mirrored, "Mirrored across");
    });
    fields(ui, scene, &mut import);
    ui.separator();
    let mut keep = true;
    match tried(ui.ctx(), scene, &import) {
        None => {}
        Some(Tried { made: Err(why), .. }) => {
            ui.label(RichText::new(format!("▲ Not possible: {why}.")).color(t.wrong));
        }
        Some(Tried { made: Ok(made), .. }) => {
            let units = scene.units();
            small(
                ui,
                &format!(
                    "{} points; strays at most {}, {} from the top",
                    made.points,
                    units.show_exactly(made.error_mm),
                    units.show_with_unit(made.at_mm)
                ),
            );
            match made.corners {
                0 => {}
                1 => small(ui, "Its corner is a sharp point."),
                many => {
                    small(ui, &format!("Of its {many} corners the sharpest is a sharp point, the others are rounded."));
                }
            }
            let take = ui.add(Button::new("Take it").min_size(egui::vec2(90.0, 26.0)));
            if take.on_hover_text("It becomes the saw line, in place of the one there is").clicked() {
                asks.push(Ask::Edit(made.edit));
                keep = false;
            }
        }
    }
    view.import = Some(import).filter(|_| keep);
}

fn choice<T: Copy + PartialEq>(ui: &mut Ui, caption: &str, value: &mut T, all: &[(T, &str)]) {
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        let t = Tokens::here(ui);
        let (rect, _) = ui.allocate_exact_size(egui::vec2(86.0, 20.0), egui::Sense::hover());
        ui.painter().text(rect.left_center(), egui::Align2::LEFT_CENTER, caption, tokens::small(), t.soft);
        for (one, words) in all {
            let button = ui.add(Button::selectable(*value == *one, *words));
            if button.accessible_name(format!("{}, {}", caption.to_lowercase(), words.to_lowercase())).clicked() {
                *value = *one;
            }
        }
    });
}

fn fields(ui: &mut Ui, scene: &Scene<'_>, import: &mut Import) {
    let field = |caption: &'static str, hint: &'static str| Field {
        id: Id::unique(("import a curve", caption)),
        caption,
        name: format!("curve, {}", caption.to_lowercase()),
        width: 93.0,
        hint,
    };
    row(ui, |ui| {
        let begins = field("Begins at", "How far from the top it begins");
        if let Some(length) = begins.length(ui, &import.laid.from_top, scene.reading(), |_| Ok(())) {
            import.laid.from_top = length;
        }
        let placed = import.curves.get(import.chosen).map(|drawn| {
            let laid = Laid { to_length_mm: import.to_length.then_some(scene.leg.length_mm), ..import.laid.clone() };
            drawn.placed(&laid, scene.leg.across_mm(import.cut)).places.first().map_or(0.0, |place| place[1])
        });
        let offset = import.laid.offset.clone().unwrap_or_else(|| {
            let mm = placed.unwrap_or_default();
            Length::from_mm((mm * 100.0).round() / 100.0)
        });
        let there = field(
            "Offset there",
            "From the arris, where it begins; its middle lies in the middle of the face at first",
        );
        if let Some(length) = there.length(ui, &offset, scene.reading(), |_| Ok(())) {
            import.laid.offset = Some(length);
        }
        let within =
            field("Strays at most", "No place of the line is farther from the curve than this; measured on the line");
        if let Some(length) = within.length(ui, &import.tolerance, scene.reading(), |length| {
            let places = [[0.0, 0.0], [1.0, 0.0]];
            fitted(&places, None, length.mm()).map(|_| ()).map_err(|error| error.to_string())
        }) {
            import.tolerance = length;
        }
    });
}

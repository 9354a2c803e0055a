//! The smallest changes that make seams meet, beside the sides: what may change is ticked, and one click makes the change.
//! The search runs off the thread that draws; it is begun anew when the leg, its wood or the question changes.

use std::sync::Arc;

use cornerwise_geometry::{Cut, Units};
use cornerwise_project::{Amount, Changeable, Design, Question, SeamFix, SeamFixes, Step, seam_fixes};
use cornerwise_wood::{SeamLimits, Wood};
use egui::{
    Button, ColorImage, Context, Frame, Image, Label, Rect, RichText, ScrollArea, TextureHandle, TextureOptions, Ui,
    UiBuilder, vec2,
};

use crate::later::Later;
use crate::scene::{Ask, Scene};
use crate::seam_picture::{Window, seam_picture};
use crate::tokens::{self, Tokens};

/// How large the picture of a seam is, texels, and how far to either side of the seam it shows, mm.
const PICTURE: [usize; 2] = [300, 26];
const BESIDE_MM: f64 = 11.0;
/// Width of the panel, points.
const WIDTH: f32 = 344.0;

/// The panel and its search.
#[derive(Default)]
pub struct Panel {
    /// Whether it is shown.
    pub open: bool,
    asked: Asked,
    search: Later<Key, Vec<Found>>,
    found: Option<(Key, Vec<Found>, Vec<Vec<TextureHandle>>)>,
    /// Whether the maker has stopped the search of what is asked now.
    stopped: bool,
}

/// What is asked.
#[derive(Clone, Copy, PartialEq)]
struct Asked {
    question: Question,
    /// What may change, in the order of [`Changeable::ALL`].
    may: [bool; Changeable::ALL.len()],
}

impl Default for Asked {
    fn default() -> Asked {
        Asked { question: Question::PatternCarriesOn, may: [true; Changeable::ALL.len()] }
    }
}

/// What is fixed already, as a maker says it.
#[derive(Clone, Copy, PartialEq)]
enum Fixed {
    Nothing,
    Size,
    Glued,
}

impl Fixed {
    const ALL: [Fixed; 3] = [Fixed::Nothing, Fixed::Size, Fixed::Glued];

    fn words(self) -> [&'static str; 2] {
        match self {
            Fixed::Nothing => ["Nothing is fixed", "Wood, blank and saw line may change"],
            Fixed::Size => ["Size is fixed", "The blank's width and depth stay; its wood and the saw line may change"],
            Fixed::Glued => ["Blank is glued", "The blank is glued up or chosen: only the saw line may move"],
        }
    }

    fn may(self) -> [bool; Changeable::ALL.len()] {
        Changeable::ALL.map(|kind| match self {
            Fixed::Nothing => true,
            Fixed::Size => kind != Changeable::BlankWidth,
            Fixed::Glued => Changeable::LINE.contains(&kind),
        })
    }
}

/// What an answer follows from.
#[derive(Clone)]
struct Key {
    design: Arc<Design>,
    asked: Asked,
    limits: SeamLimits,
}

impl Key {
    fn same(&self, other: &Key) -> bool {
        let design = Arc::ptr_eq(&self.design, &other.design) || self.design == other.design;
        design && self.asked == other.asked && self.limits == other.limits
    }
}

/// What was found for one pair, with a picture of each.
struct Found {
    fixes: SeamFixes,
    pictures: Vec<ColorImage>,
}

impl Panel {
    fn search(&mut self, ctx: &Context, scene: &Scene<'_>) {
        let key =
            Key { design: Arc::clone(scene.design), asked: self.asked, limits: scene.project.wood_limits.seams() };
        if let Some((of, found)) = self.search.fetch() {
            let load = |image: &ColorImage| ctx.load_texture("seam", image.clone(), TextureOptions::LINEAR);
            let pictures = found.iter().map(|found| found.pictures.iter().map(load).collect()).collect();
            self.found = Some((of, found, pictures));
        }
        let known = self.found.as_ref().is_some_and(|(of, ..)| of.same(&key));
        let coming = self.search.asked().is_some_and(|of| of.same(&key));
        if known || coming || scene.moving {
            return;
        }
        // What is under way is about something else by now.
        self.search = Later::default();
        self.stopped = false;
        let Key { design, asked, limits } = key.clone();
        self.search.begin(ctx, "seam fixes", key, move |stop| {
            let stop = || stop.is_asked();
            let may: Vec<Changeable> =
                Changeable::ALL.into_iter().zip(asked.may).filter_map(|(kind, may)| may.then_some(kind)).collect();
            let look = |cut: Cut| {
                let fixes = seam_fixes(&design, cut, asked.question, &may, &limits, &stop);
                let pictures = fixes.fixes.iter().filter_map(|fix| picture(&design, fix, cut)).collect();
                Found { fixes, pictures }
            };
            [Cut::Second, Cut::First].map(look).into()
        });
    }

    /// Whether a search is under way.
    pub fn is_busy(&self) -> bool {
        self.search.asked().is_some()
    }
}

/// The wood to either side of a seam once a change is made, from top to foot.
fn picture(design: &Design, fix: &SeamFix, cut: Cut) -> Option<ColorImage> {
    let next = fix.done(design)?;
    let leg = next.leg().ok()?;
    let window = Window { along_mm: [0.0, leg.length_mm], beside_mm: BESIDE_MM, size: PICTURE, flipped: false };
    Some(seam_picture(&next.figure(), &leg, cut, &window))
}

/// Shows the panel at the right of the sides, if it is open.
pub fn show(ui: &mut Ui, sides: Rect, panel: &mut Panel, scene: &Scene<'_>, asks: &mut Vec<Ask>) {
    if !panel.open {
        panel.search = Later::default();
        return;
    }
    panel.search(ui.ctx(), scene);
    let t = Tokens::here(ui);
    let left = (sides.right() - WIDTH - 8.0).max(sides.left());
    let rect = Rect::from_min_max(egui::pos2(left, sides.top() + 6.0), sides.right_bottom() - vec2(8.0, 26.0));
    let mut ui = ui.new_child(UiBuilder::new().max_rect(rect).id_salt("seam fixes"));
    // What lies below must not feel what is done on the panel.
    ui.interact(rect, egui::Id::unique("seam fixes ground"), egui::Sense::click_and_drag());
    Frame::new().fill(t.raised).stroke(egui::Stroke::new(1.0, t.edge)).inner_margin(8).show(&mut ui, |ui| {
        ui.set_min_size(rect.size() - vec2(18.0, 18.0));
        ui.set_max_width(rect.width() - 18.0);
        choices(ui, panel, &scene.design.wood);
        ScrollArea::vertical().id_salt("seam fixes list").auto_shrink([false, false]).show(ui, |ui| {
            answers(ui, panel, scene, asks);
        });
    });
}

fn choices(ui: &mut Ui, panel: &mut Panel, wood: &Wood) {
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        for question in Question::ALL {
            ui.selectable_value(&mut panel.asked.question, question, capital(question.name()));
        }
    });
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        for fixed in Fixed::ALL {
            let [words, hint] = fixed.words();
            let button = Button::selectable(panel.asked.may == fixed.may(), RichText::new(words).font(tokens::small()));
            if ui.add(button).on_hover_text(hint).clicked() {
                panel.asked.may = fixed.may();
            }
        }
    });
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        ui.label(RichText::new("May change").font(tokens::small()));
        for (kind, may) in Changeable::ALL.into_iter().zip(&mut panel.asked.may) {
            if kind.applies_to(wood) {
                ui.checkbox(may, RichText::new(kind.name()).font(tokens::small()));
            }
        }
    });
}

fn answers(ui: &mut Ui, panel: &mut Panel, scene: &Scene<'_>, asks: &mut Vec<Ask>) {
    let t = Tokens::here(ui);
    let small = |words: String| RichText::new(words).font(tokens::small()).color(t.ink);
    if panel.is_busy() {
        ui.horizontal(|ui| {
            ui.label(small(if panel.stopped { "Stopping…" } else { "Looking…" }.to_owned()));
            if ui
                .add_enabled(!panel.stopped, Button::new("Stop"))
                .on_hover_text("Stop looking, and show what was found so far")
                .clicked()
            {
                panel.stopped = true;
                panel.search.stop();
            }
        });
        return;
    }
    let Some((_, found, pictures)) = &panel.found else { return };
    let mut again = false;
    if found.iter().any(|found| !found.fixes.complete) {
        ui.horizontal(|ui| {
            let words = if panel.stopped {
                "Stopped: not everything was tried"
            } else {
                "Not everything was tried: too many lines for one search"
            };
            ui.label(small(words.to_owned()));
            again = panel.stopped && ui.button("Search again").clicked();
        });
    }
    for (pair, (found, names)) in found.iter().zip(["Seams 1 and 3", "Seams 2 and 4"]).enumerate() {
        let fixes = &found.fixes;
        ui.add_space(4.0);
        ui.label(RichText::new(format!("{names}, now {:.0} %", 100.0 * fixes.now)).font(tokens::bold()).color(t.ink));
        if let Some(why) = &fixes.why_none {
            ui.label(small(format!("{}.", capital(why))));
        }
        for (i, fix) in fixes.fixes.iter().enumerate() {
            let words = words(scene.units(), fix);
            if let Some(texture) = pictures.get(pair).and_then(|all| all.get(i)) {
                let width = ui.available_width().min(300.0);
                ui.add(Image::new((texture.id(), vec2(width, 24.0))).alt_text(format!("The seam with {words}")));
            }
            let button = ui
                .horizontal_top(|ui| {
                    let button = ui.button("Do this").on_hover_text("Makes this change; undo takes it back");
                    ui.add(Label::new(small(format!("{}; then {:.0} %", capital(&words), 100.0 * fix.after))).wrap());
                    button
                })
                .inner;
            if button.accessible_name(format!("{names}, do: {words}")).clicked() {
                asks.push(Ask::Edit(fix.edit.clone()));
            }
        }
    }
    if again {
        (panel.found, panel.stopped) = (None, false);
    }
}

/// "layer 1 from 12 mm to 13.6 mm, layer 2 …".
fn words(units: Units, fix: &SeamFix) -> String {
    let amount = |amount: Amount| match amount {
        Amount::Length(mm) => units.show_with_unit(mm),
        Amount::Degrees(deg) => format!("{deg:.2}°"),
        Amount::Times(times) => format!("{times:.3}"),
    };
    let step = |step: &Step| format!("{} from {} to {}", step.what, amount(step.from), amount(step.to));
    fix.steps.iter().map(step).collect::<Vec<_>>().join(", ")
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|c| c.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

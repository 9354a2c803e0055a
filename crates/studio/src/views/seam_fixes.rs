//! The smallest changes that make seams meet, in a panel of their own: what may change is ticked, and one click makes the change.
//! The search runs off the thread that draws; it is begun anew when the leg, its wood or the question changes.

use std::sync::Arc;

use cornerwise_geometry::{Cut, Units};
use cornerwise_project::{Amount, Changeable, Design, Question, SeamFix, SeamFixes, Step, seam_fixes};
use cornerwise_wood::{SeamLimits, Wood};
use egui::{
    Button, ColorImage, Context, Id, Image, Label, Rect, RichText, ScrollArea, TextureHandle, TextureOptions, Ui,
    Window, vec2,
};

use super::seams::percent;
use crate::later::Later;
use crate::scene::{Ask, Scene};
use crate::seam_picture::{self, seam_picture};
use crate::tokens::{self, Tokens};
use crate::view::View;

/// How large the picture of a seam is, texels, and how far to either side of the seam it shows, mm.
const PICTURE: [usize; 2] = [300, 26];
const BESIDE_MM: f64 = 11.0;
/// Size of the panel at first, points.
const SIZE: [f32; 2] = [352.0, 500.0];
/// How high a picture is drawn, points.
const PICTURE_PX: f32 = 24.0;

/// The panel and its search.
#[derive(Default)]
pub struct Panel {
    asked: Asked,
    search: Later<Key, Vec<Found>>,
    found: Option<(Key, Vec<Found>, Vec<Pictures>)>,
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

/// What was found for one pair, with a picture of the seam as it is and with each change.
struct Found {
    fixes: SeamFixes,
    now: Option<ColorImage>,
    pictures: Vec<Option<ColorImage>>,
}

/// The same pictures, to be shown.
struct Pictures {
    now: Option<TextureHandle>,
    then: Vec<Option<TextureHandle>>,
}

impl Panel {
    fn search(&mut self, ctx: &Context, scene: &Scene<'_>) {
        let key =
            Key { design: Arc::clone(scene.design), asked: self.asked, limits: scene.project.wood_limits.seams() };
        if let Some((of, found)) = self.search.fetch() {
            let load = |image: &ColorImage| ctx.load_texture("seam", image.clone(), TextureOptions::LINEAR);
            let pictures = found.iter().map(|found| Pictures {
                now: found.now.as_ref().map(load),
                then: found.pictures.iter().map(|picture| picture.as_ref().map(load)).collect(),
            });
            let pictures = pictures.collect();
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
                let pictures = fixes.fixes.iter().map(|fix| picture(&fix.done(&design)?, cut)).collect();
                Found { fixes, now: picture(&design, cut), pictures }
            };
            [Cut::Second, Cut::First].map(look).into()
        });
    }

    /// Whether a search is under way.
    pub fn is_busy(&self) -> bool {
        self.search.asked().is_some()
    }
}

/// The wood to either side of a seam, from top to foot.
fn picture(design: &Design, cut: Cut) -> Option<ColorImage> {
    let leg = design.leg().ok()?;
    let window =
        seam_picture::Window { along_mm: [0.0, leg.length_mm], beside_mm: BESIDE_MM, size: PICTURE, flipped: false };
    Some(seam_picture(&design.figure(), &leg, cut, &window))
}

/// Shows the panel, if it is open: at first at the lower right of `room`.
pub fn show(ui: &Ui, room: Rect, panel: &mut Panel, scene: &Scene<'_>, view: &mut View, asks: &mut Vec<Ask>) {
    if !view.panels.seam_fixes {
        panel.search = Later::default();
        return;
    }
    panel.search(ui.ctx(), scene);
    let mut open = true;
    let height = SIZE[1].min(room.height() - 60.0).max(160.0);
    Window::new("Make seams meet")
        .id(Id::unique("make seams meet"))
        .default_size([SIZE[0], height])
        .default_pos(room.right_bottom() - vec2(SIZE[0] + 26.0, height + 56.0))
        .constrain_to(ui.max_rect())
        .collapsible(false)
        .fade_in(false)
        .fade_out(false)
        .open(&mut open)
        .show(ui.ctx(), |ui| {
            choices(ui, panel, &scene.design.wood);
            ScrollArea::vertical().id_salt("seam fixes list").auto_shrink([false, false]).show(ui, |ui| {
                answers(ui, panel, scene, asks);
            });
        });
    view.panels.seam_fixes = open;
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
    for (found, (pictures, [names, others])) in found.iter().zip(pictures.iter().zip(PAIRS)) {
        let fixes = &found.fixes;
        ui.add_space(4.0);
        let title = format!("{names}, now {}", percent(fixes.now));
        ui.label(RichText::new(&title).font(tokens::bold()).color(t.ink));
        strip(ui, pictures.now.as_ref(), &title);
        if let Some(why) = &fixes.why_none {
            ui.label(small(format!("{}.", capital(why))));
        }
        for (fix, picture) in fixes.fixes.iter().zip(&pictures.then) {
            ui.add_space(8.0);
            let words = words(scene.units(), fix);
            strip(ui, picture.as_ref(), &format!("{names} with {words}"));
            let button = ui
                .horizontal_top(|ui| {
                    let button = ui.button("Do this").on_hover_text("Makes this change; undo takes it back");
                    let told = format!("{}; then {}{}", capital(&words), percent(fix.after), beside(fix, others))
                        .replace(" %", "\u{a0}%");
                    ui.add(Label::new(small(told)).wrap());
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

/// A pair's name, and that of the other as it stands in a sentence.
const PAIRS: [[&str; 2]; 2] = [["Seams 1 and 3", "seams 2 and 4"], ["Seams 2 and 4", "seams 1 and 3"]];

/// A picture of a seam.
fn strip(ui: &mut Ui, picture: Option<&TextureHandle>, words: &str) {
    if let Some(texture) = picture {
        let size = vec2(ui.available_width().min(PICTURE[0] as f32), PICTURE_PX);
        ui.add(Image::new((texture.id(), size)).alt_text(format!("The wood beside {words}")));
    }
}

/// What becomes of the other pair, where it is not left as it is.
fn beside(fix: &SeamFix, others: &str) -> String {
    let [now, then] = fix.other.map(percent);
    if now == then { String::new() } else { format!("; {others} from {now} to {then}") }
}

/// "layer 1 from 12 mm to 13.6 mm, layer 2 …".
fn words(units: Units, fix: &SeamFix) -> String {
    let amount = |amount: Amount| match amount {
        Amount::Length(mm) => units.show_with_unit(mm),
        Amount::Degrees(deg) => format!("{deg:.2}°"),
        Amount::Times(times) => format!("{times:.3}"),
    };
    let step = |step: &Step| match (fix.changes, step.to) {
        // A line has no figure of its place that the maker would know: how far it moves is what counts.
        (Changeable::LineAside | Changeable::LineAlong, Amount::Length(by)) => {
            let way = match (fix.changes, by < 0.0) {
                (Changeable::LineAside, false) => "away from its arris",
                (Changeable::LineAside, true) => "toward its arris",
                (_, false) => "toward the foot",
                (_, true) => "toward the top",
            };
            format!("{} by {} {way}", step.what, units.show_with_unit(by.abs()))
        }
        (Changeable::LineSwing, to) => format!("{} times {}", step.what, amount(to)),
        (_, to) => format!("{} from {} to {}", step.what, amount(step.from), amount(to)),
    };
    // A figure and its unit are not parted at a line's end.
    fix.steps.iter().map(step).collect::<Vec<_>>().join(", ").replace(" mm", "\u{a0}mm")
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|c| c.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

//! The smallest changes that make seams meet, in a panel of their own: which pairs shall meet in what and what may change is
//! chosen, and one click makes a change. The search runs off the thread that draws; it is begun anew when the leg, its wood
//! or the question changes.

use std::sync::Arc;

use cornerwise_geometry::Cut;
use cornerwise_project::{Changeable, Design, Question, SeamFixes, Wanted, seam_fixes};
use cornerwise_wood::{SeamLimits, Wood};
use egui::{
    Button, ColorImage, Context, Id, Rect, RichText, ScrollArea, TextureHandle, TextureOptions, Ui, Window, vec2,
};

use crate::later::Later;
use crate::scene::{Ask, Scene};
use crate::seam_picture::{self, seam_picture};
use crate::tokens;
use crate::view::View;

mod answers;

/// How large the picture of a seam is, texels, and how far to either side of the seam it shows, mm.
const PICTURE: [usize; 2] = [340, 26];
const BESIDE_MM: f64 = 11.0;
/// Size of the panel at first, points.
const SIZE: [f32; 2] = [372.0, 540.0];

/// The panel and its search.
#[derive(Default)]
pub struct Panel {
    asked: Asked,
    search: Later<Key, Found<ColorImage>>,
    found: Option<(Key, Found<TextureHandle>)>,
    /// Whether the maker has stopped the search of what is asked now.
    stopped: bool,
}

/// What is asked.
#[derive(Clone, Copy, PartialEq)]
struct Asked {
    wanted: Wanted,
    /// What may change, in the order of [`Changeable::ALL`].
    may: [bool; Changeable::ALL.len()],
}

impl Default for Asked {
    fn default() -> Asked {
        Asked { wanted: Wanted::ALL, may: [true; Changeable::ALL.len()] }
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

/// What was found, with pictures of the seams: of both pairs as they are, and with each change of the pairs that it helps.
struct Found<P> {
    fixes: SeamFixes,
    now: [Option<P>; 2],
    then: Vec<[Option<P>; 2]>,
}

impl<P> Found<P> {
    fn map<Q>(self, mut of: impl FnMut(P) -> Q) -> Found<Q> {
        let mut both = |pictures: [Option<P>; 2]| pictures.map(|picture| picture.map(&mut of));
        Found { now: both(self.now), then: self.then.into_iter().map(&mut both).collect(), fixes: self.fixes }
    }
}

impl Panel {
    fn search(&mut self, ctx: &Context, scene: &Scene<'_>) {
        let key =
            Key { design: Arc::clone(scene.design), asked: self.asked, limits: scene.project.wood_limits.seams() };
        if let Some((of, found)) = self.search.fetch() {
            let found = found.map(|image| ctx.load_texture("seam", image, TextureOptions::LINEAR));
            self.found = Some((of, found));
        }
        let known = self.found.as_ref().is_some_and(|(of, _)| of.same(&key));
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
            let fixes = seam_fixes(&design, &asked.wanted, &may, &limits, &stop);
            let then = (fixes.fixes.iter())
                .map(|fix| {
                    let done = fix.done(&design);
                    Cut::ALL.map(|cut| picture(done.as_ref().filter(|_| fix.helps(cut))?, cut))
                })
                .collect();
            Found { fixes, now: Cut::ALL.map(|cut| picture(&design, cut)), then }
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
            ui.scope(|ui| choices(ui, panel, &scene.design.wood));
            ScrollArea::vertical().id_salt("seam fixes list").auto_shrink([false, false]).show(ui, |ui| {
                answers::show(ui, panel, scene, asks);
            });
        });
    view.panels.seam_fixes = open;
}

/// The order in which pairs are told of, and what they are called.
const PAIRS: [(Cut, &str); 2] = [(Cut::Second, "Seams 1 and 3"), (Cut::First, "Seams 2 and 4")];

fn choices(ui: &mut Ui, panel: &mut Panel, wood: &Wood) {
    ui.spacing_mut().item_spacing.y = 3.0;
    ui.spacing_mut().interact_size.y = 22.0;
    let chosen = |ui: &mut Ui, on: &mut bool, words: &str, hint: &str| {
        let button = Button::selectable(*on, RichText::new(words).font(tokens::small()));
        if ui.add(button).on_hover_text(hint).clicked() {
            *on = !*on;
        }
    };
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        for (cut, names) in PAIRS {
            let hint = "Look for changes that make these two seams meet";
            chosen(ui, &mut panel.asked.wanted.pairs[cut.index()], names, hint);
        }
    });
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        for question in Question::ALL {
            let hint = match question {
                Question::LinesMeet => "Lines of layers, blocks or rings shall arrive at the seam at one place",
                Question::SameWood => "The same wood shall lie on both sides of the seam",
                Question::PatternCarriesOn => "Both sides together shall look like one uninterrupted pattern",
            };
            let words = capital(question.name());
            chosen(ui, &mut panel.asked.wanted.questions[question.index()], &words, hint);
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

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|c| c.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

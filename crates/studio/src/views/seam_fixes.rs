//! The smallest changes that make seams meet, beside the sides: what may change is ticked, and one click makes the change.
//! The search runs off the thread that draws; it is begun anew when the leg, its wood or the question changes.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{self, Receiver};
use std::thread;

use cornerwise_geometry::{BlankPoint, Cut, Surface, Units};
use cornerwise_project::{Amount, Changeable, Design, Question, SeamFix, SeamFixes, Step, seam_fixes};
use cornerwise_wood::{Figure, Steps};
use egui::{
    Color32, ColorImage, Context, Frame, Image, Label, Rect, RichText, ScrollArea, TextureHandle, TextureOptions, Ui,
    UiBuilder, vec2,
};

use crate::scene::{Ask, Scene};
use crate::tokens::{self, Tokens};

/// How large the picture of a seam is, texels, and how far to either side of the seam it shows, mm.
const PICTURE: [usize; 2] = [300, 26];
const BESIDE_MM: f64 = 11.0;
/// Width of the panel, points.
const WIDTH: f32 = 332.0;

/// What may change, in the maker's three kinds.
const KINDS: [(&str, &[Changeable]); 3] = [
    (
        "Wood",
        &[
            Changeable::Thickness,
            Changeable::Angle,
            Changeable::Shift,
            Changeable::Columns,
            Changeable::Rise,
            Changeable::Pith,
            Changeable::RingWidth,
        ],
    ),
    ("Blank", &[Changeable::BlankWidth]),
    ("Saw line", &Changeable::LINE),
];

/// The panel and its search.
pub struct Panel {
    /// Whether it is shown.
    pub open: bool,
    asked: Asked,
    search: Option<Search>,
}

#[derive(Clone, Copy, PartialEq)]
struct Asked {
    question: Question,
    may: [bool; 3],
}

impl Default for Panel {
    fn default() -> Panel {
        let asked = Asked { question: Question::PatternCarriesOn, may: [true; 3] };
        Panel { open: false, asked, search: None }
    }
}

/// One search, under way or done.
struct Search {
    design: Arc<Design>,
    asked: Asked,
    stop: Arc<AtomicBool>,
    answer: Receiver<Vec<Found>>,
    found: Option<Vec<Found>>,
    pictures: Vec<Vec<TextureHandle>>,
}

/// What was found for one pair, with a picture of each.
struct Found {
    fixes: SeamFixes,
    pictures: Vec<ColorImage>,
}

impl Drop for Search {
    fn drop(&mut self) {
        self.stop.store(true, Ordering::Relaxed);
    }
}

impl Search {
    fn begin(ctx: &Context, design: &Arc<Design>, asked: Asked) -> Search {
        let stop = Arc::new(AtomicBool::new(false));
        let (give, answer) = mpsc::channel();
        let (ctx, theirs, stopped) = (ctx.clone(), Arc::clone(design), Arc::clone(&stop));
        let kinds = KINDS.iter().zip(asked.may).filter(|(_, may)| *may);
        let may: Vec<Changeable> = kinds.flat_map(|((_, all), _)| all.iter().copied()).collect();
        // Where no thread can be had there is no answer either, and the panel says that it is still looking.
        let _ = thread::Builder::new().name("seam fixes".to_owned()).spawn(move || {
            let stop = || stopped.load(Ordering::Relaxed);
            let found = [Cut::Second, Cut::First].map(|cut| {
                let fixes = seam_fixes(&theirs, cut, asked.question, &may, &stop);
                let pictures = fixes.fixes.iter().filter_map(|fix| picture(&theirs, fix, cut)).collect();
                Found { fixes, pictures }
            });
            // Nobody listens any more when another search was begun meanwhile.
            let _ = give.send(found.into());
            ctx.request_repaint();
        });
        Search { design: Arc::clone(design), asked, stop, answer, found: None, pictures: Vec::new() }
    }

    fn poll(&mut self, ctx: &Context) {
        if self.found.is_none()
            && let Ok(found) = self.answer.try_recv()
        {
            let load = |image: &ColorImage| ctx.load_texture("seam", image.clone(), TextureOptions::LINEAR);
            self.pictures = found.iter().map(|found| found.pictures.iter().map(load).collect()).collect();
            self.found = Some(found);
        }
    }
}

/// The wood to either side of a seam once a change is made, from top to foot.
fn picture(design: &Design, fix: &SeamFix, cut: Cut) -> Option<ColorImage> {
    let next = fix.done(design)?;
    let leg = next.leg().ok()?;
    let figure = Figure::new(&next.wood);
    let surface = Surface::Cut(cut);
    let view = figure.view(surface);
    let [columns, rows] = PICTURE;
    let apart = match cut {
        Cut::First => leg.depth_mm,
        Cut::Second => leg.width_mm,
    };
    let (step, down) = (leg.length_mm / columns as f64, 2.0 * BESIDE_MM / rows as f64);
    let across = |mm: f64| match cut {
        Cut::First => [0.0, mm, 0.0],
        Cut::Second => [mm, 0.0, 0.0],
    };
    let steps = Steps::new([0.0, 0.0, step], across(down));
    let mut pixels = Vec::with_capacity(columns * rows);
    for row in 0..rows {
        let beside = (row as f64 + 0.5) * down - BESIDE_MM;
        // The two edges that meet were the blank's two faces.
        let at = if beside < 0.0 { -beside } else { apart - beside };
        for column in 0..columns {
            let s = (column as f64 + 0.5) * step;
            let p = match cut {
                Cut::First => BlankPoint { x: leg.a(s), y: at, s },
                Cut::Second => BlankPoint { x: at, y: leg.b(s), s },
            };
            let [r, g, b] = figure.at(&view, p, &steps).colour;
            pixels.push(Color32::from_rgb(r, g, b));
        }
    }
    Some(ColorImage::new(PICTURE, pixels))
}

/// Shows the panel at the right of the sides, if it is open.
pub fn show(ui: &mut Ui, sides: Rect, panel: &mut Panel, scene: &Scene<'_>, asks: &mut Vec<Ask>) {
    if !panel.open {
        panel.search = None;
        return;
    }
    let known = panel.search.as_ref().is_some_and(|search| {
        let same = Arc::ptr_eq(&search.design, scene.design) || search.design == *scene.design;
        same && search.asked == panel.asked
    });
    if !known && !scene.moving {
        panel.search = Some(Search::begin(ui.ctx(), scene.design, panel.asked));
    }
    if let Some(search) = &mut panel.search {
        search.poll(ui.ctx());
    }
    let t = Tokens::here(ui);
    let left = (sides.right() - WIDTH - 8.0).max(sides.left());
    let rect = Rect::from_min_max(egui::pos2(left, sides.top() + 6.0), sides.right_bottom() - vec2(8.0, 26.0));
    let mut ui = ui.new_child(UiBuilder::new().max_rect(rect).id_salt("seam fixes"));
    // What lies below must not feel what is done on the panel.
    ui.interact(rect, egui::Id::unique("seam fixes ground"), egui::Sense::click_and_drag());
    Frame::new().fill(t.raised).stroke(egui::Stroke::new(1.0, t.edge)).inner_margin(8).show(&mut ui, |ui| {
        ui.set_min_size(rect.size() - vec2(18.0, 18.0));
        ui.set_max_width(rect.width() - 18.0);
        choices(ui, panel);
        ScrollArea::vertical().id_salt("seam fixes list").auto_shrink([false, false]).show(ui, |ui| {
            answers(ui, panel.search.as_ref(), scene, asks);
        });
    });
}

fn choices(ui: &mut Ui, panel: &mut Panel) {
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        for question in Question::ALL {
            ui.selectable_value(&mut panel.asked.question, question, capital(question.name()));
        }
    });
    ui.horizontal(|ui| {
        ui.label(RichText::new("May change").font(tokens::small()));
        for ((word, _), may) in KINDS.iter().zip(&mut panel.asked.may) {
            ui.checkbox(may, *word);
        }
    });
}

fn answers(ui: &mut Ui, search: Option<&Search>, scene: &Scene<'_>, asks: &mut Vec<Ask>) {
    let t = Tokens::here(ui);
    let small = |words: String| RichText::new(words).font(tokens::small()).color(t.ink);
    let Some((search, found)) = search.and_then(|search| Some((search, search.found.as_ref()?))) else {
        ui.label(small("Looking…".to_owned()));
        return;
    };
    for (pair, (found, names)) in found.iter().zip(["Seams 1 and 3", "Seams 2 and 4"]).enumerate() {
        let fixes = &found.fixes;
        ui.add_space(4.0);
        ui.label(RichText::new(format!("{names}, now {:.0} %", 100.0 * fixes.now)).font(tokens::bold()).color(t.ink));
        if !fixes.complete {
            ui.label(small("The search was stopped before its end.".to_owned()));
        }
        if let Some(why) = &fixes.why_none {
            ui.label(small(format!("{}.", capital(why))));
        }
        for (i, fix) in fixes.fixes.iter().enumerate() {
            let words = words(scene.units(), fix);
            if let Some(texture) = search.pictures.get(pair).and_then(|all| all.get(i)) {
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

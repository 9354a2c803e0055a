//! The row head beside the faces: the leg, its blank, its two cuts and its wood, each with what changes it.

use cornerwise_geometry::{Cut, Line, Shape};
use cornerwise_project::{Edit, EditError};
use egui::{Align, Button, ComboBox, Id, Layout, Rect, RichText, ScrollArea, Ui, UiBuilder, vec2};

use super::panels;
use crate::length_field::Field;
use crate::run_out;
use crate::scene::{Ask, Scene};
use crate::tokens::{self, GAP, Tokens};
use crate::view::View;

pub(super) mod batten;
pub(super) mod blank;
pub(super) mod gallery;
mod link;
mod parameters;
mod point;
mod wood;

pub(super) use wood::swatch;

/// Width of a row head, points.
pub const WIDTH: f32 = 252.0;
const MARGIN: f32 = 12.0;
/// What is left for fields.
const ROOM: f32 = WIDTH - 2.0 * MARGIN;

/// Shows the head in `rect`; the second cut begins beside its face, at `face_2_px`, where there is room.
pub fn show(ui: &mut Ui, rect: Rect, face_2_px: f32, scene: &Scene<'_>, view: &mut View, asks: &mut Vec<Ask>) {
    let inner = Rect::from_min_max(rect.min + vec2(MARGIN, 6.0), rect.max - vec2(0.0, 2.0));
    let mut ui = ui.new_child(UiBuilder::new().max_rect(inner).id_salt("head"));
    ui.set_clip_rect(rect.intersect(ui.clip_rect()));
    tokens::thin_scroll_bars(&mut ui);
    ScrollArea::vertical().id_salt("head").auto_shrink([false, false]).show(&mut ui, |ui| {
        ui.set_width(ROOM);
        let begins = ui.cursor().top();
        blank::show(ui, scene, view, asks);
        ui.add_space(GAP);
        cut(ui, scene, Cut::First, view, asks);
        // By where the head lies unscrolled: else the room would grow as fast as it is scrolled away.
        let below = (face_2_px - inner.top()) - (ui.cursor().top() - begins);
        ui.add_space(below.max(GAP));
        cut(ui, scene, Cut::Second, view, asks);
        ui.add_space(GAP);
        wood::show(ui, scene, view, asks);
    });
}

/// A heading of the head.
pub(super) fn heading(ui: &mut Ui, text: &str) {
    let t = Tokens::here(ui);
    ui.label(RichText::new(text).font(tokens::bold()).color(t.ink));
}

/// A field of the head: a share of its width for one of `of` in a row.
pub(super) fn field<'a>(scene: &Scene<'_>, caption: &'a str, group: &str, of: usize) -> Field<'a> {
    let name = format!("{group}, {}", caption.to_lowercase());
    let gaps = 6.0 * (of as f32 - 1.0);
    Field {
        id: Id::unique(("field", scene.design.id.0, &name)),
        caption,
        name,
        width: (ROOM - gaps) / of as f32,
        hint: hint(caption),
    }
}

/// What a caption means, where a maker may ask.
fn hint(caption: &str) -> &'static str {
    match caption {
        "Swing" => "From crest to crest, across. Less than 0 veers the other way",
        "Turn" => "Where the S crosses the middle, as a share of the length",
        "Rise" => "Of the crest over the ends. Less than 0 bows the other way",
        "Crest" => "Where the crest is, as a share of the length",
        "Aside" => "How far the whole line is moved from the middle of the face",
        "Waves" => "How many whole waves",
        "Swing at top" | "Swing at foot" => "From crest to crest there",
        "Shortening" => "Length of the last half wave as a share of the first",
        "Post" => "Length of the straight part, down to the sharp point",
        "Knee" => "How far the knee stands out from the post",
        "Ankle" => "How far the ankle stands back from the post",
        "Kick" => "Slope with which the line leaves the sharp point",
        "Spare at top" | "Spare at foot" => "Beyond the finished length; trimmed after glue-up",
        "Lean" => "How far the layers lean from level; 90° is standing",
        "Toward" => "Which way they lean: 0° along face 1 toward the maker, 90° into the blank",
        "Shift" => "How far the layers are shifted",
        "Pith across" => "Where the middle of the tree lies: from arris 1 across face 1",
        "Variation" => "How much rings differ in width, as a share of the mean",
        "Wobble" => "How far ring lines waver, in rings",
        "Taper" => {
            "How far rings move outward toward the foot, so that fibres run out of the faces: 0.01 is 1 mm in 100 mm"
        }
        "Lean across" => "How far the pith moves across face 1 toward the foot: 0.01 is 1 mm in 100 mm",
        "Lean deep" => {
            "How far the pith moves into the blank, away from face 1, toward the foot: 0.01 is 1 mm in 100 mm"
        }
        "Late wood" => "Which share of a ring is late wood; 0 leaves it to the wood",
        "From the pith" => "Where the sapwood begins",
        "Rise across" | "Rise deep" => "How much farther from the top each column begins than the one before it",
        "Shift across" | "Shift deep" => "Where the columns begin",
        "Pith deep" => "Where the middle of the tree lies: from face 1 into the blank",
        _ => "",
    }
}

/// Whether the project would take an edit, and if not, why.
pub fn allowed(scene: &Scene<'_>, edit: &Edit) -> Result<(), String> {
    scene.project.apply(edit).map(|_| ()).map_err(|error: EditError| told(scene, &error))
}

/// Why an edit is refused, in the maker's words and units.
pub(super) fn told(scene: &Scene<'_>, error: &EditError) -> String {
    scene.units().told(&error.said(scene.project, scene.design.id))
}

/// Fields side by side, their captions in line.
pub fn row<R>(ui: &mut Ui, add: impl FnOnce(&mut Ui) -> R) -> R {
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        add(ui)
    })
    .inner
}

fn cut(ui: &mut Ui, scene: &Scene<'_>, cut: Cut, view: &mut View, asks: &mut Vec<Ask>) {
    let group = cut.to_string();
    let title = match cut {
        Cut::First => "First cut",
        Cut::Second => "Second cut",
    };
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        let (sample, _) = ui.allocate_exact_size(vec2(20.0, 12.0), egui::Sense::hover());
        let t = Tokens::here(ui);
        crate::paint::saw_line(ui.painter(), t, cut, vec![sample.left_center(), sample.right_center()]);
        heading(ui, title);
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            ui.spacing_mut().item_spacing.x = 0.0;
            ui.spacing_mut().button_padding.x = 4.0;
            let open = view.panels.whole_line == Some(cut);
            let words = "What is done to the whole line: mirror, shift, stretch, make fairer …";
            let whole = ui.add(Button::selectable(open, "Whole line")).on_hover_text(words);
            if whole.accessible_name(format!("{cut}, whole line")).clicked() {
                panels::toggle(&mut view.panels.whole_line, cut);
            }
            let open = view.panels.points == Some(cut);
            let table = ui.add(Button::selectable(open, "Table")).on_hover_text("A table of its points");
            if table.accessible_name(format!("{cut}, table of points")).clicked() {
                panels::toggle(&mut view.panels.points, cut);
            }
        });
    });
    run_outs(ui, scene, cut);
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        shape_choice(ui, scene, cut, &group, asks);
        let other = match cut {
            Cut::First => Cut::Second,
            Cut::Second => Cut::First,
        };
        let same = scene.design.line(cut) == scene.design.line(other);
        let copy = ui
            .add_enabled(!same, Button::new(format!("Like {}", other.face())))
            .on_hover_text(format!("Draw the {cut} like the {other}"));
        if copy.accessible_name(format!("draw the {cut} like the {other}")).clicked() {
            asks.push(Ask::Edit(Edit::CopyCut { design: scene.design.id, from: other }));
        }
    });
    if cut == Cut::Second {
        link::show(ui, scene, asks);
    }
    match scene.design.line(cut) {
        Line::Shape(shape) => parameters::show(ui, scene, cut, shape, &group, asks),
        Line::Points(_) => point::show(ui, scene, cut, &group, view, asks),
        Line::Batten(_) => batten::pin(ui, scene, cut, &group, view, asks),
        Line::Linked(_) => {}
    }
}

/// How many places a line may run out that are told one by one.
const TOLD: usize = 3;

/// Where the line runs out of its face.
fn run_outs(ui: &mut Ui, scene: &Scene<'_>, cut: Cut) {
    let t = Tokens::here(ui);
    let all = run_out::run_outs(scene.leg, cut);
    let mut say = |words: String| ui.label(RichText::new(words).font(tokens::small()).color(t.wrong));
    for out in all.iter().take(TOLD) {
        say(out.words(scene.units()));
    }
    if let more @ 1.. = all.len().saturating_sub(TOLD) {
        say(format!("and {more} more"));
    }
}

fn shape_choice(ui: &mut Ui, scene: &Scene<'_>, cut: Cut, group: &str, asks: &mut Vec<Ask>) {
    let design = scene.design.id;
    let line = scene.design.line(cut);
    let now = match line {
        Line::Shape(shape) => Some(shape.kind()),
        _ => None,
    };
    let shown = match line {
        Line::Shape(shape) => shape.name(),
        Line::Points(_) => "points",
        Line::Batten(_) => "batten",
        Line::Linked(_) => "linked",
    };
    let choice = ComboBox::from_id_salt(("shape", cut.index()))
        .width(138.0)
        .height(320.0)
        .selected_text(shown)
        .show_ui(ui, |ui| {
            if let Some(kind) = gallery::show(ui, scene, Some(cut), now) {
                ui.close();
                let shape = Shape::start(kind, scene.leg.length_mm, scene.leg.across_mm(cut));
                asks.push(Ask::Edit(Edit::SetShape { design, cut, shape }));
            }
            batten::choices(ui, scene, cut, asks);
        });
    choice.response.accessible_name(format!("{group}, shape"));
}

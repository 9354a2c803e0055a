//! What the search has found: how the seams meet now, and each change with its picture, its size and the result it gives.

use cornerwise_geometry::{Cut, Units};
use cornerwise_project::{Amount, Changeable, OfPairs, Question, SeamFix, SeamFixes, Step, Wanted};
use egui::{Align2, Button, Image, Label, RichText, Role, Sense, TextureHandle, Ui, WidgetInfo, vec2};

use super::{Found, PAIRS, PICTURE, Panel, capital};
use crate::length_field::plain;
use crate::scene::{Ask, Scene};
use crate::tokens::{self, Tokens};
use crate::views::seams::percent;

/// How high a picture is drawn, points.
const PICTURE_PX: f32 = 22.0;
/// Where the columns of the table of shares end, points: lines, wood, pattern.
const COLUMNS: [f32; 3] = [142.0, 230.0, 346.0];
/// How high a line of it is.
const LINE_PX: f32 = 15.0;

/// Shows what was found, or that it is looked for.
pub(super) fn show(ui: &mut Ui, panel: &mut Panel, scene: &Scene<'_>, asks: &mut Vec<Ask>) {
    let t = Tokens::here(ui);
    let small = |words: &str| RichText::new(words).font(tokens::small()).color(t.ink);
    if panel.is_busy() {
        ui.horizontal(|ui| {
            ui.label(small(if panel.stopped { "Stopping…" } else { "Looking…" }));
            let stop = ui.add_enabled(!panel.stopped, Button::new("Stop"));
            if stop.on_hover_text("Stop looking, and show what was found so far").clicked() {
                panel.stopped = true;
                panel.search.stop();
            }
        });
        return;
    }
    let Some((_, found)) = &panel.found else { return };
    let mut again = false;
    if !found.fixes.complete {
        ui.horizontal(|ui| {
            let words = if panel.stopped {
                "Stopped: not everything was tried"
            } else {
                "Tried in wide steps: there is too much to look at"
            };
            ui.label(small(words));
            again = panel.stopped && ui.button("Search again").clicked();
        });
    }
    as_it_is(ui, found);
    let wanted = &panel.asked.wanted;
    if !wanted.pairs.contains(&true) || !wanted.questions.contains(&true) {
        ui.label(small("Choose a pair of seams, and what shall meet there."));
        return;
    }
    if found.fixes.complete
        && found.fixes.fixes.is_empty()
        && found.fixes.why_none.iter().flatten().all(Option::is_none)
    {
        ui.add_space(4.0);
        ui.label(small("All that is asked meets already."));
    }
    if panel.stopped && found.fixes.fixes.is_empty() {
        ui.add_space(4.0);
        ui.label(small("Nothing was found until then."));
    }
    let both = |fix: &SeamFix| Cut::ALL.iter().all(|cut| fix.helps(*cut));
    cards(ui, "Both pairs of seams", found, &both, scene, asks);
    for (cut, names) in PAIRS.into_iter().filter(|(cut, _)| wanted.pairs[cut.index()]) {
        cards(ui, names, found, &|fix| fix.helps(cut) && !both(fix), scene, asks);
        for words in why_none(scene.units(), &found.fixes, wanted, cut, names) {
            ui.add_space(4.0);
            ui.label(small(&words));
        }
    }
    if again {
        (panel.found, panel.stopped) = (None, false);
    }
}

/// Both pairs as they are now.
fn as_it_is(ui: &mut Ui, found: &Found<TextureHandle>) {
    ui.add_space(2.0);
    heading(ui, "As it is");
    for (cut, names) in PAIRS {
        strip(ui, found.now[cut.index()].as_ref(), &format!("{names} as they are"));
    }
    let now = (&found.fixes.now, found.fixes.lines_seen);
    table(ui, now, now, &Default::default());
}

/// The changes that `are` of a kind, under a heading, if there are any.
fn cards(
    ui: &mut Ui,
    names: &str,
    found: &Found<TextureHandle>,
    are: &dyn Fn(&SeamFix) -> bool,
    scene: &Scene<'_>,
    asks: &mut Vec<Ask>,
) {
    let mut cards = found.fixes.fixes.iter().zip(&found.then).filter(|(fix, _)| are(fix)).peekable();
    if cards.peek().is_none() {
        return;
    }
    ui.add_space(6.0);
    heading(ui, names);
    for (fix, pictures) in cards {
        card(ui, names, fix, pictures, (&found.fixes.now, found.fixes.lines_seen), scene, asks);
    }
}

fn card(
    ui: &mut Ui,
    names: &str,
    fix: &SeamFix,
    pictures: &[Option<TextureHandle>; 2],
    now: Shares<'_>,
    scene: &Scene<'_>,
    asks: &mut Vec<Ask>,
) {
    let t = Tokens::here(ui);
    let words = words(scene.units(), fix);
    ui.add_space(8.0);
    for (cut, pair) in PAIRS {
        strip(ui, pictures[cut.index()].as_ref(), &format!("{pair} with {words}"));
    }
    ui.add(Label::new(RichText::new(capital(&words)).font(tokens::body()).color(t.ink)).wrap());
    table(ui, now, (&fix.after, fix.lines_seen), &fix.reaches);
    let button = ui.horizontal(|ui| {
        let button = ui.button("Do this").on_hover_text("Makes this change; undo takes it back");
        let size = scene.units().show_with_unit(fix.size_mm).replace(' ', "\u{a0}");
        let told = match fix {
            SeamFix { reaches_all: true, .. } => format!("Size {size}: then all that is asked meets"),
            SeamFix { loses: true, .. } => format!("Size {size}: but something that meets is lost"),
            _ => format!("Size {size}"),
        };
        ui.label(RichText::new(told).font(tokens::small()).color(t.soft)).on_hover_text(
            "The most by which any one measure changes. An angle of layers counts as what it moves from face to face of the \
             blank, a ring's width as what rings move there, a lean of the pith as what it moves from top to foot, a line's \
             swing as the most that the line moves.",
        );
        button
    });
    if button.inner.accessible_name(format!("{names}, do: {words}")).clicked() {
        asks.push(Ask::Edit(fix.edit.clone()));
    }
}

fn heading(ui: &mut Ui, words: &str) {
    let t = Tokens::here(ui);
    ui.label(RichText::new(words).font(tokens::bold()).color(t.ink));
}

/// A picture of a seam.
fn strip(ui: &mut Ui, picture: Option<&TextureHandle>, words: &str) {
    if let Some(texture) = picture {
        let size = vec2(ui.available_width().min(PICTURE[0] as f32), PICTURE_PX);
        ui.add(Image::new((texture.id(), size)).alt_text(format!("The wood beside {words}")));
    }
}

/// Shares of both pairs, and of which lines are seen.
type Shares<'a> = (&'a OfPairs<f64>, [bool; 2]);

/// A share in words, or that there is nothing to be seen of it.
fn told((shares, lines_seen): Shares<'_>, pair: usize, question: Question) -> String {
    if question == Question::LinesMeet && !lines_seen[pair] {
        return "not seen".to_owned();
    }
    percent(shares[pair][question.index()])
}

/// The shares of both pairs, question by question: what they are now and become, marked where a wanted one becomes yes.
fn table(ui: &mut Ui, now: Shares<'_>, then: Shares<'_>, reaches: &OfPairs<bool>) {
    let t = Tokens::here(ui);
    let line = |ui: &mut Ui, name: Option<String>, first: &str, cells: [(String, egui::Color32); 3]| {
        let (rect, response) = ui.allocate_exact_size(vec2(COLUMNS[2], LINE_PX), Sense::hover());
        if let Some(name) = name {
            response.widget_info(|| WidgetInfo::labeled(Role::Label, true, &name));
        }
        let text = |x: f32, align, words: &str, colour| {
            ui.painter().text(rect.left_center() + vec2(x, 0.0), align, words, tokens::small(), colour);
        };
        text(0.0, Align2::LEFT_CENTER, first, t.soft);
        for (x, (words, colour)) in COLUMNS.into_iter().zip(&cells) {
            text(x, Align2::RIGHT_CENTER, words, *colour);
        }
    };
    ui.scope(|ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        line(ui, None, "seams", Question::ALL.map(|question| (question.name().to_owned(), t.soft)));
        for (cut, names) in PAIRS {
            let pair = cut.index();
            let said = Question::ALL.map(|question| {
                let [was, is] = [now, then].map(|shares| told(shares, pair, question));
                let became = if was == is { String::new() } else { format!(", was {was}") };
                format!("{} {is}{became}", question.name())
            });
            let cells = Question::ALL.map(|question| {
                // A column has room for signs, not for words.
                let [was, is] =
                    [now, then].map(|shares| told(shares, pair, question).replace("under ", "<").replace("over ", ">"));
                if was == is {
                    return (is, t.ink);
                }
                let answer = question.index();
                let mark = if reaches[pair][answer] { "✓ " } else { "" };
                let less = then.0[pair][answer] < now.0[pair][answer];
                (format!("{mark}{} → {is}", was.trim_end_matches(" %")), if less { t.wrong } else { t.ink })
            });
            line(ui, Some(format!("{names}: {}", said.join("; "))), names.trim_start_matches("Seams "), cells);
        }
    });
}

/// Why nothing was found for what is wanted of a pair: each reason once, with the questions that it is about.
fn why_none(units: Units, found: &SeamFixes, wanted: &Wanted, cut: Cut, names: &str) -> Vec<String> {
    let of_pair = &found.why_none[cut.index()];
    let mut reasons: Vec<(&str, Vec<&str>)> = Vec::new();
    for question in Question::ALL.into_iter().filter(|question| wanted.has(cut, *question)) {
        let Some(why) = of_pair[question.index()].as_deref() else { continue };
        match reasons.iter_mut().find(|(known, _)| *known == why) {
            Some((_, questions)) => questions.push(question.name()),
            None => reasons.push((why, vec![question.name()])),
        }
    }
    let tell = |(why, questions): (&str, Vec<&str>)| {
        format!("{names}, {}: nothing found. {}.", questions.join(", "), capital(&units.told(why)))
    };
    reasons.into_iter().map(tell).collect()
}

/// "layer 1 from 12 mm to 13.6 mm, layer 2 …".
fn words(units: Units, fix: &SeamFix) -> String {
    let amount = |amount: Amount| match amount {
        Amount::Length(mm) => units.show_with_unit(mm),
        Amount::Degrees(deg) => format!("{}°", plain((deg * 100.0).round() / 100.0)),
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

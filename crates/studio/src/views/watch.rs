//! Watch-outs under the level section: the worst first, told by shape and word; a click moves the cursor there, and what is
//! chosen unfolds with its limit, its fixes and a place to accept it. The saw and the load stand below, folded until asked for.

mod bends;
mod divider;
mod limits;
mod load;
mod marks;
mod measure;
mod order;
mod out_of_true;
mod own_blades;
mod saw;

use cornerwise_geometry::{Concern, Core, Weight};
use cornerwise_project::{Accepted, Edit, Fix, Judged};
use egui::{
    Align, Align2, Button, Id, Rect, Response, RichText, Role, ScrollArea, Sense, Shape, Stroke, Ui, UiBuilder,
    WidgetInfo, pos2, vec2,
};

use crate::derive::Derived;
use crate::length_field::Field;
use crate::scene::{Ask, Scene};
use crate::tokens::{self, GAP, Tokens};
use crate::view::{View, WatchPart};

pub use divider::show as divider;
pub use marks::{on_ruler, over_row};
pub use measure::Measured;
pub use own_blades::UsualSaw;

/// Room for the bar that scrolls, points.
const BAR_PX: f32 = 8.0;

/// Height of one line of the list, points.
const LINE_PX: f32 = 35.0;

/// Shows the watch-outs in `rect`.
pub fn show(ui: &mut Ui, rect: Rect, scene: &Scene<'_>, view: &mut View, derived: &mut Derived, asks: &mut Vec<Ask>) {
    let t = Tokens::here(ui);
    ui.painter().hline(rect.x_range(), rect.top() + 0.5, Stroke::new(1.0, t.hair));
    let inner = rect.shrink2(vec2(GAP, 6.0));
    let mut ui = ui.new_child(UiBuilder::new().max_rect(inner).id_salt("watch-outs"));
    ui.set_clip_rect(rect.intersect(ui.clip_rect()));
    let judged = derived.judged(scene);
    ScrollArea::vertical().id_salt("watch-outs").auto_shrink([false, false]).show(&mut ui, |ui| {
        ui.spacing_mut().item_spacing.y = 3.0;
        // The bar that scrolls lies over what is beside it.
        ui.set_width(inner.width() - BAR_PX);
        let open = judged.iter().filter(|one| one.is_open()).count();
        let words = match (open, judged.len()) {
            (0, 0) => "No watch-outs".to_owned(),
            (0, _) => said(&judged),
            (1, _) => "1 watch-out".to_owned(),
            (more, _) => format!("{more} watch-outs"),
        };
        ui.label(RichText::new(words).font(tokens::bold()).color(t.ink));
        judged_first(ui, scene, derived);
        let unfolded_before = Id::unique("watch-out unfolded before");
        let before = ui.data(|data| data.get_temp::<Option<Concern>>(unfolded_before)).flatten();
        for one in judged.iter() {
            let top = ui.cursor().top();
            line(ui, one, scene, view);
            if view.watched == Some(one.watch_out.concern) {
                // Searching takes a moment: not while a hand is moving something.
                let fixes = if scene.moving { None } else { Some(derived.fixes(scene, one.watch_out.concern)) };
                unfolded(ui, one, fixes.as_deref().map(Vec::as_slice), scene, asks);
                if before != view.watched {
                    // All of what is chosen is in sight, and its line at least where it does not fit.
                    let all = Rect::from_min_max(pos2(inner.left(), top), pos2(inner.right(), ui.cursor().top()));
                    let align = (all.height() > inner.height()).then_some(Align::Min);
                    ui.scroll_to_rect(all, align);
                }
            }
        }
        ui.data_mut(|data| data.insert_temp(unfolded_before, view.watched));
        let fitted = derived.fit_findings(scene);
        if !fitted.is_empty() {
            ui.add_space(GAP);
            super::fit::findings_list(ui, &fitted, "in the fit", view, asks);
        }
        ui.add_space(GAP);
        let asked = view.unfold.take();
        saw::show(ui, scene, view, asked == Some(WatchPart::Saw), derived, asks);
        order::show(ui, scene);
        out_of_true::show(ui, scene, asks);
        load::show(ui, scene, view, asked == Some(WatchPart::Load), derived, asks);
        limits::show(ui, scene, asked == Some(WatchPart::Limits), asks);
    });
}

/// Brings a section that was asked for into sight.
fn bring(ui: &Ui, head: &Response, asked: bool) {
    if asked {
        ui.scroll_to_rect(head.rect, Some(Align::Min));
    }
}

/// What a leg is judged by first, whether there is anything to watch out for or not: its core, and how thin it is square to
/// its curves.
fn judged_first(ui: &mut Ui, scene: &Scene<'_>, derived: &mut Derived) {
    let t = Tokens::here(ui);
    let (units, survey) = (scene.units(), derived.survey(scene));
    let core = Core::of_survey(&survey);
    let as_sawn = if survey.saw().is_some() { ", as sawn" } else { "" };
    let least = survey.stations().iter().flat_map(|at| at.thickness_mm()).fold(f64::INFINITY, f64::min);
    let core = if core.share > 0.0 {
        let [across, deep] = core.size_mm;
        let (share, bending) = (100.0 * core.share, 100.0 * core.bending_share);
        let size = format!("{} × {}", units.show(across), units.show_with_unit(deep));
        format!("Core {size}{as_sawn}: {share:.0} % of the section, {bending:.0} % of its bending strength.")
    } else {
        format!("No core of straight grain{as_sawn}.")
    };
    let words = format!("{core} At its thinnest square to a curve {}.", units.show_with_unit(least));
    ui.label(RichText::new(words).font(tokens::small()).color(t.soft));
}

/// What is said of a leg with no watch-out that is open: that there is something to look at, or that all is accepted.
fn said(judged: &[Judged]) -> String {
    match judged.iter().filter(|one| one.accepted.is_none()).count() {
        0 => "All accepted".to_owned(),
        1 => "1 thing to have a look at".to_owned(),
        more => format!("{more} things to have a look at"),
    }
}

/// A line of the list.
fn line(ui: &mut Ui, one: &Judged, scene: &Scene<'_>, view: &mut View) {
    let t = Tokens::here(ui);
    let found = &one.watch_out;
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), LINE_PX), Sense::click());
    let word = match (found.weight, &one.accepted) {
        (_, Some(_)) => "accepted",
        (Weight::WatchOut, None) => "watch out",
        (Weight::Look, None) => "have a look",
    };
    let from_top = format!("{} from top", scene.units().show_with_unit(found.at_mm));
    let place = format!("{}, {from_top}", found.concern.title());
    let is_unfolded = view.watched == Some(found.concern);
    response.widget_info(|| WidgetInfo::selected(Role::Button, true, is_unfolded, format!("{word}: {place}")));
    if response.hovered() || is_unfolded {
        ui.painter().rect_filled(rect, 2.0, t.raised);
    }
    if response.has_focus() {
        ui.painter().rect_stroke(rect, 2.0, Stroke::new(1.0, t.ink), egui::StrokeKind::Inside);
    }
    let at = pos2(rect.left() + 9.0, rect.center().y);
    match word {
        "watch out" => {
            let corners = vec![at + vec2(0.0, -6.0), at + vec2(6.5, 5.5), at + vec2(-6.5, 5.5)];
            ui.painter().add(Shape::convex_polygon(corners, t.wrong, Stroke::NONE));
            ui.painter().text(at + vec2(0.0, 1.0), Align2::CENTER_CENTER, "!", tokens::small(), t.sheet);
        }
        "accepted" => {
            let tick = vec![at + vec2(-5.0, 0.0), at + vec2(-1.5, 4.0), at + vec2(5.0, -4.5)];
            ui.painter().add(Shape::line(tick, Stroke::new(1.6, t.soft)));
        }
        _ => {
            ui.painter().circle_stroke(at, 4.5, Stroke::new(1.6, t.soft));
        }
    }
    let colour = if one.is_open() { t.ink } else { t.soft };
    // What it is above, where it is below: both in words, so that neither is cut.
    let text = ui.painter_at(rect);
    let left = rect.left() + 20.0;
    text.text(pos2(left, rect.top() + 9.0), Align2::LEFT_CENTER, found.concern.title(), tokens::small(), colour);
    let figure = found.figure(scene.units());
    let with_place = format!("{figure}, at {}", scene.units().show_with_unit(found.at_mm));
    // Where both are too long, the place is left to the verdict.
    let laid = |words: String| text.layout_no_wrap(words, tokens::small(), t.soft);
    let second = Some(laid(with_place)).filter(|both| left + both.size().x <= rect.right());
    let second = second.unwrap_or_else(|| laid(figure));
    text.galley(pos2(left, rect.bottom() - 9.0 - second.size().y / 2.0), second, t.soft);
    let clicked = response.clicked();
    response.on_hover_text(format!("{word}: {}", found.verdict));
    if clicked {
        view.cursor_mm = found.at_mm;
        view.watched = if is_unfolded { None } else { Some(found.concern) };
    }
}

/// What is chosen: the verdict, the limit and its source, the fixes, accepting.
fn unfolded(ui: &mut Ui, one: &Judged, fixes: Option<&[Fix]>, scene: &Scene<'_>, asks: &mut Vec<Ask>) {
    let t = Tokens::here(ui);
    let found = &one.watch_out;
    let units = scene.units();
    let small = |text: String| RichText::new(text).font(tokens::small());
    ui.label(small(found.verdict.clone()).color(t.ink));
    let limit = found.limit_words(units).map_or(String::new(), |limit| format!(", limit {limit}"));
    ui.label(small(format!("{}{limit} ({})", found.figure(units), found.concern.source())).color(t.soft));
    for fix in fixes.unwrap_or_default() {
        let button = ui.add(Button::new(small(fix.words.clone())).wrap());
        if button.on_hover_text("Try it; undo takes it back").clicked() {
            asks.push(Ask::Edit(fix.edit.clone()));
        }
    }
    accepting(ui, one, found.concern, scene, asks);
    ui.add_space(4.0);
}

fn accepting(ui: &mut Ui, one: &Judged, concern: Concern, scene: &Scene<'_>, asks: &mut Vec<Ask>) {
    let t = Tokens::here(ui);
    let design = scene.design.id;
    if let Some(reason) = &one.accepted {
        ui.label(RichText::new(format!("Accepted: {reason}")).font(tokens::small()).color(t.soft));
        if ui.button("No longer accept").clicked() {
            asks.push(Ask::Edit(Edit::TakeBack { design, concern }));
        }
        return;
    }
    if one.watch_out.weight == Weight::Look {
        return;
    }
    let accept = |reason: &str| Edit::Accept {
        design,
        accepted: Accepted { concern, reason: reason.to_owned(), value: one.watch_out.value },
    };
    let field = Field {
        id: Id::unique(("accept", design.0, concern.title())),
        caption: "Accept, because",
        name: "reason to accept".to_owned(),
        width: ui.available_width() - 4.0,
        hint: "Stays in the project and in its report",
    };
    let check = |reason: &str| scene.project.apply(&accept(reason)).map(|_| ()).map_err(|error| error.to_string());
    if let Some(reason) = field.text(ui, "", check)
        && !reason.trim().is_empty()
    {
        asks.push(Ask::Edit(accept(reason.trim())));
    }
}

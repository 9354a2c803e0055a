//! The head of the row of sides: what meets at the seams, how it looks, how much of a pattern survives.

use cornerwise_geometry::{Cut, Units};
use cornerwise_wood::{PairReading, Rating, Regularity};
use egui::{Align2, Button, Color32, Rect, RichText, Role, ScrollArea, Sense, Ui, UiBuilder, WidgetInfo, vec2};

use crate::commands::Command;
use crate::scene::{Ask, Scene};
use crate::seam_work::SeamWork;
use crate::tokens::{self, Tokens};
use crate::view::View;

/// Where the columns of the table begin, points.
const COLUMNS: [f32; 4] = [0.0, 74.0, 128.0, 178.0];

/// Shows the head.
pub fn head(
    ui: &mut Ui,
    rect: Rect,
    scene: &Scene<'_>,
    work: Option<&SeamWork>,
    view: &mut View,
    fixes_open: &mut bool,
    asks: &mut Vec<Ask>,
) {
    let t = Tokens::here(ui);
    let inner = rect.shrink2(vec2(12.0, 2.0));
    let mut ui = ui.new_child(UiBuilder::new().max_rect(inner).id_salt("seams"));
    ui.set_clip_rect(rect.intersect(ui.clip_rect()));
    ui.spacing_mut().item_spacing.y = 2.0;
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        ui.spacing_mut().button_padding.x = 6.0;
        let fixes = ui.add(Button::selectable(*fixes_open, "Make seams meet…"));
        if fixes.on_hover_text("The smallest changes that make seams meet").clicked() {
            *fixes_open = !*fixes_open;
        }
        let limits = ui.add(Button::selectable(view.panels.wood_limits, "Limits"));
        if limits
            .on_hover_text(Command::WoodLimits.tooltip(ui.ctx()))
            .accessible_name("limits of seams and faces")
            .clicked()
        {
            asks.push(Ask::Command(Command::WoodLimits));
        }
    });
    ScrollArea::vertical().id_salt("seams").auto_shrink([false, false]).show(&mut ui, |ui| {
        let small = |words: &str, colour: Color32| RichText::new(words).font(tokens::small()).color(colour);
        let Some(work) = work else {
            ui.label(small("Working out what meets…", t.ink));
            return;
        };
        ui.label(small("What meets at the glue line, as a share of the length", t.soft));
        line(ui, ["", "lines", "wood", "pattern"].map(str::to_owned), t.soft);
        for (names, cut, seam) in PAIRS {
            let answer = &work.answers[seam];
            let [lines, wood, pattern] = [answer.lines_meet, answer.same_wood, answer.pattern_carries_on].map(percent);
            line(ui, [format!("seams {names}"), lines, wood, pattern], t.ink);
            told(ui, scene.units(), &work.readings[cut.index()], work.regularity[cut.index()]);
        }
        let places: usize = work.answers.iter().map(|answer| answer.places_in_all).sum();
        let words = match places {
            0 => "Everything fits.".to_owned(),
            1 => "Something does not fit at 1 place.".to_owned(),
            n => format!("Something does not fit at {n} places."),
        };
        ui.label(small(&words, t.ink));
        ui.label(small(
            "Below each side: dots where doubtful, a bar where bad. Point at a seam to see both its edges.",
            t.soft,
        ));
    });
}

/// The pairs as drawn: their names, the cut that makes them, and the first seam's place.
const PAIRS: [(&str, Cut, usize); 2] = [("1, 3", Cut::Second, 0), ("2, 4", Cut::First, 1)];

fn line(ui: &mut Ui, cells: [String; 4], colour: Color32) {
    let (row, response) = ui.allocate_exact_size(vec2(ui.available_width().max(0.0), 18.0), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, cells.join(" ")));
    for (x, cell) in COLUMNS.into_iter().zip(&cells) {
        ui.painter().text(row.left_center() + vec2(x, 0.0), Align2::LEFT_CENTER, cell, tokens::small(), colour);
    }
}

/// How a pair looks, its longest good place, its worst jump, and how much of a pattern survives on its sides.
fn told(ui: &mut Ui, units: Units, reading: &PairReading, regularity: Option<Regularity>) {
    let t = Tokens::here(ui);
    let shares = Rating::ALL.map(|rating| format!("{} {}", rating.name(), percent(reading.share(rating))));
    let mut words = vec![shares.join(", ")];
    if let Some(good) = reading.longest_good() {
        words.push(format!("longest good {} to {}", units.show(good.from_mm), units.show_with_unit(good.to_mm)));
    }
    if let Some(jump) = reading.worst_jump {
        let share = jump.ring_share.map(|share| format!(", {share:.2} ring,")).unwrap_or_default();
        let (mm, at) = (units.show(jump.mm), units.show_with_unit(jump.at_mm));
        words.push(format!("worst jump {mm}{share} at {at}"));
    }
    if let Some([difference, at]) = reading.worst_colour {
        words.push(format!("colours differ by up to {difference:.1}, at {}", units.show_with_unit(at)));
    }
    if let Some(Regularity { in_order, as_ruled }) = regularity {
        words.push(order(in_order, as_ruled));
    }
    for words in words {
        ui.label(RichText::new(format!(" {words}")).font(tokens::small()).color(t.ink));
    }
}

/// How much of a pattern survives on the sides, in words.
fn order(in_order: f64, as_ruled: f64) -> String {
    let word = match in_order {
        share if share > 0.98 && as_ruled > 0.98 => "pattern stays whole",
        share if share > 0.98 => "in order, woods changed",
        share if share < 0.5 => "pattern comes apart",
        _ => "pattern suffers",
    };
    format!("{word}: order kept {}", percent(in_order))
}

/// A share in per cent; never 100 or 0 unless it is all or none.
pub(super) fn percent(share: f64) -> String {
    let whole = (share * 100.0).round();
    if share < 1.0 && whole >= 100.0 {
        "over 99 %".to_owned()
    } else if share > 0.0 && whole <= 0.0 {
        "under 1 %".to_owned()
    } else {
        format!("{whole:.0} %")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_are_only_whole_when_they_are() {
        assert_eq!([1.0, 0.999_9, 0.5, 0.001, 0.0].map(percent), ["100 %", "over 99 %", "50 %", "under 1 %", "0 %"]);
    }

    #[test]
    fn a_pattern_that_comes_apart_is_said_to() {
        assert!(order(1.0, 1.0).starts_with("pattern stays whole"));
        assert!(order(1.0, 0.0).starts_with("in order, woods changed"));
        assert!(order(0.1, 0.1).starts_with("pattern comes apart"));
    }
}

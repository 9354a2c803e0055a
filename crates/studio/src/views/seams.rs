//! The head of the row of sides: what meets at the seams, how it looks, how much of a pattern survives.

use cornerwise_geometry::{Cut, Units};
use cornerwise_wood::{Mismatch, PairReading, Rating, Regularity, SeamAnswer};
use egui::{Align2, Button, Color32, Rect, RichText, Role, ScrollArea, Sense, Ui, UiBuilder, WidgetInfo, vec2};

use crate::commands::Command;
use crate::scene::{Ask, Scene};
use crate::seam_work::SeamWork;
use crate::tokens::{self, Tokens};
use crate::view::View;

/// Where the columns of the table end, points.
const COLUMNS: [f32; 2] = [170.0, 222.0];

/// Shows the head.
pub fn head(ui: &mut Ui, rect: Rect, scene: &Scene<'_>, work: Option<&SeamWork>, view: &View, asks: &mut Vec<Ask>) {
    let t = Tokens::here(ui);
    let inner = rect.shrink2(vec2(12.0, 2.0));
    let mut ui = ui.new_child(UiBuilder::new().max_rect(inner).id_salt("seams"));
    ui.set_clip_rect(rect.intersect(ui.clip_rect()));
    ui.spacing_mut().item_spacing.y = 2.0;
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        ui.spacing_mut().button_padding.x = 6.0;
        let fixes = ui.add(Button::selectable(view.panels.seam_fixes, "Make seams meet…"));
        if fixes.on_hover_text(Command::SeamFixes.tooltip(ui.ctx())).clicked() {
            asks.push(Ask::Command(Command::SeamFixes));
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
        let rows = rows(scene.units(), work);
        for row in &rows {
            line(ui, row);
        }
        for (names, cut) in PAIRS {
            if let Some(regularity) = work.regularity[cut.index()] {
                ui.label(small(&format!("Seams {names}: {}.", order(regularity)), t.ink));
            }
        }
        // Where nothing is known nothing is found not to fit.
        let unknown =
            |answer: &SeamAnswer| answer.places.iter().filter(|p| p.what == Mismatch::NotPhotographed).count();
        let places: usize = work.answers.iter().map(|answer| answer.places_in_all - unknown(answer)).sum();
        let nothing_known = work.answers.iter().all(|answer| answer.unknown >= 1.0);
        let carries_on = work.answers.iter().all(|answer| answer.pattern_carries_on >= 1.0);
        let words = match places {
            _ if nothing_known => "Nothing is known of a seam until both its faces are photographed.".to_owned(),
            0 if work.answers.iter().any(|answer| answer.unknown > 0.0) => {
                "As far as is known, everything fits.".to_owned()
            }
            0 => "Everything fits.".to_owned(),
            // A checkered pattern that carries on is as its maker wants it, though other woods meet at the seams.
            _ if carries_on => "The pattern carries on, though woods or lines change at the seams.".to_owned(),
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

/// The pairs as drawn: their names, and the cut that makes them.
const PAIRS: [(&str, Cut); 2] = [("1, 3", Cut::Second), ("2, 4", Cut::First)];

/// One quantity of both pairs.
struct Row {
    what: &'static str,
    cells: [String; 2],
    hint: &'static str,
}

/// All that is told in figures; a row that neither pair has anything for is left out.
fn rows(units: Units, work: &SeamWork) -> Vec<Row> {
    let of = |tell: &dyn Fn(&PairReading) -> Option<String>| {
        PAIRS.map(|(_, cut)| {
            let reading = &work.readings[cut.index()];
            if reading.places.is_empty() { String::new() } else { tell(reading).unwrap_or_default() }
        })
    };
    // The first of each pair stands for both: as drawn, they are the same.
    // Of photos there may be nothing to tell.
    let known = |seam: usize| work.answers[seam].unknown < 1.0;
    let meets = |tell: fn(&SeamAnswer) -> f64| {
        [0, 1].map(|seam| if known(seam) { percent(tell(&work.answers[seam])) } else { "?".to_owned() })
    };
    let looks = |rating| of(&move |reading| Some(percent(reading.share(rating))));
    let length = |mm: f64| units.show(mm);
    let jump = |reading: &PairReading| reading.worst_jump().filter(|jump| jump.mm > 0.005);
    let good = |tell: &dyn Fn(f64, f64) -> f64| {
        of(&|reading| reading.longest_good().map(|place| length(tell(place.from_mm, place.to_mm))))
    };
    let row = |what, hint, cells| Row { what, cells, hint };
    let order = PAIRS.map(|(_, cut)| work.regularity[cut.index()].map_or_else(String::new, |of| percent(of.in_order)));
    let mut rows = vec![
        row(
            "seams",
            "Seams 1 and 3 join what lay at faces 2 and 4, seams 2 and 4 what lay at faces 1 and 3",
            PAIRS.map(|(names, _)| names.to_owned()),
        ),
        row(
            "lines meet",
            "Share of the seam where lines of the wood arrive at one place",
            [0, 1].map(|seam| match &work.answers[seam] {
                answer if known(seam) && answer.lines_unseen >= 1.0 => "–".to_owned(),
                _ => meets(|a| a.lines_meet)[seam].clone(),
            }),
        ),
        row(
            "  lines not seen",
            "Share of the seam along which no ring lines can be made out in the photos, as on flat-sawn faces; whether lines \
             meet is told of the rest",
            [0, 1].map(|seam| match work.answers[seam].lines_unseen {
                share if share > 0.0 => percent(share),
                _ => String::new(),
            }),
        ),
        row("same wood", "Share of the seam with the same wood on both sides", meets(|a| a.same_wood)),
        row(
            "pattern carries on",
            "Share of the seam across which the pattern carries on",
            meets(|a| a.pattern_carries_on),
        ),
        row(
            "not photographed",
            "Share of the seam whose two edges were not both photographed",
            [0, 1].map(|seam| match work.answers[seam].unknown {
                share if share > 0.0 => percent(share),
                _ => String::new(),
            }),
        ),
        row("looks good", "Share of the seam", looks(Rating::Good)),
        row("looks doubtful", "Share of the seam; dots below the side", looks(Rating::Doubtful)),
        row("looks bad", "Share of the seam; a bar below the side", looks(Rating::Bad)),
        row("longest good", "How long the longest good place is", good(&|from, to| to - from)),
        row("  from the top", "Where it begins", good(&|from, _| from)),
        row(
            "worst jump",
            "How far the lines of the two edges are apart at the worst, along the leg for layers and blocks, square to them for rings",
            of(&|reading| jump(reading).map(|jump| length(jump.mm))),
        ),
        row(
            "  of a ring",
            "The same as a share of a ring",
            of(&|reading| jump(reading).and_then(|jump| jump.ring_share).map(|share| format!("{share:.2}"))),
        ),
        row("  from the top", "Where that is", of(&|reading| jump(reading).map(|jump| length(jump.at_mm)))),
        row(
            "colours differ",
            "By how much the colours of the two edges differ at the worst (CIEDE2000)",
            of(&|reading| reading.worst_colour().map(|[difference, _]| format!("{difference:.1}"))),
        ),
        row("  from the top", "Where that is", of(&|reading| reading.worst_colour().map(|[_, at]| length(at)))),
        row("order kept", "How much of a glue-up's order survives on each side, above what chance would give", order),
    ];
    for cell in rows.iter_mut().flat_map(|row| &mut row.cells) {
        // A column has room for signs, not for words.
        *cell = cell.replace("under ", "< ").replace("over ", "> ");
    }
    rows.retain(|row| row.cells.iter().any(|cell| !cell.is_empty()));
    for cell in rows.iter_mut().flat_map(|row| &mut row.cells).filter(|cell| cell.is_empty()) {
        cell.push('–');
    }
    rows
}

fn line(ui: &mut Ui, row: &Row) {
    let t = Tokens::here(ui);
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width().max(0.0), 16.0), Sense::hover());
    let [first, second] = &row.cells;
    let name = format!("{}: {first}; {second}", row.what.trim());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, &name));
    let quiet = row.what == "seams" || row.what.starts_with(' ');
    let colour = if quiet { t.soft } else { t.ink };
    let text = |x: f32, align, words: &str| {
        ui.painter().text(rect.left_center() + vec2(x, 0.0), align, words, tokens::small(), colour);
    };
    text(0.0, Align2::LEFT_CENTER, row.what);
    for (x, cell) in COLUMNS.into_iter().zip(&row.cells) {
        text(x, Align2::RIGHT_CENTER, cell);
    }
    response.on_hover_text(row.hint);
}

/// How much of a pattern survives on the sides, in words.
fn order(of: Regularity) -> &'static str {
    match of {
        Regularity { in_order, as_ruled } if in_order > 0.98 && as_ruled > 0.98 => "the pattern stays whole",
        Regularity { in_order, .. } if in_order > 0.98 => "in order, but woods are exchanged",
        Regularity { in_order, .. } if in_order < 0.5 => "the pattern comes apart",
        _ => "the pattern suffers",
    }
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
        let words = |in_order, as_ruled| order(Regularity { in_order, as_ruled });
        assert_eq!(words(1.0, 1.0), "the pattern stays whole");
        assert_eq!(words(1.0, 0.0), "in order, but woods are exchanged");
        assert_eq!(words(0.1, 0.1), "the pattern comes apart");
    }
}

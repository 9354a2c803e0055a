//! Several notches at once: evenly spaced, or by a list of heights from the floor.

use cornerwise_geometry::Length;
use cornerwise_geometry::fit::{Notch, Takes};
use cornerwise_project::{Edit, FitPart, notches_at_heights, notches_evenly};
use egui::{Button, Ui};

use super::super::head::{allowed, field, row};
use super::told;
use crate::fit_view::Several;
use crate::length_field::Reading;
use crate::scene::{Ask, Scene};
use crate::view::View;

/// What stands in the form: nothing of it is the project until it is made.
#[derive(Clone, Debug)]
pub(super) struct Drafts {
    count: usize,
    first: Length,
    last: Option<Length>,
    board: Length,
    clearance: Length,
    heights: String,
}

impl Default for Drafts {
    fn default() -> Drafts {
        Drafts {
            count: 3,
            first: Length::from_mm(100.0),
            last: None,
            board: Length::from_mm(18.0),
            clearance: Length::from_mm(0.4),
            heights: String::new(),
        }
    }
}

pub(super) fn show(ui: &mut Ui, scene: &Scene<'_>, view: &mut View, drafts: &mut Drafts, asks: &mut Vec<Ask>) {
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        for (way, word, hint) in [
            (Several::Evenly, "Evenly…", "Several notches, equal lengths between them"),
            (Several::Heights, "By heights…", "Several notches, by the heights of their boards from the floor"),
        ] {
            let open = view.fit.several == Some(way);
            if ui.add(Button::selectable(open, word)).on_hover_text(hint).clicked() {
                view.fit.several = if open { None } else { Some(way) };
            }
        }
    });
    let Some(way) = view.fit.several else { return };
    let group = "several notches";
    let sound = |length: &Length| if length.mm() >= 0.0 { Ok(()) } else { Err("this takes 0 or more".to_owned()) };
    row(ui, |ui| {
        let board = field(scene, "Board", group, 3).length(ui, &drafts.board, scene.reading(), sound);
        let clearance = field(scene, "Clearance", group, 3).length(ui, &drafts.clearance, scene.reading(), sound);
        drafts.board = board.unwrap_or_else(|| drafts.board.clone());
        drafts.clearance = clearance.unwrap_or_else(|| drafts.clearance.clone());
    });
    let like = Notch {
        from_top: Length::ZERO,
        board: drafts.board.clone(),
        clearance: drafts.clearance.clone(),
        takes: Takes::Shelf,
    };
    let length_mm = scene.leg.length_mm;
    let wanted = match way {
        Several::Evenly => {
            row(ui, |ui| {
                let whole = |n: f64| {
                    if n == n.round() && (1.0..=40.0).contains(&n) {
                        Ok(())
                    } else {
                        Err("this takes 1 to 40".to_owned())
                    }
                };
                let count = field(scene, "How many", group, 3).number(ui, drafts.count as f64, "", whole);
                drafts.count = count.map_or(drafts.count, |count| count as usize);
                let first = field(scene, "First from top", group, 3).length(ui, &drafts.first, scene.reading(), sound);
                drafts.first = first.unwrap_or_else(|| drafts.first.clone());
                let last = drafts.last.clone().unwrap_or_else(|| Length::from_mm(length_mm - 100.0));
                let last = field(scene, "Last ends at", group, 3).length(ui, &last, scene.reading(), sound);
                drafts.last = last.or(drafts.last.take());
            });
            let to = drafts.last.as_ref().map_or(length_mm - 100.0, Length::mm);
            Ok(notches_evenly(drafts.count, drafts.first.mm(), to, &like))
        }
        Several::Heights => {
            let reading = scene.reading();
            let text = field(scene, "Heights from the floor", group, 1)
                .text(ui, &drafts.heights, |text| heights(text, &reading).map(|_| ()));
            drafts.heights = text.unwrap_or_else(|| drafts.heights.clone());
            told(ui, "To the boards' upper faces, parted by ; as in 120; 300; 480");
            heights(&drafts.heights, &reading).map(|heights| notches_at_heights(&heights, &like, length_mm))
        }
    };
    // Notches for aprons stay: only the shelves are made anew.
    let kept = scene.design.fit.notches.iter().filter(|notch| notch.takes == Takes::Apron);
    let edit = wanted.map(|wanted| {
        let mut all: Vec<Notch> = kept.cloned().chain(wanted).collect();
        all.sort_by(|a, b| a.from_top.mm().total_cmp(&b.from_top.mm()));
        Edit::SetFit { design: scene.design.id, part: FitPart::Notches(all) }
    });
    let can = edit.and_then(|edit| allowed(scene, &edit).map(|()| edit));
    let button = ui.add_enabled(can.is_ok(), Button::new("Make the shelves"));
    let why = can.as_ref().err().cloned().unwrap_or_default();
    let button = button.on_hover_text("In place of the shelves there are; aprons stay").on_disabled_hover_text(&why);
    if let (Ok(edit), true) = (&can, button.clicked()) {
        asks.push(Ask::Edit(edit.clone()));
        view.fit.several = None;
    }
    // A form that has only been opened has nothing wrong yet.
    let fresh = way == Several::Heights && drafts.heights.is_empty();
    if !fresh && !why.is_empty() {
        told(ui, format!("Not yet: {why}"));
    }
}

/// A list of heights, mm.
fn heights(text: &str, reading: &Reading) -> Result<Vec<f64>, String> {
    Ok(lengths(text, reading)?.iter().map(Length::mm).collect())
}

/// A list of lengths, parted by semicolons.
pub(super) fn lengths(text: &str, reading: &Reading) -> Result<Vec<Length>, String> {
    let parts: Vec<&str> = text.split(';').map(str::trim).filter(|part| !part.is_empty()).collect();
    if parts.is_empty() {
        return Err("type lengths parted by ; such as 120; 300; 480".to_owned());
    }
    parts.into_iter().map(|part| reading.parse(part)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use cornerwise_geometry::Units;

    #[test]
    fn heights_are_a_list_of_lengths_as_makers_type_them() {
        let mm = Reading::from(Units::Millimetres);
        assert_eq!(heights("120; 69,85 mm;4 in ;", &mm).unwrap(), [120.0, 69.85, 101.6]);
        assert!(heights(" ; ", &mm).is_err());
        assert!(heights("120; tall", &mm).is_err());
    }
}

//! The pipe hole: which pipe, how wide, what it takes to make it and what it leaves.

use cornerwise_geometry::Length;
use cornerwise_geometry::fit::PipeHole;
use cornerwise_project::{Edit, FitPart, pipes};
use egui::{ComboBox, Sense, Ui};

use super::super::head::{allowed, field, heading, row};
use super::{figure, told};
use crate::scene::{Ask, Scene};
use crate::tokens::{self, Tokens};
use crate::view::View;

/// What is asked for first where no pipe of the table is meant, mm.
const TYPED_MM: f64 = 10.0;
/// An end this near the middle is in it, mm: below what is shown.
const OFF_MM: f64 = 0.005;

fn edit(scene: &Scene<'_>, pipe: Option<PipeHole>) -> Edit {
    Edit::SetFit { design: scene.design.id, part: FitPart::Pipe(pipe) }
}

pub(super) fn show(ui: &mut Ui, scene: &Scene<'_>, view: &mut View, asks: &mut Vec<Ask>) {
    heading(ui, "Pipe hole");
    choice(ui, scene, asks);
    let Some(pipe) = &scene.design.fit.pipe else { return };
    type With = fn(&PipeHole, Length) -> PipeHole;
    let take = |ui: &mut Ui, caption: &'static str, of: usize, value: &Length, with: With| {
        let becomes = |length: &Length| edit(scene, Some(with(pipe, length.clone())));
        let check = |length: &Length| allowed(scene, &becomes(length));
        field(scene, caption, "pipe", of).length(ui, value, scene.reading(), check).map(|length| becomes(&length))
    };
    row(ui, |ui| {
        // Another diameter is another pipe: the trade name goes.
        let outside =
            take(ui, "Outside", 2, &pipe.outside, |p, l| PipeHole { outside: l, name: String::new(), ..p.clone() });
        let clearance = take(ui, "Clearance", 2, &pipe.clearance, |p, l| PipeHole { clearance: l, ..p.clone() });
        asks.extend([outside, clearance].into_iter().flatten().map(Ask::Edit));
    });
    row(ui, |ui| {
        let above = take(ui, "Above top", 3, &pipe.above, |p, l| PipeHole { above: l, ..p.clone() });
        let below = take(ui, "Below foot", 3, &pipe.below, |p, l| PipeHole { below: l, ..p.clone() });
        let recess = take(ui, "Nut recess", 3, &pipe.recess, |p, l| PipeHole { recess: l, ..p.clone() });
        asks.extend([above, below, recess].into_iter().flatten().map(Ask::Edit));
    });
    figures(ui, scene, pipe, view, asks);
}

fn choice(ui: &mut Ui, scene: &Scene<'_>, asks: &mut Vec<Ask>) {
    let units = scene.units();
    let now = &scene.design.fit.pipe;
    let shown = match now {
        None => "none".to_owned(),
        Some(pipe) if pipe.name.is_empty() => "typed diameter".to_owned(),
        Some(pipe) => pipe.name.clone(),
    };
    let width = ui.available_width() - 2.0;
    let choice = ComboBox::from_id_salt("pipe").width(width).selected_text(shown).show_ui(ui, |ui| {
        ui.set_min_width(width);
        if ui.selectable_label(now.is_none(), "none").clicked() && now.is_some() {
            asks.push(Ask::Edit(edit(scene, None)));
        }
        // Ends and recess stay when another pipe is taken.
        let with_ends = |hole: PipeHole| match now {
            Some(was) => {
                PipeHole { above: was.above.clone(), below: was.below.clone(), recess: was.recess.clone(), ..hole }
            }
            None => hole,
        };
        for pipe in pipes() {
            let chosen = now.as_ref().is_some_and(|now| now.name == pipe.name);
            let words = format!("{}, {} outside", pipe.name, units.show_with_unit(pipe.outside.mm()));
            let words = if pipe.outside.text().is_some() && pipe.outside.text() != Some(&words) {
                format!("{}, {} outside", pipe.name, pipe.outside.text().unwrap_or_default())
            } else {
                words
            };
            let hint =
                if pipe.thread.is_empty() { String::from("Measure the pipe you have") } else { pipe.thread.clone() };
            if ui.selectable_label(chosen, words).on_hover_text(hint).clicked() && !chosen {
                asks.push(Ask::Edit(edit(scene, Some(with_ends(pipe.pipe_hole())))));
            }
        }
        let typed = now.as_ref().is_some_and(|now| now.name.is_empty());
        if ui.selectable_label(typed, "typed diameter").clicked() && !typed {
            let hole = match now {
                Some(was) => PipeHole { name: String::new(), ..was.clone() },
                None => PipeHole {
                    name: String::new(),
                    outside: Length::from_mm(TYPED_MM),
                    clearance: Length::from_mm(0.5),
                    above: Length::ZERO,
                    below: Length::ZERO,
                    recess: Length::ZERO,
                },
            };
            asks.push(Ask::Edit(edit(scene, Some(hole))));
        }
    });
    choice
        .response
        .accessible_name("pipe")
        .on_hover_text("The trade name is not the diameter: measure the pipe you have");
}

fn figures(ui: &mut Ui, scene: &Scene<'_>, pipe: &PipeHole, view: &mut View, asks: &mut Vec<Ask>) {
    let mm = |mm: f64| scene.units().show_with_unit(mm);
    let fit = pipe.fit(scene.leg);
    figure(ui, format!("Chamfer all four arrises at 45°, {} along each face", mm(fit.chamfer_leg_mm)));
    figure(ui, format!("The chamfer's own face is {} wide: easier to measure", mm(fit.chamfer_face_mm)));
    told(
        ui,
        format!(
            "Saw: tilt 45°, and set the fence until the chamfer's face measures {}. Router: a 45° bit {} deep. Before \
             sawing; a chamfered blank has lost its arrises.",
            mm(fit.chamfer_face_mm),
            mm(fit.chamfer_leg_mm)
        ),
    );
    let thin = &fit.thinnest;
    let words = if thin.mm > 0.0 {
        format!("Thinnest wood {}, {}, {} from the top", mm(thin.mm), thin.side, mm(thin.s_mm))
    } else {
        format!("Breaks out of {}, {} from the top", thin.side, mm(thin.s_mm))
    };
    let t = Tokens::here(ui);
    let colour = if thin.mm > 0.0 { t.ink } else { t.wrong };
    let shown = egui::RichText::new(&words).font(tokens::small()).color(colour);
    let label = ui.add(egui::Label::new(shown).wrap().sense(Sense::click()));
    label.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Link, true, format!("{words}: go there")));
    if label.on_hover_text("Go there").clicked() {
        view.cursor_mm = thin.s_mm;
    }
    let off = fit.ends.map(|end| end.off_mm());
    if off.iter().all(|off| *off <= OFF_MM) {
        figure(ui, "In the middle at the top and at the foot");
    } else {
        figure(ui, format!("Off the middle {} at the top, {} at the foot", mm(off[0]), mm(off[1])));
        let hint =
            "The first and the last point of both lines come to the middle of their faces; the hole leaves there";
        if ui.button("Snap the lines' ends to the middle").on_hover_text(hint).clicked() {
            asks.push(Ask::Edit(Edit::SetFit { design: scene.design.id, part: FitPart::CentreEnds }));
        }
    }
    figure(ui, format!("Cut the pipe {} long", mm(fit.pipe_length_mm)));
    told(ui, "Keep glue shy of the chamfers. Wiring follows the local electrical code and a licensed electrician.");
}

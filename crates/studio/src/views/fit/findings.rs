//! What to watch out for about the fit and the furniture: each told in whole sentences, with the change that clears it.

use cornerwise_project::FitFinding;
use egui::{Button, RichText, Role, Sense, Shape, Stroke, Ui, WidgetInfo, pos2, vec2};

use crate::scene::Ask;
use crate::tokens::{self, Tokens};
use crate::view::View;

/// Shows a list of findings under a heading that says what they are about.
pub fn list(ui: &mut Ui, found: &[FitFinding], about: &str, view: &mut View, asks: &mut Vec<Ask>) {
    let t = Tokens::here(ui);
    ui.spacing_mut().item_spacing.y = 4.0;
    // What one change clears is told once.
    let first = |place: usize| {
        let edit = found[place].edit.as_ref();
        edit.is_none() || found[..place].iter().all(|before| before.edit.as_ref() != edit)
    };
    let told: Vec<&FitFinding> = (0..found.len()).filter(|place| first(*place)).map(|place| &found[place]).collect();
    let words = match told.len() {
        0 => format!("Nothing to watch out for {about}"),
        1 => format!("1 thing to watch out for {about}"),
        more => format!("{more} things to watch out for {about}"),
    };
    ui.label(RichText::new(words).font(tokens::bold()).color(t.ink));
    for one in told {
        let alike = found.iter().filter(|other| one.edit.is_some() && other.edit == one.edit).count()
            - usize::from(one.edit.is_some());
        finding(ui, one, alike, view, asks);
        ui.add_space(2.0);
    }
}

fn finding(ui: &mut Ui, one: &FitFinding, alike: usize, view: &mut View, asks: &mut Vec<Ask>) {
    let t = Tokens::here(ui);
    ui.horizontal_top(|ui| {
        let (mark, _) = ui.allocate_exact_size(vec2(14.0, 16.0), Sense::hover());
        let at = mark.center();
        let corners = vec![at + vec2(0.0, -6.0), at + vec2(6.0, 5.0), at + vec2(-6.0, 5.0)];
        ui.painter().add(Shape::closed_line(corners, Stroke::new(1.4, t.ink)));
        ui.painter().line_segment([pos2(at.x, at.y - 2.0), pos2(at.x, at.y + 1.5)], Stroke::new(1.4, t.ink));
        ui.painter().circle_filled(pos2(at.x, at.y + 3.4), 0.9, t.ink);
        ui.vertical(|ui| {
            ui.set_width(ui.available_width());
            let more = match alike {
                0 => String::new(),
                more => format!(" And {more} more like it."),
            };
            let said = sentence(&one.what) + &more;
            let words = RichText::new(&said).font(tokens::small()).color(t.ink);
            // Only what has a place can be gone to.
            match one.at_mm {
                Some(at_mm) => {
                    let label = ui.add(egui::Label::new(words).wrap().sense(Sense::click()));
                    label.widget_info(|| WidgetInfo::labeled(Role::Link, true, format!("{said}: go there")));
                    if label.on_hover_text("Go there").clicked() {
                        view.cursor_mm = at_mm;
                    }
                }
                None => {
                    ui.add(egui::Label::new(words).wrap());
                }
            }
            let fix = RichText::new(&one.fix).font(tokens::small());
            match &one.edit {
                Some(edit) => {
                    let button = ui.add(Button::new(fix).wrap());
                    if button.on_hover_text("Do it; undo takes it back").clicked() {
                        asks.push(Ask::Edit(edit.clone()));
                    }
                }
                None => {
                    ui.add(egui::Label::new(fix.color(t.soft)).wrap());
                }
            }
        });
    });
}

fn sentence(words: &str) -> String {
    let end = if words.ends_with(['.', ')']) { "" } else { "." };
    format!("{words}{end}")
}

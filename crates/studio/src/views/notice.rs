//! Quiet strips below the bar: what went wrong, where, and what to do; unsaved changes; a path to type.

use egui::{Frame, Id, Key, Margin, Panel, RichText, TextEdit, Ui};

use crate::desk::Typed;
use crate::scene::Ask;
use crate::tokens::Tokens;

/// Something to tell the maker.
#[derive(Clone, Debug, PartialEq)]
pub struct Notice {
    /// What happened, where, and what to do.
    pub words: String,
    /// Whether something went wrong.
    pub wrong: bool,
    /// What is offered beside putting the notice away.
    pub offers: Vec<(&'static str, Ask)>,
}

impl Notice {
    /// Something went wrong.
    pub fn wrong(words: impl Into<String>) -> Notice {
        Notice { words: words.into(), wrong: true, offers: Vec::new() }
    }

    /// Something went well.
    pub fn done(words: impl Into<String>) -> Notice {
        Notice { words: words.into(), wrong: false, offers: Vec::new() }
    }
}

/// Shows the notice and the typed path, where there are any.
pub fn show(ui: &mut Ui, notice: Option<&Notice>, typed: Option<&mut Typed>, asks: &mut Vec<Ask>) {
    if let Some(notice) = notice {
        strip(ui, "notice", |ui| {
            let t = Tokens::here(ui);
            let mark = if notice.wrong { "▲ " } else { "" };
            let colour = if notice.wrong { t.wrong } else { t.ink };
            let dismiss = notice.offers.is_empty();
            for (words, ask) in &notice.offers {
                if ui.button(*words).clicked() {
                    asks.push(ask.clone());
                }
            }
            if dismiss && ui.button("OK").clicked() {
                asks.push(Ask::Dismiss);
            }
            ui.label(RichText::new(format!("{mark}{}", notice.words)).color(colour));
        });
    }
    if let Some(typed) = typed {
        strip(ui, "typed path", |ui| {
            let (title, verb) = typed.job.words();
            let label = ui.label(title);
            let before = typed.text.clone();
            let response =
                ui.add(TextEdit::singleline(&mut typed.text).id(Id::unique("typed path")).desired_width(420.0));
            let response = response.labelled_by(label.id);
            if typed.text != before {
                typed.replace = None;
            }
            if std::mem::take(&mut typed.fresh) {
                response.request_focus();
            }
            if response.lost_focus() && ui.input(|i| i.key_pressed(Key::Escape)) {
                asks.push(Ask::CancelTypedPath);
            }
            let entered = response.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
            let verb = if typed.replace.is_some() { "Replace the file" } else { verb };
            if ui.button(verb).clicked() || entered {
                asks.push(Ask::TypedPath(typed.text.clone()));
            }
            if ui.button("Cancel").clicked() {
                asks.push(Ask::CancelTypedPath);
            }
        });
    }
}

fn strip(ui: &mut Ui, id: &'static str, add: impl FnOnce(&mut Ui)) {
    let t = Tokens::here(ui);
    let frame = Frame::new().fill(t.notice).inner_margin(Margin::symmetric(12, 6));
    Panel::top(id).resizable(false).frame(frame).show(ui, |ui| {
        ui.horizontal_wrapped(add);
    });
}

//! The command finder: type a few letters, choose by arrow keys or pointer, Enter does it.

use cornerwise_project::History;
use egui::{
    Align2, Area, Frame, Id, Key, Modifiers, Order, Rect, Role, ScrollArea, Sense, TextEdit, TextWrapMode, Ui,
    WidgetInfo, WidgetText, pos2, vec2,
};

use crate::commands::Command;
use crate::finder::found;
use crate::scene::Ask;
use crate::standing::why_not;
use crate::tokens::{self, Tokens};
use crate::view::View;

const WIDTH: f32 = 660.0;
const ROW_PX: f32 = 28.0;
const ROWS_SHOWN: f32 = 12.5; // half a row says that there are more

/// A search under way.
#[derive(Clone, Debug, Default)]
pub struct Finder {
    text: String,
    /// Which of what was found is chosen.
    at: usize,
    /// Whether it has been shown before: the keys go to it when it opens.
    shown: bool,
}

/// Shows the finder, where it is open, over everything else.
pub fn show(ui: &mut Ui, finder: &mut Option<Finder>, history: &History, view: &View, asks: &mut Vec<Ask>) {
    let Some(open) = finder else { return };
    let width = WIDTH.min(ui.ctx().content_rect().width() - 24.0);
    let area = Area::new(Id::unique("finder")).order(Order::Foreground).anchor(Align2::CENTER_TOP, vec2(0.0, 44.0));
    let shown = area.show(ui.ctx(), |ui| {
        Frame::popup(ui.style()).show(ui, |ui| {
            ui.set_width(width.max(80.0));
            search(ui, open, history, view)
        })
    });
    let answer = shown.inner.inner;
    let elsewhere = ui.input(|i| i.pointer.any_pressed())
        && ui.input(|i| i.pointer.interact_pos()).is_some_and(|at| !shown.response.rect.contains(at));
    match answer {
        Answer::Do(command) => {
            asks.push(Ask::Command(command));
            *finder = None;
        }
        Answer::Close => *finder = None,
        Answer::GoOn if elsewhere && open.shown => *finder = None,
        Answer::GoOn => open.shown = true,
    }
}

enum Answer {
    GoOn,
    Close,
    Do(Command),
}

fn search(ui: &mut Ui, finder: &mut Finder, history: &History, view: &View) -> Answer {
    let mut pressed = |key| ui.input_mut(|i| i.consume_key(Modifiers::NONE, key));
    let [up, down, enter, escape] = [Key::ArrowUp, Key::ArrowDown, Key::Enter, Key::Escape].map(&mut pressed);
    let before = finder.text.clone();
    let field = TextEdit::singleline(&mut finder.text)
        .id(Id::unique("finder text"))
        .hint_text("What would you like to do?")
        .desired_width(f32::INFINITY)
        .min_size(vec2(0.0, 28.0));
    let field = ui.add(field).accessible_name("find a command");
    if !finder.shown {
        field.request_focus();
    }
    let all = found(&finder.text);
    if finder.text != before {
        finder.at = 0;
    }
    finder.at = match (up, down) {
        (true, false) => finder.at.checked_sub(1).unwrap_or(all.len().saturating_sub(1)),
        (false, true) if finder.at + 1 < all.len() => finder.at + 1,
        (false, true) => 0,
        _ => finder.at.min(all.len().saturating_sub(1)),
    };
    if all.is_empty() {
        ui.label(egui::RichText::new("No command is called that, or does that.").color(Tokens::here(ui).soft));
    }
    let moved = up || down;
    let mut answer = if escape { Answer::Close } else { Answer::GoOn };
    ScrollArea::vertical().max_height(ROWS_SHOWN * ROW_PX).auto_shrink([false, true]).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        for (place, command) in all.iter().enumerate() {
            let why_not = why_not(*command, history, view);
            let response = row(ui, *command, why_not, place == finder.at, moved);
            if response.hovered() && ui.input(|i| i.pointer.delta() != egui::Vec2::ZERO) {
                finder.at = place;
            }
            if why_not.is_none() && (response.clicked() || (enter && place == finder.at)) {
                answer = Answer::Do(*command);
            }
        }
    });
    answer
}

/// One command: its name, what it does or why it cannot be done, its keys.
fn row(ui: &mut Ui, command: Command, why_not: Option<&str>, chosen: bool, follow: bool) -> egui::Response {
    let t = Tokens::here(ui);
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), ROW_PX), Sense::click());
    let keys = command.keys_in_words(ui.ctx());
    let words = why_not.map_or_else(|| command.does().to_owned(), |why| format!("Not now: {why}."));
    let name = format!("{}, {keys}. {words}", command.label().trim_end_matches('…'));
    response.widget_info(|| WidgetInfo::selected(Role::ListBoxOption, why_not.is_none(), chosen, &name));
    if chosen {
        ui.painter().rect_filled(rect, 4.0, t.chosen);
        if follow {
            response.scroll_to_me(None);
        }
    }
    let (ink, soft) = match (chosen, why_not) {
        (true, _) => (t.on_chosen, t.on_chosen),
        (false, None) => (t.ink, t.soft),
        (false, Some(_)) => (t.soft, t.soft),
    };
    let columns = [0.0, 0.27, 0.82, 1.0].map(|share| rect.left() + 8.0 + (rect.width() - 16.0) * share);
    for (place, (words, colour, font)) in [
        (command.label(), ink, tokens::body()),
        (words.as_str(), soft, tokens::small()),
        (keys.as_str(), soft, tokens::small()),
    ]
    .into_iter()
    .enumerate()
    {
        let cell = Rect::from_x_y_ranges(columns[place]..=columns[place + 1], rect.y_range());
        let galley = WidgetText::from(words).into_galley(ui, Some(TextWrapMode::Truncate), cell.width() - 8.0, font);
        let left = if place == 2 { cell.right() - galley.size().x } else { cell.left() };
        ui.painter().galley(pos2(left, cell.center().y - galley.size().y / 2.0), galley, colour);
    }
    response
}

//! Fields for lengths as makers write them, `2 3/4"` or `69.85 mm`, and for plain numbers. A wrong entry says what is
//! wrong and changes nothing.

use cornerwise_geometry::{BlankSizes, Length, Units};
use egui::text::CCursorRange;
use egui::{
    Align2, Area, Context, FontSelection, Frame, Id, Key, Label, Order, Rect, RichText, Stroke, StrokeKind, TextEdit,
    Ui, pos2, vec2,
};

use crate::number;
use crate::tokens::{self, TIGHT, Tokens};

/// How wide a note about a wrong entry is at most, points.
const NOTE_PX: f32 = 300.0;

/// How a typed length is read and shown.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// The unit of a bare number, and of what is shown.
    pub units: Units,
    /// What `W`, `D` and `L` stand for, where there is a blank.
    pub sizes: Option<BlankSizes>,
}

impl From<Units> for Reading {
    fn from(units: Units) -> Reading {
        Reading { units, sizes: None }
    }
}

impl Reading {
    pub(crate) fn parse(&self, text: &str) -> Result<Length, String> {
        let unit = self.units.unit();
        let length = match &self.sizes {
            Some(sizes) => Length::parse_on(text, unit, sizes),
            None => Length::parse(text, unit),
        };
        length.map_err(|error| error.to_string())
    }

    /// What stands in a field.
    pub fn show(&self, length: &Length) -> String {
        match &self.sizes {
            Some(sizes) => self.units.show_length_on(length, sizes),
            None => self.units.show_length(length),
        }
    }
}

/// What is being typed into a field.
#[derive(Clone, Debug, Default, PartialEq)]
struct Draft {
    /// What the field showed when typing began; another value under the hand throws the draft away.
    shown: String,
    text: String,
    wrong: Option<String>,
    /// Whether why it is wrong was read and the hand is elsewhere: then it is told only at the field.
    left: bool,
}

/// Where it is remembered which field has something typed that is not taken yet, and which is asked to take it.
fn typed_in() -> Id {
    Id::unique("typed in")
}

fn to_settle() -> Id {
    Id::unique("to settle")
}

/// The field with something typed in it that is not taken yet.
pub fn unsettled(ctx: &Context) -> Option<Id> {
    ctx.data(|data| data.get_temp::<Id>(typed_in()).filter(|id| data.get_temp::<Draft>(*id).is_some()))
}

fn typing() -> Id {
    Id::unique("typing")
}

/// Remembers at the end of a frame whether text is being typed: Esc takes the keys from a field before the next frame
/// begins.
pub fn remember_typing(ctx: &Context) {
    let now = ctx.text_edit_focused();
    let escape = ctx.input(|i| i.key_pressed(Key::Escape));
    ctx.data_mut(|data| {
        data.insert_temp(typing(), now);
        data.insert_temp(typing().with("left by Esc"), escape);
    });
}

/// Whether Esc was pressed in this frame or the last one: a field may learn a frame later that it has lost the keys.
pub fn left_by_escape(ctx: &Context) -> bool {
    let before = ctx.data(|data| data.get_temp(typing().with("left by Esc"))).unwrap_or(false);
    before || ctx.input(|i| i.key_pressed(Key::Escape))
}

/// Whether text was being typed when this frame began, so that Esc is about that text.
pub fn was_typing(ctx: &Context) -> bool {
    ctx.data(|data| data.get_temp(typing())).unwrap_or(false)
}

/// Asks a field to take what is typed in it when it is shown next, as if Enter had been pressed.
pub fn settle(ctx: &Context, field: Id) {
    ctx.data_mut(|data| data.insert_temp(to_settle(), field));
}

/// What came of [`settle`], once the field has been shown. What was typed in a field that is no longer there is
/// forgotten.
///
/// # Errors
/// What is wrong with what was typed, in words.
pub fn settled(ctx: &Context, field: Id) -> Result<(), String> {
    ctx.data_mut(|data| {
        let not_shown = data.get_temp::<Id>(to_settle()).is_some();
        data.remove::<Id>(to_settle());
        if not_shown {
            data.remove::<Draft>(field);
        }
        let wrong = data.get_temp::<Draft>(field).and_then(|draft| draft.wrong);
        if wrong.is_none() {
            data.remove::<Id>(typed_in());
        }
        wrong.map_or(Ok(()), Err)
    })
}

/// The field that was typed in last, if what was typed there was refused and it is still on screen.
pub fn refused(ctx: &Context) -> Option<Id> {
    let field = unsettled(ctx)?;
    let wrong = ctx.data(|data| data.get_temp::<Draft>(field)).is_some_and(|draft| draft.wrong.is_some());
    (wrong && ctx.read_response(field).is_some()).then_some(field)
}

/// Forgets what was typed in a field: its value stands there again.
pub fn forget(ctx: &Context, field: Id) {
    ctx.data_mut(|data| {
        data.remove::<Draft>(field);
        data.remove::<Id>(typed_in());
    });
    ctx.request_repaint();
}

/// A field, its caption above it.
pub struct Field<'a> {
    /// Its own name for egui; stable while other fields come and go.
    pub id: Id,
    /// What stands above it.
    pub caption: &'a str,
    /// Its whole name, for those who do not see the caption in its place: `blank, width`.
    pub name: String,
    /// How wide it is, points.
    pub width: f32,
    /// What it means, for a tooltip; empty where the caption says it.
    pub hint: &'static str,
}

impl Field<'_> {
    /// Takes a length. `check` refuses what the project would refuse, in its words. At rest under the pointer stands the
    /// exact value, with what a fraction leaves over.
    pub fn length(
        &self,
        ui: &mut Ui,
        value: &Length,
        reading: impl Into<Reading>,
        check: impl FnOnce(&Length) -> Result<(), String>,
    ) -> Option<Length> {
        let reading = reading.into();
        let shown = reading.show(value);
        let exactly = || {
            let exact = reading.units.show_exactly(value.mm());
            if exact == shown { String::new() } else { format!("= {exact}") }
        };
        self.entry(ui, &shown, exactly, |text| {
            let length = reading.parse(text)?;
            check(&length).map(|()| length)
        })
        .filter(|length| length != value)
    }

    /// As [`Field::length`], for what all legs of a project share: sizes of the blank may be reckoned with, but what is
    /// taken is the length that comes out, because another leg has other sizes.
    pub fn shared_length(
        &self,
        ui: &mut Ui,
        value: &Length,
        reading: impl Into<Reading>,
        check: impl FnOnce(&Length) -> Result<(), String>,
    ) -> Option<Length> {
        let length = self.length(ui, value, reading, check)?;
        Some(if length.text().is_none() { Length::from_mm(length.mm()) } else { length })
    }

    /// Takes a plain number with a unit of its own, such as degrees, or none.
    pub fn number(
        &self,
        ui: &mut Ui,
        value: f64,
        unit: &str,
        check: impl FnOnce(f64) -> Result<(), String>,
    ) -> Option<f64> {
        self.entry(ui, &format!("{}{unit}", plain(value)), String::new, |text| {
            let number = number::parse(text.trim().trim_end_matches(unit))?;
            check(number).map(|()| number)
        })
        .filter(|number| *number != value)
    }

    /// Takes a slope, offset per length: `0.2`, `1:5`, or as an angle, `11°`.
    pub fn slope(&self, ui: &mut Ui, value: f64, check: impl FnOnce(f64) -> Result<(), String>) -> Option<f64> {
        let angle = || format!("{}°", plain((value.atan().to_degrees() * 100.0).round() / 100.0));
        self.entry(ui, &plain(value), angle, |text| {
            let slope = number::parse_slope(text)?;
            check(slope).map(|()| slope)
        })
        .filter(|slope| *slope != value)
    }

    /// Takes any text.
    pub fn text(&self, ui: &mut Ui, value: &str, check: impl FnOnce(&str) -> Result<(), String>) -> Option<String> {
        self.entry(ui, value, String::new, |text| check(text.trim()).map(|()| text.trim().to_owned()))
            .filter(|text| text != value)
    }

    fn entry<T>(
        &self,
        ui: &mut Ui,
        shown: &str,
        exactly: impl FnOnce() -> String,
        read: impl FnOnce(&str) -> Result<T, String>,
    ) -> Option<T> {
        let t = Tokens::here(ui);
        ui.vertical(|ui| {
            ui.spacing_mut().item_spacing.y = 1.0;
            ui.set_width(self.width);
            if !self.caption.is_empty() {
                ui.label(RichText::new(self.caption).font(tokens::small()).color(t.soft));
            }
            self.typed(ui, t, shown, exactly, read)
        })
        .inner
    }

    fn typed<T>(
        &self,
        ui: &mut Ui,
        t: &Tokens,
        shown: &str,
        exactly: impl FnOnce() -> String,
        read: impl FnOnce(&str) -> Result<T, String>,
    ) -> Option<T> {
        let draft: Option<Draft> = ui.data(|data| data.get_temp(self.id));
        let mut draft = draft.filter(|draft| draft.shown == shown).unwrap_or_else(|| Draft {
            shown: shown.to_owned(),
            text: shown.to_owned(),
            ..Draft::default()
        });
        let before = draft.text.clone();
        let output = TextEdit::singleline(&mut draft.text)
            .id(self.id)
            .desired_width(self.width)
            .min_size(vec2(self.width, 24.0))
            .align(Align2::LEFT_CENTER)
            .margin(vec2(5.0, 2.0))
            .show(ui);
        let mut response = output.response.response.clone().accessible_name(self.name.clone());
        if response.hovered() && !response.has_focus() {
            let exact = exactly();
            let words = [exact.as_str(), self.hint].into_iter().filter(|words| !words.is_empty());
            let words = words.collect::<Vec<_>>().join("\n");
            if !words.is_empty() {
                response = response.on_hover_text(words);
            }
        }
        if response.gained_focus() {
            let mut state = output.state;
            state.cursor.set_char_range(Some(CCursorRange::select_all_str(&draft.text)));
            state.store(ui.ctx(), self.id);
        }
        if draft.text != before {
            draft.wrong = None;
        }
        let mut taken = None;
        let asked = ui.data(|data| data.get_temp(to_settle()) == Some(self.id));
        if asked {
            ui.data_mut(|data| data.remove::<Id>(to_settle()));
        }
        if response.lost_focus() || asked {
            if !asked && ui.input(|i| i.key_pressed(Key::Escape)) {
                draft = Draft { shown: shown.to_owned(), text: shown.to_owned(), ..Draft::default() };
            } else if draft.text != shown {
                match read(&draft.text) {
                    Ok(value) => {
                        taken = Some(value);
                        draft = Draft { shown: shown.to_owned(), text: shown.to_owned(), ..Draft::default() };
                    }
                    Err(wrong) => (draft.wrong, draft.left) = (Some(wrong), false),
                }
            }
        }
        if let Some(wrong) = &draft.wrong {
            ui.painter().rect_stroke(response.rect, 4.0, Stroke::new(2.0, t.wrong), StrokeKind::Middle);
            let at_it = response.has_focus() || response.hovered();
            // Enter takes the keys from the field: why it was refused stays until the hand goes on.
            let elsewhere = ui.memory(|memory| memory.focused().is_some_and(|id| id != self.id));
            if !response.lost_focus() {
                draft.left |= elsewhere || !at_it && ui.input(|i| i.pointer.any_pressed());
            }
            if at_it || !(draft.left || elsewhere) {
                say_what_is_wrong(ui, t, self.id, response.rect, wrong);
            }
        }
        if draft.text == shown && draft.wrong.is_none() {
            ui.data_mut(|data| data.remove::<Draft>(self.id));
        } else {
            let typing = response.has_focus() || response.lost_focus();
            ui.data_mut(|data| {
                data.insert_temp(self.id, draft);
                if typing {
                    data.insert_temp(typed_in(), self.id);
                }
            });
        }
        taken
    }
}

/// A note above the field, or below where there is no room above. It takes no clicks, and does not cover the fields that
/// follow.
fn say_what_is_wrong(ui: &Ui, t: &Tokens, id: Id, field: Rect, wrong: &str) {
    let words = format!("Not taken: {wrong}");
    let font = FontSelection::Default.resolve(ui.style());
    let high = ui.painter().layout(words.clone(), font, t.wrong, NOTE_PX).size().y + 16.0;
    // Its caption goes with the field.
    let above = field.top() - high - TIGHT > ui.ctx().content_rect().top();
    let (pivot, at) = if above {
        (Align2::LEFT_BOTTOM, pos2(field.left(), field.top() - TIGHT))
    } else {
        (Align2::LEFT_TOP, pos2(field.left(), field.bottom() + TIGHT))
    };
    Area::new(id.with("wrong"))
        .order(Order::Foreground)
        .interactable(false)
        .pivot(pivot)
        .fixed_pos(at)
        .constrain(true)
        .show(ui.ctx(), |ui| {
            Frame::popup(ui.style()).show(ui, |ui| {
                ui.set_max_width(NOTE_PX);
                ui.add(Label::new(RichText::new(words).color(t.wrong)).selectable(false));
            });
        });
}

/// A number with as few digits as it needs, at most four after the point.
pub fn plain(value: f64) -> String {
    let text = format!("{value:.4}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn plain_numbers_have_no_needless_digits() {
        assert_eq!([0.55, 2.0, -0.000_01, 1.0 / 3.0].map(plain), ["0.55", "2", "0", "0.3333"]);
    }
}

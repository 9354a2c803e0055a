//! The points of a cut as a table of typed values. It stays open while the line is shaped, in step with what is chosen.

use cornerwise_geometry::{Cut, Length, Line, Point};
use cornerwise_project::{Edit, Handle};
use egui::{Align, Button, Id, Key, Rect, RichText, ScrollArea, Ui, pos2, style::ScrollAnimation, vec2};

use super::head::allowed;
use crate::length_field::{Field, left_by_escape, unsettled};
use crate::scene::{Ask, Scene};
use crate::tokens::{self, Tokens};
use crate::view::{Chosen, View};

/// Height of a row, points.
const ROW: f32 = 26.0;

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
enum Column {
    FromTop,
    Offset,
    Slope,
    Before,
    After,
    /// Leaving a sharp point.
    SlopeAfter,
}

impl Column {
    const ALL: [Column; 6] =
        [Column::FromTop, Column::Offset, Column::Slope, Column::Before, Column::After, Column::SlopeAfter];

    fn name(self) -> &'static str {
        match self {
            Column::FromTop => "From top",
            Column::Offset => "Offset",
            Column::Slope => "Slope",
            Column::Before => "Before",
            Column::After => "After",
            Column::SlopeAfter => "Slope after",
        }
    }

    /// Whether pins have it too.
    fn of_pins(self) -> bool {
        matches!(self, Column::FromTop | Column::Offset | Column::Slope)
    }

    fn hint(self) -> &'static str {
        match self {
            Column::FromTop | Column::Offset => "",
            Column::Slope => "Offset per length, or degrees: 0.2, 1:5, 11°",
            Column::Before => "How far its handle reaches toward the top",
            Column::After => "How far its handle reaches toward the foot",
            Column::SlopeAfter => "With which the line leaves a sharp point",
        }
    }

    fn width(self) -> f32 {
        match self {
            Column::FromTop | Column::Offset => 84.0,
            Column::Before | Column::After => 76.0,
            Column::Slope | Column::SlopeAfter => 62.0,
        }
    }
}

const NUMBER: f32 = 34.0;
const KIND: f32 = 58.0;
const GAP: f32 = 4.0;

/// Shows the table of one cut.
pub fn show(ui: &mut Ui, scene: &Scene<'_>, cut: Cut, view: &mut View, asks: &mut Vec<Ask>) {
    let t = Tokens::here(ui);
    let points = scene.design.points(cut);
    ui.set_min_width(NUMBER + KIND + 30.0 + Column::ALL.iter().map(|c| c.width() + GAP).sum::<f32>());
    let pins = scene.design.is_batten(cut);
    let words = match scene.design.line(cut) {
        Line::Points(_) => "",
        Line::Shape(_) => "This line is live. What is typed here turns it into points.",
        Line::Batten(_) => "The pins of the batten. One that holds its direction has a slope too.",
        Line::Linked(_) => "This line follows the first cut. What is typed here breaks the link.",
    };
    if !words.is_empty() {
        ui.label(RichText::new(words).font(tokens::small()).color(t.soft));
    }
    ui.spacing_mut().item_spacing = vec2(GAP, 2.0);
    ui.horizontal(|ui| {
        let head = |ui: &mut Ui, word: &str, width: f32| {
            let (rect, _) = ui.allocate_exact_size(vec2(width, 16.0), egui::Sense::hover());
            ui.painter().text(rect.left_center(), egui::Align2::LEFT_CENTER, word, tokens::small(), t.soft);
        };
        head(ui, if pins { "Pin" } else { "Point" }, NUMBER);
        Column::ALL.into_iter().for_each(|column| {
            let name = if pins && !column.of_pins() { "" } else { column.name() };
            head(ui, name, column.width());
        });
    });
    let chosen = view.chosen.one().filter(|chosen| chosen.cut == cut);
    let place = chosen.and_then(|chosen| points.iter().position(|point| point.id == chosen.point));
    // A choice made elsewhere brings its row into sight, once.
    let seen = Id::unique(("points table, seen", cut.index()));
    let fresh = ui.data(|data| data.get_temp::<Option<Chosen>>(seen)).flatten() != chosen;
    ui.data_mut(|data| data.insert_temp(seen, chosen));
    let mut go_to = place.filter(|_| fresh);
    // Whole rows only: half a row would look broken.
    let height = ((ui.available_height() - 34.0) / (ROW + 2.0)).floor().max(3.0) * (ROW + 2.0);
    ScrollArea::vertical().auto_shrink([false, true]).max_height(height).show_rows(
        ui,
        ROW,
        points.len(),
        |ui, rows| {
            let first = rows.start;
            let top = ui.cursor().top();
            for place in rows {
                let table = Table { scene, cut, points: &points, place, pins };
                if let Some(next) = ui.push_id(points[place].id.0, |ui| table.row(ui, view, asks)).inner {
                    go_to = Some(next);
                }
            }
            if let Some(place) = go_to {
                let y = top + (place as f32 - first as f32) * (ROW + 2.0);
                let row = Rect::from_min_size(pos2(ui.min_rect().left(), y), vec2(10.0, ROW));
                ui.scroll_to_rect_animation(row, None::<Align>, ScrollAnimation::none());
            }
        },
    );
    add_and_delete(ui, &Table { scene, cut, points: &points, place: place.unwrap_or(0), pins }, place, asks);
}

/// The buttons below the table.
fn add_and_delete(ui: &mut Ui, table: &Table<'_>, place: Option<usize>, asks: &mut Vec<Ask>) {
    let (cut, points, design, noun) = (table.cut, table.points, table.scene.design.id, table.noun());
    ui.horizontal(|ui| {
        let after = place.unwrap_or(0).min(points.len().saturating_sub(2));
        let halfway = points.get(after).zip(points.get(after + 1));
        let add = ui.add_enabled(halfway.is_some(), Button::new(format!("Add a {noun}")));
        let add = add
            .on_hover_text(format!("Halfway to the next {noun}, on the line"))
            .accessible_name(format!("table, {cut}, add a {noun}"));
        if let Some((here, next)) = halfway.filter(|_| add.clicked()) {
            let from_top_mm = f64::midpoint(here.from_top.mm(), next.from_top.mm());
            asks.push(Ask::Edit(Edit::AddPoint { design, cut, from_top_mm }));
        }
        let chosen = place.and_then(|place| points.get(place));
        let delete = ui.add_enabled(chosen.is_some() && points.len() > 2, Button::new("Delete the chosen one"));
        let delete = delete.accessible_name(format!("table, {cut}, delete the chosen {noun}"));
        if let Some(point) = chosen.filter(|_| delete.clicked()) {
            asks.push(Ask::Edit(Edit::DeletePoint { design, cut, point: point.id }));
        }
    });
}

/// One row of the table.
struct Table<'a> {
    scene: &'a Scene<'a>,
    cut: Cut,
    points: &'a [Point],
    place: usize,
    /// Whether they are pins of a batten.
    pins: bool,
}

impl Table<'_> {
    fn point(&self) -> &Point {
        &self.points[self.place]
    }

    fn noun(&self) -> &'static str {
        if self.pins { "pin" } else { "point" }
    }

    /// Whether the point is a pin that holds its direction.
    fn is_held(&self) -> bool {
        self.pins && self.scene.design.has_handles(self.cut, self.point().id)
    }

    /// What the button at the end of the row says, what it does, and the edit that does it.
    fn kind(&self) -> (&'static str, &'static str, Edit) {
        let (design, cut, point) = (self.scene.design.id, self.cut, self.point());
        if self.pins {
            let pin = point.id;
            if self.is_held() {
                return ("held", "Let it turn", Edit::HoldPin { design, cut, pin, slope: None });
            }
            let slope = Some(self.scene.leg.line(cut).at(point.from_top.mm()).slope);
            return ("free", "Hold the direction it has now", Edit::HoldPin { design, cut, pin, slope });
        }
        let sharp = point.kind.is_sharp();
        let edit = Edit::SetPointKind { design, cut, point: point.id, sharp: !sharp };
        if sharp { ("sharp", "Make it smooth", edit) } else { ("smooth", "Make it sharp", edit) }
    }

    fn id(&self, place: usize, column: Column) -> Option<Id> {
        let point = self.points.get(place)?;
        Some(Id::unique(("points table", self.scene.design.id.0, self.cut.index(), point.id.0, column)))
    }

    /// Shows the row; the answer is the row that keys lead to.
    fn row(&self, ui: &mut Ui, view: &mut View, asks: &mut Vec<Ask>) -> Option<usize> {
        let mut go_to = None;
        ui.horizontal(|ui| {
            ui.set_height(ROW);
            let (cut, number) = (self.cut, self.place + 1);
            let chosen = Chosen { cut, point: self.point().id };
            let label =
                Button::selectable(view.chosen.contains(chosen), number.to_string()).min_size(vec2(NUMBER, 22.0));
            if ui.add(label).accessible_name(format!("table, {cut}, {} {number}", self.noun())).clicked() {
                view.chosen.set(chosen);
            }
            for column in Column::ALL {
                if !self.has(column) {
                    ui.allocate_exact_size(vec2(column.width(), 22.0), egui::Sense::hover());
                    continue;
                }
                if let Some(edit) = self.cell(ui, column) {
                    asks.push(Ask::Edit(edit));
                }
                go_to = self.keys(ui, column, view).or(go_to);
            }
            let (word, does, edit) = self.kind();
            let kind = ui.add(Button::new(word).min_size(vec2(KIND, 22.0))).on_hover_text(does);
            if kind.accessible_name(format!("table, {cut}, {} {number}, {word}", self.noun())).clicked() {
                asks.push(Ask::Edit(edit));
            }
        });
        go_to
    }

    /// Whether the point has such a figure: handles beyond the ends do nothing, a smooth point has one slope, and a pin
    /// has one only while it holds its direction.
    fn has(&self, column: Column) -> bool {
        match column {
            Column::Slope if self.pins => self.is_held(),
            _ if self.pins => column.of_pins(),
            Column::Before => self.place > 0,
            Column::After => self.place + 1 < self.points.len(),
            Column::SlopeAfter => self.point().kind.is_sharp(),
            Column::FromTop | Column::Offset | Column::Slope => true,
        }
    }

    fn cell(&self, ui: &mut Ui, column: Column) -> Option<Edit> {
        let (scene, point) = (self.scene, self.point());
        let field = Field {
            id: self.id(self.place, column)?,
            caption: "",
            name: format!("table, {}, {} {}, {}", self.cut, self.noun(), self.place + 1, column.name().to_lowercase()),
            width: column.width(),
            hint: column.hint(),
        };
        let ((slope_before, before_mm), (slope_after, after_mm)) = (point.kind.before(), point.kind.after());
        let (design, cut, id) = (scene.design.id, self.cut, point.id);
        let place = |from_top: &Length, offset: &Length| Edit::PlacePoint {
            design,
            cut,
            point: id,
            from_top: from_top.clone(),
            offset: offset.clone(),
        };
        let handle = |handle, slope, reach_mm| Edit::PlaceHandle { design, cut, point: id, handle, slope, reach_mm };
        let mut length = |value: &Length, edit: &dyn Fn(&Length) -> Edit| {
            let taken = field.length(ui, value, scene.reading(), |length| allowed(scene, &edit(length)));
            taken.map(|length| edit(&length))
        };
        match column {
            Column::FromTop => length(&point.from_top, &|to| place(to, &point.offset)),
            Column::Offset => length(&point.offset, &|to| place(&point.from_top, to)),
            Column::Before => length(&before_mm.into(), &|to| handle(Handle::Before, slope_before, to.mm())),
            Column::After => length(&after_mm.into(), &|to| handle(Handle::After, slope_after, to.mm())),
            Column::Slope | Column::SlopeAfter => {
                let (of, slope, reach) = match column {
                    Column::Slope => (Handle::Before, slope_before, before_mm),
                    _ => (Handle::After, slope_after, after_mm),
                };
                let edit = |slope| match self.pins {
                    true => Edit::HoldPin { design, cut, pin: id, slope: Some(slope) },
                    false => handle(of, slope, reach),
                };
                field.slope(ui, slope, |slope| allowed(scene, &edit(slope))).map(edit)
            }
        }
    }

    /// Enter takes a value and goes on below; the arrows go up and down. The point that is typed at is the chosen one.
    fn keys(&self, ui: &Ui, column: Column, view: &mut View) -> Option<usize> {
        let id = self.id(self.place, column)?;
        let response = ui.ctx().read_response(id)?;
        let own = Chosen { cut: self.cut, point: self.point().id };
        if response.has_focus() && view.chosen.one() != Some(own) {
            view.chosen.set(own);
        }
        let pressed = |key| ui.input(|i| i.key_pressed(key));
        // A field keeps the Enter for itself: what leaves the keyboard nowhere, without a click or Esc, was one.
        let by_enter = ui.memory(|memory| memory.focused().is_none())
            && !left_by_escape(ui.ctx())
            && ui.input(|i| !i.pointer.any_down() && !i.pointer.any_released());
        let below = (response.has_focus() && pressed(Key::ArrowDown))
            // What is wrong is put right first.
            || (response.lost_focus() && by_enter && unsettled(ui.ctx()) != Some(id));
        let above = response.has_focus() && pressed(Key::ArrowUp);
        let next = if below { Some(self.place + 1) } else { self.place.checked_sub(1).filter(|_| above) }?;
        let next_id = self.id(next, column)?;
        ui.memory_mut(|memory| memory.request_focus(next_id));
        Some(next)
    }
}

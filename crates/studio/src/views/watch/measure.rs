//! Two tests in the shop that measure the saw: each told in words and a small picture, worked out, and put into the saw's fields
//! by one click.

use cornerwise_geometry::{Length, Saw, Units, kerf_of_test_cut_mm, turn_over_error_deg};
use egui::{
    Align2, Button, CollapsingHeader, Id, Painter, Pos2, Rect, RichText, Role, Sense, Shape, Stroke, Ui, WidgetInfo,
    pos2, vec2,
};

use crate::length_field::Field;
use crate::tokens::{self, Tokens};

/// What was measured so far.
#[derive(Clone, Debug, PartialEq)]
pub struct Measured {
    /// The test piece before it was ripped in two.
    before: Length,
    /// Both parts.
    parts: [Length; 2],
    /// The height of the block that was turned over.
    height: Length,
    /// The gap it showed.
    gap: Length,
    /// Whether the gap was at the top; at the bottom otherwise.
    at_top: bool,
}

impl Default for Measured {
    fn default() -> Measured {
        let mm = Length::from_mm;
        // As a blade with a kerf of a millimetre and a table half a degree out would show; to be overwritten.
        Measured { before: mm(60.0), parts: [mm(29.5), mm(29.5)], height: mm(60.0), gap: mm(0.0), at_top: true }
    }
}

impl Measured {
    /// The table's error, degrees: above 0 where the cut runs toward the maker on its way down.
    ///
    /// The half toward the maker is turned upside down against the other. A cut that runs toward the maker leaves the far half
    /// longer at its foot and the near one longer at its head, which is then its foot: they touch below and gape above.
    pub fn error_deg(&self) -> f64 {
        let error = turn_over_error_deg(self.gap.mm(), self.height.mm());
        if self.at_top { error } else { -error }
    }

    /// The kerf, mm.
    pub fn kerf_mm(&self) -> f64 {
        kerf_of_test_cut_mm(self.before.mm(), [self.parts[0].mm(), self.parts[1].mm()])
    }
}

/// Height of a picture, points.
const PICTURE_PX: f32 = 62.0;

/// Shows both tests, folded until they are wanted; the saw with what was measured put into it.
pub fn show(ui: &mut Ui, saw: &Saw, units: Units, measured: &mut Measured) -> Option<Saw> {
    let mut taken = None;
    let heading = RichText::new("Measure it").font(tokens::small());
    CollapsingHeader::new(heading).id_salt("measure the saw").show_unindented(ui, |ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        taken = kerf(ui, saw, units, measured);
        ui.add_space(tokens::GAP);
        taken = table(ui, saw, units, measured).or(taken.take());
    });
    taken
}

fn words(ui: &mut Ui, text: &str, soft: bool) {
    let t = Tokens::here(ui);
    ui.label(RichText::new(text).font(tokens::small()).color(if soft { t.soft } else { t.ink }));
}

fn length(ui: &mut Ui, caption: &'static str, width: f32, units: Units, value: &mut Length) {
    let field = Field {
        id: Id::unique(("measured", caption)),
        caption,
        name: format!("measured, {}", caption.to_lowercase()),
        width,
        hint: "",
    };
    let check = |length: &Length| {
        if (0.0..=2000.0).contains(&length.mm()) { Ok(()) } else { Err("it must be 0 to 2000 mm".to_owned()) }
    };
    if let Some(typed) = field.length(ui, value, units, check) {
        *value = typed;
    }
}

/// The width of one of `of` fields in a row, points; to be asked for before the row begins.
pub(super) fn share(ui: &Ui, of: f32) -> f32 {
    (ui.available_width().min(216.0) - 6.0 * (of - 1.0)) / of
}

fn kerf(ui: &mut Ui, saw: &Saw, units: Units, measured: &mut Measured) -> Option<Saw> {
    words(ui, "Kerf by a test cut", false);
    words(
        ui,
        "Measure a planed strip across, rip it in two, and measure both parts: what they lack is the kerf.",
        true,
    );
    picture(ui, "picture of the test cut", |painter, t, area| {
        let strip = Rect::from_center_size(area.center() - vec2(0.0, 4.0), vec2(area.width() - 30.0, 20.0));
        let kerf = 7.0;
        let left = strip.with_max_x(strip.center().x - kerf / 2.0);
        let right = strip.with_min_x(strip.center().x + kerf / 2.0);
        for part in [left, right] {
            painter.rect(part, 0.0, t.ground, Stroke::new(1.3, t.ink), egui::StrokeKind::Inside);
        }
        let below = strip.bottom() + 9.0;
        let text = |at: Pos2, words: &str| {
            painter.text(at, Align2::CENTER_CENTER, words, tokens::small(), t.ink);
        };
        text(pos2(left.center().x, left.center().y), "part 1");
        text(pos2(right.center().x, right.center().y), "part 2");
        text(pos2(strip.center().x, below), "kerf");
        text(pos2(strip.center().x, strip.top() - 8.0), "before");
        for (from, to) in [(strip.left(), strip.center().x - 24.0), (strip.right(), strip.center().x + 24.0)] {
            painter.hline(egui::Rangef::new(from.min(to), from.max(to)), strip.top() - 8.0, Stroke::new(1.0, t.soft));
        }
    });
    let width = share(ui, 2.0);
    // Three in a row are too narrow for their figures.
    length(ui, "Before", width, units, &mut measured.before);
    ui.horizontal_top(|ui| {
        let [one, two] = &mut measured.parts;
        length(ui, "Part 1", width, units, one);
        length(ui, "Part 2", width, units, two);
    });
    let kerf = measured.kerf_mm();
    let next = Saw { blade: cornerwise_geometry::Blade { kerf: kerf.into(), ..saw.blade.clone() }, ..saw.clone() };
    let untouched = Measured::default();
    let missing = measured.before == untouched.before && measured.parts == untouched.parts;
    let missing = missing.then_some("first put in what you measured on the strip and its parts");
    let kerf = units.fine().show_with_unit(kerf);
    take(ui, saw, missing, &[(format!("Use {kerf} as the kerf"), next)])
}

fn table(ui: &mut Ui, saw: &Saw, units: Units, measured: &mut Measured) -> Option<Saw> {
    words(ui, "Table by the turn-over test", false);
    words(
        ui,
        "Saw a planed block through. Turn the half on your side upside down, its sawn face still to the other, and push them \
         together on the table. Both faces lean, so the gap is twice the error: atan(gap / twice the height).",
        true,
    );
    let at_top = measured.at_top;
    picture(ui, "picture of the turn-over test", |painter, t, area| {
        let middle = pos2(area.center().x, area.center().y);
        let (half, high, lean) = (62.0, 17.0, 5.0);
        let (up, down) = if at_top { (lean, 0.0) } else { (0.0, lean) };
        for way in [-1.0, 1.0] {
            let corners = vec![
                middle + vec2(way * half, -high),
                middle + vec2(way * up, -high),
                middle + vec2(way * down, high),
                middle + vec2(way * half, high),
            ];
            painter.add(Shape::convex_polygon(corners, t.ground, Stroke::new(1.3, t.ink)));
        }
        painter.hline(area.x_range(), middle.y + high + 1.5, Stroke::new(1.0, t.soft));
        let text = |at: Pos2, words: &str| {
            painter.text(at, Align2::CENTER_CENTER, words, tokens::small(), t.ink);
        };
        text(middle + vec2(0.0, if at_top { -high - 7.0 } else { high + 8.0 }), "gap");
        // One word above the other: side by side they are wider than a half.
        for (way, upper, lower) in [(-1.0, "far", "half"), (1.0, "turned", "over")] {
            text(middle + vec2(way * (half / 2.0 + 2.0), -7.0), upper);
            text(middle + vec2(way * (half / 2.0 + 2.0), 7.0), lower);
        }
    });
    let width = share(ui, 2.0);
    ui.horizontal_top(|ui| {
        length(ui, "Block height", width, units, &mut measured.height);
        length(ui, "Gap", width, units, &mut measured.gap);
    });
    ui.horizontal_wrapped(|ui| {
        for (word, at_top) in [("gap at the top", true), ("at the bottom", false)] {
            let text = RichText::new(word).font(tokens::small());
            if ui.radio(measured.at_top == at_top, text).clicked() {
                measured.at_top = at_top;
            }
        }
    });
    let error = measured.error_deg();
    let way = if error < 0.0 { "away from you" } else { "toward you" };
    words(ui, &format!("{:.2}° out: the cut runs {way} on its way down.", error.abs()), false);
    let first = Saw { tilt_first_deg: error, ..saw.clone() };
    let second = Saw { tilt_second_deg: error, ..saw.clone() };
    let both = Saw { tilt_second_deg: error, ..first.clone() };
    let untouched = Measured::default();
    let missing = measured.gap == untouched.gap && measured.height == untouched.height;
    let missing = missing.then_some("first put in how high the block is and what gap you measured");
    take(
        ui,
        saw,
        missing,
        &[
            (format!("Use {error:.2}° for both cuts"), both),
            ("First cut only".to_owned(), first),
            ("Second cut only".to_owned(), second),
        ],
    )
}

/// Buttons that put what was measured into the saw; where nothing was, and where it would give no saw, they say why not.
fn take(ui: &mut Ui, now: &Saw, missing: Option<&str>, choices: &[(String, Saw)]) -> Option<Saw> {
    let mut taken = None;
    ui.horizontal_wrapped(|ui| {
        for (words, next) in choices {
            let wrong = missing.map(str::to_owned).or_else(|| next.check().err().map(|error| error.to_string()));
            let button = ui.add_enabled(
                wrong.is_none() && next != now,
                Button::new(RichText::new(words.clone()).font(tokens::small())),
            );
            let button = button.on_disabled_hover_text(match wrong {
                Some(why) => why,
                None => "this is what the saw has already".to_owned(),
            });
            if button.clicked() {
                taken = Some(next.clone());
            }
        }
    });
    taken
}

fn picture(ui: &mut Ui, name: &'static str, draw: impl FnOnce(&Painter, &Tokens, Rect)) {
    let t = Tokens::here(ui);
    let (area, response) =
        ui.allocate_exact_size(vec2(ui.available_width().clamp(120.0, 216.0), PICTURE_PX), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, name));
    ui.painter().rect_filled(area, 2.0, t.sheet);
    draw(&ui.painter_at(area), t, area);
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A block 60 mm high sawn with the blade half a degree out, its cut running toward the maker on the way down: worked out
    /// from both halves' faces, point by point.
    #[test]
    fn the_gap_of_a_block_that_was_turned_over_gives_back_the_tilt_with_its_sign() {
        for degrees in [0.5_f64, -0.3] {
            let lean = degrees.to_radians().tan();
            let height = 60.0;
            // Toward the maker is up in x; depth is down. Faces of both halves at the top and the bottom.
            let far = [0.0, height * lean];
            let near = [0.0, height * lean];
            let turned = [near[1], near[0]];
            let apart = [turned[0] - far[0], turned[1] - far[1]];
            let touch = apart[0].min(apart[1]);
            let [top, bottom] = apart.map(|gap| gap - touch);
            let (gap, at_top) = if top > bottom { (top, true) } else { (bottom, false) };
            let measured = Measured { height: height.into(), gap: gap.into(), at_top, ..Measured::default() };
            assert!((measured.error_deg() - degrees).abs() < 1e-9, "{measured:?}");
        }
        let cut = Measured { before: 80.0.into(), parts: [39.6.into(), 39.4.into()], ..Measured::default() };
        assert!((cut.kerf_mm() - 1.0).abs() < 1e-9);
    }
}

//! The limits that seams and faces are judged by, each with what it means; the maker's own where they are set.

use cornerwise_geometry::{Length, MM_PER_INCH, Units};
use cornerwise_project::Edit;
use cornerwise_wood::WoodLimits;
use egui::{Button, Id, RichText, Ui};

use super::head::{allowed, row};
use crate::length_field::{Field, plain};
use crate::scene::{Ask, Scene};
use crate::tokens::{self, Tokens};

/// What a limit is measured in.
#[derive(Clone, Copy)]
enum Unit {
    /// The project's unit of length.
    Length,
    Degrees,
    Plain,
}

/// A length that may be far smaller than the finest fraction that is shown: then it stands as a decimal of an inch.
fn small_length(units: Units, mm: f64) -> Length {
    let length = Length::from_mm(mm);
    let Units::Inches(finest) = units else { return length };
    let parts = mm / MM_PER_INCH * f64::from(finest.denominator());
    if (parts - parts.round()).abs() <= 0.01 * parts {
        return length;
    }
    Length::parse(&format!("{}\"", plain(mm / MM_PER_INCH)), units.unit()).unwrap_or(length)
}

/// Shows the panel's contents.
pub fn show(ui: &mut Ui, scene: &Scene<'_>, asks: &mut Vec<Ask>) {
    type Put = fn(&mut WoodLimits, f64);
    /// What a limit is called, what it means, its unit, what it is now, and how it is set.
    type Limit = (&'static str, &'static str, Unit, f64, Put);
    let t = Tokens::here(ui);
    ui.set_width(330.0);
    let small = |ui: &mut Ui, words: &str| ui.label(RichText::new(words).font(tokens::small()).color(t.soft));
    let now = scene.project.wood_limits;
    let with = |put: Put, value: f64| {
        let mut limits = now;
        put(&mut limits, value);
        Edit::SetWoodLimits { limits: Box::new(limits) }
    };
    let groups: [(&str, &[Limit]); 3] = [
        (
            "Lines meet, and rings turn",
            &[
                (
                    "Lines within",
                    "Lines of layers and blocks meet within this, along the leg",
                    Unit::Length,
                    now.meet_mm,
                    |l, v| {
                        l.meet_mm = v;
                    },
                ),
                ("Rings within", "Ring lines meet within this share of a ring", Unit::Plain, now.ring_share, |l, v| {
                    l.ring_share = v;
                }),
                (
                    "Turn to",
                    "Ring lines that turn by more than this at the seam do not carry on",
                    Unit::Degrees,
                    now.kink_deg,
                    |l, v| {
                        l.kink_deg = v;
                    },
                ),
            ],
        ),
        (
            "How rings look at a seam",
            &[
                (
                    "Jump, good to",
                    "Ring lines that jump by no more than this share of a ring are good",
                    Unit::Plain,
                    now.good_jump,
                    |l, v| {
                        l.good_jump = v;
                    },
                ),
                (
                    "Jump, bad from",
                    "Beyond this share of a ring they are bad; half a ring is the most there is",
                    Unit::Plain,
                    now.bad_jump,
                    |l, v| {
                        l.bad_jump = v;
                    },
                ),
                (
                    "Colour, good to",
                    "Colours that differ by no more than this are good (CIEDE2000)",
                    Unit::Plain,
                    now.good_colour,
                    |l, v| {
                        l.good_colour = v;
                    },
                ),
                ("Colour, bad from", "Beyond this they are bad (CIEDE2000)", Unit::Plain, now.bad_colour, |l, v| {
                    l.bad_colour = v;
                }),
            ],
        ),
        (
            "What a face is called",
            &[
                (
                    "Flat to",
                    "Rings that stand at less than this to a face make it flat sawn",
                    Unit::Degrees,
                    now.flat_deg,
                    |l, v| l.flat_deg = v,
                ),
                (
                    "Quarter from",
                    "From this on it is quarter sawn; in between, rift",
                    Unit::Degrees,
                    now.quarter_deg,
                    |l, v| {
                        l.quarter_deg = v;
                    },
                ),
            ],
        ),
    ];
    for (title, fields) in groups {
        ui.label(RichText::new(title).font(tokens::bold()).color(t.ink));
        for pair in fields.chunks(2) {
            row(ui, |ui| {
                for (caption, hint, unit, value, put) in pair {
                    let field = Field {
                        id: Id::unique(("wood limit", *caption)),
                        caption,
                        name: format!("limits, {}", caption.to_lowercase()),
                        width: 158.0,
                        hint,
                    };
                    let check = |value| allowed(scene, &with(*put, value));
                    let typed = match unit {
                        Unit::Length => {
                            let shown = small_length(scene.units(), *value);
                            let typed = field.length(ui, &shown, scene.units(), |mm| check(mm.mm()));
                            typed.map(|length| length.mm())
                        }
                        Unit::Degrees => field.number(ui, *value, "°", check),
                        Unit::Plain => field.number(ui, *value, "", check),
                    };
                    if let Some(value) = typed {
                        asks.push(Ask::Edit(with(*put, value)));
                    }
                }
            });
        }
    }
    small(ui, "Those of lines and looks are our own choice, judged by eye; 30° and 60° are the usual US trade names.");
    let usual = WoodLimits::default();
    if ui.add_enabled(now != usual, Button::new("Usual limits")).clicked() {
        asks.push(Ask::Edit(Edit::SetWoodLimits { limits: Box::new(usual) }));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use cornerwise_geometry::Finest;

    #[test]
    fn what_is_smaller_than_a_fraction_is_not_shown_as_nothing() {
        let inches = Units::Inches(Finest::Sixteenth);
        let shown = |units: Units, mm| units.show_length(&small_length(units, mm));
        assert_eq!(shown(inches, 0.2), "0.0079\"");
        assert_eq!(shown(inches, 1.5875), "1/16\"");
        assert_eq!(shown(Units::Millimetres, 0.2), "0.2 mm");
    }
}

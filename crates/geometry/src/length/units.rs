//! The units a project is shown in.

use serde::{Deserialize, Serialize};

use super::{BlankSizes, Length, MM_PER_INCH, Unit};

/// The finest part of an inch that is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Finest {
    /// 1/16 in.
    #[default]
    Sixteenth,
    /// 1/32 in.
    ThirtySecond,
    /// 1/64 in.
    SixtyFourth,
    /// 0.001 in, as a decimal: only where its maker asks for it.
    Thousandth,
}

/// The units a project is shown in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Units {
    /// Millimetres, to a hundredth.
    #[default]
    Millimetres,
    /// Inches, as fractions unless decimals are asked for.
    Inches(Finest),
}

impl Finest {
    /// Every choice, coarsest first.
    pub const ALL: [Finest; 4] = [Finest::Sixteenth, Finest::ThirtySecond, Finest::SixtyFourth, Finest::Thousandth];

    /// Whether parts of an inch are shown as decimals, not as fractions.
    pub fn is_decimal(self) -> bool {
        self == Finest::Thousandth
    }

    /// How many of it make an inch: the number below the stroke.
    pub fn denominator(self) -> u32 {
        match self {
            Finest::Sixteenth => 16,
            Finest::ThirtySecond => 32,
            Finest::SixtyFourth => 64,
            Finest::Thousandth => 1000,
        }
    }
}

impl Units {
    /// The unit a bare number is taken in.
    pub fn unit(self) -> Unit {
        match self {
            Units::Millimetres => Unit::Mm,
            Units::Inches(_) => Unit::Inch,
        }
    }

    /// `mm` as text without a unit: `69.85`, the nearest fraction `2 3/4`, or `2.75` where decimals are asked for.
    pub fn show(self, mm: f64) -> String {
        match self {
            Units::Millimetres => show_decimal(mm, 2),
            Units::Inches(Finest::Thousandth) => show_decimal(mm / MM_PER_INCH, 3),
            Units::Inches(finest) => show_inches(mm / MM_PER_INCH, finest.denominator()),
        }
    }

    /// `mm` as text with its unit: `69.85 mm`, or `2 3/4"`.
    pub fn show_with_unit(self, mm: f64) -> String {
        match self {
            Units::Millimetres => format!("{} mm", self.show(mm)),
            Units::Inches(_) => format!("{}\"", self.show(mm)),
        }
    }

    /// These units for what is small beside a blank, such as steps, gaps and kerfs: inches of any fraction as decimals, to a
    /// thousandth. A fraction would tell them as none.
    #[must_use]
    pub fn fine(self) -> Units {
        match self {
            Units::Millimetres => self,
            Units::Inches(_) => Units::Inches(Finest::Thousandth),
        }
    }

    /// `mm` with its unit where that is true within 0.01 mm, and as [`Units::fine`] shows it where a fraction would not be.
    pub fn show_truly(self, mm: f64) -> String {
        let Units::Inches(finest) = self else { return self.show_with_unit(mm) };
        let step = MM_PER_INCH / f64::from(finest.denominator());
        let exact = (mm - (mm / step).round() * step).abs() <= 0.01;
        if exact { self.show_with_unit(mm) } else { self.fine().show_with_unit(mm) }
    }

    /// The most there may be of something, `mm`, with its unit: never rounded up, to 0.01 mm or 0.001 in.
    pub fn show_at_most(self, mm: f64) -> String {
        let step = match self {
            Units::Millimetres => 0.01,
            Units::Inches(_) => MM_PER_INCH / 1000.0,
        };
        // What is a whole step but for rounding stays one.
        self.fine().show_with_unit((mm / step + 1e-6).floor() * step)
    }

    /// `length` where the blank is not at hand: the text as it was typed, or its value in these units.
    pub fn show_length(self, length: &Length) -> String {
        length.text().map_or_else(|| self.show_with_unit(length.mm()), str::to_owned)
    }

    /// What stands in a field for `length` on a blank of these sizes: the text as it was typed while it comes to the
    /// same, or its value in these units.
    pub fn show_length_on(self, length: &Length, sizes: &BlankSizes) -> String {
        length.text_on(sizes).map_or_else(|| self.show_with_unit(length.mm()), str::to_owned)
    }

    /// `mm` with what a fraction leaves over: `2 3/4" + 0.004"`, to a ten-thousandth of an inch.
    pub fn show_exactly(self, mm: f64) -> String {
        let shown = self.show_with_unit(mm);
        let Units::Inches(finest) = self else { return shown };
        let parts = f64::from(finest.denominator());
        let inches = mm / MM_PER_INCH;
        let over = inches - (inches * parts).round() / parts;
        let left = format!("{:.4}", over.abs());
        match left.trim_end_matches('0').trim_end_matches('.') {
            "0" => shown,
            left if over < 0.0 => format!("{shown} \u{2212} {left}\""),
            left => format!("{shown} + {left}\""),
        }
    }
}

/// `value` to so many digits after the point, none of them needless.
fn show_decimal(value: f64, digits: usize) -> String {
    let text = format!("{value:.digits$}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// `inches` to the nearest `1/denominator`, as a mixed number in lowest terms.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "lengths are checked to be under 100 km")]
fn show_inches(inches: f64, denominator: u32) -> String {
    let parts = (inches.abs() * f64::from(denominator)).round() as u64;
    let (whole, mut top, mut below) = (parts / u64::from(denominator), parts % u64::from(denominator), denominator);
    while top > 0 && top % 2 == 0 {
        top /= 2;
        below /= 2;
    }
    let sign = if inches < 0.0 && parts > 0 { "-" } else { "" };
    match (whole, top) {
        (whole, 0) => format!("{sign}{whole}"),
        (0, top) => format!("{sign}{top}/{below}"),
        (whole, top) => format!("{sign}{whole} {top}/{below}"),
    }
}

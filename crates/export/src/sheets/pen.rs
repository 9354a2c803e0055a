//! What lines are called and how they are drawn.

/// A line by what it means. Writers with layers or classes use the name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Pen {
    /// The saw line of the first cut: solid.
    FirstCut,
    /// The saw line of the second cut: dashed.
    SecondCut,
    /// The finished top or foot.
    FinishedEnd,
    /// Where the paper folds over an arris.
    Fold,
    /// Where the paper is cut out.
    CutOut,
    /// Where the paper is cut out exactly, because this edge goes on an arris.
    GlueEdge,
    /// A tick of a scale along the blank.
    Tick,
    /// The line straight through all joined pages.
    Straightedge,
    /// The line where one page takes over from the next.
    Join,
    /// A cross that falls on the cross of the same number when pages are joined.
    JoiningMark,
    /// A check rule and its ticks.
    CheckRule,
    /// The triangle across the four pieces.
    Triangle,
    /// The outline of a figure.
    Figure,
    /// From a label beside a narrow strip to what it names.
    Leader,
    /// A fine line in a figure, or between parts of a page.
    Fine,
}

/// How a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PenStyle {
    /// Width, mm.
    pub width_mm: f64,
    /// On and off lengths, mm; empty for a solid line.
    pub dash_mm: &'static [f64],
    /// Colour.
    pub ink: Ink,
}

impl Pen {
    /// Every pen.
    pub const ALL: [Pen; 15] = [
        Pen::FirstCut,
        Pen::SecondCut,
        Pen::FinishedEnd,
        Pen::Fold,
        Pen::CutOut,
        Pen::GlueEdge,
        Pen::Tick,
        Pen::Straightedge,
        Pen::Join,
        Pen::JoiningMark,
        Pen::CheckRule,
        Pen::Triangle,
        Pen::Figure,
        Pen::Leader,
        Pen::Fine,
    ];

    /// How it is drawn. Solid and dashed tell the cuts apart on a printer without colour.
    pub fn style(self) -> PenStyle {
        let (width_mm, dash_mm, ink): (f64, &'static [f64], Ink) = match self {
            Pen::FirstCut => (0.25, &[], Ink::First),
            Pen::SecondCut => (0.25, &[4.0, 1.2], Ink::Second),
            Pen::FinishedEnd => (0.5, &[], Ink::Black),
            Pen::Fold => (0.25, &[6.0, 1.5, 0.8, 1.5], Ink::Black),
            Pen::CutOut => (0.2, &[], Ink::Black),
            Pen::GlueEdge => (0.4, &[], Ink::Black),
            Pen::Tick => (0.18, &[], Ink::Black),
            Pen::Straightedge => (0.18, &[], Ink::Grey),
            Pen::Join => (0.18, &[0.8, 1.2], Ink::Grey),
            Pen::JoiningMark => (0.18, &[], Ink::Black),
            Pen::CheckRule => (0.2, &[], Ink::Black),
            Pen::Triangle => (0.6, &[], Ink::Black),
            Pen::Figure => (0.3, &[], Ink::Black),
            Pen::Leader => (0.15, &[], Ink::Black),
            Pen::Fine => (0.15, &[], Ink::Grey),
        };
        PenStyle { width_mm, dash_mm, ink }
    }

    /// Its width, mm.
    pub fn width_mm(self) -> f64 {
        self.style().width_mm
    }
}

/// A colour by what it means.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Ink {
    /// Lines and text.
    Black,
    /// Whatever stands back.
    Grey,
    /// The ground of a figure.
    Pale,
    /// Bare paper.
    White,
    /// The first cut.
    First,
    /// The second cut.
    Second,
}

impl Ink {
    /// Red, green and blue. All but the pale ones stay dark on a printer without colour.
    pub fn rgb(self) -> [u8; 3] {
        match self {
            Ink::Black => [0x16, 0x16, 0x18],
            Ink::Grey => [0x6a, 0x6c, 0x70],
            Ink::Pale => [0xec, 0xec, 0xea],
            Ink::White => [0xff, 0xff, 0xff],
            Ink::First => [0x12, 0x3f, 0x8c],
            Ink::Second => [0xa3, 0x2c, 0x17],
        }
    }
}

//! What lines are called and how they are drawn.

/// A line by what it means. Writers with layers or classes use the name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Pen {
    /// The saw line of the first cut: solid.
    FirstCut,
    /// The saw line of the second cut: dashed.
    SecondCut,
    /// The edge of what the saw takes up.
    KerfEdge,
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
    /// An end of a notch, squared across the inside piece.
    Notch,
    /// Where a chamfer ends on a face.
    Chamfer,
    /// The curve of a caul or a master, to be sawn or traced on.
    Curve,
    /// From a label beside a narrow strip to what it names.
    Leader,
    /// A fine line in a figure, or between parts of a page.
    Fine,
    /// The outline as drawn, where what the saw gives is drawn over it.
    AsDrawn,
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
    pub const ALL: [Pen; 20] = [
        Pen::FirstCut,
        Pen::SecondCut,
        Pen::KerfEdge,
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
        Pen::Notch,
        Pen::Chamfer,
        Pen::Curve,
        Pen::Leader,
        Pen::Fine,
        Pen::AsDrawn,
    ];

    /// How it is drawn. Solid and dashed tell the cuts apart on a printer without colour. The saw lines, whose middle is
    /// the true line, are the strongest of what is followed with a tool; where the paper is cut out is finer.
    pub fn style(self) -> PenStyle {
        let (width_mm, dash_mm, ink): (f64, &'static [f64], Ink) = match self {
            Pen::FirstCut => (0.35, &[], Ink::First),
            Pen::SecondCut => (0.35, &[4.0, 1.2], Ink::Second),
            Pen::KerfEdge => (0.1, &[], Ink::Grey),
            Pen::FinishedEnd => (0.5, &[], Ink::Black),
            Pen::Fold => (0.25, &[6.0, 1.5, 0.8, 1.5], Ink::Black),
            Pen::CutOut => (0.2, &[], Ink::Black),
            Pen::GlueEdge => (0.25, &[], Ink::Black),
            Pen::Tick => (0.18, &[], Ink::Black),
            Pen::Straightedge => (0.18, &[], Ink::Grey),
            Pen::Join => (0.18, &[0.8, 1.2], Ink::Grey),
            Pen::JoiningMark => (0.18, &[], Ink::Black),
            Pen::CheckRule => (0.2, &[], Ink::Black),
            Pen::Triangle => (0.6, &[], Ink::Black),
            Pen::Figure => (0.3, &[], Ink::Black),
            Pen::Notch => (0.3, &[], Ink::Black),
            Pen::Chamfer => (0.22, &[2.0, 1.0], Ink::Black),
            Pen::Curve => (0.35, &[], Ink::Black),
            Pen::Leader => (0.15, &[], Ink::Black),
            Pen::Fine => (0.15, &[], Ink::Grey),
            Pen::AsDrawn => (0.18, &[1.4, 0.8], Ink::Grey),
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
    /// Red, green and blue. All but the pale ones stay dark on a printer without colour. The cuts have the hues that they
    /// have on screen.
    pub fn rgb(self) -> [u8; 3] {
        match self {
            Ink::Black => [0x16, 0x16, 0x18],
            Ink::Grey => [0x6a, 0x6c, 0x70],
            Ink::Pale => [0xec, 0xec, 0xea],
            Ink::White => [0xff, 0xff, 0xff],
            Ink::First => [0x0f, 0x57, 0xa3],
            Ink::Second => [0xa8, 0x42, 0x08],
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_saw_line_is_never_thinner_than_where_the_paper_is_cut_out() {
        for saw in [Pen::FirstCut, Pen::SecondCut] {
            assert!(saw.width_mm() >= 0.3, "seen through the saw dust");
            for edge in [Pen::GlueEdge, Pen::CutOut, Pen::Fold] {
                assert!(edge.width_mm() < saw.width_mm(), "{edge:?}");
            }
        }
    }

    #[test]
    fn the_cuts_have_different_hues_and_print_dark_without_colour() {
        let [first, second] = [Ink::First, Ink::Second].map(|ink| ink.rgb().map(f64::from));
        assert!(first[2] > first[0] + 40.0 && second[0] > second[2] + 40.0, "blue, and burnt orange");
        for [r, g, b] in [first, second] {
            // Luma of ITU-R BT.601, from memory: what a printer without colour makes of it. Under half is dark grey.
            let grey = (0.299 * r + 0.587 * g + 0.114 * b) / 255.0;
            assert!(grey < 0.4, "{grey}");
        }
    }
}

//! The parts of a page: margins, head, foot, the column of the upright check rule, and the board that is left.

use cornerwise_project::{PageSize, PaperChoice};
use kurbo::Rect;

/// Paper that most printers leave white along every edge, mm. Common practice, no source.
pub const MARGIN_MM: f64 = 10.0;
/// The head of a page: what it is, which page of how many, mm.
pub const HEAD_MM: f64 = 7.3;
/// The foot of a page: the check rule across it, mm.
pub const FOOT_MM: f64 = 11.0;
/// The column of the upright check rule, mm.
pub const RULE_COLUMN_MM: f64 = 12.0;
/// The least height of a board: the check rule up the page stands beside it, mm.
const LEAST_BOARD_MM: f64 = 105.0;
/// The longest page that is cut from a roll, mm: within what a PDF page can be.
pub const LONGEST_ROLL_PAGE_MM: f64 = 5000.0;

/// A kind of page: the paper, which way it lies, and what its printer does to lengths.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PageKind {
    /// Across the page, mm of paper.
    pub width_mm: f64,
    /// Up the page, mm of paper; `None` on a roll, where a page is as long as it needs to be.
    pub height_mm: Option<f64>,
    /// What lengths are multiplied by to come out true, across and up the page.
    pub scale: [f64; 2],
}

impl PageKind {
    /// The page that the maker chose. What was measured along the paper's short edge goes with that edge, whichever way
    /// the page lies.
    pub fn of(choice: &PaperChoice) -> PageKind {
        let [short, long] = choice.measured.correction();
        let (width_mm, height_mm) = (choice.page.width_mm(), choice.page.height_mm());
        match height_mm {
            Some(height_mm) if choice.landscape => {
                PageKind { width_mm: height_mm, height_mm: Some(width_mm), scale: [long, short] }
            }
            _ => PageKind { width_mm, height_mm, scale: [short, long] },
        }
    }

    /// Whether a page is as long as it needs to be.
    pub fn is_roll(&self) -> bool {
        self.height_mm.is_none()
    }

    /// The largest board that fits on one page, across and up, mm.
    pub fn most_board(&self) -> [f64; 2] {
        let page = self.page(self.height_mm.unwrap_or(LONGEST_ROLL_PAGE_MM));
        [page.board.width(), page.board.height()]
    }

    /// The page that has at least `board_height_mm` for its board. Only a roll's page depends on it.
    pub fn page_for(&self, board_height_mm: f64) -> Page {
        let height_mm = self.height_mm.unwrap_or_else(|| {
            let needed = board_height_mm.max(LEAST_BOARD_MM) + HEAD_MM + FOOT_MM + 2.0 * MARGIN_MM;
            // A printer that prints short needs a longer page; whole millimetres for the cutter.
            (needed * self.scale[1].max(1.0)).ceil().min(LONGEST_ROLL_PAGE_MM)
        });
        self.page(height_mm)
    }

    fn page(&self, height_mm: f64) -> Page {
        let paper = Rect::new(0.0, 0.0, self.width_mm / self.scale[0], height_mm / self.scale[1]);
        // Printed too small, the page does not reach the paper's edge; printed too large, the paper ends first.
        let room = |paper: f64, page: f64| paper.min(page) - 2.0 * MARGIN_MM;
        let (width, height) = (room(self.width_mm, paper.width()), room(height_mm, paper.height()));
        let (x0, y0) = ((paper.width() - width) / 2.0, (paper.height() - height) / 2.0);
        let (x1, y1) = (x0 + width, y0 + height);
        Page {
            width_mm: self.width_mm,
            height_mm,
            scale: self.scale,
            head: Rect::new(x0, y0, x1, y0 + HEAD_MM),
            foot: Rect::new(x0, y1 - FOOT_MM, x1, y1),
            rule_column: Rect::new(x0, y0 + HEAD_MM, x0 + RULE_COLUMN_MM, y1 - FOOT_MM),
            board: Rect::new(x0 + RULE_COLUMN_MM, y0 + HEAD_MM, x1, y1 - FOOT_MM),
        }
    }
}

/// One page's parts, in true millimetres from its top left corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Page {
    /// Across the paper, mm.
    pub width_mm: f64,
    /// Up the paper, mm.
    pub height_mm: f64,
    /// What lengths are multiplied by to come out true, across and up the page.
    pub scale: [f64; 2],
    /// What the page is, and which of how many.
    pub head: Rect,
    /// The check rule across the page.
    pub foot: Rect,
    /// The check rule up the page.
    pub rule_column: Rect,
    /// Everything else.
    pub board: Rect,
}

/// What an uncorrected page's check rule would measure, mm, found on a corrected page.
///
/// `in_force_mm` is what the page was corrected by, `rule_now_mm` what its rule, corrected like everything on it, measures
/// now, `nominal_mm` the rule's true length. A rule that is true now gives back what was in force; on an uncorrected page,
/// where `in_force_mm` is `nominal_mm`, the rule's own measure.
pub fn measured_again(in_force_mm: f64, rule_now_mm: f64, nominal_mm: f64) -> f64 {
    in_force_mm * rule_now_mm / nominal_mm
}

/// The name of a page for the maker, `A4` or `roll 610 mm wide`.
pub fn page_name(page: &PageSize) -> String {
    match page {
        PageSize::Roll { width } => format!("roll {:.0} mm wide", width.mm()),
        page => page.name().to_owned(),
    }
}

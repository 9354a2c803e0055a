//! What to buy and to mill: blanks and boards with their sizes, board feet, weight.

use crate::assembly::density_kg_mm3;
use crate::{Assembly, Design, Hand, LegLine, Rough};
use cornerwise_geometry::MM_PER_INCH;
use cornerwise_geometry::furniture::BoardKind;
use std::sync::Arc;

/// Boards of one size.
#[derive(Clone, Debug, PartialEq)]
pub struct BoardLine {
    /// What they are.
    pub kind: BoardKind,
    /// How many.
    pub count: usize,
    /// Finished length, width, thickness, mm.
    pub size_mm: [f64; 3],
    /// Board feet of one, as finished.
    pub board_feet: f64,
}

/// Blanks of one design and hand.
#[derive(Clone, Debug, PartialEq)]
pub struct BlankLine {
    /// The design.
    pub design: Arc<Design>,
    /// The hand.
    pub hand: Hand,
    /// How many.
    pub count: usize,
    /// Rough length, width, depth, mm: spare length and rough allowance added.
    pub rough_mm: [f64; 3],
    /// Board feet of one, rough.
    pub board_feet: f64,
    /// Weight of one, rough, kg.
    pub weight_kg: f64,
}

impl Assembly {
    /// The boards, alike ones together, in the order they stand from the top down.
    pub fn board_list(&self) -> Vec<BoardLine> {
        let mut lines: Vec<BoardLine> = Vec::new();
        for board in self.boards.iter().filter(|board| board.kind != BoardKind::Shade) {
            let alike = |line: &&mut BoardLine| {
                line.kind == board.kind && line.size_mm.iter().zip(board.size_mm).all(|(p, q)| (p - q).abs() < 0.005)
            };
            match lines.iter_mut().find(alike) {
                Some(line) => line.count += 1,
                None => lines.push(BoardLine {
                    kind: board.kind,
                    count: 1,
                    size_mm: board.size_mm,
                    board_feet: board_feet(board.size_mm),
                }),
            }
        }
        lines
    }

    /// The blanks, alike ones together: "make n", left and right apart.
    pub fn blank_list(&self) -> Vec<BlankLine> {
        let rough = &self.furniture.rough;
        let mut lines: Vec<BlankLine> = Vec::new();
        for placed in &self.legs {
            if let Some(line) = lines.iter_mut().find(|l| l.design.id == placed.design.id && l.hand == placed.hand) {
                line.count += 1;
                continue;
            }
            lines.push(BlankLine::new(&placed.design, placed.hand, rough));
        }
        lines
    }
}

impl BlankLine {
    /// One blank of a design and hand, with an allowance for milling.
    fn new(design: &Arc<Design>, hand: Hand, rough: &Rough) -> BlankLine {
        let blank = &design.blank;
        let long = blank.length.mm() + blank.spare_top.mm() + blank.spare_foot.mm() + rough.along.mm();
        let rough_mm = [long, blank.width.mm() + rough.across.mm(), blank.depth.mm() + rough.across.mm()];
        BlankLine {
            design: Arc::clone(design),
            hand,
            count: 1,
            rough_mm,
            board_feet: board_feet(rough_mm),
            weight_kg: rough_mm.iter().product::<f64>() * density_kg_mm3(&design.wood),
        }
    }

    /// The blanks of legs that stand nowhere, with the usual allowance.
    pub fn of(line: &LegLine) -> BlankLine {
        BlankLine { count: line.count(), ..BlankLine::new(&line.design, line.hand, &Rough::default()) }
    }
}

/// Board feet of a piece of length, width and thickness in mm: 144 cubic inches each; what is thinner than an inch counts
/// as an inch. Published by lumber sellers and associations (woodworkingtips.com etip04; goodwoodcorp.com terminology).
pub fn board_feet(size_mm: [f64; 3]) -> f64 {
    let [long, wide, thick] = size_mm.map(|mm| mm / MM_PER_INCH);
    long * wide * thick.max(1.0) / 144.0
}

/// The same by the rule of the hardwood trade: surface measure, width in inches by length in feet over 12, in whole square
/// feet, times the thickness in inches (National Hardwood Lumber Association, told at americanhardwood.org).
pub fn board_feet_by_surface_measure(size_mm: [f64; 3]) -> f64 {
    let [long, wide, thick] = size_mm.map(|mm| mm / MM_PER_INCH);
    (wide * (long / 12.0) / 12.0).round() * thick.max(1.0)
}

/// How a board is cut into blanks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BoardCut {
    /// Blanks one after another along the board, beside one another across it, and through its thickness.
    pub counts: [usize; 3],
    /// What is left over along, across and through, mm; the saw's kerfs are gone.
    pub left_mm: [f64; 3],
}

impl BoardCut {
    /// Blanks in all.
    pub fn blanks(&self) -> usize {
        self.counts.iter().product()
    }
}

/// How many blanks a board yields, all cut one way along it; sizes are length, width, thickness in mm.
pub fn blanks_from_board(board_mm: [f64; 3], blank_mm: [f64; 3], kerf_mm: f64) -> BoardCut {
    let mut cut = BoardCut { counts: [0; 3], left_mm: board_mm };
    for i in 0..3 {
        let (board, blank) = (board_mm[i], blank_mm[i]);
        let sound = board.is_finite() && blank > 0.0 && kerf_mm >= 0.0 && board >= blank - 1e-9;
        if sound {
            let count = ((board + kerf_mm + 1e-9) / (blank + kerf_mm)).floor().min(10_000.0);
            cut.counts[i] = count as usize;
            cut.left_mm[i] = (board - count * (blank + kerf_mm)).max(0.0);
        }
    }
    cut
}

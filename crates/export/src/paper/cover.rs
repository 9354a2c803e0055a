//! The first page: what the leg is, how the work goes, the cautions, and the end caps.

use super::cap::Cap;
use super::cautions::{CAUTIONS, CAUTIONS_DEFER, SHARP_POINT, STEPS};
use super::column::{Block, set};
use super::figure::figure;
use super::joins::Joins;
use super::passes::passes;
use super::tiling::{Grid, Lie};
use super::{Job, Leaf, PaperError};
use crate::sheets::Drawing;
use cornerwise_geometry::{Cut, End};
use kurbo::Affine;

/// Between columns, mm.
const GAP_MM: f64 = 8.0;
/// The narrowest and the widest column, mm.
const COLUMN_MM: [f64; 2] = [76.0, 105.0];
/// Heights that a cover on a roll is tried with, mm.
const ROLL_HEIGHTS_MM: [f64; 4] = [180.0, 260.0, 400.0, 800.0];

/// The cover, and pages for end caps that do not fit on it.
pub(crate) fn leaves(job: &Job<'_>) -> Result<Vec<Leaf>, PaperError> {
    let [room_across, room_up] = job.kind.most_board();
    let room_across = room_across - 4.0;
    let columns = ((room_across + GAP_MM) / (COLUMN_MM[0] + GAP_MM)).floor().clamp(1.0, 3.0);
    let width = ((room_across + GAP_MM) / columns - GAP_MM).min(COLUMN_MM[1]);

    let mut groups = facts(job, width);
    groups.extend(steps(job, width));
    groups.extend(cautions(width));
    let caps = End::ALL.map(|end| Cap::new(job, end));
    let extent = caps[0].extent();
    let highest = room_up - 4.0;
    let fit = extent.width() <= width && extent.height() <= highest;
    if fit {
        // Both together, so that a second page, where one is needed, has both.
        groups.push(caps.iter().flat_map(|cap| cap_blocks(cap, width)).collect());
    }

    let heights: &[f64] = if job.kind.is_roll() { &ROLL_HEIGHTS_MM } else { &[highest] };
    let mut pages = Vec::new();
    let mut height = highest;
    for try_height in heights {
        height = *try_height;
        pages = set(&groups, columns as usize, width, GAP_MM, height);
        if pages.len() == 1 {
            break;
        }
    }
    let page = job.kind.page_for(height + 4.0);
    let corner = (page.board.x0 + 2.0, page.board.y0 + 2.0);
    let one = pages.len() == 1;
    let mut leaves: Vec<Leaf> = pages
        .into_iter()
        .enumerate()
        .map(|(i, set)| {
            let mut drawing = Drawing::new();
            drawing.add(&set, Affine::translate(corner));
            let what = match (fit, one, i) {
                (true, true, _) => "how to, end caps",
                (true, false, 1..) => "end caps",
                _ => "how to",
            };
            Leaf { page, what: what.to_owned(), drawing }
        })
        .collect();
    if !fit {
        for cap in &caps {
            leaves.extend(cap_pages(job, cap)?);
        }
    }
    Ok(leaves)
}

fn facts(job: &Job<'_>, width: f64) -> Vec<Vec<Block>> {
    let (leg, show) = (job.leg, |mm: f64| job.units.show_with_unit(mm));
    let whole = leg.length_mm + leg.spare_top_mm + leg.spare_foot_mm;
    let blank = format!("{} × {} × {}", show(leg.width_mm), show(leg.depth_mm), show(whole));
    let spare = format!("{} at the top, {} at the foot", show(leg.spare_top_mm), show(leg.spare_foot_mm));
    let mut group = vec![
        Block::heading(&format!("Leg {}", job.names.letter)),
        Block::fact("design", &job.names.design, width),
        Block::fact("project", &job.names.project, width),
        Block::fact("blank", &blank, width),
        Block::fact("finished", &format!("{} from TOP to FOOT", show(leg.length_mm)), width),
        Block::fact("spare length", &spare, width),
    ];
    for pass in passes(leg) {
        let way = match pass.stops_at {
            None => format!("{}, from {} to {}", pass.cut, pass.enters, other(pass.enters)),
            Some(s) => format!("{}, from {} to the sharp point at {}", pass.cut, pass.enters, show(s)),
        };
        group.push(Block::fact(&format!("pass {}", pass.number), &way, width));
    }
    group.push(Block::space(3.0));
    vec![group, vec![figure(job, width), Block::space(3.0)]]
}

fn other(end: End) -> End {
    match end {
        End::Top => End::Foot,
        End::Foot => End::Top,
    }
}

fn steps(job: &Job<'_>, width: f64) -> Vec<Vec<Block>> {
    let mut blocks: Vec<Vec<Block>> = STEPS
        .iter()
        .enumerate()
        .map(|(i, (title, words))| vec![Block::item(&(i + 1).to_string(), title, words, width)])
        .collect();
    if Cut::ALL.iter().any(|cut| job.leg.line(*cut).sharp_point().is_some()) {
        blocks.push(vec![Block::item("!", "", SHARP_POINT, width)]);
    }
    under("How it is made", blocks)
}

fn cautions(width: f64) -> Vec<Vec<Block>> {
    let mut blocks: Vec<Vec<Block>> = CAUTIONS.iter().map(|words| vec![Block::item("△", "", words, width)]).collect();
    if let Some(first) = blocks.first_mut() {
        first.insert(0, Block::item("", "", CAUTIONS_DEFER, width));
    }
    under("At the saw", blocks)
}

/// Puts a heading over blocks; it stays with the first of them.
fn under(heading: &str, mut groups: Vec<Vec<Block>>) -> Vec<Vec<Block>> {
    if let Some(first) = groups.first_mut() {
        first.insert(0, Block::heading(heading));
    }
    groups.push(vec![Block::space(3.0)]);
    groups
}

fn cap_blocks(cap: &Cap<'_>, width: f64) -> Vec<Block> {
    let extent = cap.extent();
    let mut drawing = Drawing::new();
    drawing.add(&cap.draw(), Affine::translate((-extent.x0 + (width - extent.width()).max(0.0) / 2.0, -extent.y0)));
    vec![Block { drawing, height_mm: extent.height() }, Block::space(2.0)]
}

/// A cap too large for the cover, on pages of its own, cut like the strip.
fn cap_pages(job: &Job<'_>, cap: &Cap<'_>) -> Result<Vec<Leaf>, PaperError> {
    let grid = Grid::new(cap.extent(), job.kind.most_board(), job.choice.overlap.mm(), Lie::Lying)?;
    let joins = Joins::new(&grid);
    let whole = cap.draw();
    let leaves = grid.places().map(|place| {
        let window = grid.window(place);
        let page = job.kind.page_for(grid.size_on_page(window)[1]);
        let mut board = whole.within(window);
        board.marks.extend(joins.draw(&grid, place).marks);
        let mut drawing = Drawing::new();
        drawing.add(&board, grid.page_from_board(window, [page.board.x0, page.board.y0]));
        Leaf { page, what: format!("end cap, {}", cap.words()), drawing }
    });
    Ok(leaves.collect())
}

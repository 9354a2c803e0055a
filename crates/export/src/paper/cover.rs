//! The first page: what the leg is, how the work goes, the cautions, and the end caps.

use super::cap::Cap;
use super::cautions::{CAUTIONS, CAUTIONS_DEFER, SHARP_POINT, STEPS};
use super::clean_up::{WITH_THE_GRAIN, clean_up};
use super::column::{Block, set};
use super::figure::figure;
use super::fit_facts;
use super::joins::Joins;
use super::passes::{passes, sharp_point};
use super::strip::{EDGE_ROOM_MM, END_ROOM_MM};
use super::strip_pages::{JOINING, JOINING_TITLE, StripPages};
use super::tiling::{Grid, Lie};
use super::{Job, Leaf, PaperError};
use crate::sheets::Drawing;
use cornerwise_geometry::{Cut, End, Length, Unit, Units};
use kurbo::{Affine, Rect};

/// Between columns, mm.
const GAP_MM: f64 = 8.0;
/// The narrowest and the widest column, mm.
const COLUMN_MM: [f64; 2] = [76.0, 105.0];
/// From the edges of the board to what is set on it, mm.
pub(crate) const INSET_MM: f64 = 2.0;
/// A shown length further than this from the true one is called rounded, mm.
const ROUNDED_MM: f64 = 0.05;
/// The most paper that the plan of joined pages takes in a column, mm up.
const PLAN_MM: f64 = 60.0;
/// Heights that a cover on a roll is tried with, mm.
const ROLL_HEIGHTS_MM: [f64; 4] = [180.0, 260.0, 400.0, 800.0];

/// The cover, and pages for end caps that do not fit on it: of all numbers of columns, the one with fewest pages.
/// `strip` are the pages of the strip where those have no room to say how they are joined: the cover says it.
/// Where which way the sides are cleaned up has a page of its own, that comes second, to be put last.
pub(crate) fn leaves(job: &Job<'_>, strip: Option<&StripPages<'_>>) -> Result<[Vec<Leaf>; 2], PaperError> {
    let caps = End::ALL.map(|end| Cap::new(job, end));
    let cap_leaves = cap_leaves(job, &caps)?;
    let most = ((room(job)[0] + GAP_MM) / (COLUMN_MM[0] + GAP_MM)).floor().clamp(1.0, 3.0) as usize;
    let covers = (1..=most).rev().map(|columns| (columns, Cover::new(job, &caps, strip, columns, false)));
    let pages = |cover: &Cover| cover.pages.len() + if cover.has_caps { 0 } else { cap_leaves.len() };
    let Some((columns, cover)) = covers.min_by_key(|(_, cover)| pages(cover)) else {
        return Ok([cap_leaves, Vec::new()]);
    };
    // How the sides are cleaned up stands on the cover where it asks for no other page, or on one of its own.
    let with_clean_up = Cover::new(job, &caps, strip, columns, true);
    let wanted = job.choice.clean_up;
    let fits = pages(&with_clean_up) == pages(&cover) && with_clean_up.has_caps == cover.has_caps;
    let cover = if wanted && fits { with_clean_up } else { cover };
    let has_caps = cover.has_caps;
    let mut leaves = cover.leaves(job);
    if !has_caps {
        leaves.extend(cap_leaves);
    }
    if !wanted || fits {
        return Ok([leaves, Vec::new()]);
    }
    let width = room(job)[0].min(COLUMN_MM[1]);
    let pages = set(&[clean_up_blocks(job, width)], 1, width, GAP_MM, room(job)[1]);
    let last = pages.iter().map(|page| leaf(job, page, page.bounds().height(), "clean-up")).collect();
    Ok([leaves, last])
}

fn clean_up_blocks(job: &Job<'_>, width: f64) -> Vec<Block> {
    vec![
        Block::heading("Clean-up"),
        Block::item("", "", WITH_THE_GRAIN, width),
        clean_up(job, width),
        Block::space(3.0),
    ]
}

/// The paper that blocks may be set in, across and up, mm.
fn room(job: &Job<'_>) -> [f64; 2] {
    job.kind.most_board().map(|room| room - 2.0 * INSET_MM)
}

/// A page for drawings set in `room`, as tall as they need on a roll.
pub(crate) fn leaf(job: &Job<'_>, set: &Drawing, height_mm: f64, what: &str) -> Leaf {
    let page = job.kind.page_for(height_mm + 2.0 * INSET_MM);
    let mut drawing = Drawing::new();
    drawing.add(set, Affine::translate((page.board.x0 + INSET_MM, page.board.y0 + INSET_MM)));
    Leaf { page, what: what.to_owned(), drawing }
}

/// The cover set in a number of columns.
struct Cover {
    pages: Vec<Drawing>,
    height_mm: f64,
    has_caps: bool,
}

impl Cover {
    fn new(
        job: &Job<'_>,
        caps: &[Cap<'_>],
        strip: Option<&StripPages<'_>>,
        columns: usize,
        with_clean_up: bool,
    ) -> Cover {
        let [across, highest] = room(job);
        let count = columns as f64;
        let width = ((across + GAP_MM) / count - GAP_MM).min(COLUMN_MM[1]);
        let mut groups = facts(job, width);
        groups.extend(strip.map(|strip| joining(strip, width)));
        groups.extend(job.notes.blocks(width));
        groups.extend(steps(job, width));
        groups.extend(cautions(width));
        if with_clean_up {
            groups.push(clean_up_blocks(job, width));
        }
        let has_caps = caps.iter().map(Cap::extent).all(|extent| extent.width() <= width && extent.height() <= highest);
        if has_caps {
            // Both together, so that a second page, where one is needed, has both.
            groups.push(caps.iter().flat_map(|cap| cap_blocks(cap, width)).collect());
        }
        let heights: &[f64] = if job.kind.is_roll() { &ROLL_HEIGHTS_MM } else { &[highest] };
        let mut cover = Cover { pages: Vec::new(), height_mm: highest, has_caps };
        for height_mm in heights {
            cover.height_mm = *height_mm;
            cover.pages = set(&groups, columns, width, GAP_MM, *height_mm);
            if cover.pages.len() == 1 {
                break;
            }
        }
        cover
    }

    fn leaves(self, job: &Job<'_>) -> Vec<Leaf> {
        let one = self.pages.len() == 1;
        let what = |i: usize| match (self.has_caps, one, i) {
            (true, true, _) => "how to, end caps",
            (true, false, 1..) => "end caps",
            _ => "how to",
        };
        self.pages.iter().enumerate().map(|(i, page)| leaf(job, page, self.height_mm, what(i))).collect()
    }
}

fn facts(job: &Job<'_>, width: f64) -> Vec<Vec<Block>> {
    let (leg, show) = (job.leg, |mm: f64| true_size(job.units, mm));
    let whole = leg.length_mm + leg.spare_top_mm + leg.spare_foot_mm;
    let blank = format!("{} × {} × {}", show(leg.width_mm), show(leg.depth_mm), show(whole));
    let spare = format!("{} at the top, {} at the foot", show(leg.spare_top_mm), show(leg.spare_foot_mm));
    let mut group = vec![
        Block::heading(&format!("Leg {}", job.names.label())),
        Block::fact("design", &job.names.design, width),
        Block::fact("project", &job.names.project, width),
        Block::fact("blank", &blank, width),
        Block::fact("finished", &format!("{} from TOP to FOOT", show(leg.length_mm)), width),
        Block::fact("spare length", &spare, width),
    ];
    for pass in passes(leg) {
        let way = match pass.stops_at {
            None => format!("{}, from {} to {}", pass.cut, pass.enters, other(pass.enters)),
            Some(s) => format!("{}, from {} to a hair short of the sharp point at {}", pass.cut, pass.enters, show(s)),
        };
        group.push(Block::fact(&format!("pass {}", pass.number), &way, width));
    }
    group.extend(fit_facts::facts(job, width));
    group.push(Block::space(3.0));
    vec![group, vec![figure(job, width), Block::space(3.0)]]
}

/// A length as it is milled to: a fraction that is rounded says so, and what it is exactly, because the paper is drawn to
/// that.
fn true_size(units: Units, mm: f64) -> String {
    let shown = units.show_with_unit(mm);
    let is_rounded = |shown: &Length| (shown.mm() - mm).abs() > ROUNDED_MM;
    match units {
        Units::Inches(_) if Length::parse(&shown, Unit::Inch).is_ok_and(|shown| is_rounded(&shown)) => {
            format!("about {shown} ({} exactly)", Units::Millimetres.show_with_unit(mm))
        }
        _ => shown,
    }
}

fn other(end: End) -> End {
    match end {
        End::Top => End::Foot,
        End::Foot => End::Top,
    }
}

/// How the pages of the strip are joined, with the plan of them.
fn joining(strip: &StripPages<'_>, width: f64) -> Vec<Block> {
    let plan = strip.plan(None, [width, PLAN_MM]);
    let bounds = plan.bounds();
    let mut drawing = Drawing::new();
    drawing.add(&plan, Affine::translate((-bounds.x0, -bounds.y0)));
    let mut blocks = vec![Block::heading(JOINING_TITLE), Block { drawing, height_mm: bounds.height() + 3.0 }];
    blocks.extend(JOINING.map(|words| Block::item("", "", words, width)));
    blocks.push(Block::space(3.0));
    blocks
}

fn steps(job: &Job<'_>, width: f64) -> Vec<Vec<Block>> {
    let mut steps: Vec<(&str, String)> = STEPS.iter().map(|(title, words)| (*title, (*words).to_owned())).collect();
    fit_facts::add_steps(job, &mut steps);
    let mut blocks: Vec<Vec<Block>> = steps
        .iter()
        .enumerate()
        .map(|(i, (title, words))| vec![Block::item(&(i + 1).to_string(), title, words, width)])
        .collect();
    if Cut::ALL.iter().any(|cut| sharp_point(job.leg, *cut).is_some()) {
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

/// The caps on pages of their own: both on one where it holds them, or cut like the strip.
fn cap_leaves(job: &Job<'_>, caps: &[Cap<'_>]) -> Result<Vec<Leaf>, PaperError> {
    let [across, highest] = room(job);
    let fits = |extent: Rect| extent.width() <= across && extent.height() <= highest;
    let mut leaves = Vec::new();
    if caps.iter().map(Cap::extent).all(fits) {
        let tallest: f64 = caps.iter().map(|cap| cap.extent().height() + 2.0).sum();
        let height = if job.kind.is_roll() { tallest } else { highest };
        let widest = caps.iter().map(|cap| cap.extent().width()).fold(0.0, f64::max);
        let columns = if 2.0 * widest + GAP_MM <= across { 2 } else { 1 };
        let groups: Vec<Vec<Block>> = caps.iter().map(|cap| cap_blocks(cap, widest)).collect();
        let pages = set(&groups, columns, widest, GAP_MM, height);
        leaves.extend(pages.iter().map(|page| leaf(job, page, height, "end caps")));
    } else {
        for cap in caps {
            leaves.extend(cap_parts(job, cap)?);
        }
    }
    Ok(leaves)
}

/// A cap larger than a page.
fn cap_parts(job: &Job<'_>, cap: &Cap<'_>) -> Result<Vec<Leaf>, PaperError> {
    // Pages that are joined need room for the straightedge line and the joining marks.
    let extent = cap.extent().inflate(END_ROOM_MM, EDGE_ROOM_MM);
    let grid = Grid::new(extent, job.kind.most_board(), job.choice.overlap.mm(), Lie::Lying)?;
    let joins = Joins::new(&grid);
    let whole = cap.draw();
    let leaves = grid.places().map(|place| {
        let window = grid.window(place);
        let page = job.kind.page_for(grid.size_on_page(window)[1]);
        let mut board = joins.draw(&grid, place);
        board.marks.extend(whole.within(window).marks);
        let mut drawing = Drawing::new();
        drawing.add(&board, grid.page_from_board(window, [page.board.x0, page.board.y0]));
        Leaf { page, what: format!("end cap, {}", cap.words()), drawing }
    });
    Ok(leaves.collect())
}

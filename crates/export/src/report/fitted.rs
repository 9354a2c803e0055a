//! What the report says of the fit of a leg, and of furniture.

use cornerwise_geometry::fit::{Keep, Mirror, Stance, Takes, mirror};
use cornerwise_geometry::furniture::{Arrangement, BoardKind};
use cornerwise_geometry::{Leg, LegError, Piece, Units};
use cornerwise_project::{Assembly, BoardRow, CutList, Design, FitFinding, Hand, Project, STOCK_KERF_MM};
use serde::Serialize;

/// What is fitted to a leg, and what that leaves.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FitReport {
    /// The inside piece, 1 to 4.
    pub inside_piece: u8,
    /// What the leg does with it inside, in words.
    pub stance: String,
    /// The foot from the top: toward the middle of the furniture, and to the right of one who looks at it, mm.
    pub foot_mm: [f64; 2],
    /// "itself", "other piece inside" or "other hand".
    pub mirror: &'static str,
    /// The piece that is inside in the mirror, 1 to 4; `null` but for "other piece inside".
    pub mirror_inside_piece: Option<u8>,
    /// The pipe hole; `null` without one.
    pub pipe: Option<PipeReport>,
    /// What the crosscut blade takes, mm.
    pub crosscut_kerf_mm: f64,
    /// From the top.
    pub notches: Vec<NotchReport>,
    /// Marks on the inside piece, from the top.
    pub marks: Vec<MarkReport>,
    /// What they part, from the top.
    pub parts: Vec<PartReport>,
    /// Piece 1 to 2, piece 3 to 4, and the two halves, mm².
    pub glue_mm2: [f64; 3],
    /// The straight length at the top, mm, and how far the lines stray from straight in it, mm.
    pub post_mm: [f64; 2],
    /// What to watch out for.
    pub watch_outs: Vec<FindingReport>,
}

/// A pipe hole.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PipeReport {
    /// The pipe's outside diameter, mm.
    pub outside_mm: f64,
    /// The widest round thing that passes, mm.
    pub hole_mm: f64,
    /// The chamfer along each face, mm.
    pub chamfer_leg_mm: f64,
    /// Across the chamfer's own face, mm.
    pub chamfer_face_mm: f64,
    /// The pipe, cut to length, mm.
    pub pipe_length_mm: f64,
    /// The least wood beside the hole, mm, where, mm from the top, and at which side.
    pub thinnest_mm: f64,
    /// Where, mm from the top.
    pub thinnest_at_mm: f64,
    /// At which side, 1 to 4.
    pub thinnest_side: u8,
    /// How far the pipe leaves the top and the foot off the middle, mm.
    pub off_centre_mm: [f64; 2],
}

/// A notch.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct NotchReport {
    /// "shelf" or "apron".
    pub takes: &'static str,
    /// From where to where, mm from the top.
    pub from_to_mm: [f64; 2],
    /// The board: a shelf's thickness, an apron's height, mm.
    pub board_mm: f64,
    /// How much longer the notch is, mm.
    pub clearance_mm: f64,
    /// How far the board is borne from the axis, across u and v, mm.
    pub bearing_mm: [f64; 2],
    /// What the board stands on, mm².
    pub bearing_mm2: f64,
    /// The planed walls at the board's edges, mm².
    pub walls_mm2: [f64; 2],
    /// The wood beside the notch where that is least, mm².
    pub left_mm2: f64,
    /// Where, mm from the top.
    pub left_at_mm: f64,
    /// The greatest and the least second moment of area there, mm⁴.
    pub left_mm4: [f64; 2],
}

/// A crosscut.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MarkReport {
    /// From the finished top, mm.
    pub from_top_mm: f64,
    /// "toward the top" or "toward the foot".
    pub keep: &'static str,
    /// Where the blade runs, mm from the top.
    pub blade_mm: [f64; 2],
}

/// A length of the inside piece.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PartReport {
    /// From 1 at the top.
    pub number: usize,
    /// From where to where, mm from the top; spare length counted.
    pub from_to_mm: [f64; 2],
    /// Whether it is glued in.
    pub kept: bool,
}

/// Something about the fit or the furniture to watch out for.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FindingReport {
    /// What, where, how much, against which limit, in words.
    pub what: String,
    /// Where, mm from the top; `null` where it is about the whole.
    pub at_mm: Option<f64>,
    /// What to do.
    pub fix: String,
}

impl From<FitFinding> for FindingReport {
    fn from(found: FitFinding) -> FindingReport {
        FindingReport { what: found.what, at_mm: found.at_mm, fix: found.fix }
    }
}

/// Legs and boards together. The frame: u and v across the floor, heights above it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FurnitureReport {
    /// "column", "rectangle", "circle" or "row".
    pub arrangement: &'static str,
    /// The legs, in the order of their places.
    pub legs: Vec<PlacedReport>,
    /// The boards, from the top down.
    pub boards: Vec<BoardReport>,
    /// Blanks to mill.
    pub blanks: Vec<BlankLineReport>,
    /// How they are cut from boards of one size; `null` where none is told.
    pub cut_list: Option<CutListReport>,
    /// Whether the legs mirror one another across the middle of u and of v; `null` but for four at a rectangle.
    pub mirrored_across: Option<[bool; 2]>,
    /// Above the floor, mm.
    pub height_mm: f64,
    /// At 12 % moisture, kg; a shade weighs nothing here.
    pub weight_kg: f64,
    /// How it stands; `null` where a single leg has neither base nor top nor shade.
    pub standing: Option<StandingReport>,
    /// What to watch out for.
    pub watch_outs: Vec<FindingReport>,
}

/// Blanks cut from boards of one size.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CutListReport {
    /// Length, width, thickness of a board, mm.
    pub board_mm: [f64; 3],
    /// How many boards.
    pub boards: usize,
    /// The saw's kerf, mm.
    pub kerf_mm: f64,
    /// Rows, board after board.
    pub rows: Vec<RowReport>,
    /// What is left over and large enough to keep.
    pub offcuts: Vec<OffcutReport>,
    /// Which lines of `blanks` no such board holds, from 0.
    pub too_large: Vec<usize>,
}

/// A row of a board.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RowReport {
    /// The board, from 1.
    pub board: usize,
    /// The row in it, from 1.
    pub row: usize,
    /// Which line of `blanks` each blank is of, from 0.
    pub blanks: Vec<usize>,
    /// What of its length is left, mm.
    pub left_mm: f64,
}

/// What is left of a board.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct OffcutReport {
    /// Where it is from.
    pub name: String,
    /// Length, width, thickness, mm.
    pub size_mm: [f64; 3],
}

/// A leg in its place.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PlacedReport {
    /// The letter of its design.
    pub letter: String,
    /// Whether it is made from the mirrored lines.
    pub mirrored: bool,
    /// The piece inside, 1 to 4, of the leg itself.
    pub inside_piece: u8,
    /// Its axis, mm.
    pub axis_mm: [f64; 2],
    /// How far it is turned from u toward v, degrees.
    pub turn_deg: f64,
}

/// A board.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BoardReport {
    /// "apron", "shelf", "top", "base" or "shade".
    pub kind: &'static str,
    /// Finished length, width, thickness, mm.
    pub size_mm: [f64; 3],
    /// Its lower and its upper face above the floor, mm.
    pub height_mm: [f64; 2],
}

/// Blanks that are milled alike.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BlankLineReport {
    /// The letter of the design.
    pub letter: String,
    /// Whether they are sawn to the mirrored lines.
    pub mirrored: bool,
    /// How many.
    pub count: usize,
    /// Rough length, width, depth, mm.
    pub rough_mm: [f64; 3],
    /// Board feet of one.
    pub board_feet: f64,
    /// Weight of one, kg.
    pub weight_kg: f64,
}

/// How furniture stands. Figures to compare; they certify nothing.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StandingReport {
    /// The centre of mass (u, v, height above the floor), mm.
    pub centre_of_mass_mm: [f64; 3],
    /// The outline of the feet, mm.
    pub footprint_mm: Vec<[f64; 2]>,
    /// The tilt at which it falls over, degrees.
    pub tilt_deg: f64,
    /// The load at the middle of each edge of the top that tips it, kg; `null` where none does.
    pub tips_kg: Vec<Option<f64>>,
}

/// The fit of a design; none where nothing is fitted.
pub(super) fn fit(design: &Design, leg: &Leg, units: Units) -> Option<FitReport> {
    let fit = &design.fit;
    if fit.is_plain() {
        return None;
    }
    let stance = Stance::of(leg, fit.inside);
    let (mirror, mirror_inside_piece) = match mirror(leg, fit.inside) {
        Mirror::Itself => ("itself", None),
        Mirror::WithInside(piece) => ("other piece inside", Some(piece.number())),
        Mirror::OtherHand => ("other hand", None),
    };
    let pipe = fit.pipe.as_ref().map(|pipe| {
        let told = pipe.fit(leg);
        PipeReport {
            outside_mm: pipe.outside.mm(),
            hole_mm: told.hole_mm,
            chamfer_leg_mm: told.chamfer_leg_mm,
            chamfer_face_mm: told.chamfer_face_mm,
            pipe_length_mm: told.pipe_length_mm,
            thinnest_mm: told.thinnest.mm,
            thinnest_at_mm: told.thinnest.s_mm,
            thinnest_side: told.thinnest.side.number(),
            off_centre_mm: told.ends.map(|end| end.off_mm()),
        }
    });
    let notches = fit.notches.iter().enumerate().filter_map(|(place, notch)| {
        let there = fit.notch_fit(leg, place)?;
        Some(NotchReport {
            takes: if notch.takes == Takes::Shelf { "shelf" } else { "apron" },
            from_to_mm: there.span_mm,
            board_mm: notch.board.mm(),
            clearance_mm: notch.clearance.mm(),
            bearing_mm: there.bearing.reach_mm,
            bearing_mm2: there.bearing.area_mm2,
            walls_mm2: there.bearing.walls_mm2,
            left_mm2: there.weakest.area_mm2,
            left_at_mm: there.weakest_mm,
            left_mm4: there.weakest.principal_mm4(),
        })
    });
    // Without a notch the inside piece is not crosscut.
    let list = (!fit.notches.is_empty()).then(|| fit.crosscut(leg));
    let (marks, parts) = list.map_or_else(Default::default, |list| (list.marks, list.parts));
    let mark = |mark: cornerwise_geometry::fit::Mark| MarkReport {
        from_top_mm: mark.from_top_mm,
        keep: if mark.keep == Keep::TowardTop { "toward the top" } else { "toward the foot" },
        blade_mm: mark.blade_mm,
    };
    let areas = fit.glue_areas(leg);
    Some(FitReport {
        inside_piece: fit.inside.number(),
        stance: stance.name(),
        foot_mm: stance.foot_mm,
        mirror,
        mirror_inside_piece,
        pipe,
        crosscut_kerf_mm: fit.crosscut_kerf.mm(),
        notches: notches.collect(),
        marks: marks.into_iter().map(mark).collect(),
        parts: parts
            .into_iter()
            .map(|part| PartReport { number: part.number, from_to_mm: part.span_mm, kept: part.kept })
            .collect(),
        glue_mm2: [areas.halves_mm2[0], areas.halves_mm2[1], areas.together_mm2],
        post_mm: [fit.post.mm(), fit.post_strays_mm(leg)],
        watch_outs: design.fit_findings(leg, units).into_iter().map(FindingReport::from).collect(),
    })
}

/// The furniture of a project; none where it has none.
pub(super) fn furniture(project: &Project) -> Result<Option<FurnitureReport>, LegError> {
    if project.furniture.is_none() {
        return Ok(None);
    }
    let made = project.assemble()?;
    let (weight_kg, _) = made.weight();
    Ok(Some(FurnitureReport {
        arrangement: match made.furniture.arrangement {
            Arrangement::Column => "column",
            Arrangement::Rectangle { .. } => "rectangle",
            Arrangement::Circle { .. } => "circle",
            Arrangement::Row { .. } => "row",
        },
        legs: made.legs.iter().map(|placed| placed_report(placed.design.letter, placed.hand, placed)).collect(),
        boards: made
            .boards
            .iter()
            .map(|board| BoardReport {
                kind: board.kind.name(),
                size_mm: board.size_mm,
                height_mm: [-board.solid.span_mm[1], -board.solid.span_mm[0]],
            })
            .collect(),
        blanks: made
            .blank_list()
            .into_iter()
            .map(|line| BlankLineReport {
                letter: line.design.letter.to_string(),
                mirrored: line.hand == Hand::Mirrored,
                count: line.count,
                rough_mm: line.rough_mm,
                board_feet: line.board_feet,
                weight_kg: line.weight_kg,
            })
            .collect(),
        cut_list: made.cut_list().map(cut_list_report),
        mirrored_across: made.mirrored_across(),
        height_mm: made.height_mm(),
        weight_kg,
        standing: if made.stands_alone() { standing(&made, weight_kg) } else { None },
        watch_outs: made.findings(project.units).into_iter().map(FindingReport::from).collect(),
    }))
}

fn cut_list_report(list: CutList) -> CutListReport {
    let row = |row: BoardRow| RowReport { board: row.board, row: row.row, blanks: row.blanks, left_mm: row.left_mm };
    CutListReport {
        board_mm: list.board_mm,
        boards: list.boards,
        kerf_mm: STOCK_KERF_MM,
        rows: list.rows.into_iter().map(row).collect(),
        offcuts: list.offcuts.into_iter().map(|one| OffcutReport { name: one.name, size_mm: one.size_mm }).collect(),
        too_large: list.too_large,
    }
}

fn placed_report(letter: char, hand: Hand, placed: &cornerwise_project::PlacedLeg) -> PlacedReport {
    let inside: Piece = placed.fit.inside;
    PlacedReport {
        letter: letter.to_string(),
        mirrored: hand == Hand::Mirrored,
        inside_piece: inside.number(),
        axis_mm: placed.spot.axis_mm,
        turn_deg: placed.turn_deg,
    }
}

fn standing(made: &Assembly, weight_kg: f64) -> Option<StandingReport> {
    let stands = made.stability()?;
    let top = made.boards.iter().find(|board| board.kind == BoardKind::Top);
    let tips_kg = top.map_or_else(Vec::new, |top| {
        let edges = stands.tipping_edges(&top.solid.upper).into_iter();
        edges.map(|edge| edge.load_share.map(|share| share * weight_kg)).collect()
    });
    Some(StandingReport {
        centre_of_mass_mm: stands.centre_mm,
        footprint_mm: stands.footprint_mm,
        tilt_deg: stands.tilt_deg,
        tips_kg,
    })
}

/// Every number of a fit, to be checked for soundness.
pub(super) fn fit_figures(fit: &FitReport) -> Vec<f64> {
    let mut all = vec![fit.crosscut_kerf_mm];
    all.extend(fit.foot_mm.iter().chain(&fit.glue_mm2).chain(&fit.post_mm));
    if let Some(pipe) = &fit.pipe {
        all.extend([pipe.outside_mm, pipe.hole_mm, pipe.chamfer_leg_mm, pipe.chamfer_face_mm, pipe.pipe_length_mm]);
        all.extend([pipe.thinnest_mm, pipe.thinnest_at_mm, pipe.off_centre_mm[0], pipe.off_centre_mm[1]]);
    }
    for notch in &fit.notches {
        all.extend(notch.from_to_mm.iter().chain(&notch.bearing_mm).chain(&notch.walls_mm2).chain(&notch.left_mm4));
        all.extend([notch.board_mm, notch.clearance_mm, notch.bearing_mm2, notch.left_mm2, notch.left_at_mm]);
    }
    all
}

/// Every number of furniture, to be checked for soundness.
pub(super) fn furniture_figures(furniture: &FurnitureReport) -> Vec<f64> {
    let mut all = vec![furniture.height_mm, furniture.weight_kg];
    for leg in &furniture.legs {
        all.extend([leg.axis_mm[0], leg.axis_mm[1], leg.turn_deg]);
    }
    for board in &furniture.boards {
        all.extend(board.size_mm.iter().chain(&board.height_mm));
    }
    for blank in &furniture.blanks {
        all.extend(blank.rough_mm.iter().chain(&[blank.board_feet, blank.weight_kg]));
    }
    if let Some(list) = &furniture.cut_list {
        all.extend(list.board_mm.iter().chain(list.offcuts.iter().flat_map(|one| &one.size_mm)));
        all.extend(list.rows.iter().map(|row| row.left_mm));
    }
    if let Some(standing) = &furniture.standing {
        all.extend(standing.centre_of_mass_mm.iter().chain(standing.footprint_mm.as_flattened()));
        all.push(standing.tilt_deg);
        all.extend(standing.tips_kg.iter().flatten());
    }
    all
}

//! The report: the solved legs of a project as numbers, for scripts and for checking this program from outside.
//!
//! Lengths are mm, angles degrees, and every field name carries its unit. Frames and signs:
//!
//! - `s` runs from the finished top (0) to the finished foot (the blank's `length_mm`).
//! - `a` is the first cut, measured on face 1 from arris 1; `b` the second, measured on face 2 from arris 2. Both are as
//!   drawn: outside the blank where the line leaves it, where the leg itself is held at the blank's face.
//! - `u` and `v` are across the finished leg, against x and y of the blank, with 0 on the axis.
//! - A slope is d/ds; a curvature is d²/ds² over (1 + slope²)^1.5, with the sign of d²/ds². At a sharp point both are
//!   those of the part toward the top.
//! - Shares are shares of the length from top to foot, 0 to 1.
//!
//! Every number is finite. `null` stands only for what is not there: the tightest bend of a straight line, a saw, a load, a
//! fit or furniture that is not told, the cut of a watch-out that comes from no one cut, the reason nobody gave.
//!
//! [`report`] measures, [`json`] and [`text`] write. Fields keep their names and order; later versions add fields after
//! them.

mod faces_sawn;
mod fitted;
mod fitted_text;
mod judged;
#[cfg(test)]
mod tests;
mod text;

use cornerwise_geometry::{Bend, Core, Cut, Leg, LegError, Station};
use cornerwise_project::{Design, Project, ProjectError};
use cornerwise_wood::{
    Knot, PairReading, Rating, Regularity, SeamAnswer, Wood, WoodLimits, compare_and_read, regularity,
};
use serde::Serialize;
use thiserror::Error;

pub use faces_sawn::FaceSawnReport;
pub use fitted::{
    BlankLineReport, BoardReport, CutListReport, FindingReport, FitReport, FurnitureReport, MarkReport, NotchReport,
    OffcutReport, PartReport, PipeReport, PlacedReport, RowReport, StandingReport,
};
pub use judged::{LoadReport, LumberReport, SawnReport, SawnStationReport, WatchOutReport};
pub use text::text;

/// The version of the report's fields.
pub const SCHEMA: u32 = 1;

/// How many stations a report has where nothing else is asked for.
pub const USUAL_STATIONS: usize = 33;

/// The fewest stations: both ends.
pub const FEWEST_STATIONS: usize = 2;

/// The most stations for one design.
pub const MOST_STATIONS: usize = 20_000;

/// A whole project.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Report {
    /// [`SCHEMA`].
    pub schema: u32,
    /// The project's name.
    pub project: String,
    /// Its designs, in order.
    pub designs: Vec<DesignReport>,
    /// What counted as meeting at the seams.
    pub seam_limits: SeamLimitsReport,
    /// Legs and boards together; `null` where only legs are drawn.
    pub furniture: Option<FurnitureReport>,
}

/// What counts as meeting at a seam, and as good and bad: the maker's limits, or else our own choice, judged by eye.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct SeamLimitsReport {
    /// Lines of layers meet within this, mm along the leg.
    pub meet_mm: f64,
    /// Ring lines meet within this share of a ring, whole rings left out.
    pub ring_share: f64,
    /// Ring lines that turn by more than this at the seam do not carry on, degrees.
    pub kink_deg: f64,
    /// Ring lines that jump by no more than this share of a ring are good, by more than the second bad.
    pub jump_of_ring: [f64; 2],
    /// Colours that differ by no more than this are good, by more than the second bad, CIEDE2000.
    pub colour: [f64; 2],
}

impl From<WoodLimits> for SeamLimitsReport {
    fn from(limits: WoodLimits) -> SeamLimitsReport {
        let WoodLimits { meet_mm, ring_share, kink_deg, good_jump, bad_jump, good_colour, bad_colour, .. } = limits;
        let (jump_of_ring, colour) = ([good_jump, bad_jump], [good_colour, bad_colour]);
        SeamLimitsReport { meet_mm, ring_share, kink_deg, jump_of_ring, colour }
    }
}

/// One leg.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DesignReport {
    /// Its name.
    pub name: String,
    /// Its blank, without the spare length.
    pub blank: BlankReport,
    /// Its volume, mm³: the blank's own.
    pub volume_mm3: f64,
    /// Its centre of mass (u, v, s), mm, for wood of one density.
    pub centre_of_mass_mm: [f64; 3],
    /// Its core: the straight column of unbroken grain from top to foot, across u and v, mm.
    pub core_mm: [f64; 2],
    /// What is measured at evenly spaced stations, both ends among them.
    pub stations: Vec<StationReport>,
    /// The tightest bend of each cut.
    pub tightest: Tightest,
    /// The four seams, in order.
    pub seams: Vec<SeamReport>,
    /// The letter on its paper and its pieces.
    pub letter: String,
    /// Spare length beyond the finished top and foot, mm.
    pub spare_mm: [f64; 2],
    /// The leg as sawn; `null` where no saw is told.
    pub sawn: Option<SawnReport>,
    /// What to look at, those still open first, the worst first.
    pub watch_outs: Vec<WatchOutReport>,
    /// What it bears by the model; `null` where no load is told.
    pub load: Option<LoadReport>,
    /// The blank as lumber.
    pub lumber: LumberReport,
    /// The knots marked on the blank, in their list's order, and where each ends up.
    pub knots: Vec<KnotReport>,
    /// What is on the wood: bare or oiled.
    pub finish: String,
    /// Pipe hole, inside piece, notches; `null` where nothing is fitted.
    pub fit: Option<FitReport>,
    /// How the four faces of timber are sawn; `null` of a glue-up.
    pub faces_sawn: Option<Vec<FaceSawnReport>>,
    /// The core's share of the section and of its bending strength, 0 to 1.
    pub core_share: [f64; 2],
}

/// A knot or other blemish of the blank.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct KnotReport {
    /// What it is: knot, hole or stain.
    pub kind: String,
    /// The face it is marked on, 1 to 4.
    pub face: u8,
    /// Its middle: from the finished top, and across the face from arris 1 (faces 1 and 3) or arris 2 (2 and 4), mm.
    pub middle_mm: [f64; 2],
    /// How wide it is and how deep it goes, mm.
    pub size_and_depth_mm: [f64; 2],
    /// How far it moves toward the foot, and across, for each length inward.
    pub slope: [f64; 2],
    /// Where it ends up, in words.
    pub ends: String,
    /// The stretches of the sides on which it shows.
    pub shows: Vec<KnotShowsReport>,
}

/// A stretch of a side on which a knot shows.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct KnotShowsReport {
    /// The side, 1 to 4.
    pub side: u8,
    /// From and to, mm from the top.
    pub place_mm: [f64; 2],
    /// How near to the seam it comes and how far from it, mm across the side.
    pub from_seam_mm: [f64; 2],
    /// Whether it touches an edge of the side.
    pub at_edge: bool,
}

/// The sizes of a blank.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BlankReport {
    /// W, across face 1, mm.
    pub width_mm: f64,
    /// D, across face 2, mm.
    pub depth_mm: f64,
    /// L, from the finished top to the finished foot, mm.
    pub length_mm: f64,
}

/// The leg at one distance from the top.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StationReport {
    /// From the finished top, mm.
    pub s_mm: f64,
    /// The first cut's line as drawn, mm from arris 1.
    pub a_mm: f64,
    /// The second cut's line as drawn, mm from arris 2.
    pub b_mm: f64,
    /// da/ds.
    pub a_slope: f64,
    /// db/ds.
    pub b_slope: f64,
    /// Curvature of a, per mm, signed.
    pub a_curvature_per_mm: f64,
    /// Curvature of b, per mm, signed.
    pub b_curvature_per_mm: f64,
    /// The smaller of the two angles at which neighbouring sides meet inside the wood, degrees.
    pub edge_angle_deg: f64,
    /// W and D of the leg measured square to each curve, mm.
    pub thickness_mm: [f64; 2],
    /// The level section: pieces 1 to 4, each a polygon of four corners (u, v), mm.
    pub pieces: [[[f64; 2]; 4]; 4],
    /// How steeply fibres that run along the blank come out of the sides, both cuts together, rise per length.
    pub grain_slope: f64,
}

/// The tightest bend of each cut.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Tightest {
    /// Of the first cut.
    pub first: BendReport,
    /// Of the second cut.
    pub second: BendReport,
}

/// The tightest bend of one cut over the finished length, at the continuous extremum of its curvature, not only at the
/// stations.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BendReport {
    /// Its radius, mm; `null` for a straight line.
    pub radius_mm: Option<f64>,
    /// Where it is, mm from the top; `null` for a straight line.
    pub s_mm: Option<f64>,
}

/// One seam: do the lines of the wood meet, is it the same wood on both sides, does the pattern carry on?
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SeamReport {
    /// Its number, 1 to 4.
    pub seam: u8,
    /// Share of the length over which the lines of layers or rings meet.
    pub lines_meet: f64,
    /// Of photos of timber: the share of the length along which no ring lines can be made out; `lines_meet` is of the rest.
    #[serde(skip_serializing_if = "is_nothing")]
    pub lines_unseen: f64,
    /// Share of the length over which it is the same wood on both sides.
    pub same_wood: f64,
    /// Share of the length over which both sides together look like one uninterrupted pattern.
    pub pattern_carries_on: f64,
    /// Where one of these is not so, from the top; the first ones where there are very many.
    pub places: Vec<PlaceReport>,
    /// How many such places there are, listed or not.
    pub places_in_all: usize,
    /// Of photos: the share of the length of which nothing is known, because a face has no photo there; the other shares are
    /// of the rest, and 0 where there is none.
    #[serde(skip_serializing_if = "is_nothing")]
    pub unknown: f64,
    /// How well it looks.
    pub looks: LooksReport,
    /// Of layers and blocks: how much of their regularity survives on the side of this number.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub regularity: Option<RegularityReport>,
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde asks it so")]
fn is_nothing(share: &f64) -> bool {
    *share == 0.0
}

/// How much of a glue-up's regularity survives on a side, as a share of its area above what chance would give, 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct RegularityReport {
    /// Like things stay together, whatever wood they are of.
    pub in_order: f64,
    /// Everything is of the wood that the glue-up's rule, carried on across the seam, says.
    pub as_ruled: f64,
}

impl From<Regularity> for RegularityReport {
    fn from(Regularity { in_order, as_ruled }: Regularity) -> RegularityReport {
        RegularityReport { in_order, as_ruled }
    }
}

/// How well a seam looks, as shares of its length, 0 to 1, and where it looks best and worst.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LooksReport {
    /// Nothing catches the eye.
    pub good: f64,
    /// Seen from near.
    pub doubtful: f64,
    /// Seen from afar.
    pub bad: f64,
    /// The longest good place, from and to, mm from the top.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub longest_good_mm: Option<[f64; 2]>,
    /// The worst jump of a line, mm: of layers and blocks along the leg, of rings across the seam.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub worst_jump_mm: Option<f64>,
    /// Of rings, the same as a share of the ring's width there.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub worst_jump_of_ring: Option<f64>,
    /// Where, mm from the top.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub worst_jump_at_mm: Option<f64>,
    /// Of rings, the largest difference of the two edges' colours, CIEDE2000.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub worst_colour: Option<f64>,
    /// Where, mm from the top.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub worst_colour_at_mm: Option<f64>,
}

/// A stretch of a seam where something does not fit.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PlaceReport {
    /// Where it begins, mm from the top.
    pub from_mm: f64,
    /// Where it ends, mm from the top.
    pub to_mm: f64,
    /// What does not fit, in words.
    pub what: String,
}

/// Why there is no report.
#[derive(Debug, Error)]
pub enum ReportError {
    /// Not a count of stations that can be measured.
    #[error("{0} stations cannot be measured: {FEWEST_STATIONS} to {MOST_STATIONS} can")]
    Stations(usize),
    /// The project is not sound.
    #[error(transparent)]
    Project(#[from] ProjectError),
    /// A design makes no leg.
    #[error("design {design}: {source}")]
    Leg {
        /// The design's number, from 1.
        design: usize,
        /// Why not.
        source: LegError,
    },
    /// A number came out infinite or as no number at all: a fault of this program.
    #[error("design {design}: {what} came out as {value}, which is a fault of this program: please report it")]
    NotFinite {
        /// The design's number, from 1.
        design: usize,
        /// Which number.
        what: &'static str,
        /// What it came out as.
        value: f64,
    },
    /// The report could not be written as text.
    #[error("the report cannot be written: {0}")]
    Json(#[from] serde_json::Error),
}

/// Measures every design of a project at `stations` evenly spaced stations, both ends among them.
///
/// # Errors
/// [`ReportError`] when the project is not sound or `stations` is not within [`FEWEST_STATIONS`] to [`MOST_STATIONS`].
pub fn report(project: &Project, stations: usize) -> Result<Report, ReportError> {
    if !(FEWEST_STATIONS..=MOST_STATIONS).contains(&stations) {
        return Err(ReportError::Stations(stations));
    }
    project.check()?;
    let designs = project.designs.iter().enumerate();
    let designs =
        designs.map(|(place, design)| measure(project, design, place + 1, stations)).collect::<Result<_, _>>()?;
    // A design that makes no leg was told above.
    let furniture = fitted::furniture(project).map_err(|source| ReportError::Leg { design: 1, source })?;
    if let Some(furniture) = &furniture {
        finite("the furniture", &fitted::furniture_figures(furniture), 1)?;
    }
    let seam_limits = project.wood_limits.into();
    Ok(Report { schema: SCHEMA, project: project.name.clone(), designs, seam_limits, furniture })
}

/// The report as one line of JSON and a line break. The same report gives the same text, byte for byte.
///
/// # Errors
/// [`ReportError::Json`] when the writer fails, which it has no reason to.
pub fn json(report: &Report) -> Result<String, ReportError> {
    Ok(serde_json::to_string(report)? + "\n")
}

fn measure(project: &Project, design: &Design, number: usize, stations: usize) -> Result<DesignReport, ReportError> {
    let leg = design.leg().map_err(|source| ReportError::Leg { design: number, source })?;
    let places = leg.uniform_stations(stations);
    let (sawn, watch_outs, load, lumber) = judged::judged(project, design, &leg, &places);
    let stations = places.iter().map(|s| measure_station(&leg, *s)).collect();
    let bend = |bend: Option<Bend>| BendReport {
        radius_mm: bend.map(|bend| bend.radius_mm),
        s_mm: bend.map(|bend| bend.s_mm),
    };
    let core = Core::of(&leg);
    let measured = DesignReport {
        name: design.name.clone(),
        blank: BlankReport { width_mm: leg.width_mm, depth_mm: leg.depth_mm, length_mm: leg.length_mm },
        volume_mm3: leg.volume_mm3(),
        centre_of_mass_mm: leg.centre_of_mass_mm(),
        core_mm: leg.core_mm(),
        core_share: [core.share, core.bending_share],
        stations,
        tightest: Tightest { first: bend(leg.first.tightest()), second: bend(leg.second.tightest()) },
        seams: seams(&leg, &design.wood, &project.wood_limits),
        letter: design.letter.to_string(),
        spare_mm: [leg.spare_top_mm, leg.spare_foot_mm],
        sawn,
        watch_outs,
        load,
        lumber,
        knots: design.knots.iter().map(|one| knot(one, &leg)).collect(),
        finish: design.finish.name().to_owned(),
        fit: fitted::fit(design, &leg, project.units),
        faces_sawn: faces_sawn::faces_sawn(design, project.wood_limits.sawn_deg()),
    };
    check_finite(&measured, number)?;
    Ok(measured)
}

fn knot(knot: &Knot, leg: &Leg) -> KnotReport {
    let ends = knot.ends(leg);
    KnotReport {
        kind: knot.kind.name().to_owned(),
        face: knot.face.number(),
        middle_mm: [knot.from_top.mm(), knot.from_arris.mm()],
        size_and_depth_mm: [knot.size.mm(), knot.depth.mm()],
        slope: [knot.slope_along, knot.slope_across],
        ends: ends.in_words(),
        shows: ends
            .shows
            .iter()
            .map(|shows| KnotShowsReport {
                side: shows.side.number(),
                place_mm: [shows.from_mm, shows.to_mm],
                from_seam_mm: shows.from_seam_mm,
                at_edge: shows.at_edge,
            })
            .collect(),
    }
}

fn measure_station(leg: &Leg, s: f64) -> StationReport {
    let Station {
        s_mm,
        a_mm,
        b_mm,
        a_slope,
        b_slope,
        a_curvature_per_mm,
        b_curvature_per_mm,
        edge_angle_deg,
        thickness_mm,
        grain_slope,
    } = leg.station(s);
    StationReport {
        s_mm,
        a_mm,
        b_mm,
        a_slope,
        b_slope,
        a_curvature_per_mm,
        b_curvature_per_mm,
        edge_angle_deg,
        thickness_mm,
        pieces: leg.section(s).pieces,
        grain_slope,
    }
}

fn seams(leg: &Leg, wood: &Wood, limits: &WoodLimits) -> Vec<SeamReport> {
    let meet = limits.seams();
    let [[two, four], [one, three]] = Cut::ALL.map(|cut| {
        let (answers, reading) = compare_and_read(leg, wood, cut, &meet, &limits.rating());
        let of_pair = (looks(&reading), regularity(leg, wood, cut).map(RegularityReport::from));
        answers.map(|answer| seam(of_pair.clone(), answer))
    });
    vec![one, two, three, four]
}

fn looks(reading: &PairReading) -> LooksReport {
    let [good, doubtful, bad] = Rating::ALL.map(|rating| reading.share(rating));
    let (jump, colour) = (reading.worst_jump(), reading.worst_colour());
    LooksReport {
        good,
        doubtful,
        bad,
        longest_good_mm: reading.longest_good().map(|place| [place.from_mm, place.to_mm]),
        worst_jump_mm: jump.map(|jump| jump.mm),
        worst_jump_of_ring: jump.and_then(|jump| jump.ring_share),
        worst_jump_at_mm: jump.map(|jump| jump.at_mm),
        worst_colour: colour.map(|[difference, _]| difference),
        worst_colour_at_mm: colour.map(|[_, at]| at),
    }
}

fn seam((looks, regularity): (LooksReport, Option<RegularityReport>), answer: SeamAnswer) -> SeamReport {
    let place = |place: cornerwise_wood::Place| PlaceReport {
        from_mm: place.from_mm,
        to_mm: place.to_mm,
        what: place.what.to_string(),
    };
    SeamReport {
        seam: answer.seam.number(),
        lines_meet: answer.lines_meet,
        same_wood: answer.same_wood,
        pattern_carries_on: answer.pattern_carries_on,
        places: answer.places.into_iter().map(place).collect(),
        places_in_all: answer.places_in_all,
        lines_unseen: answer.lines_unseen,
        unknown: answer.unknown,
        looks,
        regularity,
    }
}

/// The JSON writer would write a number that is not finite as `null`, and nobody would see.
fn finite(what: &'static str, values: &[f64], design: usize) -> Result<(), ReportError> {
    match values.iter().find(|value| !value.is_finite()) {
        Some(value) => Err(ReportError::NotFinite { design, what, value: *value }),
        None => Ok(()),
    }
}

fn check_finite(design: &DesignReport, number: usize) -> Result<(), ReportError> {
    let check = |what: &'static str, values: &[f64]| finite(what, values, number);
    if let Some(fit) = &design.fit {
        check("the fit", &fitted::fit_figures(fit))?;
    }
    check("the volume", &[design.volume_mm3])?;
    check("the centre of mass", &design.centre_of_mass_mm)?;
    check("the core", &design.core_mm)?;
    check("the core", &design.core_share)?;
    for bend in [&design.tightest.first, &design.tightest.second] {
        check("the tightest bend", &[bend.radius_mm.unwrap_or(0.0), bend.s_mm.unwrap_or(0.0)])?;
    }
    for at in &design.stations {
        check("an offset", &[at.s_mm, at.a_mm, at.b_mm])?;
        check("a slope", &[at.a_slope, at.b_slope, at.grain_slope])?;
        check("a curvature", &[at.a_curvature_per_mm, at.b_curvature_per_mm])?;
        check("an edge angle", &[at.edge_angle_deg])?;
        check("a thickness", &at.thickness_mm)?;
        check("a corner of a section", at.pieces.as_flattened().as_flattened())?;
    }
    for found in &design.watch_outs {
        check("a figure of a watch-out", &found.figures())?;
    }
    if let Some(sawn) = &design.sawn {
        check("the sawn leg", &[sawn.kerf_mm, sawn.least_radius_mm, sawn.volume_mm3, sawn.closing_mm])?;
        check("the sawn leg", &[sawn.lost_mm3, sawn.most_gap_mm])?;
        check("the sawn leg", &sawn.most_step_mm)?;
        check("the sawn leg", sawn.thinnest_wood_mm.as_flattened())?;
        for bend in &sawn.bends {
            check("the sawn leg", &[bend.at_mm, bend.radius_mm, bend.widest_mm])?;
        }
        check("the sawn leg", &sawn.most_step_at_mm)?;
        for at in &sawn.stations {
            check("the sawn leg", &[at.s_mm, at.gap_mm])?;
            check("the sawn leg", &at.size_mm)?;
            check("the sawn leg", &at.thickness_mm)?;
            check("the sawn leg", &at.step_mm)?;
            check("the sawn leg", &at.hollow_mm)?;
            check("the sawn leg", &at.wood_mm)?;
            check("the sawn leg", at.pieces.as_flattened().as_flattened())?;
        }
    }
    if let Some(load) = &design.load {
        check("the load", &[load.bears_n, load.worst_mm, load.buckles_n, load.slenderness])?;
        check("the load", load.used.as_flattened())?;
        check("the load", load.stress_mpa.as_flattened())?;
    }
    check("the lumber", &[design.lumber.blank_kg, design.lumber.board_feet])?;
    for knot in &design.knots {
        check("a knot", &[knot.middle_mm, knot.size_and_depth_mm, knot.slope].concat())?;
        for shows in &knot.shows {
            check("where a knot shows", &[shows.place_mm, shows.from_seam_mm].concat())?;
        }
    }
    for seam in &design.seams {
        check("a share of a seam", &[seam.lines_meet, seam.same_wood, seam.pattern_carries_on])?;
        let looks = &seam.looks;
        check("the looks of a seam", &[looks.good, looks.doubtful, looks.bad])?;
        let worst = [looks.worst_jump_mm, looks.worst_jump_of_ring, looks.worst_colour];
        check("the worst of a seam", &worst.map(|value| value.unwrap_or(0.0)))?;
        for place in &seam.places {
            check("a place of a seam", &[place.from_mm, place.to_mm])?;
        }
    }
    Ok(())
}

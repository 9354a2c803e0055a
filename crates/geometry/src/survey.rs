//! A leg measured at many stations, as drawn and as sawn: what watch-outs and graphs are worked out from.

use crate::fit::Fit;
use crate::once::Once;
use crate::run_out::kerf_run_outs;
use crate::{Bend, Cut, Leg, Load, LoadResult, Saw, SawnLeg, SawnStation, Station, Strengths};

/// A leg, measured.
#[derive(Clone, Debug, PartialEq)]
pub struct Survey {
    leg: Leg,
    saw: Option<Saw>,
    sawn: Option<SawnLeg>,
    stations: Vec<Surveyed>,
    bends: [Vec<Bend>; 2],
    leaves: bool,
    load: Option<Loaded>,
    fit: Fit,
}

/// A load, the wood that bears it and what the leg bears.
#[derive(Clone, Debug, PartialEq)]
struct Loaded {
    load: Load,
    strengths: Strengths,
    /// As sawn where a saw is told.
    result: LoadResult,
    /// As drawn, where a saw is told: few ask for it.
    drawn: Once<LoadResult>,
}

/// A leg at one station.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Surveyed {
    /// As drawn.
    pub drawn: Station,
    /// As sawn, where a saw is told.
    pub sawn: Option<SawnStation>,
}

/// Places this near to one another are measured once, mm.
const SAME_MM: f64 = 1e-6;

impl Survey {
    /// Measures a leg, and what a saw makes of it where one is told, at `count` even stations and at every crest, bend and
    /// sharp point.
    pub fn new(leg: &Leg, saw: Option<&Saw>, count: usize) -> Survey {
        let mut places = leg.uniform_stations(count);
        for cut in Cut::ALL {
            let line = leg.line(cut);
            places.extend(line.crests());
            places.extend(line.tightest().map(|bend| bend.s_mm));
            // Just below a sharp point the line has its other slope.
            places.extend(line.sharp_point().into_iter().flat_map(|s| [s, s + 2.0 * SAME_MM]));
        }
        places.retain(|s| (0.0..=leg.length_mm).contains(s));
        places.sort_by(f64::total_cmp);
        places.dedup_by(|next, kept| *next - *kept <= SAME_MM);
        let sawn = saw.map(|saw| SawnLeg::new(leg, saw));
        let stations = places.iter().map(|s| measure(leg, sawn.as_ref(), *s)).collect();
        let bends = Cut::ALL.map(|cut| leg.line(cut).bends());
        let taken_mm = sawn.as_ref().map_or(0.0, SawnLeg::taken_mm);
        let leaves = Cut::ALL.into_iter().any(|cut| !kerf_run_outs(leg, cut, taken_mm).is_empty());
        Survey { leg: leg.clone(), saw: saw.cloned(), sawn, stations, bends, leaves, load: None, fit: Fit::default() }
    }

    /// The same survey of a leg that is fitted: a load finds the wood that notches and a pipe hole leave.
    #[must_use]
    pub fn with_fit(self, fit: &Fit) -> Survey {
        Survey { fit: fit.clone(), ..self }
    }

    /// The same survey with a load on the leg.
    #[must_use]
    pub fn with_load(mut self, load: Load, strengths: &Strengths) -> Survey {
        let result = load.on(&self, strengths);
        self.load = Some(Loaded { load, strengths: *strengths, result, drawn: Once::default() });
        self
    }

    /// What is fitted to it.
    pub fn fit(&self) -> &Fit {
        &self.fit
    }

    /// How far the chamfer of the pipe hole reaches from the axis, mm; 0 without one.
    pub fn pipe_chamfer_mm(&self) -> f64 {
        self.fit.chamfer_mm()
    }

    /// The leg as drawn.
    pub fn leg(&self) -> &Leg {
        &self.leg
    }

    /// The saw it goes through, where one is told.
    pub fn saw(&self) -> Option<&Saw> {
        self.saw.as_ref()
    }

    /// The leg as that saw gives it.
    pub fn sawn(&self) -> Option<&SawnLeg> {
        self.sawn.as_ref()
    }

    /// What was measured, in order from the top.
    pub fn stations(&self) -> &[Surveyed] {
        &self.stations
    }

    /// Every bend of a cut's line, in order from the top.
    pub fn bends(&self, cut: Cut) -> &[Bend] {
        &self.bends[cut.index()]
    }

    /// Whether a cut, or its kerf where a saw is told, leaves the blank anywhere.
    pub fn leaves_blank(&self) -> bool {
        self.leaves
    }

    /// (how thin in mm, where from the top in mm) for the wood of pieces 1 to 4 at their thinnest: as sawn where a saw is told,
    /// beside the pipe hole where there is one.
    pub fn thinnest_of_pieces(&self) -> [[f64; 2]; 4] {
        crate::watch_outs::thin_wood::thinnest_of_pieces(self)
    }

    /// The load on it and what it bears, as sawn where a saw is told; nothing where no load is told.
    pub fn load(&self) -> Option<(&Load, &LoadResult)> {
        self.load.as_ref().map(|Loaded { load, result, .. }| (load, result))
    }

    /// What it would bear as drawn, where a load is told.
    pub fn load_as_drawn(&self) -> Option<&LoadResult> {
        let Loaded { load, strengths, result, drawn } = self.load.as_ref()?;
        if self.saw.is_none() {
            return Some(result);
        }
        Some(drawn.get(|| load.on_drawn(self, strengths)))
    }

    /// The leg at any other place.
    pub fn measure(&self, s: f64) -> Surveyed {
        measure(&self.leg, self.sawn.as_ref(), s)
    }
}

impl Surveyed {
    /// Thickness square to each curve, mm: as sawn where a saw is told.
    pub fn thickness_mm(&self) -> [f64; 2] {
        self.sawn.map_or(self.drawn.thickness_mm, |sawn| sawn.thickness_mm)
    }
}

fn measure(leg: &Leg, sawn: Option<&SawnLeg>, s: f64) -> Surveyed {
    let (a, b) = (leg.first.spot(s), leg.second.spot(s));
    Surveyed { drawn: leg.station_from(s, a.at, b.at), sawn: sawn.map(|sawn| sawn.at_spots(&a, &b)) }
}

//! What about a design a maker should look at: geometry's watch-outs, with the project's own saw, limits, load and wood.

use cornerwise_geometry::{Concern, Leg, Strengths, Survey, WatchOut, Weight, watch_outs};
use cornerwise_wood::{SpeciesRow, Wood};
use serde::{Deserialize, Serialize};

use crate::{Design, Project};

/// At how many even stations a leg is surveyed.
pub const SURVEYED: usize = 512;

/// By how much a figure may get worse before a watch-out that was accepted is told again, as a share of it.
const WORSE_SHARE: f64 = 0.02;

/// A watch-out that the maker has accepted, and why.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Accepted {
    /// What it is about.
    pub concern: Concern,
    /// Why it is accepted, in the maker's words. At most [`crate::MAX_NAME_CHARS`] characters.
    pub reason: String,
    /// Its figure when it was accepted. Where the leg becomes worse, it is told again.
    pub value: f64,
}

/// A watch-out about a design.
#[derive(Clone, Debug, PartialEq)]
pub struct Judged {
    /// What is found.
    pub watch_out: WatchOut,
    /// Why the maker has accepted it, where that still holds.
    pub accepted: Option<String>,
}

impl Judged {
    /// Whether it asks for the maker's attention: a watch-out that is not accepted.
    pub fn is_open(&self) -> bool {
        self.watch_out.weight == Weight::WatchOut && self.accepted.is_none()
    }
}

impl Project {
    /// A design of this project measured at `count` even stations, as drawn, as sawn and under its load, as far as they are
    /// told.
    pub fn survey(&self, design: &Design, leg: &Leg, count: usize) -> Survey {
        let survey = Survey::new(leg, self.saw.as_ref(), count).with_fit(&design.fit);
        match design.load {
            Some(load) => survey.with_load(load, &strengths(&design.wood)),
            None => survey,
        }
    }

    /// Everything about a surveyed design that a maker should look at: those still open first, the worst first.
    pub fn judge(&self, design: &Design, survey: &Survey) -> Vec<Judged> {
        let found = watch_outs(survey, &self.limits, self.units);
        let mut judged: Vec<Judged> = found
            .into_iter()
            .map(|watch_out| Judged { accepted: design.accepts(&watch_out).map(str::to_owned), watch_out })
            .collect();
        judged.sort_by_key(|one| one.accepted.is_some());
        judged
    }
}

impl Design {
    /// Why the maker has accepted a watch-out, where that still holds.
    fn accepts(&self, found: &WatchOut) -> Option<&str> {
        let accepted = self.accepted.iter().find(|one| one.concern == found.concern)?;
        let slack = WORSE_SHARE * accepted.value.abs() + 1e-9;
        let allowed = if found.concern.less_is_worse() { accepted.value - slack } else { accepted.value + slack };
        (!found.concern.worse(found.value, allowed)).then_some(accepted.reason.as_str())
    }

    /// What its blank weighs, spare length included, kg.
    pub fn blank_kg(&self) -> f64 {
        let blank = &self.blank;
        let length = blank.length.mm() + blank.spare_top.mm() + blank.spare_foot.mm();
        blank.width.mm() * blank.depth.mm() * length * 1e-9 * density_kg_m3(&self.wood)
    }
}

/// The published strengths of a wood: of a laminated or stacked blank, of its weakest part in each.
pub fn strengths(wood: &Wood) -> Strengths {
    let mut least =
        Strengths { bending_mpa: f64::INFINITY, stiffness_mpa: f64::INFINITY, compression_mpa: f64::INFINITY };
    for row in rows(wood) {
        least.bending_mpa = least.bending_mpa.min(row.bending_mpa);
        least.stiffness_mpa = least.stiffness_mpa.min(row.stiffness_mpa);
        least.compression_mpa = least.compression_mpa.min(row.compression_mpa);
    }
    least
}

fn rows(wood: &Wood) -> Vec<&SpeciesRow> {
    match wood {
        Wood::Timber(timber) => vec![timber.species.row()],
        Wood::Photos(photos) => vec![photos.species.row()],
        Wood::Layers(layers) => layers.layers.iter().map(|layer| layer.species.row()).collect(),
        Wood::Blocks(blocks) => {
            blocks.columns.iter().flat_map(|column| &column.blocks).map(|block| block.species.row()).collect()
        }
    }
}

/// What a cubic metre of a blank weighs, kg: layers and blocks by how thick or high they are, columns counted alike.
fn density_kg_m3(wood: &Wood) -> f64 {
    let mean = |parts: &mut dyn Iterator<Item = (f64, &SpeciesRow)>| {
        let (size, weight) =
            parts.fold((0.0, 0.0), |(size, weight), (mm, row)| (size + mm, weight + mm * row.density_kg_m3()));
        weight / f64::max(size, 1e-9)
    };
    match wood {
        Wood::Timber(timber) => timber.species.row().density_kg_m3(),
        Wood::Photos(photos) => photos.species.row().density_kg_m3(),
        Wood::Layers(layers) => {
            mean(&mut layers.layers.iter().map(|layer| (layer.thickness.mm(), layer.species.row())))
        }
        Wood::Blocks(blocks) => {
            let all = blocks.columns.iter().flat_map(|column| &column.blocks);
            mean(&mut all.map(|block| (block.height.mm(), block.species.row())))
        }
    }
}

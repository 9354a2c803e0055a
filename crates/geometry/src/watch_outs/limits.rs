//! The limits that watch-outs are held against.

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::Concern;

/// Two steps of one limit.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Limit {
    /// Beyond this: have a look.
    pub look: f64,
    /// Beyond this: watch out.
    pub watch: f64,
}

/// The limits that are a matter of choice; those that follow from the saw or from geometry are not here. All can be set.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Limits {
    /// The core's share of the blank's section.
    pub core_share: Limit,
    /// Thickness square to the curve as a share of the blank.
    pub thickness_share: Limit,
    /// The thinnest wood of a piece, mm.
    pub thin_wood_mm: Limit,
    /// The angle at which sides meet, degrees.
    pub edge_deg: Limit,
    /// The share of the bending strength that the slope of the grain leaves.
    pub strength_left: Limit,
    /// How far the saw is backed out of a pass, mm.
    pub backing_mm: Limit,
    /// Steps at the seams, mm square to the surface.
    pub step_mm: Limit,
    /// How hollow a side may be from a blade that bows, mm square to the surface.
    pub bow_mm: Limit,
    /// How far the blank's corners may be from square and its faces from parallel, degrees.
    pub true_deg: Limit,
    /// What kerf and sanding leave of the blank's width or depth, as a share.
    pub kept_share: Limit,
    /// How far the foot stands aside from below the top, as a share of the blank's smaller side.
    pub foot_share: Limit,
    /// How far the middle wanders from the line of load, as a share of the blank across the way it wanders.
    pub wander_share: Limit,
    /// How many times the load asked about the leg bears.
    pub bears_times: Limit,
}

/// A limit that is none.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
#[error(
    "the limit of \"{concern}\" is {look} (have a look) and {watch} (watch out): both must be 0 to 10000, the second the worse"
)]
pub struct LimitsError {
    /// What it limits.
    pub concern: &'static str,
    /// Have a look.
    pub look: f64,
    /// Watch out.
    pub watch: f64,
}

impl Default for Limits {
    fn default() -> Limits {
        let limit = |look: f64, watch: f64| Limit { look, watch };
        Limits {
            core_share: limit(0.10, 0.02),
            thickness_share: limit(0.75, 0.67),
            thin_wood_mm: limit(5.0, 3.0),
            edge_deg: limit(70.0, 60.0),
            strength_left: limit(0.25, 0.14),
            backing_mm: limit(50.8, 10_000.0),
            step_mm: limit(0.2, 0.4),
            bow_mm: limit(0.15, 0.4),
            true_deg: limit(0.2, 0.5),
            kept_share: limit(0.95, 0.85),
            foot_share: limit(0.5, 1.0),
            wander_share: limit(0.5, 0.8),
            bears_times: limit(1.5, 1.0),
        }
    }
}

impl Limits {
    /// The limit of a concern; none where it follows from the saw or from geometry.
    pub fn of(&self, concern: Concern) -> Option<Limit> {
        match concern {
            Concern::Core => Some(self.core_share),
            Concern::Thickness => Some(self.thickness_share),
            Concern::ThinWood => Some(self.thin_wood_mm),
            Concern::EdgeAngle => Some(self.edge_deg),
            Concern::ShortGrain => Some(self.strength_left),
            Concern::StopsInside => Some(self.backing_mm),
            Concern::SeamStep => Some(self.step_mm),
            Concern::BladeBow => Some(self.bow_mm),
            Concern::OutOfTrue => Some(self.true_deg),
            Concern::KerfLoss => Some(self.kept_share),
            Concern::FootOffset => Some(self.foot_share),
            Concern::Wander => Some(self.wander_share),
            Concern::Overload => Some(self.bears_times),
            Concern::LeavesBlank | Concern::Bend | Concern::LineBreaks | Concern::BlankOnSaw => None,
        }
    }

    /// The limit of a concern, to be changed.
    pub fn of_mut(&mut self, concern: Concern) -> Option<&mut Limit> {
        match concern {
            Concern::Core => Some(&mut self.core_share),
            Concern::Thickness => Some(&mut self.thickness_share),
            Concern::ThinWood => Some(&mut self.thin_wood_mm),
            Concern::EdgeAngle => Some(&mut self.edge_deg),
            Concern::ShortGrain => Some(&mut self.strength_left),
            Concern::StopsInside => Some(&mut self.backing_mm),
            Concern::SeamStep => Some(&mut self.step_mm),
            Concern::BladeBow => Some(&mut self.bow_mm),
            Concern::OutOfTrue => Some(&mut self.true_deg),
            Concern::KerfLoss => Some(&mut self.kept_share),
            Concern::FootOffset => Some(&mut self.foot_share),
            Concern::Wander => Some(&mut self.wander_share),
            Concern::Overload => Some(&mut self.bears_times),
            Concern::LeavesBlank | Concern::Bend | Concern::LineBreaks | Concern::BlankOnSaw => None,
        }
    }

    /// Checks that every limit is one.
    ///
    /// # Errors
    /// [`LimitsError`] names the first that is not, NaN included.
    pub fn check(&self) -> Result<(), LimitsError> {
        for concern in Concern::ALL {
            let Some(Limit { look, watch }) = self.of(concern) else { continue };
            let sound = [look, watch].iter().all(|value| (0.0..=10_000.0).contains(value));
            if !sound || concern.worse(look, watch) {
                return Err(LimitsError { concern: concern.title(), look, watch });
            }
        }
        Ok(())
    }
}

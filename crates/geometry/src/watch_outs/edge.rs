//! The angle at which neighbouring sides meet.

use super::{Concern, Limits, WatchOut, found, places, worst};
use crate::Survey;

pub(super) fn check(survey: &Survey, limits: &Limits) -> Option<WatchOut> {
    let limit = limits.edge_deg;
    let worst = worst(survey, Concern::EdgeAngle, limit, |at| at.drawn.edge_angle_deg)?;
    let verdict = format!(
        "Two sides meet at {:.0}°: where both cuts are steep at once the edge is sharp, and it chips.{}",
        worst.value,
        places(&worst)
    );
    found(Concern::EdgeAngle, worst, limit, None, verdict)
}

//! The runs of the saw, in the order they are made.

use crate::{Cut, End, Leg};

/// One run of the saw along a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pass {
    /// Its number on the paper, from 1.
    pub number: usize,
    /// The line it follows.
    pub cut: Cut,
    /// The end of the blank where the saw enters.
    pub enters: End,
    /// Where it stops, mm from the top, at a sharp point; `None` when it leaves at the other end.
    pub stops_at: Option<f64>,
}

/// Where the saw stops on a cut, mm from the top: at a sharp point strictly inside what is sawn, spare length included.
/// Beyond the ends of the blank there is no wood to stop in.
pub fn sharp_point_in_wood(leg: &Leg, cut: Cut) -> Option<f64> {
    let (from, to) = (-leg.spare_top_mm, leg.length_mm + leg.spare_foot_mm);
    leg.line(cut).sharp_point().filter(|s| from < *s && *s < to)
}

/// All passes of a leg. A line with a sharp point takes two, one from each end; any other takes one, from the top.
pub fn passes(leg: &Leg) -> Vec<Pass> {
    let mut passes = Vec::new();
    for cut in Cut::ALL {
        let stops_at = sharp_point_in_wood(leg, cut);
        let ends: &[End] = if stops_at.is_some() { &End::ALL } else { &[End::Top] };
        for enters in ends {
            passes.push(Pass { number: passes.len() + 1, cut, enters: *enters, stops_at });
        }
    }
    passes
}

//! A leg as it stands among others.

use super::body::{Body, BodyPart, Placed, Wall};
use crate::camera::sin_cos;
use crate::fit::Fit;
use crate::{Cut, Leg, Piece};

/// A leg as it stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StandingLeg<'a> {
    /// The leg; mirrored already where it is of the other hand.
    pub leg: &'a Leg,
    /// What is fitted to it; its inside piece is the one that faces the middle here.
    pub fit: &'a Fit,
    /// Where its axis stands, mm.
    pub axis_mm: [f64; 2],
    /// How far it is turned from u toward v, degrees.
    pub turn_deg: f64,
    /// How high its foot stands above the floor, mm.
    pub foot_above_mm: f64,
}

/// Levels of a leg that is to stand among others, mm from its top: within `tolerance_mm` of both lines, no slab longer than
/// `longest_mm`, and the ends of all notches and every place where a saw line crosses the pipe's chamfer among them.
pub fn leg_levels(leg: &Leg, fit: &Fit, tolerance_mm: f64, longest_mm: f64) -> Vec<f64> {
    let mut levels = leg.stations_within(tolerance_mm);
    levels.extend(fit.notches.iter().flat_map(|notch| notch.span_mm()));
    let chamfer = fit.chamfer_mm();
    if chamfer > 0.0 {
        for cut in Cut::ALL {
            for bound in [chamfer, leg.across_mm(cut) - chamfer] {
                levels.extend(leg.line(cut).crossings(bound));
            }
        }
        levels.extend(corner_crossings(leg, chamfer));
    }
    levels.retain(|s| (0.0..=leg.length_mm).contains(s));
    levels.sort_by(f64::total_cmp);
    // Ends of notches are exact; of two levels that are nearly one, theirs stays.
    let exact = |s: f64| s == 0.0 || s == leg.length_mm || fit.notches.iter().any(|n| n.span_mm().contains(&s));
    let mut kept: Vec<f64> = Vec::with_capacity(levels.len());
    for s in levels {
        match kept.last_mut() {
            Some(last) if s - *last <= 1e-6 => {
                if exact(s) && !exact(*last) {
                    *last = s;
                }
            }
            _ => kept.push(s),
        }
    }
    let mut filled: Vec<f64> = Vec::with_capacity(kept.len());
    for s in kept {
        if let Some(last) = filled.last().copied() {
            let parts = ((s - last) / longest_mm.max(0.1)).ceil().clamp(1.0, 10_000.0) as usize;
            filled.extend((1..parts).map(|part| last + (s - last) * part as f64 / parts as f64));
        }
        filled.push(s);
    }
    filled
}

/// Where a chamfer begins or ends to take the whole of a piece: its two reaches are together as long as the chamfer's leg.
/// Only a piece smaller than the chamfer has such places; they are found between close stations by halving.
fn corner_crossings(leg: &Leg, chamfer: f64) -> Vec<f64> {
    const CLOSE: usize = 1024;
    let stations = leg.uniform_stations(CLOSE);
    let mut found = Vec::new();
    for piece in Piece::ALL {
        let over = |s: f64| {
            let [u, v] = piece.reach(leg.width_mm, leg.depth_mm, leg.a(s), leg.b(s));
            u.abs() + v.abs() - chamfer
        };
        for pair in stations.windows(2) {
            let (mut lo, mut hi) = (pair[0], pair[1]);
            let below = over(lo) < 0.0;
            if below == (over(hi) < 0.0) {
                continue;
            }
            for _ in 0..60 {
                let middle = f64::midpoint(lo, hi);
                if (over(middle) < 0.0) == below { lo = middle } else { hi = middle }
            }
            found.push(f64::midpoint(lo, hi));
        }
    }
    found
}

/// The bodies of a leg in one place: three whole pieces and the kept lengths of the inside one.
pub fn leg_bodies(standing: &StandingLeg<'_>, place: usize, levels: &[f64]) -> Vec<Body> {
    leg_bodies_parted(standing, place, levels, [0.0, 0.0])
}

/// The same before glue-up: every piece is drawn out of the axis into its own quadrant, by so much along u and along v, mm.
/// Pieces 1 and 2 are one half of the leg, 3 and 4 the other: v alone parts the halves.
pub fn leg_bodies_parted(standing: &StandingLeg<'_>, place: usize, levels: &[f64], parted_mm: [f64; 2]) -> Vec<Body> {
    let StandingLeg { leg, fit, axis_mm, turn_deg, foot_above_mm } = *standing;
    let (sin, cos) = sin_cos(turn_deg);
    let placed = Placed {
        axis: axis_mm,
        cos,
        sin,
        top_s: -leg.length_mm - foot_above_mm,
        width_mm: leg.width_mm,
        depth_mm: leg.depth_mm,
        parted: parted_mm.map(|mm| mm > 0.0),
    };
    let whole = [[0.0, leg.length_mm]];
    let kept = fit.crosscut(leg).kept_mm(leg);
    let lines: Vec<[f64; 2]> = levels.iter().map(|s| [leg.a(*s), leg.b(*s)]).collect();
    let mut bodies = Vec::with_capacity(3 + kept.len());
    for piece in Piece::ALL {
        let [sign_u, sign_v] = piece.quadrant();
        let placed = Placed { axis: placed.out([sign_u * parted_mm[0], sign_v * parted_mm[1]]), ..placed };
        let spans: &[[f64; 2]] = if piece == fit.inside { &kept } else { &whole };
        for (length, span) in spans.iter().enumerate() {
            let first = levels.partition_point(|s| *s < span[0] - 1e-6);
            let last = levels.partition_point(|s| *s <= span[1] + 1e-6);
            if last < first + 2 {
                continue;
            }
            let mut outlines = Vec::with_capacity(5 * (last - first));
            for [a, b] in &lines[first..last] {
                let outline = piece.outline(leg.width_mm, leg.depth_mm, *a, *b, fit.chamfer_mm());
                outlines.extend(outline.map(|corner| placed.out(corner)));
            }
            let [u, v] = piece.quadrant();
            let walls = if u * v < 0.0 {
                [Wall::AcrossU, Wall::SecondCut, Wall::FirstCut, Wall::AcrossV, Wall::Chamfer]
            } else {
                [Wall::AcrossV, Wall::FirstCut, Wall::SecondCut, Wall::AcrossU, Wall::Chamfer]
            };
            bodies.push(Body {
                part: BodyPart::Piece { place, piece, length },
                levels: levels[first..last].iter().map(|s| s + placed.top_s).collect(),
                corners: 5,
                outlines,
                walls: walls.to_vec(),
                placed: Some(placed),
            });
        }
    }
    bodies
}

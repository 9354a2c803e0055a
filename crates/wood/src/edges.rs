//! Where the lines between layers arrive at a seam.

use kurbo::common::{solve_itp, solve_quadratic};
use kurbo::{CubicBez, ParamCurve};

use crate::runs::Runs;

/// Roots are found to this, as a share of a Bézier segment: far below what any saw can do.
const ROOT_SHARE: f64 = 1e-14;

/// One line between layers arriving at a seam from one side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Edge {
    /// From the top, mm.
    pub s_mm: f64,
    /// The layer above it (toward the top) and below it.
    pub layers: [i64; 2],
}

/// Every line between layers that the line `pieces` (x = s, y = offset) crosses, in order from the top, where the
/// position along the layers' normal is `along * s + across * offset + from`.
///
/// Along one Bézier segment that position is a cubic in the segment's parameter. Between its turning points it is
/// monotone and crosses each line once, so none is missed; each is then found to about 1e-14 of the segment. Where the
/// line only touches a layer, it is crossed there and back.
pub(crate) fn layer_edges(pieces: &[CubicBez], runs: &Runs, along: f64, across: f64, from: f64) -> Vec<Edge> {
    let mut edges = Vec::new();
    let Some(first) = pieces.first() else { return edges };
    let mut now = runs.find(along * first.p0.x + across * first.p0.y + from).number;
    for piece in pieces {
        let [q0, q1, q2, q3] = [piece.p0, piece.p1, piece.p2, piece.p3].map(|p| along * p.x + across * p.y + from);
        let position = |t: f64| {
            let u = 1.0 - t;
            u * u * u * q0 + 3.0 * u * u * t * q1 + 3.0 * u * t * t * q2 + t * t * t * q3
        };
        let (d0, d1, d2) = (q1 - q0, q2 - q1, q3 - q2);
        let mut turns: Vec<f64> = solve_quadratic(d0, 2.0 * (d1 - d0), d0 - 2.0 * d1 + d2)
            .into_iter()
            .filter(|t| *t > 0.0 && *t < 1.0)
            .collect();
        turns.sort_by(f64::total_cmp);
        turns.push(1.0);
        let mut t0 = 0.0;
        for t1 in turns {
            let (at0, at1) = (position(t0), position(t1));
            let next = runs.find(at1).number;
            // Between layers k - 1 and k lies the start of layer k.
            let up = next > now;
            let count = (next - now).abs();
            for i in 0..count {
                let layer = if up { now + 1 + i } else { now - i };
                let line = runs.start(layer);
                let t = crossing(|t| position(t) - line, t0, t1, at0 - line, at1 - line);
                let layers = if up { [layer - 1, layer] } else { [layer, layer - 1] };
                edges.push(Edge { s_mm: piece.eval(t).x, layers });
            }
            now = next;
            t0 = t1;
        }
    }
    edges
}

/// Where `f`, monotone from `f0` at `t0` to `f1` at `t1`, is zero; the nearer end where rounding leaves no change of sign.
fn crossing(f: impl Fn(f64) -> f64, t0: f64, t1: f64, f0: f64, f1: f64) -> f64 {
    let sign = (f1 - f0).signum();
    if sign * f0 >= 0.0 {
        t0
    } else if sign * f1 <= 0.0 {
        t1
    } else {
        // n0 and k1 as the method's authors suggest.
        solve_itp(|t| sign * f(t), t0, t1, ROOT_SHARE, 1, 0.2 / (t1 - t0), sign * f0, sign * f1)
    }
}

/// A line arriving at a seam: from one side, or from both at nearly one place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Arrival {
    pub s_mm: f64,
    pub both: bool,
}

/// Pairs the edges of the two sides: two within `meet_mm` of each other are one arrival of both, halfway.
///
/// A layer that shows on one side only, for less than `meet_mm`, is not seen: its two edges are left out.
pub(crate) fn pair_up(left: &[Edge], right: &[Edge], meet_mm: f64) -> Vec<Arrival> {
    let mut arrivals: Vec<(Arrival, Option<(bool, Edge)>)> = Vec::new();
    let (mut i, mut j) = (0, 0);
    loop {
        let arrival = match (left.get(i), right.get(j)) {
            (None, None) => break,
            (Some(l), Some(r)) if (l.s_mm - r.s_mm).abs() <= meet_mm => {
                (i, j) = (i + 1, j + 1);
                (Arrival { s_mm: 0.5 * (l.s_mm + r.s_mm), both: true }, None)
            }
            (Some(l), r) if r.is_none_or(|r| l.s_mm < r.s_mm) => {
                i += 1;
                (Arrival { s_mm: l.s_mm, both: false }, Some((false, *l)))
            }
            (_, Some(r)) => {
                j += 1;
                (Arrival { s_mm: r.s_mm, both: false }, Some((true, *r)))
            }
            (Some(_), None) => break, // taken above
        };
        if let (Some((side, edge)), Some((_, Some((last_side, last))))) = (arrival.1, arrivals.last()) {
            let there_and_back = side == *last_side && edge.layers == [last.layers[1], last.layers[0]];
            if there_and_back && edge.s_mm - last.s_mm <= meet_mm {
                arrivals.pop();
                continue;
            }
        }
        arrivals.push(arrival);
    }
    arrivals.into_iter().map(|(arrival, _)| arrival).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn level(thickness_mm: f64) -> Runs {
        Runs::new([thickness_mm, thickness_mm])
    }

    #[test]
    fn every_crossing_of_a_line_that_turns_is_found() {
        // The position is the offset alone: it rises from 0 to its crest and falls again.
        let arch = CubicBez::new((0.0, 0.0), (100.0, 40.0), (200.0, 40.0), (300.0, 0.0));
        let edges = layer_edges(&[arch], &level(7.0), 0.0, 1.0, 0.0);
        // Crest 0.75 * 40 = 30: lines at 7, 14, 21, 28, up and down again.
        assert_eq!(edges.len(), 8);
        for (edge, back) in edges.iter().zip(edges.iter().rev()) {
            assert!((edge.s_mm + back.s_mm - 300.0).abs() < 1e-9, "{edge:?} {back:?}");
        }
        for edge in &edges {
            let t = edge.s_mm / 300.0;
            let line = 7.0 * edge.layers[0].max(edge.layers[1]) as f64;
            assert!((120.0 * t * (1.0 - t) - line).abs() < 1e-10, "{edge:?}");
        }
    }

    #[test]
    fn a_line_that_touches_a_layer_is_crossed_there_and_back_and_not_seen() {
        let arch = CubicBez::new((0.0, 0.0), (100.0, 40.0), (200.0, 40.0), (300.0, 0.0));
        let edges = layer_edges(&[arch], &level(30.0), 0.0, 1.0, 0.0);
        assert_eq!(edges.len(), 2);
        assert!(edges.iter().all(|edge| (edge.s_mm - 150.0).abs() < 0.01));
        assert!(pair_up(&edges, &[], 0.2).is_empty());
        assert_eq!(pair_up(&edges, &edges, 0.2).len(), 2);
    }

    #[test]
    fn edges_pair_with_their_nearest_and_the_rest_stay_single() {
        let edge = |s_mm| Edge { s_mm, layers: [0, 1] };
        let left = [1.0, 10.0, 20.0].map(edge);
        let right = [10.1, 15.0, 19.95, 30.0].map(edge);
        let arrivals = pair_up(&left, &right, 0.2);
        let both: Vec<bool> = arrivals.iter().map(|arrival| arrival.both).collect();
        assert_eq!(both, [false, true, false, true, false]);
        assert!(arrivals.windows(2).all(|pair| pair[0].s_mm < pair[1].s_mm));
    }
}

//! Convex outlines on the floor: hulls, and lines between them.

/// Outlines that overlap by no more than this touch, mm.
pub(super) const TOUCHING_MM: f64 = 1e-9;

/// The convex hull, counter-clockwise (Andrew's monotone chain).
pub fn hull(points: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let mut sorted: Vec<[f64; 2]> = points.to_vec();
    sorted.sort_by(|p, q| p[0].total_cmp(&q[0]).then(p[1].total_cmp(&q[1])));
    sorted.dedup();
    if sorted.len() < 3 {
        return sorted;
    }
    let turn = |o: [f64; 2], p: [f64; 2], q: [f64; 2]| (p[0] - o[0]) * (q[1] - o[1]) - (p[1] - o[1]) * (q[0] - o[0]);
    let half = |points: &mut dyn Iterator<Item = [f64; 2]>| {
        let mut chain: Vec<[f64; 2]> = Vec::new();
        for p in points {
            while chain.len() >= 2 && turn(chain[chain.len() - 2], chain[chain.len() - 1], p) <= 0.0 {
                chain.pop();
            }
            chain.push(p);
        }
        chain.pop();
        chain
    };
    let mut lower = half(&mut sorted.iter().copied());
    lower.extend(half(&mut sorted.iter().rev().copied()));
    lower
}

/// The direction from `p` to `q` square to a line between the two convex outlines, with the widest gap; none where they
/// overlap. One edge of either outline is parallel to such a line.
pub(super) fn between(p: &[[f64; 2]], q: &[[f64; 2]]) -> Option<[f64; 2]> {
    let mut best: Option<(f64, [f64; 2])> = None;
    for (outline, sign) in [(p, 1.0), (q, -1.0)] {
        for (i, from) in outline.iter().enumerate() {
            let to = outline[(i + 1) % outline.len()];
            let edge = [to[0] - from[0], to[1] - from[1]];
            let long = edge[0].hypot(edge[1]);
            if long <= 1e-12 {
                continue;
            }
            // Out of a counter-clockwise outline is to the right of its edges.
            let normal = [sign * edge[1] / long, -sign * edge[0] / long];
            let gap = reach(q, normal, f64::INFINITY, f64::min) - reach(p, normal, f64::NEG_INFINITY, f64::max);
            if best.is_none_or(|(widest, _)| gap > widest) {
                best = Some((gap, normal));
            }
        }
    }
    best.filter(|(gap, _)| *gap >= -TOUCHING_MM).map(|(_, normal)| normal)
}

fn reach(outline: &[[f64; 2]], along: [f64; 2], start: f64, pick: fn(f64, f64) -> f64) -> f64 {
    outline.iter().map(|c| c[0] * along[0] + c[1] * along[1]).fold(start, pick)
}

/// The shadow of an outline along a direction: least and most.
pub(super) fn shadow(outline: &[[f64; 2]], along: [f64; 2]) -> [f64; 2] {
    [reach(outline, along, f64::INFINITY, f64::min), reach(outline, along, f64::NEG_INFINITY, f64::max)]
}

//! Which way to scrape or shave each stretch of the finished sides, with the grain.
//!
//! The grain runs along the blank, so a sawn surface cuts through its fibres wherever it slopes. An edge that goes downhill,
//! from a crest into a hollow, presses the fibres down before it cuts them; uphill it lifts and tears them. Common practice,
//! no source.

use crate::{Cut, End, Leg, Side};

/// A surface that slopes less than this may be worked either way. Our own choice: 1 in 50.
const EITHER_WAY: f64 = 0.02;

/// Among how many places of a stretch its steepest is looked for.
const LOOKED_AT: usize = 24;

/// A stretch of a side that is worked one way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CleanUp {
    /// Where it begins, mm from the top.
    pub from_mm: f64,
    /// Where it ends, mm from the top.
    pub to_mm: f64,
    /// The end that the tool goes toward; none where it may go either way.
    pub toward: Option<End>,
}

/// How a side of the finished leg is cleaned up, stretch by stretch from the top.
pub fn clean_ups(leg: &Leg, side: Side) -> Vec<CleanUp> {
    let cut = side.cut();
    let line = leg.line(cut);
    // How far the side stands out from the axis: on sides 1 and 4 the line itself, on 2 and 3 what it leaves of the blank.
    let sign = match side {
        Side::One | Side::Four => 1.0,
        Side::Two | Side::Three => -1.0,
    };
    let offset = |s: f64| match cut {
        Cut::First => leg.a(s),
        Cut::Second => leg.b(s),
    };
    let out = |s: f64| sign * offset(s);
    let mut stops = vec![0.0, leg.length_mm];
    stops.extend(line.crests());
    stops.extend(line.sharp_point());
    stops.extend([0.0, leg.across_mm(cut)].into_iter().flat_map(|edge| line.crossings(edge)));
    stops.retain(|s| (0.0..=leg.length_mm).contains(s));
    stops.sort_by(f64::total_cmp);
    let mut found: Vec<CleanUp> = Vec::new();
    for pair in stops.windows(2).filter(|pair| pair[1] - pair[0] > 1e-6) {
        let (from_mm, to_mm) = (pair[0], pair[1]);
        let step = (to_mm - from_mm) / LOOKED_AT as f64;
        let place = |i: usize| from_mm + step * i as f64;
        let steepest = (0..LOOKED_AT).map(|i| ((out(place(i + 1)) - out(place(i))) / step).abs()).fold(0.0, f64::max);
        let toward = match out(to_mm) - out(from_mm) {
            _ if steepest < EITHER_WAY => None,
            rise if rise < 0.0 => Some(End::Foot),
            _ => Some(End::Top),
        };
        match found.last_mut() {
            Some(last) if last.toward == toward => last.to_mm = to_mm,
            _ => found.push(CleanUp { from_mm, to_mm, toward }),
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Blank, Line, Shape};

    fn leg(first: Shape, second: Shape) -> Leg {
        Leg::new(&Blank::square(50.0, 600.0), &Line::Shape(first), &Line::Shape(second)).unwrap()
    }

    fn straight() -> Shape {
        Shape::Straight { aside: 0.0.into() }
    }

    /// One bow: its outside is a crest worked from the middle to both ends, its inside a hollow worked from both ends to the
    /// middle.
    #[test]
    fn a_crest_is_worked_down_to_both_ends_and_a_hollow_from_both_ends() {
        let leg = leg(Shape::Arch { rise: 12.0.into(), crest: 0.5, aside: 0.0.into() }, straight());
        let ways = |side| clean_ups(&leg, side).iter().map(|one| one.toward).collect::<Vec<_>>();
        // The line bows toward arris 2: side 4, at u = -a, bulges, and side 2 is hollow.
        assert_eq!(ways(Side::Four), [Some(End::Top), Some(End::Foot)]);
        assert_eq!(ways(Side::Two), [Some(End::Foot), Some(End::Top)]);
        assert_eq!(ways(Side::One), [None], "planed flat it is worked either way");
        let middle = clean_ups(&leg, Side::Four)[0].to_mm;
        assert!((middle - 300.0).abs() < 1e-6, "{middle}");
    }

    /// The tool always goes where the surface gets nearer to the axis: seen on the finished section itself.
    #[test]
    fn every_stretch_goes_downhill_on_the_finished_leg() {
        let waves = Shape::Waves {
            waves: 3,
            swing_top: 8.0.into(),
            swing_foot: 20.0.into(),
            shortening: 0.7,
            aside: 2.0.into(),
        };
        let leg = leg(waves, Shape::Cyma { swing: 14.0.into(), turn: 0.4, aside: 0.0.into() });
        for side in Side::ALL {
            let stretches = clean_ups(&leg, side);
            assert_eq!((stretches[0].from_mm, stretches[stretches.len() - 1].to_mm), (0.0, 600.0));
            assert!(stretches.windows(2).all(|pair| pair[0].to_mm == pair[1].from_mm));
            let reach = |s: f64| {
                let piece = leg.section(s).pieces[side.pieces()[0].index()][2];
                match side.cut() {
                    Cut::First => piece[0].abs(),
                    Cut::Second => piece[1].abs(),
                }
            };
            for one in stretches {
                let fall = reach(one.from_mm) - reach(one.to_mm);
                match one.toward {
                    Some(End::Foot) => assert!(fall > 0.0, "{side} {one:?}"),
                    Some(End::Top) => assert!(fall < 0.0, "{side} {one:?}"),
                    None => assert!(fall.abs() < EITHER_WAY * (one.to_mm - one.from_mm), "{side} {one:?}"),
                }
            }
        }
    }
}

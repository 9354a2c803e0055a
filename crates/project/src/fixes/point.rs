//! Fixes by one point: "point 3 of the first cut 6 mm lower".

use cornerwise_geometry::{Cut, Length, Point};

use super::{Fix, LOOKED_AT, Search};
use crate::Edit;

/// Where a watch-out is told of more places than this, no one point clears it, and none is tried.
const PLACES: usize = 4;
/// How many of the points nearest to the place are tried, of each cut.
const POINTS: usize = 2;
/// The farthest that a point is moved across, as a share of the blank.
const ACROSS: f64 = 0.4;
/// The farthest that it is moved along, as a share of the way to its neighbour.
const ALONG: f64 = 0.8;
/// The shares of the farthest that are tried before the least that clears is looked for.
const SHARES: [f64; 3] = [1.0, 0.5, 0.25];
/// In these steps, mm.
const STEP_MM: f64 = 0.5;

/// A point of a cut, and one way that it can be moved.
struct Way<'a> {
    cut: Cut,
    place: usize,
    point: &'a Point,
    /// By how much for every millimetre: along the leg and across the face.
    toward: [f64; 2],
    most_mm: f64,
    words: &'static str,
}

impl Search<'_> {
    /// The point nearest to the place nearer to the middle of its face.
    pub(super) fn nearer_point(&self) -> Option<Fix> {
        let cut = self.found.cut?;
        let points = self.design.points(cut);
        let (place, point) = self.nearest(&points).next()?;
        let toward = self.design.across_mm(cut) / 2.0 - point.offset.mm();
        let words = "nearer to the middle";
        self.moved(&Way { cut, place, point, toward: [0.0, toward.signum()], most_mm: toward.abs(), words })
            .map(|(_, fix)| fix)
    }

    /// One of the points beside the place moved along or across, the one that needs to be moved least.
    pub(super) fn moved_point(&self) -> Option<Fix> {
        if self.found.stretches_mm.len() > PLACES {
            return None;
        }
        let cuts = self.found.cut.map_or(Cut::ALL.to_vec(), |cut| vec![cut]);
        let mut best: Option<(f64, Fix)> = None;
        for cut in cuts {
            let points = self.design.points(cut);
            for (place, point) in self.nearest(&points).take(POINTS) {
                for way in self.ways(cut, &points, place, point) {
                    // Nothing is won by a move that is not less than the best so far.
                    let most_mm = best.as_ref().map_or(way.most_mm, |(by, _)| way.most_mm.min(by - STEP_MM));
                    let tried = SHARES.into_iter().map(|share| (share * most_mm / STEP_MM).floor() * STEP_MM);
                    let clears = |by: &f64| *by > 0.0 && self.clears(&self.place(&way, *by), LOOKED_AT);
                    let Some(most_mm) = tried.into_iter().find(clears) else { continue };
                    best = self.moved(&Way { most_mm, ..way }).or(best);
                }
            }
        }
        best.map(|(_, fix)| fix)
    }

    /// Points with their places on the line, the nearest to what was found first.
    fn nearest<'p>(&self, points: &'p [Point]) -> impl Iterator<Item = (usize, &'p Point)> {
        let away = |point: &Point| (point.from_top.mm() - self.found.at_mm).abs();
        let mut all: Vec<(usize, &Point)> = points.iter().enumerate().collect();
        all.sort_by(|a, b| away(a.1).total_cmp(&away(b.1)));
        all.into_iter()
    }

    fn ways<'p>(&self, cut: Cut, points: &'p [Point], place: usize, point: &'p Point) -> Vec<Way<'p>> {
        let across = self.design.across_mm(cut);
        let toward = if point.offset.mm() <= across / 2.0 { 1.0 } else { -1.0 };
        let way = |toward, most_mm: f64, words| Way { cut, place, point, toward, most_mm, words };
        let mut ways = vec![
            way([0.0, toward], ACROSS * across, "nearer to the middle"),
            way([0.0, -toward], ACROSS * across, "farther from the middle"),
        ];
        let gap = |other: &Point| ALONG * (other.from_top.mm() - point.from_top.mm()).abs();
        if let Some(next) = points.get(place + 1) {
            ways.push(way([1.0, 0.0], gap(next), "lower"));
        }
        if let Some(before) = place.checked_sub(1).and_then(|before| points.get(before)) {
            ways.push(way([-1.0, 0.0], gap(before), "higher"));
        }
        ways
    }

    fn place(&self, way: &Way<'_>, by: f64) -> Edit {
        // What does not move keeps the text that it was typed as.
        let moved = |length: &Length, toward: f64| {
            if toward == 0.0 { length.clone() } else { Length::from_mm(length.mm() + by * toward) }
        };
        let [along, across] = way.toward;
        Edit::PlacePoint {
            design: self.design.id,
            cut: way.cut,
            point: way.point.id,
            from_top: moved(&way.point.from_top, along),
            offset: moved(&way.point.offset, across),
        }
    }

    /// The least move that clears, and what it is.
    fn moved(&self, way: &Way<'_>) -> Option<(f64, Fix)> {
        let (by, edit) = self.least(0.0, way.most_mm, STEP_MM, |by| Some(self.place(way, by)))?;
        let mm = self.project.units.show_with_unit(by);
        let words = format!("point {} of the {} {mm} {}", way.place + 1, way.cut, way.words);
        Some((by, Fix { words, edit }))
    }
}

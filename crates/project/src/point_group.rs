//! Edits of several points at once, of one cut or of both.

use crate::line_edits::{Drawn, finite, held};
use crate::{Design, EDIT_GAP_MM, Edit, EditError};
use cornerwise_geometry::{Batten, Cut, Length, Line, Point, PointId};
use std::borrow::Cow;

/// How many times the way to a place that is too steep is halved: to a millionth of the way.
const HALVINGS: u32 = 20;

/// The same where a batten does not lie: to a thousandth, because bending it takes longer.
const HALVINGS_OF_BATTENS: u32 = 10;

/// Where one of several points is put.
#[derive(Clone, Debug, PartialEq)]
pub struct PointPlace {
    /// The cut.
    pub cut: Cut,
    /// The point.
    pub point: PointId,
    /// Its new distance from the finished top.
    pub from_top: Length,
    /// Its new distance from arris 1 or 2.
    pub offset: Length,
}

/// The points of one cut on their way to where they are put.
struct Group<'a> {
    drawn: Drawn<'a>,
    /// The batten whose pins the points are.
    batten: Option<Batten>,
    /// For each point, its new distance from the top and its new offset; nothing for those that stay.
    to: Vec<Option<[Length; 2]>>,
}

impl Design {
    /// The design with points moved as far toward their new places as all of them can go: when one is stopped along the
    /// leg, or across it, all are.
    pub(crate) fn with_points_moved(&self, places: &[PointPlace]) -> Result<Design, EditError> {
        let mut groups = Vec::new();
        for cut in Cut::ALL {
            let mine: Vec<&PointPlace> = places.iter().filter(|place| place.cut == cut).collect();
            if !mine.is_empty() {
                let batten = match self.own_line(cut).into_owned() {
                    Line::Batten(batten) => Some(batten),
                    _ => None,
                };
                groups.push(Group::new(self.drawn(cut), batten, &mine)?);
            }
        }
        let along = groups.iter().map(Group::room_along).fold(1.0, f64::min);
        let across = groups.iter().map(Group::room_across).fold(1.0, f64::min);
        let goes = |share: f64| {
            let solved = |group: &Group<'_>| {
                let line = group.line_at(share * along, share * across);
                line.solve(group.drawn.length_mm, group.drawn.across_mm).is_ok()
            };
            groups.iter().all(solved)
        };
        let battens = groups.iter().any(|group| group.batten.is_some());
        let halvings = if battens { HALVINGS_OF_BATTENS } else { HALVINGS };
        let share = if goes(1.0) { 1.0 } else { last_good(halvings, goes) };
        let mut next = self.clone();
        for group in &groups {
            *next.line_mut(group.drawn.cut) = group.line_at(share * along, share * across);
        }
        Ok(next)
    }

    /// The design with several points less.
    pub(crate) fn with_points_deleted(&self, points: &[(Cut, PointId)]) -> Result<Design, EditError> {
        let mut next = self.clone();
        for (cut, point) in points {
            *next.line_mut(*cut) =
                next.line_changed(*cut, &Edit::DeletePoint { design: self.id, cut: *cut, point: *point })?;
        }
        Ok(next)
    }
}

/// The last share of a way, as far as is known, at which `goes` holds; it holds at 0.
fn last_good(halvings: u32, goes: impl Fn(f64) -> bool) -> f64 {
    let (mut good, mut bad) = (0.0, 1.0);
    for _ in 0..halvings {
        let middle = f64::midpoint(good, bad);
        if goes(middle) { good = middle } else { bad = middle }
    }
    good
}

impl<'a> Group<'a> {
    fn new(drawn: Drawn<'a>, batten: Option<Batten>, places: &[&PointPlace]) -> Result<Group<'a>, EditError> {
        let mut to = vec![None; drawn.points.len()];
        for PointPlace { point, from_top, offset, .. } in places {
            finite(&[("the distance from the top", from_top.mm()), ("the offset", offset.mm())])?;
            to[drawn.place_of(*point)?] = Some([from_top.clone(), offset.clone()]);
        }
        Ok(Group { drawn, batten, to })
    }

    fn place_mm(&self, place: usize) -> f64 {
        self.drawn.points[place].from_top.mm()
    }

    fn place_after_mm(&self, place: usize) -> f64 {
        self.to[place].as_ref().map_or(self.place_mm(place), |[from_top, _]| from_top.mm())
    }

    /// Which share of the way along the leg all points can go in order, and within the leg.
    fn room_along(&self) -> f64 {
        let last = self.to.len() - 1;
        let mut share = 1.0_f64;
        for place in (0..=last).filter(|place| self.to[*place].is_some()) {
            let (was, to) = (self.place_mm(place), self.place_after_mm(place));
            if place == 0 {
                share = share.min(until(was, to, was.min(0.0)));
            }
            if place == last {
                share = share.min(until(-was, -to, (-was).min(-self.drawn.length_mm)));
            }
        }
        for place in 0..last {
            let gap = self.place_mm(place + 1) - self.place_mm(place);
            let after = self.place_after_mm(place + 1) - self.place_after_mm(place);
            share = share.min(until(gap, after, gap.min(EDIT_GAP_MM)));
        }
        share
    }

    /// Which share of the way across all points can go.
    fn room_across(&self) -> f64 {
        let ways = self.drawn.points.iter().zip(&self.to).enumerate();
        ways.filter_map(|(place, (point, to))| {
            let [_, to] = to.as_ref()?;
            let [least, most] = self.drawn.room_across(place);
            let was = point.offset.mm();
            Some(until(was, to.mm(), least).min(until(-was, -to.mm(), -most)))
        })
        .fold(1.0, f64::min)
    }

    /// The points at shares of their ways along the leg and across.
    fn at(&self, along: f64, across: f64) -> Vec<Point> {
        let on_way = |was: &Length, to: &Length, share: f64| {
            if share >= 1.0 || was.mm() == to.mm() {
                to.clone()
            } else {
                Length::from_mm(was.mm() + share * (to.mm() - was.mm()))
            }
        };
        let mut points = Cow::clone(&self.drawn.points).into_owned();
        for (point, to) in points.iter_mut().zip(&self.to) {
            if let Some([from_top, offset]) = to {
                point.from_top = on_way(&point.from_top, from_top, along);
                point.offset = on_way(&point.offset, offset, across);
            }
        }
        self.unstray(&mut points);
        points
    }

    /// The line through them.
    fn line_at(&self, along: f64, across: f64) -> Line {
        let points = self.at(along, across);
        let Some(mut batten) = self.batten.clone() else { return Line::Points(points) };
        for (pin, point) in batten.pins.iter_mut().zip(points) {
            (pin.from_top, pin.offset) = (point.from_top, point.offset);
        }
        Line::Batten(batten)
    }

    /// Puts what rounding carried past an end of the leg back on it.
    fn unstray(&self, points: &mut [Point]) {
        let last = points.len() - 1;
        let (first_was, last_was) = (self.place_mm(0), self.place_mm(last));
        if self.to[0].is_some() {
            points[0].from_top = held(&points[0].from_top, first_was.min(0.0), f64::INFINITY);
        }
        if self.to[last].is_some() {
            points[last].from_top = held(&points[last].from_top, f64::NEG_INFINITY, last_was.max(self.drawn.length_mm));
        }
    }
}

/// The share of the way from `was` to `to` at which `least` is reached; 1 where it is not.
fn until(was: f64, to: f64, least: f64) -> f64 {
    if to >= least { 1.0 } else { ((was - least) / (was - to)).clamp(0.0, 1.0) }
}

//! What an edit does to the points of one saw line. Nothing here looks at the rest of the project.

use crate::{EDIT_GAP_MM, EditError, Handle, LEAST_REACH_MM};
use cornerwise_geometry::line_tools::{self, LineToolError};
use cornerwise_geometry::{Cut, Length, MAX_SLOPE, Point, PointId, PointKind, SawLine};
use std::borrow::Cow;

/// How many times the way to a place that is too steep is halved: to a millionth of the way.
const HALVINGS: u32 = 20;

/// The points of one cut, and the face they are drawn on.
pub(crate) struct Drawn<'a> {
    pub cut: Cut,
    pub points: Cow<'a, [Point]>,
    pub length_mm: f64,
    pub across_mm: f64,
}

impl Drawn<'_> {
    pub(crate) fn place_of(&self, id: PointId) -> Result<usize, EditError> {
        let cut = self.cut;
        self.points.iter().position(|point| point.id == id).ok_or(EditError::NoSuchPoint { cut, point: id })
    }

    /// The point moved as far toward the new place as its neighbours, the face and the steepness of the line let it.
    pub fn moved(&self, id: PointId, from_top: &Length, offset: &Length) -> Result<Vec<Point>, EditError> {
        finite(&[("the distance from the top", from_top.mm()), ("the offset", offset.mm())])?;
        let place = self.place_of(id)?;
        let was = &self.points[place];
        let (from_top_was, offset_was) = (was.from_top.mm(), was.offset.mm());
        let [least, most] = self.room_along(place);
        let from_top = held(from_top, least, most);
        let [least, most] = self.room_across(place);
        let offset = held(offset, least, most);
        let at = |share: f64| {
            let on_way = |was: f64, to: &Length| {
                if share >= 1.0 { to.clone() } else { Length::from_mm(was + share * (to.mm() - was)) }
            };
            Point { from_top: on_way(from_top_was, &from_top), offset: on_way(offset_was, &offset), ..was.clone() }
        };
        Ok(self.as_far_as_the_saw_goes(place, at))
    }

    /// The point exactly at the new place.
    pub fn placed(&self, id: PointId, from_top: &Length, offset: &Length) -> Result<Vec<Point>, EditError> {
        finite(&[("the distance from the top", from_top.mm()), ("the offset", offset.mm())])?;
        let place = self.place_of(id)?;
        within_room(self.cut, (self.room_along(place), from_top), (self.room_across(place), offset))?;
        let mut points = self.points.to_vec();
        points[place] = Point { from_top: from_top.clone(), offset: offset.clone(), ..points[place].clone() };
        self.solved(&points)?;
        Ok(points)
    }

    /// The handle moved as far toward the new place as its neighbours and the steepness of the line let it.
    pub fn handle_moved(
        &self,
        id: PointId,
        handle: Handle,
        slope: f64,
        reach_mm: f64,
        tied: bool,
    ) -> Result<Vec<Point>, EditError> {
        finite(&[("the slope", slope), ("the reach", reach_mm)])?;
        let place = self.place_of(id)?;
        let was = &self.points[place];
        let other = handle.other();
        let room = self.room_for_handle(place, handle);
        let room = if tied { room.min(self.room_for_handle(place, other)) } else { room };
        let (slope, reach) = (slope.clamp(-MAX_SLOPE, MAX_SLOPE), reach_mm.clamp(LEAST_REACH_MM.min(room), room));
        let (slope_was, reach_was) = of_handle(was.kind, handle);
        let at = |share: f64| {
            let on_way = |was: f64, to: f64| if share >= 1.0 { to } else { was + share * (to - was) };
            let kind = with_handle(was.kind, handle, on_way(slope_was, slope), on_way(reach_was, reach));
            let (other_slope, other_reach) = of_handle(kind, other);
            let other_reach = if tied { on_way(other_reach, reach) } else { other_reach };
            Point { kind: with_handle(kind, other, other_slope, other_reach), tied, ..was.clone() }
        };
        Ok(self.as_far_as_the_saw_goes(place, at))
    }

    /// The handle with exactly this slope and reach.
    pub fn handle_placed(
        &self,
        id: PointId,
        handle: Handle,
        slope: f64,
        reach_mm: f64,
    ) -> Result<Vec<Point>, EditError> {
        finite(&[("the slope", slope), ("the reach", reach_mm)])?;
        let place = self.place_of(id)?;
        let mut points = self.points.to_vec();
        let tied = points[place].tied;
        let room = self.room_for_handle(place, handle);
        let room = if tied { room.min(self.room_for_handle(place, handle.other())) } else { room };
        let (least_mm, most_mm) = (LEAST_REACH_MM.min(room), room);
        let kind = points[place].kind;
        // A reach that is not changed is not asked about: dragged lines may have others.
        if reach_mm != of_handle(kind, handle).1 && !(least_mm..=most_mm).contains(&reach_mm) {
            return Err(EditError::Reach { cut: self.cut, least_mm, most_mm });
        }
        let mut kind = with_handle(kind, handle, slope, reach_mm);
        if tied {
            kind = with_handle(kind, handle.other(), of_handle(kind, handle.other()).0, reach_mm);
        }
        points[place].kind = kind;
        self.solved(&points)?;
        Ok(points)
    }

    /// The point with its handles tied, both reaching as far as halfway between their reaches, where there is room; or
    /// with its handles free, where they are.
    pub fn tied(&self, id: PointId, tied: bool) -> Result<Vec<Point>, EditError> {
        let place = self.place_of(id)?;
        let mut points = self.points.to_vec();
        points[place].tied = tied;
        if tied {
            let ((slope_before, before), (slope_after, after)) =
                (points[place].kind.before(), points[place].kind.after());
            // At an end of the line only one handle does anything, and stays.
            let reach = match place {
                0 => after,
                _ if place + 1 == points.len() => before,
                _ => f64::midpoint(before, after),
            };
            let rooms = [Handle::Before, Handle::After].map(|handle| self.room_for_handle(place, handle));
            let reach = reach.min(rooms[0]).min(rooms[1]);
            points[place].kind = points[place].kind.with_before(slope_before, reach).with_after(slope_after, reach);
            self.solved(&points)?;
        }
        Ok(points)
    }

    /// The line with one point more at `s_mm`, otherwise the same line.
    pub fn added(&self, s_mm: f64) -> Result<Vec<Point>, EditError> {
        finite(&[("the distance from the top", s_mm)])?;
        let s_mm = s_mm.clamp(0.0, self.length_mm);
        line_tools::with_point(&self.points, self.length_mm, s_mm, EDIT_GAP_MM).map_err(|error| match error {
            LineToolError::NoRoom { s_mm, near_mm } => EditError::NoRoom { cut: self.cut, s_mm, near_mm },
            other => EditError::tool(self.cut, other),
        })
    }

    /// The line with one point less. The neighbours' handles grow by what the point had taken from them, if it was
    /// added to their curve; where that is too steep, they stay as they are.
    pub fn deleted(&self, id: PointId) -> Result<Vec<Point>, EditError> {
        let place = self.place_of(id)?;
        if self.points.len() <= 2 {
            return Err(EditError::TooFewPoints { cut: self.cut });
        }
        let mut points = self.points.to_vec();
        let gone = points.remove(place);
        let as_it_is = points.clone();
        if place > 0 && place < points.len() {
            let ((_, before), (_, after)) = (gone.kind.before(), gone.kind.after());
            // Cutting a cubic at t leaves the new point's handles in the proportion t to 1 - t.
            let t = before / (before + after);
            let gap = points[place].from_top.mm() - points[place - 1].from_top.mm();
            if t > 0.0 && t < 1.0 {
                let ((_, above), (_, below)) = (points[place - 1].kind.after(), points[place].kind.before());
                set_reach(&mut points[place - 1], Handle::After, (above / t).min(gap));
                set_reach(&mut points[place], Handle::Before, (below / (1.0 - t)).min(gap));
            }
        }
        if self.solved(&points).is_ok() { Ok(points) } else { Ok(as_it_is) }
    }

    /// The point made sharp or smooth. A sharp point made smooth takes the direction halfway between its two.
    pub fn made(&self, id: PointId, sharp: bool) -> Result<Vec<Point>, EditError> {
        let place = self.place_of(id)?;
        let other = self.points.iter().position(|point| point.kind.is_sharp() && point.id != id);
        if let (true, Some(other)) = (sharp, other) {
            let at_mm = self.points[other].from_top.mm();
            return Err(EditError::SharpAlready { cut: self.cut, point: other + 1, at_mm });
        }
        let mut points = self.points.to_vec();
        let point = &mut points[place];
        point.kind = match (point.kind, sharp) {
            (PointKind::Smooth { slope, before_mm, after_mm }, true) => {
                PointKind::Sharp { slope_before: slope, before_mm, slope_after: slope, after_mm }
            }
            (PointKind::Sharp { slope_before, before_mm, slope_after, after_mm }, false) => {
                let slope = ((slope_before.atan() + slope_after.atan()) / 2.0).tan();
                PointKind::Smooth { slope, before_mm, after_mm }
            }
            (same, _) => same,
        };
        Ok(points)
    }

    /// The points with the one at `place` put to `at(1)`, or, where the saw cannot follow there, to the last `at(share)`
    /// on the way from where it is, `at(0)`.
    fn as_far_as_the_saw_goes(&self, place: usize, at: impl Fn(f64) -> Point) -> Vec<Point> {
        let (from, to) = (place.saturating_sub(1), (place + 2).min(self.points.len()));
        // Only the two cubics beside the point change, so only they are solved.
        let mut beside = self.points[from..to].to_vec();
        let mut goes = |share: f64| {
            beside[place - from] = at(share);
            SawLine::from_points(&beside, self.length_mm).is_ok()
        };
        let mut share = 1.0;
        if !goes(1.0) {
            let (mut good, mut bad) = (0.0, 1.0);
            for _ in 0..HALVINGS {
                let middle = (good + bad) / 2.0;
                if goes(middle) { good = middle } else { bad = middle }
            }
            share = good;
        }
        let mut points = self.points.to_vec();
        if share > 0.0 {
            points[place] = at(share);
        }
        points
    }

    /// From where to where a point may be put along the leg, its present place always among it, mm.
    fn room_along(&self, place: usize) -> [f64; 2] {
        let here = self.points[place].from_top.mm();
        let least = if place == 0 { 0.0 } else { self.points[place - 1].from_top.mm() + EDIT_GAP_MM };
        let most = match self.points.get(place + 1) {
            Some(next) => next.from_top.mm() - EDIT_GAP_MM,
            None => self.length_mm,
        };
        [least.min(here), most.max(here)]
    }

    /// From where to where a point may be put across, its present place always among it, mm: one blank's width to either
    /// side, far enough to leave the blank on purpose, near enough to find again.
    pub(crate) fn room_across(&self, place: usize) -> [f64; 2] {
        let here = self.points[place].offset.mm();
        [here.min(-self.across_mm), here.max(2.0 * self.across_mm)]
    }

    /// How far a handle may reach, mm.
    fn room_for_handle(&self, place: usize, handle: Handle) -> f64 {
        let neighbour = match handle {
            Handle::Before => place.checked_sub(1).and_then(|before| self.points.get(before)),
            Handle::After => self.points.get(place + 1),
        };
        let here = self.points[place].from_top.mm();
        neighbour.map_or(self.length_mm, |point| (point.from_top.mm() - here).abs())
    }

    fn solved(&self, points: &[Point]) -> Result<SawLine, EditError> {
        SawLine::from_points(points, self.length_mm).map_err(|source| EditError::Line { cut: self.cut, source })
    }
}

/// The slope and the reach of a handle.
fn of_handle(kind: PointKind, handle: Handle) -> (f64, f64) {
    match handle {
        Handle::Before => kind.before(),
        Handle::After => kind.after(),
    }
}

fn with_handle(kind: PointKind, handle: Handle, slope: f64, reach_mm: f64) -> PointKind {
    match handle {
        Handle::Before => kind.with_before(slope, reach_mm),
        Handle::After => kind.with_after(slope, reach_mm),
    }
}

fn set_reach(point: &mut Point, handle: Handle, reach_mm: f64) {
    let (slope, _) = of_handle(point.kind, handle);
    point.kind = with_handle(point.kind, handle, slope, reach_mm);
}

/// The length as it was typed where it is within its limits, otherwise the limit.
pub(crate) fn held(length: &Length, least: f64, most: f64) -> Length {
    let mm = length.mm();
    if (least..=most).contains(&mm) { length.clone() } else { Length::from_mm(mm.clamp(least, most)) }
}

/// Refuses a place outside the room there is along and across.
pub(crate) fn within_room(
    cut: Cut,
    ([least_along, most_along], from_top): ([f64; 2], &Length),
    ([least_across, most_across], offset): ([f64; 2], &Length),
) -> Result<(), EditError> {
    if !(least_along..=most_along).contains(&from_top.mm()) {
        return Err(EditError::NoRoomAlong { cut, least_mm: least_along, most_mm: most_along });
    }
    if !(least_across..=most_across).contains(&offset.mm()) {
        return Err(EditError::NoRoomAcross { cut, least_mm: least_across, most_mm: most_across });
    }
    Ok(())
}

pub(crate) fn finite(values: &[(&'static str, f64)]) -> Result<(), EditError> {
    match values.iter().find(|(_, value)| !value.is_finite()) {
        Some((what, _)) => Err(EditError::NotFinite(what)),
        None => Ok(()),
    }
}

//! What can be taken hold of on the faces: the points of both cuts and the handles of the chosen point.

use cornerwise_geometry::{Cut, Length, Line, Point, PointId};
use cornerwise_project::{Design, Edit, Handle};
use egui::Id;

use crate::view::Chosen;

/// The least reach that a handle is dragged to, mm.
const LEAST_REACH_MM: f64 = 0.5;

/// A point, or a handle of one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Grip {
    /// The cut.
    pub cut: Cut,
    /// The point.
    pub point: PointId,
    /// Which of its handles; the point itself when there is none.
    pub handle: Option<Handle>,
}

impl Grip {
    /// The grips of a design: handles of the chosen point first, so that points lie above them.
    pub fn all(design: &Design, chosen: Option<Chosen>) -> Vec<Grip> {
        let mut grips = Vec::new();
        if let Some(Chosen { cut, point }) = chosen {
            grips.extend([Handle::Before, Handle::After].map(|handle| Grip { cut, point, handle: Some(handle) }));
            grips.retain(|grip| grip.is_there(design));
        }
        for cut in Cut::ALL {
            grips.extend(points(design, cut).iter().map(|point| Grip { cut, point: point.id, handle: None }));
        }
        grips
    }

    /// Its name for egui: stable while points come and go.
    pub fn id(self, design: &Design) -> Id {
        let handle = match self.handle {
            None => 0,
            Some(Handle::Before) => 1,
            Some(Handle::After) => 2,
        };
        Id::unique(("grip", design.id.0, self.cut.index(), self.point.0, handle))
    }

    /// Its name for people and tests: `first cut, point 3`.
    pub fn name(self, design: &Design) -> String {
        let number = points(design, self.cut).iter().position(|point| point.id == self.point).map_or(0, |i| i + 1);
        match self.handle {
            None => format!("{}, point {number}", self.cut),
            Some(Handle::Before) => format!("{}, point {number}, handle toward the top", self.cut),
            Some(Handle::After) => format!("{}, point {number}, handle toward the foot", self.cut),
        }
    }

    /// Where it is, mm from the top and from the edge.
    pub fn place(self, design: &Design) -> Option<[f64; 2]> {
        let point = points(design, self.cut).into_iter().find(|point| point.id == self.point)?;
        let (s, offset) = (point.from_top.mm(), point.offset.mm());
        Some(match self.handle {
            None => [s, offset],
            Some(Handle::Before) => {
                let (slope, reach) = point.kind.before();
                [s - reach, offset - slope * reach]
            }
            Some(Handle::After) => {
                let (slope, reach) = point.kind.after();
                [s + reach, offset + slope * reach]
            }
        })
    }

    /// The edit that puts it at a place.
    pub fn put(self, design: &Design, [s, offset]: [f64; 2]) -> Option<Edit> {
        let Grip { cut, point: id, handle } = self;
        let Some(handle) = handle else {
            let (from_top, offset) = (Length::from_mm(s), Length::from_mm(offset));
            return Some(Edit::MovePoint { design: design.id, cut, point: id, from_top, offset });
        };
        let point = points(design, cut).into_iter().find(|point| point.id == id)?;
        let (s0, offset0) = (point.from_top.mm(), point.offset.mm());
        let (reach, rise) = match handle {
            Handle::Before => (s0 - s, offset0 - offset),
            Handle::After => (s - s0, offset - offset0),
        };
        let reach_mm = reach.max(LEAST_REACH_MM);
        Some(Edit::MoveHandle { design: design.id, cut, point: id, handle, slope: rise / reach_mm, reach_mm })
    }

    /// Whether a handle does anything: the ones before the first point and after the last do not.
    fn is_there(self, design: &Design) -> bool {
        let points = points(design, self.cut);
        let end = match self.handle {
            None => return points.iter().any(|point| point.id == self.point),
            Some(Handle::Before) => points.first(),
            Some(Handle::After) => points.last(),
        };
        points.iter().any(|point| point.id == self.point) && end.is_some_and(|end| end.id != self.point)
    }
}

/// The points of a cut as they are, whether set one by one or following from a live shape.
pub fn points(design: &Design, cut: Cut) -> Vec<Point> {
    design.line(cut).points(design.blank.length.mm(), design.across_mm(cut))
}

/// Whether a cut is still a live shape.
pub fn is_shape(design: &Design, cut: Cut) -> bool {
    matches!(design.line(cut), Line::Shape(_))
}

#[cfg(test)]
mod tests {
    use super::*;
    use cornerwise_project::{DesignId, Project};

    #[test]
    fn every_grip_can_be_put_where_it_is() {
        let project = Project::new();
        let project = project.apply(&Edit::ShapeToPoints { design: DesignId(1), cut: Cut::First }).unwrap();
        let design = &project.designs[0];
        let chosen = Chosen { cut: Cut::First, point: points(design, Cut::First)[1].id };
        let grips = Grip::all(design, Some(chosen));
        assert_eq!(grips.iter().filter(|grip| grip.handle.is_some()).count(), 2);
        for grip in grips.into_iter().filter(|grip| grip.cut == Cut::First) {
            let place = grip.place(design).unwrap();
            let again = project.apply(&grip.put(design, place).unwrap()).unwrap();
            let [s, offset] = grip.place(&again.designs[0]).unwrap();
            assert!((s - place[0]).abs() < 1e-9 && (offset - place[1]).abs() < 1e-9, "{}", grip.name(design));
        }
    }

    #[test]
    fn names_count_along_the_line_and_ids_stay_with_the_point() {
        let project = Project::new();
        let project = project.apply(&Edit::ShapeToPoints { design: DesignId(1), cut: Cut::First }).unwrap();
        let design = &project.designs[0];
        let ids: Vec<_> = points(design, Cut::First).iter().map(|p| p.id).collect();
        let third = Grip { cut: Cut::First, point: ids[2], handle: None };
        assert_eq!(third.name(design), "first cut, point 3");
        let gone = project.apply(&Edit::DeletePoint { design: DesignId(1), cut: Cut::First, point: ids[1] }).unwrap();
        assert_eq!(third.name(&gone.designs[0]), "first cut, point 2");
        assert_eq!(third.id(&gone.designs[0]), third.id(design));
    }
}

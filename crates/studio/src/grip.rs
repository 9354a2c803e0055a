//! What can be taken hold of: the points of both cuts and the handles of the chosen point.

use cornerwise_geometry::{Cut, Length, Line, Point, PointId};
use cornerwise_project::{Design, Edit, Handle, LEAST_REACH_MM};
use egui::Id;

use crate::sheet::{Sheet, Spot};
use crate::view::Chosen;

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

/// A grip where it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placed {
    /// What can be taken hold of.
    pub grip: Grip,
    /// Where, mm from the top and from the edge.
    pub at: [f64; 2],
    /// Its point's number in the line, from 1.
    pub number: usize,
    /// Whether its point is sharp.
    pub sharp: bool,
    /// Whether its point's handles are tied.
    pub tied: bool,
    /// Whether it is a pin of a batten.
    pub pin: bool,
}

impl Placed {
    fn new(cut: Cut, point: &Point, number: usize, handle: Option<Handle>) -> Placed {
        let (s, offset) = (point.from_top.mm(), point.offset.mm());
        let at = match handle {
            None => [s, offset],
            Some(Handle::Before) => {
                let (slope, reach) = point.kind.before();
                [s - reach, offset - slope * reach]
            }
            Some(Handle::After) => {
                let (slope, reach) = point.kind.after();
                [s + reach, offset + slope * reach]
            }
        };
        Placed {
            grip: Grip { cut, point: point.id, handle },
            at,
            number,
            sharp: point.kind.is_sharp(),
            tied: point.tied,
            pin: false,
        }
    }

    /// The grips of a design: handles of the chosen point first, so that points lie above them. The handles before the
    /// first point and after the last are left out: they do nothing.
    pub fn all(design: &Design, chosen: Option<Chosen>) -> Vec<Placed> {
        let lines = Cut::ALL.map(|cut| design.points(cut));
        let mut grips = Vec::with_capacity(lines[0].len() + lines[1].len() + 2);
        if let Some(Chosen { cut, point }) = chosen {
            let line = &lines[cut.index()];
            if let Some(i) = line.iter().position(|p| p.id == point).filter(|_| design.has_handles(cut, point)) {
                if i > 0 {
                    grips.push(Placed::new(cut, &line[i], i + 1, Some(Handle::Before)));
                }
                if i + 1 < line.len() {
                    grips.push(Placed::new(cut, &line[i], i + 1, Some(Handle::After)));
                }
            }
        }
        for (cut, line) in Cut::ALL.into_iter().zip(&lines) {
            grips.extend(line.iter().zip(1..).map(|(point, number)| Placed::new(cut, point, number, None)));
        }
        let battens = Cut::ALL.map(|cut| design.is_batten(cut));
        for placed in &mut grips {
            placed.pin = battens[placed.grip.cut.index()];
        }
        grips
    }

    /// Its name for people and tests: `first cut, point 3`.
    pub fn name(&self) -> String {
        let point = format!("{}, {} {}", self.grip.cut, if self.pin { "pin" } else { "point" }, self.number);
        match self.grip.handle {
            None => point,
            Some(Handle::Before) => format!("{point}, handle toward the top"),
            Some(Handle::After) => format!("{point}, handle toward the foot"),
        }
    }

    /// Whether a sheet shows its line.
    pub fn is_on(&self, sheet: &Sheet) -> bool {
        self.grip.cut == sheet.cut
    }

    /// Its name for egui on a sheet.
    pub fn id(&self, design: &Design, sheet: &Sheet) -> Id {
        self.grip.id(design, sheet.spot)
    }

    /// The point it belongs to.
    pub fn point(&self) -> Chosen {
        Chosen { cut: self.grip.cut, point: self.grip.point }
    }
}

impl Grip {
    /// Its name for egui where it is shown at `spot`: stable while points come and go.
    pub fn id(self, design: &Design, spot: Spot) -> Id {
        let handle = match self.handle {
            None => 0,
            Some(Handle::Before) => 1,
            Some(Handle::After) => 2,
        };
        Id::unique(("grip", design.id.0, self.cut.index(), self.point.0, handle, spot))
    }

    /// Where it is, mm from the top and from the edge.
    pub fn place(self, design: &Design) -> Option<[f64; 2]> {
        let point = design.points(self.cut).into_iter().find(|point| point.id == self.point)?;
        Some(Placed::new(self.cut, &point, 0, self.handle).at)
    }

    /// The edit that puts it at a place. A handle takes the other one of its point with it where they are tied, or, with
    /// `other_way`, where they are not; and that they stay then.
    pub fn put(self, design: &Design, [s, offset]: [f64; 2], other_way: bool) -> Option<Edit> {
        let Grip { cut, point: id, handle } = self;
        let was = design.points(cut).into_iter().find(|point| point.id == id)?;
        let tied = was.tied != other_way;
        let Some(handle) = handle else {
            // A figure that stays keeps the text it was typed as.
            let kept = |was: Length, mm: f64| if was.mm() == mm { was } else { Length::from_mm(mm) };
            let (from_top, offset) = (kept(was.from_top, s), kept(was.offset, offset));
            return Some(Edit::MovePoint { design: design.id, cut, point: id, from_top, offset });
        };
        let [s0, offset0] = [was.from_top.mm(), was.offset.mm()];
        let (reach, rise) = match handle {
            Handle::Before => (s0 - s, offset0 - offset),
            Handle::After => (s - s0, offset - offset0),
        };
        let reach_mm = reach.max(LEAST_REACH_MM);
        Some(Edit::MoveHandle { design: design.id, cut, point: id, handle, slope: rise / reach_mm, reach_mm, tied })
    }
}

/// Whether a cut is still a live shape.
pub fn is_shape(design: &Design, cut: Cut) -> bool {
    matches!(&*design.own_line(cut), Line::Shape(_))
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
        let chosen = Chosen { cut: Cut::First, point: design.points(Cut::First)[1].id };
        let grips = Placed::all(design, Some(chosen));
        assert_eq!(grips.iter().filter(|placed| placed.grip.handle.is_some()).count(), 2);
        for placed in grips.into_iter().filter(|placed| placed.grip.cut == Cut::First) {
            let again = project.apply(&placed.grip.put(design, placed.at, false).unwrap()).unwrap();
            let [s, offset] = placed.grip.place(&again.designs[0]).unwrap();
            assert!((s - placed.at[0]).abs() < 1e-9 && (offset - placed.at[1]).abs() < 1e-9, "{}", placed.name());
        }
        let end = Chosen { cut: Cut::First, point: design.points(Cut::First)[0].id };
        let handles = Placed::all(design, Some(end)).into_iter().filter(|placed| placed.grip.handle.is_some()).count();
        assert_eq!(handles, 1, "the first point has no handle toward the top");
    }

    #[test]
    fn names_count_along_the_line_and_ids_stay_with_the_point() {
        let project = Project::new();
        let project = project.apply(&Edit::ShapeToPoints { design: DesignId(1), cut: Cut::First }).unwrap();
        let design = &project.designs[0];
        let ids: Vec<_> = design.points(Cut::First).iter().map(|p| p.id).collect();
        let third = Grip { cut: Cut::First, point: ids[2], handle: None };
        let name =
            |design: &Design| Placed::all(design, None).iter().find(|placed| placed.grip == third).map(Placed::name);
        assert_eq!(name(design).as_deref(), Some("first cut, point 3"));
        let gone = project.apply(&Edit::DeletePoint { design: DesignId(1), cut: Cut::First, point: ids[1] }).unwrap();
        assert_eq!(name(&gone.designs[0]).as_deref(), Some("first cut, point 2"));
        assert_eq!(third.id(&gone.designs[0], Spot::Face), third.id(design, Spot::Face));
    }
}

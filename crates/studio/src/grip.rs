//! What can be taken hold of: the points of both cuts, the handles of the chosen point, and the parameters of live shapes.

use cornerwise_geometry::{Cut, Length, Line, Point, PointId, Shape};
use cornerwise_project::{Design, Edit, Handle, LEAST_REACH_MM, Project};
use egui::Id;

use crate::sheet::{Sheet, Spot};
use crate::view::Chosen;

/// Something of a cut that the hand can hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Grip {
    /// The cut.
    pub cut: Cut,
    /// What of it.
    pub part: Part,
}

/// What of a cut the hand can hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// A point, or a pin of a batten.
    Point(PointId),
    /// A handle of a point.
    Handle(PointId, Handle),
    /// A handle of a live shape, by its place in [`Shape::handles`].
    Shape(usize),
}

/// A grip where it is.
#[derive(Clone, Debug, PartialEq)]
pub struct Placed {
    /// What can be taken hold of.
    pub grip: Grip,
    /// Where, mm from the top and from the edge.
    pub at: [f64; 2],
    /// Its point's number in the line, from 1; 0 where it belongs to none.
    pub number: usize,
    /// Whether its point is sharp.
    pub sharp: bool,
    /// Whether its point's handles are tied.
    pub tied: bool,
    /// Whether it is a pin of a batten.
    pub pin: bool,
    /// The parameters that a handle of a live shape stands for.
    parameters: Option<String>,
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
        let part = handle.map_or(Part::Point(point.id), |handle| Part::Handle(point.id, handle));
        Placed {
            grip: Grip { cut, part },
            at,
            number,
            sharp: point.kind.is_sharp(),
            tied: point.tied,
            pin: false,
            parameters: None,
        }
    }

    /// The grips of a design: handles of the chosen point first, so that points lie above them. The handles before the
    /// first point and after the last are left out: they do nothing.
    pub fn all(design: &Design, chosen: Option<Chosen>) -> Vec<Placed> {
        let lines = Cut::ALL.map(|cut| design.points(cut));
        let mut grips = Vec::with_capacity(lines[0].len() + lines[1].len() + 8);
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
        grips.extend(Cut::ALL.into_iter().flat_map(|cut| of_shape(design, cut)));
        grips
    }

    /// Its name for people and tests: `first cut, point 3`.
    pub fn name(&self) -> String {
        let cut = self.grip.cut;
        let point = || format!("{cut}, {} {}", if self.pin { "pin" } else { "point" }, self.number);
        match self.grip.part {
            Part::Point(_) => point(),
            Part::Handle(_, Handle::Before) => format!("{}, handle toward the top", point()),
            Part::Handle(_, Handle::After) => format!("{}, handle toward the foot", point()),
            Part::Shape(_) => format!("{cut}, handle for {}", self.parameters.as_deref().unwrap_or_default()),
        }
    }

    /// Whether a sheet shows it: lines lie on all sheets, what stands for parameters only on the cut's own face.
    pub fn is_on(&self, sheet: &Sheet) -> bool {
        self.grip.cut == sheet.cut && (sheet.spot == Spot::Face || !matches!(self.grip.part, Part::Shape(_)))
    }

    /// Its name for egui on a sheet.
    pub fn id(&self, design: &Design, sheet: &Sheet) -> Id {
        self.grip.id(design, sheet.spot)
    }
}

/// The handles of a cut that is a live shape of its own.
fn of_shape(design: &Design, cut: Cut) -> Vec<Placed> {
    let Line::Shape(shape) = design.line(cut) else { return Vec::new() };
    let handles = shape.handles(design.blank.length.mm(), design.across_mm(cut)).into_iter().enumerate();
    let placed = |(i, handle): (usize, cornerwise_geometry::ShapeHandle)| Placed {
        grip: Grip { cut, part: Part::Shape(i) },
        at: handle.at,
        number: 0,
        sharp: false,
        tied: false,
        pin: false,
        parameters: Some(handle.name),
    };
    handles.map(placed).collect()
}

impl Grip {
    /// A point.
    pub fn point(cut: Cut, point: PointId) -> Grip {
        Grip { cut, part: Part::Point(point) }
    }

    /// The point that it is or belongs to.
    pub fn of_point(self) -> Option<Chosen> {
        match self.part {
            Part::Point(point) | Part::Handle(point, _) => Some(Chosen { cut: self.cut, point }),
            Part::Shape(_) => None,
        }
    }

    /// Whether it is a point itself.
    pub fn is_point(self) -> bool {
        matches!(self.part, Part::Point(_))
    }

    /// Whether it is a handle of a point.
    pub fn is_handle(self) -> bool {
        matches!(self.part, Part::Handle(..))
    }

    /// Whether it can be moved along the leg, and across it.
    pub fn moves(self, design: &Design) -> [bool; 2] {
        match (self.part, design.line(self.cut)) {
            (Part::Shape(i), Line::Shape(shape)) => {
                let handle = shape.handles(design.blank.length.mm(), design.across_mm(self.cut)).into_iter().nth(i);
                handle.map_or([false; 2], |handle| [handle.along.is_some(), handle.across.is_some()])
            }
            _ => [true; 2],
        }
    }

    /// Its name for egui where it is shown at `spot`: stable while points come and go.
    pub fn id(self, design: &Design, spot: Spot) -> Id {
        let part = match self.part {
            Part::Point(point) => (0, point.0),
            Part::Handle(point, Handle::Before) => (1, point.0),
            Part::Handle(point, Handle::After) => (2, point.0),
            Part::Shape(i) => (3, i as u32),
        };
        Id::unique(("grip", design.id.0, self.cut.index(), part, spot))
    }

    /// Where it is, mm from the top and from the edge.
    pub fn place(self, design: &Design) -> Option<[f64; 2]> {
        let (id, handle) = match self.part {
            Part::Point(id) => (id, None),
            Part::Handle(id, handle) => (id, Some(handle)),
            Part::Shape(i) => return of_shape(design, self.cut).get(i).map(|placed| placed.at),
        };
        let point = design.points(self.cut).into_iter().find(|point| point.id == id)?;
        Some(Placed::new(self.cut, &point, 0, handle).at)
    }

    /// The edit that puts it at a place. A handle takes the other one of its point with it where they are tied, or, with
    /// `other_way`, where they are not; and that they stay then.
    pub fn put(self, project: &Project, design: &Design, [s, offset]: [f64; 2], other_way: bool) -> Option<Edit> {
        let cut = self.cut;
        let (id, handle) = match self.part {
            Part::Point(id) => (id, None),
            Part::Handle(id, handle) => (id, Some(handle)),
            Part::Shape(i) => return put_shape(project, design, cut, i, [s, offset]),
        };
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

/// How often the way to a place is halved where all of it is too far.
const HALVINGS: u32 = 12;

/// The edit that puts a handle of a live shape to a place, or as far on the way there as the project takes: it stops, as
/// points do.
fn put_shape(project: &Project, design: &Design, cut: Cut, handle: usize, to: [f64; 2]) -> Option<Edit> {
    let Line::Shape(shape) = design.line(cut) else { return None };
    let (length_mm, across_mm) = (design.blank.length.mm(), design.across_mm(cut));
    let from = shape.handles(length_mm, across_mm).get(handle)?.at;
    let edit = |share: f64| {
        let at = [0, 1].map(|i| from[i] + share * (to[i] - from[i]));
        // All the way is exactly there.
        let at = if share == 1.0 { to } else { at };
        let shape: Shape = shape.with_handle(handle, at, length_mm, across_mm);
        Edit::SetShape { design: design.id, cut, shape }
    };
    let is_taken = |edit: &Edit| project.apply(edit).is_ok();
    let whole = edit(1.0);
    if is_taken(&whole) {
        return Some(whole);
    }
    let (mut taken, mut refused) = (0.0, 1.0);
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(taken, refused);
        if is_taken(&edit(middle)) { taken = middle } else { refused = middle }
    }
    Some(edit(taken))
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
        assert_eq!(grips.iter().filter(|placed| placed.grip.is_handle()).count(), 2);
        for placed in grips.into_iter().filter(|placed| placed.grip.cut == Cut::First) {
            let again = project.apply(&placed.grip.put(&project, design, placed.at, false).unwrap()).unwrap();
            let [s, offset] = placed.grip.place(&again.designs[0]).unwrap();
            assert!((s - placed.at[0]).abs() < 1e-9 && (offset - placed.at[1]).abs() < 1e-9, "{}", placed.name());
        }
        let end = Chosen { cut: Cut::First, point: design.points(Cut::First)[0].id };
        let handles = Placed::all(design, Some(end)).into_iter().filter(|placed| placed.grip.is_handle()).count();
        assert_eq!(handles, 1, "the first point has no handle toward the top");
    }

    #[test]
    fn names_count_along_the_line_and_ids_stay_with_the_point() {
        let project = Project::new();
        let project = project.apply(&Edit::ShapeToPoints { design: DesignId(1), cut: Cut::First }).unwrap();
        let design = &project.designs[0];
        let ids: Vec<_> = design.points(Cut::First).iter().map(|p| p.id).collect();
        let third = Grip::point(Cut::First, ids[2]);
        let name =
            |design: &Design| Placed::all(design, None).iter().find(|placed| placed.grip == third).map(Placed::name);
        assert_eq!(name(design).as_deref(), Some("first cut, point 3"));
        let gone = project.apply(&Edit::DeletePoint { design: DesignId(1), cut: Cut::First, point: ids[1] }).unwrap();
        assert_eq!(name(&gone.designs[0]).as_deref(), Some("first cut, point 2"));
        assert_eq!(third.id(&gone.designs[0], Spot::Face), third.id(design, Spot::Face));
    }

    #[test]
    fn a_handle_of_a_live_shape_stops_where_the_line_would_be_too_steep_and_the_shape_stays_live() {
        let project = Project::new();
        let design = &project.designs[0];
        let swing = Placed::all(design, None).into_iter().find(|placed| placed.name().ends_with("handle for swing"));
        let grip = swing.expect("a handle").grip;
        let edit = grip.put(&project, design, [0.0, 5000.0], false).unwrap();
        let far = project.apply(&edit).expect("taken");
        assert!(is_shape(&far.designs[0], grip.cut));
        let [_, offset] = grip.place(&far.designs[0]).unwrap();
        assert!(offset > 100.0 && offset < 5000.0, "{offset}");
    }
}

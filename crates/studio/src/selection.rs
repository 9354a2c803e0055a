//! The chosen points of both cuts.

use cornerwise_geometry::Cut;
use cornerwise_project::{Design, DesignId};

use crate::view::Chosen;

/// The points that keys, drags and fields work on, in the order they were chosen.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Selection {
    /// Whose points they are: those of another leg mean nothing here.
    design: Option<DesignId>,
    points: Vec<Chosen>,
}

impl Selection {
    /// The chosen point where it is the only one: fields show its figures.
    pub fn one(&self) -> Option<Chosen> {
        match self.points.as_slice() {
            [one] => Some(*one),
            _ => None,
        }
    }

    /// Whether a point is among them.
    pub fn contains(&self, point: Chosen) -> bool {
        self.points.contains(&point)
    }

    /// All of them.
    pub fn iter(&self) -> impl Iterator<Item = Chosen> + '_ {
        self.points.iter().copied()
    }

    /// How many they are.
    pub fn len(&self) -> usize {
        self.points.len()
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.points.is_empty()
    }

    /// Chooses this point and no other.
    pub fn set(&mut self, point: Chosen) {
        self.points = vec![point];
    }

    /// Chooses these points and no others.
    pub fn set_all(&mut self, points: impl IntoIterator<Item = Chosen>) {
        self.points.clear();
        self.add_all(points);
    }

    /// Chooses these points too.
    pub fn add_all(&mut self, points: impl IntoIterator<Item = Chosen>) {
        for point in points {
            if !self.contains(point) {
                self.points.push(point);
            }
        }
    }

    /// Chooses a point too, or no longer.
    pub fn toggle(&mut self, point: Chosen) {
        if self.contains(point) {
            self.points.retain(|other| *other != point);
        } else {
            self.points.push(point);
        }
    }

    /// Chooses none.
    pub fn clear(&mut self) {
        self.points.clear();
    }

    /// Forgets points that are no longer there, and all of them where another leg is shown now.
    pub fn tidy(&mut self, design: &Design) {
        if self.design != Some(design.id) {
            if self.design.is_some() {
                self.clear();
            }
            self.design = Some(design.id);
        }
        if self.points.is_empty() {
            return;
        }
        let there = Cut::ALL.map(|cut| design.points(cut));
        self.points.retain(|chosen| there[chosen.cut.index()].iter().any(|point| point.id == chosen.point));
    }

    /// Chooses the point after the chosen one, or before it: along the first cut, then the second, and round again. The
    /// answer is that point.
    pub fn step(&mut self, design: &Design, toward_foot: bool) -> Option<Chosen> {
        let of_cut = |cut: Cut| design.points(cut).into_iter().map(move |point| Chosen { cut, point: point.id });
        let all: Vec<Chosen> = Cut::ALL.into_iter().flat_map(of_cut).collect();
        let now = self.points.last().and_then(|last| all.iter().position(|one| one == last));
        let next = match (now, toward_foot) {
            (Some(now), true) => (now + 1) % all.len(),
            (Some(now), false) => (now + all.len() - 1) % all.len(),
            (None, true) => 0,
            (None, false) => all.len().checked_sub(1)?,
        };
        let next = *all.get(next)?;
        self.set(next);
        Some(next)
    }

    /// Chooses all points of the cut whose points are chosen; of both when there is no one such cut, or all of its points
    /// are chosen already.
    pub fn choose_all(&mut self, design: &Design) {
        let of_cut = |cut: Cut| design.points(cut).into_iter().map(move |point| Chosen { cut, point: point.id });
        let first = self.points.first().map(|chosen| chosen.cut);
        match first.filter(|cut| self.points.iter().all(|chosen| chosen.cut == *cut)) {
            Some(cut) if of_cut(cut).any(|point| !self.contains(point)) => self.set_all(of_cut(cut)),
            Some(_) | None => self.set_all(Cut::ALL.into_iter().flat_map(of_cut)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use cornerwise_geometry::PointId;
    use cornerwise_project::{Edit, Project};

    #[test]
    fn what_is_no_longer_there_is_no_longer_chosen() {
        let cut = Cut::First;
        let project = Project::new().apply(&Edit::ShapeToPoints { design: DesignId(1), cut }).unwrap();
        let design = &project.designs[0];
        let mut chosen = Selection::default();
        chosen.tidy(design);
        chosen.choose_all(design);
        let all = chosen.len();
        assert_eq!(all, design.points(Cut::First).len() + design.points(Cut::Second).len());
        let point = design.points(cut)[1].id;
        let less = project.apply(&Edit::DeletePoint { design: DesignId(1), cut, point }).unwrap();
        chosen.tidy(&less.designs[0]);
        assert_eq!(chosen.len(), all - 1);
        assert!(!chosen.contains(Chosen { cut, point }));
        let two = project.apply(&Edit::DuplicateDesign { design: DesignId(1) }).unwrap();
        chosen.tidy(&two.designs[1]);
        assert!(chosen.is_empty(), "another leg has points of the same ids, and they are not the same points");
    }

    #[test]
    fn all_of_a_cut_come_before_all_of_both() {
        let project = Project::new();
        let design = &project.designs[0];
        let mut chosen = Selection::default();
        chosen.set(Chosen { cut: Cut::Second, point: design.points(Cut::Second)[1].id });
        assert!(chosen.one().is_some());
        chosen.choose_all(design);
        assert!(chosen.iter().all(|point| point.cut == Cut::Second) && chosen.one().is_none());
        chosen.choose_all(design);
        assert_eq!(chosen.len(), design.points(Cut::First).len() + design.points(Cut::Second).len());
        chosen.toggle(Chosen { cut: Cut::First, point: PointId(999) });
        chosen.toggle(Chosen { cut: Cut::First, point: PointId(999) });
        assert!(chosen.iter().all(|point| point.point != PointId(999)));
    }
}

//! What an edit does to the pins of a batten.

use crate::line_edits::{finite, held, within_room};
use crate::{EDIT_GAP_MM, Edit, EditError};
use cornerwise_geometry::line_tools::new_point_id;
use cornerwise_geometry::{Batten, Cut, Holds, Length, Line, MAX_SLOPE, Pin, PointId, SawLine};

/// How many times the way to a place where no batten lies is halved: to a thousandth of the way, which is as near as a
/// hand can tell, and quick with many pins.
const HALVINGS: u32 = 10;

/// The batten of one cut, and the face it lies on.
pub(crate) struct Pinned<'a> {
    pub cut: Cut,
    pub batten: &'a Batten,
    pub length_mm: f64,
    pub across_mm: f64,
}

impl Pinned<'_> {
    /// The batten after an edit of its pins; None where the edit is for points.
    pub fn changed(&self, edit: &Edit) -> Result<Option<Batten>, EditError> {
        match edit {
            Edit::MovePoint { point, from_top, offset, .. } => self.moved(*point, from_top, offset).map(Some),
            Edit::PlacePoint { point, from_top, offset, .. } => self.placed(*point, from_top, offset).map(Some),
            Edit::MoveHandle { point, slope, .. } => self.turned(*point, *slope).map(Some),
            Edit::AddPoint { from_top_mm, .. } => self.added(*from_top_mm).map(Some),
            Edit::DeletePoint { point, .. } => self.deleted(*point).map(Some),
            Edit::HoldPin { pin, slope, .. } => self.holding(*pin, *slope).map(Some),
            Edit::SetPointKind { sharp: true, .. } => Err(EditError::BattenBends { cut: self.cut }),
            Edit::SetPointKind { sharp: false, .. } | Edit::TieHandles { .. } => Ok(Some(self.batten.clone())),
            Edit::ReshapeLine { tool, .. } => Ok(tool.used_on(self.batten, self.length_mm, self.across_mm)),
            _ => Ok(None),
        }
    }

    fn place_of(&self, id: PointId) -> Result<usize, EditError> {
        let cut = self.cut;
        self.batten.pins.iter().position(|pin| pin.id == id).ok_or(EditError::NoSuchPoint { cut, point: id })
    }

    /// The pin moved as far toward the new place as its neighbours, the face and the batten let it.
    fn moved(&self, id: PointId, from_top: &Length, offset: &Length) -> Result<Batten, EditError> {
        finite(&[("the distance from the top", from_top.mm()), ("the offset", offset.mm())])?;
        let place = self.place_of(id)?;
        let was = &self.batten.pins[place];
        let ([least, most], [low, high]) = (self.room_along(place), self.room_across(place));
        let (from_top, offset) = (held(from_top, least, most), held(offset, low, high));
        let on_way = |share: f64, was: &Length, to: &Length| {
            if share >= 1.0 { to.clone() } else { Length::from_mm(was.mm() + share * (to.mm() - was.mm())) }
        };
        Ok(self.as_far_as_it_bends(place, |share| Pin {
            from_top: on_way(share, &was.from_top, &from_top),
            offset: on_way(share, &was.offset, &offset),
            ..was.clone()
        }))
    }

    /// The pin exactly at the new place.
    fn placed(&self, id: PointId, from_top: &Length, offset: &Length) -> Result<Batten, EditError> {
        finite(&[("the distance from the top", from_top.mm()), ("the offset", offset.mm())])?;
        let place = self.place_of(id)?;
        within_room(self.cut, (self.room_along(place), from_top), (self.room_across(place), offset))?;
        let was = self.batten.pins[place].clone();
        Ok(self.with(place, Pin { from_top: from_top.clone(), offset: offset.clone(), ..was }))
    }

    /// The pin holding a direction, turned as far toward it as the batten lets it.
    fn turned(&self, id: PointId, slope: f64) -> Result<Batten, EditError> {
        finite(&[("the slope", slope)])?;
        let place = self.place_of(id)?;
        let pin = &self.batten.pins[place];
        let was = match pin.holds.slope() {
            Some(slope) => slope,
            None => self.solved()?.at(pin.from_top.mm()).slope,
        };
        let slope = slope.clamp(-MAX_SLOPE, MAX_SLOPE);
        Ok(self.as_far_as_it_bends(place, |share| {
            let slope = if share >= 1.0 { slope } else { was + share * (slope - was) };
            Pin { holds: Holds::Direction { slope }, ..pin.clone() }
        }))
    }

    /// The pin holding exactly this direction, or none.
    fn holding(&self, id: PointId, slope: Option<f64>) -> Result<Batten, EditError> {
        let place = self.place_of(id)?;
        let holds = match slope {
            Some(slope) => {
                finite(&[("the slope", slope)])?;
                Holds::Direction { slope }
            }
            None => Holds::Position,
        };
        Ok(self.with(place, Pin { holds, ..self.batten.pins[place].clone() }))
    }

    /// The batten with one pin more, put against it where it lies, so that it stays as it is.
    fn added(&self, s_mm: f64) -> Result<Batten, EditError> {
        finite(&[("the distance from the top", s_mm)])?;
        let s_mm = s_mm.clamp(0.0, self.length_mm);
        let mut pins = self.batten.pins.clone();
        if let Some(near) = pins.iter().find(|pin| (pin.from_top.mm() - s_mm).abs() < EDIT_GAP_MM) {
            return Err(EditError::NoRoom { cut: self.cut, s_mm, near_mm: near.from_top.mm() });
        }
        let id = new_point_id(&Line::Batten(self.batten.clone()).points(self.length_mm, self.across_mm));
        let place = pins.partition_point(|pin| pin.from_top.mm() < s_mm);
        pins.insert(place, Pin::new(id.0, s_mm, self.solved()?.offset(s_mm)));
        Ok(Batten { pins })
    }

    fn deleted(&self, id: PointId) -> Result<Batten, EditError> {
        let place = self.place_of(id)?;
        if self.batten.pins.len() <= 2 {
            return Err(EditError::TooFewPins { cut: self.cut });
        }
        let mut batten = self.batten.clone();
        batten.pins.remove(place);
        Ok(batten)
    }

    fn with(&self, place: usize, pin: Pin) -> Batten {
        let mut batten = self.batten.clone();
        batten.pins[place] = pin;
        batten
    }

    fn solved(&self) -> Result<SawLine, EditError> {
        let line = Line::Batten(self.batten.clone());
        line.solve(self.length_mm, self.across_mm).map_err(|source| EditError::Line { cut: self.cut, source })
    }

    /// The batten with the pin at `place` put to `at(1)`, or, where no batten lies then, to the last `at(share)` on the
    /// way from where it is, `at(0)`.
    fn as_far_as_it_bends(&self, place: usize, at: impl Fn(f64) -> Pin) -> Batten {
        let tried = |share: f64| {
            let line = Line::Batten(self.with(place, at(share)));
            line.solve(self.length_mm, self.across_mm).is_ok()
        };
        if tried(1.0) {
            return self.with(place, at(1.0));
        }
        let (mut good, mut bad) = (0.0, 1.0);
        for _ in 0..HALVINGS {
            let middle = (good + bad) / 2.0;
            if tried(middle) { good = middle } else { bad = middle }
        }
        if good > 0.0 { self.with(place, at(good)) } else { self.batten.clone() }
    }

    /// From where to where a pin may be put along the leg, its present place always among it, mm.
    fn room_along(&self, place: usize) -> [f64; 2] {
        let pins = &self.batten.pins;
        let here = pins[place].from_top.mm();
        let least = if place == 0 { 0.0 } else { pins[place - 1].from_top.mm() + EDIT_GAP_MM };
        let most = pins.get(place + 1).map_or(self.length_mm, |next| next.from_top.mm() - EDIT_GAP_MM);
        [least.min(here), most.max(here)]
    }

    /// From where to where a pin may be put across, its present place always among it, mm: as far as a point.
    fn room_across(&self, place: usize) -> [f64; 2] {
        let here = self.batten.pins[place].offset.mm();
        [here.min(-self.across_mm), here.max(2.0 * self.across_mm)]
    }
}

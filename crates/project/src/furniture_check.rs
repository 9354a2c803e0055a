//! Whether furniture is sound.

use crate::furniture::MAX_PLACES;
use crate::{DesignId, Fault, Furniture, Place, Project, ProjectError, Standing};
use cornerwise_geometry::Length;
use cornerwise_geometry::furniture::Arrangement;

impl Project {
    pub(crate) fn check_furniture(&self) -> Result<(), ProjectError> {
        let Some(furniture) = &self.furniture else { return Ok(()) };
        let fault = |fault: Fault| fault.at(Place::Furniture);
        furniture.check().map_err(fault)?;
        for (place, standing) in furniture.legs.iter().enumerate() {
            if standing.design != DesignId(0) && self.design(standing.design).is_none() {
                return Err(fault(Fault::NoSuchStanding { place: place + 1, id: standing.design.0 }));
            }
        }
        Ok(())
    }

    /// Legs that stand for the first design, whichever it is, stand for this one from now on: before the list is reordered.
    pub(crate) fn pin_standing(&mut self) {
        let (Some(furniture), Some(first)) = (&mut self.furniture, self.designs.first()) else { return };
        let places = furniture.arrangement.spots().len().max(furniture.legs.len()).min(MAX_PLACES);
        furniture.legs.resize(places, Standing::default());
        for standing in furniture.legs.iter_mut().filter(|standing| standing.design == DesignId(0)) {
            standing.design = first.id;
        }
    }

    /// Legs of a design that is gone become the project's first design.
    pub(crate) fn stand_without(&mut self, gone: DesignId) {
        if let Some(furniture) = &mut self.furniture {
            for standing in furniture.legs.iter_mut().filter(|standing| standing.design == gone) {
                standing.design = DesignId(0);
            }
        }
    }
}

impl Furniture {
    fn check(&self) -> Result<(), Fault> {
        match &self.arrangement {
            Arrangement::Column => {}
            Arrangement::Rectangle { width, depth } => {
                size("distance between legs", width, 10.0, 5_000.0)?;
                size("distance between legs", depth, 10.0, 5_000.0)?;
            }
            Arrangement::Circle { radius } => size("circle of the legs", radius, 10.0, 5_000.0)?,
            Arrangement::Row { spacing, count } => {
                size("distance between legs", spacing, 10.0, 5_000.0)?;
                if !(1..=MAX_PLACES as u32).contains(count) {
                    return Err(Fault::LegsInRow(*count));
                }
            }
        }
        if self.legs.len() > MAX_PLACES {
            return Err(Fault::LegsInRow(self.legs.len() as u32));
        }
        size("aprons' thickness", &self.aprons.thickness, 0.5, 500.0)?;
        if let Some(top) = &self.top {
            size("top's thickness", &top.thickness, 0.5, 500.0)?;
            size("top's overhang", &top.overhang, -500.0, 2_000.0)?;
        }
        if let Some(base) = &self.base {
            size("base", &base.across, 5.0, 5_000.0)?;
            size("base's thickness", &base.thickness, 0.5, 1_000.0)?;
        }
        if let Some(shade) = &self.shade {
            size("shade's upper edge", &shade.across_top, 5.0, 5_000.0)?;
            size("shade's lower edge", &shade.across_foot, 5.0, 5_000.0)?;
            size("shade's height", &shade.height, 5.0, 5_000.0)?;
            size("shade's distance above the leg", &shade.above, 0.0, 2_000.0)?;
        }
        size("rough allowance across", &self.rough.across, 0.0, 200.0)?;
        size("rough allowance along", &self.rough.along, 0.0, 1_000.0)?;
        let Some(board) = &self.rough.board else { return Ok(()) };
        size("length of a board in stock", &board.length, 50.0, 20_000.0)?;
        size("width of a board in stock", &board.width, 5.0, 2_000.0)?;
        size("thickness of a board in stock", &board.thickness, 5.0, 500.0)
    }
}

fn size(what: &'static str, length: &Length, least: f64, most: f64) -> Result<(), Fault> {
    let mm = length.mm();
    if (least..=most).contains(&mm) { Ok(()) } else { Err(Fault::FurnitureSize { what, mm, least, most }) }
}

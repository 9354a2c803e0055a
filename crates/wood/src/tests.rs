//! Tests over several files of this crate, and what they share.

mod block_seams;
mod calm_photos;
mod layered_seams;
mod painting;
mod photo_rings;
mod photos;
mod pure;
mod reading;
mod ring_seams;
mod timber_look;

use cornerwise_geometry::{Blank, Leg, Length, Line, Shape};

use crate::{Layer, Layers, Species, Timber, Wood};

/// A leg with an S of this swing on both faces.
pub(crate) fn cyma_leg(width_mm: f64, depth_mm: f64, length_mm: f64, swing_mm: f64, turn: f64) -> Leg {
    let line = Line::Shape(Shape::Cyma { swing: swing_mm.into(), turn, aside: Length::ZERO });
    let blank = Blank { depth: depth_mm.into(), ..Blank::square(width_mm, length_mm) };
    Leg::new(&blank, &line, &line).unwrap()
}

/// A leg without curves.
fn straight_leg(side_mm: f64, length_mm: f64) -> Leg {
    let line = Line::Shape(Shape::Straight { aside: Length::ZERO });
    Leg::new(&Blank::square(side_mm, length_mm), &line, &line).unwrap()
}

fn layered(list: &[(Species, f64)], lean_deg: f64, toward_deg: f64, shift_mm: f64) -> Wood {
    let layers = list.iter().map(|(species, mm)| Layer { species: *species, thickness: (*mm).into() }).collect();
    let layers = Layers::new(layers, lean_deg, toward_deg, shift_mm.into());
    layers.check().unwrap();
    Wood::Layers(layers)
}

fn timber(pith_x: f64, pith_y: f64, ring_width: f64) -> Wood {
    let timber = Timber::new(Species::Pine, pith_x.into(), pith_y.into(), ring_width.into());
    timber.check().unwrap();
    Wood::Timber(timber)
}

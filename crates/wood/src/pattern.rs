//! Layers made ready for reading: which layer lies where.

use cornerwise_geometry::BlankPoint;

use crate::{Layers, MOST_LAYERS, Species, THICKEST_LAYER_MM, THINNEST_LAYER_MM, error, noise};

/// A point this close to the line between two layers lies on it, and belongs to the later layer, mm. Sums of
/// thicknesses and products of sines round differently; this keeps a layer from flickering at its own line.
pub(crate) const SNAP_MM: f64 = 1e-9;

/// One smallest repeat of layers, with the sums worked out.
#[derive(Clone, Debug)]
pub(crate) struct Pattern {
    normal: [f64; 3],
    shift_mm: f64,
    /// Where each layer of the repeat begins, mm from the start of the repeat; the first is 0.
    starts: Vec<f64>,
    species: Vec<Species>,
    repeat_mm: f64,
    /// Repeats per mm.
    per_mm: f64,
}

/// A layer found at a position.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct InLayer {
    /// See [`Pattern::layer`].
    pub number: i64,
    pub species: Species,
    /// Where it begins, mm along the normal.
    pub from_mm: f64,
    /// Where the next one begins.
    pub to_mm: f64,
}

impl Pattern {
    /// Numbers that [`Layers::check`] would refuse are taken at the nearest limit, so that this never fails and nothing
    /// downstream can hang.
    pub fn new(layers: &Layers) -> Pattern {
        let finite = |v: f64| if v.is_finite() { v } else { 0.0 };
        let normal = layers.normal();
        let mut starts = Vec::new();
        let mut species = Vec::new();
        let mut repeat_mm = 0.0;
        for layer in layers.smallest_repeat().iter().take(MOST_LAYERS) {
            starts.push(repeat_mm);
            species.push(layer.species);
            repeat_mm += error::held(layer.thickness.mm(), THINNEST_LAYER_MM, THICKEST_LAYER_MM);
        }
        if starts.is_empty() {
            starts.push(0.0);
            species.push(Species::Maple);
            repeat_mm = THICKEST_LAYER_MM;
        }
        Pattern {
            normal: if normal.iter().all(|v| v.is_finite()) { normal } else { [0.0, 0.0, 1.0] },
            shift_mm: finite(layers.shift.mm()),
            starts,
            species,
            repeat_mm,
            per_mm: 1.0 / repeat_mm,
        }
    }

    pub fn normal(&self) -> [f64; 3] {
        self.normal
    }

    pub fn thinnest_mm(&self) -> f64 {
        let ends = self.starts.iter().skip(1).chain([&self.repeat_mm]);
        self.starts.iter().zip(ends).map(|(from, to)| to - from).fold(f64::INFINITY, f64::min)
    }

    /// How far a point lies along the layers' normal from where the list begins, mm.
    pub fn position(&self, p: BlankPoint) -> f64 {
        self.normal[0] * p.x + self.normal[1] * p.y + self.normal[2] * p.s - self.shift_mm
    }

    /// The layer at a position.
    #[inline]
    pub fn find(&self, position: f64) -> InLayer {
        let at = position + SNAP_MM;
        let mut repeat = noise::below(at * self.per_mm);
        let mut within = at - repeat as f64 * self.repeat_mm;
        // The product may round to the wrong side of a whole repeat.
        if within < 0.0 {
            repeat = repeat.wrapping_sub(1);
            within = at - repeat as f64 * self.repeat_mm;
        } else if within >= self.repeat_mm {
            repeat = repeat.wrapping_add(1);
            within = at - repeat as f64 * self.repeat_mm;
        }
        // It can still lie a hair outside 0..repeat, and then counts as its end.
        let index = self.starts.partition_point(|start| *start <= within).max(1) - 1;
        let from = repeat as f64 * self.repeat_mm;
        InLayer {
            // Wrapping, so that points absurdly far away give some layer.
            number: repeat.wrapping_mul(self.starts.len() as i64).wrapping_add(index as i64),
            species: self.species[index],
            from_mm: from + self.starts[index],
            to_mm: from + self.starts.get(index + 1).copied().unwrap_or(self.repeat_mm),
        }
    }

    /// The number of the layer at a position: 0 for the first of the list, counting on along the normal, repeat after
    /// repeat, and back below 0.
    pub fn layer(&self, position: f64) -> i64 {
        self.find(position).number
    }

    /// Where a layer begins, mm along the normal.
    pub fn start(&self, layer: i64) -> f64 {
        let count = self.starts.len() as i64;
        layer.div_euclid(count) as f64 * self.repeat_mm + self.starts[layer.rem_euclid(count) as usize]
    }

    pub fn species(&self, layer: i64) -> Species {
        self.species[layer.rem_euclid(self.species.len() as i64) as usize]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Layer;

    fn pattern(list: &[(Species, f64)], lean_deg: f64, toward_deg: f64, shift_mm: f64) -> Pattern {
        let layers = list.iter().map(|(species, mm)| Layer { species: *species, thickness: (*mm).into() }).collect();
        Pattern::new(&Layers { layers, lean_deg, toward_deg, shift: shift_mm.into() })
    }

    #[test]
    fn a_line_between_layers_belongs_to_the_later_layer_however_the_sum_rounds() {
        let three = [(Species::Maple, 0.7), (Species::Oak, 0.1 + 0.2), (Species::Walnut, 1.1)];
        let p = pattern(&three, 0.0, 0.0, 0.0);
        for layer in -3000..3000 {
            let start = p.start(layer);
            assert_eq!(p.layer(start), layer);
            assert_eq!(p.layer(start - 1e-12), layer);
            assert_eq!(p.layer(start + 1e-12), layer);
            assert_eq!(p.layer(start - 1e-6), layer - 1);
            // The same place reached by adding repeats instead.
            let by_adding = layer.div_euclid(3) as f64 * 2.1 + [0.0, 0.7, 1.0][layer.rem_euclid(3) as usize];
            assert_eq!(p.layer(by_adding), layer);
        }
    }

    #[test]
    fn level_standing_and_leaning_layers_lie_where_they_should() {
        let two = [(Species::Maple, 10.0), (Species::Walnut, 10.0)];
        let at = |p: &Pattern, x, y, s| p.species(p.layer(p.position(BlankPoint { x, y, s })));
        let level = pattern(&two, 0.0, 0.0, 0.0);
        assert_eq!(
            [5.0, 15.0, 25.0].map(|s| at(&level, 40.0, 3.0, s)),
            [Species::Maple, Species::Walnut, Species::Maple]
        );
        let standing = pattern(&two, 90.0, 90.0, 0.0);
        assert_eq!(
            [5.0, 15.0, -5.0].map(|y| at(&standing, 40.0, y, 9e3)),
            [Species::Maple, Species::Walnut, Species::Walnut]
        );
        // Leaning 45 degrees toward +x: going 10 sqrt 2 along x, or along s, is one layer.
        let leaning = pattern(&two, 45.0, 0.0, 0.0);
        let step = 10.0 * 2f64.sqrt();
        assert_eq!(leaning.layer(leaning.position(BlankPoint { x: step * 1.5, y: 7.0, s: 0.0 })), 1);
        assert_eq!(leaning.layer(leaning.position(BlankPoint { x: 0.0, y: 7.0, s: step * 1.5 })), 1);
        let shifted = pattern(&two, 0.0, 0.0, 4.0);
        assert_eq!(at(&shifted, 0.0, 0.0, 3.9), Species::Walnut);
        assert_eq!(at(&shifted, 0.0, 0.0, 4.1), Species::Maple);
    }

    #[test]
    fn refused_numbers_still_make_a_pattern() {
        let p = pattern(&[(Species::Maple, f64::NAN), (Species::Oak, -3.0)], f64::NAN, f64::INFINITY, f64::NAN);
        assert!(p.repeat_mm > 0.0 && p.thinnest_mm() > 0.1);
        assert_eq!(p.position(BlankPoint { x: 1.0, y: 1.0, s: 5.0 }), 5.0);
        assert_eq!(pattern(&[], 0.0, 0.0, 0.0).layer(1.0), 0);
    }
}

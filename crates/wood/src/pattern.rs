//! Layers made ready for reading: which layer lies where.

use cornerwise_geometry::BlankPoint;

use crate::runs::{Run, Runs, SNAP_MM};
use crate::{Layer, Layers, MOST_LAYERS, Species, THICKEST_LAYER_MM, THINNEST_LAYER_MM, error};

/// One smallest repeat of layers, with the sums worked out.
#[derive(Clone, Debug)]
pub(crate) struct Pattern {
    normal: [f64; 3],
    shift_mm: f64,
    runs: Runs,
    species: Vec<Species>,
}

impl Pattern {
    /// Numbers that [`Layers::check`] would refuse are taken at the nearest limit, so that this never fails and nothing
    /// downstream can hang.
    pub fn new(layers: &Layers) -> Pattern {
        let normal = layers.normal();
        let listed = layers.in_order();
        Pattern::listed(layers, normal, smallest_repeat(&listed))
    }

    /// [`Pattern::new`] of the list as it is, so that every layer of it has a place of its own.
    pub fn of_all(layers: &Layers) -> Pattern {
        Pattern::listed(layers, layers.normal(), &layers.in_order())
    }

    fn listed(layers: &Layers, normal: [f64; 3], repeat: &[Layer]) -> Pattern {
        let finite = |v: f64| if v.is_finite() { v } else { 0.0 };
        let repeat = repeat.get(..MOST_LAYERS).unwrap_or(repeat);
        let mut species: Vec<Species> = repeat.iter().map(|layer| layer.species).collect();
        if species.is_empty() {
            species.push(Species::Maple);
        }
        Pattern {
            normal: if normal.iter().all(|v| v.is_finite()) { normal } else { [0.0, 0.0, 1.0] },
            shift_mm: finite(layers.shift.mm()),
            runs: Runs::new(
                repeat.iter().map(|layer| error::held(layer.thickness.mm(), THINNEST_LAYER_MM, THICKEST_LAYER_MM)),
            ),
            species,
        }
    }

    pub fn normal(&self) -> [f64; 3] {
        self.normal
    }

    /// The layers along their normal.
    pub fn runs(&self) -> &Runs {
        &self.runs
    }

    pub fn thinnest_mm(&self) -> f64 {
        self.runs.shortest_mm()
    }

    /// How far a point lies along the layers' normal from where the list begins, mm.
    pub fn position(&self, p: BlankPoint) -> f64 {
        self.normal[0] * p.x + self.normal[1] * p.y + self.normal[2] * p.s - self.shift_mm
    }

    /// The layer at a position.
    #[inline]
    pub fn find(&self, position: f64) -> Run {
        self.runs.find(position)
    }

    /// The number of the layer at a position: 0 for the first of the list, counting on along the normal, repeat after
    /// repeat, and back below 0.
    pub fn layer(&self, position: f64) -> i64 {
        self.find(position).number
    }

    pub fn species(&self, layer: i64) -> Species {
        self.species[self.runs.index(layer)]
    }

    /// The woods of the list, in its order.
    pub fn woods(&self) -> &[Species] {
        &self.species
    }
}

/// The shortest run of a list that, repeated, makes the whole list.
fn smallest_repeat(all: &[Layer]) -> &[Layer] {
    let same = |a: &Layer, b: &Layer| a.species == b.species && (a.thickness.mm() - b.thickness.mm()).abs() < SNAP_MM;
    (1..all.len())
        .filter(|n| all.len().is_multiple_of(*n))
        .find(|n| all.iter().skip(*n).zip(all).all(|(later, earlier)| same(later, earlier)))
        .map_or(all, |n| &all[..n])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pattern(list: &[(Species, f64)], lean_deg: f64, toward_deg: f64, shift_mm: f64) -> Pattern {
        let layers = list.iter().map(|(species, mm)| Layer { species: *species, thickness: (*mm).into() }).collect();
        Pattern::new(&Layers::new(layers, lean_deg, toward_deg, shift_mm.into()))
    }

    #[test]
    fn a_line_between_layers_belongs_to_the_later_layer_however_the_sum_rounds() {
        let three = [(Species::Maple, 0.7), (Species::Oak, 0.1 + 0.2), (Species::Walnut, 1.1)];
        let p = pattern(&three, 0.0, 0.0, 0.0);
        for layer in -3000..3000 {
            let start = p.runs().start(layer);
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
        assert!(p.runs().repeat_mm() > 0.0 && p.thinnest_mm() > 0.1);
        assert_eq!(p.position(BlankPoint { x: 1.0, y: 1.0, s: 5.0 }), 5.0);
        assert_eq!(pattern(&[], 0.0, 0.0, 0.0).layer(1.0), 0);
    }

    #[test]
    fn a_list_that_repeats_inside_itself_is_its_smallest_repeat() {
        use Species::{Maple, Walnut};
        let count = |list: &[(Species, f64)]| pattern(list, 0.0, 0.0, 0.0).runs().count();
        assert_eq!(count(&[(Maple, 5.0), (Walnut, 5.0), (Maple, 5.0), (Walnut, 5.0)]), 2);
        assert_eq!(count(&[(Maple, 5.0), (Maple, 5.0), (Maple, 5.0)]), 1);
        assert_eq!(count(&[(Maple, 5.0), (Walnut, 5.0), (Maple, 5.0)]), 3);
        assert_eq!(count(&[(Maple, 5.0), (Walnut, 5.0), (Maple, 5.0), (Walnut, 6.0)]), 4);
        assert_eq!(count(&[(Maple, 0.1 + 0.2), (Maple, 0.3)]), 1);
    }

    #[test]
    fn a_mirrored_list_runs_there_and_back() {
        let woods = [Species::Maple, Species::Oak, Species::Walnut];
        let layers = woods.map(|species| Layer { species, thickness: 2.0.into() }).to_vec();
        let mirrored = Layers { order: crate::LayerOrder::Mirrored, ..Layers::new(layers, 0.0, 0.0, 0.0.into()) };
        let p = Pattern::new(&mirrored);
        let at: Vec<_> = (0..8).map(|i| p.species(p.layer(f64::from(i) * 2.0 + 1.0))).collect();
        let [m, o, w] = woods;
        // The outer layers of a list are each one board, as at the faces of a panel; the mirror lies in their middle.
        assert_eq!(at, [m, o, w, o, m, o, w, o]);
    }
}

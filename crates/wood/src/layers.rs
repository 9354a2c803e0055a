//! Laminated stock: parallel layers in a list that repeats.

use cornerwise_geometry::Length;
use serde::{Deserialize, Serialize};

use crate::{Species, WoodError, error};

/// The most layers a list may have before it repeats.
pub const MOST_LAYERS: usize = 200;

/// The thinnest layer, mm: thinner than any veneer that is glued up.
pub const THINNEST_LAYER_MM: f64 = 0.2;

/// The thickest layer, mm, and the largest shift: longer than any blank.
pub const THICKEST_LAYER_MM: f64 = 10_000.0;

/// Parallel layers. The list repeats without end both ways.
///
/// With lean 0 the layers are level (planes s = const), with lean 90 they stand along the leg; the layers' normal leans
/// from s toward `toward_deg`, an azimuth in plan: 0 toward +x, 90 toward +y.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Layers {
    /// The list, in the direction of the normal.
    pub layers: Vec<Layer>,
    /// How far the layers lean from level, -90 to 90 degrees.
    pub lean_deg: f64,
    /// Which way they lean, in plan, -360 to 360 degrees: 0 toward +x, 90 toward +y.
    #[serde(default)]
    pub toward_deg: f64,
    /// Where along the normal the list begins, counted from the blank's far upper corner (x = y = s = 0).
    #[serde(default)]
    pub shift: Length,
    /// How the list goes on after its last layer.
    #[serde(default, skip_serializing_if = "is_repeated")]
    pub order: LayerOrder,
    /// Which way the fibres run.
    #[serde(default, skip_serializing_if = "is_along")]
    pub grain: LayerGrain,
}

/// How a list of layers goes on after its last one.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum LayerOrder {
    /// It begins anew: A B C, A B C.
    #[default]
    Repeated,
    /// It runs back, its first and last layers once each: A B C B, A B C B.
    Mirrored,
}

/// Which way the fibres of layers run.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum LayerGrain {
    /// In every layer as near to the length of the leg as the layer lies.
    #[default]
    Along,
    /// Across that in every other layer, as in plywood.
    Alternating,
}

fn is_repeated(order: &LayerOrder) -> bool {
    *order == LayerOrder::Repeated
}

fn is_along(grain: &LayerGrain) -> bool {
    *grain == LayerGrain::Along
}

/// One layer.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Layer {
    /// Its wood.
    pub species: Species,
    /// How thick it is, square to the layers.
    pub thickness: Length,
}

impl Layers {
    /// A repeated list, all fibres along.
    pub fn new(layers: Vec<Layer>, lean_deg: f64, toward_deg: f64, shift: Length) -> Layers {
        Layers { layers, lean_deg, toward_deg, shift, order: LayerOrder::Repeated, grain: LayerGrain::Along }
    }

    /// Plywood: veneers of one wood and thickness whose fibres run along and across by turns, standing, seen from face 1.
    pub fn plywood(species: Species, veneer: Length) -> Layers {
        let layer = Layer { species, thickness: veneer };
        Layers { grain: LayerGrain::Alternating, ..Layers::new(vec![layer], 90.0, 90.0, Length::ZERO) }
    }

    /// Plywood through a blank of this depth, with an odd number of veneers, three at least, so that both its faces run
    /// along: as near to the thickness asked for as such a number allows.
    pub fn plywood_through(species: Species, depth_mm: f64, veneer_mm: f64) -> Layers {
        let depth = error::held(depth_mm, 3.0 * THINNEST_LAYER_MM, THICKEST_LAYER_MM);
        let most = odd_below(depth / THINNEST_LAYER_MM);
        let below = odd_below(depth / error::held(veneer_mm, THINNEST_LAYER_MM, THICKEST_LAYER_MM)).min(most);
        let off = |count: f64| (depth / count - veneer_mm).abs();
        let above = (below + 2.0).min(most);
        let count = if off(above) < off(below) { above } else { below };
        Layers::plywood(species, Length::from_mm(depth / count))
    }

    /// How many layers stand across face 1 (0) or face 2 (1) of a blank of this width and depth, a cut one as a share;
    /// nothing where they do not stand square to that face.
    fn standing_across(&self, axis: usize, size_mm: [f64; 2]) -> Option<f64> {
        let [layer] = &self.layers[..] else { return None };
        let square = self.normal()[axis].abs() == 1.0;
        (square && self.shift == Length::ZERO).then(|| size_mm[axis] / layer.thickness.mm())
    }

    /// How many plies of plywood a blank of this width and depth has, a cut one as a share; nothing where its layers are
    /// no plies of one thickness from face to face.
    pub fn plies(&self, size_mm: [f64; 2]) -> Option<f64> {
        if self.grain != LayerGrain::Alternating {
            return None;
        }
        [0, 1].into_iter().find_map(|axis| self.standing_across(axis, size_mm))
    }

    /// Checks counts, thicknesses and angles.
    ///
    /// # Errors
    /// [`WoodError`] names the first layer or number that does not fit, NaN and infinities included.
    pub fn check(&self) -> Result<(), WoodError> {
        let count = self.layers.len();
        if count == 0 {
            return Err(WoodError::NoLayers);
        }
        if count > MOST_LAYERS {
            return Err(WoodError::TooManyLayers { count, most: MOST_LAYERS });
        }
        for (index, layer) in self.layers.iter().enumerate() {
            let (mm, least, most) = (layer.thickness.mm(), THINNEST_LAYER_MM, THICKEST_LAYER_MM);
            if !(least..=most).contains(&mm) {
                return Err(WoodError::Thickness { number: index + 1, mm, least, most });
            }
        }
        error::angle("the layers' lean", self.lean_deg, -90.0, 90.0)?;
        error::angle("the direction the layers lean toward", self.toward_deg, -360.0, 360.0)?;
        error::size("the layers' shift", self.shift.mm(), -THICKEST_LAYER_MM, THICKEST_LAYER_MM)
    }

    /// The list as it is glued up, once through, there and back where it is mirrored.
    pub fn in_order(&self) -> Vec<Layer> {
        let back = match self.order {
            LayerOrder::Repeated => 0,
            LayerOrder::Mirrored => self.layers.len().saturating_sub(2),
        };
        self.layers.iter().chain(self.layers.iter().rev().skip(1).take(back)).cloned().collect()
    }

    /// How thick all of [`Layers::in_order`] are together, mm.
    pub fn repeat_mm(&self) -> f64 {
        self.in_order().iter().map(|layer| layer.thickness.mm()).sum()
    }

    /// The layers' unit normal as [x, y, s], exact at multiples of 90 degrees.
    pub fn normal(&self) -> [f64; 3] {
        let (lean_sin, lean_cos) = sin_cos_deg(self.lean_deg);
        let (toward_sin, toward_cos) = sin_cos_deg(self.toward_deg);
        [toward_cos * lean_sin, toward_sin * lean_sin, lean_cos]
    }
}

/// The largest odd whole number up to this one, 3 at least.
fn odd_below(count: f64) -> f64 {
    // A sum of thicknesses may come out a hair short of the whole number it is.
    let whole = (count + 1e-6).floor();
    let odd = if whole.rem_euclid(2.0) == 0.0 { whole - 1.0 } else { whole };
    odd.max(3.0)
}

/// Sine and cosine of an angle in degrees, exactly 0 and ±1 at multiples of 90: 90 degrees in radians is not a number a
/// computer holds, and standing layers would lean by 6e-17.
fn sin_cos_deg(deg: f64) -> (f64, f64) {
    let turn = deg.rem_euclid(360.0);
    let quarter = (turn / 90.0).round();
    let (sin, cos) = (turn - 90.0 * quarter).to_radians().sin_cos();
    match quarter as u8 % 4 {
        0 => (sin, cos),
        1 => (cos, -sin),
        2 => (-sin, -cos),
        _ => (-cos, sin),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn layers(list: &[(Species, f64)]) -> Layers {
        let layers = list.iter().map(|(species, mm)| Layer { species: *species, thickness: (*mm).into() }).collect();
        Layers::new(layers, 0.0, 0.0, 0.0.into())
    }

    #[test]
    fn normals_are_exact_at_quarter_turns_and_of_length_one_everywhere() {
        let normal = |lean_deg, toward_deg| Layers { lean_deg, toward_deg, ..layers(&[]) }.normal();
        assert_eq!(normal(0.0, 33.0), [0.0, 0.0, 1.0]);
        assert_eq!(normal(90.0, 0.0), [1.0, 0.0, 0.0]);
        assert_eq!(normal(90.0, 90.0), [0.0, 1.0, 0.0]);
        assert_eq!(normal(90.0, -180.0), [-1.0, 0.0, 0.0]);
        assert_eq!(normal(-90.0, 270.0), [0.0, 1.0, 0.0]);
        for lean in -9..=9 {
            for toward in -36..=36 {
                let n = normal(f64::from(lean) * 10.0, f64::from(toward) * 10.0);
                assert!((n.iter().map(|v| v * v).sum::<f64>() - 1.0).abs() < 1e-14);
                let rad = (f64::from(lean) * 10.0).to_radians();
                assert!((n[2] - rad.cos()).abs() < 1e-14);
            }
        }
    }

    /// Plywood has an odd number of plies, the grain of both its faces along (EN 313-2, from memory: a balanced lay-up is
    /// symmetrical about its middle ply).
    #[test]
    fn plywood_has_an_odd_number_of_plies_as_near_as_can_be_to_what_was_asked() {
        for (depth, veneer, count) in
            [(48.0, 1.5, 33.0), (45.0, 1.5, 31.0), (46.5, 1.5, 31.0), (50.8, 1.5, 33.0), (20.0, 30.0, 3.0)]
        {
            let made = Layers::plywood_through(Species::Birch, depth, veneer);
            assert_eq!(made.check(), Ok(()));
            let plies = made.plies([77.0, depth]).unwrap();
            assert!((plies - count).abs() < 1e-9, "{depth} mm of {veneer} mm: {plies}");
            let mm = made.layers[0].thickness.mm();
            for odd in (3..99_u8).step_by(2).map(f64::from) {
                assert!((mm - veneer).abs() <= (depth / odd - veneer).abs() + 1e-9, "{depth} {veneer} {odd}");
            }
        }
        for mad in [f64::NAN, f64::INFINITY, -1.0, 0.0] {
            assert_eq!(Layers::plywood_through(Species::Birch, mad, mad).check(), Ok(()));
        }
        let even = Layers::plywood(Species::Birch, 1.5.into());
        assert_eq!(even.plies([40.0, 48.0]), Some(32.0));
        assert_eq!(Layers { toward_deg: 0.0, ..even.clone() }.plies([30.0, 48.0]), Some(20.0));
        assert_eq!(Layers { lean_deg: 80.0, ..even }.plies([30.0, 48.0]), None);
    }

    #[test]
    fn bad_layers_are_named() {
        let ok = layers(&[(Species::Maple, 5.0)]);
        assert_eq!(ok.check(), Ok(()));
        assert_eq!(layers(&[]).check(), Err(WoodError::NoLayers));
        let thin = layers(&[(Species::Maple, 5.0), (Species::Oak, 0.1)]).check().unwrap_err();
        assert_eq!(thin.to_string(), "layer 2 is 0.1 mm thick: it must be 0.2 mm to 10000 mm");
        assert!(matches!(layers(&[(Species::Maple, f64::NAN)]).check(), Err(WoodError::Thickness { number: 1, .. })));
        assert!(matches!(
            layers(&[(Species::Oak, 1.0); 201]).check(),
            Err(WoodError::TooManyLayers { count: 201, .. })
        ));
        assert!(matches!(Layers { lean_deg: f64::NAN, ..ok.clone() }.check(), Err(WoodError::Angle { .. })));
        assert!(matches!(Layers { toward_deg: 361.0, ..ok.clone() }.check(), Err(WoodError::Angle { .. })));
        assert!(matches!(Layers { shift: f64::INFINITY.into(), ..ok }.check(), Err(WoodError::Size { .. })));
    }
}

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

//! What is on the wood.

use serde::{Deserialize, Serialize};

/// How the wood is finished.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Finish {
    /// As it came from the plane.
    #[default]
    Bare,
    /// Oiled: darker, warmer, its figure stronger.
    Oiled,
}

/// How much of red, green and blue oil leaves, and how much farther from grey it brings them. Our own, judged by eye.
const OIL: [f32; 3] = [0.90, 0.83, 0.72];
const OIL_RICHER: f32 = 1.12;

/// How much stronger oil makes figure.
pub(crate) const OIL_FIGURE: f32 = 1.2;

impl Finish {
    /// Both.
    pub const ALL: [Finish; 2] = [Finish::Bare, Finish::Oiled];

    /// Its name as it stands in a sentence.
    pub fn name(self) -> &'static str {
        match self {
            Finish::Bare => "bare",
            Finish::Oiled => "oiled",
        }
    }

    /// A colour under it, sRGB on 0 to 255.
    pub(crate) fn on(self, colour: [f32; 3]) -> [f32; 3] {
        match self {
            Finish::Bare => colour,
            Finish::Oiled => {
                let dark = [0, 1, 2].map(|i| colour[i] * OIL[i]);
                let grey = dark.iter().sum::<f32>() / 3.0;
                dark.map(|v| (grey + OIL_RICHER * (v - grey)).clamp(0.0, 255.0))
            }
        }
    }
}

//! The woods, and how each looks.

use std::fmt;

use serde::{Deserialize, Serialize};

/// A furniture wood. In files it stands by this name, `Walnut`.
///
/// The colours are our own, after oiled boards; no chart was copied. Any two woods differ in lightness as well as in
/// hue, so that layered stock reads without colour vision and on a grey print.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Species {
    /// Cream, very faint rings.
    Maple,
    /// Pale straw with coarse open early wood.
    Ash,
    /// Honey with hard orange late wood.
    Pine,
    /// Grey-green.
    Poplar,
    /// Pinkish tan with short flecks.
    Beech,
    /// Mid brown with open early wood.
    Oak,
    /// Red-brown, faint rings.
    Cherry,
    /// Deep red-brown.
    Mahogany,
    /// Dark chocolate with darker streaks.
    Walnut,
}

/// How a wood is painted. Colours are sRGB on 0 to 255; the rest are shares.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Look {
    /// Early wood, or the light streaks.
    pub early: [f32; 3],
    /// Late wood, or the dark streaks.
    pub late: [f32; 3],
    /// How much of the way from early to late a ring goes.
    pub rings: f32,
    /// How much of a ring's darkening sits in its last thin line; the rest rises gradually.
    pub line: f32,
    /// How much fibres differ from their neighbours.
    pub streaks: f32,
    /// How dark the pores are.
    pub pores: f32,
    /// How far the pores keep to the early wood: 0 spread evenly, 1 in early wood only.
    pub porous_rings: f32,
    /// What is left of the light on end grain.
    pub end: f32,
}

impl Species {
    /// All of them, lightest first.
    pub const ALL: [Species; 9] = [
        Species::Maple,
        Species::Ash,
        Species::Pine,
        Species::Poplar,
        Species::Beech,
        Species::Oak,
        Species::Cherry,
        Species::Mahogany,
        Species::Walnut,
    ];

    /// Its name in lower case, as it stands in a sentence.
    pub fn name(self) -> &'static str {
        match self {
            Species::Maple => "maple",
            Species::Ash => "ash",
            Species::Pine => "pine",
            Species::Poplar => "poplar",
            Species::Beech => "beech",
            Species::Oak => "oak",
            Species::Cherry => "cherry",
            Species::Mahogany => "mahogany",
            Species::Walnut => "walnut",
        }
    }

    /// Early wood (or light streaks), sRGB.
    pub fn early_colour(self) -> [u8; 3] {
        self.look().early.map(|v| v as u8)
    }

    /// Late wood (or dark streaks), sRGB; always darker than the early wood.
    pub fn late_colour(self) -> [u8; 3] {
        self.look().late.map(|v| v as u8)
    }

    /// The colour a swatch of this wood shows: halfway between early and late wood, sRGB.
    pub fn colour(self) -> [u8; 3] {
        let look = self.look();
        [0, 1, 2].map(|i| (0.5 * (look.early[i] + look.late[i])) as u8)
    }

    pub(crate) fn look(self) -> Look {
        let look = |early: [u8; 3], late: [u8; 3]| Look {
            early: early.map(f32::from),
            late: late.map(f32::from),
            rings: 0.6,
            line: 0.5,
            streaks: 0.5,
            pores: 0.0,
            porous_rings: 0.0,
            end: 0.76,
        };
        match self {
            Species::Maple => Look {
                rings: 0.5,
                line: 0.85,
                streaks: 0.4,
                pores: 0.03,
                end: 0.82,
                ..look([239, 222, 190], [216, 191, 150])
            },
            Species::Ash => Look {
                rings: 0.75,
                line: 0.3,
                pores: 0.16,
                porous_rings: 0.9,
                end: 0.80,
                ..look([224, 203, 166], [189, 160, 118])
            },
            Species::Pine => {
                Look { rings: 0.85, line: 0.25, streaks: 0.5, end: 0.80, ..look([226, 188, 124], [193, 136, 75]) }
            }
            Species::Poplar => {
                Look { rings: 0.5, line: 0.7, streaks: 0.9, pores: 0.03, ..look([181, 174, 124], [133, 133, 91]) }
            }
            Species::Beech => {
                Look { rings: 0.45, line: 0.6, streaks: 0.4, pores: 0.12, ..look([188, 141, 103], [160, 112, 78]) }
            }
            Species::Oak => {
                Look { rings: 0.7, line: 0.25, pores: 0.22, porous_rings: 0.85, ..look([159, 117, 72], [124, 86, 49]) }
            }
            Species::Cherry => {
                Look { rings: 0.5, line: 0.7, streaks: 0.6, pores: 0.04, ..look([143, 80, 50], [113, 59, 36]) }
            }
            Species::Mahogany => {
                Look { rings: 0.35, line: 0.6, streaks: 0.7, pores: 0.2, ..look([116, 58, 43], [87, 41, 31]) }
            }
            Species::Walnut => Look {
                rings: 0.6,
                line: 0.5,
                streaks: 0.9,
                pores: 0.18,
                porous_rings: 0.4,
                ..look([82, 56, 41], [48, 32, 24])
            },
        }
    }
}

impl fmt::Display for Species {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// CIE lightness of an sRGB colour (IEC 61966-2-1 and CIE 15; constants from memory).
    fn lightness(colour: [u8; 3]) -> f64 {
        let linear = colour.map(|v| {
            let v = f64::from(v) / 255.0;
            if v <= 0.04045 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) }
        });
        let y = 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2];
        if y <= 216.0 / 24389.0 { y * 24389.0 / 27.0 } else { 116.0 * y.cbrt() - 16.0 }
    }

    #[test]
    fn any_two_woods_differ_in_lightness() {
        let mut last = 100.0;
        for species in Species::ALL {
            let now = lightness(species.colour());
            assert!(last - now > 4.5, "{species}: lightness {now:.1} after {last:.1}");
            last = now;
        }
        assert!(last < 25.0, "the darkest wood is light: {last:.1}");
    }

    #[test]
    fn late_wood_is_darker_than_early_wood_and_end_grain_darker_still() {
        for species in Species::ALL {
            let (early, late) = (lightness(species.early_colour()), lightness(species.late_colour()));
            assert!((5.0..20.0).contains(&(early - late)), "{species}: {early:.1} {late:.1}");
            assert!((0.7..0.9).contains(&species.look().end), "{species}");
        }
    }

    #[test]
    fn names_are_single_lower_case_words() {
        for species in Species::ALL {
            assert!(species.name().chars().all(|c| c.is_ascii_lowercase()), "{species}");
            assert_eq!(format!("{species:?}").to_lowercase(), species.name());
        }
    }
}

//! Rays: thin upright sheets of cells that run out from the pith. Cut along they are flecks, as on quarter-sawn oak; cut
//! across, short dark lines on a flat-sawn face; on end grain, fine light lines toward the pith.

use crate::noise;

/// How far apart rays are round the pith at the least, mm; farther out new ones begin, so it is never twice that for long.
const APART_MM: f32 = 1.1;

/// How thick a ray is, as a share of the way from one to the next.
const THICK: f32 = 0.26;

/// How far one runs outward, mm.
const DEEP_MM: f32 = 13.0;

/// How many of 256 cells hold one.
const OF_256: u8 = 110;

/// Lighter by this much on end grain and where cut along, darker where cut across.
const LIGHTER: f32 = 0.19;
const DARKER: f32 = 0.26;

/// The rays of a wood.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Rays {
    /// How clearly they show, 0 to 1.
    shows: f32,
    /// One over how tall they are.
    per_tall: f32,
}

/// A place among rays.
#[derive(Clone, Copy, Debug)]
pub(crate) struct RayPlace {
    /// From the pith, mm.
    pub from_pith: [f32; 2],
    /// The same as one length, and one over it.
    pub out_mm: f32,
    pub per_out: f32,
    /// From the top, mm.
    pub s_mm: f32,
    /// Of the way from the pith, what leads square to the surface, mm; 0 at the ends.
    pub square_mm: f32,
    /// 1 on end grain, 0 on long grain.
    pub end: f32,
    /// The size of the texel, mm, and one over it.
    pub texel_mm: f32,
    pub per_texel: f32,
}

impl Rays {
    /// Of a wood whose rays show so clearly: the clearer, the taller, as in oak against maple.
    pub fn new(shows: f32) -> Option<Rays> {
        (shows > 0.0).then(|| Rays { shows: shows.min(1.0), per_tall: 1.0 / (1.5 + 15.0 * shows.min(1.0).powi(2)) })
    }

    /// What they make of the light at a place: 1 where there is none.
    #[inline]
    pub fn light(&self, at: &RayPlace) -> f32 {
        let [round, out, up] = self.cell(at);
        let (chance, along) = noise::cell(round, out, up);
        self.light_in(at, round, chance, along)
    }

    /// The cell of the lattice that may hold a ray: round the pith, outward and upward.
    #[inline]
    pub fn cell(&self, at: &RayPlace) -> [f32; 3] {
        let [x, y] = at.from_pith;
        // Round the pith in four quarters, by the slope of the way out: as good as the angle, and no arc tangent.
        let steep = y.abs() > x.abs();
        let (low, high) = if steep { (x, y) } else { (y, x) };
        let quarter = if steep { 40_000.0 } else { 10_000.0 } + if high < 0.0 { 20_000.0 } else { 0.0 };
        let slope = low / if high == 0.0 { 1.0 } else { high };
        let round = slope * band(at.out_mm) * (1.0 / APART_MM) + quarter;
        [round, at.out_mm * (1.0 / DEEP_MM), at.s_mm * self.per_tall]
    }

    /// The light at a place, from its cell's place round the pith, its number and how far through it the place lies.
    #[inline]
    pub fn light_in(&self, at: &RayPlace, round: f32, chance: u8, along: f32) -> f32 {
        let mean = f32::from(OF_256) / 256.0 * THICK * (2.0 / 3.0);
        // Rays finer than a texel lighten or darken it evenly.
        let clear = (1.6 * APART_MM * at.per_texel).min(1.0);
        let even = mean * (1.0 - clear * clear);
        let flat = at.square_mm * at.per_out;
        let flat = flat * flat;
        // A sheet is thickest in its middle.
        let half = 2.0 * THICK * along * (1.0 - along);
        let off = (round - noise::nearest_whole(round)).abs();
        let soft = (at.texel_mm * (1.0 / APART_MM) * band(at.out_mm) * at.per_out * flat.max(0.15)).max(0.05);
        let seen = clear * clear * ((half - off) / soft + 0.5).clamp(0.0, 1.0);
        let cover = even + if chance < OF_256 { seen } else { 0.0 };
        let tone = if at.end > 0.5 { LIGHTER } else { LIGHTER - (LIGHTER + DARKER) * flat };
        1.0 + self.shows * cover * tone
    }
}

/// The largest power of two below the distance from the pith: there new rays begin.
#[inline]
fn band(out_mm: f32) -> f32 {
    f32::from_bits(out_mm.max(1.0).to_bits() & 0x7f80_0000)
}

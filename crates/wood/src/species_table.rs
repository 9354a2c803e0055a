//! The table of woods: how each looks, what it weighs and bears, and where the figures are from.

use std::sync::LazyLock;

use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::Species;

/// The file that the built-in rows stand in.
const FILE: &str = include_str!("../../../assets/species.ron");

/// One wood.
///
/// Colours are sRGB on 0 to 255, looks are shares from 0 to 1. Strengths are means of small clear straight-grained
/// specimens at 12 % moisture content, MPa: they compare woods and certify nothing.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SpeciesRow {
    /// Which wood the row is about; of a maker's own row, the built-in wood that it began from.
    #[serde(default = "maple")]
    pub species: Species,
    /// Its name as it stands in a sentence.
    pub name: String,
    /// The botanists' wood that the strengths were measured on.
    pub stands_for: String,
    /// Early wood, or the light streaks.
    pub early: [u8; 3],
    /// Late wood, or the dark streaks.
    pub late: [u8; 3],
    /// Sapwood.
    pub sap: [u8; 3],
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
    /// How clearly rays show.
    pub rays: f32,
    /// What is left of the light on end grain.
    pub end: f32,
    /// Oven-dry weight over volume, water being 1; see `gravity_on` for whose volume.
    pub specific_gravity: f64,
    /// The moisture at which the volume of `specific_gravity` was taken.
    pub gravity_on: GravityOn,
    /// Bending strength (modulus of rupture), MPa.
    pub bending_mpa: f64,
    /// Stiffness (modulus of elasticity from a bending test, its shear deflection included: the true one is about a tenth
    /// higher), MPa.
    pub stiffness_mpa: f64,
    /// Compression strength along the grain, MPa.
    pub compression_mpa: f64,
    /// Stress at the proportional limit across the grain, MPa; not every table has it.
    pub compression_across_mpa: Option<f64>,
    /// Shear strength along the grain, MPa.
    pub shear_mpa: f64,
    /// Shrinkage across the rings from green to oven-dry, per cent.
    pub shrinkage_radial: f64,
    /// Shrinkage along the rings from green to oven-dry, per cent.
    pub shrinkage_tangential: f64,
    /// Where the figures are from.
    pub source: String,
}

fn maple() -> Species {
    Species::Maple
}

/// A figure of a row that no wood has.
#[derive(Clone, Debug, PartialEq, Error)]
#[error("{field} is {value}: it must be {least} to {most}")]
pub struct RowError {
    /// The name of the field, as it stands in the file.
    pub field: &'static str,
    /// What it is.
    pub value: f64,
    /// The least it may be.
    pub least: f64,
    /// The most it may be.
    pub most: f64,
}

impl RowError {
    /// What the field is called on screen: see [`SpeciesRow::caption`].
    pub fn caption(&self) -> &'static str {
        SpeciesRow::caption(self.field)
    }
}

/// The moisture at which a volume was taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum GravityOn {
    /// At 12 % moisture content.
    TwelvePercent,
    /// Green, larger than at 12 %: the wood is somewhat heavier than the figure says.
    Green,
}

impl SpeciesRow {
    /// What a figure is called on screen, by the name of its field in a file; that name itself where it has no other.
    pub fn caption(field: &'static str) -> &'static str {
        match field {
            "rings" => "Rings",
            "line" => "Ring line",
            "streaks" => "Streaks",
            "pores" => "Pores",
            "porous_rings" => "Ring pores",
            "rays" => "Rays",
            "end" => "End grain",
            "specific_gravity" => "Gravity",
            "bending_mpa" => "Bending, MPa",
            "stiffness_mpa" => "Stiffness, MPa",
            "compression_mpa" => "Compression, MPa",
            "compression_across_mpa" => "Compression across, MPa",
            "shear_mpa" => "Shear, MPa",
            "shrinkage_radial" => "Shrinks radially, %",
            "shrinkage_tangential" => "Tangentially, %",
            other => other,
        }
    }

    /// Checks every figure.
    ///
    /// # Errors
    /// [`RowError`] names the first field that no wood has, NaN and infinities included.
    pub fn check(&self) -> Result<(), RowError> {
        let shares = [
            ("rings", self.rings),
            ("line", self.line),
            ("streaks", self.streaks),
            ("pores", self.pores),
            ("porous_rings", self.porous_rings),
            ("rays", self.rays),
            ("end", self.end),
        ];
        let shares = shares.map(|(field, value)| (field, f64::from(value), 0.0, 1.0));
        let figures = [
            ("specific_gravity", self.specific_gravity, 0.05, 1.5),
            ("bending_mpa", self.bending_mpa, 0.0, 500.0),
            ("stiffness_mpa", self.stiffness_mpa, 0.0, 60_000.0),
            ("compression_mpa", self.compression_mpa, 0.0, 300.0),
            ("compression_across_mpa", self.compression_across_mpa.unwrap_or(0.0), 0.0, 100.0),
            ("shear_mpa", self.shear_mpa, 0.0, 100.0),
            ("shrinkage_radial", self.shrinkage_radial, 0.0, 30.0),
            ("shrinkage_tangential", self.shrinkage_tangential, 0.0, 30.0),
        ];
        match shares.into_iter().chain(figures).find(|(_, value, least, most)| !(*least..=*most).contains(value)) {
            Some((field, value, least, most)) => Err(RowError { field, value, least, most }),
            None => Ok(()),
        }
    }

    /// What a cubic metre weighs at 12 % moisture content, kg: specific gravity and its water.
    pub fn density_kg_m3(&self) -> f64 {
        // Green volume is larger by what the wood has shrunk until 12 %, about 18 of its 30 points.
        let shrunk = 0.01 * (self.shrinkage_radial + self.shrinkage_tangential) * 18.0 / 30.0;
        let gravity = match self.gravity_on {
            GravityOn::TwelvePercent => self.specific_gravity,
            GravityOn::Green => self.specific_gravity / (1.0 - shrunk),
        };
        1000.0 * 1.12 * gravity
    }

    /// The colour a swatch of this wood shows: halfway between early and late wood, sRGB.
    pub fn colour(&self) -> [u8; 3] {
        [0, 1, 2].map(|i| ((u16::from(self.early[i]) + u16::from(self.late[i])) / 2) as u8)
    }
}

static TABLE: LazyLock<Vec<SpeciesRow>> = LazyLock::new(|| {
    // A test reads every row; were the file broken all the same, woods would be told apart by name only.
    let mut rows: Vec<SpeciesRow> = ron::from_str(FILE).unwrap_or_default();
    rows.sort_by_key(|row| row.species);
    rows
});

/// The row of a built-in wood.
pub(crate) fn built_in(species: Species) -> &'static SpeciesRow {
    static NONE: LazyLock<SpeciesRow> = LazyLock::new(unknown);
    match Species::ALL.iter().position(|one| *one == species).and_then(|place| TABLE.get(place)) {
        Some(row) => row,
        None => &NONE,
    }
}

/// A wood that nothing is known of: grey, and without strength.
pub(crate) fn unknown() -> SpeciesRow {
    SpeciesRow {
        species: Species::Maple,
        name: "unknown wood".to_owned(),
        stands_for: "nothing".to_owned(),
        early: [150; 3],
        late: [130; 3],
        sap: [160; 3],
        rings: 0.5,
        line: 0.5,
        streaks: 0.5,
        pores: 0.0,
        porous_rings: 0.0,
        rays: 0.0,
        end: 0.76,
        specific_gravity: 0.5,
        gravity_on: GravityOn::TwelvePercent,
        bending_mpa: 0.0,
        stiffness_mpa: 0.0,
        compression_mpa: 0.0,
        compression_across_mpa: None,
        shear_mpa: 0.0,
        shrinkage_radial: 0.0,
        shrinkage_tangential: 0.0,
        source: "none".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_wood_has_its_row() {
        let rows: Vec<SpeciesRow> = ron::from_str(FILE).unwrap();
        assert_eq!(rows.iter().map(|row| row.species).collect::<Vec<_>>(), Species::ALL);
        for species in Species::ALL {
            let row = species.row();
            assert_eq!(row.species, species);
            assert!(row.source.contains("WH table"), "{species}");
            assert!(row.name.chars().all(|c| c.is_ascii_alphabetic() || " -".contains(c)), "{species}");
            for share in [row.rings, row.line, row.streaks, row.pores, row.porous_rings, row.rays, row.end] {
                assert!((0.0..=1.0).contains(&share), "{species}: {share}");
            }
        }
    }

    /// USDA Forest Products Laboratory, Wood Handbook (GTR-190) table 5-3b in psi and million psi, and the metric table
    /// 5-3a that the rows are from: both print the same tests, so the rows must convert. Values of 5-3b for red oak, white
    /// oak, maple, walnut, yellow-poplar and white pine but for their bending strength, and for Douglas-fir: from memory.
    #[test]
    fn strengths_are_those_of_the_table_in_the_other_units() {
        let psi = [
            (Species::RedOak, 0.63, 14_300.0, 1.82, 6_760.0, 1_010.0, 1_780.0),
            (Species::Oak, 0.68, 15_200.0, 1.78, 7_440.0, 1_070.0, 2_000.0),
            (Species::Maple, 0.63, 15_800.0, 1.83, 7_830.0, 1_470.0, 2_330.0),
            (Species::Walnut, 0.55, 14_600.0, 1.68, 7_580.0, 1_010.0, 1_370.0),
            (Species::Cherry, 0.50, 12_300.0, 1.49, 7_110.0, 690.0, 1_700.0),
            (Species::Ash, 0.60, 15_000.0, 1.74, 7_410.0, 1_160.0, 1_910.0),
            (Species::Birch, 0.62, 16_600.0, 2.01, 8_170.0, 970.0, 1_880.0),
            (Species::Beech, 0.64, 14_900.0, 1.72, 7_300.0, 1_010.0, 2_010.0),
            (Species::Poplar, 0.42, 10_100.0, 1.58, 5_540.0, 500.0, 1_190.0),
            (Species::Pine, 0.35, 8_600.0, 1.24, 4_800.0, 440.0, 900.0),
            (Species::DouglasFir, 0.48, 12_400.0, 1.95, 7_230.0, 800.0, 1_130.0),
        ];
        let mpa = |psi: f64| psi * 0.006_894_757;
        let near = |got: f64, psi: f64, step: f64| {
            // Both tables are rounded: one step of the metric one, half a step of the other.
            assert!((got - mpa(psi)).abs() <= step + 0.005 * mpa(psi), "{got} MPa for {psi} psi");
        };
        for (species, gravity, bending, stiffness, compression, across, shear) in psi {
            let row = species.row();
            assert_eq!(row.specific_gravity, gravity, "{species}");
            near(row.bending_mpa, bending, 1.0);
            near(row.stiffness_mpa, 1e6 * stiffness, 100.0);
            near(row.compression_mpa, compression, 0.1);
            near(row.compression_across_mpa.unwrap(), across, 0.1);
            near(row.shear_mpa, shear, 0.1);
        }
    }

    /// The same handbook, metric table 5-3a (copied in full) and shrinkage from green to oven-dry, table 4-3 (radial
    /// and tangential; sugar maple and white pine from a quotation): every figure of a row, as it stands there.
    #[test]
    fn every_figure_is_that_of_its_row_in_the_handbook() {
        let rows = [
            (Species::RedOak, [0.63, 99.0, 12_500.0, 46.6, 7.0, 12.3, 4.0, 8.6]),
            (Species::Oak, [0.68, 105.0, 12_300.0, 51.3, 7.4, 13.8, 5.6, 10.5]),
            (Species::Maple, [0.63, 109.0, 12_600.0, 54.0, 10.1, 16.1, 4.8, 9.9]),
            (Species::Walnut, [0.55, 101.0, 11_600.0, 52.3, 7.0, 9.4, 5.5, 7.8]),
            (Species::Cherry, [0.50, 85.0, 10_300.0, 49.0, 4.8, 11.7, 3.7, 7.1]),
            (Species::Ash, [0.60, 103.0, 12_000.0, 51.1, 8.0, 13.2, 4.9, 7.8]),
            (Species::Birch, [0.62, 114.0, 13_900.0, 56.3, 6.7, 13.0, 7.3, 9.5]),
            (Species::Beech, [0.64, 103.0, 11_900.0, 50.3, 7.0, 13.9, 5.5, 11.9]),
            (Species::Poplar, [0.42, 70.0, 10_900.0, 38.2, 3.4, 8.2, 4.6, 8.2]),
            (Species::Pine, [0.35, 59.0, 8_500.0, 33.1, 3.0, 6.2, 2.1, 6.1]),
            (Species::DouglasFir, [0.48, 85.0, 13_400.0, 49.9, 5.5, 7.8, 4.8, 7.6]),
        ];
        for (species, figures) in rows {
            let row = species.row();
            let [gravity, bending, stiffness, compression, across, shear, radial, tangential] = figures;
            let got = [row.specific_gravity, row.bending_mpa, row.stiffness_mpa, row.compression_mpa, row.shear_mpa];
            assert_eq!(got, [gravity, bending, stiffness, compression, shear], "{species}");
            assert_eq!(row.compression_across_mpa, Some(across), "{species}");
            assert_eq!([row.shrinkage_radial, row.shrinkage_tangential], [radial, tangential], "{species}");
            for table in ["WH table 5-3a", "table 4-3", row.stands_for.as_str()] {
                assert!(row.source.contains(table), "{species}: {table:?} is not told in {:?}", row.source);
            }
        }
        for species in [Species::Mahogany, Species::Sapele] {
            let row = species.row();
            assert!(row.source.contains("5-5b"), "{species}: {:?}", row.source);
        }
        let told: Vec<Species> = rows.iter().map(|(species, _)| *species).collect();
        assert!(
            Species::ALL.iter().all(|one| told.contains(one) || [Species::Mahogany, Species::Sapele].contains(one))
        );
    }

    #[test]
    fn bad_figures_are_named_by_their_field() {
        let row = Species::Oak.row();
        assert!(Species::ALL.iter().all(|species| species.row().check() == Ok(())));
        let bad = SpeciesRow { rays: 1.5, ..row.clone() };
        assert_eq!(bad.check().unwrap_err().to_string(), "rays is 1.5: it must be 0 to 1");
        assert_eq!(SpeciesRow { shear_mpa: f64::NAN, ..row.clone() }.check().unwrap_err().field, "shear_mpa");
    }

    /// The same handbook, table 5-5b (imported woods, psi): mahogany from a quotation, sapele from memory.
    #[test]
    fn strengths_of_imported_woods_are_those_of_their_table() {
        for (species, bending, stiffness, compression, shear) in [
            (Species::Mahogany, 11_500.0, 1.50e6, 6_780.0, 1_230.0),
            (Species::Sapele, 15_300.0, 1.82e6, 8_160.0, 2_260.0),
        ] {
            let row = species.row();
            let figures = [row.bending_mpa, row.stiffness_mpa, row.compression_mpa, row.shear_mpa];
            for (mpa, psi) in figures.into_iter().zip([bending, stiffness, compression, shear]) {
                assert!((mpa / (psi * 0.006_894_757) - 1.0).abs() < 0.003, "{species}: {mpa} MPa for {psi} psi");
            }
            assert_eq!(row.compression_across_mpa, None);
        }
    }

    #[test]
    fn wood_weighs_its_gravity_and_its_water() {
        assert!((Species::Oak.row().density_kg_m3() - 761.6).abs() < 1e-9);
        // Green volume, shrunk by 0.6 of 7.1 % until 12 %: heavier than 504.
        let mahogany = Species::Mahogany.row().density_kg_m3();
        assert!((mahogany - 526.4).abs() < 0.1, "{mahogany}");
    }

    /// CIE lightness of an sRGB colour (IEC 61966-2-1 and CIE 15; constants from memory).
    fn lightness(colour: [u8; 3]) -> f64 {
        let linear = colour.map(|v| {
            let v = f64::from(v) / 255.0;
            if v <= 0.04045 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) }
        });
        let y = 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2];
        if y <= 216.0 / 24389.0 { y * 24389.0 / 27.0 } else { 116.0 * y.cbrt() - 16.0 }
    }

    /// So that layered stock reads without colour vision and on a grey print.
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
    fn late_wood_is_darker_than_early_wood_sapwood_lighter_and_end_grain_darker_still() {
        for species in Species::ALL {
            let row = species.row();
            let (early, late) = (lightness(row.early), lightness(row.late));
            assert!((5.0..20.0).contains(&(early - late)), "{species}: {early:.1} {late:.1}");
            assert!(lightness(row.sap) > early, "{species}");
            assert!((0.7..0.9).contains(&row.end), "{species}");
        }
    }
}

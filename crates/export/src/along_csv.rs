//! What is known along a leg as a table for other programs: comma-separated values, a row for each place.

use std::fmt::Write;

use cornerwise_geometry::{Along, AlongUnit, Cut, LegError, Surveyed};
use cornerwise_project::{Design, Project};
use thiserror::Error;

use crate::report::{FEWEST_STATIONS, MOST_STATIONS};

/// How many places a table has where nothing else is asked for.
pub const USUAL_PLACES: usize = 201;

/// Why there is no table.
#[derive(Debug, Error)]
pub enum AlongError {
    /// Not a count of places that can be measured.
    #[error("{0} places cannot be measured: {FEWEST_STATIONS} to {MOST_STATIONS} can")]
    Places(usize),
    /// The design makes no leg.
    #[error("{name}: {source}")]
    Leg {
        /// The design's name.
        name: String,
        /// Why not.
        source: LegError,
    },
}

/// Every quantity along a leg at `places` even places, both ends among them: the very figures of the graphs.
///
/// The first row names the columns: `from_top_mm`, then each quantity, the cut it belongs to where each has its own, `sawn`
/// where it is as the saw gives it, and its unit, as in `thickness_second_sawn_mm`. Slopes and shares have no unit. Cells are
/// empty where there is no figure, as of the radius of a straight line.
///
/// # Errors
/// [`AlongError`] when the design is no leg or `places` cannot be measured.
pub fn along_csv(project: &Project, design: &Design, places: usize) -> Result<String, AlongError> {
    if !(FEWEST_STATIONS..=MOST_STATIONS).contains(&places) {
        return Err(AlongError::Places(places));
    }
    let leg = design.leg().map_err(|source| AlongError::Leg { name: design.name.clone(), source })?;
    let survey = project.survey(design, &leg, places);
    let curves: Vec<_> = Along::ALL
        .into_iter()
        .flat_map(|along| along.curves(&survey).into_iter().map(move |curve| (along, curve)))
        .collect();
    let mut table = "from_top_mm".to_owned();
    for (along, curve) in &curves {
        let cut = match curve.cut {
            Some(Cut::First) => "_first",
            Some(Cut::Second) => "_second",
            None => "",
        };
        let unit = match along.unit() {
            AlongUnit::Mm => "_mm",
            AlongUnit::Degrees => "_deg",
            AlongUnit::Mpa => "_mpa",
            AlongUnit::Slope | AlongUnit::Share => "",
        };
        table += &format!(",{}{cut}{}{unit}", along.key(), if curve.sawn { "_sawn" } else { "" });
    }
    table.push('\n');
    for s in leg.uniform_stations(places) {
        let place: Surveyed = survey.measure(s);
        table += &number(s);
        for (along, curve) in &curves {
            table.push(',');
            table += &along.at(*curve, &place, &survey).map(number).unwrap_or_default();
        }
        table.push('\n');
    }
    Ok(table)
}

/// To a ten-thousandth, without needless noughts.
fn number(value: f64) -> String {
    let mut text = String::new();
    // Writing to text cannot fail.
    let _ = write!(text, "{value:.4}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::report;
    use cornerwise_geometry::{Load, Saw};
    use std::sync::Arc;

    #[test]
    fn the_table_says_what_the_report_says() {
        let saw = Saw { tilt_first_deg: 0.4, ..Saw::default() };
        let mut project = Project { saw: Some(saw), ..Project::new() };
        Arc::make_mut(&mut project.designs[0]).load = Some(Load::default());
        let table = along_csv(&project, &project.designs[0], 33).unwrap();
        let mut rows = table.lines();
        let names: Vec<&str> = rows.next().unwrap().split(',').collect();
        let column =
            |name: &str| names.iter().position(|one| *one == name).unwrap_or_else(|| panic!("{name} in {names:?}"));
        let report = report(&project, 33).unwrap();
        let (drawn, sawn) = (&report.designs[0].stations, &report.designs[0].sawn.as_ref().unwrap().stations);
        let rows: Vec<Vec<&str>> = rows.map(|row| row.split(',').collect()).collect();
        assert_eq!(rows.len(), 33);
        for ((row, drawn), sawn) in rows.iter().zip(drawn).zip(sawn) {
            assert_eq!(row.len(), names.len());
            let told = |name: &str, value: f64| {
                let read: f64 = row[column(name)].parse().unwrap();
                assert!((read - value).abs() <= 5.1e-5, "{name}: {read} and {value}");
            };
            told("from_top_mm", drawn.s_mm);
            told("thickness_first_mm", drawn.thickness_mm[0]);
            told("thickness_second_sawn_mm", sawn.thickness_mm[1]);
            told("edge_angle_deg", drawn.edge_angle_deg);
            told("grain_slope", drawn.grain_slope);
            told("line_slope_second", drawn.b_slope);
            told("seam_step_first_sawn_mm", sawn.step_mm[1].abs().max(sawn.step_mm[3].abs()));
            told("gap_of_halves_sawn_mm", sawn.gap_mm);
            told("wood_lost_first_sawn_mm", 50.0 - sawn.size_mm[0]);
        }
        assert!(column("strength_used_sawn") > column("strength_used"));
        assert!(column("stress_sawn_mpa") > column("stress_mpa"));
    }

    #[test]
    fn a_straight_line_has_no_radius_and_a_silly_count_is_refused() {
        let mut project = Project::new();
        let straight = cornerwise_geometry::Line::Shape(cornerwise_geometry::Shape::Straight { aside: 0.0.into() });
        Arc::make_mut(&mut project.designs[0]).first = straight;
        let table = along_csv(&project, &project.designs[0], 3).unwrap();
        let names: Vec<&str> = table.lines().next().unwrap().split(',').collect();
        assert!(!names.iter().any(|name| name.contains("sawn") || name.contains("strength")), "{names:?}");
        let at = names.iter().position(|name| *name == "bend_radius_first_mm").unwrap();
        assert!(table.lines().skip(1).all(|row| row.split(',').nth(at) == Some("")), "{table}");
        assert!(along_csv(&project, &project.designs[0], 1).is_err());
    }
}

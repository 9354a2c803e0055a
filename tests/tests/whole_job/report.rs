//! The JSON report of every demo, against sums from the points in its file that use nothing of the project's geometry.

use std::path::Path;

use cornerwise_geometry::Cut;
use cornerwise_project::Design;
use cornerwise_tests::PlainLine;
use serde_json::Value;

use crate::{command, demos};

const STATIONS: usize = 97;

fn report(file: &Path) -> Value {
    let stations = STATIONS.to_string();
    let args = ["report".as_ref(), file.as_os_str(), "--stations".as_ref(), stations.as_ref(), "--json".as_ref()];
    serde_json::from_str(&command::done(args)).expect("JSON")
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is not a number"))
}

fn numbers(value: &Value) -> Vec<f64> {
    value.as_array().unwrap_or_else(|| panic!("{value} is not a list")).iter().map(number).collect()
}

#[track_caller]
fn near(found: f64, wanted: f64, within: f64) {
    assert!((found - wanted).abs() <= within, "{found} for {wanted}");
}

fn each_design(look: impl Fn(&Design, &Value, [&PlainLine; 2])) {
    for file in demos::all() {
        let (project, report) = (demos::project(&file), report(&file));
        assert_eq!(report["schema"], 1);
        assert_eq!(report["project"], *project.name);
        let designs = report["designs"].as_array().expect("designs");
        assert_eq!(designs.len(), project.designs.len());
        for (design, measured) in project.designs.iter().zip(designs) {
            assert_eq!(measured["name"], *design.name);
            let lines = Cut::ALL.map(|cut| demos::plain(design, cut));
            look(design, measured, [&lines[0], &lines[1]]);
        }
    }
}

fn size_mm(design: &Design) -> [f64; 3] {
    [design.blank.width.mm(), design.blank.depth.mm(), design.blank.length.mm()]
}

/// Slope of the side, 0 where the line has left the blank.
fn held_slope([offset, slope, _]: [f64; 3], across: f64) -> f64 {
    if (0.0..=across).contains(&offset) { slope } else { 0.0 }
}

#[test]
fn stations_are_those_of_the_points_in_the_file() {
    each_design(|design, measured, [first, second]| {
        let [width, depth, length] = size_mm(design);
        let stations = measured["stations"].as_array().expect("stations");
        assert_eq!(stations.len(), STATIONS);
        for (i, at) in stations.iter().enumerate() {
            let s = length * (i as f64 / (STATIONS - 1) as f64);
            near(number(&at["s_mm"]), s, 1e-9);
            let (a, b) = (first.measured(s), second.measured(s));
            for (line, [offset, slope, curvature]) in [("a", a), ("b", b)] {
                near(number(&at[format!("{line}_mm")]), offset, 1e-9);
                near(number(&at[format!("{line}_slope")]), slope, 1e-9);
                near(number(&at[format!("{line}_curvature_per_mm")]), curvature, 1e-9);
            }
            // The sides' directions out of the wood, and the angle and the distance between the planes.
            let (a_slope, b_slope) = (held_slope(a, width), held_slope(b, depth));
            let unit = |n: [f64; 3]| n.map(|c| c / n.iter().map(|c| c * c).sum::<f64>().sqrt());
            let (side_2, side_3) = (unit([1.0, 0.0, a_slope]), unit([0.0, 1.0, b_slope]));
            let between = (side_2[0] * side_3[0] + side_2[1] * side_3[1] + side_2[2] * side_3[2]).acos().to_degrees();
            near(number(&at["edge_angle_deg"]), between.min(180.0 - between), 1e-7);
            let thickness = numbers(&at["thickness_mm"]);
            near(thickness[0], width * side_2[0], 1e-9);
            near(thickness[1], depth * side_3[1], 1e-9);
            section_is_the_blanks(&at["pieces"], [width, depth], [a[0].clamp(0.0, width), b[0].clamp(0.0, depth)]);
        }
    });
}

/// Each piece's rectangle in the blank, rotated half round about its corner: the same corners, counter-clockwise in (u, v).
fn section_is_the_blanks(pieces: &Value, [width, depth]: [f64; 2], [a, b]: [f64; 2]) {
    let corners = [[0.0, 0.0], [width, 0.0], [width, depth], [0.0, depth]];
    let pieces = pieces.as_array().expect("pieces");
    assert_eq!(pieces.len(), 4);
    for (piece, [x, y]) in pieces.iter().zip(corners) {
        let polygon: Vec<Vec<f64>> = piece.as_array().expect("a polygon").iter().map(numbers).collect();
        assert_eq!(polygon.len(), 4);
        for wanted in [[x, y], [a, y], [a, b], [x, b]].map(|p| [x - p[0], y - p[1]]) {
            let off = |p: &Vec<f64>| (p[0] - wanted[0]).hypot(p[1] - wanted[1]);
            let nearest = polygon.iter().map(off).fold(f64::INFINITY, f64::min);
            assert!(nearest < 1e-9, "{polygon:?} lacks {wanted:?}");
        }
        let turned: f64 =
            (0..4).map(|i| polygon[i][0] * polygon[(i + 1) % 4][1] - polygon[(i + 1) % 4][0] * polygon[i][1]).sum();
        near(turned / 2.0, (x - a).abs() * (y - b).abs(), 1e-9 * width * depth);
    }
}

#[test]
fn volume_centre_core_and_tightest_bend_are_those_of_the_points_in_the_file() {
    each_design(|design, measured, lines| {
        let [width, depth, length] = size_mm(design);
        let blank = &measured["blank"];
        for (field, mm) in [("width_mm", width), ("depth_mm", depth), ("length_mm", length)] {
            assert_eq!(number(&blank[field]), mm);
        }
        near(number(&measured["volume_mm3"]), width * depth * length, 1e-9 * width * depth * length);
        let (centre, core) = (numbers(&measured["centre_of_mass_mm"]), numbers(&measured["core_mm"]));
        near(centre[2], length / 2.0, 1e-9);
        for (i, (line, across)) in lines.into_iter().zip([width, depth]).enumerate() {
            // Middles of many short runs: the error of the mean falls with the square of their length, and joints and a
            // sharp point lie within two or three of them.
            let count = 40_000;
            let at = |k: i32| line.measured(length * (f64::from(k) + 0.5) / f64::from(count));
            let offsets: Vec<f64> = (0..count).map(|k| at(k)[0].clamp(0.0, across)).collect();
            near(centre[i], across / 2.0 - offsets.iter().sum::<f64>() / f64::from(count), 1e-6);
            let ends = [0.0, length].map(|s| line.offset(s).clamp(0.0, across));
            let all = || offsets.iter().chain(&ends).copied();
            let swing = all().fold(f64::NEG_INFINITY, f64::max) - all().fold(f64::INFINITY, f64::min);
            // A crest lies within half a run of a sample, and is flat.
            near(core[i], across - swing, 1e-5);
            tightest(&measured["tightest"][["first", "second"][i]], line, length);
        }
    });
}

/// No curvature along the line is greater than the reported bend's, and it is really found there. Curvature jumps at
/// joints, so both sides of each are looked at.
fn tightest(bend: &Value, line: &PlainLine, length: f64) {
    let curvature = |s: f64| line.measured(s)[2].abs();
    let mut stations: Vec<f64> = (0..=40_000).map(|k| length * f64::from(k) / 40_000.0).collect();
    stations.extend(line.joints().iter().flat_map(|joint| [joint - 1e-7, *joint, joint + 1e-7]));
    stations.retain(|s| (0.0..=length).contains(s));
    let most = stations.iter().map(|s| curvature(*s)).fold(0.0, f64::max);
    if bend["radius_mm"].is_null() {
        assert!(bend["s_mm"].is_null() && most < 1e-9, "{bend} for a curvature of {most}");
        return;
    }
    let (radius, s) = (number(&bend["radius_mm"]), number(&bend["s_mm"]));
    near(1.0 / radius, most, 1e-6 * most);
    assert!((0.0..=length).contains(&s), "{bend}");
    let there = [s - 1e-7, s, s + 1e-7].map(curvature).into_iter().fold(0.0, f64::max);
    near(1.0 / radius, there, 1e-6 * there);
}

/// The shares of each seam are what its places leave of the length, and the places lie in order along it.
#[test]
fn seams_and_their_places_agree() {
    each_design(|design, measured, _| {
        let [_, _, length] = size_mm(design);
        let seams = measured["seams"].as_array().expect("seams");
        assert_eq!(seams.len(), 4);
        for (i, seam) in seams.iter().enumerate() {
            assert_eq!(seam["seam"], i + 1);
            let (mut not_meet, mut not_same, mut not_on, mut reached) = (0.0, 0.0, 0.0, 0.0);
            for place in seam["places"].as_array().expect("places") {
                let (from, to) = (number(&place["from_mm"]), number(&place["to_mm"]));
                assert!(reached <= from && from < to && to <= length, "{place} after {reached}");
                reached = to;
                let what = place["what"].as_str().expect("words");
                not_meet += if what.contains("jump") { to - from } else { 0.0 };
                not_same += if what.contains("woods differ") { to - from } else { 0.0 };
                not_on += if what.contains("carries on") { 0.0 } else { to - from };
            }
            for (field, not) in [("lines_meet", not_meet), ("same_wood", not_same), ("pattern_carries_on", not_on)] {
                near(number(&seam[field]), 1.0 - not / length, 1e-9);
            }
        }
    });
}

/// The skeleton that scripts rely on: these fields, by these names, whatever else is added.
#[test]
fn the_reports_fields_keep_their_names() {
    let fields = |value: &Value, names: &[&str]| {
        let map = value.as_object().unwrap_or_else(|| panic!("{value} has no fields"));
        for name in names {
            assert!(map.contains_key(*name), "no field {name} in {value}");
        }
    };
    for file in demos::all() {
        let report = report(&file);
        fields(&report, &["schema", "project", "designs"]);
        for design in report["designs"].as_array().expect("designs") {
            let names =
                ["name", "blank", "volume_mm3", "centre_of_mass_mm", "core_mm", "stations", "tightest", "seams"];
            fields(design, &names);
            fields(&design["blank"], &["width_mm", "depth_mm", "length_mm"]);
            fields(&design["tightest"]["first"], &["radius_mm", "s_mm"]);
            fields(&design["tightest"]["second"], &["radius_mm", "s_mm"]);
            let names = ["s_mm", "a_mm", "b_mm", "a_slope", "b_slope", "a_curvature_per_mm", "b_curvature_per_mm"];
            fields(&design["stations"][0], &names);
            fields(&design["stations"][0], &["edge_angle_deg", "thickness_mm", "pieces"]);
            fields(&design["seams"][3], &["seam", "lines_meet", "same_wood", "pattern_carries_on", "places"]);
        }
    }
}

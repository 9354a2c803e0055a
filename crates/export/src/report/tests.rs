use super::*;
use crate::demo::DEMOS;
use approx::{assert_abs_diff_eq, assert_relative_eq};
use cornerwise_geometry::{Blank, Line, Point, Shape};
use cornerwise_project::DesignId;
use serde_json::Value;
use std::sync::Arc;

fn demos() -> Vec<Project> {
    DEMOS.iter().map(|demo| demo.project().expect("a demo")).collect()
}

fn one(first: Line, second: Line, blank: Blank) -> Project {
    let mut project = Project::new();
    project.designs = vec![Arc::new(Design { first, second, blank, ..Design::new(DesignId(1), 'A') })];
    project
}

/// The names of an object's fields, in the order they are written.
fn names_in_order(object: &str) -> Vec<String> {
    let mut names = Vec::new();
    let (mut depth, mut text, mut in_text, mut escaped) = (0, String::new(), false, false);
    for c in object.chars() {
        match c {
            _ if escaped => escaped = false,
            '\\' if in_text => escaped = true,
            '"' => {
                in_text = !in_text;
                if in_text {
                    text.clear();
                }
            }
            _ if in_text => text.push(c),
            '{' | '[' => depth += 1,
            '}' | ']' => depth -= 1,
            ':' if depth == 1 => names.push(text.clone()),
            _ => {}
        }
    }
    names
}

#[test]
fn the_json_has_the_promised_fields_in_the_promised_order() {
    // With the second cut straight, so that a null is among it.
    let project = DEMOS[3].project().expect("a demo");
    let report = report(&project, 5).expect("measured");
    let design = &report.designs[0];
    fn written(value: &impl Serialize) -> String {
        serde_json::to_string(value).expect("written")
    }
    let expected: [(String, &[&str]); 8] = [
        (written(&report), &["schema", "project", "designs", "seam_limits"]),
        (
            written(design),
            &["name", "blank", "volume_mm3", "centre_of_mass_mm", "core_mm", "stations", "tightest", "seams"],
        ),
        (written(&design.blank), &["width_mm", "depth_mm", "length_mm"]),
        (
            written(&design.stations[0]),
            &[
                "s_mm",
                "a_mm",
                "b_mm",
                "a_slope",
                "b_slope",
                "a_curvature_per_mm",
                "b_curvature_per_mm",
                "edge_angle_deg",
                "thickness_mm",
                "pieces",
            ],
        ),
        (written(&design.tightest), &["first", "second"]),
        (written(&design.tightest.first), &["radius_mm", "s_mm"]),
        (written(&design.seams[0]), &["seam", "lines_meet", "same_wood", "pattern_carries_on", "places"]),
        (written(&design.seams[0].places[0]), &["from_mm", "to_mm", "what"]),
    ];
    for (value, names) in expected {
        let found = names_in_order(&value);
        assert_eq!(found[..names.len()], *names, "further fields come after these: {found:?}");
    }
    let parsed: Value = serde_json::from_str(&json(&report).expect("written")).expect("JSON");
    assert_eq!(parsed["schema"], 1);
    assert_eq!(parsed["designs"][0]["tightest"]["second"]["radius_mm"], Value::Null);
    assert!(parsed["designs"][0]["tightest"]["first"]["radius_mm"].is_number());
    assert_eq!(parsed["designs"][0]["stations"][4]["pieces"].as_array().map(Vec::len), Some(4));
    assert_eq!(parsed["designs"][0]["stations"][4]["pieces"][3].as_array().map(Vec::len), Some(4));
    assert_eq!(parsed["designs"][0]["stations"][4]["pieces"][3][2].as_array().map(Vec::len), Some(2));
}

#[test]
fn null_stands_only_for_what_is_not_there_and_never_for_a_number_that_failed() {
    fn nulls(value: &Value, path: &str, found: &mut Vec<String>) {
        match value {
            Value::Null => found.push(path.to_owned()),
            Value::Array(values) => values.iter().for_each(|value| nulls(value, path, found)),
            Value::Object(fields) => {
                fields.iter().for_each(|(name, value)| nulls(value, &format!("{path}/{name}"), found));
            }
            _ => {}
        }
    }
    let straight = || Line::Shape(Shape::Straight { aside: 0.0.into() });
    let mut projects = demos();
    projects.push(one(straight(), straight(), Blank::square(50.0, 700.0)));
    // With a saw and a load, and waves so steep that there is something to tell.
    let waves =
        Shape::Waves { waves: 4, swing_top: 34.0.into(), swing_foot: 34.0.into(), shortening: 1.0, aside: 0.0.into() };
    let steep = || Line::Shape(waves.clone());
    let mut told = one(steep(), steep(), Blank::square(50.0, 300.0));
    told.saw = Some(cornerwise_geometry::Saw::default());
    Arc::make_mut(&mut told.designs[0]).load = Some(cornerwise_geometry::Load::default());
    let measured = report(&told, 9).expect("measured");
    assert!(measured.designs[0].watch_outs.iter().any(|one| !one.fixes.is_empty()));
    assert_eq!(measured.designs[0].sawn.as_ref().map(|sawn| sawn.stations.len()), Some(9));
    projects.push(told);
    for project in projects {
        let text = json(&report(&project, 9).expect("measured")).expect("written");
        let mut found = Vec::new();
        nulls(&serde_json::from_str(&text).expect("JSON"), "", &mut found);
        for path in found {
            // A straight line has no bend; a saw and a load need not be told; a watch-out may come from no one cut.
            let absent = match path.as_str() {
                "/designs/sawn" => project.saw.is_none(),
                "/designs/sawn/widest_blade_mm"
                | "/designs/sawn/bends/blade"
                | "/designs/watch_outs/cut"
                | "/designs/watch_outs/accepted" => true,
                "/designs/fit" => project.designs.iter().any(|design| design.fit.is_plain()),
                "/designs/faces_sawn" => project.designs.iter().any(|design| !matches!(design.wood, Wood::Timber(_))),
                "/furniture" => project.furniture.is_none(),
                // Of a leg that is its own mirror, of a leg without a pipe, where boards are of no one size, of a column, of an edge within the feet, and of
                // what is about the whole.
                fitted if fitted.starts_with("/designs/fit/") || fitted.starts_with("/furniture/") => [
                    "/designs/fit/mirror_inside_piece",
                    "/designs/fit/pipe",
                    "/furniture/cut_list",
                    "/furniture/mirrored_across",
                    "/furniture/standing",
                    "/furniture/standing/tips_kg",
                    "/furniture/watch_outs/at_mm",
                ]
                .contains(&fitted),
                "/designs/load" => project.designs.iter().any(|design| design.load.is_none()),
                bend => bend.starts_with("/designs/tightest/"),
            };
            assert!(absent, "{path} of {} is null", project.name);
        }
    }
}

#[test]
fn stations_are_even_and_both_ends_are_among_them() {
    for project in demos() {
        for count in [2, 3, 17, 100] {
            let report = report(&project, count).expect("measured");
            let stations: Vec<f64> = report.designs[0].stations.iter().map(|at| at.s_mm).collect();
            let length = report.designs[0].blank.length_mm;
            assert_eq!((stations.len(), stations[0], stations[count - 1]), (count, 0.0, length));
            for (place, s) in stations.iter().enumerate() {
                assert_abs_diff_eq!(*s, length * place as f64 / (count - 1) as f64, epsilon = 1e-9);
            }
        }
    }
}

#[test]
fn too_few_or_too_many_stations_and_unsound_projects_are_refused() {
    for count in [0, 1, MOST_STATIONS + 1, usize::MAX] {
        let error = report(&Project::new(), count).expect_err("refused");
        assert_eq!(error.to_string(), format!("{count} stations cannot be measured: 2 to 20000 can"));
    }
    let straight = || Line::Shape(Shape::Straight { aside: 0.0.into() });
    let error = report(&one(straight(), straight(), Blank::square(50.0, f64::NAN)), 2).expect_err("refused");
    assert!(error.to_string().starts_with("design 1, blank: "), "{error}");
}

#[test]
fn slope_and_curvature_of_a_parabola_are_those_of_calculus_with_their_sign() {
    // y = k s²: y' = 2 k s, curvature 2 k / (1 + 4 k² s²)^1.5. One cubic is a parabola exactly when its handles reach a
    // third of the way.
    let length = 400.0;
    for k in [2e-4, -1.5e-4] {
        let third = length / 3.0;
        let start = if k > 0.0 { 10.0 } else { 40.0 };
        let points = vec![
            Point::smooth(1, 0.0, start, 0.0, third, third),
            Point::smooth(2, length, start + k * length * length, 2.0 * k * length, third, third),
        ];
        let straight = Line::Shape(Shape::Straight { aside: 0.0.into() });
        let project = one(Line::Points(points), straight, Blank::square(50.0, length));
        let report = report(&project, 41).expect("measured");
        let design = &report.designs[0];
        for at in &design.stations {
            let s = at.s_mm;
            assert_abs_diff_eq!(at.a_mm, start + k * s * s, epsilon = 1e-9);
            assert_abs_diff_eq!(at.a_slope, 2.0 * k * s, epsilon = 1e-11);
            let curvature = 2.0 * k / (1.0 + 4.0 * k * k * s * s).powf(1.5);
            assert_abs_diff_eq!(at.a_curvature_per_mm, curvature, epsilon = 1e-13);
            assert_eq!((at.b_slope, at.b_curvature_per_mm, at.edge_angle_deg), (0.0, 0.0, 90.0));
            assert_relative_eq!(at.thickness_mm[0], 50.0 / (2.0 * k * s).hypot(1.0), max_relative = 1e-12);
        }
        // A parabola is tightest at its vertex, with radius 1 / (2 k).
        let tightest = &design.tightest.first;
        assert_relative_eq!(tightest.radius_mm.expect("a bend"), 1.0 / (2.0 * k.abs()), max_relative = 1e-9);
        assert_abs_diff_eq!(tightest.s_mm.expect("a place"), 0.0, epsilon = 1e-9);
        assert_eq!(design.tightest.second, BendReport { radius_mm: None, s_mm: None });
    }
}

#[test]
fn slopes_and_curvatures_are_the_rates_of_the_reported_offsets() {
    for project in demos() {
        let report = report(&project, 8_001).expect("measured");
        for design in &report.designs {
            for three in design.stations.windows(3).step_by(37) {
                let step = three[2].s_mm - three[1].s_mm;
                let [a, b, c] = [three[0].a_mm, three[1].a_mm, three[2].a_mm];
                // Curvature may jump where two cubics join, so only slopes are compared closely there.
                assert_abs_diff_eq!((c - a) / (2.0 * step), three[1].a_slope, epsilon = 0.03);
                let second = (a - 2.0 * b + c) / (step * step) / three[1].a_slope.hypot(1.0).powi(3);
                let around = three.iter().map(|at| at.a_curvature_per_mm);
                let (least, most) = (around.clone().fold(f64::MAX, f64::min), around.fold(f64::MIN, f64::max));
                let sharp = (three[2].a_slope - three[0].a_slope).abs() > 0.02;
                assert!(sharp || (least - 1e-4..most + 1e-4).contains(&second), "{second} not in {least}..{most}");
            }
        }
    }
}

#[test]
fn the_tightest_bend_is_tighter_than_at_any_station_and_nearly_reached() {
    for project in demos() {
        let report = report(&project, 20_000).expect("measured");
        for design in &report.designs {
            let curvatures = design.stations.iter().map(|at| at.a_curvature_per_mm.abs());
            let most = curvatures.fold(0.0, f64::max);
            let tightest = 1.0 / design.tightest.first.radius_mm.expect("a bend");
            assert!(tightest >= most * (1.0 - 1e-9) && tightest < most * 1.01, "{tightest} {most}");
        }
    }
}

#[test]
fn every_section_is_the_blank_s_own_size_and_the_volume_the_blank_s_own() {
    for project in demos() {
        for design in report(&project, 65).expect("measured").designs {
            let BlankReport { width_mm, depth_mm, length_mm } = design.blank;
            assert_relative_eq!(design.volume_mm3, width_mm * depth_mm * length_mm, max_relative = 1e-12);
            for at in &design.stations {
                let area: f64 = at.pieces.iter().map(shoelace).sum();
                assert_relative_eq!(area, width_mm * depth_mm, max_relative = 1e-12);
            }
        }
    }
}

/// Twice the signed area is the sum of the cross products of neighbouring corners.
fn shoelace(corners: &[[f64; 2]; 4]) -> f64 {
    let next = corners.iter().cycle().skip(1);
    corners.iter().zip(next).map(|(p, q)| p[0] * q[1] - q[0] * p[1]).sum::<f64>().abs() / 2.0
}

#[test]
fn the_same_project_gives_the_same_bytes() {
    for project in demos() {
        let once = || {
            let report = report(&project, 33).expect("measured");
            (json(&report).expect("written"), text(&project, &report))
        };
        assert_eq!(once(), once());
    }
}

#[test]
fn the_text_is_in_the_project_s_units_and_as_typed() {
    let bench = DEMOS[2].project().expect("a demo");
    let text = text(&bench, &report(&bench, 9).expect("measured"));
    for part in [
        "Window bench\n============\n",
        "Leg A: Bench leg\n",
        "2 3/4\" by 2 1/4\", 16 1/2\" long\n",
        "oak, rings about 1/8 in wide\n",
        // 2.75 x 2.25 x 16.5 in by hand.
        "102.09 cubic inches\n",
        "  Lengths in inches; slopes",
    ] {
        assert!(text.contains(part), "no {part:?} in\n{text}");
    }
    assert!(!text.contains(" mm"), "{text}");
    assert!(text.lines().all(|line| line == line.trim_end()));
}

#[test]
fn the_text_names_seams_that_are_alike_together() {
    let stool = DEMOS[4].project().expect("a demo");
    let text = text(&stool, &report(&stool, 9).expect("measured"));
    let row = |start: &str| text.lines().find(|line| line.trim_start().starts_with(start)).map(str::to_owned);
    assert!(row("1 and 3").expect("a row").contains("0 %"), "{text}");
    assert!(row("2 and 4").expect("a row").contains("100 %"), "{text}");
    assert!(row("Seam 1 and 3: and ").is_some(), "{text}");
    assert!(text.contains("layers, leaning 25° toward 0° in plan, repeating cherry 22 mm, maple 6 mm"), "{text}");
}

/// The looks of a seam are those of the demo that was made to look so: layers that sit 3.6 mm off, and their fix.
#[test]
fn the_looks_of_seams_are_told() {
    let looks = |file: &str| {
        let demo = DEMOS.iter().find(|demo| demo.file_name == file).unwrap();
        let report = report(&demo.project().unwrap(), 3).unwrap();
        report.designs[0].seams[0].looks.clone()
    };
    let jumps = looks("sloping-layers.ron");
    assert_eq!([jumps.good, jumps.doubtful, jumps.bad], [0.0, 0.0, 1.0]);
    // 50 tan 30 = 28.87 along the leg; lines lie 15 and 7 mm over cos 30 apart, so the nearest is a repeat of 25.40 off.
    let repeat = 22.0 / f64::to_radians(30.0).cos();
    let jump = 50.0 * f64::to_radians(30.0).tan() - repeat;
    assert!((jumps.worst_jump_mm.unwrap() - jump).abs() < 1e-6, "{jumps:?}, not {jump}");
    let fixed = looks("sloping-layers-fixed.ron");
    assert_eq!((fixed.good, fixed.longest_good_mm), (1.0, Some([0.0, 560.0])));
    assert!(fixed.worst_jump_mm.unwrap() < 1e-6 && fixed.worst_colour.is_none());
}

#[test]
fn the_limits_that_the_seams_were_judged_by_are_told() {
    let text = json(&report(&Project::new(), 2).expect("measured")).expect("written");
    let value: Value = serde_json::from_str(&text).expect("JSON");
    let limits = cornerwise_wood::SeamLimits::default();
    assert_eq!(value["seam_limits"]["meet_mm"], limits.meet_mm);
    assert_eq!(value["seam_limits"]["ring_share"], limits.ring_share);
    assert_eq!(value["seam_limits"]["kink_deg"], limits.kink_deg);
    assert_eq!(value["schema"], 1);
}

/// What scripts rely on: drawn and sawn sections at the same stations, every watch-out with its figure, limit, place and source,
/// and what the leg bears.
#[test]
fn drawn_and_sawn_watch_outs_and_load_stand_side_by_side() {
    let demo = DEMOS.iter().find(|demo| demo.file_name == "too-many-waves.ron").expect("a demo");
    let text = json(&report(&demo.project().expect("a project"), 17).expect("measured")).expect("written");
    let value: Value = serde_json::from_str(&text).expect("JSON");
    let design = &value["designs"][0];
    let area = |pieces: &Value| -> f64 {
        let corners = |piece: &Value| -> Vec<[f64; 2]> {
            let corner = |c: &Value| [c[0].as_f64().expect("u"), c[1].as_f64().expect("v")];
            piece.as_array().expect("a polygon").iter().map(corner).collect()
        };
        let shoelace = |p: &[[f64; 2]]| {
            (0..p.len()).map(|i| p[i][0] * p[(i + 1) % p.len()][1] - p[(i + 1) % p.len()][0] * p[i][1]).sum::<f64>()
                / 2.0
        };
        pieces.as_array().expect("pieces").iter().map(|piece| shoelace(&corners(piece))).sum()
    };
    let (drawn, sawn) = (&design["stations"], &design["sawn"]["stations"]);
    for i in 0..17 {
        assert_eq!(drawn[i]["s_mm"], sawn[i]["s_mm"]);
        let (whole, left) = (area(&drawn[i]["pieces"]), area(&sawn[i]["pieces"]));
        assert!((whole - 2500.0).abs() < 1e-6 && left < whole - 100.0, "{whole} {left}");
    }
    let watch_outs = design["watch_outs"].as_array().expect("a list");
    assert!(watch_outs.len() >= 5, "{watch_outs:?}");
    for one in watch_outs {
        for field in ["at_mm", "value", "limit"] {
            assert!(one[field].is_number(), "{field} of {one}");
        }
        for field in ["concern", "title", "weight", "unit", "limit_source", "verdict"] {
            assert!(one[field].as_str().is_some_and(|words| !words.is_empty()), "{field} of {one}");
        }
    }
    let calm = DEMOS.iter().find(|demo| demo.file_name == "waves-calmed.ron").expect("a demo");
    let text = json(&report(&calm.project().expect("a project"), 3).expect("measured")).expect("written");
    let load = &serde_json::from_str::<Value>(&text).expect("JSON")["designs"][0]["load"];
    assert!(load["bears_n"].as_f64().expect("a figure") > 0.0 && load["used"].as_array().expect("a curve").len() > 50);
    assert!(load["says"].as_str().expect("words").contains("certifies nothing"));
    // Half a kerf and the sanding on either side of the line.
    let lost = design["sawn"]["lost_mm3"].as_f64().expect("a volume");
    let volume = |of: &Value| of["volume_mm3"].as_f64().expect("a volume");
    assert!((volume(design) - volume(&design["sawn"]) - lost).abs() < 1e-6);
}

/// The text says of every watch-out where it is, what it is against what limit, and where the limit comes from; of an inch
/// project in inches, what is small as decimals.
#[test]
fn the_text_says_place_figure_limit_and_source_of_every_watch_out() {
    use cornerwise_geometry::{Concern, Finest, Units};
    let demo = DEMOS.iter().find(|demo| demo.file_name == "too-many-waves.ron").expect("a demo");
    let mut project = demo.project().expect("a project");
    project.saw.as_mut().expect("a saw").tilt_first_deg = 0.5;
    for units in [Units::Millimetres, Units::Inches(Finest::Sixteenth)] {
        project.units = units;
        let measured = report(&project, 3).expect("measured");
        let told = text(&project, &measured);
        for one in &measured.designs[0].watch_outs {
            assert!(told.contains(&format!("the limit: {}", one.limit_source)), "{told}");
            let against = one.concern.limit_words(units, one.limit).map_or(String::new(), |limit| {
                format!("{} against a limit of {limit}", one.concern.figure(units, one.value))
            });
            assert!(told.contains(&against), "{against}: {told}");
            if !one.concern.is_of_the_whole_leg() {
                assert!(told.contains(&format!("{} from the top", units.show_with_unit(one.at_mm))), "{told}");
            }
        }
        assert!(measured.designs[0].watch_outs.iter().any(|one| one.concern == Concern::SeamStep));
        let from = told.find("As sawn").expect("as sawn");
        let sawn: String = told[from..].lines().take(5).collect::<Vec<_>>().join(" ");
        assert!(sawn.contains("a core of ") && sawn.contains("steps at seams 1 to 4"), "{sawn}");
        if units != Units::Millimetres {
            assert!(!sawn.contains(" mm") && sawn.contains("kerf 0.0") && sawn.contains(", 0.01"), "{sawn}");
        }
    }
}

#[test]
fn knots_are_told_with_where_they_end_up() {
    use cornerwise_geometry::Face;
    use cornerwise_project::{DesignId, Edit};
    use cornerwise_wood::Knot;
    let knot = Knot::new(Face::One, 300.0.into(), 12.0.into(), 50.0.into());
    let project = Project::new().apply(&Edit::AddKnot { design: DesignId(1), knot }).expect("marked");
    let measured = report(&project, 2).expect("measured");
    let told = &measured.designs[0].knots[0];
    assert_eq!((told.kind.as_str(), told.face, told.middle_mm), ("knot", 1, [300.0, 12.0]));
    assert_eq!(told.ends, "shows on sides 1, 3; the second cut goes through it");
    assert_eq!(told.shows.len(), 2);
    assert!(text(&project, &measured).contains("1 knot on face 1, 300 mm from the top: shows on sides 1, 3"));
}

fn demo(file: &str) -> Report {
    let demo = DEMOS.iter().find(|demo| demo.file_name == file).expect("a demo");
    report(&demo.project().expect("a project"), 5).expect("measured")
}

#[test]
fn fit_and_furniture_are_told_with_the_figures_that_were_asked_for() {
    let lamp = demo("desk-lamp.ron");
    let pipe = lamp.designs[0].fit.as_ref().and_then(|fit| fit.pipe.clone()).expect("a pipe");
    assert_abs_diff_eq!(pipe.chamfer_leg_mm, pipe.hole_mm * std::f64::consts::FRAC_1_SQRT_2, epsilon = 1e-12);
    assert_abs_diff_eq!(pipe.outside_mm, 0.405 * 25.4, epsilon = 1e-12);
    let furniture = lamp.furniture.expect("furniture");
    assert_eq!((furniture.arrangement, furniture.legs.len()), ("column", 1));
    assert!(furniture.standing.expect("it stands").tilt_deg > 8.0);

    let table = demo("apron-table.ron").furniture.expect("furniture");
    assert_eq!(table.legs.iter().map(|leg| leg.mirrored).collect::<Vec<_>>(), [false, true, false, true]);
    assert_eq!(table.mirrored_across, Some([true, false]));
    assert_eq!(table.standing.expect("it stands").tips_kg.len(), 4);
    // Aprons are as high as the notch, and end with the top of the legs.
    for apron in table.boards.iter().filter(|board| board.kind == "apron") {
        assert_eq!((apron.size_mm[1], apron.height_mm), (90.0, [470.0, 560.0]));
    }

    let stand = demo("shelf-stand.ron");
    let fit = stand.designs[0].fit.as_ref().expect("a fit");
    assert_eq!((fit.mirror, fit.marks.len(), fit.parts.len(), fit.notches.len()), ("itself", 10, 11, 5));
    let thrown: f64 =
        fit.parts.iter().filter(|part| !part.kept).map(|part| part.from_to_mm[1] - part.from_to_mm[0]).sum();
    assert_abs_diff_eq!(thrown, 5.0 * 18.4, epsilon = 1e-9);
    assert_eq!(stand.furniture.expect("furniture").blanks[0].count, 4);
    // A leg that nothing is fitted to says so.
    assert!(demo("stool-leg.ron").designs[0].fit.is_none());
}

/// A pith far below the middle of face 1: faces 1 and 3 lie along the rings, 2 and 4 square to them.
#[test]
fn faces_are_named_by_their_rings_and_only_of_timber() {
    use cornerwise_wood::{Species, Timber, Wood};
    let straight = || Line::Shape(Shape::Straight { aside: 0.0.into() });
    let mut project = one(straight(), straight(), Blank::square(50.0, 700.0));
    let wood = Wood::Timber(Timber::new(Species::Oak, 25.0.into(), 900.0.into(), 3.0.into()));
    project.designs = vec![Arc::new(Design { wood, ..(*project.designs[0]).clone() })];
    let measured = report(&project, 3).expect("measured");
    let faces = measured.designs[0].faces_sawn.as_ref().expect("timber");
    let names: Vec<&str> = faces.iter().map(|face| face.name.as_str()).collect();
    assert_eq!(names, ["flat", "quarter", "flat", "quarter"]);
    assert_abs_diff_eq!(faces[0].ring_angle_deg, 0.0);
    // The middle of face 2 lies 25 mm beside the pith's own line, 875 mm from it.
    assert_abs_diff_eq!(faces[1].ring_angle_deg, (875.0_f64 / 25.0).atan().to_degrees(), epsilon = 1e-9);
    let told = text(&project, &measured);
    assert!(told.contains("face 1 flat (0°), 2 quarter (88°), 3 flat (0°), 4 quarter (88°)"), "{told}");
    let layers = demos().into_iter().find(|demo| matches!(demo.designs[0].wood, Wood::Layers(_))).expect("a glue-up");
    assert_eq!(report(&layers, 3).expect("measured").designs[0].faces_sawn, None);
}

#[test]
fn in_words_it_tells_fit_and_furniture_too() {
    let of = |file: &str| {
        let project = DEMOS.iter().find(|demo| demo.file_name == file).unwrap().project().unwrap();
        text(&project, &report(&project, 3).unwrap())
    };
    let table = of("apron-table.ron");
    for words in [
        "Inside piece",
        "1, 0 mm to 90 mm: apron of 90 mm stands on 25 mm by 25 mm; 18.8 cm² of wood left",
        "2: leg A mirrored, piece 2 inside",
        "apron, 560 mm by 90 mm, 20 mm thick, 470 mm to 560 mm above the floor",
        "1 of 150 mm by 60 mm, 2000 mm long",
        "left and right mirror one another",
        "falls over when tilted",
    ] {
        assert!(table.contains(words), "{words}: {table}");
    }
    let lamp = of("desk-lamp.ron");
    assert!(lamp.contains("11.11 mm wide, chamfers of 7.86 mm") && lamp.contains("base, 170 mm by 170 mm"), "{lamp}");
    assert!(!of("reading-table.ron").contains("Furniture"));
}

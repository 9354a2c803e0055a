//! The built-in demo projects: a small workshop furnishing the reading room of a village library. They are the files of
//! the folder `demo-projects`, so that they can be opened, changed and saved like any other.

use crate::files::{LoadFault, read_text};
use cornerwise_project::Project;

/// One demo project.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Demo {
    /// Its file in the folder `demo-projects`.
    pub file_name: &'static str,
    /// What it shows, for a menu.
    pub shows: &'static str,
    /// The text of the file.
    pub text: &'static str,
}

macro_rules! demo {
    ($file_name:literal, $shows:literal) => {
        Demo {
            file_name: $file_name,
            shows: $shows,
            text: include_str!(concat!("../../../demo-projects/", $file_name)),
        }
    };
}

/// The demos, in the order they are offered. The first one opens when the studio is started without a file.
pub const DEMOS: [Demo; 15] = [
    demo!("reading-table.ron", "Table leg, walnut and maple layers that meet at every seam"),
    demo!("lamp-column.ron", "Lamp column that winds, level layers"),
    demo!("bench-leg.ron", "Bench leg in inches, oak, a blank that is not square"),
    demo!("shelf-post.ron", "Shelf post in ash with a sharp point, sawn in two passes"),
    demo!("stool-leg.ron", "Stool leg whose sloping layers do not meet"),
    demo!("sloping-layers.ron", "Side table leg whose layers, sloping at 30 degrees, jump at two seams"),
    demo!("sloping-layers-fixed.ron", "The same leg with layers that meet"),
    demo!("too-many-waves.ron", "Plant stand leg with too many waves for its length: much to watch out for"),
    demo!("waves-calmed.ron", "Its fixed twin: nothing to watch out for"),
    demo!("checkered-post.ron", "Post of cubes, four columns to a face, that carries on at every seam"),
    demo!("desk-lamp.ron", "Desk lamp with a pipe hole, a base and a shade"),
    demo!("apron-table.ron", "Apron table on four different legs, left and right, front and back"),
    demo!("shelf-stand.ron", "Stand of five shelves in notched legs, four alike"),
    demo!("periodicals-rack.ron", "Rack leg drawn with a batten, its second cut the mirror of the first"),
    demo!("photographed-ash.ron", "Newspaper stand leg of a real ash blank, by photos of its four faces"),
];

impl Demo {
    /// The project.
    ///
    /// # Errors
    /// [`LoadFault`], which a built-in demo never has: a test opens them all.
    pub fn project(&self) -> Result<Project, LoadFault> {
        read_text(self.text)
    }
}

#[cfg(test)]
mod photographed;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::files::write_text;
    use crate::report::{USUAL_STATIONS, report};
    use cornerwise_geometry::{Cut, Line, Units};
    use cornerwise_wood::Wood;
    use std::fs;
    use std::path::Path;

    const TOO_MANY_WAVES: &str = "Plant stand, too many waves";

    /// One leg is honestly bad, its twin sound: the same waves on a leg more than twice as long, and half the swing.
    #[test]
    fn one_demo_is_honestly_bad_and_its_twin_is_sound() {
        use cornerwise_geometry::Concern;
        let told = |file: &str| {
            let demo = DEMOS.iter().find(|demo| demo.file_name == file).expect("a demo");
            report(&demo.project().expect("a project"), 33).expect("measured").designs.remove(0)
        };
        let bad = told("too-many-waves.ron");
        let watched: Vec<Concern> =
            bad.watch_outs.iter().filter(|one| one.weight == "watch out").map(|one| one.concern).collect();
        for concern in [Concern::EdgeAngle, Concern::ShortGrain, Concern::Bend] {
            assert!(watched.contains(&concern), "{concern:?} in {watched:?}");
        }
        for one in bad.watch_outs.iter().filter(|one| one.weight == "watch out") {
            assert!(!one.fixes.is_empty(), "{one:?}");
        }
        let calm = told("waves-calmed.ron");
        assert!(calm.watch_outs.iter().all(|one| one.weight == "have a look"), "{:?}", calm.watch_outs);
        assert!(calm.blank.length_mm > 2.0 * bad.blank.length_mm);
        let (bears, needs) = (calm.load.as_ref().expect("a load"), bad.load.as_ref().expect("a load"));
        assert!(bears.bears_n > bears.down_n && needs.down_n == bears.down_n);
    }

    fn projects() -> Vec<Project> {
        DEMOS.iter().map(|demo| demo.project().unwrap_or_else(|fault| panic!("{}: {fault}", demo.file_name))).collect()
    }

    #[test]
    fn every_demo_opens_saves_and_opens_again() {
        for project in projects() {
            assert_eq!(read_text(&write_text(&project).expect("written")), Ok(project));
        }
    }

    #[test]
    fn every_file_in_the_folder_is_offered() {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-projects");
        let mut there: Vec<String> = fs::read_dir(folder)
            .expect("the folder")
            .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
            .filter(|name| name.ends_with(".ron"))
            .collect();
        let mut offered = DEMOS.map(|demo| demo.file_name.to_owned());
        there.sort();
        offered.sort();
        assert_eq!(there, offered);
        assert!(offered.iter().all(|name| !name.contains(char::is_whitespace)));
    }

    /// Half-inch blades turn in 2 1/2 in (four saw manuals agree; see the project's check values, section 4).
    #[test]
    fn a_half_inch_blade_turns_every_curve_and_no_edge_is_sharp() {
        for project in projects() {
            // One is bad on purpose, and another test holds that it is.
            if project.name == TOO_MANY_WAVES {
                continue;
            }
            let report = report(&project, 200).expect("measured");
            for (design, measured) in project.designs.iter().zip(&report.designs) {
                for bend in [&measured.tightest.first, &measured.tightest.second] {
                    assert!(bend.radius_mm.is_none_or(|radius| radius > 2.5 * 25.4), "{}: {bend:?}", design.name);
                }
                assert!(measured.stations.iter().all(|at| at.edge_angle_deg > 80.0), "{}", design.name);
                let sides = [measured.blank.width_mm, measured.blank.depth_mm];
                assert!(sides.iter().all(|side| (45.0..=75.0).contains(side)), "{}: {sides:?}", design.name);
                assert!((400.0..=1100.0).contains(&measured.blank.length_mm), "{}", design.name);
                // The lines keep clear of the blank's faces by 8 mm, so the grain is whole in all four pieces.
                for (place, side) in sides.iter().enumerate() {
                    let offset = |at: &crate::report::StationReport| [at.a_mm, at.b_mm][place];
                    let clear = measured.stations.iter().map(offset).all(|o| o > 8.0 && o < side - 8.0);
                    assert!(clear, "{}", design.name);
                }
            }
        }
    }

    #[test]
    fn together_they_show_what_can_be_drawn() {
        let projects = projects();
        let designs: Vec<_> = projects.iter().flat_map(|project| &project.designs).collect();
        assert!(designs.iter().any(|design| design.first != design.second));
        assert!(designs.iter().any(|design| design.blank.width.mm() != design.blank.depth.mm()));
        assert!(designs.iter().any(|design| design.leg().expect("a leg").first.sharp_point().is_some()));
        assert!(designs.iter().any(|design| matches!(design.first, Line::Batten(_))));
        assert!(designs.iter().any(|design| matches!(design.second, Line::Linked(_))));
        assert!(designs.iter().any(|design| matches!(design.wood, Wood::Timber(_))));
        assert!(designs.iter().any(|design| matches!(design.wood, Wood::Layers(_))));
        assert!(designs.iter().any(|design| matches!(design.wood, Wood::Blocks(_))));
        assert!(designs.iter().any(|design| matches!(design.wood, Wood::Photos(_))));
        assert!(projects.iter().any(|project| project.units == Units::Millimetres));
        let inches = projects.iter().find(|project| project.units != Units::Millimetres).expect("one in inches");
        assert_eq!(inches.designs[0].blank.width.typed(), Some("2 3/4\""));
        let first = &projects[0].designs[0];
        for cut in Cut::ALL {
            assert!(matches!(first.line(cut), Line::Points(_)), "the demo that opens has points to drag");
        }
    }

    #[test]
    fn the_seams_are_as_the_comments_in_the_files_say() {
        let meet = |file: &str| {
            let demo = DEMOS.iter().find(|demo| demo.file_name == file).expect("a demo");
            let report = report(&demo.project().expect("a project"), USUAL_STATIONS).expect("measured");
            [0, 1, 2, 3].map(|seam| report.designs[0].seams[seam].lines_meet)
        };
        assert_eq!(meet("reading-table.ron"), [1.0; 4]);
        assert_eq!(meet("lamp-column.ron"), [1.0; 4]);
        assert_eq!(meet("stool-leg.ron"), [0.0, 1.0, 0.0, 1.0]);
        assert_eq!(meet("sloping-layers.ron"), [0.0, 1.0, 0.0, 1.0]);
        let carries_on = |file: &str| {
            let demo = DEMOS.iter().find(|demo| demo.file_name == file).expect("a demo");
            let report = report(&demo.project().expect("a project"), USUAL_STATIONS).expect("measured");
            [0, 1, 2, 3].map(|seam| report.designs[0].seams[seam].pattern_carries_on)
        };
        assert_eq!(carries_on("sloping-layers-fixed.ron"), [1.0; 4]);
        assert_eq!(carries_on("checkered-post.ron"), [1.0; 4]);
    }
    fn named(file: &str) -> Project {
        let demo = DEMOS.iter().find(|demo| demo.file_name == file).expect("a demo");
        demo.project().expect("a project")
    }

    #[test]
    fn nothing_of_the_fit_and_the_furniture_wants_watching() {
        for file in ["desk-lamp.ron", "apron-table.ron", "shelf-stand.ron"] {
            let project = named(file);
            let made = project.assemble().expect("put together");
            assert_eq!(made.findings(project.units), [], "{file}");
            for design in &project.designs {
                assert_eq!(design.fit_findings(&design.leg().expect("a leg"), project.units), [], "{file}");
            }
            let measured = report(&project, USUAL_STATIONS).expect("measured");
            for design in &measured.designs {
                let open: Vec<_> = design.watch_outs.iter().filter(|one| one.weight == "watch out").collect();
                assert!(open.is_empty(), "{file}: {open:?}");
            }
        }
    }

    #[test]
    fn the_lamp_has_room_for_its_pipe_and_stands_the_published_tilts() {
        let project = named("desk-lamp.ron");
        let design = &project.designs[0];
        let pipe = design.fit.pipe.as_ref().expect("a pipe").fit(&design.leg().expect("a leg"));
        assert!((pipe.hole_mm - 7.0 / 16.0 * 25.4).abs() < 0.002, "the published hole for 1/8 pipe");
        assert!(pipe.ends.iter().all(|end| end.off_mm() < 1e-9));
        let stands = project.assemble().expect("put together").stability().expect("it stands");
        assert!(stands.tilt_deg > 15.0, "{}", stands.tilt_deg);
    }

    #[test]
    fn the_table_needs_four_templates_and_the_stand_one() {
        let made = named("apron-table.ron").assemble().expect("put together");
        assert_eq!(made.blank_list().iter().map(|line| line.count).collect::<Vec<_>>(), [1, 1, 1, 1]);
        assert_eq!(made.mirrored_across(), Some([true, false]), "left mirrors right, front differs from back");
        let made = named("shelf-stand.ron").assemble().expect("put together");
        assert_eq!(made.blank_list().iter().map(|line| line.count).collect::<Vec<_>>(), [4]);
        assert_eq!(made.board_list()[0].count, 5);
    }
}

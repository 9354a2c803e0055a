//! Screen and paper differ by rotation only, never by a mirror.

use cornerwise_geometry::Cut;
use cornerwise_studio::across::{Across, ScreenFromFaces};
use cornerwise_studio::ruler::Axis;
use egui::{Pos2, Rect, pos2};

use crate::demos;

/// On screen, y down, the top end lies left and what is measured across a face from its arris runs down: turned by
/// nothing from what an eye outside the blank sees as it lies on the saw table. The paper is checked as it is read: `strip`
/// finds every saw line by turning pages, and `caps` the corners; neither could on a mirror.
#[test]
fn the_faces_on_screen_are_turned_as_the_paper_is() {
    for file in demos::all() {
        let project = demos::project(&file);
        let leg = project.designs[0].leg().expect("a leg");
        let axis = Axis { left_px: 100.0, right_px: 900.0, left_mm: -20.0, px_per_mm: 800.0 / (leg.length_mm + 40.0) };
        let rect = Rect::from_min_max(pos2(100.0, 50.0), pos2(900.0, 500.0));
        for across in [Across::Fill, Across::True, Across::Times(3.0)] {
            let faces = ScreenFromFaces::new(axis, across, rect, &leg, 0.0);
            for cut in Cut::ALL {
                let at = |s: f64, offset: f64| faces.pos(cut, s, offset);
                let run = |from: Pos2, to: Pos2| [f64::from(to.x - from.x), f64::from(to.y - from.y)];
                let (along, down) = (run(at(0.0, 0.0), at(100.0, 0.0)), run(at(0.0, 0.0), at(0.0, 30.0)));
                assert!(along[0] > 1.0 && along[1].abs() < 1e-3, "{along:?}");
                assert!(down[1] > 1.0 && down[0].abs() < 1e-3, "{down:?}");
            }
            // Face 1 lies above face 2, and they share arris 2.
            assert_eq!(faces.pos(Cut::First, 50.0, leg.width_mm), faces.pos(Cut::Second, 50.0, 0.0));
        }
    }
}

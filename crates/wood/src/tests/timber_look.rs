//! What timber's numbers do to its look.

use cornerwise_geometry::{BlankPoint, End, Face, Surface};

use super::cyma_leg;
use crate::{Species, Timber, Wood, paint};

fn walnut() -> Timber {
    Timber::new(Species::Walnut, 25.0.into(), (-60.0).into(), 3.0.into())
}

#[test]
fn sapwood_is_lighter_and_begins_where_it_is_said_to() {
    let wood = Wood::Timber(Timber { sapwood_from: Some(90.0.into()), ..walnut() });
    let light = |y: f64| {
        let sum: f64 = (0..50)
            .map(|i| {
                f64::from(wood.at(BlankPoint { x: 25.0, y, s: 7.0 * f64::from(i) }, Surface::Face(Face::Two)).colour[0])
            })
            .sum();
        sum / 50.0
    };
    assert!(light(35.0) > light(25.0) + 60.0, "{} {}", light(35.0), light(25.0));
}

#[test]
fn more_late_wood_is_darker() {
    let leg = cyma_leg(50.0, 50.0, 100.0, 8.0, 0.5);
    let mean = |late: f64| {
        let wood = Wood::Timber(Timber { late_share: Some(late), ..walnut() });
        let painted = paint(&leg, &wood, Surface::End(End::Top), 4.0).unwrap();
        painted.rgba.chunks(4).map(|c| f64::from(c[0])).sum::<f64>() / (painted.rgba.len() / 4) as f64
    };
    assert!(mean(0.1) > mean(0.5) + 3.0 && mean(0.5) > mean(0.9) + 3.0, "{} {} {}", mean(0.1), mean(0.5), mean(0.9));
}

/// Fibres that lean with the pith carry the streaks with them: along one, colours differ less than along the blank.
#[test]
fn streaks_run_where_the_fibres_run() {
    let slope = 0.06;
    let wood = Wood::Timber(Timber { lean_x: slope, ring_width: 90.0.into(), ..walnut() });
    let rough = |lean: f64| {
        let at = |x0: f64, s: f64| {
            let p = BlankPoint { x: x0 + lean * s, y: 20.0, s };
            f64::from(wood.at(p, Surface::Face(Face::One)).colour[1])
        };
        let steps = (0..40).flat_map(|i| (0..30).map(move |k| (f64::from(i), f64::from(k) * 4.0)));
        steps.map(|(x0, s)| (at(x0, s + 4.0) - at(x0, s)).abs()).sum::<f64>()
    };
    assert!(rough(slope) < 0.9 * rough(0.0), "{} {}", rough(slope), rough(0.0));
}

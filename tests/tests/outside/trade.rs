//! What every maker of such legs knows: common practice, no source.

use cornerwise_geometry::{Blank, Finest, Leg, Length, Line, Shape, ShapeKind, Unit, Units};

fn two_inch(first: ShapeKind, second: ShapeKind) -> Leg {
    let inches = |text: &str| Length::parse(text, Unit::Inch).unwrap();
    let blank = Blank { width: inches("2"), depth: inches("2"), length: inches("28"), ..Blank::square(1.0, 1.0) };
    let shape = |kind| Line::Shape(Shape::start(kind, blank.length.mm(), blank.width.mm()));
    Leg::new(&blank, &shape(first), &shape(second)).unwrap()
}

/// A two-inch blank gives a two-inch leg all along, and no taper is possible.
#[test]
fn a_two_inch_blank_gives_a_two_inch_leg_all_along() {
    for first in ShapeKind::ALL {
        for second in ShapeKind::ALL {
            let leg = two_inch(first, second);
            for s in leg.uniform_stations(101) {
                let corners = leg.section(s).pieces.concat();
                for i in 0..2 {
                    let least = corners.iter().map(|c| c[i]).fold(f64::INFINITY, f64::min);
                    let most = corners.iter().map(|c| c[i]).fold(f64::NEG_INFINITY, f64::max);
                    assert!((most - least - 50.8).abs() < 1e-12, "{} by {} at {s}", first.name(), second.name());
                    assert_eq!(Units::Inches(Finest::SixtyFourth).show(most - least), "2");
                }
            }
        }
    }
}

/// Where the saw line veers one way, the leg veers the other, as far.
#[test]
fn the_leg_veers_the_other_way_than_the_saw_line() {
    let leg = two_inch(ShapeKind::Cyma, ShapeKind::Waves);
    let middle = |s: f64| {
        let corners = leg.section(s).pieces.concat();
        [0, 1].map(|i| {
            let least = corners.iter().map(|c| c[i]).fold(f64::INFINITY, f64::min);
            let most = corners.iter().map(|c| c[i]).fold(f64::NEG_INFINITY, f64::max);
            (least + most) / 2.0
        })
    };
    let (from, mut moved) = (middle(0.0), 0.0_f64);
    for s in leg.uniform_stations(200) {
        let line = [leg.first.offset(s) - leg.first.offset(0.0), leg.second.offset(s) - leg.second.offset(0.0)];
        let leg = [0, 1].map(|i| middle(s)[i] - from[i]);
        for i in 0..2 {
            assert!((leg[i] + line[i]).abs() < 1e-12, "{leg:?} against {line:?} at {s}");
            moved = moved.max(leg[i].abs());
        }
    }
    assert!(moved > 5.0);
}

/// The same number of waves on a leg more than twice as long loses its sharp, chipping edges.
#[test]
fn the_same_waves_on_a_leg_twice_as_long_have_edges_that_do_not_chip() {
    let sharpest = |length: f64| {
        let blank = Blank::square(50.0, length);
        let waves = Line::Shape(Shape::Waves {
            waves: 4,
            swing_top: 22.0.into(),
            swing_foot: 22.0.into(),
            shortening: 1.0,
            aside: Length::ZERO,
        });
        let leg = Leg::new(&blank, &waves, &waves).unwrap();
        leg.uniform_stations(2001).into_iter().map(|s| leg.station(s).edge_angle_deg).fold(90.0, f64::min)
    };
    // Near a sine of slope m at its steepest, both cuts alike, the angle is acos(m² / (1 + m²)).
    let sine = |length: f64| {
        let slope = std::f64::consts::PI * 22.0 / (length / 4.0);
        (slope * slope / (1.0 + slope * slope)).acos().to_degrees()
    };
    let (short, long) = (sharpest(300.0), sharpest(660.0));
    assert!((short - sine(300.0)).abs() < 0.5 && (long - sine(660.0)).abs() < 0.5, "{short} and {long}");
    assert!(short < 65.0 && long > 80.0, "{short} and {long} degrees");
}

/// Starting at the top end and leaving at the foot keeps the grain whole in all four pieces; leaving through a face does
/// not, and the leg is weaker there.
#[test]
fn a_line_from_end_to_end_keeps_the_grain_whole_in_every_piece() {
    let leg = |aside: f64| {
        let cyma = Shape::Cyma { swing: 24.0.into(), turn: 0.5, aside: aside.into() };
        Leg::new(
            &Blank::square(50.0, 600.0),
            &Line::Shape(cyma),
            &Line::Shape(Shape::start(ShapeKind::Arch, 600.0, 50.0)),
        )
        .unwrap()
    };
    let slightest = |leg: &Leg| {
        let stations = leg.stations_within(0.01);
        let solved = leg.solve(&stations);
        (0..stations.len())
            .flat_map(|i| solved.section(i).pieces)
            .map(|p| (p[2][0] * p[2][1]).abs())
            .fold(f64::INFINITY, f64::min)
    };
    let (whole, clipped) = (leg(0.0), leg(16.0));
    assert!(slightest(&whole) > 50.0, "{} mm²", slightest(&whole));
    assert_eq!(slightest(&clipped), 0.0);
    assert!((whole.core_mm()[0] - 26.0).abs() < 1e-9, "{:?}", whole.core_mm());
    // The crest is sawn off at the face, so less of it swings; yet only what lies between 41 - 12 and the face is left.
    assert!((clipped.core_mm()[0] - 29.0).abs() < 1e-9, "{:?}", clipped.core_mm());
}

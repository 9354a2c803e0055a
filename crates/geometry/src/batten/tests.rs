use super::*;
use crate::{MAX_SLOPE, SawLine};
use proptest::prelude::*;

fn batten(places: &[[f64; 2]]) -> Batten {
    Batten { pins: places.iter().zip(1..).map(|([s, y], id)| Pin::new(id, *s, *y)).collect() }
}

fn line(batten: &Batten) -> SawLine {
    SawLine::from_points(&batten.solve().unwrap(), 700.0).unwrap()
}

#[test]
fn two_pins_hold_a_straight_strip() {
    let line = line(&batten(&[[50.0, 20.0], [650.0, 32.0]]));
    for s in [-20.0, 0.0, 50.0, 300.0, 650.0, 720.0] {
        assert!((line.offset(s) - (20.0 + (s - 50.0) * 0.02)).abs() < 1e-9, "{s}");
    }
    assert_eq!(line.tightest(), None);
}

#[test]
fn a_batten_passes_its_pins_keeps_their_ids_and_is_straight_beyond_them() {
    let pins = batten(&[[40.0, 25.0], [200.0, 36.0], [480.0, 15.0], [660.0, 27.0]]);
    let points = pins.solve().unwrap();
    for pin in &pins.pins {
        let point = points.iter().find(|point| point.id == pin.id).unwrap();
        assert_eq!((&point.from_top, &point.offset), (&pin.from_top, &pin.offset));
    }
    let line = line(&pins);
    assert!(line.at(20.0).curvature.abs() < 1e-15);
    for end in [40.0, 660.0] {
        let curvature = line.at(end).curvature.abs().max(line.at_after(end).curvature.abs());
        assert!(curvature < 1e-5, "no moment at a free end: {curvature}");
    }
    // No moment is put in at the pins between either.
    for pin in [200.0, 480.0] {
        let (before, after) = (line.at(pin).curvature, line.at_after(pin).curvature);
        assert!((before - after).abs() < 0.01 * before.abs(), "{before} {after}");
    }
}

#[test]
fn a_pin_that_holds_a_direction_is_obeyed_and_one_that_holds_what_is_there_changes_nothing() {
    let mut pins = batten(&[[0.0, 25.0], [200.0, 36.0], [480.0, 15.0], [700.0, 27.0]]);
    let free = line(&pins);
    pins.pins[1].holds = Holds::Direction { slope: free.at(200.0).slope };
    let same = line(&pins);
    for s in (0..=700).map(f64::from) {
        assert!((same.offset(s) - free.offset(s)).abs() < 2.0 * BATTEN_ACCURACY_MM, "{s}");
    }
    pins.pins[1].holds = Holds::Direction { slope: -0.2 };
    assert!((line(&pins).at(200.0).slope + 0.2).abs() < 1e-9);
}

#[test]
fn turning_and_mirroring_a_batten_turns_and_mirrors_its_line() {
    let mut pins = batten(&[[10.0, 25.0], [200.0, 36.0], [480.0, 15.0], [690.0, 27.0]]);
    pins.pins[0].holds = Holds::Direction { slope: 0.3 };
    let was = line(&pins);
    let (turned, mirrored) = (line(&pins.end_for_end(700.0)), line(&pins.mirrored_across(50.0)));
    for s in (0..=70).map(|i| 10.0 * f64::from(i)) {
        assert!((turned.offset(700.0 - s) - was.offset(s)).abs() < 1e-6, "{s}");
        assert!((mirrored.offset(s) - (50.0 - was.offset(s))).abs() < 1e-6, "{s}");
    }
}

#[test]
fn every_fault_of_pins_is_named() {
    let fault = |places: &[[f64; 2]]| batten(places).solve().unwrap_err();
    assert_eq!(fault(&[[0.0, 1.0]]), BattenError::TooFew(1));
    let many: Vec<[f64; 2]> = (0..400).map(|i| [f64::from(i), 20.0]).collect();
    assert_eq!(fault(&many), BattenError::TooMany(400));
    assert!(matches!(fault(&[[0.0, 1.0], [f64::NAN, 2.0]]), BattenError::NotSound { pin: PointId(2), .. }));
    assert!(matches!(fault(&[[0.0, 1.0], [9.0, f64::INFINITY]]), BattenError::NotSound { pin: PointId(2), .. }));
    assert!(matches!(fault(&[[9.0, 1.0], [3.0, 2.0]]), BattenError::TooClose { pin: PointId(2), .. }));
    assert!(matches!(fault(&[[9.0, 1.0], [9.2, 1.0]]), BattenError::TooClose { pin: PointId(2), .. }));
    assert!(matches!(fault(&[[0.0, 0.0], [10.0, 50.0]]), BattenError::TooSteep { pin: PointId(2), .. }));
    let mut same = batten(&[[0.0, 20.0], [90.0, 20.0]]);
    same.pins[1].id = PointId(1);
    assert_eq!(same.solve(), Err(BattenError::SameId(PointId(1))));
    let mut steep = batten(&[[0.0, 20.0], [90.0, 20.0]]);
    steep.pins[0].holds = Holds::Direction { slope: 7.0 };
    assert!(matches!(steep.solve(), Err(BattenError::TooSteep { pin: PointId(1), .. })));
    // A zigzag that no strip would follow.
    let zigzag: Vec<[f64; 2]> = (0..9).map(|i| [10.0 * f64::from(i), if i % 2 == 0 { 0.0 } else { 39.0 }]).collect();
    let error = fault(&zigzag);
    assert!(matches!(error, BattenError::NoRest { .. } | BattenError::TooSteep { .. }), "{error}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn any_pins_hold_a_sound_line_or_say_why_not(
        raw in prop::collection::vec((0.001..1.0_f64, 0.0..1.0_f64, any::<Option<u8>>(), -1.0..1.0_f64), 1..24),
        length in 20.0..1500.0_f64,
        swing in 0.0..400.0_f64,
    ) {
        let whole: f64 = raw.iter().map(|one| one.0).sum();
        let mut at = 0.0;
        let pins = raw.iter().zip(1..).map(|(&(gap, offset, held, slope), id)| {
            at += gap / whole * length;
            let holds = match held {
                Some(0..60) => Holds::Direction { slope: slope * 4.0 },
                _ => Holds::Position,
            };
            Pin { holds, ..Pin::new(id, at, offset * swing) }
        });
        let batten = Batten { pins: pins.collect() };
        if let Ok(points) = batten.solve() {
            match SawLine::from_points(&points, length) {
                Ok(line) => for pin in &batten.pins {
                    let there = line.at(pin.from_top.mm());
                    prop_assert!((there.offset - pin.offset.mm()).abs() < 1e-7);
                    prop_assert!(there.slope.abs() <= MAX_SLOPE * 1.0001);
                    if let Holds::Direction { slope } = pin.holds {
                        prop_assert!((there.slope - slope).abs() < 1e-6);
                    }
                },
                Err(error) => prop_assert!(
                    matches!(batten.in_terms_of_pins(error.clone()), crate::SawLineError::Batten(_)),
                    "{}", error
                ),
            }
        }
    }
}

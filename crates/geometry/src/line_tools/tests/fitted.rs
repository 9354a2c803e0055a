//! Lines fitted along given places: the error that is told is the error there is.

use crate::line_tools::{FitLineError, fitted};
use crate::{Point, SawLine};
use proptest::prelude::*;

const LENGTH: f64 = 700.0;

/// How far a saw line lies from the straight lines between places at most, looked at in very many places.
fn strays(points: &[Point], places: &[[f64; 2]]) -> f64 {
    let line = SawLine::from_points(points, LENGTH).expect("a saw line");
    let mut most: f64 = 0.0;
    for pair in places.windows(2) {
        for i in 0..=40 {
            let t = f64::from(i) / 40.0;
            let [s, offset] = [0, 1].map(|k| pair[0][k] + t * (pair[1][k] - pair[0][k]));
            if (0.0..=LENGTH).contains(&s) {
                most = most.max((line.offset(s) - offset).abs());
            }
        }
    }
    most
}

fn wave(count: usize, at: impl Fn(f64) -> f64) -> Vec<[f64; 2]> {
    (0..count).map(|i| LENGTH * i as f64 / (count - 1) as f64).map(|s| [s, at(s)]).collect()
}

#[test]
fn a_cubic_is_found_again_with_two_points_and_no_error() {
    let cubic = |s: f64| 25.0 + 60.0 * (s / LENGTH) * (1.0 - s / LENGTH) * (0.4 - s / LENGTH);
    let places = wave(20_001, cubic);
    let fit = fitted(&places, None, 0.01).unwrap();
    assert_eq!(fit.points.len(), 2);
    assert!(fit.error_mm < 1e-6, "{}", fit.error_mm);
    let line = SawLine::from_points(&fit.points, LENGTH).unwrap();
    for s in [0.0, 123.4, 350.0, 699.0] {
        assert!((line.offset(s) - cubic(s)).abs() < 1e-6);
    }
}

#[test]
fn a_finer_tolerance_takes_more_points_and_is_kept() {
    let places = wave(3001, |s| 25.0 + 8.0 * (s / 60.0).sin() + 3.0 * (s / 23.0).cos());
    let mut before = 0;
    for tolerance in [3.0, 1.0, 0.3, 0.1, 0.03, 0.01, 0.003] {
        let fit = fitted(&places, None, tolerance).unwrap();
        let strays = strays(&fit.points, &places);
        assert!(fit.error_mm <= tolerance && strays <= fit.error_mm + 1e-9, "{strays} {fit:?}");
        assert!(strays > 0.8 * fit.error_mm, "what is told is what is there: {strays} of {}", fit.error_mm);
        assert!(fit.points.len() >= before);
        before = fit.points.len();
    }
    assert!(before < 120, "{before}");
}

#[test]
fn one_corner_stays_sharp_and_other_corners_are_rounded_within_the_tolerance() {
    let roof = |s: f64| if s < 200.0 { 20.0 + 0.05 * s } else { 30.0 - 0.03 * (s - 200.0) };
    let places = wave(701, roof);
    let sharp = fitted(&places, Some(200), 0.05).unwrap();
    assert_eq!(sharp.points.len(), 3);
    assert!(sharp.points[1].kind.is_sharp() && sharp.error_mm < 1e-9);
    let round = fitted(&places, None, 0.05).unwrap();
    assert!(round.points.iter().all(|point| !point.kind.is_sharp()));
    assert!(strays(&round.points, &places) <= 0.05);
}

#[test]
fn what_is_no_saw_line_is_refused_with_its_place() {
    let nan = [[0.0, 1.0], [10.0, f64::NAN], [20.0, 1.0]];
    assert_eq!(fitted(&nan, None, 0.1), Err(FitLineError::NotSound(1)));
    assert_eq!(fitted(&[[0.0, 1.0], [1e300, 0.0]], None, 0.1), Err(FitLineError::NotSound(1)));
    let back = [[0.0, 1.0], [10.0, 1.0], [9.0, 1.0], [20.0, 1.0]];
    assert_eq!(fitted(&back, None, 0.1), Err(FitLineError::RunsBack { place: 2, at_mm: 10.0 }));
    let square = [[0.0, 1.0], [10.0, 1.0], [10.0, 5.0], [20.0, 5.0]];
    assert_eq!(fitted(&square, None, 0.1), Err(FitLineError::RunsBack { place: 2, at_mm: 10.0 }));
    assert_eq!(fitted(&[], None, 0.1), Err(FitLineError::TooFew(0)));
    assert_eq!(fitted(&[[5.0, 5.0]], None, 0.1), Err(FitLineError::TooFew(1)));
    let million: Vec<[f64; 2]> = (0..1_000_000).map(|i| [f64::from(i), 1.0]).collect();
    assert_eq!(fitted(&million, None, 0.1), Err(FitLineError::TooMany(1_000_000)));
    for tolerance in [f64::NAN, 0.0, -1.0, 1e9] {
        assert!(matches!(fitted(&[[0.0, 1.0], [9.0, 1.0]], None, tolerance), Err(FitLineError::Tolerance(_))));
    }
    // A saw's own teeth: up and down within a millimetre.
    let teeth: Vec<[f64; 2]> = (0..1400).map(|i| [f64::from(i) / 2.0, f64::from(i % 2) * 5.0]).collect();
    let Err(FitLineError::TooRough { error_mm, .. }) = fitted(&teeth, None, 0.1) else { panic!("it fits") };
    assert!(error_mm > 1.0);
}

/// Rough curves as a hand draws them: a few waves, sampled unevenly, with some shake.
fn drawn() -> BoxedStrategy<(Vec<[f64; 2]>, f64)> {
    let waves = prop::collection::vec((-8.0..8.0_f64, 40.0..400.0_f64, 0.0..6.3_f64), 1..5);
    let steps = prop::collection::vec((0.01..1.0_f64, -0.02..0.02_f64), 2..400);
    (waves, steps, 0.1..3.0_f64)
        .prop_map(|(waves, steps, tolerance)| {
            let whole: f64 = steps.iter().map(|step| step.0).sum();
            let mut s = 0.0;
            let offset =
                |s: f64| waves.iter().map(|(a, l, p)| a * (s / l * std::f64::consts::TAU + p).sin()).sum::<f64>();
            let mut places = vec![[0.0, offset(0.0)]];
            for (step, shake) in steps {
                s += step / whole * LENGTH;
                places.push([s, offset(s) + shake]);
            }
            (places, tolerance)
        })
        .boxed()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn the_error_told_is_the_error_there_is((places, tolerance) in drawn()) {
        match fitted(&places, None, tolerance) {
            Ok(fit) => {
                // A line too steep to saw is the project's to refuse; the fit is right all the same.
                if SawLine::from_points(&fit.points, LENGTH).is_ok() {
                    let strays = strays(&fit.points, &places);
                    prop_assert!(fit.error_mm <= tolerance);
                    prop_assert!(strays <= fit.error_mm + 1e-7, "{} beyond {}", strays, fit.error_mm);
                }
            }
            Err(FitLineError::TooRough { error_mm, .. }) => prop_assert!(error_mm > tolerance),
            Err(other) => prop_assert!(false, "{other}"),
        }
    }
}

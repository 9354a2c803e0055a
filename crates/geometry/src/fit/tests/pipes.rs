//! Pipe holes: facts of the trade, closed forms, published sizes.

use approx::assert_relative_eq;

use super::{arch, cyma, leg_of};
use crate::fit::{Fit, FitError, PipeHole};
use crate::{Length, Side, Unit};

fn pipe(outside: &str, clearance: &str) -> PipeHole {
    let parse = |text| Length::parse(text, Unit::Mm).unwrap();
    PipeHole {
        name: String::new(),
        outside: parse(outside),
        clearance: parse(clearance),
        above: 12.0.into(),
        below: (-4.0).into(),
        recess: 10.0.into(),
    }
}

/// Chamfer for a pipe: 0.707 times its diameter. Common practice, no source; exactly the cosine of 45 degrees. And the
/// 1/8 IP lamp pipe of 0.405 in in its 7/16 in hole (sizes.com, lampFit; pipe nipple tables to ASME B1.20.1): 0.309 in.
#[test]
fn the_chamfer_is_0_707_of_the_pipe_and_its_face_the_pipe_itself() {
    let leg = leg_of([50.8, 50.8, 400.0], &cyma(10.0), &arch(8.0));
    let exact = pipe("10 mm", "0").fit(&leg);
    assert_relative_eq!(exact.chamfer_leg_mm, 7.07, epsilon = 2e-3);
    assert_relative_eq!(exact.chamfer_leg_mm, 10.0 * 45.0_f64.to_radians().cos(), max_relative = 1e-15);
    assert_relative_eq!(exact.chamfer_face_mm, 10.0, max_relative = 1e-15);
    let lamp = pipe("0.405 in", "0.0325 in").fit(&leg);
    assert_relative_eq!(lamp.hole_mm, 25.4 * 7.0 / 16.0, max_relative = 1e-12);
    assert_relative_eq!(lamp.chamfer_leg_mm / 25.4, 0.309, epsilon = 5e-4);
    // 10.5 mm for an M10x1 tube of 10 mm (common practice, no source): 7.42 mm.
    assert_relative_eq!(pipe("10 mm", "0.5 mm").fit(&leg).chamfer_leg_mm, 7.42, epsilon = 5e-3);
    assert_relative_eq!(lamp.pipe_length_mm, 408.0, max_relative = 1e-12);
}

#[test]
fn the_thinnest_wood_is_where_fine_steps_find_it() {
    let shapes = [(cyma(20.0), arch(8.0)), (arch(-9.0), cyma(-24.0)), (cyma(3.0), arch(14.0)), (cyma(60.0), arch(1.0))];
    for (first, second) in shapes {
        let leg = leg_of([52.0, 44.0, 460.0], &first, &second);
        let pipe = pipe("10 mm", "0.5 mm");
        let fit = pipe.fit(&leg);
        let (mut least, mut at) = (f64::INFINITY, 0.0);
        for s in leg.uniform_stations(40_001) {
            let left = pipe.wood_left_mm(&leg, s);
            if left < least {
                (least, at) = (left, s);
            }
        }
        assert!(fit.thinnest.mm <= least + 1e-12 && least - fit.thinnest.mm < 1e-6, "{fit:?} against {least}");
        assert!((pipe.wood_left_mm(&leg, fit.thinnest.s_mm) - fit.thinnest.mm).abs() < 1e-9);
        if least > -pipe.chamfer_mm() + 1e-9 {
            assert!((fit.thinnest.s_mm - at).abs() < 0.1, "{} against {at}", fit.thinnest.s_mm);
        }
        // The side that is named is the one that is so near.
        let (a, b) = (leg.a(fit.thinnest.s_mm), leg.b(fit.thinnest.s_mm));
        let near = match fit.thinnest.side {
            Side::One => b,
            Side::Two => 52.0 - a,
            Side::Three => 44.0 - b,
            Side::Four => a,
        };
        assert_relative_eq!(near - pipe.chamfer_mm(), fit.thinnest.mm, epsilon = 1e-9);
    }
}

#[test]
fn ends_off_the_middle_are_told() {
    let leg = leg_of([50.0, 50.0, 400.0], &cyma(10.0), &super::straight(3.0));
    let [top, foot] = pipe("10 mm", "0").fit(&leg).ends;
    for end in [top, foot] {
        assert_relative_eq!(end.u_mm, 0.0, epsilon = 1e-9);
        assert_relative_eq!(end.v_mm, -3.0, epsilon = 1e-9);
        assert_relative_eq!(end.off_mm(), 3.0, epsilon = 1e-9);
    }
}

#[test]
fn silly_sizes_are_named() {
    let fit = Fit { pipe: Some(pipe("0.4 mm", "0")), ..Fit::default() };
    assert!(matches!(fit.check(400.0), Err(FitError::Size { what: "pipe's outside diameter", .. })));
    let fit = Fit { post: 500.0.into(), ..Fit::default() };
    assert!(matches!(fit.check(400.0), Err(FitError::Size { what: "post", .. })));
    assert_eq!(Fit::default().check(400.0), Ok(()));
}

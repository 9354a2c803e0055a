//! Saw lines that follow known curves, against published and closed-form figures.

use approx::assert_relative_eq;
use cornerwise_geometry::{Point, SawLine};

/// Handle reach that makes a cubic a quarter circle: 4 (sqrt 2 - 1) / 3, the standard constant (handbook value
/// 0.5522847498).
const QUARTER: f64 = 0.552_284_749_830_793_5;

/// A line of two points with these slopes and reaches.
fn one_cubic(from: [f64; 4], to: [f64; 4], length_mm: f64) -> SawLine {
    let [s0, offset0, slope0, reach0] = from;
    let [s1, offset1, slope1, reach1] = to;
    let points =
        [Point::smooth(1, s0, offset0, slope0, 0.0, reach0), Point::smooth(2, s1, offset1, slope1, reach1, 0.0)];
    SawLine::from_points(&points, length_mm).unwrap()
}

/// A line through `count` + 1 even points of a curve, with its slopes and with handles of a third: the cubic that has
/// the curve's value and slope at both ends, whose error is h⁴/384 times the greatest fourth derivative (the textbook
/// bound of Hermite's cubic).
fn fitted(count: u32, length_mm: f64, curve: impl Fn(f64) -> [f64; 2]) -> SawLine {
    let h = length_mm / f64::from(count);
    let point = |i: u32| {
        let s = h * f64::from(i);
        let [offset, slope] = curve(s);
        Point::smooth(i + 1, s, offset, slope, h / 3.0, h / 3.0)
    };
    SawLine::from_points(&(0..=count).map(point).collect::<Vec<_>>(), length_mm).unwrap()
}

/// An arc of radius `radius` through an angle of 2 `half` about the crest, as `count` cubics with handles of
/// 4/3 tan(angle/4), the standard construction; its length along the chord.
fn arc(radius: f64, half: f64, count: u32) -> SawLine {
    let chord = 2.0 * radius * half.sin();
    let step = 2.0 * half / f64::from(count);
    let reach = 4.0 / 3.0 * (step / 4.0).tan() * radius;
    let point = |i: u32| {
        let angle = -half + step * f64::from(i);
        let s = chord / 2.0 + radius * angle.sin();
        let along = reach * angle.cos();
        Point::smooth(i + 1, s, radius * (angle.cos() - half.cos()), -angle.tan(), along, along)
    };
    SawLine::from_points(&(0..=count).map(point).collect::<Vec<_>>(), chord).unwrap()
}

/// Published: the quarter circle as one cubic is never inside the circle and at most 2.7253e-4 of the radius outside it,
/// at parameter 0.2113 (quoted in public repositories and worked out again).
#[test]
fn a_quarter_circle_errs_as_published() {
    // Turned by an eighth so that it never runs back: slopes 1 and -1 at its ends.
    let radius = 200.0;
    let side = radius * std::f64::consts::FRAC_1_SQRT_2;
    let reach = QUARTER * side;
    let line = one_cubic([0.0, 0.0, 1.0, reach], [2.0 * side, 0.0, -1.0, reach], 2.0 * side);
    let mut most = (0.0, 0.0);
    for i in 0..=20_000 {
        let s = 2.0 * side * f64::from(i) / 20_000.0;
        let out = (s - side).hypot(line.offset(s) + side) / radius - 1.0;
        assert!(out > -1e-14, "{out} at {s}");
        if out > most.0 {
            most = (out, s);
        }
    }
    assert_relative_eq!(most.0, 2.7253e-4, epsilon = 5e-9);
    // At parameter t the cubic is symmetric about the crest, so either of the two places may have been found.
    let t = |s: f64| {
        let (_, t) = line.cubic_at(s).unwrap();
        t.min(1.0 - t)
    };
    assert_relative_eq!(t(most.1), 0.2113, epsilon = 2e-4);
    // Worked out again: 1.5710166981 radii long, a quarter circle 1.5707963268.
    for accuracy in [1e-4, 1e-6, 1e-8] {
        assert_relative_eq!(line.arc_length(accuracy) / radius, 1.571_016_698_1, epsilon = accuracy / radius + 1e-10);
    }
}

/// Published in several repositories: a sine from 0 to 2π is 4 sqrt 2 E(1/2) = 7.640395578055424 long. The line follows
/// it within h⁴/384, so its length comes to the sine's with the fourth power of the spacing.
#[test]
fn a_sine_is_as_long_as_published() {
    let published = 7.640_395_578_055_424;
    let unit = 100.0;
    let length = std::f64::consts::TAU * unit;
    let mut errors = Vec::new();
    for count in [8, 16, 32, 64] {
        let line = fitted(count, length, |s| [unit * (s / unit).sin(), (s / unit).cos()]);
        let fit = (0..=10_000)
            .map(|i| length * f64::from(i) / 10_000.0)
            .map(|s| (line.offset(s) / unit - (s / unit).sin()).abs())
            .fold(0.0, f64::max);
        let bound = (length / unit / f64::from(count)).powi(4) / 384.0;
        assert!(fit <= bound && fit > 0.5 * bound, "{fit} for a bound of {bound}");
        errors.push((line.arc_length(1e-9) / unit - published).abs());
    }
    let order = (errors[0] / errors[3]).log2() / 3.0;
    assert!(order > 3.8, "{errors:?}");
    assert!(errors[3] < 4e-7, "{errors:?}");
}

/// Closed form: y = x² from 0 to 1 is sqrt 5 / 2 + asinh(2) / 4 = 1.4789428575446 long and bends with
/// 2 / (1 + 4 x²)^1.5. One cubic holds a parabola exactly, so nothing is fitted.
#[test]
fn a_parabola_is_as_long_and_bends_as_in_closed_form() {
    let unit = 120.0;
    let line = one_cubic([0.0, 0.0, 0.0, unit / 3.0], [unit, unit, 2.0, unit / 3.0], unit);
    for accuracy in [1e-3, 1e-6, 1e-9] {
        assert_relative_eq!(line.arc_length(accuracy) / unit, 1.478_942_857_544_6, epsilon = accuracy / unit + 1e-13);
    }
    for i in 0..=1000 {
        let x = f64::from(i) / 1000.0;
        let at = line.at(unit * x);
        assert_relative_eq!(at.offset / unit, x * x, epsilon = 1e-14);
        assert_relative_eq!(at.slope, 2.0 * x, epsilon = 1e-12);
        assert_relative_eq!(at.curvature * unit, 2.0 / (1.0 + 4.0 * x * x).powf(1.5), max_relative = 1e-12);
    }
    let bend = line.tightest().unwrap();
    assert_relative_eq!(bend.radius_mm, unit / 2.0, max_relative = 1e-12);
    assert_relative_eq!(bend.s_mm, 0.0, epsilon = 1e-9);
}

/// The same parabola turned over, its crest inside the line: curvature has the sign of the second derivative, and the
/// tightest bend is the crest's.
#[test]
fn a_parabola_turned_over_bends_the_other_way_and_most_at_its_crest() {
    // offset = 40 - k (s - 130)², k = 1/900
    let (k, crest, length) = (1.0 / 900.0, 130.0, 300.0);
    let offset = |s: f64| 40.0 - k * (s - crest) * (s - crest);
    let slope = |s: f64| -2.0 * k * (s - crest);
    let line = one_cubic(
        [0.0, offset(0.0), slope(0.0), length / 3.0],
        [length, offset(length), slope(length), length / 3.0],
        length,
    );
    for i in 0..=300 {
        let s = f64::from(i);
        let closed = -2.0 * k / (1.0 + slope(s) * slope(s)).powf(1.5);
        assert_relative_eq!(line.at(s).curvature, closed, max_relative = 1e-11);
    }
    let bend = line.tightest().unwrap();
    assert_relative_eq!(bend.radius_mm, 450.0, max_relative = 1e-11);
    assert_relative_eq!(bend.s_mm, crest, epsilon = 1e-4);
    assert_relative_eq!(line.extent().most, 40.0, epsilon = 1e-12);
}

/// Closed form: cosh from 0 to 1 is sinh 1 = 1.1752011936438 long, and bends with 1 / cosh² x.
#[test]
fn a_catenary_is_as_long_and_bends_as_in_closed_form() {
    let unit = 300.0;
    let mut errors = Vec::new();
    for count in [4, 8, 16, 32] {
        let line = fitted(count, unit, |s| [unit * (s / unit).cosh(), (s / unit).sinh()]);
        errors.push((line.arc_length(1e-9) / unit - 1.175_201_193_643_8).abs());
        let off = (0..=500)
            .map(|i| f64::from(i) / 500.0)
            .map(|x| (line.at(unit * x).curvature * unit - 1.0 / x.cosh().powi(2)).abs())
            .fold(0.0, f64::max);
        // Curvature rests on the second derivative, which a fitted cubic has to the second order: h²/12 times the
        // fourth derivative.
        let h = 1.0 / f64::from(count);
        assert!(off < h * h / 12.0 * 1.0_f64.cosh() * 1.2, "{off} with {count}");
    }
    assert!((errors[0] / errors[3]).log2() / 3.0 > 3.8 && errors[3] < 1e-8, "{errors:?}");
}

/// Handbook rule R = c²/(8 h) + h/2: chord 24 and sagitta 1 make radius 72.5, arc 24.1109572476, 19.0545668 degrees;
/// chord 600 and sagitta 25 make radius 1812.5, arc 602.7739311920. Points are set from chord and sagitta alone.
#[test]
fn arcs_from_chord_and_sagitta_have_the_handbooks_radius_and_length() {
    for (chord, sagitta, radius, length) in
        [(24.0, 1.0, 72.5, 24.110_957_247_6), (600.0, 25.0, 1812.5, 602.773_931_192_0)]
    {
        // The half angle from chord and sagitta: tan of its half is sagitta over half the chord.
        let half = 2.0 * f64::atan(sagitta / (chord / 2.0));
        let mut off = Vec::new();
        for count in [1, 2, 4] {
            let line = arc(chord / 2.0 / half.sin(), half, count);
            assert_relative_eq!(line.length_mm(), chord, max_relative = 1e-14);
            assert_relative_eq!(line.extent().most, sagitta, max_relative = 1e-9);
            off.push((line.tightest().unwrap().radius_mm / radius - 1.0).abs());
            assert_relative_eq!(line.arc_length(1e-9), length, max_relative = 1e-7);
            for i in 0..=400 {
                let s = chord * f64::from(i) / 400.0;
                let at = line.at(s);
                assert_relative_eq!(at.curvature, -1.0 / radius, max_relative = 1e-3);
                // Quoted in a public repository: the radial error of a short arc is the angle to the sixth over 55296.
                let out = (s - chord / 2.0).hypot(at.offset + radius - sagitta) - radius;
                let quoted = (2.0 * half / f64::from(count)).powi(6) / 55_296.0 * radius;
                assert!(out > -1e-11 && out < 1.05 * quoted + 1e-11, "{out} for {quoted} at {s}");
            }
        }
        assert!(off[0] < 1e-3 && off[1] < off[0] / 8.0 && off[2] < off[1] / 8.0, "{off:?}");
        if chord == 24.0 {
            assert_relative_eq!(2.0 * half.to_degrees(), 19.054_566_8, epsilon = 1e-6);
        }
    }
}

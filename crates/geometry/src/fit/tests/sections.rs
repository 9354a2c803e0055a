//! Sections against handbook figures.

use approx::assert_relative_eq;

use super::{leg_of, straight};
use crate::fit::{AreaProperties, Fit, Notch, PipeHole, WoodLeft};
use crate::{Length, Piece};

fn rectangle(u: [f64; 2], v: [f64; 2]) -> Vec<[f64; 2]> {
    vec![[u[0], v[0]], [u[1], v[0]], [u[1], v[1]], [u[0], v[1]]]
}

fn of(polygons: &[Vec<[f64; 2]>]) -> AreaProperties {
    AreaProperties::of_polygons(polygons.iter().map(Vec::as_slice))
}

/// A textbook's angle of 125 by 85 by 10 mm (from memory; its figures recomputed by hand): area 2000 mm², centroid
/// 20.9375 and 40.9375 mm from its back, I 3,183,658.9 and 1,208,658.9, product -1,145,507.8, principal 3,708,555.8 and
/// 683,761.9 mm⁴.
#[test]
fn an_angle_iron() {
    let angle = of(&[rectangle([0.0, 10.0], [0.0, 125.0]), rectangle([10.0, 85.0], [0.0, 10.0])]);
    assert_relative_eq!(angle.area_mm2, 2000.0, max_relative = 1e-12);
    assert_relative_eq!(angle.centroid_mm[0], 20.9375, max_relative = 1e-9);
    assert_relative_eq!(angle.centroid_mm[1], 40.9375, max_relative = 1e-9);
    assert_relative_eq!(angle.i_u_mm4, 3_183_658.9, max_relative = 1e-7);
    assert_relative_eq!(angle.i_v_mm4, 1_208_658.9, max_relative = 1e-7);
    assert_relative_eq!(angle.i_uv_mm4, -1_145_507.8, max_relative = 1e-7);
    let [most, least] = angle.principal_mm4();
    assert_relative_eq!(most, 3_708_555.8, max_relative = 1e-7);
    assert_relative_eq!(least, 683_761.9, max_relative = 1e-7);
    // About the axis that it gives, the product is nothing and the moment the greatest.
    let (sin, cos) = angle.principal_deg().to_radians().sin_cos();
    let about = angle.i_u_mm4 * cos * cos + angle.i_v_mm4 * sin * sin - 2.0 * angle.i_uv_mm4 * sin * cos;
    assert_relative_eq!(about, most, max_relative = 1e-12);
}

/// A straight two by two leg with one by one left out (computed by hand, not published): area 3,
/// centroid 0.83333 from the back, I 0.916667, product 0.333333, principal 1.25 and 0.583333.
#[test]
fn a_square_leg_notched_to_its_axis_is_an_l() {
    let leg = leg_of([4.0, 4.0, 100.0], &straight(0.0), &straight(0.0));
    for inside in Piece::ALL {
        let fit = Fit { inside, notches: vec![Notch::shelf(20.0, 10.0, 0.0)], ..Fit::default() };
        let left = WoodLeft::at(&leg, &fit, 25.0);
        assert_eq!(left.pieces.len(), 3);
        let section = left.properties();
        // Twice the size: areas by 4, moments by 16.
        assert_relative_eq!(section.area_mm2, 12.0, max_relative = 1e-12);
        assert_relative_eq!(section.i_u_mm4, 16.0 * 11.0 / 12.0, max_relative = 1e-12);
        assert_relative_eq!(section.i_uv_mm4.abs(), 16.0 / 3.0, max_relative = 1e-12);
        let [most, least] = section.principal_mm4();
        assert_relative_eq!(most, 16.0 * 1.25, max_relative = 1e-12);
        assert_relative_eq!(least, 16.0 * 7.0 / 12.0, max_relative = 1e-12);
        // Its middle has moved away from the inside piece, a third of a quarter of the leg.
        let [u, v] = inside.quadrant();
        assert_relative_eq!(section.centroid_mm[0], -u / 3.0, max_relative = 1e-12);
        assert_relative_eq!(section.centroid_mm[1], -v / 3.0, max_relative = 1e-12);
        assert_eq!(WoodLeft::at(&leg, &fit, 15.0).pieces.len(), 4);
        let there = fit.notch_fit(&leg, 0).unwrap();
        assert_relative_eq!(there.weakest.area_mm2, 12.0, max_relative = 1e-12);
        assert_relative_eq!(there.bearing.area_mm2, 4.0, max_relative = 1e-12);
        assert_relative_eq!(there.bearing.walls_mm2[0], 20.0, max_relative = 1e-12);
        assert!(fit.notch_fit(&leg, 1).is_none());
    }
}

/// Two inches square with a 7/16 in hole, in inches: a round hole leaves an area of 3.84967 and I 1.331535 (computed by
/// hand). Ours is square, on its corner: side d leaves 4 - d² and 4/3 - d⁴/12.
#[test]
fn a_square_with_its_pipe_hole() {
    let leg = leg_of([50.8, 50.8, 700.0], &straight(0.0), &straight(0.0));
    let inch = 25.4_f64;
    let pipe = PipeHole {
        name: String::new(),
        outside: (inch * 7.0 / 16.0).into(),
        clearance: Length::ZERO,
        above: Length::ZERO,
        below: Length::ZERO,
        recess: Length::ZERO,
    };
    let fit = Fit { pipe: Some(pipe), ..Fit::default() };
    let section = WoodLeft::at(&leg, &fit, 300.0).properties();
    let d: f64 = 7.0 / 16.0;
    assert_relative_eq!(section.area_mm2 / inch.powi(2), 4.0 - d * d, max_relative = 1e-12);
    assert_relative_eq!(section.i_u_mm4 / inch.powi(4), 4.0 / 3.0 - d.powi(4) / 12.0, max_relative = 1e-12);
    // The round hole inside it takes less.
    assert!(section.area_mm2 / inch.powi(2) < 3.84967 && section.i_u_mm4 / inch.powi(4) < 1.331535);
    assert_relative_eq!(section.centroid_mm[0], 0.0, epsilon = 1e-9);
}

/// Where the saw line comes closer to the arris than the chamfer, what is left is still counted once, and only once.
#[test]
fn a_chamfer_that_is_larger_than_the_piece_leaves_what_is_beyond_it() {
    for (a, b, chamfer) in [(2.0, 9.0, 5.0), (9.0, 2.0, 5.0), (4.0, 4.0, 5.0), (2.0, 2.0, 5.0), (0.0, 9.0, 5.0)] {
        for piece in Piece::ALL {
            let [u, v] = piece.reach(20.0, 20.0, a, b).map(f64::abs);
            let outline = piece.outline(20.0, 20.0, a, b, chamfer).to_vec();
            let area = of(&[outline]).area_mm2;
            // The triangle u + v < chamfer within the rectangle, by cutting it into thin columns.
            let n = 40_000;
            let cut: f64 = (0..n)
                .map(|i| (f64::from(i) + 0.5) / f64::from(n) * u)
                .map(|at| (chamfer - at).clamp(0.0, v) * u / f64::from(n))
                .sum();
            assert!((area - (u * v - cut)).abs() < 1e-6, "{piece}: {area} for {}", u * v - cut);
        }
    }
}

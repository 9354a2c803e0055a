//! The section of a leg square to its curve, from its level section.

/// The outline of a level section, about the leg's axis, as it is square to a curve of these slopes in either face; in the
/// section's own plane, turned level by the shortest way, so that (u, v) stay as near to their own directions as can be.
///
/// A leg is a pile of level sections pushed sideways, so square to its curve only what lies along the way it leans is
/// shortened, by the cosine of that lean: a rectangle becomes a parallelogram of W·D / sqrt(1 + a'² + b'²) where both cuts slope.
/// Exact for slopes that do not change; a bend makes a difference of the second order.
pub(crate) fn square_to_curve(outline: &[[f64; 2]], slopes: [f64; 2]) -> Vec<[f64; 2]> {
    let steep = slopes[0].hypot(slopes[1]);
    if steep <= 0.0 {
        return outline.to_vec();
    }
    let way = slopes.map(|slope| slope / steep);
    let shorter = 1.0 - 1.0 / steep.hypot(1.0);
    let point = |p: &[f64; 2]| {
        let along = shorter * (p[0] * way[0] + p[1] * way[1]);
        [p[0] - along * way[0], p[1] - along * way[1]]
    };
    outline.iter().map(point).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit::AreaProperties;

    fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
        (0..3).map(|i| a[i] * b[i]).sum()
    }

    fn less(a: [f64; 3], by: f64, b: [f64; 3]) -> [f64; 3] {
        [0, 1, 2].map(|i| a[i] - by * b[i])
    }

    fn unit(a: [f64; 3]) -> [f64; 3] {
        a.map(|c| c / dot(a, a).sqrt())
    }

    /// A leaning prism cut by the plane square to it, worked out in space: each long edge is met with the plane, and the
    /// corners are measured along two directions of the plane chosen without regard to u and v. Area and principal second
    /// moments do not depend on that choice.
    #[test]
    fn it_is_the_section_of_the_leaning_prism_by_a_plane_square_to_it() {
        let square = [[-25.0, -25.0], [25.0, -25.0], [25.0, 25.0], [-25.0, 25.0]];
        let ell = [[-30.0, -20.0], [30.0, -20.0], [30.0, 0.0], [0.0, 0.0], [0.0, 20.0], [-30.0, 20.0]];
        for slopes in [[0.0, 0.0], [1.12, 0.0], [0.0, -0.8], [1.12, 1.12], [0.9, -0.3], [-2.0, 0.1]] {
            for level in [square.as_slice(), ell.as_slice()] {
                let along = unit([-slopes[0], -slopes[1], 1.0]);
                let first = unit(less([0.3, 0.8, -0.4], dot([0.3, 0.8, -0.4], along), along));
                let second = [
                    along[1] * first[2] - along[2] * first[1],
                    along[2] * first[0] - along[0] * first[2],
                    along[0] * first[1] - along[1] * first[0],
                ];
                let met = |[u, v]: &[f64; 2]| {
                    let at = [*u, *v, 0.0];
                    let in_plane = less(at, dot(at, along), along);
                    [dot(in_plane, first), dot(in_plane, second)]
                };
                let in_space: Vec<[f64; 2]> = level.iter().map(met).collect();
                let ours = square_to_curve(level, slopes);
                let [space, ours] = [&in_space, &ours].map(|one| AreaProperties::of_polygons([one.as_slice()]));
                assert!((space.area_mm2 / ours.area_mm2 - 1.0).abs() < 1e-12, "{slopes:?}");
                for (space, ours) in space.principal_mm4().into_iter().zip(ours.principal_mm4()) {
                    assert!((space / ours - 1.0).abs() < 1e-9, "{slopes:?}: {space} {ours}");
                }
            }
        }
    }

    /// By hand: 50 mm square, both slopes 1.12: 2500 / sqrt(1 + 2 · 1.12²) = 1334.6 mm²; one slope m leaves W / sqrt(1 + m²).
    #[test]
    fn where_both_cuts_slope_it_is_a_parallelogram() {
        let square = [[-25.0, -25.0], [25.0, -25.0], [25.0, 25.0], [-25.0, 25.0]];
        let both = square_to_curve(&square, [1.12, 1.12]);
        let section = AreaProperties::of_polygons([both.as_slice()]);
        assert!((section.area_mm2 - 1334.6).abs() < 0.05, "{}", section.area_mm2);
        assert!(section.i_uv_mm4.abs() > 1e4, "it leans: {section:?}");
        let one = square_to_curve(&square, [0.75, 0.0]);
        assert!(one.iter().all(|[u, v]| (u.abs() - 20.0).abs() < 1e-12 && v.abs() == 25.0), "{one:?}");
    }
}
